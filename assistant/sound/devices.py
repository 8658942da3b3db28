"""Microphone and speaker as the call sees them: always there, or known to be gone within 2 s and opened again."""

import json
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from assistant.sound.audio import EVENT, FLUSH, RATE_HZ, SOUND, read_frame, write_frame
from assistant.sound.audio_file import Samples

OLDEST_S = 1.0
"""A stream whose last block is older than this is gone: measured."""
ZEROS_S = 1.5
"""So long a run of exact zeros is no room: the microphone is muted, or its stream hears nothing any more: measured."""
GATED_ZEROS_S = 30.0
"""The same where the microphone was seen to give zeros between words: it gates its noise by itself."""
AGAIN_S = 1.0
AWAKE_S, OPENS_S = 15.0, 5.0
"""A process that does not run after the first is lost; one that has not opened its stream after the second hangs in the library.
Until then it is only slow, and to start it again would make it slower."""
FIRST_S = AWAKE_S + OPENS_S
"""So long the call waits for a device at its start. One that is missing says so itself, at once."""
WATCH_S = 0.1
KEPT_BLOCKS = 3000
"""30 s of sound wait for the call at most; then the oldest go."""
INSTALL = "sudo apt-get install libportaudio2"

GONE, SILENT = "gone", "silent"


class SoundMissing(OSError):
    """Live sound cannot be had; the message says what to do."""


@dataclass(frozen=True)
class Block:
    at_s: float
    """When its first sample was heard, on the monotonic clock."""
    samples: Samples
    """int16, shape (n_samples,), mono, 16 kHz."""


class _Process:
    """One `audio.py` process. Frames go to `hear`; `ended` once it is over."""

    def __init__(self, kind: str, hear: Callable[[bytes, float, int, bytes], None]) -> None:
        self._child = subprocess.Popen(
            [sys.executable, "-m", "assistant.sound.audio", kind], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL, start_new_session=True,
        )  # fmt: skip
        self._hear = hear
        self._letters: queue.SimpleQueue[tuple[bytes, int, bytes] | None] = queue.SimpleQueue()
        self.ended = False
        self._threads = [threading.Thread(target=work, daemon=True) for work in (self._read, self._write)]
        for thread in self._threads:
            thread.start()

    def send(self, letter: bytes, number: int, payload: bytes = b"") -> None:
        self._letters.put((letter, number, payload))

    def _read(self) -> None:
        assert self._child.stdout
        try:
            while (frame := read_frame(self._child.stdout)) is not None:
                self._hear(*frame)
        except (OSError, ValueError):
            pass  # the pipe went with its process: `ended` says so
        self.ended = True

    def _write(self) -> None:
        # A process that hangs fills its pipe: only this thread waits for it.
        assert self._child.stdin
        try:
            while (letter := self._letters.get()) is not None:
                write_frame(self._child.stdin, letter[0], time.monotonic(), letter[1], letter[2])
            self._child.stdin.close()
        except (OSError, ValueError):
            pass

    def kill(self) -> None:
        self._letters.put(None)
        self._child.kill()
        self._child.wait()
        for thread in self._threads:
            if thread is not threading.current_thread():
                thread.join(1.0)


class Part:
    """A device held by a process that is started again every second until it is well."""

    kind = ""

    def __init__(self) -> None:
        self.trouble = ""
        """`gone` or `silent`; empty while it is well or was never opened yet."""
        self.fault: tuple[str, str] | None = None
        """Why it could not be opened last, as `audio.Portless` has it: why, words."""
        self.device = ""
        self.ready = threading.Event()
        """It was well at least once."""
        self.changed: Callable[[Part], None] = lambda part: None
        self._closing = threading.Event()
        self._opened = threading.Event()
        self._awake = False
        self._last_s = self._started_s = time.monotonic()
        self._process = _Process(self.kind, self._frame)
        self._watcher = threading.Thread(target=self._watch, daemon=True)
        self._watcher.start()

    def wait(self, seconds: float = FIRST_S) -> bool:
        """Wait until it was well once. False when it cannot be opened."""
        until = time.monotonic() + seconds
        while time.monotonic() < until and not self.ready.is_set() and not self.fault and not self._process.ended:
            self.ready.wait(0.01)
        return self.ready.is_set()

    def close(self) -> None:
        self._closing.set()
        self._watcher.join(2.0)
        self._process.kill()

    # ---- frames

    def _frame(self, letter: bytes, at_s: float, number: int, payload: bytes) -> None:
        if letter == SOUND:
            self._last_s = time.monotonic()
            self._sound(at_s, payload)
            return
        event: dict[str, Any] = json.loads(payload)
        if "fault" in event:
            self.fault = (str(event["fault"]), str(event["words"]))
        elif event.get("awake"):
            self._awake, self._started_s = True, time.monotonic()
        elif event.get("ready"):
            self.device, self.fault = str(event["device"]), None
            self._last_s = self._started_s = time.monotonic()
            self._opened.set()
            self._open()
        else:
            self._event(event)

    def _sound(self, at_s: float, payload: bytes) -> None: ...
    def _open(self) -> None: ...
    def _event(self, event: dict[str, Any]) -> None: ...
    def _bad(self, now_s: float) -> str:
        """What is wrong with an open stream; empty when nothing is."""
        return GONE if now_s - self._last_s > OLDEST_S else ""

    # ---- the watch

    def _watch(self) -> None:
        looked_s = time.monotonic()
        while not self._closing.wait(WATCH_S):
            now_s = time.monotonic()
            if now_s - looked_s > 4 * WATCH_S:
                # Not the device but this process stood still: what waits in the pipe is read first.
                self._last_s = max(self._last_s, now_s - OLDEST_S / 2)
            looked_s = now_s
            self._look(now_s)

    def _look(self, now_s: float) -> None:
        opening = not self._opened.is_set()
        lost = self._process.ended or (opening and now_s - self._started_s > (OPENS_S if self._awake else AWAKE_S))
        if opening and not lost:
            return
        self._set(GONE if lost else self._bad(now_s))
        if self.trouble and now_s - self._started_s > self._patience_s():
            self._process.kill()
            self._begin_again()

    def _patience_s(self) -> float:
        return AGAIN_S

    def _begin_again(self) -> None:
        self._opened.clear()
        self._awake = False
        self._started_s = self._last_s = time.monotonic()
        self._process = _Process(self.kind, self._frame)

    def _set(self, trouble: str) -> None:
        if not trouble and not self._opened.is_set():
            return
        if trouble != self.trouble:
            self.trouble = trouble
            self.changed(self)


class Ear(Part):
    """The microphone."""

    kind = "ear"

    def __init__(self) -> None:
        self.blocks: queue.Queue[Block] = queue.Queue(maxsize=KEPT_BLOCKS)
        self.alone: Callable[[float], bool] = lambda at_s: True
        """Whether the speaker was silent at a time. An unplugged microphone may leave its stream to the speaker's own
        sound (measured): only what is heard in its silence is the microphone."""
        self.lost = 0
        """Blocks dropped because nobody took them for 30 s."""
        self._zeros_s = 0.0
        """Length of the run of exact zeros that was heard last: counted in sound, for the clock runs on while the
        call's process stands still."""
        self._short_runs = 0
        self._heard_once = self._sounds = False
        super().__init__()

    def clear(self) -> None:
        """What was heard so far is not wanted."""
        while True:
            try:
                self.blocks.get_nowait()
            except queue.Empty:
                return

    def _sound(self, at_s: float, payload: bytes) -> None:
        samples = np.frombuffer(payload, np.int16)
        if samples.any() and not self.alone(at_s):
            pass  # it may be the speaker's own sound that comes back: it tells nothing about the microphone
        elif samples.any():
            if 0.3 < self._zeros_s < ZEROS_S and self._heard_once:
                self._short_runs += 1
            self._zeros_s, self._heard_once, self._sounds = 0.0, True, True
        else:
            self._zeros_s += seconds(samples)
        if self.blocks.full():
            self.lost += 1
            self.blocks.get_nowait()
        self.blocks.put_nowait(Block(at_s, samples))

    def _open(self) -> None:
        self._zeros_s = 0.0
        self.ready.set()

    def _bad(self, now_s: float) -> str:
        gone = super()._bad(now_s)
        limit_s = GATED_ZEROS_S if self._short_runs >= 3 else ZEROS_S
        if not gone and self._zeros_s > limit_s:
            return SILENT
        # A stream that was opened again is well once something is heard on it.
        return self.trouble if not gone and not self._sounds else gone

    def _begin_again(self) -> None:
        self._sounds = False
        super()._begin_again()

    def _patience_s(self) -> float:
        # A stream just opened is given time to sound before it is called mute again.
        return 2 * AGAIN_S if self.trouble == SILENT else AGAIN_S


class Mouth(Part):
    """The speaker. What was not played to its end when it went away is played when it is back."""

    kind = "mouth"

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._waiting: dict[int, bytes] = {}
        self._count = 0
        self._blocks = 0
        self.dry = 0
        """Blocks that came too late: drop-outs."""
        self.longest_s = 0.0
        """Longest time between two blocks that the device asked for."""
        self.quiet_since_s = 0.0
        """When the last sound left the speaker, on the monotonic clock."""
        self.began: dict[int, float] = {}
        """When the latest items began to sound."""
        super().__init__()

    def play(self, samples: Samples) -> int:
        """Play this after all that is to be played already. Returns its number."""
        with self._lock:
            self._count += 1
            self._waiting[self._count] = samples.astype("<i2").tobytes()
            if self._opened.is_set():
                self._process.send(SOUND, self._count, self._waiting[self._count])
            return self._count

    def flush(self) -> None:
        """Be silent at once."""
        with self._lock:
            self._waiting.clear()
            self._process.send(FLUSH, 0)
            # 10 ms of fading, and what is in the device's buffer.
            self.quiet_since_s = time.monotonic() + 0.08

    @property
    def busy(self) -> bool:
        """Whether something is still to be played, or still sounds."""
        return bool(self._waiting) or time.monotonic() < self.quiet_since_s

    def waits(self, number: int) -> bool:
        """Whether this item was not played to its end yet."""
        return number in self._waiting

    def _open(self) -> None:
        with self._lock:
            self._blocks = 0
            for number, sound in self._waiting.items():
                self._process.send(SOUND, number, sound)
        self.ready.set()

    def _event(self, event: dict[str, Any]) -> None:
        if "blocks" in event:
            if event["blocks"] > self._blocks:
                self._blocks, self._last_s = int(event["blocks"]), time.monotonic()
            self.dry += int(event["dry"]) - getattr(self, "_dry_seen", 0)
            self._dry_seen = int(event["dry"])
            self.longest_s = float(event["longest_s"])
            return
        number, at_s = int(event["number"]), float(event["at_s"])
        if event["what"] == "began":
            self.began[number] = at_s
            self.began.pop(number - 50, None)
            return
        with self._lock:
            self._waiting.pop(number, None)
            if event["what"] == "ended":
                self.quiet_since_s = max(self.quiet_since_s, at_s)

    def _begin_again(self) -> None:
        self._dry_seen = 0
        super()._begin_again()


def missing(part: Part) -> SoundMissing:
    """Why a part could not be opened, as a sentence with what to do."""
    why, words = part.fault or ("open", "the sound library gave up")
    name = "microphone" if part.kind == "ear" else "speaker"
    if why == "portaudio":
        return SoundMissing(f"PortAudio is missing; install it with '{INSTALL}' (Debian, Ubuntu), or use 'rackcall type'")
    if why == "device":
        return SoundMissing(f"no {name}; plug in a headset, or use 'rackcall type'")
    return SoundMissing(f"the {name} cannot be opened ({words}); plug in another one, or use 'rackcall type'")


def seconds(samples: Samples) -> float:
    return len(samples) / RATE_HZ


__all__ = ["EVENT", "Block", "Ear", "Mouth", "Part", "SoundMissing", "missing", "seconds"]
