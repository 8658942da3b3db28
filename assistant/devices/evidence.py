"""How sure the ear is: two hearings of one answer to a value with its probability."""

import math
from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from assistant.devices.guesses import Guess
from assistant.language.audible import audible
from assistant.language.grammar import UNKNOWN_WORD, trimmed, understand
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.numbers import TEENS, TENS

_WEIGHT = (
    1.5  # of all hearings' log posteriors together: they hear the same sound, so no evidence adds up fully
)
_UNHEARD = math.log(1e-3)  # what a hearing leaves for a value that only the others have in their lists


@dataclass(frozen=True)
class Candidate:
    """One meaning that the sound may have."""

    meaning: Meaning
    words: str
    share: float
    """Its part of what all hearings give to all meanings together, 0 to 1."""


@dataclass(frozen=True)
class Evidence:
    """What is known about the best candidate; the inputs of its probability."""

    best: Candidate
    rivals: tuple[Candidate, ...]
    """All others, the likeliest first."""
    agreement: float
    """Part of the hearings that put it first, 0 to 1."""
    weakest: float
    """Log odds that the hearing gives it which gives it least."""
    snr_db: float

    @property
    def log_odds(self) -> float:
        """Log odds of its share, limited to what 20 alternatives can tell."""
        return _log_odds(self.best.share)


def _log_odds(share: float) -> float:
    share = min(max(share, 1e-4), 1 - 1e-4)
    return math.log(share / (1 - share))


def weigh(question: Question, hearings: Iterable[Iterable[Guess]], snr_db: float) -> Evidence:
    """The best meaning of one answer that was heard several times.

    Guesses are joined by what they mean: "two oh eight" and "two hundred eight" are one candidate. A list of
    phrases also gives parts and chains of them; such guesses are left out.

    Args:
        question: what was asked.
        hearings: guesses of each hearing of the same sound.
        snr_db: loudness of the speech over the noise [dB].
    """
    offered = frozenset(audible(question).phrases)
    heard = [_posterior(question, offered, guesses) for guesses in hearings]
    found: dict[Hashable, tuple[Meaning, str]] = {}
    for hearing in heard:
        for key, (meaning, words, _) in hearing.items():
            found.setdefault(key, (meaning, words))
    logs = {
        key: _WEIGHT / len(heard) * sum(one[key][2] if key in one else _UNHEARD for one in heard)
        for key in found
    }
    top = max(logs.values())
    total = sum(math.exp(value - top) for value in logs.values())
    ranked = sorted(logs, key=lambda key: -logs[key])
    candidates = [Candidate(*found[key], share=math.exp(logs[key] - top) / total) for key in ranked]
    firsts = [max(hearing, key=lambda key, h=hearing: h[key][2]) for hearing in heard]  # type: ignore[misc]
    weakest = min(math.exp(one[ranked[0]][2]) if ranked[0] in one else 0.0 for one in heard)
    return Evidence(
        candidates[0], tuple(candidates[1:]), firsts.count(ranked[0]) / len(heard), _log_odds(weakest), snr_db
    )


def _posterior(
    question: Question, offered: frozenset[str], guesses: Iterable[Guess]
) -> dict[Hashable, tuple[Meaning, str, float]]:
    """Meaning, likeliest words and log posterior of every meaning in one hearing's list."""
    best: dict[Hashable, tuple[Meaning, str, list[float]]] = {}
    for guess in guesses:
        meaning = understand(question, guess.words) if guess.words else NotUnderstood()
        if offered and not offered & set(trimmed(guess.words)):
            meaning = NotUnderstood()
        if isinstance(meaning, NotUnderstood) and guess.words and UNKNOWN_WORD not in guess.words:
            continue
        if _refused(question, meaning):
            continue
        best.setdefault(_key(meaning), (meaning, guess.words, []))[2].append(guess.score)
    if not best:
        return {None: (NotUnderstood(), "", 0.0)}
    top = max(score for _, _, scores in best.values() for score in scores)
    sums = {key: sum(math.exp(s - top) for s in scores) for key, (_, _, scores) in best.items()}
    total = sum(sums.values())
    return {key: (m, w, math.log(sums[key] / total)) for key, (m, w, _) in best.items()}


def _key(meaning: Meaning) -> Hashable:
    """Equal for ways of saying the same."""
    match meaning:
        case Answer(parts):
            return tuple((part.id, part.value, part.low, part.high) for part in parts)
        case NotUnderstood():
            return None
    return meaning


def _refused(question: Question, meaning: Meaning) -> bool:
    """Whether the technician already said no to this value."""
    return isinstance(meaning, Answer) and any(part.value in question.refused for part in meaning.parts)


def is_number(meaning: Meaning) -> bool:
    """Whether a figure hangs on it, which noise can turn into another."""
    match meaning:
        case Answer(parts):
            return any(isinstance(part.value, float) for part in parts)
        case Confirmed(instead=instead):
            return instead is not None
        case AskFor(pending=pending):
            return bool(pending)
    return False


def teen_or_ten(words: str) -> bool:
    """Whether the number's last pair is one that a twin sounds like: fifteen, fifty."""
    tokens = words.split()
    for i, word in enumerate(tokens):
        after = tokens[i + 1] if i + 1 < len(tokens) else ""
        if word in TEENS[3:] or (word in TENS and after not in _ONES):
            return True
    return False


_ONES = frozenset(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"))


def is_steering(meaning: Meaning) -> bool:
    """Whether it is a command or a yes or no to a value asked back."""
    return isinstance(meaning, Command) or (isinstance(meaning, Confirmed) and meaning.instead is None)
