"""A whole sentence as it was typed, put plainly before anything is looked for in it."""

import re

from assistant.language.grammar import normalise
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.names import name_words
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of

_ELSE_IS_GOOD = re.compile(
    r",? (?:and |but |so )*(?:(?:the |all the )?(?:rest(?: of (?:it|them|that))?|other stuff|other things|others)"
    r"|everything else|all else)"
    r"(?:'s|'re| is| are| looks?| seems?| checks| i find)?(?: all| just| in)* (?:fine|good|okay|right|alright|order|out|well"
    r"|as (?:it|they) should be|how it should be|where it should be|like it should|normal)(?: to me| here)?$"
)
_YES_ALL_SAFE = re.compile(
    r"(?:yes|yep|yeah|yup|yes sir|yes ma'am|sure|aye)(?: (?:yes|sir|ma'am|sure))*"
    r"(?: (?:it's|it is|they're|we're|everything's|that's))?(?: all)?"
    r" (?:done|safe|set)(?: and (?:all )?safe)?|(?:it's |all )?done and (?:it's )?(?:all )?safe"
)
"""What answers "done, and all safe?"."""
_BOTH_WAYS = re.compile(
    r"\b(?:off and (?:back |then )?on|on and (?:back |then )?off|out and (?:back )?in|open and (?:back )?shut)\b"
)
""" "Turned it off and on" leaves nobody knowing how it stands."""
_IS_CORRECT = re.compile(r"(?:(?:yes|yeah|yep|yup) )?(?:it is|it's|that's|that is|this is|is|all) correct")
""" "Is correct": a yes, and no order to put something right."""
_HYPHEN = re.compile(r"(?<=[a-z])-(?=[a-z])")
""" "Thirty-five", as it is typed."""


def put_plainly(question: Question, words: str) -> str:
    """The words without hyphens; a yes where they are no more than one.

    >>> put_plainly(Question("coil_seated"), "thirty-five on one"), put_plainly(Question("covers_on"), "yes, is correct")
    ('thirty five on one', 'yes')
    """
    if kind_of(question.asking) == "free":
        return words
    words = _HYPHEN.sub(" ", words)
    text = normalise(words.replace(",", " "))
    asked_back = question.asking == "confirm" and question.of not in ("", "said so")  # "is something not safe?" is another matter
    agrees = _IS_CORRECT.fullmatch(text) or ((asked_back or question.pending) and _YES_ALL_SAFE.fullmatch(text))
    return "yes" if agrees else words


def goes_both_ways(text: str) -> bool:
    """Whether something was switched or moved there and back.

    >>> goes_both_ways("turned it off and on"), goes_both_ways("it's off and locked")
    (True, False)
    """
    return bool(_BOTH_WAYS.search(text))


def rest_is_good(words: str) -> str:
    """The words with what they say of everything else in one form.

    >>> rest_is_good("coil's loose, the other stuff's all right")
    "coil's loose, the rest is good"
    """
    return _ELSE_IS_GOOD.sub(", the rest is good", words)


def _all_numbers(question: Question) -> bool:
    return all(kind_of(id) in NUMBER_KINDS for id in (question.asking, *question.also))


def first_named_last(question: Question, words: str) -> str:
    """Two numbers of which only the later is named, and by the name of what was asked first: in the order of the question.

    "Two oh eight, suction sixteen" has no suction of two oh eight.
    """
    clauses = [clause.strip() for clause in words.split(",")]
    numbered = [at for at, clause in enumerate(clauses) if FIGURES & set(normalise(clause).split())]
    if len(question.also) != 1 or len(numbered) != 2 or not _all_numbers(question):
        return words
    first, last = numbered
    own, other = name_words(question.asking) - name_words(question.also[0]), name_words(question.also[0])
    bare, named = ({word.removesuffix("'s") for word in normalise(clauses[at]).split()} for at in numbered)
    if not named & own or named & (other - name_words(question.asking)) or bare & (own | other):
        return words
    clauses[first], clauses[last] = clauses[last], clauses[first]
    return ", ".join(clauses)
