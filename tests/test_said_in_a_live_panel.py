"""What a technician says with power on: probes in a panel that is live as found, the seconds of a feed test, the moment before
power. Whatever moves a hand, sends him away or is not as it was asked ends it, and nothing of it is taken for a reading."""

from dataclasses import replace

import pytest

from assistant.call.effects import Listen
from assistant.call.facts import CautionAcknowledged, NoteTaken, StepDone
from assistant.profile import load_profile
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk

ALIKE = ("oil_pressure", "high_pressure", "low_pressure", "motor_protection")
FULL = dict.fromkeys(("control_volts", "contactor_coil_volts", "safety_volts.discharge_temperature"), "two oh eight")
LIVE_ROUTE = {"live_or_dead": "live", **FULL, **{f"safety_volts.{one}": "zero" for one in ALIKE}}


def probing(step: str = "live_high", check_in_minutes: float = 0) -> tuple[Rack, Talk]:
    """Hand-held probes in a panel that is live as it was found."""
    rack = Rack("module_no_output", dict(LIVE_ROUTE))
    return rack, Talk(replace(load_profile(), check_in_minutes=check_in_minutes)).until(rack, step)


def feeding(step: str = "feed") -> tuple[Rack, Talk]:
    rack = Rack("module_no_output")
    return rack, Talk().until(rack, step)


@pytest.mark.parametrize("said", [
    "it arced", "there was a flash", "my glove's torn", "i'm standing in water", "i'm on a metal ladder", "it's raining",
    "i need to move the lead", "i dropped a screw in there", "somebody's talking to me", "power off", "kill it", "stop",
    "it just started", "it's running", "a breaker popped", "i shorted something", "i touched two terminals", "the power went out",
    "there's fifty volts on my glove", "i bumped terminal four", "dropped a number ten screw in there",
    "there are two of us in here", "two oh eight then a bang",
])  # fmt: skip
def test_out_of_a_panel_that_is_live_as_found_and_not_back_in(said: str):
    _, talk = probing()
    talk.hear(said)
    assert talk.asked.startswith("tag")
    assert NoteTaken(said) in [fact for _, fact in talk.facts]
    assert "safety_volts.high_pressure" not in talk.readings


def test_what_was_still_to_be_read_live_is_read_dead():
    rack, talk = probing()
    talk.hear("it arced").to_the_seal(rack)
    assert "safety_volts.low_pressure" not in talk.readings
    assert "chain_dead_check" in talk.readings
    assert talk.broken() == ()


def test_what_is_not_understood_there_and_is_not_safe_ends_it():
    _, talk = probing()
    assert talk.hear("my leads aren't fused", "yes").asked.startswith("tag")


def test_who_left_a_live_panel_is_asked_for_label_and_ladder_anew_before_the_feed_test():
    rack, talk = probing()
    talk.hear("my glove's torn").until(rack, "clothing").until(rack, "power_on")


@pytest.mark.parametrize("said", ["i'll do it dead", "i want to do it dead", "let's check it dead"])
def test_who_would_rather_measure_dead_has_read_no_volts(said: str):
    _, talk = probing()
    talk.hear(said)
    assert "safety_volts.high_pressure" not in talk.readings
    assert talk.dialogue.state.value("live_or_dead") == "dead"
    assert talk.asked.startswith("tag")


def test_the_live_caution_of_the_panel_as_found_does_not_stand_for_the_feed_test():
    rack, talk = probing("live_discharge")
    talk.until(rack, "feed")
    live = [fact.caution for _, fact in talk.facts if isinstance(fact, CautionAcknowledged) and fact.caution == "live"]
    assert len(live) == 2


def test_nobody_is_called_for_a_sign_with_probes_in_a_live_panel():
    _, talk = probing(check_in_minutes=5)
    listens = talk.effects[-1]
    assert isinstance(listens, Listen)
    assert listens.quiet
    assert "Check-in" not in talk.wait(400).said


@pytest.mark.parametrize("said", [
    "i need to move the lead", "i dropped a screw in there", "my buddy just walked in", "i have to take this call",
    "be right back", "gotta step away", "the jumper fell out", "somebody unplugged it", "a breaker popped", "it went bang",
    "stop", "i took off my glove", "the start isn't blocked", "i forgot to block the start", "the lock's off", "both hands",
])  # fmt: skip
def test_in_the_seconds_of_the_feed_it_is_power_off(said: str):
    _, talk = feeding()
    assert talk.hear(said).asked == "power_off:control_power_off"


@pytest.mark.parametrize("said", ["the lock's off", "the start isn't blocked"])
def test_what_let_power_on_and_is_not_so_is_made_so_before_anything_else(said: str):
    rack, talk = feeding()
    assert talk.hear(said).to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["the contactor pulled in", "starter pulled in"])
def test_a_starter_that_pulls_in_is_no_click_of_the_valve(said: str):
    _, talk = feeding()
    assert talk.hear(said).asked == "power_off:control_power_off"
    assert "valve_click" not in talk.readings


def test_a_starter_that_pulls_in_where_it_is_to_pull_in_is_an_answer():
    rack = BranchRack("starter jammed")
    talk = Talk().until(rack, "window_pull").hear("it pulls in")
    assert any(isinstance(fact, StepDone) and "starter_pulls_in" in fact.establishes for _, fact in talk.facts)


@pytest.mark.parametrize("said", ["feeding", "let me take a look", "dry, two oh eight, click"])
def test_looking_and_answering_ends_no_window(said: str):
    _, talk = feeding()
    talk.hear(said)
    assert "Power off. |" not in talk.said


@pytest.mark.parametrize("said", [
    "the start isn't blocked", "i forgot to block the start", "forgot the start block", "the block fell off",
])  # fmt: skip
def test_no_power_on_a_start_that_is_not_blocked(said: str):
    rack, talk = feeding("power_on")
    talk.hear(said)
    assert "Start blocked first." in talk.said
    assert not talk.dialogue.state.feed.blocked
    talk.until(rack, "block_start")
    assert talk.dialogue.state.lock.dead
    talk.until(rack, "power_on")
    assert talk.broken() == ()


@pytest.mark.parametrize("said", ["it was on the wrong terminals", "my glove's torn", "it's running"])
def test_what_is_not_so_before_power_comes_on_is_made_ready_again(said: str):
    rack, talk = feeding("power_on")
    talk.hear(said).until(rack, "block_start").until(rack, "fit_jumper").until(rack, "clip_leads")
    assert talk.until(rack, "power_on").broken() == ()


def test_a_switch_that_is_on_again_may_be_the_start_block_and_is_no_power_on():
    _, talk = feeding("power_on")
    assert not talk.hear("the switch is back on").dialogue.state.feed.window


@pytest.mark.parametrize("said", ["it's running", "the compressor started", "it just kicked on", "it's humming"])
def test_a_machine_that_runs_with_hands_in_is_another_than_the_locked_one(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "coil").hear(said)
    assert "Stop. It runs with your lock on" in talk.said
    assert not talk.dialogue.state.lock.locked
    assert talk.until(rack, "coil").broken() == ()


@pytest.mark.parametrize("said", ["i'm in the wrong panel", "wrong panel", "it's the wrong compressor", "this isn't my panel"])
def test_hands_in_another_machine_s_panel_come_out_and_its_own_is_found(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "coil").hear(said)
    assert "Hands out. The lock first." in talk.said
    assert not talk.dialogue.state.lock.dead
    assert talk.until(rack, "coil").broken() == ()
