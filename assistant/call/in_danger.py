"""What tells of danger by the sense of the whole sentence, in whatever words, beside an answer or in place of one.

Behind the tables, which know what must follow: here it is asked whether something is not safe. A reading counts all the same;
what somebody's safety hangs on waits until that is denied.
"""

import re

from assistant.call import modes
from assistant.call.another_source import opened_another_source
from assistant.call.conversation import Conversation
from assistant.call.heard import Heard, Held
from assistant.call.replies import reply
from assistant.language.agreed import danger, harmless
from assistant.language.found_so import was_shut
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Question, Remark
from assistant.language.offered import phrases
from assistant.language.passed_over import strict
from assistant.language.unready import said_against, unready

DANGEROUS = 0.97
"""Probability from which a sentence tells of danger."""
_SENTENCE = 4


def tells_of_danger(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> bool:
    """Whether what was typed to a step's prompt tells of danger that no table knows and no reply answers."""
    s = call.state
    waits = call.mode.name == modes.ASKING and not (s.feed.window or s.probes_in) and "/" not in call.asked_at
    waits = waits and s.machine is not None  # before that it is talk
    if heard.meaning is not None or not waits or len(heard.words.split()) < _SENTENCE:
        return False
    if not (_goes_on(meaning) or isinstance(meaning, Answer | AskFor | NotUnderstood)):
        return False
    if isinstance(meaning, Answer) and any(reply(s, part) or part.id in _OF_A_LEAK for part in meaning.parts):
        return False
    if isinstance(meaning, AskFor) and not meaning.pending:
        return False  # the tables know it, and say what is wanted
    text = normalise(heard.words)
    if text in question.other_words or text in phrases(question):
        return False  # a whole answer of the tables
    known = was_shut(text) or bool(opened_another_source(call, question, heard.words))
    if known or (unready(text) and not said_against(question, text)):
        return False  # known, and it leads to what it must, or belongs to the answer
    return (danger(question.step, heard.words) or 0.0) >= DANGEROUS


_OF_A_LEAK = frozenset({"leak_found", "leak_place"})
"""Where it leaks is the answer."""


def held(call: Conversation, question: Question, meaning: Meaning, heard: Heard) -> Held | None:
    """The answer that waits for that: of what safety hangs on, and what was not sure itself; None for a reading, which counts."""
    waits = isinstance(meaning, AskFor) or _goes_on(meaning) or (isinstance(meaning, Answer) and strict(question))
    return Held(call.state.step, question, meaning, heard) if waits else None


def _goes_on(meaning: Meaning) -> bool:
    """Whether it says that the deed or the look is done."""
    return isinstance(meaning, Command) and meaning.name == "continue"


def only_a_thing(question: Question, meaning: Meaning, heard: Heard) -> bool:
    """Whether a bypass was heard in a tool or a strap alone, where nothing dangerous is told: it is asked about."""
    if heard.meaning is not None or meaning != Remark("bypassed") or not _A_THING.search(heard.words.lower()):
        return False
    return harmless(question.step, heard.words) and not _BYPASSES.search(heard.words.lower())


_A_THING = re.compile(r"\b(?:screwdriver|strapped)\b")
_BYPASSES = re.compile(r"bypass|\bjump|bridg|defeat|shorted|\bstrapped (?:it |them )?(?:out|across|over)|straight across")
