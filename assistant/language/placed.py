"""Which of several numbers in a sentence is which reading, by the sense (`sense`): each is put to it marked, for itself."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations
from math import prod

from assistant.language.answering import one
from assistant.language.grammar import normalise
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, AskFor, Meaning, NotUnderstood, Part, Question, all_asked_back
from assistant.language.numbers import UNIT_WORDS
from assistant.language.questions import is_question
from assistant.language.sense import likely, prompt_of

AMONG = "among"
"""What is asked of a marked number, as the sense knows it."""
THINGS: Mapping[str, tuple[str, ...]] = {
    "suction pressure": ("suction_pressure", "watch.suction_pressure", "rack_suction_pressure"),
    "discharge pressure": ("discharge_pressure", "watch.discharge_pressure", "rack_discharge_pressure"),
    "discharge temperature": ("discharge_temperature", "watch.discharge_temperature", "probe_pipe_temperature"),
    "amps": ("watch.amps",),
    "suction temperature": ("suction_temperature",),
    "outdoor temperature": ("ambient_temperature",),
    "crankcase temperature": ("crankcase_temperature",),
    "oil pump pressure": ("oil_pump_pressure",),
    "crankcase pressure": ("crankcase_pressure",),
    "liquid pressure": ("liquid_pressure",),
    "liquid temperature": ("liquid_temperature",),
    "first of three": ("line_amps.a", "line_volts.ab", "winding_ohms.ab", "fuse_volts.a"),
    "second of three": ("line_amps.b", "line_volts.bc", "winding_ohms.bc", "fuse_volts.b"),
    "third of three": ("line_amps.c", "line_volts.ca", "winding_ohms.ca", "fuse_volts.c"),
    "how many tripped": ("tripped_count",),
    "how many run": ("running_count",),
    "minutes since then": ("alarm_minutes_ago",),
}
"""What a number may be of, and the readings that it is then."""
VERY_SURE, SURE = 0.85, 0.7
"""Probability from which the numbers of a sentence count as the readings that they are, and from which they are asked back."""
_BY_ITSELF, _NO_WAY, _KEPT = 0.3, 0.001, 200
"""What the likeliest way must have among all; what a choice must have to be looked at; and how many ways are followed."""
_SEVERAL = 2
OF_THREE = frozenset({"first of three", "second of three", "third of three"})
"""Of which one number may be several."""
_ALIKE = re.compile(
    r"\b(?:all (?:three|of them|the same|round|across)|(?:on|across|for|of) all|every (?:one|leg|line|pair|phase)|each"
    r"|the same|alike)\b"
)
"""Said of three: one number is told of all."""
_WORDS = "|".join(sorted(FIGURES - {"minus", "negative"}, key=len, reverse=True))
_FIGURE = rf"(?:{_WORDS}|\d[\d.]*)"
_NUMBER = re.compile(
    rf"\b(?:(?:minus|negative) )?(?:a (?=hundred|thousand))?{_FIGURE}"
    rf"(?:[ -]{_FIGURE}|(?<=hundred) and {_FIGURE}|(?<=thousand) and {_FIGURE}| and a (?=half|quarter){_FIGURE})*"
    r"(?!\w|'(?!s\b)|(?<=\bone)'s)"
)
_NO_FIGURE = re.compile(
    r"\b(?:that|this|the|which|other|each|every|right|wrong|last|next|good|bad|no|first|second|third) one\b(?! \w+ty\b| point)"
    rf"|\bthe [a-z]+ one\b(?! (?:{_WORDS})\b)"
    r"|\b(?:one|two|three) to (?:one|two|three)\b"
    rf"|\b(?:all|other|those|these) (?:two|three|four|five|six)\b(?! (?:{_WORDS})\b)"
    r"|\bwi(?:th|') one (?:machine|compressor|unit|fan)\b"
    r"|\b(?:phase|fuse|leg|l|number|compressor|machine) (?:one|two|three|four|five|six)\b"
    r"|\b(?:one|two|three) quarters?\b"
    r"|\bset point\b|\b(?:this|that|the) point\b"
)
"""A "one" that is no number, a pair of lines, and what has a number for a name."""
_LINE = re.compile(
    r"\b(?:one|two|three)(?= (?:is|shows|has|reads|gives|draws|pulls|takes)\b|'s )"
    r"|(?<=, )(?:and )?three(?= (?:zero|nothing)\b)"
)
"""A line, a fuse, a phase by its number: where several are told so, none of them is a value."""
_NO_VALUE = frozenset({"point", "oh"})
"""Words of numbers that are none alone."""
_UNITS = sorted((form for forms in UNIT_WORDS.values() for form in forms.split("|")), key=len, reverse=True)
_UNIT = re.compile(rf" (?:{'|'.join(_UNITS)})\b")
PUTS_RIGHT = re.compile(
    r"\b(?:no|naw|i mean|rather|make (?:that|it)|correction|scratch that|scrub that|sorry|wait|hold on|hang on|oops|my mistake"
    r"|call it|actually|i lie|i tell a lie)\b"
)


_SPELT = re.compile(r"\bzeroe?s\b|\bhunner\b")


def marked(words: str) -> list[tuple[str, str]]:
    """Each number of a sentence as it was said, and the sentence with that one in brackets.

    >>> marked("eleven on the suction, pipe's two fourteen")
    [('eleven', "[eleven] on the suction, pipe's two fourteen"), ('two fourteen', "eleven on the suction, pipe's [two fourteen]")]
    """
    text = _SPELT.sub(lambda m: "zero" if m[0][0] == "z" else "hundred", words.lower())
    lines = len(_LINE.findall(text)) >= _SEVERAL
    plain = _LINE.sub(lambda m: "_" * len(m[0]), text) if lines else text
    found = _NUMBER.finditer(_NO_FIGURE.sub(lambda m: "_" * len(m[0]), plain))
    return [(m[0], f"{text[: m.start()]}[{m[0]}]{text[m.end() :]}") for m in found if m[0] not in _NO_VALUE]


def _with_its_unit(number: str, sentence: str) -> str:
    """A number with the unit that stands behind it: "one bar" is no psi."""
    unit = _UNIT.match(sentence.partition("]")[2])
    said = number.replace("-", " ")
    return normalise(f"{said}{unit[0]}" if unit else said)


def as_placed(question: Question, words: str, said: Meaning) -> Meaning:
    """What was understood, with its numbers as the sense places them: asked back where it places one otherwise, or where nothing
    else understood them and it is not quite sure; without its doubt where it places all of them alike.

    Args:
        question: what was asked, with its step.
        words: as typed.
        said: what the tables understood.
    """
    numbers = marked(words)
    known = any(thing_of(id_) for id_ in (question.asking, *question.also))
    if not known or not numbers or question.pending or not isinstance(said, Answer | NotUnderstood):
        return said
    told = {part.id: part for part in said.parts} if isinstance(said, Answer) else {}
    plain = bool(told) and not any(part.doubt for part in told.values())
    run_on = len(numbers) < sum(isinstance(part.value, float) for part in told.values())  # "nine two fourteen"
    heard = plain and any(thing_of(id_) for id_ in told)  # else a number stands beside a choice, and nothing took it yet
    if any(part.id == "alarm_minutes_ago" and part.doubt.endswith("?") for part in told.values()):
        return said  # "at ten to three": a time of day, and no two numbers
    if any(part.low is not None for part in told.values()):
        return said  # "swinging between two twenty and two sixty": its ends are no two readings
    if any(thing_of(id_) and not isinstance(part.value, float) for id_, part in told.items()):
        return said  # "four point one, open, four point two": one of them is no number
    if (heard and (len(numbers) < _SEVERAL or _only_numbers(words))) or run_on or is_question(normalise(words)):
        return said  # numbers alone stand in the order in which they were asked
    found, least = placed(question, words)
    if not found:
        return said
    others = [part for part in told.values() if not thing_of(part.id)]
    numbers_told = [part for part in told.values() if thing_of(part.id)]
    agrees = all(told[id_].value == part.value for id_, part in found.items() if id_ in told)
    if least < SURE:
        return said if agrees or not told else all_asked_back(Answer(tuple(told.values())))
    if told and agrees and (found.keys() <= told.keys() or all(part.id in found for part in numbers_told)):
        return Answer((*others, *found.values())) if least >= VERY_SURE and len(found) >= len(numbers_told) else said
    sure = least >= VERY_SURE and not told
    parts = [part if sure or part.doubt else replace(part, doubt=".") for part in found.values()]
    return Answer((*others, *parts))


def _only_numbers(words: str) -> bool:
    return set(re.findall(r"[a-z]+", words.lower())) <= FIGURES | {"and", "then", "a"}


def surely_placed(question: Question, words: str, said: Answer) -> bool:
    """Whether the sense is sure that all that was taken are these numbers, each of just this reading."""
    found, least = placed(question, words)
    return bool(found) and least >= VERY_SURE and all(part.id in found and found[part.id] == part for part in said.parts)


def placed(question: Question, words: str) -> tuple[dict[str, Part], float]:
    """Each number of a sentence as the reading that it is, of those that are asked or may be told, and how likely it is that all
    are; nothing where a number cannot be its reading, or none is of any that was asked.

    Args:
        question: what was asked, with its step.
        words: as typed.
    """
    asked = (question.asking, *question.also)
    may_be = {thing_of(id_): id_ for id_ in (*question.volunteer[::-1], *asked[::-1]) if thing_of(id_)}
    way, likelihood = _likeliest(question.step, words, tuple(may_be))
    found: dict[str, Part] = {}
    for (number, sentence), told in zip(marked(words), way, strict=True):
        for thing in told:
            part = one(question, may_be[thing], _with_its_unit(number, sentence))
            if not isinstance(part, Part):
                return {}, 0.0
            found[part.id] = part
        if not told and _in_another_unit(question, asked, _with_its_unit(number, sentence)):
            return {}, 0.0
        if len(told) > 1 and not (sum(map(bool, way)) == 1 and _ALIKE.search(words.lower())):
            likelihood = min(likelihood, SURE)  # of alike ones it is asked whether all are
    if not set(asked) & set(found):
        return {}, 0.0
    return dict(sorted(found.items(), key=lambda told: asked.index(told[0]) if told[0] in asked else len(asked))), likelihood


def _in_another_unit(question: Question, asked: Sequence[str], number: str) -> bool:
    """Whether a number is told in a unit that this site does not use."""
    return any(isinstance(one(question, id_, number), AskFor) for id_ in asked)


def _likeliest(step: str, words: str, may_be: tuple[str, ...]) -> tuple[tuple[frozenset[str], ...], float]:
    """For each number the things that it is of, in the likeliest way that tells none twice, and how likely that is among all
    such ways; 0 where it is not likely by itself. What one number puts right may be of one thing with it.

    Args:
        step: the step that asks.
        words: as typed.
        may_be: the things that are asked or may be told.
    """
    numbers = marked(words)
    ways: list[tuple[tuple[frozenset[str], ...], float]] = [((), 1.0)]
    for at, (_, sentence) in enumerate(numbers):
        chances = likely(AMONG, sentence, prompt_of(step))
        row = {thing: chances.get(f"{AMONG}={thing}", 0.0) for thing in may_be}
        puts_right = at > 0 and _put_right(numbers[at - 1][1], sentence)
        choices = [(told, _all_of(row, told)) for told in _may_tell(row)]
        ways = [
            ((*way, told), weight * chance) for way, weight in ways for told, chance in choices
            if chance > _NO_WAY and (puts_right or not any(told & before for before in way))
        ]  # fmt: skip
        ways = sorted(ways, key=lambda one_: -one_[1])[:_KEPT]
    whole = sum(weight for _, weight in ways)
    if not ways or ways[0][1] < _BY_ITSELF:
        return tuple(frozenset() for _ in numbers), 0.0
    return ways[0][0], ways[0][1] / whole


def _may_tell(row: Mapping[str, float]) -> list[frozenset[str]]:
    """Nothing, one thing, or two or three alike."""
    alike = sorted(OF_THREE & row.keys())
    several = [frozenset(some) for n in (2, 3) for some in combinations(alike, n)]
    return [frozenset(), *(frozenset({thing}) for thing in row), *several]


def _all_of(row: Mapping[str, float], told: frozenset[str]) -> float:
    return prod(chance if thing in told else 1 - chance for thing, chance in row.items())


def _put_right(before: str, sentence: str) -> bool:
    """Whether what stands between two numbers puts the first right."""
    start = len(before.partition("]")[0]) - 1
    behind = sentence.partition("]")[2].lstrip(" ,")
    return bool(PUTS_RIGHT.search(sentence[start : sentence.index("[")]) or PUTS_RIGHT.match(behind))


@cache
def thing_of(id_: str) -> str:
    """What a reading is to the sense; empty for one that it does not know."""
    return next((thing for thing, ids in THINGS.items() if id_ in ids), "")
