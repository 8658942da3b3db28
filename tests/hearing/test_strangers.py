"""Both ears on voices that neither was trained on: pauses inside a number, slow numbers, single short commands.

`tests/bench/make_voices.py` made the recordings; they were taken as they came, the first of each kind.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from assistant.hearing.model import ModelMissing, model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.meaning import Question
from assistant.sound.audio_file import read_audio

FOLDER = Path(__file__).with_name("audio") / "strangers"
with open(FOLDER / "manifest.csv", newline="", encoding="utf-8") as _file:
    ROWS = list(csv.DictReader(_file))
NUMBERS = [row for row in ROWS if row["is"] == "value"]
COMMANDS = [row for row in ROWS if row["is"] == "command" and row["text"] != "note"]
(NOTE,) = (row for row in ROWS if row["text"] == "note")


@pytest.fixture(scope="module")
def ear() -> Recogniser:
    try:
        made = Recogniser(model_folder())
    except ModelMissing as missing:
        pytest.skip(str(missing))
    if made.second is None:
        pytest.skip("the second ear does not run here")
    return made


def _sound(row: dict[str, str]) -> np.ndarray:
    quiet = np.zeros(8000, np.int16)
    return np.concatenate([quiet, read_audio(FOLDER / row["file"]), quiet, quiet, quiet])


@pytest.mark.parametrize("row", NUMBERS, ids=lambda row: row["file"])
def test_a_number_with_a_pause_or_said_slowly_is_heard_whole(ear: Recogniser, row: dict[str, str]):
    heard = ear.hear(_sound(row), Question(row["asking"]))
    assert heard.value == float(row["expected"])
    assert heard.status in ("accepted", "confirm")


@pytest.mark.parametrize("row", COMMANDS, ids=lambda row: row["file"])
def test_a_single_short_command_is_heard(ear: Recogniser, row: dict[str, str]):
    heard = ear.hear(_sound(row), Question(row["asking"]))
    assert (heard.status, heard.value) == ("command", row["expected"])


def test_note_alone_is_so_near_to_nope_that_it_may_be_asked_for_again_but_is_no_answer(ear: Recogniser):
    heard = ear.hear(_sound(NOTE), Question(NOTE["asking"]))
    assert (heard.status, heard.value) in (("command", "note"), ("unclear", None))
