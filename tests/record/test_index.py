"""The index knows what the logs say, is made again from them at any time, and stops no call."""

import os
import shutil
import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.record.earlier import Earlier, earlier
from assistant.record.index import INDEX, Index
from assistant.record.log import EVENTS
from tests.record.test_board import FIRST, SITE, _call
from tests.simulated import Rack
from tests.talk import Talk

LATER = FIRST + timedelta(days=50)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("calls")
    _call(folder, "one", 0, Rack("injection_coil_failed", words={"refrigerant_added": "sixty pounds"}))
    _call(folder, "two", 20, Rack("injection_coil_failed", words={"part_left_in_use": "borrowed"}))
    return folder


@pytest.fixture
def calls(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "calls"))


def known(calls: Path) -> Earlier:
    return earlier(calls, SITE, LATER, calls / "none")


def test_what_a_new_call_knows_is_the_same_with_and_without_an_index(calls: Path):
    first = known(calls)
    assert len(first.machine_trips) == 2
    assert first.additions == [("a", 50.0, 60.0)]
    assert known(calls) == first
    (calls / INDEX).unlink()
    assert known(calls).machine_trips == first.machine_trips


def test_a_call_that_was_read_is_not_read_again_and_a_new_one_is(calls: Path):
    with Index(calls) as index:
        assert index.refresh().read == 2
        assert index.refresh().read == 0
        _call(calls, "three", 40, Rack("probe_fouled"))
        found = index.refresh()
    assert found.read == 1
    assert found.months == {"2026-04"}


def test_a_call_that_goes_on_is_read_again(calls: Path):
    call = calls / "open"
    whole = Talk().until(Rack("none"), "coil").write(call)
    lines = (whole / EVENTS).read_bytes().splitlines(keepends=True)
    (whole / EVENTS).write_bytes(b"".join(lines[:20]))
    with Index(calls) as index:
        index.refresh()
        (whole / EVENTS).write_bytes(b"".join(lines))
        assert index.refresh().read == 1
        assert next(row for row in index.of_month("2026-03") if row.call == "open").lines == len(lines)


def test_a_call_that_is_gone_is_gone_from_the_index(calls: Path):
    before = known(calls)
    shutil.rmtree(calls / "one")
    assert len(known(calls).machine_trips) == len(before.machine_trips) - 1


@pytest.mark.parametrize("what", ["garbage", "folder", "older", "cut"])
def test_an_index_that_is_none_is_made_again(calls: Path, what: str):
    known(calls)
    index = calls / INDEX
    data = index.read_bytes()
    index.unlink()
    match what:
        case "garbage":
            index.write_bytes(os.urandom(5000))
        case "folder":
            index.mkdir()
        case "older":
            base = sqlite3.connect(index)
            base.execute("create table calls (x)")
            base.execute("pragma user_version = 0")
            base.commit()
            base.close()
        case "cut":
            index.write_bytes(data[:3000])
    assert len(known(calls).machine_trips) == 2


def test_another_program_that_holds_the_index_stops_no_call(calls: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("assistant.record.index._WAIT_S", 0.1)
    known(calls)
    other = sqlite3.connect(calls / INDEX)
    other.execute("begin exclusive")
    assert len(known(calls).machine_trips) == 2
    other.close()


def test_a_new_call_does_not_wait_for_ever_for_logs_that_nobody_has_read(calls: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("assistant.record.earlier.READ_S", -1.0)
    assert known(calls).unread == 2
    assert known(calls).machine_trips == []


# ---- nothing foreign among the calls stops a new one


def foreign(calls: Path) -> None:
    """What may lie in a folder of calls and is no call."""
    (calls / "a folder").mkdir()
    (calls / "named like a log" / EVENTS).mkdir(parents=True)
    (calls / EVENTS).write_text("not in a call")
    (calls / "empty").mkdir()
    (calls / "empty" / EVENTS).touch()
    (calls / "deep").mkdir()
    (calls / "deep" / EVENTS).write_bytes(b"[" * 100_000 + b"\n")
    (calls / "huge").mkdir()
    with open(calls / "huge" / EVENTS, "wb") as file:
        file.truncate(100_000_000)
    (calls / "pipe").mkdir()
    os.mkfifo(calls / "pipe" / EVENTS)
    (calls / "link").symlink_to("nowhere")
    (calls / "loop").symlink_to(calls, target_is_directory=True)
    (calls / "caf\udce9").mkdir()


def test_nothing_foreign_in_the_folder_stops_a_call_and_the_board_names_it(calls: Path):
    foreign(calls)
    assert len(known(calls).machine_trips) == 2
    with Index(calls) as index:
        index.refresh()
        wrong = {call for call, _ in index.troubles()}
    assert wrong == {"named like a log", "empty", "deep", "huge", "pipe", "loop"}


def test_a_folder_that_may_only_be_read_still_tells_what_it_knows(calls: Path, monkeypatch: pytest.MonkeyPatch):
    real = sqlite3.connect

    def refuses(where: object, **more: object) -> sqlite3.Connection:
        if where != ":memory:":
            raise sqlite3.OperationalError("attempt to write a readonly database")
        return real(":memory:")

    monkeypatch.setattr("assistant.record.index.sqlite3.connect", refuses)
    assert len(known(calls).machine_trips) == 2


def test_a_site_is_told_apart_from_others(calls: Path):
    assert earlier(calls, "another store", LATER, calls / "none").machine_trips == []
    assert earlier(calls, SITE, datetime(2020, 1, 1, tzinfo=UTC), calls / "none").machine_trips == []
