"""What is said, in order: rendered by one thread, ahead where it can be foreseen, played without a gap."""

import queue
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np

from assistant.sound.audio_file import Samples
from assistant.sound.devices import Mouth
from assistant.sound.narrator import Narrator
from assistant.sound.shaping import shaped, strength
from assistant.sound.voice import FASTEST, LOUDEST, SLOWEST, SOFTEST, VoiceMissing, as_loud

KEPT_BYTES = 24_000_000
"""Sound kept of prompts that come again: 750 s."""


@dataclass
class Utterance:
    """One thing that is said, or a tone."""

    text: str
    samples: Samples | None = None
    protected: bool = False
    """Only "stop" and "emergency" may cut it off."""
    least_gain: float = 0.0
    """It is at least so loud, however soft the voice was made."""
    number: int = 0
    """Of the mouth; 0 until it was rendered."""
    sounded_s: float = 0.0
    """When its first sample left the speaker, on the monotonic clock; 0 until then."""
    dropped: bool = False
    begun: threading.Event = field(default_factory=threading.Event)
    """It was handed to the speaker, or dropped."""


class Speech:
    """The voice in front of the mouth. Rendered sound is kept by its text and its manner."""

    def __init__(self, mouth: Mouth) -> None:
        """Start the thread that owns the voice."""
        self.mouth = mouth
        self.words_per_minute, self.gain = 0, 1.0
        self.room_dbfs = -120.0
        """Noise at the microphone: the louder it is, the more a prompt is shaped for it."""
        self.failed: VoiceMissing | None = None
        """Why there is no voice."""
        self.hold = False
        """Render nothing ahead now: somebody is speaking."""
        self.rendered_late = 0
        """Prompts that were not there when they were wanted."""
        self.rendered = 0
        self._kept: OrderedDict[tuple[str, int], Samples] = OrderedDict()
        self._size = 0
        self._jobs: queue.SimpleQueue[Utterance | None] = queue.SimpleQueue()
        self._ahead: list[str] = []
        self._outstanding: list[Utterance] = []
        self._lock = threading.Lock()
        self._started = threading.Event()
        self._thread = threading.Thread(target=self._work, daemon=True)
        self._thread.start()

    # ---- for the call

    def say(self, text: str, protected: bool = False, alarm: bool = False) -> Utterance:
        """Say this after all that is to be said already; in an alarm as loud as the device can. Returns at once."""
        return self._add(Utterance(text, None, protected, LOUDEST if alarm else 0.0))

    def sound(self, samples: Samples, protected: bool = False) -> Utterance:
        """Play this after all that is to be said already."""
        return self._add(Utterance("", samples, protected))

    def at_once(self, samples: Samples) -> None:
        """Play this now, where nothing is being said."""
        self.mouth.play(as_loud(samples, self.gain))

    def foresee(self, texts: Iterable[str]) -> None:
        """Render these ahead while there is nothing better to do; what was foreseen before is forgotten."""
        self._ahead = list(dict.fromkeys(texts))
        self._jobs.put(Utterance("", np.zeros(0, np.int16), dropped=True))  # wakes the thread

    def stop(self) -> None:
        """Be silent at once; nothing that was to be said is said."""
        with self._lock:
            for utterance in self._outstanding:
                utterance.dropped = True
                utterance.begun.set()
            self._outstanding.clear()
            self.mouth.flush()

    def manner(self, word: str) -> None:
        """`slower`, `faster`, `louder`, `softer`."""
        if word in ("slower", "faster"):
            step = 20 if word == "faster" else -20
            self.words_per_minute = min(FASTEST, max(SLOWEST, self.words_per_minute + step))
        elif word in ("louder", "softer"):
            self.gain = min(LOUDEST, max(SOFTEST, self.gain * (1.41 if word == "louder" else 0.71)))

    @property
    def busy(self) -> bool:
        """Whether something is still to be said, or still sounds."""
        return bool(self._pending()) or self.mouth.busy

    @property
    def protected(self) -> bool:
        """Whether something that may not be cut off is still to be said to its end."""
        return any(utterance.protected for utterance in self._pending())

    def _pending(self) -> list[Utterance]:
        with self._lock:
            for utterance in self._outstanding:
                utterance.sounded_s = self.mouth.began.get(utterance.number, 0.0)
            self._outstanding = [u for u in self._outstanding if not u.number or self.mouth.waits(u.number)]
            return list(self._outstanding)

    def wait_started(self, seconds: float) -> None:
        """Wait for the voice.

        Raises:
            VoiceMissing: there is none.
        """
        self._started.wait(seconds)
        if self.failed:
            raise self.failed

    def close(self) -> None:
        self._jobs.put(None)

    # ---- the thread

    def _add(self, utterance: Utterance) -> Utterance:
        with self._lock:
            self._outstanding.append(utterance)
        self._jobs.put(utterance)
        return utterance

    def _work(self) -> None:
        try:
            voice = Narrator()
        except VoiceMissing as error:
            self.failed = error
            self._started.set()
            return
        self.words_per_minute = voice.words_per_minute
        self._started.set()
        while True:
            job = self._next(lambda text: self._render(voice, text))
            if job is None:
                return
            if not job.dropped:
                self._give(voice, job)

    def _next(self, render: Callable[[str], Samples]) -> Utterance | None:
        """The next thing to say; what is foreseen is rendered while there is none."""
        while True:
            try:
                return self._jobs.get(timeout=None if not self._ahead else 0.03 if self.hold else 0.002)
            except queue.Empty:
                if self._ahead and not self.hold:
                    text = self._ahead.pop(0)
                    if (text, self.words_per_minute) not in self._kept:
                        render(text)

    def _give(self, voice: Narrator, job: Utterance) -> None:
        samples = job.samples
        if samples is None:
            self.rendered += 1
            known = self._kept.get((job.text, self.words_per_minute))
            self.rendered_late += known is None
            # Tones are made for a machine room as they are.
            samples = shaped(self._render(voice, job.text) if known is None else known, strength(self.room_dbfs))
        with self._lock:
            if not job.dropped:
                job.samples = samples
                job.number = self.mouth.play(as_loud(samples, max(self.gain, job.least_gain)))
            job.begun.set()

    def _render(self, voice: Narrator, text: str) -> Samples:
        voice.words_per_minute = self.words_per_minute
        try:
            samples = voice.render(text)
        except VoiceMissing as error:
            self.failed = error
            return np.zeros(0, np.int16)
        key = (text, self.words_per_minute)
        self._size += samples.nbytes - (self._kept.pop(key).nbytes if key in self._kept else 0)
        self._kept[key] = samples
        while self._size > KEPT_BYTES:
            self._size -= self._kept.popitem(last=False)[1].nbytes
        return samples
