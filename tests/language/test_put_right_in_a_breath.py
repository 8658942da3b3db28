"""What is put right, refined or spelled in the same breath, and numbers told apart by commas. The project's own sentences."""

import pytest

from assistant.language.grammar import commas_apart
from assistant.language.meaning import Answer, Command, Meaning
from assistant.language.pieces import understand_in_pieces
from tests.language.test_said_at_steps import question


def meant(step: str, said: str) -> Meaning:
    return understand_in_pieces(question(step), commas_apart(said))


def values(meaning: Meaning) -> list[object]:
    assert isinstance(meaning, Answer), meaning
    return [part.value for part in meaning.parts]


def doubted(meaning: Meaning) -> bool:
    return isinstance(meaning, Answer) and any(part.doubt for part in meaning.parts)


SEVERAL = [
    ("point eight, one point eight, one point eight", [0.8, 1.8, 1.8]),
    ("point nine, one point eight, one point nine", [0.9, 1.8, 1.9]),
    ("two, one point eight, one point nine", [2.0, 1.8, 1.9]),
    ("one point four, one point four, last one is one point six, no, one point five", [1.4, 1.4, 1.5]),
    ("one to two is point eight, no, point nine, the other two both one point eight", [0.9, 1.8, 1.8]),
    ("first two are one point four, the last one is one point six, that's high", [1.4, 1.4, 1.6]),
]


@pytest.mark.parametrize(("said", "ohms"), SEVERAL)
def test_three_windings_are_three_numbers_where_commas_part_them(said: str, ohms: list[float]):
    assert values(meant("windings", said)) == ohms


ONE = [
    ("why_discharge", "two hundred seventy, no, two hundred seventeen, one seven at the end", 217.0),
    ("why_discharge", "two seventeen, one seven", 217.0),
    ("watch_second", "fifteen, one five, two seventeen, two one seven", 15.0),
    ("starter_coil", "around twenty two, twenty two point four", 22.4),
    ("high_fans_called", "controller wants four, no, five, one more just came on", 5.0),
    ("why_head_again", "two fifty five now, went up five since last time", 255.0),
    ("window_control", "i'm reading one nineteen, this panel runs on one twenty", 119.0),
    ("low_cutout", "scale says ten, but that's the cut-in, cutout is at three", 3.0),
    ("opened_at", "opened at six. supposed to be ten", 6.0),
    ("receiver_again", "fifteen percent, it went down", 15.0),
    ("dead_power", "worst one is point three, the rest is flat zero", 0.3),
    ("dead_control", "on the control also zero", 0.0),
    ("coil", "one wire is off and the meter shows open line, nothing", "over_range"),
]


@pytest.mark.parametrize(("step", "said", "value"), ONE)
def test_one_value_among_what_it_was_and_should_be(step: str, said: str, value: object):
    meaning = meant(step, said)
    assert values(meaning)[0] == value
    assert not doubted(meaning)


@pytest.mark.parametrize(("step", "said", "value"), [
    ("high_face", "fouled, no wait, clean", "clean"), ("high_face", "clean, no sorry, it's fouled", "fouled"),
    ("low_cases", "normal, no wait, that one's iced", "iced"), ("how_to_check", "live, no, dead", "dead"),
])  # fmt: skip
def test_a_word_that_is_put_right_is_the_last(step: str, said: str, value: str):
    assert values(meant(step, said)) == [value]


def test_where_safety_hangs_on_it_it_is_asked_back():
    meaning = meant("liquid_heater", "it's off. no, my mistake, it's on")
    assert values(meaning) == ["on"]
    assert doubted(meaning)


def test_a_word_of_the_question_and_more_than_it_behind_is_asked_back_by_that_word():
    meaning = meant("high_face", "fouled, there's a mat of cottonwood all across the coil")
    assert values(meaning) == ["fouled"]
    assert doubted(meaning)


@pytest.mark.parametrize("said", [
    "they were steady", "they never moved", "yes, no, they were steady", "yes, sorry, they never moved", "they haven't changed",
])  # fmt: skip
def test_levels_that_never_moved_did_not_fall(said: str):
    assert meant("oil_fell", said) == Command("continue", "no")


@pytest.mark.parametrize("said", [
    "two hundred, one seven", "two, one seven", "off, no heater here",
])  # fmt: skip
def test_what_spells_or_rights_nothing(said: str):
    meaning = meant("liquid_heater" if "heater" in said else "why_discharge", said)
    assert not isinstance(meaning, Answer) or doubted(meaning)
