"""A technician on the virtual card: starts a call as a program of its own, speaks into its microphone, hears its speaker."""

import subprocess
import sys
import threading
import time
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np

from assistant.paths import data_folder
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio
from assistant.sound.voice import Voice
from tests.live.virtual_card import SPEAKER, Tap, VirtualCard, wait_for

ROOT = Path(__file__).parent.parent.parent
RECORDED = data_folder("demo_audio") / "coil_failed"
_lock = threading.Lock()
_voices: dict[str, Voice] = {}


def rendered(text: str, voice: str = "gmw/en", words_per_minute: int = 160) -> Samples:
    """A sentence as the program's own voice says it."""
    with _lock:  # one engine, one user at a time
        own = _voices.setdefault(voice, Voice(words_per_minute, voice))
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
        self.began_s = time.monotonic()
        self.program = subprocess.Popen(
            [sys.executable, "-u", "-m", "assistant.cli", *words, "--calls", str(calls)], cwd=ROOT,
            env={**card.env(), **(env or {})}, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self.tap = Tap(card, SPEAKER)

    def _read(self) -> None:
        assert self.program.stdout
        for line in self.program.stdout:
            self.lines.append((time.monotonic(), line.rstrip()))

    # ---- what is shown

    @property
    def shown(self) -> str:
        return "\n".join(line for _, line in self.lines)

    def wait_line(self, words: str, since: int = 0, seconds: float = 60) -> float:
        """When a line with these words was shown [s, monotonic]."""
        wait_for(lambda: any(words in line for _, line in self.lines[since:]), seconds, f"'{words}' not in:\n{self.shown}\n")
        return next(at for at, line in self.lines[since:] if words in line)

    # ---- what is said

    def quiet(self, seconds: float = 0.6, since: int | None = None, at_most: float = 80) -> None:
        """Wait until the program has spoken and fallen silent."""
        mark = self.tap.now() if since is None else since
        silent = lambda: self.tap.sounded(mark) and self.tap.quiet_for(seconds, mark)  # noqa: E731
        wait_for(silent, at_most, f"it does not fall silent:\n{self.shown}\n")

    def say(self, words: str) -> int:
        """Say this into the microphone. Returns a mark: how many lines were shown before."""
        before = len(self.lines)
        self.card.say(phrase(words))
        return before

    def answer(self, *answers: str) -> None:
        """Answer, each time it has asked and fallen silent; wait for what it makes of the answer."""
        for words in answers:
            self.quiet(since=self._mark_of_turn())
            mark = self.say(words)
            self.wait_line("  > ", mark)

    def early(self, asked: str, words: str, must: bool = True) -> None:
        """Answer a question soon after it was shown, as who knows it does; without `must` it may not be heard any more."""
        self.wait_line(asked)
        time.sleep(0.5)
        mark = self.say(words)
        if must:
            self.wait_line("  > ", mark)

    def hear_again(self) -> None:
        """The speaker was away: listen to it anew."""
        self.tap.close()
        self.tap = Tap(self.card, SPEAKER)

    def _mark_of_turn(self) -> int:
        """Frames heard when the last answer was taken: what sounds after them belongs to this turn."""
        at = next((at for at, line in reversed(self.lines) if line.startswith("  > ")), self.began_s)
        return max(0, round((at - self.tap.began_s) * 100))

    def heard_saying(self, text: str, since_s: float = 0.0, words_per_minute: int = 160) -> float | None:
        """When this sentence began to sound [s, monotonic] in the speaker's track; None where it is not in it."""
        track = self.tap.samples()
        skip = max(0, round((since_s - self.tap.began_s) * RATE_HZ))
        at = found_at(track[skip:], rendered(text, words_per_minute=words_per_minute))
        return None if at is None else self.tap.began_s + (skip + at) / RATE_HZ

    def wait_said(self, text: str, since_s: float, seconds: float = 40) -> float | None:
        """The same, waited for. Returns seconds since then; None where it was not said in time."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            heard = self.heard_saying(text, since_s)
            if heard is not None:
                return heard - since_s
            time.sleep(0.5)
        return None

    # ---- life

    def ended(self, seconds: float = 60) -> int:
        """Wait for its end. Returns the exit code."""
        wait_for(lambda: self.program.poll() is not None, seconds, f"it does not end:\n{self.shown}\n")
        code = self.program.wait()
        self._reader.join(5)
        return code

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
    y = y - y.mean()
    likeness = np.zeros(len(x) - len(y) + 1)
    for at in range(len(likeness)):
        here = x[at : at + len(y)]
        here = here - here.mean()
        likeness[at] = (here * y).sum() / (np.sqrt((here**2).sum() * (y**2).sum()) + 1e-9)
    best = int(np.argmax(likeness))
    return best * 160 if likeness[best] > SAME else None
