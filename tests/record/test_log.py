"""Nothing heard is lost, and an altered log is noticed."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from assistant.call.facts import FACTS, ValueDerived
from assistant.record.log import Log, LogDamaged, read
from assistant.record.report import page
from assistant.record.show import as_text
from assistant.record.story import derived_of, tell
from tests.simulated import Rack
from tests.talk import Talk


@pytest.fixture(scope="module")
def call(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("calls") / "one"
    return Talk().to_the_seal(Rack("injection_coil_failed")).write(folder)


def test_a_sealed_log_is_whole_and_takes_no_more(call: Path):
    found = read(call)
    assert found.sealed
    assert not found.torn
    with pytest.raises(LogDamaged, match="sealed"):
        Log(call)


def test_every_flipped_byte_is_noticed(call: Path, tmp_path: Path):
    data = (call / "events.jsonl").read_bytes()
    for place in range(3, len(data), len(data) // 60):
        bad = bytearray(data)
        bad[place] ^= 1
        (tmp_path / "events.jsonl").write_bytes(bytes(bad))
        try:
            found = read(tmp_path)
        except LogDamaged:
            continue
        assert found.torn, place


def test_a_missing_line_is_named(call: Path, tmp_path: Path):
    lines = (call / "events.jsonl").read_bytes().splitlines(keepends=True)
    (tmp_path / "events.jsonl").write_bytes(b"".join(lines[:10] + lines[11:]))
    with pytest.raises(LogDamaged) as fault:
        read(tmp_path)
    assert fault.value.line == 11


def test_a_torn_last_line_is_left_out_and_said(call: Path, tmp_path: Path):
    lines = (call / "events.jsonl").read_bytes().splitlines(keepends=True)
    (tmp_path / "events.jsonl").write_bytes(b"".join(lines[:20]) + lines[20][:40])
    found = read(tmp_path)
    assert found.torn
    assert len(found.lines) == 20
    with Log(tmp_path) as log:
        assert log.seq == 20


def test_a_call_cut_after_any_line_is_taken_up_and_ends_sealed_with_the_same_cause():
    whole = Talk().to_the_seal(Rack("injection_coil_failed"))
    for cut in range(1, len(whole.facts), 5):
        talk = Talk()
        talk.facts = whole.facts
        talk.kill(cut=cut).to_the_seal(Rack("injection_coil_failed"))
        assert talk.dialogue.state.conclusions["injection_coil_failed"].standing == "proven", cut
        assert talk.open == set()


def test_resume_after_the_proof_enters_at_the_lock():
    talk = Talk().until(Rack("none"), "coil").kill()
    assert not talk.dialogue.state.lock.dead
    assert talk.asked == "anew_lock:lock_still_on"
    talk.hear("yes", "understood", "clear")
    assert talk.asked == "tag/lock_out:command"


def test_the_schema_holds_every_line(call: Path):
    schema = json.loads((Path("assistant/record/log.schema.json")).read_text())
    check = Draft202012Validator(schema)
    for line in read(call).lines:
        check.validate(line.record)
    assert set(schema["properties"]["kind"]["enum"]) == set(FACTS)


def test_the_report_tells_cause_readings_and_guidance_from_the_log_alone(call: Path):
    text = page(tell(call))
    for words in ("injection coil failed", "proven", "over range", "Guidance only", "own lock"):
        assert words in text
    assert "<script" not in text
    assert "injection coil failed: proven" in as_text(call)


def test_derived_values_are_written_in_the_units_of_the_site_and_without_powers_of_ten():
    superheat = ValueDerived("superheat", 18.0, "F", ("suction_pressure",), 14.4, 21.6)
    assert derived_of(superheat) == "18 F (14.4 to 21.6)"
    assert derived_of(superheat, si=True) == "10 K (8 to 12)"  # a difference is scaled, never shifted by 32
    assert derived_of(ValueDerived("suction_dew_degf", -22.0, "F", ()), si=True) == "-30 C"
    assert derived_of(ValueDerived("probe_curve_ohms", 24430.0, "ohm", ())) == "24,430 ohm"
