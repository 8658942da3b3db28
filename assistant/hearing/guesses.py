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

    words: Mapping[str, float]
    """Texts that were put to it, with the natural logarithm of their probability as the whole answer, heard word by word."""
    letters: Mapping[str, float]
    """The same texts, heard letter by letter."""
    own: tuple[Guess, ...] = ()
    """What it takes the sound for without being told what was asked, the likeliest first."""


class SecondOpinion(Protocol):
    """Another model, asked about what the first one has found."""

    def ahead(self, sound: Samples) -> None:
        """Begin to take in an answer that will be asked about if nothing more is said: it is ready when the silence is.

        Args:
            sound: int16, shape (n_samples,), mono, 16 kHz.
        """

    def likeliest(self, sound: Samples) -> str:
        """Its own best guess at an answer; empty where it heard none in words of the product."""

    def knows(self, words: str) -> bool:
        """Whether all of these are words that it was made for: the names of a site's racks are not."""

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        """Listen to one answer.

        Args:
            sound: int16, shape (n_samples,), mono, 16 kHz.
            candidates: texts that the first ear has found.
        """
