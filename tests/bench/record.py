"""The record: what a line on disk costs, taking up a long call, reading and verifying many, and how soon a new call starts.

python -m tests.bench.record [--counts 10 1000 100000] [--in FOLDER] [--of FOLDER]
"""

import argparse
import os
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from statistics import median

from assistant.call.facts import CallOpened, NoteTaken, WordsHeard
from assistant.fronts.loop import Clock, new_call, profile_hash, resumed_call
from assistant.profile import load_profile
from assistant.record.index import INDEX, Index
from assistant.record.log import Log
from assistant.record.verify import verify
from tests.bench.many_calls import NOW, make

LINES, LONG = 2000, 5000


def taking(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def computing(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the wall, and of the processor: on a machine that others use the second tells."""
    wall, cpu = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - cpu


def appends(folder: Path) -> None:
    """A line with its chain and its sync, beside the same bytes written and synced bare; the two in turn."""
    fact = WordsHeard("suction twelve discharge two ten", "answer", 0.98)
    ours, bare = [], []
    with Log(folder / "call") as log, open(folder / "bare", "ab") as file:
        log.append(fact, NOW)
        line = (folder / "call" / "events.jsonl").read_bytes()
        for _ in range(LINES):
            ours.append(taking(lambda: log.append(fact, NOW)))
            bare.append(taking(lambda: (file.write(line), file.flush(), os.fsync(file.fileno()))))
    ratio = [a / b for a, b in zip(ours, bare, strict=True)]
    print(f"append with fsync: median {1e3 * median(ours):.2f} ms, bare write and fsync {1e3 * median(bare):.2f} ms, "
          f"ratio {median(ours) / median(bare):.2f} (median of the pairs {median(ratio):.2f}), {LINES} lines")  # fmt: skip


def long_call(folder: Path) -> None:
    """A call of 5,000 lines taken up again."""
    site = load_profile()
    with Log(folder / "long") as log:
        os_sync, os.fsync = os.fsync, lambda handle: None
        try:
            log.append(CallOpened(site.name, profile_hash(site), "bench", technician="Robin Vale"), NOW)
            for number in range(1, LONG):
                log.append(NoteTaken(f"note {number}"), NOW + timedelta(seconds=number))
        finally:
            os.fsync = os_sync

    def resume() -> None:
        resumed_call(site, folder / "long", Clock(True, NOW + timedelta(hours=3)))[2].close()

    print(f"resume of {LONG} lines: {median(taking(resume) for _ in range(3)):.2f} s")


def many(folder: Path, count: int, lines: int) -> None:
    site = load_profile()
    index, again = (computing(lambda: _indexed(folder)) for _ in range(2))
    whole = computing(lambda: verify(folder))
    starts = [computing(lambda: new_call(site, folder, Clock(True, NOW))[2].close()) for _ in range(6)][1:]
    size = (folder / INDEX).stat().st_size / 1e6
    print(f"{count} calls, {lines} lines: index {index[0]:.2f} s, {1e3 * index[1] / count:.2f} ms of processor a call, "
          f"{size:.1f} MB, again {again[0]:.3f} s; verify the folder {whole[0]:.2f} s, "
          f"{1e3 * whole[1] / count:.2f} ms of processor a call; "
          f"a new call starts in {median(w for w, _ in starts):.3f} s, {median(c for _, c in starts):.3f} s of processor",
          flush=True)  # fmt: skip


def _indexed(folder: Path) -> None:
    with Index(folder) as index:
        index.refresh()


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--counts", nargs="+", type=int, default=[10, 1000, 100_000])
    parser.add_argument("--in", dest="where", help="a folder on the disk that is measured, with room")
    parser.add_argument("--of", metavar="FOLDER", help="instead: a folder of calls that is there, without its index")
    given = parser.parse_args()
    if given.of:
        logs = list(Path(given.of).glob("*/events.jsonl"))
        many(Path(given.of), len(logs), sum(log.read_bytes().count(b"\n") for log in logs))
        return
    with tempfile.TemporaryDirectory(dir=given.where) as made:
        appends(Path(made))
        long_call(Path(made))
    for count in given.counts:
        with tempfile.TemporaryDirectory(dir=given.where) as made:
            many(Path(made) / "calls", count, make(Path(made) / "calls", count))


if __name__ == "__main__":
    main()
