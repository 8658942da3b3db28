"""The ear of the long bench works nothing out twice, and hears what the product's own ear hears."""

from pathlib import Path

import numpy as np
import pytest

from assistant.hearing.decision import Hearing
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.meaning import Question
from assistant.sound.audio_file import RATE_HZ, Samples
from tests.bench.ears import in_noise, machine_room
from tests.spoken.kept_ear import Kept, KeptEar
from tests.spoken.voices import Phrases, robots

SAID = (
    ("suction_pressure", "twelve"), ("rack_discharge_pressure", "two ten"), ("sight_glass", "full"), ("command", "done"),
    ("locked_out", "locked"), ("rack_discharge_pressure", "hand me the flashlight"),
)  # fmt: skip


@pytest.fixture(scope="module")
def sounds() -> list[tuple[Samples, Question]]:
    phrases, room = Phrases(robots()), machine_room(10.0)
    return [(in_noise(phrases.of(words, "en-us+m3"), 15.0, room, 1), Question(asking)) for asking, words in SAID]


def heard(ear: Recogniser, sounds: list[tuple[Samples, Question]]) -> list[tuple[object, ...]]:
    def told(one: Hearing) -> tuple[object, ...]:
        return one.text, one.status, one.value, one.confidence, one.late_ms, one.meaning

    return [told(ear.hear(sound, question)) for sound, question in sounds]


@pytest.fixture(scope="module")
def by_the_product(sounds: list[tuple[Samples, Question]]) -> list[tuple[object, ...]]:
    return heard(Recogniser(model_folder()), sounds)


def test_a_sound_heard_before_comes_to_the_same_and_is_not_worked_out_again(
    sounds: list[tuple[Samples, Question]], by_the_product: list[tuple[object, ...]], tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
):  # fmt: skip
    assert [status for _, status, *_ in by_the_product].count("accepted") >= 4
    file = tmp_path / "heard.sqlite"
    assert heard(KeptEar(model_folder(), Kept(file)), sounds) == by_the_product
    monkeypatch.setattr(Recogniser, "decoder", None)
    monkeypatch.setattr("assistant.hearing.second_ear.SecondEar._taken_in", None)
    assert heard(KeptEar(model_folder(), Kept(file)), sounds) == by_the_product


def test_from_where_a_sound_is_another_the_ear_hears_itself(sounds: list[tuple[Samples, Question]], tmp_path: Path):
    kept = Kept(tmp_path / "heard.sqlite")
    ear = KeptEar(model_folder(), kept)
    sound, question = sounds[1]
    ear.hear(sound, question)
    cut = np.concatenate([sound[: len(sound) // 2], np.zeros(RATE_HZ, np.int16)])
    assert heard(ear, [(cut, question)]) == heard(Recogniser(model_folder()), [(cut, question)])
