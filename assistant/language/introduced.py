"""Who says that he is speaking, by his name alone: "hi this is Robin Vale again" is Robin Vale."""

import re
from functools import cache

from assistant.language.names import name_words
from assistant.language.spotting import general
from assistant.language.vocabulary import vocabulary

_NAMES_TOO = frozenset({"buddy", "king"})
_STEERS = frozenset(
    "add ahead back clue correction correct emergency finish go help hold idea job next no nobody none nothing repeat say skip"
    " transformer what where who why yes".split()
)
_GREETS = (
    r"(?:well|hey there|hi there|hello there|hi|hello|hey|hiya|howdy|yeah|yes|yep|uh|um|er|so|okay|oh|right|there|ah|eh|em|aye"
    r"|sorry"
    r"|good morning|good evening|morning|evening)"
)
_IS = (
    r"(?:this is|it's me|still me|me|is|it's still|it's|it is|now it's|it's now|still|now|it'll be|i'm|i am|my name is"
    r"|my name's|the name's|the name is|name's|name is|name"
    r"|you're talking to|you've got|you got|you have|they call me|call me|that's|that'd be|that would be|speaking is"
    r"|here is|here's|just me|it's just me)"
)
_BEHIND = (
    r"(?:speaking|here|(?:the |on |from )*(?:night|day|evening|morning|late|early|graveyard|second|third|first|weekend|swing)s?"
    r" (?:shift|crew|guy|man|tech|duty)|(?:still |back )?on (?:call|shift|nights|days)|(?:the )?(?:refrigeration|service"
    r"|rack) (?:tech|guy|man)|again(?: hon| honey| sir)?|(?:here )?now"
    r"|talking|calling|reporting|on the line|on the radio|on site|that's me|is the name"
    r"|is my name|on duty"
    r"|tonight|today|sir|ma'am|buddy|mate|who else|of course|as always|as usual)"
)
_WHO = re.compile(rf"(?:{_GREETS} )*(?:{_IS} )?(?:{_GREETS} )*(?:{_IS} )?(?P<name>[a-z'.]+(?: [a-z'.]+){{0,3}}?)(?: {_BEHIND})*")


_WHY_HE = re.compile(
    r"(?<=\w) (?:and )?(?:(?:i'm|i am|i've|i'll|i|we|we're)(?: be| been| have| just)* (?:(?:on|off) the \w+ shift"
    r"|on \w+ this week|cover\w*|fill\w*"
    r"|stand\w*|tak\w*|took|sit\w*"
    r"|sub\w*|help\w*|reliev\w*|with|from|the new|new|his|her|their|on (?:nights|days|call|his)|got sent|was sent"
    r"|swapped|switched|start\w*|the|a|an|on|by myself|all alone|alone)"
    r"|(?:all )?by (?:myself|himself|herself)|(?:with|from|out of) (?:the )?(?:\w+ ){0,3}(?:refrigeration|mechanical|cooling"
    r"|service|services|company|shop|crew|office|side)|(?:the )?same (?:as|one|guy|man|fella|voice)"
    r"|(?:taking over|took over|covering|filling in|standing in|sitting in|relieving)|instead of|in for"
    r"|(?:he|she|they|(?!here |speaking |again )[a-z]+)(?:'s|'d| is| has| had| was)? (?:went|gone|sick|off|left|out"
    r"|clocked out|headed"
    r" (?:home|out)|signed off|finished|handed (?:it|over)|took off)|the new guy|the (?:night|day) (?:guy|man|tech))\b.*$"
)
"""Why it is he and no other, behind the name."""


def introduced(text: str) -> str:
    """The name alone of what somebody says who is asked who speaks; all of it where it is no plain introduction.

    Args:
        text: normalised words.

    >>> introduced("well this is robin vale speaking"), introduced("robin vale"), introduced("joe from the night shift")
    ('robin vale', 'robin vale', 'joe')
    """
    match = _WHO.fullmatch(_WHY_HE.sub("", text) or text)
    return match["name"] if match and match["name"] not in ("the", "a", "an") else text


@cache
def _no_names() -> frozenset[str]:
    """Words that steer a call, name a reading or change nothing in one."""
    return (general() | {word for id_ in vocabulary() for word in name_words(id_)} | _STEERS) - _NAMES_TOO


def names_somebody(text: str) -> bool:
    """Whether a word of it is a name, as far as anybody can tell: it is none of those that calls are made of.

    >>> names_somebody("robin"), names_somebody("correction tag"), names_somebody("compressor two")
    (True, False, False)
    """
    return bool(set(text.lower().replace(".", " ").split()) - _no_names())
