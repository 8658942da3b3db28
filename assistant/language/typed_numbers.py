"""What a number in a typed sentence belongs to: another unit, a sum, a name on a list, or the number that it puts right."""

import itertools
import re

from assistant.language.grammar import normalise, understand
from assistant.language.hedges import hedges
from assistant.language.lone_numbers import FIGURES, SOME_OF_THEM
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.vocabulary import Entry, vocabulary

_OTHER_SYSTEM = {
    "us": r"celsius|centigrade|c|kelvin|bars?|barg|kilopascals?|kpa|k p a|kilos?(?! ohms?\b)|kilograms?|kg|grams?|lit(?:er|re)s?",
    "si": r"fahrenheit|f|kelvin|psi|psig|p s i|kilopascals?|kpa|k p a|pounds?|ounces?|quarts?|gallons?",
}
_SMALLER = r"(?:milli|micro|kilo)(?:volts?|amps?|ohms?)|mv|kv|ma"


_ALL_BUT = re.compile(
    rf"\b(?:all|everything|every one|everyone) (?:but|except) (?:{'|'.join(FIGURES)}|\d+)\b(?!.*\b(?:{'|'.join(FIGURES)}|\d)\b)"
)


_SIGH = re.compile(
    r"(?:(?<=, )|(?<!\w))oh ?,? (?=(?:half|about|maybe|say|around|roughly|a|an|call|i|it|we|they)\b)"
    r"|, ?oh ?,(?! ?(?:oh|one|two|three|four|five|six|seven|eight|nine)\b)"
)
"""An oh that is none of a number: "the one, oh, half an hour ago"."""
_COMPARED = re.compile(
    r",? ?\b(?:and |but |so )?(?:that's|it's|which is|which isn't|that isn't)[\w ']*"
    r" (?:better|worse|higher|lower|more|less|warmer|colder|cooler|hotter) than"
    r" (?:(?:what )?(?:it|that|she) (?:was|read|had|did)|when (?:it|she|we|i) (?:was|were|had|read)"
    r"|last (?:time|week|month|night|visit)|yesterday|before|this morning)(?: \w+){0,3}$"
)
"""What is told of another time to say how it is now."""
_MAKE_IT = re.compile(
    rf"\b(?:no|wait|sorry|scratch that|hang on)\b(?:(?!\b(?:{'|'.join(FIGURES)})\b)[^\d])*\b(?:make|call) (?:it|that) "
    rf"(?=(?:a |about )?(?:{'|'.join(FIGURES)}|\d|half)\b)"
)
"""What leads to the number that puts the one before it right, with a reason between them."""


_CALLED = re.compile(
    rf"^(?:(?:{'|'.join(FIGURES)}|and|a|about|around|say|or|maybe|possibly|perhaps|well|so|no|degrees?|pounds?|volts?|ohms?|amps?|percent"
    rf"|[\d.]+)[ ,]+)+(?:let's |i'd |i'll |we'll )?(?:call|make|say) it (?=(?:{'|'.join(FIGURES)}|\d))"
)
"""What somebody settles on: "two forty five, maybe two forty six, call it two forty five"."""
_AFTER_IT = re.compile(rf"\b(after|before|past|behind|beyond) (?:that|this) one,? (?=(?:{'|'.join(FIGURES)}|\d))")
"""A thing, and no one of a number: "it's gone after that one zero"."""


def plainly_numbered(question: Question, words: str) -> str:
    """The words without what is said around a number and is none of it.

    >>> plainly_numbered(Question("tripped_count", ("alarm_minutes_ago",)), "just the one, oh, half an hour ago")
    'just the one, half an hour ago'
    >>> plainly_numbered(Question("ground_megohms"), "ninety meg, that's better than last time")
    'ninety meg'
    >>> plainly_numbered(Question("refrigerant_recovered"), "seven no wait tare was off make it six")
    'seven no , six'
    """
    kinds = {vocabulary()[id_].kind for id_ in (question.asking, *question.also) if id_ in vocabulary()}
    of_numbers = [kind for kind in kinds if kind in NUMBER_KINDS]
    if not of_numbers:
        return words
    words = _SIGH.sub(lambda sigh: "," if sigh[0][0] == "," else "", words)
    if len(of_numbers) < len(kinds):
        return words
    words = _AFTER_IT.sub(r"\1 it , ", _CALLED.sub("", words) or words)
    return _MAKE_IT.sub("no , ", _COMPARED.sub("", words) or words)


def no_number_of_its_own(question: Question, text: str) -> bool:
    """Whether a number is said in a unit that this site does not use, or of some machines: it is never taken for a reading."""
    kinds = [vocabulary()[id_].kind for id_ in (question.asking, *question.also) if id_ in vocabulary()]
    numbers = any(kind in NUMBER_KINDS for kind in kinds)
    if numbers and "count" not in kinds and SOME_OF_THEM.search(text):
        return True
    if numbers and _ALL_BUT.search(text):
        return True
    figure = rf"(?:{'|'.join(map(re.escape, FIGURES))}|\d+|degrees?)"
    return numbers and bool(re.search(rf"\b{figure} (?:{_OTHER_SYSTEM[question.units]}|{_SMALLER})\b", text))


def unless_numbered(said: Meaning, text: str) -> Meaning:
    """What such a sentence means, but for a number: it is in the other unit, or of something else."""
    numbered = (
        isinstance(said, Answer)
        and not _ALL_BUT.search(text)
        and any(isinstance(part.value, float) and not part.doubt for part in said.parts)
    )
    return NotUnderstood() if numbered else said


_WORKED_OUT = re.compile(
    r".*\b(?:so(?: (?:it|that|she|call it|about))?(?:'s| is| has| rose| fell| dropped| climbed| came up| went up| makes)?"
    r"|that(?:'s| is| makes)|which (?:is|makes)|makes(?: it)?|call it)(?: up| down)?(?: by)? (?P<rest>\S.*)"
)


def worked_out(question: Question, words: str) -> Meaning:
    """ "Eighty nine in and eighty seven out that's two degrees": where a difference is asked for, what it comes to."""
    entry = vocabulary().get(question.asking)
    match = _WORKED_OUT.fullmatch(normalise(words))
    if entry is None or not match or question.also or not _is_difference(entry):
        return NotUnderstood()
    said = understand(question, match["rest"])
    sure = isinstance(said, Answer) and not any(part.doubt for part in said.parts)
    return said if sure and not is_question(words) else NotUnderstood()


def _is_difference(entry: Entry) -> bool:
    return entry.kind == "difference" or entry.id.endswith("_drop") or entry.id.startswith("refrigerant_")


def label_in_words(question: Question, piece: str) -> str:
    """ "R 22", "four zero seven a": a refrigerant as the site's list has it in words."""
    if question.asking not in _LABELS:
        return piece
    spoken = question.local.get(question.asking, {})
    names = {str(value).lower().removeprefix("r"): words for words, value in spoken.items()}
    told = _ZERO_INSIDE.sub(" oh ", piece)
    return _DIGITS_OF.sub(lambda match: names.get(match[1] + (match[2] or ""), match[0]), told)


_LABELS = ("refrigerant_label", "controller_refrigerant")
_ZERO_INSIDE = re.compile(r"(?<=\w) zero (?=\w)")
_DIGITS_OF = re.compile(r"\br? ?(\d{2,4}) ?([a-f])?\b")


def put_right_between(pieces: list[str]) -> list[str]:
    """ "Suction twenty, no sorry, twenty two": the number behind what puts it right in the place of the one before it."""
    for at in range(1, len(pieces) - 1):
        before, after = pieces[at - 1].split(), pieces[at + 1].split()
        ends = list(itertools.takewhile(lambda word: word in FIGURES, reversed(before)))
        # Its own name or place stays: "one to two is point eight, no, point nine".
        name = before[: -len(ends)] if ends else list(itertools.takewhile(lambda word: word not in FIGURES, before))
        numbers = len(name) < len(before) and after[:1] and after[0] in FIGURES
        if numbers and tuple(pieces[at].split()) in hedges()["corrects"]:
            return [*pieces[: at - 1], " ".join((*name, *after)), *pieces[at + 2 :]]
    return []
