"""A page as PDF, printed by the browser that the machine has."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from assistant.record.log import DiskTrouble

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge", "microsoft-edge")
"""Browsers that print from the command line, by the names that systems give them."""
_PATIENCE_S = 120


class BrowserMissing(Exception):
    """No browser is installed that could print."""


def browser() -> str:
    """The browser's program.

    Raises:
        BrowserMissing: there is none; says how to get one.
    """
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    if found is None:
        raise BrowserMissing("no browser to print with; install one (Debian: apt-get install chromium), or print it by hand")
    return found


def print_page(page: Path) -> Path:
    """Print a page into a PDF beside it.

    Raises:
        BrowserMissing: there is no browser.
        DiskTrouble: the browser wrote nothing.
    """
    program, target = browser(), page.with_suffix(".pdf")
    with tempfile.TemporaryDirectory() as made:
        printed = Path(made) / "page.pdf"
        words = [program, "--headless", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={made}/own",
                 f"--print-to-pdf={printed}"]  # fmt: skip
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            words.append("--no-sandbox")  # it refuses to start as root otherwise
        try:
            subprocess.run([*words, page.resolve().as_uri()], capture_output=True, timeout=_PATIENCE_S, check=False)
        except subprocess.TimeoutExpired as error:
            raise DiskTrouble(f"{program} did not print {page} within {_PATIENCE_S} s") from error
        if not printed.is_file():
            raise DiskTrouble(f"{program} could not print {page}")
        try:
            shutil.copyfile(printed, target)
            target.chmod(0o640)
        except OSError as error:
            raise DiskTrouble(f"cannot write {target}: {error.strerror}") from error
    return target
