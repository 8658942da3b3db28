"""A yes or a no to a value that was asked back, with the answer told once more behind it: "no, only ten minutes, so together"."""

import re

from assistant.call import modes
from assistant.call.asking import question_for
from assistant.call.conversation import Conversation
from assistant.language.by_example import by_example
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Confirmed, NotUnderstood, Part
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.unready import said_against, trouble
from assistant.language.vocabulary import kind_of

_BOTH = r"^(?:(?:oh|well|um|uh)[ ,]+)*(?:{})(?: (?:sir|ma'am|hon|boss|man))?\s*[,.]\s*(?P<more>\w.*)$"
_YES = re.compile(_BOTH.format("yes|yeah|yep|yup|right|correct|exactly|that's right|sure"))
_NO = re.compile(_BOTH.format("(?:no|nope|nah|naw)(?:,? (?:that's |it's )?(?:wrong|not right))?"))
_IS_RIGHT = re.compile(r"\b(?:right|correct|yes|yeah|problem|doubt|it is|that's it|good|fine|okay)\b")
"""Behind a no: "no, that's right" is neither."""


def yes_or_no_and_more(call: Conversation, words: str) -> Confirmed | None:
    """A yes where the rest tells the same value again; a no, with the other value where one is told; None for neither.

    A deed that is acknowledged is no value: to that a yes or a no stands alone, and what is told with it is looked at elsewhere.
    """
    said, text = words.lower().strip(), normalise(words)
    asked_back = [part for part, _ in call.doing.asked_back]
    deed = any(kind_of(part.id) == "acknowledge" or part.id.startswith("dead_volts") for part in asked_back)
    if call.mode.name != modes.ASKING_BACK or call.question is None or deed or is_question(text) or trouble(text):
        return None
    agrees, denies = _YES.match(said), _NO.match(said)
    match = agrees or denies
    if match is None or said_against(call.question, text):
        return None
    values = {part.id: part.value for part in asked_back}
    told = [part for part in _told(call, match["more"]) if part.id in values]
    again = bool(told) and all(values[part.id] == part.value for part in told)
    if agrees:
        return Confirmed(True) if again else None
    if again or _IS_RIGHT.search(match["more"]):
        return None
    of_readings = all(isinstance(value, float) for value in values.values())  # "no, suction's eleven", of two
    one_other = len(told) == 1 and (len(asked_back) == 1 or of_readings)
    other = told[0] if one_other and not call.doing.in_place_of else None
    return Confirmed(False, other)


def _told(call: Conversation, more: str) -> tuple[Part, ...]:
    """What the rest says of what was asked back, as it would have been an answer to the question itself."""
    step = call.state.steps.get(call.asked_at)
    question = question_for(call, tuple(part.id for part, _ in call.doing.asked_back), step)
    said = understand_in_pieces(question, more)
    if isinstance(said, NotUnderstood) and step is not None and step.also:  # "she's off, and there's two running"
        said = understand_in_pieces(question_for(call, tuple(step.ids), step), more)
    said = by_example(question, more) if isinstance(said, NotUnderstood) else said
    return said.parts if isinstance(said, Answer) else ()
