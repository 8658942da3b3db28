"""Whether the second ear finds the opposite of what was taken as likely: a grammar of "leads are on" has no "leads are off"."""

from collections.abc import Sequence

from assistant.hearing.guesses import Guess
from assistant.language.meaning import Answer, Command, Meaning

_NEAR = 1.0
"""How much less likely than the words taken [natural logarithm] the opposite may be to the second ear and speak against them.
Measured: "leads off" in a room's noise was 0.4 likelier; of what was said and counted the opposite was 4 and more behind."""
_PAIRS = (
    ("on", "off"), ("in", "out"), ("open", "closed"), ("open", "shut"), ("locked", "unlocked"), ("blocked", "unblocked"),
    ("good", "bad"), ("good", "dead"),
    ("safe", "unsafe"), ("back", "off"), ("tight", "loose"), ("plugged", "unplugged"), ("empty", "full"),
)  # fmt: skip
_OPPOSITES = frozenset(pair for one, other in _PAIRS for pair in ((one, other), (other, one)))
_DENYING = frozenset("not never no none nobody nothing still yet isn't aren't wasn't won't can't didn't haven't don't".split())


_OTHER_WORDS = 4.0
"""How much likelier other words of its own may be to the second ear than a deed. "Gauges are on order" was "gauges are on"
at 4.8, "yes and fiberglass, label's painted over" "yes fiberglass ladder" at 9.3; of 149 deeds that were right one was at 5.8."""


def opposite_near(meaning: Meaning, words: str, score: float, own: Sequence[Guess]) -> bool:
    """Whether a thing done was taken though its opposite, its denial or something far likelier may have been said.

    Args:
        meaning: what the words were taken for; only deeds are looked at, a choice has its opposite beside it, as a look has.
        words: the words taken.
        score: natural logarithm of their probability to the second ear.
        own: what that ear heard without being told what was asked.
    """
    if not _is_deed(meaning):
        return False
    taken = set(words.split())
    return any(
        guess.score > score + _OTHER_WORDS or (guess.score > score - _NEAR and _opposed(taken, set(guess.words.split())))
        for guess in own
    )


def _is_deed(meaning: Meaning) -> bool:
    if isinstance(meaning, Command):
        return meaning.name == "continue"
    return isinstance(meaning, Answer) and any(part.value is True for part in meaning.parts)


def _opposed(taken: set[str], other: set[str]) -> bool:
    more, less = other - taken, taken - other
    return bool(more & _DENYING) or any((one, against) in _OPPOSITES for one in less for against in more)
