"""What decides what a whole answer means before it is looked at in pieces: a name that is put right, a label that is not there, a
thing half done, a call that is not to be closed."""

import re

from assistant.language.answering import SENTENCES
from assistant.language.at_the_panel import no_label
from assistant.language.correcting import by_name
from assistant.language.meaning import AskFor, Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.on_top import half_done

_RATHER = re.compile(
    r"^(?:(?:sorry|oops|no wait|wait|actually|correction|no|my bad) )+(?:the |my )?(?P<name>[a-z ]+?)(?:'s| is| was| should be) "
    r"(?P<value>[a-z0-9. ]+?) (?:and )?not (?P<before>[a-z0-9. ]+)$"
)
"""A reading on record told anew with what it is not: "sorry, the suction is eighteen, not forty eight"."""
_MISREAD = re.compile(
    r"^(?:(?:oh|wait|hold on|hang on|sorry|no|oops) )*i (?:read|misread|looked at|had) (?:it|the) wrong(?: gauge| one| side)? "
    r"(?:the |it's the )?"
    r"(?P<name>[a-z ]+?)(?:'s| is| was) (?P<value>[a-z0-9. ]+)$"
)
_ONLY_SO_MANY = re.compile(
    r"^(?:(?:no|wrong|nope|sorry) )+(?:it's |there's )?(?:just|only) (?:the )?(?P<count>one|two|three|four|five|six)(?: of them)?"
    r" tripped(?: this one)?$"
)
_NOT_DONE = re.compile(
    r"^(?:no|not yet|wait|hold on|hang on)\b(?!.*\b(?:number|reading|correct|wrong)\b).*"
    r"\b(?:not (?:done|finished)|don't close|still (?:need|have)|keep it open)\b"
)


def plainly_so(question: Question, text: str) -> Meaning | None:
    """The meaning of the whole, or that it has none; None where its pieces are looked at.

    >>> plainly_so(Question("close_consent"), "not yet i'm not done here")
    Command(name='hold', about='')
    """
    told = "tripped_count" in question.recorded and "tripped_count" not in (question.asking, *question.also)
    if told and (only := _ONLY_SO_MANY.match(text)):
        text = f"correction number tripped {only['count']}"
    if rather := _RATHER.match(text) or _MISREAD.match(text):
        text = f"correction {rather['name']} {rather['value']}"
    put_right = by_name(question, text) if text.startswith(("correction ", "correct ")) else None
    if put_right == Command("correct", "lock_removed") and "lock_removed" in question.recorded:
        return put_right  # of a lock that came off it says that it did not
    if isinstance(put_right, Confirmed):  # its name is said whole: no other reading is in it
        return put_right
    if "clothing_meets_label" in (question.asking, *question.also) and no_label(text):
        return Command("skip", "not_measurable")
    if question.asking == "close_consent" and _NOT_DONE.search(text):
        return Command("hold")
    if of_another_circuit(question, text):
        return AskFor(SENTENCES["number"])
    return NotUnderstood() if half_done(question, text) else None


def of_another_circuit(question: Question, text: str) -> bool:
    """Whether a zero is told of another circuit than the one that is to be proved dead (S3).

    >>> of_another_circuit(Question("dead_volts.power"), "control's dead too zero volts")
    True
    """
    own, other = _CIRCUITS.get(question.asking, (None, None))
    return other is not None and bool(other.search(text)) and not (own is not None and own.search(text))


_CIRCUITS = {
    "dead_volts.power": (
        re.compile(r"\b(?:power|line|load|legs?|phases?|mains?|three phase|six)\b"), re.compile(r"\bcontrols?\b"),
    ),
    "dead_volts.control": (
        re.compile(r"\bcontrols?\b"),
        re.compile(
            r"\b(?:power|line|main)(?:'s| is| side(?:'s)?)? (?:also |too |still )?(?:dead|zero|at zero)\b"
            r"|\bon (?:the )?(?:power|line)\b"
        ),
    ),
}
"""What each circuit is called, and how another one's zero is told."""
