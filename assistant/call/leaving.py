"""How the machine is left as a call ends: what the store is told, and the words before the consent."""

from assistant.branches.search import found
from assistant.branches.shared.conditions import FITTED
from assistant.call.known import case_of, doubted, why_left_running, why_not_settled
from assistant.call.permits import to_lock_again, why_not_reset
from assistant.call.state import State
from assistant.language.wording import sentence, spoken_cause


def store_words(s: State) -> str:
    """What the store is told of this machine."""
    if s.alarm:
        return "the machine room is not safe: nobody goes in, ventilate from outside, and watch the product"
    if s.started_at and not s.stopped:
        return f"it runs, {why_left_running(s)}: at the next alarm call, do not press the button"
    if s.has("left_in_auto"):
        return "this machine is in order: it starts by itself"
    if s.lock.locked or "locked_out" in s.handed_over or to_be_locked(s):
        if s.rack is not None and FITTED["isolator_stops_rack"](s.rack):
            return "this machine and its rack stay off: move the product"
        return "this machine stays off: watch the product, and do not press the button"
    if s.resets:
        return "this machine was reset and not started: it starts by itself"
    left = "not started" if worked_on(s) else "left as it was found"
    return f"this machine is {left}: watch the product, and do not press the button"


def summary(s: State) -> str:
    """What is spoken before the consent: cause and standing, what runs, what is left."""
    lines = []
    causes = [c for c in s.conclusions.values() if c.standing in ("proven", "supported") and c.cause != "no_fault_found"]
    lines += [f"{spoken_cause(c.cause)}, {c.standing}" for c in causes]
    if not found(case_of(s)):
        none = "what brought it about was not found" if causes else "no cause found"
        none = "two readings cannot both be true: no verdict" if doubted(s, case_of(s)) else none
        looked = worked_on(s) or s.started_at is not None
        lines.append("the room was not safe to enter, no cause looked for" if s.alarm and not looked else none)
    lines += _how_left(s)
    if s.handed_over:
        words = {o: rule.say for o, rule in s.procedure.obligations.items()}
        words["no_cause_reset"] += f", {why_left_running(s)}"
        left = (f"{words[o]}, {h.owner}" for o, h in s.handed_over.items() if not (o == "no_cause_reset" and s.stopped))
        lines.append(f"left for later: {', '.join(left)}")
    return " ".join(sentence(line) for line in lines)


def _how_left(s: State) -> list[str]:
    """Whether it runs, and if not whether it is locked; nothing of a call that never came to a machine."""
    locked_at, running_at = s.taken_at.get("locked_out"), s.taken_at.get("running_now")
    runs_locked = s.value("running_now") == "running" and bool(locked_at and running_at and running_at > locked_at)
    off = (s.lock.locked or "locked_out" in s.handed_over) and not (runs_locked and s.started_at is None)
    if s.stopped:
        stayed_off = s.value("running_now") == "off" and not s.rounds
        again = "stopped" if not s.tripped_again else "it did not stay on" if stayed_off else "it tripped again"
        return [f"{again}, locked and left off" if off else f"{again}, not locked"]
    if s.started_at and not off:
        why = why_not_settled(s)
        return [f"running, not settled: {why[0][:1].lower()}{why[0][1:]}" if why else "running and settled"]
    if s.has("left_in_auto"):
        return ["left in auto, satisfied"]
    if "rack" not in s.readings:
        return []
    if off:
        how = "left locked off"
    elif s.resets:
        how = "reset and not started"
    elif runs_locked:
        how = "it runs with a lock on that is not its own"
    else:
        how = "not started" if worked_on(s) else "left as found, not started"
    barred = why_not_reset(s) if not s.finishing and s.choice != "left" else ""
    return [barred, how] if barred else [how]


def to_be_locked(s: State) -> bool:
    """It is locked before the call can close: it stays off, or something is open that is handed over only locked and tagged."""
    rules = s.procedure.obligations
    return to_lock_again(s) or any(rules[id_].hand_over == "locked" for id_ in s.open if id_ in rules)


def worked_on(s: State) -> bool:
    """Something of it is no more as it was found: gas or oil was added, a valve, a part or a setting was changed or put right."""
    added = ("refrigerant_added", "oil_added")
    by_hand = (step for id_ in s.order if (step := s.steps.get(id_)) and s.answered.get(id_) == "done")
    changed = any(step.act == "hands_in" or step.opens or step.clears for step in by_hand)
    return s.choice == "repaired" or changed or any((s.us(id_) or 0.0) > 0 for id_ in added)
