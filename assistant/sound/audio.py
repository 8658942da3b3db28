"""The one door to sounddevice: a process that holds the microphone or the speaker, and nothing else.

    python -m assistant.sound.audio ear      sound of the microphone on stdout
    python -m assistant.sound.audio mouth    plays what comes on stdin, says on stdout how far it is

PortAudio calls back into Python for every block. In the call's own process whatever holds the interpreter's lock
stops these callbacks: the import of CoolProp stops them for 2 s and more, with a hole as long in the prompt
(`tests/bench/start.py` measures it). A process of its own has no such neighbour, and it is also the only sure way
to begin anew with a sound server that went away: the process ends, another one starts (`sound.py`).

Both ends speak in frames: a letter, a time on the machine's monotonic clock [s], a number, a length [bytes], payload.
"""

import contextlib
import json
import os
import queue
import struct
import sys
import threading
import time
from collections import deque
from collections.abc import Callable
from typing import IO, Any

RATE_HZ = 16_000
BLOCK = 160
"""10 ms: longer blocks let the end of an answer be seen late (measured: +80 ms with blocks of 100 ms)."""
OUTPUT_BLOCK = 320
"""20 ms: half the processor's time of 10 ms."""
INPUT_LATENCY_S = 0.02
OUTPUT_LATENCY_S = 0.05
"""The shortest that never ran dry in the measurements; 0.03 did rarely, 'low' all the time."""
FIRST_IN_LINE_OUTPUT_LATENCY_S = 0.025
"""The same with real-time priority: 0.02 never ran dry with a load of 6 on two cores."""
FADE = 160
"""10 ms: a prompt that is cut off ends without a click."""
RUNAWAY_S = 0.5
"""Processor's time that a process with real-time priority may take without once waiting, then the system ends it: it would
keep the whole call, and the whole machine, from running otherwise. A block takes 0.2 ms; `sound.py` starts it again."""
DRY_BLOCKS = 8
"""Blocks in a row that ran dry: the speaker takes nothing any more."""

HEADER = struct.Struct("<cdII")
SOUND, EVENT, FLUSH = b"S", b"E", b"X"
"""Sound (int16 little-endian, mono, 16 kHz); a JSON object; (to the mouth) be silent at once."""


class Portless(Exception):
    """Sound cannot be had; `why` is `portaudio`, `device` or `open`, the message the library's own words."""

    def __init__(self, why: str, words: str) -> None:
        super().__init__(words)
        self.why = why


def write_frame(sink: IO[bytes], letter: bytes, at_s: float, number: int, payload: bytes) -> None:
    sink.write(HEADER.pack(letter, at_s, number, len(payload)) + payload)
    sink.flush()


def read_frame(source: IO[bytes]) -> tuple[bytes, float, int, bytes] | None:
    """The next frame; None at the end."""
    head = source.read(HEADER.size)
    if len(head) < HEADER.size:
        return None
    letter, at_s, number, length = HEADER.unpack(head)
    payload = source.read(length)
    return (letter, at_s, number, payload) if len(payload) == length else None


def _library(kind: str) -> Any:
    try:
        import sounddevice
    except OSError as error:
        raise Portless("portaudio", str(error)) from error
    try:
        sounddevice.query_devices(kind=kind)
    except (ValueError, sounddevice.PortAudioError) as error:
        raise Portless("device", str(error)) from error
    return sounddevice


def _opened(make: Callable[[], Any], library: Any) -> Any:
    try:
        stream = make()
        stream.start()
    except (library.PortAudioError, ValueError) as error:
        raise Portless("open", str(error)) from error
    _first_in_line()
    return stream


def _first_in_line() -> bool:
    """Real-time priority for every thread of this process, where the system allows it.

    On a busy machine the blocks come too late otherwise: with two cores and a load of 8, a prompt of 20 s had 17 to 40
    holes of 0.7 to 4 s in all, and none with it (measured). Only once the stream is open: what opens it (an interpreter, a
    library) takes a processor's time for itself on a slow machine, and the call waits behind it.
    """
    try:
        _end_a_runaway()
        for task in os.listdir("/proc/self/task"):
            os.sched_setscheduler(int(task), os.SCHED_RR, os.sched_param(5))
    except (OSError, AttributeError, ImportError):
        return False
    return True


def _end_a_runaway() -> None:
    import resource  # not on every system

    most_us, known_us = round(RUNAWAY_S * 1e6), resource.getrlimit(resource.RLIMIT_RTTIME)[1]
    if known_us == resource.RLIM_INFINITY or known_us > most_us:  # a shorter one may not be raised, and does as well
        resource.setrlimit(resource.RLIMIT_RTTIME, (most_us, most_us))


def _may_be_first_in_line() -> bool:
    """Whether this process will get real-time priority: it takes it, and gives it back."""
    try:
        os.sched_setscheduler(0, os.SCHED_RR, os.sched_param(5))
        os.sched_setscheduler(0, os.SCHED_OTHER, os.sched_param(0))
    except (OSError, AttributeError):
        return False
    return True


class _Out:
    """stdout for frames, from more than one thread."""

    def __init__(self, sink: IO[bytes]) -> None:
        self._sink, self._lock = sink, threading.Lock()

    def frame(self, letter: bytes, at_s: float, number: int, payload: bytes) -> None:
        with self._lock:
            write_frame(self._sink, letter, at_s, number, payload)

    def event(self, **fields: object) -> None:
        self.frame(EVENT, time.monotonic(), 0, json.dumps(fields).encode())


# ---- the microphone


def ear(source: IO[bytes], out: _Out) -> None:
    """Send every block until the other side is gone or the stream ends.

    A slow reader makes nothing late for ever: 10 s of sound wait at most, then the oldest is dropped and counted.
    """
    library = _library("input")
    blocks: queue.Queue[tuple[float, bytes] | None] = queue.Queue(maxsize=1000)
    dropped = [0]

    def heard(data: Any, frames: int, times: Any, status: Any) -> None:
        at_s = time.monotonic() - max(0.0, times.currentTime - times.inputBufferAdcTime)
        if blocks.full():
            dropped[0] += 1
            blocks.get_nowait()
        blocks.put_nowait((at_s, bytes(data)))

    stream = _opened(
        lambda: library.RawInputStream(
            samplerate=RATE_HZ, blocksize=BLOCK, channels=1, dtype="int16", latency=INPUT_LATENCY_S,
            callback=heard, finished_callback=lambda: blocks.put(None),
        ),
        library,
    )  # fmt: skip
    name = str(library.query_devices(stream.device)["name"])
    out.event(ready=True, device=name, latency_s=stream.latency)
    threading.Thread(target=_until_closed, args=(source,), daemon=True).start()
    while (block := blocks.get()) is not None:
        out.frame(SOUND, block[0], dropped[0], block[1])
    raise Portless("ended", "the microphone's stream ended")


def _until_closed(source: IO[bytes]) -> None:
    """The call's process holds this pipe: when it ends, killed or not, so does this one."""
    while source.read(4096):
        pass
    _leave(0)


def _leave(code: int) -> None:
    """Without the library's own tidying up, which can hang on a server that is gone."""
    os._exit(code)


# ---- the speaker


class _Playing:
    """What is still to be played, in order. The callback takes from it; nothing here waits."""

    def __init__(self) -> None:
        self._lock = threading.Lock()  # held for microseconds: the callback may wait for it
        self._items: deque[tuple[int, bytes]] = deque()
        self._place = 0
        self._fading = b""
        self.news: queue.SimpleQueue[tuple[str, int, float]] = queue.SimpleQueue()
        self.blocks = 0
        self.dry_in_a_row = 0
        self.dry = 0
        self.longest_s = 0.0
        """Longest time between two blocks that were asked for."""

    def add(self, number: int, sound: bytes) -> None:
        with self._lock:
            self._items.append((number, sound))

    def flush(self) -> None:
        """Drop everything; what sounds now fades within 10 ms."""
        with self._lock:
            items, self._items = self._items, deque()
            if items and self._place:
                self._fading = _faded(items[0][1][self._place : self._place + 2 * FADE])
            self._place = 0
        for number, _ in items:
            self.news.put(("cut", number, time.monotonic()))

    def block(self, size: int, leaves_s: float) -> bytes:
        """The next bytes; silence where there is nothing to say."""
        with self._lock:
            return self._next(size, leaves_s)

    def _next(self, size: int, leaves_s: float) -> bytes:
        out = self._fading[:size]
        self._fading = self._fading[size:]
        while len(out) < size and self._items:
            number, sound = self._items[0]
            if not self._place:
                self.news.put(("began", number, leaves_s + len(out) / 2 / RATE_HZ))
            piece = sound[self._place : self._place + size - len(out)]
            out += piece
            self._place += len(piece)
            if self._place >= len(sound):
                self._items.popleft()
                self._place = 0
                self.news.put(("ended", number, leaves_s + len(out) / 2 / RATE_HZ))
        return out + bytes(size - len(out))


def _faded(sound: bytes) -> bytes:
    count = len(sound) // 2
    values = struct.unpack(f"<{count}h", sound[: 2 * count])
    return struct.pack(f"<{count}h", *(round(v * (count - i) / count) for i, v in enumerate(values)))


def mouth(source: IO[bytes], out: _Out) -> None:
    """Play what comes, one item after the other without a gap; say when each began, ended or was cut."""
    library = _library("output")
    playing = _Playing()
    over = threading.Event()

    last_s = [time.monotonic()]

    def needed(data: Any, frames: int, times: Any, status: Any) -> None:
        now_s = time.monotonic()
        playing.longest_s = max(playing.longest_s, now_s - last_s[0]) if playing.blocks else 0.0
        last_s[0] = now_s
        leaves_s = now_s + max(0.0, times.outputBufferDacTime - times.currentTime)
        playing.blocks += 1
        if status.output_underflow:
            playing.dry += 1
            playing.dry_in_a_row += 1
        else:
            playing.dry_in_a_row = 0
        data[:] = playing.block(len(data), leaves_s)

    latency_s = FIRST_IN_LINE_OUTPUT_LATENCY_S if _may_be_first_in_line() else OUTPUT_LATENCY_S
    stream = _opened(
        lambda: library.RawOutputStream(
            samplerate=RATE_HZ, blocksize=OUTPUT_BLOCK, channels=1, dtype="int16", latency=latency_s,
            callback=needed, finished_callback=over.set,
        ),
        library,
    )  # fmt: skip
    name = str(library.query_devices(stream.device)["name"])
    out.event(ready=True, device=name, latency_s=stream.latency)
    threading.Thread(target=_take, args=(source, playing), daemon=True).start()
    _tell(playing, over, out)


def _take(source: IO[bytes], playing: _Playing) -> None:
    while (frame := read_frame(source)) is not None:
        letter, _, number, payload = frame
        if letter == SOUND:
            playing.add(number, payload)
        elif letter == FLUSH:
            playing.flush()
    _leave(0)


def _tell(playing: _Playing, over: threading.Event, out: _Out) -> None:
    """News as they come, a beat every 0.2 s: the other side sees by it that sound still flows."""
    beaten = 0.0
    while not over.is_set():
        try:
            what, number, at_s = playing.news.get(timeout=0.05)
            out.event(what=what, number=number, at_s=at_s)
        except queue.Empty:
            pass
        if time.monotonic() - beaten > 0.2:
            beaten = time.monotonic()
            out.event(blocks=playing.blocks, dry=playing.dry, longest_s=playing.longest_s)
            if playing.dry_in_a_row >= DRY_BLOCKS:
                raise Portless("ended", "the speaker takes no sound")
    raise Portless("ended", "the speaker's stream ended")


def main() -> int:
    """Be an ear or a mouth until the other side is gone. Returns 3 when sound cannot be had."""
    out = _Out(sys.stdout.buffer)
    out.event(awake=True)
    try:
        {"ear": ear, "mouth": mouth}[sys.argv[1]](sys.stdin.buffer, out)
    except Portless as trouble:
        with contextlib.suppress(OSError):
            out.event(fault=trouble.why, words=str(trouble))
        _leave(3)
    except (BrokenPipeError, KeyboardInterrupt):
        _leave(0)
    return 0


if __name__ == "__main__":
    sys.exit(main())
