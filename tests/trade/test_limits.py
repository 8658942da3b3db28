"""Each threshold of the trade stands once, has a source, and decides something."""

import ast
import inspect
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

import assistant
from assistant.branches.diagnosis import diagnose
from assistant.language.meaning import Value
from assistant.trade import limits as room
from assistant.trade.case import Case, SiteFacts
from assistant.trade.derive import derive, values
from assistant.trade.limits import RANGES, RISING, USUAL, Limits
from assistant.trade.watch import Round, minutes_to_settle, minutes_to_trip, not_settled
from tests.trade.paper_cases import ROWS

ASSISTANT = Path(assistant.__file__).parent
SOURCES = ("Common practice", "Our own figure", "Computed")
RULES = sorted(ASSISTANT.glob("branches/*/causes.py"))
FLOATS, WHOLE = {0.0, 100.0}, {0, 1, 2, 3}
"""Numbers that are no threshold: nothing, percent, counts of what is three by nature."""
PAPER = [case for row in ROWS for case in (row.case, row.miss)]
SITE = SiteFacts(refrigerant="R449A", lift_ft=14.0)
RUNNING: dict[str, Value] = {
    "suction_pressure": 8.0, "suction_temperature": 25.0, "discharge_pressure": 232.0, "rack_discharge_pressure": 215.0,
    "liquid_pressure": 227.0, "liquid_temperature": 90.0, "ambient_temperature": 86.0,
}  # fmt: skip
WARMING = [Round(5.0, 14.0, 200.0), Round(10.0, 11.0, 206.0)]
LEVELLING = [Round(10.0, 10.0, 150.0), Round(20.0, 10.0, 170.0), Round(30.0, 10.0, 180.0)]
CLIMBING = [Round(10.0, 10.0, 150.0), Round(20.0, 10.0, 170.0), Round(30.0, 10.0, 195.0)]
STEADY = [Round(40.0, 10.5, 195.0), Round(50.0, 9.5, 197.0), Round(60.0, 10.0, 198.0)]


def _verdicts(case: Case, limits: Limits) -> object:
    judged = diagnose(replace(case, site=replace(case.site, limits=limits)))
    return [(one.cause, one.standing, one.uncertain) for one in judged]


def _computed(limits: Limits) -> object:
    return values(derive(RUNNING, replace(SITE, limits=limits), "running"))


def _watched(limits: Limits) -> object:
    return [
        *(minutes_to_trip(rounds, 225.0, limits=limits) for rounds in (WARMING, CLIMBING)),
        minutes_to_settle(LEVELLING, limits),
        *(not_settled(rounds, 10.0, 225.0, True, True, limits) for rounds in (STEADY, LEVELLING, WARMING)),
    ]


WHAT: list[Callable[[Limits], object]] = [
    _computed,
    _watched,
    *((lambda limits, case=case: _verdicts(case, limits)) for case in PAPER),
]
"""What limits decide: derived values, the watch, and every verdict on paper."""
AS_USUAL = [decided(USUAL) for decided in WHAT]
IN_THE_CALL_ALONE = frozenset({
    "dead_limit_v", "second_source_v", "hot_pipe_degf", "feed_budget_s", "trips_to_supervisor", "heater_asked_minutes",
    "heater_minutes", "standing_minutes", "protection_lockout_minutes", "module_delay_s", "pressure_inside_percent",
    "pressure_inside_delta_psi", "locked_rotor_times", "at_zero_psi", "round_minutes", "line_cold_degf",
    "superheat_low_delta_degf", "head_far_percent", "settled_under_cutout_delta_psi",
})  # fmt: skip
"""Limits that only the course of a call looks at."""


@pytest.mark.parametrize("name", sorted(RANGES.keys() - IN_THE_CALL_ALONE))
def test_a_limit_that_is_moved_changes_a_verdict_or_a_value(name: str) -> None:
    moved = [replace(USUAL, **{name: end}) for end in RANGES[name]]
    assert any(
        decided(limits) != before for decided, before in zip(WHAT, AS_USUAL, strict=True) for limits in moved
    )


def test_each_limit_says_what_it_is_and_where_it_comes_from() -> None:
    body = next(node for node in ast.parse(inspect.getsource(room)).body if isinstance(node, ast.ClassDef)).body
    said = {}
    for one, after in pairwise(body):
        if isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name):
            text = after.value.value if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant) else ""
            said[one.target.id] = str(text)
    assert said.keys() == RANGES.keys()
    assert [name for name, text in said.items() if not any(source in text for source in SOURCES)] == []


def test_what_is_usual_lies_in_the_range_of_a_profile_and_in_its_order() -> None:
    assert [name for name, (low, high) in RANGES.items() if not low <= getattr(USUAL, name) <= high] == []
    assert [pair for names in RISING for pair in pairwise(names) if getattr(USUAL, pair[0]) > getattr(USUAL, pair[1])] == []


def test_a_profile_makes_no_rule_of_safety_laxer() -> None:
    assert all(
        getattr(USUAL, name) == RANGES[name][1]
        for name in ("dead_limit_v", "second_source_v", "hot_pipe_degf", "feed_budget_s", "trips_to_supervisor")
    )


@pytest.mark.parametrize("file", RULES, ids=[file.parent.name for file in RULES])
def test_no_rule_has_a_threshold_of_its_own(file: Path) -> None:
    numbers = [
        (node.lineno, node.value)
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and type(node.value) in (int, float)
        and node.value not in (FLOATS if isinstance(node.value, float) else WHOLE)
    ]  # fmt: skip
    assert numbers == []


def test_the_rules_of_every_branch_are_read_for_it() -> None:
    assert {file.parent.name for file in RULES} == {file.parent.name for file in ASSISTANT.glob("branches/*/__init__.py")}


@pytest.mark.parametrize("name", ["case", "circuit", "derive", "electrical", "watch", "diagnosis"])
def test_nothing_that_judges_compares_with_a_threshold_of_its_own(name: str) -> None:
    file = next(ASSISTANT.glob(f"[bt]r*/{name}.py"))
    numbers = [
        (number.lineno, number.value)
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Compare)
        for number in ast.walk(node)
        if isinstance(number, ast.Constant) and type(number.value) is float and number.value not in FLOATS | {1.0}
    ]
    assert numbers == []


def test_a_limit_of_the_call_alone_is_read_by_the_call_or_by_a_step() -> None:
    rooms = [*ASSISTANT.glob("call/*.py"), *ASSISTANT.glob("branches/*/conditions.py"), *ASSISTANT.glob("branches/*/steps.toml")]
    text = "".join(file.read_text(encoding="utf-8") for file in rooms)
    unread = {name for name in IN_THE_CALL_ALONE if f"limits.{name}" not in text and f'= "{name}"' not in text}
    assert unread == set()
