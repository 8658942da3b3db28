"""A word on record that is told otherwise with what it is not: "no, wait, not oil, it's the discharge contact that's open"."""

import re

from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Confirmed, Part, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of

_NOT = re.compile(
    r"[, ]*\b(?:it(?:'s| is| was) |that(?:'s| was) |and )?not (?:the |an? )?(?P<before>[a-z]+(?: [a-z]+)?)(?=\s*[,.]|\s*$)"
)
_LEADS = re.compile(
    r"^(?:(?:no|nope|wait|sorry|oops|hold on|hang on|actually|correction|my bad|oh|i meant|i said|but|and)\b[ ,.]*)+"
)
_LATEST = 4
"""How many readings back it may be of: an older one is put right by its name."""


def not_this_but_that(call: Conversation, words: str) -> Confirmed | None:
    """The word in place of the one on record; None where none of the latest is named as it stands, or nothing is in its place."""
    said = words.lower()
    denied = _NOT.search(said)
    if denied is None or is_question(normalise(said)) or trouble(normalise(said)):
        return None
    rest = _LEADS.sub("", (said[: denied.start()] + "," + said[denied.end() :]).strip(" ,.")).strip(" ,.")
    for id_ in [*reversed(call.state.readings)][:_LATEST]:
        question = Question(id_, local=prompts.local_words(call.state, (id_,)))
        stands = call.state.readings[id_].value
        if kind_of(id_) != "choice" or _value(question, denied["before"]) != stands:
            continue
        value = _value(question, rest.replace(" was ", " is "))
        if value not in (None, stands):
            return Confirmed(False, Part(id_, value))
    return None


def _value(question: Question, words: str) -> str | None:
    said = understand_in_pieces(question, words)
    sure = isinstance(said, Answer) and len(said.parts) == 1 and not said.parts[0].doubt
    value = said.parts[0].value if isinstance(said, Answer) and sure else None
    return value if isinstance(value, str) else None
