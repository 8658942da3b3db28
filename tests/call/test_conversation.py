"""A conversation, not a form: what is said without being asked, corrections by name, read-back at once, and how long it takes."""

import pytest

from assistant.call.effects import Say
from assistant.call.facts import StepEntered, StepSkipped
from tests.bench.straight_call import figures, straight
from tests.bench.truth import site_for
from tests.branch_rack import BranchRack
from tests.call.test_call import at
from tests.rig.scenes import SCENES
from tests.rig.technician import Rig
from tests.simulated import Rack
from tests.talk import Talk


def entered(talk: Talk) -> list[str]:
    return [fact.step for _, fact in talk.facts if isinstance(fact, StepEntered)]


def purposes(talk: Talk) -> list[str]:
    return [x.purpose for x in talk.effects if isinstance(x, Say)]


def test_what_one_opening_sentence_says_is_not_asked():
    talk = Talk().hear("rack a two tripped on oil two hours ago , just this one , food's holding")
    assert talk.readings | {"protection_shown": "oil", "alarm_minutes_ago": 120, "tripped_count": 1} == talk.readings
    talk.until(Rack("none"), "rack_suction")
    assert "how_many_off" not in entered(talk)


def test_the_sites_name_may_be_said_though_nobody_asks_it():
    talk = Talk().hear("north store rack a two")
    assert (talk.readings["rack"], talk.readings["compressor"]) == ("a", "two")


def test_readings_are_taken_by_their_names_at_another_question_and_not_asked_again():
    talk = at("food").hear("suction twelve , discharge two ten")
    assert talk.asked.startswith("food:")
    assert talk.readings["rack_suction_pressure"] == 12
    talk.hear("all good").until(Rack("none"), "glass")
    assert "rack_suction" not in entered(talk)


def test_of_a_question_for_two_only_the_one_that_is_not_known_is_asked():
    talk = at("food").hear("discharge two ten").hear("all good").until(Rack("none"), "rack_suction")
    assert talk.asked == "rack_suction:rack_suction_pressure"
    talk.hear("twelve")
    assert not talk.asked.startswith("rack_suction")


def test_an_oil_trip_gets_oil_questions_and_no_look_at_the_injection():
    talk = Talk().hear("rack a two , it tripped on oil").until(BranchRack("oil low"), "oil_glass_first")
    assert "machine_look" not in entered(talk)


def test_another_contact_than_was_shown_is_followed_all_the_same():
    talk = Talk().hear("rack a two , it tripped on oil").until(Rack("none"), "machine_look_late")
    assert talk.readings["chain_dead_check"] == "discharge"


def test_a_correction_may_bring_its_value():
    talk = at("glass").hear("correction suction eleven")
    assert talk.readings["rack_suction_pressure"] == 11
    assert talk.asked.startswith("glass:")


def test_the_last_one_wrong_asks_the_last_one_again():
    talk = at("glass").hear("i got the last one wrong")
    assert "Rack discharge?" in talk.said
    talk.hear("two twelve")
    assert talk.readings["rack_discharge_pressure"] == 212


def test_another_value_by_its_name_is_asked_back_in_the_place_of_the_one_on_record():
    talk = at("glass").hear("suction is fourteen")
    assert "Instead of twelve" in talk.said
    assert talk.readings["rack_suction_pressure"] == 12
    talk.hear("yes")
    assert talk.readings["rack_suction_pressure"] == 14
    assert at("glass").hear("suction is fourteen", "no").readings["rack_suction_pressure"] == 12


def test_nope_answers_the_question_and_not_the_reading_before():
    talk = at("glass").hear("full")
    assert talk.asked == "glass:defrost_state"
    talk.hear("nope")
    assert talk.readings["defrost_state"] == "none"
    assert talk.readings["sight_glass"] == "full"


def test_dont_know_says_that_it_skips():
    talk = at("rack_suction").hear("i don't know")
    assert "Skipped: rack suction, rack discharge." in talk.said
    assert any(isinstance(fact, StepSkipped) for _, fact in talk.facts)


def test_a_value_is_read_back_before_what_is_worked_out_from_it():
    talk = at("rack_suction").hear("twelve , two ten")
    said = purposes(talk)
    assert said.index("readback") < said.index("derived")


def test_a_value_is_read_back_before_the_caution_of_the_next_step():
    talk = at("glass").hear("full , no defrost")
    said = purposes(talk)
    assert said.index("readback") < said.index("caution")


def test_a_compressor_that_the_rack_lacks_is_not_taken():
    talk = Talk().hear("rack b four")
    assert "Rack B has one, two, three." in talk.said
    assert "compressor" not in talk.readings
    assert talk.hear("three").readings["compressor"] == "three"


def test_all_good_but_names_what_is_not():
    talk = at("machine_look").hear("the probe's pretty dirty")
    assert talk.readings["probe_condition"] == "fouled"
    assert "reset_device" not in talk.readings


def test_a_fifteen_that_may_be_a_fifty_is_asked_back_figure_by_figure():
    talk = at("rack_suction").hear("fifteen", sure=False)
    assert "one five, or five oh?" in talk.said
    talk.hear("five oh")
    assert talk.readings["rack_suction_pressure"] == 50


def test_all_good_except_one_thing_takes_the_others_as_good():
    talk = at("machine_look").hear("all good except the probe's dirty")
    assert talk.readings["probe_condition"] == "fouled"
    assert talk.readings["reset_device"] == "intact"
    assert not talk.asked.startswith("machine_look")


STRAIGHT = ("probe_fouled", "injection_coil_failed", "refrigerant_low", "condenser fouled", "control fuse blown")


@pytest.mark.parametrize("fault", STRAIGHT)
def test_a_straight_call_takes_45_answers_and_8_acknowledgements_and_its_cautions_are_a_sixth_of_its_words(fault: str):
    answers, _, share, acknowledged = figures(straight(fault))
    assert answers <= 45
    assert acknowledged <= 8
    assert share < 1 / 6


@pytest.mark.parametrize(("said", "compressor"), [("a two", "two"), ("a", "two"), ("rack a three", "three")])
def test_rack_and_machine_can_be_named_together_again_though_the_machine_was_heard(said: str, compressor: str):
    talk = Talk().hear("two", "yes", said)
    assert (talk.readings["rack"], talk.readings["compressor"]) == ("a", compressor)


def test_a_broken_head_fan_explains_no_trip_and_is_mended_before_the_machine_runs_again():
    scene = next(one for one in SCENES if one.cause == "head_fan_failed")
    rack = Rig("none", scenes=(scene,))
    talk = Talk(site_for((scene,), "R22")).until(rack, "lock_fans/fans")
    assert talk.dialogue.state.started_at is None
    assert talk.hear("understood", "locked").said == "Head fan failed. Repaired, or leave it locked?"
    assert talk.hear("leave it locked").until(rack, "start").dialogue.state.sealed
