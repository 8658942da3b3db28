"""What a log tells: its facts sorted for a reader. The pages and the terminal are made from this alone."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from assistant.call.facts import (
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CheckInAsked,
    Concluded,
    Contradicted,
    EmergencyDeclared,
    Fact,
    FinishAsked,
    MachineNamed,
    NotComputed,
    NoteTaken,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    StepDone,
    StepSkipped,
    ValueDerived,
)
from assistant.call.procedure import own_procedure
from assistant.language.wording import spoken_cause, spoken_name
from assistant.record.log import Reading, read
from assistant.trade.derive import DERIVED
from assistant.trade.units import convert

_ACTS = {"repaired": "repaired", "left_locked": "left locked, not repaired", "started": "machine started",
         "stopped_by_hand": "machine stopped", "left_in_auto": "left in auto, satisfied"}  # fmt: skip
"""What is told as an act, by the fact that its step establishes."""
GUIDANCE = "Guidance only: the maker's instructions, local codes and licensed practice come first."
_SI_UNITS = {"F": "C", "psi": "bar", "psig": "barg", "lb": "kg"}
STANDINGS = {"proven": "proven", "supported": "supported", "suspected": "suspected", "ruled_out": "ruled out"}


@dataclass
class Hold:
    """One thing that was left unsafe or temporary, and what became of it."""

    id: str
    opened: datetime
    cleared: datetime | None = None
    owner: str = ""
    due: datetime | None = None

    @property
    def say(self) -> str:
        """For a reader, who is not the one who hung it."""
        return own_procedure().obligations[self.id].say.replace("your lock", "own lock")

    @property
    def state(self) -> str:
        if self.cleared:
            return "cleared"
        return f"handed over to {self.owner}" if self.owner else "still open"


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
    conclusions: dict[str, Concluded] = field(default_factory=dict)
    holds: list[Hold] = field(default_factory=list)
    notes: list[tuple[datetime, str]] = field(default_factory=list)
    skipped: list[tuple[datetime, StepSkipped]] = field(default_factory=list)
    cautions: list[tuple[datetime, str]] = field(default_factory=list)
    breaks: list[tuple[datetime, str]] = field(default_factory=list)
    """Interruptions, emergencies, holds."""
    summary: str = ""

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

    def best(self) -> list[Concluded]:
        """Conclusions in the order of their standing; ruled out last."""
        rank = list(STANDINGS)
        return sorted(self.conclusions.values(), key=lambda c: rank.index(c.standing))

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
    story = Story(call, log)
    for line in log.lines:
        _add(story, line.at, line.fact)
    return story


def _add(story: Story, at: datetime, fact: Fact) -> None:
    match fact:
        case CallOpened(site=site):
            story.site = site
        case MachineNamed():
            story.machine = fact
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
        case ValueDerived():
            story.derived[fact.id] = fact
        case NotComputed(id=id_, reason=reason):
            story.not_computed[id_] = reason
        case Concluded():
            story.conclusions[fact.cause] = fact
        case ObligationOpened(id=id_):
            story.holds.append(Hold(id_, at))
        case ObligationCleared(id=id_):
            _hold(story, id_).cleared = at
        case ObligationHandedOver(id=id_, owner=owner, hours=hours):
            hold = _hold(story, id_)
            hold.owner, hold.due = owner, at + timedelta(hours=hours) if hours else None
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


def _hold(story: Story, id_: str) -> Hold:
    return next(h for h in reversed(story.holds) if h.id == id_)


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
