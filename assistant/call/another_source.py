"""A second source that was opened, and is told beside an answer: "zero, I opened the control breaker too".

Nothing was live there, and nothing keeps it so: his own lock goes on it too, whoever opened it, and comes off at the end. The
patterns are the project's own reading of how people talk.
"""

import re

from assistant.call import modes
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.meaning import Question

_BREAKER = r"(?:breaker|fuses?|switch|disconnect|isolator|feed|supply)"
_OPENED = re.compile(
    r"\b(?:i|we|he|she|they|somebody|someone|the (?!never)\w+)(?:'ve|'s| have| has)?(?: just| also| already| did)?"
    r" (?:open(?:ed|s)?|kill(?:ed)?|shut off|turn(?:ed)? off|switch(?:ed)? off|flip(?:ped)?(?: off)?|thr(?:ew|ow)|trip(?:ped)?"
    r"|pull(?:ed)?|knock(?:ed)?|drop(?:ped)?|isolate[ds]?)"
    rf" (?P<what>(?:off )?(?:the |its |that |his )?control(?: power| circuit|'s)? {_BREAKER})\b"
    rf"|\b(?P<open>control(?: power| circuit|'s)? {_BREAKER})(?:'s| is| are|'re)(?: also| already| just)?"
    r" (?:open|off|pulled|tripped)\b"
)
_THE_BREAKER = re.compile(
    rf"\b(?P<open>{_BREAKER})(?:'s| is|)(?: also| already| just)? (?:open|off|out|pulled|tripped)\b"
    rf"|(?<!never )(?<!n't )(?<!not )\b(?:opened|killed|flipped|threw|tripped|pulled|knocked|dropped|isolated)(?: off)?"
    rf" (?P<what>(?:the|that|its) {_BREAKER})\b"
)
"""Where the control circuit is asked about, it is that one's."""


def opened_another_source(call: Conversation, question: Question, words: str) -> str:
    """What was opened, in his words; empty where he tells of nothing, or its lock is asked for or on."""
    s, text = call.state, normalise(words.replace(",", " "))
    dead = question.asking.startswith("dead_volts.") or question.asking.startswith("meter_proved")
    known = "second_lock" in s.open or "second_source_locked" in s.due or "second_source" in s.readings
    match = _OPENED.search(text) or (_THE_BREAKER.search(text) if question.asking == "dead_volts.control" else None)
    if match is None or not dead or known or call.mode.name == modes.WINDOW or not s.lock.locked:
        return ""
    return match["what"] or match["open"]
