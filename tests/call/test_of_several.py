"""A bare word where one prompt asks for several things: it counts for what the prompt named, or is asked about."""

import pytest

from assistant.language.meaning import Answer, Question
from assistant.language.pieces import understand_in_pieces
from tests.simulated import Rack
from tests.talk import Talk


def at_the_look() -> Talk:
    return Talk().until(Rack("none"), "machine_look")


@pytest.mark.parametrize("said", ["loose", "broken", "burnt", "off"])
def test_what_may_be_of_two_things_is_asked_about(said: str):
    talk = at_the_look().hear(said)
    assert "What is not good?" in talk.said
    assert talk.asked == "machine_look:reset_device"


@pytest.mark.parametrize("said", ["good", "fine", "looks good", "all good", "yes"])
def test_good_is_all_of_them(said: str):
    assert "All good." in at_the_look().hear(said).said


@pytest.mark.parametrize(("said", "id_", "value"), [
    ("closed", "injection_hand_valve", "closed"), ("not running", "head_fan_running", "no"),
    ("fouled", "probe_condition", "fouled"),
    ("coil's loose", "coil_seated", "loose"), ("probe's loose", "probe_condition", "loose"),
])  # fmt: skip
def test_what_can_be_of_one_alone_is_read_back_by_its_name(said: str, id_: str, value: str):
    talk = at_the_look().hear(said)
    assert talk.readings[id_] == value
    assert f"{talk.said.partition('.')[0]}." not in ("Closed.", "Fouled.", "Loose.")


def test_none_is_none_of_them():
    talk = at_the_look().hear("none")
    assert talk.asked == "machine_look:reset_device"
    assert "injection_hand_valve" not in talk.readings


def test_once_the_prompt_names_one_a_bare_word_is_its_answer_and_no_others():
    talk = at_the_look().hear("not running")
    assert "Reset: intact, missing or broken?" in talk.said
    talk.hear("good")
    assert talk.readings["reset_device"] == "intact"
    assert "Hand valve: open, closed or none?" in talk.said
    talk.hear("good")
    assert "probe_condition" not in talk.readings
    talk.hear("probe's clean")
    assert talk.readings["probe_condition"] == "clean"


@pytest.mark.parametrize("said", ["it is margaret doyle from the other place", "oh yeah, that thing's cooking, it's hot",
                                  "starved, there's nothing coming through", "yes they changed it two years ago"])  # fmt: skip
def test_a_sentence_of_something_else_answers_nothing_of_the_look(said: str):
    talk = at_the_look()
    before = set(talk.readings)
    assert set(talk.hear(said).readings) == before


@pytest.mark.parametrize("said", ["this one's off and i've got three running", "other three are running"])
def test_how_many_run_is_not_how_many_tripped(said: str):
    meaning = understand_in_pieces(Question("tripped_count", ("alarm_minutes_ago",)), said)
    assert not isinstance(meaning, Answer) or "tripped_count" not in {part.id for part in meaning.parts}


def test_one_number_is_not_cut_into_a_count_and_a_time():
    meaning = understand_in_pieces(Question("tripped_count", ("alarm_minutes_ago",)), "two eighteen, and that's on my good gauge")
    assert not isinstance(meaning, Answer) or "alarm_minutes_ago" not in {part.id for part in meaning.parts}


def test_none_is_an_answer_where_the_prompt_named_it():
    talk = Talk().until(Rack("none", {"fit_to_start": "ready"}), "fit").hear("ready")
    assert "Detector: quiet, alarm, dead or none?" in talk.said
    talk.hear("none")
    assert talk.readings["detector_state"] == "none"
