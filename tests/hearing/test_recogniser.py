"""The real recogniser on a synthetic voice (`make_audio.py`)."""

import csv
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.hearing.hear import ManifestFault, hear_manifest
from assistant.hearing.model import ModelMissing, model_folder
from assistant.hearing.recogniser import Listener, Recogniser, blocks
from assistant.language.meaning import Question
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import read_audio, write_audio

AUDIO = Path(__file__).with_name("audio")
_QUIET = np.zeros(8000, np.int16)


@pytest.fixture(scope="module")
def ear() -> Recogniser:
    try:
        return Recogniser(model_folder(), second=False)
    except ModelMissing as missing:
        pytest.skip(str(missing))


def _sound(name: str) -> np.ndarray:
    return np.concatenate([_QUIET, read_audio(AUDIO / f"{name}.flac"), _QUIET, _QUIET])


@pytest.mark.parametrize(
    ("name", "asking", "status", "value"),
    [
        ("one_forty_seven_point_three", "discharge_pressure", "accepted", 147.3),
        ("minus_twenty_five", "suction_temperature", "accepted", -25.0),
        ("twelve_k", "probe_ohms", "accepted", 12_000.0),
        ("yes", "leak_found", "accepted", "yes"),
        ("no", "leak_found", "accepted", "no"),
        ("dry", "injection_feed", "accepted", "dry"),
        ("bubbles", "sight_glass", "accepted", "bubbles"),
        ("say_again", "discharge_pressure", "command", "repeat"),
        ("go_back", "sight_glass", "command", "back"),
    ],
)
def test_what_is_said_into_a_quiet_microphone_is_heard(
    ear: Recogniser, name: str, asking: str, status: str, value: object
) -> None:
    heard = ear.hear(_sound(name), Question(asking))
    assert (heard.status, heard.value) == (status, value)
    assert heard.unit == (vocabulary()[asking].unit("us") if isinstance(value, float) else None)
    assert 0 <= (heard.late_ms or 0) <= 900


def test_a_number_with_a_close_rival_is_asked_back(ear: Recogniser) -> None:
    assert ear.hear(_sound("two_oh_eight"), Question("injection_coil_volts")).value == 208.0
    assert ear.hear(_sound("two_forty"), Question("injection_coil_volts")).status == "confirm"


def test_a_live_microphone_and_a_file_hear_the_same(ear: Recogniser) -> None:
    question = Question("injection_coil_volts")
    listener = Listener(ear, question)
    found = [heard for block in blocks(_sound("two_oh_eight")) if (heard := listener.feed(block))]
    assert [heard.value for heard in found] == [208.0]
    assert found[0] == ear.hear(_sound("two_oh_eight"), question)


@pytest.mark.parametrize("asking", ["discharge_pressure", "leak_found", "sight_glass"])
def test_talk_between_colleagues_answers_nothing(ear: Recogniser, asking: str) -> None:
    assert ear.hear(_sound("talk"), Question(asking)).status in ("unclear", "confirm")


@pytest.mark.parametrize("asking", ["discharge_pressure", "leak_found", "jumper_fitted", "command"])
def test_silence_and_a_steady_room_answer_nothing(ear: Recogniser, asking: str) -> None:
    room = np.random.default_rng(4).normal(0, 1500, 64_000).astype(np.int16)
    for sound in (np.zeros(32_000, np.int16), room):
        heard = ear.hear(sound, Question(asking))
        assert (heard.status, heard.value) == ("unclear", None)


def test_a_note_is_taken_down_as_it_was_said(ear: Recogniser) -> None:
    heard = ear.hear(np.concatenate([_sound("talk"), np.zeros(48_000, np.int16)]), Question("note"))
    assert heard.status == "accepted"
    assert "left the truck behind the" in str(heard.value)


def test_feed_and_volts_are_heard_in_one_breath(ear: Recogniser) -> None:
    breath = np.concatenate(
        [_QUIET, read_audio(AUDIO / "dry.flac"), read_audio(AUDIO / "two_oh_eight.flac"), _QUIET]
    )
    question = Question("injection_feed", also=("injection_coil_volts", "valve_click"))
    heard = ear.hear(np.concatenate([breath, _QUIET]), question)
    assert "two oh eight" in heard.text
    assert heard.value == "dry"


@pytest.mark.parametrize("id", list(vocabulary()))
def test_the_words_of_every_question_are_in_the_speech_model(ear: Recogniser, id: str) -> None:
    typed = ear.unheard(Question(id))
    assert not [phrase for phrase in typed if phrase in vocabulary()[id].choices]
    # Words that only a keyboard gives: each question has other words for the same answer that the ear knows.
    only_typed = (
        "'s", "carboned", "gunked", "defrosts", "overfull", "windings", "valved", "brazed", "overcurrent", "undervoltage",
        "subcooler", "clunked", "jumpered",
    )  # fmt: skip
    assert all(any(word in phrase for word in only_typed) for phrase in typed), typed


def test_a_bad_file_is_one_line_of_the_answer_and_the_rest_goes_on(ear: Recogniser, tmp_path: Path) -> None:
    (tmp_path / "empty.wav").write_bytes(b"")
    (tmp_path / "letter.wav").write_text("Dear store, the rack is down again. " * 20)
    write_audio(tmp_path / "cut.wav", read_audio(AUDIO / "yes.flac"))
    (tmp_path / "cut.wav").write_bytes((tmp_path / "cut.wav").read_bytes()[:-3000])
    both = np.repeat(read_audio(AUDIO / "dry.flac")[:, None], 2, axis=1)
    soundfile.write(tmp_path / "stereo.wav", both, 16_000, subtype="PCM_24")
    rows = [
        (str(AUDIO / "dry.flac"), "injection_feed"),
        ("empty.wav", "leak_found"),
        ("letter.wav", "leak_found"),
        ("cut.wav", "leak_found"),
        ("stereo.wav", "injection_feed"),
        (str(AUDIO / "yes.flac"), "leak_found"),
        (str(AUDIO / "yes.flac"), "no_such_question"),
        ("gone.wav", "leak_found"),
    ]
    with open(tmp_path / "list.csv", "w", newline="") as file:
        csv.writer(file).writerows([("file", "asking"), *rows])
    lines = list(hear_manifest(tmp_path / "list.csv"))
    assert [line["file"] for line in lines] == [name for name, _ in rows]
    states = ["accepted", "error", "error", "error", "accepted", "accepted", "error", "error"]
    assert [line["status"] for line in lines] == states
    assert str(lines[1]["error"]).endswith("empty.wav: the file is empty")
    assert "letter.wav: not a sound file" in str(lines[2]["error"])
    assert "cut.wav: cut short" in str(lines[3]["error"])


def test_a_manifest_without_its_columns_is_refused(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("sound,question\n")
    with pytest.raises(ManifestFault, match="no column 'file'"):
        hear_manifest(tmp_path / "list.csv")
