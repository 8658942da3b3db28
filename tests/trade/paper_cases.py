"""For every cause: readings that prove or support it, and a near miss that must not."""

from dataclasses import replace

from assistant.language.meaning import Value
from tests.trade import paper_edges, paper_machine
from tests.trade.paper_kit import SITE, case, row

OFF_AS_FOUND: dict[str, Value] = {"probe_ohms.module_end": 5250.0, "probe_pipe_temperature": 90.0}
OFF = {"probe_curve_ohms": 8050.0, "probe_error_delta_degf": 27.0}
OPEN: dict[str, Value] = {"probe_ohms": "over_range", "probe_pipe_temperature": 90.0}
DEAD_VALVE: dict[str, Value] = {
    "injection_coil_volts": 208.0, "injection_coil_ohms": 410.0, "valve_click": "silent",
    "coil_seated": "seated",
    "injection_hand_valve": "open", "sight_glass": "full", "injection_feed": "dry",
}  # fmt: skip
DEAD_MODULE: dict[str, Value] = {
    "module_supply_volts": 208.0, "module_output_volts": 0.0, "module_enabled": "run signal",
    "module_feed_volts": 207.0, "module_output_fuse": "good", "injection_coil_ohms": 400.0,
}  # fmt: skip
TESTED = "stimulus_right timer_elapsed low_impedance dead_when_coil_read"
LOW_CHARGE: dict[str, Value] = {
    "receiver_level": 4.0, "drier_temperature_drop": 1.0, "leak_found": "yes", "sight_glass": "bubbles",
    "defrost_state": "none", "heat_reclaim": "none", "ambient_temperature": 75.0,
}  # fmt: skip
RUNNING_HOT: dict[str, Value] = {
    "running_now": "running", "discharge_temperature": 250.0, "head_pattern": "even", "controller_refrigerant": "R449A",
    "rack_discharge_pressure": 160.0,
}
JUDGED: dict[str, Value] = {
    "condenser_fans_called": 6.0, "rack_discharge_pressure": 232.0, "heat_reclaim": "off",
}  # fmt: skip

INJECTION = [
    row(
        "probe_fouled",
        "proven",
        case({**OFF_AS_FOUND, "probe_ohms.cleaned": 8000.0}, **OFF, probe_error_cleaned_delta_degf=0.1),
        derived={"probe_error_cleaned_delta_degf": 12.0},
    ),
    row("probe_fouled", "proven", case({"probe_response": "slow"}), readings={"probe_response": "quick"}),
    row(
        "probe_fouled",
        "suspected",
        case({"probe_condition": "fouled"}),
        readings={"probe_condition": "clean"},
    ),
    row(
        "probe_failed",
        "proven",
        case(
            {"probe_ohms": 5250.0},
            "standing_over_an_hour",
            probe_curve_ohms=8050.0,
            probe_error_at_probe_delta_degf=27.0,
        ),
        without="standing_over_an_hour",
    ),
    row(
        "probe_failed", "proven", case(OPEN, probe_curve_ohms=72_000.0), derived={"probe_curve_ohms": 1.25e6}
    ),
    row(
        "probe_failed",
        "proven",
        case({"probe_ohms": 20_000.0}, "standing_over_an_hour", probe_curve_ohms=72_000.0),
        readings={"probe_ohms": 30_000.0},
    ),
    row(
        "probe_failed",
        "supported",
        case(OFF_AS_FOUND, "standing_over_an_hour", **OFF),
        without="standing_over_an_hour",
    ),
    row(
        "probe_failed",
        "ruled_out",
        case(
            {"probe_ohms": 8000.0},
            "standing_over_an_hour",
            probe_curve_ohms=8050.0,
            probe_error_at_probe_delta_degf=-0.4,
        ),
        without="standing_over_an_hour",
    ),
    row("probe_loose", "proven", case({"probe_condition": "loose"}), readings={"probe_condition": "damaged"}),
    row(
        "probe_wiring_faulty",
        "proven",
        case({**OFF_AS_FOUND, "probe_ohms": 8000.0}, **OFF, probe_error_at_probe_delta_degf=0.3),
        derived={"probe_error_at_probe_delta_degf": 25.0},
    ),
    row(
        "injection_coil_failed",
        "proven",
        case({"injection_coil_ohms": "over_range"}, "dead_when_coil_read"),
        without="dead_when_coil_read",
    ),
    row(
        "injection_coil_failed",
        "proven",
        case({"injection_coil_ohms": 150.0}, "dead_when_coil_read"),
        readings={"injection_coil_ohms": 300.0},
    ),
    row(
        "injection_coil_failed",
        "proven",
        case(
            {"injection_coil_ohms": 150.0, "injection_coil_ohms.like": 420.0},
            "dead_when_coil_read",
            replace(SITE, coil_ohms=None),
        ),
        readings={"injection_coil_ohms.like": None},
    ),
    row(
        "injection_coil_failed",
        "ruled_out",
        case({"injection_coil_ohms": 330.0}, "dead_when_coil_read"),
        readings={"injection_coil_ohms": 310.0},
    ),
    row(
        "injection_coil_loose",
        "proven",
        case({"coil_seated": "loose", "valve_click": "silent"}),
        readings={"valve_click": "click"},
    ),
    row(
        "injection_hand_valve_closed",
        "proven",
        case({"injection_hand_valve": "closed"}),
        readings={"injection_hand_valve": "open"},
    ),
    row(
        "injection_valve_stuck_closed",
        "supported",
        case(DEAD_VALVE, "dead_when_coil_read"),
        readings={"injection_hand_valve": None},
    ),
    row(
        "injection_valve_stuck_closed",
        "supported",
        case(DEAD_VALVE, "dead_when_coil_read"),
        readings={"injection_coil_volts": 120.0},
    ),
    row(
        "injection_valve_stuck_closed",
        "proven",
        case(DEAD_VALVE, "dead_when_coil_read valve_opened_or_replaced feed_seen_after"),
        without="feed_seen_after",
    ),
    row(
        "injection_valve_leaking",
        "proven",
        case({"injection_outlet_temperature": 35.0}, "five_minutes_power_off", surroundings_degf=70.0),
        derived={"surroundings_degf": 54.0},
    ),
    row(
        "injection_valve_leaking",
        "proven",
        case({"injection_outlet_temperature": 35.0, "ambient_temperature": 86.0}, "five_minutes_power_off"),
        without="five_minutes_power_off",
    ),
    row(
        "injection_valve_leaking",
        "supported",
        case({"injection_after": "feeding"}, "five_minutes_power_off"),
        without="five_minutes_power_off",
    ),
    row(
        "injection_valve_leaking",
        "ruled_out",
        case({"injection_after": "stopped"}),
        readings={"injection_after": "feeding"},
    ),
    row(
        "injection_wiring_open",
        "proven",
        case({"module_output_volts": 207.0, "injection_coil_volts": "none_present"}),
        readings={"injection_coil_volts": 60.0},
    ),
    row(
        "module_no_supply",
        "proven",
        case({"module_supply_volts": 0.3}),
        readings={"module_supply_volts": 90.0},
    ),
    row("module_no_output", "proven", case(DEAD_MODULE, TESTED), without="stimulus_right"),
    row("module_no_output", "proven", case(DEAD_MODULE, TESTED), readings={"module_feed_volts": None}),
    row(
        "module_no_output",
        "supported",
        case(DEAD_MODULE, "stimulus_right timer_elapsed dead_when_coil_read"),
        readings={"module_enabled": "no run signal"},
    ),
    row(
        "module_output_stuck_on",
        "proven",
        case({"injection_coil_volts": 208.0}, "coil_volts_stimulus_out probe_cool low_impedance"),
        without="probe_cool",
    ),
    row(
        "module_output_stuck_on",
        "proven",
        case({"injection_coil_volts": 208.0}, "coil_volts_stimulus_out probe_cool low_impedance"),
        without="coil_volts_stimulus_out",
    ),
    row(
        "module_output_fuse",
        "proven",
        case({"module_output_fuse": "blown", "injection_coil_ohms": 150.0}),
        readings={"injection_coil_ohms": None},
    ),
    row(
        "module_false_trip",
        "proven",
        case(
            {"probe_ohms.module_end": 70_000.0, "module_supply_volts": 208.0},
            "contact_open:discharge_temperature discharge_stays_open standing_over_an_hour",
            probe_curve_ohms=72_000.0,
            probe_error_delta_degf=1.5,
            probe_reads_degf=91.5,
        ),
        without="discharge_stays_open",
    ),
    row(
        "injection_strainer_plugged",
        "proven",
        case({}, "strainer_opened_plugged"),
        without="strainer_opened_plugged",
    ),
    row(
        "injection_strainer_plugged",
        "supported",
        case({"strainer_temperature_drop": 5.0, "valve_click": "click"}),
        readings={"valve_click": "silent"},
    ),
    row(
        "liquid_feed_restricted",
        "supported",
        case({"injection_feed": "weak", "valve_click": "click", "sight_glass": "full"}, "feed_test_run stimulus_right"),
        without="stimulus_right",
    ),
    row(
        "injection_wrong_size",
        "supported",
        case({**RUNNING_HOT, "injection_feed": "feeding"}, "injection_seen_running",
             replace(SITE, ratio_limit=None), ratio=11.0, superheat=30.0),
        derived={"ratio": 13.0},
    ),
    row(
        "injection_wrong_size",
        "supported",
        case(RUNNING_HOT, "injection_seen_running", ratio=10.0, superheat=28.0),
        derived={"superheat": 46.0},
    ),
    row(
        "head_fan_failed",
        "proven",
        case({"head_fan_running": "no", "running_now": "running"}),
        readings={"running_now": "off"},
    ),
    row(
        "head_fan_failed",
        "proven",
        case({"head_fan_running": "no"}, "head_fan_broken"),
        without="head_fan_broken",
    ),
]

LIQUID = [
    row("refrigerant_low", "proven", case(LOW_CHARGE), readings={"leak_found": None}),
    row(
        "refrigerant_low",
        "proven",
        case({**LOW_CHARGE, "leak_found": "no", "refrigerant_added": 45.0}, "charge_restored"),
        readings={"refrigerant_added": None},
    ),
    row("refrigerant_low", "proven", case(LOW_CHARGE), readings={"drier_temperature_drop": 4.0}),
    row("refrigerant_low", "proven", case(LOW_CHARGE), readings={"ambient_temperature": 10.0}),
    row("refrigerant_low", "suspected", case({"sight_glass": "bubbles"}), readings={"sight_glass": "full"}),
    row(
        "drier_plugged",
        "proven",
        case({"drier_temperature_drop": 4.0, "receiver_level": 40.0}, "at_load"),
        readings={"receiver_level": 5.0},
    ),
    row(
        "drier_plugged",
        "supported",
        case({"drier_temperature_drop": 4.0}),
        readings={"drier_temperature_drop": 2.5},
    ),
    row("drier_plugged", "ruled_out", case({"drier_temperature_drop": 1.0}, "at_load"), without="at_load"),
    row(
        "liquid_valve_closed",
        "proven",
        case({}, "liquid_valve_part_closed glass_full_upstream"),
        without="glass_full_upstream",
    ),
    row(
        "liquid_line_hot",
        "proven",
        case({"receiver_level": 40.0, "drier_temperature_drop": 1.0}, liquid_rise_delta_degf=8.0),
        readings={"receiver_level": 5.0},
    ),
    row(
        "wrong_refrigerant",
        "proven",
        case({"refrigerant_label": "R22"}),
        readings={"refrigerant_label": "R449A"},
    ),
    row(
        "seal_leak_retrofit",
        "proven",
        case({"leak_found": "yes"}, "leak_at_seal retrofit_changed_oil"),
        without="retrofit_changed_oil",
    ),
]

CONDITIONS = [
    row(
        "return_gas_hot",
        "proven",
        case(
            {"running_now": "running"},
            superheat=94.0,
            discharge_band_high=263.0,
            band_high_at_design_superheat=200.0,
        ),
        derived={"band_high_at_design_superheat": 210.0},
    ),
    row(
        "return_gas_hot",
        "supported",
        case(
            {"running_now": "running"},
            superheat=60.0,
            discharge_band_high=330.0,
            band_high_at_design_superheat=295.0,
        ),
        derived={"band_high_at_design_superheat": 315.0},
    ),
    row(
        "return_gas_hot",
        "ruled_out",
        case({"suction_temperature": 5.0}, superheat=28.0),
        readings={"suction_temperature": None},
    ),
    row(
        "head_high",
        "proven",
        case(JUDGED, condensing_difference=34.0),
        readings={"condenser_fans_called": 3.0},
    ),
    row("head_high", "proven", case(JUDGED, condensing_difference=34.0), readings={"heat_reclaim": "on"}),
    row(
        "head_high",
        "proven",
        case(JUDGED, condensing_difference=79.0),
        readings={"rack_discharge_pressure": 140.0},
    ),
    row(
        "suction_low",
        "proven",
        case({"sight_glass": "full", "running_count": 3.0}, "contact_open:discharge_temperature", suction_under_design=6.0),
        derived={"suction_under_design": 1.0},
    ),
    row(
        "suction_low",
        "supported",
        case({"sight_glass": "bubbles", "running_count": 3.0}, "contact_open:discharge_temperature", suction_under_design=6.0),
        readings={"running_count": 0.0},
    ),
    row(
        "discharge_valves_leaking",
        "supported",
        case({"pump_down_low": -3.0, "pump_down_rise": 8.0}),
        readings={"pump_down_rise": 2.0},
    ),
    row(
        "discharge_valves_leaking",
        "proven",
        case({"pump_down_low": 6.0}, "pump_down_tried_twice"),
        without="pump_down_tried_twice",
    ),
    row(
        "discharge_valves_leaking",
        "supported",
        case({**RUNNING_HOT, "others_discharge_temperature": 215.0, "injection_feed": "feeding"}),
        readings={"others_discharge_temperature": 240.0},
    ),
    row(  # not seen fed, it may be hot for want of its injection
        "discharge_valves_leaking",
        "supported",
        case({**RUNNING_HOT, "others_discharge_temperature": 215.0, "injection_feed": "feeding"}),
        readings={"injection_feed": "dry"},
    ),
    row(
        "discharge_valves_leaking",
        "supported",
        case({}, "injection_shut", implied_efficiency=0.45),
        without="injection_shut",
    ),
    row(
        "controller_wrong_refrigerant",
        "proven",
        case({"controller_refrigerant": "R22"}),
        readings={"controller_refrigerant": "R449A"},
    ),
    row(
        "after_defrost",
        "proven",
        case({"defrost_state": "within the hour"}, "all_checked watch_done settled"),
        without="settled",
    ),
    row(
        "capacity_control_stuck",
        "proven",
        case({"capacity_control": "unloaded", "rack_suction_pressure": 22.0}),
        readings={"rack_suction_pressure": 9.0},
    ),
    row(
        "upper_stage_down",
        "proven",
        case({"cascade_state": "tripped", "rack_discharge_pressure": 300.0, "head_set_point": 200.0}),
        readings={"rack_discharge_pressure": 205.0},
    ),
]

CHAIN = [
    row("not_called", "proven", case({"controller_calls": "no"}), readings={"controller_calls": "yes"}),
    row("not_called", "proven", case({"switch_position": "off"}), readings={"switch_position": "auto"}),
    row(
        "controller_fault",
        "proven",
        case({"controller_mode": "dead", "rack_suction_pressure": 25.0}),
        readings={"rack_suction_pressure": 9.0},
    ),
    row(
        "control_supply_lost",
        "proven",
        case({"control_volts": "none_present", "chain_point.supply": 0.0}),
        readings={"control_volts": 60.0},
    ),
    row(
        "control_supply_lost",
        "supported",
        case({"control_volts": "none_present"}),
        readings={"control_volts": 60.0},
    ),
    row(
        "phase_monitor_open",
        "proven",
        case({"phase_monitor_state": "tripped"}),
        readings={"phase_monitor_state": "normal"},
    ),
    row(
        "common_supply_lost",
        "proven",
        case({"trip_spread": "together", "module_supply_volts": 0.0}, "several_modules_dead"),
        readings={"trip_spread": "weeks"},
    ),
    row(
        "common_supply_lost",
        "supported",
        case({"trip_spread": "together", "module_supply_volts": 0.0}, "several_off"),
        readings={"module_supply_volts": 208.0},
    ),
    row(
        "starter_coil_failed",
        "proven",
        case({"contactor_coil_volts": 208.0, "starter_coil_ohms": "over_range"}, "starter_dead_when_read"),
        readings={"starter_coil_ohms": 61.0},
    ),
    row(
        "starter_coil_failed",
        "proven",
        case({"contactor_coil_volts": 208.0, "starter_coil_ohms": "over_range"}, "starter_dead_when_read"),
        readings={"contactor_coil_volts": None},
    ),
    row(
        "chain_wiring_open",
        "proven",
        case(
            {"phase_monitor_state": "normal", "chain_point.oil_pressure": 208.0, "chain_point.high_pressure": 0.0},
            "contact_closed:oil_pressure contact_closed:high_pressure",
        ),
        without="contact_closed:oil_pressure",
    ),
    row(
        "chain_wiring_open",
        "supported",
        case({"chain_point.discharge_temperature": 208.0, "contactor_coil_volts": 0.0}),
        readings={"contactor_coil_volts": 90.0},
    ),
    row(
        "liquid_slugged",
        "proven",
        case({"oil_level": "foaming"}, crankcase_superheat=4.0),
        derived={"crankcase_superheat": 30.0},
    ),
    row(
        "liquid_slugged",
        "proven",
        case({"injection_outlet_temperature": 35.0}, "five_minutes_power_off", surroundings_degf=70.0),
        derived={"surroundings_degf": None},
    ),
    row("no_fault_found", "proven", case({}, "all_checked watch_done settled"), without="settled"),
    row(
        "no_fault_found",
        "proven",
        case({}, "all_checked watch_done settled"),
        readings={"injection_hand_valve": "closed"},
    ),
]

ROWS = [*INJECTION, *LIQUID, *CONDITIONS, *CHAIN, *paper_machine.ROWS, *paper_edges.ROWS]
