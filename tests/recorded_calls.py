"""The recorded call of the demo, heard once by the real ear for all tests that ask about it; `replay` runs the others."""

import hashlib
from dataclasses import dataclass, field, replace
from typing import Any

import pytest

from assistant.fronts import recording as replay
from assistant.fronts.recording import open_ear
from assistant.language.meaning import Question
from assistant.paths import data_folder

CALLS = ("coil_failed",)


class Remembering:
    """The real ear, which knows again what it has heard: the same sound asked the same question."""

    def __init__(self) -> None:
        self.known: dict[str, Any] = {}
        self.played = 0
        """Sounds that it did not know."""

    def hear(self, samples: replay.Samples, question: Question) -> Any:
        asked = repr(replace(question, now=None))  # the same words a few seconds later are the same words
        key = hashlib.sha256(samples.tobytes() + asked.encode()).hexdigest()
        if key not in self.known:
            if not self.played:
                self._ear = open_ear()
            self.played += 1
            self.known[key] = self._ear.hear(samples, question)
        return self.known[key]


@dataclass
class Replayed:
    """What a replay came to."""

    code: int
    lines: list[str] = field(default_factory=list)
    known: dict[str, Any] = field(default_factory=dict)
    """What its ear heard."""


def replayed(name: str) -> Replayed:
    """Replay a recorded call."""
    ear = Remembering()
    lines: list[str] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(replay, "open_ear", lambda: ear)
        code = replay.replay(data_folder("demo_audio") / name, lines.append)
    return Replayed(code, lines, ear.known)


def ear_of(call: Replayed) -> Remembering:
    """An ear that has heard this call already."""
    ear = Remembering()
    ear.known.update(call.known)
    return ear
