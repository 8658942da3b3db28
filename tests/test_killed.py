"""The program itself is killed, in the middle of an answer too, and another goes on with its log: processes and SIGKILL."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from assistant.cli import main
from tests.attacks.technician import Technician

START = datetime.fromisoformat("2026-03-01T22:10:00-05:00")
ROOT = Path(__file__).parents[1]


class Program:
    """One process of the product on its pipe."""

    def __init__(self, *words: str, start: datetime = START) -> None:
        command = [sys.executable, "-m", "assistant.cli", *words, "--clock", "simulated", "--start", start.isoformat()]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )  # fmt: skip
        self.ask: dict[str, Any] | None = None
        self.said: list[str] = []
        self.asked: list[str] = []
        self.end = ""
        self._take()

    def _take(self) -> None:
        assert self.process.stdout
        self.ask, self.said = None, []
        for line in self.process.stdout:
            message = json.loads(line)
            if message["type"] == "say":
                self.said.append(message["text"])
            elif message["type"] == "ask":
                self.ask = message
                self.asked.append(message["asking"])
                return
            elif message["type"] == "end":
                self.end = message["state"]

    def send(self, words: str) -> None:
        assert self.process.stdin
        self.process.stdin.write(json.dumps({"say": words}) + "\n")
        self.process.stdin.flush()

    def answer(self, man: Technician) -> str:
        assert self.ask
        return man.answer({**self.ask, "said": " ".join(self.said), "prompt": (self.said or [""])[-1]})

    def until(self, man: Technician, there: Callable[[dict[str, Any]], bool]) -> None:
        for _ in range(400):
            if self.ask is None or there(self.ask):
                return
            self.send(self.answer(man))
            self._take()
        raise AssertionError(f"never asked; last {self.ask}")

    def kill(self) -> None:
        self.process.kill()
        self.process.communicate()


def log_of(calls: Path) -> Path:
    return next(calls.glob("*/events.jsonl")).parent


def last_line(log: Path) -> datetime:
    lines = [line for line in (log / "events.jsonl").read_text(encoding="utf-8").splitlines() if line.endswith("}")]
    return datetime.fromisoformat(json.loads(lines[-1])["at"])


@pytest.mark.parametrize("seconds", [5, -7200])
@pytest.mark.parametrize(("fault", "at"), [
    ("injection_coil_failed", "injection_coil_ohms"), ("module_no_output", "injection_feed"),
    ("drier_plugged", "section_emptied"),
])  # fmt: skip
def test_a_killed_program_leaves_a_whole_log_and_the_next_one_asks_for_the_lock_first(
    tmp_path: Path, fault: str, at: str, seconds: int
):
    man, first = Technician(fault, {}), Program("pipe", "--calls", str(tmp_path))
    first.until(man, lambda ask: ask["asking"] == at)
    first.send(first.answer(man))  # and it is killed before anybody knows whether that was written
    first.kill()
    log = log_of(tmp_path)
    second = Program("resume", str(log), "--pipe", start=last_line(log) + timedelta(seconds=seconds))
    assert second.asked[0] in ("command", "lock_still_on", "control_power_off")
    second.until(man, lambda ask: False)
    assert second.end == "sealed"
    assert main(["verify", str(log)]) == 0


def test_a_call_that_is_open_in_one_program_is_begun_in_no_other_and_what_it_left_is_open_in_the_next(tmp_path: Path):
    man, first = Technician("module_no_output", {}), Program("pipe", "--calls", str(tmp_path))
    first.until(man, lambda ask: ask["asking"] == "leads_clipped")
    log = log_of(tmp_path)
    second = Program("resume", str(log), "--pipe", start=last_line(log) + timedelta(seconds=60))
    assert second.ask is None
    first.kill()
    other = Technician("injection_coil_failed", {})
    third = Program("pipe", "--calls", str(tmp_path), start=START + timedelta(hours=2))
    third.until(other, lambda ask: ask["asking"] == "lock_still_on")
    assert "lock_still_on" in third.asked
    third.until(other, lambda ask: False)
    assert "jumper_removed" in third.asked
    assert third.end == "sealed"
