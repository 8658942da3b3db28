"""The board of many calls: first build, second build after one new call, weights of the pages, memory, and how they grow.

python -m tests.bench.board [--counts 1000 10000 100000] [--in FOLDER]

Each count is a folder of its own and a process of its own. The calls are of `many_calls`: mostly short ones.
"""

import argparse
import json
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.many_calls import NOW, make


def build(folder: Path) -> None:
    """Build the board in this process; print seconds, memory and what was made, as JSON."""
    from assistant.record.board import write_board

    began, cpu = time.perf_counter(), time.process_time()
    found = write_board(folder, now=NOW)
    seconds, cpu = time.perf_counter() - began, time.process_time() - cpu
    memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
    print(json.dumps({"s": seconds, "cpu_s": cpu, "mb": memory_mb, "calls": found.calls, "reports": found.reports}))


def built(folder: Path) -> dict[str, float]:
    words = [sys.executable, "-m", "tests.bench.board", "--build", str(folder)]
    result: dict[str, float] = json.loads(subprocess.run(words, capture_output=True, text=True, check=True).stdout)
    return result


def measure(folder: Path, count: int) -> None:
    began = time.perf_counter()
    lines = make(folder, count)
    made_s = time.perf_counter() - began
    first = built(folder)
    make_one(folder, count)
    second = built(folder)
    same = built(folder)
    board = folder / "board"
    pages = sorted((page.stat().st_size, page.name) for page in board.glob("*.html"))
    print(f"\n{count} calls, {lines} lines, {lines / count:.0f} a call (made in {made_s:.0f} s)")
    print(f"  first build {first['s']:.1f} s, {1000 * first['cpu_s'] / count:.2f} ms of processor a call; "
          f"{first['reports']:.0f} pages of calls; "
          f"{first['mb']:.0f} MB of memory")  # fmt: skip
    print(f"  after one new call {second['s']:.2f} s, {second['cpu_s']:.2f} s of processor "
          f"({second['reports']:.0f} page of a call); "
          f"nothing new {same['s']:.2f} s, {same['cpu_s']:.2f} s of processor; {second['mb']:.0f} MB")  # fmt: skip
    heavy, scripts = pages[-1], max(file.stat().st_size for file in (board / "find").glob("*.js"))
    parquet = sum(file.stat().st_size for file in board.rglob("*.parquet"))
    print(f"  first page {(board / 'index.html').stat().st_size / 1e3:.0f} kB; the heaviest of {len(pages)} others {heavy[1]} "
          f"{heavy[0] / 1e3:.0f} kB; find {scripts / 1e3:.0f} kB a month at most; Parquet {parquet / 1e6:.1f} MB",
          flush=True)  # fmt: skip


def make_one(folder: Path, count: int) -> None:
    """One call more, today."""
    with tempfile.TemporaryDirectory() as made:
        make(Path(made), 1)
        (one,) = Path(made).glob("2*")
        from tests.bench.many_calls import stamped, templates

        lines = stamped(templates()[0], NOW, "Store 1", ("a", "one"), "Technician Ash", ("", "", ""))
        target = folder / f"{NOW:%Y%m%d-%H%M%S}-{count:08x}"
        shutil.copytree(one, target)
        (target / "events.jsonl").write_bytes(b"\n".join(lines) + b"\n")


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--counts", nargs="+", type=int, default=[1000, 10_000, 100_000])
    parser.add_argument("--in", dest="where", help="a folder with room for them")
    parser.add_argument("--build", help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.build:
        build(Path(given.build))
        return
    for count in given.counts:
        with tempfile.TemporaryDirectory(dir=given.where) as made:
            measure(Path(made) / "calls", count)


if __name__ == "__main__":
    main()
