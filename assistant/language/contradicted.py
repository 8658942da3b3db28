"""An answer that the same sentence takes back is none: "it's on the stem, not seated", "no, it's still forced", "no leak".

The patterns are the project's own reading of how people say such things.
"""

import re
from dataclasses import replace

from assistant.language.grammar import commas_apart
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question
from assistant.language.offered import own_phrases
from assistant.language.spotting import general
from assistant.language.vocabulary import kind_of

_DENIED = re.compile(
    r"\b(?:not|isn't|ain't|aren't|wasn't|won't|didn't|doesn't|don't|never)"
    r"(?: (?:all|quite|really|fully|yet|the way|even|properly|been|right|completely|go|gone|going|come|stay"
    r"|got))* (?P<what>[a-z]+)\b"
)
_STILL_SO = re.compile(
    r"(?:no|nope|nah) ,? ?(?:(?:it|they|that|she|he|both|all|one|the \w+)(?:'s|'re| is| are| was)?|is|are) "
    r"(?:still |yes |actually |left )*(?P<what>[a-z]+)(?: (?:off|on|out|in|up|down))?(?: (?:there|here|now))*"
    r"|(?:no|nope|nah) ,? ?still (?P<that>[a-z]+)(?: (?:off|on|out|in|up|down))?"
)
_OTHERS_RUN = re.compile(
    rf"\b(?:{'|'.join(FIGURES)}|others?|rest|them|they|both)(?: of them)?(?:'s|'re| is| are)?(?: still| all| just)*"
    r" (?:running|runs?|going|up)\b"
)
_STANDS = re.compile(r"\b(?:off|tripped|down|dead|out)\b")
_STATES = frozenset("off on out in open closed shut locked back down up".split())


def unless_contradicted(question: Question, words: str, said: Meaning) -> Meaning:
    """The meaning, unless the sentence itself says the opposite of it.

    Args:
        question: what was asked.
        words: as typed, with their commas.
        said: what they were taken for.

    >>> seat = Question("command", go_ahead=("done", "seated"), about=("seat", "the", "coil"))
    >>> unless_contradicted(seat, "it's on the stem , not seated", Command("continue", "said so"))
    NotUnderstood()
    >>> forced = Question("command", go_ahead=("no", "yes"), look=True, about=("is", "the", "loading", "left", "forced"))
    >>> unless_contradicted(forced, "no , it's still forced", Command("continue", "no"))
    NotUnderstood()
    """
    text = commas_apart(words)
    said = _of_this_one(text, said)
    about = set(question.about)
    own = about - general() | _STATES & about
    told_no = isinstance(said, Answer) and any(part.value == "no" for part in said.parts)  # "but the fan's not running"
    if _acknowledged(question, said) and not told_no:
        own |= {word for phrase in question.go_ahead for word in phrase.split()} - general()
        return NotUnderstood() if any(match["what"] in own for match in _DENIED.finditer(text.replace(" ,", ""))) else said
    if _says_no(said) and (match := _STILL_SO.fullmatch(text)):
        return NotUnderstood() if (match["what"] or match["that"]) in own else said
    return NotUnderstood() if _of_none(question, text, said) else _less_denied(text, said)


_NOT_SO = re.compile(
    r"\b(?:not|isn't|ain't|aren't|wasn't|never)(?: (?:all|quite|really|fully|even|in|at|on|set to|exactly|what i'd call|so"
    r"|very|the|a))* (?P<what>[a-z]+)\b(?!.*\b(?:but|just|only)\b)"
)


def _less_denied(text: str, said: Meaning) -> Meaning:
    """Without a look that is the very word of what it is not, and what else is told with it asked back: "it's not intact"."""
    if not isinstance(said, Answer):
        return said
    denied = {match["what"] for match in _NOT_SO.finditer(text.replace(" ,", ""))}
    parts = [part for part in said.parts if not (isinstance(part.value, str) and part.value in denied - {"no", "yes"})]
    if len(parts) == len(said.parts):
        return said
    return Answer(tuple(replace(part, doubt=part.doubt or ".") for part in parts)) if parts else NotUnderstood()


def _of_this_one(text: str, said: Meaning) -> Meaning:
    """Without a "running" that was said of the others alone: "this one is off, no wait, two running"."""
    if not isinstance(said, Answer) or not any((part.id, part.value) == ("running_now", "running") for part in said.parts):
        return said
    rest = _OTHERS_RUN.sub("", text)
    if rest == text or not _STANDS.search(rest) or re.search(r"\b(?:running|runs|going|up)\b", rest):
        return said
    parts = tuple(part for part in said.parts if part.id != "running_now")
    return Answer(parts) if parts else NotUnderstood()


def _acknowledged(question: Question, said: Meaning) -> bool:
    if isinstance(said, Command):
        return said.name == "continue" and question.takes_a_done
    return isinstance(said, Answer) and any(part.value is True and part.id == question.asking for part in said.parts)


def _says_no(said: Meaning) -> bool:
    if isinstance(said, Command):
        return said.name == "continue" and said.about == "no"
    return isinstance(said, Answer) and [part.value for part in said.parts] == ["no"]


def _of_none(question: Question, text: str, said: Meaning) -> bool:
    """Whether a choice is but what there is none of."""
    kind = kind_of(question.asking)
    if kind != "choice" or not isinstance(said, Answer) or len(said.parts) != 1 or not text.startswith("no "):
        return False
    rest, phrases = text.removeprefix("no "), own_phrases(question, question.asking)
    return rest.replace("_", " ") == str(said.parts[0].value) and rest in phrases and text not in phrases
