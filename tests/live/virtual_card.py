"""A private virtual sound card: a microphone and a speaker without hardware, on a sound server of its own.

Needs the Debian packages of `PACKAGES`. It touches no other sound server: each card has its own folder and socket,
and stopping it ends its own server (checked by its id and its command line) and nothing else.
"""

import array
import contextlib
import fcntl
import json
import math
import os
import shutil
import signal
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np
import numpy.typing as npt

PACKAGES = "pulseaudio pulseaudio-utils libportaudio2 libasound2-plugins"
RATE_HZ = 16_000
"""Of every recording made here."""
FRAME = RATE_HZ // 100
LOUD = 200
"""RMS of a 16 bit frame above which it counts as sound."""
MICROPHONE, SPEAKER = "vmic", "vspeaker"
Samples = npt.NDArray[np.int16]


class CardError(RuntimeError):
    """The virtual card cannot do it; the message says what."""


def missing() -> str:
    """Why there can be no virtual card here; nothing when there can."""
    tools = [tool for tool in ("pulseaudio", "pactl", "pacat") if not shutil.which(tool)]
    if tools:
        return f"{', '.join(tools)} not installed; the virtual sound card needs: {PACKAGES}"
    try:
        import sounddevice  # noqa: F401
    except OSError as error:
        return f"{error}; the virtual sound card needs: {PACKAGES}"
    plugins = [*Path("/usr/lib").glob("*/alsa-lib/libasound_module_pcm_pulse.so")]
    return "" if plugins else f"the sound library has no way to the server; it needs: {PACKAGES}"


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
        self._closed = threading.Event()
        self.said_to_its_end = threading.Event()
        self.last_sample_s = 0.0
        """When the last sample of the last clip went into the pipe, on the monotonic clock."""
        self._handle = -1

    def say(self, samples: Samples) -> None:
        self.said_to_its_end.clear()
        self._clips.append(samples)

    def run(self) -> None:
        due = time.monotonic()
        step = FRAME
        at = 0
        while not self._closed.is_set():
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
            self.last_sample_s = time.monotonic()
            if not self._clips:
                self.said_to_its_end.set()
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

    def close(self) -> None:
        self._closed.set()
        self.join(2)
        self.unplugged()


class VirtualCard:
    """One sound server with a microphone and a speaker. Use as a context.

    `echo_db`: what the speaker plays is also heard by the microphone, so many dB louder (negative: quieter).
    """

    def __init__(self, echo_db: float | None = None, folder: Path | None = None) -> None:
        self.folder = folder or Path(tempfile.mkdtemp(prefix="rackcall-card-"))
        self.echo_db = echo_db
        self._server: subprocess.Popen[bytes] | None = None
        self.microphone = Microphone(self.folder / "microphone")
        self._echo_tap: Tap | None = None

    # ---- life

    def start(self) -> Self:
        command = [
            "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--disallow-exit", "--use-pid-file=no",
            "--disable-shm=yes", "--realtime=no", "--high-priority=no", "--log-target=stderr",
            "-L", f"module-native-protocol-unix auth-anonymous=1 socket={self.folder}/native",
            "-L", self._module(MICROPHONE), "-L", self._module(SPEAKER),
        ]  # fmt: skip
        own = str(self.folder)
        env = dict(os.environ, PULSE_RUNTIME_PATH=own, PULSE_STATE_PATH=own, HOME=own)
        for name in ("PULSE_SERVER", "PULSE_SINK", "PULSE_SOURCE", "DISPLAY"):
            env.pop(name, None)
        with open(self.folder / "log", "ab") as log:
            self._server = subprocess.Popen(
                command, env=env, stdin=subprocess.DEVNULL, stdout=log, stderr=log, start_new_session=True
            )
        until = time.monotonic() + 10
        while self._pactl("info", check=False) is None:
            if self._server.poll() is not None or time.monotonic() > until:
                said = (self.folder / "log").read_text(errors="replace")[-600:]
                self.stop()
                raise CardError(f"the sound server did not come up: {said}")
            time.sleep(0.02)
        # As a desktop does for its sound server; without it a busy machine gives holes in the sound (measured).
        with contextlib.suppress(OSError):
            for task in os.listdir(f"/proc/{self._server.pid}/task"):
                os.sched_setscheduler(int(task), os.SCHED_RR, os.sched_param(6))
        self._defaults()
        if not self.microphone.is_alive():
            self.microphone.start()
            if self.echo_db is not None:
                self._echo_tap = Tap(self, SPEAKER)
                self.microphone.echo = _echo(self._echo_tap, self.echo_db)
        return self

    def kill(self) -> None:
        """End the server as a crash would; `start` brings it back."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        """End this card's own server and remove its folder."""
        self.microphone.close()
        if self._echo_tap:
            self._echo_tap.close()
        self._end(signal.SIGTERM)
        shutil.rmtree(self.folder, ignore_errors=True)

    def _end(self, how: signal.Signals) -> None:
        if self._server is None or self._server.poll() is not None:
            return
        self._server.send_signal(how)
        try:
            self._server.wait(3)
        except subprocess.TimeoutExpired:
            self._server.kill()
            self._server.wait()
        for name in ("native", "microphone"):
            with contextlib.suppress(FileNotFoundError):
                (self.folder / name).unlink()
        self.microphone.unplugged()

    def __enter__(self) -> Self:
        return self.start()

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.stop()

    def env(self, **more: str) -> dict[str, str]:
        """The environment in which a program finds this card as its default."""
        env = dict(os.environ, PULSE_SERVER=f"unix:{self.folder}/native", **more)
        for name in ("PULSE_SINK", "PULSE_SOURCE"):
            env.pop(name, None)
        return env

    # ---- sound

    def say(self, samples: Samples, wait: bool = True) -> None:
        """Say this into the microphone. int16, shape (n_samples,), mono, 16 kHz."""
        self.microphone.say(samples)
        if wait and not self.microphone.said_to_its_end.wait(len(samples) / RATE_HZ + 5):
            raise CardError("the microphone did not take it all")

    # ---- faults

    def unplug(self, name: str) -> None:
        """Take the microphone or the speaker away while it is in use."""
        for line in (self._pactl("list", "short", "modules") or "").splitlines():
            number, module, words = [*line.split("\t"), "", ""][:3]
            if module in ("module-null-sink", "module-pipe-source") and f"_name={name}" in words:
                self._pactl("unload-module", number)
                return
        raise CardError(f"{name} is not plugged in")

    def plug(self, name: str) -> None:
        """Bring it back."""
        self._pactl("load-module", *self._module(name).split())
        self._defaults()

    def mute(self, on: bool = True) -> None:
        """A microphone that goes on running and hears only zeros."""
        self._pactl("set-source-mute", MICROPHONE, str(int(on)))

    # ---- within

    def _module(self, name: str) -> str:
        if name == MICROPHONE:
            form = f"format=s16le rate={RATE_HZ} channels=1"
            return f"module-pipe-source source_name={MICROPHONE} file={self.folder}/microphone {form}"
        # norewinds bounds the latency to 50 ms: an idle sink sleeps for 2 s at a time without it, and a stream that
        # was just opened hears nothing for so long.
        return f"module-null-sink sink_name={SPEAKER} rate=48000 channels=1 norewinds=1"

    def _defaults(self) -> None:
        self._pactl("set-default-sink", SPEAKER, check=False)
        self._pactl("set-default-source", MICROPHONE, check=False)
        # A new default takes with it whatever recorded the old one: the taps stay where they are.
        for stream in json.loads(self._pactl("-f", "json", "list", "source-outputs") or "[]"):
            if stream["properties"].get("application.name") == "pacat":
                self._pactl("move-source-output", str(stream["index"]), f"{SPEAKER}.monitor", check=False)

    def _pactl(self, *words: str, check: bool = True) -> str | None:
        done = subprocess.run(
            ["pactl", *words], env=self.env(LC_ALL="C"), timeout=10, capture_output=True, text=True, check=False
        )
        if done.returncode and check:
            raise CardError(f"pactl {' '.join(words)}: {done.stderr.strip()}")
        return None if done.returncode else done.stdout


def _echo(tap: "Tap", echo_db: float) -> Callable[[int], Samples]:
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


class Tap:
    """Hears one side of the card, in 10 ms frames, and keeps it."""

    def __init__(self, card: VirtualCard, sink: str) -> None:
        self.loudness: list[float] = []
        self.sound = bytearray()
        self.began_s = math.inf
        """Best estimate of when its first sample was played, on the monotonic clock."""
        self._child = subprocess.Popen(
            ["pacat", "--record", f"--device={sink}.monitor", "--raw", "--format=s16le", f"--rate={RATE_HZ}",
             "--channels=1", "--latency-msec=10"],
            env=card.env(), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._thread = threading.Thread(target=self._read, daemon=True)
        self._thread.start()
        wait_for(lambda: bool(self.loudness), 5, f"the {sink} cannot be heard")

    def _read(self) -> None:
        assert self._child.stdout
        rest = b""
        while data := os.read(self._child.stdout.fileno(), 65536):
            self.sound += data
            self.began_s = min(self.began_s, time.monotonic() - len(self.sound) / 2 / RATE_HZ)
            rest += data
            while len(rest) >= FRAME * 2:
                self.loudness.append(rms(rest[: FRAME * 2]))
                rest = rest[FRAME * 2 :]

    def now(self) -> int:
        """A mark in the stream: frames heard so far."""
        return len(self.loudness)

    def sounded(self, since: int) -> bool:
        return any(level > LOUD for level in self.loudness[since:])

    def quiet_for(self, seconds: float, since: int) -> bool:
        last = self.loudness[since:]
        need = round(seconds * 100)
        return len(last) >= need and all(level <= LOUD for level in last[-need:])

    def samples(self) -> Samples:
        return np.frombuffer(bytes(self.sound[: len(self.sound) // 2 * 2]), np.int16)

    def close(self) -> None:
        self._child.terminate()
        self._child.wait()
        self._thread.join(2)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()


def rms(pcm: bytes) -> float:
    data = array.array("h", pcm)
    return math.sqrt(sum(x * x for x in data) / len(data)) if data else 0.0


def wait_for(true: Callable[[], bool], seconds: float, otherwise: str) -> float:
    """Wait until it is so. Returns how long that took [s]."""
    began = time.monotonic()
    while not true():
        if time.monotonic() - began > seconds:
            raise CardError(f"{otherwise} within {seconds} s")
        time.sleep(0.005)
    return time.monotonic() - began


def spans(samples: Samples, gap_s: float = 0.5) -> list[tuple[float, float]]:
    """Start and end [s] of what sounds in a recording; pauses shorter than `gap_s` are bridged."""
    found: list[list[float]] = []
    rows = samples[: len(samples) // FRAME * FRAME].astype(np.float64).reshape(-1, FRAME)
    for index in np.flatnonzero(np.sqrt((rows**2).mean(axis=1)) > LOUD):
        start, end = index / 100, (index + 1) / 100
        if found and start - found[-1][1] < gap_s:
            found[-1][1] = end
        else:
            found.append([start, end])
    return [(start, end) for start, end in found]
