"""What is said or put right of a machine that was opened, locked again, is just to start or runs: it stops, stays locked or is
made ready anew. The project's own calls."""

import pytest

from assistant.call.facts import ValueDerived
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk

HIGH = "none at the high pressure"


@pytest.mark.parametrize(("step", "said"), [
    ("run_head", "four hundred"), ("watch_last", "ten two ten three sixty twenty three"),
    ("consent", "correction discharge pressure three sixty"), ("run_head", "bouncing three forty to three sixty"),
])  # fmt: skip
def test_a_head_over_the_cutout_that_was_read_on_this_call_stops_it(step: str, said: str):
    """S24: its trip is where its control is set, whoever read that: the profile has no setting here."""
    rack = BranchRack(HIGH)
    talk = Talk().until(rack, step).hear(said)
    assert talk.asked == "stop_now:command", talk.said
    assert talk.to_the_seal(rack).broken() == ()


def test_a_head_under_the_cutout_runs_on():
    rack = BranchRack(HIGH)
    assert Talk().until(rack, "run_head").hear("three hundred").asked != "stop_now:command"


@pytest.mark.parametrize("said", ["it tripped on oil again", "it tripped on high pressure", "it went off on oil"])
@pytest.mark.parametrize("rack", [BranchRack("none at the oil"), Rack("none")])
def test_a_trip_that_is_said_at_the_start_is_the_second_one_whatever_protection_it_names(rack: Rack, said: str):
    """S22: a second trip: stop, lock, leave off."""
    talk = Talk().until(rack, "start").hear(said)
    assert "No second try" in talk.said
    talk.to_the_seal(rack)
    assert "locked_out" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


@pytest.mark.parametrize(("words", "back_at"), [
    (("the lock is off",), "high_standing_offer"), (("somebody switched the others back on", "yes"), "high_standing_offer"),
])  # fmt: skip
def test_a_standing_test_begins_anew_when_the_rack_may_stand_no_more(words: tuple[str, ...], back_at: str):
    """S33: only with all compressors of the rack off and locked."""
    rack = BranchRack("air in the system")
    talk = Talk().until(rack, "high_standing").hear(*words)
    assert talk.asked.startswith(back_at)
    assert talk.until(rack, "high_standing").to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("phase monitor", "watch_second", "correction line one to two four hundred"),
    ("phase monitor", "consent", "correction line one to two four hundred"),
    ("none at the motor", "watch_second", "correction winding three to one four ten"),
    ("none at the motor", "consent", "correction winding three to one four ten"),
])  # fmt: skip
def test_a_machine_that_must_not_run_by_a_reading_put_right_is_stopped_and_locked(fault: str, step: str, said: str):
    """S41: settled is barred while a reading on record speaks against it; what says "leave it off" does not run on."""
    rack = BranchRack(fault)
    talk = Talk().until(rack, step).hear(said)
    assert talk.asked == "stop_now:command", talk.said
    talk.to_the_seal(rack)
    assert "locked_out" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_before_a_second_lock_comes_off_valves_covers_and_people_are_asked_again():
    """S21, where nothing of the second lock-out needed a dead panel."""
    rack = BranchRack("none at the oil")
    talk = Talk().until(rack, "start").hear("correction oil level low").until(rack, "valves")
    talk.until(rack, "covers").until(rack, "clear").until(rack, "unlock")
    assert talk.to_the_seal(rack).broken() == ()


def test_a_leak_that_is_none_leaves_its_section_to_be_emptied_and_charges_nothing_meanwhile():
    """S32: no path leaves liquid between two closed valves."""
    rack = BranchRack("charge low")
    talk = Talk().until(rack, "leak_section").hear("correction leak found no").to_the_seal(rack)
    charged = any(getattr(fact, "step", "") == "charge" for _, fact in talk.facts)
    assert not charged
    assert talk.broken() == ()
    assert "liquid_section_closed" not in talk.dialogue.state.handed_over


@pytest.mark.parametrize("said", ["it leaks", "not tight"])
def test_what_leaks_behind_its_repair_is_locked_and_somebody_takes_the_leak_over(said: str):
    """Trade's table of obligations: a leak found and not repaired goes to an owner, by a date."""
    rack = BranchRack("suction filter")
    talk = Talk().until(rack, "tight").hear(said).to_the_seal(rack)
    assert {"locked_out", "leak_open"} <= set(talk.dialogue.state.handed_over)
    assert talk.broken() == ()


@pytest.mark.parametrize(("step", "proven"), [("run_oil_holds", True), ("watch_last", False), ("consent", False)])
def test_a_second_trip_condemns_the_oil_control_only_inside_its_delay(step: str, proven: bool):
    """Trade's section 9: net pressure read running and healthy, inside its delay, at the moment it opens."""
    rack = BranchRack("none at the oil")
    talk = Talk().until(rack, step).hear("it tripped again")
    held = talk.dialogue.state.conclusions.get("oil_control_faulty")
    assert (held is not None and held.standing == "proven") is proven
    assert talk.to_the_seal(rack).broken() == ()


def test_an_oil_glass_that_was_off_is_read_before_a_start_and_not_skipped():
    rack = BranchRack("oil overfilled")
    talk = Talk().until(rack, "oil_glass_after").hear("skip this", "yes")
    assert "cannot be skipped" in talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [("minus five pounds", "yes"), ("minus one pound", "yes")])
def test_nothing_less_than_nothing_was_charged(said: tuple[str, ...]):
    rack = BranchRack("charge low")
    talk = Talk().until(rack, "charge").hear(*said)
    assert "refrigerant_added" not in talk.dialogue.state.readings
    assert talk.asked == "charge:refrigerant_added"


@pytest.mark.parametrize("step", ["hose_off", "glass_after_charge"])
def test_what_was_read_before_a_charge_is_not_worked_out_with_what_is_read_behind_it(step: str):
    """S40: refrigerant that was added makes another state of the rack."""
    talk = Talk().until(BranchRack("charge low"), step)
    before = len(talk.facts)
    talk.hear("correction liquid temperature seventy")
    assert talk.dialogue.state.number("liquid_temperature") == 70.0
    assert not [fact for _, fact in talk.facts[before:] if isinstance(fact, ValueDerived) and "liquid_pressure" in fact.source]
