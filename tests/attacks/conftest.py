"""A call whose program ends with its test."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.attacks.driver import Call

Calls = Callable[..., Call]


@pytest.fixture
def begin(tmp_path: Path) -> Iterator[Calls]:
    """A call with a fault, the words that are said instead, and a site's profile; all in one folder of calls."""
    calls: list[Call] = []

    def a_call(fault: str = "none", words: dict[str, str] | None = None, **how: Any) -> Call:
        calls.append(Call(tmp_path / "calls", fault, words, **how))
        return calls[-1]

    yield a_call
    for call in calls:
        call.kill()
