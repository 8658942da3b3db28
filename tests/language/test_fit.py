"""Fit to start, told item by item. The project's own sentences."""

import pytest

from tests.talk import Talk

WHOLE = (
    "boots are good, gear's on, it's quiet in here and the fan's roaring, kim knows i'm here",
    "footing's good, eyes and hands covered, detector's quiet, fan's on, dispatch knows i'm here",
    "solid footing, gloves on, glasses on, detector's green, fan's running, told the manager",
    "i'm good, detector quiet, fan running",
)


def at_the_question() -> Talk:
    return Talk().hear("rack a compressor two", "understood")


@pytest.mark.parametrize("said", WHOLE)
def test_item_by_item_answers_all_that_was_asked(said: str):
    talk = at_the_question().hear(said)
    readings = {id_: talk.readings[id_] for id_ in ("fit_to_start", "detector_state", "ventilation_running")}
    assert readings == {"fit_to_start": True, "detector_state": "quiet", "ventilation_running": "yes"}


def test_what_is_not_named_is_asked_by_itself():
    talk = at_the_question().hear("boots are good, gear's on, detector's quiet, kim knows i'm here")
    assert talk.asked == "fit:ventilation_running"


@pytest.mark.parametrize("said", [
    "boots are wet, all else good", "footing good, nobody knows i'm here", "glasses are in the truck, boots good",
    "no fan, boots are good", "boots are good, detector's beeping", "boots good, will put the gloves on", "boots good, fan's on?",
])  # fmt: skip
def test_one_thing_that_is_not_so_and_nobody_is_fit(said: str):
    assert "fit_to_start" not in at_the_question().hear(said).readings


@pytest.mark.parametrize(("said", "missing"), [
    ("i've got my glasses and gloves on, and the store manager knows i'm up here", "Footing too?"),
    ("boots are good, kim knows i'm here", "Eyes, hands too?"),
    ("boots are good, gloves on, glasses on", "Somebody knows too?"),
])  # fmt: skip
def test_what_of_one_question_nobody_named_is_asked_back_by_its_name(said: str, missing: str):
    talk = at_the_question().hear(said)
    assert talk.said.endswith(missing)
    assert "fit_to_start" not in talk.readings
    assert talk.hear("yes").readings["fit_to_start"] is True


def test_with_the_room_told_beside_it_what_nobody_named_is_asked_again_by_itself():
    talk = at_the_question().hear("boots are good, it's quiet in here and the fan's roaring, kim knows i'm here")
    assert talk.said == "Detector quiet, fan running. | Footing, eyes, hands, somebody knows you are here: all good?"
    assert "fit_to_start" not in talk.readings


@pytest.mark.parametrize(("told", "left"), [
    ("understood, fan's running", "detector_state"), ("understood, detector's quiet", "ventilation_running"),
])  # fmt: skip
@pytest.mark.parametrize("said", [
    "all good", "everything's good", "all good, gloves on, and somebody knows i'm up here", "i'm good", "yes",
])  # fmt: skip
def test_all_good_tells_of_what_the_prompt_named_and_of_no_more(told: str, left: str, said: str):
    talk = Talk().hear("rack a compressor two", told)
    assert talk.said.endswith("Footing, eyes, hands, somebody knows you are here: all good?")
    talk.hear(said)
    assert talk.readings["fit_to_start"] is True
    assert left not in talk.readings
    assert talk.asked == f"fit:{left}"
