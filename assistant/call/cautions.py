"""Which cautions belong before a step on this machine, which of them are spoken in one go, which are said again in short.

A caution is spoken and acknowledged before the step it belongs to, on every path; skip does not skip it. In full the first
time in a call and after an interruption, in short after that. The refrigerant's own caution comes before the first act at the
machine, that of liquid in it as soon as there is any. Those of one step are spoken in one go and acknowledged once, except
what stands alone. In the live window none is spoken: its own came before it.
"""

from collections.abc import Callable
from datetime import datetime, timedelta

from assistant.branches.motor.conditions import rotation_in_question
from assistant.branches.search import standing
from assistant.branches.steps import Step
from assistant.call.known import case_of
from assistant.call.repairing import emptied, in_the_gas, repair
from assistant.call.state import State

OF_THE_MACHINE: dict[str, Callable[[State], bool]] = {
    "probe_in_gas": lambda s: in_the_gas(s) and not emptied(s),
    "ladder": lambda s: s.rack is None or not s.rack.closed_room,  # in the open, it is taken for on the roof
    "flammable": lambda s: s.rack is None or s.rack.flammable,
    "carbon_dioxide": lambda s: s.rack is None or s.rack.refrigerant == "R744",
    "rotation": lambda s: rotation_in_question(case_of(s)),
    "acid": lambda s: standing(case_of(s), "winding_failed") or standing(case_of(s), "winding_grounded"),
    "terminals": lambda s: standing(case_of(s), "winding_grounded"),
}
"""Cautions that a step may name with `?`, and when the machine makes them apply."""
_LIVE = ("live", "live_place")
_REFRIGERANT = ("flammable", "carbon_dioxide")
_ALONE = frozenset({"lock_out", "jumper", "reset"})
"""Spoken and acknowledged by themselves; so are the live ones together, and `restart` before a start or a switch back to auto,
which may start it."""
_NOT_AT_THE_MACHINE = ("front", "close", "sealed")
NOT_TWICE_S = 60.0
"""The same sentence is never said twice within this, unless it has to be acknowledged anew."""


def of_step(step: Step, s: State) -> list[str]:
    """The cautions that belong to a step on this machine, in their order."""
    if s.feed.window:
        return []
    own = ["liquid_in_machine"] if "liquid_in_compressor" in s.open and not step.at_once else []
    own += [*_LIVE] if step.act in ("live", "power_on") else []
    at_machine = step.station not in _NOT_AT_THE_MACHINE and step.part != "return"
    own += [name for name in _REFRIGERANT if at_machine and s.rack is not None and OF_THE_MACHINE[name](s)]
    named = (*step.cautions, *(repair(s).cautions if "repair" in step.needs else ()))
    own += [name.rstrip("?") for name in named if not name.endswith("?") or OF_THE_MACHINE[name.rstrip("?")](s)]
    return list(dict.fromkeys(own))


def wanted(step: Step, s: State) -> tuple[str, ...]:
    """The cautions that must be spoken and acknowledged next, together, before this step; none when all were."""
    missing = [name for name in of_step(step, s) if name not in s.acknowledged or (name == "restart" and _restart_again(step, s))]
    if not missing:
        return ()
    if missing[0] in _LIVE:
        return tuple(name for name in missing if name in _LIVE)
    starts = step.act in ("start", "unlock") or "switch_in_hand" in step.clears
    alone = _ALONE | ({"restart"} if starts else set())
    if missing[0] in alone:
        return (missing[0],)
    together = []
    for name in missing:
        if name in alone or name in _LIVE:
            break
        together.append(name)
    return tuple(together)


def _restart_again(step: Step, s: State) -> bool:
    """The restart caution was last acknowledged before the lock went on: it is once more before that comes off; and once
    more where nothing holds the machine any longer, unless it was just now before a start."""
    at = s.acknowledged_at.get("restart")
    free = step.act == "start" or not (step.act or step.proof or s.lock.locked)
    names = ("locked_out", "lock_still_on") if step.act == "unlock" else ("lock_removed",) if free else ()
    since = max((s.taken_at[name] for name in names if name in s.taken_at), default=None)
    just_now = step.act == "start" and at is not None and s.at is not None and s.at - at < timedelta(seconds=NOT_TWICE_S)
    return since is not None and (at is None or at < since) and not just_now


def to_remind(step: Step, s: State, fresh: set[str], now: datetime) -> list[str]:
    """Cautions acknowledged before that are said again in short when the step is asked; none with probes in a live panel."""
    return [] if step.act == "live" else [name for name in of_step(step, s) if name not in fresh and not lately(name, s, now)]


def lately(name: str, s: State, now: datetime) -> bool:
    """Whether this caution was spoken within the last minute."""
    at = s.spoken_at.get(name)
    return at is not None and now - at < timedelta(seconds=NOT_TWICE_S)
