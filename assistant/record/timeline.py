"""A call line by line for a reader: what was read, worked out, concluded, hooked up, done and said, each with its own place."""

import os
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from urllib.parse import quote

from assistant.call.facts import (
    CautionAcknowledged,
    Concluded,
    Fact,
    NotComputed,
    NoteTaken,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    ReadingsTooOld,
    ReadingTaken,
    ReadingWithdrawn,
    StepDone,
    StepSkipped,
    ValueDerived,
    WordsHeard,
)
from assistant.language.wording import spoken_name
from assistant.record.log import Line
from assistant.record.story import STANDINGS, Story, cause_of, derived_of, said_of, value_of
from assistant.record.style import Cell, Html, html, table

NOT_TAKEN = {
    "not understood": "not understood", "asked back": "asked back", "remark in doubt": "asked back", "remark not so": "not so",
    "remark not so: trouble": "nothing unsafe in it",
}  # fmt: skip


def place(line: int) -> str:
    """The id of a line's row."""
    return f"line-{line}"


def timeline(s: Story, page: Path | None) -> Html:
    """The table of a call's lines.

    Args:
        s: the call.
        page: where the page will be, so that it finds the kept sound; None where it is not played.
    """
    corrected = _corrected(s)
    rows, ids = [], []
    sound: Cell = ""
    for line in s.numbered:
        if isinstance(line.fact, WordsHeard):
            sound = _player(s, line.fact.audio, page) or sound
        told = _told(s, line, corrected)
        if told is None:
            continue
        what, value, how = told
        rows.append((f"{line.at:%H:%M:%S}", what, value, Html(f"{html(how)} {html(sound)}") if sound else how))
        ids.append(place(line.seq))
        sound = ""
    return table(rows, ("time", "what", "value", "said, and how it counts"), ids, "the call, line by line")


def _corrected(s: Story) -> dict[int, datetime]:
    """Lines whose reading was corrected later, with when."""
    found: dict[int, datetime] = {}
    last: dict[str, int] = {}
    for line in s.numbered:
        if isinstance(line.fact, ReadingTaken):
            if line.fact.corrected and line.fact.id in last:
                found[last[line.fact.id]] = line.at
            last[line.fact.id] = line.seq
        elif isinstance(line.fact, ReadingWithdrawn) and line.fact.id in last:
            found[last[line.fact.id]] = line.at
    return found


def _told(s: Story, line: Line, corrected: dict[int, datetime]) -> tuple[Cell, Cell, Cell] | None:
    """What, value, and how it was said, of a line that tells a reader something."""
    fact = line.fact
    if isinstance(fact, ReadingTaken):
        return _reading(fact, corrected.get(line.seq))
    return next(_others(s, fact), None)


def _reading(fact: ReadingTaken, corrected: datetime | None) -> tuple[Cell, Cell, Cell]:
    how = [f"“{fact.said}”"] if fact.said else []
    how.append(fact.confirmed)
    how += ["correction"] if fact.corrected else []
    value: Cell = value_of(fact)
    if corrected:
        value = Html(f'<span class="gone">{html(value)}</span>')
        how.append(f"corrected at {corrected:%H:%M:%S}, does not count")
    return spoken_name(fact.id), value, ", ".join(how)


def _others(s: Story, fact: Fact) -> Iterator[tuple[Cell, Cell, Cell]]:
    match fact:
        case ValueDerived():
            yield spoken_name(fact.id), derived_of(fact, s.si), "from " + ", ".join(spoken_name(i) for i in fact.source)
        case NotComputed(id=id_, reason=reason):
            yield spoken_name(id_), "not worked out", reason
        case Concluded():
            yield f"{cause_of(fact)}", STANDINGS[fact.standing], fact.action
        case ObligationOpened(id=id_, detail=detail):
            yield said_of(id_), "open", detail
        case ObligationCleared(id=id_):
            yield said_of(id_), "cleared", ""
        case ObligationHandedOver(id=id_, owner=owner, hours=hours):
            yield said_of(id_), f"handed over to {owner}", f"within {hours:g} hours" if hours else ""
        case StepDone(said=said, establishes=facts) if facts or fact.resets:
            yield "done", ", ".join(facts).replace("_", " ") or "reset", f"“{said}”"
        case StepSkipped(step=step, reason=reason):
            yield step.replace("_", " "), "skipped", reason
        case CautionAcknowledged(caution=caution, said=said):
            yield f"caution: {caution.replace('_', ' ')}", "acknowledged", f"“{said}”"
        case ReadingWithdrawn(id=id_, said=said):
            yield spoken_name(id_), "does not count", f"“{said}”"
        case ReadingsTooOld(ids=ids):
            yield ", ".join(spoken_name(i) for i in ids), "asked again", "too old for what was just read"
        case NoteTaken(text=text):
            yield "note", text, ""
        case WordsHeard(said=said, meaning=meaning) if (taken := _not_taken(meaning)) and said:
            yield "heard", taken, f"“{said}”"


def _not_taken(meaning: str) -> str:
    return NOT_TAKEN.get(meaning) or NOT_TAKEN.get(meaning.partition(":")[0], "")


def _player(s: Story, audio: str, page: Path | None) -> Cell:
    """The kept sound of an answer; nothing where it is not there any more, or where its name leads out of the call."""
    call = s.path if s.path.is_dir() else s.path.parent
    if not audio or page is None:
        return ""
    file = call / audio
    if not file.is_file() or not file.resolve().is_relative_to(call.resolve()):
        return ""
    near = Path(os.path.relpath(file.resolve(), page.resolve().parent))
    return Html(f'<audio controls preload="none" src="{quote(near.as_posix())}" aria-label="the answer as it was said"></audio>')
