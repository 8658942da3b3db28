"""A thing or a person in what was taken for an answer that no answer to its question has: "locked the van", "Dave says all good".

What may be named at a step is data: the words of its own question, of its readings' names and of the examples that count there
(`by_example.tsv`). A thing under a preposition or a verb that none of them has, another's word, a deed of the speaker's own where
a machine is asked about, a place that is only pointed at ("zero over there") and a hedge make a look, or a deed that safety
hangs on, one that is asked back; so does in few words any word that no answer to such a deed has ("hand tight", "dirty hands").
"""

import re
from dataclasses import replace
from functools import cache

from assistant.language.by_example import examples, words_of_answers
from assistant.language.grammar import normalise
from assistant.language.guess import AT_ZERO
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import DONE_AND_SAFE, Answer, AskFor, Command, Meaning, Part, Question
from assistant.language.names import own_words
from assistant.language.passed_over import strict
from assistant.language.spotting import general
from assistant.language.vocabulary import kind_of

_AT_MANY_STEPS = 12
"""At how many steps a word must stand in answers to be anybody's word."""
_ELSEWHERE = frozenset("rack racks room ladder truck van phone store box bag pipe".split())
"""What stands about at any call, and is what was asked only where answers name it."""
_SAID_AGAIN = frozenset("safe said so told tag says padlock yes yep yeah sir ma'am okay".split())
_OWNER = r"(?:the|my|his|her|our|their|a|an|its)"
_THING = re.compile(
    r"\b(?:(?:pad)?lock(?:ed)?|open(?:ed)?|shut|closed?|repair(?:ed)?|fix(?:ed)?|replaced|swapped|changed|reset|start(?:ed)?"
    r"|block(?:ed)?|clear(?:ed)?|empt(?:y|ied)|cleaned|warmed|stopped|dried|put|took|pulled|turned|cover(?:ed)?|clipped"
    r"|power(?:ed)?|proved|tested|lost|unplugged|disconnected"
    r"|on|in|off|out of|into|from|to|onto|around)(?: (?:up|on|off|out|in|back|down))?"
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
_DID = (
    r"(?:locked|repaired|fixed|cleaned|reset|opened|closed|cleared|emptied|blocked|proved|tested|checked|pulled|removed|changed"
    r"|replaced|mended|did)"
)
_POINTED_AT = re.compile(
    r"\b(?:over|down|up|out|back) (?:there|yonder)\b|\b(?:on|at|in|to) that (?:one|rack|machine|coil|panel|unit|compressor)\b"
    r"|\b(?:on|at|in|to) (?:some|another) \w+|\b(?:on|in) the old \w+|^those\b|\bfar end\b|\bas far as i\b"
    rf"|^(?:and |so |well )*(?:the|that|my) old \w+|^(?:he|they|somebody|someone)(?:'s|'ve| has| have)? {_DID}\b"
    r"|\b(?:both|all (?:two|three|four)) of them\b|^\w+ (?:both|all (?:two|three|four))$"
)
"""Somewhere, or something else than what stands before him."""
_HEDGED = re.compile(
    r"\b(?:give or take|kind of|sort of|kinda|sorta|roughly|more or less|by the looks? of (?:it|things|that)|by eye|if you ask me"
    r"|hand tight|that's the (?!one\b)\w+|out of the way|to the side|back to front|inside out|upside down|in my head"
    r"|(?:over|on|by) the phone|itself|old \w+(?:'s| is)? back (?:in|on))\b|\b(?:no more|for me|done with it|at first)$"
    r"|^(?:just |only )?one(?:'s| is) (?:unplugged|off|out|in)\b"
    r"|^(?:it|they|that) (?:was|were) (?:unplugged|locked|clear|closed)$"
)
"""Nearly so, or so in another sense."""
_MOVES = re.compile(
    r"\b(?:climbing|rising|creeping|coming up|going up|falling|dropping|jumping|bouncing|wandering|back ?seated"
    r"|thousand microns|on air|(?:stem|valve|gauge|hose)(?:'s| is)? (?:shut|closed|off))\b"
)
"""Beside a zero that hands go in by: it does not hold, or nothing comes to the gauge."""
_LOOKS_BAD = re.compile(r"\b(?:burnt|burned|bad|pitted|failed|no good|worn)\b")
_RINGS_OPEN = re.compile(r"\b(?:open|mak\w+|clos\w+|conduct\w*|continuity|infinite|o l|nothing|ring\w*|away|through|gone)\b")
_BUT = re.compile(r"\b(?:but|except|only) (?:it's|there's|it is|she's|that's)\b")
"""What stands behind "all good", and is not."""
_FROM_AFAR = re.compile(r"\bfrom (?:here|there|where i)\b")
_FEW = 6
"""Words up to which each must be known where safety hangs on it."""


def unless_unheard_of(question: Question, said: Meaning, words: str) -> Meaning:
    """What was understood, asked back where it names what no answer to the question has.

    >>> lock, on = Question("locked_out", step="lock"), Answer((Part("locked_out", True),))
    >>> unless_unheard_of(lock, on, "locked the van").parts[0].doubt
    'Done, and all safe?'
    """
    if not isinstance(said, Answer | Command) or not _doubted(question, normalise(words.replace(",", " "))):
        return said
    if isinstance(said, Command):
        named = said.about or next(iter(question.go_ahead), "")
        if said.name != "continue" or not named:
            return said
        ask = f"{named.capitalize()}?" if question.look else DONE_AND_SAFE
        return AskFor(ask, pending=named) if question.look or strict(question) else said
    return replace(said, parts=tuple(_asked_back(question, part) for part in said.parts))


def _doubted(question: Question, text: str) -> bool:
    """By where it points, how it is hedged and whether it holds where something must stand at zero; else by what it names."""
    if "understood" in question.go_ahead:
        return False  # heard, and nothing done
    if {"starter", "closed"} <= set(question.about) and _LOOKS_BAD.search(text) and not _RINGS_OPEN.search(text):
        return True  # a burnt contact may still close: what it does condemns it, and not its looks
    proves = _stands_at_zero(question.asking)
    if (proves or "tight" in question.go_ahead) and any(way.search(text) for way in (_POINTED_AT, _HEDGED, _MOVES)):
        return True
    return not proves and question.step in examples() and (_unheard_of(question, text) or _strange(question, text))


def _stands_at_zero(id: str) -> bool:
    return id in AT_ZERO or id.startswith("dead_volts")


_COUNTS_AT_ONCE = ("control_power_off", "everybody_safe")


def _asked_back(question: Question, part: Part) -> Part:
    """A number counts as it is but where it is a proof, and so does whatever stops the work; what is acknowledged is asked for
    whole."""
    look = kind_of(part.id) in ("choice", "yes_no") and part.value != "no" and (question.all_good or not strict(question))
    if part.doubt or part.id in _COUNTS_AT_ONCE or not (_stands_at_zero(part.id) or look or part.value is True):
        return part
    return replace(part, doubt=DONE_AND_SAFE if part.value is True else ".")


def _strange(question: Question, text: str) -> bool:
    """Whether a deed that safety hangs on is told in few words, and one of them is in no answer to it."""
    deed = not question.look or bool({"tight", "repaired"} & set(question.go_ahead))
    if not (strict(question) or question.look) or not deed or len(text.split()) > _FEW:
        return False
    if kind_of(question.asking) != "acknowledge" and question.asking != "command":
        return False
    return bool(_words(text) - _known_at(question) - general() - FIGURES)


def _known_at(question: Question) -> frozenset[str]:
    known = _named_at(question.step) | frozenset(question.about) | own_words(question)
    return known | {word for phrase in (*question.go_ahead, *question.other_words) for word in phrase.split()}


def _unheard_of(question: Question, text: str) -> bool:
    himself = kind_of(question.asking) in ("choice", "yes_no") or not strict(question) or question.takes_a_done
    if himself and _DID_HIMSELF.search(text):
        return True
    who = _SAYS.match(text)
    if who and not _words(who["who"]) & (_SPEAKS_ITSELF | words_of_answers(question.step)):
        return True
    if question.all_good and _BUT.search(text):
        return True
    here = not {"other", "second", "there"} & set(question.about)
    if (here and _POINTED_AT.search(text)) or _HEDGED.search(text):
        return True
    if (strict(question) or question.all_good) and _FROM_AFAR.search(text):
        return True
    known = _known_at(question)
    return any(not _words(thing["thing"] or thing["owned"]) & known for thing in _THING.finditer(text))


_BEHIND = re.compile(r"'(?:s|re|ve|m|d)$")


def _words(text: str) -> set[str]:
    return {_BEHIND.sub("", word) for word in text.split()}


@cache
def _named_at(step: str) -> frozenset[str]:
    return words_of_answers(step) | _anybodys() | _ONES_OWN


@cache
def _anybodys() -> frozenset[str]:
    """What answers to many steps have."""
    at = [words_of_answers(step) for step in examples()]
    often = (word for word in frozenset().union(*at) if sum(word in words for words in at) >= _AT_MANY_STEPS)
    return frozenset(often) - _ELSEWHERE | _SAID_AGAIN
