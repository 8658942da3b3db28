"""What a pass over the sound of an answer gives: guesses of its words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from assistant.language.meaning import Question
from assistant.sound.audio_file import Samples


@dataclass(frozen=True)
class Guess:
    """One way the sound may be read."""

    words: str
    score: float
    """Natural logarithm of its likelihood, to an unknown constant that is the same for every guess."""
    spans: tuple[tuple[float, float], ...] = ()
    """Where each of its words lies in the sound, beginning and end [s]; empty where it is not known."""


class Decoder(Protocol):
    """One pass over one answer's sound."""

    def feed(self, block: Samples) -> bool:
        """More sound; True when the decoder itself finds that the answer has ended."""

    def partial(self) -> str:
        """Words so far."""

    def finish(self) -> list[Guess]:
        """All guesses, the likeliest first; the decoder is spent then."""

    def ended(self) -> list[Guess]:
        """All guesses after `feed` said that the answer has ended."""


class Decoders(Protocol):
    """Makes a decoder for each question."""

    def decoder(self, question: Question) -> Decoder:
        """A fresh decoder for one answer."""


@dataclass(frozen=True)
class Opinion:
    """What another ear makes of the sound of one answer."""

    scores: Mapping[str, float]
    """Words that were put to it, with the natural logarithm of their probability as the whole answer."""
    numbers: tuple[Guess, ...]
    """What it takes the answer for by itself, where a number is asked for."""
    text: str = ""
    """What it takes the sound for without being told what was asked; among `scores` too."""


class SecondOpinion(Protocol):
    """Another model, asked about what the first one has found."""

    def opinion(self, sound: Samples, words: Sequence[str], number: bool) -> Opinion:
        """Listen to one answer.

        Args:
            sound: int16, shape (n_samples,), mono, 16 kHz.
            words: candidates of the first ear.
            number: whether a number is asked for.
        """
