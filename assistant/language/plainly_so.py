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
    if put_right == Command("correct", "lock_removed") and "lock_removed" in question.recorded:
        return put_right  # of a lock that came off it says that it did not
    if isinstance(put_right, Confirmed):  # its name is said whole: no other reading is in it
        return put_right
    if "clothing_meets_label" in (question.asking, *question.also) and no_label(text):
        return Command("skip", "not_measurable")
    if question.asking == "close_consent" and _NOT_DONE.search(text):
        return Command("hold")
    return NotUnderstood() if half_done(question, text) else None


_NUMBER = r"(?:one|two|three|four|five|six|seven|eight)"
_EACH_RUNS = re.compile(
    rf"\b((?:number )?{_NUMBER}(?:,? (?:number )?{_NUMBER})*,? and (?:number )?{_NUMBER})"
    r" (?:are|is|'re)(?: still| all| both)? (?:running|on|going|up)\b"
)
_COUNTED = ("", "one", "two", "three", "four", "five", "six", "seven", "eight")
_CUT = re.compile(
    r"^(?:(?:okay|ok|yeah|yep|done|alright|right),? )*(?:i |i've )?(?:killed|cut|shut off|knocked off|dropped)"
    r" (?:it|the power|control power|control|the control)(?: off)?(?:,? (?:and )?(?:i )?locked (?:it )?(?:back )?out)?$"
)
_ON_ITS_SIDE = re.compile(r"^(.+) on (?:the )?(control|power|line|load)(?: side| circuit| terminals)?$")
_STARTS = re.compile(r",? (?:and )?(?:she's|it's|she is|it is) (?:starting(?: up)?|coming up|spinning up)$")
_OUT_ON_ITS_TRIP = re.compile(
    r"^(?:(?:no|yeah|well|it's|she's|it is|this one's|still|just) )*"
    r"(?:tripped(?: out)?, (?:so )?(?:it's|she's|it is) (?:not|no longer) running"
    r"|locked out on (?:the|its|a|her) trip)\b"
)
_LETTER_LIKE = re.compile(r",? (?:as in|like|for) (?:the word )?[a-z]{3,}\W*$", re.IGNORECASE)
"""A letter told by a word that begins with it: "b one, like boy"."""
_JUMPED = re.compile(r"\b(?:it's|it is|she's) (?:all )?(?:jumped|jumpered)(?: out| in)?$")


def as_asked(question: Question, words: str) -> str:
    """The words as the question would have them, where they are another way to say just that.

    >>> as_asked(Question("running_now", also=("running_count",)), "it's off, one and three are running")
    "it's off, two running"
    """
    asked, said = question.asking, re.sub(r"\s*,\s*", ", ", words.lower().strip(" ."))
    if "panel_tag" in (asked, question.of) and asked in ("panel_tag", "confirm"):
        return _LETTER_LIKE.sub("", words)
    if asked == "ground_megohms":
        return _AT_LEAST.sub("", words)  # a tester that stops at its range's end tells no more, and less passes too
    if "running_count" in (asked, *question.also) and (each := _EACH_RUNS.search(said)):
        named = re.findall(_NUMBER, each[1])
        return f"{said[: each.start()]}{_COUNTED[len(named)]} running{said[each.end() :]}"
    if "running_now" in (asked, *question.also) and (out := _OUT_ON_ITS_TRIP.match(said)):
        return f"just tripped{said[out.end() :]}"
    if asked == "control_power_off" and _CUT.match(said):
        return "power off"
    if asked in ("dead_volts.control", "dead_volts.power") and (side := _ON_ITS_SIDE.match(said)):
        return side[1] if (side[2] == "control") == (asked == "dead_volts.control") else words
    if asked == "jumper_fitted" and _JUMPED.search(said):
        return "jumper's in"
    if "reset" in question.go_ahead:
        return _STARTS.sub("", words)
    return words
