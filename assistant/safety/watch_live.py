"""Watches live work, power and the feed test: rules S8 to S19."""

import re

from assistant.safety.tables import FEED_BUDGET_S, FLAMMABLE, HAND_HELD, ONE_PLACE, SUITS, WINDINGS
from assistant.safety.turn import Line, Turn

_NOW = re.compile(r"\bnow\b")


def live_work(t: Turn) -> None:
    """S8: caution, dead offered first, label, ladder. S9: no leak, no alarm, nothing flammable unwatched."""
    w = t.w
    if not (t.live or t.power_on):
        return
    name = f"'{t.step}' is asked"
    cautioned = {"live", "live_place"} <= w.acknowledged
    t.keeps("S8", cautioned, f"{name} and the live cautions were not spoken and acknowledged for this power-on")
    t.keeps("S8", "live_or_dead" in w.values, f"{name} and dead was not offered first")
    t.keeps("S8", w.value("clothing_meets_label") is True, f"{name} and the arc flash label was not met")
    t.keeps("S8", w.value("ladder_kind") not in (None, "metal"), f"{name} and the ladder is metal or unknown")
    leak = "leak_open" in w.open or (w.value("leak_found") == "yes" and w.value("leak_repaired") != "yes")
    t.keeps("S9", w.value("detector_state") != "alarm" and not leak, f"{name} with an alarm or a leak being worked on")
    if t.rack and t.rack.refrigerant in FLAMMABLE:
        t.keeps("S9", w.value("detector_state") == "quiet", f"{name} with a flammable refrigerant and no quiet detector")


def dead_offered_first(t: Turn) -> None:
    if "live_or_dead" in t.ids and not t.w.confirming:
        dead, live = t.words.lower().find("dead"), t.words.lower().find("live")
        t.keeps("S8", live < 0 or 0 <= dead < live, f"'{t.step}' does not offer the dead check first")


def clips_and_probes(t: Turn) -> None:
    """S10: clips and wires only while dead; hand-held probes only live; one place at a time with the stimulus in."""
    w = t.w
    if t.hands:
        t.keeps("S10", w.power != "on", f"'{t.step}' puts hands in with control power on")
    if not t.live:
        return
    if t.ids & HAND_HELD:
        t.keeps("S10", w.power != "off", f"'{t.step}' puts probes into a panel without power: no live step")
    if w.stimulus and w.power == "on":
        probes = t.ids & HAND_HELD
        places = len(probes) if not any(probes <= place for place in ONE_PLACE) else min(1, len(probes))
        away = "injection_feed" in t.ids and t.rack is not None and not t.rack.injection.line_in_sight
        looks = places + (1 if "injection_feed" in t.ids and probes else 0)
        far = away and "injection_coil_volts" in t.ids and "clamp_left_on" not in w.open
        t.keeps("S10", looks <= 1 and not far, f"'{t.step}' asks for two places at once with the stimulus in")


def quiet_window(t: Turn) -> None:
    """S11: in the live window no reminder, no demand."""
    if t.w.window() and not t.w.emergency:
        t.keeps("S11", t.quiet, f"'{t.step}' is asked in the live window and is not quiet")


def window_words(t: Turn) -> None:
    """S11: the word "now" is never spoken in the window."""
    if t.w.window() and not t.declared:
        loud = next((text for _, text in t.said if _NOW.search(text.lower())), "")
        t.keeps("S11", not loud, f"'now' is said in the live window: {loud}")


def window_check_in(t: Turn, line: Line) -> None:
    t.keeps("S11", not t.w.window(), "the check-in does not wait for the end of the live window")


def window_manner(t: Turn, line: Line) -> None:
    if line.get("word") == "alarm":
        t.keeps("S11", not t.w.window(), "a loud tone in the live window")


def energising(t: Turn) -> None:
    """S5, S12, S15, S17, S18: what must hold before power or motor power comes back."""
    w, name = t.w, f"'{t.step}' is asked"
    if t.power_on:
        t.keeps("S5", not w.unseen, f"{name} and nobody looked into the panel, dead, since the interruption")
        stimulus = "jumper_fitted" in w.open or w.stimulus
        if stimulus:
            blocked = "start_blocked" in w.open and w.prevented
            t.keeps("S12", blocked, f"{name} with the stimulus in and the start not blocked")
            spent = w.fed_s >= FEED_BUDGET_S and not w.shut()
            t.keeps("S15", not spent, f"{name} with the seconds of the feed test spent")
    if t.power_on or t.lets_run:
        t.keeps("S17", "terminal_cover" not in w.open, f"{name} with a terminal cover off")
        t.keeps("S17", not w.coil_off, f"{name} with the injection coil off its stem")
        _tested(t, name)
    if "seat_coil" in t.acts or "coil_off" in t.acts:
        t.keeps("S17", w.power == "off" or w.dead, f"'{t.step}' moves the coil and power is not known to be off")


def _ohms(t: Turn, id_: str) -> bool:
    """Read as a number of ohms: neither open nor shorted, nor skipped."""
    ohm = t.w.us(id_)
    return ohm is not None and ohm > 0


def _tested(t: Turn, name: str) -> None:
    """S18: what opened on a fault is not closed again before its circuit was tested and is within limits."""
    w = t.w
    if "line_fuse_open" in w.told:
        megohm = w.us("ground_megohms")
        good = all(_ohms(t, i) for i in WINDINGS)
        grounded = not (w.value("ground_megohms") == "over_range" or (megohm is not None and megohm >= 1.0))
        t.keeps("S18", good and not grounded, f"{name} and the motor, whose fuse or breaker opened, is not tested and good")
    if w.value("control_fuse") == "blown":
        t.keeps("S18", _ohms(t, "starter_coil_ohms"), f"{name} and the coil behind the blown control fuse is not tested and good")
    if w.value("module_output_fuse") == "blown" and t.lets_run:
        t.keeps("S18", "injection_coil_ohms" in w.values, f"{name} and the coil behind the blown output fuse was not tested")
    if t.lets_run and t.rack and "module output" in t.rack.panel.fuses and _coil_bad(t):
        looked = w.value("module_output_fuse") is not None
        t.keeps("S18", looked, f"{name} and the fuse that fed the failed coil was not looked at")


def _coil_bad(t: Turn) -> bool:
    ohm, rack = t.w.us("injection_coil_ohms"), t.rack
    word = t.w.value("injection_coil_ohms") in ("over_range", "below_resolution")
    good = (rack.injection.coil_ohms if rack else None) or t.w.us("injection_coil_ohms.like")
    return word or (ohm is not None and good is not None and ohm < 0.5 * good)


def stimulus(t: Turn) -> None:
    """S13: only a plug that the module takes for hot. S14: the start is freed last."""
    w, rack = t.w, t.rack
    if ("jumper_fitted" in t.ids or "jumper_in" in t.acts) and rack:
        suits = (rack.probe.kind, rack.probe.test_plug) in SUITS
        t.keeps("S13", suits, f"'{t.step}' is asked and the test plug does not suit the probe")
    if "unblock" in t.acts:
        t.keeps("S14", "jumper_fitted" not in w.open and not w.stimulus, f"'{t.step}' frees the start with the stimulus in")


def start_freed(t: Turn, line: Line) -> None:
    if line["id"] == "start_blocked":
        t.keeps("S14", "jumper_fitted" not in t.w.open, "the start is freed with the stimulus in")


def stimulus_opened(t: Turn, line: Line) -> None:
    rack, fitted = t.rack, any(reading["id"] == "jumper_fitted" for reading in t.readings)
    if line["id"] == "jumper_fitted" and rack and fitted:  # one that was only found suits nothing
        t.keeps("S13", (rack.probe.kind, rack.probe.test_plug) in SUITS, "the stimulus does not suit the probe")


def feed_seconds(t: Turn) -> None:
    """S15: at thirty seconds "Power off"; nothing is said between the answer and it."""
    w = t.w
    if not w.feeding() or w.safe_first or w.stay_out:  # people and room come first
        return
    w.asked_feed = w.asked_feed or "injection_feed" in t.ids
    off = "control_power_off" in t.ids
    t.keeps("S15", off or w.fed_by(t.now) < FEED_BUDGET_S, f"'{t.step}' is asked {w.fed_by(t.now):.0f} s into the feed")
    if off and any(line["id"] == "injection_feed" for line in t.readings):
        between = next((text for _, text in t.said if not text.lower().startswith(("power off", "hands off"))), "")
        t.keeps("S15", not between, f"said between the answer and 'Power off.': {between}")


def skipped_feed(t: Turn, line: Line) -> None:
    """S16: a feed that nobody looked at counts as one."""
    w = t.w
    if "injection_feed" in w.ids and w.feeding():
        t.liquid_should_open = "the feed was skipped with the stimulus in"


def liquid_opens(t: Turn) -> None:
    """S16: liquid stands in the machine."""
    w = t.w
    for line in t.readings:
        id_, value = line["id"], line["value"]
        if id_ == "injection_feed" and w.stimulus and not w.running and value in ("feeding", "weak", "unknown"):
            t.liquid_should_open = f"the line was {value} with the stimulus in"
        if id_ == "injection_after" and value == "feeding" and not w.running:
            t.liquid_should_open = "the line fed with power off"
    if t.liquid_should_open:
        is_open = "liquid_in_compressor" in w.open | w.handed_over
        t.keeps("S16", is_open, f"{t.liquid_should_open} and 'liquid_in_compressor' is not open")


def line_after(t: Turn) -> None:
    """S19: the line is judged only with power off and locked."""
    if "injection_after" in t.ids and not t.w.correcting:
        t.keeps("S19", t.w.power == "off" and t.w.locked, f"'{t.step}' is asked and power is not off and locked")


ASKED = (live_work, dead_offered_first, clips_and_probes, quiet_window, energising, stimulus, feed_seconds, line_after)
RECORDED = {
    "check_in_asked": (window_check_in,), "manner": (window_manner,), "obligation_cleared": (start_freed,),
    "obligation_opened": (stimulus_opened,), "step_skipped": (skipped_feed,),
}  # fmt: skip
ENDED = (window_words, liquid_opens)
