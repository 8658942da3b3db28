"""How sure the ear is: two hearings of one answer to a value with its probability."""

import math
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, replace

from assistant.hearing.guesses import Guess, Opinion
from assistant.language.audible import audible
from assistant.language.both_ends import UNKNOWN_WORD, trimmed
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.numbers import DIGITS, TEENS, TENS, twin

_FIRST_ALONE = 1.5
"""Weight of the first ear's log posterior, the mean of its hearings: they hear the same sound, so no evidence adds up fully."""
_FIRST, _WORD, _LETTER = 0.557, 0.278, 0.085
"""Where both ears were asked: of the first ear's log posterior, of the second one's log probabilities by words and by letters.
Fitted with the probability, see `sureness`."""
_UNHEARD = math.log(1e-3)  # what a hearing leaves for a value that only the others have in their lists
_SHORT, SHORT_AT_WORDS = frozenset(("hold", "note", "wait")), frozenset(("hold", "note", "wait", "back"))
"""Commands that the first ear does not listen for, because noise makes it take other answers for them; the second is sure. Of
"back" only where no number is asked for: it heard that in the first digit of "six three seven"."""
_BY_NAME = "correction "
"""Before a reading's name it is such a command too: the first ear knows no names of readings where words are asked for."""
_UNHEARABLE = math.log(0.1), 0.5
"""What the first ear is taken to give to them, and the share in its least hearing: it has no say."""
_UNSCORED = -60.0  # to the second ear, what was not put to it, and at worst what was
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
class Considered:
    """One meaning, with what each ear makes of it."""

    meaning: Meaning
    words: str
    first: float
    """Mean of the log posteriors that the first ear's hearings give it."""
    weakest: float
    """Posterior in the hearing that gives it least, 0 to 1."""
    word: float = 0.0
    """Log probability that the second ear gives its ways of being said, by words; 0 when it was not asked."""
    letter: float = 0.0
    """The same, by letters."""

    def weight(self, both: bool) -> float:
        """Log weight against the others.

        Args:
            both: whether the second ear was asked.
        """
        if not both:
            return _FIRST_ALONE * self.first
        return _FIRST * self.first + _WORD * max(self.word, _UNSCORED) + _LETTER * max(self.letter, _UNSCORED)


@dataclass(frozen=True)
class Evidence:
    """What is known about the best candidate; the inputs of its probability."""

    best: Candidate
    rivals: tuple[Candidate, ...]
    """All others, the likeliest first."""
    weakest: float
    """Log odds that the hearing of the first ear gives it which gives it least."""
    snr_db: float
    both: bool = False
    """Whether the second ear was asked."""
    unlike: float = 0.0
    """How much likelier other words are to the second ear than these [natural logarithm]; 0 where they are not."""
    word: float = 0.0
    """Log probability that the second ear gives the best one as the whole answer, by words; 0 when it was not asked."""
    twin_margin: float = math.inf
    """For a ten or a teen: log odds against the other, in the hearing of the first ear that tells them apart least."""

    @property
    def log_odds(self) -> float:
        """Log odds of its share, limited to what 20 alternatives can tell."""
        return _log_odds(self.best.share)


def _log_odds(share: float) -> float:
    share = min(max(share, 1e-4), 1 - 1e-4)
    return math.log(share / (1 - share))


def texts(question: Question, hearings: Iterable[Iterable[Guess]]) -> list[str]:
    """What the second ear is asked about: every guess of the first that means something here.

    Args:
        question: what was asked.
        hearings: guesses of each hearing of the same sound.
    """
    offered = frozenset(audible(question).phrases)
    said = dict.fromkeys(guess.words for guesses in hearings for guess in guesses if guess.words)
    return [words for words in said if UNKNOWN_WORD not in words and _meaning(question, offered, words) is not None]


def consider(question: Question, hearings: Iterable[Iterable[Guess]], opinion: Opinion | None = None) -> list[Considered]:
    """Every meaning that one answer may have, in no order.

    Guesses are joined by what they mean: "two oh eight" and "two hundred eight" are one candidate. A list of
    phrases also gives parts and chains of them; such guesses are left out. That it was nothing of what was asked is a
    candidate of the first ear alone: the second ear says it by its own guesses.

    Args:
        question: what was asked.
        hearings: guesses of each hearing of the same sound.
        opinion: what the second ear makes of it.
    """
    offered = frozenset(audible(question).phrases)
    heard = [_posterior(question, offered, guesses) for guesses in hearings]
    found: dict[Hashable, tuple[Meaning, str]] = {}
    for hearing in heard:
        for key, (meaning, words, _) in hearing.items():
            found.setdefault(key, (meaning, words))
    by_word: Scored = _summed(question, offered, opinion.words) if opinion else {}
    by_letter: Scored = _summed(question, offered, opinion.letters) if opinion else {}
    for key, (meaning, words, _) in by_word.items():
        found[key] = (meaning, words)  # of the ways of saying it, the likeliest to the second ear: it hears stray sounds as such
    if len(found) > 1 and opinion is not None:
        found.pop(None, None)
    asked = opinion is not None

    def first(key: Hashable, words: str) -> tuple[float, float]:
        if for_the_second(question, words) and not any(key in one for one in heard):
            return _UNHEARABLE
        least = min(math.exp(one[key][2]) if key in one else 0.0 for one in heard)
        return sum(one[key][2] if key in one else _UNHEARD for one in heard) / len(heard), least

    return [
        Considered(
            meaning, words, *first(key, words),
            by_word[key][2] if key in by_word else _UNSCORED * asked,
            by_letter[key][2] if key in by_letter else _UNSCORED * asked,
        )
        for key, (meaning, words) in found.items()
    ]  # fmt: skip


def weigh(
    question: Question, hearings: Iterable[Iterable[Guess]], snr_db: float, opinion: Opinion | None = None
) -> Evidence:
    """The best meaning of one answer that was heard several times.

    Args:
        question: what was asked.
        hearings: guesses of each hearing of the same sound.
        snr_db: loudness of the speech over the noise [dB].
        opinion: what the second ear makes of it.
    """
    heard = [list(guesses) for guesses in hearings]
    all_of_them = consider(question, heard, opinion)
    before = dict(question.rivals)
    logs = [
        one.weight(opinion is not None)
        + (_BEFORE * math.log(before.get(number_of(one.meaning) or math.nan, _NOT_BEFORE)) if before else 0.0)
        for one in all_of_them
    ]
    top = max(logs)
    total = sum(math.exp(value - top) for value in logs)
    order = sorted(range(len(logs)), key=lambda i: -logs[i])
    ranked = [Candidate(all_of_them[i].meaning, all_of_them[i].words, math.exp(logs[i] - top) / total) for i in order]
    best = all_of_them[order[0]]
    evidence = Evidence(
        ranked[0], tuple(ranked[1:]), _log_odds(best.weakest), snr_db, twin_margin=_twin_margin(question, best.meaning, heard)
    )
    if opinion is None:
        return evidence
    free = max((guess.score for guess in opinion.own), default=_UNSCORED)
    # Of several answers in one breath each has its own doubts: they are taken in the mean.
    parts = len(best.meaning.parts) if isinstance(best.meaning, Answer) else 1
    return replace(
        evidence, both=True, word=best.word / parts, unlike=max(free - best.word, 0.0) / parts
    )


def _twin_margin(question: Question, best: Meaning, hearings: list[list[Guess]]) -> float:
    """How far the best, where it is a ten or a teen, is ahead of the other in the hearing that tells them apart least."""
    value = number_of(best)
    other = None if value is None else twin(value)
    if other is None:
        return math.inf
    margins = [math.inf]
    for guesses in hearings:
        heard = _posterior(question, frozenset(), guesses)
        mine = [score for meaning, _, score in heard.values() if number_of(meaning) == value]
        margins += [mine[0] - score for meaning, _, score in heard.values() if mine and number_of(meaning) == other]
    return min(margins)


def number_of(meaning: Meaning) -> float | None:
    """The one number of an answer."""
    if isinstance(meaning, Answer) and len(meaning.parts) == 1 and isinstance(meaning.parts[0].value, float):
        return meaning.parts[0].value
    return None


def _meaning(question: Question, offered: frozenset[str], words: str) -> Meaning | None:
    """What these words are an answer with; None where they are none, or one that was refused."""
    meaning = understand(question, words)
    if isinstance(meaning, NotUnderstood) or _refused(question, meaning):
        return None
    return meaning if not offered or offered & set(trimmed(words)) else None


def for_the_second(question: Question, words: str) -> bool:
    """Whether these words are a command that the second ear alone listens for."""
    if words.startswith(_BY_NAME):
        meaning = understand(question, words)
        return isinstance(meaning, Command) and bool(meaning.about)
    return words in (_SHORT if audible(question).strict else SHORT_AT_WORDS)


def _summed(question: Question, offered: frozenset[str], scores: Mapping[str, float]) -> Scored:
    """Each meaning with its likeliest words and the probability of all its ways of being said."""
    found: Scored = {}
    best: dict[Hashable, float] = {}
    for words, score in scores.items():
        meaning = _meaning(question, frozenset() if for_the_second(question, words) else offered, words)
        if meaning is None:
            continue
        key = _key(meaning)
        _, known, total = found.get(key, (meaning, words, -math.inf))
        if score > best.get(key, -math.inf):
            best[key], known = score, words
        top = max(total, score)
        found[key] = (meaning, known, top + math.log(math.exp(total - top) + math.exp(score - top)))
    return found


def _posterior(question: Question, offered: frozenset[str], guesses: Iterable[Guess]) -> Scored:
    """Meaning, likeliest words and log posterior of every meaning in one hearing's list."""
    best: dict[Hashable, tuple[Meaning, str, list[float]]] = {}
    for guess in guesses:
        meaning = _meaning(question, offered, guess.words) if guess.words else None
        if meaning is None:
            known = understand(question, guess.words) if guess.words else NotUnderstood()
            if _refused(question, known) or (guess.words and UNKNOWN_WORD not in guess.words):
                continue
            meaning = NotUnderstood()
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
        case Command("continue", about):
            return "continue", "" if about == "said so" else about
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
