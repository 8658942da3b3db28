"""Many calls as static pages: what is due, which machines come back, where refrigerant goes."""

import csv
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from html import escape
from pathlib import Path

from assistant.record.earlier import ADDITION_DAYS, TRIP_DAYS
from assistant.record.log import EVENTS, DiskTrouble, LogDamaged
from assistant.record.pages import folder_of_pages, written
from assistant.record.report import STYLE, table, write_report
from assistant.record.story import GUIDANCE, STANDINGS, Hold, Story, cause_of, tell
from assistant.trade.units import us_value

COLUMNS = ("call", "site", "rack", "compressor", "began", "minutes", "log", "cause", "standing", "runs", "pounds_added",
           "left_for_later", "still_open", "interruptions", "skipped")  # fmt: skip


@dataclass(frozen=True)
class Board:
    """What was written, and what could not be read."""

    index: Path
    calls: int
    damaged: tuple[str, ...] = ()
    """One sentence for each log that could not be read."""
    files: tuple[Path, ...] = ()
    """What was written beside the pages."""


@dataclass
class _Call:
    story: Story
    page: str
    """Its report's file name, from the board's folder."""
    facts: dict[str, str] = field(default_factory=dict)

    @property
    def machine(self) -> tuple[str, str, str]:
        return self.story.site, self.story.rack or "?", self.story.compressor or "?"


def write_board(calls: Path, out: Path | None = None, as_csv: bool = False) -> Board:
    """Write the pages for every call under a folder, the newest first; a report is written again only if its log grew.

    Args:
        calls: folder of calls.
        out: where the pages go; `board` in the folder of calls without it.
        as_csv: also `calls.csv`, one line a call.

    Raises:
        DiskTrouble: a page cannot be written.
        ValueError: there is no such folder.
    """
    if not calls.is_dir():
        raise ValueError(f"{calls} is not a folder of calls")
    target = folder_of_pages(out or calls / "board")
    told, damaged = [], []
    for file in sorted(calls.glob(f"*/{EVENTS}")):
        try:
            told.append(_told(file, target))
        except (LogDamaged, ValueError) as error:
            damaged.append(str(error))
    told.sort(key=lambda one: one.story.began, reverse=True)
    if as_csv:
        _write_csv(told, target / "calls.csv")
    index = written(target / "index.html", _page(told, damaged))
    return Board(index, len(told), tuple(damaged))


def _told(file: Path, target: Path) -> _Call:
    call = file.parent
    story = tell(call)
    page = target / f"{call.name}.html"
    if not page.exists() or page.stat().st_mtime < file.stat().st_mtime:
        write_report(call, page)
    one = _Call(story, page.name)
    one.facts = _facts(one)
    return one


def _facts(one: _Call) -> dict[str, str]:
    """A call as the columns of the table."""
    s = one.story
    best = next((c for c in s.best() if c.standing in ("proven", "supported")), None)
    pounds = _pounds(s)
    return dict(zip(COLUMNS, (
        s.path.name, s.site, s.rack or "?", s.compressor or "?", f"{s.began:%Y-%m-%d %H:%M}",
        f"{(s.ended - s.began).total_seconds() / 60:.0f}", s.state, cause_of(best) if best else "no cause found",
        STANDINGS[best.standing] if best else "", "yes" if s.started else "no", f"{pounds:g}" if pounds else "",
        "; ".join(f"{h.say}: {h.owner}" for h in s.holds if h.owner and not h.cleared),
        "; ".join(h.say for h in s.holds if h.state == "still open"), str(len(s.breaks)), str(len(s.skipped)),
    ), strict=True))  # fmt: skip


def _pounds(s: Story) -> float:
    added = s.last("refrigerant_added")
    value = us_value(added.value, added.unit, "mass") if added else 0.0
    return 0.0 if isinstance(value, (bool, str)) else float(value)


def _write_csv(told: Sequence[_Call], file: Path) -> None:
    try:
        with open(file, "w", newline="", encoding="utf-8") as sink:
            writer = csv.DictWriter(sink, COLUMNS)
            writer.writeheader()
            writer.writerows(one.facts for one in told)
    except OSError as error:
        raise DiskTrouble(f"cannot write {file}: {error.strerror}") from error


# ---- the page


def _page(told: Sequence[_Call], damaged: Sequence[str]) -> str:
    now = max((one.story.ended for one in told), default=None)
    parts = [
        ("Due", _due(told)), ("Not closed", _not_closed(told)), ("Machines that come back", _coming_back(told, now)),
        ("Refrigerant of the last 365 days", _refrigerant(told, now)), ("Every call", _every(told)),
        ("Logs that cannot be read", table([(words,) for words in damaged], ("what is wrong",)) if damaged else ""),
    ]  # fmt: skip
    body = "".join(f"<h2>{title}</h2>{part}" for title, part in parts if part)
    sites = ", ".join(sorted({one.story.site for one in told})) or "no call yet"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" '
        f'content="width=device-width,initial-scale=1"><title>Compressor calls</title><style>{STYLE}</style></head><body>'
        f'<h1>Compressor calls</h1><p class="quiet">{len(told)} calls; {escape(sites)}.</p>{body}'
        f'<p class="quiet">{GUIDANCE}</p></body></html>'
    )


def _link(one: _Call, words: str) -> str:
    return f'<a href="{escape(one.page)}">{escape(words)}</a>'


def _name(one: _Call) -> str:
    s = one.story
    return f"{s.site}, rack {s.rack or '?'}, compressor {s.compressor or '?'}"


def _held(told: Iterable[_Call]) -> list[tuple[_Call, Hold]]:
    return [(one, hold) for one in told for hold in one.story.holds if hold.owner and not hold.cleared]


def _due(told: Sequence[_Call]) -> str:
    """What was handed over, the earliest first."""
    last = datetime.max
    rows = sorted(_held(told), key=lambda pair: pair[1].due.replace(tzinfo=None) if pair[1].due else last)
    cells = [
        (f"{h.due:%Y-%m-%d %H:%M}" if h.due else "no date", escape(h.owner), escape(h.say), _link(one, _name(one)))
        for one, h in rows
    ]
    return table(cells, ("until", "who", "what", "call"), escaped=True) if cells else "<p>Nothing was left for later.</p>"


def _not_closed(told: Sequence[_Call]) -> str:
    rows = [
        (f"{one.story.ended:%Y-%m-%d %H:%M}", _link(one, _name(one)), escape(one.facts["still_open"] or "nothing hooked up"))
        for one in told
        if not one.story.log.sealed
    ]
    return table(rows, ("last heard", "call", "still open"), escaped=True) if rows else ""


def _coming_back(told: Sequence[_Call], now: datetime | None) -> str:
    """Machines with more than one call in the last 90 days."""
    if now is None:
        return ""
    recent = [one for one in told if now - one.story.began <= timedelta(days=TRIP_DAYS)]
    counts = Counter(one.machine for one in recent)
    rows = []
    for machine, count in counts.most_common():
        if count > 1:
            calls = [one for one in recent if one.machine == machine]
            site, rack, compressor = machine
            causes = ", ".join(_link(one, one.facts["cause"]) for one in calls)
            rows.append((str(count), escape(f"{site}, rack {rack}, compressor {compressor}"), causes))
    return table(rows, ("calls in 90 days", "machine", "causes, the newest first"), escaped=True) if rows else ""


def _refrigerant(told: Sequence[_Call], now: datetime | None) -> str:
    """Pounds added to each rack, with the leak rate its last addition came to."""
    racks: dict[tuple[str, str], list[_Call]] = defaultdict(list)
    for one in told:
        if now and _pounds(one.story) and now - one.story.began <= timedelta(days=ADDITION_DAYS):
            racks[one.machine[:2]].append(one)
    rows = []
    for (site, rack), calls in racks.items():
        pounds, last = sum(_pounds(one.story) for one in calls), calls[0]
        rates = [last.story.derived.get(f"leak_rate_{method}") for method in ("annualizing", "rolling")]
        rows.append((
            escape(f"{site}, rack {rack}"), f"{pounds:g} lb", *(f"{r.value:.1f} percent" if r else "" for r in rates),
            _link(last, f"{last.story.began:%Y-%m-%d}"),
        ))  # fmt: skip
    head = ("rack", "added", "leak rate a year, annualizing", "rolling", "last addition")
    return table(rows, head, escaped=True) if rows else ""


def _every(told: Sequence[_Call]) -> str:
    rows = []
    for one in told:
        f = one.facts
        runs = "runs" if f["runs"] == "yes" else "not started"
        cells = (f["began"], _name(one), f"{f['cause']}, {f['standing']}".rstrip(", "), runs, f["log"])
        rows.append((escape(cells[0]), _link(one, cells[1]), *(escape(c) for c in cells[2:])))
    return table(rows, ("began", "call", "cause", "machine", "log"), escaped=True) if rows else "<p>No call yet.</p>"
