"""What two callers said and was not taken, or taken for another: a plain young man, and a woman full of jokes."""

import pytest

from assistant.language.meaning import Question
from assistant.language.of_several import of_the_one
from tests.test_said_not_safe import standing_at

FAULT = "injection_coil_failed"


@pytest.mark.parametrize("said", [
    "only the one, the other two's chugging along like old married couples",
    "just her on her own, the other three are humming along",
])  # fmt: skip
def test_of_those_that_run_none_tripped(said: str):
    talk = standing_at(FAULT, "how_many_off").hear("discharge", said)
    assert talk.readings["tripped_count"] == 1.0


def test_others_that_are_off_too_are_not_passed_over():
    said = "just the one, the other two are off as well, working on it"
    assert of_the_one(Question("tripped_count"), said) == said


@pytest.mark.parametrize("said", ["two ohms, she's shorted", "the coil's shorted, two ohms"])
def test_a_coil_that_is_found_shorted_bypasses_nothing(said: str):
    talk = standing_at(FAULT, "coil").hear(said)
    assert talk.readings["injection_coil_ohms"] == 2.0
    assert "jumper_fitted" not in talk.open


def test_a_tag_in_nail_varnish_bypasses_nothing():
    talk = standing_at(FAULT, "tag").hear("it's got a two on the plate, somebody's done it in nail varnish by the looks")
    assert "jumper_fitted" not in talk.open


def test_a_screwdriver_that_nobody_had_at_it_bypasses_nothing_and_one_that_jumps_it_does():
    said = "reset's still all in one piece, nobody's had a screwdriver at it like that clown in the other shop"
    assert "jumper_fitted" not in standing_at(FAULT, "machine_look").hear(said).open
    said = "reset's intact, but somebody has jumped it out with a screwdriver"
    assert "jumper_fitted" in standing_at(FAULT, "machine_look").hear(said).open


@pytest.mark.parametrize("said", [
    "It says A two on it, bit greasy, but that's our lass", "Plate says A two, near enough rubbed off but it's A two",
    "still says A two on the sticker, kinda faded but I can make it out",
])  # fmt: skip
def test_the_one_tag_in_a_sentence_is_asked_back(said: str):
    assert standing_at(FAULT, "tag").hear(said).said == "A two. Correct?"


@pytest.mark.parametrize("said", ["it's not A two", "it should be a two", "that was A two last week, they swapped them"])
def test_a_tag_that_was_not_read_is_not_asked_back(said: str):
    talk = standing_at(FAULT, "tag").hear(said)
    assert "Correct?" not in talk.said
    assert "panel_tag" not in talk.readings


def test_what_he_did_again_is_no_question():
    talk = standing_at(FAULT, "meter_after").hear("did the outlet again, one nineteen, so it's reading like it should")
    assert talk.readings["meter_proved_after"] is True


def test_thousands_with_a_point_are_ohms():
    talk = standing_at(FAULT, "probe_module_end").hear("there we go, forty five point eight thousand now, big difference")
    assert "Forty five point eight k" in talk.said


@pytest.mark.parametrize(("said", "open_"), [
    ("not touched one of them, all four still full open", True), ("three open, the oil one still shut", False),
    ("still open, all but the suction", False),
])  # fmt: skip
def test_valves_that_nobody_touched_are_asked_back_as_open(said: str, open_: bool):
    talk = standing_at(FAULT, "valves").hear(said)
    assert (talk.said == "Valves open, and all safe?") is open_
    assert "service_valves_open" not in talk.readings


def test_what_is_asked_back_of_the_close_names_it():
    talk = standing_at(FAULT, "consent").hear("shut it down, that's me lot, night night")
    assert talk.said == "Close the call?"
    assert talk.hear("aye, do it").said.endswith("Closed and sealed.")
