"""What was found so far: the causes that count, which contacts are open, what a voltage says."""

from assistant.call.state import State
from assistant.trade.electrical import volts_present

SHARED = frozenset({
    "refrigerant_low", "drier_plugged", "liquid_valve_closed", "liquid_line_hot", "liquid_feed_restricted",
    "common_supply_lost", "return_gas_hot", "head_high", "suction_low",
})  # fmt: skip
FRONT = frozenset({"not_called", "controller_fault"})
PROBE_FAULTS = frozenset({"probe_fouled", "probe_failed", "probe_wiring_faulty", "probe_loose"})
LEAD_ONLY = frozenset({"head_fan_failed", "liquid_slugged", "after_defrost", "oil_level_low", "overload_still_hot"})
"""Causes that do not by themselves explain the trip: the search goes on."""
SEARCH_ON = frozenset({"phase_monitor_open", "head_high", "suction_low", "short_cycling"})
"""Causes that count, but have one behind them: the rest of their branch is still asked."""


def found(s: State) -> list[str]:
    """Causes proven or supported, that explain the trip, in the order they were concluded."""
    return [
        c.cause
        for c in s.conclusions.values()
        if c.standing in ("proven", "supported")
        and c.cause not in LEAD_ONLY
        and c.cause != "no_fault_found"
        and not (c.cause == "probe_failed" and not {"probe_ohms", "probe_ohms.cleaned"} & set(s.readings))
    ]


def explained(s: State) -> bool:
    """A cause was found behind which no other is looked for."""
    return bool(set(found(s)) - SEARCH_ON)


def to_mend(s: State) -> str:
    """The cause that is asked about before a restart: the last found, one that has none behind it first; low oil is
    a find and no cause, and is mended all the same."""
    causes = found(s)
    last = [c for c in causes if c not in SEARCH_ON][-1:] or causes[-1:]
    return last[0] if last else "oil_level_low" if standing(s, "oil_level_low") else ""


def standing(s: State, cause: str) -> bool:
    """Proven or supported."""
    conclusion = s.conclusions.get(cause)
    return conclusion is not None and conclusion.standing in ("proven", "supported")


def several(s: State) -> bool:
    return (s.number("tripped_count") or 0) >= 2


def in_question(s: State) -> bool:
    """Nothing at the front, and nothing that several machines share, explains it."""
    return not (any(c in FRONT for c in found(s)) or (several(s) and any(c in SHARED for c in found(s))))


def decided(s: State) -> bool:
    return bool([c for c in found(s) if c not in SHARED or several(s)])


def open_contacts(s: State) -> list[str]:
    """Contacts whose branch is followed. One that a powered module holds reads open when it is dead: it counts when
    no other is open, or when it was read live; not where the control itself says that it did not trip."""
    contacts = list(s.contacts)
    if s.has_fact("oil_control_not_tripped") and "oil" in contacts:
        contacts.remove("oil")
    held = [c.name for c in s.rack.panel.contacts if c.kind == "held"] if s.rack else []
    sure = [c for c in contacts if c not in held or f"safety_volts.{CONTACT_IDS[c]}" in s.readings]
    return sure or contacts


CONTACT_IDS = {"oil": "oil_pressure", "high pressure": "high_pressure", "low pressure": "low_pressure",
               "motor": "motor_protection", "discharge": "discharge_temperature"}  # fmt: skip
"""A contact's name on the panel to its name in the ids of the vocabulary."""


def absent(s: State, id_: str) -> bool:
    return volts(s, id_) is False


def volts(s: State, id_: str, rated_v: float | None = None) -> bool | None:
    """Whether a voltage is there; None: not measured, or neither."""
    read = 0.0 if s.value(id_) == "none_present" else s.number(id_)
    rated = rated_v or (s.rack.panel.control_volts if s.rack else None)
    return None if read is None else volts_present(read, rated)


def live_refused(s: State) -> str:
    """Why no live step may be taken on this call, or nothing (S8, S9)."""
    rack = s.rack
    if s.value("ladder_kind") == "metal":
        return "No live work from a metal ladder."
    if s.answered.get("clothing") == "skipped" or s.answered.get("ladder") == "skipped":
        return "No live work without the label and the ladder answered."
    if s.value("detector_state") == "alarm" or "leak_open" in s.open:
        return "No live work with a leak or an alarm."
    if rack and rack.flammable and s.value("detector_state") != "quiet":
        return "No live work: flammable refrigerant, and the detector is not quiet."
    return ""
