"""A deed of which a part is still to come or that was undone in the same breath, and a "clear" of all but somebody.

The patterns are the project's own reading of how people say it in a few words, which no comma parts.
"""

import re

_NOT_WHOLLY = re.compile(
    r"\b(?:next|to follow|in a (?:minute|sec|second|moment|bit)|shortly|coming up|still to (?:do|go|come|be done)|to be done)$"
    r"|\btook it off,? (?:and |then )?put it back\b|\bput it back,? (?:and |then )?(?:pulled|took) it\b"
    r"|\bfans?(?:'s|'re| is| are)?(?: just)? (?:winding|slowing|coasting|spinning) down\b"
)
"""Behind a deed: a part of it is still to come, or was undone: "clear, tools next"."""
_ONLY_SOMEBODY = re.compile(
    r"\b(?:just|only|but|except|bar|besides|apart from|save)(?: for)?"
    r" (?:(?:the|my|a|an|one|that|this|his|her|some|our|old|night) )*"
    r"(?:kids?|child|children|boys?|lads?|girls?|lass|apprentice|helper|mate|partner|manager|cleaners?|guard|watchman|customers?"
    r"|shoppers?|wom[ae]n|lady|m[ae]n|guys?|fella|fellow|people|folks?|crew|stockers?|baker|butcher|dog|cat)\b"
    r"(?! (?:who |that )?(?:left|went|moved|stepped|has gone|is gone|and me\b))"
)
"""Beside "clear": of all but one."""


def half_done(text: str) -> bool:
    """Whether the deed that these words call done is half done, or undone again.

    >>> half_done("clear tools next"), half_done("took it off put it back"), half_done("clear tools out")
    (True, True, False)
    """
    return bool(_NOT_WHOLLY.search(text))


def all_but_somebody(text: str) -> bool:
    """Whether "clear" is said of all but one.

    >>> all_but_somebody("clear just the kid"), all_but_somebody("clear the kid's gone")
    (True, False)
    """
    return bool(_ONLY_SOMEBODY.search(text))
