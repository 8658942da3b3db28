"""What two strangers said in whole calls and was taken for something else."""

import copy

import pytest

from assistant.call.prompts import read_back
from assistant.fronts.pipe import ask_message
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_said_not_safe import site_of, standing_at


def at_the_ladder() -> Talk:
    """At the caution before somebody climbs, the machine locked out."""
    rack, talk = BranchRack("condenser fouled"), Talk(site_of("condenser fouled"))
    for _ in range(200):
        if talk.asked.startswith("high_fans/"):
            return talk
        talk.hear(rack.answer(ask_message(talk.effects[-1])))
    raise AssertionError("no ladder")


@pytest.mark.parametrize("said", ["got it, going up slowly", "okay, going up now", "right, going up the ladder", "running up"])
def test_who_climbs_says_of_no_machine_that_it_runs(said: str):
    talk = at_the_ladder().hear(said)
    assert talk.dialogue.state.lock.locked
    assert talk.dialogue.state.lock.dead
    assert talk.readings["running_now"] != "running"


@pytest.mark.parametrize("said", ["got it, it's running", "okay, it started"])
def test_a_machine_that_runs_though_it_is_locked_is_heard_there(said: str):
    assert "It runs with your lock on" in at_the_ladder().hear(said).said


@pytest.mark.parametrize("said", ["no, point one on the power", "point one on the power"])
def test_a_proof_at_another_place_is_no_proof(said: str):
    talk = standing_at("injection_coil_failed", "dead_control").hear(said)
    assert "dead_volts.control" not in talk.readings


@pytest.mark.parametrize("said", ["control's still hot, one eighteen, hold on", "whoa, live, one eighteen"])
def test_a_circuit_that_is_called_live_beside_its_volts_is_on_record_with_them(said: str):
    talk = standing_at("injection_coil_failed", "dead_control").hear(said)
    assert "Stop. It is live." in talk.said
    assert not talk.dialogue.state.lock.dead


@pytest.mark.parametrize("said", ["it's live in here", "the control's still hot"])
def test_one_that_is_called_live_without_has_the_hands_out(said: str):
    assert "Hands out" in standing_at("injection_coil_failed", "dead_control").hear(said).said


@pytest.mark.parametrize("said", ["hot, zero", "point two, still hot"])
def test_a_zero_beside_a_word_that_it_is_live_proves_nothing(said: str):
    assert "dead_volts.control" not in standing_at("injection_coil_failed", "dead_control").hear(said).readings


@pytest.mark.parametrize("said", ["new wire in, taped, new fuse", "taped the chafed wire up, new fuse in"])
def test_a_wire_that_was_mended_and_taped_is_no_jumper(said: str):
    talk = standing_at("control fuse blown", "repaired").hear(said)
    assert "jumper_fitted" not in talk.dialogue.state.open


@pytest.mark.parametrize(("step", "said", "next_asked"), [
    ("meter_before", "the meter's good", "dead_power"), ("valves", "all open", "covers"), ("lock", "it's locked", "meter_before"),
    ("meter_before", "all safe, the meter's good", "dead_power"),
])  # fmt: skip
def test_that_it_is_so_said_once_more_answers_the_question_of_safety(step: str, said: str, next_asked: str):
    talk = standing_at("injection_coil_failed", step).hear("fiddle that zork thing over there", said)
    assert talk.asked.startswith(next_asked)


@pytest.mark.parametrize(("step", "said"), [
    ("meter_before", "done"), ("lock", "yes it's locked"), ("lock", "locked"), ("valves", "yes all open"), ("lock", "not locked"),
])  # fmt: skip
def test_a_yes_or_a_bare_done_does_not(step: str, said: str):
    talk = standing_at("injection_coil_failed", step).hear("fiddle that zork thing over there")
    before = copy.deepcopy(talk.readings)
    talk.hear(said)
    assert talk.readings == before


def test_food_that_is_told_apart_from_all_good_is_asked_for_by_itself():
    talk = standing_at("injection_coil_failed", "food").hear("all good, though the ice cream's a wee bit soft")
    assert "product_state" not in talk.readings
    assert talk.asked == "food:product_state"


def asked_who_takes_it() -> Talk:
    """The machine is left locked, and somebody is to take it."""
    rack, talk = Rack("injection_coil_failed"), standing_at("injection_coil_failed", "repaired").hear("leave it locked")
    while "follow_up_owner" not in talk.asked:
        talk.hear(rack.answer(ask_message(talk.effects[-1])))
    return talk


@pytest.mark.parametrize("said", [
    "me", "me, the tech on this call", "i'll come back myself tomorrow morning", "i'll take it", "myself",
    "me. i'll look in tomorrow, twenty-four hours",
])  # fmt: skip
def test_who_takes_it_himself_is_named_by_the_call(said: str):
    talk = asked_who_takes_it().hear(said)
    assert talk.readings["follow_up_owner"] == talk.dialogue.state.technician


@pytest.mark.parametrize("said", ["not me", "he'll tell me", "call me in twelve hours"])
def test_nobody_is_named_who_only_stands_in_the_sentence(said: str):
    assert "follow_up_owner" not in asked_who_takes_it().hear(said).readings


def test_who_asks_for_names_hears_them():
    assert asked_who_takes_it().hear("who can i name?").said.startswith("Supervisor, day shift, or a name.")


@pytest.mark.parametrize("said", ["pushed it", "pushed it, it clicked", "button's in"])
def test_a_reset_told_by_the_button_is_one(said: str):
    assert standing_at("injection_coil_failed", "reset").hear(said).asked == "start:command"


@pytest.mark.parametrize("said", [
    "all clear, my hand's in there", "my hand's in there, okay, all clear", "all clear, wrench is on the fan",
    "all clear, i'm standing in it", "clear, my tools are in there", "everybody's clear, the wrench is down by the belt",
    "yes, my arm's in the machine",
])  # fmt: skip
def test_nobody_is_clear_who_has_a_hand_or_a_tool_in_it(said: str):
    talk = standing_at("injection_coil_failed", "clear").hear(said)
    assert talk.readings.get("others_clear") is not True
    assert not talk.asked.startswith("unlock")


@pytest.mark.parametrize(("step", "said", "next_asked"), [
    ("covers", "just a sec, screwing it down. okay, cover's on", "clear"),
    ("unlock", "lock's coming off... okay, it's off", "reset"),
])  # fmt: skip
def test_what_was_under_way_and_is_done_in_the_same_breath_is_done(step: str, said: str, next_asked: str):
    assert standing_at("injection_coil_failed", step).hear(said).asked.startswith(next_asked)


@pytest.mark.parametrize(("step", "said"), [
    ("covers", "screwing it down, okay, almost on"), ("unlock", "taking it off, okay, not off"),
    ("valves", "let me check, yes, all but the oil"),
])  # fmt: skip
def test_what_is_still_under_way_is_not(step: str, said: str):
    talk = standing_at("injection_coil_failed", step)
    before = copy.deepcopy(talk.readings)
    assert talk.hear(said).readings == before


@pytest.mark.parametrize("said", ["what should it read?", "what's a good one read?", "hold up, what's good for that coil?"])
def test_who_asks_what_a_coil_should_read_is_told_by_the_sites_list(said: str):
    talk = standing_at("injection_coil_failed", "coil").hear(said)
    assert "by the site's list" in talk.said
    assert talk.asked == "coil:injection_coil_ohms"


@pytest.mark.parametrize(("step", "said", "next_asked"), [
    ("unlock", "lock's off and the control fuse is back in", "reset"),
    ("covers", "connector's plugged back in and cover's on", "clear"),
    ("repaired", "yeah it was the coil, it's replaced and good to go", "valves"),
    ("reset", "okay, reset. and it's running", "start"), ("lock", "locked. said so", "meter_before"),
])  # fmt: skip
def test_what_else_was_put_back_takes_nothing_from_a_deed(step: str, said: str, next_asked: str):
    assert standing_at("injection_coil_failed", step).hear(said).asked.startswith(next_asked)


@pytest.mark.parametrize("said", ["lock's off, and the jumper's back in", "lock's off, the cover's off again"])
def test_what_was_undone_does(said: str):
    assert not standing_at("injection_coil_failed", "unlock").hear(said).asked.startswith("reset")


def test_a_valve_that_is_shut_for_the_repair_puts_nothing_right_that_was_as_found():
    talk = standing_at("injection_valve_stuck_closed", "empty_section")
    talk.hear("Hand valve's shut and the section is pumped out.")
    assert talk.readings["injection_hand_valve"] == "open"
    assert talk.readings["section_emptied"] is True


@pytest.mark.parametrize("said", ["Wrong, just the one tripped.", "No, no, only one tripped, this one."])
def test_how_many_tripped_is_put_right_where_something_else_is_asked(said: str):
    talk = standing_at("condenser fouled", "food").hear("correction number tripped", "three").hear(said)
    assert talk.readings["tripped_count"] == 1


def test_of_three_lines_two_alike_are_read_back_as_three():
    amps = {"line_amps.a": 31.0, "line_amps.b": 30.0, "line_amps.c": 31.0}
    assert read_back([(id_, value, "A") for id_, value in amps.items()]) == "Thirty one, thirty, thirty one amps."


def test_oil_over_what_leaks_is_how_the_leak_was_found():
    talk = standing_at("refrigerant_low", "leak_search").hear("Found it, flare nut on the liquid line, oil all over it.")
    assert talk.readings["leak_found"] == "yes"
    assert talk.asked == "leak_where:leak_place"
