"""What was called as good as the rest and has a clause that says otherwise, or what nobody understands."""

import re

from assistant.language.exceptions import everything_good
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.names import is_named
from assistant.language.phrasebook import tagged

_APART = re.compile(r"\s*[,.;]\s+|\s*,\s*|\b(?:but|although|though|however|only|just that|and)\b")
_FOOD = re.compile(
    r"\b(?:ice cream|cream|milk|meat|dairy|produce|frozen|freezer|food|product|fish|deli|shrimp|chicken|beef|cheese|butter"
    r"|eggs?|pizzas?|vegetables|veggies|cases?|coolers?|walk in)\b"
)
_SO = re.compile(r"\b(?:good|fine|okay|holding|cold|frozen|normal|perfect|grand|great|right|solid|clean|tight|as it should)\b")


def clauses_apart(words: str) -> list[str]:
    """What stands apart by a comma, a stop, a but or an and."""
    return [clause.strip() for clause in _APART.split(words.lower()) if clause and clause.strip()]


def told_apart(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The answer without a thing that was called as good as the rest and has a clause of its own that does not say so: "all good,
    though the ice cream's a wee bit soft", "all good, the probe's a bit furry". It is asked for by itself.

    Args:
        question: what was asked.
        words: as typed, with their commas.
        meaning: what they were taken for.
    """
    if not question.all_good or not isinstance(meaning, Answer) or len(meaning.parts) < 2:
        return meaning
    clauses = clauses_apart(words)
    if not any(everything_good(clause) or clause in tagged("choices", "all_good") for clause in clauses):
        return meaning  # each thing was told by itself
    kept = tuple(part for part in meaning.parts if not any(_otherwise(question, part, clause) for clause in clauses))
    return Answer(kept) if kept else NotUnderstood()


def _otherwise(question: Question, part: Part, clause: str) -> bool:
    if question.all_good.get(part.id) != part.value or everything_good(clause):
        return False
    of_food = part.id == "product_state" and bool(_FOOD.search(clause))
    if not of_food and not is_named(part.id, clause):
        return False
    said = understand(question.of_one(part.id), clause)
    so = isinstance(said, Answer) and said.parts[0].value == part.value
    return not so and not (_SO.search(clause) and not _NOT.search(clause))


_NOT = re.compile(r"\b(?:not|no|never|bit|soft|less|too)\b|n't\b")
