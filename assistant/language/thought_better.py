"""An answer put right in the same breath, where a word is asked for: "it's off. No, my mistake, it's on".

Of a number `come_to` does it. Nothing that is acknowledged is put right so, and what safety hangs on is asked back.
"""

import re
from collections.abc import Callable
from dataclasses import replace

from assistant.language.asides import strictly
from assistant.language.by_commas import is_answer
from assistant.language.grammar import normalise
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question, Remark
from assistant.language.unready import trouble, unready
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
    clauses = [clause for clause in _CLAUSE.split(words.lower().strip(" .")) if clause]
    turns = [i for i, clause in enumerate(clauses) if i and (_RIGHTS.fullmatch(clause) or _LED.match(clause))]
    if not turns:
        return None
    led = _LED.sub("", clauses[turns[-1]])
    behind = [*([led] if led != clauses[turns[-1]] else []), *clauses[turns[-1] + 1 :]]
    if not behind:
        return None
    was, now = (understood(question, ", ".join(some)) for some in (clauses[: turns[0]], behind))
    if _sure(now):
        clear = _sure(was) and not strictly(question)
        if clear or not isinstance(now, Answer):
            return now if clear else None
        return Answer(tuple(replace(part, doubt=".") for part in now.parts))
    taken_back = any(_BACK.fullmatch(clauses[i]) for i in turns)
    return NotUnderstood() if taken_back and _sure(was) and isinstance(now, NotUnderstood) else None


_TURNS = re.compile(r"\b(?:but|no|not|wait|sorry|actually|then|now|until|till|before|was|were|except|or|i mean|though)\b|n't\b")


def its_own_word(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The meaning; where the question's own word comes first and what is behind, turning nothing, makes it another, that word, to
    be asked back: "fouled, there's a mat all across the coil" is not yet blocked.

    Args:
        question: what was asked.
        words: as typed, before they were put otherwise.
        meaning: what the whole was taken for.
    """
    first, _, rest = words.lower().partition(",")
    entry = vocabulary().get(question.asking)
    number = first.strip() in FIGURES  # "two, of the high pressure" is a contact
    if entry is None or question.also or number or _TURNS.search(rest):
        return meaning
    if not isinstance(meaning, Answer) or len(meaning.parts) != 1:
        return meaning
    part = meaning.parts[0]
    if part.id != question.asking or first.strip() not in entry.choices or part.value in (first.strip(), "unknown"):
        return meaning
    return Answer((replace(part, value=first.strip(), doubt="."),))


_NO_TAIL = re.compile(
    r"^(?:of|in|on|at|for|if|when|as|like|than|or|to|by|from|with|per|side|only|half|part|almost|nearly)\b"
    r"|\b(?:if|unless|when|maybe|might|guess|think|probably|should|would|could|supposed|other|others|another|neighbor\w*|next|yesterday"
    r"|last|earlier|used to|one of|some of|most of|half|until|he|she says|they say|it says|which|what|who|you|your)\b|\?"
)
"""What makes a word that comes first no answer, or one of something else."""


def word_first(question: Question, words: str, understood: Callable[[Question, str], Meaning]) -> Meaning:
    """The answer of one of the question's own words that comes first, where what is told behind it turns, dates, doubts and
    shares out nothing: "bubbles, and they're getting worse". Never where safety hangs on it, but for what leaves it locked.

    Args:
        question: what was asked.
        words: as typed, not understood.
        understood: what a part of them means to the question.
    """
    first, comma, rest = words.lower().replace(";", ",").partition(",")
    first, rest = re.sub(rf"^{_LEAD}(?:(?:yes|yeah|yep|okay|it's|that's|they're) )*", "", first.strip(" .")), rest.strip(" .")
    entry = vocabulary().get(question.asking)
    own = question.go_ahead if question.look else entry.choices if entry is not None else ()
    if not comma or not rest or question.also or first not in own or first in FIGURES or first in _SAYS_LITTLE:
        return NotUnderstood()
    if strictly(question) and first not in _CAUTIOUS:
        return NotUnderstood()
    rest = re.sub(r"\b(?:than|as|like) (?:before|earlier|yesterday|last time)\b", "", rest)
    tail = re.sub(r"^(?:and|so|because|since|'cause|just|it's|they're|there's) ", "", normalise(rest.replace(",", " ")))
    turned = _DENIES_IT.search(tail) if first in _CAUTIOUS else _TURNS.search(tail) or _NO_TAIL.search(tail)
    against = unready(tail) not in (_WHY_LEFT if first in _CAUTIOUS else ("",))
    if turned or FIGURES & set(tail.split()) or against or trouble(tail):
        return NotUnderstood()
    behind, said = understood(question, rest), understood(question, first)
    why = first in _CAUTIOUS and isinstance(behind, Remark) and behind.about in _WHY_LEFT
    nothing_else = why or behind == said or isinstance(behind, NotUnderstood)
    return said if _sure(said) and nothing_else else NotUnderstood()


_CAUTIOUS = frozenset({"leave it locked", "left locked", "leave it", "later", "leaks", "dead"})
_SAYS_LITTLE = frozenset({"yes", "no", "done", "unknown", "live"})
_WHY_LEFT = ("", "not repaired", "won't start", "won't reset", "reset again")
_DENIES_IT = re.compile(r"^(?:but|no|not)\b|\b(?:wait|sorry|actually|unless|i mean|scratch|fixed|repaired|done|if|until)\b|\?")


def _sure(meaning: Meaning) -> bool:
    one = isinstance(meaning, Command) or (isinstance(meaning, Answer) and not any(part.doubt for part in meaning.parts))
    return one and is_answer(meaning)
