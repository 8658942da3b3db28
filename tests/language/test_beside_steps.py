"""What is said to a caution, to "is something not safe?" and to what is asked back, and several numbers in one sentence.

Six hundred sentences by two hands who saw the questions alone (`beside_steps.tsv`, `several_numbers.tsv`): the project's own, and
the network has learnt none of them.
"""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from assistant.call.conversation import Conversation
from assistant.call.heeding import at_a_caution
from assistant.call.in_its_sense import said_of_safety
from assistant.language import sense
from assistant.language.agreed import agreeing
from assistant.language.meaning import Command, Confirmed, NotUnderstood, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.placed import marked
from assistant.language.sense import likely
from tests.language.other_words import AT_ONCE, BACK, OTHER, becomes
from tests.test_said_not_safe import standing_at

HEARD = ("understood", "okay", "done", "yes")
COUNTED = {
    "all set, my safety glasses are up on my hat",
    "right, it's at point eight now, i'll be quick",  # the rest is taken for an answer to what is asked behind the caution
    "yup, counted five, and i'm just brushing the ice off the sixth while it's stopped",
}  # fmt: skip
"""Of 114 written to mislead, taken for an acknowledgement as things stand: each is a fault of ours."""


def rows(file: str) -> list[list[str]]:
    return [line.split("\t") for line in Path(__file__).with_name(file).read_text(encoding="utf-8").splitlines()]


@cache
def at_the_front() -> Conversation:
    return standing_at("injection_coil_failed", "rack_suction").dialogue


def acknowledges(names: str, words: str) -> bool:
    call = at_the_front()
    call.cautioned = tuple(names.split("+"))
    question = Question("command", ("detector_state",) if "room" in call.cautioned else (), go_ahead=HEARD)
    meaning = understand_in_pieces(question, words.lower())
    said = at_a_caution(call, meaning, words.lower(), True) or meaning
    return isinstance(said, Command) and said.name == "continue"


def cautions(meaning: str) -> list[tuple[str, str]]:
    return [(item.removeprefix("caution:"), words) for item, told, words in rows("beside_steps.tsv")
            if item.startswith("caution:") and told == meaning]  # fmt: skip


def test_four_of_five_that_heed_a_caution_acknowledge_it_and_without_the_sense_half_as_many(monkeypatch: pytest.MonkeyPatch):
    heeded = cautions("heeded")[::4]
    with_it = sum(acknowledges(*one) for one in heeded)
    assert with_it >= 0.75 * len(heeded)
    monkeypatch.setattr(sense, "_here", lambda: None)
    likely.cache_clear()
    try:
        assert sum(acknowledges(*one) for one in heeded) < 0.6 * with_it
    finally:
        likely.cache_clear()


def test_what_only_sounds_like_assent_acknowledges_nothing():
    assert {words for names, words in cautions("-") if acknowledges(names, words)} == COUNTED


@pytest.mark.parametrize(("meaning", "yes", "least"), [("no", False, 0.85), ("yes", True, 0.85), ("-", None, 1.0)])
def test_whether_something_is_not_safe_is_understood_in_whole_sentences(meaning: str, yes: bool | None, least: float):
    call = at_the_front()
    said = [words for item, told, words in rows("beside_steps.tsv") if item == "not_safe" and told == meaning]
    said = [words for words in said if len(words.split()) > 2]
    answers = [said_of_safety(call, NotUnderstood(), words.lower()) for words in said]
    right = [answer is None if yes is None else answer == Confirmed(yes) for answer in answers]
    assert sum(right) >= least * len(right)


def test_a_yes_to_what_is_asked_back_is_told_from_a_no():
    likeliest = Counter()
    for item, meaning, words in rows("beside_steps.tsv"):
        if item.startswith("confirm:") and meaning != "-":
            agrees, denies = agreeing(words.lower(), item.removeprefix("confirm:"))
            likeliest[meaning, "yes" if agrees > denies else "no"] += 1
    assert likeliest["yes", "yes"] >= 0.95 * (likeliest["yes", "yes"] + likeliest["yes", "no"])
    assert likeliest["no", "no"] >= 0.95 * (likeliest["no", "yes"] + likeliest["no", "no"])


def test_each_of_several_numbers_is_the_reading_that_it_is_told_to_be():
    become = Counter(becomes(*row) for row in rows("several_numbers.tsv")[::3])
    assert become[AT_ONCE] >= 0.8 * become.total()
    assert become[AT_ONCE] + become[BACK] >= 0.92 * become.total()
    assert become[OTHER] <= 1


@pytest.mark.parametrize(("words", "numbers"), [
    ("pipe's two fourteen, that one there, and minus four on the other", ["two fourteen", "minus four"]),
    ("one to two is point eight, set point's twelve", ["point eight", "twelve"]),
    ("a hundred and forty, up from one thirty", ["a hundred and forty", "one thirty"]),
    ("number four's pipe is only 190.5", ["190.5"]),
    ("two twenty's the pipe", ["two twenty"]),
])  # fmt: skip
def test_a_number_is_found_whole_and_no_name_is_one(words: str, numbers: list[str]):
    assert [number for number, _ in marked(words)] == numbers
