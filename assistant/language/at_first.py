"""Typed words as they are looked at first: put plainly, parted where a sentence ends, without the moment that was asked for.

The patterns are the project's own reading of how people type and talk.
"""

import re

from assistant.language.hedges import at_once_plainly
from assistant.language.meaning import Question
from assistant.language.remarks import burnt_part
from assistant.language.vocabulary import vocabulary

_FULL_STOP = re.compile(r"\s*(?:\.{2,}|[.;:!](?=\s+\S))\s*")
_WAITED = re.compile(
    r"^\s*(?:(?:hang|hold) on|wait|moment|(?:just )?(?:a|one) (?:moment|minute|second|sec)|let me (?:see|look|check))"
    r"(?: (?:a|one|just a|here|there|please|moment|minute|second|sec|bit|now))*\s*,\s*(?:okay|alright|all right|there|yeah|yes"
    r"|now|got it|right)\b[ ,]*(?=\w)",
    re.IGNORECASE,
)
_SO_IT_IS = re.compile(r"\bthat(?:'s| is) (?:correct|right|so)\b", re.IGNORECASE)


def at_first(question: Question, words: str) -> str:
    """The words as they are looked at first.

    >>> at_first(Question("leads_on"), "Done... they're off")
    "Done , they're off"
    >>> at_first(Question("close_consent"), "it is okay, that is correct")
    'it is okay, yes'
    """
    words = burnt_part(_FULL_STOP.sub(" , ", at_once_plainly(words)))
    entry = vocabulary().get(question.asking)
    if entry is not None and entry.kind in ("acknowledge", "yes_no"):  # else it puts a reading right
        words = _SO_IT_IS.sub("yes", words)
    return words


def after_the_wait(words: str) -> str:
    """What is told once the moment is over that somebody asked for in the same breath; empty where none was.

    >>> after_the_wait("wait a moment please , okay, both gauges are connected"), after_the_wait("hang on, somebody's here")
    ('both gauges are connected', '')
    """
    plain = _WAITED.sub("", words)
    return plain if plain != words else ""
