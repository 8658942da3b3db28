"""A live call's answers as a recording that `replay` takes."""

import csv
import json
import tomllib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from assistant.call.effects import Listen
from assistant.call.facts import CallOpened, Fact, ReadingTaken
from assistant.call.heard import Heard
from assistant.fronts.kept import record_kept
from assistant.fronts.loop import PROFILE
from assistant.fronts.pipe import ask_message
from assistant.fronts.recorder import Tape, meant
from assistant.fronts.recording import load
from assistant.hearing.decision import Hearing
from assistant.language.meaning import Answer, Command, Confirmed, NotUnderstood, Part, Question
from assistant.profile import DEMO_SITE
from assistant.record.log import Log
from assistant.sound.audio_file import Samples, write_audio
from tests.simulated import Rack
from tests.talk import Talk

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
SOUND = np.full(8000, 500, np.int16)


def asked(asking: str, of: str = "") -> Listen:
    return Listen(Question(asking, of=of), "step", "kind", None)


def heard(words: str, status: str, value: object, meaning: object) -> Hearing:
    return Hearing(words, status, value, None, 1.0, 200, meaning)  # type: ignore[arg-type]


@pytest.fixture
def recording(tmp_path: Path) -> Path:
    tape = Tape()
    log = Log(tmp_path / "call")
    facts: list[Fact] = [CallOpened("store", "x", "test")]
    fifteen = Answer((Part("rack_suction_pressure", 15.0),))
    tape.hear(asked("rack_suction_pressure"), heard("fifteen", "confirm", 15.0, fifteen), SOUND)
    tape.hear(asked("confirm", "rack_suction_pressure"), heard("yes", "accepted", "yes", Confirmed(True)), SOUND)
    facts.append(ReadingTaken("rack_suction_pressure", 15.0, "psig", "rack_suction", "fifteen", "asked back"))
    for fact in facts:
        log.append(fact, NOON)
        tape.fact(fact, NOON)
    tape.hear(asked("sight_glass"), heard("say again", "command", "repeat", Command("repeat")), SOUND)
    tape.hear(asked("sight_glass"), heard("mumble", "unclear", None, NotUnderstood()), SOUND)
    tape.hear(asked("sight_glass"), heard("empty", "accepted", "empty", Answer((Part("sight_glass", "empty"),))), SOUND)
    assert tape.unlike == ["say again"]
    assert tape.write(tmp_path / "made", tmp_path / "call", DEMO_SITE) == 1
    return tmp_path / "made"


def test_only_answers_that_counted_are_recorded_as_what_they_counted_for(recording: Path):
    with open(recording / "answers.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows == [{"file": "001_fifteen.flac", "asking": "rack_suction_pressure", "value": "15", "words": "fifteen"}]


def test_replay_can_load_it_with_its_start_its_site_and_its_yes(recording: Path):
    loaded = load(recording)
    assert loaded.start == NOON
    assert (recording / "yes.flac").is_file()
    assert tomllib.loads((recording / "profile.toml").read_text())["site"]["name"]
    expected = (recording / "expected.jsonl").read_text().splitlines()
    assert [json.loads(line)["id"] for line in expected] == ["rack_suction_pressure"]


def test_a_phrase_is_recorded_only_for_a_question_that_it_answers():
    assert meant(Question("control_volts"), "two thirty") == "230"
    assert meant(Question("command"), "say again") == "repeat"
    with pytest.raises(ValueError, match="'bubbles' is no answer to control_volts"):
        meant(Question("control_volts"), "bubbles")


class ByNumber:
    """An ear that knows each sound by its level, and what was said there."""

    def __init__(self, said: list[str]) -> None:
        self.said, self.words = said, ""

    def hear(self, samples: Samples, _question: Question) -> "ByNumber":
        self.words = self.said[int(samples[0]) - 1]
        return self

    def fact(self, at: datetime, audio: str = "") -> Heard:
        return Heard(self.words, at, audio=audio)


def test_a_call_that_kept_its_sound_becomes_a_recording_that_replays_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    call, rack, said = tmp_path / "2026-03-01_1200", Rack("injection_coil_failed"), list[str]()
    (call / "audio").mkdir(parents=True)
    talk = Talk()
    while not talk.dialogue.over:
        last = talk.effects[-1]
        assert isinstance(last, Listen)
        said.append("say again" if len(said) == 12 else rack.answer(ask_message(last)))
        name = f"audio/{len(said):05d}.flac"
        write_audio(call / name, np.full(8000, len(said), np.int16))
        talk.receive(Heard(said[-1], talk.now + timedelta(seconds=4), audio=name, sure=len(said) not in (7, 20)))
    talk.write(call)
    (call / PROFILE).write_bytes(DEMO_SITE.read_bytes())
    monkeypatch.setattr("assistant.fronts.recording.open_ear", lambda: ByNumber(said))
    told: list[str] = []
    assert record_kept(call, tmp_path / "made", told.append) == 0, told
    assert any("same" in words for words in told)
    assert '  "say again" steers or corrects: a replay does not say it' in told
    with pytest.raises(ValueError, match="already; give a new folder"):
        record_kept(call, tmp_path / "made", told.append)


def test_a_call_without_sound_is_no_recording(tmp_path: Path):
    call = Talk().to_the_seal(Rack("not_called")).write(tmp_path / "2026-03-01_1200")
    with pytest.raises(ValueError, match="was not spoken with --keep-audio"):
        record_kept(call, tmp_path / "made", print)
