"""The second ear: what it is asked, what it changes, that the product works without it."""

import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from assistant.hearing import second_ear
from assistant.hearing.decision import judge
from assistant.hearing.evidence import weigh
from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.listener import Utterance
from assistant.hearing.model import ModelMissing, model_folder
from assistant.hearing.recogniser import ONE_EAR, Recogniser
from assistant.hearing.second_ear import SecondEar, SecondEarMissing, second_ear_folder
from assistant.language.meaning import Answer, Question
from assistant.sound.audio_file import Samples, read_audio

AUDIO = Path(__file__).with_name("audio")
CALLS = Path(__file__).parents[2] / "demo_audio"
PRESSURE = Question("discharge_pressure")


class Says:
    """A second ear with a fixed opinion; it keeps what it was asked."""

    def __init__(self, scores: dict[str, float]) -> None:
        best = max(scores, key=lambda text: scores[text], default="")
        self.given = Opinion(scores, {text: 3 * score for text, score in scores.items()}, (Guess(best, scores.get(best, 0.0)),))
        self.asked: list[str] = []

    def ahead(self, sound: Samples) -> None:
        """Nothing to begin."""

    def likeliest(self, sound: Samples) -> str:
        return self.given.own[0].words

    def knows(self, words: str) -> bool:
        return "north" not in words

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        self.asked = list(candidates)
        return self.given


def _utterance(guesses: list[tuple[str, float]], snr_db: float) -> Utterance:
    """Sound of this loudness over its room, with these guesses of the first ear."""
    rng = np.random.default_rng(1)
    lead = rng.normal(0, 100, 16_000)
    sound = rng.normal(0, 100, 24_000)
    sound[6_000:18_000] += rng.normal(0, 100 * 10 ** (snr_db / 20), 12_000)
    hearings = [[Guess(*g) for g in guesses]]
    return Utterance(lead.astype(np.int16), sound.astype(np.int16), hearings, 40_000)


@pytest.fixture(scope="module")
def second() -> SecondEar:
    try:
        return SecondEar(second_ear_folder())
    except SecondEarMissing as missing:
        pytest.skip(str(missing))


def test_a_number_that_both_ears_like_counts_at_once_in_noise():
    utterance = _utterance([("two fifty four", 100.0), ("two fifty five", 97.0)], 12.0)
    alone = judge(PRESSURE, utterance)
    both = judge(PRESSURE, utterance, Says({"two fifty four": -0.1, "two fifty five": -6.0}))
    assert alone is not None
    assert both is not None
    assert (alone.status, both.status) == ("confirm", "accepted")


def test_a_number_that_the_second_ear_hears_otherwise_does_not_count():
    utterance = _utterance([("two fifty four", 100.0), ("two forty four", 98.0)], 25.0)
    heard = judge(PRESSURE, utterance, Says({"two fifty four": -5.0, "two forty four": -0.3}))
    assert heard is not None
    assert heard.status != "accepted"


def test_a_ten_that_may_be_a_teen_is_asked_back_though_both_ears_like_it():
    utterance = _utterance([("three hundred fifty", 100.0), ("three hundred fifteen", 97.0)], 15.0)
    heard = judge(PRESSURE, utterance, Says({"three hundred fifty": -0.1, "three hundred fifteen": -9.5}))
    assert heard is not None
    assert (heard.status, heard.value) == ("confirm", 350.0)


def test_a_number_that_only_the_second_ear_found_may_win():
    guesses = [Guess("ninety eight", 100.0), Guess("ninety", 99.5)]
    scores = {"ninety eight": -9.0, "ninety": -9.0, "ninety five": -0.2}
    evidence = weigh(Question("suction_pressure"), [guesses], 10.0, Opinion(scores, scores, (Guess("ninety five", -0.2),)))
    assert "ninety five" in [one.words for one in (evidence.best, *evidence.rivals)]


@pytest.mark.parametrize(("likely", "status"), [(-0.5, "command"), (-1.9, "unclear")])
def test_a_command_that_only_the_second_ear_listens_for_does_not_count_half_heard(likely: float, status: str):
    heard = judge(Question("leak_found"), _utterance([("", 100.0)], 12.0), Says({"hold": likely}))
    assert heard is not None
    assert heard.status == status


def test_a_refused_value_does_not_come_back_by_the_second_ear():
    question = Question("discharge_pressure", refused=(250.0,))
    scores = {"two fifty": -0.1, "two fifteen": -5.0}
    evidence = weigh(question, [[Guess("two fifteen", 100.0)]], 20.0, Opinion(scores, scores, (Guess("two fifty", -0.1),)))
    values = [one.meaning.parts[0].value for one in (evidence.best, *evidence.rivals) if isinstance(one.meaning, Answer)]
    assert values == [215.0]


def test_under_the_noise_the_second_ear_is_not_troubled():
    asked = Says({})
    judge(Question("leak_found"), _utterance([("yes", 100.0)], -2.0), asked)
    assert asked.asked == []


def test_it_tells_what_was_said_from_what_was_not(second: SecondEar):
    sound = read_audio(AUDIO / "one_forty_seven_point_three.flac")
    quiet = np.zeros(6000, np.int16)
    said, other = "one forty seven point three", "one forty seven point nine"
    opinion = second.opinion(np.concatenate([quiet, sound, quiet]), [said, other])
    assert opinion.words[said] > opinion.words[other] + 2
    assert opinion.letters[said] > opinion.letters[other] + 2


def test_its_own_guess_is_words_as_they_are_said_talk_too(second: SecondEar):
    assert second.likeliest(read_audio(AUDIO / "minus_twenty_five.flac")) == "minus twenty five"
    assert second.likeliest(read_audio(AUDIO / "yes.flac")) == "yes"
    assert second.likeliest(read_audio(AUDIO / "talk.flac")) == "he left the truck behind the store with all my tools"
    assert second.likeliest(np.zeros(200, np.int16)) == ""


@pytest.mark.parametrize(
    ("file", "said", "rest"),
    [
        ("oil_feed_starved/a_two", "a two", "two"),
        ("coil_failed/b_three", "b three", "three"),
        ("second_trip/contact_one", "contact one", "one"),
        ("emergency/off_three", "off three", "three"),
    ],
)
def test_the_first_word_before_a_number_is_not_lost(second: SecondEar, file: str, said: str, rest: str):
    opinion = second.opinion(read_audio(CALLS / f"{file}.flac"), [said, rest])
    assert opinion.words[said] > opinion.words[rest] + 2


def test_a_quiet_microphone_is_heard_like_a_loud_one(second: SecondEar):
    loud = read_audio(AUDIO / "two_forty.flac")
    assert second.likeliest((loud // 40).astype(np.int16)) == second.likeliest(loud) == "two forty"


def test_without_its_runtime_the_first_ear_hears_alone(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    with pytest.raises(SecondEarMissing, match="onnxruntime is not installed"):
        SecondEar(second_ear_folder())
    try:
        assert Recogniser(model_folder()).second is None
    except ModelMissing as missing:
        pytest.skip(str(missing))


def test_another_network_than_the_measured_one_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    (tmp_path / "ear").mkdir()
    (tmp_path / "ear/ear.onnx").write_bytes(b"another")
    monkeypatch.setattr(second_ear, "data_folder", lambda name: tmp_path)
    with pytest.raises(SecondEarMissing, match="another one than was measured"):
        second_ear_folder()
    (tmp_path / "ear/ear.onnx").unlink()
    with pytest.raises(SecondEarMissing, match="cannot be read"):
        second_ear_folder()


def test_it_can_be_switched_off(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv(ONE_EAR, "1")
    try:
        assert Recogniser(model_folder()).second is None
    except ModelMissing as missing:
        pytest.skip(str(missing))
