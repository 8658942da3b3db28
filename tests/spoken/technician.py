"""A technician who is heard: he speaks from a rack with physics of its own, in varied words, and as people do.

By chance he hesitates, volunteers, asks for a repeat, talks to a colleague, says a wrong number and puts it right, skips, notices
a wrong read-back nine times of ten, and drops out of the call. What is not taken twice he says in other words, as he is told to,
and in the end he types it. What he meant is kept beside what he said.
"""

import tomllib
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from random import Random

from assistant.call.effects import Listen
from assistant.call.facts import Fact, ReadingTaken
from assistant.fronts.comparing import value_text
from assistant.fronts.pipe import ask_message
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Command, Meaning, Question, Value
from assistant.language.offered import choices, phrases
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from tests.rig.technician import Rig

SAID = Path(__file__).parents[1] / "language" / "said.toml"
AROUND = ("{}", "{}", "{}", "it's {}", "about {}", "i get {}", "looks like {}", "uh {}", "i've got {}")
"""Ways of saying a number; bare ones are commonest."""
COLLEAGUE = (
    "can you hand me the big ladder over there", "leave that door open will you", "what did the manager say about the milk",
    "no the other truck the white one", "are you going to lunch before we finish this", "put the tarp down first please",
)  # fmt: skip
"""Said to somebody else: must count for nothing."""
DIGITS = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
VOLUNTEERED = {"rack_suction_pressure": ("rack_discharge_pressure", "discharge"), "watch.suction_pressure": (
    "watch.discharge_temperature", "discharge line")}  # fmt: skip
"""What is often said with a reading in one breath, and what it is called."""
NEVER_SKIPPED = frozenset({"site", "rack", "compressor", "panel_tag"})
NOTICED = 0.9
MOST_TRIES = 5
"""Turns that he takes to put a reading right; in the last one he types it."""
SAME_WORDS = 2
"""Times that he says an answer in the same words."""
YES, NO = ("yes", "yes", "that's right", "yeah"), ("no", "no", "nope", "that's wrong")
"""What he says to a read-back, in turn."""
MOST_SPOKEN = 6
"""Times that he says an answer before he types it."""


@dataclass(frozen=True)
class Manners:
    """How often, of 1 utterance, he does what people do."""

    varied: float = 0.35
    """Words other than the plain ones."""
    hesitates: float = 0.05
    volunteers: float = 0.3
    """Of the questions where it is usual."""
    repeat: float = 0.02
    colleague: float = 0.02
    slips: float = 0.02
    """Says another number first, and corrects it."""
    skips: float = 0.004
    drops_out: float = 0.25
    """Of the calls."""


@dataclass
class Utterance:
    """One thing said."""

    words: str
    gap_s: float | None = None
    """Pause at each comma."""
    to_colleague: bool = False
    for_a_reading: bool = True
    """It answers, agrees to an answer or says it again."""
    typed: bool = False


def _figures(meaning: Meaning) -> str:
    """The figures of a lone number; nothing of anything else."""
    value = meaning.parts[0].value if isinstance(meaning, Answer) and len(meaning.parts) == 1 else None
    return f"{value:g}" if isinstance(value, float) and value >= 0 else ""


@cache
def _said() -> dict[str, dict[str, list[str]]]:
    return tomllib.loads(SAID.read_text(encoding="utf-8"))


@dataclass
class Technician:
    """Speaks for a rig."""

    rig: Rig
    seed: int
    manners: Manners = field(default_factory=Manners)
    meant: dict[str, Value] = field(default_factory=dict)
    """What he last meant of each reading."""
    last: Meaning | None = None
    plain: str = ""
    """The plain words for the question that is open; kept while it is not answered."""
    open_question: tuple[str, str] = ("", "")
    repeats: int = 0
    """Times that the same question was asked again."""
    refusals: int = 0
    """Times that a read-back was answered and asked again."""
    begins: bool = False
    """This utterance is the first to its question."""
    to_correct: str = ""
    """Reading that he is putting right: said until the product asks for it."""
    tries: int = 0
    """Times that he said so. After each the question that he got instead is answered."""
    slipped: str = ""
    """Reading that he said wrong on purpose and is yet to correct."""
    overlooked: set[tuple[str, str]] = field(default_factory=set)
    """Wrong values on record that he did not notice when they were read back."""

    def __post_init__(self) -> None:
        self.chance = Random(self.seed)

    # ---- what is said

    def says(self, listen: Listen, on_record: dict[str, Value], new: list[Fact], asked_back: dict[str, Value]) -> Utterance:
        """The next utterance.

        Args:
            listen: what is asked.
            on_record: the readings so far, as the prompt reads them back.
            new: facts since his last utterance.
            asked_back: values that the prompt reads back and asks to be agreed to.
        """
        q = listen.question
        self.begins = False
        if q.asking == "note":
            return Utterance("cancel", for_a_reading=False)  # he asked for none: something else was heard as that
        if q.asking == "confirm":
            return self._agrees_or_not(q, asked_back)
        self.refusals = 0
        if self._corrects(q, on_record, new):
            named = f"correction {vocabulary()[self.to_correct].say}"
            words = named if understand(q, named) == Command("correct", self.to_correct) else "correction"
            return self._will_mean(Utterance(words, typed=self.tries >= MOST_TRIES), understand(q, words))
        asked = f"{q.asking} {' '.join(q.also)}"
        again = self.open_question == (listen.step, asked) and self.plain
        if not again and self._does(self.manners.colleague):
            return Utterance(self.chance.choice(COLLEAGUE), to_colleague=True, for_a_reading=False)
        if not again and self._does(self.manners.repeat):
            return self._will_mean(Utterance("say again", for_a_reading=False), Command("repeat"))
        self.begins = not again
        self.repeats = self.repeats + 1 if again else 0
        if not again:
            self.plain = self.rig.answer(ask_message(listen))
            self.open_question = (listen.step, asked)
        elif self.repeats == 3 and q.also and q.asking != "command":  # one thing at a time, then
            self.plain = self.rig.answer(ask_message(replace(listen, question=replace(q, also=()))))
        if self.repeats < SAME_WORDS:
            return self._answer(q, plainly=bool(again))
        typed = self.repeats >= MOST_SPOKEN
        words = self.plain if typed else self._otherwise(q)
        return self._will_mean(Utterance(words, typed=typed), understand(q, words))

    def _agrees_or_not(self, q: Question, asked_back: dict[str, Value]) -> Utterance:
        """Yes or no to what is read back, in other words where it was not heard, typed at last."""
        ways = YES if self._meant_that(q, asked_back) else NO
        self.refusals += 1
        tried = self.refusals - 1
        return Utterance(ways[tried % len(ways)], typed=tried >= MOST_SPOKEN)

    def _corrects(self, q: Question, on_record: dict[str, Value], new: list[Fact]) -> bool:
        """Whether he now says that a reading was wrong. What he is asked instead he answers, then says it again."""
        if q.asking == self.to_correct:
            self.to_correct, self.open_question = "", ("", "")
        if self.to_correct and self.tries > MOST_TRIES:
            self.overlooked.add((self.to_correct, str(on_record.get(self.to_correct))))
            self.to_correct = ""
        noticed = self._noticed(on_record, new)
        if noticed:
            self.to_correct, self.tries = noticed, 0
        self.tries += 1
        return bool(self.to_correct) and self.tries % 2 == 1

    def _answer(self, q: Question, plainly: bool) -> Utterance:
        meaning = understand(q, self.plain)
        if not isinstance(meaning, Answer):
            return self._will_mean(Utterance(self.plain), meaning)
        number = vocabulary()[q.asking].kind in NUMBER_KINDS
        may_skip = q.asking not in NEVER_SKIPPED and vocabulary()[q.asking].kind != "acknowledge"
        if not plainly and may_skip and self._does(self.manners.skips):
            return self._will_mean(Utterance("skip this"), Command("skip"))
        if not plainly and number and not q.also and self._does(self.manners.slips):
            slip = f"{self.chance.choice(('fifty two', 'thirty one', 'eighty six'))}"
            wrong = understand(q, slip)
            if isinstance(wrong, Answer) and not wrong.parts[0].doubt:
                self.slipped = q.asking
                self.plain = ""
                self.last = wrong
                return Utterance(slip)
        words = self.plain if plainly else self._varied(q, meaning, number)
        gap_s = None
        if not plainly and self._does(self.manners.hesitates):
            words, gap_s = f"uh, {words}", self.chance.choice((0.3, 0.5))
        return self._will_mean(Utterance(words, gap_s), understand(q, words.replace(",", "")))

    def _varied(self, q: Question, meaning: Answer, number: bool) -> str:
        """Other words that mean the same by the text of them; the plain ones where there are none."""
        usual = VOLUNTEERED.get(q.asking)
        if usual and not q.also and usual[0] in q.volunteer and self._does(self.manners.volunteers):
            second = self.rig.answer({"asking": usual[0], "step": "", "kind": "pressure", "choices": []})
            words = f"{self.plain} {usual[1]} {second}"
            both = understand(q, words)
            if isinstance(both, Answer) and len(both.parts) == 2:
                return words
        if not self._does(self.manners.varied):
            return self.plain
        if number and not q.also:
            words = self.chance.choice(AROUND).format(self.plain)
        else:
            words = self.chance.choice(_said().get(q.asking, {}).get(value_text(meaning.parts[0].value)) or [self.plain])
        words = words.replace(",", "").replace("?", "")
        return words if understand(q, words) == meaning else self.plain

    def _otherwise(self, q: Question) -> str:
        """Other words of the product's own that mean the same, each in its turn; a number digit by digit."""
        meaning = understand(q, self.plain)
        digits = " ".join(DIGITS[int(c)] if c.isdigit() else "point" for c in _figures(meaning))
        ways = [words for words in (self.plain, digits, *choices(q), *phrases(q)) if words and understand(q, words) == meaning]
        return ways[(self.repeats - SAME_WORDS + 1) % len(ways)] if ways else self.plain

    def _will_mean(self, utterance: Utterance, meaning: Meaning) -> Utterance:
        self.last = meaning
        if isinstance(meaning, Answer):
            self.meant |= {part.id: part.value for part in meaning.parts}
        return utterance

    # ---- what he hears

    def _meant_that(self, q: Question, asked_back: dict[str, Value]) -> bool:
        """Whether what is asked back is what he meant."""
        if q.of in ("skip", "back", "finish"):
            return isinstance(self.last, Command) and self.last.name == q.of
        meant = self.meant
        if isinstance(self.last, Answer):
            meant = meant | {part.id: part.value for part in self.last.parts}
        return all(meant.get(id_) == value for id_, value in (asked_back or {q.of: q.value}).items())

    def _noticed(self, on_record: dict[str, Value], new: list[Fact]) -> str:
        """The reading that was just put on record with a value that he did not mean, where he notices it; else nothing."""
        for fact in new:
            if not isinstance(fact, ReadingTaken) or on_record.get(fact.id) != fact.value:
                continue
            if fact.id == self.slipped:
                self.slipped = ""
                if fact.value != self.meant.get(fact.id):
                    return fact.id
            key = (fact.id, str(fact.value))
            if fact.id in self.meant and self.meant[fact.id] != fact.value and key not in self.overlooked:
                if self.chance.random() < NOTICED:
                    return fact.id
                self.overlooked.add(key)
        return ""

    def _does(self, share: float) -> bool:
        return self.chance.random() < share


