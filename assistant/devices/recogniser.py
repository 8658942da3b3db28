"""Sound to ranked words: the one door to vosk."""

import json
import tempfile
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.devices.audio_file import RATE_HZ, Samples
from assistant.devices.graph import known_words, strict_folder
from assistant.language.audible import Audible, audible
from assistant.language.grammar import UNKNOWN_WORD
from assistant.language.meaning import Question

ALTERNATIVES = 20
"""Measured: among 20 the truth is found in 95 to 100 % of readings down to 5 dB."""
LOADED = 2
"""Models kept in memory, about 100 MB each: the question's and the one before."""


@dataclass(frozen=True)
class Guess:
    """One way the sound may be read."""

    words: str
    score: float
    """Natural logarithm of its likelihood, to an unknown constant that is the same for every guess."""


class Decoder:
    """One pass over one answer's sound."""

    def __init__(self, recognizer: Any, model: Any) -> None:
        self._recognizer = recognizer
        self._model = model  # held, so that it outlives its place in the cache

    def feed(self, block: Samples) -> bool:
        """More sound; True when vosk itself finds that the answer has ended."""
        return bool(self._recognizer.AcceptWaveform(block.tobytes()))

    def partial(self) -> str:
        """Words so far."""
        return str(json.loads(self._recognizer.PartialResult()).get("partial", ""))

    def finish(self) -> list[Guess]:
        """All guesses, the likeliest first; the decoder is spent then."""
        return _guesses(self._recognizer.FinalResult())

    def ended(self) -> list[Guess]:
        """All guesses after `feed` said that it ended."""
        return _guesses(self._recognizer.Result())


def _guesses(result: str) -> list[Guess]:
    found = json.loads(result)
    if "alternatives" not in found:
        return [Guess(str(found.get("text", "")), 0.0)]
    return [Guess(str(a["text"]).strip(), float(a["confidence"])) for a in found["alternatives"]]


class Decoders:
    """Makes a decoder for each question; keeps the models that it needs loaded."""

    def __init__(self, folder: Path, home: Path | None = None) -> None:
        """Nothing is loaded yet.

        Args:
            folder: the speech model.
            home: where its strict grammars are kept; a temporary folder, removed with this object, by default.
        """
        import vosk

        vosk.SetLogLevel(-1)
        self._vosk = vosk
        self._folder = folder
        self._own = None if home else tempfile.TemporaryDirectory(prefix="rackcall-grammar-")
        self._home = home or Path(self._own.name if self._own else "")
        self._words = known_words(folder)
        self._models: OrderedDict[str, Any] = OrderedDict()

    def unheard(self, question: Question) -> list[str]:
        """Phrases of this question with a word that the speech model does not know: they can only be typed."""
        return [p for p in audible(question).phrases if not self._known(p)]

    def _known(self, phrase: str) -> bool:
        return all(word in self._words for word in phrase.split())

    def prepare(self, question: Question) -> None:
        """Load what this question needs, half a second at most: while its prompt is spoken.

        Raises:
            ValueError: none of the phrases that answer the question can be heard.
        """
        self._model(audible(question))

    def decoder(self, question: Question) -> Decoder:
        """A fresh decoder for one answer."""
        wanted = audible(question)
        model = self._model(wanted)
        if wanted.strict or wanted.free:
            recognizer = self._vosk.KaldiRecognizer(model, RATE_HZ)
        else:
            heard = [p for p in wanted.phrases if self._known(p)]
            recognizer = self._vosk.KaldiRecognizer(model, RATE_HZ, json.dumps([*heard, UNKNOWN_WORD]))
        recognizer.SetMaxAlternatives(ALTERNATIVES)
        return Decoder(recognizer, model)

    def _model(self, wanted: Audible) -> Any:
        if not wanted.strict and not wanted.free:
            strict = [name for name in self._models if name != "free"]
            if strict:  # a list of phrases goes on any model that is there
                return self._models[strict[-1]]
            wanted = audible(Question("suction_pressure"))
        if wanted.name in self._models:
            self._models.move_to_end(wanted.name)
            return self._models[wanted.name]
        while len(self._models) >= LOADED:
            self._models.popitem(last=False)
        folder = self._folder
        if wanted.strict:
            folder = strict_folder(self._folder, self._hearable(wanted), self._home)
        model = self._vosk.Model(str(folder))
        self._models[wanted.name] = model
        return model

    def _hearable(self, wanted: Audible) -> tuple[dict[str, int], ...]:
        """The grammar without the words that the model does not know."""
        return tuple(
            {word: to for word, to in row.items() if not word or word in self._words} for row in wanted.strict or ()
        )
