"""Microphone and speaker on a machine that is slow: late is not lost, and what runs away stops nobody."""

import queue
import signal
import subprocess
import sys
import time
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from assistant.fronts import ready
from assistant.sound import devices as sound
from assistant.sound.audio import EVENT
from assistant.sound.devices import AGAIN_S, AWAKE_S, GONE, OPENS_S, Block, Mouth
from tests.live.caller import ROOT


class Process:
    """A device's process, told what becomes of it."""

    began: list["Process"]

    def __init__(self, kind: str, hear: Any) -> None:
        self.kind, self.ended, self._hear = kind, False, hear
        Process.began.append(self)

    def tells(self, words: bytes) -> None:
        self._hear(EVENT, time.monotonic(), 0, words)

    def send(self, *frame: object) -> None: ...

    def kill(self) -> None:
        self.ended = True


@pytest.fixture
def speaker(monkeypatch: pytest.MonkeyPatch) -> Mouth:
    """A speaker that is looked at when the test says so."""
    Process.began = []
    monkeypatch.setattr(sound, "_Process", Process)
    speaker = Mouth()
    speaker._closing.set()
    speaker._watcher.join()
    return speaker


def test_a_speaker_that_takes_seconds_to_open_is_waited_for_and_no_trouble(speaker: Mouth):
    speaker._look(speaker._started_s + AWAKE_S - 1)
    Process.began[0].tells(b'{"awake": true}')
    speaker._look(speaker._started_s + OPENS_S - 1)
    assert speaker.trouble == ""
    Process.began[0].tells(b'{"ready": true, "device": "headset"}')
    assert speaker.ready.is_set()
    assert len(Process.began) == 1


def test_a_speaker_that_was_gone_is_given_the_same_time_to_come_back(speaker: Mouth):
    Process.began[0].tells(b'{"ready": true, "device": "headset"}')
    Process.began[0].ended = True
    speaker._look(speaker._started_s + 2 * AGAIN_S)
    assert (speaker.trouble, len(Process.began)) == (GONE, 2)
    Process.began[1].tells(b'{"awake": true}')
    speaker._look(speaker._started_s + OPENS_S - 1)  # started again every second it would never open on a slow machine
    assert len(Process.began) == 2
    Process.began[1].tells(b'{"ready": true, "device": "headset"}')
    speaker._look(time.monotonic())
    assert speaker.trouble == ""


def test_a_speaker_that_never_opens_is_known_to_be_gone_and_started_again(speaker: Mouth):
    Process.began[0].tells(b'{"awake": true}')
    speaker._look(speaker._started_s + OPENS_S + 1)
    assert (speaker.trouble, len(Process.began)) == (GONE, 2)


def test_sound_that_was_taken_in_time_counts_though_it_comes_late():
    end_s = time.monotonic() - 1.0
    blocks: queue.Queue[Block] = queue.Queue()
    for number, at_s in enumerate((end_s - 0.02, end_s - 0.01, end_s, end_s + 0.01), 1):
        blocks.put(Block(at_s, np.full(160, number, np.int16)))
    heard = ready._until(SimpleNamespace(blocks=blocks), end_s)  # type: ignore[arg-type]
    assert np.unique(heard).tolist() == [1, 2, 3]


def test_a_sound_process_that_runs_away_with_real_time_priority_is_ended_by_the_system():
    runaway = "from assistant.sound import audio\nif audio._first_in_line():\n    while True: pass"
    done = subprocess.run([sys.executable, "-c", runaway], cwd=ROOT, timeout=600, check=False)
    if done.returncode == 0:
        pytest.skip("this system gives no real-time priority")
    assert done.returncode == -signal.SIGKILL
