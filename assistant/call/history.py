"""What earlier calls know of the machine that this one is about, in spoken words."""

from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.state import State
from assistant.language.wording import sentence

_ORDINALS = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth")
THIRD = "No reset without the supervisor."
"""From the third trip in 90 days on. Common practice."""
THIRD_ASKED = "Third trip in ninety days. Only if the supervisor agreed, else say finish job."
"""Before a reset is asked for: what to do with a no is said with it, so that the two are no contradiction by ear."""
RESETS = frozenset({"reset", "motor_reset", "pressure_reset"})
"""Every step that asks for a reset, with the lock on or off."""


def trips_before(s: State) -> int:
    """Trips of this machine in the last 90 days, before this one."""
    if s.opened is None or s.machine is None:
        return 0
    return sum(trip[:2] == (s.machine.rack, s.machine.compressor) for trip in s.opened.machine_trips)


def is_third(s: State) -> bool:
    """Whether this is at least its third trip in 90 days."""
    return trips_before(s) >= 2


def known(s: State) -> str:
    """What is said once the machine is named; empty where nothing is known of it."""
    if s.opened is None or s.machine is None:
        return ""
    before = trips_before(s)
    said = ""
    if before:
        ordinal = _ORDINALS[before] if before < len(_ORDINALS) else "One more"
        said = f"{ordinal} trip of this one in ninety days. " + (f"{THIRD} " if is_third(s) else "")
    here = (s.machine.rack, s.machine.compressor)
    left = [OBLIGATIONS[id_].say for rack, compressor, id_ in s.opened.left_before if (rack, compressor) == here]
    return (said + (sentence("left from last time: " + ", ".join(left)) if left else "")).strip()
