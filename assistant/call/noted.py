"""What is put on record as a note though nobody was asked for one: "make a note, the lead was chafed", a round told too early."""

import re

from assistant.call import modes
from assistant.call.asking import left_to_ask, question_for
from assistant.call.conversation import Conversation
from assistant.call.facts import NoteTaken, WordsHeard
from assistant.call.heard import Heard
from assistant.language.meaning import Answer, NotUnderstood, Question, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.language.unready import trouble

_NOTE = re.compile(
    r"(?:(?:please|hey|okay|ok|so|oh|and|also|just|well|can you|could you|i want to|let me|i'd like to|go ahead and)[ ,]+)*"
    r"(?:(?:make|take|add|put|leave|write|put down|write down) (?:a |this |one |me a |another )?note(?: down)?(?: of"
    r" this| here| please| for me)*"
    r"|note(?: down)?(?: here| please| for me)*)"
    r"(?: ?[,:;.]| that\b| saying\b| to say\b| of\b)+ ?(?P<text>\w.*)",
    re.IGNORECASE,
)
_LEAST = 2
"""Words from which what stands behind "note" is one."""
_MODES = (modes.ASKING, modes.WAITING, modes.ASKING_BACK)


def note_in_one_breath(call: Conversation, heard: Heard) -> bool:
    """Put on record a note that is told behind its own name; False where there is none, or something else comes first."""
    match = _NOTE.fullmatch(heard.words.strip())
    text = match["text"].strip(" .") if match else ""
    if len(text.split()) < _LEAST or call.mode.name not in _MODES:
        return False
    if call.state.feed.window or call.course.first_of_all(call.state):
        return False
    if trouble(text) or isinstance(understand_in_pieces(Question("command"), text), Remark):
        return False  # what concerns safety is no mere note
    _take(call, heard, text)
    return True


def told_while_waiting(call: Conversation, meaning: object, heard: Heard) -> bool:
    """Put on record as a note the readings of the round that is waited for: asked for at its time all the same."""
    step = call.course.next_step(call.state)
    if call.mode.name != modes.WAITING or not isinstance(meaning, NotUnderstood) or step is None or trouble(heard.words.lower()):
        return False
    said = understand_in_pieces(question_for(call, left_to_ask(call, step), step), heard.words)
    if not isinstance(said, Answer) or not all(part.id in (step.asking, *step.also) for part in said.parts):
        return False
    _take(call, heard, heard.words)
    return True


def _take(call: Conversation, heard: Heard, text: str) -> None:
    call.record(WordsHeard(heard.words, "command: note", heard.confidence, heard.audio))
    call.check_in = call.check_in.heard(call.now)
    call.record(NoteTaken(text, heard.audio))
    call.info("Noted.")
