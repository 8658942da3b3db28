"""The monitor's own tables of the trade: which question needs which hands, what blocks a start, what goes with what.

They are written down a second time on purpose. A label that is missing or wrong in the procedures must not be able to
blind the monitor, so it reads nothing of them. Figures are common practice where no source is named; the site's
profile goes before them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

PROOF = ("panel_tag", "locked_out", "meter_proved_before", "dead_volts.power", "dead_volts.control", "dead_volts.drive",
         "meter_proved_after")  # fmt: skip
"""The proof of absence of voltage, in its order."""
PROOF_IDS = frozenset(PROOF)
WINDINGS = ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca")

IN_A_PANEL = frozenset({
    "jumper_fitted", "leads_on", "wire_lifted", "start_blocked", "clamp_left_on", "terminal_cover", "panel_cover",
})  # fmt: skip
"""Obligations that hang in one machine's panel."""
CLEARED_IN_A_PANEL: Mapping[str, frozenset[str]] = {
    "jumper_fitted": frozenset({"jumper_removed", "jumper_out"}), "leads_on": frozenset({"unclip"}),
    "wire_lifted": frozenset({"wire_back"}), "start_blocked": frozenset({"unblock"}),
    "terminal_cover": frozenset({"terminal_close"}), "clamp_left_on": frozenset({"unclamp"}),
}  # fmt: skip
"""Of those, what hands take off in the panel, each with the acts and ids that do it."""
HANDS_IN = frozenset({
    "chain_dead_check", "control_fuse", "starter_coil_ohms", "probe_ohms", "probe_ohms.module_end", "probe_ohms.cleaned",
    "probe_cleaned", "probe_response", "injection_coil_ohms", "injection_coil_ohms.like", "module_output_fuse",
    "start_prevented", "jumper_fitted", "jumper_removed", "leads_clipped", *WINDINGS, "ground_megohms",
    "protector_string_ohms", "overload_state",
})  # fmt: skip
"""Asked, these mean hands in an open panel or terminal box."""
LIVE = frozenset({
    "control_volts", "contactor_coil_volts", "module_supply_volts", "module_output_volts", "module_feed_volts",
    "injection_coil_volts", "module_enabled", "valve_click",
    *(f"safety_volts.{c}" for c in ("oil_pressure", "high_pressure", "low_pressure", "motor_protection",
                                    "discharge_temperature")),
    *(f"chain_point.{c}" for c in ("supply", "oil_pressure", "high_pressure", "low_pressure", "motor_protection",
                                   "discharge_temperature")),
    *(f"line_volts.{c}" for c in ("ab", "bc", "ca")), *(f"fuse_volts.{c}" for c in "abc"),
})  # fmt: skip
"""Asked, these are read with power on and a cover off."""
HAND_HELD = LIVE - {"injection_coil_volts", "valve_click", "module_enabled"}
"""Of those, the ones read with a probe in each hand: the leads on the injection coil were clipped while dead."""
ONE_PLACE = tuple(frozenset(f"{group}.{leg}" for leg in legs) for group, legs in (
    ("line_volts", ("ab", "bc", "ca")), ("fuse_volts", ("a", "b", "c"))))  # fmt: skip
"""Several readings at one place."""
AT_THE_MACHINE = frozenset({
    "reset_device", "reset_history", "injection_hand_valve", "coil_seated", "probe_condition", "probe_pipe_temperature",
    "oil_level", "crankcase_temperature", "crankcase_and_heads", "strainer_temperature_drop", "injection_after",
    "injection_outlet_temperature", "service_valves_open", "panel_tag", "locked_out",
})  # fmt: skip
"""Asked, these take the technician to the machine itself."""
ON_THE_ROOF = frozenset({"condenser_fans_running", "condenser_face", "fan_rotation"})
"""Asked on the way to a diagnosis, these take the technician to the condenser and its fans."""
OUTSIDE = frozenset({
    "follow_up_owner", "follow_up_in_hours", "store_told", "close_consent", "product_state", "product_temperature",
    "minutes_to_limit", "product_lost", "load_shed", "note", "detector_state", "ventilation_running", "room_safe",
    "everybody_safe", "technician", "supervisor_agreed", "part_left_in_use", "part_used", "part_to_order",
    "refrigerant_added", "addition_reason", "leak_place", "emergency_kind", "site", "rack", "compressor", "command",
    "lock_still_on", "fit_to_start", "confirm",
})  # fmt: skip
"""What may be asked of somebody who stands outside the room. Acts in the words still count."""
PROCESS = frozenset({
    "suction_pressure", "discharge_pressure", "suction_temperature", "discharge_temperature", "rack_suction_pressure",
    "rack_discharge_pressure", "liquid_pressure", "liquid_temperature", "liquid_out_temperature", "crankcase_temperature",
    "crankcase_pressure", "oil_pump_pressure", "reservoir_pressure", "ambient_temperature", "idle_condenser_pressure",
    "watch.suction_pressure", "watch.discharge_pressure", "watch.discharge_temperature",
})  # fmt: skip
"""Pressures and temperatures that belong to one round when one value is worked out from them."""
ROUND_MINUTES = 15.0
"""Readings further apart are not of one round: boxes and pressures drift in that time. Our judgement."""

# ---- figures

DEAD_V, SECOND_SOURCE_V = 3.0, 30.0
"""Absence of voltage on the low-impedance setting; over this a second source is looked for. Common practice."""
FEED_BUDGET_S = 30.0
"""Seconds of liquid into a standing machine in one call. Common practice."""
HOT_PIPE_DEGF = 130.0
AT_ZERO_PSI = 0.5
"""A gauge nearer to zero than this stands at zero. Common practice."""
GROUND_FAILS_MOHM = 1.0
LOCKED_LONG_MINUTES = 60.0
HEATER_MINUTES = 30.0
"""What a crankcase heater needs at least before a start. Common practice; the maker's time goes before it."""
SETTLED_MINUTES, UNDER_TRIP_DELTA_DEGF = 20.0, 15.0
SAME_SENTENCE_S = 60.0

FLAMMABLE = frozenset({"R454A", "R454C", "R455A", "R454B", "R32", "R1234yf", "R1234ze", "R290", "R600a", "R1270"})
"""Safety groups A2L and A3 (ASHRAE 34, from memory)."""
CARBON_DIOXIDE = frozenset({"R744"})
SUITS = frozenset({("ntc", "jumper"), ("ntc", "resistor"), ("ptc", "resistor"), ("rtd", "resistor")})
"""Probe kinds and the test plugs that a module takes for a hot probe."""


# ---- what is hooked up


@dataclass(frozen=True)
class Rule:
    """What an obligation means to the monitor."""

    names: str
    """Pattern of what it is called when it is spoken."""
    blocks: bool
    hand_over: str
    """`never`, `locked` (only with the machine locked and tagged out) or `owner` (by name and date)."""
    hours: float = 0


OBLIGATIONS: Mapping[str, Rule] = {
    "leak_over_limit": Rule("law", False, "owner", 720),
    "floodback": Rule("floods", False, "owner", 24),
    "jumper_fitted": Rule("jumper|resistor|test plug", True, "never"),
    "start_blocked": Rule("start block", True, "never"),
    "leads_on": Rule("lead", True, "never"),
    "wire_lifted": Rule("wire|module", True, "never"),
    "terminal_cover": Rule("terminal cover", True, "never"),
    "panel_cover": Rule("panel cover|cover off", True, "locked"),
    "locked_out": Rule("your lock|lock", True, "locked"),
    "fan_lock": Rule("lock on the fans", True, "locked"),
    "lock_elsewhere": Rule("lock on another|lock.*machine", True, "never"),
    "second_lock": Rule("second source", True, "locked"),
    "clamp_left_on": Rule("clamp|thermocouple", False, "never"),
    "hose_on": Rule("hose|gauge", False, "never"),
    "liquid_section_closed": Rule("liquid", False, "never"),
    "section_shut": Rule("section", True, "locked"),
    "circuit_open": Rule("circuit|tight", True, "locked"),
    "valve_closed.discharge": Rule("discharge valve", True, "locked"),
    "valve_closed.suction": Rule("suction valve", True, "locked"),
    "valve_closed.injection": Rule("hand valve", True, "locked"),
    "liquid_in_compressor": Rule("liquid", True, "locked"),
    "switch_in_hand": Rule("hand", False, "owner", 24),
    "defrost_disabled": Rule("defrost", False, "owner", 24),
    "set_point_changed": Rule("set point", False, "owner", 24),
    "capacity_forced": Rule("loading|capacity", False, "owner", 24),
    "part_borrowed": Rule("part", False, "owner"),
    "reset_substitute": Rule("reset", False, "owner"),
    "no_cause_reset": Rule("running|not settled|cause", False, "owner", 48),
    "leak_open": Rule("leak", False, "owner"),
}

# ---- cautions: what was really said


CAUTIONS: Mapping[str, tuple[str, str]] = {
    # caution: key phrases that its short form must have, and those that its full form must have besides; `.*` joins
    "lock_out": (r"read.*the tag.*your own lock", r"your own key.*control power"),
    "live": (r"\blive\..*gloves.*shield.*one hand", r"label.*clothing.*leathers.*no label, water, damage"),
    "live_place": (r"not from metal.*not wet.*not touching pipe", r"no metal ladder.*no wet gloves"),
    "restart": (r"(?:can )?start.* by itself", r"without warning"),
    "fans": (r"fans start by themselves", r"arm's length.*locked out"),
    "hot_line": (r"pipe is hot.*gloves", r"(?:200|two hundred|90|ninety).*before you touch"),
    "probe_in_gas": (r"unplug only.*do not take out", r"opens the system"),
    "jumper": (r"start blocked first.*test only", r"block the starter.*every second feeds liquid"),
    "liquid_in_machine": (r"liquid inside.*do not start", r"waiting alone"),
    "liquid_and_cold": (r"liquid burns cold.*gloves.*glasses", r"takes the air.*licence"),
    "room": (r"detector.*fan", r"oxygen.*stay out"),
    "carbon_dioxide": (r"leave at half a percent", r"never re-?enter.*never shut"),
    "flammable": (r"no sparks.*no live work", r"rated detector.*ventilation"),
    "ladder": (r"three points.*tied.*edge", r"rungs.*(?:roof )?edge"),
    "valves": (r"never close discharge running", r"bursts a head.*never shut liquid"),
    "coil": (r"never powered off its stem", r"burns.*power off before it is lifted"),
    "insulation_test": (r"no vacuum.*modules off.*discharge", r"(?:500|five hundred) volts.*disconnect"),
    "terminals": (r"stand aside.*terminals can blow out", r"never power with the cover off"),
    "acid": (r"acid.*gloves.*glasses", r"skin and eyes"),
    "charging": (r"read rack and cylinder.*same refrigerant", r"liquid.*80 percent.*weigh"),
    "pressure_test": (r"nitrogen.*never oxygen", r"compressed air.*low side"),
    "brazing": (r"recover.*nitrogen.*fire watch", r"phosgene"),
    "rotation": (r"listen.*backwards.*stop", r"reversed scroll"),
    "calculation": (r"calculation only", r"head minimum"),
    "reset": (r"one reset only", r"second trip.*leave it off"),
}
ALONE = frozenset({"lock_out", "jumper", "reset"})
"""Cautions that are acknowledged on their own; the live one together with its place only."""
EMERGENCY = (r"hands off", r"power off.*(?:disconnect|control power)", r"touch nobody until", r"out, upwind",
             r"call emergency services", r"address")  # fmt: skip
"""The words after "emergency", in their order."""

# ---- which repair needs what (rule S31)

_PANEL = ("injection_coil_failed", "injection_wiring_open", "module_no_output", "module_no_supply", "module_output_fuse",
          "module_output_stuck_on", "module_false_trip", "probe_wiring_faulty", "control_supply_lost", "starter_coil_failed",
          "chain_wiring_open", "contactor_faulty", "phase_lost", "motor_protection_faulty", "common_supply_lost",
          "phase_reversed", "injection_coil_loose", "drive_faulted", "phase_monitor_open")  # fmt: skip
_SECTION = ("injection_valve_stuck_closed", "injection_strainer_plugged", "injection_valve_leaking", "injection_wrong_size",
            "drier_plugged", "liquid_feed_restricted", "oil_separator_stuck", "suction_restricted")  # fmt: skip
_OPENED = ("winding_failed", "winding_grounded", "compressor_seized", "discharge_valves_leaking", "discharge_restricted",
           "oil_pump_worn", "oil_control_faulty", "pressure_control_faulty", "oil_supply_failed", "oil_wrong")  # fmt: skip
_CHARGE = ("non_condensables", "overcharge", "wrong_refrigerant")
REPAIR_NEEDS: Mapping[str, frozenset[str]] = {
    **dict.fromkeys(_PANEL, frozenset({"dead"})),
    **dict.fromkeys(_SECTION, frozenset({"emptied"})),
    **dict.fromkeys(_OPENED, frozenset({"dead", "isolated", "recovered"})),
    **dict.fromkeys(_CHARGE, frozenset({"recovered"})),
    "probe_fouled": frozenset({"dead"}), "probe_failed": frozenset({"dead"}), "probe_loose": frozenset({"dead"}),
    **dict.fromkeys(("condenser_fan_failed", "condenser_fouled"), frozenset({"locked", "fans"})),
    "head_fan_failed": frozenset({"dead", "fans"}),
}  # fmt: skip
REPAIR_CAUTIONS: Mapping[str, frozenset[str]] = {
    **dict.fromkeys((*_SECTION, *_OPENED, *_CHARGE), frozenset({"liquid_and_cold"})),
    "injection_coil_failed": frozenset({"coil"}), "injection_coil_loose": frozenset({"coil"}),
    "winding_failed": frozenset({"acid", "liquid_and_cold"}),
    "winding_grounded": frozenset({"acid", "terminals", "liquid_and_cold"}),
    **dict.fromkeys(("condenser_fan_failed", "condenser_fouled", "head_fan_failed"), frozenset({"fans"})),
    **dict.fromkeys(("probe_fouled", "probe_failed", "probe_loose"), frozenset({"hot_line"})),
}  # fmt: skip
EVIDENCE: Mapping[str, frozenset[str]] = {
    "emptied": frozenset({"section_emptied", "emptied", "liquid_section_emptied", "isolated_at_zero", "recovered"}),
    "isolated": frozenset({"isolated_at_zero", "isolated_and_zero", "isolated", "machine_isolated"}),
    "recovered": frozenset({"recovered", "refrigerant_recovered"}),
    "fans": frozenset({"fans_locked"}),
}
"""Facts of a step that stand for what a repair needs."""

BEFORE_RESET: Mapping[str, tuple[str, ...]] = {
    "oil": ("oil_level", "crankcase_temperature"),
    "high pressure": ("condenser_fans_running", "condenser_face"),
    "motor": (*WINDINGS, "ground_megohms"),
}
"""Read before the one reset of these protections."""
ACROSS: Mapping[str, str] = {
    "oil_pressure": "oil", "high_pressure": "high pressure", "low_pressure": "low pressure", "motor_protection": "motor",
    "discharge_temperature": "discharge",
}  # fmt: skip
"""Contacts by the last part of the id that measures across them."""

MUST_NOT_RUN = frozenset({"winding_failed", "winding_grounded", "supply_unbalanced"})
"""Causes with which no machine is left running (S18, S41), whenever they are shown."""
