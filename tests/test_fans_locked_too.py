"""Hands go near a fan only behind a lock of its own: the machine's lock does not hold a fan that its control starts (S2, S31)."""

from dataclasses import replace

import pytest

from tests.branch_rack import BranchRack
from tests.call.test_taken_up_again import NOBODY_YET, TWO
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_said_not_safe import site_of, standing_at

FANS = [("condenser fouled", "condenser_fouled"), ("condenser fan", "condenser_fan_failed")]


def rack_of(fault: str) -> Rack:
    return BranchRack(fault)


@pytest.mark.parametrize(("fault", "cause"), FANS)
def test_the_fans_are_locked_before_the_repair_and_unlocked_before_the_start(fault: str, cause: str):
    talk, rack = Talk(site_of(fault)), rack_of(fault)
    talk.until(rack, "lock_fans")
    assert "Fans start by themselves" in " ".join(talk.spoken)
    talk.until(rack, "repaired")
    assert "fan_lock" in talk.open
    talk.until(rack, "start")
    assert "fan_lock" not in talk.open
    assert talk.dialogue.state.conclusions[cause].standing == "proven"
    assert talk.to_the_seal(rack).broken() == ()


def test_a_head_fan_that_is_broken_too():
    rack = Rack("injection_coil_failed", {"head_fan_running": "no"})
    talk = Talk().until(rack, "machine_look").hear("all good but the head fan is not running", "it's broken")
    talk.until(rack, "lock_fans").until(rack, "repaired").until(rack, "fans_back").until(rack, "start")
    assert "fan_lock" in talk.dialogue.state.cleared
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "he locked it", "the breaker is off", "the fans are off", "locked but not proved", "it's off but i have no lock",
    "i'll lock it",
    "the fan motor's dead", "i pulled the fuse", "locked, it still shows one twenty", "they stopped",
    "locked the wrong one", "one of the two is locked", "it was locked", "somebody else's lock is on it",
])  # fmt: skip
def test_what_is_no_lock_on_the_fans_of_his_own(said: str):
    talk = standing_at("condenser fouled", "lock_fans").hear(said)
    assert "fans_locked" not in talk.readings
    assert "fan_lock" in talk.open


@pytest.mark.parametrize("said", [
    "he unlocked it", "my mate took it off", "it's still locked", "the guard's off", "not yet", "i'll unlock it",
])  # fmt: skip
def test_what_does_not_take_it_off(said: str):
    talk = standing_at("condenser fouled", "fans_back").hear(said)
    assert "fan_lock" in talk.open
    assert talk.asked.startswith(("fans_back", "covers", "on hold"))


def test_left_locked_the_lock_on_the_fans_is_named_and_left_with_its_owner():
    talk = standing_at("condenser fouled", "repaired").hear("leave it locked").to_the_seal(rack_of("condenser fouled"))
    assert talk.dialogue.state.handed_over.keys() == {"locked_out", "fan_lock"}
    assert "your lock on the fans, supervisor" in " ".join(talk.spoken)
    assert talk.broken() == ()


def test_left_before_the_fans_were_locked_no_lock_is_left_to_anybody():
    talk = standing_at("condenser fouled", "lock_fans").hear("leave it locked", "yes")
    talk.to_the_seal(rack_of("condenser fouled"))
    assert "fan_lock" in talk.dialogue.state.cleared
    assert "lock on the fans" not in " ".join(talk.spoken)
    assert talk.broken() == ()


def test_who_takes_the_call_over_hangs_his_own_lock_on_the_fans():
    rack = rack_of("condenser fouled")
    rack.words |= {"technician": "robin"}
    site = replace(site_of("condenser fouled"), technicians=TWO)
    talk = Talk(site, opened=NOBODY_YET).until(rack, "repaired").kill(after_s=3600).hear("kim", "it's gone")
    assert "fan_lock" in talk.dialogue.state.cleared
    rack.words |= {"lock_still_on": "no"}
    talk.until(rack, "lock_fans").until(rack, "repaired")
    assert talk.dialogue.state.open["fan_lock"].who == "kim"
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("step", ["isolate", "recover", "at_zero"])
@pytest.mark.parametrize("said", [
    "leave it locked", "no recovery machine with me, i'll leave it locked till tomorrow", "nah keep it locked out for now",
    "i can't close the oil valve, so i'm gonna leave it locked",
])  # fmt: skip
def test_a_machine_may_be_left_locked_wherever_the_repair_stands(step: str, said: str):
    talk = standing_at("suction filter", step).hear(said)
    assert talk.said.endswith("Make safe and close the call?")
    talk.hear("yes").to_the_seal(rack_of("suction filter"))
    assert "locked_out" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


@pytest.mark.parametrize("said", [
    "i won't leave it locked", "i never leave it locked", "he said leave it locked", "should i leave it locked?",
])  # fmt: skip
def test_what_leaves_nothing_locked(said: str):
    assert "Make safe" not in standing_at("suction filter", "isolate").hear(said).said
