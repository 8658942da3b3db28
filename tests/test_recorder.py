"""A live call's answers as a recording that `replay` takes."""

import csv
import json
import tomllib
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from assistant.call.effects import Listen
from assistant.call.facts import CallOpened, Fact, ReadingTaken
from assistant.fronts.recorder import Tape, meant
from assistant.fronts.recording import load
from assistant.hearing.decision import Hearing
from assistant.language.meaning import Answer, Command, Confirmed, NotUnderstood, Part, Question
from assistant.profile import DEMO_SITE
from assistant.record.log import Log

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
