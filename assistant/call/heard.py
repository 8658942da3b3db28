"""What is heard in a call, and how it was taken."""

from dataclasses import dataclass
from datetime import datetime

from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, Question, Remark, Value


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
    meaning: Meaning | None = None
    """What the ear took it for; None where the words are still to be understood (typed, or over the pipe)."""


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


@dataclass(frozen=True)
class Held:
    """An answer that waits until it is denied that something is not safe."""

    step: str
    question: Question
    meaning: Meaning
    heard: Heard


IN_DOUBT, NOT_SO = "remark in doubt: ", "remark not so: "
"""How a remark on safety was taken that the ear is not sure of, and one to which the answer was no; its `about` follows."""


def how_taken(meaning: Meaning, heard: Heard) -> str:
    """How words were taken, as `WordsHeard` has it."""
    match meaning:
        case Answer() | Confirmed():
            return "answer" if heard.sure else "asked back"
        case Command(name=name):
            return f"command: {name}"
        case AskFor():
            return "no answer"
        case Remark(about=about):
            return f"remark: {about}"
        case _:
            return "not understood"
