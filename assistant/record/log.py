"""The log of a call: lines are added, on disk before they are spoken of, and chained by hash."""

import hashlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from filelock import FileLock, Timeout

from assistant.call.facts import CallSealed, Fact, as_record, from_record

GENESIS = "0" * 64
"""`prev` of the first line."""
EVENTS = "events.jsonl"
_IN_USE = ".in_use"
"""Locked while a program writes the log; the system frees it when that program dies."""


class LogDamaged(ValueError):
    """A line that is not what was written; `line` is its number, from 1."""

    def __init__(self, path: Path, line: int, why: str) -> None:
        super().__init__(f"{path}, line {line}: {why}")
        self.line = line


class DiskTrouble(OSError):
    """The log cannot be written: disk full, gone or not writable."""


class LogInUse(ValueError):
    """Another program writes this log."""


@dataclass(frozen=True)
class Line:
    seq: int
    at: datetime
    fact: Fact
    record: dict[str, Any]


@dataclass(frozen=True)
class Reading:
    """What a log holds."""

    lines: tuple[Line, ...]
    torn: bool
    """The last line was cut short by an interruption and is left out."""
    sealed: bool
    whole_bytes: int
    """Length of the part that is whole."""
    last_hash: str


def _hash(line: bytes) -> str:
    return hashlib.sha256(line).hexdigest()


def events_file(call: Path) -> Path:
    """The log's file, from the folder of a call or the file itself."""
    return call / EVENTS if call.is_dir() else call


def read(call: Path) -> Reading:
    """Every line of a log, checked one by one against its chain.

    A last line without its line end is torn: it is left out and reported.

    Raises:
        LogDamaged: a line before that is altered, missing or out of order; names it.
        FileNotFoundError: there is no log.
    """
    path = events_file(call)
    data = path.read_bytes()
    pieces = data.split(b"\n")
    tail = pieces.pop()
    lines: list[Line] = []
    prev, whole = GENESIS, 0
    sealed = False
    for number, raw in enumerate(pieces, 1):
        if sealed:
            raise LogDamaged(path, number, "a line follows the seal")
        line = _line(path, number, raw, prev)
        lines.append(line)
        sealed = isinstance(line.fact, CallSealed)
        prev, whole = _hash(raw), whole + len(raw) + 1
    if tail and sealed:
        raise LogDamaged(path, len(lines) + 1, "a line follows the seal")
    return Reading(tuple(lines), bool(tail), sealed, whole, prev)


def _line(path: Path, number: int, raw: bytes, prev: str) -> Line:
    try:
        record = json.loads(raw)
        if not isinstance(record, dict):
            raise ValueError("not an object")
        at = datetime.fromisoformat(str(record["at"]))
        fact = from_record(record)
    except (ValueError, KeyError) as error:
        raise LogDamaged(path, number, f"cannot be read ({error})") from error
    if record.get("seq") != number:
        raise LogDamaged(path, number, f"it says it is line {record.get('seq')}")
    if record.get("prev") != prev:
        which = f"line {number - 1} was altered, or a line is missing" if number > 1 else "it is not the first line"
        raise LogDamaged(path, max(1, number - 1), which)
    if record.get("own") != _own(raw):
        raise LogDamaged(path, number, "it was altered")
    return Line(number, at, fact, record)


def _own(raw: bytes) -> str:
    """The hash of a line without its own hash, which stands last."""
    body, _, _ = raw.rpartition(b', "own": "')
    return _hash(body + b"}")


def encode(seq: int, at: datetime, fact: Fact, prev: str) -> bytes:
    """One line, without its line end. `prev` chains it to the line before; `own` guards the line itself,
    so that an altered last line is noticed too."""
    body = json.dumps({"seq": seq, "at": at.isoformat(), **as_record(fact), "prev": prev}, ensure_ascii=False).encode()
    return body[:-1] + b', "own": "' + _hash(body).encode() + b'"}'


class Log:
    """A log open for adding. Use as a context."""

    def __init__(self, call: Path) -> None:
        """Open the log of a call's folder, which is made when it is not there. A torn last line is cut off.

        Raises:
            LogDamaged: the log there is damaged, or sealed.
            LogInUse: another program writes it.
            DiskTrouble: it cannot be written.
        """
        self.folder = call
        path = call / EVENTS
        self._lock = FileLock(call / _IN_USE, timeout=0)
        try:
            call.mkdir(parents=True, exist_ok=True)
            self._lock.acquire()
            self.seq, self.prev = 0, GENESIS
            if path.exists():
                found = read(call)
                if found.sealed:
                    raise LogDamaged(path, len(found.lines), "the call is sealed; nothing follows")
                self.seq, self.prev = len(found.lines), found.last_hash
                os.truncate(path, found.whole_bytes)
            self._file = open(path, "ab")  # noqa: SIM115
            _sync_folder(call)
        except Timeout as error:
            raise LogInUse(f"the call {call.name} is open in another program: go on there, or end that one first") from error
        except OSError as error:
            raise DiskTrouble(f"cannot write {path}: {error.strerror or error}") from error

    def append(self, fact: Fact, at: datetime) -> dict[str, Any]:
        """Put a fact on disk: when this returns, it is there.

        Raises:
            DiskTrouble: disk full or gone; the line does not count.
        """
        line = encode(self.seq + 1, at, fact, self.prev)
        try:
            self._file.write(line + b"\n")
            self._file.flush()
            os.fsync(self._file.fileno())
        except OSError as error:
            raise DiskTrouble(f"cannot write the log: {error.strerror or error}") from error
        self.seq, self.prev = self.seq + 1, _hash(line)
        record: dict[str, Any] = json.loads(line)
        return record

    def close(self) -> None:
        """Close the file.

        Raises:
            DiskTrouble: a line that could not be written is still in the buffer.
        """
        try:
            self._file.close()
        except OSError as error:
            raise DiskTrouble(f"cannot write the log: {error.strerror or error}") from error
        finally:
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()


def _sync_folder(folder: Path) -> None:
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def facts(call: Path) -> Iterator[tuple[datetime, Fact]]:
    """The facts of a log with their times, as the dialogue takes them up."""
    for line in read(call).lines:
        yield line.at, line.fact
