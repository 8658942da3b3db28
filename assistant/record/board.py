"""Many calls as static pages: what is due first, what comes back, what leaks, and every call to be found without a server."""


import hashlib
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import groupby
from pathlib import Path
from typing import Any

from assistant.language.wording import spoken_cause
from assistant.record.aggregate import ADDITION_DAYS, TRIP_DAYS, Store
from assistant.record.exports import write_calendar, write_csv
from assistant.record.find import find_page, find_script
from assistant.record.index import Index
from assistant.record.log import LogDamaged
from assistant.record.pages import folder_of_pages, written
from assistant.record.report import ordinal, write_report
from assistant.record.row import SECONDS_A_DAY, Row
from assistant.record.story import GUIDANCE, STANDINGS, said_of
from assistant.record.style import Cell, Html, html, link, page_of, table
from assistant.record.timeline import place

FIRST_ROWS, PAGE_ROWS = 40, 200
"""Rows of a part of the first page, and of any other page: more nobody reads on one."""
PAGES_DAYS = 400
"""Calls so old and younger have a page each: the year that the leak rules look back on, and a month."""
UNPROVEN_DAYS = 30
BACK = f"<nav>{link('index.html', 'What is due')}</nav>"


@dataclass(frozen=True)
class Board:
    """What was written, and what could not be read."""

    index: Path
    calls: int
    damaged: tuple[str, ...] = ()
    """One sentence for each log that could not be read, or is not what the ledger has."""
    files: tuple[Path, ...] = ()
    """What was written beside the pages."""
    reports: int = 0
    """Pages of calls that were written anew."""


Machine = tuple[str, str, str]
"""Site, rack, compressor."""


@dataclass
class _Build:
    """One build of the pages."""

    calls: Path
    target: Path
    now_s: float
    index: Index
    store: Store
    zone: Any
    reports: int = 0
    damaged: list[str] = field(default_factory=list)

    def has_page(self, row: dict[str, Any]) -> bool:
        return self.now_s - float(row["began_s"]) <= PAGES_DAYS * SECONDS_A_DAY or not row.get("sealed", True)

    def to(self, row: dict[str, Any], words: Cell, line: int = 0) -> Html:
        """A link to the page of a call, where it has one."""
        if not self.has_page(row):
            return html(words)
        return link(f"calls/{row['call']}.html", words, place(line) if line else "")

    def time(self, seconds: float) -> datetime:
        return datetime.fromtimestamp(seconds, self.zone)


def write_board(
    calls: Path, out: Path | None = None, as_csv: bool = False, as_parquet: bool = False, as_ics: bool = False,
    now: datetime | None = None,
) -> Board:  # fmt: skip
    """Write the pages of every call under a folder; what has not changed since last time is not made again.

    Args:
        calls: folder of calls.
        out: where the pages go; `board` in the folder of calls without it.
        as_csv: also `calls.csv`, one line a call.
        as_parquet: name the folder of Parquet files; they are made in any case, for the pages are added up from them.
        as_ics: also `due.ics`.
        now: the time from which on something is overdue.

    Raises:
        DiskTrouble: a page cannot be written.
        ValueError: there is no such folder, or something that is no page is in the way.
    """
    if not calls.is_dir():
        raise ValueError(f"{calls} is not a folder of calls")
    target = folder_of_pages(out or calls / "board")
    now = now or datetime.now().astimezone()
    with Index(calls) as index, Store(target / "parquet") as store:
        build = _Build(calls, target, now.timestamp(), index, store, now.tzinfo)
        found = index.refresh(look_again=True)
        changed = found.months
        months = [month for month in index.months() if month]
        for month in (set(changed) | (set(months) ^ store.months())) - {""}:
            _month(build, month)
        store.read()
        build.damaged = [words for _, words in index.troubles()] + [*index.disagreeing()]
        _machines(build, found.machines)
        files = list(_files(build, months, as_csv, as_parquet, as_ics))
        page = written(target / "index.html", _first_page(build, now, months))
        written(target / "find.html", find_page(store, months))
        return Board(page, store.one("select count(*) from calls"), tuple(build.damaged), tuple(files), build.reports)


def _files(build: _Build, months: Sequence[str], as_csv: bool, as_parquet: bool, as_ics: bool) -> Iterator[Path]:
    rows = (row for month in months for row in reversed(list(build.index.of_month(month))))
    if as_csv:
        yield write_csv(build.target / "calls.csv", rows)
    if as_parquet:
        yield build.store.folder
    if as_ics:
        yield write_calendar(build.target / "due.ics", _due(build), build.now_s)


# ---- what changes with a month


def _month(build: _Build, month: str) -> None:
    """Everything that stands or falls with the calls of one month."""
    rows = list(build.index.of_month(month))
    build.store.put(month, rows)
    for row in rows:
        _report(build, row)
    written(folder_of_pages(build.target / "find") / f"{month}.js", find_script(month, rows, build.has_page), "found(")
    for number, part in enumerate(_parts(list(reversed(rows))), 1):
        written(build.target / f"month-{month}-{number}.html", _month_page(build, month, number, part, len(rows)))


def _report(build: _Build, row: Row) -> None:
    """The page of a call, where it is not there yet or its log grew since."""
    folder = folder_of_pages(build.target / "calls")
    log, page = build.calls / row.call / "events.jsonl", folder / f"{row.call}.html"
    if not build.has_page(row.plain()):
        return
    try:
        if not page.exists() or page.stat().st_mtime < log.stat().st_mtime:
            write_report(build.calls / row.call, page)
            build.reports += 1
    except (LogDamaged, FileNotFoundError) as error:
        build.damaged.append(str(error))


def _parts(rows: Sequence[Any]) -> Iterator[Sequence[Any]]:
    yield from (rows[at : at + PAGE_ROWS] for at in range(0, max(1, len(rows)), PAGE_ROWS))


def _month_page(build: _Build, month: str, number: int, rows: Sequence[Row], count: int) -> str:
    last = max(1, -(-count // PAGE_ROWS))
    others = " ".join(
        link(f"month-{month}-{n}.html", str(n)) if n != number else f"<b>{n}</b>" for n in range(1, last + 1)
    )  # fmt: skip
    more = f'<p>Page {others}</p>' if last > 1 else ""
    body = f"{BACK}<h1>Calls of {month}</h1><p class=\"quiet\">{count} calls.</p>{more}"
    return page_of(f"Calls of {month}", body + _calls(build, [row.plain() for row in rows]) + more, GUIDANCE)


def _calls(build: _Build, rows: Iterable[dict[str, Any]]) -> Html:
    cells = [
        (row["began"], build.to(row, _name(row)), row["technician"], _cause(row), "runs" if row["runs"] else "not started",
         "sealed" if row["sealed"] else "not sealed")
        for row in rows
    ]  # fmt: skip
    head = ("began", "machine", "technician", "cause", "left", "log")
    return table(cells, head, caption="calls") if cells else Html("<p>No call yet.</p>")


def _name(row: dict[str, Any]) -> str:
    return f"{row['site']}, rack {row['rack'] or '?'}, compressor {row['compressor'] or '?'}"


def _cause(row: dict[str, Any]) -> str:
    return f"{spoken_cause(row['cause'])}, {STANDINGS[row['standing']]}" if row["cause"] else "no cause found"


# ---- machines


def machine_page(row: dict[str, Any]) -> str:
    """The file of a machine's page, from its site, rack and compressor."""
    named = f"{row['site']}\n{row['rack']}\n{row['compressor']}"
    plain = "".join(c if c.isalnum() and c.isascii() else "-" for c in named.lower()).strip("-")[:40]
    return f"machines/{plain}-{hashlib.sha256(named.encode()).hexdigest()[:8]}.html"


def _machines(build: _Build, changed: Iterable[tuple[str, str, str]]) -> None:
    """The page of each machine whose calls changed, or that has none yet; and the list of all of them."""
    folder_of_pages(build.target / "machines")
    anew, wanted = set(changed), set()
    for machine in build.store.ask("select distinct site, rack, compressor from calls where named"):
        page = build.target / machine_page(machine)
        if tuple(machine.values()) in anew or not page.exists():
            wanted.add(tuple(machine.values()))
    due: dict[Machine, list[dict[str, Any]]] = {}
    for one in _due(build) if wanted else ():
        due.setdefault((one["site"], one["rack"], one["compressor"]), []).append(one)
    for calls in _histories(build, wanted):
        where = (calls[0]["site"], calls[0]["rack"], calls[0]["compressor"])
        written(build.target / machine_page(calls[0]), _machine(build, calls, due.get(where, [])))
    query = """
    select site, rack, compressor, count(*) as calls, max(began) as last, sum((began_s > ?)::int) as recent
    from calls where named group by all order by site, rack, compressor"""
    every = build.store.ask(query, build.now_s - TRIP_DAYS * SECONDS_A_DAY)
    for number, part in enumerate(_parts(every), 1):
        rows = [(link(machine_page(m), _name(m)), str(m["calls"]), str(m["recent"]), m["last"]) for m in part]
        pages = -(-len(every) // PAGE_ROWS)
        more = " ".join(link(f"machines-{n}.html", str(n)) for n in range(1, pages + 1)) if pages > 1 else ""
        head = ("machine", "calls", f"in {TRIP_DAYS} days", "the last")
        body = f"{BACK}<h1>Machines</h1><p>{more}</p>{table(rows, head, caption='machines')}"
        written(build.target / f"machines-{number}.html", page_of("Machines", body, GUIDANCE))


def _histories(build: _Build, wanted: Collection[Machine]) -> Iterator[list[dict[str, Any]]]:
    """The calls about each of these machines, the newest first."""
    wide = len(wanted) > FIRST_ROWS  # then all are read in one go
    query = """
    select * from calls where named {} qualify row_number() over (partition by site, rack, compressor order by began_s desc) <= ?
    order by site, rack, compressor, began_s desc"""
    if wide:
        rows = build.store.each(query.format(""), PAGE_ROWS)
        for _, some in groupby(rows, key=lambda row: (row["site"], row["rack"], row["compressor"])):
            calls = list(some)
            if (calls[0]["site"], calls[0]["rack"], calls[0]["compressor"]) in wanted:
                yield calls
        return
    for where in wanted:
        yield build.store.ask(query.format("and site = ? and rack = ? and compressor = ?"), *where, PAGE_ROWS)


def _machine(build: _Build, rows: Sequence[dict[str, Any]], due: Sequence[dict[str, Any]]) -> str:
    """A machine with its history, the newest first."""
    machine = rows[0]
    causes = Counter(cause for row in rows for cause in row["causes"]).most_common(12)
    found = ", ".join(f"{spoken_cause(cause)} {times} times" for cause, times in causes) or "none"
    body = f"{BACK}<h1>{html(_name(machine))}</h1><p class=\"quiet\">As of {build.time(build.now_s):%Y-%m-%d %H:%M}.</p>"
    body += f"<p>Causes found: {html(found)}.</p>"
    body += f"<h2>Due</h2>{_due_table(build, due)}" if due else ""
    body += f"<h2>Calls</h2>{_calls(build, rows)}"
    return page_of(_name(machine), body.replace('href="', 'href="../'), GUIDANCE)


# ---- the first page


def _due(build: _Build) -> list[dict[str, Any]]:
    """What was handed over and stands, the earliest first."""
    return build.store.ask("select * from due order by first_s, began_s, call, line")


def _due_table(build: _Build, due: Sequence[dict[str, Any]]) -> Html:
    rows: list[tuple[Cell, ...]] = []
    for one in due:
        rows.append((_until(build, one), one["owner"], build.to(one, said_of(one["id"]), one["line"]), _machine_link(one)))
    return table(rows, ("until", "who", "what", "machine"), caption="due") if rows else Html("<p>Nothing was left for later.</p>")


def _machine_link(row: dict[str, Any]) -> Html:
    return link(machine_page(row), _name(row)) if row["compressor"] else html(_name(row))


def _until(build: _Build, one: dict[str, Any]) -> Html:
    parts: list[Cell] = []
    if one["first_s"] < build.now_s:
        parts.append(Html('<span class="over">overdue</span>'))
    parts.append(one["due"] or "no date was given")
    parts += [f"by law {what} by {on}" for what, on in (("repair", one["repair_by"]), ("verify", one["verify_by"])) if on]
    return Html("; ".join(html(part) for part in parts))


def _due_part(build: _Build) -> Html:
    due = _due(build)
    over = sum(one["first_s"] < build.now_s for one in due)
    shown = due[:FIRST_ROWS]
    for number, part in enumerate(_parts(due), 1):
        body = f"{BACK}<h1>Due, page {number}</h1>{_due_table(build, part)}"
        written(build.target / f"due-{number}.html", page_of("Due", body, GUIDANCE))
    owners = {owner: len(list(some)) for owner, some in groupby(sorted(one["owner"] for one in due))}
    most = sorted(owners.items(), key=lambda pair: (-pair[1], pair[0]))[:12]
    by_owner = ", ".join(f"{owner} {count}" for owner, count in most)
    overdue = f'<span class="{"over" if over else ""}">{over} overdue</span>'
    head = f"<p><b>{len(due)} due, {overdue}</b>. {html(by_owner)}</p>" if due else ""
    days = []
    for day, some in groupby(shown, key=_day):
        days.append(f"<h3>{html(day)}</h3>{_due_table(build, list(some))}")
    more = f"<p>{link('due-1.html', f'All {len(due)}')}</p>" if len(due) > len(shown) else ""
    return Html(f"{head}{''.join(days) or _due_table(build, [])}{more}")


def _day(one: dict[str, Any]) -> str:
    """The day on which it is due first, at the site's own time."""
    dates = [day for day in (one["due"][:10], one["repair_by"]) if day]
    return f"{date.fromisoformat(min(dates)):%A %Y-%m-%d}" if dates else "Without a date"


def _first_page(build: _Build, now: datetime, months: Sequence[str]) -> str:
    store = build.store
    count, sites = store.ask("select count(*) as n, count(distinct site) as sites from calls")[0].values()
    nav = [("find.html", "Find a call"), ("machines-1.html", "Machines")]
    nav += [(f"month-{month}-1.html", month) for month in months[:12]]
    links = "".join(f"<li>{link(target, words)}</li>" for target, words in nav) if count else ""
    parts = [
        ("Due", _due_part(build)), ("Not closed", _not_closed(build)), ("Leaks over the law's limit", _leaks(build)),
        (f"Third trips and more in {TRIP_DAYS} days", _third(build)), ("Machines that come back", _coming_back(build)),
        (f"Causes without proof, {UNPROVEN_DAYS} days", _unproven(build)),
        (f"Refrigerant of the last {ADDITION_DAYS} days", _refrigerant(build)), ("The newest calls", _newest(build)),
        ("Logs that fail verification", _damaged(build)),
    ]  # fmt: skip
    body = "".join(f"<h2>{html(title)}</h2>{part}" for title, part in parts if part)
    many = f"{count} call{'' if count == 1 else 's'} at {sites} site{'' if sites == 1 else 's'}"
    head = f'<h1>Compressor calls</h1><p class="quiet">{many}; as of {now:%A %Y-%m-%d %H:%M}.</p>'
    return page_of("Compressor calls", f"{head}<nav aria-label=\"pages\"><ul>{links}</ul></nav>{body}", GUIDANCE)


def _not_closed(build: _Build) -> Html | None:
    rows = build.store.ask("select * from calls where not sealed order by ended_s desc limit ?", FIRST_ROWS)
    cells = [
        (f"{build.time(row['ended_s']):%Y-%m-%d %H:%M}", build.to(row, _name(row)), row["technician"],
         ", ".join(said_of(id_) for id_ in row["open"]) or "nothing hooked up")
        for row in rows
    ]  # fmt: skip
    return table(cells, ("last heard", "machine", "technician", "still open"), caption="not closed") if cells else None


def _leaks(build: _Build) -> Html | None:
    """Racks whose last addition came to a rate over the limit, until the leak is mended."""
    query = """
    select c.*, f.repair_by, f.verify_by from calls c left join due f on f.call = c.call and f.id = 'leak_over_limit'
    where c.leak_over and c.began_s > ? and not exists (
      select 1 from calls m where m.sealed and m.site = c.site and list_contains(m.mended, c.rack) and m.began_s > c.began_s)
    order by f.repair_by nulls last, c.began_s desc limit ?"""
    rows = build.store.ask(query, build.now_s - ADDITION_DAYS * SECONDS_A_DAY, FIRST_ROWS)
    cells = [
        (build.to(row, f"{row['site']}, rack {row['rack']}"), _percent(row["leak_annualizing"]), _percent(row["leak_rolling"]),
         row["repair_by"] or ("mended on that call" if row["mended"] else "see the call"), row["verify_by"] or "")
        for row in rows
    ]  # fmt: skip
    head = ("rack", "a year, annualizing", "rolling", "repair by", "verify again by")
    return table(cells, head, caption="leaks over the limit") if cells else None


def _percent(value: float | None) -> str:
    return "" if value is None else f"{value:.1f} percent"


def _third(build: _Build) -> Html | None:
    query = """
    select site, rack, compressor, max(trip) as trip, max(began) as last, arg_max(call, began_s) as call, max(began_s) as began_s
    from calls where named and trip >= 3 and began_s > ? group by all order by trip desc, last desc limit ?"""
    rows = build.store.ask(query, build.now_s - TRIP_DAYS * SECONDS_A_DAY, FIRST_ROWS)
    cells = [(f"{ordinal(row['trip'])} trip", _machine_link(row), build.to(row, row["last"])) for row in rows]
    return table(cells, ("trip", "machine", "the last call"), caption="third trips") if cells else None


def _coming_back(build: _Build) -> Html | None:
    """Machines with more than one call in the last 90 days."""
    query = """
    select site, rack, compressor, count(*) as n,
    list({'call': call, 'cause': cause, 'began_s': began_s} order by began_s desc)[:5] as calls
    from calls where named and began_s > ? group by site, rack, compressor having count(*) > 1
    order by n desc, site, rack, compressor limit ?"""
    rows = build.store.ask(query, build.now_s - TRIP_DAYS * SECONDS_A_DAY, FIRST_ROWS)
    cells = []
    for row in rows:
        causes = [build.to(one, spoken_cause(one["cause"]) if one["cause"] else "no cause found") for one in row["calls"]]
        cells.append((str(row["n"]), _machine_link(row), Html(", ".join(causes))))
    head = (f"calls in {TRIP_DAYS} days", "machine", "causes, the newest first")
    return table(cells, head, caption="machines that come back") if cells else None


def _unproven(build: _Build) -> Html | None:
    query = "select * from calls where sealed and named and standing <> 'proven' and began_s > ? order by began_s desc limit ?"
    rows = build.store.ask(query, build.now_s - UNPROVEN_DAYS * SECONDS_A_DAY, FIRST_ROWS)
    cells = [(row["began"], build.to(row, _name(row)), _cause(row)) for row in rows]
    return table(cells, ("began", "machine", "cause"), caption="causes without proof") if cells else None


def _refrigerant(build: _Build) -> Html | None:
    """Pounds added to each rack, with the leak rate its last addition came to."""
    query = """
    select site, rack, sum(pounds) as pounds, arg_max(leak_annualizing, began_s) as annualizing,
    arg_max(leak_rolling, began_s) as rolling, arg_max(call, began_s) as call, max(began) as last, max(began_s) as began_s
    from calls where pounds > 0 and began_s > ? group by site, rack order by pounds desc, site, rack limit ?"""
    rows = build.store.ask(query, build.now_s - ADDITION_DAYS * SECONDS_A_DAY, FIRST_ROWS)
    cells = [
        (f"{row['site']}, rack {row['rack']}", f"{row['pounds']:g} lb", _percent(row["annualizing"]), _percent(row["rolling"]),
         build.to(row, row["last"][:10]))
        for row in rows
    ]  # fmt: skip
    head = ("rack", "added", "leak rate a year, annualizing", "rolling", "last addition")
    return table(cells, head, caption="refrigerant") if cells else None


def _newest(build: _Build) -> Html:
    return _calls(build, build.store.ask("select * from calls order by began_s desc limit ?", FIRST_ROWS))


def _damaged(build: _Build) -> Html | None:
    cells = [(words,) for words in build.damaged[:PAGE_ROWS]]
    more = f"<p>{len(build.damaged)} in all; 'rackcall verify' names each.</p>" if len(build.damaged) > PAGE_ROWS else ""
    return Html(f"{table(cells, ('what is wrong',), caption='logs that fail')}{more}") if cells else None


