"""When a cause on the high side, the low side or in a pressure control holds. Rules: section 9."""

from collections.abc import Callable

from assistant.refrigeration.case import Case, Verdict
from assistant.refrigeration.circuit import NONCONDENSABLES_DELTA_DEGF
from assistant.refrigeration.conditions_causes import drops_before_the_header, head_is_judged, head_minimum

CONTROL_PERCENT, CONTROL_DELTA_PSI = 5.0, 1.0
"""A pressure control opening further than this off its setting. Common practice; 1 psi near zero."""


def _split_high(case: Case) -> bool:
    return case.over("condensing_difference", case.site.condensing_limit_delta_degf)


def _fans(case: Case) -> tuple[float | None, float | None]:
    return case.number("condenser_fans_running"), case.number("condenser_fans_called")


def condenser_fouled(case: Case) -> Verdict | None:
    """Face fouled or blocked and the split high."""
    if case.says("condenser_face", "clean"):
        return "ruled_out", ("condenser_face",)
    if not case.says("condenser_face", "fouled", "blocked"):
        return None
    if not _split_high(case):
        return "suspected", case.known("condenser_face", "condensing_difference")
    # With fans cycled, reclaim on, or the head held at its minimum, a wide split is normal.
    return ("proven" if head_is_judged(case) else "supported"), case.known(
        "condenser_face", "condensing_difference", "condenser_fans_called", "every_fan_called", "heat_reclaim",
        "rack_discharge_pressure", "head_set_point",
    )  # fmt: skip


def condenser_fan_failed(case: Case) -> Verdict | None:
    """Fewer fans run than are called."""
    running, called = _fans(case)
    if running is None or called is None:
        return None
    return ("proven" if running < called else "ruled_out"), (
        "condenser_fans_running",
        "condenser_fans_called",
    )


def head_control_fault(case: Case) -> Verdict | None:
    """Fewer fans called than fitted with the head well over its set point."""
    called, fitted = case.number("condenser_fans_called"), case.site.condenser_fans
    head, wanted = case.number("rack_discharge_pressure"), head_minimum(case)
    if called is None or fitted is None or head is None or wanted is None:
        return None
    asks = head >= wanted + case.site.head_over_minimum_delta_psi
    evidence = case.known("condenser_fans_called", "rack_discharge_pressure", "head_set_point")
    return ("proven", evidence) if asks and called < fitted else None


def non_condensables(case: Case) -> Verdict | None:
    """A condenser at rest warmer by its pressure than the air, with the whole rack off."""
    excess = case.derived.get("standing_excess")
    if excess is None:
        return _apparent_subcooling(case)
    evidence = case.known("standing_excess", "idle_test_valid")
    if excess > NONCONDENSABLES_DELTA_DEGF:
        return ("proven" if case.has("idle_test_valid") else "suspected"), evidence
    return ("ruled_out", evidence) if case.has("idle_test_valid") else None


def _apparent_subcooling(case: Case) -> Verdict | None:
    """Subcooling and split high with face and fans good: air as likely as too much refrigerant, until the rack stands."""
    running, called = _fans(case)
    fans = running is not None and called is not None and running >= called
    subcooled = case.over("condenser_subcooling", case.site.subcooling_high_delta_degf)
    if subcooled and _split_high(case) and case.says("condenser_face", "clean") and fans:
        return "suspected", case.known("condenser_subcooling", "condensing_difference", "condenser_face")
    return None


def overcharge(case: Case) -> Verdict | None:
    """Subcooling and split high, face clean, fans running, receiver full. Air looks the same."""
    running, called = _fans(case)
    fans = running is not None and called is not None and running >= called
    subcooled = case.over("condenser_subcooling", case.site.subcooling_high_delta_degf)
    if not (subcooled and _split_high(case) and case.says("condenser_face", "clean") and fans):
        return None
    evidence = case.known(
        "condenser_subcooling", "condensing_difference", "condenser_face", "condenser_fans_running",
        "condenser_fans_called", "receiver_level", "standing_excess", "idle_test_valid",
    )  # fmt: skip
    level, air = case.number("receiver_level"), non_condensables(case)
    full = level is not None and level >= case.site.receiver_full_percent
    clean = air is not None and air[0] == "ruled_out"
    return ("proven" if full and clean else "supported" if full else "suspected"), evidence


def condenser_flooded(case: Case) -> Verdict | None:
    """The winter valve holds liquid in the condenser."""
    if not case.over("condenser_subcooling", case.site.subcooling_high_delta_degf):
        return None
    evidence = case.known("condenser_subcooling", "winter_valve_holding", "ambient_temperature")
    if case.has("winter_valve_holding"):
        return "proven", evidence
    air = case.number("ambient_temperature")
    return ("suspected", evidence) if air is not None and air < case.site.warm_air_degf else None


def discharge_restricted(case: Case) -> Verdict | None:
    """A drop between compressor and condenser."""
    if case.has("discharge_drop_found"):
        return "proven", ("discharge_drop_found",)
    if drops_before_the_header(case):
        return "supported", ("discharge_pressure", "rack_discharge_pressure")
    return None


def _setting(case: Case) -> float | None:
    """Where the control is set [psig]: as read at it, else the profile's of the contact that is open."""
    high, low = case.has("contact_open:high_pressure"), case.has("contact_open:low_pressure")
    known = case.site.high_cutout_psig if high else case.site.low_cutout_psig if low else None
    read = case.number("cutout_pressure")
    return known if read is None else read


def pressure_control_faulty(case: Case) -> Verdict | None:
    """After its reset it opens off its setting on a checked gauge, or will not hold."""
    loose = case.says("control_reset", "will not hold")
    if loose and case.has("pressure_clearly_inside"):
        return "proven", ("control_reset", "pressure_clearly_inside")
    opened, setting = case.number("control_trip_pressure"), _setting(case)
    sure = case.has("reset_tried", "gauge_checked")
    evidence = case.known(
        "control_trip_pressure", "cutout_pressure", "control_reset", "reset_tried", "gauge_checked"
    )
    if opened is None or setting is None:
        return ("suspected", evidence) if loose else None
    if abs(opened - setting) > max(CONTROL_DELTA_PSI, abs(setting) * CONTROL_PERCENT / 100.0):
        return ("proven" if sure else "suspected"), evidence
    holds = case.says("control_reset", "holds", "automatic")
    return ("ruled_out", evidence) if sure and holds else None


def _below_cutout(case: Case) -> bool:
    suction, cutout = case.number("rack_suction_pressure"), case.number("cutout_pressure")
    if cutout is None or (case.has("contact_open:high_pressure") and not case.has("contact_open:low_pressure")):
        cutout = case.site.low_cutout_psig
    return suction is not None and cutout is not None and suction < cutout


def evaporator_load_low(case: Case) -> Verdict | None:
    """Cases iced or off with suction under the cutout."""
    if case.says("case_load", "normal"):
        return "ruled_out", ("case_load",)
    if not case.says("case_load", "iced", "off"):
        return None
    evidence = case.known("case_load", "rack_suction_pressure", "cutout_pressure")
    return ("proven" if _below_cutout(case) else "suspected"), evidence


def suction_restricted(case: Case) -> Verdict | None:
    """Drop of the suction filter over its limit."""
    drop = case.number("suction_filter_drop")
    if drop is None:
        return None
    if drop > case.site.suction_filter_limit_delta_psi:
        return "proven", ("suction_filter_drop",)
    return ("ruled_out", ("suction_filter_drop", "at_load")) if case.has("at_load") else None


def evaporator_fan_or_defrost(case: Case) -> Verdict | None:
    """Iced, with the defrost stuck or the fans stopped."""
    if not case.says("case_load", "iced"):
        return None
    if case.says("defrost_state", "stuck") or case.has("case_fans_stopped"):
        return "proven", case.known("case_load", "defrost_state", "case_fans_stopped")
    return "suspected", ("case_load",)


def liquid_branch_closed(case: Case) -> Verdict | None:
    """One circuit without feed, the others normal."""
    return ("proven", ("one_circuit_dry",)) if case.has("one_circuit_dry") else None


def low_pressure_normal(case: Case) -> Verdict | None:
    """The contact is open because the rack is satisfied and suction is under its setting."""
    contact = case.has("contact_open:low_pressure") or case.says("chain_dead_check", "low pressure")
    if not (contact and _below_cutout(case) and (case.says("controller_calls", "no") or _satisfied(case))):
        return None
    return "proven", case.known(
        "contact_open:low_pressure", "chain_dead_check", "rack_suction_pressure", "cutout_pressure",
        "controller_calls", "case_load", "sight_glass", "circuits_fed",
    )  # fmt: skip


def _satisfied(case: Case) -> bool:
    """Called by its staging, but nothing asks for it: suction at or under its set point, cases normal, circuits fed."""
    suction, wanted = case.number("rack_suction_pressure"), case.site.suction_set_point_psig
    at = suction is not None and wanted is not None and suction <= wanted
    return at and case.says("case_load", "normal") and case.says("sight_glass", "full") and case.has("circuits_fed")


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        condenser_fouled, condenser_fan_failed, head_control_fault, non_condensables, overcharge,
        condenser_flooded, discharge_restricted, pressure_control_faulty, evaporator_load_low,
        suction_restricted, evaporator_fan_or_defrost, liquid_branch_closed, low_pressure_normal,
    )
}  # fmt: skip
