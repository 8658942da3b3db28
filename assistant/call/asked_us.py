"""What the technician asks the assistant: what a good one reads, what a reading was, what a conclusion rests on.

Answered from the site's own figures, from the trade's limits and from what this call has on record, and never by anything else.
"""

import re
from collections.abc import Callable

from assistant.call import modes
from assistant.call.conversation import Conversation
from assistant.call.known import high_cutout_psig, low_cutout_psig
from assistant.call.state import State
from assistant.language.grammar import normalise
from assistant.language.meaning import Question
from assistant.language.names import called, is_named, name_words
from assistant.language.numbers import spoken_number
from assistant.language.questions import is_question
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import sentence, spoken_cause, spoken_name, spoken_value
from assistant.profile import Rack
from assistant.trade.units import convert

_SHOULD_READ = re.compile(
    r"\bwhat (?:should|would|does|ought|is|'s)\b.*\b(?:read|be|show|normal|good)\b|\bwhat's (?:a |the )?(?:good|normal|right)\b"
    r"|\b(?:is|are) (?:that|this|it|those) (?:about |any |a )?(?:good|normal|right|okay|ok|bad|high|low|too high|too low)\b"
    r"|\bwhat (?:should|would|will|do) (?:i|we|you) (?:see|get|find|expect|read)\b"
    r"|\bwhat(?:'s| is) (?:it|the [a-z]+) set (?:for|at|to)\b"
    r"|\bwhat (?:am i|are we|should i be|would you be) (?:looking for|expecting|after|hoping for|look for|expect)\b"
)
_WHAT_WAS = re.compile(
    r"\b(?:what|which)(?:'s| is| was| were| are)? (?:did )?(?:i |we |you )?(?:say |give |tell |get |got |have |put |write |log "
    r"|read )?(?:you )?(?:down )?(?:for |on |as |was |is )?(?:the |that |my |our )?(?P<name>[a-z ]+?)(?: was| is| again| read"
    r"| reading| down as| before| i gave(?: you)?| i said| we got| we have)*$"
)
_ON_WHAT_GROUNDS = re.compile(
    r"\bwhy (?:do you |would you |you )?(?:think |say |blame |is |are |was |it's |that's |not )"
    r"|\bhow (?:do|can|would|could) (?:you|we) (?:know|tell|be sure)\b|\bwhat makes you (?:say|think|so sure|sure)\b"
    r"|\b(?:are )?you (?:really |absolutely )?(?:sure|certain)\b|\bwhat(?:'s| is)? (?:the |your )?(?:proof|proves|evidence)\b"
    r"|\bbased on what\b|\bwhat did it read\b|\bsays who\b"
)
_WHAT_NEXT = re.compile(
    r"\bwhat(?:'s| is| comes| do we do| do i do)? (?:next|after (?:this|that))\b|\b(?:then|now) what\b|\bwhat then\b"
)
_WHICH_ONES = re.compile(
    r"\b(?:what|which|how many) (?P<of>racks?|compressors?|machines?)\b"
    r"(?:.*\b(?:have|got|are|is|there|know|called|say|choose|list|names?)\b|$)"
    r"|\bwhat are (?:the|my|your) (?P<named>racks|compressors|machines)\b"
)
_HOW_LONG = re.compile(
    r"\bwait|\bhow (?:long|much longer|many minutes)\b|\b(?:is|are) (?:it|we|you) (?:done|there|ready|finished|time)\b"
)
"""Asked at a wait: how long it takes still is said whatever is asked."""
_NOT_KNOWN = "I can't answer that."
_NOTHING_CONCLUDED = "Nothing is concluded yet."


def told_back(call: Conversation, question: Question, words: str, only_read: bool = False) -> str:
    """What to say to who asks us; empty where the words ask nothing that is known.

    Args:
        call: as it stands.
        question: what was asked of him.
        words: what he said instead, and what meant nothing to it.
        only_read: no more than what it should read, or what was read.
    """
    text, s = normalise(words), call.state
    if call.mode.name == modes.ASKING and _SHOULD_READ.search(text):
        return _should_read(s, question.asking)
    if not (is_question(text) or _ON_WHAT_GROUNDS.search(text)):
        return ""
    if call.mode.name == modes.WAITING and _HOW_LONG.search(text):
        return ""
    known = _which_ones(s, question, text) or _what_was(s, question, text)
    return known or ("" if only_read else _grounds(s, text) or _next(text) or _NOT_KNOWN)


# ---- what it should read


def _pounds(psig: float, s: State) -> str:
    us = s.site.units == "us"
    return spoken_value("suction_pressure", psig if us else round(convert(psig, "psig", "barg"), 1), "psig" if us else "barg")


def _degrees(degf: float, s: State) -> str:
    us = s.site.units == "us"
    return spoken_value("discharge_temperature", degf if us else float(round(convert(degf, "F", "C"))), "F" if us else "C")


def _coil(ohms: float | None) -> str:
    return f"{spoken_value('injection_coil_ohms', ohms, 'ohm')} by the site's list" if ohms else ""


def _meg(s: State, rack: Rack) -> str:
    limits = rack.limits
    return (
        f"{spoken_number(limits.ground_passes_mohm, 'ratio')} meg or more passes, under"
        f" {spoken_number(limits.ground_fails_mohm, 'ratio')} fails"
    )


def _net_oil(s: State, rack: Rack) -> str:
    limits = rack.limits
    low, well = (spoken_number(n, "count") for n in (limits.net_oil_limit_delta_psi, limits.net_oil_healthy_delta_psi))
    return "" if s.site.units != "us" else f"the pump {well} pounds or more over its crankcase; up to {low} is low"


def _cutout(s: State, rack: Rack) -> str:
    if "high pressure" in s.contacts:
        return f"set to {_pounds(psig, s)}" if (psig := high_cutout_psig(s)) else ""
    low = low_cutout_psig(s)
    return f"set to {_pounds(low, s)}" if low is not None else ""


def _drier(s: State, rack: Rack) -> str:
    good, bad = (spoken_number(n, "ratio") for n in (rack.limits.drier_good_delta_degf, rack.limits.drier_bad_delta_degf))
    return "" if s.site.units != "us" else f"under {good} degrees is good, over {bad} is plugged"


def _line(s: State, rack: Rack) -> str:
    return f"it trips at {_degrees(rack.probe.trip_degf, s)}, and is fed from {_degrees(rack.probe.inject_degf, s)}"


def _amps(s: State, rack: Rack) -> str:
    return f"rated {spoken_number(rack.panel.rated_amps, 'count')} amps" if rack.panel.rated_amps else ""


def _suction(s: State, rack: Rack) -> str:
    return f"the set point is {_pounds(rack.suction_set_point_psig, s)}"


def _head(s: State, rack: Rack) -> str:
    return f"the least that its control holds is {_pounds(rack.head_minimum_psig, s)}"


def _dead(s: State, rack: Rack) -> str:
    return f"up to {spoken_number(rack.limits.dead_limit_v, 'ratio')} volts is dead"


_FIGURES: dict[str, Callable[[State, Rack], str]] = {
    "injection_coil_ohms": lambda s, rack: _coil(rack.injection.coil_ohms),
    "starter_coil_ohms": lambda s, rack: _coil(rack.panel.starter_coil_ohms),
    "rack_suction_pressure": _suction, "suction_pressure": _suction, "watch.suction_pressure": _suction,
    "rack_discharge_pressure": _head, "discharge_pressure": _head, "watch.discharge_pressure": _head,
    "discharge_temperature": _line, "watch.discharge_temperature": _line,
    "watch.amps": _amps,
    "oil_pump_pressure": _net_oil, "ground_megohms": _meg, "drier_temperature_drop": _drier,
    "dead_volts.power": _dead, "dead_volts.control": _dead,
    "cutout_pressure": _cutout, "control_trip_pressure": _cutout,
    "injection_coil_volts": lambda s, rack: f"{spoken_number(rack.injection.coil_volts, 'count')} volts by the site's list",
    "control_volts": lambda s, rack: f"{spoken_number(rack.panel.control_volts, 'count')} volts by the site's list",
}  # fmt: skip
"""By what is asked: the site's own figure, or the limit that its reading is held against."""


def _should_read(s: State, asking: str) -> str:
    entry = vocabulary().get(asking)
    if s.rack is None or entry is None or entry.kind in ("choice", "yes_no", "acknowledge", "free"):
        return ""
    figure = _FIGURES[asking](s, s.rack) if asking in _FIGURES else ""
    return f"{sentence(figure)} What does this one read?" if figure else "I have no figure for that one. What does it read?"


# ---- which machines there are


def _which_ones(s: State, question: Question, text: str) -> str:
    """The site's racks, or a rack's compressors, where one of them is asked for."""
    asked = _WHICH_ONES.search(text)
    if asked is None or not {"rack", "compressor"} & {question.asking, *question.also}:
        return ""
    if (asked["of"] or asked["named"]).startswith("rack") or s.rack is None:
        return sentence(f"racks {_listed([rack.id for rack in s.site.racks])}")
    return sentence(f"rack {s.rack.id} has compressors {_listed([machine.id for machine in s.rack.compressors])}")


def _listed(names: list[str]) -> str:
    said = [name.upper() if len(name) == 1 else name for name in names]
    return f"{', '.join(said[:-1])} and {said[-1]}" if len(said) > 1 else said[0]


# ---- what it was


def _what_was(s: State, question: Question, text: str) -> str:
    """A reading of this call by its name: as logged, or that it is not read."""
    asked = _WHAT_WAS.search(text)
    if asked is None:
        return ""
    ids = [id_ for id_ in called(asked["name"]) if id_ in vocabulary()]
    words = {word.removesuffix("'s") for word in asked["name"].split()}
    known = [id_ for id_ in ids if id_ in s.readings] or [
        id_ for id_, reading in s.readings.items()
        if reading.value is not True and is_named(id_, asked["name"]) and words <= name_words(id_)
    ]  # fmt: skip
    if not known and s.rack is not None and (site := {"suction_set_point": _suction, "head_set_point": _head}.get((*ids, "")[0])):
        return sentence(site(s, s.rack))
    if not known:
        own = {question.asking, *question.also} & set(ids)
        return f"No {spoken_name(ids[0])} is on record yet." if ids and not own else ""
    told = (f"{spoken_name(id_)} {spoken_value(id_, s.readings[id_].value, s.readings[id_].unit)}" for id_ in known[-2:])
    return sentence(", ".join(told))


# ---- on what grounds


def _grounds(s: State, text: str) -> str:
    """What the best conclusion of this call rests on."""
    if not _ON_WHAT_GROUNDS.search(text):
        return ""
    held = [c for c in s.conclusions.values() if c.standing in ("proven", "supported", "suspected")]
    if not held:
        return _NOTHING_CONCLUDED
    named = [c for c in held if set(spoken_cause(c.cause).split()) & set(text.split())]
    best = min(named or held, key=lambda c: ("proven", "supported", "suspected").index(c.standing))
    reads = [
        f"{spoken_name(id_)} {spoken_value(id_, s.readings[id_].value, s.readings[id_].unit)}"
        for id_ in best.evidence if id_ in s.readings and s.readings[id_].value is not True
    ]  # fmt: skip
    facts = [s.procedure.facts[id_] for id_ in best.evidence if id_ in s.procedure.facts]
    rests_on = ", ".join([*reads, *facts]) or "what you saw"
    return f"{sentence(spoken_cause(best.cause))} {sentence(best.standing)} It rests on: {rests_on}."


def _next(text: str) -> str:
    return "What comes next hangs on this answer." if _WHAT_NEXT.search(text) else ""
