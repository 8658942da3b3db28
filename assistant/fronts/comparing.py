"""Which lines of a log another run must give again, and where two runs part."""

import difflib
import itertools
import json
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from assistant.call.facts import (
    CallSealed,
    Concluded,
    Fact,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    ReadingTaken,
    StepDone,
    ValueDerived,
    as_record,
)
from assistant.language.meaning import Value
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.record.log import facts


@dataclass(frozen=True)
class Counting:
    """A fact that counts, and where it stands."""

    line: int
    """Of the log, from 1."""
    at: datetime
    fact: dict[str, Any]


def that_count(call: Path) -> list[Counting]:
    """The facts of a call that another run must give again: no times, hashes, said words or confidences.

    Readings of one breath come in the order of their ids: the one that is asked back is on record last, and
    which that is depends on how sure the ear was.
    """
    stand = [Counting(n, at, line) for n, (at, fact) in enumerate(facts(call), start=1) if (line := _counting(fact))]
    breaths = itertools.groupby(stand, lambda one: (one.fact["kind"], one.fact.get("step", "")))
    return [
        one
        for (kind, _), same in breaths
        for one in (sorted(same, key=lambda one: str(one.fact["id"])) if kind == "reading_taken" else same)
    ]


def _counting(fact: Fact) -> dict[str, Any] | None:
    match fact:
        case ReadingTaken(id=id_, unit=unit, step=step):
            free = vocabulary()[id_].kind == "free"
            value = {} if free else {"value": fact.value, "unit": unit}
            return {"kind": "reading_taken", "id": id_, "step": step, **value}
        case StepDone(step=step):
            return {"kind": "step_done", "step": step}
        case ObligationOpened(id=id_) | ObligationCleared(id=id_) | ObligationHandedOver(id=id_):
            return {"kind": as_record(fact)["kind"], "id": id_}
        case ValueDerived(id=id_, value=value, unit=unit):
            return {"kind": "value_derived", "id": id_, "value": value, "unit": unit}
        case Concluded(cause=cause, standing=standing):
            return {"kind": "concluded", "cause": cause, "standing": standing}
        case CallSealed():
            return {"kind": "call_sealed"}
    return None


def as_lines(counting: list[Counting]) -> list[str]:
    """Facts as the lines of `expected.jsonl`."""
    return [json.dumps(one.fact, ensure_ascii=False) for one in counting]


def first_apart(expected: list[str], counting: list[Counting], began: datetime) -> str:
    """Where two runs part first: the line of the log, the step, and how far into the call's sound; empty when they do not."""
    got = as_lines(counting)
    pairs = enumerate(zip(expected, got, strict=False))
    at = next((n for n, (one, other) in pairs if one != other), min(len(expected), len(got)))
    if at == len(expected) == len(got):
        return ""
    if at == len(got):
        return f"first apart: the log ends after line {counting[-1].line if counting else 0}"
    here = counting[at]
    step = f", step {here.fact['step']}" if here.fact.get("step") else ""
    return f"first apart: line {here.line} of the log{step}, {(here.at - began).total_seconds():.0f} s into the call"


def difference(expected: list[str], got: list[str]) -> list[str]:
    """Lines expected (`- `) and lines got (`+ `) where the two part; empty when they are the same."""
    lines = difflib.ndiff(expected, got) if len(expected) + len(got) < 200 else _plain(expected, got)
    return [line for line in lines if line.startswith(("- ", "+ "))]


def _plain(expected: list[str], got: list[str]) -> list[str]:
    lines: list[str] = []
    for verb, i, j, m, n in difflib.SequenceMatcher(None, expected, got, autojunk=False).get_opcodes():
        if verb != "equal":
            lines += [f"- {line}" for line in expected[i:j]] + [f"+ {line}" for line in got[m:n]]
    return lines


def same_value(id_: str, meant: str, value: Value | None) -> bool:
    """Whether the text of `answers.csv` is this value, by the kind of the id.

    Free speech is let stand as it was heard: a technician does not argue over the spelling of a note.
    """
    if vocabulary()[id_].kind == "free":
        return True
    if vocabulary()[id_].kind in NUMBER_KINDS and isinstance(value, float) and not isinstance(value, bool):
        try:
            return abs(float(meant) - value) < 1e-6
        except ValueError:
            return False
    return meant == value_text(value)


def value_text(value: Value | None) -> str:
    """A value as `answers.csv` writes it."""
    if isinstance(value, bool):
        return "done"
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)
