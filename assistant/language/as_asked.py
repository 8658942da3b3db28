"""The words as the question itself would have them, where people have another way to say just that: `as_asked.toml`."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from assistant.language.meaning import Question
from assistant.language.vocabulary import vocabulary


@dataclass(frozen=True)
class _Row:
    asking: frozenset[str]
    of: frozenset[str]
    """Readings at whose read-back it is said too."""
    offers: frozenset[str]
    """Words that a look or a go-ahead offers, where no reading is asked."""
    pattern: re.Pattern[str]
    plainly: str


@cache
def _rows() -> tuple[_Row, ...]:
    with open(Path(__file__).with_name("as_asked.toml"), "rb") as file:
        rows = tomllib.load(file)["row"]
    return tuple(
        _Row(
            asking=frozenset(id_ for name in row.get("asking", ()) for id_ in _ids(name)),
            of=frozenset(row.get("of", ())),
            offers=frozenset(row.get("offers", ())),
            pattern=re.compile(row["pattern"]),
            plainly=row["plainly"],
        )
        for row in rows
    )


def _ids(name: str) -> list[str]:
    """The reading of this name; of one that ends in a dot, "dead_volts.", each of its kind."""
    return [id_ for id_ in vocabulary() if id_.startswith(name)] if name.endswith(".") else [name]


_NUMBER = r"(?:one|two|three|four|five|six|seven|eight)"
_EACH_RUNS = re.compile(
    rf"\b((?:number )?{_NUMBER}(?:,? (?:number )?{_NUMBER})*,? and (?:number )?{_NUMBER})"
    r" (?:are|is|'re)(?: still| all| both)? (?:running|on|going|up)\b"
)
_COUNTED = ("", "one", "two", "three", "four", "five", "six", "seven", "eight")
_AT_LEAST = re.compile(
    r"\b(?:better than|more than|north of|at least|over|above|upwards of)"
    r" (?=(?:a |one |two |three |four |five |six |\w+ )?\w+ meg)"
)
_ON_ITS_SIDE = re.compile(r"^(.+) on (?:the )?(control|power|line|load)(?: side| circuit| terminals)?$")
_STARTS = re.compile(r",? (?:and )?(?:she's|it's|she is|it is) (?:starting(?: up)?|coming up|spinning up)$")


_WHICH_FIRST = frozenset("which first".split())
_THE_FIRST = re.compile(
    r"^(?:the )?first(?: one| open)?(?: one)?(?:'s| is) (?=the |oil|discharge|high|low|motor|contact|number)"
    r"|[,.]? (?:and )?(?:then|after that|second(?: one)?(?:'s| is)?|the second(?: one)?(?:'s| is)?|next(?:'s| is)?)\b.*$"
    r"|[,.] (?:and )?(?:the )?\w+(?: pressure)?(?:'s| is) (?:behind|second|after|next|further)\b.*$"
)
"""Of two contacts that are open, the one behind, where the first is asked for."""
_DONT_KNOW_THE_REST = re.compile(
    r"(?<=\w)(?:[,.] (?:and |but )?| and | but )(?:i )?(?:don't know|couldn't tell you|couldn't say|can't say|no idea)"
    r"(?: (?:the|how|when|what|about|that|which)\b[^,.]*)?$"
)
"""Of several things that were asked, the one that he cannot tell: it is asked by itself, and skipped there."""


def as_asked(question: Question, words: str) -> str:
    """The words as the question would have them.

    >>> as_asked(Question("running_now", also=("running_count",)), "it's off, one and three are running")
    "it's off, two running"
    >>> as_asked(Question("control_power_off"), "okay, I killed it and locked it back out")
    'power off'
    """
    asked, said = question.asking, re.sub(r"\s*,\s*", ", ", words.lower().strip(" ."))
    if asked == "ground_megohms":
        return _AT_LEAST.sub("", words)  # a tester that stops at its range's end tells no more, and less passes too
    if "running_count" in (asked, *question.also) and (each := _EACH_RUNS.search(said)):
        named = re.findall(_NUMBER, each[1])
        return f"{said[: each.start()]}{_COUNTED[len(named)]} running{said[each.end() :]}"
    if asked in ("dead_volts.control", "dead_volts.power") and (side := _ON_ITS_SIDE.match(said)):
        return side[1] if (side[2] == "control") == (asked == "dead_volts.control") else words
    if asked == "chain_dead_check" and set(question.about) >= _WHICH_FIRST and (first := _THE_FIRST.sub("", said)) != said:
        return first
    if "reset" in question.go_ahead:
        return _STARTS.sub("", words)
    plainly = _DONT_KNOW_THE_REST.sub("", said) if question.also and not question.all_good else said
    for row in _rows():
        here = {asked, *question.also} & row.asking or row.offers & set(question.go_ahead)
        if here or (asked == "confirm" and question.of in row.of):
            plainly = row.pattern.sub(row.plainly, plainly).strip()
    return plainly if plainly and plainly != said else words
