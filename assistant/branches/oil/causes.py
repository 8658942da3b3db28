"""When a cause in the oil holds. Rules: section 9, "Oil"."""

from collections.abc import Callable
from math import inf

from assistant.trade.case import Case, Verdict

MINERAL_CARRIED_BY = frozenset({"R22", "R290"})
"""Of the refrigerants computed here, those that bring mineral oil back."""


def oil_level_low(case: Case) -> Verdict | None:
    """Seen in the glass: a find, not a cause."""
    if case.says("oil_level", "low"):
        return "proven", ("oil_level",)
    return ("ruled_out", ("oil_level",)) if case.says("oil_level", "normal", "high") else None


def oil_supply_failed(case: Case) -> Verdict | None:
    """Regulator, reservoir or strainer starves it."""
    if case.says("oil_supply", "starved"):
        return "proven", case.known("oil_supply", "reservoir_over_suction")
    if case.says("oil_supply", "feeding"):
        return "ruled_out", ("oil_supply",)
    low = case.under("reservoir_over_suction", case.site.limits.reservoir_low_delta_psi)
    return ("supported", ("reservoir_over_suction",)) if low else None


def oil_diluted(case: Case) -> Verdict | None:
    """Foam, or a crankcase near the dew point."""
    cold = case.within("crankcase_superheat", -inf, case.site.limits.crankcase_diluted_delta_degf)
    if case.says("oil_level", "foaming") or cold:
        return "proven", case.known("oil_level", "crankcase_superheat")
    return None


def oil_pump_worn(case: Case) -> Verdict | None:
    """Net pressure low with level, foam and crankcase all good. The net value exists only running."""
    if not case.within("net_oil", -inf, case.site.limits.net_oil_limit_delta_psi):
        return None
    evidence = case.known("net_oil", "oil_level", "crankcase_superheat")
    warm = case.at_least("crankcase_superheat", case.site.limits.crankcase_warm_delta_degf)
    good = case.says("oil_level", "normal") and warm
    return ("proven" if good else "suspected"), evidence


def oil_control_faulty(case: Case) -> Verdict | None:
    """It opened while the net pressure was read healthy."""
    if not case.at_least("net_oil", case.site.limits.net_oil_healthy_delta_psi):
        return None
    seen = case.has("net_oil_read_as_it_opened")
    return ("proven", ("net_oil", "net_oil_read_as_it_opened")) if seen else None


def oil_separator_stuck(case: Case) -> Verdict | None:
    """Every level low and the separator's return line wrong."""
    if not case.has("all_levels_low"):
        return None
    wrong = case.has("separator_return_wrong")
    return ("proven" if wrong else "suspected"), case.known("all_levels_low", "separator_return_wrong")


def oil_logged(case: Case) -> Verdict | None:
    """Levels fell after lost defrost or low load."""
    if case.has("levels_fell_after_low_load") or (case.has("all_levels_low") and case.says("defrost_state", "stuck")):
        return "supported", case.known("levels_fell_after_low_load", "all_levels_low", "defrost_state")
    return None


def oil_wrong(case: Case) -> Verdict | None:
    """Mineral oil with a refrigerant that does not carry it."""
    wrong = case.has("mineral_oil_left") and case.site.refrigerant not in ("", *MINERAL_CARRIED_BY)
    return ("proven", ("mineral_oil_left",)) if wrong else None


def oil_overfilled(case: Case) -> Verdict | None:
    """High in this one and low in others."""
    if not case.says("oil_level", "high"):
        return None
    others = case.has("other_levels_low")
    return ("proven" if others else "suspected"), case.known("oil_level", "other_levels_low")


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        oil_level_low,
        oil_supply_failed,
        oil_diluted,
        oil_pump_worn,
        oil_control_faulty,
        oil_separator_stuck,
        oil_logged,
        oil_wrong,
        oil_overfilled,
    )
}
