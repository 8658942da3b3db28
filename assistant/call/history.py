"""What earlier calls know of the machine that this one is about, in spoken words."""

from assistant.call.facts import LEFT
from assistant.call.standing import OWN_LOCKS
from assistant.call.state import State
from assistant.language.wording import sentence

_ORDINALS = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth")
THIRD = "No reset without the supervisor."


def trips_before(s: State) -> int:
    """Trips of this machine in the last 90 days, before this one."""
    if s.opened is None or s.machine is None:
        return 0
    return sum(trip[:2] == (s.machine.rack, s.machine.compressor) for trip in s.opened.machine_trips)


def is_third(s: State) -> bool:
    """Whether this is so many trips in 90 days that nobody resets it without the supervisor: usually the third."""
    return trips_before(s) + 1 >= s.limits.trips_to_supervisor


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
    left = [s.procedure.obligations[id_].say for rack, compressor, id_, _ in s.opened.left_before if (rack, compressor) == here
            and id_ in s.procedure.obligations]
    return (said + (sentence("left from last time: " + ", ".join(left)) if left else "")).strip()


_LOCKS = (*OWN_LOCKS, "lock_elsewhere")


def hooked_up_before(s: State) -> str:
    """The next thing that the last call left hooked up, shut or locked at this machine and that is not on record here: it is put
    back in this call before anything starts. Another person's lock is waited for instead (S42)."""
    if s.opened is None or s.machine is None or not s.technician:
        return ""
    here, rules = (s.machine.rack, s.machine.compressor), s.procedure.obligations
    known = {*s.open, *s.cleared, *s.handed_over}
    for rack, compressor, id_, who in s.opened.left_before:
        hangs = id_ in rules and (rules[id_].blocks_start or rules[id_].hand_over == "never")
        if (rack, compressor) == here and hangs and id_ not in known and (id_ not in _LOCKS or who == s.technician):
            return id_
    return ""


def left_elsewhere(s: State) -> str:
    """What was taken over from an earlier call at a machine that this one is not about after all; empty for nothing."""
    if s.opened is None or s.machine is None:
        return ""
    here = (s.machine.rack, s.machine.compressor)
    left = {id_ for rack, compressor, id_, _ in s.opened.left_before if (rack, compressor) == here}
    return next((id_ for id_, opened in s.open.items() if opened.detail == LEFT and id_ not in left), "")


def others_lock_left(s: State) -> bool:
    """An earlier call left its lock on this machine, in another name than this one's (S42)."""
    if s.opened is None or s.machine is None:
        return False
    here = (s.machine.rack, s.machine.compressor)
    return any(
        (rack, compressor) == here and id_ == "locked_out" and who != s.technician
        for rack, compressor, id_, who in s.opened.left_before
    )
