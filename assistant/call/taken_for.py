"""What typed words count for in this call: a valve as it was found, another machine, a "continue" with more behind it."""

import re
from dataclasses import replace

from assistant.call import modes
from assistant.call.conversation import Conversation
from assistant.call.heard import Heard
from assistant.language.found_so import found_shut
from assistant.language.grammar import normalise
from assistant.language.machine_names import named_beside
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Part, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.vocabulary import vocabulary

_GOES_ON = re.compile(r"(?:(?:okay|yes|right|alright)[ ,.]+)*(?:continue|carry on|resume|i'm back|go on|keep"
    r" going)\b(?! (?:hold|wait|later|when|if|after))")


def taken_for(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning as it counts in this call.

    Args:
        call: as it stands.
        question: what was asked.
        meaning: what the words mean to the question.
        heard: the words.
    """
    typed = heard.meaning is None
    if call.mode.name == modes.ON_HOLD and typed and isinstance(meaning, NotUnderstood) and _GOES_ON.match(heard.words):
        meaning = Command("continue")  # "continue, where am I?"
    return _of_another(call, question, _as_it_was_found(call, question, meaning, heard), heard)


def _as_it_was_found(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning; where a valve was opened before it was looked at, that it was shut: that is what brought the trip about."""
    if heard.meaning is not None or call.mode.name != modes.ASKING or "/" in call.asked_at or is_question(normalise(heard.words)):
        return meaning
    step = call.state.steps.get(call.asked_at)
    closed = next((word for word in step.tells if "closed" in word.split() and "valve" in step.tells[word]), "") if step else ""
    return found_shut(question, normalise(heard.words.replace(",", " ")), closed) or meaning


_SATELLITE = re.compile(r"\bsatellites?\b")


def _of_another(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Meaning:
    """The meaning; where another machine is named beside readings, that machine: it is asked back, and none of them counts."""
    if heard.meaning is not None or not isinstance(meaning, Answer | NotUnderstood):
        return meaning
    text = normalise(heard.words.replace(",", " "))
    free = question.asking in vocabulary() and vocabulary()[question.asking].kind == "free"
    if _SATELLITE.search(text) and not free:
        return NotUnderstood()  # it stands outside this procedure, and how it runs says nothing of this machine
    _, named = named_beside(question, text)
    own = call.state.value("compressor")
    if named is None or own is None or named == own:
        return meaning
    told = understand_in_pieces(replace(question, machine=None), heard.words) if isinstance(meaning, NotUnderstood) else meaning
    return Answer((Part("compressor", named),)) if isinstance(told, Answer) else meaning
