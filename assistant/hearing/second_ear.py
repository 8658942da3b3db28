"""An ear for this trade's closed language, the second opinion on every answer: the one door to onnxruntime.

`models/ear/README.md` says how it was made and from what. It hears otherwise than the first ear, and so errs otherwise. Where
onnxruntime does not run, or the file is another one, the product hears with the first ear alone.
"""

import hashlib
import json
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np

from assistant.hearing.alignment import Logs, likeliest_texts, text_scores
from assistant.hearing.guesses import Guess, Opinion
from assistant.paths import data_folder
from assistant.sound.audio_file import Samples

SHA256 = "9eb1db7f6ff11e8bb2b7a249ec034edca31929d555bb10429f8a3cea53ffa77f"
LETTERS = "_ abcdefghijklmnopqrstuvwxyz'"
"""What its first output tells apart; `_` is the blank."""
OTHER = "<other>"
"""Stands in its own guesses for a word that is none of the product's."""
_SHORTEST = 4000  # samples under which the network has no step to give
_OWN = 6
"""Of its own guesses, how many are kept."""


class SecondEarMissing(Exception):
    """It does not run here, or its file is another one; the message says which."""


_Heard = tuple[Logs, Logs, tuple[Guess, ...]]
"""Letters and words at each step, and its own guesses."""


class SecondEar:
    """Scores what the first ear has found, and finds words of its own."""

    def __init__(self, folder: Path) -> None:
        """Load the network: 0.1 s, about 50 MB.

        Args:
            folder: `second_ear_folder()`.

        Raises:
            SecondEarMissing: onnxruntime is missing or refuses the file.
        """
        try:
            import onnxruntime
        except ImportError as missing:
            raise SecondEarMissing(f"{missing.name} is not installed") from missing
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        options.log_severity_level = 3
        try:
            self._network: Any = onnxruntime.InferenceSession(str(folder / "ear.onnx"), options, ["CPUExecutionProvider"])
        except Exception as fault:  # it raises classes of its own that share no better base
            raise SecondEarMissing(f"onnxruntime refuses the second ear's network: {fault}") from fault
        self._words: list[str] = json.loads((folder / "words.json").read_text(encoding="utf-8"))
        self._word = {word: i for i, word in enumerate(self._words)}
        self._letter = {letter: i for i, letter in enumerate(LETTERS)}
        self._thread = ThreadPoolExecutor(1, "second-ear")
        self._begun: tuple[Samples, Future[_Heard]] | None = None

    def ahead(self, sound: Samples) -> None:
        """See `SecondOpinion`: 25 ms on one core, in a thread of its own."""
        self._begun = (sound, self._thread.submit(self._taken_in, sound))

    def likeliest(self, sound: Samples) -> str:
        """See `SecondOpinion`; waits for it."""
        own = self._heard(sound)[2]
        return own[0].words if own and OTHER not in own[0].words else ""

    def knows(self, words: str) -> bool:
        """See `SecondOpinion`."""
        return all(word in self._word for word in words.split())

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        """See `SecondOpinion`: less than a millisecond for each candidate, once the sound is taken in."""
        letters, words, own = self._heard(sound)
        asked = list(dict.fromkeys([*candidates, *(guess.words for guess in own if guess.words and OTHER not in guess.words)]))
        by_word = text_scores(words, [[self._word.get(word, 1) for word in text.split()] for text in asked])
        by_letter = text_scores(letters, [[self._letter[c] for c in text if c in self._letter] for text in asked])
        return Opinion(dict(zip(asked, by_word, strict=True)), dict(zip(asked, by_letter, strict=True)), own)

    def _heard(self, sound: Samples) -> _Heard:
        if self._begun is None or self._begun[0] is not sound:
            self.ahead(sound)
        assert self._begun is not None
        return self._begun[1].result()

    def _taken_in(self, sound: Samples) -> _Heard:
        x = np.zeros((1, max(len(sound), _SHORTEST)), np.float32)
        x[0, : len(sound)] = sound / np.float32(32768)
        letters, words = (found[0].astype(np.float64) for found in self._network.run(None, {"sound": x}))
        own = likeliest_texts(words)[:_OWN]
        return letters, words, tuple(Guess(" ".join(self._words[v] for v in labels), score) for labels, score in own)


def second_ear_folder() -> Path:
    """Folder of the second ear's network.

    Raises:
        SecondEarMissing: it is not there, or not the one that was measured.
    """
    folder = data_folder("models") / "ear"
    try:
        with open(folder / "ear.onnx", "rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as fault:
        raise SecondEarMissing(f"the second ear's network cannot be read: {fault.strerror}") from fault
    if found != SHA256:
        raise SecondEarMissing(f"the second ear's network is another one than was measured: SHA-256 {found}")
    return folder
