"""The ledger of a folder of calls: the head of each sealed call, chained, so that one which is gone or written anew is missed."""

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from filelock import FileLock

from assistant.record.chain import GENESIS, MOST_LINE_BYTES, LogDamaged, encode, hash_of, links
from assistant.record.log import FILE_MODE, DiskTrouble, make_private, sync_folder, undisturbed, write_private
from assistant.record.signing import Signature, sign

LEDGER = "ledger.jsonl"
SEAL = "seal.json"
"""Beside a sealed log: its head, with the technician's signature where there is a key."""
MOST_LEDGER_BYTES = 1 << 30
"""Two million signed calls."""
_LOCK = ".ledger.lock"
_PATIENCE_S = 5.0


@dataclass(frozen=True)
class Entry:
    """One line of the ledger."""

    call: str
    """Name of the call's folder."""
    head: str
    """SHA-256 of its last line, the seal."""
    lines: int
    hash: str
    """SHA-256 of the ledger's own line."""
    signature: Signature | None = None


def enter(calls: Path, call: str, head: str, lines: int, at: datetime) -> Entry:
    """Put the head of a sealed call into the ledger, and its seal beside its log.

    A ledger that is damaged is gone on with after its last line; `verify` names where it breaks.

    Raises:
        DiskTrouble: it cannot be written.
    """
    signed = sign(call, head)
    body: dict[str, Any] = {"kind": "sealed_call", "call": call, "head": head, "lines": lines}
    if signed:
        body |= {"key": signed.key, "signature": signed.signature}
    path = calls / LEDGER
    try:
        make_private(calls)
        with FileLock(calls / _LOCK, timeout=_PATIENCE_S, mode=FILE_MODE), undisturbed():
            last, seq, whole = _end(path)
            before = _time_of(last)
            line = encode(seq + 1, max(at, before) if before else at, body, hash_of(last) if last else GENESIS)
            with open(path, "ab", opener=lambda p, flags: os.open(p, flags, FILE_MODE)) as file:
                os.truncate(path, whole)
                file.write(line + b"\n")
                file.flush()
                os.fsync(file.fileno())
            sync_folder(calls)
        if (calls / call).is_dir():
            write_private(calls / call / SEAL, (json.dumps(body) + "\n").encode())
    except OSError as error:
        raise DiskTrouble(f"cannot write {path}: {error.strerror or error}") from error
    return Entry(call, head, lines, hash_of(line), signed)


def _end(path: Path) -> tuple[bytes, int, int]:
    """The last whole line, its number, and where it ends; a torn one after it is left out."""
    if not path.exists():
        return b"", 0, 0
    with open(path, "rb") as file:
        size = file.seek(0, os.SEEK_END)
        file.seek(max(0, size - 2 * MOST_LINE_BYTES))
        tail = file.read()
    whole = size - (len(tail) - tail.rfind(b"\n") - 1)
    pieces = tail.split(b"\n")[:-1]
    last = pieces[-1] if pieces else b""
    try:
        seq = int(json.loads(last)["seq"])
    except (ValueError, KeyError, TypeError, RecursionError):
        seq = 0
    return last, seq, whole


def _time_of(line: bytes) -> datetime | None:
    try:
        at = datetime.fromisoformat(json.loads(line)["at"])
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return at if at.tzinfo else None


def last(calls: Path) -> Entry | None:
    """The call that was sealed last, from the end of the ledger alone; None where there is none that can be read."""
    try:
        line, _, _ = _end(calls / LEDGER)
        return entry_of(json.loads(line), hash_of(line)) if line else None
    except (OSError, ValueError, RecursionError):
        return None


def entries(path: Path) -> Iterator[Entry]:
    """Every line of a ledger, checked one by one.

    Raises:
        LogDamaged: a line is altered, missing or out of order; names it.
        OSError: there is no ledger, or it cannot be read.
    """
    for link in links(path, MOST_LEDGER_BYTES):
        if link is None:
            return
        try:
            yield entry_of(link.record, link.hash)
        except ValueError as error:
            raise LogDamaged(path, link.seq, f"cannot be read ({error})") from error


def tail(path: Path, from_: int) -> Iterator[Entry]:
    """The lines of a ledger from a place on, without their chain; what is no line of a ledger is passed over.

    Args:
        path: the ledger.
        from_: where a line begins [bytes].
    """
    with open(path, "rb") as file:
        file.seek(from_)
        while line := file.readline(MOST_LINE_BYTES):
            try:
                yield entry_of(json.loads(line), hash_of(line.rstrip(b"\n")))
            except (ValueError, RecursionError):
                continue


def entry_of(record: object, own: str = "") -> Entry:
    """A line of the ledger, or a seal beside a log.

    Raises:
        ValueError: it is none.
    """
    if not isinstance(record, Mapping):
        raise ValueError("not an object")
    call, head, lines = record.get("call"), record.get("head"), record.get("lines")
    if not isinstance(call, str) or not isinstance(head, str) or not isinstance(lines, int):
        raise ValueError("call, head or lines is missing")
    key, signature = record.get("key"), record.get("signature")
    signed = Signature(key, signature) if isinstance(key, str) and isinstance(signature, str) else None
    return Entry(call, head, lines, own, signed)
