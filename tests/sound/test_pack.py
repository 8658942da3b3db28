"""The natural voice: what it has, what it puts together, and what it leaves whole to the engine."""

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from assistant.language.numbers import spoken_number
from assistant.paths import data_folder
from assistant.sound import narrator
from assistant.sound.audio_file import RATE_HZ
from assistant.sound.narrator import Narrator
from assistant.sound.pace import at_pace
from assistant.sound.pack import Pack, Part, file_name, key
from assistant.sound.voice import Voice
from models.voice import make, texts

RUN = "run: python -m models.voice.make --kokoro FOLDER (models/voice/README.md)"


@cache
def pack() -> Pack:
    return Pack()


def phrases(text: str) -> list[str] | None:
    plan = pack().plan(text)
    return plan and [part.phrase for part in plan]


def test_no_sentence_of_the_procedures_is_lacking():
    lacking = [said for said in texts.procedure_sentences() if key(said) not in pack()]
    assert not lacking, f"{len(lacking)} sentences are not in the pack, the first: {lacking[0]!r}; {RUN}"


def test_every_module_of_the_call_that_says_something_is_looked_through_for_the_pack():
    call = texts.ROOT / "assistant" / "call"
    says = re.compile(r"\.say\(\"|\.info\(\"|Reply\(\"")
    saying = {f"call/{file.name}" for file in call.glob("*.py") if says.search(file.read_text("utf-8"))}
    assert saying <= set(texts.SPOKEN_CODE)


@pytest.mark.parametrize("mark", [".", ","])
def test_every_whole_number_under_a_thousand_is_whole_or_its_hundreds_and_a_whole_number(mark: str):
    for n in range(1000):
        plan = phrases(f"{spoken_number(float(n))}{'.' if mark == '.' else ' quarts.'}")
        assert plan is not None, f"{n} is not in the pack; {RUN}"
        number = plan if mark == "." else plan[:-1]
        assert len(number) == 1 or (len(number) == 2 and number[0].endswith("-")), n
        assert number[-1].endswith(mark), n


def test_nothing_in_the_pack_is_stale_and_its_card_tells_of_it():
    wanted = {file_name(phrase) for phrase in texts.wanted()}
    kept = {file.name for file in make.SOUNDS.glob("*.opus")}
    card = json.loads((make.HERE / "pack.json").read_text(encoding="utf-8"))
    assert not kept - wanted, f"{len(kept - wanted)} phrases are spoken no more; {RUN}"
    assert (card["phrases"], card["sha256"]) == (len(kept), make.digest()), f"pack.json is of another pack; {RUN}"
    assert card["bytes"] < 15e6


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Two ten.", ["two ten."]),
        ("Suction twelve, discharge two ten.", ["suction,", "twelve,", "discharge,", "two ten."]),
        ("Two oh eight.", ["two oh eight."]),
        ("Five oh.", ["five,", "oh."]),
        ("Four eighty volts.", ["four eighty,", "volts."]),
        ("Two fifteen, two one five.", ["two fifteen,", "two,", "one,", "five."]),
        ("Line minus twelve point five degrees.", ["line,", "minus,", "twelve,", "point five,", "degrees."]),
        ("Still hooked up: meter leads, panel cover off. Say understood.",
         ["still hooked up,", "meter leads,", "panel cover off.", "say understood."]),
        ("30 minutes. Suction and discharge temperature?", ["thirty,", "minutes.", "suction and discharge temperature?"]),
        ("Volts across contact two, oil?", ["volts across contact,", "two,", "oil?"]),
    ],
)  # fmt: skip
def test_what_has_a_place_is_put_together_from_whole_phrases_with_the_melody_of_their_place(text: str, parts: list[str]):
    found = phrases(text)
    assert found is not None
    assert "|".join(found).replace("-|", " ").split("|") == parts  # hundreds that were not spoken with their number count as it


def test_a_number_and_its_unit_stand_close_a_clause_and_a_sentence_apart():
    assert Part("two-", joined=True).after_s == 0
    assert Part("ten,", joined=True).after_s < Part("ten,").after_s < Part("ten.").after_s


@pytest.mark.parametrize("text", [
    "Tallow Street Market, north store.", "Power off. Tallow Street.", "Two million three hundred.",
    "Seven thousand and one volts.",
    "Coil probe valve wire.", "", "?",
])  # fmt: skip
def test_what_the_pack_lacks_in_part_it_does_not_speak_at_all(text: str):
    assert pack().plan(text) is None
    assert pack().render(text) is None


def test_what_is_put_together_is_as_loud_throughout_and_has_no_click_at_its_joins():
    sound = pack().render("Suction twelve, discharge two ten.")
    assert sound is not None
    plan = pack().plan("Suction twelve, discharge two ten.")
    assert plan is not None
    for part in plan:
        one, _ = soundfile.read(pack().folder / file_name(part.phrase), dtype="int16")
        frames = (one[: len(one) // 320 * 320].astype(float).reshape(-1, 320) ** 2).mean(axis=1)
        loud = np.sqrt(frames[frames > frames.max() * 10**-2.5].mean())
        assert 20 * abs(np.log10(loud / make.RMS)) < 2
        assert max(abs(int(one[0])), abs(int(one[-1]))) < 150


class Told:
    """An engine that says what it was given."""

    def __init__(self) -> None:
        self.words_per_minute, self.texts = 0, list[str]()

    def render(self, text: str) -> Any:
        self.texts.append(text)
        return np.ones(1600, np.int16)


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch) -> Told:
    told = Told()
    monkeypatch.setattr(narrator, "Voice", lambda: told)
    return told


def test_a_trainers_new_sentence_is_spoken_at_once_whole_by_the_engine(engine: Told):
    voice = Narrator()
    voice.render("Power off. Warm the sump with a blanket.")
    assert engine.texts == ["Power off. Warm the sump with a blanket."]


def test_what_the_pack_has_never_comes_to_the_engine(engine: Told):
    sound = Narrator().render("Two ten.")
    assert engine.texts == []
    assert 0.4 < len(sound) / RATE_HZ < 2


def test_without_the_pack_the_engine_speaks_everything(engine: Told, monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    Narrator(Pack(tmp_path / "nothing")).render("Two ten.")
    monkeypatch.setenv(narrator.PLAIN, "1")
    Narrator().render("Two ten.")
    assert engine.texts == ["Two ten.", "Two ten."]


def test_slower_and_faster_change_how_long_it_lasts_and_not_its_pitch(engine: Told):
    voice = Narrator()
    usual = voice.render("Sight glass: full, bubbles or empty?")
    assert _pitch_hz(usual) > 0
    for pace in (100, 140, 220):
        voice.words_per_minute = pace
        changed = voice.render("Sight glass: full, bubbles or empty?")
        assert len(changed) / len(usual) == pytest.approx(160 / pace, rel=0.03)
        assert _pitch_hz(changed) == pytest.approx(_pitch_hz(usual), rel=0.05)


def test_at_its_own_pace_nothing_is_changed():
    sound = np.arange(5000, dtype=np.int16)
    assert at_pace(sound, 1.0) is sound


def _pitch_hz(sound: Any) -> float:
    """The middle of the pitches of the loud frames, by autocorrelation."""
    found = []
    for at in range(0, len(sound) - 640, 320):
        x = sound[at : at + 640].astype(float)
        if (x**2).mean() > 4e6:
            same = np.correlate(x, x, "full")[639:]
            lag = 40 + int(np.argmax(same[40:200]))
            found.append(RATE_HZ / lag)
    return float(np.median(found))


def test_the_pack_is_as_loud_as_the_engine():
    ours, plain = pack().render("Sight glass: full, bubbles or empty?"), Voice().render("Sight glass: full, bubbles or empty?")
    assert ours is not None
    level = [10 * np.log10((x.astype(float) ** 2).mean()) for x in (ours, plain)]
    assert abs(level[0] - level[1]) < 3


def test_the_pack_comes_with_the_package():
    assert Pack().folder == data_folder("models") / "voice" / "sounds"
