"""A call in one row: what the pages of many calls and the next call at its machine want to know of it, from its log alone."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from assistant.call.facts import (
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CheckInAsked,
    ClockJumped,
    Concluded,
    Contradicted,
    EmergencyDeclared,
    Fact,
    FinishAsked,
    MachineNamed,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    StepDone,
    StepSkipped,
    ValueDerived,
)
from assistant.record.log import Line, Reading
from assistant.trade.units import us_value

SECONDS_A_DAY = 86400.0
MOST_HOURS = 24 * 3650
NO_CAUSE = "no_fault_found"
"""Concluded like a cause, and none: everything was looked at."""

@dataclass
class Held:
    """One thing that was left unsafe or temporary, and what became of it in its call."""

    id: str
    opened: datetime
    who: str = ""
    """Whose it is now: who opened it, or who it was handed to."""
    detail: str = ""
    owner: str = ""
    """Who it was handed to; empty while it was not."""
    handed: datetime | None = None
    due: datetime | None = None
    """Until when, as it was handed over."""
    cleared: datetime | None = None
    line: int = 0
    """Number of the log line that tells of it last."""

    @property
    def state(self) -> str:
        if self.cleared:
            return "cleared"
        return f"handed over to {self.owner}" if self.owner else "still open"

    legal: tuple[tuple[str, date], ...] = ()
    """Dates that the law set, by what they are for."""


def holds_of(lines: Sequence[Line]) -> list[Held]:
    """Everything that was hooked up, locked or left in a call, in the order in which it was."""
    held: list[Held] = []
    for line in lines:
        match line.fact:
            case ObligationOpened(id=id_, who=who, detail=detail) as opened:
                law = (("repair", opened.repair_by), ("verify again", opened.verify_by))
                legal = tuple((what, date.fromisoformat(on)) for what, on in law if on)
                held.append(Held(id_, line.at, who, detail, line=line.seq, legal=legal))
            case ObligationCleared(id=id_):
                if one := _last(held, id_):
                    one.cleared, one.line = line.at, line.seq
            case ObligationHandedOver(id=id_, owner=owner, hours=hours):
                if one := _last(held, id_):
                    one.owner = one.who = owner
                    one.handed, one.line = line.at, line.seq
                    one.due = line.at + timedelta(hours=hours) if 0 < hours <= MOST_HOURS else None
    return held


def _last(held: Sequence[Held], id_: str) -> Held | None:
    return next((one for one in reversed(held) if one.id == id_), None)


@dataclass
class Row:
    """A call as one row. Times in seconds since 1970 end in `_s`; what is text is told as on the pages."""

    call: str
    site: str = ""
    rack: str = ""
    compressor: str = ""
    technician: str = ""
    began: str = ""
    """Date and time at the site."""
    began_s: float = 0.0
    ended_s: float = 0.0
    sealed: bool = False
    lines: int = 0
    head: str = ""
    """SHA-256 of the last line."""
    broken_off: bool = False
    """Never closed, and its machine never started."""
    named: bool = False
    """The machine is known."""
    trip: int = 1
    """The how-manyth trip of this machine in ninety days, by what the call was told when it began."""
    protection: str = ""
    cause: str = ""
    """Id of the best cause that is proven or supported; empty where there is none."""
    standing: str = ""
    causes: list[str] = field(default_factory=list)
    """Every cause that was proven or supported."""
    runs: bool = False
    resets: int = 0
    added: list[tuple[str, float]] = field(default_factory=list)
    """Rack and pounds added, as it stood at the end."""
    mended: list[str] = field(default_factory=list)
    """Rack whose leak was repaired."""
    leak_annualizing: float | None = None
    leak_rolling: float | None = None
    leak_over: bool = False
    """Over the law's limit."""
    left: list[tuple[str, str]] = field(default_factory=list)
    """What was handed over or never closed, by id, with whose it is."""
    cleared: list[str] = field(default_factory=list)
    """What was cleared, by id."""
    follow: list[dict[str, Any]] = field(default_factory=list)
    """What was handed over: id, owner, due_s, legal dates as text, line."""
    open: list[str] = field(default_factory=list)
    """What was neither cleared nor handed over, by id."""
    cautions: int = 0
    interruptions: int = 0
    skipped: int = 0
    parts_to_order: str = ""
    summary: str = ""

    @property
    def minutes(self) -> float:
        return (self.ended_s - self.began_s) / 60

    @property
    def pounds(self) -> float:
        return sum(pounds for _, pounds in self.added)

    def plain(self) -> dict[str, Any]:
        return asdict(self)


INTERRUPTING = (CallResumed, EmergencyDeclared, Contradicted, CheckInAsked, ProofEnded, PowerOffOrdered, FinishAsked, ClockJumped)
"""What broke a call off, or into it; a reader asks about each."""


def row_of(name: str, log: Reading) -> Row:
    """The row of a call.

    Args:
        name: of its folder.
        log: its log, of at least one line.
    """
    lines = log.lines
    row = Row(name, sealed=log.sealed, lines=len(lines), head=log.last_hash)
    first, last = lines[0].at, lines[-1].at
    row.began, row.began_s, row.ended_s = f"{first:%Y-%m-%d %H:%M}", first.timestamp(), last.timestamp()
    facts = [line.fact for line in lines]
    taken = {fact.id: fact for fact in facts if isinstance(fact, ReadingTaken)}
    _opening(row, facts, taken)
    _causes(row, facts)
    row.runs = any(isinstance(f, StepDone) and "started" in f.establishes for f in facts)
    row.resets = sum(bool(f.resets) for f in facts if isinstance(f, StepDone | ReadingTaken))
    tried = row.runs or any(isinstance(f, StepDone) and f.resets for f in facts)
    row.broken_off = not tried and not log.sealed
    row.added, row.mended = list(_added(taken)), list(_mended(taken))
    held = holds_of(lines)
    row.left = list({one.id: (one.id, one.who) for one in held if not one.cleared}.values())
    row.cleared = sorted({one.id for one in held if one.cleared})
    row.open = [one.id for one in held if not one.cleared and not one.owner]
    row.follow = [_follow(one) for one in held if one.owner and not one.cleared]
    row.leak_over = any(one.id == "leak_over_limit" for one in held)
    row.cautions = sum(isinstance(f, CautionAcknowledged) for f in facts)
    row.interruptions = sum(isinstance(f, INTERRUPTING) for f in facts)
    row.skipped = sum(isinstance(f, StepSkipped) for f in facts)
    row.parts_to_order = _text(taken, "part_to_order")
    row.summary = next((f.summary for f in reversed(facts) if isinstance(f, CallSealed)), "")
    return row


def _text(taken: dict[str, ReadingTaken], id_: str) -> str:
    return str(taken[id_].value) if id_ in taken else ""


def _opening(row: Row, facts: Sequence[Fact], taken: dict[str, ReadingTaken]) -> None:
    opened = facts[0] if isinstance(facts[0], CallOpened) else None
    machine = next((fact for fact in reversed(facts) if isinstance(fact, MachineNamed)), None)
    row.site = opened.site if opened else ""
    row.technician = _text(taken, "technician") or (opened.technician if opened else "")
    row.rack = machine.rack if machine else _text(taken, "rack")
    row.compressor = machine.compressor if machine else _text(taken, "compressor")
    row.named = machine is not None
    if opened and machine:
        row.trip = 1 + sum(trip[:2] == (machine.rack, machine.compressor) for trip in opened.machine_trips)
    open_contact = _text(taken, "chain_dead_check")
    shown = _text(taken, "protection_shown")
    row.protection = open_contact or (shown if shown not in ("none shown", "nothing") else "")


def _causes(row: Row, facts: Sequence[Fact]) -> None:
    rank = ("proven", "supported")
    concluded = {fact.cause: fact for fact in facts if isinstance(fact, Concluded)}
    found = [c for c in concluded.values() if c.standing in rank and c.cause != NO_CAUSE]
    best = sorted(found, key=lambda c: rank.index(c.standing))
    row.causes = [c.cause for c in best]
    if best:
        row.cause, row.standing = best[0].cause, best[0].standing
    derived = {fact.id: fact.value for fact in facts if isinstance(fact, ValueDerived)}
    row.leak_annualizing, row.leak_rolling = derived.get("leak_rate_annualizing"), derived.get("leak_rate_rolling")


def _follow(one: Held) -> dict[str, Any]:
    return {
        "id": one.id, "owner": one.owner, "due_s": one.due.timestamp() if one.due else None,
        "due": f"{one.due:%Y-%m-%d %H:%M}" if one.due else "",
        "legal": [[what, on.isoformat()] for what, on in one.legal], "line": one.line,
    }  # fmt: skip


def _mended(taken: dict[str, ReadingTaken]) -> Iterator[str]:
    """The rack whose leak was repaired on a call."""
    rack, mended = taken.get("rack"), taken.get("leak_repaired")
    if rack and mended and mended.value == "yes":
        yield str(rack.value)


def _added(taken: dict[str, ReadingTaken]) -> Iterator[tuple[str, float]]:
    """Rack and pounds, as they stood at the end of a call."""
    rack, added = taken.get("rack"), taken.get("refrigerant_added")
    if rack and added and isinstance(added.value, (int, float)) and not isinstance(added.value, bool) and added.value > 0:
        yield str(rack.value), float(us_value(added.value, added.unit, "mass"))
