"""Watches the call itself: hand-over and seal, emergencies, what counts as an answer, conclusions, names (S37 to S42)."""

import re

from assistant.safety import words
from assistant.safety.amounts import number
from assistant.safety.tables import OBLIGATIONS, PROCESS, ROUND_MINUTES, SETTLED_MINUTES, UNDER_TRIP_DELTA_DEGF
from assistant.safety.turn import Line, Turn

_LOCKED_WORDS = re.compile(r"\b(?:left|stays) locked\b|\blocked and left off\b|\blocked out\b")
_RUNS_WORDS = re.compile(r"(?:^|[.:] )(?:it |the machine )?(?:runs|(?:left )?running)\b")
_NOT_STARTED_WORDS = re.compile(r"\bnot started\b|\bleft as found\b")
_SAFE = frozenset({"everybody_safe", "room_safe"})


# ---- S37


def handed_over(t: Turn, line: Line) -> None:
    """S37: what may never be handed over is not; what is, only as section 3 allows."""
    w, id_ = t.w, str(line["id"])
    rule = OBLIGATIONS.get(id_)
    if rule is None:  # of a trainer's own: what it endangers is not known here, that somebody takes it is
        t.keeps("S37", bool(line.get("owner")), f"'{id_}' was handed over to nobody")
        return
    if w.stay_out:  # from outside: locked and tagged stands for everything
        off = w.locked and w.tagged and not w.window()
        t.keeps("S37", rule.hand_over == "owner" or off, f"'{id_}' was handed over from outside, not locked, or with power on")
    elif rule.hand_over == "never":
        t.keeps("S37", False, f"'{id_}' was handed over, which it never is")
    elif rule.hand_over == "locked":
        t.keeps("S37", w.locked and w.tagged, f"'{id_}' was handed over with the machine not locked and tagged out")
    if id_ == "panel_cover":
        t.keeps("S37", "covers_on" not in w.ready, "the covers were said to be on, and an open cover was handed over")
    hours = number(line.get("hours")) or 0.0
    t.keeps("S37", not rule.hours or hours <= rule.hours, f"'{id_}' was handed over for {hours:g} hours")
    t.keeps("S37", bool(line.get("owner")), f"'{id_}' was handed over to nobody")


def sealed(t: Turn, line: Line) -> None:
    w = t.w
    t.keeps("S37", not w.open, f"sealed with {', '.join(sorted(w.open))} open")
    t.keeps("S37", not w.owed, f"sealed, and an earlier call left here: {', '.join(sorted(w.owed))}")
    told = not w.untested or w.running or "circuit_open" in w.handed_over
    t.keeps("S37", told, "sealed, and nobody is told of a circuit that was opened and not proved tight")
    t.keeps("S37", w.value("close_consent") is True, "sealed without the technician's consent")
    unlocked = w.found_off and not (w.freed or w.others_lock or w.stay_out)
    t.keeps("S37", not unlocked, "sealed with the machine off and its lock found off: it can start by itself")
    held = w.locked or "locked_out" in w.handed_over or w.others_lock or w.stay_out
    t.keeps("S22", held or not (w.stopped or w.second_trip), "sealed with a machine that was stopped, or tripped again, unlocked")


def true_at_the_end(t: Turn) -> None:
    """S37: what is spoken at the end is what is true then: running, not started, or locked out."""
    w = t.w
    if "close_consent" not in t.ids or not t.words:
        return
    said = t.words.lower()
    locked = w.locked or "locked_out" in w.handed_over
    t.keeps("S37", locked or not _LOCKED_WORDS.search(said), "locked out is said at the end, and the lock is off")
    t.keeps("S37", w.running or not _RUNS_WORDS.search(said), "running is said at the end, and it does not run")
    runs = w.running and w.started
    t.keeps("S37", not (runs and _NOT_STARTED_WORDS.search(said)), "not started is said at the end, and it runs")
    t.keeps("S37", not (w.running and _LOCKED_WORDS.search(said)), "locked out is said at the end, and it runs")


# ---- S38


def emergency(t: Turn) -> None:
    """S38: the key phrases, in their order, before anything else."""
    if t.declared:
        said = t.spoken()
        t.keeps("S38", words.emergency_words(said), "the words after 'emergency' lack a key phrase or their order")
        t.keeps("S38", t.site.street_address.lower() in said, "the address is not said after 'emergency'")
    if not t.heard:
        return
    if "emergency" in t.heard:
        known = t.declared or t.w.emergency or t.meaning.startswith("command: help")
        t.keeps("S38", known, f"'{t.heard}' was heard and no emergency was declared")
    elif words.DISTRESS.search(t.heard) and not t.w.emergency:
        t.keeps("S38", words.DISTRESS_ANSWER in t.spoken(), f"'{t.heard}' was heard and the word for an emergency was not given")


def safe_first(t: Turn) -> None:
    """S38: after an emergency: is everybody safe, is the room safe, before anything else."""
    w = t.w
    if not w.safe_first:
        return
    if w.emergency:
        t.keeps("S38", t.asking == "command" or bool(t.ids & _SAFE), f"'{t.step}' is asked in an emergency")
        return
    first = "everybody_safe" if "everybody_safe" in w.safe_first else "room_safe"
    t.keeps("S38", first in t.ids, f"'{t.step}' is asked after an emergency before '{first}'")
    if first not in t.ids:
        w.safe_first = frozenset()  # complained of once


# ---- S39


def from_words(t: Turn, line: Line) -> None:
    """S39: a reading comes of words, and no word becomes a zero; the one technician of a site is on its profile."""
    if line.get("id") == "technician" and line.get("confirmed") == "by the profile":
        return
    understood = bool(t.heard) and not t.meaning.startswith(("not understood", "no answer"))
    t.keeps("S39", understood, f"'{line.get('id', line.get('step', ''))}' was taken without an answer")
    value = number(line.get("value"))
    if value == 0 and not words.NUMBER_WORDS.search(str(line.get("said", "")).lower()):
        said = str(line.get("said", "")).lower()
        known = words.WORDS_FOR_ZERO.search(said) and not str(line["id"]).startswith("dead_volts.")
        t.keeps("S39", bool(known) or line.get("confirmed") == "asked back", f"'{said}' became 0 for '{line['id']}'")


# ---- S40


def of_one_round(t: Turn, line: Line) -> None:
    """S40: what is joined in one value belongs to one round and one state of the machine."""
    source = [i for i in line.get("source") or () if i in PROCESS]
    read = [t.w.values[i] for i in source if i in t.w.values]
    if len(read) < 2:
        return
    apart = (max(r.at for r in read) - min(r.at for r in read)).total_seconds() / 60
    same = len({r.epoch for r in read}) == 1 and apart <= ROUND_MINUTES
    t.keeps("S40", same, f"'{line['id']}' joins {' and '.join(source)} of different moments or states")


# ---- S41


def nothing_found(t: Turn, line: Line) -> None:
    """S41: "no fault found" is barred by any cause that stands, any reading against it and a watch that has not settled."""
    if line.get("cause") != "no_fault_found" or line.get("standing") not in ("proven", "supported"):
        return
    w = t.w
    others = [c for c, s in w.causes.items() if s == "proven" and c not in w.repaired and c != "no_fault_found"]
    t.keeps("S41", not others, f"no fault found, and {', '.join(others)} stands proven and not repaired")
    if line.get("standing") == "proven":
        against = _not_settled(t)
        t.keeps("S41", not against, f"no fault found is proven, and {against}")


def _not_settled(t: Turn) -> str:
    w, rack = t.w, t.rack
    if not w.started or w.started_at is None or rack is None:
        return "the machine was not watched"
    line, suction = w.us("watch.discharge_temperature"), w.us("watch.suction_pressure")
    if t.minutes_since(w.started_at) < SETTLED_MINUTES:
        return f"it was watched for less than {SETTLED_MINUTES:g} minutes"
    if line is None or line > rack.probe.trip_degf - UNDER_TRIP_DELTA_DEGF:
        return "the line is not 15 degrees under its trip"
    if suction is None or abs(suction - rack.suction_set_point_psig) > 2:
        return "the suction is not within 2 psi of its set point"
    return ""


_HAS_ONE_BEHIND = ("head_high", "suction_low", "short_cycling")
"""Causes that another one brings about: proven, they mend nothing."""


def settled_at_the_end(t: Turn) -> None:
    """S41: "settled" and "no cause found" are not said over a proven cause that is neither repaired nor handed over."""
    w = t.w
    if "close_consent" not in t.ids or not t.words:
        return
    said = t.words.lower()
    if "and settled" in said:
        t.keeps("S41", not _not_settled(t), f"settled is said at the end, and {_not_settled(t)}")
        behind = [c for c in _HAS_ONE_BEHIND if w.causes.get(c) == "proven" and c not in w.repaired]
        left = not behind or w.repaired or "no_cause_reset" in w.handed_over
        t.keeps("S41", bool(left), f"settled is said at the end, {', '.join(behind)} is proven, and nobody comes back for it")
    if "no cause found" in said:
        proven = [c for c, s in w.causes.items() if s == "proven" and c not in (*w.repaired, "no_fault_found")]
        t.keeps("S41", not proven, f"no cause found is said at the end, and {', '.join(proven)} is proven")


# ---- S42


def somebody_named(t: Turn) -> None:
    """S42: somebody is named before a lock or anything hooked up carries a name."""
    if "locked_out" in t.ids:
        t.keeps("S42", "technician" in t.w.values, f"'{t.step}' is asked and nobody is named")


def carries_a_name(t: Turn, line: Line) -> None:
    named = t.w.value("technician")
    who = line.get("who")
    t.keeps("S42", bool(who) and (named is None or who == named), f"'{line['id']}' is open in nobody's name")


ASKED = (true_at_the_end, safe_first, settled_at_the_end, somebody_named)
RECORDED = {
    "obligation_handed_over": (handed_over,), "call_sealed": (sealed,), "reading_taken": (from_words,),
    "step_done": (from_words,),
    "value_derived": (of_one_round,), "concluded": (nothing_found,), "obligation_opened": (carries_a_name,),
}  # fmt: skip
ENDED = (emergency,)
