"""What whole calls by sound missed most: answers in one breath, words of one syllable alone, readings put right by name."""

from collections import Counter
from collections.abc import Callable, Iterable
from random import Random

from assistant.call.procedure import all_steps
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Question
from assistant.language.offered import choices, commands, phrases
from assistant.language.phrasebook import tagged
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

BREATHS, ALIKE, NEAR, PAIRS, MOST = 5200, 700, 900, 700, 9
LEADS = ("", "", "", "", "", "", "uh ", "okay ", "it's ", "we've got ")
NAMED = {
    "pressure": ("suction {}", "discharge {}", "head {}"), "temperature": ("discharge {}", "discharge line {}", "line {}"),
    "amps": ("{} amps", "amps {}"), "volts": ("{} volts",), "ohms": ("{} ohms",), "count": ("{}", "{} running"),
    "minutes": ("{} minutes", "{} minutes ago", "{} hours ago", "an hour ago"),
}  # fmt: skip
"""What is said with a number where several things are asked."""
PAIRED = (
    "suction {} discharge {}", "suction {} discharge {}", "{} discharge {}", "{} discharge {}", "{} head {}",
    "suction {} head {}", "discharge {} suction {}", "{} discharge line {}",
    "{} suction {} discharge", "suction {} and discharge {}", "{} and {}",
)  # fmt: skip
PEOPLE = ("supervisor", "the supervisor", "me", "boss", "day shift", "the day shift", "morning crew")
SHORT = (
    "off on dead auto hand full none now open closed seated loose clean dry cold warm hot holding quiet intact good click silent "
    "feeding weak tripped running locked some all stuck live low high lost shut out in up down bubbles empty motor suction "
    "discharge head normal stopped supply all three both nothing zero okay done"
).split()
"""Words of answers, said alone by many voices, to be joined as one joins answers."""


def questions() -> list[Question]:
    """Of every step that asks for several things at once, each once; racks and machines have names of their own in `texts`."""
    found = {(step.asking, *step.also): step for step in all_steps() if step.also}
    return [Question(ids[0], also=ids[1:], all_good=step.all_good) for ids, step in found.items() if ids[0] != "rack"]


def plain(id: str) -> list[str]:
    """The words that answer one id, those that are read out."""
    kind = vocabulary()[id].kind
    if kind == "acknowledge":
        return ["done", "yes", "good", "all good", "okay"]
    return choices(Question(id))


class Answers:
    """Answers to several questions in one breath, as the strict grammars allow them."""

    def __init__(self, draw: Random, whole: Callable[[], str]) -> None:
        """
        Args:
            draw: chance.
            whole: gives a whole number in words.
        """
        self.draw, self.whole = draw, whole
        self.own = {id: sorted(set(phrases(Question(id))) - set(commands())) for id in vocabulary()}
        self.asked = questions()

    def number(self, kind: str) -> str:
        """A reading of this kind, short as one says it beside others."""
        r = self.draw
        if kind == "count":
            return r.choice("none one two three four five six seven eight ten twelve".split())
        said = self.whole()
        if (kind in ("ohms", "amps") and r.random() < 0.5) or r.random() < 0.06:
            said += f" point {r.choice('one two three four five six seven eight nine'.split())}"
        if r.random() < 0.06:
            said = "zero" if kind in ("volts", "ohms", "amps") else f"minus {said}"
        return r.choice(NAMED[kind]).format(said) if kind in NAMED and r.random() < 0.3 else said

    def one(self, id: str, all_good: object) -> str:
        """An answer to one of them."""
        r, kind = self.draw, vocabulary()[id].kind
        if kind in NUMBER_KINDS:
            return self.number(kind)
        if isinstance(all_good, str) and r.random() < 0.35:
            return all_good
        words = plain(id)
        if words and r.random() < 0.72:
            return r.choice(words)
        return r.choice(self.own[id] or words or PEOPLE)

    def breath(self) -> str:
        """Answers in the question's order, some left out; empty where it is no answer."""
        r = self.draw
        q = r.choice(self.asked)
        ids = [q.asking, *q.also]
        if len(ids) > 2 and r.random() < 0.25:
            ids = ids[: r.randrange(2, len(ids))]
        elif r.random() < 0.1:
            ids = sorted(r.sample(ids, max(len(ids) - 1, 1)), key=ids.index)
        words = " ".join(self.one(id, q.all_good.get(id)) for id in ids)
        if len({vocabulary()[id].kind for id in ids}) == 1 and len(ids) == 3 and r.random() < 0.12:
            words = r.choice(("all three {}", "{} on all three", "{} all three", "all three the same {}")).format(self.whole())
        return words if q.asking == "follow_up_owner" or isinstance(understand(q, words), Answer) else ""


def breaths(draw: Random, whole: Callable[[], str]) -> Iterable[str]:
    """Several answers in one breath."""
    answers, many = Answers(draw, whole), Counter[str]()
    while many.total() < BREATHS:
        words = answers.breath()
        if 2 <= len(words.split()) <= 13 and many[words] < MOST:
            many[words] += 1
            yield draw.choice(LEADS) + words if draw.random() < 0.3 else words
    for _ in range(ALIKE):  # the same again and again, or any words of this sort
        word = draw.choice(SHORT)
        words = [word if draw.random() < 0.6 else draw.choice(SHORT) for _ in range(draw.choice((2, 3, 3, 4, 4, 5)))]
        yield " ".join(words)
    for _ in range(NEAR):  # a word and a number
        pair = [draw.choice(SHORT), whole()]
        yield " ".join(pair if draw.random() < 0.7 else pair[::-1])
    for _ in range(PAIRS):  # one reading that was asked for, and another by its name
        yield draw.choice(PAIRED).format(whole(), whole())


def offered() -> list[str]:
    """Every word or phrase that is read out as an answer."""
    words = {word for id in vocabulary() for word in plain(id)} | set(SHORT)
    words |= {word for step in all_steps() for word in step.go_ahead}
    words |= {"yes", "no", "yeah", "yep", "nope", "all good", "all off", "all closed", "one open", "repair now", "go dead"}
    return sorted(words)


def corrections(draw: Random, whole: Callable[[], str]) -> Iterable[str]:
    """Every reading put right by its name, and some with what it is instead."""
    leads = sorted(tagged("commands", "correction_of"))
    for name in sorted({entry.say for entry in vocabulary().values()}):
        for _ in range(4):
            yield f"correction {name}"
        for lead in draw.sample(leads, 2):
            yield f"{lead} {name}"
        if draw.random() < 0.6:
            yield draw.choice(("correction {} {}", "{} should be {}", "correction {} to {}")).format(name, whole())
