"""Files for readers: written whole or not at all, readable by the group that may read them, and never over anything else."""

import os
import tempfile
from pathlib import Path

from assistant.record.log import DiskTrouble

PAGE = "<!doctype html"
PAGE_MODE, PAGES_MODE = 0o640, 0o750
"""A page is for its owner's group; the logs it was made from are their owner's alone."""


def written(target: Path, text: str, begins: str = PAGE) -> Path:
    """Write a page, or another file for readers, in one move.

    Args:
        target: where it goes.
        text: the whole of it.
        begins: how a file of this kind begins: what is there already and begins otherwise is not written over.

    Raises:
        ValueError: something else is there.
        DiskTrouble: it cannot be written.
    """
    if not may_be_replaced(target, begins.encode()):
        raise ValueError(f"{target} is there and is no page of this program; give another name")
    name = ""
    try:
        with tempfile.NamedTemporaryFile("w", dir=target.parent, delete=False, encoding="utf-8", newline="") as file:
            name = file.name
            file.write(text)
        os.chmod(name, PAGE_MODE)
        os.replace(name, target)
    except OSError as error:
        Path(name).unlink(missing_ok=True) if name else None
        raise DiskTrouble(f"cannot write {target}: {error.strerror or error}") from error
    return target


def may_be_replaced(target: Path, begins: bytes) -> bool:
    """Whether nothing is there, or a file of the same kind."""
    if not target.is_symlink() and not target.exists():
        return True
    if not target.is_file():
        return False
    try:
        with open(target, "rb") as file:
            return file.read(len(begins)).lower() == begins.lower()
    except OSError:
        return False


def folder_of_pages(target: Path) -> Path:
    """Make a folder for pages.

    Raises:
        DiskTrouble: it cannot be made.
    """
    try:
        for folder in reversed([target, *target.parents]):
            folder.mkdir(exist_ok=True, mode=PAGES_MODE) if not folder.exists() else None
        target.mkdir(exist_ok=True)
    except OSError as error:
        raise DiskTrouble(f"cannot write {target}: {error.strerror}") from error
    return target
