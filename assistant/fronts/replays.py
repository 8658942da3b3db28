"""Many recorded calls: one after the other or several at a time, told as they end, and as JUnit XML."""

import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from xml.etree import ElementTree

from assistant.fronts.recording import replay


@dataclass(frozen=True)
class Run:
    """What one recorded call came to."""

    folder: str
    code: int
    """0: the same."""
    seconds: float
    lines: tuple[str, ...]
    """What `replay` said of it."""


def replay_all(folders: Iterable[str], out: Callable[[str], None], jobs: int = 1, **how: Path | float | bool | None) -> list[Run]:
    """Replay recorded calls, each told when it ends.

    Args:
        folders: of recorded calls.
        out: takes each line.
        jobs: how many at a time, each in a process of its own.
        how: further arguments of `replay`.

    Raises:
        ValueError: a folder is no recorded call; says which.
        ModelMissing: there is no speech model.
    """
    runs = []
    for run in _runs(list(folders), jobs, partial(_one, how)):
        for line in run.lines:
            out(line)
        runs.append(run)
    return runs


def _runs(folders: list[str], jobs: int, one: Callable[[str], Run]) -> Iterator[Run]:
    if jobs == 1:
        yield from map(one, folders)
        return
    with ProcessPoolExecutor(jobs, get_context("spawn")) as pool:
        for done in as_completed([pool.submit(one, folder) for folder in folders]):
            yield done.result()


def _one(how: dict[str, Path | float | bool | None], folder: str) -> Run:
    lines: list[str] = []
    began = time.monotonic()
    code = replay(Path(folder), lines.append, **how)  # type: ignore[arg-type]
    return Run(folder, code, time.monotonic() - began, tuple(lines))


def write_junit(runs: Iterable[Run], file: Path) -> None:
    """The runs as JUnit XML, which test servers read: a case for each call, its lines where it failed."""
    runs = list(runs)
    suite = ElementTree.Element("testsuite", {
        "name": "recorded calls", "tests": str(len(runs)), "failures": str(sum(run.code != 0 for run in runs)),
        "time": f"{sum(run.seconds for run in runs):.2f}",
    })  # fmt: skip
    for run in sorted(runs, key=lambda run: run.folder):
        name = Path(run.folder).resolve().name
        case = ElementTree.SubElement(suite, "testcase", {"classname": "replay", "name": name, "time": f"{run.seconds:.2f}"})
        if run.code:
            failed = ElementTree.SubElement(case, "failure", {"message": run.lines[0] if run.lines else "different"})
            failed.text = "\n".join(run.lines)
    ElementTree.ElementTree(suite).write(file, encoding="utf-8", xml_declaration=True)
