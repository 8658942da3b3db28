"""Of several things that were asked together, those that a clause tells by itself, beside what was understood of the whole.

"She's off on hot discharge, just the one, it went down an hour and a half ago according to the stock guy." Only what one clause
says of one thing for sure is added; what it leaves open is asked for. Never where safety hangs on one of the things.
"""

import re

from assistant.language.agreed import danger, harmless
from assistant.language.asides import strictly
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.told_against import told_against
from assistant.language.unready import trouble

_CUTS = re.compile(
    r"\s*[,;]\s*(?:(?:and|but|so|then)\s+)*|\s*(?<=\w)[.](?=\s|$)\s*"
    r"|\s+but\s+|\s+and\s+(?=(?:the|it's|it|there's|i|she|she's|that|he|we|nobody|both)\s)"
)
_OF_ALL = re.compile(r"\b(?:both|all|everything|each|the lot)\b")
_AGO = re.compile(r"\b(?:[a-z]+[ -]){1,7}?(?:ago|back|since)\b")
_NOT_NOW = re.compile(
    r"\b(?:sorry|wait|i mean|rather|scratch|correction|actually|or|supposed|should|rated|set point|set (?:to|at)|usually|normally"
    r"|used to|was|were|yesterday|earlier|before|now and|but now|by now|until|when|if|maybe not|not sure)\b|\bno (?:\w+ )?\d"
)
"""Beside it a clause may be of another day, put right, or no reading."""
_MOST, _LIKELY_DANGEROUS = 10, 0.5
_LIST = 3
"""Clauses from which a sentence is a list, and things that it must tell."""
_WHEN, _IN_HOURS = "alarm_minutes_ago", "follow_up_in_hours"
_BY_THEMSELVES = frozenset({"protection_shown", "tripped_count", _WHEN, "running_count", _IN_HOURS})
"""What a clause tells by itself: of a glass or a switch "nothing but bubbles" and "feeding, then it quit" need the whole."""


def with_the_rest(question: Question, words: str, said: Meaning) -> Meaning:
    """What was understood, and what else of the things asked a clause tells for sure.

    Args:
        question: what was asked, several things.
        words: as typed.
        said: what was understood of the whole; an answer, or nothing.
    """
    told = {part.id: part for part in said.parts} if isinstance(said, Answer) else {}
    asked = (question.asking, *question.also)
    missing = [id_ for id_ in asked if id_ not in told and id_ in _BY_THEMSELVES]
    if not (missing and isinstance(said, Answer | NotUnderstood)) or strictly(question) or question.all_good:
        return said
    text = normalise(words.replace(",", " "))
    spoilt = trouble(text) or is_question(text) or _NOT_NOW.search(text) or told_against(question, words)
    if spoilt or not set(told) <= set(asked):
        return said
    if any(part.doubt for part in told.values()) or (danger(question.step, words) or 0.0) >= _LIKELY_DANGEROUS:
        return said
    clauses = [clause.strip() for clause in _CUTS.split(words.lower()) if clause.strip()]
    clauses = [clause for clause in clauses if not any(_of_one(question, id_, clause) for id_ in told)]
    found = _of_clauses(question, missing, clauses) if len(clauses) <= _MOST else {}
    return Answer(tuple((told | found)[id_] for id_ in asked if id_ in told or id_ in found)) if found else said


def of_a_list(question: Question, words: str, said: Meaning) -> Meaning:
    """Of a whole that is looked over the things that the clauses of a list tell by themselves; what is left is asked for.

    "Reset's intact, fan running, valve open, coil's snug, no oil on the line."

    Args:
        question: what was asked, with what "all good" means.
        words: as typed.
        said: what was understood of the whole.
    """
    text = normalise(words.replace(",", " "))
    if not (isinstance(said, NotUnderstood) and question.all_good) or strictly(question):
        return said
    if trouble(text) or is_question(text) or _NOT_NOW.search(text) or not harmless(question.step, words):
        return said
    clauses = [clause.strip() for clause in _CUTS.split(words.lower()) if clause.strip()]
    asked = [question.asking, *question.also]
    found = _of_clauses(question, asked, clauses) if _LIST <= len(clauses) <= _MOST else {}
    return Answer(tuple(found[id_] for id_ in asked if id_ in found)) if len(found) >= _LIST else said


def _of_clauses(question: Question, missing: list[str], clauses: list[str]) -> dict[str, Part]:
    """What one clause says of one thing, and no other clause says otherwise."""
    found: dict[str, Part] = {}
    torn: set[str] = set()
    for clause in clauses:
        parts = [part for id_ in missing if (part := _of_one(question, id_, clause)) is not None]
        if len(parts) > 1 and not _OF_ALL.search(clause):
            continue  # of which of them it is would be a guess
        for part in parts:
            torn |= {part.id} if part.id in found and found[part.id].value != part.value else set()
            found[part.id] = part
    return {id_: part for id_, part in found.items() if id_ not in torn}


_TIMED = re.compile(r"\b(?:ago|back|since|minutes?|hours?|o'clock|morning|night|midnight|noon)\b")

_PAST = re.compile(r"\b(?:ago|back|since)\b")


def _of_one(question: Question, id_: str, clause: str) -> Part | None:
    if (id_ in (_WHEN, _IN_HOURS)) != bool(_TIMED.search(clause)):
        return None  # "one" is how many, "an hour" when
    if id_ == _IN_HOURS and _PAST.search(clause):
        return None
    ways = [clause, *(m[0] for m in _AGO.finditer(clause) if id_ == _WHEN)]
    for way in ways:
        one = understand_in_pieces(question.of_one(id_), way)
        if isinstance(one, Answer) and [part.id for part in one.parts] == [id_] and not one.parts[0].doubt:
            return one.parts[0]
    return None
