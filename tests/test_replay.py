"""Recorded calls give the log they gave before."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from assistant.call.heard import Heard, Unclear
from assistant.cli import main
from assistant.fronts import recording as replaying
from assistant.fronts.loop import Clock
from assistant.fronts.recording import RecordedFront, Row, Sounds, carry, demo, load, mixed, replay
from assistant.fronts.replays import Run, write_junit
from assistant.language.meaning import Question
from assistant.paths import data_folder
from assistant.profile import DEMO_SITE, load_profile
from assistant.record.log import read
from tests.recorded_calls import CALLS, Remembering, Replayed, ear_of


def _no_model() -> str:
    from assistant.hearing.model import ModelMissing, model_folder

    try:
        model_folder()
    except ModelMissing as missing:
        return str(missing)
    return ""


needs_model = pytest.mark.skipif(bool(_no_model()), reason=_no_model() or "the model is there")


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    return Path(shutil.copytree(data_folder("demo_audio") / "coil_failed", tmp_path / "coil_failed"))


@pytest.fixture
def heard_before(heard: Callable[[str], Replayed], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Remembering:
    """The ear that has replayed the call of the coil knows its sounds; and no speaker, for a call lasts minutes aloud."""
    ear = ear_of(heard("coil_failed"))
    monkeypatch.setattr(replaying, "open_ear", lambda: ear)
    monkeypatch.setattr(replaying, "_speaker", lambda: None)
    return ear


class Deaf:
    """An ear that makes out what it is told to."""

    def __init__(self, *words: str) -> None:
        self.words = list(words)
        self.played = 0

    def hear(self, samples: np.ndarray, question: Question) -> "Deaf":
        self.played += 1
        return self

    def fact(self, at: object, audio: str = "") -> Heard | Unclear:
        word = self.words.pop(0) if self.words else ""
        return Heard(word, at) if word else Unclear(at)  # type: ignore[arg-type]


# ---- the three calls


@needs_model
@pytest.mark.parametrize("name", CALLS)
def test_a_recorded_call_is_heard_to_its_seal_with_the_same_facts(name: str, heard: Callable[[str], Replayed]) -> None:
    call = heard(name)
    lines = call.lines
    assert call.code == 0, "\n".join(lines)
    assert len(lines) == 1
    assert lines[0].startswith(f"{name}: same, ")
    assert lines[0].endswith(" readings, sealed")


@needs_model
@pytest.mark.usefixtures("heard_before")
def test_a_reading_that_differs_is_shown_as_expected_and_got(copied: Path) -> None:
    file = copied / "expected.jsonl"
    lines = file.read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if '"injection_coil_ohms"' in line)
    true = lines[at]
    lines[at] = json.dumps(json.loads(true) | {"value": 410.0, "unit": "ohm"})
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    out: list[str] = []
    assert replay(copied, out.append) == 1
    assert out[0].startswith("coil_failed: different ('- ' expected, '+ ' got); first apart: line ")
    assert ", step coil, " in out[0]
    assert out[0].endswith(" s into the call")
    assert f"- {lines[at]}" in out
    assert f"+ {true}" in out


@needs_model
@pytest.mark.usefixtures("heard_before")
def test_a_new_recording_gets_its_expected_log_by_accepting_what_was_shown(copied: Path, tmp_path: Path) -> None:
    file = copied / "expected.jsonl"
    before = file.read_text(encoding="utf-8")
    file.unlink()
    with pytest.raises(ValueError, match="--accept writes it"):
        replay(copied, print)
    out: list[str] = []
    assert replay(copied, out.append, keep=tmp_path / "calls", accept=True) == 0
    assert file.read_text(encoding="utf-8") == before
    assert [line.removeprefix("+ ") for line in out if line.startswith("+ ")] == before.splitlines()
    assert any(str(tmp_path / "calls") in line for line in out)
    assert read(next((tmp_path / "calls").glob("*-*"))).sealed


def test_a_call_that_does_not_come_to_its_seal_is_not_accepted(copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replaying, "open_ear", Deaf)
    before = (copied / "expected.jsonl").read_text(encoding="utf-8")
    out: list[str] = []
    assert replay(copied, out.append, accept=True) == 1
    assert "heard: nothing clear, nothing clear, nothing clear" in out[0]
    assert out[-1] == "coil_failed: not accepted, it did not come to its seal"
    assert (copied / "expected.jsonl").read_text(encoding="utf-8") == before


def test_the_runs_are_told_to_a_test_server_as_junit_xml(tmp_path: Path) -> None:
    failed = Run("calls/b_failed", 1, 2.0, ("b_failed: different", "- <a>", "+ b"))
    runs = [failed, Run("calls/a_same", 0, 1.5, ("a_same: same",))]
    write_junit(runs, tmp_path / "runs.xml")
    suite = ElementTree.parse(tmp_path / "runs.xml").getroot()
    assert (suite.tag, suite.get("tests"), suite.get("failures"), suite.get("time")) == ("testsuite", "2", "1", "3.50")
    assert [(case.get("name"), case.find("failure") is not None) for case in suite] == [("a_same", False), ("b_failed", True)]
    failure = suite[1].find("failure")
    assert failure is not None
    assert failure.text == "b_failed: different\n- <a>\n+ b"


@needs_model
@pytest.mark.usefixtures("heard_before")
def test_the_demo_leaves_a_sealed_log_and_a_report_and_names_both(tmp_path: Path) -> None:
    out: list[str] = []
    site = load_profile(DEMO_SITE)
    assert demo(site, tmp_path, out.append) == 0
    log, report = (Path(line.removeprefix(named)) for named in ("Log: ", "Report: ") for line in out if line.startswith(named))
    assert read(log).sealed
    assert "injection coil" in report.read_text(encoding="utf-8").lower()
    assert any("Injection coil failed. Proven." in line for line in out)
    assert any('> "open line"' in line for line in out)


@needs_model
@pytest.mark.usefixtures("heard_before")
def test_the_demo_runs_again_and_again_beside_its_earlier_calls(tmp_path: Path) -> None:
    site = load_profile(DEMO_SITE)
    assert [demo(site, tmp_path, lambda _: None) for _ in range(3)] == [0, 0, 0]
    assert main(["verify", str(tmp_path)]) == 0


# ---- what the recording does at a question


def _front(folder: Path, ear: Deaf) -> tuple[RecordedFront, Clock]:
    recording = load(folder)
    clock = Clock(True, recording.start)
    return RecordedFront(recording, Sounds(folder), ear, clock), clock


def test_an_answer_that_stays_unclear_is_said_three_times_then_the_step_is_named(copied: Path, tmp_path: Path) -> None:
    ear = Deaf()
    front, clock = _front(copied, ear)
    carry(front, clock, load_profile(DEMO_SITE), tmp_path)
    assert ear.played == 3
    assert front.state == "interrupted"
    assert front.trouble.startswith("step where, asking rack: ")


def test_a_question_without_an_answer_ends_the_replay_with_its_step(copied: Path, tmp_path: Path) -> None:
    file = copied / "answers.csv"
    rows = file.read_text(encoding="utf-8").splitlines()
    file.write_text("\n".join(r for r in rows if ",fit_to_start," not in r) + "\n", encoding="utf-8")
    front, clock = _front(copied, Deaf("north store rack b three", "yes", "understood", "understood"))
    carry(front, clock, load_profile(DEMO_SITE), tmp_path)
    assert front.trouble == "step fit, asking fit_to_start: the recording has no answer for it"


@pytest.mark.parametrize(
    ("asking", "written", "id_", "value", "meant"),
    [
        ("watch.amps", "21", "watch.amps", 21.0, True),
        ("watch.amps", "21", "watch.amps", 20.0, False),
        ("injection_coil_ohms", "over_range", "injection_coil_ohms", "over_range", True),
        ("injection_coil_ohms", "over_range", "injection_coil_ohms", 410.0, False),
        ("site", "site=North; rack=b; compressor=two", "rack", "b", True),
        ("site", "site=North; rack=b; compressor=two", "rack", "c", False),
        ("locked_out", "done", "locked_out", True, True),
        ("locked_out", "done", "locked_out", "someone_else", False),
        ("watch.amps", "21", "skip", "watch_last", False),
    ],
)
def test_yes_is_said_only_to_what_was_meant(asking: str, written: str, id_: str, value: float | str | bool, meant: bool) -> None:
    assert Row("", asking, written, "").means(id_, value) is meant


# ---- faults


@pytest.mark.parametrize("name", ["call.toml", "answers.csv", "expected.jsonl"])
def test_a_recorded_call_without_one_of_its_files_says_which(copied: Path, name: str) -> None:
    (copied / name).unlink()
    with pytest.raises(ValueError, match=f"coil_failed is no recorded call: {name} is missing"):
        replay(copied, print)


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"there is no folder .*nowhere"):
        replay(tmp_path / "nowhere", print)


def test_a_missing_sound_file_is_named(copied: Path) -> None:
    with pytest.raises(ValueError, match=r"gone\.flac"):
        Sounds(copied).get("gone.flac")


# ---- noise


def test_noise_lies_under_the_speech_at_the_ratio_asked_for_and_the_same_each_time() -> None:
    speech = np.zeros(48_000, np.int16)
    speech[16_000:32_000] = (6000 * np.sin(np.arange(16_000) * 0.2)).astype(np.int16)
    noise = np.random.default_rng(7).normal(0, 900, 9_000).astype(np.int16)
    both = mixed(speech, noise, 10.0, 4711)
    under = both.astype(float) - speech
    ratio_db = 10 * np.log10((speech[16_000:32_000].astype(float) ** 2).mean() / (under**2).mean())
    assert ratio_db == pytest.approx(10.0, abs=0.2)
    assert np.array_equal(both, mixed(speech, noise, 10.0, 4711))
    assert not np.array_equal(both, mixed(speech, noise, 10.0, 4712))
