"""Several things that were asked together, each told in a clause of its own, among clauses that answer none of them.

"The low pressure's what's showing, it's only this one as far as I can tell, and they called me forty minutes ago." Tried only
after all else failed, and never where safety hangs on one of them. A clause that may answer two of the things, or that has a
number and answers none, spoils it all.
"""

import re
from collections.abc import Callable
from dataclasses import replace

from assistant.language.among_unknown import asks_back, only_compares
from assistant.language.asides import strictly
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question

_CUTS = re.compile(
    r"\s*[,;]\s*(?:and |but |so |then )*|\s*(?<=\w)[.](?=\s|$)\s*|\s+and (?=the |it's |it |there's |i |she |that )"
)
_MOST = 8
"""Clauses up to which it is tried."""


def clause_by_clause(question: Question, words: str, understand: Callable[[Question, str], Meaning]) -> Meaning:
    """The answers that the clauses give, each to one thing; not understood where none is sure.

    Args:
        question: what was asked, several things.
        words: as said, commas apart.
        understand: what words mean to a question.
    """
    if not question.also or strictly(question):
        return NotUnderstood()
    clauses = [clause.strip() for clause in _CUTS.split(words.lower()) if clause and clause.strip()]
    if not 1 < len(clauses) <= _MOST:
        return NotUnderstood()
    found: dict[str, Part] = {}
    beside: list[str] = []
    for clause in clauses:
        parts = _answers(question, clause, understand)
        if parts is None or any(part.id in found and found[part.id].value != part.value for part in parts):
            return NotUnderstood()
        found |= {part.id: part for part in parts}
        beside += [] if parts else [clause]
    if question.all_good and beside:
        return NotUnderstood()  # a clause of a whole may say that the rest is good, or is not
    doubted = any(asks_back(clause) for clause in beside)
    told = tuple(found[id] for id in (question.asking, *question.also) if id in found)
    return Answer(tuple(replace(p, doubt=p.doubt or ("." if doubted else "")) for p in told)) if told else NotUnderstood()


_TURNS = re.compile(r"\s*[,;]?\s+but\s+|\s*[,;]\s*")


def as_its_clause_has(question: Question, words: str, said: Meaning, understand: Callable[[Question, str], Meaning]) -> Meaning:
    """The looks as the clause behind a "but" names one by itself; what the whole then lacks is asked for.

    "Controller's calling and in auto, but somebody put the switch on hand" has no switch in auto and no controller in hand.
    """
    clauses = [clause.strip() for clause in _TURNS.split(words.lower()) if clause.strip()]
    if not isinstance(said, Answer) or not question.also or " but " not in words or len(clauses) < 2:
        return said
    last = understand(question, clauses[-1])
    if not isinstance(last, Answer) or len(last.parts) != 1 or last.parts[0].doubt:
        return said
    told = {part.id: part for part in said.parts}
    named = last.parts[0]
    if named.id not in told or told[named.id].value == named.value or not isinstance(named.value, str):
        return said
    kept = [part for part in said.parts if part.id != named.id and part.value != named.value]
    return Answer((*kept, named))


def _answers(question: Question, clause: str, understand: Callable[[Question, str], Meaning]) -> list[Part] | None:
    """What a clause answers; nothing for one that answers none of it, None where nobody knows which."""
    ids = (question.asking, *question.also)
    whole = understand(question, clause)
    if isinstance(whole, Answer) and all(part.id in ids for part in whole.parts) and len(whole.parts) > 1:
        return list(whole.parts)
    each = [understand(question.of_one(id), clause) for id in ids]
    hits = [said.parts[0] for id, said in zip(ids, each, strict=True) if isinstance(said, Answer) and said.parts[0].id == id]
    if len(hits) > 1:
        return None
    numbers = bool(FIGURES & set(clause.split())) and not only_compares(clause)
    return hits or (None if numbers else [])
