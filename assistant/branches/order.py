"""Which look is worth its while: what it can still tell, and what it takes.

A step that `seeks` causes is not asked once nothing is left to seek: each of them is proven or ruled out, or every contact
that it trips has a proven cause. Steps that stand `among` others may be asked in any order; the one that tells most for its
effort comes first, and the order in which the trade asks them decides between equals. What safety rests on seeks nothing, and a
reading that comes before a reset is asked whatever it can tell.
"""

from collections.abc import Sequence
from math import log2

from assistant.branches.search import SEARCH_ON, explains, found, open_contacts, proven
from assistant.branches.steps import Step
from assistant.trade.case import Case

EFFORT = {"front": 1.0, "machine": 1.0, "oil": 2.0, "liquid": 2.0, "cases": 3.0, "panel": 4.0, "condenser": 5.0, "live": 8.0}
"""What it takes to go there for a look; where the technician is already, it is 1. Our own figures: a gauge at the front is read
in passing, a panel is opened under a lock, a condenser is a climb, a live window is gloves and shield."""
BESIDE = {
    "injection_coil_failed": frozenset({"module_output_fuse"}), "module_output_fuse": frozenset({"injection_coil_failed"}),
    "injection_coil_loose": frozenset({"injection_coil_failed", "module_output_fuse"}),
    "probe_loose": frozenset({"probe_failed", "probe_wiring_faulty", "probe_fouled"}),
}  # fmt: skip
"""What a fault may have done beside: a coil off its stem burns, a shorted one blows its fuse. It is sought all the same."""


def open_still(case: Case, cause: str) -> bool:
    """Whether a look for this cause can still change something."""
    if case.standings.get(cause) in ("proven", "ruled_out"):
        return False
    if any(cause in BESIDE.get(one, ()) for one in found(case)):
        return True
    by_drive = ["motor"] if case.says("drive_fault", "yes") else []  # a drive that shows a fault is looked at without the string
    tripped = [contact for contact in (*open_contacts(case), *by_drive) if explains(cause, contact)]
    sure = [one for one in found(case) if proven(case, one) and one not in SEARCH_ON]
    return not tripped or not all(any(explains(one, contact) for one in sure) for contact in tripped)


def sought(step: Step, case: Case) -> tuple[str, ...]:
    """The causes that it can still speak for."""
    return tuple(cause for cause in step.seeks if open_still(case, cause))


def worth_asking(step: Step, case: Case) -> bool:
    """Whether its answer can change anything."""
    return not step.seeks or bool(sought(step, case))


def effort(step: Step, station: str) -> float:
    """What it takes from this station."""
    return 1.0 if step.station == station else step.effort or EFFORT.get(step.station, 1.0)


def tells_bits(causes: int, of: int) -> float:
    """What a look tells [bit] that names one of so many causes, or none, where that many are equally likely.

    >>> tells_bits(1, 2), round(tells_bits(3, 4), 2)
    (1.0, 2.0)
    """
    if not 0 < causes <= of:
        return 0.0
    none = (of - causes) / of
    return causes / of * log2(of) - (none * log2(none) if none else 0.0)


def best(steps: Sequence[Step], case: Case, station: str) -> Step:
    """Of steps that may come in any order, the one that tells most for its effort; the first among equals."""
    left = len({cause for step in steps for cause in sought(step, case)})
    return max(steps, key=lambda step: tells_bits(len(sought(step, case)), left) / effort(step, station))
