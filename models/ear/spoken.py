"""How people bring a reading out: with a sound before it, a hedge, a second start, a word hung on; and digits one by one."""

from collections.abc import Callable, Iterable
from random import Random

SPOKEN, DIGITS_ONLY, LONGEST = 5000, 2400, 11
SOUNDS = ("uh", "um", "uh", "er")
HEDGES = (
    "about|around|roughly|maybe|i think|i think it's|looks like|it looks like|say|call it|just about|just under|just over|"
    "almost|it's|it's about|that's|that's about|it's at|it's reading|it reads|reads|reading|i've got|i got|we've got|we're at|"
    "got|there's|it says|it shows|showing|it's showing|okay|well|so|right|now|now it's|still|a|the|up around|down around|like"
).split("|")
"""Said before a reading."""
ENDS = (
    "uh|um|or so|about|i think|i guess|now|ish|right now|give or take|roughly|there|okay|yeah|on the gauge|so"
).split("|")  # fmt: skip
"""Hung on behind it."""
TAKEN_BACK = ("no", "sorry", "no sorry", "no wait", "i mean", "uh", "um", "make that", "correction")
"""Between a reading and another."""


def spoken(draw: Random, whole: Callable[[], str], answers: list[str]) -> Iterable[tuple[str, str]]:
    """Readings and short answers as people say them: (words, the same with commas where one stops).

    Args:
        draw: chance.
        whole: gives a whole number in words.
        answers: short answers that are no numbers.
    """
    many = 0
    while many < SPOKEN:
        value = whole() if draw.random() < 0.8 else draw.choice(answers)
        said = _said(draw, value, whole)
        if len(said.split()) <= LONGEST:
            many += 1
            yield said.replace(",", ""), said


def _said(draw: Random, value: str, whole: Callable[[], str]) -> str:
    """One of the ways, with its commas."""
    stop = draw.choice((",", ",", ""))
    way = draw.random()
    if way < 0.26:
        return f"{draw.choice(SOUNDS)}{stop} {value}"
    if way < 0.52:
        return f"{draw.choice(HEDGES)} {value}"
    if way < 0.62:
        return f"{draw.choice(SOUNDS)}{stop} {draw.choice(HEDGES)} {value}"
    if way < 0.76:
        return f"{value}{stop} {draw.choice(ENDS)}"
    words = value.split()
    at = draw.randrange(1, len(words) + 1) if len(words) > 1 else 1
    begun, rest = " ".join(words[:at]), " ".join(words[at:])
    if way < 0.88 and rest:  # a sound where one looks again
        return f"{begun}, {draw.choice(SOUNDS)}{stop} {rest}"
    if way < 0.95:  # begun, and begun anew
        sound = f" {draw.choice(SOUNDS)}," if draw.random() < 0.5 else ""
        return f"{begun},{sound} {value}"
    return f"{value}, {draw.choice(TAKEN_BACK)} {whole()}"


def one_by_one(draw: Random) -> Iterable[tuple[str, str]]:
    """Digits as one reads them off: (words, with commas)."""
    names = "zero one two three four five six seven eight nine".split()
    for _ in range(DIGITS_ONLY):
        digits = [draw.choice(names) for _ in range(draw.choice((2, 2, 3, 3, 3, 3, 4, 5)))]
        digits = ["oh" if word == "zero" and draw.random() < 0.6 else word for word in digits]
        stop = draw.choice((" ", ", ", ", "))
        tail = f" point {draw.choice(names)}" if draw.random() < 0.06 else ""
        said = stop.join(digits) + tail
        yield said.replace(",", ""), said
