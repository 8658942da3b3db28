"""The one number of a sentence that nothing else understood is asked back, and counts by nothing but a yes."""

import pytest

from assistant.language.meaning import Answer, NotUnderstood
from assistant.language.number_left import number_left
from tests.language.test_said_at_steps import question


@pytest.mark.parametrize(("step", "said", "value"), [
    ("starter_coil", "Coil is eleven point five ohms.", 11.5), ("live_high", "Zero volts on this one also.", 0),
    ("live_discharge", "It is two hundred and five volts between the two sides.", 205),
    ("live_supply", "Hundred and twenty one volts, I measured two times.", 121),
    ("walk_low", "nineteen, one nineteen I mean, sorry, long night", 119),
    ("recover", "Scale shows six and a half that came out.", 6.5), ("pump_down", "six, it hung at eight for a while then six", 6),
    ("dead_drive", "It's bled down to eleven.", 11), ("at_zero", "Gauge says five pounds on this one now, not so good", 5),
    ("dead_power", "one phase has still got two seventy seven on it", 277),  # what is not dead may be heard in any sentence
    ("watch_gas", "five, no, minus five, missed the minus", -5), ("run_filter", "It is five psi, filter is not so clean.", 5),
])  # fmt: skip
def test_it_is_asked_back(step: str, said: str, value: float):
    found = number_left(question(step), said)
    assert isinstance(found, Answer)
    assert [(part.value, part.doubt) for part in found.parts] == [(value, ".")]


@pytest.mark.parametrize(("step", "said"), [
    ("dead_power", "zero on this one also"), ("at_zero", "the thing has zero pounds"),  # what a panel or a circuit is opened by
    ("live_high", "it was one twenty, now zero"), ("live_high", "one twenty or zero, can't say"),
    ("live_high", "should be one twenty"), ("live_high", "somewhere between eighty and ninety"), ("live_high", "is it zero?"),
    ("pump_down", "give me ten minutes"), ("live_high", "number two is dead on the other rack"), ("coil", "i touched two wires"),
    ("rack_suction", "twenty on the thing"),  # two are asked for, and it says which of them it is by nothing
])  # fmt: skip
def test_it_is_no_answer(step: str, said: str):
    assert number_left(question(step), said) == NotUnderstood()
