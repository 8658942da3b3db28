"""What a supervisor finds on the pages of many calls."""

import csv
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import tests.talk
from assistant.record.board import COLUMNS, write_board
from assistant.record.earlier import earlier
from tests.simulated import Rack
from tests.talk import Talk

FIRST = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
SITE = "paper"


def _call(folder: Path, name: str, days: float, rack: Rack, until: str = "") -> None:
    """A call on paper, so many days after the first."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tests.talk, "NOON", FIRST + timedelta(days=days))
        talk = Talk().until(rack, until) if until else Talk().to_the_seal(rack)
    talk.write(folder / name)


@pytest.fixture(scope="module")
def calls(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("calls")
    _call(folder, "one", 0, Rack("injection_coil_failed", words={"refrigerant_added": "sixty pounds"}))
    _call(folder, "two", 20, Rack("injection_coil_failed", words={"part_left_in_use": "borrowed"}))
    _call(folder, "three", 40, Rack("probe_fouled", words={"refrigerant_added": "forty pounds"}))
    _call(folder, "open", 41, Rack("none"), until="coil")
    return folder


def test_every_call_has_its_line_and_its_page(calls: Path) -> None:
    found = write_board(calls, as_csv=True)
    text = found.index.read_text(encoding="utf-8")
    assert (found.calls, found.damaged) == (4, ())
    for name in ("one", "two", "three", "open"):
        assert f'href="{name}.html"' in text
        assert (found.index.parent / f"{name}.html").is_file()
    with open(found.index.with_name("calls.csv"), newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == list(COLUMNS)
    assert [row["call"] for row in rows] == ["open", "three", "two", "one"]
    assert [row["cause"] for row in rows] == ["no cause found", "probe fouled", "injection coil failed", "injection coil failed"]
    assert rows[3]["pounds_added"] == "60"


def test_what_was_left_for_later_stands_first_with_who_has_it_and_until_when(calls: Path) -> None:
    text = write_board(calls).index.read_text(encoding="utf-8")
    due = text[text.index("<h2>Due</h2>") : text.index("<h2>Not closed</h2>")]
    assert "borrowed or temporary part" in due
    assert "supervisor" in due
    assert "2026-03-22" in due


def test_a_call_that_was_never_closed_is_listed_with_what_is_still_hooked_up(calls: Path) -> None:
    text = write_board(calls).index.read_text(encoding="utf-8")
    part = text[text.index("<h2>Not closed</h2>") : text.index("<h2>Machines that come back</h2>")]
    assert 'href="open.html"' in part
    assert "own lock" in part
    assert 'href="one.html"' not in part


def test_a_machine_that_comes_back_is_named_with_its_causes(calls: Path) -> None:
    text = write_board(calls).index.read_text(encoding="utf-8")
    part = text[text.index("<h2>Machines that come back</h2>") : text.index("<h2>Refrigerant")]
    assert "<td>4</td>" in part
    assert part.count("injection coil failed") == 2


def test_refrigerant_is_added_up_by_rack(calls: Path) -> None:
    text = write_board(calls).index.read_text(encoding="utf-8")
    part = text[text.index("<h2>Refrigerant") : text.index("<h2>Every call</h2>")]
    assert "100 lb" in part


def test_a_damaged_log_is_named_and_the_others_are_still_there(calls: Path, tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "events.jsonl").write_bytes((calls / name / "events.jsonl").read_bytes())
    lines = (tmp_path / "one" / "events.jsonl").read_text(encoding="utf-8").splitlines()
    (tmp_path / "one" / "events.jsonl").write_text("\n".join([*lines[:5], "{}", *lines[6:]]) + "\n", encoding="utf-8")
    found = write_board(tmp_path, tmp_path / "pages")
    assert found.calls == 1
    assert len(found.damaged) == 1
    assert "line 6" in found.damaged[0]
    assert "Logs that cannot be read" in found.index.read_text(encoding="utf-8")


def test_a_later_call_knows_the_trips_and_the_refrigerant_of_the_earlier_ones(calls: Path) -> None:
    known = earlier(calls, SITE, FIRST + timedelta(days=50), calls / "none")
    assert sorted(known.days_since_trip) == [9, 10, 30, 50]
    assert sorted((rack, days, pounds) for rack, days, pounds in known.additions) == [("a", 10.0, 40.0), ("a", 50.0, 60.0)]


def test_a_later_call_knows_how_often_this_machine_tripped_and_what_its_last_call_left(calls: Path) -> None:
    known = earlier(calls, SITE, FIRST + timedelta(days=50), calls / "none")
    assert {trip[:2] for trip in known.machine_trips} == {("a", "two")}
    assert len(known.machine_trips) == 4
    # The last call was never closed; what it left is what counts, not the borrowed part of the one before.
    assert {id_ for id_, _ in known.left["a", "two"]} >= {"locked_out", "panel_cover"}
    before_that = earlier(calls, SITE, FIRST + timedelta(days=30), calls / "none")
    assert before_that.left["a", "two"] == (("part_borrowed", "supervisor"),)


def test_a_call_that_broke_off_and_was_begun_anew_is_one_trip_and_not_two(tmp_path: Path) -> None:
    _call(tmp_path, "broken off", 0, Rack("none"), until="coil")
    _call(tmp_path, "nameless", 0.005, Rack("none"), until="where")
    anew = earlier(tmp_path, SITE, FIRST + timedelta(minutes=20), tmp_path / "anew")
    assert anew.machine_trips == []
    assert anew.days_since_trip == []
    assert ("locked_out", "Robin Vale") in anew.left["a", "two"]

    # Nobody called again that day: it was a trip of its own.
    later = earlier(tmp_path, SITE, FIRST + timedelta(days=30), tmp_path / "later")
    assert later.machine_trips == [("a", "two", 30.0)]

    _call(tmp_path, "anew", 0.02, Rack("injection_coil_failed"))
    month = earlier(tmp_path, SITE, FIRST + timedelta(days=30), tmp_path / "later")
    assert month.machine_trips == [("a", "two", 29.98)]


def test_words_on_the_pages_are_never_markup(tmp_path: Path) -> None:
    Talk().hear("make a note", "<b>bold</b>").write(tmp_path / "one")
    write_board(tmp_path)
    text = (tmp_path / "board" / "one.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;bold&lt;/b&gt;" in text
    assert "<b>bold</b>" not in text
