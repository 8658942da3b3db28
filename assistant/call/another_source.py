"""A second source that somebody opened himself, and told beside an answer: "zero, I opened the control breaker too".

Nothing was live there, and nothing keeps it so: his own lock goes on it too, and comes off at the end. The patterns are the
project's own reading of how people talk.
"""

import re

from assistant.call import modes
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.meaning import Question

_OPENED = re.compile(
    r"\b(?:i|we)(?:'ve| have)?(?: just| also| already| did)?"
    r" (?:open(?:ed)?|kill(?:ed)?|shut off|turn(?:ed)? off|switch(?:ed)? off|flip(?:ped)?(?: off)?|thr(?:ew|ow)|trip(?:ped)?"
    r"|pull(?:ed)?)"
    r" (?P<what>(?:off )?(?:the |its |that |his )?control(?: power| circuit|'s)?"
    r" (?:breaker|fuses?|switch|disconnect|isolator|feed|supply))\b"
)


def opened_another_source(call: Conversation, question: Question, words: str) -> str:
    """What he opened, in his words; empty where he tells of nothing, or its lock is asked for or on."""
    s = call.state
    dead = question.asking.startswith("dead_volts.") or question.asking.startswith("meter_proved")
    known = "second_lock" in s.open or "second_source_locked" in s.due or "second_source" in s.readings
    match = _OPENED.search(normalise(words))
    return match["what"] if match and dead and call.mode.name != modes.WINDOW and s.lock.locked and not known else ""
