"""Makes a folder of many calls for the benches: whole simulated calls, stamped anew for other sites, machines, days and people.

    python -m tests.bench.many_calls FOLDER COUNT

Nine in ten are short (54 lines), one in ten is a whole search for a cause (about 200 to 330 lines). Sites, racks and machines are
invented. Nothing is synced: a real call syncs each line.
"""

import random
import sys
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from assistant.record.chain import GENESIS, encode, hash_of
from assistant.record.ledger import LEDGER
from assistant.record.log import EVENTS, body_of
from tests.simulated import Rack
from tests.talk import NOON, Talk

NOW = datetime(2026, 11, 1, 12, 0, tzinfo=UTC)
YEARS = 5
SITES, RACKS, COMPRESSORS = 60, ("a", "b", "c", "d"), ("one", "two", "three", "four")
PEOPLE = tuple(f"Technician {name}" for name in ("Ash", "Birch", "Cedar", "Elm", "Fir", "Hazel", "Larch", "Maple", "Oak", "Pine"))
SHORT = ("not_called",)
LONG = (("injection_coil_failed", {"refrigerant_added": "four pounds"}), ("refrigerant_low", {"leak_repaired": "no"}),
        ("probe_fouled", {"part_left_in_use": "borrowed"}), ("none", {}), ("injection_valve_leaking", {}))  # fmt: skip
Body = list[tuple[timedelta, dict[str, Any]]]


@cache
def templates() -> tuple[Body, tuple[Body, ...]]:
    """A short call, and long ones: each line with its time from the call's begin."""
    made = [Talk().to_the_seal(Rack(fault, dict(words))) for fault, words in ((SHORT[0], {}), *LONG)]
    bodies = [[(at - NOON, body_of(fact)) for at, fact in talk.facts] for talk in made]
    return bodies[0], tuple(bodies[1:])


def stamped(body: Body, at: datetime, site: str, machine: tuple[str, str], who: str, after: tuple[str, str, str]) -> list[bytes]:
    """A template as the lines of another call."""
    instead = {"rack": machine[0], "compressor": machine[1], "technician": who}
    lines, prev = [], GENESIS
    for number, (since, one) in enumerate(body, 1):
        fields = one
        match one["kind"]:
            case "call_opened":
                fields = {**one, "site": site, "technician": who}
                if after[1]:
                    fields |= dict(zip(("after_call", "after_head", "after_ledger"), after, strict=True))
            case "machine_named":
                fields = {**one, "rack": machine[0], "compressor": machine[1]}
            case "reading_taken" if one["id"] in instead:
                fields = {**one, "value": instead[one["id"]]}
        lines.append(encode(number, at + since, fields, prev))
        prev = hash_of(lines[-1])
    return lines


def make(folder: Path, count: int, first: int = 0) -> int:
    """Put so many calls into a folder, with their ledger. Returns the number of lines.

    Args:
        folder: made where it is not there.
        count: how many.
        first: how many are there already.
    """
    folder.mkdir(parents=True, exist_ok=True)
    short, long = templates()
    chance = random.Random(first)
    step = timedelta(days=365 * YEARS) / max(1, count + first)
    after, prev, total = ("", "", ""), GENESIS, 0
    with open(folder / LEDGER, "ab") as ledger:
        for number in range(first, first + count):
            at = (NOW - timedelta(days=365 * YEARS) + step * number).replace(microsecond=0)
            body = chance.choice(long) if number % 10 == 0 else short
            machine = (chance.choice(RACKS), chance.choice(COMPRESSORS))
            lines = stamped(body, at, f"Store {chance.randrange(SITES) + 1}", machine, chance.choice(PEOPLE), after)
            name = f"{at:%Y%m%d-%H%M%S}-{number:08x}"
            (folder / name).mkdir(mode=0o700)
            (folder / name / EVENTS).write_bytes(b"\n".join(lines) + b"\n")
            entry = encode(number + 1, at + body[-1][0], {
                "kind": "sealed_call", "call": name, "head": hash_of(lines[-1]), "lines": len(lines)}, prev)  # fmt: skip
            ledger.write(entry + b"\n")
            prev = hash_of(entry)
            after, total = (name, hash_of(lines[-1]), prev), total + len(lines)
    return total


if __name__ == "__main__":
    print(make(Path(sys.argv[1]), int(sys.argv[2])), "lines")
