"""A valve that is held open by hand feeds nothing that proves anything; a lock off before its caution; power off while people
come first."""

import pytest

from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def at(step: str, fault: str = "module_no_output") -> tuple[Rack, Talk]:
    rack = Rack(fault)
    return rack, Talk().until(rack, step)


@pytest.mark.parametrize("said", [
    "feeding, the magnet's on it", "feeding two oh eight click, i held the valve open with a magnet",
    "i'm holding it open with a magnet", "feeding with the magnet on",
])  # fmt: skip
def test_a_valve_that_a_magnet_holds_open_is_no_feed_and_the_power_goes_off(said: str):
    _, talk = at("feed")
    talk.hear(said)
    assert talk.said.startswith("Power off.")
    assert talk.asked.startswith("power_off")
    assert "injection_feed" not in talk.readings
    assert "liquid_in_compressor" in talk.open


def test_the_magnet_comes_off_after_the_jumper():
    rack, talk = at("feed")
    talk.hear("i'm holding it open with a magnet").until(rack, "jumper_out").until(rack, "bypass_out")
    assert talk.asked == "bypass_out:jumper_removed"


@pytest.mark.parametrize("said", ["the solenoid's held open with a magnet", "somebody put a magnet on the injection valve"])
def test_a_machine_that_stood_under_a_valve_held_open_has_liquid_in_it(said: str):
    _, talk = at("machine_look")
    talk.hear(said)
    assert {"liquid_in_compressor", "jumper_fitted"} <= talk.open


@pytest.mark.parametrize("said", ["feeding full, i've got the magnet on it", "feeding with the magnet on"])
def test_a_running_machine_is_not_settled_on_a_feed_by_magnet(said: str):
    rack, talk = at("watch_injection", "injection_coil_failed")
    talk.hear(said)
    assert "injection_feed" not in talk.readings
    assert talk.asked == "stop_now:command"
    assert "Running and settled" not in talk.to_the_seal(rack).spoken[-2]


def test_a_reset_magnet_that_is_gone_is_the_reset_alone():
    _, talk = at("machine_look")
    talk.hear("magnet's gone, the rest is good")
    assert talk.readings["reset_device"] == "missing"
    assert not talk.open


@pytest.mark.parametrize("said", ["lock off", "the lock is off", "lock's off"])
def test_a_lock_off_before_the_caution_is_acknowledged_goes_on_to_nothing(said: str):
    _, talk = at("clear", "injection_coil_failed")
    talk.hear("all clear")
    assert talk.asked == "unlock/restart:command"
    talk.hear(said)
    assert (talk.said, talk.asked) == ("The caution first. Say understood.", "unlock/restart:command")
    assert not talk.dialogue.state.lock.dead
    talk.hear("understood", "lock off")
    assert talk.readings["lock_removed"] is True


@pytest.mark.parametrize("first", ["i feel dizzy", "emergency"])
@pytest.mark.parametrize("said", ["power off", "power's off", "power off and locked"])
def test_power_off_said_while_people_come_first_is_taken(first: str, said: str):
    _, talk = at("feed")
    talk.hear(first, said)
    assert talk.readings["control_power_off"] is True
    assert not talk.dialogue.state.feed.window
    assert not talk.broken()


def test_a_bare_done_there_is_no_power_off():
    _, talk = at("feed")
    talk.hear("i feel dizzy", "done")
    assert talk.dialogue.state.feed.window


@pytest.mark.parametrize("said", ["click, i tapped it", "it clicked when i hit it with a wrench"])
def test_a_click_that_was_knocked_out_of_the_valve_is_none(said: str):
    _, talk = at("feed")
    talk.hear(said)
    assert talk.said.startswith("Power off.")
    assert "valve_click" not in talk.readings


@pytest.mark.parametrize("said", ["it holds, i'm holding the button in", "it holds while i hold the button in"])
def test_a_control_that_holds_under_a_thumb_does_not_hold(said: str):
    rack = BranchRack("low cutout will not hold")
    talk = Talk(site_of("low cutout will not hold")).until(rack, "pressure_reset").hear(said)
    assert "control_reset" not in talk.readings
    assert "jumper_fitted" in talk.open
