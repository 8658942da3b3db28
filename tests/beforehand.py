"""Long work that several tests ask about is done once, in processes of its own, while the other tests run.

One process for each processor that this program may use: on one processor one thing is done after the other. Every piece of it
waits for what happens and not for a time, so a processor that is shared makes it late and not wrong.
"""

import os
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any


class Beforehand:
    """Pieces of work by name. A piece is begun in its turn, and waited for by whoever wants what it came to."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None
        self._begun: dict[str, Future[Any]] = {}

    def begin(self, name: str, work: Callable[..., Any], *given: Any) -> None:
        """Do this when its turn comes; nothing happens when it was begun before."""
        if name not in self._begun:
            # A fresh process for each piece: nothing of an earlier one is loaded, locked or left over.
            self._pool = self._pool or ProcessPoolExecutor(processors(), get_context("spawn"), max_tasks_per_child=1)
            self._begun[name] = self._pool.submit(work, *given)

    def result(self, name: str) -> Any:
        """What it came to; raises what it raised."""
        return self._begun[name].result()

    def close(self) -> None:
        """What has not begun is not begun; what has is waited for, so that it leaves nothing running."""
        if self._pool:
            self._pool.shutdown(cancel_futures=True)


def processors() -> int:
    """How many this program may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
