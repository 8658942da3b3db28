"""The conditions of all branches, by the names that the steps use."""

from collections.abc import Callable

from assistant.branches.head import conditions as head
from assistant.branches.injection import conditions as injection
from assistant.branches.liquid import conditions as liquid
from assistant.branches.motor import conditions as motor
from assistant.branches.oil import conditions as oil
from assistant.branches.shared import conditions as shared
from assistant.branches.suction import conditions as suction
from assistant.branches.supply import conditions as supply
from assistant.profile import Rack
from assistant.trade.case import Case

_BRANCHES = (shared, supply, motor, injection, oil, head, suction, liquid)
JUDGED: dict[str, Callable[[Case], bool]] = {name: rule for branch in _BRANCHES for name, rule in branch.JUDGED.items()}
"""Conditions that rest on measurement and judgement. No rule of safety may rest on one: a walk lets each come out either way."""
FITTED: dict[str, Callable[[Rack], bool]] = {name: rule for branch in _BRANCHES for name, rule in branch.FITTED.items()}
"""Conditions that the site's profile answers."""


def facts(case: Case) -> frozenset[str]:
    """Facts that follow from the readings and from what steps have established."""
    return frozenset(name for branch in _BRANCHES for name, holds in branch.FACTS.items() if holds(case))
