"""What is said with hands or probes in a panel: that the machine runs, that somebody moves or goes, that it is the wrong panel.

It is looked for where power is on, or must not be. The patterns are the project's own reading of how people say such things.
"""

import re

from assistant.language.goes_himself import goes_himself
from assistant.language.meaning import Command, Meaning, NotUnderstood

_RUNS = re.compile(
    r"\b(?:machine|compressor|motor|unit|she|it)(?:'s| is|'s just| just| has)? (?:just )?(?:running|turning|started|starting"
    r"|humming|kicked (?:on|in)|came on|going)\b|\b(?:somebody|someone|he|they) (?:just )?started (?:it|her|the \w+)\b"
)
_ASSENTS = re.compile(r"^(?:(?:got it|okay|yes|yeah|understood) )+")
"""The it of "got it" is no machine."""
_STOP_IT = re.compile(r"\bstop (?:it|her|the (?:machine|compressor))\b")
_PULLS_IN = re.compile(
    r"\b(?:contactor|starter|relay)(?:'s| is| has| just)?(?: just)?"
    r" (?:pull\w*|picked|picks|click\w*|clos\w+|slam\w*|bang\w*|chatter\w*|in)\b"
)
_LOOKS = re.compile(r"\b(?:look\w*|read\w*|listen\w*|see|seeing|wait\w*)\b")
_SELF = r"\b(?:i|i'm|i've|i'll|i'd|we|we're|let me|gotta|got to|have to|need to|going to|gonna)\b(?: \w+){0,3}"
_HANDS = (
    r"(?:mov\w+|reach\w*|grab\w*|dropp?\w*|lean\w*|bump\w*|touch\w*|unplug\w*|disconnect\w*|swap\w*|chang\w+|reconnect\w*"
    r"|(?:un|re) ?clip\w*|adjust\w*|fix\w*|push\w*|pull\w*|slipp?\w*|put|hold|tak(?:e|ing)|took|get|fetch|find|pick)"
)
_AWAY = r"(?:step\w*|leav\w+|walk\w*|go|went|climb\w*|answer\w*|off|back)"
_SOMEBODY = (
    r"\b(?:somebody|someone|people|a guy|he|she|they|my \w+|the (?:manager|boss|kid|store|customer|guy))(?:'s|'re| is| are)?"
)
_COMES = r"(?:here|back|talking|calling|asking|needs?|wants?|walk\w*|came|coming|comes|standing|yelling)"
_WENT_OFF = (
    r"\b(?:popped|bang|boom|blew|blown|flash\w*|crackl\w+|buzz\w*|smell\w*|burn\w*|breakers?|trips|tripped|lost power|went dead"
    r"|(?:power|lights?)(?:'s|'ve| have| just)? (?:went|gone|out|failed))\b"
    r"|\b(?:fell|falling|came|come|slid) (?:off|out|loose|down)\b"
    r"|\b(?:i|we|it|that)(?: just)? (?:shorted|bridged|crossed|touched two|slipped across)\b"
    r"|\bmy (?:\w+ )?(?:gloves?|hands?|arms?|boots?|foot|feet|fingers?|shield|visor|sleeve)\b|\bof us\b|\bdropped (?:a|the|my)\b"
    r"|\b(?:wet|rain\w*|drip\w*|metal|aluminum|both hands|two hands)\b|\blost (?:the|my|a|it)\b|\bphone\b|\bladder\b"
)
_LEAVES = re.compile(
    rf"{_SELF} (?:{_HANDS}|{_AWAY})\b|{_SOMEBODY}(?: just)? {_COMES}\b|{_WENT_OFF}|\bbe (?:right )?back\b"
    r"|\b(?:took|taking|take)(?: off)? my\b|\bunplugged\b"
)
_BACK = re.compile(r"\bbe (?:right )?back\b|\bback in\b")
_PANEL = r"(?:panel|box|cabinet|starter|compressor|machine|unit|enclosure)"
_WRONG = re.compile(
    rf"\b(?:wrong|neighbou?r's) {_PANEL}\b|\b(?:isn't|is not|not) (?:my|the right|this) {_PANEL}\b"
    rf"|\b(?:i'm|i am|i was|we're|my hands? (?:is|are|was|were)) (?:in|at|on) (?:the other|a different|another) {_PANEL}\b"
)
_DEAD = re.compile(
    r"\b(?:do|check|try|test|take|go|switch|change|want|rather|prefer)(?: \w+){0,4} dead\b"
    r"|\bdead (?:check|route|instead)\b"
    r"|\block it out (?:instead|first)\b"
)
_NOT = re.compile(
    r"\b(?:nobody|no one|nothing|not|never|don't|won't|isn't|can't|wants?|wanted|needs?|needed|was|until|before)\b"
)
"""Nothing runs now: "the owner wants it running"."""


_LIT = re.compile(
    r"\b(?:light|lamp|led|display|screen|indicator|l e d)(?:'s| is| just| has| came| come| went| still| suddenly)*"
    r" (?:lit(?: up)?|on|glow\w*|flash\w*|blink\w*)\b"
    r"|\b(?:panel|module|contactor|starter|box|board)(?:'s| is| just| has)*"
    r" (?:lit(?: up)?|glow\w*|hum\w*|buzz\w*|powered up|came alive|woke up|click\w*)\b"
    r"|\b(?:see|there's|there is|got) (?:an?|one|some)(?: \w+)? (?:light|lamp|led|glow)(?: lit| on| glowing)? in (?:here|there)\b"
)
_OWN_LIGHT = re.compile(
    r"\b(?:flash ?light|torch|head ?lamp|head ?light|work ?light|phone|room|store|hall|ceiling|truck|van|my|case|aisle|no|not"
    r"|nothing|isn't|never|detector|without)\b|n't\b"
)


_IS_LIVE = re.compile(
    r"(?:(?:no|whoa|hey|damn|careful|okay|well|oh|ah|so) )*(?:(?:the |that )?(?:control|power|drive|bus|it|that|this)"
    r"(?:'s| is)) (?:(?:still|all) )*(?:hot|live|alive|energi[sz]ed|powered)(?: (?:in here|here|now|though|at the strip))*"
)


def says_live(text: str) -> bool:
    """Whether somebody says that a circuit is live, and no volts.

    >>> says_live("the control's still hot"), says_live("it's live in here"), says_live("the pipe's hot")
    (True, True, False)
    """
    return bool(_IS_LIVE.fullmatch(text))


def comes_alive(text: str) -> bool:
    """Whether something is lit, hums or clicks in a panel that is proved dead: another source feeds it.

    >>> comes_alive("open line and the module light came on"), comes_alive("my light's on"), comes_alive("no lamp is lit")
    (True, False, False)
    """
    return bool(_LIT.search(text)) and not _OWN_LIGHT.search(text)


_VOLTS = re.compile(r"\bvolt(?:s|age)\b|\bstill (?:have|has|got|see|reading) (?:power|juice)\b")
_STILL_LIVE = re.compile(r"\b(?:'s|is) (?:still )?(?:live|hot to ground|energi[sz]ed|powered)\b"
                         r"(?! (?:measurement|check|work|route))")
_NO_VOLTS = re.compile(
    r"\b(?:no|zero|nothing|none|without|dead|not|never|millivolts?|ghost|low|under|less|rated|coil's a|was)\b|n't\b"
)
_LITTLE = re.compile(r"\b(?:point \w+|half(?: a)?|one|two) volts?\b")


def reads_volts(text: str) -> bool:
    """Whether voltage is told of where all was proved dead; what is told of none, or of next to none, is none.

    >>> reads_volts("two oh eight volts on it"), reads_volts("i still have power"), reads_volts("no volts there")
    (True, True, False)
    """
    told = bool(_VOLTS.search(text) or _STILL_LIVE.search(text))
    return told and not (_NO_VOLTS.search(text) or (_LITTLE.search(text) and "hundred" not in text))


_NO_LABEL = re.compile(
    r"\b(?:no|not? any|without an?|isn't an?|ain't no) (?:arc flash )?(?:label|sticker)\b"
    r"|\b(?:can't|cannot|couldn't) read (?:the |it|that)"
    r"|\blabel(?:'s| is| has)?(?: all| been)? (?:missing|gone|torn|faded|painted over|unreadable|not there"
    r"|worn off|peeled off|off)\b"
)


def no_label(text: str) -> bool:
    """Whether the panel has no label that could be met: then nobody works on it live (S8).

    >>> no_label("no label on it"), no_label("label read")
    (True, False)
    """
    return bool(_NO_LABEL.search(text))


_ANOTHER = re.compile(r"\b(?:other|others|another|next to|neighbou?r\w*|beside|store's|next door)\b")


def runs_though_it_must_not(text: str, starter_too: bool = False) -> bool:
    """Whether it is said that the machine runs, or that somebody is to stop it, where it stands or must.

    Args:
        text: normalised words.
        starter_too: its start is blocked: a starter that pulls in is one that runs.

    >>> runs_though_it_must_not("the compressor started"), runs_though_it_must_not("the line's running")
    (True, False)
    >>> runs_though_it_must_not("the contactor pulled in"), runs_though_it_must_not("the contactor pulled in", True)
    (False, True)
    """
    return runs(text) or bool(_STOP_IT.search(text)) or (starter_too and bool(_PULLS_IN.search(text)) and not _NOT.search(text))


def runs(text: str) -> bool:
    """Whether it is said that the machine runs; another one may.

    >>> runs("the compressor's running"), runs("the other compressor's running")
    (True, False)
    """
    told = _ASSENTS.sub("", text)
    return bool(_RUNS.search(told)) and not _NOT.search(text) and not _ANOTHER.search(text) and not goes_himself(told)


def leaves(text: str, meaning: Meaning) -> bool:
    """Whether somebody moves his hands, goes, or is disturbed by what happens, while power is on.

    Args:
        text: normalised words.
        meaning: what they were taken for: only what was not understood is looked at, "stop", and a going back that is none.

    >>> leaves("i need to move the lead", NotUnderstood()), leaves("let me take a look", NotUnderstood())
    (True, False)
    """
    if isinstance(meaning, Command):
        return meaning.name == "stop" or (meaning.name == "back" and bool(_BACK.search(text)))
    return isinstance(meaning, NotUnderstood) and bool(_LEAVES.search(text)) and not _LOOKS.search(text)


def wrong_panel(text: str) -> bool:
    """Whether it is said that hands are in another machine's panel.

    >>> wrong_panel("i'm in the wrong panel"), wrong_panel("the panel is open")
    (True, False)
    """
    return bool(_WRONG.search(text))


def rather_dead(text: str) -> bool:
    """Whether somebody would rather measure dead.

    >>> rather_dead("i'd rather do it dead"), rather_dead("it's dead")
    (True, False)
    """
    return bool(_DEAD.search(text))
