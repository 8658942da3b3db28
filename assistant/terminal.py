"""What the program shares with the terminal, the shell and the system: its three streams, and the signals that end it."""

import contextlib
import ctypes
import io
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from assistant.fronts.stopped import Stopped

_ESCAPES = dict.fromkeys((*range(0x20), 0x7F, *range(0x80, 0xA0), *range(0x202A, 0x202F), *range(0x2066, 0x206A)), "�")
del _ESCAPES[ord("\n")], _ESCAPES[ord("\t")]


_NO_TABLES = "COOLPROP_DISABLE_SUPERANCILLARIES_ENTIRELY"


def plain(text: str) -> str:
    """Text from a file as it may go to a terminal: what would move its cursor, colour it or turn its writing is shown as a mark.

    >>> plain("a\\x1b[2Jb")
    'a�[2Jb'
    """
    return text.translate(_ESCAPES)


def three_streams() -> None:
    """Have the three streams open, and ready for any text.

    Where one was closed by whoever started the program, the next file that it opens would take its number: a log, into which
    a library then prints. An empty stream takes its place.
    """
    while (handle := os.open(os.devnull, os.O_RDWR)) <= 2:
        pass
    os.close(handle)
    if sys.stdin is None:
        sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    if sys.stdout is None:
        sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")  # one odd byte from a keyboard must not end a call
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")  # a terminal that knows ASCII only shows what it can


def finish(code: int) -> int:
    """Have on its way what was printed. Returns the exit code: 3 where it cannot be written."""
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        nobody_reads()
        return 3
    except (OSError, ValueError) as error:
        nobody_reads()
        print(f"rackcall: what it has to say cannot be written ({error})", file=sys.stderr)
        return 3
    return code


def nobody_reads() -> None:
    """What is still to be printed goes nowhere: else the system's word about it comes after ours."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        try:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        except (OSError, ValueError):
            sys.stdout = None


@contextmanager
def without_its_tables() -> Iterator[None]:
    """CoolProp imported in here leaves out its own tables of saturation: half a second instead of four and more. What its
    C++ prints about that goes nowhere; on the pipe it would stand among the messages."""
    before = os.environ.get(_NO_TABLES)
    os.environ[_NO_TABLES] = "1"
    with contextlib.suppress(OSError, ValueError, AttributeError):
        sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    try:
        yield
    finally:
        with contextlib.suppress(OSError, AttributeError):
            ctypes.CDLL(None).fflush(None)  # what it keeps back would come out as the program ends
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
        if before is None:
            del os.environ[_NO_TABLES]  # a program that is started from here would print it


@contextmanager
def ended_by_signals() -> Iterator[None]:
    """A closed window and a machine that goes down end a call as its own end does: with an `end`, and a whole log."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    names = [signal.SIGTERM, *([signal.SIGHUP] if hasattr(signal, "SIGHUP") else [])]
    before = {one: signal.getsignal(one) for one in names}
    for one in names:
        if before[one] != signal.SIG_IGN:  # whoever started it wants it to outlive its window
            signal.signal(one, _stop)
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def _stop(number: int, frame: FrameType | None) -> None:
    for one in (signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)):
        signal.signal(one, signal.SIG_IGN)  # once is enough: what it is doing now is ending
    raise Stopped(signal.Signals(number).name)
