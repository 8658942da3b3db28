"""A private virtual sound card: a microphone and a speaker without hardware, on a sound server of its own.

Needs the Debian packages of `PACKAGES`. It touches no other sound server: each card has its own folder and socket,
and stopping it ends its own server (checked by its id and its command line) and nothing else.
"""

import array
import contextlib
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
    tools = [tool for tool in ("pulseaudio", "pactl", "pacat", "paplay") if not shutil.which(tool)]
    if tools:
        return f"{', '.join(tools)} not installed; the virtual sound card needs: {PACKAGES}"
    try:
        import sounddevice  # noqa: F401
    except OSError as error:
        return f"{error}; the virtual sound card needs: {PACKAGES}"
    plugins = [*Path("/usr/lib").glob("*/alsa-lib/libasound_module_pcm_pulse.so")]
    return "" if plugins else f"the sound library has no way to the server; it needs: {PACKAGES}"


class VirtualCard:
    """One sound server with a microphone and a speaker. Use as a context.

    `echo_db`: what the speaker plays is also heard by the microphone, so many dB quieter.
    """

    def __init__(self, echo_db: float | None = None, echo_ms: int = 60, folder: Path | None = None) -> None:
        self.folder = folder or Path(tempfile.mkdtemp(prefix="rackcall-card-"))
        self.echo_db, self.echo_ms = echo_db, echo_ms
        self._server: subprocess.Popen[bytes] | None = None
        self._room: subprocess.Popen[bytes] | None = None

    # ---- life

    def start(self) -> Self:
        command = [
            "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--disallow-exit", "--use-pid-file=no",
            "--disable-shm=yes", "--realtime=no", "--high-priority=no", "--log-target=stderr",
            "-L", f"module-native-protocol-unix auth-anonymous=1 socket={self.folder}/native",
            "-L", _sink(MICROPHONE), "-L", _sink(SPEAKER),
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
        self._defaults()
        if self.echo_db is not None:
            self._echo()
        self.room()
        return self

    def room(self) -> None:
        """A quiet room's noise in the microphone (68 dB below full scale): exact zeros are a muted one."""
        if self._room:
            self._room.kill()
            self._room.wait()
        file = self.folder / "room.raw"
        if not file.exists():
            noise = np.random.default_rng(7).normal(0, 13, 600 * RATE_HZ)
            file.write_bytes(np.rint(noise).astype("<i2").tobytes())
        self._room = subprocess.Popen(
            ["pacat", f"--device={MICROPHONE}", "--raw", "--format=s16le", f"--rate={RATE_HZ}", "--channels=1", str(file)],
            env=self.env(), stderr=subprocess.DEVNULL,
        )  # fmt: skip

    def kill(self) -> None:
        """End the server as a crash would; `start` brings it back."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        """End this card's own server and remove its folder."""
        self._end(signal.SIGTERM)
        if self._room:
            self._room.kill()
            self._room.wait()
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
        with contextlib.suppress(FileNotFoundError):
            (self.folder / "native").unlink()

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

    def play(self, file: Path, wait: bool = True) -> subprocess.Popen[bytes]:
        """Play a sound file into the microphone."""
        child = subprocess.Popen(["paplay", f"--device={MICROPHONE}", "--latency-msec=20", str(file)], env=self.env())
        if wait and child.wait():
            raise CardError(f"paplay failed on {file}")
        return child

    # ---- faults

    def unplug(self, sink: str) -> None:
        """Take the microphone or the speaker away while it is in use."""
        for line in (self._pactl("list", "short", "modules") or "").splitlines():
            number, name, words = [*line.split("\t"), "", ""][:3]
            if name == "module-null-sink" and f"sink_name={sink}" in words.split():
                self._pactl("unload-module", number)
                return
        raise CardError(f"{sink} is not plugged in")

    def plug(self, sink: str) -> None:
        """Bring it back."""
        self._pactl("load-module", *_sink(sink).split())
        self._defaults()
        if sink == MICROPHONE:
            self.room()

    def mute(self, on: bool = True) -> None:
        """A microphone that goes on running and hears only zeros."""
        self._pactl("set-source-mute", f"{MICROPHONE}.monitor", str(int(on)))

    # ---- within

    def _echo(self) -> None:
        self._pactl("load-module", "module-loopback", f"source={SPEAKER}.monitor", f"sink={MICROPHONE}",
                    f"latency_msec={self.echo_ms}", "adjust_time=0", "source_dont_move=1", "sink_dont_move=1",
                    "sink_input_properties=media.name=echo")  # fmt: skip
        for line in (self._pactl("list", "short", "sink-inputs") or "").splitlines():
            self._pactl("set-sink-input-volume", line.split("\t")[0], f"{self.echo_db}dB")

    def _defaults(self) -> None:
        self._pactl("set-default-sink", SPEAKER, check=False)
        self._pactl("set-default-source", f"{MICROPHONE}.monitor", check=False)

    def _pactl(self, *words: str, check: bool = True) -> str | None:
        done = subprocess.run(
            ["pactl", *words], env=self.env(LC_ALL="C"), timeout=10, capture_output=True, text=True, check=False
        )
        if done.returncode and check:
            raise CardError(f"pactl {' '.join(words)}: {done.stderr.strip()}")
        return None if done.returncode else done.stdout


def _sink(name: str) -> str:
    # norewinds bounds the latency to 50 ms: an idle sink sleeps for 2 s at a time without it, and a stream that was
    # just opened hears nothing for so long.
    return f"module-null-sink sink_name={name} rate=48000 channels=1 norewinds=1 sink_properties=device.description={name}"


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
