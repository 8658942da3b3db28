"""What is heard, what is asked for, what goes on record."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from datetime import datetime
from typing import Any, get_args

from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, Question, Value

# ---- what is heard


@dataclass(frozen=True)
class Heard:
    """An utterance that the ear takes for an answer or a command."""

    words: str
    """In lower case, as the recogniser's vocabulary spells them."""
    at: datetime
    sure: bool = True
    """False: the ear wants it asked back before it counts."""
    confidence: float = 1.0
    """Probability that the value is right, 0 to 1. Typed words are 1."""
    audio: str = ""
    """File of the sound, relative to the call's folder, where sound is kept."""
    rivals: tuple[tuple[Value, float], ...] = ()
    """Values it may also have been, the likeliest first, each with its share, 0 to 1."""
    loud: bool = False
    """The room is so loud that a number may be another one."""


@dataclass(frozen=True)
class Unclear:
    """Something was said or sounded, but no answer could be made of it."""

    at: datetime
    words: str = ""
    too_loud: bool = False
    """The room's noise is why."""
    rivals: tuple[tuple[Value, float], ...] = ()
    """Values it may have been, as in `Heard`."""
    loud: bool = False


@dataclass(frozen=True)
class Silence:
    """Nothing was heard until a time the dialogue asked to be woken at."""

    at: datetime


# ---- what goes on record: each a line of the log, in the past tense


@dataclass(frozen=True)
class CallOpened:
    site: str
    profile: str
    """SHA-256 of the profile's text."""
    program: str
    days_since_trip: tuple[int, ...] = ()
    """Days since each earlier trip of any machine here in the last 90 days, where earlier logs know it."""
    additions: tuple[tuple[str, float, float], ...] = ()
    """Refrigerant added here in the last 365 days, by earlier logs: rack, days ago, pounds."""
    machine_trips: tuple[tuple[str, str, float], ...] = ()
    """Trips here in the last 90 days, by earlier logs: rack, compressor, days ago."""
    left_before: tuple[tuple[str, str, str], ...] = ()
    """What the last call to each machine here left temporary: rack, compressor, obligation."""


@dataclass(frozen=True)
class MachineNamed:
    """Which machine the call is about, with what the profile knows that a reader of the log needs."""

    rack: str
    compressor: str
    refrigerant: str
    altitude_ft: float
    suction_set_point_psig: float
    trip_degf: float
    """Trip of the discharge protection."""


@dataclass(frozen=True)
class StepEntered:
    step: str
    phase: str


@dataclass(frozen=True)
class CautionGiven:
    caution: str
    form: str
    """`full` or `short`."""


@dataclass(frozen=True)
class CautionAcknowledged:
    caution: str
    said: str


@dataclass(frozen=True)
class WordsHeard:
    """Everything that was heard, whether or not it counted."""

    said: str
    meaning: str
    """`answer`, `asked back`, `command`, `not understood`, `no answer`."""
    confidence: float = 1.0
    audio: str = ""


@dataclass(frozen=True)
class ReadingTaken:
    id: str
    value: Value
    unit: str | None
    step: str
    said: str
    confirmed: str
    """`read back` in the next prompt, or `asked back` and confirmed."""
    corrected: bool = False
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class StepDone:
    """A bare go-ahead was given."""

    step: str
    said: str


@dataclass(frozen=True)
class StepSkipped:
    step: str
    reason: str


@dataclass(frozen=True)
class StepReopened:
    """The technician went back to it."""

    step: str


@dataclass(frozen=True)
class ObligationOpened:
    id: str
    step: str
    detail: str = ""


@dataclass(frozen=True)
class ObligationCleared:
    id: str
    step: str


@dataclass(frozen=True)
class ObligationHandedOver:
    id: str
    owner: str
    hours: float


@dataclass(frozen=True)
class ProofEnded:
    """The proof of absence of voltage no longer holds."""

    reason: str


@dataclass(frozen=True)
class WaitEnded:
    step: str


@dataclass(frozen=True)
class PowerOffOrdered:
    """The seconds of the feed test were spent before the answers came."""

    seconds: float


@dataclass(frozen=True)
class ValueDerived:
    id: str
    value: float
    unit: str
    source: tuple[str, ...]
    """Ids it was worked out from."""
    low: float | None = None
    """Lower and upper end of the band that the instruments' errors leave; None where it is exact."""
    high: float | None = None


@dataclass(frozen=True)
class NotComputed:
    """A calculation outside its range, with what was said instead of a number."""

    id: str
    reason: str


@dataclass(frozen=True)
class Concluded:
    cause: str
    standing: str
    evidence: tuple[str, ...]
    action: str
    uncertain: tuple[str, ...] = ()
    """Evidence so near its limit that the instruments' errors could take the standing away."""


@dataclass(frozen=True)
class NoteTaken:
    text: str
    audio: str = ""


@dataclass(frozen=True)
class EmergencyDeclared:
    said: str


@dataclass(frozen=True)
class EmergencyOver:
    said: str


@dataclass(frozen=True)
class CheckInAsked:
    """Nobody was heard for the site's time, and it was asked whether the technician is well."""

    times: int
    """How often since somebody was last heard."""


@dataclass(frozen=True)
class CallHeld:
    said: str


@dataclass(frozen=True)
class CallContinued:
    said: str


@dataclass(frozen=True)
class FinishAsked:
    """Close early: make safe, then close."""

    reason: str


@dataclass(frozen=True)
class CallResumed:
    """Taken up again after an interruption. Every proof and every live caution is void."""

    reason: str


@dataclass(frozen=True)
class CallSealed:
    summary: str


Fact = (
    CallOpened | MachineNamed | StepEntered | CautionGiven | CautionAcknowledged | WordsHeard | ReadingTaken | StepDone
    | StepSkipped | StepReopened | ObligationOpened | ObligationCleared | ObligationHandedOver | ProofEnded
    | WaitEnded | PowerOffOrdered | ValueDerived | NotComputed | Concluded | NoteTaken | EmergencyDeclared
    | EmergencyOver | CheckInAsked | CallHeld | CallContinued | FinishAsked | CallResumed | CallSealed
)  # fmt: skip


def _kind(name: str) -> str:
    return "".join("_" + c.lower() if c.isupper() else c for c in name).lstrip("_")


FACTS: Mapping[str, type[Any]] = {_kind(t.__name__): t for t in get_args(Fact)}
"""Every kind of line a log may hold, by its name there."""


def as_record(fact: Fact) -> dict[str, Any]:
    """A fact as the fields of a log line: its kind, then its own."""
    return {"kind": _kind(type(fact).__name__), **asdict(fact)}


def from_record(record: Mapping[str, Any]) -> Fact:
    """The fact of a log line.

    Raises:
        ValueError: the kind is not known, or a field is missing or strange.
    """
    kind = record.get("kind")
    if kind not in FACTS:
        raise ValueError(f"unknown kind {kind!r}")
    cls = FACTS[str(kind)]
    names = {f.name for f in fields(cls)}
    given = {k: _frozen(v) for k, v in record.items() if k in names}
    try:
        fact: Fact = cls(**given)
    except TypeError as error:
        raise ValueError(f"{kind}: {error}") from error
    return fact


def _frozen(value: Any) -> Any:
    """A list of a log line as the tuple it was written from."""
    return tuple(_frozen(v) for v in value) if isinstance(value, list) else value


# ---- what is asked of the world


@dataclass(frozen=True)
class Record:
    """Put this on disk before anything more is spoken."""

    fact: Fact
    at: datetime


@dataclass(frozen=True)
class Say:
    purpose: str
    """`caution`, `ask`, `readback`, `derived`, `conclusion` or `info`."""
    text: str
    urgent: bool = False


@dataclass(frozen=True)
class Listen:
    question: Question
    step: str
    kind: str
    unit: str | None
    wake_at: datetime | None = None
    """Give a `Silence` at this time if nothing was heard."""
    quiet: bool = False
    """No reminder, no tone above speech: the live window."""


@dataclass(frozen=True)
class Wait:
    """Let time pass; commands are still heard."""

    until: datetime
    step: str


@dataclass(frozen=True)
class Manner:
    """A word about the voice: `slower`, `faster`, `louder`, `softer` or `stop` (be quiet now); or `alarm`: the loudest
    tone there is."""

    word: str


@dataclass(frozen=True)
class Ended:
    state: str
    """`sealed` or `interrupted`."""


Effect = Record | Say | Listen | Wait | Manner | Ended


def how_taken(meaning: Meaning, heard: Heard) -> str:
    """How words were taken, as `WordsHeard` has it."""
    match meaning:
        case Answer() | Confirmed():
            return "answer" if heard.sure else "asked back"
        case Command(name=name):
            return f"command: {name}"
        case AskFor():
            return "no answer"
        case _:
            return "not understood"
