"""Watches pressure, gas and repairs: rules S28 to S35."""

import re

from assistant.safety.seen import NONE
from assistant.safety.tables import AT_ZERO_PSI, EVIDENCE, HOT_PIPE_DEGF, OUTSIDE, REPAIR_NEEDS
from assistant.safety.turn import Line, Turn
from assistant.safety.words import HANDS

_STANDING = {"the rack off": r"\brack off\b", "locked": r"\block", "the customer": r"\b(?:store|customer)\b.*\bagree",
             "the product": r"\b(?:food|product)\b", "the relief path": r"\brelief\b",
             "the receiver": r"\breceiver\b"}  # fmt: skip
_ALARM = re.compile(r"\b(?:detector|alarm)(?:'s| is| has)? (?:going|sounding|gone off|went off)\b|\bdetector alarm\b")
_EMPTIED = re.compile(r"\b(?:close|shut)\b[^.]*\bupstream\b.*\bempty\b.*\b(?:close|shut)\b[^.]*\bdownstream\b", re.S)
_IN_THE_ROOM = HANDS | {
    "live", "power_on", "lock", "unlock", "reset", "start", "to_auto", "valve_close", "valve_open", "hose_on", "hose_off",
    "charge", "repair", "clean_probe", "climb", "seat_coil", "touch_coil", "touch_probe", "pump_down",
}  # fmt: skip


def gas_behind_the_probe(t: Turn) -> bool:
    """The probe is, or may be, threaded into the gas; until the machine is isolated, recovered and reads zero."""
    w, rack = t.w, t.rack
    zero = any(abs(psig) <= AT_ZERO_PSI for i in ("isolated_pressure", "shell_pressure") if (psig := w.us(i)) is not None)
    emptied = bool(EVIDENCE["isolated"] & w.told) and "recovered" in w.told and zero
    return not emptied and (rack is None or rack.probe.mount not in ("clamp", "dry_well"))


def probe_in_gas(t: Turn) -> None:
    """S28: a probe in the gas is only unplugged; and no prompt says "pull"."""
    if "take_probe_out" in t.acts or "probe_cleaned" in t.ids:
        t.keeps("S28", not gas_behind_the_probe(t), f"'{t.step}' takes a probe out that is in the gas")
    if "touch_probe" in t.acts or "say_pull" in t.acts:
        t.keeps("S28", "say_pull" not in t.acts, f"'{t.step}' says 'pull'")


def hot_probe(t: Turn) -> None:
    """S29: the pipe's temperature first; over 130 F gloves or a wait."""
    w = t.w
    if not (t.acts & {"touch_probe", "take_probe_out"} or t.ids & {"probe_ohms", "probe_cleaned"}) or w.correcting:
        return
    asked = "probe_pipe_temperature" in w.values or "probe_pipe_temperature" in w.skipped
    t.keeps("S29", asked, f"'{t.step}' touches the probe and its pipe's temperature was not asked for")
    hot = (w.us("probe_pipe_temperature") or 0.0) > HOT_PIPE_DEGF
    if hot:
        said = "glove" in t.words.lower() or "wait" in t.words.lower()
        t.keeps("S29", said, f"'{t.step}' touches a pipe over 130 F and says neither gloves nor wait")


def discharge_side(t: Turn) -> None:
    """S30: no discharge-side valve is closed on what runs; no pump-down of a scroll or a screw."""
    if "close_discharge" in t.acts:
        t.keeps("S30", t.w.locked and not t.w.running, f"'{t.step}' closes a discharge-side valve on what may run")
    if t.acts & {"pump_down"} or t.ids & {"pump_down_low", "pump_down_rise"}:
        kind = t.rack.machine_kind if t.rack else ""
        t.keeps("S30", kind not in ("scroll", "screw"), f"'{t.step}' pumps down a {kind}")


def discharge_closed(t: Turn, line: Line) -> None:
    if line["id"] == "valve_closed.discharge" and line.get("detail") != "as found":
        t.keeps("S30", not t.w.running, "a discharge-side valve was closed on a machine that runs")


def repair(t: Turn) -> None:
    """S31: a repair is asked only behind what its cause needs."""
    w = t.w
    if "leak_repaired" in t.ids or "leak_repair" in t.acts:
        emptied = bool((EVIDENCE["emptied"] | EVIDENCE["recovered"]) & w.told)
        t.keeps("S31", emptied, f"'{t.step}' is asked: a leak, and the section is neither emptied nor recovered")
        t.keeps("S5", not w.gauge_old, f"'{t.step}' is asked on a gauge that was read before an interruption")
        return
    if "repair" not in t.acts:
        return
    for cause in to_mend(t):
        missing = sorted(n for n in REPAIR_NEEDS.get(cause, ()) if not _holds(t, n))
        t.keeps("S31", not missing, f"'{t.step}' is asked: '{cause}' needs {', '.join(missing)}")
        opened = {"isolated", "emptied"} & REPAIR_NEEDS.get(cause, NONE)
        t.keeps("S5", not (opened and w.gauge_old), f"'{t.step}' is asked on a gauge that was read before an interruption")


def to_mend(t: Turn) -> list[str]:
    """The proven causes that are not repaired; without any, the supported ones."""
    w = t.w
    for standing in ("proven", "supported"):
        found = [c for c, s in w.causes.items() if s == standing and c not in w.repaired]
        if found:
            return found
    return []


def _holds(t: Turn, need: str) -> bool:
    w = t.w
    if need == "dead":
        return w.dead and t.minutes_since(w.panel_at) <= t.site.dead_minutes
    if need == "locked":
        return w.locked
    psig = w.us("isolated_pressure")
    under_pressure = need in ("isolated", "emptied") and psig is not None and abs(psig) > AT_ZERO_PSI
    return bool(EVIDENCE[need] & w.told) and not under_pressure


def shut_in(t: Turn) -> None:
    """S32: no liquid between two closed valves, or it is on record."""
    w, text = t.w, t.words.lower()
    if w.liquid_valves >= 2 or "close_liquid" in t.acts:
        known = "liquid_section_closed" in w.open or "emptied" in w.told
        t.keeps("S32", w.liquid_valves < 2 or known, "liquid stands between two closed valves and is not on record")
    if "refrigerant_added" in t.ids and "hose_on" in w.open and not w.correcting:
        shut = {"liquid_section_closed", "section_shut"} & w.open
        t.keeps("S32", not shut, f"'{t.step}' charges the rack with a section of its liquid shut in")
    if "section_emptied" in t.ids and not w.correcting:
        t.keeps("S32", "liquid_section_closed" in w.open, f"'{t.step}' shuts in a section and that is not on record")
        t.keeps("S32", bool(_EMPTIED.search(text)), f"'{t.step}' does not close upstream, then empty, then close downstream")


def standing_test(t: Turn) -> None:
    """S33: the standing test only with everything it needs, each said."""
    if "idle_condenser_pressure" in t.ids and not t.w.correcting:
        valid = "idle_test_valid" in t.w.told and t.w.locked
        t.keeps("S33", valid, f"'{t.step}' is asked without the conditions of a standing test")
    if "standing test" in t.words.lower():
        missing = [name for name, pattern in _STANDING.items() if not re.search(pattern, t.words.lower())]
        t.keeps("S33", not missing, f"'{t.step}' offers a standing test and does not name {', '.join(missing)}")


def charging(t: Turn) -> None:
    """S34: no charge before label and cylinder agree."""
    w, rack = t.w, t.rack
    if "charge" in t.acts:
        label = rack is not None and w.value("refrigerant_label") == rack.refrigerant
        t.keeps("S34", label and w.value("cylinder_checked") is True, f"'{t.step}' charges and label and cylinder were not read")


def stay_out(t: Turn) -> None:
    """S35: with an alarm, or no detector in a closed room, nothing is asked that is done in the room."""
    if not t.w.stay_out:
        return
    asked = frozenset() if t.w.correcting else t.ids - OUTSIDE  # what was said can be put right from outside
    inside = asked or t.acts & _IN_THE_ROOM
    t.keeps("S35", not inside, f"'{t.step}' is done in the room, and the detector is in alarm or missing")


def alarm_said(t: Turn) -> None:
    """S35: the alarm counts at any moment, in whatever words, and is answered at once."""
    new = any(line["id"] == "detector_state" for line in t.readings) and t.w.stay_out
    if new:
        said = "stay out" in t.spoken() and "ventilat" in t.spoken()
        t.keeps("S35", said, "the detector is in alarm or missing and 'Stay out. Ventilate from outside.' was not said")
    if _ALARM.search(t.heard):
        t.keeps("S35", t.w.stay_out, f"'{t.heard}' was said and the alarm was not taken for one")


ASKED = (probe_in_gas, hot_probe, discharge_side, repair, shut_in, standing_test, charging, stay_out)
RECORDED = {"obligation_opened": (discharge_closed,)}
ENDED = (alarm_said,)
