"""A fault put into the dialogue on purpose, for the tests that must find it."""

from datetime import datetime

import pytest

from assistant.call.facts import ReadingTaken
from assistant.call.state import State


def deaf_to_corrections(monkeypatch: pytest.MonkeyPatch) -> None:
    """A correction no longer ends the proof of absence of voltage."""
    whole = State._proof

    def deaf(self: State, fact: ReadingTaken, at: datetime) -> None:
        if not fact.corrected:
            whole(self, fact, at)

    monkeypatch.setattr(State, "_proof", deaf)
