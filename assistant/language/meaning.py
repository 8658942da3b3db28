"""What a question is to the ear, what an utterance can mean to it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property

from assistant.language.vocabulary import Units

Value = float | str | bool
"""A number in the site's unit; a choice, `yes`, `no` or a non-numeric answer (`over_range`,
`below_resolution`, `none_present`, `not_fitted`, `not_measurable`); True for an acknowledgement, or
`someone_else` when another person's lock is found."""
DONE_AND_SAFE = "Done, and all safe?"
"""What is asked back of a deed that was told in words that no table has."""


@dataclass(frozen=True)
class Question:
    """What is listened for, complete: the recogniser and the parser need nothing else."""

    asking: str
    """An id of the vocabulary; `confirm` when a value is asked back; `command` for a bare go-ahead."""
    also: tuple[str, ...] = ()
    """Further ids that may be answered in the same breath, in this order; for `command`, instead of going ahead."""
    units: Units = "us"
    of: str = ""
    """For `confirm`: the id whose value is asked back. For any other question: the id whose value its prompt
    read back, so that "no, twelve" corrects that one."""
    value: Value | None = None
    """For `confirm`: the value asked back."""
    local: Mapping[str, Mapping[str, Value]] = field(default_factory=dict)
    """Words of this site: id to {spoken phrase: value}. Sites, racks, tags, people."""
    machines: Mapping[str, Mapping[str, Value]] = field(default_factory=dict)
    """Names of racks and compressors, as in `local`, where the call's machine stands and may be put right by its name."""
    machine: Value | None = None
    """The call's own compressor, where it stands: a value told of one by another name is none of it."""
    go_ahead: tuple[str, ...] = ("done", "ready")
    """For `command`: the words that go ahead; each means `Command("continue")`."""
    other_words: Mapping[str, str] = field(default_factory=dict)
    """Further words that go ahead, heard and never read out, each with the word of `go_ahead` that it means."""
    alone: bool = False
    """Of several that the step asks for the prompt now named the first: a bare word is its answer before it is another's."""
    look: bool = False
    """Each word of `go_ahead` is an answer of its own; else all of them say the same."""
    harmless: bool = False
    """Nobody is hurt and nothing is condemned if a sentence is taken for its answer."""
    loose: bool = False
    """A look that no hand goes in for: an answer of it may stand among words that are not known."""
    about: tuple[str, ...] = ()
    """Words of the prompt: said again in an answer they change nothing."""
    all_good: Mapping[str, Value] = field(default_factory=dict)
    """What "all good" answers, id to value, for a question about several things at once."""
    limits: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """Plausible range, id to (low, high) in the site's unit, where the profile narrows it."""
    refused: tuple[Value, ...] = ()
    """Values the technician refused at read-back: not offered a second time."""
    rivals: tuple[tuple[Value, float], ...] = ()
    """What the same answer may have been when it was heard before, each with its share, 0 to 1: both hearings
    count."""
    pending: str = ""
    """`AskFor.pending` of the answer before, when this question asks for the rest of it."""
    volunteer: tuple[str, ...] = ()
    """Readings that may be said by name though they were not asked for, the nearest first."""
    recorded: tuple[str, ...] = ()
    """Readings on record, the latest first: what "correction suction" means."""
    yes_is_all: bool = False
    """A question about several things that a yes answers whole."""
    step: str = ""
    """The step that asks: what is said to it is told by examples of its own; empty for a reading that is put right."""
    now: datetime | None = None
    """The site's clock, for "since midnight"; without it such an answer is asked for in minutes."""

    @property
    def takes_a_done(self) -> bool:
        """Whether a deed is waited for, which is acknowledged, and no look is taken."""
        return not self.look and "done" in self.go_ahead

    @cached_property
    def understood(self) -> dict[str, "Meaning"]:
        """What words meant to this question, kept by `understand`: an answer's guesses are looked at many times."""
        return {}

    def of_one(self, id: str) -> "Question":
        """The same of one of the things alone."""
        return replace(self, asking=id, also=(), alone=False, yes_is_all=False, all_good={})


@dataclass(frozen=True)
class Part:
    """One reading inside an answer."""

    id: str
    value: Value
    unit: str | None = None
    low: float | None = None
    """Lower end of an unsteady reading; `value` is then the mean."""
    high: float | None = None
    doubt: str = ""
    """Why it must be asked back whatever the recogniser's confidence: a short spoken question, or empty."""


@dataclass(frozen=True)
class Answer:
    """The question is answered, for one id or several."""

    parts: tuple[Part, ...]


@dataclass(frozen=True)
class Command:
    """A word that steers the call. `correct` may name a reading; `skip` may carry the reason."""

    name: str
    about: str = ""
    """For `correct`: the id of the reading named. For `skip`: `unknown`, `not_measurable` or empty. For `continue`: of a look
    the word of `go_ahead` that was meant; else `said so` where it was said in other words."""


@dataclass(frozen=True)
class Confirmed:
    """Yes or no to a value asked back. "No, twelve" carries the new value as an answer of its own."""

    yes: bool
    instead: Part | None = None


@dataclass(frozen=True)
class AskFor:
    """Understood, but no answer: what to say instead ("Say the number.")."""

    say: str
    pending: str = ""
    """What the next words complete, with {} where they go: after "Ohms or k?", "ten {}"; after
    "How many inches?", "{} inches". To be handed back in `Question.pending`."""


@dataclass(frozen=True)
class NotUnderstood:
    """No answer and no command."""


@dataclass(frozen=True)
class Remark:
    """Something said that concerns safety, whatever was asked."""

    about: str
    """`lock off`, `another's lock`, `alarm`, `no detector`, `no fan`, `distress`, or one of `language.unready.UNREADY`."""


Meaning = Answer | Command | Confirmed | AskFor | Remark | NotUnderstood


def asked_back(value: Value) -> str:
    """The doubt with which a value is asked back before it counts."""
    return DONE_AND_SAFE if value is True else "."


def asked_word(word: str) -> AskFor:
    """A word of a look, asked back before it counts.

    >>> asked_word("all good")
    AskFor(say='All good?', pending='all good')
    """
    return AskFor(f"{word.capitalize()}?", pending=word)


def all_asked_back(said: Answer) -> Answer:
    """The answer, none of which counts before a yes.

    >>> [part.doubt for part in all_asked_back(Answer((Part("covers_on", True), Part("sight_glass", "full")))).parts]
    ['Done, and all safe?', '.']
    """
    return Answer(tuple(replace(part, doubt=part.doubt or asked_back(part.value)) for part in said.parts))


def has_number(meaning: Meaning) -> bool:
    """Whether a number stands in it."""
    match meaning:
        case Answer(parts):
            return any(isinstance(part.value, float) for part in parts)
        case Confirmed(instead=Part(value=float())):
            return True
        case AskFor(pending=pending):
            return bool(pending) and not pending.startswith("{}")
    return False
