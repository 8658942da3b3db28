"""A technician on the virtual card: starts a call as a program of its own, speaks into its microphone, hears its speaker."""

import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np

from assistant.paths import data_folder
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio
from assistant.sound.pace import at_pace
from assistant.sound.pack import Pack
from assistant.sound.voice import Voice
from tests.live.virtual_card import SPEAKER, Tap, VirtualCard, wait_for

ROOT = Path(__file__).parent.parent.parent
RECORDED = data_folder("demo_audio") / "coil_failed"
QUIET_S = 0.6
"""More than the tail in which a microphone beside an open loudspeaker does not count yet."""
LOOK_FRAMES = 50
"""A sentence is looked for each time so much more was heard: half a second."""
_lock = threading.Lock()
_voices: dict[str, Voice] = {}


def as_said(text: str, words_per_minute: int = 160) -> Samples:
    """A sentence as the program says it in a quiet room: by the pack where it has it, else by the engine."""
    packed = Pack().render(text)
    return rendered(text, "gmw/en", words_per_minute) if packed is None else at_pace(packed, words_per_minute / 160)


def rendered(text: str, voice: str, words_per_minute: int) -> Samples:
    """A sentence as the engine says it."""
    with _lock:  # one engine, one user at a time
        if voice not in _voices:
            _voices[voice] = Voice(words_per_minute, voice)
        own = _voices[voice]
        own.words_per_minute = words_per_minute
        own._use(voice)
        return own.render(text)


def phrase(words: str) -> Samples:
    """A recorded answer, or one rendered in another voice than the program's; with no silence around it."""
    known = RECORDED / (words.replace(" ", "_") + ".flac")
    sound = read_audio(known) if known.is_file() else rendered(words, "gmw/en-us", 150)
    loud = np.flatnonzero(np.abs(sound.astype(np.int32)) > 250)
    return sound[max(0, loud[0] - 160) : loud[-1] + 160]


class Caller:
    """One run of the program on a card. Use as a context."""

    def __init__(self, card: VirtualCard, calls: Path, *words: str, env: dict[str, str] | None = None) -> None:
        self.card, self.calls = card, calls
        calls.mkdir(exist_ok=True)
        self.lines: list[tuple[float, str]] = []
        self.tap = Tap(card.env(), SPEAKER)  # first: nothing that it says is missed
        self.began_s = time.monotonic()
        self.program = subprocess.Popen(
            [sys.executable, "-u", "-m", "assistant.cli", *words, "--calls", str(calls)], cwd=ROOT,
            env={**card.env(), **(env or {})}, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self._turn = 0
        """Frames heard before it was answered last."""

    def _read(self) -> None:
        assert self.program.stdout
        for line in self.program.stdout:
            self.lines.append((time.monotonic(), line.rstrip()))

    def wait(self, true: Callable[[], bool], otherwise: str) -> None:
        """Wait until it is so: as long as the program prints or sounds, and not after its end."""
        wait_for(
            true, lambda: f"{otherwise}:\n{self.shown}\n", self._over, lambda: (len(self.lines), self.tap.loud)
        )  # fmt: skip

    def _over(self) -> bool:
        """Whether it has ended and all that it showed has been read."""
        return self.program.poll() is not None and not self._reader.is_alive()

    # ---- what is shown

    @property
    def shown(self) -> str:
        return "\n".join(line for _, line in self.lines)

    def wait_line(self, words: str, since: int = 0) -> float:
        """When a line with these words was shown [s, monotonic]."""
        self.wait(lambda: any(words in line for _, line in self.lines[since:]), f"'{words}' not in")
        return next(at for at, line in self.lines[since:] if words in line)

    def line(self, words: str, since: int = 0) -> str:
        """The line with these words, once it was shown."""
        self.wait_line(words, since)
        return next(line for _, line in self.lines[since:] if words in line)

    # ---- what is said

    def speaking(self, since_s: float = 0.0) -> None:
        """Wait until it sounds, after this time."""
        mark = self.tap.frame(since_s)
        self.wait(lambda: self.tap.sounded(mark), "it does not sound")

    def quiet(self, seconds: float = 0.6) -> None:
        """Wait until the program has spoken and fallen silent."""
        self.wait(lambda: self.tap.sounded(0) and self.tap.quiet_for(seconds, 0), "it does not fall silent")

    def asked(self, since: int | None = None) -> None:
        """Wait until the tone has said that it is the technician's turn, and has died away."""
        mark, looked = self._turn if since is None else since, -1

        def turn() -> bool:
            nonlocal looked
            if not self.tap.quiet_for(QUIET_S, mark) or self.tap.loud == looked:
                return False
            looked = self.tap.loud
            ended = self.tap.your_turn(mark)
            return ended is not None and self.tap.quiet_for(QUIET_S, ended)

        self.wait(turn, "it gives no tone to answer after")

    def say(self, words: str) -> int:
        """Say this into the microphone. Returns a mark: how many lines were shown before."""
        before = len(self.lines)
        self._turn = self.tap.now()
        self.card.say(phrase(words))
        return before

    def answer(self, *answers: str) -> None:
        """Answer, each time after its tone; wait for what it makes of the answer."""
        for words in answers:
            self.asked()
            mark = self.say(words)
            self.wait_line("  > ", mark)

    def early(self, asked: str, words: str, taken: str = "  > ") -> None:
        """Answer a question as soon as it was shown, as who knows it does, into its prompt; wait for what is made of it."""
        self.wait_line(asked)
        mark = self.say(words)
        self._turn = self.tap.frame(self.wait_line(taken, mark))

    def hear_again(self) -> None:
        """The speaker was away: listen to it anew."""
        self.tap.close()
        self.tap = Tap(self.card.env(), SPEAKER)
        self._turn = 0

    def heard_saying(self, text: str, since_s: float = 0.0, words_per_minute: int = 160) -> float | None:
        """When this sentence began to sound [s, monotonic] in the speaker's track; None where it is not in it."""
        track = self.tap.samples()
        skip = self.tap.frame(since_s) * RATE_HZ // 100
        at = found_at(track[skip:], as_said(text, words_per_minute))
        return None if at is None else self.tap.began_s + (skip + at) / RATE_HZ

    def wait_said(self, text: str, since_s: float = 0.0) -> float:
        """The same, waited for."""
        looked, found = 0, [0.0]

        def said() -> bool:
            nonlocal looked
            if self.tap.now() < looked + LOOK_FRAMES:
                return False
            looked = self.tap.now()
            heard = self.heard_saying(text, since_s)
            found[0] = heard or 0.0
            return heard is not None

        self.wait(said, f"it does not say '{text}'")
        return found[0]

    # ---- life

    def ended(self) -> int:
        """Wait for its end. Returns the exit code."""
        self.wait(self._over, "it does not end")
        return self.program.wait()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if self.program.poll() is None:
            self.program.kill()
            self.program.wait()
        self.tap.close()


SAME = 0.8
"""Likeness of two spectrograms from which they are the same sentence; two different ones come to 0.5 and less."""


def spectrogram(samples: Samples) -> np.ndarray:
    """Loudness of 40 bands every 10 ms, logarithmic."""
    if len(samples) < 512:
        return np.zeros((0, 40))
    rows = np.lib.stride_tricks.sliding_window_view(samples.astype(np.float64), 512)[::160] * np.hanning(512)
    power = np.abs(np.fft.rfft(rows, axis=1))[:, 1:241] ** 2
    return np.log(power.reshape(len(rows), 40, 6).mean(axis=2) + 1e7)


def found_at(track: Samples, wanted: Samples) -> int | None:
    """The sample where a sound begins in a track, by the likeness of their spectrograms; None where it is not in it.

    Samples themselves are no measure: the server's clocks slip by a few of them.
    """
    x, y = spectrogram(track), spectrogram(wanted)
    if len(x) < len(y) or not len(y):
        return None
    x, y = x - x.mean(), y - y.mean()
    size = len(x) + len(y)
    both = np.fft.irfft(np.fft.rfft(x, size, axis=0) * np.fft.rfft(y, size, axis=0).conj(), size, axis=0).sum(axis=1)
    # Each stretch of the track is measured from its own mean; what was wanted has a mean of zero already.
    sums, squares = (np.concatenate([[0.0], part.sum(axis=1).cumsum()]) for part in (x, x**2))
    here = (squares[len(y) :] - squares[: -len(y)]) - (sums[len(y) :] - sums[: -len(y)]) ** 2 / y.size
    likeness = both[: len(here)] / (np.sqrt(np.maximum(here, 0.0) * (y**2).sum()) + 1e-9)
    best = int(np.argmax(likeness))
    return best * 160 if likeness[best] > SAME else None
