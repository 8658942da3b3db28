"""How sure the ear is: two hearings of one answer to a value with its probability."""

import math
from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from assistant.hearing.guesses import Guess, Opinion
from assistant.language.audible import audible
from assistant.language.grammar import UNKNOWN_WORD, trimmed, understand
from assistant.language.meaning import Answer, AskFor, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.numbers import DIGITS, TEENS, TENS, twin

_WEIGHT = 1.5
"""Of all the first ear's log posteriors together: they hear the same sound, so no evidence adds up fully."""
_UNHEARD = math.log(1e-3)  # what a hearing leaves for a value that only the others have in their lists
_FORCED, _OWN = 0.75, 0.3
"""Weights of the second ear: of its score for a candidate, of its own list of numbers (measured, held-out voices:
0.5 to 1 and 0 to 0.6 are as good)."""
_UNSCORED = -2.0  # under the worst that was put to it
_NOT_ITS_OWN = -5.0
_LEAST_SCORE = -99.0  # of words that were not put to it
_BEFORE = 0.7
"""Weight of what the same answer may have been when it was heard before. Measured on second hearings at 10 and 5 dB,
refused values struck out: right 95.3 and 85.8 % at weight 0, 96.1 and 90.6 at 0.5, 96.6 and 91.4 at 1."""
_NOT_BEFORE = 0.005  # share of a value that was not among it

Scored = dict[Hashable, tuple[Meaning, str, float]]
"""Meaning, likeliest words and a log probability by what they mean."""


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
    weakest: float
    """Log odds that the hearing of the first ear gives it which gives it least."""
    snr_db: float
    seconded: bool | None = None
    """Whether the second ear likes it best too; None when it was not asked."""
    unlike: float = 0.0
    """How much likelier other words are to the second ear than any answer [natural logarithm]; 0 where they are not."""
    second_score: float = 0.0
    """Log probability that the second ear gives the best one's words as the whole answer; 0 when it was not asked."""
    twin_margin: float = math.inf
    """For a ten or a teen: log odds against the other, in the hearing of the first ear that tells them apart least."""

    @property
    def log_odds(self) -> float:
        """Log odds of its share, limited to what 20 alternatives can tell."""
        return _log_odds(self.best.share)


def _log_odds(share: float) -> float:
    share = min(max(share, 1e-4), 1 - 1e-4)
    return math.log(share / (1 - share))


def weigh(
    question: Question, hearings: Iterable[Iterable[Guess]], snr_db: float, opinion: Opinion | None = None
) -> Evidence:
    """The best meaning of one answer that was heard several times.

    Guesses are joined by what they mean: "two oh eight" and "two hundred eight" are one candidate. A list of
    phrases also gives parts and chains of them; such guesses are left out.

    Args:
        question: what was asked.
        hearings: guesses of each hearing of the same sound.
        snr_db: loudness of the speech over the noise [dB].
        opinion: what the second ear makes of it.
    """
    offered = frozenset(audible(question).phrases)
    heard = [_posterior(question, offered, guesses) for guesses in hearings]
    scored = _by_meaning(question, opinion.scores.items()) if opinion else {}
    found: dict[Hashable, tuple[Meaning, str]] = {}
    for hearing in (*heard, scored):
        for key, (meaning, words, _) in hearing.items():
            found.setdefault(key, (meaning, words))
    logs = {
        key: _WEIGHT / len(heard) * sum(one[key][2] if key in one else _UNHEARD for one in heard)
        for key in found
    }
    if opinion and scored:
        second = _second(question, opinion, scored, logs)
        logs = {key: value + second[key] for key, value in logs.items()}
    if question.rivals:
        before = dict(question.rivals)
        logs = {
            key: value + _BEFORE * math.log(before.get(number_of(found[key][0]) or math.nan, _NOT_BEFORE))
            for key, value in logs.items()
        }
    top = max(logs.values())
    total = sum(math.exp(value - top) for value in logs.values())
    ranked = sorted(logs, key=lambda key: -logs[key])
    candidates = [Candidate(*found[key], share=math.exp(logs[key] - top) / total) for key in ranked]
    best = ranked[0]
    weakest = min(math.exp(one[best][2]) if best in one else 0.0 for one in heard)
    agrees = max(scored, key=lambda key: scored[key][2]) == best if scored else None
    unlike = 0.0
    if opinion and opinion.text in opinion.scores:
        answers = max((score for _, _, score in scored.values()), default=-math.inf)
        unlike = max(opinion.scores[opinion.text] - answers, 0.0)
    second_score = scored[best][2] if best in scored else _LEAST_SCORE if opinion else 0.0
    return Evidence(
        candidates[0], tuple(candidates[1:]), _log_odds(weakest), snr_db, agrees, unlike, second_score,
        _twin_margin(best, heard),
    )  # fmt: skip


def _twin_margin(best: Hashable, heard: list[Scored]) -> float:
    """How far the best, where it is a ten or a teen, is ahead of the other in the hearing that tells them apart least."""
    margins = [math.inf]
    for hearing in heard:
        value = number_of(hearing[best][0]) if best in hearing else None
        other = None if value is None else twin(value)
        margins += [
            hearing[best][2] - score for meaning, _, score in hearing.values()
            if other is not None and number_of(meaning) == other
        ]  # fmt: skip
    return min(margins)


def number_of(meaning: Meaning) -> float | None:
    """The one number of an answer."""
    if isinstance(meaning, Answer) and len(meaning.parts) == 1 and isinstance(meaning.parts[0].value, float):
        return meaning.parts[0].value
    return None


def _by_meaning(question: Question, texts: Iterable[tuple[str, float]]) -> Scored:
    """The best score of each meaning among these words; what means nothing here is left out."""
    best: Scored = {}
    for words, score in texts:
        meaning = understand(question, words)
        key = _key(meaning)
        if isinstance(meaning, NotUnderstood) or _refused(question, meaning):
            continue
        if key not in best or score > best[key][2]:
            best[key] = (meaning, words, score)
    return best


def _second(question: Question, opinion: Opinion, scored: Scored, keys: Iterable[Hashable]) -> dict[Hashable, float]:
    """The second ear's log weight for each candidate."""
    lowest = min(min(score for _, _, score in scored.values()), -8.0) + _UNSCORED
    own = _by_meaning(question, [(g.words, g.score) for g in opinion.numbers if g.words])
    total = math.log(sum(math.exp(g.score) for g in opinion.numbers)) if own else 0.0
    weights = {key: _FORCED * (scored[key][2] if key in scored else lowest) for key in keys}
    if own:
        for key in weights:
            mine = own[key][2] - total if key in own else _NOT_ITS_OWN
            weights[key] += _OWN * max(mine, _NOT_ITS_OWN)
    return weights


def _posterior(question: Question, offered: frozenset[str], guesses: Iterable[Guess]) -> Scored:
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
        if word in TEENS[3:] or (word in TENS and after not in DIGITS):
            return True
    return False
