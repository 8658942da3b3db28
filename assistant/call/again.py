"""What the hearings before leave for the next one: what was refused, what it may have been, what to say differently."""

from dataclasses import dataclass, replace

from assistant.call.heard import Heard, Unclear
from assistant.language.grammar import choices
from assistant.language.meaning import Question, Value
from assistant.language.numbers import twin
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import digits_apart, sentence

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

    def say_again(self, question: Question, too_loud: bool = False) -> str:
        """What to say so that the next hearing can be another one."""
        entry = vocabulary().get(_id(question))
        number = entry is not None and entry.kind in NUMBER_KINDS and question.asking != "confirm"
        if too_loud:
            way = "say it digit by digit" if number else "say it again"
            return f"It is too loud to hear you. Come closer, or {way}."
        if question.asking == "confirm":
            return "Yes or no?" if self.misses > 1 else "Say again."
        if number:
            return _pair(self.rivals) or ("Say again.", "Say it digit by digit.", 'Say it with "and".')[self._way]
        words = choices(question)
        return sentence("Say " + " or ".join(words)) if self.misses > 1 and 0 < len(words) <= 4 else "Say again."

    @property
    def _way(self) -> int:
        """The first time nothing else is asked for; then the two ways in turn."""
        return 0 if self.misses < 2 else 1 + self.misses % 2


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
