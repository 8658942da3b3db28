"""A thing or a person in what was taken for an answer that no answer to its question has: "locked the van", "Dave says all good".

What may be named at a step is data: the words of its own question, of its readings' names and of the examples that count there
(`by_example.tsv`). A thing under a preposition or a verb that none of them has, another's word, and a deed of the speaker's own
where a machine is asked about make a deed that safety hangs on, or a look, one that is asked back.
"""

import re
from dataclasses import replace
from functools import cache

from assistant.language.by_example import DONE_AND_SAFE, examples, words_of_answers
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, AskFor, Command, Meaning, Part, Question
from assistant.language.names import own_words
from assistant.language.passed_over import strict
from assistant.language.vocabulary import kind_of

_AT_MANY_STEPS = 12
"""At how many steps a word must stand in answers to be anybody's word."""
_ELSEWHERE = frozenset("rack racks room ladder truck van phone store box bag".split())
"""What stands about at any call, and is what was asked only where answers name it."""
_OWNER = r"(?:the|my|his|her|our|their|a|an|its)"
_THING = re.compile(
    r"\b(?:(?:pad)?lock(?:ed)?|open(?:ed)?|shut|closed?|repair(?:ed)?|fix(?:ed)?|replaced|swapped|changed|reset|start(?:ed)?"
    r"|block(?:ed)?|clear(?:ed)?|empt(?:y|ied)|cleaned|warmed|stopped|dried|put|took|pulled|turned|cover(?:ed)?|clipped"
    r"|power(?:ed)?|proved|tested|lost|on|in|off|out of|into|from)(?: (?:up|on|off|out|in|back|down))?"
    rf" {_OWNER} (?P<thing>[a-z]+(?: [a-z]+)?)|\b(?:my|his|her|our|their) (?P<owned>[a-z]+)"
)
_ONES_OWN = frozenset("own way word knowledge end side left right eyes money mind opinion".split())
"""What anybody has, or does it with."""
_SAYS = re.compile(
    r"^(?:(?:well|so|yeah|yes|okay|and) )*(?P<who>(?:the |my )?[a-z']+) (?:says|said|told me|tells me|reckons|thinks|heard|saw"
    r"|claims|swears|looked|checked)\b"
)
_SPEAKS_ITSELF = frozenset(
    "i we it that this which all just already she alarm light lamp screen display controller meter gauge log label sticker tag"
    " code board panel readout detector sheet scale thermometer probe sign history plate nameplate paper chart manual note one"
    " who and never not nobody right okay yes sure yep".split()
)
"""What speaks for itself, or is the speaker."""
_DID_HIMSELF = re.compile(
    r"^(?:well |so |yeah |and )*i(?:'m|'ve| am| have)?(?: just)? (?:stopped|warmed|dry|frozen|cold|running|locked out)\b"
    r"(?! it\b| the\b| her\b)"
)
"""Of himself, where the machine is asked about."""


def unless_unheard_of(question: Question, said: Meaning, words: str) -> Meaning:
    """What was understood, asked back where it names what no answer to the question has.

    >>> lock, on = Question("locked_out", step="lock"), Answer((Part("locked_out", True),))
    >>> unless_unheard_of(lock, on, "locked the van").parts[0].doubt
    'Done, and all safe?'
    """
    text = normalise(words.replace(",", " "))
    if question.step not in examples() or not _unheard_of(question, text):
        return said
    if isinstance(said, Command):
        named = said.about or next(iter(question.go_ahead), "")
        if said.name != "continue" or not named:
            return said
        ask = f"{named.capitalize()}?" if question.look else DONE_AND_SAFE
        return AskFor(ask, pending=named) if question.look or strict(question) else said
    if not isinstance(said, Answer):
        return said
    return replace(said, parts=tuple(_asked_back(part) for part in said.parts))


_COUNTS_AT_ONCE = ("control_power_off", "everybody_safe")


def _asked_back(part: Part) -> Part:
    """A number counts as it is, and so do power that is off and whoever is not safe; what is acknowledged is asked for whole."""
    if part.doubt or part.id in _COUNTS_AT_ONCE or kind_of(part.id) not in ("choice", "yes_no", "acknowledge"):
        return part
    return replace(part, doubt=DONE_AND_SAFE if part.value is True else ".")


def _unheard_of(question: Question, text: str) -> bool:
    himself = kind_of(question.asking) in ("choice", "yes_no") or not strict(question) or question.takes_a_done
    if himself and _DID_HIMSELF.search(text):
        return True
    who = _SAYS.match(text)
    if who and not _words(who["who"]) & (_SPEAKS_ITSELF | words_of_answers(question.step)):
        return True
    known = _named_at(question.step) | set(question.about) | own_words(question)
    known |= {word for phrase in (*question.go_ahead, *question.other_words) for word in phrase.split()}
    return any(not _words(thing["thing"] or thing["owned"]) & known for thing in _THING.finditer(text))


def _words(text: str) -> set[str]:
    return {word.removesuffix("'s").removesuffix("'re") for word in text.split()}


@cache
def _named_at(step: str) -> frozenset[str]:
    return words_of_answers(step) | _anybodys() | _ONES_OWN


@cache
def _anybodys() -> frozenset[str]:
    """What answers to many steps have."""
    at = [words_of_answers(step) for step in examples()]
    return frozenset(word for word in frozenset().union(*at) if sum(word in words for words in at) >= _AT_MANY_STEPS) - _ELSEWHERE
