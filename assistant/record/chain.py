"""Lines of JSON that are chained by hash: how one is written, and what is read as one.

What is read is what was written, byte by byte: a line is taken apart and written again, and anything else than the same bytes
is damage. So nothing can stand after `own`, no key can come twice, and no number can be written in two ways.
"""

import hashlib
import json
import os
import stat
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

GENESIS = "0" * 64
"""`prev` of the first line."""
MOST_LINE_BYTES = 1 << 20
"""A longer line was not written here: the longest, an opening that tells of a year of additions, is a tenth of this."""
MOST_BYTES = 64 << 20
"""A longer file neither: a call of a whole day with talk in it is 5 MB."""
FIRST_YEAR, LAST_YEAR = 1970, 2199
"""Times outside are no times of a call, and nothing can be reckoned from the ends of the calendar."""


class LogDamaged(ValueError):
    """A line that is not what was written; `line` is its number, from 1."""

    def __init__(self, path: Path, line: int, why: str) -> None:
        super().__init__(f"{path}, line {line}: {why}")
        self.line = line


@dataclass(frozen=True)
class Link:
    """One whole line."""

    seq: int
    at: datetime
    record: dict[str, Any]
    hash: str
    """SHA-256 of the line, which the next one repeats."""
    end: int
    """Where it ends in the file [bytes]."""


def hash_of(line: bytes) -> str:
    return hashlib.sha256(line).hexdigest()


def encode(seq: int, at: datetime, body: Mapping[str, Any], prev: str) -> bytes:
    """One line, without its line end. `prev` chains it to the line before; `own` guards the line itself,
    so that an altered last line is noticed too."""
    head = _written({"seq": seq, "at": at.isoformat(), **body, "prev": prev})
    return head[:-1] + b', "own": "' + hash_of(head).encode() + b'"}'


_encode: Callable[[Any], str] = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def _written(record: Mapping[str, Any]) -> bytes:
    return _encode(record).encode()


def links(path: Path, most_bytes: int = MOST_BYTES) -> Iterator[Link | None]:
    """Every line of a chained file, one by one, each checked. A last line without its line end is torn: it comes as None.

    Raises:
        LogDamaged: a line is altered, missing or out of order, or none at all; names it.
        OSError: the file cannot be read.
    """
    prev, before, end = GENESIS, None, 0
    for number, raw in enumerate(_lines(path, most_bytes), 1):
        if not raw.endswith(b"\n"):
            yield None
            return
        link = read_line(path, number, raw[:-1], prev, end + len(raw))
        if before and link.at < before:
            raise LogDamaged(path, number, f"its time, {link.at.isoformat()}, runs back")
        prev, before, end = link.hash, link.at, link.end
        yield link


def _lines(path: Path, most_bytes: int) -> Iterator[bytes]:
    """The lines of a plain file; no more of it is taken into memory than one line may have."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    status = os.fstat(handle)
    if not stat.S_ISREG(status.st_mode):
        os.close(handle)
        raise LogDamaged(path, 1, "it is no plain file")
    with open(handle, "rb") as file:
        if status.st_size > most_bytes:
            raise LogDamaged(path, 1, f"{status.st_size / 1e6:.0f} MB are too many; the limit is {most_bytes / 1e6:.0f} MB")
        number = 0
        while raw := file.readline(MOST_LINE_BYTES + 1):
            number += 1
            if len(raw) > MOST_LINE_BYTES:
                raise LogDamaged(path, number, f"it is longer than a line may be ({MOST_LINE_BYTES} bytes)")
            yield raw


def read_line(path: Path, number: int, raw: bytes, prev: str, end: int) -> Link:
    """One line, checked against the hash of the line before.

    Raises:
        LogDamaged: it is not what was written, or does not follow.
    """
    try:
        record = json.loads(raw)  # a key that stands there twice, and what is no number, are not what is written below
        if not isinstance(record, dict):
            raise ValueError("not an object")
        own = record.get("own")
        body = {key: value for key, value in record.items() if key != "own"}
        at = _time(record.get("at"))
        written = _written(body)
    except (ValueError, RecursionError) as error:
        raise LogDamaged(path, number, f"cannot be read ({_short(error)})") from error
    if not isinstance(own, str) or own != hash_of(written) or raw != written[:-1] + b', "own": "' + own.encode() + b'"}':
        raise LogDamaged(path, number, "it was altered")
    if record.get("seq") != number or isinstance(record.get("seq"), bool):
        raise LogDamaged(path, number, f"it says it is line {_short(record.get('seq'))}")
    if record.get("prev") != prev:
        which = f"line {number - 1} was written anew, or a line is missing" if number > 1 else "it is not the first line"
        raise LogDamaged(path, max(1, number - 1), which)
    return Link(number, at, record, hash_of(raw), end)


def _time(text: object) -> datetime:
    if not isinstance(text, str):
        raise ValueError("it has no time")
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError(f"its time, {text}, has no offset")
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise ValueError(f"its time, {text}, lies outside the years {FIRST_YEAR} to {LAST_YEAR}")
    return at


def _short(what: object) -> str:
    text = str(what)
    return text if len(text) <= 100 else text[:100] + "..."
