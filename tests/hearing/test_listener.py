"""An answer ends when it is complete, not in the middle of a number."""

from collections.abc import Iterator, Sequence

import numpy as np
import pytest

from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.listener import Endpointer, Utterance, covering
from assistant.language.meaning import Question
from assistant.sound.audio_file import RATE_HZ, Samples

_MS = RATE_HZ // 1000


class Script:
    """A decoder that hears a word each time the sound gets loud after a pause."""

    def __init__(self, words: list[str]) -> None:
        self.words, self.heard, self.loud, self.samples = words, 0, False, 0

    def decoder(self, question: Question) -> "Script":
        return Script(self.words)

    def feed(self, block: Samples) -> bool:
        for at in range(0, len(block) - 159, 160):
            loud = bool(np.abs(block[at : at + 160]).max() > 3000)
            self.heard += loud and not self.loud
            self.loud = loud
        return False

    def partial(self) -> str:
        return " ".join(self.words[: self.heard])

    def finish(self) -> list[Guess]:
        return [Guess(self.partial(), 0.0)]

    ended = finish


class ByLevel:
    """A detector that takes what is loud for speech; the trained one knows a tone from a voice."""

    def probability(self, frame: Samples) -> float:
        return float(np.abs(frame).max() > 6000)


def _sound(pattern: list[tuple[str, int]], noise: float = 20.0) -> Samples:
    """Speech and pauses [ms] over a steady room."""
    parts = [np.full(ms * _MS, 8000.0 if what == "speech" else 0.0) for what, ms in pattern]
    x = np.concatenate(parts) * np.sign(np.sin(2 * np.pi * 300 * np.arange(sum(map(len, parts))) / RATE_HZ))
    return (x + np.random.default_rng(3).normal(0, noise, len(x))).astype(np.int16)


def _heard(words: list[str], sound: Samples, question: Question) -> Iterator[Utterance]:
    ear = Endpointer(Script(words), question, ByLevel())
    for at in range(0, len(sound), 320):
        found = ear.feed(sound[at : at + 320])
        if found:
            yield found
    last = ear.close()
    if last:
        yield last


TWO_OH_EIGHT = [
    ("pause", 400),
    ("speech", 200),
    ("pause", 120),
    ("speech", 150),
    ("pause", 120),
    ("speech", 200),
]
PRESSURE = Question("discharge_pressure")


@pytest.mark.parametrize("noise", [0.0, 20.0, 300.0])
def test_a_number_is_taken_whole_and_soon(noise: float) -> None:
    sound = _sound([*TWO_OH_EIGHT, ("pause", 1500)], noise)
    (found,) = _heard(["two", "oh", "eight"], sound, PRESSURE)
    assert found.hearings[0][0].words == "two oh eight"
    assert 150 <= found.late_ms <= 500


def test_half_a_number_is_waited_for() -> None:
    sound = _sound([("pause", 400), ("speech", 200), ("pause", 550), ("speech", 250), ("pause", 1500)])
    (found,) = _heard(["two", "eight"], sound, PRESSURE)
    assert found.hearings[0][0].words == "two eight"


@pytest.mark.parametrize(
    "parts", [["one hundred", "sixty one"], ["two", "eight seven"], ["five nine", "eight"], ["one hundred and", "six"]]
)
def test_a_pause_of_eight_tenths_of_a_second_inside_a_number_is_bridged(parts: list[str]) -> None:
    sound = _sound([("pause", 400), ("speech", 400), ("pause", 800), ("speech", 400), ("pause", 1500)])
    (found,) = _heard(parts, sound, PRESSURE)
    assert found.hearings[0][0].words == " ".join(parts)


class SecondHears:
    """A second ear that always has the same guess."""

    def __init__(self, words: str) -> None:
        self.words = words

    def ahead(self, sound: Samples) -> None:
        """Nothing to begin."""

    def likeliest(self, sound: Samples) -> str:
        return self.words

    def knows(self, words: str) -> bool:
        return "north" not in words

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        return Opinion({}, {}, (Guess(self.words, 0.0),))


def _ends_after_ms(first: str, second: str, question: Question = PRESSURE) -> int:
    """Silence that ends an answer which the ears take for these words."""
    ear = Endpointer(Script([first]), question, ByLevel(), SecondHears(second))
    sound = _sound([("pause", 400), ("speech", 300), ("pause", 2000)])
    return next(u.late_ms for at in range(0, len(sound), 320) if (u := ear.feed(sound[at : at + 320])))


def test_both_ears_have_a_say_in_whether_an_answer_is_over() -> None:
    soon, late = _ends_after_ms("two oh eight", "two oh eight"), _ends_after_ms("two oh eight", "two")
    assert soon < 350 < late
    choice = Question("sight_glass")
    assert _ends_after_ms("[unk]", "bubbles", choice) < 350, "the first ear, which makes out nothing, is not waited for"
    assert _ends_after_ms("[unk]", "", choice) > 800
    assert _ends_after_ms("[unk]", "hold") > 800, "anything may be a part of a number"


def test_what_only_the_second_ear_hears_is_not_lost() -> None:
    assert _ends_after_ms("", "note", Question("sight_glass")) < 350
    assert _ends_after_ms("", "note") > 800


class Mistaken(Script):
    """Its words so far are a command; heard again it is a digit, as "pause" was for the "four" of "four six three"."""

    def decoder(self, question: Question) -> "Mistaken":
        return Mistaken(self.words)

    def partial(self) -> str:
        return "pause" if self.heard == 1 else super().partial()

    def finish(self) -> list[Guess]:
        return [Guess(Script.partial(self), 0.0)]


def test_what_the_further_hearings_make_of_it_is_waited_for_too() -> None:
    ear = Endpointer(Mistaken(["four", "six"]), PRESSURE, ByLevel())
    sound = _sound([("pause", 400), ("speech", 200), ("pause", 500), ("speech", 200), ("pause", 1500)])
    found = next(u for at in range(0, len(sound), 320) if (u := ear.feed(sound[at : at + 320])))
    assert found.hearings[0][0].words == "four six"


def test_a_guess_pays_for_voice_that_it_has_no_word_for() -> None:
    voiced = np.array([False] * 8 + [True] * 9 + [False] * 6 + [True] * 14 + [False] * 10)  # frames of 32 ms
    nine, six_nine = Guess("nine", 0.0, ((0.75, 1.2),)), Guess("six nine", -1.0, ((0.2, 0.5), (0.75, 1.2)))
    assert [guess.words for guess in covering([nine, six_nine], voiced, 1.0)] == ["six nine", "nine"]
    unknown = [Guess("nine", 0.0), Guess("six nine", -1.0)]
    assert covering(unknown, voiced, 1.0) == unknown, "where the spans are not known nobody pays"


def test_thirty_with_a_pause_before_its_five_was_two_digits() -> None:
    voiced = np.array([False] * 6 + [True] * 10 + [False] * 9 + [True] * 15 + [False] * 10)
    apart = [Guess("thirty five", 0.0, ((0.21, 0.51), (0.78, 1.26))), Guess("six five", -5.0, ((0.21, 0.51), (0.78, 1.26)))]
    joined = [Guess("thirty five", 0.0, ((0.21, 0.75), (0.78, 1.26))), Guess("six five", -5.0, ((0.21, 0.75), (0.78, 1.26)))]
    assert covering(apart, voiced, 1.0)[0].words == "six five"
    assert covering(joined, voiced, 1.0)[0].words == "thirty five"


def test_a_choice_ends_sooner_than_a_number_that_could_go_on() -> None:
    sound = _sound([("pause", 400), ("speech", 300), ("pause", 1500)])
    (choice,) = _heard(["dry"], sound, Question("injection_feed"))
    (number,) = _heard(["twenty"], sound, Question("suction_temperature"))
    assert choice.late_ms < number.late_ms


def test_words_that_are_no_answer_yet_get_the_longest_wait() -> None:
    sound = _sound([("pause", 400), ("speech", 200), ("pause", 700), ("speech", 200), ("pause", 1500)])
    (found,) = _heard(["minus", "eight"], sound, Question("suction_temperature"))
    assert found.hearings[0][0].words == "minus eight"


def test_a_steady_room_alone_is_no_utterance() -> None:
    assert list(_heard(["two"], _sound([("pause", 6000)], noise=500.0), PRESSURE)) == []


def test_a_note_ends_with_three_seconds_of_silence_or_its_own_words() -> None:
    pauses = [("pause", 400), ("speech", 300), ("pause", 2000), ("speech", 300)]
    note = Question("note")
    (found,) = _heard(["belt", "worn"], _sound([*pauses, ("pause", 4000)]), note)
    assert found.hearings == [[Guess("belt worn", 0.0)]]
    assert 2900 <= found.late_ms <= 3100
    (found,) = _heard(["belt", "end note"], _sound([*pauses, ("pause", 4000)]), note)
    assert found.late_ms < 400


def test_the_loudness_over_the_room_is_told() -> None:
    sound = _sound([*TWO_OH_EIGHT, ("pause", 1500)], noise=800.0)
    (found,) = _heard(["two", "oh", "eight"], sound, PRESSURE)
    assert found.snr_db == pytest.approx(20.0, abs=1.5)


def test_sound_that_stops_in_the_middle_is_closed() -> None:
    (found,) = _heard(["two", "oh", "eight"], _sound(TWO_OH_EIGHT), PRESSURE)
    assert found.hearings[0][0].words == "two oh eight"
