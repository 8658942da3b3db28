"""How much silence ends an answer, by the shape of the words so far."""

import math
from functools import cached_property

from assistant.language.audible import audible
from assistant.language.grammar import understand
from assistant.language.meaning import NotUnderstood, Question
from assistant.language.numbers import DIGITS, TEENS, TENS
from assistant.language.quantities import in_hundreds, limits
from assistant.language.vocabulary import Entry, vocabulary

# Measured on the pauses inside answers of 15 synthetic voices and 32 people. The detector itself holds on for
# about 80 ms after a voice has ended.
WAIT_COMPLETE_MS = 160
WAIT_UNIT_MS = 192  # only a unit or decimals may follow; nobody paused before them
WAIT_COULD_GO_ON_MS = 416  # after 288, slow people lost the one of "one hundred and seventy ... one"
WAIT_FEW_DIGITS_MS = 992  # one or two of a reading in the hundreds are hardly ever all: people took 800 and 960 ms to the next
WAIT_DIGITS_MS = 704  # who says digits one by one pauses, in 5 of 160 gaps 510 to 690 ms; one lost is a wrong number
WAIT_HUNDRED_MS = 992  # "one hundred ... sixty one": people take a breath or a look at the gauge there, to 0.8 s bridged
WAIT_NEXT_READING_MS = 480  # several asked for in one breath
WAIT_NOTHING_YET_MS = 928
WAIT_NOTE_MS = 3008

_SINGLE_DIGITS = frozenset((*DIGITS, "oh", "zero"))
_COUNTING = frozenset((*_SINGLE_DIGITS, *TEENS, *TENS, "hundred", "thousand"))


class Endings:
    """The silence that ends an answer to one question."""

    def __init__(self, question: Question) -> None:
        """Ready for any words.

        Args:
            question: what is listened for.
        """
        wanted = audible(question)
        self._question = question
        self._strict = wanted.strict
        self._free = wanted.free

    def wait_ms(self, words: str) -> int:
        """Silence after which these words are all [ms].

        Args:
            words: what the first ear has made of the sound so far.
        """
        if self._free:
            return WAIT_COMPLETE_MS if words.endswith("end note") else WAIT_NOTE_MS
        if not self.understands(words):
            return WAIT_NOTHING_YET_MS
        if self._strict is None:
            return WAIT_COMPLETE_MS
        said, state = words.split(), 0
        for word in said:
            if word not in self._strict[state]:
                return WAIT_NOTHING_YET_MS
            state = self._strict[state][word]
        further = {word for word in self._strict[state] if word}
        if not further:
            return WAIT_COMPLETE_MS
        shape = self._counting_ms(said) if further & _COUNTING else WAIT_UNIT_MS
        return max(shape, WAIT_NEXT_READING_MS) if self._question.also else shape

    @property
    def counting(self) -> bool:
        """Whether a number may be said, of which anything may be a part."""
        return self._strict is not None

    def understands(self, words: str) -> bool:
        """Whether these words are an answer, or the beginning of one that is an answer already.

        Args:
            words: what an ear has made of the sound so far.
        """
        return bool(words) and not isinstance(understand(self._question, words), NotUnderstood)

    def _counting_ms(self, said: list[str]) -> int:
        """The number itself may go on."""
        if said == ["zero"] and self._entry and self._entry.kind == "volts":
            return WAIT_COULD_GO_ON_MS  # dead: no voltage begins with nought
        if not all(word in _SINGLE_DIGITS for word in said):
            return WAIT_HUNDRED_MS if said[-1] in ("hundred", "thousand") else WAIT_COULD_GO_ON_MS
        if not self._has_room(said):
            return WAIT_UNIT_MS if len(said) > 1 else WAIT_COULD_GO_ON_MS
        if len(said) < 3 and self._entry and in_hundreds(self._question, self._entry):
            return WAIT_FEW_DIGITS_MS
        return WAIT_DIGITS_MS if len(said) < 3 else WAIT_COULD_GO_ON_MS

    def _has_room(self, digits: list[str]) -> bool:
        """Whether one digit more is still a value that the question's reading can have."""
        shortest = int("".join(str(DIGITS.index(d) + 1) if d in DIGITS else "0" for d in digits)) * 10
        return shortest <= self._most

    @cached_property
    def _entry(self) -> Entry | None:
        """The reading that is asked for, or asked back."""
        return vocabulary().get(self._question.of if self._question.asking == "confirm" else self._question.asking)

    @cached_property
    def _most(self) -> float:
        """The highest value that the question's reading can have."""
        span = limits(self._question, self._entry) if self._entry else None
        return math.inf if span is None else span[1]
