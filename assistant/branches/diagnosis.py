"""Which causes hold, and how well: the standing of every cause from what is known.

Proven: its own proving test was read. Supported, suspected: less. Ruled out: its test came back good.
A cause that is not in the answer stays open. Where a verdict hangs on less than the error of its readings,
nothing is proven by it and nothing ruled out. No CoolProp, no I/O.
"""

from assistant.branches.actions import action
from assistant.branches.head import causes as head
from assistant.branches.injection import causes as injection
from assistant.branches.liquid import causes as liquid
from assistant.branches.motor import causes as motor
from assistant.branches.oil import causes as oil
from assistant.branches.shared import causes as shared
from assistant.branches.suction import causes as suction
from assistant.branches.supply import causes as supply
from assistant.trade.case import FACTS, Case, Conclusion, SiteFacts, Standing, Verdict

__all__ = ["FACTS", "Case", "Conclusion", "SiteFacts", "Standing", "diagnose", "rules"]

_ORDER: dict[Standing, int] = {"proven": 0, "supported": 1, "suspected": 2, "ruled_out": 3}

_NO_DOUBT = frozenset({"after_defrost", "probe_fouled"})
"""Suspicions that a settled watch answers."""


def rules() -> tuple[str, ...]:
    """Every cause that is judged here, by its id."""
    return (*_RULES, *_LAST)


_BRANCHES = (supply, injection, liquid, shared, head, suction, oil, motor)
_RULES = {cause: rule for branch in _BRANCHES for cause, rule in branch.RULES.items()}


def _liquid_slugged(case: Case, found: dict[str, Verdict]) -> Verdict | None:
    """A leaking valve, or high or foaming oil over a cold crankcase."""
    cold = case.under("crankcase_superheat", case.site.limits.crankcase_warm_delta_degf)
    if case.says("oil_level", "high", "foaming") and cold:
        return "proven", ("oil_level", "crankcase_superheat")
    leaking = found.get("injection_valve_leaking")
    return leaking if leaking is not None and leaking[0] in ("proven", "supported") else None


def _no_fault_found(case: Case, found: dict[str, Verdict]) -> Verdict | None:
    """Everything measured and within limits, and the watch settled; not settled is only suspected."""
    if motor.draw_out_of_limits(case):
        return None
    if case.says("sight_glass", "bubbles", "empty") and not case.has("charge_restored"):
        return None  # vapour in the liquid stands on record, whatever else is within limits
    if case.says("valve_click", "silent"):
        return None  # the injection was asked for and its valve did not move: that it feeds later explains nothing
    explained = any(standing in ("proven", "supported") for standing, _ in found.values())
    if explained or not case.has("all_checked", "watch_done"):
        return None
    doubtful = any(standing == "suspected" for cause, (standing, _) in found.items() if cause not in _NO_DOUBT)
    return ("proven" if case.has("settled") and not doubtful else "suspected"), case.known(
        "all_checked", "watch_done", "settled"
    )


_LAST = {"liquid_slugged": _liquid_slugged, "no_fault_found": _no_fault_found}
"""Causes that are judged by what was found of the others."""


def diagnose(case: Case) -> tuple[Conclusion, ...]:
    """Every cause that has a standing, the best proven first.

    Args:
        case: readings in US units, derived values, facts and the site.

    Returns:
        Conclusions. A cause left out has no verdict: it is open, not ruled out.

    >>> found = diagnose(Case({"injection_hand_valve": "closed"}))
    >>> found[0].cause, found[0].standing
    ('injection_hand_valve_closed', 'proven')
    """
    found: dict[str, Verdict] = {}
    for cause, rule in _RULES.items():
        verdict = rule(case)
        if verdict is not None:
            found[cause] = verdict
    for cause, last in _LAST.items():
        verdict = last(case, found)
        if verdict is not None:
            found[cause] = verdict
    others = (standing for cause, (standing, _) in found.items() if cause != "after_defrost")
    if "after_defrost" in found and any(standing in ("proven", "supported") for standing in others):
        found["after_defrost"] = "suspected", found["after_defrost"][1]  # then not all readings are normal
    conclusions = []
    for cause, (standing, evidence) in found.items():
        uncertain = tuple(i for i in evidence if _hangs_on(case, cause, standing, i, found))
        if uncertain and standing == "ruled_out":
            continue
        held: Standing = "supported" if uncertain and standing == "proven" else standing
        conclusions.append(Conclusion(cause, held, evidence, action(cause, held), uncertain))
    return tuple(sorted(conclusions, key=lambda one: _ORDER[one.standing]))


def _hangs_on(case: Case, cause: str, standing: Standing, name: str, found: dict[str, Verdict]) -> bool:
    """Whether an error of one reading or value would take a standing away."""
    if standing == "suspected":
        return False
    for moved in case.moved(name):
        rule = _RULES.get(cause)
        verdict = rule(moved) if rule else _LAST[cause](moved, found)
        if verdict is None or _ORDER[verdict[0]] > _ORDER[standing]:
            return True
        if standing == "ruled_out" and verdict[0] != "ruled_out":
            return True
    return False
