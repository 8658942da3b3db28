"""Watches the lock and the proof of absence of voltage: rules S1 to S7."""

from assistant.safety import words
from assistant.safety.amounts import worst_volts
from assistant.safety.tables import CLEARED_IN_A_PANEL, DEAD_V, PROOF_IDS, REPAIR_NEEDS, SECOND_SOURCE_V
from assistant.safety.turn import Line, Turn
from assistant.safety.watch_gas import to_mend


def hands_in(t: Turn) -> None:
    """S1: hands go in only while the panel is proved dead; S2 to S4 say why it is not."""
    w = t.w
    mends = w.dead and "repair" in t.acts and any("dead" in REPAIR_NEEDS.get(cause, ()) for cause in to_mend(t))
    if not (t.hands or mends):
        return
    t.came("S1")
    if not w.dead:
        rule, _, why = w.dead_why.partition(" ")
        t.broke(rule, f"'{t.step}' is asked and {why}")
    elif t.minutes_since(w.panel_at) > t.site.dead_minutes:
        t.keeps("S4", False, f"'{t.step}' is asked on a proof that nobody was near for {t.site.dead_minutes:g} minutes")


def at_its_own_panel(t: Turn) -> None:
    """S2: what hangs in one machine's panel comes out under that one's proof, and nothing else is done under it."""
    w = t.w
    if not (t.hands and w.dead):
        return
    does = t.acts | t.ids
    here = {o for o, by in CLEARED_IN_A_PANEL.items() if o in w.open and by & does}
    wanted = {w.elsewhere.get(o, t.tag) for o in here} or {t.tag}
    t.keeps("S2", wanted == {w.tag}, f"'{t.step}' is asked under the tag of another panel")


def each_its_own_answer(t: Turn) -> None:
    """S2: no two answers of the proof in one question, and after a second source the way back is the tag."""
    of_proof = t.ids & PROOF_IDS
    if not of_proof:
        return
    t.keeps("S2", len(of_proof) == 1, f"'{t.step}' asks for {' and '.join(sorted(of_proof))} in one answer")
    if t.w.second_source and t.ids & (PROOF_IDS - {"panel_tag", "locked_out"}):
        t.broke("S2", f"'{t.step}' is asked and the second source of '{t.w.second_source}' is not locked at its tag")


def proof_reading(t: Turn, line: Line) -> None:
    """S2: an answer of the proof comes to its own question, or corrects one that did; the tag also to the caution that says to
    read it."""
    id_ = line["id"]
    if id_ in PROOF_IDS and not line.get("corrected"):
        told_to = id_ == "panel_tag" and "lock_out" in t.acknowledged
        t.keeps("S2", told_to or id_ in (*t.w.ids, t.w.put_right), f"'{id_}' was taken and not asked for")
    if id_ in ("rack", "compressor"):
        other = id_ in t.w.values and line["value"] != t.w.value(id_)
        t.keeps("S2", not (other and (t.w.locked or t.w.chain)), "tag, lock and proof of one machine stand for another")
    if str(id_).startswith("dead_volts."):
        _volts(t, line)


def _volts(t: Turn, line: Line) -> None:
    volts = worst_volts(line)
    t.keeps("S3", volts is not None, f"'{line['id']}' was taken as '{line['value']}': no word is a voltage")


def volts_said(t: Turn) -> None:
    """S3: what is said to a circuit that is not dead."""
    for line in t.readings:
        if str(line["id"]).startswith("dead_volts."):
            volts = worst_volts(line) or 0.0
            if volts > SECOND_SOURCE_V:
                good = all(word in t.spoken() for word in ("stop", "not dead", "second source"))
                t.keeps("S3", good, f"'{line['id']}' had {volts:g} V and 'Stop. Not dead. Find the second source.' was not said")
            elif volts > DEAD_V:
                t.keeps("S3", "not dead" in t.spoken(), f"'{line['id']}' had {volts:g} V and 'Not dead' was not said")


def found_off_goes_on_again(t: Turn) -> None:
    """S4: a lock that was found off before its turn is on again before anything at the machine is made ready."""
    w = t.w
    if w.found_off and not (w.freed or w.stopped) and t.ids & {"service_valves_open", "covers_on"}:
        t.keeps("S4", w.locked, f"'{t.step}' is asked and the lock was found off")


def asked_anew(t: Turn) -> None:
    """S5: after a resume, an emergency or a long pause: the lock, what is hooked up, everybody clear."""
    acts = t.power_on or t.hands or t.live or t.lets_run or "locked_out" in t.ids or t.acts & {"repair", "lock"}
    if acts and t.w.interrupted:
        due = t.w.anew if t.w.open else t.w.anew - {"hooked up"}  # with the lock said to be off nothing is left to name
        missing = ", ".join(sorted(due))
        t.keeps("S5", not missing, f"'{t.step}' is asked after an interruption and not asked anew: {missing}")
        t.w.interrupted, t.w.anew = False, frozenset()  # complained of once


def stops_the_rack(t: Turn) -> None:
    """S6: a lock that stops more than this compressor, only after the product said so and the store was told."""
    rack = t.rack
    if rack and rack.panel.control_isolator_stops == "rack" and ("locked_out" in t.ids or "lock" in t.acts):
        live = t.w.value("live_or_dead") == "live"
        t.keeps("S6", t.w.rack_told or live, f"'{t.step}' stops the whole rack: not said, or the store not told")


_WAITING = ("command", "technician", "other_lock_gone", "everybody_safe", "room_safe", "control_power_off")
"""What may be asked while another person's lock is on."""


def anothers_lock(t: Turn) -> None:
    """S7: with another person's lock on, nothing but waiting; and no prompt asks for it to be taken off."""
    w = t.w
    if "take_off_another" in t.acts:
        t.keeps("S7", False, f"'{t.step}' asks for another person's lock to be taken off")
    if w.others_lock and not w.stay_out:
        does = t.hands or t.live or t.power_on or t.lets_run or t.acts & {"repair", "lock"}
        waits = "stop" in t.acts or (t.asking in _WAITING and not does)
        t.keeps("S7", waits or (bool(t.ids & {"locked_out"}) and "another_lock" in t.acts),
                f"'{t.step}' is asked with another person's lock on")  # fmt: skip


def anothers_lock_said(t: Turn) -> None:
    hurt = bool(words.DISTRESS.search(t.heard)) or t.asking in ("everybody_safe", "room_safe")
    people_first = t.w.emergency or t.w.safe_first or t.w.stay_out or hurt
    if t.w.others_lock and t.heard and not people_first:
        held = t.asking == "command" and not t.spoken()  # on hold talk gets no answer
        said = "stop" in t.spoken() or (t.others_lock_before and ("owner" in t.spoken() or held))
        t.keeps("S7", said, "another person's lock was named and 'Stop' was not said")


def locked_beside_another(t: Turn, line: Line) -> None:
    if line["id"] == "locked_out" and line["value"] is True and t.w.others_lock:
        t.keeps("S7", False, "the own lock was taken for enough while another person's was on")


ASKED = (hands_in, at_its_own_panel, each_its_own_answer, found_off_goes_on_again, asked_anew, stops_the_rack, anothers_lock)
RECORDED = {"reading_taken": (proof_reading, locked_beside_another)}
ENDED = (volts_said, anothers_lock_said)
