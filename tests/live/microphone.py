"""The virtual card's microphone, and nothing else: it keeps time whatever the rest of the machine does.

    python -m tests.live.microphone PIPE [ECHO_DB]     sound to say on stdin; says when each was said to its end
"""

import fcntl
import os
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from tests.live.virtual_card import FRAME, RATE_HZ, SPEAKER, Samples, Tap, first_in_line


class Microphone(threading.Thread):
    """What the microphone hears: a quiet room, what is said into it, and (where wanted) the speaker's echo.

    It is a pipe that the sound server reads, so that no other speaker is there for a stream to be moved to.
    """

    def __init__(self, pipe: Path) -> None:
        super().__init__(daemon=True)
        self.pipe = pipe
        self.echo: Callable[[int], Samples] | None = None
        """Gives so many samples of the speaker's echo."""
        self._noise = np.rint(np.random.default_rng(7).normal(0, 13, 60 * RATE_HZ)).astype(np.int16)
        self._clips: list[Samples] = []
        self._place = 0
        self._handle = -1

    def say(self, samples: Samples) -> None:
        self._clips.append(samples)

    def run(self) -> None:
        first_in_line()
        due = time.monotonic()
        step = 2 * FRAME
        at = 0
        while True:
            due = max(due + step / RATE_HZ, time.monotonic() - 0.1)
            time.sleep(max(0.0, due - time.monotonic()))
            block = np.take(self._noise, np.arange(at, at + step), mode="wrap").astype(np.int32)
            at += step
            block += self._speech(step)
            if self.echo:
                block += self.echo(step)
            self._write(np.clip(block, -32768, 32767).astype("<i2").tobytes())

    def _speech(self, step: int) -> Samples:
        if not self._clips:
            return np.zeros(step, np.int16)
        clip = self._clips[0][self._place : self._place + step]
        self._place += step
        if self._place >= len(self._clips[0]):
            self._clips.pop(0)
            self._place = 0
            print(time.monotonic(), flush=True)
        return np.concatenate([clip, np.zeros(step - len(clip), np.int16)])

    def _write(self, data: bytes) -> None:
        try:
            if self._handle < 0:
                self._handle = os.open(self.pipe, os.O_WRONLY | os.O_NONBLOCK)
                fcntl.fcntl(self._handle, fcntl.F_SETPIPE_SZ, 4096)
            os.write(self._handle, data)
        except BlockingIOError:
            pass  # nobody listens: the sound is gone, as in a room
        except OSError:
            self.unplugged()

    def unplugged(self) -> None:
        if self._handle >= 0:
            os.close(self._handle)
        self._handle = -1


def _echo(tap: Tap, echo_db: float) -> Callable[[int], Samples]:
    """The speaker as the microphone hears it: 60 ms later, at this level."""
    place = [-1]
    gain = 10 ** (echo_db / 20)

    def give(count: int) -> Samples:
        there = len(tap.sound) // 2
        if place[0] < 0 or place[0] > there or place[0] < there - RATE_HZ // 4:
            place[0] = max(0, there - RATE_HZ * 60 // 1000)
        block = np.frombuffer(bytes(tap.sound[2 * place[0] : 2 * (place[0] + count)]), np.int16)
        place[0] += count
        return np.concatenate([(block * gain).astype(np.int16), np.zeros(max(0, count - len(block)), np.int16)])

    return give


def main() -> None:
    """Be a microphone until the other side is gone."""
    microphone = Microphone(Path(sys.argv[1]))
    if echo_db := sys.argv[2]:
        microphone.echo = _echo(Tap(dict(os.environ), SPEAKER), float(echo_db))
    microphone.start()
    print("begun", flush=True)
    while len(length := sys.stdin.buffer.read(4)) == 4:
        microphone.say(np.frombuffer(sys.stdin.buffer.read(int.from_bytes(length, "little")), "<i2"))


if __name__ == "__main__":
    main()
