"""How long silence must be, by the words so far."""

import pytest

from assistant.hearing.endings import (
    WAIT_COMPLETE_MS,
    WAIT_COULD_GO_ON_MS,
    WAIT_DIGITS_MS,
    WAIT_FEW_DIGITS_MS,
    WAIT_HUNDRED_MS,
    WAIT_NEXT_READING_MS,
    WAIT_NOTHING_YET_MS,
    WAIT_UNIT_MS,
    Endings,
)
from assistant.language.meaning import Question


@pytest.mark.parametrize(
    ("asking", "words", "wait_ms"),
    [
        ("discharge_pressure", "two oh eight", WAIT_UNIT_MS),
        ("discharge_pressure", "two hundred and eight", WAIT_UNIT_MS),
        ("discharge_pressure", "two hundred and eight p s i", WAIT_UNIT_MS),
        ("discharge_pressure", "two hundred", WAIT_HUNDRED_MS),
        ("discharge_pressure", "two forty", WAIT_COULD_GO_ON_MS),
        ("discharge_pressure", "two", WAIT_FEW_DIGITS_MS),
        ("suction_temperature", "two", WAIT_DIGITS_MS),
        ("discharge_pressure", "two eight", WAIT_FEW_DIGITS_MS),
        ("suction_temperature", "two eight", WAIT_UNIT_MS),
        ("injection_coil_volts", "zero", WAIT_COULD_GO_ON_MS),
        ("discharge_pressure", "zero", WAIT_FEW_DIGITS_MS),
        ("suction_temperature", "minus", WAIT_NOTHING_YET_MS),
        ("discharge_pressure", "two hundred and", WAIT_NOTHING_YET_MS),
        ("discharge_pressure", "", WAIT_NOTHING_YET_MS),
        ("sight_glass", "bubbles", WAIT_COMPLETE_MS),
        ("discharge_pressure", "emergency", WAIT_COMPLETE_MS),
    ],
)
def test_a_complete_answer_is_taken_soon_and_one_that_may_go_on_is_waited_for(asking: str, words: str, wait_ms: int):
    assert Endings(Question(asking)).wait_ms(words) == wait_ms


def test_two_digits_are_all_where_a_third_would_be_beyond_the_plausible():
    low = Question("rack_suction_pressure", limits={"rack_suction_pressure": (-14.7, 120.0)})
    assert Endings(low).wait_ms("two eight") == WAIT_UNIT_MS
    assert Endings(low).wait_ms("one eight") == WAIT_UNIT_MS
    assert Endings(low).wait_ms("one one") in (WAIT_DIGITS_MS, WAIT_FEW_DIGITS_MS)


def test_the_next_reading_of_one_breath_is_waited_for():
    breath = Question("injection_feed", also=("injection_coil_volts",))
    assert Endings(breath).wait_ms("dry") == WAIT_NEXT_READING_MS
