"""What earlier calls at a site know, from their logs."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from assistant.call.facts import (
    CallOpened,
    CallSealed,
    Fact,
    MachineNamed,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    ReadingTaken,
    StepDone,
)
from assistant.record.log import EVENTS, LogDamaged, read
from assistant.trade.units import us_value

TRIP_DAYS, ADDITION_DAYS = 90, 365
"""How far back trips are told, and how far the leak rules look."""
SAME_TRIP_DAYS = 1.0
"""A call that broke off before its machine was started, with another on that machine within this: one trip, not two."""


@dataclass
class Earlier:
    """What is worth knowing at the start of a call."""

    days_since_trip: list[int] = field(default_factory=list)
    additions: list[tuple[str, float, float]] = field(default_factory=list)
    """Rack, days ago, pounds."""
    leaks_mended: list[tuple[str, float]] = field(default_factory=list)
    """Rack, days ago."""
    machine_trips: list[tuple[str, str, float]] = field(default_factory=list)
    """Rack, compressor, days ago."""
    left: dict[tuple[str, str], tuple[tuple[str, str], ...]] = field(default_factory=dict)
    """Rack and compressor to the obligations that its last call handed over or never closed, each with whose it was."""


def earlier(calls: Path, site: str, at: datetime, but: Path) -> Earlier:
    """What the logs under `calls` know of a site on a day; a damaged log is passed over here.

    Args:
        calls: folder of calls.
        site: the site's name.
        at: now; later calls do not count.
        but: the folder of the call that asks.
    """
    found = Earlier()
    last: dict[tuple[str, str], float] = {}
    trips: list[tuple[str, str, float, bool]] = []
    for file in sorted(calls.glob(f"*/{EVENTS}")):
        if file.parent == but:
            continue
        try:
            lines = read(file.parent).lines
        except (LogDamaged, OSError):
            continue
        if not lines or not isinstance(lines[0].fact, CallOpened) or lines[0].fact.site != site:
            continue
        days = (at - lines[0].at).total_seconds() / 86400
        facts = [line.fact for line in lines]
        named = next((fact for fact in reversed(facts) if isinstance(fact, MachineNamed)), None)
        if named and 0 <= days <= TRIP_DAYS:
            trips.append((named.rack, named.compressor, days, _broken_off(facts)))
        if named and 0 <= days < last.get((named.rack, named.compressor), days + 1):
            last[named.rack, named.compressor] = days
            found.left[named.rack, named.compressor] = _left(facts)
        if 0 <= days <= ADDITION_DAYS:
            found.additions += [(rack, round(days, 2), pounds) for rack, pounds in _added(facts)]
            found.leaks_mended += [(rack, round(days, 2)) for rack in _mended(facts)]
    for rack, compressor, days, broken_off in trips:
        # The call that asks is at zero: it may be about this machine.
        later = [0.0, *(d for r, c, d, _ in trips if (r, c) == (rack, compressor) and d < days)]
        if broken_off and any(days - d <= SAME_TRIP_DAYS for d in later):
            continue
        found.days_since_trip.append(int(days))
        found.machine_trips.append((rack, compressor, round(days, 2)))
    return found


def _broken_off(facts: list[Fact]) -> bool:
    """Never closed, and its machine never started: whoever calls again has the same trip before him."""
    done = (f for f in facts if isinstance(f, StepDone))
    tried = any("started" in f.establishes or f.resets for f in done)
    return not tried and not any(isinstance(f, CallSealed) for f in facts)


def _left(facts: list[Fact]) -> tuple[tuple[str, str], ...]:
    """Obligations that a call ended with, handed over or open, each with whose it is now."""
    left: dict[str, str] = {}
    for fact in facts:
        match fact:
            case ObligationOpened(id=id_, who=who) | ObligationHandedOver(id=id_, owner=who):
                left[id_] = who
            case ObligationCleared(id=id_):
                left.pop(id_, None)
    return tuple(left.items())


def _mended(facts: list[Fact]) -> Iterator[str]:
    """The rack whose leak was repaired on a call."""
    taken = {fact.id: fact for fact in facts if isinstance(fact, ReadingTaken)}
    rack, mended = taken.get("rack"), taken.get("leak_repaired")
    if rack and mended and mended.value == "yes":
        yield str(rack.value)


def _added(facts: list[Fact]) -> Iterator[tuple[str, float]]:
    """Rack and pounds, as they stood at the end of a call."""
    taken = {fact.id: fact for fact in facts if isinstance(fact, ReadingTaken)}
    rack, added = taken.get("rack"), taken.get("refrigerant_added")
    if rack and added and isinstance(added.value, (int, float)) and added.value > 0:
        yield str(rack.value), float(us_value(added.value, added.unit, "mass"))
