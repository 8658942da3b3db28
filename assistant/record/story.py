"""What a log tells: its facts sorted for a reader. The pages and the terminal are made from this alone."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from assistant.call.facts import (
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CheckInAsked,
    ClockJumped,
    Concluded,
    Contradicted,
    EmergencyDeclared,
    Fact,
    FinishAsked,
    MachineNamed,
    NotComputed,
    NoteTaken,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    ReadingWithdrawn,
    StepDone,
    StepSkipped,
    ValueDerived,
    WordsHeard,
)
from assistant.call.procedure import own_procedure
from assistant.language.wording import spoken_cause, spoken_name
from assistant.record.log import Line, Reading, read
from assistant.record.row import Held, holds_of
from assistant.trade.derive import DERIVED
from assistant.trade.units import convert

_ACTS = {"repaired": "repaired", "left_locked": "left locked, not repaired", "started": "machine started",
         "stopped_by_hand": "machine stopped", "left_in_auto": "left in auto, satisfied"}  # fmt: skip
"""What is told as an act, by the fact that its step establishes."""
GUIDANCE = "Guidance only: the maker's instructions, local codes and licensed practice come first."
_SI_UNITS = {"F": "C", "psi": "bar", "psig": "barg", "lb": "kg"}
STANDINGS = {"proven": "proven", "supported": "supported", "suspected": "suspected", "ruled_out": "ruled out"}
_RANK = tuple(STANDINGS)


def said_of(id_: str) -> str:
    """An obligation for a reader, who is not the one who hung it."""
    known = own_procedure().obligations.get(id_)
    return known.say.replace("your lock", "own lock") if known else id_.replace("_", " ").replace(".", " ")


@dataclass(frozen=True)
class Evidence:
    """One thing that a conclusion rests on, as it stood then."""

    id: str
    text: str
    line: int
    """Number of its log line; 0 where it is no reading and no derived value."""


@dataclass(frozen=True)
class Finding:
    """A cause, with what it rested on when it was concluded."""

    concluded: Concluded
    at: datetime
    line: int
    evidence: tuple[Evidence, ...]
    later: str = ""
    """What became of it after the repair, where that is another standing."""


@dataclass
class Story:
    path: Path
    log: Reading
    site: str = ""
    rack: str = ""
    compressor: str = ""
    machine: MachineNamed | None = None
    looks: list[tuple[datetime, str]] = field(default_factory=list)
    """What was looked at and answered in words that no reading stands for."""
    acts: list[tuple[datetime, str]] = field(default_factory=list)
    """Repair, reset and start, as the technician said they were done."""
    started: datetime | None = None
    """When the machine was started again."""
    readings: list[tuple[datetime, ReadingTaken]] = field(default_factory=list)
    derived: dict[str, ValueDerived] = field(default_factory=dict)
    not_computed: dict[str, str] = field(default_factory=dict)
    numbered: list[Line] = field(default_factory=list)
    """Every line."""
    holds: list[Held] = field(default_factory=list)
    notes: list[tuple[datetime, str]] = field(default_factory=list)
    skipped: list[tuple[datetime, StepSkipped]] = field(default_factory=list)
    cautions: list[tuple[datetime, str]] = field(default_factory=list)
    breaks: list[tuple[datetime, str]] = field(default_factory=list)
    """Interruptions, emergencies, holds."""
    summary: str = ""
    technician: str = ""
    trip: int = 1
    """The how-manyth trip of this machine in ninety days, by what the call was told."""

    @property
    def began(self) -> datetime:
        return self.log.lines[0].at

    @property
    def ended(self) -> datetime:
        return self.log.lines[-1].at

    @property
    def state(self) -> str:
        return "sealed" if self.log.sealed else "not sealed"

    @property
    def si(self) -> bool:
        """The site measures in bar, Celsius and kilos."""
        return any(r.unit in ("C", "barg", "kg") for _, r in self.readings)

    def findings(self) -> list[Finding]:
        """Every cause with its standing, the best first, each on the evidence as it stood then.

        What was proven before the repair stays so: that its test is good after it, is what a repair is for.
        """
        mended = [line.seq for line in self.numbered if isinstance(line.fact, StepDone) and "repaired" in line.fact.establishes]
        by_cause: dict[str, list[Line]] = {}
        for line in self.numbered:
            if isinstance(line.fact, Concluded):
                by_cause.setdefault(line.fact.cause, []).append(line)
        found = [self._finding(lines, mended) for lines in by_cause.values()]
        return sorted(found, key=lambda one: (_RANK.index(one.concluded.standing), one.line))

    def _finding(self, lines: list[Line], mended: list[int]) -> Finding:
        last = lines[-1]
        shown, later = last, ""
        for line in lines[:-1]:
            before_repair = any(line.seq < repair < last.seq for repair in mended)
            if before_repair and _RANK.index(_concluded(line).standing) < _RANK.index(_concluded(shown).standing):
                shown = line
        if shown is not last:
            later = f"after the repair: {STANDINGS[_concluded(last).standing]}"
        concluded = _concluded(shown)
        evidence = tuple(self.as_of(id_, shown.seq, id_ in concluded.uncertain) for id_ in concluded.evidence)
        return Finding(concluded, shown.at, shown.seq, evidence, later)

    def as_of(self, id_: str, seq: int, near: bool = False) -> Evidence:
        """What a piece of evidence was at a line of the log."""
        more = " (so near its limit that the instrument's error decides)" if near else ""
        for line in reversed(self.numbered[:seq]):
            match line.fact:
                case ReadingTaken(id=one) if one == id_:
                    return Evidence(id_, value_of(line.fact) + more, line.seq)
                case ValueDerived(id=one) if one == id_:
                    return Evidence(id_, derived_of(line.fact, self.si) + more, line.seq)
        return Evidence(id_, "yes" + more, 0)

    def best(self) -> list[Concluded]:
        """Conclusions in the order of their standing; ruled out last."""
        return [one.concluded for one in self.findings()]

    def last(self, id_: str) -> ReadingTaken | None:
        return next((r for _, r in reversed(self.readings) if r.id == id_), None)


def tell(call: Path) -> Story:
    """The story of a call's log.

    Raises:
        LogDamaged: the log is damaged; names the line.
        ValueError: it holds no line.
    """
    log = read(call)
    if not log.lines:
        raise ValueError(f"{call}: the log holds no whole line")
    story = Story(call, log, numbered=list(_in_their_words(log.lines)), holds=holds_of(log.lines))
    for line in story.numbered:
        _add(story, line.at, line.fact)
    return story


def _in_their_words(lines: Sequence[Line]) -> Iterator[Line]:
    """The lines as a reader wants them quoted: in the words that were said where a step has only the word they came to, and
    without the space that the language room has before a comma."""
    heard = ""
    for line in lines:
        fact = line.fact
        if isinstance(fact, WordsHeard):
            heard = fact.said
        if isinstance(fact, StepDone) and len(heard.split()) > 1:
            fact = replace(fact, said=heard)
        if isinstance(fact, ReadingTaken | StepDone | CautionAcknowledged | ReadingWithdrawn | WordsHeard):
            fact = replace(fact, said=fact.said.replace(" ,", ","))
        yield replace(line, fact=fact)


def _add(story: Story, at: datetime, fact: Fact) -> None:
    match fact:
        case CallOpened(site=site, technician=technician):
            story.site, story.technician = site, technician
        case MachineNamed():
            story.machine = fact
            opened = story.numbered[0].fact
            trips = opened.machine_trips if isinstance(opened, CallOpened) else ()
            story.trip = 1 + sum(trip[:2] == (fact.rack, fact.compressor) for trip in trips)
        case StepDone():
            _add_done(story, at, fact)
        case ReadingTaken():
            story.readings.append((at, fact))
            if fact.resets and not fact.corrected:
                story.acts.append((at, f"{_reset(fact.resets)} reset, lock on: “{fact.said}”"))
            if fact.id == "running_now" and story.started and fact.value != "running":
                story.acts.append((at, "it tripped a second time"))
            if fact.id == "rack":
                story.rack = str(fact.value).upper()
            if fact.id == "compressor":
                story.compressor = str(fact.value)
            if fact.id == "technician":
                story.technician = str(fact.value)
        case ValueDerived():
            story.derived[fact.id] = fact
        case NotComputed(id=id_, reason=reason):
            story.not_computed[id_] = reason
        case NoteTaken(text=text):
            story.notes.append((at, text))
        case StepSkipped():
            story.skipped.append((at, fact))
        case CautionAcknowledged(caution=caution):
            story.cautions.append((at, caution.replace("_", " ")))
        case CallResumed(reason=reason):
            story.breaks.append((at, f"resumed: {reason}"))
        case EmergencyDeclared():
            story.breaks.append((at, "emergency declared"))
        case Contradicted(ids=ids):
            story.breaks.append((at, f"cannot both be true: {' and '.join(spoken_name(i) for i in ids)}"))
        case ReadingWithdrawn(id=id_, said=said):
            story.breaks.append((at, f"{spoken_name(id_)} does not count: “{said}”"))
        case ClockJumped(seconds=seconds):
            way = "forward" if seconds > 0 else "back"
            story.breaks.append((at, f"the clock on the wall was set {way} by {abs(seconds):.0f} s; times here run on evenly"))
        case CheckInAsked(times=times):
            story.breaks.append((at, "nobody was heard: check-in asked" + (f", {times} times" if times > 1 else "")))
        case ProofEnded(reason=reason):
            story.breaks.append((at, f"proof of absence of voltage ended: {reason}"))
        case PowerOffOrdered(seconds=seconds):
            story.breaks.append((at, f"power off ordered after {seconds:.0f} s of feed"))
        case FinishAsked(reason=reason):
            story.breaks.append((at, f"closed early: {reason}"))
        case CallSealed(summary=summary):
            story.summary = summary
        case _:
            pass


def left_out(skipped: StepSkipped) -> str:
    """What was skipped, by the readings that the step asks for where it asks for some, and why."""
    step = next((step for step in own_procedure().steps if step.id == skipped.step), None)
    names = [spoken_name(id_) for id_ in step.ids] if step else []
    what = ", ".join(names) or skipped.step.replace("_", " ")
    return f"{what}: “{skipped.reason}”" if skipped.reason else what


def _reset(contacts: tuple[str, ...]) -> str:
    """What was reset, for a reader."""
    return "protection" if "*" in contacts else f"{' or '.join(contacts)} control"


def _add_done(story: Story, at: datetime, fact: StepDone) -> None:
    """A step that was answered in words: an act, or a look with what it established."""
    said = f"“{fact.said}”"
    story.acts += [(at, f"{_ACTS[f]}: {said}") for f in fact.establishes if f in _ACTS]
    story.acts += [(at, f"{_reset(fact.resets)} reset: {said}")] if fact.resets else []
    story.started = at if "started" in fact.establishes else story.started
    meanings = own_procedure().facts
    story.looks += [(at, f"{meanings.get(f, f)}: {said}") for f in fact.establishes if f not in _ACTS]


def _concluded(line: Line) -> Concluded:
    assert isinstance(line.fact, Concluded)
    return line.fact


def value_of(reading: ReadingTaken) -> str:
    """A value as it is written: number and unit, or the word."""
    value = reading.value
    if value is True:
        return "done"
    if isinstance(value, (int, float)):
        unit = "" if reading.unit in (None, "1") else f" {reading.unit}"
        return f"{value:g}{unit}" + (
            f" ({reading.low:g} to {reading.high:g})" if reading.low is not None and reading.high is not None else ""
        )
    return {"over_range": "over range", "below_resolution": "below resolution", "none_present": "none present"}.get(value, value)


def derived_of(derived: ValueDerived, si: bool = False) -> str:
    """A derived value as it is written, with its band.

    Args:
        derived: in US units, as the log has it.
        si: in bar and Celsius instead.
    """
    unit = _SI_UNITS.get(derived.unit, derived.unit) if si else derived.unit
    difference = derived.id in DERIVED and DERIVED[derived.id][1] == "difference"

    def written(value: float) -> str:
        value = convert(value, derived.unit, unit, difference=difference)
        return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.4g}"

    text = f"{written(derived.value)} {'K' if difference and unit == 'C' else unit}".strip()
    return text if derived.low is None or derived.high is None else f"{text} ({written(derived.low)} to {written(derived.high)})"


def cause_of(conclusion: Concluded) -> str:
    return spoken_cause(conclusion.cause)
