"""An answer put right in the same breath, where a word is asked for: "it's off. No, my mistake, it's on".

Of a number `come_to` does it. Nothing that is acknowledged is put right so, and what safety hangs on is asked back.
"""

import re
from collections.abc import Callable

from assistant.language.asides import strictly
from assistant.language.by_commas import is_answer
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question, all_asked_back
from assistant.language.vocabulary import vocabulary

_TAKEN_BACK = (
    r"(?:no|nope|nah|sorry|scratch that|my mistake|my bad|correction|actually no|no no|no wait|no sorry|wait no|i mean"
    r"|strike that|i take that back|i was wrong|i misread(?: it| that)?)(?: (?:there|that's wrong|not that))?"
)
_LOOKS_AGAIN = r"(?:wait|oh wait|hold on|hang on|actually|let me look again|looking again)"
_LEAD = r"(?:(?:oh|uh|um|well|and|but|so) )*"
_RIGHTS = re.compile(rf"{_LEAD}(?:{_TAKEN_BACK}|{_LOOKS_AGAIN})")
_BACK = re.compile(rf"{_LEAD}{_TAKEN_BACK}")
_LED = re.compile(
    r"^(?:no wait|no sorry|wait no|sorry|scratch that|my mistake|correction|i mean|or rather|actually no|oh wait)(?: no)? (?=\w)"
)
_IT_WAS = re.compile(
    r"(?:it|they|that|she)(?: was| were|'d been| had been) (?P<was>[\w' ]+?)(?: ?,? (?:but |and )?| but | and )"
    r"(?:now )?(?:it|they|that|she)(?:'s|'re| is| are)(?: now)? (?P<now>[\w' ]+?)(?: now)?"
)
""" "It was fouled, it's clean now"."""
_CLAUSE = re.compile(r"\s*[,.;]\s*")


def thought_better(question: Question, words: str, understood: Callable[[Question, str], Meaning]) -> Meaning | None:
    """What it was put right to, asked back where what was said first is not clear; not understood where that was taken back
    and nothing clear follows; None where it is no such sentence.

    Args:
        question: what was asked.
        words: as typed.
        understood: what a part of them means to the question.
    """
    entry = vocabulary().get(question.asking)
    plain = question.look or (entry is not None and entry.kind in ("choice", "yes_no"))
    if not plain or question.also or question.asking == "confirm" or (question.look and strictly(question)):
        return None
    if (past := _IT_WAS.fullmatch(words.lower().strip(" ."))) is not None:
        was, now = understood(question, f"it's {past['was']}"), understood(question, f"it's {past['now']}")
        if sure(was) and sure(now):
            return now if not strictly(question) or not isinstance(now, Answer) else all_asked_back(now)
    clauses = [clause for clause in _CLAUSE.split(words.lower().strip(" .")) if clause]
    turns = [i for i, clause in enumerate(clauses) if i and (_RIGHTS.fullmatch(clause) or _LED.match(clause))]
    if not turns:
        return None
    led = _LED.sub("", clauses[turns[-1]])
    behind = [*([led] if led != clauses[turns[-1]] else []), *clauses[turns[-1] + 1 :]]
    if not behind:
        return None
    was, now = (understood(question, ", ".join(some)) for some in (clauses[: turns[0]], behind))
    if sure(now):
        clear = sure(was) and not strictly(question)
        if clear or not isinstance(now, Answer):
            return now if clear else None
        return all_asked_back(now)
    taken_back = any(_BACK.fullmatch(clauses[i]) for i in turns)
    return NotUnderstood() if taken_back and sure(was) and isinstance(now, NotUnderstood) else None


def sure(meaning: Meaning) -> bool:
    """Whether it answers, and without a doubt."""
    one = isinstance(meaning, Command) or (isinstance(meaning, Answer) and not any(part.doubt for part in meaning.parts))
    return one and is_answer(meaning)
