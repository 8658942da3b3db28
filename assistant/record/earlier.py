"""What earlier calls at a site know, by the index of their logs."""

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from assistant.record import ledger
from assistant.record.index import Index
from assistant.record.ledger import Entry
from assistant.record.log import DiskTrouble, read
from assistant.record.row import SECONDS_A_DAY, Row, row_of

TRIP_DAYS, ADDITION_DAYS = 90, 365
"""How far back trips are told, and how far the leak rules look."""
SAME_TRIP_DAYS = 1.0
"""A call that broke off before its machine was started, with another on that machine within this: one trip, not two."""
READ_S = 3.0
"""So long a new call waits for logs that the index does not have yet; the newest are read first."""


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
    sealed_last: Entry | None = None
    """The call that was sealed last in this folder."""
    unread: int = 0
    """Logs that nobody has read yet: there was no time."""


def earlier(calls: Path, site: str, at: datetime, but: Path) -> Earlier:
    """What the logs under `calls` know of a site on a day; a damaged log is passed over here.

    Args:
        calls: folder of calls.
        site: the site's name.
        at: now; later calls do not count.
        but: the folder of the call that asks.
    """
    found = Earlier()
    now_s = at.timestamp()
    with Index(calls) as index:
        found.unread = index.refresh(but.name, READ_S).unread
        _enter_missing(calls, index, at)
        found.sealed_last = ledger.last(calls)
        rows = list(index.of_site(site, now_s - (ADDITION_DAYS + 1) * SECONDS_A_DAY, now_s))
        for row in index.last_of_machines(site, now_s):
            found.left[row.rack, row.compressor] = tuple((id_, who) for id_, who in row.left)
    for row in rows:
        days = (now_s - row.began_s) / SECONDS_A_DAY
        if days <= ADDITION_DAYS:
            found.additions += [(rack, round(days, 2), pounds) for rack, pounds in row.added]
            found.leaks_mended += [(rack, round(days, 2)) for rack in row.mended]
    _trips(found, rows, now_s)
    return found


def overtaken_by(call: Path) -> str:
    """The call that was begun behind this one about the same machine and is sealed: whatever this one left there it has taken
    over, and what was read here is of a machine as it was before. Empty for none.

    Raises:
        LogDamaged: the log is damaged.
    """
    row = row_of(call.name, read(call))
    with Index(call.parent) as index:
        index.refresh(call.name, READ_S)
        return index.sealed_after(row.site, row.rack, row.compressor, row.began_s) if row.named else ""


def _trips(found: Earlier, rows: list[Row], now_s: float) -> None:
    """Trips of the last days, a call that broke off and was begun anew as one."""
    later: dict[tuple[str, str], float] = {}
    """When the next call about each machine began; the call that asks may be about any."""
    trips = []
    for row in reversed([row for row in rows if row.named and now_s - row.began_s <= TRIP_DAYS * SECONDS_A_DAY]):
        machine = (row.rack, row.compressor)
        if not (row.broken_off and later.get(machine, now_s) - row.began_s <= SAME_TRIP_DAYS * SECONDS_A_DAY):
            trips.append((*machine, (now_s - row.began_s) / SECONDS_A_DAY))
        later[machine] = row.began_s
    for rack, compressor, days in reversed(trips):
        found.days_since_trip.append(int(days))
        found.machine_trips.append((rack, compressor, round(days, 2)))


def _enter_missing(calls: Path, index: Index, at: datetime) -> None:
    """Enter what was sealed and is not in the ledger: the program or the disk went away between the two."""
    for row in index.not_entered():
        try:
            ledger.enter(calls, row.call, row.head, row.lines, at)
        except DiskTrouble:
            return  # a call begins all the same; the next one tries again
