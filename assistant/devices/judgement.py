"""Whether what was heard counts, is asked back, or is asked for again."""

import math
from dataclasses import dataclass
from datetime import datetime

from assistant.devices.evidence import Evidence, is_number, teen_or_ten, weigh
from assistant.devices.listener import Utterance
from assistant.dialogue.events import Heard, Unclear
from assistant.language.grammar import UNKNOWN_WORD
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Value,
)
from assistant.language.numbers import DIGITS
from assistant.language.quantities import limits
from assistant.language.vocabulary import vocabulary

ACCEPTED, CONFIRM, COMMAND, UNCLEAR = "accepted", "confirm", "command", "unclear"


@dataclass(frozen=True)
class Hearing:
    """What one answer came to."""

    text: str
    """Its likeliest words; empty when there was nothing."""
    status: str
    """`accepted`, `confirm`, `command` or `unclear`."""
    value: Value | None
    """Number in `unit`, choice, `yes` or `no`, a command's name; None when unclear."""
    unit: str | None
    confidence: float
    """Probability that the value is right, 0 to 1."""
    late_ms: int | None
    """Sound consumed between the last speech sample and the decision [ms]; None without speech."""
    meaning: Meaning
    too_loud: bool = False
    """The room's noise is why it is unclear."""

    def fact(self, at: datetime, audio: str = "") -> Heard | Unclear:
        """For the dialogue: words that it may act on, or that there were none.

        Args:
            at: when it was heard.
            audio: file of the sound, relative to the call's folder.
        """
        if self.status == UNCLEAR and not isinstance(self.meaning, AskFor):
            return Unclear(at, self.text, self.too_loud)
        return Heard(self.text, at, self.status != CONFIRM, self.confidence, audio)


def silent(question: Question) -> Hearing:
    """A recording without speech."""
    return Hearing("", UNCLEAR, None, None, 0.0, None, NotUnderstood())


# ---- probability

# Logistic weights, fitted on readings of 15 synthetic voices in a machine room's noise and on people
# saying digits in four recorded noises, clean to 0 dB, on half of the recordings; the rest was kept to check them.
_NUMBER_WEIGHTS = (-1.0, 0.5, 1.0, 0.5, -0.5, -0.5)
_WORD_WEIGHTS = (-1.0, 0.5, 1.0, 0.5, 0.0, 0.0)


def features(evidence: Evidence) -> tuple[float, ...]:
    """What the probability is made of: 1, log odds, agreement, SNR, bare digits, teen or ten."""
    words = evidence.best.words.split()
    bare_digits = bool(words) and len(words) < 3 and all(word in _SINGLE for word in words)
    return (
        1.0,
        evidence.log_odds,
        float(evidence.agree),
        min(max(evidence.snr_db, 0.0), 30.0) / 10,
        float(bare_digits),
        float(teen_or_ten(evidence.best.words)),
    )


def probability(evidence: Evidence) -> float:
    """Probability that the best candidate is what was said, 0 to 1."""
    weights = _NUMBER_WEIGHTS if is_number(evidence.best.meaning) else _WORD_WEIGHTS
    score = sum(weight * part for weight, part in zip(weights, features(evidence), strict=True))
    return 1.0 / (1.0 + math.exp(-score))


_SINGLE = frozenset((*DIGITS, "oh", "zero"))

# ---- verdict

ACCEPT_NUMBER, CONFIRM_NUMBER = 0.97, 0.35
ACCEPT_WORD, CONFIRM_WORD = 0.9, 0.5
ACCEPT_COMMAND = 0.85
ACCEPT_TEEN = 0.995
NOISE_SNR_DB = 6.0
"""Under it, sound without known words is the room, not a voice (measured)."""


def judge(question: Question, utterance: Utterance) -> Hearing | None:
    """What an utterance counts for; None when it was only the room.

    Args:
        question: what was asked.
        utterance: one stretch of sound that stood out, heard twice.
    """
    evidence = weigh(question, utterance.raw, utterance.cleaned, utterance.snr_db)
    best = evidence.best
    loud = utterance.snr_db < NOISE_SNR_DB
    if isinstance(best.meaning, NotUnderstood):
        if loud or not best.words:
            return None
        return _unclear(utterance, best.words, NotUnderstood(), 0.0)
    sure = probability(evidence)
    status, value, unit = _verdict(question, best.meaning, best.words, sure)
    if status == UNCLEAR and not (isinstance(best.meaning, AskFor) and sure >= ACCEPT_WORD):
        return _unclear(utterance, best.words, NotUnderstood(), sure)
    return Hearing(best.words, status, value, unit, sure, utterance.late_ms, best.meaning)


def _unclear(utterance: Utterance, words: str, meaning: Meaning, sure: float) -> Hearing:
    text = "" if UNKNOWN_WORD in words else words
    loud = utterance.snr_db < NOISE_SNR_DB
    return Hearing(text, UNCLEAR, None, None, sure, utterance.late_ms, meaning, loud)


def _verdict(
    question: Question, meaning: Meaning, words: str, sure: float
) -> tuple[str, Value | None, str | None]:
    match meaning:
        case Command(name):
            return (COMMAND, name, None) if sure >= ACCEPT_COMMAND else (UNCLEAR, None, None)
        case Confirmed(yes, None):
            value = "yes" if yes else "no"
            return (ACCEPTED, value, None) if sure >= ACCEPT_WORD else (UNCLEAR, None, None)
        case Confirmed(_, instead) if instead is not None:
            return _number_verdict(question, (instead,), words, min(sure, CONFIRM_NUMBER))
        case Answer(parts):
            return _number_verdict(question, parts, words, sure)
    return UNCLEAR, None, None


def _number_verdict(
    question: Question, parts: tuple[Part, ...], words: str, sure: float
) -> tuple[str, Value | None, str | None]:
    first = parts[0]
    numeric = any(isinstance(part.value, float) for part in parts)
    accept, confirm = (ACCEPT_NUMBER, CONFIRM_NUMBER) if numeric else (ACCEPT_WORD, CONFIRM_WORD)
    if numeric and teen_or_ten(words):
        accept = ACCEPT_TEEN
    if sure < confirm:
        return UNCLEAR, None, None
    odd = any(part.doubt or not _plausible(question, part) for part in parts)
    return (CONFIRM if odd or sure < accept else ACCEPTED), first.value, first.unit


def _plausible(question: Question, part: Part) -> bool:
    span = limits(question, vocabulary()[part.id])
    return span is None or not isinstance(part.value, float) or span[0] <= part.value <= span[1]
