"""Is what stands in a log, a ledger or a folder of calls what was written; and what nobody can know from it.

A line proves itself, a log its order, its seal the whole, the ledger every seal, and the next call's opening line the ledger.
Who can write all of them can write all of them anew: against that helps only a head kept elsewhere, or a signature.
"""

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from assistant.call.facts import CallOpened
from assistant.record.chain import MOST_LINE_BYTES, LogDamaged
from assistant.record.ledger import LEDGER, SEAL, Entry, entries, entry_of
from assistant.record.log import EVENTS, Reading, events_file, read
from assistant.record.signing import SigningMissing, is_good

Out = Callable[[str], None]
LEAST_DIGITS = 8
"""Of a head that was kept elsewhere: fewer are soon found by trying."""
NO_LEDGER = (
    "no ledger beside it: whether a seal was cut off, or all of it written anew, only a head kept elsewhere or a signature tells"
)
CANNOT = (
    "Not known from here: whether calls were cut off the end of the ledger, or everything was written anew together. "
    "A head kept elsewhere tells (--head), or a signature (--key)."
)


@dataclass
class Verdict:
    """What was found, and whether all of it is good."""

    good: bool = True
    lines: list[str] = field(default_factory=list)

    def say(self, words: str) -> None:
        self.lines.append(words)

    def fault(self, words: str) -> None:
        self.good = False
        self.lines.append(words)


def verify(path: Path, head: str = "", key: str = "") -> Verdict:
    """Look at a call, a ledger, or a folder of calls with its ledger.

    Args:
        path: of one of them.
        head: a hash that was kept elsewhere, of a seal or of a line of the ledger; its first 8 digits are enough.
        key: the public key that every seal must be signed with.

    Raises:
        OSError: it cannot be read.
    """
    found = Verdict()
    if path.is_dir() and not (path / EVENTS).exists() and not (path / EVENTS).is_symlink():
        _folder(path, found, head, key)
    elif path.name == LEDGER or (path.is_file() and _is_ledger(path)):
        _ledger(path, found, head)
    else:
        _call(path, found, head, key)
    return found


def _is_ledger(path: Path) -> bool:
    try:
        with open(path, "rb") as file:
            first = json.loads(file.readline(MOST_LINE_BYTES))
        return isinstance(first, dict) and first.get("kind") == "sealed_call"
    except (OSError, ValueError, RecursionError):
        return False


# ---- one call


def _call(path: Path, found: Verdict, head: str, key: str) -> None:
    try:
        log = read(path)
    except LogDamaged as error:
        found.fault(str(error))
        return
    if not log.lines:
        found.fault(f"{path}: the log holds no whole line")
        return
    state = "sealed" if log.sealed else "not sealed"
    torn = "; the last line is torn and does not count" if log.torn else ""
    found.say(f"{path}: whole, {len(log.lines)} lines, {state}{torn}")
    found.say(f"  head {log.last_hash}")
    folder = events_file(path).parent
    _seal(folder, log, found, key)
    _against_ledger(folder, log, found)
    if head and not log.last_hash.startswith(head.lower()):
        found.fault(f"{path}: its head is not {head}")


def _seal(folder: Path, log: Reading, found: Verdict, key: str) -> None:
    """The seal beside a log, and its signature."""
    seal = _seal_of(folder)
    if seal and seal.head != log.last_hash:
        found.fault(_not_the_head(folder, SEAL, seal))
    else:
        _signature(str(folder), seal, found, key)


def _not_the_head(call: Path, by: str, seal: Entry) -> str:
    return f"{call}: by {by} it was sealed with head {seal.head[:12]}; since then its seal was cut off, or the log written anew"


def _seal_of(folder: Path) -> Entry | None:
    try:
        with open(folder / SEAL, "rb") as file:
            return entry_of(json.loads(file.read(MOST_LINE_BYTES)))
    except (OSError, ValueError, RecursionError):
        return None


def _signature(what: str, seal: Entry | None, found: Verdict, key: str) -> None:
    if seal is None or seal.signature is None:
        if key:
            found.fault(f"{what}: not signed")
        return
    signed = seal.signature
    try:
        good = is_good(signed, seal.call, seal.head)
    except SigningMissing as error:
        (found.fault if key else found.say)(f"{what}: signed, and not checked: {error}")
        return
    if not good:
        found.fault(f"{what}: its signature is false")
    elif key and signed.key != key.lower():
        found.fault(f"{what}: signed with another key, {signed.key}")
    else:
        whose = "the key that was given" if key else f"the key {signed.key}; whose that is, only its owner can say"
        found.say(f"  signed with {whose}")


def _against_ledger(folder: Path, log: Reading, found: Verdict) -> None:
    ledger = folder.resolve().parent / LEDGER
    if not ledger.exists():
        found.say(f"  {NO_LEDGER}")
        return
    try:
        entry = next((e for e in entries(ledger) if e.call == folder.resolve().name), None)
    except LogDamaged as error:
        found.fault(str(error))
        return
    if entry is None:
        found.say("  the ledger does not have it" + ("; it is entered when the next call begins" if log.sealed else " yet"))
    elif entry.head != log.last_hash:
        found.fault(_not_the_head(folder, "the ledger", entry))
    else:
        found.say("  the ledger has the same head")


# ---- the ledger


def _ledger(path: Path, found: Verdict, head: str) -> list[Entry]:
    read_: list[Entry] = []
    try:
        for entry in entries(path):
            read_.append(entry)
    except LogDamaged as error:
        found.fault(str(error))
    heads: dict[str, str] = {}
    for entry in read_:
        if heads.setdefault(entry.call, entry.head) != entry.head:
            found.fault(f"{path}: {entry.call} stands in it with two heads: it was written anew after its seal")
    if read_:
        found.say(f"{path}: {len(read_)} sealed calls, the last {read_[-1].call}")
        found.say(f"  head {read_[-1].hash}")
    elif found.good:
        found.say(f"{path}: no call yet")
    if head and not any(h.startswith(head.lower()) for e in read_ for h in (e.hash, e.head)):
        found.fault(f"{path}: nothing in it has the head {head}: calls were cut off its end, or it was written anew")
    return read_


# ---- a folder


def _folder(path: Path, found: Verdict, head: str, key: str) -> None:
    """Every call under a folder, against the ledger and against each other."""
    ledger, calls = path / LEDGER, sorted(file.parent for file in path.glob(f"*/{EVENTS}"))
    entered: dict[str, Entry] = {}
    hashes: set[str] = set()
    if ledger.exists():
        read_ = _ledger(ledger, found, head)
        hashes = {entry.hash for entry in read_}
        entered = {entry.call: entry for entry in reversed(read_)}  # the first that was entered counts
    elif head:
        found.fault(f"{path}: there is no {LEDGER} in which a head could be found")
    whole = sealed = 0
    heads: dict[str, str] = {}
    opened: list[tuple[str, CallOpened]] = []
    for call in calls:
        one = _one_of_many(call, entered.get(call.name), found, key)
        if one is None:
            continue
        whole, sealed = whole + 1, sealed + one.sealed
        heads[call.name] = one.last_hash
        if isinstance(one.lines[0].fact, CallOpened):
            opened.append((call.name, one.lines[0].fact))
    for name in entered.keys() - {call.name for call in calls}:
        found.fault(f"{path / name}: the ledger has this call, and it is not there")
    for words in _openings(opened, heads, hashes, bool(entered)):
        found.fault(f"{path}: {words}")
    found.say(f"{path}: {whole} of {len(calls)} calls whole, {sealed} sealed, {len(entered)} in the ledger")
    found.say(CANNOT if ledger.exists() else f"  {NO_LEDGER}")


def _one_of_many(call: Path, entry: Entry | None, found: Verdict, key: str) -> Reading | None:
    try:
        log = read(call)
    except (LogDamaged, OSError) as error:
        found.fault(str(error))
        return None
    if not log.lines:
        found.fault(f"{call}: the log holds no whole line")
        return None
    seal = _seal_of(call)
    for by, sealed in (("the ledger", entry), (SEAL, seal)):
        if sealed and sealed.head != log.last_hash:
            found.fault(_not_the_head(call, by, sealed))
            return log
    if log.sealed and key:
        _signature(str(call), seal or entry, found, key)
    return log


def _openings(
    opened: list[tuple[str, CallOpened]], heads: dict[str, str], hashes: set[str], ledger: bool
) -> Iterator[str]:
    """What the opening line of a call says of the one sealed before it, and is not so."""
    for name, fact in opened:
        if not fact.after_head:
            continue
        if fact.after_call in heads and heads[fact.after_call] != fact.after_head:
            yield f"{name} was opened after {fact.after_call} with head {fact.after_head[:12]}, which it has not any more"
        elif fact.after_call not in heads and not ledger:
            yield f"{name} was opened after {fact.after_call}, which is not there"
        if fact.after_ledger not in hashes:
            yield f"{name} was opened when the ledger ended with {fact.after_ledger[:12]}, which it does not have any more"
