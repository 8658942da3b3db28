"""An index of a folder of calls, made from the logs and made again at any time: a new call asks it and need not read them all.

It is no record: nothing stands in it that the logs do not say, it may be deleted, and `verify` does not look at it.
"""

import json
import os
import sqlite3
import stat
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.record.chain import LogDamaged
from assistant.record.ledger import LEDGER, tail
from assistant.record.log import EVENTS, FILE_MODE, read
from assistant.record.row import Row, row_of

INDEX = ".index.sqlite"
_VERSION = 3
"""Of the tables below and of `Row`: another one is made anew."""
_TABLES = """
create table calls (
  call text primary key, size integer, changed_ns integer, site text, rack text, compressor text, began_s real, month text,
  sealed integer, named integer, broken_off integer, head text, trouble text, row text
) without rowid;
create index of_site on calls (site, began_s);
create index of_month on calls (month) where trouble = '';
create index of_what_is_there on calls (call, size, changed_ns, sealed, head, trouble);
create index of_trouble on calls (call, trouble) where trouble <> '';
create index of_machine on calls (site, rack, compressor, began_s) where named = 1 and trouble = '';
create table entered (call text primary key, head text) without rowid;
create table marks (name text primary key, value integer) without rowid;
"""
_WAIT_S = 3.0
_BATCH = 500


@dataclass(frozen=True)
class Found:
    """What a refresh did."""

    read: int
    """Logs that were new or had changed."""
    unread: int
    """Logs that are still to be read: there was no time for them."""
    months: frozenset[str]
    """Months whose calls changed, as `2026-03`; of damaged logs `""`."""
    machines: frozenset[tuple[str, str, str]] = frozenset()
    """Site, rack and compressor of those calls."""


class Index:
    """The index of a folder of calls, open. Use as a context."""

    def __init__(self, calls: Path) -> None:
        """Open it, or begin it; where it cannot be kept (a folder that may only be read), one is made in memory."""
        self.calls = calls
        self._base = _open(calls)

    def __enter__(self) -> "Index":
        return self

    def __exit__(self, *_: object) -> None:
        self._base.close()

    def refresh(self, but: str = "", for_s: float = float("inf"), look_again: bool = False) -> Found:
        """Bring it up to what is in the folder: the newest calls first.

        A call that was sealed when it was read is not read again; whether it is still what it was, `verify` says.

        Args:
            but: the call that asks.
            for_s: how long it may take [s].
            look_again: also at sealed calls, whether their file was changed since.
        """
        until = time.monotonic() + for_s
        there = _folders(self.calls)
        known = {
            name: (size, changed, sealed)
            for name, size, changed, sealed in self._base.execute("select call, size, changed_ns, sealed from calls")
        }
        of: set[tuple[str, ...]] = set()
        with self._base:
            for name in known.keys() - there:
                of |= self._of(name)
                self._base.execute("delete from calls where call = ?", (name,))
        done = left = 0
        for name in sorted((n for n in there if n != but and (look_again or not (n in known and known[n][2]))), reverse=True):
            stamp = _stamp(f"{self.calls}/{name}/{EVENTS}")
            if stamp is None or (name in known and known[name][:2] == stamp):
                continue
            if time.monotonic() > until:
                left += 1
                continue
            of |= self._of(name)
            self._take(name, stamp)
            of |= self._of(name)
            done += 1
            if done % _BATCH == 0:
                self._base.commit()
        self._base.commit()
        self._refresh_entered()
        machines = frozenset((site, rack, compressor) for _, site, rack, compressor in of)
        return Found(done, left, frozenset(month for month, *_ in of), machines)

    def _of(self, name: str) -> set[tuple[str, ...]]:
        """Month, site, rack and compressor of a call, as the index has it now."""
        return set(self._base.execute("select month, site, rack, compressor from calls where call = ?", (name,)))

    def _take(self, name: str, stamp: tuple[int, int]) -> None:
        """Read a log into its row."""
        trouble, row = "", Row(name)
        try:
            log = read(self.calls / name)
            if log.lines:
                row = row_of(name, log)
            else:
                trouble = f"{self.calls / name / EVENTS}: holds no whole line"
        except LogDamaged as error:
            trouble = str(error)
        except (OSError, ValueError) as error:
            trouble = f"{self.calls / name / EVENTS}: cannot be read ({error})"
        self._base.execute(
            "insert or replace into calls values (?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            (name, *stamp, row.site, row.rack, row.compressor, row.began_s, row.began[:7], row.sealed, row.named, row.broken_off,
             row.head, trouble, json.dumps(row.plain(), ensure_ascii=True)),
        )  # fmt: skip

    def _refresh_entered(self) -> None:
        """Bring in what the ledger has more than last time; a line that cannot be read counts as none, `verify` names it."""
        path = self.calls / LEDGER
        size, known = path.stat().st_size if path.is_file() else 0, max(0, self._mark("ledger"))
        if known == size:
            return
        from_ = known if known < size else 0
        with self._base:
            if not from_:
                self._base.execute("delete from entered")
            for entry in tail(path, from_) if size else ():
                self._base.execute("insert or ignore into entered values (?, ?)", (entry.call, entry.head))
            self._base.execute("insert or replace into marks values ('ledger', ?)", (size,))

    def _mark(self, name: str) -> int:
        found = self._base.execute("select value from marks where name = ?", (name,)).fetchone()
        return int(found[0]) if found else -1

    def not_entered(self) -> list[Row]:
        """Sealed calls that the ledger does not have, in the order in which they began."""
        query = (
            "select row from calls where sealed = 1 and trouble = '' and call not in (select call from entered) order by began_s"
        )
        return [_row(text) for (text,) in self._base.execute(query)]

    def disagreeing(self) -> Iterator[str]:
        """Calls that are not what the ledger has, as sentences."""
        query = """
        select e.call, e.head, c.head, c.trouble from entered e left join calls c on c.call = e.call
        where c.call is null or (c.trouble = '' and c.head <> e.head) order by e.call"""
        for call, head, now, _ in self._base.execute(query):
            if now is None:
                yield f"{self.calls / call}: the ledger has this call, and it is not there"
            else:
                yield f"{self.calls / call}: by the ledger it was sealed with head {head[:12]}, which it has not any more"

    def of_site(self, site: str, from_s: float, to_s: float) -> Iterator[Row]:
        """Calls at a site that began within a time, the earliest first."""
        query = "select row from calls where site = ? and began_s between ? and ? and trouble = '' order by began_s"
        for (text,) in self._base.execute(query, (site, from_s, to_s)):
            yield _row(text)

    def last_of_machines(self, site: str, to_s: float) -> Iterator[Row]:
        """The last call about each machine of a site."""
        query = (
            "select row, max(began_s) from calls where site = ? and began_s <= ? and named = 1 and trouble = '' "
            "group by rack, compressor"
        )
        for text, _ in self._base.execute(query, (site, to_s)):
            yield _row(text)

    def sealed(self) -> set[str]:
        """Calls that were sealed when they were read."""
        return {call for (call,) in self._base.execute("select call from calls where sealed = 1 and trouble = ''")}

    def sealed_after(self, site: str, rack: str, compressor: str, began_s: float) -> str:
        """The first sealed call about a machine that began after another one; empty for none."""
        query = (
            "select call from calls where site = ? and rack = ? and compressor = ? and began_s > ? and named = 1 and sealed = 1 "
            "and trouble = '' order by began_s limit 1"
        )
        found = self._base.execute(query, (site, rack, compressor, began_s)).fetchone()
        return str(found[0]) if found else ""

    def months(self) -> list[str]:
        return [m for (m,) in self._base.execute("select distinct month from calls where trouble = '' order by month desc")]

    def of_month(self, month: str) -> Iterator[Row]:
        for (text,) in self._base.execute("select row from calls where month = ? and trouble = '' order by began_s", (month,)):
            yield _row(text)

    def troubles(self) -> list[tuple[str, str]]:
        """Calls whose log cannot be read, each with what is wrong."""
        return list(self._base.execute("select call, trouble from calls where trouble <> '' order by call"))


def _row(text: str) -> Row:
    record: dict[str, Any] = json.loads(text)
    return Row(**record)


def _folders(calls: Path) -> set[str]:
    try:
        with os.scandir(calls) as found:
            return {one.name for one in found if not one.name.startswith(".") and one.is_dir()}
    except OSError:
        return set()


def _stamp(file: str) -> tuple[int, int] | None:
    """Size and time of change; None where there is no log at all."""
    try:
        status = os.stat(file)
    except OSError:
        return None
    return status.st_size if stat.S_ISREG(status.st_mode) else -1, status.st_mtime_ns


def _open(calls: Path) -> sqlite3.Connection:
    path = calls / INDEX
    for _ in range(2):
        try:
            return _opened(path)
        except sqlite3.DatabaseError as error:
            if isinstance(error, sqlite3.OperationalError) or not path.is_file():
                break  # another program has it for long, or it cannot be kept here
            path.unlink()
        except OSError:
            break
    base = sqlite3.connect(":memory:")
    base.executescript(_TABLES)
    return base


def _opened(path: Path) -> sqlite3.Connection:
    if not path.exists():
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, FILE_MODE))
    elif not path.is_file():
        raise OSError(f"{path} is no file")
    base = sqlite3.connect(path, timeout=_WAIT_S)
    try:
        base.execute("pragma synchronous = off")
        if base.execute("pragma user_version").fetchone()[0] != _VERSION:
            tables = "select name from sqlite_master where type = 'table' and name not like 'sqlite%'"
            for (name,) in base.execute(tables).fetchall():
                base.execute(f'drop table "{name}"')
            base.executescript(_TABLES)
            base.execute(f"pragma user_version = {_VERSION}")
            base.commit()
        base.execute("begin immediate")
        base.rollback()
    except BaseException:
        base.close()
        raise
    return base
