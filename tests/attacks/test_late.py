"""What is put right late, or comes to light behind a repair, a start or another call. The project's own calls."""


import pytest

from assistant.call.facts import ObligationHandedOver
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def _talk(fault: str, step: str, *said: str) -> tuple[Talk, Rack]:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return Talk(site_of(fault) if fault in FAULTS else None).until(rack, step).hear(*said), rack


# ---- a second reset, a tool, a control that did not open, while it runs


@pytest.mark.parametrize("step", ["watch_second", "consent"])
@pytest.mark.parametrize("said", [
    "i had to reset it twice", "had to reset it three times", "reset it once more", "it tripped and i reset it",
])  # fmt: skip
def test_whoever_reset_it_again_behind_its_start_had_its_second_trip(step: str, said: str):
    """S22: stop, lock, leave off; no history of what others did."""
    talk, rack = _talk("none at the motor", step, said)
    assert talk.asked == "stop_now:command", talk.said
    talk.to_the_seal(rack)
    assert "locked_out" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_what_others_kept_doing_is_history_while_it_runs():
    talk, _ = _talk("none at the motor", "watch_second", "they keep resetting it every night")
    assert talk.asked.startswith("watch_second:")
    assert talk.readings["reset_history"] == "often"


@pytest.mark.parametrize("said", ["my tools are in the panel", "i left my flashlight inside the box"])
def test_nothing_runs_over_a_tool_in_its_panel(said: str):
    talk, rack = _talk("none at the motor", "watch_second", said)
    assert talk.asked == "stop_now:command"
    assert "panel_cover" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("said", "stops"), [("one two ten", True), ("five two ten", False)])
def test_a_suction_under_the_low_cutout_that_was_read_on_this_call_stops_it(said: str, stops: bool):
    """S24: its control was read to open at two pounds, and did not."""
    rack = BranchRack("satisfied", {"cutout_pressure": "two", "rack_suction_pressure": "twelve"})
    talk = Talk(site_of("satisfied")).until(rack, "watch_second").hear(said)
    talk = talk.hear("yes") if talk.asked.endswith(":confirm") else talk
    assert (talk.asked == "stop_now:command") is stops, talk.said
    assert talk.to_the_seal(rack).broken() == ()


# ---- a circuit that is not empty any more


@pytest.mark.parametrize("said", [
    "somebody opened the valve", "the valve is open again", "the gauge is climbing", "it's hissing out of the fitting",
    "i opened the liquid valve", "it's at twelve pounds now", "correction gauge twelve", "gauge reads five pounds",
])  # fmt: skip
def test_what_fills_again_is_not_repaired(said: str):
    """S31: at zero and holding."""
    talk, rack = _talk("injection_strainer_plugged", "repaired", said)
    assert talk.asked == "at_zero:isolated_pressure", talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("fault", "step"), [
    ("suction filter", "repaired"), ("injection_strainer_plugged", "repaired"), ("charge low", "leak_mend"),
    ("winding open", "repaired"),
])  # fmt: skip
def test_the_gauge_is_read_anew_behind_an_interruption(fault: str, step: str):
    """S5: before a repair, whatever was read at zero hours ago."""
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    talk = Talk(site_of(fault) if fault in FAULTS else None)
    if fault == "winding open":
        rack = BranchRack(fault, {"repaired": "repaired"})
    talk.until(rack, step).kill(after_s=7200)
    asked: list[str] = []
    while not talk.asked.startswith(f"{step}:"):
        asked.append(talk.asked)
        talk.hear(talk.words_of(rack))
    assert any(one.endswith(":isolated_pressure") for one in asked), asked
    assert talk.to_the_seal(rack).broken() == ()


# ---- put right at the close


@pytest.mark.parametrize("said", [
    "correction dead on control one twenty", "i didn't measure dead", "correction meter good again no",
])  # fmt: skip
def test_a_coil_that_was_not_read_dead_is_not_proven(said: str):
    """S2, S41: what the meter said of it is void."""
    talk, rack = _talk("injection_coil_failed", "consent", said)
    talk.to_the_seal(rack)
    assert talk.dialogue.state.conclusions["injection_coil_failed"].standing != "proven"
    assert "no_cause_reset" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_a_panel_that_was_another_machines_leaves_nothing_proven():
    talk, rack = _talk("injection_coil_failed", "consent", "correction tag", "a three")
    talk.to_the_seal(rack)
    held = {cause: one.standing for cause, one in talk.dialogue.state.conclusions.items()}
    assert "proven" not in held.values()
    assert talk.broken() == ()


@pytest.mark.parametrize("step", ["start", "consent"])
def test_a_label_that_is_another_refrigerants_is_left_to_somebody(step: str):
    """S41: proven, and put right by nothing that was done on this call."""
    talk, rack = _talk("charge low", step, "correction label", "four oh seven a")
    talk.to_the_seal(rack)
    assert talk.dialogue.state.conclusions["wrong_refrigerant"].standing == "proven"
    assert {"no_cause_reset", "locked_out"} & set(talk.dialogue.state.handed_over)
    assert talk.broken() == ()


def test_a_trip_that_was_just_now_proves_no_probe_by_an_hour_of_standing():
    off_the_curve = "fifty seven point eight k"  # before it was cleaned, and after
    rack = Rack("probe_fouled", {"probe_ohms.cleaned": off_the_curve})
    talk = Talk().until(rack, "consent")
    assert talk.dialogue.state.conclusions["probe_failed"].standing == "proven"
    talk.hear("correction how long ago", "ten minutes")
    assert talk.dialogue.state.conclusions["probe_failed"].standing != "proven"


def test_hours_that_are_put_right_are_the_hours_of_the_hand_over():
    talk, _ = _talk("none at the motor", "consent", "correction in how many hours", "forty")
    handed = [fact for _, fact in talk.facts if isinstance(fact, ObligationHandedOver)]
    assert handed[-1].hours == 40
    assert talk.broken() == ()


def test_hours_over_the_most_are_not_taken_by_a_correction_either():
    talk, rack = _talk("none at the motor", "consent", "correction in how many hours", "seven hundred", "yes")
    talk.to_the_seal(rack)
    assert talk.dialogue.state.handed_over["no_cause_reset"].hours == 24
    assert talk.broken() == ()


def test_who_takes_a_second_thing_is_asked_for_the_hours_alone():
    talk, _ = _talk("none at the motor", "consent", "i changed the set point to eight", "day shift")
    assert talk.asked == "hand_over:follow_up_in_hours"
    assert talk.hear("twenty four").asked == "consent:close_consent"


# ---- of another machine, another leak, another part


@pytest.mark.parametrize("said", [
    "on a three it's open", "three is open", "four ten that's three's", "three's at four ten", "number three reads four ten",
])  # fmt: skip
def test_what_another_machine_reads_is_none_of_this_one(said: str):
    """Nothing is logged that was not said of it."""
    talk, _ = _talk("injection_coil_failed", "coil", said)
    assert "injection_coil_ohms" not in talk.readings


def test_a_contact_is_named_by_its_number():
    talk, _ = _talk("injection_coil_failed", "which_contact", "three's open")
    assert talk.readings["chain_dead_check"] == "low pressure"


@pytest.mark.parametrize(("step", "said"), [
    ("label", "there's another leak at the liquid line"), ("unlock", "correction leak repaired no"),
    ("unlock", "it's leaking at the strainer"),
])  # fmt: skip
def test_what_leaks_again_is_neither_charged_nor_started_through(step: str, said: str):
    """Trade's section 11: find and repair before charge."""
    talk, rack = _talk("charge low", step, said)
    asked = [talk.asked]
    while not talk.dialogue.state.sealed:
        asked.append(talk.asked)
        talk.hear(talk.words_of(rack))
    assert not any(one.startswith(("charge:", "start:", "cylinder:")) for one in asked)
    assert {"leak_open", "locked_out"} <= set(talk.dialogue.state.handed_over)
    assert talk.broken() == ()


def test_more_than_the_full_charge_is_asked_back():
    talk, _ = _talk("charge low", "charge", "seven hundred pounds")
    assert talk.asked == "charge:confirm"


def test_the_wrong_bottle_ends_the_charge_from_it():
    talk, _ = _talk("charge low", "charge", "the bottle ran out it was the wrong one")
    assert talk.asked == "cylinder:cylinder_checked"


@pytest.mark.parametrize(("step", "said"), [
    ("repaired", "i swapped it with number three's coil"), ("parts", "i took the coil out of number three"),
])  # fmt: skip
def test_a_part_of_another_machine_is_left_to_nobody_unnoticed(step: str, said: str):
    talk, rack = _talk("injection_coil_failed", step, said)
    assert talk.readings["part_left_in_use"] == "borrowed"
    talk.to_the_seal(rack)
    assert "part_borrowed" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_a_coil_behind_a_blown_fuse_that_is_put_right_to_a_short_stops_it():
    """S18: what opened on a fault was closed again on a reading that was none."""
    talk, rack = _talk("control fuse blown", "consent", "correction starter coil eight")
    assert talk.asked == "stop_now:command"
    assert talk.to_the_seal(rack).broken() == ()


def test_a_strainer_that_was_clean_is_ruled_out():
    talk, rack = _talk("injection_strainer_plugged", "strainer_opened", "it was clean")
    talk.to_the_seal(rack)
    assert talk.dialogue.state.conclusions["injection_strainer_plugged"].standing == "ruled_out"


def test_a_head_close_to_its_cutout_has_not_settled():
    rack = BranchRack("none at the high pressure", {"watch.discharge_pressure": "three forty five"})
    talk = Talk(site_of("none at the high pressure")).to_the_seal(rack)
    assert any("the head is too near its cutout" in said.lower() for said in talk.spoken)
    assert talk.broken() == ()


# ---- an alarm that was none


@pytest.mark.parametrize("step", ["fit", "coil", "watch_second"])
def test_a_call_goes_on_where_it_was_once_its_alarm_was_none(step: str):
    """S35, S5: the room is said to be safe, and lock, what hangs and people are asked anew."""
    talk, rack = _talk("injection_coil_failed", step, "the gas alarm is going")
    assert "Stay out" in talk.said
    talk.hear("correction detector", "quiet")
    assert talk.asked == "anew_room_safe:room_safe"
    talk.hear("yes")
    assert not talk.dialogue.state.finishing
    talk.to_the_seal(rack)
    assert talk.dialogue.state.conclusions["injection_coil_failed"].standing == "proven"
    assert "no_cause_reset" not in talk.dialogue.state.handed_over
    assert talk.broken() == ()
