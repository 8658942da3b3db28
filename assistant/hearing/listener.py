"""When an answer has ended: one path for a live microphone and for files."""

import math
from collections import deque
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from assistant.hearing.cleaning import at_speed, without_steady_noise
from assistant.hearing.endings import WAIT_COMPLETE_MS, Endings
from assistant.hearing.guesses import Decoder, Decoders, Guess, SecondOpinion
from assistant.hearing.voice_activity import FRAME, FRAME_MS, VoiceDetector
from assistant.language.audible import audible
from assistant.language.meaning import Question
from assistant.language.numbers import DIGITS, TENS
from assistant.sound.audio_file import RATE_HZ, Samples

_LEAD_FRAMES = 30  # kept before the onset, one second: for the noise's spectrum and level
_PREROLL_FRAMES = 9  # heard before the onset: 290 ms; more noise in front costs readings (measured)
_ONSET_FRAMES = 3  # the beginning of the speech that the detector had to hear first
_LONGEST_FRAMES = 375
_LONGEST_NOTE_FRAMES = 3750
_SPEECH = 0.5  # the detector's probability from which an answer begins
_STILL_SPEECH = 0.4  # and from which it goes on
SLOWER = 0.94
_UNCOVERED_PER_S = 20.0
"""Log likelihood that a guess loses for each second of clear voice in which it has no word. Measured: what was said leaves
over 0.1 s in 4 % of people's digits, another number in 20 %, and never less than what was said by as much."""
_SPAN_SLACK_S = 0.03  # the decoder's own step
_TORN_S, _TORN = 0.15, 8.0
"""Pause inside "thirty five" from which it was two numbers, and what a guess loses for it: of 275 right readings none had 0.1 s,
seven mistaken ones ("six five", "seven eight") 0.24 s and more."""
AHEAD_MS = 96
"""Silence after which the further hearings begin: they are done when the answer is over, and cost no time after it."""
_hearers = ThreadPoolExecutor(2, "hearing")


class Utterance:
    """What one stretch of speech came to."""

    def __init__(
        self,
        lead: Samples,
        sound: Samples,
        hearings: list[list[Guess]],
        ended: int,
        voiced: npt.NDArray[np.bool_] | None = None,
        said: Samples | None = None,
    ) -> None:
        """What the endpointer has found.

        Args:
            lead: sound before it, int16, shape (n_samples,), mono, 16 kHz.
            sound: its sound with the pre-roll, the same form.
            hearings: guesses of each hearing.
            ended: samples consumed since the listener began.
            voiced: for each whole frame of `sound` whether the detector took it for speech, shape (n_frames,); None
                to tell by the power.
            said: the sound without the last of its silence, which the further hearings heard; None where it has none.
        """
        self.lead = lead
        self.said = sound if said is None else said
        self.sound = sound
        self.hearings = hearings
        """Guesses from the sound as it is, and from it changed in ways that leave a voice a voice."""
        self.ended = ended
        self.spoken_s = None if voiced is None else float(voiced.sum()) * FRAME / RATE_HZ
        """How long the detector heard a voice [s], pauses left out; None where it was not asked."""
        self.snr_db = _snr_db(lead, sound, voiced)
        """Loudness of the speech over the noise before it [dB]."""
        self.over_strokes_db = _over_strokes_db(lead, sound, voiced)
        """The same over all that is not the voice, with strokes and clanks as loud as they are [dB]."""
        self.late_ms = round((len(sound) - _last_speech(lead, sound)) * 1000 / RATE_HZ)
        """Sound between the last speech sample and the decision [ms]."""


def covering(guesses: list[Guess], voiced: npt.NDArray[np.bool_], speed: float) -> list[Guess]:
    """The guesses, each less likely for the clear voice that it leaves without a word: a quiet "six" of "six nine".

    Args:
        guesses: with the spans of their words.
        voiced: for each frame of the sound whether it is voice, shape (n_frames,).
        speed: of the sound that they were made of; under 1 for slower.
    """
    clear = voiced & np.r_[False, voiced[:-1]] & np.r_[voiced[1:], False]  # the edges of a voice are anybody's guess
    middle_s = (np.arange(len(voiced)) + 0.5) * FRAME / RATE_HZ
    found = []
    for guess in guesses:
        bare = clear.copy()
        for began_s, ended_s in guess.spans:
            bare &= (middle_s < began_s * speed - _SPAN_SLACK_S) | (middle_s > ended_s * speed + _SPAN_SLACK_S)
        lost = _UNCOVERED_PER_S * float(bare.sum()) * FRAME / RATE_HZ if guess.spans else 0.0
        lost += _TORN if _is_torn(guess, speed) else 0.0
        found.append(replace(guess, score=guess.score - lost))
    return sorted(found, key=lambda guess: -guess.score)


def _is_torn(guess: Guess, speed: float) -> bool:
    """Whether a ten and the unit after it lie further apart than anybody says them."""
    words, spans = guess.words.split(), guess.spans
    return len(words) == len(spans) and any(
        ten in TENS and unit in DIGITS and (after[0] - before[1]) * speed > _TORN_S
        for ten, unit, before, after in zip(words, words[1:], spans, spans[1:], strict=False)
    )


def _powers(samples: Samples, step: int) -> npt.NDArray[np.float64]:
    x = samples[: len(samples) // step * step].astype(np.float64).reshape(-1, step)
    return np.asarray(x.var(axis=1) + 1.0)


def _snr_db(lead: Samples, sound: Samples, voiced: npt.NDArray[np.bool_] | None) -> float:
    """Mean power of the voice over the noise's median.

    Measured: within 2 dB of the ratio that was mixed for half of the answers from 0 to 20 dB, within 5 for nine of
    ten.
    """
    here = _powers(sound, FRAME)
    if not len(here):
        return 0.0
    speech = here > here.max() * 10**-2.5 if voiced is None else voiced[: len(here)]
    before = _powers(lead, FRAME) if len(lead) >= FRAME else here
    # Where an answer begins at once, the lead is speech too: its pauses are the room then.
    noise = float(min(np.median(before), np.percentile(here, 20)))
    voice = float(here[speech].mean()) if speech.any() else float(here.mean())
    return float(10 * np.log10(max(voice - noise, 0.05 * noise) / noise))


def _over_strokes_db(lead: Samples, sound: Samples, voiced: npt.NDArray[np.bool_] | None) -> float:
    """Mean power of the voice over the mean of what is three frames and more away from it; infinite where that is too short to
    tell."""
    if voiced is None or not voiced.any():
        return math.inf
    here = _powers(sound, FRAME)
    heard = voiced[: len(here)]
    near = np.convolve(heard, np.ones(7), mode="same")[: len(here)] > 0
    room = np.concatenate([_powers(lead, FRAME), here[~near]])
    if len(room) < 4 or not heard.any():
        return math.inf
    noise = float(room.mean())
    return float(10 * np.log10(max(float(here[heard].mean()) - noise, 0.05 * noise) / noise))


def _last_speech(lead: Samples, sound: Samples) -> int:
    """The end of the last 10 ms that are speech by their energy."""
    step = RATE_HZ // 100
    here = _powers(sound, step)
    if not len(here):
        return 0
    before = _powers(lead, step) if len(lead) >= step else here
    noise = float(min(np.median(before), np.percentile(here, 20)))
    smooth = np.convolve(here, np.ones(3) / 3, mode="same")
    speech = np.flatnonzero(smooth > max(3.0 * noise, here.max() * 10**-3.0))
    return int((speech[-1] + 1) * step) if len(speech) else len(sound)


class Endpointer:
    """Finds the answers in a stream of sound, and where each ends."""

    def __init__(
        self, decoders: Decoders, question: Question, detector: VoiceDetector, second: SecondOpinion | None = None
    ) -> None:
        """Ready for the first block.

        Args:
            decoders: where the question's decoder comes from.
            question: what is listened for.
            detector: tells speech from the room; a fresh one.
            second: another ear. It begins when an answer may be over, and has a say in whether it is. Without it the
                first ear hears an answer three times.
        """
        self._second = second
        self._detector = detector
        self._hiss = np.random.default_rng(0)
        self._decoders = decoders
        self._question = question
        self._endings = Endings(question)
        self._free = audible(question).free
        self._noted: list[str] = []
        self._rest: Samples = np.zeros(0, np.int16)
        self._before: deque[tuple[Samples, bool]] = deque(maxlen=_LEAD_FRAMES)
        self._consumed = 0
        self._decoder: Decoder | None = None
        self._lead: Samples = self._rest
        self._frames: list[Samples] = []
        self._voiced: list[bool] = []
        self._silent_ms = 0
        self._ahead: list[Future[list[Guess]]] = []
        self._said: Samples | None = None

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
        while len(self._rest) >= FRAME and found is None:
            frame, self._rest = self._rest[:FRAME], self._rest[FRAME:]
            found = self._frame(frame)
        return found

    def close(self) -> Utterance | None:
        """No more sound: what has begun ends here."""
        return self._finish() if self._decoder else None

    def _frame(self, frame: Samples) -> Utterance | None:
        self._consumed += FRAME
        speech = self._detector.probability(frame)
        if self._decoder is None:
            self._before.append((frame, speech > _SPEECH))
            if speech > _SPEECH:
                self._begin()
            return None
        self._frames.append(frame)
        self._voiced.append(speech > _SPEECH)
        self._silent_ms = 0 if speech > _STILL_SPEECH else self._silent_ms + FRAME_MS
        if self._silent_ms == 0:
            self._ahead, self._said = [], None
        elif self._silent_ms == AHEAD_MS and not self._free:
            self._said = np.concatenate(self._frames)
            if self._second:
                self._second.ahead(self._said)
            else:
                self._ahead = self._further(self._said)
        if self._decoder.feed(self._audible(frame)):
            if not self._free:
                return self._finish(ended=True)
            self._noted.append(self._decoder.ended()[0].words)  # a sentence of a note, not its end
        if len(self._frames) >= (_LONGEST_NOTE_FRAMES if self._free else _LONGEST_FRAMES):
            return self._finish()
        return self._finish() if self._over() else None

    def _over(self) -> bool:
        """Whether the silence is long enough for what was said, and for what the other hearings take it for: the words so far
        were "pause" for the "four" of "four six three"."""
        assert self._decoder is not None
        if self._silent_ms < WAIT_COMPLETE_MS:
            return False
        partial = self._decoder.partial()
        said = {partial, *(hearing.result()[0].words for hearing in self._ahead)}
        if self._second and self._said is not None:
            likeliest = self._second.likeliest(self._said)
            if self._endings.counting:
                said |= {likeliest} if likeliest else set()  # both must have a whole number: a part is one as well
            elif self._endings.understands(likeliest):
                said = {likeliest} | ({partial} if self._endings.understands(partial) else set())
        return all(self._silent_ms >= self._endings.wait_ms(words) for words in said)

    def _begin(self) -> None:
        kept = [frame for frame, _ in self._before]
        self._lead = np.concatenate(kept[:-_ONSET_FRAMES] or kept[:1])
        self._frames = kept[-_PREROLL_FRAMES:]
        self._voiced = [voiced for _, voiced in self._before][-_PREROLL_FRAMES:]
        self._decoder = self._decoders.decoder(self._question)
        self._silent_ms = 0
        for frame in self._frames:
            self._decoder.feed(self._audible(frame))

    def _finish(self, ended: bool = False) -> Utterance | None:
        assert self._decoder is not None
        raw = self._decoder.ended() if ended else self._decoder.finish()
        sound = np.concatenate(self._frames)
        voiced = np.array(self._voiced)
        kept = list(zip(self._frames, self._voiced, strict=True))[-_PREROLL_FRAMES:]
        self._decoder, self._frames = None, []
        self._before.clear()
        self._before.extend(kept)
        if self._free:
            raw = [Guess(" ".join([*self._noted, raw[0].words]).strip(), 0.0)]
            self._noted = []
        said, self._said = self._said, None
        if not any(guess.words for guess in raw) and not self._seconded(said):
            return None
        if self._free:
            return Utterance(self._lead, sound, [raw], self._consumed, voiced)
        further, self._ahead = self._ahead or ([] if self._second else self._further(sound)), []
        heard = zip((raw, *(hearing.result() for hearing in further)), (1.0, 1.0, SLOWER), strict=False)
        hearings = [covering(guesses, voiced, speed) for guesses, speed in heard]
        return Utterance(self._lead, sound, hearings, self._consumed, voiced, said)

    def _seconded(self, said: Samples | None) -> bool:
        """Whether the second ear has heard an answer."""
        return self._second is not None and said is not None and bool(self._second.likeliest(said))

    def _further(self, sound: Samples) -> list[Future[list[Guess]]]:
        """The further hearings of an answer, begun: of what was said until the silence that may end it."""
        lead_s = len(self._lead) / RATE_HZ
        clean = without_steady_noise(np.concatenate([self._lead, sound]), lead_s)[len(self._lead) :]
        # Slowed down, the cleaned sound is heard best of all in noise; sped up it added nothing (measured).
        return [_hearers.submit(self._again, samples) for samples in (clean, at_speed(clean, SLOWER))]

    def _again(self, samples: Samples) -> list[Guess]:
        decoder = self._decoders.decoder(self._question)
        decoder.feed(_audible(samples, np.random.default_rng(1)))
        return decoder.finish()

    def _audible(self, samples: Samples) -> Samples:
        return _audible(samples, self._hiss)


def _audible(samples: Samples, random: np.random.Generator) -> Samples:
    """With a hiss of one step, the same for the same sound: a decoder cannot take perfect silence."""
    hiss = np.rint(random.standard_normal(len(samples)))
    return np.clip(samples + hiss, -32768, 32767).astype(np.int16)
