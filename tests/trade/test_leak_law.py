"""The law of leaks on dated histories: which additions are one leak's, the rate, the limit, the dates."""

from datetime import date

import pytest

from assistant.language.meaning import Value
from assistant.trade.case import SiteFacts
from assistant.trade.derive import derive, values
from assistant.trade.leak import (
    Addition,
    annualized_percent,
    chronic_percent,
    dates,
    leak_rule,
    of_one_leak,
    over_threshold,
)

A = Addition
COMMERCIAL = "commercial refrigeration"
HISTORIES: list[tuple[str, tuple[Addition, ...], float | None, float, float, float | None, float]] = [
    # what happened, additions before, days since a leak was mended, pounds now, of one leak before, days, percent of 400 lb
    # 82.152, 84.102 "Leak rate" (1): the first addition on record runs over a year
    ("the first on record", (), None, 40.0, 0.0, None, 10.0),
    ("the first, mended before", (), 30.0, 40.0, 0.0, None, 10.0),
    ("one before, sixty days ago", (A(60, 20),), None, 40.0, 0.0, 60.0, 60.8333),
    ("one before, a year ago", (A(365, 20),), None, 40.0, 0.0, 365.0, 10.0),
    ("one before, a day ago", (A(1, 20),), None, 4.0, 0.0, 1.0, 365.0),
    # "in multiple additions related to same leak": summed
    ("two of one leak since the first", (A(90, 20), A(30, 20)), None, 40.0, 20.0, 90.0, 60.8333),
    ("three of one leak", (A(90, 20), A(60, 10), A(30, 20)), None, 40.0, 30.0, 90.0, 70.9722),
    ("mended between: a new leak", (A(90, 20), A(30, 20)), 60.0, 40.0, 20.0, 90.0, 60.8333),
    ("mended after the last: none of them counts", (A(90, 20), A(30, 20)), 10.0, 40.0, 0.0, 30.0, 121.6667),
    ("mended before all: one leak, nothing before it", (A(90, 20), A(30, 20)), 200.0, 40.0, 40.0, None, 20.0),
    ("mended on the day of an addition", (A(90, 20),), 90.0, 40.0, 0.0, 90.0, 40.5556),
    ("small ones add up", (A(300, 5), A(200, 5), A(100, 5)), 350.0, 5.0, 15.0, None, 5.0),
    ("small ones, never mended", (A(300, 5), A(200, 5), A(100, 5)), None, 5.0, 10.0, 300.0, 4.5625),
    ("a large one long ago, mended", (A(360, 300),), 300.0, 40.0, 0.0, 360.0, 10.1389),
    ("two mended leaks between", (A(200, 50), A(100, 50)), 50.0, 80.0, 0.0, 100.0, 73.0),
]  # fmt: skip


@pytest.mark.parametrize(("what", "before", "mended", "now_lb", "same_lb", "days", "percent"), HISTORIES,
                         ids=[row[0] for row in HISTORIES])  # fmt: skip
def test_a_history_gives_its_rate(
    what: str, before: tuple[Addition, ...], mended: float | None, now_lb: float, same_lb: float, days: float | None,
    percent: float,
):  # fmt: skip
    assert of_one_leak(before, mended) == (same_lb, days)
    assert annualized_percent(now_lb + same_lb, 400.0, days) == pytest.approx(percent, rel=1e-3)


RULES: list[tuple[str, str, float, date, str, float]] = [
    # refrigerant, appliance, pounds, day, part of 40 CFR or none, limit. 82.157(a), (c)(2); 84.106(a), (c)(2)
    ("R22", COMMERCIAL, 50.0, date(2026, 2, 1), "40 CFR part 82", 20.0),
    ("R22", COMMERCIAL, 49.9, date(2026, 2, 1), "", 0.0),
    ("R22", "industrial process refrigeration", 500.0, date(2026, 2, 1), "40 CFR part 82", 30.0),
    ("R22", "comfort cooling", 500.0, date(2025, 2, 1), "40 CFR part 82", 10.0),
    ("R448A", COMMERCIAL, 15.0, date(2026, 1, 1), "40 CFR part 84", 20.0),
    ("R448A", COMMERCIAL, 14.9, date(2026, 1, 1), "", 0.0),
    ("R448A", COMMERCIAL, 500.0, date(2025, 12, 31), "", 0.0),
    ("R404A", "industrial process refrigeration", 500.0, date(2026, 6, 1), "40 CFR part 84", 30.0),
    ("R454C", COMMERCIAL, 100.0, date(2026, 6, 1), "40 CFR part 84", 20.0),
    ("R290", COMMERCIAL, 100.0, date(2026, 6, 1), "", 0.0),
    ("R744", COMMERCIAL, 900.0, date(2026, 6, 1), "", 0.0),
]


@pytest.mark.parametrize(("refrigerant", "category", "charge_lb", "on", "part", "percent"), RULES)
def test_the_rule_of_the_day(refrigerant: str, category: str, charge_lb: float, on: date, part: str, percent: float):
    rule = leak_rule(refrigerant, category, charge_lb, on)
    assert (rule.part if rule else "", rule.threshold_percent if rule else 0.0) == (part, percent)
    if rule:
        assert not over_threshold(percent, rule)  # "over", not "at"
        assert over_threshold(percent + 0.01, rule)


DATES: list[tuple[date, date, date]] = [
    # the day, repaired within 30 days (82.157(d), 84.106(d)), followed up within 10 (82.157(e), from memory)
    (date(2026, 1, 20), date(2026, 2, 19), date(2026, 3, 1)),
    (date(2026, 3, 1), date(2026, 3, 31), date(2026, 4, 10)),
    (date(2026, 12, 15), date(2027, 1, 14), date(2027, 1, 24)),
    (date(2028, 1, 30), date(2028, 2, 29), date(2028, 3, 10)),
]


@pytest.mark.parametrize(("on", "repair_by", "verify_by"), DATES)
def test_over_the_limit_the_law_sets_dates(on: date, repair_by: date, verify_by: date):
    rule = leak_rule("R22", COMMERCIAL, 400.0, on)
    assert rule is not None
    assert (dates(rule, on).repair_by, dates(rule, on).verify_by) == (repair_by, verify_by)


CHRONIC: list[tuple[tuple[Addition, ...], float, date, float]] = [
    # 125 percent of the charge in a calendar year: 84.106(m), 82.157(j)
    ((A(40, 300.0),), 210.0, date(2026, 3, 1), 127.5),
    ((A(70, 300.0),), 210.0, date(2026, 3, 1), 52.5),  # that was last year
    ((), 510.0, date(2026, 12, 31), 127.5),
    ((A(364, 100.0), A(100, 100.0)), 100.0, date(2026, 12, 31), 75.0),
    ((A(59, 100.0),), 100.0, date(2026, 3, 1), 50.0),  # January 1
]


@pytest.mark.parametrize(("before", "now_lb", "on", "percent"), CHRONIC)
def test_a_chronic_leak_is_counted_by_the_calendar_year(before: tuple[Addition, ...], now_lb: float, on: date, percent: float):
    assert chronic_percent(before, now_lb, 400.0, on) == pytest.approx(percent)


SITE = SiteFacts(refrigerant="R22", full_charge_lb=400.0, days_since_addition=73.0)
ADDED: dict[str, Value] = {"refrigerant_added": 40.0}


@pytest.mark.parametrize("reason", ["retrofit", "new installation", "seasonal"])
def test_what_is_added_for_no_leak_makes_no_rate(reason: str):
    one = derive({**ADDED, "addition_reason": reason}, SITE, "off")["leak_rate_annualizing"]
    assert one.value is None
    assert one.reason == "Not added for a leak: it makes no leak rate."


def test_an_unknown_charge_gives_no_rate_and_says_so():
    one = derive(ADDED, SiteFacts(refrigerant="R22"), "off")["leak_rate_annualizing"]
    assert one.value is None
    assert one.reason == "No leak rate: the full charge is not known."


def test_recovered_and_put_back_is_shown_gross_and_net():
    found = values(derive({**ADDED, "refrigerant_recovered": 30.0, "addition_reason": "leak"}, SITE, "off"))
    assert found["leak_rate_annualizing"] == pytest.approx(50.0)
    assert found["leak_rate_net"] == pytest.approx(12.5)
