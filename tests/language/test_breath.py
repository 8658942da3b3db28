"""Several readings in one breath: where the words can be cut in two ways, nothing is guessed."""

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Question
from assistant.language.pieces import understand_in_pieces

WATCH = Question("watch.suction_pressure", ("watch.discharge_temperature",))


@pytest.mark.parametrize("words", ["two sixty", "it's running at two sixty"])
def test_two_words_for_suction_and_head_may_be_one_number_and_are_asked_back(words: str):
    meaning = understand(Question("rack_suction_pressure", ("rack_discharge_pressure",)), words)
    assert isinstance(meaning, Answer)
    assert [(part.value, bool(part.doubt)) for part in meaning.parts] == [(2.0, True), (60.0, True)]


def test_a_hundred_is_not_torn_off_its_digit():
    said = understand_in_pieces(Question("rack_suction_pressure", ("rack_discharge_pressure",)), "two hundred sixty")
    assert isinstance(said, Answer)
    assert 2.0 not in [part.value for part in said.parts]
    assert any(part.doubt for part in said.parts)


@pytest.mark.parametrize("words", ["nine two seventy", "nine two sixty eight", "twenty two fifteen"])
def test_a_round_whose_words_can_be_cut_in_two_ways_is_asked_back(words: str):
    """92 psig and 70 degrees, or 9 psig and 270 degrees: the second is over the trip."""
    meant = understand(WATCH, words)
    assert isinstance(meant, Answer)
    assert all(part.doubt for part in meant.parts if isinstance(part.value, float))


@pytest.mark.parametrize(("words", "values"), [("twelve two ten", (12.0, 210.0)), ("ten, two oh eight", (10.0, 208.0))])
def test_a_round_that_can_be_cut_in_one_way_is_taken(words: str, values: tuple[float, ...]):
    meant = understand(WATCH, words)
    assert isinstance(meant, Answer)
    assert tuple(part.value for part in meant.parts) == values
    assert not any(part.doubt for part in meant.parts)


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("four point one", (4.1,)), ("four point one four point two", (4.1, 4.2)), ("forty two", (42.0,)),
        ("one twenty", (120.0,)), ("four eighty four seventy", (480.0, 470.0)), ("four four", (4.0, 4.0)),
        ("two and a half", (2.5,)),
    ],
)  # fmt: skip
def test_one_number_for_the_first_of_two_windings_or_lines_is_not_torn_into_two(words: str, values: tuple[float, ...]):
    meaning = understand(Question("line_volts.bc", also=("line_volts.ca",)), words)
    assert isinstance(meaning, Answer)
    assert tuple(part.value for part in meaning.parts) == values
