"""Numbers as the trade says them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.numbers import number, spoken_number, twin
from assistant.language.phrasebook import Automaton, automaton, rules
from assistant.language.quantities import NUMBER_KINDS

SAID = [
    ("two hundred and eight", 208.0), ("two oh eight", 208.0), ("two hundred eight", 208.0), ("208", 208.0),
    ("one forty seven point three", 147.3), ("twenty five below", -25.0), ("twenty below zero", -20.0),
    ("minus twenty five", -25.0), ("negative six", -6.0), ("ten k", 10_000.0), ("ten point five k", 10_500.0),
    ("one point two meg", 1_200_000.0), ("two gig", 2e9), ("point five", 0.5), ("half a volt", 0.5),
    ("nineteen hundred", 1900.0), ("twelve hundred", 1200.0), ("twelve fifty", 1250.0),
    ("two and a half", 2.5),
    ("a pound and a half", 1.5), ("ten four ounces", 10.25),
    ("twenty four ounces", 1.5), ("ten pounds four ounces", 10.25),
    ("four hundred even", 400.0), ("two forty", 240.0), ("two four oh", 240.0), ("one fifteen", 115.0),
    ("a hundred", 100.0), ("a hundred and forty seven k", 147_000.0), ("zero", 0.0), ("oh point five", 0.5),
    ("two point nine nine", 2.99), ("point oh five", 0.05), ("zero five one", 51.0),
    ("five two fifty", 5250.0),
    ("fifteen thousand two hundred", 15_200.0), ("two thousand five", 2005.0), ("-3.5", -3.5),
    ("10.5k", 10_500.0),
    ("two eighty seven p s i", 287.0), ("three quarters of a pound", 0.75),
    ("one two three four five", 12_345.0), ("five above", 5.0), ("five above zero", 5.0),
    ("ten pounds and four ounces", 10.25), ("three pounds and ten ounces", 3.625),
]  # fmt: skip
NO_NUMBER = [
    "", "oh", "a", "and", "point", "hundred", "thousand", "two hundred and", "two hundred point", "minus",
    "forty seven oh", "twenty hundred thousand million", "two thousand one two", "one hundred one hundred",
    "ten twenty thirty forty", "a couple", "full", "two hundred and eight and", "oh fifteen", "volts",
    "below",
    "ten and a half and a half", "one point", "two point five point six",
]  # fmt: skip


@pytest.mark.parametrize(("words", "value"), SAID)
def test_a_number_is_what_the_trade_means_by_it(words: str, value: float) -> None:
    assert number(words) == value


@pytest.mark.parametrize(
    ("value", "other"),
    [(213, 230), (219, 290), (30, 13), (60, 16), (90, 19), (-50, -15), (20, None), (12, None), (95, None), (200, None)],
)
def test_a_teen_and_its_ten_are_heard_for_each_other(value: float, other: float | None) -> None:
    assert twin(value) == other


@pytest.mark.parametrize("words", NO_NUMBER)
def test_half_a_number_is_no_number(words: str) -> None:
    with pytest.raises(ValueError, match="no number in"):
        number(words)


@pytest.mark.parametrize(
    ("value", "kind", "words"),
    [
        (208, "volts", "two oh eight"), (147.3, "", "one forty seven point three"),
        (-25, "", "minus twenty five"),
        (1_250_000, "ohms", "one point two five meg"), (10_500, "ohms", "ten point five k"),
        (0.5, "", "point five"),
        (250, "", "two fifty"), (15, "", "fifteen"), (1600, "ohms", "sixteen hundred"),
        (200, "", "two hundred"),
        (0, "", "zero"), (2005, "", "two thousand five"), (0.05, "", "point oh five"),
        (100, "", "one hundred"),
    ],
)  # fmt: skip
def test_a_value_is_said_as_the_trade_says_it(value: float, kind: str, words: str) -> None:
    assert spoken_number(value, kind) == words


@given(st.decimals(min_value=-2_000_000, max_value=2_000_000, places=3), st.sampled_from(["", "ohms"]))
def test_what_is_spoken_is_understood_as_the_same_number(value: float, kind: str) -> None:
    assert number(spoken_number(float(value), kind)) == float(value)


def _accepts(grammar: Automaton, words: str) -> bool:
    state = 0
    for word in words.split():
        if word not in grammar[state]:
            return False
        state = grammar[state][word]
    return "" in grammar[state]


def test_every_kind_of_reading_has_its_spoken_numbers() -> None:
    assert set(NUMBER_KINDS) <= set(rules("numbers"))


@given(st.integers(0, 999))
def test_the_grammar_of_the_recogniser_says_every_pressure_three_ways(value: int) -> None:
    digits = " ".join(spoken_number(int(figure)) for figure in str(value))
    pressure = automaton("numbers", "pressure")
    assert _accepts(pressure, spoken_number(value))
    assert _accepts(pressure, spoken_number(value) + " p s i")
    assert _accepts(pressure, digits)


@given(st.sampled_from(sorted(NUMBER_KINDS)), st.randoms(use_true_random=False))
def test_whatever_the_recogniser_can_hear_as_a_number_is_one(kind: str, random: object) -> None:
    grammar, state, words = automaton("numbers", kind), 0, []
    while True:
        word = random.choice(sorted(grammar[state]))  # type: ignore[attr-defined]
        if not word:
            break
        words.append(word)
        state = grammar[state][word]
        if len(words) > 30:
            return
    said = " ".join(words)
    if " of " not in said or "vacuum" in said:
        number(said)
