"""Every reading, answer and acknowledgement a call can ask for."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

Units = Literal["us", "si"]


@dataclass(frozen=True)
class Entry:
    """One line of `vocabulary.csv`."""

    id: str
    group: str
    kind: str
    unit_us: str
    unit_si: str
    low_us: float | None
    """Lowest plausible value, in `unit_us`."""
    high_us: float | None
    choices: tuple[str, ...]
    """Values of a choice. Empty when the site's profile gives them, or when it is no choice."""
    from_profile: bool
    """The site's profile gives the choices."""
    say: str
    """What it is called in a prompt, a read-back and a correction."""
    meaning: str

    def unit(self, units: Units) -> str | None:
        """The unit this reading is spoken and logged in, None where it has none."""
        return (self.unit_us if units == "us" else self.unit_si) or None


OWN_LOCK_HUNG = ("locked_out", "second_source_locked", "fans_locked")
"""By which somebody says that a lock of his own hangs: on the machine, on what else feeds it, on a fan's circuit."""


def _entry(row: dict[str, str]) -> Entry:
    from_profile = row["choices"] == "from profile"
    choices = () if from_profile or not row["choices"] else tuple(row["choices"].split("|"))
    return Entry(
        id=row["id"], group=row["group"], kind=row["kind"], unit_us=row["unit_us"], unit_si=row["unit_si"],
        low_us=float(row["low_us"]) if row["low_us"] else None,
        high_us=float(row["high_us"]) if row["high_us"] else None,
        choices=choices, from_profile=from_profile, say=row["say"], meaning=row["meaning"],
    )  # fmt: skip


@cache
def vocabulary() -> dict[str, Entry]:
    """Every entry by its id, in the order of the file."""
    with open(Path(__file__).with_name("vocabulary.csv"), newline="", encoding="utf-8") as file:
        return {row["id"]: _entry(row) for row in csv.DictReader(file)}


def kind_of(id: str) -> str:
    """The kind of a reading or an answer; empty for what is none of the vocabulary: a command, a yes or a no to what was said.

    >>> kind_of("suction_pressure"), kind_of("confirm")
    ('pressure', '')
    """
    entry = vocabulary().get(id)
    return entry.kind if entry is not None else ""
