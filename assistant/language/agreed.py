"""What a whole sentence says to a caution, to "is something not safe?" or to what was asked back, by its sense (`sense`).

No step asks these, so the prompt goes with the words. Whoever uses it looks for trouble, for what lacks and for a question first.
"""

from collections.abc import Iterable

from assistant.language.sense import likely
from assistant.language.wording import cautions

CAUTION, NOT_SAFE, CONFIRM = "caution", "not_safe", "confirm"
"""What is asked beside the steps, as the sense knows it."""
HEEDED, YES, NO = "heeded", "yes", "no"
ASKS_OF_SAFETY = "Is something not safe?"


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


def agreeing(words: str, prompt: str) -> tuple[float, float]:
    """Probability that a sentence agrees to what was asked back, and that it denies it; 0 where the sense is not known.

    Args:
        words: as typed.
        prompt: what was asked back, as it was spoken: "Dead check. Correct?"
    """
    found = likely(CONFIRM, words, prompt)
    return found.get(YES, 0.0), found.get(NO, 0.0)
