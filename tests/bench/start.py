"""How soon it speaks, and what that costs the sound: on the virtual card.

    python -m tests.bench.start [--times 5]

Prints the medians of: the command to the first sample of the first word; `rackcall --help`; drop-outs while CoolProp is
imported behind the first prompt; memory and CPU while it listens. For comparison, the same prompt played from the
call's own process while CoolProp is imported in a thread: why the sound has processes of its own.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from tests.live.caller import ROOT, Caller
from tests.live.virtual_card import SPEAKER, Samples, Tap, VirtualCard

OWN_PROCESS = """
import sys, threading, time
import numpy as np, sounddevice
tone = (np.sin(np.arange(16000 * 8) * 0.17) * 8000).astype("<i2")
place = [0]
def needed(data, frames, times, status):
    piece = tone[place[0]:place[0] + frames]; place[0] += frames
    data[:] = piece.tobytes() + bytes(2 * frames - 2 * len(piece))
stream = sounddevice.RawOutputStream(samplerate=16000, blocksize=320, channels=1, dtype="int16", latency=0.05, callback=needed)
stream.start(); time.sleep(1)
threading.Thread(target=lambda: __import__("CoolProp.CoolProp")).start()
time.sleep(7.5)
"""


def holes_ms(samples: Samples) -> float:
    """Length of the exact silences of 2 ms and more inside a steady tone [ms]."""
    loud = np.flatnonzero(np.abs(samples.astype(np.int32)) > 300)
    if not len(loud):
        return float("nan")
    quiet = np.concatenate([[False], np.abs(samples[loud[0] : loud[-1]].astype(np.int32)) <= 1, [False]])
    edges = np.flatnonzero(np.diff(quiet.astype(int)))
    lengths = edges[1::2] - edges[::2]
    return float(lengths[lengths >= 32].sum() / 16)


def first_word() -> tuple[float, dict[str, float]]:
    """Seconds to the first sample; memory [MB] and CPU [% of a core] while it listens."""
    with VirtualCard() as card, tempfile.TemporaryDirectory() as calls, Caller(card, Path(calls), "talk") as caller:
        caller.quiet(1.0)
        sound = caller.tap.samples()
        first_s = caller.tap.began_s + int(np.flatnonzero(np.abs(sound.astype(np.int32)) > 300)[0]) / 16_000 - caller.began_s
        pids = [caller.program.pid, *_children(caller.program.pid)]
        began, ticks = time.monotonic(), [_ticks(pid) for pid in pids]
        time.sleep(8)
        spent = [(_ticks(pid) - was) / os.sysconf("SC_CLK_TCK") for pid, was in zip(pids, ticks, strict=True)]
        figures = {
            "rss_mb": _memory(pids[0], "Rss"), "pss_all_mb": sum(_memory(pid, "Pss") for pid in pids),
            "cpu": 100 * sum(spent) / (time.monotonic() - began), "cpu_sound": 100 * sum(spent[1:]) / (time.monotonic() - began),
        }  # fmt: skip
        return first_s, figures


def _children(pid: int) -> list[int]:
    return [int(word) for word in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def _ticks(pid: int) -> int:
    words = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return int(words[11]) + int(words[12])


def _memory(pid: int, what: str) -> float:
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith(f"{what}:"):
            return int(line.split()[1]) / 1024
    return 0.0


def dropouts_in_own_process() -> float:
    with VirtualCard() as card, Tap(card.env(), SPEAKER) as tap:
        subprocess.run([sys.executable, "-c", OWN_PROCESS], env=card.env(), cwd=ROOT, stderr=subprocess.DEVNULL, check=True)
        return holes_ms(tap.samples())


def dropouts_in_a_process_of_its_own() -> float:
    """A tone through the mouth while this process imports CoolProp."""
    with VirtualCard() as card, Tap(card.env(), SPEAKER) as tap:
        script = (
            "import threading, time, numpy as np\nfrom assistant.sound.devices import Mouth\nmouth = Mouth(); mouth.wait(8)\n"
            "mouth.play((np.sin(np.arange(16000 * 8) * 0.17) * 8000).astype(np.int16)); time.sleep(1)\n"
            "threading.Thread(target=lambda: __import__('CoolProp.CoolProp')).start(); time.sleep(7.6); mouth.close()\n"
        )
        subprocess.run([sys.executable, "-c", script], env=card.env(), cwd=ROOT, check=True)
        return holes_ms(tap.samples())


def help_ms() -> float:
    began = time.monotonic()
    subprocess.run([sys.executable, "-m", "assistant.cli", "--help"], cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
    return (time.monotonic() - began) * 1000


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--times", type=int, default=5)
    times = parser.parse_args().times
    helps = [help_ms() for _ in range(2 * times)]
    print(f"--help: median {statistics.median(helps):.0f} ms of {len(helps)}")
    found = [first_word() for _ in range(times)]
    words_s = [first_s for first_s, _ in found]
    print(f"first word: median {statistics.median(words_s):.2f} s, slowest {max(words_s):.2f} s of {times}")
    for what, unit in (("rss_mb", "MB, the call's process"), ("pss_all_mb", "MB, all three together"),
                       ("cpu", "% of a core, all three"), ("cpu_sound", "% of a core, the two sound processes")):  # fmt: skip
        print(f"listening: {statistics.median(figures[what] for _, figures in found):.1f} {unit}")
    print(f"drop-outs while CoolProp is imported, sound in its own process: {dropouts_in_a_process_of_its_own():.0f} ms")
    print(f"drop-outs while CoolProp is imported, sound in the call's process: {dropouts_in_own_process():.0f} ms")
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


if __name__ == "__main__":
    main()
