"""What many calls add up to: SQL over Parquet files, one a month. The one door to DuckDB.

The files are for other engines as they are for this one: `calls/month=2026-03/calls.parquet` and `follow/...`.
"""

import json
import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import duckdb

from assistant.record.log import DiskTrouble
from assistant.record.pages import PAGE_MODE, folder_of_pages
from assistant.record.row import Row

TRIP_DAYS, ADDITION_DAYS = 90, 365
CALLS = {
    "call": "VARCHAR", "site": "VARCHAR", "rack": "VARCHAR", "compressor": "VARCHAR", "technician": "VARCHAR",
    "began": "VARCHAR", "began_s": "DOUBLE", "ended_s": "DOUBLE", "sealed": "BOOLEAN", "lines": "INTEGER", "head": "VARCHAR",
    "named": "BOOLEAN", "broken_off": "BOOLEAN", "trip": "INTEGER", "protection": "VARCHAR", "cause": "VARCHAR",
    "standing": "VARCHAR", "causes": "VARCHAR[]", "runs": "BOOLEAN", "resets": "INTEGER", "pounds": "DOUBLE",
    "leak_annualizing": "DOUBLE", "leak_rolling": "DOUBLE", "leak_over": "BOOLEAN", "mended": "VARCHAR[]",
    "cleared": "VARCHAR[]", "open": "VARCHAR[]", "interruptions": "INTEGER", "skipped": "INTEGER", "cautions": "INTEGER",
    "parts_to_order": "VARCHAR", "summary": "VARCHAR",
}  # fmt: skip
"""Columns of a call. `began` is the site's own time; what ends in `_s` is seconds since 1970."""
FOLLOW = {
    "call": "VARCHAR", "site": "VARCHAR", "rack": "VARCHAR", "compressor": "VARCHAR", "technician": "VARCHAR",
    "began_s": "DOUBLE", "id": "VARCHAR", "owner": "VARCHAR", "due": "VARCHAR", "due_s": "DOUBLE", "repair_by": "VARCHAR",
    "verify_by": "VARCHAR", "line": "INTEGER",
}  # fmt: skip
"""Columns of what was handed over: `due` as it was agreed, `repair_by` and `verify_by` as the law sets them."""
_MEMORY, _AT_ONCE = "256MB", 1000
_OPEN_FOLLOW = """
with closing as (
  select site, rack, compressor, began_s, unnest(cleared) as id from calls where sealed
  union all select f.site, f.rack, f.compressor, f.began_s, f.id from follow f join calls c on c.call = f.call where c.sealed
  union all select site, rack, compressor, began_s, 'no_cause_reset' from calls where sealed
), mending as (select site, unnest(mended) as rack, began_s from calls where sealed)
select f.*, least(coalesce(f.due_s, 1e12), coalesce(epoch(f.repair_by::timestamp) + 86400, 1e12)) as first_s
from follow f
where not exists (
  select 1 from closing c where c.site = f.site and c.rack = f.rack and c.compressor = f.compressor and c.id = f.id
  and c.began_s > f.began_s
) and not (f.id in ('leak_open', 'leak_over_limit') and exists (
  select 1 from mending m where m.site = f.site and m.rack = f.rack and m.began_s > f.began_s))
"""
"""What was handed over and stands: no later sealed call of the machine cleared it, or took it on under its own name and date; for
what was left running without a cause any later call is the looking after that was asked for."""


class Store:
    """The Parquet files of a folder, and what is asked of them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._base = duckdb.connect(":memory:")
        self._base.execute(f"set memory_limit = '{_MEMORY}'; set threads = 2; set preserve_insertion_order = false")

    def __enter__(self) -> "Store":
        return self

    def __exit__(self, *_: object) -> None:
        self._base.close()

    def months(self) -> set[str]:
        return {one.parent.name.partition("=")[2] for one in self.folder.glob("calls/month=*/calls.parquet")}

    def put(self, month: str, rows: Sequence[Row]) -> None:
        """Write a month's files anew; none where it has no calls any more.

        Raises:
            DiskTrouble: one cannot be written.
        """
        self._write("calls", CALLS, month, (row.plain() | {"pounds": row.pounds} for row in rows))
        self._write("follow", FOLLOW, month, (one for row in rows for one in _follow(row)))

    def _write(self, name: str, columns: Mapping[str, str], month: str, rows: Iterable[Mapping[str, Any]]) -> None:
        target = self.folder / name / f"month={month}" / f"{name}.parquet"
        lines = [json.dumps({key: row.get(key) for key in columns}) for row in rows]
        if not lines and name == "calls":
            target.unlink(missing_ok=True)
            return
        folder_of_pages(target.parent)
        with tempfile.TemporaryDirectory() as made:
            source, new = Path(made) / "rows.json", target.with_suffix(".new")
            try:
                source.write_text("\n".join(lines) or "{}", encoding="utf-8")
                kinds = ", ".join(f"{_text(key)}: {_text(kind)}" for key, kind in columns.items())
                where = "" if lines else " limit 0"
                given = f"read_json({_text(source)}, format = 'newline_delimited', columns = {{{kinds}}})"
                self._base.execute(f"copy (select * from {given}{where}) to {_text(new)} (format parquet, compression zstd)")
                os.chmod(new, PAGE_MODE)
                os.replace(new, target)
            except (OSError, duckdb.IOException) as error:
                raise DiskTrouble(f"cannot write {target}: {error}") from error

    def read(self) -> None:
        """Take up what the files hold, for the questions that follow."""
        for name, columns in (("calls", CALLS), ("follow", FOLLOW)):
            files = sorted(str(one) for one in self.folder.glob(f"{name}/month=*/{name}.parquet"))
            if files:
                listed = ", ".join(_text(one) for one in files)
                self._base.execute(f"create or replace table {name} as select * from read_parquet([{listed}])")
            else:
                empty = ", ".join(f"null::{kind} as {key}" for key, kind in columns.items())
                self._base.execute(f"create or replace table {name} as select {empty} limit 0")
        self._base.execute(f"create or replace table due as {_OPEN_FOLLOW}")

    def ask(self, query: str, *values: object) -> list[dict[str, Any]]:
        """The rows of a question, each by the names of its columns."""
        found = self._base.execute(query, list(values))
        names = [column[0] for column in found.description or ()]
        return [dict(zip(names, row, strict=True)) for row in found.fetchall()]

    def each(self, query: str, *values: object) -> Iterator[dict[str, Any]]:
        """The same, one after the other: not all of them are in memory at once."""
        found = self._base.cursor().execute(query, list(values))
        names = [column[0] for column in found.description or ()]
        while rows := found.fetchmany(_AT_ONCE):
            yield from (dict(zip(names, row, strict=True)) for row in rows)

    def names(self, column: str, most: int) -> list[str]:
        """What a column of the calls has, the most frequent first."""
        query = f"select {column} as name, count(*) from calls where {column} <> '' group by all order by 2 desc, name limit ?"
        return [str(one["name"]) for one in self.ask(query, most)]

    def one(self, query: str, *values: object) -> Any:
        return self._base.execute(query, list(values)).fetchone()[0]  # type: ignore[index]


def _follow(row: Row) -> Iterable[dict[str, Any]]:
    for one in row.follow:
        legal = dict(one["legal"])
        yield {
            "call": row.call, "site": row.site, "rack": row.rack, "compressor": row.compressor, "technician": row.technician,
            "began_s": row.began_s, **one, "repair_by": legal.get("repair"), "verify_by": legal.get("verify again"),
        }  # fmt: skip


def _text(value: object) -> str:
    """A text of SQL."""
    return "'" + str(value).replace("'", "''") + "'"
