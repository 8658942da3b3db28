"""What the answers of the proof of absence of voltage make of what the monitor keeps. No rule is judged here."""

from assistant.safety.amounts import worst_volts
from assistant.safety.seen import proof_needed
from assistant.safety.tables import DEAD_V, IN_A_PANEL, SECOND_SOURCE_V
from assistant.safety.turn import Line, Turn


def of_the_proof(t: Turn, line: Line) -> None:
    w, id_ = t.w, str(line["id"])
    volts = worst_volts(line) if id_.startswith("dead_volts.") else None
    good = (volts is not None and volts <= DEAD_V) if id_.startswith("dead_volts.") else line["value"] is True
    if id_ == "panel_tag":
        good = bool(t.tag) and line["value"] in (t.tag, *w.elsewhere.values())
        wanted = next((at for o, at in w.elsewhere.items() if o in w.open), t.tag)
        if (line.get("corrected") or w.tag_doubted) and line["value"] != w.tag and w.tag == wanted:
            _hangs_elsewhere(t, w.tag, str(line["value"]))
        put_right = bool(line.get("corrected") or w.tag_doubted)
        w.strays = w.strays or (put_right and line["value"] != wanted and "locked_out" in w.open and not w.started)
        if line.get("corrected") and line["value"] != t.tag:
            w.another_panel()
        w.tag, w.tag_doubted = line["value"], False
    if line.get("corrected"):
        if not good:
            w.end_proof(f"S4 '{id_}' was corrected to what is not dead")
        return
    if id_ == "panel_tag":
        w.end_proof("S1 the panel is not proved dead", ("panel_tag",) if good else (), t.now)
        return
    if id_ == "locked_out" and good:
        _locked(t)
    if w.chain_at and t.now - w.chain_at > t.long_pause:
        w.end_proof("S4 two answers of one proof lie further apart than it lasts")
        return
    if not good:
        _not_good(t, id_, volts)
    else:
        _next_of_proof(t, id_)


def _hangs_elsewhere(t: Turn, before: object, tag: str) -> None:
    """What was hooked up under the tag that is put right hangs in that machine's panel."""
    w = t.w
    open_ = {o for o in IN_A_PANEL if o in w.open}
    begun = set(w.chain) - {"panel_tag", "locked_out"}  # a tag and a lock alone have opened nothing
    moved = {o for o in open_ if o not in w.elsewhere or (not begun and w.elsewhere[o] == before)}
    w.elsewhere = {o: at for o, at in w.elsewhere.items() if o not in moved} | dict.fromkeys(moved, tag)


def _not_good(t: Turn, id_: str, volts: float | None) -> None:
    w = t.w
    if id_.startswith("dead_volts."):
        if volts is not None and volts > SECOND_SOURCE_V:
            w.end_proof(f"S3 '{id_}' had more than 30 V")
            w.second_source = id_
        else:
            w.end_proof(f"S3 '{id_}' was not read at 3 V or less", w.chain[: _place(w.chain, id_)], w.chain_at)
    elif id_ == "meter_proved_after":
        w.end_proof("S2 the meter failed afterwards", w.chain[:2], w.chain_at)
    else:
        w.end_proof(f"S2 '{id_}' was not so", w.chain[: _place(w.chain, id_)], w.chain_at)


def _place(chain: tuple[str, ...], id_: str) -> int:
    return chain.index(id_) if id_ in chain else len(chain)


def _next_of_proof(t: Turn, id_: str) -> None:
    w = t.w
    chain = w.chain[: _place(w.chain, id_)]
    rack = t.rack
    needed = proof_needed(rack is None or rack.panel.drive or rack.panel.capacitors)
    if needed[: len(chain) + 1] != (*chain, id_):
        w.dead = False
        missing = next((i for i in needed if i not in chain), id_)
        if not w.dead_why.startswith(("S3", "S4")):  # what ended the proof is the reason, not what came of it
            w.dead_why = f"S2 '{id_}' was answered before '{missing}'"
        return
    w.chain, w.dead = (*chain, id_), False
    if w.chain == needed and w.locked:
        w.dead, w.power, w.panel_at, w.on_at, w.unseen = True, "off", t.now, None, False


def _locked(t: Turn) -> None:
    w = t.w
    w.locked_at = w.locked_at or t.now
    w.locked_by = w.value("technician")
    w.locked, w.running, w.found_off, w.freed = True, False, False, False
    if "lock_removed" in w.values:  # what was ready before this lock was put on says nothing of now
        w.ready = w.ready - {"others_clear", "service_valves_open"}
    w.tagged = w.tagged or w.chain[:1] == ("panel_tag",)
    if w.chain[:1] == ("panel_tag",):
        w.second_source = ""
    w.acknowledged = w.acknowledged - {"restart", "live", "live_place"}  # live as found is over
