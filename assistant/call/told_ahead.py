"""What is told in one breath with an answer and is asked by a later step: "eleven and two oh five, no defrost"."""

import re

from assistant.branches.steps import Step
from assistant.call.asking import question_for
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.heeded import clauses_of
from assistant.language.in_free_words import in_free_words
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question, Remark
from assistant.language.names import is_named
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.unready import said_against, trouble
from assistant.language.vocabulary import kind_of

_TOLD = ("choice", "yes_no")
"""Kinds of which a clause can be told ahead; a number may be another's, and what is acknowledged is said when it is asked."""


def with_what_comes(call: Conversation, question: Question, meaning: Meaning, words: str) -> Meaning:
    """The answer, and what else its breath tells of readings that may be volunteered now, each named in a clause of its own that
    answers nothing of what was asked; where any clause sounds like trouble, the answer alone."""
    clauses = clauses_of(words)
    if not isinstance(meaning, Answer) or len(clauses) < 2 or not question.volunteer or is_question(normalise(words)):
        return meaning
    if any(part.doubt for part in meaning.parts) or trouble(normalise(words)):
        return meaning
    if meaning.parts == (Part("leak_found", "yes"),) and (place := _where_it_leaks(clauses)):
        return Answer((*meaning.parts, Part("leak_place", place)))
    said = {part.id for part in meaning.parts}
    asking = call.course.volunteered(call.state)
    more: dict[str, Part] = {}
    for clause in clauses:
        here = understand_in_pieces(question, clause)
        named = here.parts if isinstance(here, Answer) else ()  # by the language itself, whichever else has that name
        if any(is_named(id_, clause) for id_ in (question.asking, *question.also)):
            continue  # "the head is way up there" is of what was asked, and of no head fan
        if said_against(question, clause) or not (named or isinstance(here, NotUnderstood)):
            continue
        ids = [part.id for part in named] or asking
        told = [part for id_ in ids if id_ in question.volunteer and (part := _told(call, id_, asking[id_], clause))]
        if len(told) == 1:
            more[told[0].id] = told[0]
    new = tuple(part for id_, part in more.items() if id_ not in said and id_ not in call.state.readings)
    return Answer((*meaning.parts, *new)) if new else meaning


_OF_THE_OIL = ("liquid", "frosts back")
"""Remarks that come of a look at the oil or the crankcase."""


def told_beside(question: Question, remark: Remark, words: str) -> tuple[Part, ...]:
    """The answer that a clause of its own gives beside what is said of liquid in the machine: "it's all foam, and the sump's ice
    cold"; empty where none does, or two."""
    if remark.about not in _OF_THE_OIL or kind_of(question.asking) != "choice" or is_question(normalise(words)):
        return ()
    told = [
        part for clause in clauses_of(words) if not said_against(question, clause) and not trouble(clause)
        for said in [understand_in_pieces(question, clause)] if isinstance(said, Answer)
        for part in said.parts
    ]  # fmt: skip
    sure = len(told) == 1 and told[0].id in (question.asking, *question.also) and not told[0].doubt
    return tuple(told) if sure else ()


_JOINT = re.compile(
    r"\b(?:flare|nut|joint|braze|brazing|valve|core|elbow|tee|coil|seal|fitting|union|gasket|header|receiver|drier|cap|stem|bend"
    r"|tube|pipe|glass|solenoid|flange)s?\b"
)
"""What leaks, or is beside what does."""
_IT_LEAKS = re.compile(r" (?:is|are|'s|was)? ?(?:leaking|leaks|bubbling|bubbles|hissing|wet|oily|blowing)\b.*$")


def _where_it_leaks(clauses: list[str]) -> str:
    """The clause that names a joint or a part, as the place of a leak that was found; empty where none or more than one does."""
    named = [clause for clause in clauses if _JOINT.search(clause) and not said_against(Question("leak_place"), clause)]
    return _IT_LEAKS.sub("", in_free_words("leak_place", named[0]) or "") if len(named) == 1 else ""


def _told(call: Conversation, id_: str, step: Step, clause: str) -> Part | None:
    """What a clause tells of this reading, by its name and as its own step would ask it; None for nothing sure."""
    if kind_of(id_) not in _TOLD or not is_named(id_, clause):
        return None
    said = understand_in_pieces(question_for(call, (id_,), step), clause)
    parts = said.parts if isinstance(said, Answer) else ()
    return parts[0] if len(parts) == 1 and parts[0].id == id_ and not parts[0].doubt else None
