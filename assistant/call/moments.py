"""Which readings belong to the minutes in which they were taken."""

from functools import cache

from assistant.language.vocabulary import vocabulary

MOMENT_KINDS = ("pressure", "temperature", "amps")
"""Kinds of readings that drift within minutes: two of them are joined only where they were taken in one round."""
MOMENT_IDS = frozenset({
    "capacity_control", "condenser_fans_called", "condenser_fans_running",
    "probe_ohms", "probe_ohms.module_end", "probe_ohms.cleaned",
})  # fmt: skip
"""What is counted, seen or read in another unit, and changes as fast."""

OF_A_NEIGHBOUR = frozenset({"others_discharge_temperature"})
"""Read of another machine: whether this one runs or stands makes no difference to it."""


def set_point(id_: str) -> bool:
    """What is set does not drift."""
    return id_.endswith("_set_point") or id_ == "cutout_pressure"


@cache
def of_a_moment(id_: str) -> bool:
    """Whether a reading belongs to the minutes in which it was taken."""
    entry = vocabulary().get(id_)
    return entry is not None and not set_point(id_) and (entry.kind in MOMENT_KINDS or id_ in MOMENT_IDS)
