"""Malformed input on every command: a clear sentence, the right exit code, no traceback."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.simulated import Rack, drive

ROOT = Path(__file__).parent.parent


def rackcall(*words: str, said: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "assistant.cli", *words], capture_output=True, text=True, input=said, cwd=ROOT)


@pytest.fixture(scope="module")
def call(tmp_path_factory: pytest.TempPathFactory) -> Path:
    messages = drive(Rack("not_called"), tmp_path_factory.mktemp("calls"))
    assert messages[-1]["state"] == "sealed"
    return Path(messages[-1]["call"])


def test_a_sealed_call_is_verified_shown_and_reported(call: Path, tmp_path: Path):
    assert rackcall("verify", str(call)).returncode == 0
    assert "not called: proven" in rackcall("show", str(call)).stdout
    assert rackcall("report", str(call), "--out", str(tmp_path / "page.html")).returncode == 0
    assert "Guidance only" in (tmp_path / "page.html").read_text()


def test_a_flipped_byte_is_named_with_its_line(call: Path, tmp_path: Path):
    data = bytearray((call / "events.jsonl").read_bytes())
    data[len(data) // 2] ^= 1
    (tmp_path / "events.jsonl").write_bytes(bytes(data))
    got = rackcall("verify", str(tmp_path))
    assert got.returncode == 1
    assert "line" in got.stdout
    assert rackcall("show", str(tmp_path)).returncode == 1


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("show", "nowhere"), 2, "there is no call"),
        (("verify", "nowhere"), 2, "there is no call"),
        (("report", "nowhere"), 2, "there is no call"),
        (("resume", "nowhere"), 2, "there is no call"),
        (("profile", "check", "nowhere.toml"), 2, "nowhere.toml"),
        (("type", "--profile", "nowhere.toml"), 2, "nowhere.toml"),
        (("pipe", "--start", "yesterday"), 2, "not a time"),
        (("pipe", "--start", "2026-03-01T10:00:00"), 2, "offset"),
        (("hear", "--asking", "nonsense", "x.wav"), 2, "not an id"),
        (("hear",), 2, "--manifest"),
        (("verify", "nowhere", "--head", "abc"), 2, "at least 8 digits"),
        (("replay", "nowhere"), 2, "nowhere"),
        (("replay", "x", "--snr", "5"), 2, "go together"),
        (("frobnicate",), 2, "invalid choice"),
        (("procedure", "check", "--at-most", "-1"), 2, "is no number from 1 on"),
        (("procedure", "check", "nowhere"), 2, "no such folder"),
        (("procedure", "draw", "nowhere"), 2, "no such folder"),
    ],
)  # fmt: skip
def test_wrong_words_get_a_sentence_and_exit_2(words: tuple[str, ...], code: int, says: str):
    got = rackcall(*words)
    assert got.returncode == code, got.stderr
    assert says in got.stderr
    assert "Traceback" not in got.stderr


def test_a_profile_with_faults_names_each_with_its_line(tmp_path: Path):
    text = (ROOT / "assistant" / "demo_site.toml").read_text()
    bad = text.replace('refrigerant = "R22"', 'refrigerant = "R23"').replace('mount = "dry_well"', 'mount = "somewhere"', 1)
    file = tmp_path / "site.toml"
    file.write_text(bad)
    got = rackcall("profile", "check", str(file))
    assert got.returncode == 1
    lines = bad.splitlines()
    for word in ("R23", "somewhere"):
        number = next(i for i, line in enumerate(lines, 1) if word in line)
        assert f"line {number}: " in got.stdout
        assert word in got.stdout
    assert rackcall("profile", "check", "assistant/demo_site.toml").returncode == 0


def test_text_that_is_none_is_asked_again_and_ends_no_call(tmp_path: Path):
    got = rackcall("pipe", "--calls", str(tmp_path), "--clock", "simulated", said='{"say": "\\ud83d"}\n')
    messages = [json.loads(line) for line in got.stdout.splitlines()]
    assert messages[-1]["type"] == "end"
    assert any(m["type"] == "say" and "Say" in m["text"] for m in messages)
    assert got.returncode == 0


def test_a_broken_line_in_the_pipe_gets_an_error_and_the_question_stands(tmp_path: Path):
    said = 'not json\n{"say": 5}\n{}\n{"say": "x", "after_s": -1}\n{"say": "north store a two"}\n'
    got = rackcall("pipe", "--calls", str(tmp_path), "--clock", "simulated", said=said)
    messages = [json.loads(line) for line in got.stdout.splitlines()]
    assert sum(m["type"] == "error" for m in messages) == 4
    assert any(m["type"] == "reading" and m["id"] == "rack" and m["value"] == "a" for m in messages)
    assert messages[-1] == {"type": "end", "state": "interrupted", "call": messages[-1]["call"]}
    assert got.returncode == 0


def test_an_interrupted_call_goes_on_with_resume(tmp_path: Path):
    rackcall("pipe", "--calls", str(tmp_path), "--clock", "simulated", said='{"say": "north store a two"}\n')
    got = rackcall("resume", "--pipe", "--clock", "simulated", "--calls", str(tmp_path), said="")
    messages = [json.loads(line) for line in got.stdout.splitlines()]
    assert "Taken up again" in messages[0]["text"]
    assert [m["step"] for m in messages if m["type"] == "ask"] == ["fit/room"]


def test_a_keyboard_call_reads_its_lines_and_its_end_is_no_fault(tmp_path: Path):
    got = rackcall("type", "--calls", str(tmp_path), said="north store a two\n")
    assert "Rack and compressor?" in got.stdout
    assert "The call is interrupted" in got.stdout
    assert got.returncode == 0


@pytest.mark.parametrize("command", [("board",), ("procedure", "check"), ("procedure", "draw"), ("profile", "new")])
def test_the_help_of_every_command_says_what_it_is_for(command: tuple[str, ...]):
    first = rackcall(*command, "--help").stdout.split("\n\n")[1]
    assert len(first.split()) > 3
    assert "usage" not in first


def test_every_command_is_in_the_readme():
    readme = (ROOT / "README.md").read_text()
    for name in ("demo", "talk", "type", "resume", "pipe", "replay", "hear", "show", "report", "board", "verify", "forget",
                 "key new", "index", "ready", "record", "procedure check", "procedure draw", "profile new", "profile check",
                 "model"):  # fmt: skip
        assert f"`rackcall {name}" in readme


def test_the_library_of_properties_prints_nothing_among_what_is_said():
    """Its C++ prints a line about the tables that are left out; the pressures are its own without them."""
    program = (
        "from assistant.cli import _quick_properties; from assistant.trade.refrigerant import coolprop; print('before')\n"
        "_quick_properties(at_once=True); print(round(coolprop().PropsSI('P', 'T', 273.15, 'Q', 1, 'R22') / 1000))"
    )
    home = Path(__file__).parents[1]
    said = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=home).stdout
    assert said == "before\n498\n"  # kPa at 0 C: ASHRAE Handbook Fundamentals, tables of R-22
