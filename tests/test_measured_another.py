"""What was measured or done at another thing or another machine: the proof that rested on it falls, and it is looked at anew."""

import pytest

from tests.simulated import Rack
from tests.talk import Talk

COIL = "injection_coil_failed"


def at(step: str, fault: str = COIL) -> tuple[Rack, Talk]:
    rack = Rack(fault)
    return rack, Talk().until(rack, step)


@pytest.mark.parametrize("said", [
    "i measured the wrong coil", "i might have measured the wrong coil", "i had the meter on the wrong coil",
])  # fmt: skip
@pytest.mark.parametrize("step", ["repaired", "valves", "start"])
def test_a_coil_that_was_another_one_is_proven_no_more_and_measured_again_under_the_lock_before_any_start(said: str, step: str):
    rack, talk = at(step)
    talk.hear(said)
    assert "Injection coil failed. Proven no more." in talk.said
    assert not talk.asked.startswith("start")
    talk.until(rack, "coil")
    assert talk.dialogue.state.lock.dead


@pytest.mark.parametrize("step", ["watch_first", "consent"])
def test_a_machine_that_runs_on_a_coil_that_was_another_one_is_closed_with_no_cause(step: str):
    rack, talk = at(step)
    talk.hear("i measured the wrong coil")
    assert "Proven no more." in talk.said
    talk.to_the_seal(rack)
    assert "No cause found." in talk.spoken[-2]
    assert "left running, cause of the trip not found" in talk.spoken[-2]


def test_a_contact_that_was_another_one_is_looked_for_again():
    rack, talk = at("start")
    talk.hear("i measured the wrong contact").until(rack, "which_contact")
    assert talk.dialogue.state.contacts == []
    assert talk.dialogue.state.lock.dead


def test_with_the_wrong_wire_nothing_is_proven_dead():
    _, talk = at("valves")
    talk.hear("i measured the wrong wire")
    assert not talk.dialogue.state.lock.dead
    assert talk.asked == "tag:panel_tag"


@pytest.mark.parametrize("said", [
    "i measured the wrong machine", "that was the neighbor's coil", "i did it all on the wrong machine", "i'm in the wrong panel",
])  # fmt: skip
def test_what_was_done_at_another_machine_is_none_of_this_ones_and_its_tag_is_read_next(said: str):
    _, talk = at("repaired")
    talk.hear(said)
    assert "injection_coil_ohms" not in talk.readings
    assert (talk.asked, talk.dialogue.state.lock.locked) == ("tag:panel_tag", False)


def test_which_machine_it_was_its_tag_tells_and_what_hangs_there_comes_out_there():
    _, talk = at("jumper_out", "module_no_output")
    talk.hear("i'm in the wrong panel", "a one")
    assert "That is another machine's tag. Still hooked up: jumper, meter leads, start block, panel cover off." in talk.said
    talk.hear("a one", "locked", "good", "zero", "zero", "good")
    assert talk.asked == "jumper_out:jumper_removed"
    assert not talk.broken()


def test_after_an_interruption_the_tag_is_still_read_first():
    rack, talk = at("valves")
    talk.hear("i measured the wrong machine").kill(600).until(rack, "tag")
    assert "service_valves_open" not in talk.readings


def test_in_the_live_window_the_wrong_machine_ends_it():
    _, talk = at("feed", "module_no_output")
    talk.hear("that's the wrong machine")
    assert talk.said.startswith("Power off.")
    assert talk.asked.startswith("power_off")


@pytest.mark.parametrize("step", ["valves", "start"])
def test_a_reading_put_right_after_the_repair_has_the_search_go_on_before_any_start(step: str):
    rack, talk = at(step)
    talk.hear("correction coil ohms", "four ten")
    assert "Injection coil failed. Proven no more." in talk.said
    talk.until(rack, "block_start")
    assert (talk.asked, talk.dialogue.state.choice) == ("block_start:start_prevented", "")
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "that coil reading's no good", "strike the coil reading", "forget what i said about the coil", "the coil reading is wrong",
    "scratch that, the coil i measured was the starter's", "i had the meter on volts when i did the coil",
    "the coil reading was with the wire still on",
])  # fmt: skip
@pytest.mark.parametrize("step", ["repaired", "start"])
def test_a_reading_that_is_taken_back_without_a_new_one_condemns_nothing(step: str, said: str):
    rack, talk = at(step)
    talk.hear(said)
    assert "Injection coil failed. Proven no more." in talk.said
    assert "injection_coil_ohms" not in talk.readings
    talk.until(rack, "coil")
    assert talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["the probe was fine, it was my meter", "the probe reading's wrong, my lead was off"])
def test_a_meter_that_was_not_sound_proved_nothing_dead_either(said: str):
    rack, talk = at("repaired", "probe_failed")
    talk.hear(said)
    assert "A sound meter first." in talk.said
    assert "probe_ohms" not in talk.readings
    assert not talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["the coil is bad", "the coil's good now", "that coil was no good", "coil reads four ten"])
def test_what_is_told_of_the_part_takes_no_reading_back(said: str):
    _, talk = at("repaired")
    talk.hear(said)
    assert "injection_coil_ohms" in talk.readings
