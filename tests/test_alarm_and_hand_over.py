"""What an alarm leaves behind, and in which order a machine goes to somebody else: nothing is said to be locked off that has
power, no call closes on a machine over its trip, and the lock goes last."""

import pytest

from assistant.call.effects import Ended
from tests.simulated import Rack
from tests.talk import Talk

ALARM = "the detector's going off"


def at(fault: str, step: str) -> tuple[Rack, Talk]:
    rack = Rack(fault)
    return rack, Talk().until(rack, step)


def ended(talk: Talk) -> str:
    last = talk.effects[-1]
    return last.state if isinstance(last, Ended) else ""


@pytest.mark.parametrize("said", [ALARM, "i smell refrigerant", "the detector's dead", "my oxygen meter reads eighteen percent"])
def test_an_alarm_with_control_power_on_takes_it_off_and_leaves_nothing_as_locked_off(said: str):
    _, talk = at("module_no_output", "feed")
    talk.hear(said)
    assert talk.said.startswith("Power off. | Stay out.")
    assert ended(talk) == "interrupted"
    assert not talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_no_call_closes_on_a_machine_over_its_trip_because_nobody_may_go_in():
    _, talk = at("injection_coil_failed", "watch_first")
    talk.hear("ten two sixty", ALARM)
    assert ended(talk) == "interrupted"
    assert not talk.dialogue.state.sealed


def test_a_word_alone_lets_nobody_in_again_after_an_alarm():
    rack, talk = at("injection_coil_failed", "coil")
    talk.hear(ALARM, "correction detector", "quiet")
    assert talk.asked == "anew_room_safe:room_safe"
    talk.hear("yes").until(rack, "meter_before").until(rack, "coil")
    assert talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


def test_the_lock_goes_to_another_only_when_nothing_is_left_that_he_may_not_take_over():
    rack, talk = at("injection_coil_failed", "coil")
    talk.hear("finish job", "yes").to_the_seal(rack)
    cleared = [type(fact).__name__ for _, fact in talk.facts if getattr(fact, "id", "") in ("wire_lifted", "locked_out")]
    assert cleared.index("ObligationHandedOver") > len(cleared) - 1 - cleared[::-1].index("ObligationCleared")


def test_a_liquid_section_is_emptied_before_the_lock_is_handed_over():
    rack, talk = at("injection_valve_stuck_closed", "empty_section")
    talk.hear("finish job", "yes").until(rack, "leave_locked")
    assert "liquid_section_closed" not in talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["the ventilation fan just stopped", "exhaust fan quit"])
def test_without_the_room_s_fan_nobody_goes_on_before_it_runs(said: str):
    rack, talk = at("injection_coil_failed", "coil")
    talk.hear(said)
    assert "No fan, no entry." in talk.said
    assert talk.asked == "anew_room_safe:room_safe"
    assert talk.hear("yes").asked.startswith("tag")
    assert talk.to_the_seal(rack).broken() == ()


def test_reset_and_not_started_the_store_hears_that_it_was():
    rack, talk = at("injection_coil_failed", "start")
    talk.hear("finish job", "yes").until(rack, "tell_store")
    assert "this machine was reset and not started" in talk.said


def test_a_machine_that_must_not_start_after_all_is_locked_again():
    rack, talk = at("module_output_fuse", "start")
    talk.hear("correction coil resistance", "thirty").until(rack, "tag").until(rack, "repaired")
    talk.hear("leave it locked").to_the_seal(rack)
    assert talk.dialogue.state.started_at is None
    assert "locked_out" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_a_coil_that_was_misread_is_mended_and_its_new_one_read_before_its_fuse_goes_in():
    rack, talk = at("module_output_fuse", "start")
    talk.hear("correction coil resistance", "thirty").until(rack, "repaired").hear("repaired")
    assert talk.asked.startswith("new_injection_coil:")
    assert talk.hear("thirty").to_the_seal(rack).dialogue.state.started_at is None
    assert talk.broken() == ()


@pytest.mark.parametrize("step", ["valves", "unlock"])
def test_a_cause_proven_by_a_correction_is_repaired_or_left_before_the_start(step: str):
    rack, talk = at("none", step)
    talk.hear("correction output fuse", "blown").until(rack, "repaired")
    assert talk.dialogue.state.lock.dead
    assert talk.until(rack, "covers").to_the_seal(rack).broken() == ()


def test_a_consent_that_comes_hours_later_is_asked_for_again():
    rack, talk = at("injection_coil_failed", "consent")
    talk.hear("close it", after_s=8 * 3600)
    assert talk.asked == "watch_last:watch.suction_pressure"  # nobody watched it: a round is read first
    talk.until(rack, "consent")
    assert talk.asked == "consent:close_consent"
    assert "Running and settled." in talk.said
    assert talk.hear("close it").dialogue.state.sealed
