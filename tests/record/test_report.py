"""What a supervisor reads in the morning on one call's page."""

import re
from pathlib import Path

import pytest

from assistant.call.facts import (
    CallOpened,
    Concluded,
    MachineNamed,
    ReadingTaken,
    StepDone,
    StepSkipped,
    ValueDerived,
    WordsHeard,
)
from assistant.record.log import Log
from assistant.record.report import page, proving_tests, write_report
from assistant.record.show import as_text
from assistant.record.story import left_out, tell
from tests.simulated import Rack
from tests.talk import NOON, Talk


def lead(text: str) -> dict[str, str]:
    """The three lines at the top, without their markup."""
    top = text[text.index("<dl") : text.index("</dl>")]
    return {name: re.sub("<[^>]+>", "", words) for name, words in re.findall(r"<dt>(\w+):</dt><dd>(.*?)</dd>", top)}


def written_from(folder: Path, *facts: object) -> str:
    with Log(folder) as log:
        for fact in facts:
            log.append(fact, NOON)  # type: ignore[arg-type]
    return page(tell(folder))


OPENED = (CallOpened("paper", "", "test", technician="Robin Vale"), MachineNamed("a", "two", "R22", 0, 10, 250))


def reading(id_: str, value: float | str, unit: str | None = None, **more: object) -> ReadingTaken:
    return ReadingTaken(id_, value, unit, "step", str(value), "read back", **more)  # type: ignore[arg-type]


def test_three_lines_say_what_tripped_what_was_found_and_what_was_done(tmp_path: Path):
    text = page(tell(Talk(trips=(("a", "two", 3.0),)).to_the_seal(Rack("injection_coil_failed")).write(tmp_path / "one")))
    lines = lead(text)
    assert lines["Tripped"] == "discharge protection, found open. Second trip of this machine in 90 days. Technician: Robin Vale."
    assert lines["Found"].startswith("injection coil failed, proven: coil resistance over range")
    assert re.match(r"repaired \d\d:\d\d; .*machine started \d\d:\d\d\. Nothing left\.", lines["Done"]), lines["Done"]


def test_each_piece_of_evidence_leads_to_its_line(tmp_path: Path):
    text = page(tell(Talk().to_the_seal(Rack("injection_coil_failed")).write(tmp_path / "one")))
    targets = set(re.findall(r'href="#(line-\d+)"', text))
    assert targets
    assert targets <= set(re.findall(r'<tr id="(line-\d+)"', text))


def test_a_cause_is_shown_on_the_evidence_as_it_stood_when_it_was_concluded(tmp_path: Path):
    text = written_from(
        tmp_path, *OPENED,
        ValueDerived("condensing_difference", 38.0, "F", ("rack_discharge_pressure",)),
        Concluded("head_high", "proven", ("condensing_difference",), "Find out why."),
        StepDone("repaired", "repaired", ("repaired",)),
        ValueDerived("condensing_difference", 11.0, "F", ("rack_discharge_pressure",)),
        Concluded("head_high", "ruled_out", ("condensing_difference",), "Not the cause: look further."),
    )  # fmt: skip
    assert lead(text)["Found"] == "head too high, proven (after the repair: ruled out): condensing difference 38 F."
    assert "11 F" in text, "what was measured after the repair stands in its line"
    assert "condensing difference 38 F" in as_text(tmp_path)


def test_a_cause_that_a_correction_took_away_is_proven_no_more(tmp_path: Path):
    text = written_from(
        tmp_path, *OPENED, reading("injection_coil_ohms", "over_range"),
        Concluded("injection_coil_failed", "proven", ("injection_coil_ohms",), "Replace it."),
        reading("injection_coil_ohms", 410.0, "ohm", corrected=True),
        Concluded("injection_coil_failed", "ruled_out", ("injection_coil_ohms",), "Not the cause: look further."),
    )  # fmt: skip
    assert lead(text)["Found"] == "no cause."
    assert "Ruled out: injection coil failed" in text


def test_a_corrected_reading_is_struck_out_and_an_asked_back_one_is_said_to_be(tmp_path: Path):
    text = written_from(
        tmp_path, *OPENED, reading("rack_suction_pressure", 50.0, "psig"),
        reading("rack_suction_pressure", 15.0, "psig", corrected=True),
        WordsHeard("fifteen", "asked back", 0.6), ReadingTaken("sight_glass", "full", None, "s", "full", "asked back"),
    )  # fmt: skip
    assert '<span class="gone">50 psig</span>' in text
    assert '<span class="gone">15 psig</span>' not in text
    assert "corrected at 12:00:00, does not count" in text
    assert "“full”, asked back" in text
    assert text.count("asked back") >= 2


def test_what_was_not_checked_is_named_where_a_cause_is_not_proven(tmp_path: Path):
    text = page(tell(Talk().to_the_seal(Rack("refrigerant_low")).write(tmp_path / "one")))
    assert "Not checked, therefore not proven: receiver low with the rack steady" in text
    proven = page(tell(Talk().to_the_seal(Rack("injection_coil_failed")).write(tmp_path / "two")))
    assert "Not checked, therefore not proven" not in proven


def test_every_cause_has_its_proving_test_in_words_without_ids():
    assert all(test and "_" not in test for test in proving_tests().values())


def test_kept_sound_plays_beside_its_line_until_it_is_forgotten(tmp_path: Path):
    (tmp_path / "call" / "audio").mkdir(parents=True)
    (tmp_path / "call" / "audio" / "00003.flac").write_bytes(b"x")
    heard = WordsHeard("fifteen", "answer", 1.0, "audio/00003.flac")
    out = WordsHeard("x", "answer", 1.0, "../../outside.flac")
    (tmp_path / "outside.flac").write_bytes(b"x")
    with Log(tmp_path / "call") as log:
        for fact in (*OPENED, heard, reading("rack_suction_pressure", 15.0, "psig"), out, reading("sight_glass", "full")):
            log.append(fact, NOON)
    text = write_report(tmp_path / "call").read_text(encoding="utf-8")
    assert 'src="audio/00003.flac"' in text
    elsewhere = write_report(tmp_path / "call", tmp_path / "page.html").read_text(encoding="utf-8")
    assert 'src="call/audio/00003.flac"' in elsewhere
    assert "outside" not in text
    (tmp_path / "call" / "audio" / "00003.flac").unlink()
    assert "<audio" not in write_report(tmp_path / "call").read_text(encoding="utf-8")


def test_a_call_without_any_machine_or_reading_has_a_page(tmp_path: Path):
    text = written_from(tmp_path, CallOpened("paper", "", "test"))
    assert lead(text)["Tripped"].startswith("no protection was found open. First trip")
    assert "The call is not closed." in text


@pytest.mark.parametrize("name", ["events.jsonl", ".writer.json"])
def test_a_page_is_put_over_no_file_of_the_call(tmp_path: Path, name: str):
    Talk().hear("b four").write(tmp_path / "one")
    before = (tmp_path / "one" / name).read_bytes()
    with pytest.raises(ValueError, match="is there and is no page"):
        write_report(tmp_path / "one", tmp_path / "one" / name)
    assert (tmp_path / "one" / name).read_bytes() == before


def test_what_was_done_is_quoted_as_it_was_said(tmp_path: Path):
    text = written_from(
        tmp_path, *OPENED, WordsHeard("found it loose , tightened it", "command: continue"),
        StepDone("x", "repaired", ("repaired",)),
        WordsHeard("started", "command: continue"), StepDone("y", "started", ("started",)),
    )  # fmt: skip
    assert "repaired: “found it loose, tightened it”" in re.sub("<[^>]+>", "", text)
    assert "machine started: “started”" in re.sub("<[^>]+>", "", text)


def test_what_was_skipped_is_named_by_what_it_would_have_read():
    assert left_out(StepSkipped("watch_first", "skip this")) == "suction pressure, discharge temperature: “skip this”"
    assert left_out(StepSkipped("of_an_older_procedure", "")) == "of an older procedure"
