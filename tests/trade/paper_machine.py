"""Readings on paper for the high side, the low side, pressure controls, oil and motor."""

from dataclasses import replace

from assistant.language.meaning import Value
from tests.trade.paper_kit import SITE, case, row

RATED = replace(SITE, rated_amps=30.0)
FANS: dict[str, Value] = {"condenser_fans_called": 6.0, "condenser_fans_running": 6.0}
JUDGED: dict[str, Value] = {
    "condenser_fans_called": 6.0, "rack_discharge_pressure": 232.0, "heat_reclaim": "off",
}  # fmt: skip
FULL: dict[str, Value] = {**FANS, "condenser_face": "clean", "receiver_level": 90.0}
COILS: dict[str, Value] = {"winding_ohms.ab": 4.1, "winding_ohms.bc": 4.1, "winding_ohms.ca": 4.2}
AMPS: dict[str, Value] = {
    "line_amps.a": 34.0,
    "line_amps.b": 33.0,
    "line_amps.c": 35.0,
    "running_now": "running",
}
LATCHED: dict[str, Value] = {**COILS, "overload_state": "open", "protector_string_ohms": 300.0}
WAITED = "lockout_waited cycled_once motor_cooled"

HIGH_SIDE = [
    row(
        "condenser_fouled",
        "proven",
        case({"condenser_face": "fouled", **JUDGED}, condensing_difference=34.0),
        derived={"condensing_difference": 12.0},
    ),
    row(  # reclaim on: a wide split is normal then, and proves nothing of the face
        "condenser_fouled",
        "supported",
        case({"condenser_face": "fouled", **JUDGED, "heat_reclaim": "on"}, condensing_difference=34.0),
        derived={"condensing_difference": 12.0},
    ),
    row(
        "condenser_fan_failed",
        "proven",
        case({**FANS, "condenser_fans_running": 4.0}),
        readings={"condenser_fans_called": 4.0},
    ),
    row(
        "head_control_fault",
        "proven",
        case({"condenser_fans_called": 2.0, "condenser_fans_running": 2.0, "rack_discharge_pressure": 260.0}),
        readings={"rack_discharge_pressure": 145.0},
    ),
    row(
        "non_condensables",
        "proven",
        case({}, "idle_test_valid", standing_excess=6.0),
        without="idle_test_valid",
    ),
    row(
        "non_condensables",
        "ruled_out",
        case({}, "idle_test_valid", standing_excess=1.0),
        derived={"standing_excess": 3.5},
    ),
    row(
        "overcharge",
        "proven",
        case(
            FULL,
            "idle_test_valid",
            condenser_subcooling=22.0,
            condensing_difference=25.0,
            standing_excess=1.0,
        ),
        without="idle_test_valid",
    ),
    row(
        "overcharge",
        "supported",
        case(FULL, condenser_subcooling=22.0, condensing_difference=25.0),
        readings={"receiver_level": None},
    ),
    row(
        "condenser_flooded",
        "proven",
        case({}, "winter_valve_holding", condenser_subcooling=25.0),
        derived={"condenser_subcooling": 8.0},
    ),
    row("discharge_restricted", "proven", case({}, "discharge_drop_found"), without="discharge_drop_found"),
    row(
        "discharge_restricted",
        "supported",
        case({"running_now": "running", "discharge_pressure": 270.0, "rack_discharge_pressure": 230.0}),
        readings={"running_now": "just tripped"},
    ),
    row(
        "pressure_control_faulty",
        "proven",
        case({"control_trip_pressure": 370.0, "cutout_pressure": 400.0}, "reset_tried gauge_checked"),
        readings={"control_trip_pressure": 385.0},
    ),
    row(
        "pressure_control_faulty",
        "proven",
        case({"control_trip_pressure": 370.0, "cutout_pressure": 400.0}, "reset_tried gauge_checked"),
        without="reset_tried",
    ),
    row(
        "pressure_control_faulty",
        "proven",
        case({"control_reset": "will not hold"}, "pressure_clearly_inside"),
        without="pressure_clearly_inside",
    ),
]

LOW_SIDE = [
    row(
        "evaporator_load_low",
        "proven",
        case({"case_load": "iced", "rack_suction_pressure": 1.0, "cutout_pressure": 3.0}),
        readings={"rack_suction_pressure": 8.0},
    ),
    row(
        "suction_restricted",
        "proven",
        case({"suction_filter_drop": 5.0}),
        readings={"suction_filter_drop": 2.0},
    ),
    row(
        "evaporator_fan_or_defrost",
        "proven",
        case({"case_load": "iced", "defrost_state": "stuck"}),
        readings={"defrost_state": "none"},
    ),
    row("liquid_branch_closed", "proven", case({}, "one_circuit_dry"), without="one_circuit_dry"),
    row(
        "low_pressure_normal",
        "proven",
        case(
            {
                "chain_dead_check": "low pressure",
                "rack_suction_pressure": 1.0,
                "cutout_pressure": 3.0,
                "controller_calls": "no",
            }
        ),
        readings={"controller_calls": "yes"},
    ),
]

OIL = [
    row("oil_level_low", "proven", case({"oil_level": "low"}), readings={"oil_level": "normal"}),
    row("oil_supply_failed", "proven", case({"oil_supply": "starved"}), readings={"oil_supply": "feeding"}),
    row("oil_diluted", "proven", case({"oil_level": "foaming"}), readings={"oil_level": "high"}),
    row("oil_diluted", "proven", case({}, crankcase_superheat=3.0), derived={"crankcase_superheat": 25.0}),
    row(
        "oil_pump_worn",
        "proven",
        case({"oil_level": "normal"}, net_oil=7.0, crankcase_superheat=40.0),
        readings={"oil_level": "foaming"},
    ),
    row(
        "oil_pump_worn",
        "proven",
        case({"oil_level": "normal"}, net_oil=7.0, crankcase_superheat=40.0),
        derived={"crankcase_superheat": 12.0},
    ),
    row(
        "oil_control_faulty",
        "proven",
        case({}, "net_oil_read_as_it_opened", net_oil=42.0),
        without="net_oil_read_as_it_opened",
    ),
    row(
        "oil_separator_stuck",
        "proven",
        case({}, "all_levels_low separator_return_wrong"),
        without="separator_return_wrong",
    ),
    row(
        "oil_logged",
        "supported",
        case({}, "levels_fell_after_low_load"),
        without="levels_fell_after_low_load",
    ),
    row("oil_wrong", "proven", case({}, "mineral_oil_left"), without="mineral_oil_left"),
    row(
        "oil_overfilled",
        "proven",
        case({"oil_level": "high"}, "other_levels_low"),
        without="other_levels_low",
    ),
]

MOTOR = [
    row("supply_unbalanced", "proven", case({}, voltage_unbalance=2.6), derived={"voltage_unbalance": 1.9}),
    row(
        "phase_lost", "proven", case({**AMPS, "line_amps.b": "none_present"}), readings={"line_amps.b": 30.0}
    ),
    row("phase_lost", "proven", case({"fuse_volts.b": 270.0}), readings={"fuse_volts.b": 0.2}),
    row(
        "phase_lost",
        "proven",
        case({"line_volts.ab": 480.0, "line_volts.bc": 240.0, "line_volts.ca": 242.0}, "motor_off_when_read"),
        without="motor_off_when_read",
    ),
    row("contactor_faulty", "proven", case({}, "pole_open"), without="pole_open"),
    row(
        "winding_failed",
        "proven",
        case({**COILS, "winding_ohms.ca": "over_range"}, "motor_cooled"),
        without="motor_cooled",
    ),
    row(
        "winding_failed",
        "proven",
        case({**COILS, "winding_ohms.ca": 5.0}, "motor_cooled", winding_unbalance=13.6),
        derived={"winding_unbalance": 3.0},
    ),
    row(
        "winding_failed",
        "proven",
        case(
            {"winding_ohms.ab": 0.4, "winding_ohms.bc": 0.4, "winding_ohms.ca": 0.5},
            "motor_cooled milliohm_meter",
            winding_unbalance=15.0,
        ),
        without="milliohm_meter",
    ),
    row(
        "winding_grounded",
        "proven",
        case({"ground_megohms": "below_resolution", "shell_pressure": 30.0}, "warm_repeat"),
        without="warm_repeat",
    ),
    row(
        "winding_grounded",
        "proven",
        case({"ground_megohms": 0.4, "shell_pressure": 30.0}, "warm_repeat"),
        readings={"shell_pressure": -3.0},
    ),
    row(
        "winding_grounded",
        "proven",
        case({"ground_megohms": 0.4, "shell_pressure": 30.0}, "warm_repeat"),
        readings={"ground_megohms": 3.0},
    ),
    row(
        "motor_overloaded",
        "proven",
        case(AMPS, "at_set_point_suction", RATED, current_unbalance=3.0),
        without="at_set_point_suction",
    ),
    row(
        "motor_overloaded",
        "proven",
        case(AMPS, "at_set_point_suction", RATED, current_unbalance=3.0),
        derived={"current_unbalance": 14.0},
    ),
    row(
        "motor_poorly_cooled",
        "proven",
        case(AMPS, "", replace(SITE, rated_amps=40.0), current_unbalance=3.0, superheat=60.0),
        derived={"superheat": 25.0},
    ),
    row(
        "motor_protection_faulty",
        "proven",
        case(LATCHED, WAITED, winding_unbalance=1.6),
        without="lockout_waited",
    ),
    row(
        "motor_protection_faulty",
        "proven",
        case(LATCHED, WAITED, winding_unbalance=1.6),
        readings={"protector_string_ohms": 20_000.0},
    ),
    row("overload_still_hot", "proven", case({}, "closed_after_cooling"), without="closed_after_cooling"),
    row("short_cycling", "proven", case({"starts_last_hour": 14.0}), readings={"starts_last_hour": 6.0}),
    row("phase_reversed", "proven", case({"rotation": "reversed"}), readings={"rotation": "right"}),
    row("drive_faulted", "proven", case({"drive_fault": "yes"}), readings={"drive_fault": "no"}),
    row(
        "compressor_seized",
        "proven",
        case(
            {**COILS, "mechanical_state": "seized"}, "locked_rotor_amps motor_cooled", winding_unbalance=1.6
        ),
        without="locked_rotor_amps",
    ),
]

ROWS = [*HIGH_SIDE, *LOW_SIDE, *OIL, *MOTOR]
