"""Leak rates, and which rule applies to them, by date."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from assistant.trade.validity import OutOfRange, check

TABLE_DATE = date(2026, 8, 1)
"""When the numbers below were last looked at. State rules may be stricter: they are not in here."""

GWP: dict[str, int] = {
    "R22": 1810, "R134a": 1430, "R404A": 3922, "R407A": 2107, "R407C": 1774, "R407F": 1825, "R410A": 2088,
    "R448A": 1387, "R449A": 1397, "R454A": 239, "R454C": 148, "R455A": 148, "R507A": 3985, "R290": 3,
    "R744": 1,
}  # fmt: skip
"""100-year GWP as of `TABLE_DATE`: mass fraction times the exchange values of 40 CFR part 84 appendix A
(from memory); R22 and R290 from the IPCC's fourth report (from memory)."""

EXCHANGE_VALUE: dict[str, float] = {
    "R32": 675.0, "R125": 3500.0, "R134a": 1430.0, "R143a": 4470.0, "R23": 14800.0, "R152a": 124.0,
    "R1234yf": 4.0, "R1234ze(E)": 6.0, "R744": 1.0,
}  # fmt: skip
MASS_PERCENT: dict[str, dict[str, float]] = {
    "R404A": {"R125": 44, "R143a": 52, "R134a": 4}, "R407A": {"R32": 20, "R125": 40, "R134a": 40},
    "R407C": {"R32": 23, "R125": 25, "R134a": 52}, "R407F": {"R32": 30, "R125": 30, "R134a": 40},
    "R410A": {"R32": 50, "R125": 50},
    "R448A": {"R32": 26, "R125": 26, "R1234yf": 20, "R134a": 21, "R1234ze(E)": 7},
    "R449A": {"R32": 24.3, "R125": 24.7, "R1234yf": 25.3, "R134a": 25.7},
    "R454A": {"R32": 35, "R1234yf": 65}, "R454C": {"R32": 21.5, "R1234yf": 78.5},
    "R455A": {"R744": 3, "R32": 21.5, "R1234yf": 75.5}, "R507A": {"R125": 50, "R143a": 50},
}  # fmt: skip
"""Composition, mass percent. Source: ASHRAE Standard 34."""
OZONE_DEPLETING = frozenset({"R22"})
NO_REGULATED_SUBSTANCE = frozenset({"R290", "R744"})
"""GWP under 53 and no HFC: outside part 84's leak repair."""

PART_84_FROM = date(2026, 1, 1)
PART_82_CHARGE_LB, PART_84_CHARGE_LB = 50.0, 15.0
REPAIR_DAYS, SHUTDOWN_REPAIR_DAYS, FOLLOW_UP_DAYS, RECORD_YEARS = 30, 120, 10, 3
CHRONIC_PERCENT = 125.0
"""Of the full charge in a calendar year: a report to the agency."""
THRESHOLD_PERCENT = {
    "commercial refrigeration": 20.0, "industrial process refrigeration": 30.0, "comfort cooling": 10.0,
    "other": 10.0,
}  # fmt: skip
"""Over this, not at it. Source: 40 CFR 82.157(c)(2), 84.106(c)(2)."""


@dataclass(frozen=True)
class Rule:
    """Which part of the federal rules covers an appliance."""

    part: str
    threshold_percent: float
    repair_days: int
    source: str


def blend_gwp(refrigerant: str) -> float:
    """GWP from the composition: the check on the table.

    Raises:
        OutOfRange: not a blend of the table.
    """
    if refrigerant not in MASS_PERCENT:
        raise OutOfRange(f"{refrigerant} is not a blend whose parts are listed here.")
    return sum(EXCHANGE_VALUE[part] * percent / 100.0 for part, percent in MASS_PERCENT[refrigerant].items())


def annualized_percent(added_lb: float, full_charge_lb: float, days_since_last: float | None) -> float:
    """Leak rate by the annualizing method.

    Args:
        added_lb: refrigerant added now, with all additions for the same leak [lb].
        full_charge_lb: full charge of the appliance [lb].
        days_since_last: days since the addition before this leak; None for the first on record (365).

    Returns:
        Percent of the full charge a year.

    Raises:
        OutOfRange: a negative addition, no charge, or less than a day.

    Source:
        40 CFR 82.152 and 84.102, "Leak rate" (1).

    >>> round(annualized_percent(40.0, 400.0, 60.0), 1)
    60.8
    """
    check("The refrigerant added", added_lb, 0.0, 1e5, "pounds")
    check("The full charge", full_charge_lb, 0.1, 1e6, "pounds")
    days = 365.0 if days_since_last is None else min(days_since_last, 365.0)
    check("The days since the last charge", days, 1.0, 365.0, "days")
    return 100.0 * added_lb / full_charge_lb / (days / 365.0)


def rolling_percent(additions_lb: Sequence[float], full_charge_lb: float) -> float:
    """Leak rate by the rolling average: all additions of the last 365 days (or since the last good
    follow-up test, if shorter) over the full charge. Percent a year.

    Source:
        40 CFR 82.152 and 84.102, "Leak rate" (2), from memory.
    """
    check("The full charge", full_charge_lb, 0.1, 1e6, "pounds")
    for added in additions_lb:
        check("The refrigerant added", added, 0.0, 1e5, "pounds")
    return 100.0 * sum(additions_lb) / full_charge_lb


def leak_rule(refrigerant: str, category: str, full_charge_lb: float, on: date) -> Rule | None:
    """The federal leak rule that covers an appliance on a day, or None.

    Args:
        refrigerant: a name from `GWP`.
        category: a key of `THRESHOLD_PERCENT`.
        full_charge_lb: full charge of the appliance [lb].
        on: the day of the addition.

    Raises:
        OutOfRange: a refrigerant or category that is not listed.

    Source:
        40 CFR 82.157(a) (50 lb of R22 and its like), 84.106(a) (15 lb from January 1, 2026).
    """
    if refrigerant not in GWP:
        raise OutOfRange(f"{refrigerant} is not in the table of leak rules.")
    if category not in THRESHOLD_PERCENT:
        raise OutOfRange(f"{category} is not a kind of appliance in the leak rules.")
    threshold = THRESHOLD_PERCENT[category]
    if refrigerant in OZONE_DEPLETING:
        if full_charge_lb < PART_82_CHARGE_LB:
            return None
        return Rule("40 CFR part 82", threshold, REPAIR_DAYS, "82.157(a), (c)(2), (d)")
    if refrigerant in NO_REGULATED_SUBSTANCE or on < PART_84_FROM or full_charge_lb < PART_84_CHARGE_LB:
        return None
    return Rule("40 CFR part 84", threshold, REPAIR_DAYS, "84.106(a), (c)(2), (d)")


@dataclass(frozen=True)
class Addition:
    """Refrigerant that was added to an appliance before."""

    days_ago: float
    pounds: float


def of_one_leak(before: Sequence[Addition], mended_days_ago: float | None) -> tuple[float, float | None]:
    """What was added for the leak that is charged for now, and the days since the addition before it.

    Additions since the last leak repair are one leak's: they are summed with what is added now, and the time runs from the
    addition before them.

    Args:
        before: additions of the last 365 days, in any order.
        mended_days_ago: when a leak of this appliance was last repaired; None for never on record.

    Returns:
        Pounds to be summed with those added now, and days; None where there is no addition before this leak on record.

    Source:
        40 CFR 82.152 "Leak rate": "whether in one addition or in multiple additions related to same leak".

    >>> of_one_leak([Addition(20.0, 30.0), Addition(100.0, 50.0)], 60.0)
    (30.0, 100.0)
    """
    same = [one for one in before if mended_days_ago is None or one.days_ago < mended_days_ago]
    older = [one.days_ago for one in before if one not in same]
    if mended_days_ago is None:  # never repaired: all of them are one leak's but the first, which the time runs from
        first = max(before, key=lambda one: one.days_ago, default=None)
        return sum(one.pounds for one in before if one is not first), first.days_ago if first else None
    return sum(one.pounds for one in same), min(older, default=None)


def chronic_percent(before: Sequence[Addition], added_lb: float, full_charge_lb: float, on: date) -> float:
    """What was added in this calendar year, percent of the full charge; over `CHRONIC_PERCENT` it is reported by March 1.

    Source:
        40 CFR 84.106(m), 82.157(j).
    """
    check("The full charge", full_charge_lb, 0.1, 1e6, "pounds")
    this_year = (on - date(on.year, 1, 1)).days
    return 100.0 * (added_lb + sum(one.pounds for one in before if one.days_ago <= this_year)) / full_charge_lb


@dataclass(frozen=True)
class Dates:
    """What the law sets once a leak rate is over its limit."""

    repair_by: date
    verify_by: date
    """The follow-up test, if it is repaired on the last day; the first comes before it is charged again."""


def dates(rule: Rule, on: date) -> Dates:
    """Source: 40 CFR 82.157(d), (e), 84.106(d), (e), from memory."""
    repair_by = on + timedelta(days=rule.repair_days)
    return Dates(repair_by, repair_by + timedelta(days=FOLLOW_UP_DAYS))


def over_threshold(rate_percent: float, rule: Rule) -> bool:
    """Whether a rate is over its threshold; at it is not over."""
    return rate_percent > rule.threshold_percent
