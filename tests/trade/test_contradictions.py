"""Readings that cannot both be true are asked again, and bar every verdict that would rest on them (S41)."""

from dataclasses import replace

import pytest

from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade.case import Case, SiteFacts
from assistant.trade.contradictions import CONTRADICTIONS, contradictions
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk

SITE = SiteFacts(refrigerant="R22", control_volts=208.0, condenser_fans=6, compressors=4)
RUNS: dict[str, Value] = {"running_now": "running", "running_count": 3.0}
NOT_BOTH: list[tuple[dict[str, Value], dict[str, float], tuple[str, ...]]] = [
    # readings, derived values, and which two cannot both be true
    ({"rack_suction_pressure": 220.0, "rack_discharge_pressure": 210.0}, {},
     ("rack_suction_pressure", "rack_discharge_pressure")),
    ({"suction_pressure": 220.0, "discharge_pressure": 210.0}, {}, ("suction_pressure", "discharge_pressure")),
    ({"watch.suction_pressure": 220.0, "watch.discharge_pressure": 9.0}, {},
     ("watch.suction_pressure", "watch.discharge_pressure")),
    ({**RUNS, "suction_temperature": 90.0, "discharge_temperature": 60.0}, {}, ("suction_temperature", "discharge_temperature")),
    ({**RUNS, "crankcase_pressure": 30.0, "oil_pump_pressure": 12.0}, {}, ("crankcase_pressure", "oil_pump_pressure")),
    ({"suction_pressure": 10.0, "suction_temperature": -40.0}, {"superheat": -13.0}, ("suction_pressure", "suction_temperature")),
    ({**RUNS, "discharge_temperature": 60.0, "discharge_pressure": 210.0}, {"condensing_temperature": 105.0},
     ("discharge_temperature", "discharge_pressure")),
    ({**RUNS, "rack_discharge_pressure": 120.0, "ambient_temperature": 95.0}, {"condensing_difference": -24.0},
     ("rack_discharge_pressure", "ambient_temperature")),
    ({"rack_discharge_pressure": 120.0, "liquid_out_temperature": 95.0}, {"condenser_subcooling": -24.0},
     ("rack_discharge_pressure", "liquid_out_temperature")),
    ({"sight_glass": "full", "receiver_level": 0.0}, {}, ("sight_glass", "receiver_level")),
    ({"condenser_fans_called": 9.0}, {}, ("condenser_fans_called",)),
    ({"condenser_fans_running": 9.0}, {}, ("condenser_fans_running",)),
    ({"tripped_count": 3.0, "running_count": 3.0}, {}, ("tripped_count", "running_count")),
    ({"running_now": "running", "running_count": 0.0}, {}, ("running_now", "running_count")),
    ({"running_now": "running", "switch_position": "off"}, {}, ("running_now", "switch_position")),
    ({"injection_hand_valve": "closed", "injection_feed": "feeding"}, {}, ("injection_hand_valve", "injection_feed")),
    ({"control_fuse": "blown", "control_volts": 208.0}, {}, ("control_fuse", "control_volts")),
    ({"valve_click": "click", "injection_coil_ohms": "over_range"}, {}, ("valve_click", "injection_coil_ohms")),
    ({"injection_coil_volts": 0.0, "valve_click": "click"}, {}, ("injection_coil_volts", "valve_click")),
    ({"module_supply_volts": 0.0, "module_output_volts": 208.0}, {}, ("module_supply_volts", "module_output_volts")),
    ({"module_output_volts": 0.0, "injection_coil_volts": 208.0}, {}, ("module_output_volts", "injection_coil_volts")),
    ({"control_volts": "none_present", "contactor_coil_volts": 208.0}, {}, ("control_volts", "contactor_coil_volts")),
    ({"chain_point.oil_pressure": 0.0, "chain_point.motor_protection": 208.0}, {},
     ("chain_point.oil_pressure", "chain_point.motor_protection")),
    ({"chain_dead_check": "none", "safety_volts.high_pressure": 208.0}, {}, ("chain_dead_check", "safety_volts.high_pressure")),
    ({**RUNS, "line_amps.a": 0.0, "line_amps.b": 0.0, "line_amps.c": "none_present"}, {}, ("line_amps.a", "running_now")),
]  # fmt: skip


@pytest.mark.parametrize(("readings", "derived", "ids"), NOT_BOTH, ids=["-".join(ids) for _, _, ids in NOT_BOTH])
def test_what_cannot_both_be_true_is_found(readings: dict[str, Value], derived: dict[str, float], ids: tuple[str, ...]):
    case = Case(readings, derived, site=SITE)
    assert ids in [one.ids for one in contradictions(case)]
    apart = replace(case, apart=frozenset({frozenset(ids)}))
    if len(ids) == 2:
        assert ids not in [one.ids for one in contradictions(apart)]  # of two rounds both may have been true


def test_only_readings_of_the_vocabulary_are_compared():
    assert {i for one in CONTRADICTIONS for i in one.ids} <= vocabulary().keys()


def test_a_healthy_running_machine_contradicts_nothing():
    readings: dict[str, Value] = {
        **RUNS, "rack_suction_pressure": 12.0, "rack_discharge_pressure": 210.0, "suction_pressure": 12.0,
        "discharge_pressure": 214.0, "suction_temperature": 10.0, "discharge_temperature": 205.0, "sight_glass": "full",
        "receiver_level": 60.0, "condenser_fans_called": 6.0, "condenser_fans_running": 6.0, "tripped_count": 1.0,
        "injection_hand_valve": "open", "injection_feed": "feeding", "ambient_temperature": 90.0, "line_amps.a": 23.0,
        "line_amps.b": 23.0, "line_amps.c": 24.0, "control_volts": 208.0, "contactor_coil_volts": 208.0,
    }  # fmt: skip
    derived = {"superheat": 31.0, "condensing_temperature": 105.0, "condensing_difference": 15.0, "condenser_subcooling": 8.0}
    assert list(contradictions(Case(readings, derived, site=SITE))) == []


CALLS: list[tuple[Rack, str]] = [
    (Rack("none", {"rack_suction_pressure": "two hundred", "rack_discharge_pressure": "one fifty"}), "rack suction"),
    (Rack("none", {"tripped_count": "three", "running_count": "three"}), "running cannot be: this rack has"),
    (Rack("none", {"receiver_level": "zero", "tripped_count": "two", "running_count": "two"}), "receiver"),
    (BranchRack("none at the motor", {"suction_temperature": "minus forty"}), "suction temperature"),
    (BranchRack("none at the oil", {"oil_pump_pressure": "five"}), "crankcase pressure"),
    (BranchRack("none at the high pressure", {"condenser_fans_running": "nine"}), "fans running"),
]


@pytest.mark.parametrize(("rack", "name"), CALLS, ids=[name for _, name in CALLS])
def test_a_call_with_readings_that_contradict_ends_in_no_verdict(rack: Rack, name: str):
    talk = Talk().to_the_seal(rack)
    again = [said for said in talk.spoken if name in said.lower() and "cannot" in said]
    assert len(again) == 1
    assert not [c.cause for c in talk.dialogue.state.conclusions.values() if c.standing in ("proven", "supported")]
    assert "settled" not in talk.spoken[-2].replace("not settled", "")
    assert talk.broken() == ()


def test_read_again_and_right_they_bar_nothing():
    talk = Talk().until(Rack("none"), "rack_suction").hear("two hundred", "yes", "one fifty", "yes")
    assert "cannot both be true" in talk.said
    assert talk.asked.endswith(":rack_suction_pressure")
    talk.hear("twelve")
    assert talk.asked.endswith(":rack_discharge_pressure")
    talk.hear("one fifty")
    assert talk.asked.startswith("glass:")
    talk.to_the_seal(Rack("none"))
    assert talk.dialogue.state.conclusions["no_fault_found"].standing in ("proven", "suspected")


def test_skipped_when_asked_again_it_goes_on_and_bars_what_would_rest_on_it():
    talk = Talk().until(Rack("none"), "rack_suction").hear("two hundred", "yes", "one fifty", "yes")
    talk.hear("skip")
    assert talk.asked.endswith(":rack_discharge_pressure")
    talk.hear("skip")
    assert talk.asked.startswith("glass:")


@pytest.mark.parametrize("site", [SITE, replace(SITE, refrigerant="R744")])
def test_a_head_under_the_air_cannot_be_but_in_a_stage_that_condenses_into_another(site: SiteFacts):
    readings: dict[str, Value] = {"rack_discharge_pressure": 120.0, "ambient_temperature": 95.0, **RUNS}
    one = Case(readings, {"condensing_difference": -24.0}, site=site)
    pair = ("rack_discharge_pressure", "ambient_temperature")
    assert (pair in [found.ids for found in contradictions(one)]) == (site is SITE)
    assert pair not in [found.ids for found in contradictions(replace(one, readings={**readings, "cascade_state": "normal"}))]
