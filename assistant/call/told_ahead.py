"""What is told in one breath with an answer and is asked by a later step: "eleven and two oh five, no defrost"."""

from assistant.branches.steps import Step
from assistant.call.asking import question_for
from assistant.call.conversation import Conversation
from assistant.language.grammar import normalise
from assistant.language.heeded import clauses_of
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
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


def _told(call: Conversation, id_: str, step: Step, clause: str) -> Part | None:
    """What a clause tells of this reading, by its name and as its own step would ask it; None for nothing sure."""
    if kind_of(id_) not in _TOLD or not is_named(id_, clause):
        return None
    said = understand_in_pieces(question_for(call, (id_,), step), clause)
    parts = said.parts if isinstance(said, Answer) else ()
    return parts[0] if len(parts) == 1 and parts[0].id == id_ and not parts[0].doubt else None
