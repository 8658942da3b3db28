"""Calls on the virtual card. They last as long as they last: the scenes are begun together, each test waits for its own."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from tests.live import scenes
from tests.live.virtual_card import missing

AT_ONCE = 4
Scene = Callable[[str], Any]


@pytest.fixture(scope="session")
def scene(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Scene]:
    """What a scene of `scenes.py` came to, by its name."""
    if why := missing():
        pytest.skip(why)
    begun: dict[str, Future[Any]] = {}
    with ThreadPoolExecutor(AT_ONCE) as pool:

        def result(name: str) -> Any:
            if not begun:
                for known in scenes.LONGEST_FIRST:
                    folder: Path = tmp_path_factory.mktemp(known.__name__)
                    begun[known.__name__] = pool.submit(known, folder)
            return begun[name].result(timeout=150)

        yield result
        for future in begun.values():
            future.cancel()
