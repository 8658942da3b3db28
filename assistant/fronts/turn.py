"""One answer by the microphone: the ear that is loaded meanwhile, and the sound that an answer is made of."""

import threading
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.headset import ALWAYS, Hiss

if TYPE_CHECKING:
    from assistant.hearing.decision import Hearing
    from assistant.hearing.recogniser import Listener, Recogniser
    from assistant.language.meaning import Question

LEAD_S = 0.5
"""Sound kept before an answer's onset."""
LONGEST_KEPT_S = 130.0


class Ready:
    """Something that is loaded in a thread of its own."""

    def __init__(self, load: Callable[[], "Recogniser"]) -> None:
        self._load = load
        self._error: Exception | None = None
        self._value: Recogniser | None = None
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        self._thread.start()

    def _run(self) -> None:
        try:
            self._value = self._load()
        except Exception as error:  # raised again where the value is wanted
            self._error = error

    def get(self) -> "Recogniser":
        self._thread.join()
        if self._error:
            raise self._error
        assert self._value is not None
        return self._value


class Turn:
    """Listening for one answer: its listener, begun anew after everything that sounded, and the sound it was given."""

    def __init__(self, recogniser: "Recogniser", question: "Question", hiss: Hiss | None) -> None:
        self._recogniser, self._question, self._hiss = recogniser, question, hiss
        self._listener: Listener | None = None
        self._kept: list[Samples] = []
        self._onset = 0

    @property
    def speaking(self) -> bool:
        return self._listener is not None and self._listener.speaking

    def begin_again(self) -> None:
        self._listener, self._kept = None, []

    def feed(self, samples: Samples) -> "Hearing | None":
        from assistant.hearing.recogniser import Listener

        if self._listener is None:
            self._listener, self._kept = Listener(self._recogniser, self._question), []
        spoke = self._listener.speaking
        self._kept.append(samples)
        found = self._listener.feed(self._hiss.over(samples) if self._hiss else samples)
        if not spoke:  # only the lead is kept while nobody speaks
            keep = round((LEAD_S if not self._listener.speaking else 2 * LEAD_S) * RATE_HZ / max(1, len(samples)))
            self._kept = self._kept[-keep:]
        return found

    def close(self) -> "Hearing | None":
        """What had begun when the microphone went away: asked back, for its end may be missing."""
        found = self._listener.close() if self._listener else None
        if found is None or found.status not in ("accepted", "confirm"):
            return found if found and found.status == "command" and found.value in ALWAYS else None
        return replace(found, status="confirm")

    def sound(self) -> Samples:
        """int16, shape (n_samples,), mono, 16 kHz: the answer with its lead."""
        sound = np.concatenate(self._kept) if self._kept else np.zeros(0, np.int16)
        return sound[-round(LONGEST_KEPT_S * RATE_HZ) :]
