"""What other programs take from many calls: a table as CSV, and what is due as a calendar."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from assistant.language.wording import spoken_cause
from assistant.record.pages import written
from assistant.record.row import Row
from assistant.record.story import STANDINGS, said_of

COLUMNS = ("call", "site", "rack", "compressor", "began", "minutes", "log", "cause", "standing", "runs", "pounds_added",
           "left_for_later", "still_open", "interruptions", "skipped", "technician", "trip", "protection", "causes", "due",
           "legal_repair_by", "legal_verify_by", "leak_annualizing_percent", "leak_rolling_percent", "leak_over_limit",
           "head")  # fmt: skip
"""Of `calls.csv`; new ones come at the end."""
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def cell(value: object) -> str:
    """A cell that no table program takes for a formula.

    >>> cell("=1+1"), cell("-5"), cell("two")
    ("'=1+1", '-5', 'two')
    """
    text = str(value)
    if not text.startswith(_FORMULA):
        return text
    try:
        float(text)
    except ValueError:
        return "'" + text
    return text


def write_csv(file: Path, rows: Iterable[Row]) -> Path:
    """One line a call.

    Raises:
        DiskTrouble: it cannot be written.
    """
    sink = io.StringIO(newline="")
    writer = csv.writer(sink)
    writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow([cell(value) for value in _values(row)])
    return written(file, sink.getvalue(), ",".join(COLUMNS[:3]))


def _values(row: Row) -> tuple[object, ...]:
    legal = {str(what): str(on) for one in row.follow for what, on in one["legal"]}
    return (
        row.call, row.site, row.rack or "?", row.compressor or "?", row.began, f"{row.minutes:.0f}",
        "sealed" if row.sealed else "not sealed", spoken_cause(row.cause) if row.cause else "no cause found",
        STANDINGS.get(row.standing, ""), "yes" if row.runs else "no", f"{row.pounds:g}" if row.pounds else "",
        "; ".join(f"{said_of(one['id'])}: {one['owner']}" for one in row.follow), "; ".join(said_of(id_) for id_ in row.open),
        row.interruptions, row.skipped, row.technician, row.trip, row.protection,
        "; ".join(spoken_cause(cause) for cause in row.causes), "; ".join(one["due"] for one in row.follow if one["due"]),
        legal.get("repair", ""), legal.get("verify again", ""), _figure(row.leak_annualizing), _figure(row.leak_rolling),
        "yes" if row.leak_over else "no", row.head,
    )  # fmt: skip


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def write_calendar(file: Path, due: Sequence[Mapping[str, Any]], now_s: float) -> Path:
    """What is due as events of a calendar: as agreed, and by law.

    Raises:
        DiskTrouble: it cannot be written.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", "-//rackcall//due//EN")
    calendar.add("version", "2.0")
    for one in due:
        what = said_of(one["id"])
        where = f"{one['site']}, rack {one['rack'] or '?'}, compressor {one['compressor'] or '?'}"
        dates: list[tuple[str, str, datetime | date]] = []
        if one["due_s"]:
            dates.append(("", what, datetime.fromtimestamp(one["due_s"], UTC)))
        for key, words in (("repair_by", "by law: repair the leak"), ("verify_by", "by law: verify the repair again")):
            if one[key]:
                dates.append((f"-{key}", words, date.fromisoformat(one[key])))
        for tail, words, at in dates:
            event = Event()
            event.add("uid", f"{one['call']}-{one['id']}{tail}@rackcall")
            event.add("dtstamp", datetime.fromtimestamp(now_s, UTC))
            event.add("dtstart", at)
            if isinstance(at, datetime):
                event.add("dtend", at + timedelta(minutes=30))
            event.add("summary", f"{words}: {where}")
            event.add("description", f"{one['owner']}. Call {one['call']}, line {one['line']}.")
            calendar.add_component(event)
    return written(file, calendar.to_ical().decode("utf-8"), "BEGIN:VCALENDAR")
