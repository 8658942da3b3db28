"""What a supervisor finds on the pages of many calls."""

import csv
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import tests.talk
from assistant.record.aggregate import Store
from assistant.record.board import Board, write_board
from assistant.record.earlier import earlier
from assistant.record.exports import COLUMNS, cell
from assistant.record.ledger import enter
from assistant.record.log import read
from tests.simulated import Rack
from tests.talk import Talk

FIRST = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
LATER = FIRST + timedelta(days=50)
SITE = "paper"


def _call(folder: Path, name: str, days: float, rack: Rack, until: str = "", trips: int = 0) -> None:
    """A call on paper, so many days after the first."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tests.talk, "NOON", FIRST + timedelta(days=days))
        if trips:
            rack.words["supervisor_agreed"] = "yes"
            Talk(trips=(("a", "two", 1.0),) * trips).to_the_seal(rack).write(folder / name)
            return
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


def _part(found: Board, title: str) -> str:
    """A part of the first page."""
    text = found.index.read_text(encoding="utf-8")
    return text[text.index(f"<h2>{title}") :].split("<h2>")[1]


def test_every_call_has_its_line_and_its_page(calls: Path) -> None:
    found = write_board(calls, as_csv=True, now=LATER)
    assert (found.calls, found.damaged) == (4, ())
    newest = _part(found, "The newest calls")
    for name in ("one", "two", "three", "open"):
        assert f'href="calls/{name}.html"' in newest
        assert (found.index.parent / "calls" / f"{name}.html").is_file()
    with open(found.index.with_name("calls.csv"), newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == list(COLUMNS)
    assert [row["call"] for row in rows] == ["open", "three", "two", "one"]
    assert [row["cause"] for row in rows] == ["no cause found", "probe fouled", "injection coil failed", "injection coil failed"]
    assert rows[3]["pounds_added"] == "60"


def test_what_was_left_for_later_stands_first_with_who_has_it_and_until_when(calls: Path) -> None:
    due = _part(write_board(calls, now=FIRST + timedelta(days=20, hours=12)), "Due")
    assert "borrowed or temporary part" in due
    assert "supervisor" in due
    assert "2026-03-22" in due
    assert "overdue;" not in due.replace("</span>", "")
    late = _part(write_board(calls, now=LATER), "Due")
    assert '<span class="over">overdue</span>; 2026-03-22' in late
    assert "<h3>Sunday 2026-03-22</h3>" in late


def test_a_call_that_was_never_closed_is_listed_with_what_is_still_hooked_up(calls: Path) -> None:
    part = _part(write_board(calls, now=LATER), "Not closed")
    assert 'href="calls/open.html"' in part
    assert "own lock" in part
    assert 'href="calls/one.html"' not in part


def test_a_machine_that_comes_back_is_named_with_its_causes_and_has_a_page_of_its_own(calls: Path) -> None:
    found = write_board(calls, now=LATER)
    part = _part(found, "Machines that come back")
    assert ">4</td>" in part
    assert part.count("injection coil failed") == 2
    (page,) = (found.index.parent / "machines").glob("*.html")
    assert f'href="machines/{page.name}"' in part
    text = page.read_text(encoding="utf-8")
    assert "injection coil failed 2 times" in text
    assert 'href="../calls/one.html"' in text


def test_refrigerant_is_added_up_by_rack(calls: Path) -> None:
    assert "100 lb" in _part(write_board(calls, now=LATER), "Refrigerant")


def test_what_has_not_changed_is_not_made_again(calls: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(calls, tmp_path / "calls", ignore=shutil.ignore_patterns("board", ".index*")))
    assert write_board(folder, now=LATER).reports == 4
    pages = {page: page.stat().st_mtime_ns for page in (folder / "board").rglob("*.html")}
    assert write_board(folder, now=LATER).reports == 0
    _call(folder, "five", 42, Rack("not_called"))
    assert write_board(folder, now=LATER).reports == 1
    same = [page for page, at in pages.items() if page.stat().st_mtime_ns == at]
    assert {"calls/one.html", "month-2026-03-1.html"} <= {page.relative_to(folder / "board").as_posix() for page in same}


# ---- what is due, and when it is not any more


def _left(folder: Path, name: str, days: float, **words: str) -> None:
    _call(folder, name, days, Rack("injection_valve_leaking" if words.pop("locked", "") else "probe_fouled", words=words))


def test_a_follow_up_closes_when_a_later_sealed_call_clears_it(tmp_path: Path) -> None:
    _left(tmp_path, "one", 0, locked="yes")
    assert "own lock" in _part(write_board(tmp_path, now=LATER), "Due")
    _call(tmp_path, "two", 1, Rack("none"), until="coil")
    assert "own lock" in _part(write_board(tmp_path, now=LATER), "Due"), "that call was never closed"
    _call(tmp_path, "three", 2, Rack("injection_coil_failed"))
    assert "own lock" not in _part(write_board(tmp_path, now=LATER), "Due")


def test_a_date_that_the_law_sets_stands_on_page_board_table_and_calendar(tmp_path: Path) -> None:
    words = {"refrigerant_added": "two hundred pounds", "leak_repaired": "no"}
    _call(tmp_path, "one", 0, Rack("refrigerant_low", words=words))
    found = write_board(tmp_path, as_csv=True, as_parquet=True, as_ics=True, now=FIRST + timedelta(days=40))
    by = (FIRST + timedelta(days=30)).date().isoformat()
    assert f"by law repair by {by}" in _part(found, "Due")
    assert by in _part(found, "Leaks over the law")
    assert "By law: repair by March 31, 2026" in (found.index.parent / "calls" / "one.html").read_text(encoding="utf-8")
    assert f",{by},2026-04-10," in (found.index.parent / "calls.csv").read_text(encoding="utf-8")
    calendar = (found.index.parent / "due.ics").read_bytes().decode()
    assert f"DTSTART;VALUE=DATE:{by.replace('-', '')}" in calendar
    with Store(found.index.parent / "parquet") as store:
        store.read()
        assert store.one("select repair_by from follow where id = 'leak_over_limit'") == by


def test_a_leak_that_a_later_call_mended_is_over_its_limit_no_more(tmp_path: Path) -> None:
    words = {"refrigerant_added": "two hundred pounds", "leak_repaired": "no"}
    _call(tmp_path, "one", 0, Rack("refrigerant_low", words=words))
    _call(tmp_path, "two", 3, Rack("refrigerant_low", words={"refrigerant_added": "none"}))
    text = write_board(tmp_path, now=LATER).index.read_text(encoding="utf-8")
    assert "leak over the law" not in text
    assert "leak not repaired" not in text


def test_a_third_trip_and_a_cause_without_proof_are_named(tmp_path: Path) -> None:
    for number in range(3):
        _call(tmp_path, f"call {number}", number, Rack("refrigerant_low"), trips=number)
    found = write_board(tmp_path, now=FIRST + timedelta(days=5))
    assert "Third trip" in _part(found, "Third trips")
    assert "refrigerant low, supported" in _part(found, "Causes without proof")


# ---- what is wrong


def test_a_log_that_was_changed_after_its_seal_is_named_on_the_first_page(calls: Path, tmp_path: Path) -> None:
    shutil.copytree(calls / "one", tmp_path / "one")
    log = read(tmp_path / "one")
    enter(tmp_path, "one", log.last_hash, len(log.lines), FIRST)
    assert write_board(tmp_path, now=LATER).damaged == ()
    lines = (tmp_path / "one" / "events.jsonl").read_bytes().splitlines(keepends=True)
    (tmp_path / "one" / "events.jsonl").write_bytes(b"".join(lines[:-1]))
    found = write_board(tmp_path, now=LATER)
    assert "by the ledger it was sealed with head" in found.damaged[0]
    assert "by the ledger it was sealed" in _part(found, "Logs that fail verification")
    shutil.rmtree(tmp_path / "one")
    assert "it is not there" in write_board(tmp_path, now=LATER).damaged[0]


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
    assert "Logs that fail verification" in found.index.read_text(encoding="utf-8")


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
    write_board(tmp_path, now=LATER)
    text = (tmp_path / "board" / "calls" / "one.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;bold&lt;/b&gt;" in text
    assert "<b>bold</b>" not in text


def test_links_to_a_call_of_any_name_are_encoded(tmp_path: Path) -> None:
    name = 'a "b" <c> & d#e?f%20'
    Talk().hear("make a note", "x").write(tmp_path / name)
    found = write_board(tmp_path, now=LATER)
    assert 'href="calls/a%20%22b%22%20%3Cc%3E%20%26%20d%23e%3Ff%2520.html"' in found.index.read_text(encoding="utf-8")
    assert (tmp_path / "board" / "calls" / f"{name}.html").is_file()


@pytest.mark.parametrize("text", ["=1+1", "+1+1", "@sum(a1)", "-1+1|cmd", "\t=1", "\r=1"])
def test_no_cell_of_the_table_is_a_formula(text: str) -> None:
    assert cell(text) == "'" + text
    assert cell("-12.5") == "-12.5"


def test_pages_are_for_the_group_and_logs_for_nobody_else(calls: Path, tmp_path: Path) -> None:
    shutil.copytree(calls / "one", tmp_path / "calls" / "one")
    write_board(tmp_path / "calls", tmp_path / "pages", as_csv=True, as_ics=True, now=LATER)
    for file in (tmp_path / "pages").rglob("*"):
        assert file.stat().st_mode & 0o777 == (0o750 if file.is_dir() else 0o640), file


def test_no_page_is_longer_than_a_person_reads(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.record.board.PAGE_ROWS", 4)
    monkeypatch.setattr("assistant.record.board.FIRST_ROWS", 3)
    _call(tmp_path, "call 0", 0, Rack("not_called"))
    for number in range(1, 10):
        shutil.copytree(tmp_path / "call 0", tmp_path / f"call {number}")
    found = write_board(tmp_path, now=LATER)
    assert _part(found, "The newest calls").count("<tr>") - 1 == 3
    months = sorted(page.name for page in found.index.parent.glob("month-*"))
    assert months == ["month-2026-03-1.html", "month-2026-03-2.html", "month-2026-03-3.html"]
