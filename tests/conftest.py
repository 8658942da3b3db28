"""What takes long and is asked about by several tests is done once; several workers share the files between them."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from assistant.terminal import without_its_tables
from assistant.trade import refrigerant
from tests.beforehand import Beforehand
from tests.recorded_calls import CALLS, Replayed, replayed

SCENE, HEARD = "scene", "heard"
"""Fixtures that wait for what is done beforehand: calls on the virtual card, recorded calls."""
WAITING = ("tests/live/test_call.py", "tests/test_replay.py")
"""The files with tests that wait for it."""
WALK = "tests/safety/test_walk.py"


MEMORY, ROOM_BYTES = Path("/dev/shm"), 2**31
"""A folder in memory, and what must be free there: every line of every call is written through to the disk, 12,000 times in one
file of tests."""


def pytest_configure() -> None:
    """A machine that has much else to do fails no test; temporary files are in memory where there is room."""
    if os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ROOM_BYTES:
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(MEMORY))
    refrigerant.around_import = without_its_tables
    settings.register_profile("unhurried", deadline=None)
    settings.load_profile("unhurried")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whoever waits comes last: until then the other tests have the time. With several workers it comes first, and all of it to
    one of them, with the long walk to the next."""
    items.sort(key=_place)


def _place(item: pytest.Item) -> int:
    if not _several():
        return int(_waits(item))
    return 0 if _waits(item) else 1 if item.location[0] == WALK else 2


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Each file goes to one worker whole, so that what it shares is made once; those that wait go together."""
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = nodeid.split("::")[0]
            return "waits" if file in WAITING else file

    return ByFile(config, log)


def _several() -> bool:
    """Whether these tests are shared between several workers."""
    return "PYTEST_XDIST_WORKER" in os.environ


def _waits(item: pytest.Item) -> bool:
    return item.location[0] in WAITING


def _fixtures(item: pytest.Item) -> set[str]:
    return set(getattr(item, "fixturenames", ()))


@pytest.fixture(scope="session", autouse=True)
def _at_once(request: pytest.FixtureRequest) -> None:
    """One process for all tests: what some of them wait for is begun with the first."""
    if not _several() and any(_waits(item) for item in request.session.items):
        request.getfixturevalue("beforehand")


@pytest.fixture(scope="session")
def beforehand(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Beforehand]:
    """What the chosen tests will ask for, begun; of several workers only by the one that has these tests."""
    work = Beforehand()
    wanted = set().union(*(_fixtures(item) for item in request.session.items))
    if SCENE in wanted:
        from tests.live.scenes import LONGEST_FIRST
        from tests.live.virtual_card import missing

        for scene in () if missing() else LONGEST_FIRST:
            work.begin(scene.__name__, scene, tmp_path_factory.mktemp(scene.__name__))
    if HEARD in wanted:
        for name in CALLS:
            work.begin(name, replayed, name)
    yield work
    work.close()


@pytest.fixture(scope="session")
def heard(beforehand: Beforehand) -> Callable[[str], Replayed]:
    """What the replay of a recorded call came to, by its name."""
    return beforehand.result
