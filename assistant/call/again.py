"""What the hearings before leave for the next one: what was refused, what it may have been, what to say differently."""

from dataclasses import dataclass, replace

from assistant.call.heard import Heard, Unclear
from assistant.language.meaning import Question, Value
from assistant.language.numbers import twin
from assistant.language.offered import choices
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of, vocabulary
from assistant.language.wording import digits_apart

_NAMED_WORDS = 8
"""Words that are read out at most."""
_LOUD_ANSWERS = 2
"""Answers in a row out of a loud room until it counts as one: one may be a door, or a cylinder that falls."""


@dataclass(frozen=True)
class Again:
    """What is known from the hearings before."""

    asking: str = ""
    """The id that was not understood last."""
    misses: int = 0
    """How often in a row it was not."""
    rivals: tuple[tuple[Value, float], ...] = ()
    """What it may have been, each with its share: weighed into the next hearing of the same id."""
    of: str = ""
    """The id whose value the prompt now standing reads back."""
    loud_answers: int = 0
    warned: bool = False
    """It was said that numbers are asked back."""

    @property
    def loud(self) -> bool:
        """Whether the room is so loud that every number is asked back."""
        return self.loud_answers >= _LOUD_ANSWERS

    def missed(self, question: Question, heard: Heard | Unclear) -> "Again":
        """An answer to this question that did not count."""
        id_ = _id(question)
        again = self.asking == id_
        rivals = heard.rivals or (self.rivals if again else ())
        return replace(self, asking=id_, misses=self.misses + 1 if again else 1, rivals=rivals)

    def in_room(self, loud: bool) -> "Again":
        """How loud it was at one more answer; it takes as many quiet ones to be quiet again."""
        count = min(self.loud_answers + 1, 2 * _LOUD_ANSWERS - 1) if loud else max(self.loud_answers - 1, 0)
        return replace(self, loud_answers=count)

    def taken(self, id_: str) -> "Again":
        """This reading is on record; the next prompt reads it back."""
        return replace(self, asking="", misses=0, rivals=(), of=id_)

    def rivals_of(self, id_: str) -> tuple[tuple[Value, float], ...]:
        """What this id's answer may have been when it was heard before."""
        return self.rivals if id_ == self.asking else ()

    def say_again(self, question: Question, too_loud: bool = False, skippable: bool = True) -> str:
        """What to say so that the next hearing can be another one: first what is needed, then the words, then a way out."""
        entry = vocabulary().get(_id(question))
        number = entry is not None and entry.kind in NUMBER_KINDS and question.asking != "confirm"
        if too_loud:
            way = "say it digit by digit" if number else "say it again"
            return f"It is too loud to hear you. Come closer, or {way}."
        if number and (pair := _pair(self.rivals)):
            return pair
        if self.misses > 2 and question.asking != "confirm":
            out = "Say skip this, or type it." if skippable else "Say it in other words, or type it."
            return f"{_the_words(question, number)} {out}"
        return _the_words(question, number) if self.misses > 1 else _needed(question, number)


def _needed(question: Question, number: bool) -> str:
    """What kind of answer is looked for."""
    if number:
        return "Say again, I need a number."
    kind = kind_of(question.asking)
    needed = {"yes_no": "a yes or a no", "acknowledge": "done, or not yet", "choice": "one of its words", "free": "words"}
    if question.asking == "confirm":
        return "Say again, I need a yes or a no."
    return f"Say again, I need {needed[kind]}." if kind else "Say again."


def _the_words(question: Question, number: bool) -> str:
    """The words that answer it."""
    if number:
        return "Say it digit by digit."
    if question.asking == "panel_tag":
        return "Say rack before it."  # its short "a" is lost in any noise when it comes first
    words = choices(question)[:_NAMED_WORDS]
    if kind_of(question.asking) == "acknowledge":
        words = [words[0], "not yet"]
    named = " or ".join([", ".join(words[:-1])] * (len(words) > 1) + words[-1:])
    return f"Say {named}." if named else "Say again."


def _id(question: Question) -> str:
    return question.of if question.asking == "confirm" else question.asking


def _pair(rivals: tuple[tuple[Value, float], ...]) -> str:
    """ "One five, or five oh?", when the two likeliest are a teen and its ten."""
    numbers = [value for value, _ in rivals[:2] if isinstance(value, float) and not isinstance(value, bool)]
    if len(numbers) < 2:
        return ""
    low, high = sorted(numbers)
    pair = low.is_integer() and twin(low) == high
    return f"{digits_apart(low).capitalize()}, or {digits_apart(high)}?" if pair else ""
