"""What is strapped on and taken off again, and oil that is not right after the work on it."""

from dataclasses import replace

import pytest

from assistant.profile import load_profile
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def out_of_sight() -> Talk:
    site = load_profile()
    a = site.racks[0]
    return Talk(replace(site, racks=(replace(a, injection=replace(a.injection, line_in_sight=False)), *site.racks[1:])))


def test_a_line_out_of_sight_is_read_at_the_panel_and_nobody_looks_at_two_places():
    rack = Rack("module_no_output")
    talk = out_of_sight().until(rack, "strap_thermocouple")
    assert talk.dialogue.state.lock.dead
    talk.until(rack, "feed")
    assert "clamp_left_on" in talk.open
    assert talk.to_the_seal(rack).broken() == ()
    assert "clamp_left_on" in talk.dialogue.state.cleared


def test_a_line_that_nobody_can_see_is_not_fed():
    talk = out_of_sight().until(Rack("module_no_output"), "strap_thermocouple").hear("skip this", "yes")
    assert talk.asked == "jumper_out:jumper_removed"


@pytest.mark.parametrize("step", ["coil", "valves", "start"])
def test_a_clamp_that_is_still_on_comes_off_dead_before_the_start(step: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, step).hear("the clamp's still on").until(rack, "clamp_off")
    assert talk.dialogue.state.lock.dead
    assert talk.until(rack, "start").broken() == ()
    assert "clamp_left_on" not in talk.open


def test_a_running_machine_with_a_clamp_on_is_stopped_and_the_call_comes_to_its_seal():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "consent").hear("the clamp's still on")
    assert talk.asked.startswith("stop_now")
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("fault", "said"), [("oil low", "high"), ("oil low", "foaming"), ("oil overfilled", "high")])
def test_oil_that_is_not_right_after_the_work_is_looked_at_once_more_and_starts_nothing(fault: str, said: str):
    rack = BranchRack(fault)
    talk = Talk(site_of(fault)).until(rack, "oil_glass_after").hear(said)
    assert "No start on this oil." in talk.said
    assert talk.asked.startswith("oil_glass_after")
    rack.words["oil_level"] = said
    talk.hear(said).to_the_seal(rack)
    assert talk.dialogue.state.started_at is None


def test_oil_that_was_drained_to_its_level_is_started_on():
    rack = BranchRack("oil low")
    talk = Talk(site_of("oil low")).until(rack, "oil_glass_after").hear("high", "normal")
    talk.until(rack, "start")
    assert talk.broken() == ()


def test_danger_that_is_told_on_hold_is_not_left_in_silence():
    talk = Talk().until(Rack("injection_coil_failed"), "coil").hear("hold on")
    assert "If it is an emergency, say emergency." in talk.hear("sparks came out of the other cabinet over there").said
    assert talk.hear("the truck is late today").said == "Holding. Say continue."
    assert "Is something not safe?" in talk.hear("continue").said


@pytest.mark.parametrize("fault", ["probe_fouled", "probe_failed", "probe_wiring_faulty"])
def test_a_probe_that_was_unplugged_is_plugged_in_again_before_anything_else_is_done_in_the_panel(fault: str):
    rack = Rack(fault)
    talk = Talk().until(rack, "probe_plugged_in")
    assert "wire_lifted" in talk.dialogue.state.open
    talk.hear("done")
    assert "wire_lifted" not in talk.dialogue.state.open
    assert talk.to_the_seal(rack).broken() == ()


def test_who_ends_the_job_with_the_probe_unplugged_is_asked_for_it_first():
    rack = Rack("probe_failed")
    talk = Talk().until(rack, "probe_plugged_in").hear("finish job", "yes")
    assert talk.asked.startswith("probe_plugged_in")
