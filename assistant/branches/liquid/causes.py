"""When a cause in the charge or the liquid line holds. Rules: section 6, "Liquid"."""

from collections.abc import Callable

from assistant.trade.case import Case, Verdict


def _receiver_normal(case: Case) -> bool:
    return case.at_least("receiver_level", case.site.limits.receiver_normal_percent)


def _drier_good(case: Case) -> bool:
    return case.under("drier_temperature_drop", case.site.limits.drier_good_delta_degf)


def _drier_bad(case: Case) -> bool:
    return case.over("drier_temperature_drop", case.site.limits.drier_bad_delta_degf)


def refrigerant_low(case: Case) -> Verdict | None:
    """Receiver low, rack steady, drier good, and a leak or a charge that restored it. Glass: suspected."""
    evidence = case.known(
        "receiver_level",
        "drier_temperature_drop",
        "leak_found",
        "refrigerant_added",
        "charge_restored",
        "sight_glass",
        "defrost_state",
        "heat_reclaim",
        "ambient_temperature",
        "rack_steady",
    )
    if _receiver_normal(case) and not case.over("refrigerant_added", 0.0):
        # A receiver that has liquid clears the charge, unless a defrost has filled it for a while.
        return ("ruled_out", evidence) if case.steady() or case.says("defrost_state", "none") else None
    level, limit = case.number("receiver_level"), case.site.limits.receiver_low_percent
    low = level is not None and level <= limit
    vapour = case.says("sight_glass", "bubbles", "empty")
    if not low:
        leaks = vapour and _drier_good(case) and case.says("leak_found", "yes")  # between low and normal a leak decides
        return ("supported" if leaks else "suspected", evidence if leaks else ("sight_glass",)) if vapour else None
    weighed = case.has("charge_restored") and case.over("refrigerant_added", 0.0)
    if case.steady() and _drier_good(case) and (case.says("leak_found", "yes") or weighed):
        return "proven", evidence
    if _drier_bad(case):
        return "suspected", evidence
    return ("supported" if case.steady() or _drier_good(case) or vapour else "suspected"), evidence


def drier_plugged(case: Case) -> Verdict | None:
    """A temperature drop over the limit at load with the receiver normal. Low load clears nothing."""
    evidence = case.known("drier_temperature_drop", "at_load", "receiver_level")
    if _drier_bad(case):
        return ("proven" if case.has("at_load") and _receiver_normal(case) else "supported"), evidence
    return ("ruled_out", evidence) if _drier_good(case) and case.has("at_load") else None


def liquid_valve_closed(case: Case) -> Verdict | None:
    """Found part closed with the glass full upstream."""
    if not case.has("liquid_valve_part_closed"):
        return None
    evidence = case.known("liquid_valve_part_closed", "glass_full_upstream")
    return ("proven" if case.has("glass_full_upstream") else "supported"), evidence


def liquid_line_hot(case: Case) -> Verdict | None:
    """Receiver and drier good, and the liquid warmer here than at the receiver."""
    if not case.over("liquid_rise_delta_degf", case.site.limits.liquid_rise_delta_degf):
        return None
    evidence = case.known("liquid_rise_delta_degf", "receiver_level", "drier_temperature_drop")
    return ("proven" if _receiver_normal(case) and _drier_good(case) else "suspected"), evidence


def wrong_refrigerant(case: Case) -> Verdict | None:
    """The label differs from the profile."""
    label = case.readings.get("refrigerant_label")
    if isinstance(label, str) and case.site.refrigerant and label != case.site.refrigerant:
        return "proven", ("refrigerant_label",)
    return None


def seal_leak_retrofit(case: Case) -> Verdict | None:
    """A leak found at a gasket or seal after a retrofit changed the oil."""
    if not (case.says("leak_found", "yes") and case.has("leak_at_seal")):
        return None
    evidence = case.known("leak_found", "leak_at_seal", "retrofit_changed_oil")
    return ("proven", evidence) if case.has("retrofit_changed_oil") else None


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        refrigerant_low,
        drier_plugged,
        liquid_valve_closed,
        liquid_line_hot,
        wrong_refrigerant,
        seal_leak_retrofit,
    )
}
