"""Sound to what was meant: the one door to vosk."""

import json
import os
import tempfile
import threading
from collections import OrderedDict
from collections.abc import Iterator
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import numpy as np

from assistant.hearing.decision import Hearing, judge, silent
from assistant.hearing.freely import FreeWords, freely
from assistant.hearing.graph import known_words, strict_folder
from assistant.hearing.guesses import Decoder, Guess
from assistant.hearing.in_sentences import sentences, with_pauses
from assistant.hearing.listener import Endpointer, Utterance
from assistant.hearing.model import check
from assistant.hearing.second_ear import SecondEar, SecondEarMissing, second_ear_folder
from assistant.hearing.voice_activity import TrainedDetector, VoiceDetector
from assistant.language.audible import Audible, audible
from assistant.language.both_ends import UNKNOWN_WORD
from assistant.language.meaning import Question
from assistant.language.offered import number_words, phrases
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import RATE_HZ, Samples

ALTERNATIVES = 20
"""Measured: among 20 the truth is found in 95 to 100 % of readings down to 5 dB."""
LOADED = 1
"""Strict models kept in memory, about 100 MB each. Another is loaded in 0.4 s, while its prompt is spoken. The one of all
words is loaded when it is first needed and stays: it hears what no grammar has, at any question."""
ONE_EAR = "RACKCALL_ONE_EAR"
"""Environment variable that switches the second ear off, whatever its value."""
_BLOCK = RATE_HZ * 30 // 1000


class WordsUnknown(Exception):
    """The grammar asks for words that the speech model cannot hear; the message lists them."""


class _VoskDecoder:
    """One pass over one answer's sound."""

    def __init__(self, recognizer: Any, model: Any) -> None:
        self._recognizer = recognizer
        self._model = model  # held, so that it outlives its place in the cache

    def feed(self, block: Samples) -> bool:
        return bool(self._recognizer.AcceptWaveform(block.tobytes()))

    def partial(self) -> str:
        return str(json.loads(self._recognizer.PartialResult()).get("partial", ""))

    def finish(self) -> list[Guess]:
        return _guesses(self._recognizer.FinalResult())

    def ended(self) -> list[Guess]:
        return _guesses(self._recognizer.Result())


def _guesses(result: str) -> list[Guess]:
    found = json.loads(result)
    if "alternatives" not in found:
        return [Guess(str(found.get("text", "")), 0.0)]
    return [
        Guess(
            str(a["text"]).strip(), float(a["confidence"]),
            tuple((float(word["start"]), float(word["end"])) for word in a.get("result", ())),
        )
        for a in found["alternatives"]
    ]  # fmt: skip


class Recogniser:
    """Hears answers to questions. Makes a decoder for each; keeps the models that it needs loaded."""

    def __init__(self, folder: Path, home: Path | None = None, second: bool = True) -> None:
        """The words are checked; no model is loaded yet.

        Args:
            folder: the speech model, `model_folder()`.
            home: where its strict grammars are kept; by default a folder that goes with this object.
            second: whether the second ear is used where it runs and is not switched off.

        Raises:
            WordsUnknown: an answer or a command of the grammars can be said in no way that the model hears.
            ModelFault: the model is damaged.
        """
        check(folder)
        import vosk

        vosk.SetLogLevel(-1)
        self._vosk = vosk
        self._folder = folder
        self._own = None if home else tempfile.TemporaryDirectory(prefix="rackcall-grammar-")
        self._home = home or Path(self._own.name if self._own else "")
        self._words = known_words(folder)
        self._models: OrderedDict[str, Any] = OrderedDict()
        self._lock = threading.Lock()  # an answer's further hearings make their decoders in threads of their own
        self._dictating = threading.Lock()
        self._use_second = second and not os.environ.get(ONE_EAR)
        self._check()

    # ---- hearing

    def hear(self, samples: Samples, question: Question) -> Hearing:
        """The first answer in a recording.

        Args:
            samples: int16, shape (n_samples,), mono, 16 kHz.
            question: what was asked.

        Returns:
            What was heard; `unclear` without words where there is no speech.
        """
        listener = Listener(self, question)
        for at in range(0, len(samples), _BLOCK):
            found = listener.feed(samples[at : at + _BLOCK])
            if found:
                return found
        return listener.close() or silent(question)

    def prepare(self, question: Question) -> None:
        """Load what this question needs, half a second at most: call it while its prompt is spoken."""
        self._model(audible(question))
        _ = self.second

    @cached_property
    def second(self) -> SecondEar | None:
        """The second ear; None where it does not run, its network is another one, or it is switched off."""
        try:
            return SecondEar(second_ear_folder()) if self._use_second else None
        except SecondEarMissing:
            return None

    def decoder(self, question: Question) -> Decoder:
        """A fresh decoder for one answer to this question."""
        wanted = audible(question)
        model = self._model(wanted)
        if wanted.strict or wanted.free:
            recognizer = self._vosk.KaldiRecognizer(model, RATE_HZ)
        else:
            heard = [phrase for phrase in wanted.phrases if self._known(phrase)]
            recognizer = self._vosk.KaldiRecognizer(model, RATE_HZ, json.dumps([*heard, UNKNOWN_WORD]))
        return self._decoder(recognizer, model)

    @staticmethod
    def _decoder(recognizer: Any, model: Any) -> Decoder:
        recognizer.SetMaxAlternatives(ALTERNATIVES)
        recognizer.SetWords(True)
        return _VoskDecoder(recognizer, model)

    def detector(self) -> VoiceDetector:
        """A fresh detector of speech, for one listener."""
        return TrainedDetector()

    def judged(self, question: Question, utterance: Utterance) -> Hearing | None:
        """What one stretch of sound counts for; what no grammar has is heard once more without one."""
        hearing = judge(question, utterance, self.second)
        if hearing is None:
            return None
        said = utterance.said
        words = FreeWords(cache(lambda: self._in_sentences(said)), cache(lambda: self._dictated(said)))
        return freely(question, utterance, hearing, self.second, words)

    def _in_sentences(self, samples: Samples) -> str:
        """The likeliest words of a sound, by the sentences of this trade, with its pauses: 0.05 s an answer."""
        return with_pauses(self._likeliest(samples, self._sentences))

    def _dictated(self, samples: Samples) -> str:
        """The likeliest words of a sound, by all that the model knows: 0.05 s a second of sound."""
        return self._likeliest(samples, self._dictation).words

    def _likeliest(self, samples: Samples, kept: Decoder) -> Guess:
        with self._dictating:
            for block in blocks(samples):
                kept.feed(block)
            return next(iter(kept.finish()), Guess("", 0.0))

    @cached_property
    def _sentences(self) -> Decoder:
        """Kept, as `_dictation` is, on the model of all words; made in 0.3 s."""
        model = self._model(audible(Question("note")))
        return self._decoder(self._vosk.KaldiRecognizer(model, RATE_HZ, sentences(self._known)), model)

    @cached_property
    def _dictation(self) -> Decoder:
        """Kept: what it has once worked out of the model's many words it need not again, five sixths of the work of a fresh one.

        After `finish` it begins anew: of 40 sentences, heard in two orders, all were as a fresh one has them.
        """
        return self.decoder(Question("note"))

    # ---- words

    def unheard(self, question: Question) -> list[str]:
        """Phrases of this question with a word that the model does not know: they can only be typed."""
        return [phrase for phrase in phrases(question) if not self._known(phrase)]

    def _known(self, phrase: str) -> bool:
        return all(word in self._words for word in phrase.split())

    def _check(self) -> None:
        missing = {word for kind in NUMBER_KINDS for word in number_words(kind) if word not in self._words}
        missing |= {
            choice for entry in vocabulary().values() for choice in entry.choices if not self._known(choice)
        }
        if missing:
            raise WordsUnknown(
                f"the speech model in {self._folder} does not know: {', '.join(sorted(missing))}"
            )

    # ---- models

    def _model(self, wanted: Audible) -> Any:
        with self._lock:
            return self._loaded(wanted)

    def _loaded(self, wanted: Audible) -> Any:
        if not wanted.strict and not wanted.free:
            strict = [name for name in self._models if name != "free"]
            if strict:  # a list of phrases goes on any model that is there
                return self._models[strict[-1]]
            wanted = audible(Question("suction_pressure"))
        if wanted.name in self._models:
            self._models.move_to_end(wanted.name)
            return self._models[wanted.name]
        while len(strict := [name for name in self._models if name != "free"]) >= LOADED and not wanted.free:
            del self._models[strict[0]]
        grammar = None if wanted.free else self._hearable(wanted)
        folder = strict_folder(self._folder, grammar, self._home)
        model = self._vosk.Model(str(folder))
        self._models[wanted.name] = model
        return model

    def _hearable(self, wanted: Audible) -> tuple[dict[str, int], ...]:
        """The grammar without the words that the model does not know."""
        rows = wanted.strict or ()
        return tuple(
            {word: to for word, to in row.items() if not word or word in self._words} for row in rows
        )


class Listener:
    """A stream of sound to what was heard: a live microphone and files alike."""

    def __init__(self, recogniser: Recogniser, question: Question) -> None:
        """Ready for the first block.

        Args:
            recogniser: the ear.
            question: what is listened for.
        """
        self._question = question
        self._recogniser = recogniser
        self._endpointer = Endpointer(recogniser, question, recogniser.detector(), recogniser.second)

    @property
    def speaking(self) -> bool:
        """Whether somebody has begun to speak."""
        return self._endpointer.speaking

    def feed(self, block: Samples) -> Hearing | None:
        """More sound.

        Args:
            block: int16, shape (n_samples,), mono, 16 kHz, 10 to 100 ms.

        Returns:
            What was heard, when an answer has ended with this block. Noise and a word or two of talk end in
            nothing: it goes on listening.
        """
        utterance = self._endpointer.feed(np.asarray(block, dtype=np.int16))
        return self._judged(utterance)

    def close(self) -> Hearing | None:
        """No more sound: what has begun ends here."""
        return self._judged(self._endpointer.close())

    def _judged(self, utterance: Utterance | None) -> Hearing | None:
        return self._recogniser.judged(self._question, utterance) if utterance else None


def blocks(samples: Samples) -> Iterator[Samples]:
    """A recording in the blocks that a microphone gives."""
    for at in range(0, len(samples), _BLOCK):
        yield samples[at : at + _BLOCK]
