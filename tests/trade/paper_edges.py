"""Readings on paper at the edge of a limit: a little beyond it, the standing is gone."""

from dataclasses import replace

from assistant.language.meaning import Value
from tests.trade.paper_kit import SITE, case, row

AMPS: dict[str, Value] = {"line_amps.a": 34.0, "line_amps.b": 1.5, "line_amps.c": 35.0, "running_now": "running"}
JAMMED: dict[str, Value] = {"contactor_coil_volts": 208.0, "starter_coil_ohms": 5.0}
LOW_VOLTS, NO_RATING = replace(SITE, control_volts=24.0), replace(SITE, control_volts=None)

ROWS = [
    # From 85 percent of 208 volts, 176.8, a voltage is there; up to 5 percent, 10.4, it is not.
    row(
        "injection_wiring_open",
        "proven",
        case({"module_output_volts": 181.0, "injection_coil_volts": "none_present"}),
        readings={"module_output_volts": 170.0},
    ),
    row("control_supply_lost", "supported", case({"control_volts": 10.0}), readings={"control_volts": 11.0}),
    row("control_supply_lost", "supported", case({"control_volts": 2.9}, "", LOW_VOLTS), readings={"control_volts": 3.5}),
    row("control_supply_lost", "ruled_out", case({"control_volts": 20.0}, "", NO_RATING), readings={"control_volts": 16.0}),
    row("phase_lost", "proven", case({"fuse_volts.b": 25.0}), readings={"fuse_volts.b": 15.0}),
    row(
        "injection_coil_failed",
        "supported",
        case({"injection_coil_ohms": 2.5}, "dead_when_coil_read", replace(SITE, coil_ohms=None)),
        readings={"injection_coil_ohms": 3.5},
    ),
    row(  # a starter coil whose good ohms nobody knows: shorted, it is the coil and not the starter
        "contactor_faulty",
        "supported",
        case(JAMMED, "starter_stays_out", replace(SITE, starter_coil_ohms=None)),
        readings={"starter_coil_ohms": 2.5},
    ),
    row(
        "return_gas_hot",
        "ruled_out",
        case({"suction_temperature": 60.0}, superheat=28.0),
        readings={"suction_temperature": 68.0},
    ),
    row(  # 5 percent of a cutout at 2 psi is nothing: a pound counts
        "pressure_control_faulty",
        "proven",
        case({"control_trip_pressure": 4.5, "cutout_pressure": 2.0}, "reset_tried gauge_checked"),
        readings={"control_trip_pressure": 2.5},
    ),
    row(
        "capacity_control_stuck",
        "proven",
        case({"capacity_control": "unloaded", "rack_suction_pressure": 13.5}),
        readings={"rack_suction_pressure": 11.5},
    ),
    row("oil_supply_failed", "supported", case({}, reservoir_over_suction=4.0), derived={"reservoir_over_suction": 5.0}),
    row("supply_unbalanced", "proven", case({}, voltage_unbalance=12.0), derived={"voltage_unbalance": 13.0}),
    row("phase_lost", "proven", case(AMPS), readings={"line_amps.b": 2.0}),
    row(  # insulation from 1 to 5 megohms is read again; from 5 on it passes
        "winding_grounded",
        "ruled_out",
        case({"ground_megohms": 6.0, "shell_pressure": 30.0}),
        readings={"ground_megohms": 4.0},
    ),
    row(  # 20 psi net is normal
        "oil_control_faulty",
        "proven",
        case({}, "net_oil_read_as_it_opened", net_oil=20.0),
        derived={"net_oil": 19.0},
    ),
]
