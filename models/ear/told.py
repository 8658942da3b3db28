"""Whole sentences as people answer a step: the tests' tables, and `natural.txt`, written by strangers who saw the prompts alone.

Each is said as it stands; where a number of two words or more stands in it, once more with another number.
"""

import re
import tomllib
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random
from typing import Any

from assistant.language.numbers import DIGITS, TEENS, TENS

TABLES = Path(__file__).parents[2] / "tests" / "language"
NUMBER = frozenset((*DIGITS, *TEENS, *TENS, "zero", "oh", "hundred", "thousand", "point"))
LONGEST = 18
"""Words: nine seconds are the most that an answer has in training."""


def told(draw: Random, whole: Callable[[], str], left_out: frozenset[str]) -> Iterable[tuple[str, str]]:
    """Sentences: (words, the same with the commas that were written).

    Args:
        draw: chance.
        whole: gives a whole number in words.
        left_out: sentences, as `plain` has them, that are kept for judging.
    """
    tables = [tomllib.loads(file.read_text(encoding="utf-8")) for file in sorted(TABLES.glob("*.toml"))]
    written = {said for table in tables for said in _strings(table)}
    written |= set(Path(__file__).with_name("natural.txt").read_text(encoding="utf-8").split("\n"))
    for said in sorted({_commas(said) for said in written} - {""}):
        if plain(said) in left_out or len(said.split()) > LONGEST:
            continue
        yield plain(said), said
        other = _otherwise(said.split(), draw, whole)
        if other != said:
            yield plain(other), other


def plain(said: str) -> str:
    """Its words alone."""
    return _commas(said).replace(",", "")


def _strings(table: Any) -> Iterable[str]:
    if isinstance(table, str):
        yield table
    for part in table.values() if isinstance(table, dict) else table if isinstance(table, list) else ():
        yield from _strings(part)


def _commas(said: str) -> str:
    """In small letters, with no mark but commas; nothing where figures stand, which are typed."""
    if re.search(r"\d", said):
        return ""
    words = re.sub(r"[^a-z', ]", " ", re.sub(r"[.;:!?]", ",", said.lower().replace("’", "'")))
    return re.sub(r"\s*,[\s,]*", ", ", " ".join(words.split())).strip(" ,")


def _otherwise(words: list[str], draw: Random, whole: Callable[[], str]) -> str:
    """The same with another number where one of two words or more stands."""
    out: list[str] = []
    at = 0
    while at < len(words):
        end = at
        while end < len(words) and words[end].rstrip(",") in NUMBER and not (end > at and words[end - 1].endswith(",")):
            end += 1
        if end - at >= 2:
            out.append(whole() + "," * words[end - 1].endswith(","))
        else:
            out += words[at : max(end, at + 1)]
        at = max(end, at + 1)
    return " ".join(out)
