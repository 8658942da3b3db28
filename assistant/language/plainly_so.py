"""What decides what a whole answer means before it is looked at in pieces: a name that is put right, a label that is not there, a
thing half done, a call that is not to be closed."""

import re

from assistant.language.at_the_panel import no_label
from assistant.language.correcting import by_name
from assistant.language.meaning import Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.on_top import half_done

_AT_LEAST = re.compile(r"\b(?:better than|more than|north of|at least) (?=(?:a |one |two |three |four |five |six |\w+ )?\w+ meg)")
_NOT_DONE = re.compile(
    r"^(?:no|not yet|wait|hold on|hang on)\b(?!.*\b(?:number|reading|correct|wrong)\b).*"
    r"\b(?:not (?:done|finished)|don't close|still (?:need|have)|keep it open)\b"
)


def plainly_so(question: Question, text: str) -> Meaning | None:
    """The meaning of the whole, or that it has none; None where its pieces are looked at.

    >>> plainly_so(Question("close_consent"), "not yet i'm not done here")
    Command(name='hold', about='')
    """
    put_right = by_name(question, text) if text.startswith(("correction ", "correct ")) else None
    if isinstance(put_right, Confirmed):  # its name is said whole: no other reading is in it
        return put_right
    if "clothing_meets_label" in (question.asking, *question.also) and no_label(text):
        return Command("skip", "not_measurable")
    if question.asking == "close_consent" and _NOT_DONE.search(text):
        return Command("hold")
    return NotUnderstood() if half_done(question, text) else None


def at_least(question: Question, words: str) -> str:
    """The words without "better than": a tester that stops at its range's end tells no more, and less passes too."""
    return _AT_LEAST.sub("", words) if question.asking == "ground_megohms" else words
