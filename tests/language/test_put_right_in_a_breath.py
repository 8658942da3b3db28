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


@pytest.mark.parametrize(("step", "said", "word"), [
    ("glass_again", "bubbles, and they're getting worse than before", "bubbles"),
    ("oil_glass_first", "low, and it's kind of dark", "low"),
    ("high_face", "clean, looks like somebody washed it", "clean"),
])  # fmt: skip
def test_a_word_of_the_question_stands_before_what_is_told_of_it(step: str, said: str, word: str):
    assert values(meant(step, said))[:1] == [word]


@pytest.mark.parametrize(("step", "said", "word"), [
    ("tight", "leaks, pressure's dropping", "leaks"), ("leak_mend_or_leave", "later, i need parts", "later"),
    ("liquid_longer", "leave it locked, i'll come back tomorrow", "leave it locked"),
    ("repair_or_leave", "leave it locked, i don't have the part for it anyway", "leave it locked"),
])  # fmt: skip
def test_what_leaves_it_off_counts_whatever_the_reason(step: str, said: str, word: str):
    assert meant(step, said) == Command("continue", word)


@pytest.mark.parametrize(("step", "said"), [
    ("low_cases", "normal, one of them's iced"), ("low_cases", "normal, the other line-up is iced"),
    ("glass_again", "full, until i touched it"), ("glass_again", "full, if that's the right glass"),
    ("leak_left", "leave it locked, detector's going off"), ("repair_or_leave", "leave it locked, no wait, it's fixed"),
    ("starter_wire_back", "yep, back on, gave it a tug and it slid right out"),
])  # fmt: skip
def test_what_stands_behind_it_may_take_it_back(step: str, said: str):
    meaning = meant(step, said)
    assert not isinstance(meaning, Command) or meaning.about == "repaired"
    assert not isinstance(meaning, Answer) or doubted(meaning)


@pytest.mark.parametrize(("step", "said"), [
    ("contact_wire_back", "it's back on and tight, had to change my driver for it"),
    ("terminal_cover_on", "done, every bolt, and i put the gasket back behind it"),
    ("modules_back", "yeah, they're back, took a picture before so i know it's right"),
    ("probe_plugged_in", "clicked in, done, i gave it a tug to be sure"),
    ("leads_off", "took them off, they're hanging round my neck"), ("clamp_off", "thermocouple's off, had to cut the tape"),
    ("open_hand_valve", "opened it, had to use the wrench, packing's tight"),
    ("recover_hose_off", "hoses are off, cylinder's shut, and i wrote the weight on it"),
])  # fmt: skip
def test_how_a_deed_went_changes_nothing_of_it(step: str, said: str):
    meaning = meant(step, said)
    assert isinstance(meaning, Command)
    assert meaning.name == "continue"


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "my lock's on and i tried the handle, it won't move"), ("covers", "the covers are mounted again"),
    ("clear", "i am alone, the tools are out and nothing is in the fans"),
])  # fmt: skip
def test_nor_how_it_was_made_sure(step: str, said: str):
    assert values(meant(step, said)) == [True]
    assert not doubted(meant(step, said))
