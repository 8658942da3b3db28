"""What is heard, what is asked for, what goes on record."""

from dataclasses import dataclass
from datetime import datetime


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


@dataclass(frozen=True)
class Unclear:
    """Something was said or sounded, but no answer could be made of it."""

    at: datetime
    words: str = ""
    too_loud: bool = False
    """The room's noise is why."""


@dataclass(frozen=True)
class Silence:
    """Nothing was heard until a time the dialogue asked to be woken at."""

    at: datetime
