"""What goes on record in a call: each a line of the log, in the past tense."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any, get_args

from assistant.language.meaning import Value


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
    left_before: tuple[tuple[str, str, str, str], ...] = ()
    """What the last call to each machine here left temporary: rack, compressor, obligation, in whose name."""
    leaks_mended: tuple[tuple[str, float], ...] = ()
    """Leaks repaired here in the last 365 days, by earlier logs: rack, days ago."""
    technician: str = ""
    """Whose call it is, where the profile knows only one; else it is asked."""
    after_call: str = ""
    """The call that was sealed last in this folder, by its name; this and the next two stand in no line where there is none."""
    after_head: str = ""
    """SHA-256 of the seal of that call."""
    after_ledger: str = ""
    """SHA-256 of that call's line in the ledger, which chains every call before it."""


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
    station: str


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
    """Lower and upper end of an unsteady reading; `value` is then the mean."""
    high: float | None = None
    establishes: tuple[str, ...] = ()
    """Facts that this answer establishes, as its step declares."""
    resets: tuple[str, ...] = ()
    """Contacts of which this was the one reset; `*` for every one that was open."""


@dataclass(frozen=True)
class StepDone:
    """A bare go-ahead was given, or a look was answered in words."""

    step: str
    said: str
    establishes: tuple[str, ...] = ()
    resets: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepSkipped:
    step: str
    reason: str


@dataclass(frozen=True)
class StepReopened:
    """The technician went back to it."""

    step: str


LEFT = "left by an earlier call"
"""The detail of what hangs at the machine since before this call."""


@dataclass(frozen=True)
class ObligationOpened:
    id: str
    step: str
    detail: str = ""
    who: str = ""
    """In whose name it stands."""
    repair_by: str = ""
    verify_by: str = ""
    """Dates that the law sets, as in ISO 8601; empty where it sets none."""


@dataclass(frozen=True)
class ObligationCleared:
    id: str
    step: str
    who: str = ""


@dataclass(frozen=True)
class ObligationHandedOver:
    id: str
    owner: str
    hours: float
    who: str = ""
    """Who handed it over."""


@dataclass(frozen=True)
class ProofEnded:
    """The proof of absence of voltage no longer holds."""

    reason: str


@dataclass(frozen=True)
class OthersLockFound:
    """Another person's lock is on the disconnect: nobody but its owner takes it off."""

    said: str


@dataclass(frozen=True)
class PauseEnded:
    """Nobody was heard for longer than a proof lasts: what was true before it is asked anew."""

    minutes: float


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
class Contradicted:
    """Readings on record that cannot both be true: each is asked again, and until then nothing rests on them."""

    ids: tuple[str, ...]


@dataclass(frozen=True)
class ReadingsTooOld:
    """Readings that one taken just now is not worked out with, for they are of another moment (S40): asked again, once."""

    ids: tuple[str, ...]


@dataclass(frozen=True)
class ReadingWithdrawn:
    """It was read of another thing: nothing rests on it, and it is measured anew. The tag: all under that lock was another's."""

    id: str
    said: str


@dataclass(frozen=True)
class LeftContradicted:
    """It was not read again: what contradicts stands, and bars what would rest on it."""

    id: str
    said: str


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
class ClockJumped:
    """The clock on the wall was set. The times of a call run on evenly, and every interval with them."""

    seconds: float
    """How far the wall's time is now from where the call's stands: more where it was set forward."""


@dataclass(frozen=True)
class CallHeld:
    said: str


@dataclass(frozen=True)
class CallContinued:
    said: str


ROOM_NOT_SAFE = "the room is not safe to enter"
"""Why a call is finished by itself."""


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
    | OthersLockFound | PauseEnded | Contradicted | LeftContradicted | ReadingsTooOld | ReadingWithdrawn
    | WaitEnded | PowerOffOrdered | ValueDerived | NotComputed | Concluded | NoteTaken | EmergencyDeclared
    | EmergencyOver | CheckInAsked | ClockJumped | CallHeld | CallContinued | FinishAsked | CallResumed | CallSealed
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
