"""What acknowledges a caution in people's own words: that it was heard, or that it is as it asks ("gloves on, shield down").

Typed words only; the ear listens for "understood" and its like. The words are the project's own reading of how people talk.
"""

import re
from functools import cache

from assistant.language.grammar import normalise
from assistant.language.numbers import number
from assistant.language.questions import is_question

LEAST_OXYGEN_PERCENT, MOST_OXYGEN_PERCENT = 19.5, 23.5
"""Air to breathe, by the room's caution and 29 CFR 1910.146: less starves, more burns."""
_FILLS = "yes|yeah|yep|yup|okay|ok|alright|right|sure|uh|um|well|oh|and|so"
_SAID = (
    "yes|yeah|yep|yup|okay|ok|alright|right|sure|understood|got it|gotcha|noted|heard|heard (?:you|that|it)|loud and clear",
    "i (?:heard|hear) (?:you|that|it)|copy(?: that)?|roger(?: that)?|ten four|will do|always do|always|as always|i always do",
    "of course|no problem|no worries|fair enough|sure thing|you bet|absolutely|certainly|thanks|thank you|aye|cheers|read you",
    "i know(?: that| it| the drill)?|(?:i'm )?aware(?: of (?:it|that))?|i understand|makes sense|point taken|got that|i got you",
    "(?:i'm |being )?careful|(?:i'll|i will|we'll) (?:be careful|watch (?:it|out)|mind it|keep clear|do that|take care|remember)",
    "i'm (?:on it|with you|listening|good)|we're good|(?:all )?good|that's (?:fine|clear|understood)|(?:crystal )?clear",
)
_HEARD = rf"(?:(?:{_FILLS}) )*(?:{'|'.join(_SAID)})(?: (?:ma'am|sir|boss|mate|then|thanks|thank you|man|buddy))*"
"""What says that it was heard."""
_SCOFFS = re.compile(r"\b(?:yeah|yes|sure|oh|okay) right\b|\byeah yeah yeah\b")
"""What sounds like assent and is none."""
_BEFORE = (
    "i've|i|i'm|we're|got|have|my|our|own|the|a|both|one|two|wearing|with|put|keeping|using|is|are|it's|only|just|of|reading|read"
    "|already|all|rated|dry|fused|good|arc|that's|there's|face|safety|here's|yes|yep|yeah|okay|well|also|on|flash"
)
_BEHIND = "is|are|on|down|good|checked|read|tested|in place|all|already|too|both|now|okay|fine|meets it|clear|only|me|dry"
_GEAR = "gloves|leathers|shield|visor|glasses|goggles|gear"
_KEPT = {
    "lock_out": r"tag|lock|padlock|key(?:'s| is)? in my pocket|key|(?:i )?read it",
    "proving": rf"{_GEAR}|hand|meter",
    "live": rf"{_GEAR}|label|clothing|leads|hand",
    "live_place": rf"{_GEAR}|ladder|fiberglass|fiberglass ladder|ear|floor",
    "hot_line": _GEAR,
    "liquid_and_cold": rf"{_GEAR}|licen[cs]e",
    "acid": _GEAR,
    "jumper": rf"{_GEAR}|start(?:'s| is)? blocked|starter(?:'s| is)? blocked",
    "coil": rf"{_GEAR}|power(?:'s| is)? off",
    "insulation_test": _GEAR,
    "ladder": r"ladder|three points|tied|tied off",
    "fans": r"arm's length|clear of the fans?|clear of them",
    "restart": r"clear of it|hands clear|standing clear|clear of the machine",
    "terminals": rf"{_GEAR}|standing aside|off to the side|to the side",
    "pressure_test": r"nitrogen|regulator|relief",
    "brazing": r"permit|fire watch|nitrogen|nitrogen flow",
    "charging": r"scale|rack and cylinder|same refrigerant",
}
"""What a caution asks for, by the names of things: said to be there, it was heeded."""
_DETECTOR = (
    r"(?:(?:the|my|gas|leak|room) )*(?:detector|sniffer|monitor|sensor)(?:'s| is| reads| shows| looks)?(?: all| still| nice and)*"
    r" (?:(?:lit|on|green) and )?(?:lit|quiet|green|on|good|fine|happy|silent|normal|okay|clear|working|zero"
    r"|not (?:beeping|going off|alarming|sounding))"
    r"|(?:the )?alarm(?:'s| is) (?:quiet|silent)|no (?:alarms?|beeping|beeps|leak alarm)"
    r"|(?:it's |all )?(?:quiet|silent)|lit and quiet"
)
_FAN = (
    r"(?:(?:the|exhaust|room|vent|extract) )*(?:fans?|ventilation|exhaust)(?:'s|'re| is| are)?(?: all| still)*"
    r" (?:running|on|going|humming|good|fine|spinning|blowing|roaring|working|pulling|turning)|fan running"
)
_NOT_ON = r"(?:not|isn't|ain't) (?:on|lit|running|going|working|turning)"
_LACKS = (
    ("no fan", re.compile(
        r"\b(?:no (?:exhaust |room |vent )?(?:fan|ventilation|exhaust)"
        r"|(?<!head )(?<!condenser )(?:fan|ventilation|exhaust)(?:'s| is| has)?(?: still| all| just| been)*"
        rf" (?:off|out|down|dead|broken|stopped|quit|seized|{_NOT_ON}|(?:won't|doesn't) (?:run|start|go|come on|work)))\b"
    )),
    ("no detector", re.compile(
        r"\b(?:no (?:detector|sniffer)|(?:detector|sniffer)(?:'s| is| has)?(?: still| just| all)*"
        rf" (?:dark|off|dead|out|blank|broken|unplugged|{_NOT_ON}))\b"
    )),
    ("alarm", re.compile(
        r"\b(?:detector|sniffer|alarm)(?:'s| is)?(?: still| just)*"
        r" (?:red|flashing|beeping|chirping|going off|screaming|sounding|not quiet|isn't quiet)\b"
    )),
)  # fmt: skip
"""What the room's caution asks for and is not so."""
_AIR = (
    r"(?:(?:the|my) )?(?:oxygen|air|meter)(?: meter)?(?:'s| is| reads| at| shows| level)*(?: at| about| good| fine| okay)?"
    r"(?: (?P<percent>(?:[\w.]+ )*?[\w.]+)(?: percent)?)?|(?P<alone>(?:[\w.]+ ){1,4})percent(?: oxygen)?"
)
DETECTOR_GOOD, FAN_GOOD = re.compile(_DETECTOR), re.compile(_FAN)
_WHOLE = r"(?:everything|it|all of it|room)(?:'s| is| looks)(?: all)? (?:good|fine|normal|okay|right|safe|clear)"
_AND = re.compile(r" and (?!quiet|silent|clear\b)|^and ")
"""Between two clauses, not inside "lit and quiet"."""


def clauses_of(words: str) -> list[str]:
    """The clauses of what was typed, normalised: cut at commas and at what joins two."""
    return [clause for piece in words.split(",") for clause in _AND.split(normalise(piece)) if clause]


@cache
def _pattern(names: tuple[str, ...], gear: bool) -> re.Pattern[str]:
    """What acknowledges these cautions, or, with `gear`, what may stand beside that at any."""
    kept = "|".join([_KEPT[name] for name in names if name in _KEPT] + ([_GEAR] if gear else []))
    ways = [_HEARD] + ([rf"(?:(?:{_BEFORE}) )*(?:{kept})(?:'s|'re)?(?: (?:{_BEHIND}))*"] if kept else [])
    ways += [_DETECTOR, _FAN, _WHOLE] if "room" in names else []
    return re.compile("|".join(f"(?:{way})" for way in ways))


def heeded(words: str, names: tuple[str, ...]) -> bool:
    """Whether each clause acknowledges these cautions, or says that what they ask for is so.

    Args:
        words: as typed.
        names: of `cautions.toml`, those that wait to be acknowledged.

    >>> heeded("got it, gloves on and shield down", ("live",)), heeded("gloves are off", ("live",)), heeded("wait", ("live",))
    (True, False, False)
    >>> [heeded(said, ("room",)) for said in ("detector's green, fan's humming, oxygen's fine", "oxygen's at eighteen")]
    [True, False]
    """
    text = normalise(words.replace(",", " "))
    if is_question(text) or "?" in words or _SCOFFS.search(text):
        return False
    clauses = clauses_of(words)
    of_it = any(_heeds(clause, names, False) for clause in clauses)
    return of_it and all(_heeds(clause, names, True) for clause in clauses)


def room_lacks(text: str) -> str:
    """What the room lacks by what is said at its caution: `no fan`, `no detector` or `alarm`; empty for nothing.

    >>> room_lacks("noted but the fan's off"), room_lacks("detector's dark"), room_lacks("fan's humming")
    ('no fan', 'no detector', '')
    """
    return next((about for about, lacks in _LACKS if lacks.search(text)), "")


def _heeds(clause: str, names: tuple[str, ...], gear: bool) -> bool:
    """One clause; a word of assent may stand before what is so, and two things beside each other."""
    pattern = _pattern(names, gear)
    if pattern.fullmatch(clause) or ("room" in names and _good_air(clause)):
        return True
    tokens = clause.split()
    return any(
        pattern.fullmatch(" ".join(tokens[:at])) and _heeds(" ".join(tokens[at:]), names, gear) for at in range(1, len(tokens))
    )


def _good_air(clause: str) -> bool:
    percent = oxygen_percent(clause)
    if percent is None:
        return bool(re.fullmatch(r"(?:(?:the|my) )?(?:oxygen|air)(?:'s| is| looks) (?:good|fine|okay|normal)", clause))
    return LEAST_OXYGEN_PERCENT <= percent <= MOST_OXYGEN_PERCENT


def oxygen_percent(text: str) -> float | None:
    """The oxygen that somebody reads out, in percent; None where he names none.

    >>> oxygen_percent("oxygen's at twenty point nine"), oxygen_percent("eighteen percent"), oxygen_percent("oxygen's fine")
    (20.9, 18.0, None)
    """
    match = re.fullmatch(_AIR, text)
    said = (match["percent"] or match["alone"] or "").strip() if match else ""
    try:
        return float(number(said)) if said else None
    except ValueError:
        return None
