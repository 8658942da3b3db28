"""A simulated technician at a rack whose oil, motor, pressure or supply has the fault: the right cause at its standing,
nothing else proven, nothing open at the seal, and no rule of safety broken on the way."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.branches import diagnosis as causes
from assistant.call.facts import CautionAcknowledged, StepDone, StepEntered
from assistant.call.state import State
from assistant.profile import Site, load_profile
from tests.branch_rack import BranchRack
from tests.talk import Talk

FOUND = [
    # fault of the simulated machine, cause, standing, what else is true of it
    ("winding open", "winding_failed", "proven", set()),
    ("lead to the motor broken", "phase_lost", "supported", set()),
    ("winding grounded", "winding_grounded", "proven", set()),
    ("starter pole open", "contactor_faulty", "proven", set()),
    ("line fuse open", "phase_lost", "supported", set()),
    ("line lost", "phase_lost", "proven", set()),
    ("supply unbalanced", "supply_unbalanced", "proven", set()),
    ("single phasing when it runs", "phase_lost", "proven", set()),
    ("overloaded", "motor_overloaded", "proven", set()),
    ("poorly cooled", "motor_poorly_cooled", "proven", set()),
    ("motor protection failed", "motor_protection_faulty", "proven", set()),
    ("still hot", "overload_still_hot", "proven", set()),
    ("short cycling", "short_cycling", "proven", set()),
    ("seized", "compressor_seized", "proven", set()),
    ("turns backwards", "phase_reversed", "proven", {"phase_monitor_open"}),
    ("drive fault", "drive_faulted", "proven", set()),
    ("control supply lost", "control_supply_lost", "proven", set()),
    ("control fuse blown", "control_supply_lost", "supported", set()),
    ("starter coil open", "starter_coil_failed", "proven", set()),
    ("wire of the string open", "chain_wiring_open", "proven", set()),
    ("starter jammed", "contactor_faulty", "supported", set()),
    ("phase monitor", "phase_monitor_open", "proven", set()),
    ("oil low", "oil_level_low", "proven", set()),
    ("oil feed starved", "oil_supply_failed", "proven", {"oil_level_low"}),
    ("oil diluted", "oil_diluted", "proven", set()),
    ("oil pump worn", "oil_pump_worn", "proven", set()),
    ("oil control failed", "oil_control_faulty", "proven", set()),
    ("separator stuck", "oil_separator_stuck", "proven", {"oil_level_low"}),
    ("oil logged", "oil_logged", "supported", {"oil_level_low"}),
    ("oil wrong", "oil_wrong", "proven", {"oil_level_low"}),
    ("oil overfilled", "oil_overfilled", "proven", set()),
    ("condenser fouled", "condenser_fouled", "proven", {"head_high"}),
    ("condenser fan", "condenser_fan_failed", "proven", {"head_high"}),
    ("air in the system", "non_condensables", "proven", {"head_high"}),
    ("air suspected", "non_condensables", "suspected", {"head_high"}),
    ("overcharged", "overcharge", "supported", {"head_high"}),
    ("head control", "head_control_fault", "proven", set()),
    ("condenser flooded", "condenser_flooded", "proven", {"head_high"}),
    ("discharge shut", "discharge_restricted", "proven", set()),
    ("discharge drops when it runs", "discharge_restricted", "supported", set()),
    ("high cutout will not hold", "pressure_control_faulty", "proven", set()),
    ("high cutout opens early", "pressure_control_faulty", "proven", set()),
    ("cases off", "evaporator_load_low", "proven", set()),
    ("case fans stopped", "evaporator_fan_or_defrost", "proven", {"evaporator_load_low"}),
    ("defrost stuck", "evaporator_fan_or_defrost", "proven", {"evaporator_load_low"}),
    ("suction filter", "suction_restricted", "proven", set()),
    ("circuit shut", "liquid_branch_closed", "proven", set()),
    ("charge low", "refrigerant_low", "supported", set()),
    ("satisfied", "low_pressure_normal", "proven", set()),
    ("low cutout will not hold", "pressure_control_faulty", "proven", set()),
]  # fmt: skip
"""The causes of trade practice for these branches, each by one fault of the machine."""
ELSEWHERE = {"turns backwards": "scroll", "drive fault": "drive", "oil wrong": "no oil known"}
"""Faults of racks that the demo site does not have."""


def site_of(fault: str) -> Site:
    """The demo site, with the rack that this fault takes."""
    site = load_profile()
    rack = site.racks[0]
    match ELSEWHERE.get(fault):
        case "scroll":
            rack = replace(rack, machine_kind="scroll")
        case "drive":
            rack = replace(rack, panel=replace(rack.panel, drive=True))
        case "no oil known":
            rack = replace(rack, refrigerant="R407A", oil="")
    return replace(site, racks=(rack, *site.racks[1:]))


def whole_call(fault: str, words: dict[str, str] | None = None) -> Talk:
    return Talk(site_of(fault)).to_the_seal(BranchRack(fault, words or {}))


def proven(talk: Talk) -> set[str]:
    """What was proven and not taken back."""
    return {c.cause for c in talk.dialogue.state.conclusions.values() if c.standing == "proven"}


@pytest.mark.parametrize(("fault", "cause", "standing", "also"), FOUND, ids=[one[0] for one in FOUND])
def test_each_fault_is_found_nothing_else_is_proven_and_nothing_stays_open(
    fault: str, cause: str, standing: str, also: set[str]
):
    talk = whole_call(fault)
    assert talk.dialogue.state.conclusions[cause].standing == standing
    assert proven(talk) <= {cause} | also
    assert talk.open == set()


@pytest.mark.parametrize("fault", [one[0] for one in FOUND])
def test_no_rule_of_safety_is_broken_on_the_way(fault: str):
    talk = whole_call(fault)
    assert talk.broken() == ()


@pytest.mark.parametrize("contact", ["motor", "oil", "high pressure", "low pressure"])
def test_a_healthy_machine_of_any_branch_is_closed_as_no_cause_found(contact: str):
    talk = whole_call(f"none at the {contact}")
    assert proven(talk) == {"no_fault_found"}
    assert "No cause found. Running and settled. Left for later: left running, cause of the trip not found" in talk.spoken[-2]
    assert "no_cause_reset" in talk.dialogue.state.handed_over


@pytest.mark.parametrize("fault", ["oil pump worn", "oil control failed", "seized", "turns backwards",
                                   "single phasing when it runs", "high cutout opens early"])  # fmt: skip
def test_a_machine_that_must_not_run_is_stopped_locked_and_left_to_somebody_by_name(fault: str):
    state = whole_call(fault).dialogue.state
    assert state.stopped
    assert state.lock.locked
    assert state.handed_over["locked_out"].owner == "supervisor"
    assert "no_cause_reset" not in state.handed_over


def test_there_is_no_second_reset_after_a_second_trip():
    talk = whole_call("oil control failed")
    resets = [f for _, f in talk.facts if isinstance(f, StepDone) and f.resets]
    assert len(resets) == 1
    assert "A second trip. No more resets: lock it and leave it off." in " ".join(talk.spoken)


def test_a_cause_found_running_and_not_mended_goes_to_somebody_by_name():
    assert "no_cause_reset" in whole_call("overloaded").dialogue.state.handed_over


def test_every_cause_of_these_branches_has_its_fault():
    with (Path(causes.__file__).parent / "causes.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    branches = ("motor", "oil", "high_pressure", "low_pressure", "pressure_controls", "chain")
    wanted = {row["id"] for row in rows if row["branch"] in branches}
    # The supply that injection modules share is found in the injection's branch.
    assert wanted - {cause for _, cause, _, _ in FOUND} == {"common_supply_lost"}


@pytest.mark.parametrize("fault", ["winding grounded", "oil control failed", "high cutout opens early"])
def test_a_call_cut_after_any_fact_ends_in_the_same_state(fault: str):
    talk = whole_call(fault)
    for cut in range(1, len(talk.facts)):
        again = Talk(site_of(fault))
        again.dialogue.state = State(site_of(fault), talk.dialogue.state.procedure, talk.dialogue.state.steps)
        again.dialogue.take_up(talk.facts[:cut])
        again.dialogue.take_up(talk.facts[cut:])
        again.dialogue.state.case = talk.dialogue.state.case = None
        assert again.dialogue.state == talk.dialogue.state


LIVE = {"live_or_dead": "live", "safety_volts.oil_pressure": "zero", "safety_volts.high_pressure": "zero",
        "safety_volts.low_pressure": "zero", "safety_volts.motor_protection": "two oh eight", "fuse_volts.a": "zero",
        "fuse_volts.b": "zero", "fuse_volts.c": "four sixty"}  # fmt: skip


def test_on_the_live_route_lines_and_fuses_are_read_in_the_one_window_before_the_lock():
    talk = whole_call("line lost", LIVE)
    steps = [f.step for _, f in talk.facts if isinstance(f, StepEntered)]
    assert steps.index("live_lines") < steps.index("live_fuses") < steps.index("lock") < steps.index("windings")
    assert "window_on" not in steps
    assert talk.dialogue.state.conclusions["phase_lost"].standing == "proven"


def test_a_burnt_motor_brings_the_cautions_of_acid_and_terminals():
    talk = whole_call("winding grounded")
    given = [f.caution for _, f in talk.facts if isinstance(f, CautionAcknowledged)]
    assert {"acid", "terminals"} <= set(given)
