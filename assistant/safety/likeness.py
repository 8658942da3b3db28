"""Which walked calls are alike: everything that later decides about safety is the same.

Acknowledged cautions other than the live ones only ever grow but for an interruption, and each step checks its own, so they
do not tell calls apart.
"""

from assistant.call.permits import RESET_NEEDS, circuit_tested, heater_waited, live_refused, must_stop
from assistant.call.repairing import repair_prepared
from assistant.call.state import State
from assistant.safety.seen import Seen
from assistant.safety.walker import Walker


def _readings(s: State, told: frozenset[str]) -> tuple[object, ...]:
    """The readings on which a rule of safety may still rest."""
    return tuple((i, s.value(i)) for i in sorted(told) if i in s.readings)


def _open_kinds(s: State) -> tuple[object, ...]:
    """What is open; those that are only handed over by name count as one kind, with the shortest time they allow."""
    rules = [s.procedure.obligations[o] for o in s.open]
    owner = [r.within_hours or 999 for r in rules if r.hand_over == "owner"]
    return (
        frozenset(r.id for r in rules if r.hand_over != "owner"), min(owner, default=None), "leak_open" in s.open,
        "no_cause_reset" in s.handed_over, "switch_in_hand" in s.open,
    )  # fmt: skip


def _place(d: Walker) -> tuple[object, ...]:
    """Where the call stands. On the way to a step that was chosen, all that is passed over on it is alike, but for what
    closing early would still ask; behind a caution nothing looks at the step before it."""
    s, run = d.state, d.course.run
    heading = d.course.aim if d.course.aim not in s.answered else ""
    ahead = s.position
    if heading:
        safe = (i for i in range(max(s.position, 0), len(run)) if run[i].safe and run[i].id not in s.answered)
        ahead = next(safe, len(run))
    waiting = d.waiting.step if d.waiting else ""
    return "" if "/" in d.asked_at else s.step, ahead, d.asked_at, heading, waiting


def _may(s: State) -> tuple[object, ...]:
    """What may be done, as far as it rests on more than the readings."""
    contacts = sorted(set(s.contacts) & set(RESET_NEEDS))
    read = [all(i in s.readings for i in RESET_NEEDS[c]) for c in contacts]
    return (bool(live_refused(s)), circuit_tested(s), heater_waited(s), must_stop(s), repair_prepared(s), *contacts, *read)


def key(d: Walker, w: Seen, told: frozenset[str]) -> tuple[object, ...]:
    """Two calls with the same key are walked on from once."""
    s, q = d.state, d.question
    lock, feed = s.lock, s.feed
    return (
        *_place(d), q and q.asking, q and q.also, d.mode.name, d.doing.command, d.doing.correcting,
        tuple(p[0].id for p in d.doing.asked_back),
        lock.locked, lock.powered, lock.dead, lock.others, lock.made, s.due,
        feed.stimulus, feed.blocked, feed.leads, feed.window, feed.fed, feed.over, _open_kinds(s), frozenset(s.cleared),
        frozenset(s.resets), s.started_at is None, s.stopped, s.finishing, s.alarm, s.sealed, _readings(s, told),
        frozenset(s.acknowledged & {"live", "live_place"}), frozenset(s.established()), *_may(s),
        w.dead, w.chain, w.locked, w.others_lock,
    )  # fmt: skip
