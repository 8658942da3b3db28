"""What the steps of every call ask of the readings."""

from collections.abc import Callable

from assistant.branches.actions import action
from assistant.branches.injection.causes import far_over_a_neighbour
from assistant.branches.motor.conditions import amps_over, motor_branch
from assistant.branches.search import (
    FRONT,
    decided,
    decided_still,
    explained,
    found,
    in_branch,
    in_question,
    none_open,
    several,
    standing,
    to_mend,
)
from assistant.profile import Rack
from assistant.trade.case import Case

LEVERS = ("what_if_colder_return", "what_if_lower_head", "what_if_higher_suction")
"""Derived values: what the discharge would do with one thing changed."""


def _liquid_in_question(case: Case) -> bool:
    return several(case) or case.says("sight_glass", "bubbles", "empty")


def _liquid_flows(case: Case) -> bool:
    """A drier drops nothing while no machine of the rack runs."""
    return not case.under("running_count", 1) or case.says("running_now", "running")


def _repair_in_question(case: Case) -> bool:
    of_the_liquid = any(standing(case, c) for c in ("liquid_feed_restricted", "liquid_valve_closed", "drier_plugged"))
    mended = decided(case) or of_the_liquid or to_mend(case) in (("oil_level_low",), ("head_fan_failed",))
    return mended and not standing(case, "low_pressure_normal") and not any(c in FRONT for c in found(case))


def _still_hot(case: Case) -> bool:
    line, trip = case.number("watch.discharge_temperature") or 0.0, case.site.trip_temperature_degf or 0.0
    return not decided_still(case, "discharge") and line > trip - case.site.limits.settled_under_trip_delta_degf


def _contact_unknown(case: Case) -> bool:
    return not case.contacts and not case.says("drive_fault", "yes")


def _something_to_reset(case: Case) -> bool:
    return not none_open(case) or case.says("phase_monitor_state", "tripped")


def _hot_unexplained(case: Case) -> bool:
    """It was stopped over its trip, and nothing found so far says why."""
    trip, line = case.site.trip_temperature_degf, case.number("watch.discharge_temperature")
    over = trip is not None and line is not None and line >= trip
    return over and not decided_still(case, "discharge")


def _valves_suspected(case: Case) -> bool:
    """One hot head, or a line far over a neighbour's: its valves or its head gasket may leak by. A pump-down tells more."""
    return case.says("head_pattern", "one hot") or far_over_a_neighbour(case) is not None


def pump_down_failed(case: Case) -> bool:
    """It did not pull its closed suction down."""
    return case.over("pump_down_low", case.site.limits.pump_down_reach_psig)


def _discharge_may_be(case: Case) -> bool:
    """No lamp, code or alarm says that another protection tripped."""
    return not case.says("protection_shown", "oil", "high pressure", "low pressure", "motor", "supply")


def _part_wanted(case: Case) -> bool:
    """What was found is mended with another part."""
    return any("replace" in action(cause, "proven").lower() for cause in to_mend(case))


def _defrost_in_question(case: Case) -> bool:
    """A defrost was on or stuck, or cases are iced: it may have been switched off for the work."""
    return case.says("defrost_state", "now", "stuck") or case.says("case_load", "iced")


def _pressure_contact(case: Case) -> str:
    return "high pressure" if in_branch(case, "high pressure") else "low pressure"


JUDGED: dict[str, Callable[[Case], bool]] = {
    "part_wanted": _part_wanted,
    "defrost_in_question": _defrost_in_question,
    "discharge_may_be": _discharge_may_be,
    "several_off": several,
    "liquid_in_question": _liquid_in_question,
    "liquid_flows": _liquid_flows,
    "machine_in_question": in_question,
    "contact_unknown": _contact_unknown,
    "no_contact_open": none_open,
    "nothing_found": lambda case: not explained(case, _pressure_contact(case)),
    "repair_in_question": _repair_in_question,
    "restore_wanted": lambda case: not any(c in FRONT for c in found(case)),
    "something_to_reset": _something_to_reset,
    "still_hot": _still_hot,
    "hot_unexplained": _hot_unexplained,
    "superheat_low": lambda case: case.under("superheat", case.site.limits.superheat_low_delta_degf),
    "valves_suspected": _valves_suspected,
    "pump_down_failed": pump_down_failed,
    "others_run": lambda case: (case.number("running_count") or 0) >= 1,
    "levers_known": lambda case: any(i in case.derived for i in LEVERS),
}
"""Conditions that rest on measurement and judgement: a walk lets each come out either way. No rule of safety may rest on one."""
FITTED: dict[str, Callable[[Rack], bool]] = {
    "isolator_stops_rack": lambda rack: rack.panel.control_isolator_stops == "rack",
    "pump_down_possible": lambda rack: rack.machine_kind == "reciprocating",
    "drive_or_capacitors": lambda rack: rack.panel.drive or rack.panel.capacitors,
}
"""Conditions that the profile answers."""
FACTS: dict[str, Callable[[Case], bool]] = {
    "several_off": several,
    "watch_done": lambda case: case.has("last_round_read")
    and not (motor_branch(case) and amps_over(case) and not case.has("amps_read_again")),
    "at_load": lambda case: case.has("read_running")
    or ((case.number("running_count") or 0) >= 1 and case.says("defrost_state", "none")),
}
"""Facts that follow from the readings."""
