"""A word on record that is told otherwise with what it is not: "no, wait, not oil, it's the discharge contact that's open"."""

import re
from dataclasses import replace

from assistant.call import prompts
from assistant.call.asking import question_for, units_of
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Confirmed, Part, Question
from assistant.language.names import name_words
from assistant.language.pieces import understand_in_pieces
from assistant.language.quantities import NUMBER_KINDS
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
_NOT_THE_NUMBER = re.compile(r"[, ]*\b(?:and )?not (?:an? )?(?P<before>[a-z0-9., -]+?)(?=,|[.;]\s|[.;]?\s*$)")
_PUT_RIGHT = re.compile(
    r"\b(?:no|nope|wait|sorry|oops|actually|correction|my bad|i meant|i said|was)\b|^not\b"
)
"""Without one of these "seven thousand here, not six" may well answer what is asked now."""
_IS_WRONG = re.compile(
    r"^(?:(?:no|nope|wait|sorry|but)[ ,.]+)*(?:(?:that|this|it)(?:'s| is| was) (?:all )?(?:wrong|not right|a mistake)"
    r"|wrong|correction|(?:i|you)(?: have|'ve)? (?:got|had|heard) (?:that|it|me) wrong|correct the [a-z]+(?: [a-z]+)?)"
    r"[ ,.:]+(?P<rest>.+)$"
)
"""What he says who takes something back and tells it anew in the same breath."""
_A_SENTENCE = 3
"""Words of his from which it is one."""
_NAME_NOTHING = frozenset("a an and as at in is it of on or out state the to used left liquid".split())
"""Words of a reading's names by which it is not meant alone."""


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


def this_number_not_that(call: Conversation, words: str) -> Confirmed | None:
    """The number in place of one of the latest: "no, that was six thousand one hundred, not six thousand"; None where none of
    them is denied, or no other is told."""
    said = words.lower().strip()
    denied = _NOT_THE_NUMBER.search(said)
    if denied is None or not _PUT_RIGHT.search(said) or is_question(normalise(said)) or trouble(normalise(said)):
        return None
    rest = _LEADS.sub("", (said[: denied.start()] + "," + said[denied.end() :]).strip(" ,.")).strip(" ,.")
    for id_ in [*reversed(call.state.readings)][:_LATEST]:
        stands = call.state.readings[id_].value
        if kind_of(id_) not in NUMBER_KINDS:
            continue
        question = Question(id_, units=units_of(call))
        was, told = _number(question, denied["before"]), _number(question, rest)
        if was and told and was.value == stands != told.value:
            return Confirmed(False, replace(told, doubt=""))
    return None


def _number(question: Question, words: str) -> Part | None:
    """The one number of this reading that they tell."""
    said = understand_in_pieces(question, words.replace(" was ", " is "))
    ours = [p for p in said.parts if p.id == question.asking] if isinstance(said, Answer) else []
    return ours[0] if len(ours) == 1 else None


def wrong_and_so(call: Conversation, words: str) -> Confirmed | None:
    """The word in place of the one on record: "that's wrong, no part was left in"; None where it is of none, or of two, of the
    latest readings, or says what stands."""
    said = _IS_WRONG.match(words.lower().strip())
    if said is None or _OF_ANOTHER.search(words.lower()):
        return None
    if len(said["rest"].split()) < _A_SENTENCE or is_question(normalise(words)) or trouble(normalise(words)):
        return None
    rest = said["rest"].strip(" ,.").replace(" was ", " is ").replace(" were ", " are ")
    told: list[tuple[str, str]] = []
    for id_ in [*reversed(call.state.readings)][: 2 * _LATEST]:
        if kind_of(id_) != "choice" or id_ == "detector_state" or not _own_words(call, id_) & set(rest.split()):
            continue
        step = call.state.steps.get(call.state.readings[id_].step)
        value = _value(replace(question_for(call, (id_,), step), volunteer=()), rest, sure=False)
        if value is not None:
            told.append((id_, value))
    if len(told) != 1 or call.state.readings[told[0][0]].value == told[0][1]:
        return None
    return Confirmed(False, Part(*told[0]))


_OF_ANOTHER = re.compile(r"\b(?:compressor|number|machine|unit|rack) (?!in\b|is\b|has\b|was\b)[a-z]+\b|\bother\b|\bneighbou?r")


def _own_words(call: Conversation, id_: str) -> frozenset[str]:
    """The words by which this reading is called, and none that was taken after it."""
    taken = [*call.state.readings]
    others = frozenset().union(*(name_words(other) for other in taken[taken.index(id_) + 1 :]))
    return name_words(id_) - others - _NAME_NOTHING


def _value(question: Question, words: str, sure: bool = True) -> str | None:
    said = understand_in_pieces(question, words)
    one = isinstance(said, Answer) and len(said.parts) == 1 and not (sure and said.parts[0].doubt)
    value = said.parts[0].value if isinstance(said, Answer) and one else None
    return value if isinstance(value, str) else None
