"""Something that takes long says that it is still at it: silence while it runs is a fault."""

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

EVERY_S = 5.0


@contextmanager
def told(out: Callable[[str], None], words: str, every_s: float = EVERY_S) -> Iterator[None]:
    """Say what is being done, and every few seconds that it goes on.

    Args:
        out: takes each line.
        words: what is done, as in "Loading the recogniser".
        every_s: seconds between two lines.
    """
    out(f"{words} ...")
    done, began = threading.Event(), time.monotonic()

    def still() -> None:
        while not done.wait(every_s):
            out(f"  still at it, {time.monotonic() - began:.0f} s")

    thread = threading.Thread(target=still, daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()
