"""Words of how things stand, put into the word that the question knows: "roasting" is "hot" at a motor's shell."""

import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from assistant.language.meaning import Question
from assistant.language.spotting import looks, phrases_of
from assistant.language.vocabulary import vocabulary

_LONGEST = 8


@cache
def _table() -> dict[str, Any]:
    with open(Path(__file__).with_name("classes.toml"), "rb") as file:
        return tomllib.load(file)


@cache
def _members() -> dict[tuple[str, ...], tuple[str, ...]]:
    """Each phrase with the classes that it is in."""
    found: dict[tuple[str, ...], tuple[str, ...]] = {}
    for name, phrases in _table()["class"].items():
        for phrase in phrases:
            key = tuple(phrase.split())
            found[key] = (*found.get(key, ()), name)
    return found


@cache
def _frames() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(row["pattern"]), row["plainly"]) for row in _table()["frame"])


def framed(words: str) -> str:
    """The words in a plainer frame, whatever they say in it.

    >>> framed("the gauge is showing twelve")
    "it's twelve"
    """
    said = words
    for pattern, plainly in _frames():
        said = " ".join(pattern.sub(plainly, said).split())
    return said or words


def in_its_words(question: Question, words: str) -> str:
    """The words with each of a class put into the one of it that this question knows; as they were where it knows none.

    >>> in_its_words(Question("condenser_face"), "it's boggin")
    "it's fouled"
    """
    known = _known(question)
    tokens = tuple(words.split())
    said: list[str] = []
    at = 0
    while at < len(tokens):
        lengths = range(min(_LONGEST, len(tokens) - at), 0, -1)
        span, instead = next(((n, word) for n in lengths if (word := _instead(tokens[at : at + n], known))), (1, ""))
        said.append(instead or tokens[at])
        at += span
    return " ".join(said)


def _instead(phrase: tuple[str, ...], known: dict[tuple[str, ...], str]) -> str:
    """The word of its class that is known to the question; empty where none is, or it means two things there."""
    bare = (phrase[0].removesuffix("'"), *phrase[1:]) if len(phrase) == 1 else phrase
    if phrase in known:
        return " ".join(phrase)  # it is one of the question's own: left as it is
    ways: dict[str, str] = {}
    for name in _members().get(bare, ()):
        for other in _table()["class"][name]:
            if tag := known.get(tuple(other.split())):
                ways.setdefault(tag, other)
                break
    return next(iter(ways.values())) if len(ways) == 1 else ""


def _known(question: Question) -> dict[tuple[str, ...], str]:
    """What the question knows, with what each means; nothing of what is acknowledged: that is said by deeds."""
    found: dict[tuple[str, ...], str] = {}
    for id in (question.asking, *question.also):
        if id in vocabulary() and vocabulary()[id].kind in ("choice", "yes_no") and not vocabulary()[id].from_profile:
            found |= {phrase: f"{id} {tag}" for phrase, tag in phrases_of(id).items() if not tag.startswith(("ask ", "command "))}
    if question.asking == "command" and (question.look or "understood" in question.go_ahead):
        found |= looks(question)
    return found
