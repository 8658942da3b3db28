"""A private virtual sound card: a microphone and a speaker without hardware, on a sound server of its own.

Needs the Debian packages of `PACKAGES`. It touches no other sound server: each card has its own folder and socket,
and stopping it ends its own server (checked by its id and its command line) and nothing else.
"""

import array
import contextlib
import json
import math
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np
import numpy.typing as npt

from assistant.sound import tones

PACKAGES = "pulseaudio pulseaudio-utils libportaudio2 libasound2-plugins"
RATE_HZ = 16_000
"""Of every recording made here."""
FRAME = RATE_HZ // 100
PIP, PIP_FRAMES = 0.8, 8
"""Share of the power that lies in a tone's partials, and in how many frames on end: 13 in the long pip, 4 in a short one."""
LOUD = 200
"""RMS of a 16 bit frame above which it counts as sound."""
PATIENCE_S = 60.0
"""So long nothing may change at all. It is counted in looks, not by the clock: while the machine does not let this program look,
the program that is waited for stands still too."""
LOOK_S = 0.01
RUNAWAY_US = 500_000
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


class Microphone:
    """The microphone, a process of its own (`microphone.py`): whatever this one is busy with would make holes in the sound."""

    def __init__(self, pipe: Path, echo_db: float | None, env: dict[str, str]) -> None:
        self.said_to_its_end = threading.Event()
        self.last_sample_s = 0.0
        """When the last sample of the last clip went into the pipe, on the monotonic clock."""
        self._child = subprocess.Popen(
            [sys.executable, "-m", "tests.live.microphone", str(pipe), "" if echo_db is None else str(echo_db)], env=env,
            cwd=Path(__file__).parent.parent.parent, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        )  # fmt: skip
        assert self._child.stdout
        if not self._child.stdout.readline():
            raise CardError("the microphone does not begin")
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self._child.stdout
        for line in self._child.stdout:
            self.last_sample_s = float(line)
            self.said_to_its_end.set()

    def say(self, samples: Samples) -> None:
        assert self._child.stdin
        self.said_to_its_end.clear()
        sound = samples.astype("<i2").tobytes()
        self._child.stdin.write(len(sound).to_bytes(4, "little") + sound)
        self._child.stdin.flush()

    def over(self) -> bool:
        return self._child.poll() is not None

    def close(self) -> None:
        self._child.kill()
        self._child.communicate()


class VirtualCard:
    """One sound server with a microphone and a speaker. Use as a context.

    `echo_db`: what the speaker plays is also heard by the microphone, so many dB louder (negative: quieter).
    """

    def __init__(self, echo_db: float | None = None, folder: Path | None = None) -> None:
        self.folder = folder or Path(tempfile.mkdtemp(prefix="rackcall-card-"))
        self.echo_db = echo_db
        self._server: subprocess.Popen[bytes] | None = None
        self.microphone: Microphone | None = None

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
        server = self._server
        try:
            wait_for(lambda: self._pactl("info", check=False) is not None, "no answer", lambda: server.poll() is not None)
        except CardError as error:
            said = (self.folder / "log").read_text(errors="replace")[-600:]
            self.stop()
            raise CardError(f"the sound server: {error}\n{said}") from None
        first_in_line(server.pid)
        self._defaults()
        self.microphone = self.microphone or Microphone(self.folder / "microphone", self.echo_db, self.env())
        return self

    def kill(self) -> None:
        """End the server as a crash would; `start` brings it back."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        """End this card's own server and remove its folder."""
        if self.microphone:
            self.microphone.close()
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
        assert self.microphone
        self.microphone.say(samples)
        if wait:
            wait_for(self.microphone.said_to_its_end.is_set, "the microphone did not take it all", self.microphone.over)

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
        # At the rate of what is played: the server's conversion would be its dearest work (measured: half of it).
        return f"module-null-sink sink_name={SPEAKER} format=s16le rate={RATE_HZ} channels=1 norewinds=1"

    def _defaults(self) -> None:
        self._pactl("set-default-sink", SPEAKER, check=False)
        self._pactl("set-default-source", MICROPHONE, check=False)
        # A new default takes with it whatever recorded the old one: the taps stay where they are.
        for stream in json.loads(self._pactl("-f", "json", "list", "source-outputs") or "[]"):
            if stream["properties"].get("application.name") == "pacat":
                self._pactl("move-source-output", str(stream["index"]), f"{SPEAKER}.monitor", check=False)

    def _pactl(self, *words: str, check: bool = True) -> str | None:
        done = subprocess.run(
            ["pactl", *words], env=self.env(LC_ALL="C"), timeout=PATIENCE_S, capture_output=True, text=True, check=False
        )
        if done.returncode and check:
            raise CardError(f"pactl {' '.join(words)}: {done.stderr.strip()}")
        return None if done.returncode else done.stdout


class Tap:
    """Hears one side of the card, in 10 ms frames, and keeps it."""

    def __init__(self, env: dict[str, str], sink: str) -> None:
        self.loudness: list[float] = []
        self.loud = 0
        """Frames that sounded."""
        self.sound = bytearray()
        self.began_s = math.inf
        """Best estimate of when its first sample was played, on the monotonic clock."""
        self._child = subprocess.Popen(
            ["pacat", "--record", f"--device={sink}.monitor", "--raw", "--format=s16le", f"--rate={RATE_HZ}",
             "--channels=1", "--latency-msec=10"],
            env=env, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._thread = threading.Thread(target=self._read, daemon=True)
        self._thread.start()
        first_in_line(self._child.pid)
        wait_for(lambda: bool(self.loudness), f"the {sink} cannot be heard", over=lambda: self._child.poll() is not None)

    def _read(self) -> None:
        assert self._child.stdout
        rest = b""
        while data := os.read(self._child.stdout.fileno(), 65536):
            self.sound += data
            self.began_s = min(self.began_s, time.monotonic() - len(self.sound) / 2 / RATE_HZ)
            rest += data
            while len(rest) >= FRAME * 2:
                self.loudness.append(rms(rest[: FRAME * 2]))
                self.loud += self.loudness[-1] > LOUD
                rest = rest[FRAME * 2 :]

    def now(self) -> int:
        """A mark in the stream: frames heard so far."""
        return len(self.loudness)

    def frame(self, at_s: float) -> int:
        """The mark at a time on the monotonic clock."""
        return max(0, math.floor((at_s - self.began_s) * 100))

    def sounded(self, since: int) -> bool:
        return any(level > LOUD for level in self.loudness[since:])

    def your_turn(self, since: int) -> int | None:
        """The frame at which the tone "it is your turn" ended that sounded first from this mark on; None where none did.

        It is the only tone whose high pip is that long; what tells it is that nearly all its power lies in its partials.
        """
        samples = self.samples()[since * FRAME :].astype(np.float64)
        if len(samples) < 2 * FRAME:
            return None
        rows = np.lib.stride_tricks.sliding_window_view(samples, 2 * FRAME)[::FRAME]
        turns = np.exp(-2j * np.pi * np.outer(np.arange(2 * FRAME), tones.HIGH_HZ) / RATE_HZ)
        power = (rows**2).sum(axis=1)
        share = (np.abs(rows @ turns) ** 2).sum(axis=1) / FRAME / np.maximum(power, 1.0)
        pip = (share > PIP) & (power > 2 * FRAME * LOUD**2)
        run = 0
        for index, here in enumerate(pip):
            run = run + 1 if here else 0
            if run >= PIP_FRAMES and not pip[index + 1 : index + 2].any() and index + 1 < len(pip):
                return since + index + 2
        return None

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


def wait_for(
    true: Callable[[], bool], otherwise: str | Callable[[], str], over: Callable[[], bool] = lambda: False,
    progress: Callable[[], object] = lambda: None,
) -> float:  # fmt: skip
    """Wait until it is so, as long as that is still to be hoped for.

    Args:
        true: what is waited for.
        otherwise: what to say when it does not come.
        over: whether it cannot come any more; then it is looked for once more and not waited for.
        progress: anything; as long as it changes, whoever is waited for is slow and not stuck.

    Returns:
        How long that took [s].
    """
    began, last, looks = time.monotonic(), progress(), 0
    while not true():
        no_more = over()
        if true():
            break
        if no_more or looks > PATIENCE_S / LOOK_S:
            why = "it has ended" if no_more else f"nothing changed in {looks} looks"
            raise CardError(f"{otherwise if isinstance(otherwise, str) else otherwise()} ({why})")
        time.sleep(LOOK_S)
        now = progress()
        last, looks = now, 0 if now != last else looks + 1
    return time.monotonic() - began


def first_in_line(pid: int = 0) -> None:
    """Real-time priority for the threads of this process, or (0) for the thread that asks, where the system allows it.

    Whatever stands for hardware waits for nobody: without it a busy machine makes holes in the sound (measured). What would
    run on without ever waiting is ended: it would stop the whole machine.
    """
    with contextlib.suppress(OSError):
        if pid and resource.prlimit(pid, resource.RLIMIT_RTTIME)[1] == resource.RLIM_INFINITY:  # the sound server sets its own
            resource.prlimit(pid, resource.RLIMIT_RTTIME, (RUNAWAY_US, RUNAWAY_US))
    for task in os.listdir(f"/proc/{pid}/task") if pid else (0,):
        with contextlib.suppress(OSError):  # a thread may be gone by now: the others are no less in a hurry
            os.sched_setscheduler(int(task), os.SCHED_RR, os.sched_param(6))


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
