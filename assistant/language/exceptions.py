"""Everything that was asked but for what is named: "all good, except the probe's dirty"."""

import re

from assistant.language.answering import part_of
from assistant.language.hedges import bared
from assistant.language.meaning import Answer, Question
from assistant.language.names import volunteered
from assistant.language.phrasebook import tagged
from assistant.language.spotting import loosely

_WORDS = (
    "except for|except that|except|apart from|other than|but for|but that|but|bar for|bar|save for|save|besides|minus|only that"
    "|only|just that|just"
)
_EXCEPT = tuple(tuple(phrase.split()) for phrase in _WORDS.split("|"))
_FINE = tuple((word,) for word in ("fine", "good", "okay", "yes", "everything", "all"))
_EVERYTHING = re.compile(
    r"(?:yes |yeah |yep |no |oh |ah )*(?:(?:it's|that's|they're|it is|they are|we're) )?"
    r"(?:all points|all|everything|the lot|every one|every one of them|all of (?:it|them|that|those)|the whole lot"
    r"|each one|every single one)?"
    r"(?:'s|'re| is| are| looks| looking| seems| checks out)?(?: all)? ?"
    r"(?:good|fine|okay|proper|grand|sound|perfect|normal|right|in order|as it should be"
    r"|satisfied|satisfactory|well|happy|dandy|sweet)"
    r"(?: (?:across the board|all round|all around|everywhere|here|there"
    r"|on all (?:of )?(?:that|it|them|those|fronts|points|counts)"
    r"|by me|with me|at my end|so far|thanks|sir|mate|boss|enough))*"
)
"""Everything, or nothing named, and that it is good; of one word it is looked at only before an exception."""
_REST = re.compile(
    r"(.+?) (?:but )?(?:and )?(?:the )?(?:rest of it|rest of them|rest|others|everything else|all else)"
    r"(?:'s| is| are|'re)?(?: all)? (?:good|fine|okay|normal|looks good|looks fine|checks out|as it should be)"
)


def everything_good(text: str) -> bool:
    """Whether these words say that all that was asked for is good, and name nothing.

    >>> everything_good("good across the board"), everything_good("good"), everything_good("the food's good")
    (True, False, False)
    """
    return len(text.split()) > 1 and bool(_EVERYTHING.fullmatch(text))


def all_but(question: Question, tokens: tuple[str, ...]) -> Answer | None:
    """ "All good, except the probe's dirty", "probe's dirty, the rest is good": all that was asked, and what is different."""
    if match := _REST.fullmatch(" ".join(tokens)):
        tokens = ("all", "good", "except", *match[1].split())
    for cut in range(1, len(tokens) - 1):
        word = next((e for e in _EXCEPT if tokens[cut : cut + len(e)] == e), None)
        fine = word and word[0] != "but" and tokens[:cut] in _FINE
        plain = " ".join(tokens[:cut])
        good = (
            fine
            or (word and everything_good(plain))
            or (word and any(" ".join(form) in tagged("choices", "all_good") for form in bared(tokens[:cut])))
        )
        if not word or not good:
            continue
        parts = volunteered(question, tokens[cut + len(word) :], loosely)
        ids = (question.asking, *question.also)
        if parts and all(part.id in ids for part in parts):
            said = {part.id: part for part in parts}
            rest = {id: value for id, value in question.all_good.items() if id in ids and id not in said}
            return Answer((*(part_of(question, id, value) for id, value in rest.items()), *parts))
    return None
