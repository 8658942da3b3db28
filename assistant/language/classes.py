"""Words of how things stand, put into the word that the question knows: "roasting" is "hot" at a motor's shell.

`classes.toml` has those that mean the same wherever they are said, `only_here.toml` those of one question alone.
"""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from assistant.language.hedges import KEPT, bared, hedge_words
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.questions import is_question
from assistant.language.spotting import looks, phrases_of
from assistant.language.vocabulary import vocabulary

_LONGEST = 8
_TURNED = frozenset(("not", "no", "never", "de", "un", "non", "hardly", "barely", "almost", "nearly", "half", "without", "or"))
"""Before a word, these make another of it: "de energized"."""


@cache
def _table() -> dict[str, Any]:
    with open(Path(__file__).with_name("classes.toml"), "rb") as file:
        return tomllib.load(file)


@dataclass(frozen=True)
class _Row:
    """What is said at some questions with the word that it stands for."""

    of: frozenset[str]
    look: frozenset[str]
    about: frozenset[str]
    whole: bool
    """Only where nothing else is said in the clause."""
    words: dict[tuple[str, ...], str]


@cache
def _only_here() -> tuple[_Row, ...]:
    rows: list[dict[str, Any]] = []
    for name in ("only_here.toml", "said_whole.toml"):
        with open(Path(__file__).with_name(name), "rb") as file:
            rows += tomllib.load(file)["said"]
    return tuple(
        _Row(
            frozenset(row.get("of", ())),
            frozenset(row.get("look", ())),
            frozenset(row.get("about", ())),
            row.get("whole", False),
            {tuple(phrase.split()): word for word, phrases in row["words"].items() for phrase in phrases},
        )
        for row in rows
    )


def _said_here(question: Question, whole: bool = False) -> list[dict[tuple[str, ...], str]]:
    """What is said at this question alone, with the word that it stands for."""
    ids = {question.asking, *question.also}
    offered = {*question.go_ahead, *question.other_words}
    look = question.asking == "command"
    return [
        row.words
        for row in _only_here()
        if (whole or not row.whole)
        and (row.of & ids or (look and row.look and row.look <= offered and row.about <= set(question.about)))
    ]


def _of_anything(phrase: tuple[str, ...]) -> bool:
    """Whether a word may belong to anything: "off", "gone"."""
    return len(phrase) == 1 and phrase[0] in hedge_words("of_anything") | hedge_words("turning") | {"dead", "stopped"}


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


@lru_cache(maxsize=KEPT)
def framed(words: str) -> str:
    """The words in a plainer frame, whatever they say in it.

    >>> framed("the gauge is showing twelve")
    "it's twelve"
    """
    said = words
    for pattern, plainly in _frames():
        said = " ".join(pattern.sub(plainly, said).split())
    return said or words


@dataclass(frozen=True)
class _Here:
    """What a question understands in ways of its own: the same for every sentence said to it."""

    known: dict[tuple[str, ...], str]
    """What it knows as it is, with what each means."""
    whole: dict[tuple[str, ...], str]
    """What is said at it alone, with the word that it stands for; some of it only where nothing else is said."""
    rows: tuple[tuple[dict[tuple[str, ...], str], dict[tuple[str, ...], str]], ...]
    """Of what is said within a clause too, row by row: what it does not know as it is, and of that what is of this alone."""


def _here(question: Question) -> _Here:
    other_words = tuple(question.other_words.items())
    return _of_such(question.asking, question.also, tuple(question.go_ahead), other_words, question.look, tuple(question.about))


@lru_cache(maxsize=512)
def _of_such(
    asking: str, also: tuple[str, ...], go_ahead: tuple[str, ...], other_words: tuple[tuple[str, str], ...], look: bool,
    about: tuple[str, ...],
) -> _Here:  # fmt: skip
    question = Question(asking, also, go_ahead=go_ahead, other_words=dict(other_words), look=look, about=about)
    known = _known(question)
    rows = [{phrase: word for phrase, word in said.items() if phrase not in known} for said in _said_here(question)]
    return _Here(
        known,
        {phrase: word for said in _said_here(question, whole=True) for phrase, word in said.items()},
        tuple((row, {phrase: word for phrase, word in row.items() if not _of_anything(phrase)}) for row in rows),
    )


def whole_here(question: Question, words: str) -> str:
    """The word that all of these stand for at this question alone; empty where they are none of its own.

    >>> whole_here(Question("oil_level"), "it's well under half"), whole_here(Question("oil_level"), "half")
    ('low', '')
    """
    if is_question(words):
        return ""
    here = _here(question)
    form = next((form for form in bared(tuple(words.split())) if form in here.whole or form in here.known), ())
    return here.whole[form] if form in here.whole and form not in here.known else ""


def in_words_of_here(question: Question, words: str) -> str:
    """The words with those of this question alone put into its own.

    >>> in_words_of_here(Question("trip_spread"), "the whole lot quit in one shot")
    'the whole lot quit together'
    """
    tokens = tuple(words.split())
    for here, plain in _here(question).rows:
        if whole := next((here[form] for form in bared(tokens) if form in here), ""):
            return whole
        stood_for: set[str] = set()

        def instead_of(phrase: tuple[str, ...], before: str, _: str, plain: dict[tuple[str, ...], str] = plain) -> str:
            word = "" if before in _TURNED or before.endswith("n't") else plain.get(phrase, "")
            stood_for.update([word] if word else ())  # noqa: B023
            return word

        put = _put_into(tokens, instead_of)
        tokens = tuple(put.split()) if len(stood_for) == 1 else tokens  # "fix it another time": neither is meant
    return " ".join(tokens)


def in_its_words(question: Question, words: str) -> str:
    """The words with each of a class put into the one of it that this question knows; as they were where it knows none.

    >>> in_its_words(Question("condenser_face"), "it's boggin")
    "it's fouled"
    """
    known = _here(question).known
    return _put_into(tuple(words.split()), lambda phrase, _, after: "" if _leans_on(phrase, after) else _instead(phrase, known))


def _leans_on(phrase: tuple[str, ...], after: str) -> bool:
    """Whether a word that may belong to anything belongs to the one behind it: "on the header", "full one twenty"."""
    return len(phrase) == 1 and phrase[0] in ("on", "full", "off", "out") and (after in _LEANED_ON or after.isdigit())


_LEANED_ON = FIGURES | {"the", "a", "an", "my", "our", "its", "this", "that", "number", "voltage", "load", "volts"}


def _put_into(tokens: tuple[str, ...], instead_of: Callable[[tuple[str, ...], str, str], str]) -> str:
    """The words with each stretch that stands for something put into that, the longest first."""
    said: list[str] = []
    at = 0
    while at < len(tokens):
        lengths = range(min(_LONGEST, len(tokens) - at), 0, -1)
        before = said[-1] if said else ""
        ways = ((n, instead_of(tokens[at : at + n], before, "".join(tokens[at + n : at + n + 1]))) for n in lengths)
        span, instead = next(((n, word) for n, word in ways if word), (1, ""))
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
