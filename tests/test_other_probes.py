"""Whole calls on sites in bar and Celsius, with the probes, panels and machines that the demo site has not."""

from dataclasses import replace
from typing import Any

import pytest

from assistant.profile import Site, load_profile
from assistant.trade.probe import ProbeCurve
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk

IN_BAR = {
    "rack_suction_pressure": "point eight", "rack_discharge_pressure": "fourteen point five",
    "probe_pipe_temperature": "twenty four", "probe_ohms.module_end": "one oh five k", "oil_added": "two liters",
    "refrigerant_recovered": "two kilos",
    "watch.suction_pressure": "point seven", "watch.discharge_temperature": "ninety nine",
    "watch.discharge_pressure": "fourteen", "ambient_temperature": "thirty five", "crankcase_temperature": "thirty two",
    "crankcase_pressure": "point eight", "shell_pressure": "two", "suction_temperature": "minus ten",
    "discharge_pressure": "fifteen", "oil_pump_pressure": "four", "drive_fault": "no", "dead_volts.drive": "zero",
}  # fmt: skip
KINDS: dict[str, dict[str, Any]] = {
    "ntc": {}, "thermostat": {"kind": "thermostat", "curve": None, "test_plug": "none"},
    "rtd": {"kind": "rtd", "curve": ProbeCurve("rtd", r0_ohm=100.0), "test_plug": "resistor"},
    "rack's isolator": {"control_isolator_stops": "rack", "line_in_sight": False},
    "drive, two windings": {"drive": True, "winding_sets": 2}, "scroll": {"machine_kind": "scroll"},
    "in gas": {"mount": "in_gas"}, "flammable": {"refrigerant": "R454C"},
}  # fmt: skip


def site_in_bar(**changes: Any) -> Site:
    site = load_profile()
    rack = site.racks[0]
    for part in ("panel", "probe", "injection"):
        own = vars(getattr(rack, part))
        rack = replace(rack, **{part: replace(getattr(rack, part), **{k: v for k, v in changes.items() if k in own})})
    rack = replace(rack, **{k: v for k, v in changes.items() if k in ("refrigerant", "machine_kind")})
    return replace(site, units="si", racks=(rack, *site.racks[1:]))


def technician(fault: str, kind: str) -> Rack:
    words = IN_BAR | ({"probe_ohms.module_end": "one oh nine ohms"} if kind == "rtd" else {})
    return BranchRack(fault, words) if fault in FAULTS else Rack(fault, words)


@pytest.mark.parametrize("fault", ["none", "injection_coil_failed", "module_no_output", "none at the motor", "oil low"])
@pytest.mark.parametrize("kind", KINDS)
def test_a_whole_call_comes_to_its_seal_and_breaks_no_rule(kind: str, fault: str):
    rack = technician(fault, kind)
    talk = Talk(site_in_bar(**KINDS[kind])).to_the_seal(rack)
    assert talk.broken() == ()
    assert not talk.open


@pytest.mark.parametrize("fault", ["none", "injection_coil_failed", "module_no_output"])
def test_a_thermostat_is_asked_for_no_ohms_and_is_tested_with_no_feed(fault: str):
    rack = technician(fault, "thermostat")
    Talk(site_in_bar(**KINDS["thermostat"])).to_the_seal(rack)
    assert not {id_ for id_ in rack.asked if id_.startswith(("probe_ohms", "jumper_fitted", "leads_clipped"))}


def test_a_line_over_its_trip_in_celsius_stops_the_machine():
    rack = technician("injection_coil_failed", "thermostat")
    talk = Talk(site_in_bar(**KINDS["thermostat"])).until(rack, "watch_first").hear("point seven, one thirty")
    assert talk.asked == "stop_now:command"
