"""When an answer has ended: one path for a live microphone and for files."""

from collections import deque

import numpy as np
import numpy.typing as npt

from assistant.devices.audio_file import RATE_HZ, Samples
from assistant.devices.cleaning import at_speed, without_steady_noise
from assistant.devices.guesses import Decoder, Decoders, Guess
from assistant.language.audible import audible
from assistant.language.grammar import understand
from assistant.language.meaning import NotUnderstood, Question
from assistant.language.numbers import DIGITS
from assistant.language.phrasebook import Automaton

FRAME_MS = 30
_FRAME = RATE_HZ * FRAME_MS // 1000
_LEAD_FRAMES = 16  # kept before the onset: for the noise's spectrum
_PREROLL_FRAMES = 10  # heard before the onset: 300 ms; more noise in front costs readings (measured)
_ONSET_FRAMES = 3
_LONGEST_FRAMES = 400
_LONGEST_NOTE_FRAMES = 4000
_FLOOR_FRAMES = 33  # one second: longer than any word, short enough to follow a fan that starts
_STANDS_OUT = 2.5  # 4 dB over the floor; steady noise varies by 1 to 2 dB from frame to frame (measured)
_FALLEN = 10**-3.5  # 35 dB under the loudest: breath and room

# Silence that ends an answer, by what the words so far are worth [ms].
WAIT_COMPLETE_MS = 210
WAIT_COULD_GO_ON_MS = 390
WAIT_SHORT_COULD_GO_ON_MS = 480
WAIT_DIGITS_MS = 720  # who says digits one by one pauses: in 2 of 100 strings 570 ms and more (measured)
WAIT_NOTHING_YET_MS = 810
WAIT_NOTE_MS = 3000


_SINGLE_DIGITS = frozenset((*DIGITS, "oh", "zero"))


class Utterance:
    """What one stretch of speech came to."""

    def __init__(self, lead: Samples, sound: Samples, hearings: list[list[Guess]], ended: int) -> None:
        self.lead = lead
        """Sound before it: int16, shape (n_samples,), mono, 16 kHz."""
        self.sound = sound
        """Its sound with the pre-roll: the same form."""
        self.hearings = hearings
        """Guesses from the sound as it is, and from it changed in ways that leave a voice a voice."""
        self.snr_db, last = _levels(lead, sound)
        """Loudness of the speech over the noise before it [dB]."""
        self.late_ms = round((len(sound) - last) * 1000 / RATE_HZ)
        """Sound between the last speech sample and the decision [ms]."""
        self.ended = ended
        """Samples consumed since the listener began."""


SLOWER = 0.94


class Level:
    """Tells frames of speech from a steady room by their power, in all and above the hum.

    A trained voice detector was tried: in a machine room's noise it takes every frame for speech.
    """

    def __init__(self) -> None:
        self._past: deque[npt.NDArray[np.float64]] = deque(maxlen=_FLOOR_FRAMES)
        self._peak = np.zeros(2)

    def speech(self, frame: Samples) -> bool:
        """Whether the next frame stands out of the quietest of the last second and is no mere echo."""
        x = frame.astype(np.float64)
        power = np.array([np.mean((x - x.mean()) ** 2), np.mean(np.diff(x) ** 2)]) + 1.0
        self._past.append(power)
        past = np.array(self._past)
        smooth = np.array([past[i : i + 3].mean(axis=0) for i in range(max(len(past) - 2, 1))])
        floor = smooth.min(axis=0)
        self._peak = np.maximum(self._peak, power)
        return bool(np.any((power > _STANDS_OUT * floor) & (power > self._peak * _FALLEN)))

    def speech_over(self) -> None:
        """The next speaker may be quieter."""
        self._peak = np.zeros(2)


def _levels(lead: Samples, sound: Samples) -> tuple[float, int]:
    """SNR in dB, and the end of the last 10 ms that are speech by their energy."""
    step = RATE_HZ // 100

    def powers(samples: Samples) -> npt.NDArray[np.float64]:
        x = samples[: len(samples) // step * step].astype(np.float64).reshape(-1, step)
        return np.asarray(x.var(axis=1) + 1.0)

    here = powers(sound)
    if not len(here):
        return 0.0, 0
    before = powers(lead) if len(lead) >= step else here
    noise = float(min(np.median(before), np.percentile(here, 20)))
    loud = here[here > max(here.max() * 10**-2.5, min(3.0 * noise, here.max() / 2))]
    snr = 10 * np.log10(max(float(loud.mean()) - noise, 1.0) / noise)
    smooth = np.convolve(here, np.ones(3) / 3, mode="same")
    speech = np.flatnonzero(smooth > max(3.0 * noise, here.max() * 10**-3.0))
    return float(snr), int((speech[-1] + 1) * step) if len(speech) else len(sound)


class Endpointer:
    """Finds the answers in a stream of sound, and where each ends."""

    def __init__(self, decoders: Decoders, question: Question) -> None:
        """Ready for the first block.

        Args:
            decoders: where the question's decoder comes from.
            question: what is listened for.
        """
        self._level = Level()
        self._hiss = np.random.default_rng(0)
        self._decoders = decoders
        self._question = question
        wanted = audible(question)
        self._strict: Automaton | None = wanted.strict
        self._free = wanted.free
        self._noted: list[str] = []
        self._rest: Samples = np.zeros(0, np.int16)
        self._before: deque[Samples] = deque(maxlen=_LEAD_FRAMES)
        self._flags: deque[bool] = deque(maxlen=_ONSET_FRAMES + 2)
        self._consumed = 0
        self._decoder: Decoder | None = None
        self._lead: Samples = self._rest
        self._frames: list[Samples] = []
        self._silent = 0

    @property
    def speaking(self) -> bool:
        """Whether an answer has begun."""
        return self._decoder is not None

    def feed(self, block: Samples) -> Utterance | None:
        """More sound.

        Args:
            block: int16, shape (n_samples,), mono, 16 kHz, of any length up to a few frames.

        Returns:
            The utterance, when one has ended with this block; the listener is ready for the next then.
        """
        self._rest = np.concatenate([self._rest, block])
        found: Utterance | None = None
        while len(self._rest) >= _FRAME and found is None:
            frame, self._rest = self._rest[:_FRAME], self._rest[_FRAME:]
            found = self._frame(frame)
        return found

    def close(self) -> Utterance | None:
        """No more sound: what has begun ends here."""
        return self._finish() if self._decoder else None

    def _frame(self, frame: Samples) -> Utterance | None:
        self._consumed += _FRAME
        if self._decoder is None:
            self._before.append(frame)
            self._flags.append(self._level.speech(frame))
            if sum(self._flags) >= _ONSET_FRAMES:
                self._begin()
            return None
        self._frames.append(frame)
        speech = self._level.speech(frame)
        self._silent = 0 if speech else self._silent + FRAME_MS
        if self._decoder.feed(self._audible(frame)):
            if not self._free:
                return self._finish(ended=True)
            self._noted.append(self._decoder.ended()[0].words)  # a sentence of a note, not its end
        if len(self._frames) >= (_LONGEST_NOTE_FRAMES if self._free else _LONGEST_FRAMES):
            return self._finish()
        enough = self._silent >= WAIT_COMPLETE_MS and self._silent >= self._wait_ms(self._decoder.partial())
        return self._finish() if enough else None

    def _begin(self) -> None:
        kept = list(self._before)
        self._lead = np.concatenate(kept[:-_ONSET_FRAMES] or kept[:1])
        self._frames = kept[-_PREROLL_FRAMES:]
        self._decoder = self._decoders.decoder(self._question)
        self._silent = 0
        for frame in self._frames:
            self._decoder.feed(self._audible(frame))

    def _finish(self, ended: bool = False) -> Utterance | None:
        assert self._decoder is not None
        raw = self._decoder.ended() if ended else self._decoder.finish()
        sound = np.concatenate(self._frames)
        kept = self._frames[-_PREROLL_FRAMES:]
        self._decoder, self._frames = None, []
        self._before.clear()
        self._before.extend(kept)
        self._flags.clear()
        self._level.speech_over()
        if self._free:
            raw = [Guess(" ".join([*self._noted, raw[0].words]).strip(), 0.0)]
            self._noted = []
        if not any(guess.words for guess in raw):
            return None
        if self._free:
            return Utterance(self._lead, sound, [raw], self._consumed)
        lead_s = len(self._lead) / RATE_HZ
        clean = without_steady_noise(np.concatenate([self._lead, sound]), lead_s)[len(self._lead) :]
        # Slowed down, the cleaned sound is heard best of all in noise; sped up it added nothing (measured).
        hearings = [raw, self._again(clean), self._again(at_speed(clean, SLOWER))]
        return Utterance(self._lead, sound, hearings, self._consumed)

    def _again(self, samples: Samples) -> list[Guess]:
        decoder = self._decoders.decoder(self._question)
        decoder.feed(self._audible(samples))
        return decoder.finish()

    def _audible(self, samples: Samples) -> Samples:
        """With a hiss of one step, the same for the same sound: a decoder cannot take perfect silence."""
        hiss = np.rint(self._hiss.standard_normal(len(samples)))
        return np.clip(samples + hiss, -32768, 32767).astype(np.int16)

    def _wait_ms(self, words: str) -> int:
        """Silence that ends the answer after these words."""
        if self._free:
            return WAIT_COMPLETE_MS if words.endswith("end note") else WAIT_NOTE_MS
        if not words or isinstance(understand(self._question, words), NotUnderstood):
            return WAIT_NOTHING_YET_MS
        if self._strict is None:
            return WAIT_COMPLETE_MS
        state = 0
        for word in words.split():
            if word not in self._strict[state]:
                return WAIT_NOTHING_YET_MS
            state = self._strict[state][word]
        further = [word for word in self._strict[state] if word]
        if not further:
            return WAIT_COMPLETE_MS
        said = words.split()
        if len(said) < 3 and all(word in _SINGLE_DIGITS for word in said):
            return WAIT_DIGITS_MS
        return WAIT_COULD_GO_ON_MS if len(said) > 2 else WAIT_SHORT_COULD_GO_ON_MS
