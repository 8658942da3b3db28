"""An answer that comes first, and what is told behind it: "bubbles, and they're getting worse", "forty, the glass is half full".

What is behind may turn it, date it, doubt it or be of something else: then it is none of this.
"""

import re
from collections.abc import Callable
from dataclasses import replace

from assistant.language.asides import strictly
from assistant.language.by_commas import is_answer
from assistant.language.grammar import normalise
from assistant.language.guess import AT_ZERO
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question, Remark
from assistant.language.offered import phrases
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.thought_better import sure
from assistant.language.unready import trouble, unready
from assistant.language.vocabulary import vocabulary

_TURNS = re.compile(
    r"\b(?:but|no|not|never|wait|sorry|actually|then|now|until|till|before|was|were|except|or|i mean|though)\b|n't\b"
)


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
    r"|\b(?:if|unless|when|maybe|might|guess|think|probably|should|would|could|supposed|other|others|another|neighbor\w*|next"
    r"|yesterday|last|earlier|used to|one of|some of|most of|half|until|he|she says|they say|it says|which|what|who|you|your|book"
    r"|spec|specs|chart|calls|compressor\w*|machine\w*|number|trust|wrong)\b|\?"
)
"""What makes what comes first no answer, or one of something else."""
_CAUTIOUS = frozenset({
    "leave it locked", "left locked", "leave it", "later", "leaks", "dead", "still open", "charge unknown", "won't hold",
    "will not hold",
})  # fmt: skip
"""What nobody is hurt by, whatever is told behind it."""
_SAYS_LITTLE = frozenset({"yes", "no", "unknown", "live"})
_WHY_LEFT = ("", "not repaired", "won't start", "won't reset", "reset again")
_DENIES_IT = re.compile(r"^(?:but|no|not)\b|\b(?:wait|sorry|actually|unless|i mean|scratch|fixed|repaired|done|if|until)\b|\?")
_LEAD = re.compile(r"^(?:(?:oh|uh|um|well|and|so|yes|yeah|yep|okay|it's|that's|they're) )*")
_JOINS = re.compile(r"^(?:and|so|because|since|'cause|just|it's|they're|there's) ")
_AS_BEFORE = re.compile(r"\b(?:than|as|like) (?:before|earlier|yesterday|last time)\b")
_THE_ONE = re.compile(r"\b(?:that|our|this|the|open|each|every|old|new) (?:open )?one(?:'s)?\b")


def word_first(question: Question, words: str, understood: Callable[[Question, str], Meaning]) -> Meaning:
    """The answer that comes first, where what is told behind it turns, dates, doubts and shares out nothing.

    A word must be one that the question offers, a number be sure by itself. Where safety hangs on it only what leaves the machine
    off counts.

    Args:
        question: what was asked.
        words: as typed, not understood.
        understood: what a part of them means to the question.
    """
    first, comma, rest = words.lower().replace(";", ",").partition(",")
    first, rest = _LEAD.sub("", first.strip(" .")), _AS_BEFORE.sub("", rest.strip(" ."))
    if not comma or not rest or question.also or first in _SAYS_LITTLE or not _may_stand_first(question, first):
        return NotUnderstood()
    cautious = first in _CAUTIOUS
    tail = _JOINS.sub("", normalise(_THE_ONE.sub("it", rest).replace(",", " ")))
    turned = _DENIES_IT.search(normalise(rest)) if cautious else _TURNS.search(tail) or _NO_TAIL.search(tail)
    against = unready(tail) not in (_WHY_LEFT if cautious else ("",))
    if turned or FIGURES & set(tail.split()) or against or trouble(tail) or is_question(normalise(rest)):
        return NotUnderstood()
    behind, said = understood(question, rest), understood(question, first)
    why = cautious and isinstance(behind, Remark) and behind.about in _WHY_LEFT
    nothing_else = why or behind == said or isinstance(behind, NotUnderstood)
    return said if sure(said) and nothing_else else NotUnderstood()


def _may_stand_first(question: Question, first: str) -> bool:
    entry = vocabulary().get(question.asking)
    if entry is not None and entry.kind in NUMBER_KINDS:
        figures = bool(FIGURES & set(first.split())) and first != "one"
        return figures and not strictly(question) and entry.kind != "volts" and entry.id not in AT_ZERO
    if first in FIGURES or first not in phrases(question):
        return False
    return first in _CAUTIOUS or not strictly(question)


def or_word_first(question: Question, words: str, said: Meaning, understood: Callable[[Question, str], Meaning]) -> Meaning:
    """The meaning; where it is none, or in doubt, that of the answer that comes first."""
    if is_answer(said) and sure(said):
        return said
    first = word_first(question, words, understood)
    if not is_answer(first):
        return said
    if not isinstance(said, Answer):
        return first
    same = isinstance(first, Answer) and [part.value for part in said.parts] == [part.value for part in first.parts]
    return first if same else said
