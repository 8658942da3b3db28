"""The sense of a whole sentence takes the doubt off an answer with a tail, and doubts what only sounds like one. The sentences
are the project's own, and the network has learnt none of them."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.procedure import own_procedure
from assistant.language import sense
from assistant.language.agreed import CAUTION, CONFIRM, DANGER, NOT_SAFE
from assistant.language.by_example import examples
from assistant.language.placed import AMONG
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.sense import SenseMissing, likely, loaded
from assistant.language.vocabulary import vocabulary
from tests.language.other_words import AT_ONCE, NOT, OTHER, becomes, only_sounding
from tests.test_said_not_safe import standing_at

STEPS = {step.id: step for step in own_procedure().steps}
BESIDE = {CAUTION, NOT_SAFE, CONFIRM, DANGER, AMONG}
"""What no step asks."""
NOT_KNOWN: set[str] = set()
"""Steps that came after the sense was made: the tables and the examples go on alone there."""


def test_it_knows_each_step_that_has_examples_or_asks_for_numbers():
    asked = {step.id for step in STEPS.values() if step.ids and vocabulary()[step.ids[0]].kind in NUMBER_KINDS}
    assert (examples().keys() | asked) - loaded().steps.keys() == NOT_KNOWN


def test_each_answer_that_it_knows_is_one_of_a_look_or_of_the_vocabulary():
    for step, known in loaded().steps.items():
        if step in BESIDE:
            continue
        for meaning in set(known["answers"]) - {"go", "number"}:
            id_, value = meaning.split("=", 1)
            assert value in STEPS[step].tells if id_ == "tell" else id_ in vocabulary(), (step, meaning)


@pytest.mark.parametrize(("step", "meaning", "words"), [
    ("starter_wire_back", "go", "landed where it came from, the ferrule was bent so i straightened it first"),
    ("power_off", "control_power_off=true", "lamps in the panel died the second i threw it, my lock's through the hasp"),
    ("coil", "injection_coil_ohms=61", "sixty one, had to scrape the paint off the pin first"),
    ("glass", "defrost_state=none; sight_glass=full", "no defrost on the board, and that glass is clear right to the top"),
    ("oil_glass_first", "oil_level=low", "down below the bottom edge, had to get on my knees to see it at all"),
])  # fmt: skip
def test_an_answer_with_a_tail_that_no_table_has_counts(step: str, meaning: str, words: str):
    assert becomes(step, meaning, words) == AT_ONCE


@pytest.mark.parametrize(("step", "words"), [
    ("lock", "my padlock's through the hasp, i just have to fetch the key to close it"),
    ("clip_leads", "leads are on the coil, the one from the pump next to it"),
    ("power_off", "lamps died the moment i threw it, then they came back by themselves"),
    ("isolate", "all five shut, three by my own hand and two by what the day man told me"),
    ("glass", "clear to the top, on the picture they sent me this morning"),
    ("tell_store", "the night lead has it on her voicemail, box was full i think"),
    ("module_lamps", "lit, all but the bottom two i'd say"),
    ("coil", "sixty one is what they sold it to me as"),
])  # fmt: skip
def test_what_only_sounds_like_an_answer_does_not_count(step: str, words: str):
    assert becomes(step, "-", words) == NOT


def counted() -> int:
    """Of every tenth sentence: all of them take a minute."""
    return sum(becomes(step, "-", words) == OTHER for step, words in only_sounding()[::10])


def test_of_what_was_written_to_mislead_one_in_ten_counts_and_without_the_sense_more(monkeypatch: pytest.MonkeyPatch):
    with_it = counted()
    assert with_it <= len(only_sounding()[::10]) / 10
    monkeypatch.setattr(sense, "_here", lambda: None)
    likely.cache_clear()
    try:
        assert counted() > 1.5 * with_it
    finally:
        likely.cache_clear()


@pytest.fixture
def another_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    (tmp_path / "sense").mkdir()
    (tmp_path / "sense" / "sense.onnx").write_bytes(b"another")
    monkeypatch.setattr(sense, "data_folder", lambda _: tmp_path)
    for kept in (sense._here, likely):
        kept.cache_clear()
    yield tmp_path
    for kept in (sense._here, likely):
        kept.cache_clear()


def test_without_its_file_the_tables_and_examples_go_on_alone(another_file: Path):
    with pytest.raises(SenseMissing, match="another one than was measured"):
        loaded()
    assert likely("lock", "my padlock is on") == {}
    assert becomes("coil", "injection_coil_ohms=61", "sixty one") == AT_ONCE
    (another_file / "sense" / "sense.onnx").unlink()
    with pytest.raises(SenseMissing, match="cannot be read"):
        loaded()


def test_in_a_call_the_tail_costs_no_question_and_the_doubt_does():
    talk = standing_at("suction filter", "isolate")
    talk.hear("all five are shut and i put a wrench on each of them after, that oil one squealed like a pig")
    assert talk.readings["machine_isolated"] is True
    talk = standing_at("suction filter", "isolate")
    talk.hear("all five shut, three by my own hand and two by what the day man told me")
    assert "machine_isolated" not in talk.readings
