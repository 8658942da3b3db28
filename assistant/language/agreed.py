"""What a whole sentence says to a caution, to "is something not safe?" or to what was asked back, and whether what is said at a
step tells of danger, by its sense (`sense`).

No step asks these, so the prompt goes with the words. Whoever uses it looks for trouble, for what lacks and for a question first.
"""

from collections.abc import Iterable

from assistant.language.sense import likely, prompt_of
from assistant.language.wording import cautions

CAUTION, NOT_SAFE, CONFIRM, DANGER = "caution", "not_safe", "confirm", "danger"
"""What is asked beside the steps, as the sense knows it."""
HEEDED, YES, NO = "heeded", "yes", "no"
ASKS_OF_SAFETY = "Is something not safe?"
HARMLESS, ANSWERS, SURELY_ANSWERS = 0.05, 0.8, 0.95
"""Probability of danger up to which a sentence tells of none; and of an answer, from which it is meant for one, and for one of
many things on which safety hangs: one of them may be what is not so, "footing's icy, glasses on"."""
_FEW, _WHOLE, _LONG, _TALK, _SURELY = 4, 7, 8, 0.02, 0.012


def spoken(names: Iterable[str]) -> str:
    """These cautions as they are said in full."""
    return " ".join(cautions()[name]["full"] for name in names)


def heeding(words: str, names: Iterable[str]) -> float | None:
    """Probability, 0 to 1, that a sentence acknowledges these cautions; None where the sense is not known."""
    return likely(CAUTION, words, spoken(names)).get(HEEDED)


def safe(words: str) -> tuple[float, float]:
    """Probability that a sentence denies that something is not safe, and that it says so; 0 where the sense is not known."""
    found = likely(NOT_SAFE, words, ASKS_OF_SAFETY)
    return found.get(NO, 0.0), found.get(YES, 0.0)


def danger(step: str, words: str) -> float | None:
    """Probability that a sentence said to a step's prompt tells of danger; None where the sense does not know that step."""
    prompt = prompt_of(step)
    return likely(DANGER, words, prompt).get(YES) if prompt else None


def harmless(step: str, words: str, up_to: float = HARMLESS) -> bool:
    """Whether a sentence said to a step's prompt surely tells of no danger; never where the sense does not know that step.

    Args:
        step: the step that asks.
        words: as typed.
        up_to: probability of danger up to which it tells of none.
    """
    chance = danger(step, words)
    return chance is not None and chance <= up_to


def only_badly_put(step: str, words: str, of_many: bool = False, at_stake: bool = True) -> bool:
    """Whether a whole sentence that nothing understands tells of no danger, and is an answer badly put, or talk.

    Args:
        step: the step that asks, or that the call stands at.
        words: as typed.
        of_many: the step asks many things at once: there one of them may be not so, and it must sound like their answer.
        at_stake: somebody's safety hangs on the answer: there a few words are none of it, however harmless they sound.
    """
    long = len(words.split())
    if not at_stake and not of_many and _FEW <= long < _WHOLE:
        return harmless(step, words, _SURELY)
    if long < _WHOLE or not harmless(step, words):
        return False
    talk = long >= _LONG and not of_many and harmless(step, words, _TALK)
    least = SURELY_ANSWERS if at_stake and of_many else ANSWERS
    return talk or max(likely(step, words).values(), default=0.0) >= least


def agreeing(words: str, prompt: str) -> tuple[float, float]:
    """Probability that a sentence agrees to what was asked back, and that it denies it; 0 where the sense is not known.

    Args:
        words: as typed.
        prompt: what was asked back, as it was spoken: "Dead check. Correct?"
    """
    found = likely(CONFIRM, words, prompt)
    return found.get(YES, 0.0), found.get(NO, 0.0)
