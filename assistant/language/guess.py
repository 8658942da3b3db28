"""What an answer may have been that was not understood: asked back with its meaning instead of "say again", never taken."""

import re
from dataclasses import replace

from assistant.language.answering import one
from assistant.language.called_good import no_good, of_no_contact
from assistant.language.exceptions import NOT_ALL
from assistant.language.grammar import normalise
from assistant.language.hedges import hedge_words
from assistant.language.lone_numbers import FIGURES, named_beside
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.names import name_words
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.spotting import general
from assistant.language.standing_out import hangs_on_safety, one_tag_in
from assistant.language.unready import trouble
from assistant.language.vocabulary import vocabulary

_LONGEST = 14
_SAYS_NOTHING = re.compile(
    r"\b(?:no|not|never|nobody|except|or|if|unless|until|when|wait|hold|hang|maybe|don't know|which|what|who|hey|you|could be"
    r"|might)\b|n't\b"
)
"""Where one of these stands the meaning may be any: it is asked for again."""
_UNSURE = re.compile(
    r"\b(?:something|somewhere|nowhere|near|nearly|used to|was|were|had|yesterday|last|before|earlier|between|to|and|other|others"
    r"|another|neighbor\w*|like|supposed|should|spec|normally|usually|rated|calls for|plate|about to|going|went|from|guess|think"
    r"|said|says he|told|try|need|want|again|wrong|jump\w*|swing\w*|bounc\w*|drift\w*|climb\w*|dropp\w*|rising|falling)\b"
)
"""Beside a number these date it, share it, move it or make it another's."""
AT_ZERO = frozenset({"isolated_pressure", "shell_pressure", "probe_pipe_temperature"})
"""What something is opened, tested or touched by."""
_UNDER_POWER = ("volts", "amps")
"""What is read with power on: there "I touched two terminals" tells of anything but two volts."""
_TIMES = frozenset("second seconds minute minutes hour hours".split())
_UNKNOWN_WORDS = 5


def guessed(question: Question, words: str) -> Meaning:
    """The one answer that these words name, to be asked back; not understood where they name none, or two.

    Never for what is acknowledged, for what somebody's safety hangs on or what opens a panel.

    Args:
        question: what was asked.
        words: as typed, not understood.

    >>> guessed(Question("sight_glass"), "the thing over here looks bubbly as anything today boss").parts[0].doubt
    '.'
    >>> guessed(Question("locked_out"), "that there locked thing")
    NotUnderstood()
    """
    text = normalise(words)
    tokens = tuple(text.split())
    if not 1 < len(tokens) <= _LONGEST or _SAYS_NOTHING.search(text) or is_question(text):
        return NotUnderstood()
    if no_good(text) or of_no_contact(question, text):
        return NotUnderstood()
    if question.all_good and NOT_ALL.search(text):
        return NotUnderstood()  # "all good last time" is of no one thing
    found = [part for id in (question.asking, *question.also) if (part := _named(question, id, tokens))]
    return Answer(tuple(found)) if len(found) == 1 else NotUnderstood()


def surely_numbered(question: Question, words: str) -> Meaning:
    """The one number among a few words that are not known, none of which may turn, weaken, date or share it out.

    Never a count, which may be of anything, nor volts and amps, read with power on, nor what opens a panel or a circuit, nor
    what must stand at zero before something is opened or tested.

    >>> surely_numbered(Question("drier_temperature_drop"), "whoever set that has it five degrees").parts[0].value
    5.0
    >>> surely_numbered(Question("drier_temperature_drop"), "it used to be five")
    NotUnderstood()
    >>> surely_numbered(Question("isolated_pressure"), "the thing has zero pounds")
    NotUnderstood()
    """
    text = normalise(words)
    tokens = tuple(text.split())
    entry = vocabulary().get(question.asking)
    if entry is None or question.also or entry.kind not in NUMBER_KINDS or question.pending or not 2 <= len(tokens) <= _LONGEST:
        return NotUnderstood()
    if entry.kind in _UNDER_POWER or entry.kind == "count" or hangs_on_safety(entry.id) or entry.id in AT_ZERO:
        return NotUnderstood()
    if _SAYS_NOTHING.search(text) or is_question(text) or trouble(text):
        return NotUnderstood()
    beside = " ".join(word for word in re.sub(r"(?<=hundred) and (?=\w)", " ", text).split() if word not in FIGURES)
    if _UNSURE.search(beside) or set(tokens) & (hedge_words("turning") - hedge_words("mild_beside")):
        return NotUnderstood()
    known = general() | name_words(entry.id) | set(question.about) | FIGURES | hedge_words("beside_numbers")
    unknown = [word for word in tokens if word not in known and not word[0].isdigit()]
    part = _number(question, entry.id, tokens)
    if part is not None and _of_another_unit(tokens):
        return NotUnderstood()
    sure = part is not None and part.doubt == "." and len(unknown) <= _UNKNOWN_WORDS
    return Answer((replace(part, doubt=""),)) if part is not None and sure else NotUnderstood()


def _of_another_unit(tokens: tuple[str, ...]) -> bool:
    """ "Thirty five celsius by my clamp", where Fahrenheit is asked for."""
    last = max(at for at, word in enumerate(tokens) if word in FIGURES or word[0].isdigit())
    others = ("celsius", "centigrade", "bar", "kilopascals", "kelvin", "inches", "kilos")
    return any(word in others for word in tokens[last + 1 : last + 2])


def _named(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    entry = vocabulary().get(id)
    if entry is None or hangs_on_safety(id):
        return None
    if entry.kind in NUMBER_KINDS and not question.also:
        return _number(question, id, tokens)
    tag = one_tag_in(id, tokens) if entry.kind in ("choice", "yes_no") else ""
    return Part(id, tag, doubt=".") if tag else None


def _number(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    figures = [at for at, word in enumerate(tokens) if word in FIGURES or word[0].isdigit()]
    figures += [at for at, word in enumerate(tokens) if word == "and" and tokens[at - 1] == "hundred" and at + 1 in figures]
    figures.sort()
    torn = bool(figures) and figures[-1] - figures[0] + 1 != len(figures)
    if not figures or torn or named_beside(id, tokens) or [tokens[at] for at in figures] == ["one"]:  # "this one"
        return None
    if vocabulary()[id].kind != "minutes" and tokens[figures[-1] + 1 : figures[-1] + 2] and tokens[figures[-1] + 1] in _TIMES:
        return None  # "give me two minutes"
    for end in range(len(tokens), figures[-1], -1):  # with its unit, where one is said
        part = one(question, id, " ".join(tokens[figures[0] : end]))
        if isinstance(part, Part) and isinstance(part.value, float):
            return Part(id, part.value, part.unit, doubt=part.doubt or ".")
    return None
