"""Which walked calls are alike: everything that later decides about safety is the same.

Acknowledged cautions other than the live ones only ever grow and each step checks its own, so they do not tell calls
apart. Nor does the reading that "no, twelve" would replace (`Question.of`): the walk says no such thing, it corrects by
name; what a yes or no belongs to (`pending`, `pending_command`) is told apart by itself.
"""

from assistant.call.branches import tells_apart
from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.state import State
from assistant.call.verdicts import live_refused
from assistant.safety.rules import Watched
from assistant.safety.utterances import CHARGE_IDS, LIVE_IDS, START_IDS
from assistant.safety.walker import Walker

_ALIKE = {
    "coil_seated": ("loose", "burnt"), "injection_hand_valve": ("open", "closed"), "live_or_dead": ("live",),
    "detector_state": ("quiet", "alarm"), "ladder_kind": ("metal",), "oil_level": ("low", "normal"),
}  # fmt: skip
"""Choices that tell calls apart; the others, and none, are alike."""


def _safety_values(s: State) -> tuple[object, ...]:
    """The readings on which a safety rule still rests. "Go back" stays within a phase, so that what only earlier
    phases look at no longer tells two calls apart."""
    ids: tuple[str, ...] = ("rack",)
    over = s.finishing or s.started_at is not None or s.phase == "close"
    ids += ("coil_seated",) if s.answered.get("seat_coil") != "done" and s.phase not in ("watch", "close") else ()
    live = s.phase in ("front", "machine", "panel", "live") and not s.finishing
    looking = s.phase in ("front", "machine")
    ids += () if not live else LIVE_IDS if looking else ("live_or_dead",)
    ids += CHARGE_IDS if s.phase in ("panel", "live", "liquid") and not s.finishing else ()
    ids += START_IDS if s.phase in ("panel", "live", "liquid", "restore") and not over else ()
    values = [s.value(i) for i in ids]
    alike = [v if i not in _ALIKE or v in _ALIKE[i] else None for i, v in zip(ids, values, strict=True)]
    gates: tuple[object, ...] = tuple(s.answered.get(g) for g in ("clothing", "ladder")) if live else ()
    # Later nothing but `live_refused` looks at label, ladder and detector, and a hand valve that is shut stays open
    # as an obligation.
    gates += (bool(live_refused(s)),) if live and not looking else ()
    choice = s.choice if s.phase not in ("watch", "close") else ""
    return (*alike, *gates, choice)


def _open_kinds(s: State) -> tuple[object, ...]:
    """What is open; those that are only handed over by name count as one kind, with the shortest time they allow."""
    rules = [OBLIGATIONS[o] for o in s.open]
    owner = [r.within_hours or 999 for r in rules if r.hand_over == "owner"]
    live = s.phase not in ("restore", "watch", "close")
    return (
        frozenset(r.id for r in rules if r.hand_over != "owner"),
        min(owner, default=None),
        "leak_open" in s.open and live,
        "no_cause_reset" in s.handed_over,
        "switch_in_hand" in s.open and s.started_at is None and not s.finishing,
    )


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


def key(d: Walker, w: Watched) -> tuple[object, ...]:
    """Two calls with the same key are walked on from once."""
    s = d.state
    q = d.question
    done = tuple(s.answered.get(i) for i in ("first_start_valve", "seat_coil"))
    dew = s.number("crankcase_temperature")
    return (
        *_place(d), q and q.asking, q and q.also, d.pending_command,
        tuple(p[0].id for p in d.pending),
        d.correcting, d.noting, s.locked, s.lock_unsure, s.powered, s.dead, s.proof, s.power_on_at is None, s.tested, s.was_fed,
        s.start_is_blocked, s.jumper_is_in, s.leads_are_on, s.over_budget, _open_kinds(s),
        "liquid_in_compressor" in s.cleared, frozenset(s.resets), s.started_at is None, s.finishing, s.stay_out,
        s.emergency, s.held, s.sealed, _safety_values(s), done, dew,
        frozenset(s.waited & {"liquid_oil"}), frozenset(s.acknowledged & {"live", "live_place"}),
        tells_apart(s),
        w.dead, w.chain, w.powered, w.locked, w.lock_stayed, w.blocked, w.stimulus, w.budget_spent, w.resets,
    )  # fmt: skip
