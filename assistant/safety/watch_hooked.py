"""Watches that what the hands hooked up is on record, and off the record only once it is off (S20, S37).

Rules S20 and S37 look at what is open. A procedure that forgets to open it would keep both and hurt somebody.
"""

from assistant.safety.seen import NONE
from assistant.safety.tables import EVIDENCE, HEATER_MINUTES, LIVE, OBLIGATIONS
from assistant.safety.turn import Line, Turn
from assistant.safety.words import LOCK_IS_OFF

_BY_ACT = {
    "lift": "wire_lifted", "jumper_in": "jumper_fitted", "block": "start_blocked", "terminal_open": "terminal_cover",
    "hose_on": "hose_on", "insulation": "leads_on", "close_discharge": "valve_closed.discharge",
}  # fmt: skip
_BY_ID = {
    "jumper_fitted": "jumper_fitted", "start_prevented": "start_blocked", "leads_clipped": "leads_on", "locked_out": "locked_out",
    "dead_volts.power": "panel_cover", "injection_coil_ohms": "wire_lifted", "starter_coil_ohms": "wire_lifted",
    "ground_megohms": "leads_on", "second_source_locked": "second_lock",
    "fans_locked": "fan_lock",
    "section_emptied": "section_shut",
    **dict.fromkeys(LIVE - {"valve_click", "module_enabled"}, "panel_cover"),
}  # fmt: skip
_BY_WORDS = (
    # act, word of the prompt, obligation
    ("unplug", "module", "wire_lifted"), ("unplug", "connector", "wire_lifted"),
    ("valve_close", "hand valve", "valve_closed.injection"),
    ("valve_close", "suction", "valve_closed.suction"), ("valve_open", "cracked", "valve_closed.suction"),
    ("recovered", "recover", "hose_on"), ("clip", "clip", "leads_on"), ("clip", "clamp", "clamp_left_on"),
)  # fmt: skip
_CLEARED_BY = {
    "wire_lifted": {"wire_back"}, "jumper_fitted": {"jumper_removed", "jumper_out"}, "leads_on": {"unclip"},
    "start_blocked": {"unblock"}, "terminal_cover": {"terminal_close"}, "panel_cover": {"covers_on"},
    "locked_out": {"lock_removed", "unlock", "lock_still_on"}, "hose_on": {"hose_off"},
    "fan_lock": {"fans_unlocked"}, "section_shut": {"section_open"}, "lock_elsewhere": {"other_unlock", "panel_tag"},
    "valve_closed.injection": {"valve_open", "injection_hand_valve", "service_valves_open"},
    "valve_closed.suction": {"valve_open", "service_valves_open"},
    "valve_closed.discharge": {"valve_open", "service_valves_open"},
}  # fmt: skip
"""The answers, by act or id, behind which each may come off the record."""
_LOCKS = ("locked_out", "second_lock", "fan_lock")


def left_here(t: Turn) -> None:
    """What an earlier call left at this machine: the lock of somebody else is not his to take off."""
    w = t.w
    here, who = (w.value("rack"), w.value("compressor")), w.value("technician")
    rules = {id_: OBLIGATIONS[id_] for _, _, id_, _ in w.left if id_ in OBLIGATIONS}
    w.owed = frozenset(
        id_ for rack, compressor, id_, whose in w.left
        if (rack, compressor) == here and id_ in rules and (rules[id_].blocks or rules[id_].hand_over == "never")
        and (id_ not in _LOCKS or whose == who)
    )  # fmt: skip
    w.interrupted = w.interrupted or bool(w.owed)
    w.anew = w.anew | ({"hooked up"} if w.owed else NONE) | ({"lock"} if "locked_out" in w.owed else NONE)


def on_record(t: Turn) -> None:
    """What was just hooked up is open; a lock too that was found to hang at another machine."""
    if t.w.strays:
        t.keeps("S20", "lock_elsewhere" in t.w.open, "the lock was found to hang at another machine, and that is not on record")
        t.w.strays = False
    if not (t.done_acts or t.done_ids):
        return
    hooked = {_BY_ACT[a] for a in t.done_acts if a in _BY_ACT} | {_BY_ID[i] for i in t.done_ids if i in _BY_ID}
    words = t.done_words.lower()
    hooked |= {o for act, word, o in _BY_WORDS if act in t.done_acts and word in words}
    for id_ in sorted(hooked):
        rule = "S20" if OBLIGATIONS[id_].blocks else "S37"
        known = id_ in t.was_open or id_ in t.w.open or id_ in t.w.handed_over
        t.keeps(rule, known, f"'{t.done_step}' was done and '{id_}' is not on record")


def off_the_record(t: Turn, line: Line) -> None:
    """What comes off the record was just said to be off."""
    id_ = str(line["id"])
    wanted = _CLEARED_BY.get(id_)
    rule = "S20" if id_ in OBLIGATIONS and OBLIGATIONS[id_].blocks else "S37"
    said_off = id_ == "locked_out" and bool(LOCK_IS_OFF.search(t.heard))
    anothers = id_ in _LOCKS and t.w.locked_by != t.w.value("technician")
    said_off = said_off or (anothers and any(r["id"] == "other_lock_gone" for r in t.readings))
    named = any(r["id"] in ("rack", "compressor") for r in t.readings)  # what was left hangs at another machine than this one
    elsewhere = named and id_ in {left for _, _, left, _ in t.w.left} and id_ not in t.w.owed
    if wanted and not (said_off or elsewhere):
        answered = t.done_acts | t.done_ids | {str(r["id"]) for r in t.readings}
        t.keeps(rule, bool(wanted & answered), f"'{id_}' came off the record and nobody said that it is off")
    if id_ == "fan_lock":
        t.w.told = t.w.told - EVIDENCE["fans"]
    if id_ == "liquid_in_compressor":
        missing = _liquid_not_out(t)
        t.keeps("S20", not missing, f"liquid in the machine came off the record, and {missing}")


def _liquid_not_out(t: Turn) -> str:
    """Never by waiting alone: heater on for its time, oil neither high nor foaming, the feed off or mended."""
    w = t.w
    if w.heater_on_at is None or t.minutes_since(w.heater_on_at) < HEATER_MINUTES:
        return f"the crankcase heater was not on for {HEATER_MINUTES:g} minutes"
    if w.value("oil_level") not in ("low", "normal"):
        return "the oil was not seen neither high nor foaming"
    if w.value("injection_after") == "feeding" and not w.repaired:
        return "the line still feeds"
    cold = w.value("crankcase_and_heads") in ("cold", "frosted")
    return "crankcase and heads are cold" if cold else ""


ASKED = ()
RECORDED = {"obligation_cleared": (off_the_record,)}
ENDED = (on_record,)
