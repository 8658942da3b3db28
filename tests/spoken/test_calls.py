"""A technician who slips, hesitates, volunteers, skips and drops out comes to the seal with nothing wrong on record.

The long run is `python -m tests.bench.calls`; here every third fault with an ear that hears all, and one call by sound.
"""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import numpy as np
import pytest

from assistant.call.heard import Heard
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.meaning import Question
from assistant.sound.audio_file import Samples
from tests.bench.ears import machine_room
from tests.rig.scenes import SCENES, Scene
from tests.spoken.call import Room, Spoken, SpokenCall
from tests.spoken.technician import Manners
from tests.spoken.voices import Phrases, robots

UNDISTURBED = Manners(skips=0.0, drops_out=0.0)


@dataclass
class _All:
    """A voice and an ear that know each other: whatever is said is heard as it was said."""

    words: str = ""
    late_ms: int = 0
    said: list[str] = field(default_factory=list)

    def of(self, words: str, *_: object) -> Samples:
        self.words = words.replace(",", "")
        self.said.append(self.words)
        return np.ones(8000, np.int16)

    def hear(self, _sound: Samples, _question: Question) -> "_All":
        return self

    def fact(self, at: datetime) -> Heard:
        return Heard(self.words, at)


def heard_whole(scene: Scene, seed: int, manners: Manners | None = None) -> tuple[Spoken, list[str]]:
    ear: Any = _All()
    call = SpokenCall(scene, Room(ear, ear, (machine_room(2.0),), None), "", seed, "R22", manners)
    return call.to_the_end(), ear.said


@pytest.mark.parametrize("number", range(0, len(SCENES), 3))
def test_whatever_the_technician_does_nothing_wrong_stays_on_record_and_nothing_is_left_open(number: int):
    call, _ = heard_whole(SCENES[number], number)
    assert call.outcome.sealed
    assert call.wrong == {}
    assert call.open == frozenset()
    assert call.outcome.broken == ()
    assert call.outcome.falsely_proven == set()
    assert call.counted_talk == 0


@pytest.mark.parametrize("number", range(1, len(SCENES), 6))
def test_slips_and_talk_cost_no_cause(number: int):
    call, said = heard_whole(SCENES[number], number + 1000, UNDISTURBED)
    assert call.outcome.found(SCENES[number]), call.outcome.standings
    assert len(said) == call.utterances


def test_a_slip_that_is_not_put_right_would_be_seen(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("tests.spoken.technician.Technician._noticed", lambda *_: "")
    calls = [heard_whole(scene, 7, Manners(slips=0.3))[0] for scene in SCENES[:6]]
    assert any(call.wrong for call in calls)


def test_a_call_by_sound_over_the_noise_of_a_machine_room_comes_to_its_seal_with_the_right_cause():
    room = Room(Recogniser(model_folder()), Phrases(robots()), (machine_room(),), 15.0)
    scene = next(one for one in SCENES if one.cause == "control_supply_lost")
    call = SpokenCall(scene, room, "en-us+m3", 5, "R22").to_the_end()
    assert call.outcome.sealed
    assert call.outcome.found(scene)
    assert call.wrong == {}
    assert call.open == frozenset()
    assert call.outcome.broken == ()
