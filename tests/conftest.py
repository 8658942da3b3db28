"""What takes long and is asked about by several tests: begun when the tests begin, asked for last."""

from collections.abc import Callable, Iterator

import pytest

from tests.beforehand import Beforehand
from tests.recorded_calls import CALLS, Replayed, replayed

SCENE, HEARD = "scene", "heard"
"""Fixtures that wait for what is done beforehand: calls on the virtual card, recorded calls."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whoever waits comes last: until then the other tests have the time."""
    items.sort(key=lambda item: bool({SCENE, HEARD} & _fixtures(item)))


def _fixtures(item: pytest.Item) -> set[str]:
    return set(getattr(item, "fixturenames", ()))


@pytest.fixture(scope="session", autouse=True)
def beforehand(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Beforehand]:
    """What the chosen tests will ask for, begun."""
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
