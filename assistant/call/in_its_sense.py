"""What the sense of a whole typed sentence adds beside the steps: a caution heeded, nothing unsafe, a yes or a no.

Only where the tables find nothing, and never where something in the words tells of trouble, asks, or speaks against it.
"""

import re

from assistant.call import modes
from assistant.call.conversation import Conversation
from assistant.language.agreed import agreeing, heeding, safe
from assistant.language.by_example import not_done
from assistant.language.grammar import normalise, understand
from assistant.language.heeded import CONTRARY
from assistant.language.meaning import AskFor, Confirmed, Meaning, NotUnderstood, Question, Remark
from assistant.language.placed import marked
from assistant.language.questions import is_question
from assistant.language.remarks import remark
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of

HEEDED, SURELY_HEEDED, NOT_HEEDED = 0.95, 0.98, 0.15
"""Probability from which a sentence acknowledges a caution, from which it does though a word of it sounds like trouble, and up to
which what the tables take for that is none."""
SAFE, SURELY_SAFE, BOTH = 0.93, 0.98, 0.2
"""Probability from which nothing is unsafe, or something is; from which it is though a word sounds like trouble; and up to which
the other may be as well."""
AGREED, OF_A_DEED, DENIED = 0.95, 0.97, 0.6
"""Probability from which what was asked back is so, and a deed, and from which it is not: then it is asked anew."""
REST, REST_OF_A_DEED = 0.5, 0.9
"""The same, of what stands behind a yes."""
_MORE = 2
_SENTENCE, _WHOLE = 3, 6
_YES_AND_NO = frozenset("yes yeah yep no nope nah okay sure right".split())


_OF_THE_CAUTION = frozenset({
    "won't start", "window", "live", "tripped", "stopped", "service_valves_open", "panel_cover", "vacuum", "burns", "coil off",
    "backwards", "liquid", "noise", "in hand", "reset again",
})  # fmt: skip
"""What may be heard in a caution's own words, told back: "on a second trip I stop", "no power with the cover off"."""


def heeds_by_sense(meaning: Meaning, words: str, names: tuple[str, ...]) -> bool:
    """Whether a sentence that no table takes for it acknowledges these cautions.

    Args:
        meaning: what it was understood as.
        words: as typed.
        names: of the cautions.
    """
    text = normalise(words.replace(",", " "))
    long = len(text.split())
    if long < _SENTENCE or len(set(text.split()) - _YES_AND_NO) < _MORE or "?" in words or is_question(text):
        return False
    if isinstance(meaning, Remark) and (meaning.about not in _OF_THE_CAUTION or long < _WHOLE):
        return False
    against = isinstance(meaning, Remark) or trouble(text) or CONTRARY.search(text)
    return (heeding(words, names) or 0.0) >= (SURELY_HEEDED if against else HEEDED)


def doubted_caution(words: str, names: tuple[str, ...]) -> bool:
    """Whether what a table took for an acknowledgement is none by the sense of the whole sentence."""
    chance = heeding(words, names) if len(words.split()) > _SENTENCE else None
    return chance is not None and chance <= NOT_HEEDED


_YES = re.compile(r"(?:(?:yes|yeah|yep|yup|aye|sure|right|correct|okay)\b[ ,.]*)+")


def said_of_safety(call: Conversation, meaning: Meaning, words: str) -> Confirmed | None:
    """A no or a yes to "is something not safe?" in words that no table has; None for neither."""
    text = normalise(words.replace(",", " "))
    if not isinstance(meaning, NotUnderstood | AskFor) or len(text.split()) < _SENTENCE or is_question(text):
        return None
    yes = _YES.match(words.lower())
    fine, unsafe = safe(words[yes.end() :]) if yes else safe(words)  # "yes, it's cool" may answer the step
    if unsafe >= SAFE and fine <= BOTH:
        return Confirmed(True)
    least = SURELY_SAFE if trouble(text) else SAFE
    return Confirmed(False) if fine >= least and unsafe <= BOTH else None


def said_of_what_was_asked_back(call: Conversation, question: Question, words: str) -> Meaning | None:
    """A yes or a no to what was asked back in words that no table has; None for neither.

    Args:
        call: as it stands.
        question: `confirm`, or the step's with the rest of an answer pending.
        words: as typed, not understood.
    """
    text = normalise(words.replace(",", " "))
    leaves = call.mode.name == modes.CONFIRMING and call.doing.said is None
    if not call.asked_back_as or not (question.pending or leaves or call.mode.name == modes.ASKING_BACK):
        return None
    told = remark(text)
    of_the_lock = told == Remark("lock off") and "lock" in call.asked_back_as.lower()
    if "?" in words or is_question(text) or trouble(text) or (told and not of_the_lock):
        return None
    numbers = {normalise(number) for number, _ in marked(words)}
    if leaves and numbers:
        return None  # a reading in place of a yes
    spoken = normalise(call.asked_back_as.replace(",", " "))
    if not_done(text) or any(f" {number} " not in f" {spoken} " for number in numbers):  # "yeah, two forty" is no yes
        return Confirmed(False) if numbers and agreeing(words, call.asked_back_as)[1] >= DENIED and not question.pending else None
    agrees, denies = agreeing(words, call.asked_back_as)
    deed = bool(question.pending) or call.asked_back_as.endswith("safe?")
    deed = deed or kind_of(question.of) == "acknowledge" or question.of.startswith("dead_volts")
    if deed and not _YES.match(words.lower()) and _OF_ANOTHER_DEED & set(text.split()) - set(spoken.split()):
        return None  # "covers I have screwed back" is no yes to the valves
    turned = deed and _TURNS.search(text) and not call.asked_back_as.startswith("No ")  # "you bet it isn't"
    surely = agrees >= (OF_A_DEED if deed else AGREED) and denies <= BOTH and not turned
    if surely and _rest_agrees(words, call.asked_back_as, deed):
        return understand(question, "yes")
    return Confirmed(False) if denies >= DENIED and agrees <= BOTH and not (question.pending or leaves) else None


_OF_ANOTHER_DEED = frozenset(
    "cover covers panel lock locks padlock jumper leads probe valve valves meter power fuse coil fan fans wire hose gauges"
    " tools".split()
)
"""What a deed is done to: of another one than was asked back it says nothing."""
_TURNS = re.compile(r"\b(?:not|never|cannot)\b|n't\b")


def _rest_agrees(words: str, asked: str, deed: bool) -> bool:
    """Whether what stands behind a yes agrees by itself: "yes, we share it" says of a lock that it is not so."""
    yes = _YES.match(words.lower())
    rest = words[yes.end() :].strip() if yes else ""
    if len(rest.split()) < _MORE:
        return True
    agrees, denies = agreeing(rest, asked)
    return agrees >= (REST_OF_A_DEED if deed else REST) and denies <= REST
