"""The optional second ear: what it is asked, what it changes, that the product works without it."""

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
PRESSURE = Question("discharge_pressure")


class Says:
    """A second ear with a fixed opinion; it keeps what it was asked."""

    def __init__(self, scores: dict[str, float], numbers: Sequence[tuple[str, float]] = ()) -> None:
        self.given = Opinion(scores, tuple(Guess(*n) for n in numbers))
        self.asked: list[str] = []

    def opinion(self, sound: Samples, words: Sequence[str], number: bool) -> Opinion:
        self.asked = list(words)
        return self.given


def _utterance(guesses: list[tuple[str, float]], snr_db: float) -> Utterance:
    """Sound of this loudness over its room, with the same guesses in each of three hearings."""
    rng = np.random.default_rng(1)
    lead = rng.normal(0, 100, 16_000)
    sound = rng.normal(0, 100, 24_000)
    sound[6_000:18_000] += rng.normal(0, 100 * 10 ** (snr_db / 20), 12_000)
    hearings = [[Guess(*g) for g in guesses]] * 3
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
    both = judge(PRESSURE, utterance, Says({"two fifty four": -1.0, "two fifty five": -6.0}, [("two fifty four", -1.0)]))
    assert alone is not None
    assert both is not None
    assert (alone.status, both.status) == ("confirm", "accepted")


def test_a_number_that_the_second_ear_hears_otherwise_is_asked_back():
    utterance = _utterance([("two fifty four", 100.0), ("two forty four", 95.0)], 25.0)
    other = Says({"two fifty four": -7.0, "two forty four": -1.0}, [("two forty four", -1.0)])
    heard = judge(PRESSURE, utterance, other)
    assert heard is not None
    assert heard.status == "confirm"


def test_a_ten_that_may_be_a_teen_is_asked_back_though_both_ears_like_it():
    utterance = _utterance([("three hundred fifty", 100.0), ("three hundred fifteen", 97.0)], 15.0)
    ten = Says({"three hundred fifty": -0.5, "three hundred fifteen": -4.5}, [("three hundred fifty", -0.5)])
    heard = judge(PRESSURE, utterance, ten)
    assert heard is not None
    assert (heard.status, heard.value) == ("confirm", 350.0)


def test_a_number_that_only_the_second_ear_found_may_win():
    guesses = [Guess("ninety eight", 100.0), Guess("ninety", 99.5)]
    opinion = Opinion({"ninety eight": -9.0, "ninety": -9.0, "ninety five": -0.5}, (Guess("ninety five", -0.5),))
    evidence = weigh(Question("suction_pressure"), [guesses], 10.0, opinion)
    assert "ninety five" in [one.words for one in (evidence.best, *evidence.rivals)]


def test_a_refused_value_does_not_come_back_by_the_second_ear():
    question = Question("discharge_pressure", refused=(250.0,))
    opinion = Opinion({"two fifty": -0.1, "two fifteen": -5.0}, (Guess("two fifty", -0.1),))
    evidence = weigh(question, [[Guess("two fifteen", 100.0)]], 20.0, opinion)
    values = [one.meaning.parts[0].value for one in (evidence.best, *evidence.rivals) if isinstance(one.meaning, Answer)]
    assert values == [215.0]


def test_talk_that_the_first_ear_is_sure_of_is_no_answer_to_the_second():
    utterance = _utterance([("zero five six", 100.0)], 30.0)
    talk = Says({"zero five six": -21.0}, [("five six", -9.0)])
    talk.given = Opinion(talk.given.scores | {"there are five or six pallets left": -0.5}, talk.given.numbers,
                         "there are five or six pallets left")  # fmt: skip
    heard = judge(Question("suction_pressure"), utterance, talk)
    assert heard is not None
    assert (heard.status, heard.value) == ("unclear", None)


def test_under_the_noise_the_second_ear_is_not_troubled():
    asked = Says({})
    judge(Question("leak_found"), _utterance([("yes", 100.0)], -2.0), asked)
    assert asked.asked == []


def test_it_tells_what_was_said_from_what_was_not(second: SecondEar):
    sound = read_audio(AUDIO / "one_forty_seven_point_three.flac")
    quiet = np.zeros(6000, np.int16)
    said, other = "one forty seven point three", "one forty seven point nine"
    scores = second.opinion(np.concatenate([quiet, sound, quiet]), [said, other], True).scores
    assert scores[said] > scores[other] + 2


def test_its_own_numbers_are_words_as_they_are_said(second: SecondEar):
    opinion = second.opinion(read_audio(AUDIO / "minus_twenty_five.flac"), [], True)
    assert "minus twenty five" in [guess.words for guess in opinion.numbers]
    assert second.opinion(read_audio(AUDIO / "yes.flac"), ["yes"], False).numbers == ()


def test_without_the_extra_the_first_ear_hears_alone(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(second_ear, "find_spec", lambda name: None)
    with pytest.raises(SecondEarMissing, match="is not installed"):
        second_ear_folder()
    try:
        assert Recogniser(model_folder()).second is None
    except ModelMissing as missing:
        pytest.skip(str(missing))


def test_another_model_than_the_measured_one_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    (tmp_path / "model").mkdir()
    (tmp_path / "model/model.bin").write_bytes(b"another")
    monkeypatch.setattr(second_ear, "find_spec", lambda name: type("Spec", (), {"submodule_search_locations": [str(tmp_path)]}))
    with pytest.raises(SecondEarMissing, match="another one than was measured"):
        second_ear_folder()


def test_it_can_be_switched_off(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv(ONE_EAR, "1")
    try:
        assert Recogniser(model_folder()).second is None
    except ModelMissing as missing:
        pytest.skip(str(missing))
