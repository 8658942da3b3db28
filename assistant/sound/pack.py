"""Sentences that a natural voice has spoken beforehand, found by their words and put together at clause boundaries.

`models/voice` holds them; its card says from what and how. What has a place to be filled in is put together from whole
clauses, whole numbers, names and units, each spoken with the melody of its place: a mark behind its words is part of a
phrase's key, a full stop for what ends a sentence, a comma for what is followed by more. A text that cannot be put together whole
is not spoken by the pack at all: never half by one voice and half by the other.
"""

import hashlib
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from assistant.language.numbers import DIGITS, TEENS, TENS
from assistant.paths import data_folder
from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.spelling import spelled

AFTER_S = {".": 0.28, "?": 0.28, "!": 0.28, ",": 0.12}
"""Silence after a phrase, by its mark."""
JOINED_S = 0.03
"""Between a name and its number, a number and its unit."""
_SINGLE = frozenset(("oh", "zero", *DIGITS))
_NUMBER = _SINGLE | {*TEENS, *TENS, "hundred", "thousand", "million"}
_TWO_FIGURES = frozenset((*TEENS, *TENS))
_MOST_BESIDE = 2
"""Phrases in a clause beside its number: more would sound like a list, and a sentence of a trainer's like a ransom note."""


def key(text: str) -> str:
    """A phrase as it is looked up: written out, in small letters, with its mark.

    >>> key("Rack suction: 12 psig,")
    'rack suction: twelve p s i,'
    """
    said = " ".join(spelled(text).lower().split())
    return re.sub(r"[:;]$", ",", said)


def sentences(text: str) -> list[str]:
    """A text's sentences, each with its mark.

    >>> sentences("Not dead. Out?")
    ['Not dead.', 'Out?']
    """
    return [said.strip() for said in re.findall(r".+?(?:[.?!]+(?=\s|$)|$)", text) if re.search(r"\w|\{", said)]


def clauses(sentence: str) -> list[tuple[str, str]]:
    """A sentence's clauses, each with its mark: a comma for all but the last.

    >>> clauses("Still hooked up: leads, clamp.")
    [('Still hooked up', ','), ('leads', ','), ('clamp', '.')]
    """
    words = sentence.rstrip(".?!")
    mark = sentence[len(words) :][:1] or "."
    parts = [part.strip() for part in re.split(r"[,:;](?=\s|$)", words)]
    parts = [part for part in parts if part]
    return [(part, mark if at == len(parts) - 1 else ",") for at, part in enumerate(parts)]


@dataclass(frozen=True)
class Part:
    """A phrase in its place."""

    phrase: str
    """Its key."""
    joined: bool = False
    """What follows stands in the same clause."""

    @property
    def after_s(self) -> float:
        """Silence behind it [s]."""
        return 0.0 if self.phrase[-1] == "-" else JOINED_S if self.joined else AFTER_S[self.phrase[-1]]


class Pack:
    """The phrases of a folder."""

    def __init__(self, folder: Path | None = None) -> None:
        """Look what is there; no sound is read yet.

        Args:
            folder: with the phrases; the product's own where none is given. One that is not there is an empty pack.
        """
        self.folder = folder or data_folder("models") / "voice" / "sounds"
        self._names = frozenset(file.name for file in self.folder.glob("*.opus")) if self.folder.is_dir() else frozenset()

    def __contains__(self, phrase: str) -> bool:
        return file_name(phrase) in self._names

    def plan(self, text: str) -> list[Part] | None:
        """The phrases that speak this text, in order; None where one is lacking."""
        found: list[Part] = []
        for said in sentences(spelled(text)):
            parts = self._sentence(said.lower())
            if parts is None:
                return None
            found += parts
        return found or None

    def render(self, text: str) -> Samples | None:
        """The text as sound; None where the pack lacks a phrase of it.

        Returns:
            int16, shape (n_samples,), mono, 16 kHz, as loud as the plain voice.
        """
        plan = self.plan(text)
        if plan is None:
            return None
        pieces: list[Samples] = []
        for part in plan:
            pieces += [_read(self.folder / file_name(part.phrase)), np.zeros(round(part.after_s * RATE_HZ), np.int16)]
        return np.concatenate(pieces[:-1])

    def _sentence(self, said: str) -> list[Part] | None:
        """The phrases of one sentence: whole, or by the longest runs of its clauses."""
        if key(said) in self:
            return [Part(key(said))]
        marked = clauses(said)
        found: list[Part] = []
        at = 0
        while at < len(marked):
            end = next((end for end in range(len(marked), at, -1) if self._run(said, marked[at:end]) in self), at)
            parts = [Part(self._run(said, marked[at:end]))] if end > at else self._clause(*marked[at])
            if parts is None:
                return None
            found += parts
            at = max(end, at + 1)
        return found

    @staticmethod
    def _run(said: str, run: list[tuple[str, str]]) -> str:
        """Neighbouring clauses as one phrase, as they stand in the sentence."""
        began = said.index(run[0][0])
        ended = began
        for words, _ in run:
            ended = said.index(words, ended) + len(words)
        return key(said[began:ended] + run[-1][1])

    def _clause(self, words: str, mark: str) -> list[Part] | None:
        """The phrases of one clause: a name before a number, a unit behind it."""
        tokens = words.split()
        found: list[Part] = []
        at = beside = 0
        while at < len(tokens):
            for end in range(len(tokens), at, -1):
                phrase = " ".join(tokens[at:end]) + (mark if end == len(tokens) else "-" if _leads(tokens, end) else ",")
                if phrase in self and (end == len(tokens) or _may_part(tokens, end)):
                    beside += not _NUMBER & {*tokens[at:end]} and tokens[at] != "minus"
                    found.append(Part(phrase, end < len(tokens)))
                    at = end
                    break
            else:
                return None
        return found if beside <= _MOST_BESIDE else None


def _may_part(tokens: list[str], at: int) -> bool:
    """Whether a clause may be put together here: in a number only behind its hundreds, for figures one by one, for decimals."""
    before, after = tokens[at - 1], tokens[at]
    if before not in _NUMBER or after not in _NUMBER:
        return True
    return _leads(tokens, at) or all(token in _SINGLE for token in tokens)


def _leads(tokens: list[str], at: int) -> bool:
    """Whether the hundreds of a number end here: the "two" of "two twelve", of "two oh eight"."""
    alone = at < 2 or tokens[at - 2] not in _NUMBER
    after = tokens[at] in _TWO_FIGURES or (tokens[at] == "oh" and tokens[at + 1 : at + 2] != [] and tokens[at + 1] in DIGITS)
    return alone and tokens[at - 1] in DIGITS and after


def file_name(phrase: str) -> str:
    """The file of a phrase, by its key."""
    return hashlib.sha256(phrase.encode()).hexdigest()[:20] + ".opus"


@lru_cache(maxsize=256)  # 12 MB
def _read(file: Path) -> Samples:
    import soundfile

    samples, _ = soundfile.read(file, dtype="int16")
    return np.asarray(samples, dtype=np.int16)
