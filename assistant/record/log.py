"""The log of a call: lines are added, on disk before they are spoken of, and chained by hash."""

import json
import os
import platform
import secrets
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from filelock import FileLock, Timeout

from assistant.call.facts import CallOpened, CallSealed, Fact, as_record
from assistant.record.chain import GENESIS, LogDamaged, encode, hash_of, links
from assistant.record.shape import fact_of

EVENTS = "events.jsonl"
_IN_USE = ".in_use"
"""Locked while a program writes the log; the system frees it when that program dies."""
_WRITER = ".writer.json"
"""Who writes it, or did last: for who comes second, and for `resume`."""
FILE_MODE, FOLDER_MODE = 0o600, 0o700
"""What was said on a call is nobody else's."""
_NAMES = 20
"""So many names are tried for a new call; each has four billion to choose from within a second."""

__all__ = ["EVENTS", "GENESIS", "DiskTrouble", "Line", "Log", "LogDamaged", "LogInUse", "Reading", "events_file", "facts", "read"]


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
    lines: list[Line] = []
    prev, whole = GENESIS, 0
    torn = sealed = False
    for link in links(path):
        if sealed:
            raise LogDamaged(path, len(lines) + 1, "a line follows the seal")
        if link is None:
            torn = True
            break
        try:
            fact = fact_of(link.record)
        except ValueError as error:
            raise LogDamaged(path, link.seq, f"cannot be read ({error})") from error
        lines.append(Line(link.seq, link.at, fact, link.record))
        sealed = isinstance(fact, CallSealed)
        prev, whole = link.hash, link.end
    return Reading(tuple(lines), torn, sealed, whole, prev)


def body_of(fact: Fact) -> dict[str, Any]:
    """A fact as the fields of its line; of the call before nothing is said where there was none."""
    record = as_record(fact)
    if isinstance(fact, CallOpened) and not fact.after_head:
        record = {key: value for key, value in record.items() if not key.startswith("after_")}
    return record


class Log:
    """A log open for adding. Use as a context."""

    def __init__(self, call: Path, new: bool = False) -> None:
        """Open the log of a call's folder, which is made when it is not there. A torn last line is cut off.

        Args:
            call: its folder.
            new: the folder must not be there yet.

        Raises:
            LogDamaged: the log there is damaged, or sealed.
            LogInUse: another program writes it.
            FileExistsError: it is there, and was to be new.
            DiskTrouble: it cannot be written.
        """
        self.folder = call
        path = call / EVENTS
        self._lock = FileLock(call / _IN_USE, timeout=0, mode=FILE_MODE)
        try:
            make_private(call, new)
            self._lock.acquire()
        except Timeout as error:
            raise LogInUse(f"the call {call.name} is open in {holder(call)}: go on there, or end that one first") from error
        except FileExistsError:
            raise
        except OSError as error:
            raise DiskTrouble(f"cannot write {path}: {error.strerror or error}") from error
        try:
            self._open(path)
        except OSError as error:
            self._lock.release()
            raise DiskTrouble(f"cannot write {path}: {error.strerror or error}") from error
        except BaseException:
            self._lock.release()
            raise

    def _open(self, path: Path) -> None:
        self.seq, self.prev = 0, GENESIS
        self._last: datetime | None = None
        if path.exists():
            found = read(path.parent)
            if found.sealed:
                raise LogDamaged(path, len(found.lines), "the call is sealed; nothing follows")
            self.seq, self.prev = len(found.lines), found.last_hash
            self._last = found.lines[-1].at if found.lines else None
            os.truncate(path, found.whole_bytes)
        _note_writer(path.parent)
        self._file = open(path, "ab", opener=_private)  # noqa: SIM115
        sync_folder(path.parent)
        sync_folder(path.parent.parent)

    @classmethod
    def begin(cls, calls: Path, at: datetime) -> Self:
        """The log of a new call, in a folder of its own under `calls` that no other call can have.

        Raises:
            DiskTrouble: it cannot be written.
        """
        for _ in range(_NAMES):
            try:
                return cls(calls / f"{at:%Y%m%d-%H%M%S}-{secrets.token_hex(4)}", new=True)
            except FileExistsError:
                continue
        raise DiskTrouble(f"no name is free for a new call in {calls}")

    def append(self, fact: Fact, at: datetime) -> dict[str, Any]:
        """Put a fact on disk: when this returns, it is there. A signal that ends the program waits until the line is whole.

        Raises:
            DiskTrouble: disk full or gone; the line does not count.
        """
        at = max(at, self._last or at)
        line = encode(self.seq + 1, at, body_of(fact), self.prev)
        with undisturbed():
            try:
                self._file.write(line + b"\n")
                self._file.flush()
                os.fsync(self._file.fileno())
            except OSError as error:
                raise DiskTrouble(f"cannot write the log: {error.strerror or error}") from error
            self.seq, self.prev, self._last = self.seq + 1, hash_of(line), at
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


# ---- folders, files, and who writes them


def make_private(folder: Path, new: bool = False) -> None:
    """Make a folder that is its owner's alone, and those above it.

    Raises:
        FileExistsError: it is there and was to be new, or something else has its name.
        OSError: it cannot be made.
    """
    folder.parent.mkdir(parents=True, exist_ok=True, mode=FOLDER_MODE)
    folder.mkdir(exist_ok=not new, mode=FOLDER_MODE)


def _private(path: str, flags: int) -> int:
    return os.open(path, flags, FILE_MODE)


def write_private(path: Path, data: bytes) -> None:
    """Put a small file of the call beside its log."""
    with open(path, "wb", opener=_private) as file:
        file.write(data)


def sync_folder(folder: Path) -> None:
    """Put the names in a folder on disk, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _note_writer(call: Path) -> None:
    who = {"host": platform.node(), "pid": os.getpid(), "since": f"{datetime.now().astimezone():%Y-%m-%d %H:%M:%S%z}"}
    write_private(call / _WRITER, json.dumps(who).encode())


def writer(call: Path) -> dict[str, str]:
    """Who writes a call, or did last: `host`, `pid`, `since`; empty where nobody noted it."""
    try:
        who = json.loads((call / _WRITER).read_bytes()[:1000])
    except (OSError, ValueError, RecursionError):
        return {}
    wanted = {"host", "pid", "since"}
    return {k: str(who[k]) for k in wanted} if isinstance(who, dict) and wanted <= set(who) else {}


def holder(call: Path) -> str:
    """Who has a call open, in words."""
    who = writer(call)
    return f"another program (process {who['pid']} on {who['host']}, since {who['since']})" if who else "another program"


def in_use(call: Path) -> bool:
    """Whether a program writes this call now."""
    try:
        with FileLock(call / _IN_USE, timeout=0, mode=FILE_MODE):
            return False
    except Timeout:
        return True


@contextmanager
def undisturbed() -> Iterator[None]:
    """What is done inside is not cut in two by a signal that ends the program: it comes afterwards."""
    if not hasattr(signal, "pthread_sigmask") or threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM, signal.SIGHUP})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def facts(call: Path) -> Iterator[tuple[datetime, Fact]]:
    """The facts of a log with their times, as the dialogue takes them up."""
    for line in read(call).lines:
        yield line.at, line.fact
