"""Calls on the virtual card last as long as they last: they are begun before the other tests, each test waits for its own."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.beforehand import Beforehand
from tests.live.virtual_card import missing

Scene = Callable[[str], Any]


@pytest.fixture(scope="session")
def scene(beforehand: Beforehand) -> Scene:
    """What a scene of `scenes.py` came to, by its name."""
    if why := missing():
        pytest.skip(why)
    return beforehand.result
