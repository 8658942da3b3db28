"""What is put on record as a note though nobody was asked for one: "make a note, the lead was chafed", a round told too early."""

import re
from dataclasses import replace

from assistant.call import modes
from assistant.call.asking import left_to_ask, question_for
from assistant.call.conversation import Conversation
from assistant.call.facts import NoteTaken, WordsHeard
from assistant.call.heard import Heard
from assistant.language.asides import strictly
from assistant.language.grammar import normalise
from assistant.language.hedges import at_once_plainly
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.language.placed import placed
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
    question = question_for(call, left_to_ask(call, step), step)
    said = understand_in_pieces(question, heard.words)
    of_the_round = isinstance(said, Answer) and all(part.id in (step.asking, *step.also) for part in said.parts)
    any_of_them = replace(question, also=(*question.also, "watch.discharge_pressure", "watch.amps"))
    if not of_the_round and not placed(any_of_them, heard.words)[0]:
        return False
    _take(call, heard, heard.words)
    return True


_ANOTHER_READING = re.compile(
    r"(?:(?:and|but|also|the|my|an|our) )*(?:head|discharge pressure|high side|amps|amp draw|amperage|receiver|oil(?:"
    r" level| pressure)?|glass"
    r"|superheat|subcooling|ambient|return gas|liquid line|case temp)(?:'s|'re| is| are| has| have)?(?: (?:come|came"
    r"|gone|went|dropped|down|up"
    r"|running|sitting|holding|reading|pulling|at|to|around|about|now|back|steady|fell|good|fine|full|clear|normal|okay|i|got|just))*"
    r"(?: (?P<value>[a-z0-9 .]+?))?(?: (?:psi|pounds|amps|degrees|percent|now))*"
)
"""What is told of a reading that nobody asked for now."""


_FINDING = re.compile(
    r"(?!.*\b(?:no|not|nothing|never|without|isn't|wasn't|aren't)\b)(?:\w+(?:'s|'ve|'re)? ){0,8}?"
    r"(?:chafed|chafing|rubbed|rubbing|frayed|fraying|pinched|cooked|scorched|charred|corroded|cracked|melted|copper|rusted|bulged"
    r"|discolored|burnt|burned|pitted|welded|worn|oily|oil (?:round|around|on|at|under|by))(?: \w+(?:'s)?){0,8}"
    r"|(?:\w+ ){0,5}?fans?(?: of \w+ \w+| \w+){0,3}? (?:doesn't|isn't|aren't|don't|not|won't|does not)"
    r" (?:turn|turning|run|running|spin|spinning|work|working)(?: \w+){0,3}"
)
"""What somebody sees that no question asks for."""
_CUT = re.compile(r"\s*,\s*(?:but |and |though )?|\s+(?:but|though) ")


def beside_a_finding(question: Question, meaning: Meaning, heard: Heard) -> tuple[Meaning, str]:
    """The answer, and what was found beside it, to be noted: "seated, but one of its wires is rubbing on the bracket"; what was
    not understood is an answer without it, but where safety hangs on it."""
    taken = isinstance(meaning, Answer) or (isinstance(meaning, Command) and meaning.name == "continue")
    open_ = (isinstance(meaning, NotUnderstood) or _stands(meaning)) and (question.look or not strictly(question))
    repaired = "repaired" in question.go_ahead  # what is still chafed is none
    if heard.meaning is not None or not (taken or open_) or question.asking in ("confirm", "note") or repaired:
        return meaning, ""
    pieces = [piece for piece in _CUT.split(at_once_plainly(heard.words.lower()).replace(".", ",")) if piece]
    found = [piece for piece in pieces if _FINDING.fullmatch(normalise(piece)) and not _answers(question, piece)]
    kept = [piece for piece in pieces if piece not in found]
    if not found or not kept or trouble(" ".join(kept)):
        return meaning, ""
    said = meaning if taken else understand_in_pieces(question, " , ".join(kept))
    return (said, ", ".join(found)) if taken or _of_it(question, said) else (meaning, "")


def _answers(question: Question, piece: str) -> bool:
    said = understand_in_pieces(question, piece)
    return isinstance(said, Answer | Remark) and not (_stands(said) and "fan" in piece)


def _stands(meaning: Meaning) -> bool:
    """Of a fan it is no start that fails."""
    return isinstance(meaning, Remark) and meaning.about == "won't start"


def beside_another_reading(question: Question, meaning: Meaning, heard: Heard) -> tuple[Meaning, str]:
    """The answer without the clauses that tell of a reading which cannot count now, and those clauses, to be noted: "ten and two
    twenty five, the head's come down to two thirty"; the meaning as it was where there is no such thing."""
    if heard.meaning is not None or not isinstance(meaning, NotUnderstood) or trouble(heard.words.lower()):
        return meaning, ""
    pieces = [piece.strip() for piece in at_once_plainly(heard.words.lower()).split(",") if piece.strip()]
    others = [piece for piece in pieces if _ANOTHER_READING.fullmatch(piece)]
    kept = [piece for piece in pieces if piece not in others]
    said = understand_in_pieces(question, " , ".join(kept)) if others and kept else meaning
    return (said, ", ".join(others)) if _of_it(question, said) else (meaning, "")


def _of_it(question: Question, said: Meaning) -> bool:
    if question.look:
        return isinstance(said, Command) and said.name == "continue"
    return isinstance(said, Answer) and all(part.id in (question.asking, *question.also) for part in said.parts)


def _take(call: Conversation, heard: Heard, text: str) -> None:
    call.record(WordsHeard(heard.words, "command: note", heard.confidence, heard.audio))
    call.check_in = call.check_in.heard(call.now)
    call.record(NoteTaken(text, heard.audio))
    call.info("Noted.")
