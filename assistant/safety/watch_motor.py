"""Watches the motor's tests: rules S25 to S27."""

import re

from assistant.safety.tables import GROUND_FAILS_MOHM
from assistant.safety.turn import Line, Turn

_TOO_HIGH = re.compile(r"\b(?:one|two|a|1|2)[, ]*(?:thousand|000) volts\b|\b1000 v|\b2500 v")


def insulation(t: Turn) -> None:
    """S25: pressure read at zero or above, charge known, electronics off the windings, 500 V."""
    w = t.w
    if not ("ground_megohms" in t.ids or "insulation" in t.acts) or w.correcting:
        return
    read = w.values.get("shell_pressure")
    low = None if read is None else min((v for v in (read.us, read.low) if v is not None), default=None)
    t.keeps("S25", low is not None and low >= 0, f"'{t.step}' is asked in a vacuum or with the pressure not read")
    known = "modules_off" in w.told and "charge_unknown" not in w.told
    t.keeps("S25", known, f"'{t.step}' is asked with the modules on the windings or the charge unknown")
    t.keeps("S25", not _TOO_HIGH.search(t.words.lower()), f"'{t.step}' is asked with more than 500 volts")


def sensor_string(t: Turn) -> None:
    """S26: the insulation tester never on the sensor string."""
    w = t.w
    if "protector_string_ohms" in t.ids:
        tester = "leads_on" in w.open and w.leads_are_tester
        t.keeps("S26", not tester and "ground_megohms" not in t.ids, f"'{t.step}' is asked with the insulation tester's leads on")
    if "ground_megohms" in t.ids:
        text = t.words.lower()
        t.keeps("S26", "sensor string" not in text, f"'{t.step}' puts the insulation tester on the sensor string")


def _no_ground_fault(t: Turn) -> bool:
    megohm = t.w.us("ground_megohms")
    return t.w.value("ground_megohms") == "over_range" or (megohm is not None and megohm >= GROUND_FAILS_MOHM)


def terminals(t: Turn) -> None:
    """S27: nobody opens the motor's terminals before the load side of the starter shows no ground fault."""
    if "terminal_open" in t.acts:
        t.keeps("S27", _no_ground_fault(t), f"'{t.step}' opens the terminals and no ground fault is ruled out")


def terminals_opened(t: Turn, line: Line) -> None:
    if line["id"] == "terminal_cover" and not line.get("detail"):  # with one it was said to be off, and no prompt took it off
        t.keeps("S27", _no_ground_fault(t), "the terminal cover came off and no ground fault is ruled out")


ASKED = (insulation, sensor_string, terminals)
RECORDED = {"obligation_opened": (terminals_opened,)}
ENDED = ()
