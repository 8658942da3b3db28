"""What a call asks of the world: record, say, listen, wait."""

from dataclasses import dataclass
from datetime import datetime

from assistant.call.facts import Fact
from assistant.language.meaning import Question


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
