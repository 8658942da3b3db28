"""What people hang on an answer, and how they put themselves right in the middle of one."""

import re
import tomllib
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from assistant.language.numbers import DIGITS
from assistant.language.phrasebook import endings_in_ing

HUM = re.compile(r"^\s*(?:mm[ -]?hm+|mhm+|uh[ -]?huh)\s*[,.]\s*(?=\w)", re.IGNORECASE)
"""In front of an answer: no assent alone, and nothing beside one."""

KEPT = 4096
"""Sentences and clauses whose rewording is kept: an answer's clauses are looked at many times over, each time alike."""


@cache
def _table() -> dict[str, dict[str, Any]]:
    with open(Path(__file__).with_name("hedges.toml"), "rb") as file:
        return tomllib.load(file)


def plainly_said(words: str) -> str:
    """The words with those of a region put plainly.

    >>> plainly_said("aye she ain't runnin")
    "yes she isn't running"
    """
    plain = _table()["plain"]
    return " ".join(plain.get(word, word) for word in map(_whole, words.split()))


@lru_cache(maxsize=KEPT)
def otherwise_said(words: str) -> str:
    """The words with others that mean the same: what is looked at where they were not understood as they are.

    >>> otherwise_said("the fan's no running"), otherwise_said("the bottle's half shut")
    ("the fan's not running", "the cylinder's part closed")
    """
    alike = _table()["alike"]
    said = " ".join(alike.get(word, word) for word in words.split())
    for pattern, instead in _put_plainly():
        said = pattern.sub(instead, said)
    return said


def _whole(word: str) -> str:
    """ "Sitting" for "sittin": where the grammars know the longer word."""
    bare = word.removesuffix("'")
    return f"{bare}g" if len(bare) > 4 and bare.endswith("in") and f"{bare}g" in endings_in_ing() else word


@lru_cache(maxsize=KEPT)
def unstressed(words: str) -> str:
    """The words without what only stresses them.

    >>> unstressed("one of them's a whole lot hot")
    "one of them's hot"
    """
    tokens = tuple(words.split())
    kept: list[str] = []
    at = 0
    while at < len(tokens):
        stress = next((s for s in hedges()["stress"] if tokens[at : at + len(s)] == s), None)
        kept += [] if stress else [tokens[at]]
        at += len(stress) if stress else 1
    return " ".join(kept) or words


_LABEL = re.compile(r"\b([a-fA-F])[ -]?([1-9])\b")
"""A machine by its letter and figure, as it is typed: "A1"."""


@lru_cache(maxsize=KEPT)
def at_once_plainly(words: str) -> str:
    """The words as typed, with those that never mean anything else put plainly before anything is looked for in them.

    >>> at_once_plainly("the other three are humming along"), at_once_plainly("no defrost running, I don't think")
    ('the other three are running', 'no defrost running')
    """
    words = _LABEL.sub(lambda label: f"{label[1]} {DIGITS[int(label[2]) - 1]}", words.strip().rstrip(".!"))
    for pattern, instead in _plain_at_once():
        words = pattern.sub(instead, words)
    return words


@cache
def _plain_at_once() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(row["pattern"], re.IGNORECASE), row["plainly"]) for row in _rows("plain_at_once"))


def _rows(name: str) -> list[dict[str, str]]:
    rows: Any = _table()[name]
    return list(rows)


@cache
def _put_plainly() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(row["pattern"]), row["plainly"]) for row in _rows("put_plainly"))


@cache
def _asides() -> tuple[tuple[re.Pattern[str], bool], ...]:
    rows: Any = _table()["aside"]
    return tuple((re.compile(row["pattern"]), bool(row.get("numbers"))) for row in rows)


def is_aside(words: str, number: bool) -> bool:
    """Whether a clause tells only how good it is, where it comes from or who was told.

    Args:
        words: normalised, one clause.
        number: a number is answered beside it: how it feels changes nothing of one, though it might of a word.

    >>> is_aside("that's not great", True), is_aside("that's not great", False), is_aside("first time here", False)
    (True, False, True)
    """
    return any((number or not numbers) and pattern.fullmatch(words) for pattern, numbers in _asides())


@cache
def steering_at_once() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Sentences that are a command and can be nothing else at any question: pattern of the whole, and the command."""
    return tuple((re.compile(row["pattern"]), row["command"]) for row in _rows("steering_at_once"))


@cache
def steering() -> tuple[tuple[re.Pattern[str], str, str], ...]:
    """Sentences that steer a call, each with its command and the words that are an answer instead where they are offered; `what`
    is what they are about."""
    return tuple((re.compile(row["pattern"]), row["command"], row.get("unless_offered", "")) for row in _rows("steering"))


@cache
def hedges() -> dict[str, tuple[tuple[str, ...], ...]]:
    """The phrases of `hedges.toml` by their kind, as words, the longest first."""
    split = {kind: {tuple(phrase.split()) for phrase in phrases} for kind, phrases in _table()["phrases"].items()}
    return {kind: tuple(sorted(phrases, key=lambda words: (-len(words), words))) for kind, phrases in split.items()}


@cache
def _starting(number: bool) -> dict[str, list[tuple[str, ...]]]:
    found: dict[str, list[tuple[str, ...]]] = {}
    for phrase in (*hedges()["leads"], *(hedges()["number_leads"] if number else ())):
        found.setdefault(phrase[0], []).append(phrase)
    return found


@cache
def _ending(number: bool) -> dict[str, list[tuple[str, ...]]]:
    found: dict[str, list[tuple[str, ...]]] = {}
    for phrase in (*hedges()["tails"], *(hedges()["number_tails"] if number else ())):
        found.setdefault(phrase[-1], []).append(phrase)
    return found


@lru_cache(maxsize=KEPT)
def without_sounds(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words without what is only breath between them; the same where nothing else is left."""
    kept: list[str] = []
    at = 0
    sounds = hedges()["sounds"]
    while at < len(words):
        sound = next((s for s in sounds if words[at : at + len(s)] == s), None)
        if sound is None:
            kept.append(words[at])
            at += 1
        else:
            at += len(sound)
    return tuple(kept) or words


@cache
def hedge_words(kind: str) -> frozenset[str]:
    """Every word of one kind of hedges; of `turning`: what may turn what it stands beside, date it or make it another's."""
    return frozenset(word for phrase in hedges()[kind] for word in phrase)


def is_sound(words: str) -> bool:
    """Whether these words are only breath: "um"."""
    return tuple(words.split()) in hedges()["sounds"]


@lru_cache(maxsize=KEPT)
def bared(words: tuple[str, ...], number: bool = False) -> tuple[tuple[str, ...], ...]:
    """The words, then with ever more taken off both ends: each with what was hung on it, nearest to what was said first.

    Args:
        words: none give none.
        number: what people hang on a number too ("about"): of a thing done it would say that it is not done yet.

    >>> [" ".join(form) for form in bared(("it's", "about", "two", "ten"), True)]
    ["it's about two ten", 'about two ten', 'two ten']
    """
    found: dict[tuple[str, ...], None] = {}
    waiting = [words]
    while waiting:
        form = waiting.pop(0)
        if form in found or not form:
            continue
        found[form] = None
        for lead in _starting(number).get(form[0], ()):
            if len(form) > len(lead) and form[: len(lead)] == lead:
                waiting.append(form[len(lead) :])
        for tail in _ending(number).get(form[-1], ()):
            if len(form) > len(tail) and form[-len(tail) :] == tail:
                waiting.append(form[: -len(tail)])
    return tuple(found)


def put_right(words: tuple[str, ...], bare_no: bool = True) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """What was said first and what it was put right to: "two ten, no, two twelve".

    Args:
        words: normalised.
        bare_no: a no alone puts right what was said before it; else it may belong to what follows ("no bubbles").
    """
    for cut in range(len(words) - 2, 0, -1):
        for phrase in hedges()["corrects"]:
            if phrase == ("no",) and not bare_no:
                continue
            if words[cut : cut + len(phrase)] == phrase and len(words) > cut + len(phrase):
                yield words[:cut], words[cut + len(phrase) :]
                break


def weakened(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words without what makes them a guess; empty where nothing does."""
    for phrase in hedges()["weak"]:
        n = len(phrase)
        if len(words) > n and words[:n] == phrase:
            return words[n:]
        if len(words) > n and words[-n:] == phrase:
            return words[:-n]
    return ()
