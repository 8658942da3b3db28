"""What an answer may have been that was not understood: asked back with its meaning instead of "say again", never taken."""

import re

from assistant.language.answering import one
from assistant.language.grammar import normalise
from assistant.language.lone_numbers import FIGURES, named_beside
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.standing_out import hangs_on_safety, one_tag_in
from assistant.language.vocabulary import vocabulary

_LONGEST = 14
_SAYS_NOTHING = re.compile(
    r"\b(?:no|not|never|nobody|or|if|unless|until|when|wait|hold|hang|maybe|don't know|which|what|who|hey|you)\b|n't\b"
)
"""Where one of these stands the meaning may be any: it is asked for again."""


def guessed(question: Question, words: str) -> Meaning:
    """The one answer that these words name, to be asked back; not understood where they name none, or two.

    Never for what is acknowledged, for what somebody's safety hangs on or what opens a panel.

    Args:
        question: what was asked.
        words: as typed, not understood.

    >>> guessed(Question("sight_glass"), "the thing over here looks bubbly as anything today boss").parts[0].doubt
    '.'
    >>> guessed(Question("locked_out"), "that there locked thing")
    NotUnderstood()
    """
    text = normalise(words)
    tokens = tuple(text.split())
    if not 1 < len(tokens) <= _LONGEST or _SAYS_NOTHING.search(text) or is_question(text):
        return NotUnderstood()
    found = [part for id in (question.asking, *question.also) if (part := _named(question, id, tokens))]
    return Answer(tuple(found)) if len(found) == 1 else NotUnderstood()


def _named(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    entry = vocabulary().get(id)
    if entry is None or hangs_on_safety(id):
        return None
    if entry.kind in NUMBER_KINDS and not question.also:
        return _number(question, id, tokens)
    tag = one_tag_in(id, tokens) if entry.kind in ("choice", "yes_no") else ""
    return Part(id, tag, doubt=".") if tag else None


def _number(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    figures = [at for at, word in enumerate(tokens) if word in FIGURES or word[0].isdigit()]
    torn = bool(figures) and figures[-1] - figures[0] + 1 != len(figures)
    if not figures or torn or named_beside(id, tokens) or [tokens[at] for at in figures] == ["one"]:  # "this one"
        return None
    for end in range(len(tokens), figures[-1], -1):  # with its unit, where one is said
        part = one(question, id, " ".join(tokens[figures[0] : end]))
        if isinstance(part, Part) and isinstance(part.value, float):
            return Part(id, part.value, part.unit, doubt=part.doubt or ".")
    return None
