"""What each line of a call changes in what the monitor keeps of it. No rule is judged here."""

from collections.abc import Callable

from assistant.safety import words
from assistant.safety.amounts import number, reading
from assistant.safety.proving import of_the_proof
from assistant.safety.seen import NONE, Reading, Seen
from assistant.safety.tables import ACROSS, EVIDENCE, HANDS_IN, MUST_NOT_RUN, OBLIGATIONS, OUTSIDE, PROOF, PROOF_IDS, REPAIR_NEEDS
from assistant.safety.turn import Line, Turn, names
from assistant.safety.watch_gas import to_mend
from assistant.safety.watch_hooked import left_here

# ---- lines of the record


def words_heard(t: Turn, line: Line) -> None:
    w = t.w
    t.meaning = str(line.get("meaning", ""))
    asked_back = t.meaning.startswith(("remark in doubt", "remark not so"))  # said again behind a yes
    t.heard = "" if asked_back else str(line["said"]).lower()
    kind, _, about = t.meaning.partition(": ")
    doubted = {one: what for one, what in w.doubted.items() if one != line["said"]}
    if kind == "remark not so" and about == "trouble":  # one no to "is something not safe?" is one to all not understood
        doubted = {one: what for one, what in doubted.items() if what != "trouble"}
    w.doubted = doubted | ({str(line["said"]): about} if kind == "remark in doubt" else {})
    last = max((m for m in (w.heard_at, w.wait_until) if m), default=None)
    if last and t.now - last > t.long_pause:
        waiting = frozenset(one for one in w.spoken if w.at_caution and one[0] in w.pending)
        interrupted(t, "S4 a pause longer than a proof lasts ended the proof")
        w.spoken, w.pending = waiting, frozenset(name for name, _ in waiting)  # these words are just being answered
    w.heard_at = t.now
    t.corrected_before, w.correcting = w.correcting, w.correcting or t.meaning.startswith("command: correct")
    named = {"compressor", "technician"} <= set(w.values)  # before, it is asked to be said again
    if named and not w.running and not {"note", "part_to_order", "leak_place", "part_used"} & set(w.ids):
        w.unready = w.unready | {thing for thing, pattern in words.UNREADY.items() if pattern.search(t.heard)}
    if named and words.METER_WRONG.search(t.heard) and "note" not in w.ids:
        w.end_proof("S4 the meter was said to have read wrong")
    _locks_named(t)


def _locks_named(t: Turn) -> None:
    w = t.w
    if words.LOCK_GONE.search(t.heard):
        w.others_lock = False
    elif words.ANOTHERS_LOCK.search(t.heard):
        w.others_lock = True
    if "lock_removed" in w.ids or "unlock" in w.acts or w.others_lock:
        return
    if words.LOCK_IS_OFF.search(t.heard):
        w.lock_off()
        w.end_proof("S4 the lock was said to be off")


def interrupted(t: Turn, why: str) -> None:
    """Nobody knows what was done meanwhile: proof, cautions and readiness are all made anew."""
    w = t.w
    if "control_power_on" in w.ids and w.stimulus and not w.shut():
        t.liquid_should_open = "power was asked for with the stimulus in, and nobody knows whether it came on"
    w.end_proof(why)
    w.interrupted = True
    w.told = w.told - {"idle_test_valid"}
    opened = w.untested or w.repaired or "leak_repaired" in w.values
    w.gauge_old = w.gauge_old or ("isolated_pressure" in w.values and not opened)
    w.acknowledged, w.spoken, w.pending = NONE, frozenset(), NONE
    w.covers_due = w.covers_due or "covers_on" in w.ready
    w.ready, w.said_at, w.unseen = w.ready - {"others_clear", "covers_on"}, {}, True
    w.values = {id_: value for id_, value in w.values.items() if id_ != "cylinder_checked"}  # another may hang there
    w.anew = frozenset({"clear"} | ({"lock"} if w.locked else set()) | ({"hooked up"} if w.open else set()))


def reading_taken(t: Turn, line: Line) -> None:
    w, id_ = t.w, str(line["id"])
    t.taken = True
    t.readings.append(line)
    if id_ in ("rack", "compressor") and id_ in w.values and line["value"] != w.value(id_):
        _another_machine(t)
    w.values = {**w.values, id_: reading(t, line)}
    if id_ in ("rack", "compressor") and w.left:
        left_here(t)
    if line["value"] == "someone_else" or (
        id_ == "technician" and w.locked and "locked_out" in w.open and line["value"] != w.locked_by
    ):
        w.others_lock = True  # a lock is its owner's alone, whoever goes on with the call (S42)
    if id_ in PROOF_IDS:
        of_the_proof(t, line)
    w.gauge_old = w.gauge_old and id_ != "isolated_pressure"
    handler = _BY_ID.get(id_)
    if handler:
        handler(t, line["value"])
    if id_.startswith(("safety_volts.", "chain_dead_check")):
        _contact(t, id_, line)
    w.tell(names(line, "establishes"), bool(w.acts & words.HANDS) or id_ in HANDS_IN)
    if id_ in w.ids and not line.get("corrected"):
        _answered(t, str(line.get("said", "")).lower(), names(line, "resets"), id_)
    w.correcting = False


def _another_machine(t: Turn) -> None:
    """What was read of the machine before does not stand for this one."""
    w = t.w
    w.values = {i: r for i, r in w.values.items() if i in OUTSIDE}
    w.told = w.contacts = w.resets = w.skipped = w.repaired = w.ready = NONE
    w.untested = False
    w.causes, w.heater_on_at, w.running, w.coil_off, w.found_off = {}, None, False, False, False


def step_done(t: Turn, line: Line) -> None:
    w, said = t.w, str(line["said"]).lower()
    t.taken = True
    facts = names(line, "establishes")
    found = facts | words.told(w.words, said)  # what the record makes of the words does not outweigh them
    w.told = w.told - {f for f in words.TOLD if f in w.told and words.told(w.words, _all_answers(f)) & {f}}
    w.tell(found, bool(w.acts & words.HANDS))
    if "another_lock" in w.acts or any("lock" in fact and ("gone" in fact or "off" in fact) for fact in found):
        w.others_lock = False
    _answered(t, said, names(line, "resets"), "")


def _all_answers(fact: str) -> str:
    return {"line_fuse_open": "open", "modules_off": "all off", "charge_unknown": "unknown", "idle_test_valid": "all so",
            "oil_control_not_tripped": "not tripped", "milliohm_meter": "low ohm"}[fact]  # fmt: skip


def _answered(t: Turn, said: str, resets: frozenset[str], id_: str) -> None:
    """What was asked is done."""
    w = t.w
    done = w.acts
    t.done_acts, t.done_words, t.done_step = t.done_acts | done, w.words, w.step
    t.done_ids = t.done_ids | ({id_} if id_ and t.readings[-1]["value"] is not False else set())
    if done & words.HANDS or id_ in HANDS_IN or id_ in PROOF_IDS:
        w.panel_at = t.now
    if "start" in done or "started" in w.told:
        _started(t)
    if "stop" in done or "stopped" in w.told:
        w.running, w.stopped, w.over_trip, w.epoch, w.not_to_run = False, True, False, w.epoch + 1, False
        w.told = w.told - {"stopped"}
    if resets or "reset" in done or id_ == "control_reset":
        w.acknowledged = w.acknowledged - {"reset"}
        w.resets = w.resets | (resets or _reset_of(t, id_))
    _repaired(t, said, id_)
    _circuit_done(t, done, id_)


def _started(t: Turn) -> None:
    w = t.w
    w.running, w.started, w.stopped, w.found_off, w.epoch = True, True, False, False, w.epoch + 1
    w.started_at, w.locked_long = t.now, False
    w.told = w.told - {"started"}


def _reset_of(t: Turn, id_: str) -> frozenset[str]:
    if id_ == "overload_state":
        return frozenset({"motor"})
    if id_ == "control_reset":
        pressure = frozenset({"high pressure", "low pressure"})
        return frozenset(p for p in pressure if p in t.w.words.lower()) or pressure
    return frozenset({"*"})


_OPENS = frozenset({"isolated", "emptied"})
"""Needs of a repair that opens the circuit."""


def _repaired(t: Turn, said: str, id_: str) -> None:
    w = t.w
    left = "leave" in said or "left" in said
    by_words = "repair" in w.acts and not id_ and not left
    if by_words or "repaired" in w.told:
        w.untested = w.untested or any(_OPENS & REPAIR_NEEDS.get(cause, NONE) for cause in to_mend(t))
        w.repaired = w.repaired | {c for c, standing in w.causes.items() if standing in ("proven", "supported")}
        w.told = w.told - {"repaired"}
    elif "pressure_test" in w.acts and "repair" not in w.acts and not left:
        w.untested = False


def _circuit_done(t: Turn, done: frozenset[str], id_: str) -> None:
    """Acts that no id of the vocabulary stands for."""
    w = t.w
    if "seat_coil" in done:
        w.coil_off = False
    elif "coil_off" in done:
        w.coil_off = True
    if "power_on" in done and not id_:
        _power_on(t, True)
    if "unlock" in done and not id_:
        _lock_removed(t, True)
    if "jumper_in" in done and not id_:
        w.stimulus = True
    if "jumper_out" in done and not id_:
        w.stimulus = False
    if "valve_close" in done and "hand valve" in w.words.lower():
        w.valve_not_shut = False
    if "close_liquid" in done:
        w.liquid_valves += 1
    if done & {"emptied", "isolated", "recovered"} and not id_:
        w.told = w.told | (done & {"emptied", "isolated", "recovered"})
    if "emptied" in done or "valve_open" in done:
        w.liquid_valves = 0
    if "section_open" in done or ("valve_open" in done and "valve again" in w.words.lower()):
        w.told = w.told - EVIDENCE["emptied"] - EVIDENCE["isolated"]  # full again
    if "insulation" in done or id_ == "ground_megohms":
        w.leads_are_tester = True


# ---- readings by their id


def _power_on(t: Turn, value: object) -> None:
    w = t.w
    w.power, w.on_at, w.asked_feed = "on", t.now, False
    w.end_proof("S4 power was restored")


def _power_off(t: Turn, value: object) -> None:
    w = t.w
    if w.feeding() and w.asked_feed and not w.answered_feed and not w.stay_out:
        t.liquid_should_open = "nobody looked at the feed with the stimulus in"
    w.fed_s = w.fed_by(t.now)
    w.was_fed = w.was_fed or (w.power == "on" and w.stimulus)
    w.power, w.on_at = "off", None
    w.acknowledged = w.acknowledged - {"live", "live_place"}
    stayed = w.locked and w.tagged and "lock" not in w.anew and not w.others_lock
    w.end_proof("S1 power was on and the panel is not proved dead since", PROOF[:2] if stayed else (), t.now)


def _lock_removed(t: Turn, value: object) -> None:
    t.w.lock_off()
    t.w.found_off, t.w.freed = False, value is True
    t.w.power = "as found"
    t.w.acknowledged = t.w.acknowledged - {"restart"}
    t.w.end_proof("S4 a lock was removed")


def _lock_still_on(t: Turn, value: object) -> None:
    w = t.w
    asked_anew, w.anew = "lock" in w.anew, w.anew - {"lock"}
    if value in ("yes", True):
        w.locked_by = w.locked_by if "locked_out" in w.open else w.value("technician")
        w.locked, w.locked_at, w.found_off, w.freed = True, w.locked_at or t.now, False, False
        w.tagged = w.tagged or (bool(t.tag) and w.value("panel_tag") == t.tag)
        if asked_anew and w.locked and w.tagged and w.power != "on":
            w.end_proof("S1 the panel is not proved dead since the interruption", PROOF[:2], t.now)
    else:
        w.lock_off()
        w.found_off = not w.running
        w.end_proof("S4 the lock was off")


def _ready(id_: str) -> Callable[[Turn, object], None]:
    def ready(t: Turn, value: object) -> None:
        w = t.w
        w.ready = w.ready | {id_} if value is True else w.ready - {id_}
        if value is True:
            w.unready = w.unready - {id_}
        if id_ == "others_clear" and value is True:
            w.anew = w.anew - {"clear"}
        if id_ == "covers_on" and value is True:
            w.covers_due = False

    return ready


def _safe(id_: str) -> Callable[[Turn, object], None]:
    def safe(t: Turn, value: object) -> None:
        if value in ("yes", True):
            t.w.safe_first = t.w.safe_first - {id_}
            t.w.stay_out = t.w.stay_out and id_ != "room_safe"

    return safe


def _detector(t: Turn, value: object) -> None:
    rack = t.rack
    closed = rack.closed_room if rack else any(r.closed_room for r in t.site.racks)
    t.w.stay_out = value == "alarm" or (value in ("dead", "none") and closed)


def _store_told(t: Turn, value: object) -> None:
    t.w.rack_told = t.w.rack_told or (value is True and t.w.stops_rack_said)


def _running_now(t: Turn, value: object) -> None:
    w = t.w
    w.second_trip = w.second_trip or (w.started and value in ("just tripped", "off"))
    w.running = value == "running"
    w.found_off = w.found_off and not w.running
    if w.running and w.locked and not w.started:  # that lock hangs on another one
        w.another_panel()
    _tripped(t, value)


_OF_THE_HIGH_SIDE_PSI = 100.0
"""A setting so far over what the rack holds its suction at is the high-pressure control's. Common practice."""


def _tripped(t: Turn, value: object) -> None:
    """Its line at its trip or over, its head at the high cutout's setting or over, its suction at the low one's or under, of a
    machine that runs."""
    w, rack = t.w, t.rack
    if not (rack and w.running):
        return
    line, head = _worst_of(w, "discharge_temperature"), _worst_of(w, "discharge_pressure")
    read = w.us("cutout_pressure")
    cutout = read if read is not None and read > rack.suction_set_point_psig + _OF_THE_HIGH_SIDE_PSI else rack.high_cutout_psig
    over_cutout = bool(cutout) and head is not None and head >= cutout
    suction = _last(w, "suction_pressure")
    low = read if read is not None and read < rack.suction_set_point_psig else rack.low_cutout_psig
    throttled = "valve_closed.suction" in w.open
    under_cutout = low is not None and suction is not None and suction.us is not None and suction.us <= low and not throttled
    w.over_trip = (line is not None and line >= rack.probe.trip_degf - 0.05) or over_cutout or under_cutout


def _last(w: Seen, id_: str) -> Reading | None:
    """What was last read of it, in the watch or by its name, since the machine runs."""
    both = (w.values.get(name) for name in (id_, f"watch.{id_}"))
    since = w.started_at if w.started else None
    return max((r for r in both if r and (since is None or r.at >= since)), key=lambda r: r.at, default=None)


def _worst_of(w: Seen, id_: str) -> float | None:
    """The worse end of it."""
    read = _last(w, id_)
    return max((v for v in (read.us, read.high) if v is not None), default=None) if read else None


def _heater(t: Turn, value: object) -> None:
    t.w.heater_on_at = (t.w.heater_on_at or t.now) if value == "on" else None


def _contact(t: Turn, id_: str, line: Line) -> None:
    w, value, rack = t.w, line["value"], t.rack
    name = ACROSS.get(id_.partition(".")[2], "")
    volts = number(value)
    if name and rack and volts is not None and volts >= 0.85 * rack.panel.control_volts:
        w.contacts = w.contacts | {name}
    elif id_ == "chain_dead_check" and value not in ("two", "none"):
        w.contacts = w.contacts | {str(value)}


def _set(**what: object) -> Callable[[Turn, object], None]:
    def change(t: Turn, value: object) -> None:
        for name, wanted in what.items():
            setattr(t.w, name, value == wanted)

    return change


def _feed(t: Turn, value: object) -> None:
    t.w.answered_feed = t.w.answered_feed or (t.w.power == "on" and t.w.stimulus)


def _other_lock_gone(t: Turn, value: object) -> None:
    w = t.w
    w.others_lock = False
    if w.locked and w.locked_by != w.value("technician"):
        w.lock_off()
        w.end_proof("S42 the lock was another's, and is gone")


def _coil(t: Turn, value: object) -> None:
    t.w.coil_off = value == "loose"


def _hand_valve(t: Turn, value: object) -> None:
    t.w.valve_not_shut = value != "closed"


def _jumper_removed(t: Turn, value: object) -> None:
    t.w.stimulus = t.w.stimulus and value is not True


def _charged(t: Turn, value: object) -> None:
    t.w.epoch += bool(value)  # with nothing added it is as it was


def _recovered(t: Turn, value: object) -> None:
    t.w.told = t.w.told | {"recovered"}


def _fans_locked(t: Turn, value: object) -> None:
    t.w.told = t.w.told | {"fans_locked"} if value is True else t.w.told - {"fans_locked"}


_BY_ID: dict[str, Callable[[Turn, object], None]] = {
    "control_power_on": _power_on, "control_power_off": _power_off, "lock_removed": _lock_removed,
    "lock_still_on": _lock_still_on, "service_valves_open": _ready("service_valves_open"), "covers_on": _ready("covers_on"),
    "others_clear": _ready("others_clear"), "everybody_safe": _safe("everybody_safe"), "room_safe": _safe("room_safe"),
    "detector_state": _detector, "other_lock_gone": _other_lock_gone,
    "store_told": _store_told, "running_now": _running_now,
    "watch.discharge_temperature": _tripped, "discharge_temperature": _tripped, "watch.discharge_pressure": _tripped,
    "discharge_pressure": _tripped, "watch.suction_pressure": _tripped, "suction_pressure": _tripped, "crankcase_heater": _heater,
    "jumper_fitted": _set(stimulus=True), "jumper_removed": _jumper_removed, "start_prevented": _set(prevented=True),
    "injection_feed": _feed, "injection_hand_valve": _hand_valve,
    "coil_seated": _coil, "refrigerant_added": _charged, "refrigerant_recovered": _recovered,
    "fans_locked": _fans_locked,
}  # fmt: skip

# ---- other lines


def call_opened(t: Turn, line: Line) -> None:
    if line.get("technician"):
        t.w.values = {**t.w.values, "technician": Reading(line["technician"], None, None, None, t.now, 0)}
    t.w.left = frozenset((rack, compressor, id_, who) for rack, compressor, id_, who in line.get("left_before") or ())



def step_skipped(t: Turn, line: Line) -> None:
    w = t.w
    w.skipped = w.skipped | frozenset(w.ids)
    w.valve_not_shut = w.valve_not_shut or ("valve_close" in w.acts and "hand valve" in w.words.lower())


def step_entered(t: Turn, line: Line) -> None:
    t.w.correcting = False


def reading_withdrawn(t: Turn, line: Line) -> None:
    """It was read of another thing; with the tag all that was done under it."""
    w, id_ = t.w, str(line["id"])
    if id_ == "panel_tag":
        w.lock_off()
        w.another_panel()
        w.tag_doubted = True
        w.end_proof("S2 the panel was said to be another machine's")
    else:
        w.values = {i: r for i, r in w.values.items() if i != id_}


def obligation_opened(t: Turn, line: Line) -> None:
    w, id_ = t.w, str(line["id"])
    if id_ == "valve_closed.injection" and w.on_at:  # the seconds of the feed stop counting
        w.fed_s, w.on_at = w.fed_by(t.now), t.now
    there = next((tag for o, tag in w.elsewhere.items() if o in w.open), "")
    if there and id_ == "jumper_fitted" and id_ not in w.elsewhere:  # told at the panel where he is
        w.elsewhere = {**w.elsewhere, id_: there}
    w.open, w.handed_over = w.open | {id_}, w.handed_over - {id_}
    if id_ in ("panel_cover", "terminal_cover"):
        w.covers_due, w.ready = True, w.ready - {"covers_on"}
    w.liquid_due = w.liquid_due or id_ == "liquid_in_compressor"
    w.liquid_was = w.liquid_was or id_ == "liquid_in_compressor"


def obligation_cleared(t: Turn, line: Line) -> None:
    w, id_ = t.w, str(line["id"])
    w.open, w.unready, w.owed = w.open - {id_}, w.unready - {id_}, w.owed - {id_}
    if id_ in w.elsewhere:
        w.elsewhere = {o: tag for o, tag in w.elsewhere.items() if o != id_}
    if id_ == "locked_out":
        w.told = w.told - {"idle_test_valid"}
    elif id_ == "start_blocked":
        w.prevented = False
    elif id_ == "valve_closed.injection" and w.on_at:  # and go on
        w.on_at = t.now
    elif id_ == "wire_lifted":
        w.told = w.told - {"modules_off"}
    elif id_ == "leads_on":
        w.leads_are_tester = False
    elif id_ == "liquid_section_closed":
        w.liquid_valves = 0


def obligation_handed_over(t: Turn, line: Line) -> None:
    w, id_ = t.w, str(line["id"])
    w.open, w.handed_over, w.owed = w.open - {id_}, w.handed_over | {id_}, w.owed - {id_}
    w.elsewhere = {o: tag for o, tag in w.elsewhere.items() if o != id_}
    w.end_proof("S4 something was handed over")


def proof_ended(t: Turn, line: Line) -> None:
    t.w.end_proof(f"S4 the proof ended: {line.get('reason', '')}")


def emergency_declared(t: Turn, line: Line) -> None:
    w = t.w
    t.declared, w.held = True, False
    w.emergency, w.safe_first = True, frozenset({"everybody_safe", "room_safe"})
    w.end_proof("S4 an emergency ended the proof")


def emergency_over(t: Turn, line: Line) -> None:
    t.w.emergency = False
    interrupted(t, "S4 an emergency ended the proof")


def call_resumed(t: Turn, line: Line) -> None:
    t.w.held = t.w.emergency = False
    interrupted(t, "S4 the call was taken up again and the panel is not proved dead since")
    t.w.heard_at = t.now


def call_held(t: Turn, line: Line) -> None:
    t.w.held = True


def call_continued(t: Turn, line: Line) -> None:
    t.w.held = False


def concluded(t: Turn, line: Line) -> None:
    w, cause, standing = t.w, str(line["cause"]), str(line["standing"])
    w.causes = {**w.causes, cause: standing}
    if cause in MUST_NOT_RUN and w.started and w.running:
        w.not_to_run = standing in ("proven", "supported")


def call_sealed(t: Turn, line: Line) -> None:
    t.w.sealed = True


def caution_acknowledged(t: Turn, line: Line) -> None:
    w, name = t.w, str(line["caution"])
    t.taken = True
    t.acknowledged.append(name)
    if (name, "short") in w.spoken or (name, "full") in w.spoken:
        w.acknowledged, w.pending, w.waited_for = w.acknowledged | {name}, w.pending - {name}, w.waited_for - {name}


def said(t: Turn, line: Line) -> None:
    """A spoken sentence."""
    w, text = t.w, str(line["text"])
    purpose, low = str(line.get("purpose", "")), text.lower()
    t.said.append((purpose, text))
    found = words.cautions_in(text)
    count = low.count(" ") + 1
    w.words_spoken += count
    if purpose == "caution":
        w.caution_words += count
        w.said_at = {**w.said_at, text: t.now}
    if found:
        w.spoken, w.pending = w.spoken | found, w.pending | {name for name, _ in found}
        if any(name == "restart" for name, _ in found):
            w.restart_said_at = t.now
        w.liquid_due = w.liquid_due and not any(name == "liquid_in_machine" for name, _ in found)
    if purpose == "ask":
        t.words = f"{t.words} {text}".strip()
    if "stops rack" in low or "stops the whole rack" in low:
        w.stops_rack_said = True
    asked = t.words.lower()  # what is only told on the way is not asked anew
    if "still hooked up" in asked and all(words.named(asked, OBLIGATIONS[o].names) for o in w.open if o in OBLIGATIONS):
        w.anew = w.anew - {"hooked up"}


def waited(t: Turn, line: Line) -> None:
    t.asked = True
    until = line.get("until")
    if hasattr(until, "tzinfo"):
        t.w.wait_until = until


HAPPENED: dict[str, Callable[[Turn, Line], None]] = {
    f.__name__: f for f in (
        call_opened, words_heard, reading_taken, step_done, step_skipped, step_entered, reading_withdrawn,
        obligation_opened, obligation_cleared,
        obligation_handed_over, proof_ended, emergency_declared, emergency_over, call_resumed, call_held, call_continued,
        concluded, call_sealed, caution_acknowledged,
    )
} | {"say": said, "wait": waited}  # fmt: skip
"""By the kind of line."""
