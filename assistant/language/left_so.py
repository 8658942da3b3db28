"""What somebody tells that he, or another, left otherwise than it was: a set point, a defrost, the loading, a makeshift part.

It is looked for clause by clause, at whatever question. The patterns are the project's own reading of how people say such things.
"""

import re

_DID = (
    r"\b(?:i|we|he|she|they|somebody|someone|(?:the )?(?:store|manager|boss|night man|day man|guy|electrician))"
    r"(?:'ve|'s|'d| have| has| had| just| already| also| only)*"
)
_MOVED = r"(?:moved|raised|lowered|dropped|bumped|changed|turned|set|put|left|upped|cranked|brought|pushed)"
_STILL = r"(?:'s|'re| is| are| was| were)?(?: still| left| now| currently)*"
_COUNT = r"(?:a|an|one|two|three|four|five|six|seven|eight|nine|ten|couple|few|bit|\d+)"
_AMOUNT = rf"(?: (?:{_COUNT}|of|pounds?|degrees?|psi|bar))*"
_OFF = r"(?:off|out|disabled|stopped|locked out|switched off|turned off|shut off|cancelled)"
_PATTERNS: tuple[tuple[str, str], ...] = (
    ("set_point_changed", rf"{_DID} {_MOVED}(?: up| down)?(?: the| its| that| this)?(?: (?!not\b)\w+)? set ?points?\b"),
    ("set_point_changed", rf"\bset ?points?{_STILL}{_AMOUNT} (?:up|down|raised|lowered|moved|changed|higher|lower|off)\b"),
    ("defrost_disabled", rf"{_DID} (?:turned|switched|shut|took|cut|left|locked|killed|disabled|stopped|put|cancelled)"
     r"(?: off)?(?: \w+)? defrosts?\b(?! (?:on|back))(?: \w+)*"),
    ("defrost_disabled", rf"(?<!in )(?<!isn't )\bdefrosts?(?: on [\w ]+?)?{_STILL} {_OFF}\b"),
    ("defrost_disabled", r"\b(?:case|circuit|box|freezer|walk in)s?(?: \w+)?(?:'s|'re| is| are)? (?:out of|off) defrost\b"),
    ("capacity_forced", rf"{_DID} (?:forced|locked|overrode|pinned)(?: it| her| the \w+)*"
     r"(?: (?:up|on|in|at|to|into|full|fully|loaded|unloaded|load))+\b"),
    ("capacity_forced", rf"\b(?:unloaders?|loading|capacity|compressor|machine|it){_STILL}"
     r" (?:forced|overridden|in override|on override|pinned)\b"),
    ("temporary", r"\b(?:on|with|by|off) an? (?:\w+ )?(?:extension|temporary|temp|makeshift|jury rigged)"
     r" (?:cord|lead|cable|wire|feed|supply|hookup|fan|part|fix|drop)\b"),
    ("temporary", r"\b(?:extension cord|temporary (?:fan|feed|wire|cable|part|coil|fuse|fix))\b"
     r"(?! (?:is|'s) (?:out|off|gone|in the))"),
)  # fmt: skip
_COMPILED = tuple((about, re.compile(pattern)) for about, pattern in _PATTERNS)
LEFT_SO = tuple(dict.fromkeys(about for about, _ in _PATTERNS))
"""Ids of obligations; `temporary` a part."""
_NOT_SO = re.compile(
    r"\b(?:back|not|never|nobody|no one|nothing's|would|could|should|might|may|if|want\w*|gonna|going to|can i|let me|i'll|will"
    r"|yesterday|last|need\w*|have to|wait|hold|for defrost)\b|n't\b"
)
"""It was put back, is only meant, asked or denied."""
_NONE_IN = re.compile(r"\b(?:no|any|without|none|took|taken|removed|pulled)\b")
"""Of a makeshift part: there is none, or none any more."""
_CLAUSES = re.compile(r",|;|\b(?:and|but|so|because|though)\b")


def left_so(words: str) -> str:
    """Which of `LEFT_SO` a clause of these words tells; empty for none.

    Args:
        words: as said.

    >>> left_so("nothing, i moved the set point two pounds for tonight"), left_so("there is no temporary part in it")
    ('set_point_changed', '')
    """
    for clause in (part.strip(" .!") for part in _CLAUSES.split(words.lower())):
        if clause and not _NOT_SO.search(clause):
            found = next((about for about, pattern in _COMPILED if pattern.search(clause)), "")
            if found and not (found == "temporary" and _NONE_IN.search(clause)):
                return found
    return ""
