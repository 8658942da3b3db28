"""Whether a sentence says that what was asked for is done: put together from who, the deed, the thing and how it stands now."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from assistant.language.hedges import without_sounds
from assistant.language.meaning import Question

_LONGEST = 14
_JOINS = re.compile(r" (?:and then|and|then|so|,) ")
WILL = r"\b(?:it|that|they|i|we|he|she)(?:'ll| will)\b"
"""Still to be done, or another's to do."""
_NEVER = re.compile(
    r"\b(?:i'm|i am|we're) (?:on(?! my own)|in|at|off|out|ready|set|up)\b"
    r"|\b(?:have|has|got|ready|all set|going|about|want|need|for me|for us) to\b(?! me\b)"
    r"|^(?:has|have|is|are|been) (?:he|she|it|they|you|the|that|we)\b|^got (?:he|she|they|you|we)\b"
    r"|\bwas (?:on|in|back|off|out|open|closed|good)\b"
    rf"|{WILL}|\blocked (?:myself|us|me)\b"
    r"|\bthe (?:top|bottom|left|right|big|small|front) one\b"
    r"|\bas good as\b|\b(?:only|just) one\b"
)
"""What has the words of a thing done and is none: "I'm on it", "ready to lock", "has he been told"."""
_IMPERATIVE = re.compile(
    r"^(?:okay |yes |yeah |so |now |please )*"
    r"(?:(?:open|clear|empty|back|warm|lock|tag|block)(?: up)? (?:it|them|that|the|my|all|your)\b"
    r"|(?:put|shut|set|cut|let) (?:the|that|those|a|an)\b|get\b)"
)
"""Told to somebody, or it may be: "open the valves", "put the cover on"."""
_TOLD_SOMEBODY = re.compile(
    r"^(?:okay |so |now |please |hey \w+ )*(?:open|empty|clear|take|turn|switch|lock|close) (?:up |off |on |out )?"
    r"(?:it|them|that|the|my|all|your)\b"
    r"(?! call\b| it\b.* out$)"
)
"""The same where nothing but an order has the form: "take the jumper out"."""
_ONE_OF = re.compile(r"(?<!every )(?<!each )(?<!single )(?<!this )(?<!that )(?<!same )(?<!the live )(?<!live )(?<!known )\bone\b")
_NOBODY = re.compile(
    r"\b(?:there's no one|there's nobody|isn't nobody|isn't anybody|isn't anyone|there isn't anybody|there isn't anyone|no people"
    r"|no one's|no one|no body|nobody else|not a soul)\b"
)
_BUT_ME = re.compile(r"\b(nobody(?:'s)?\b.*?) (?:but|except) (?:me|myself)\b")
_GOING_ON = re.compile(
    r"\b(?:com|go|gett|tak|putt|pull|push|turn|switch|lock|clos|open|bring|screw|fitt|clear|remov|shutt)ing (?:it |them |that )?"
    r"(?:off|out|on|in|up|down|back|away|now|open|shut|closed)\b"
)
"""Under way, not done: "it's coming out"."""
_AS_BEFORE = re.compile(
    r" (?:just |exactly |right )?(?:where|how|like|as|the way) (?:it|they|that|i)(?:'s|'re)?"
    r" (?:was|were|came|belongs?|goes|go|found it|found them|had it|had them|should be|ought to be|used to be|lives?|started)"
    r"(?: from| before| originally| to| in| when i (?:came|arrived|found it|found them|got here))*$"
)
"""That something is back at its place, however that is said; only behind another word that says how it stands."""
_MANNER = re.compile(
    r" (?:by hand|by myself|on my own|for you|with my own (?:key|hands)|with (?:a|the) wrench|with a screwdriver|with my key"
    r"|with a click|without trouble|no trouble|no bother|no problem|no worries|(?:just )?like you (?:said|asked)"
    r"|as you (?:said|asked)|as asked|as told|as instructed|as requested|(?:a|one) (?:second|minute|moment) ago|the whole way"
    r"|all the way(?: in| on| home| down| up| out)?)(?= |$)"
)
"""How it was done, which changes nothing."""
_ORDERED = frozenset({"close_consent"})
"""What is an order itself: "close it"."""
_CLEAR = frozenset(("clear", "out", "away", "back"))


@dataclass(frozen=True)
class _Role:
    """A thing, with the words that say that it stands as it should and those that lead there."""

    things: frozenset[str]
    stands: re.Pattern[str]
    words: frozenset[str]
    opposed: re.Pattern[str] | None
    """That it stands the other way."""


@dataclass(frozen=True)
class _Frame:
    """What one question wants done."""

    asking: str
    about: frozenset[str]
    says: str
    places: frozenset[str]
    first: _Role
    second: _Role | None
    without: frozenset[str]
    named: frozenset[str]
    """States that count beside the thing alone: "it's on" may be the power."""
    each: tuple[str, ...]
    """Of several things alike: who names one, names all of them, or says nothing of the whole."""
    against: tuple[re.Pattern[str], ...]


@cache
def _table() -> dict[str, Any]:
    with open(Path(__file__).with_name("deeds.toml"), "rb") as file:
        return tomllib.load(file)


def _role(things: list[str], state: dict[str, list[str]]) -> _Role:
    stands = [*state["stands"], *state["reached"]]
    words = frozenset(word for phrase in (*stands, *state["towards"]) for word in phrase.split())
    opposed = None
    if opposite := "|".join(state.get("opposite", ())):
        plain = "|".join(sorted(re.escape(thing.removesuffix("'s")) for thing in things))
        opposed = re.compile(rf"\b(?:{plain})(?:'s| is| are)(?: still)? (?:{opposite})\b")
    return _Role(frozenset(things), re.compile(rf"\b(?:{'|'.join(map(re.escape, stands))})\b"), words, opposed)


@cache
def _frames() -> tuple[_Frame, ...]:
    states = _table()["state"]
    return tuple(
        _Frame(
            row.get("asking", "command"),
            frozenset(row.get("about", ())),
            row.get("says", "done"),
            frozenset(row.get("places", ())),
            _role(row["things"], states[row["state"]]),
            _role(row["second"], states[row["second_state"]]) if "second" in row else None,
            frozenset(row.get("without", ())),
            frozenset(row.get("named", ())),
            tuple(row.get("each", ())),
            tuple(re.compile(pattern) for pattern in row.get("against", ())),
        )
        for row in _table()["done"]
    )


_IN_ORDER = re.compile(
    r"(?<=\w) (?:and |with |but )?(?:the )?(?:suction(?: one| valve)? (?:last|at the end)|downstream(?: one| side| end)? first)"
    r"(?: of all)?(?: slowly| slow| nice and slow| and slow)*\b"
)
"""In which order the prompt wants several valves opened."""


def done(question: Question, text: str) -> str:
    """`done`, or `yes` where a yes or no was asked for, if these words say no more than that it is; else empty.

    Args:
        question: what was asked: an acknowledgement, a step that waits for "done", some that ask yes or no.
        text: normalised words.
    """
    plain = _AS_BEFORE.sub("", _MANNER.sub("", _IN_ORDER.sub("", " ".join(without_sounds(tuple(text.split()))))))
    frames = _frames_of(question)
    return next((frame.says for frame in frames if _says(frame, plain)), "") if not denied(question, text) else ""


@cache
def _clauses() -> dict[str, tuple[str, tuple[re.Pattern[str], ...], tuple[re.Pattern[str], ...], tuple[re.Pattern[str], ...]]]:
    """For an id what is said, the clauses that answer, those that may stand beside them, and what together answers too."""
    return {
        row["asking"]: (
            row["says"],
            tuple(map(re.compile, row["answers"])),
            tuple(map(re.compile, row["beside"])),
            tuple(map(re.compile, row["both"])),
        )
        for row in _table()["clauses"]
    }


def by_clauses(question: Question, pieces: list[str]) -> str:
    """`yes` if each clause is one that answers it, or stands beside such a one; else empty.

    Args:
        question: what was asked.
        pieces: normalised, what stood between commas.

    >>> by_clauses(Question("room_safe"), ["no alarm and the fan is on"]), by_clauses(Question("room_safe"), ["the fan is on"])
    ('yes', '')
    """
    if question.asking not in _clauses():
        return ""
    says, answers, beside, both = _clauses()[question.asking]
    parts = [part for piece in pieces for part in _JOINS.split(piece) if part]
    answering = [part for part in parts if any(pattern.fullmatch(part) for pattern in answers)]
    if not all(part in answering or any(pattern.fullmatch(part) for pattern in beside) for part in parts):
        return ""
    together = bool(both) and all(any(pattern.search(part) for part in parts) for pattern in both)
    return says if answering or together else ""


def _frames_of(question: Question) -> list[_Frame]:
    about = set(question.about)
    fitting = [frame for frame in _frames() if frame.asking == question.asking and frame.about <= about]
    fitting = [frame for frame in fitting if not any(frame.about < other.about for other in fitting)]  # of two things at once
    return [] if question.asking == "command" and question.look else fitting


def denied(question: Question, text: str) -> bool:
    """Whether these words only sound like a thing done: to be done yet, an order, of one of several, of another thing.

    Args:
        question: what was asked.
        text: normalised words.

    >>> denied(Question("service_valves_open"), "the suction's open"), denied(Question("others_clear"), "nobody's clear")
    (True, True)
    """
    frames = _frames_of(question)
    text = _IN_ORDER.sub("", text)
    if frames and "runs" not in question.about and _GOING_ON.search(text):
        return True
    if frames and question.asking not in _ORDERED and (_NEVER.search(text) or _TOLD_SOMEBODY.search(text)):
        return True
    return any(_speaks_against(frame, text) for frame in frames)


def _speaks_against(frame: _Frame, text: str) -> bool:
    opposed = (role.opposed for role in (frame.first, frame.second) if role and role.opposed)
    return any(pattern.search(text) for pattern in (*opposed, *frame.against)) or _one_of_several(frame, text)


def _one_of_several(frame: _Frame, text: str) -> bool:
    named = [name for name in frame.each if name in text]
    return bool(frame.each) and (0 < len(named) < len(frame.each) or bool(re.search(r"\bone(?:'s| is)\b", text)))


def _says(frame: _Frame, text: str) -> bool:
    if frame.asking == "others_clear":
        text = _BUT_ME.sub(r"\1", _NOBODY.sub("nobody", text))
    if len(text.split()) > _LONGEST or _NEVER.search(text) or _IMPERATIVE.search(text) or _ONE_OF.search(text):
        return False
    found = [_segment(frame, segment) for segment in _JOINS.split(text) if segment]
    return None not in found and any(found)


def _segment(frame: _Frame, text: str) -> bool | None:
    """Whether a stretch says that the first thing stands as it should; None where it holds a word that might say otherwise."""
    tokens = text.split()
    role = frame.first
    if frame.second and set(tokens) & frame.second.things and not set(tokens) & frame.first.things:
        role = frame.second
    known = _glue() | role.things | role.words | frame.places
    if not all(token in known for token in tokens) or set(tokens) & frame.without:
        return None
    evidence = [match for match in role.stands.finditer(text) if match[0] not in frame.named or set(tokens) & role.things]
    stands = evidence[0] if evidence else None
    before = text[: stands.start()].split() if stands else []
    elsewhere = not set(tokens) & role.things and any(word.removesuffix("'s") in frame.places for word in before)
    if frame.asking == "others_clear" and {"nobody", "nobody's"} & set(tokens) and _CLEAR & set(tokens):
        return None
    if elsewhere:
        return None
    return bool(stands) and role is frame.first


@cache
def _glue() -> frozenset[str]:
    return frozenset(_table()["glue"])
