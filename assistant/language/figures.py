"""Spoken words to figures and back, for an ear that writes what it hears: "two oh eight", "208"."""

import re
from decimal import Decimal

from assistant.language.numbers import DIGITS, TEENS, TENS, number, spoken_number

_COUNTING = frozenset((*DIGITS, *TEENS, *TENS, "oh", "zero", "hundred", "thousand", "point"))
_JOINING = frozenset(("and", "a"))
_FIGURES = re.compile(r"\d*\.\d+|\d+")


def written(words: str) -> tuple[str, ...]:
    """The ways in which words with a number may be written, the words themselves first.

    >>> written("minus twenty five degrees")
    ('minus twenty five degrees', 'minus 25 degrees', '-25 degrees')
    """
    forms = [words]
    figures = _with_figures(words.split())
    forms.append(figures)
    for sign in ("minus ", "negative "):
        if figures.startswith(sign):
            forms.append("-" + figures.removeprefix(sign))
    return tuple(dict.fromkeys(forms))


def _with_figures(words: list[str]) -> str:
    """Each longest run of words that is a number as its figures."""
    out: list[str] = []
    at = 0
    while at < len(words):
        end = at
        while end < len(words) and (words[end] in _COUNTING or (words[end] in _JOINING and end > at)):
            end += 1
        while end > at and (figures := _figures(words[at:end])) is None:
            end -= 1
        out.append(words[at] if end == at else str(figures))
        at = max(end, at + 1)
    return " ".join(out)


def _figures(words: list[str]) -> str | None:
    try:
        value = Decimal(repr(number(" ".join(words))))
    except ValueError:
        return None
    return f"{value:f}".removesuffix(".0")


def spoken(text: str) -> str:
    """Written text as the words that were said, in lower case: figures side by side are one number.

    >>> spoken("2-08 PSI."), spoken("-25"), spoken("1, 47.3 volts")
    ('two oh eight psi', 'minus twenty five', 'one forty seven point three volts')
    """
    text = re.sub(r"(?<=\d),(?=\d{3}\b)", "", text.lower().replace("%", " percent"))
    text = re.sub(r"(?:^|(?<=\s))-(?=\.?\d)", "minus ", text)
    text = re.sub(r"[^\w.']|\.(?!\d)", " ", text)
    return " ".join(_FIGURES.sub(lambda found: f" {_words(found[0])} ", text).split())


def _words(figures: str) -> str:
    whole, point, after = figures.partition(".")
    said = " ".join(_digit(f) for f in whole) if whole[:1] == "0" else spoken_number(float(whole)) if whole else ""
    return f"{said} point {' '.join(_digit(f) for f in after)}" if point else said


def _digit(figure: str) -> str:
    return "oh" if figure == "0" else DIGITS[int(figure) - 1]
