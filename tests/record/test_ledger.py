"""A whole call, a cut seal and a chain that was written anew are missed; and what cannot be known is said."""

import json
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.call.facts import CallOpened, CallSealed, NoteTaken
from assistant.fronts.loop import Clock, new_call, run
from assistant.fronts.pipe import PipeFront
from assistant.profile import load_profile
from assistant.record import ledger, signing
from assistant.record.index import Index
from assistant.record.ledger import LEDGER, SEAL
from assistant.record.log import EVENTS, Log, read
from assistant.record.verify import verify
from tests.test_cli import rackcall

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def sealed(calls: Path, name: str, note: str = "", hours: float = 0) -> Path:
    """A short sealed call, opened and entered as the product does it."""
    at = NOON + timedelta(hours=hours)
    before = ledger.last(calls)
    with Log(calls / name) as log:
        after = (before.call, before.head, before.hash) if before else ()
        log.append(CallOpened("paper", "", "test", (), (), (), (), (), "Robin Vale", *after), at)
        log.append(NoteTaken(note or name), at)
        log.append(CallSealed("Nothing found."), at)
        ledger.enter(calls, name, log.prev, log.seq, at)
    return log.folder


@pytest.fixture
def calls(tmp_path: Path) -> Path:
    for hours, name in enumerate(("one", "two", "three")):
        sealed(tmp_path / "calls", name, hours=hours)
    return tmp_path / "calls"


def said(path: Path, **more: str) -> str:
    return "\n".join(verify(path, **more).lines)


def test_a_folder_that_nobody_touched_is_whole_and_says_what_cannot_be_known(calls: Path):
    found = verify(calls)
    assert found.good
    assert "3 of 3 calls whole, 3 sealed, 3 in the ledger" in found.lines[-2]
    assert found.lines[-1].startswith("Not known from here")


def test_the_opening_line_names_the_call_sealed_before_it_and_the_first_one_none(calls: Path):
    first, second = (read(calls / name).lines[0] for name in ("one", "two"))
    assert not [key for key in first.record if key.startswith("after_")]
    assert second.record["after_call"] == "one"
    assert second.record["after_head"] == read(calls / "one").last_hash


def test_a_whole_call_that_is_gone_is_missed(calls: Path):
    shutil.rmtree(calls / "two")
    found = verify(calls)
    assert not found.good
    assert f"{calls / 'two'}: the ledger has this call, and it is not there" in found.lines


def test_a_seal_that_was_cut_off_is_missed_in_the_folder_and_at_the_call(calls: Path):
    lines = (calls / "two" / EVENTS).read_bytes().splitlines(keepends=True)
    (calls / "two" / EVENTS).write_bytes(b"".join(lines[:-1]))
    for path in (calls, calls / "two"):
        assert not verify(path).good
        assert "its seal was cut off" in said(path)


def test_a_call_written_anew_with_all_its_hashes_is_missed(calls: Path, tmp_path: Path):
    other = sealed(tmp_path / "elsewhere", "two", "another note")
    shutil.copy(other / EVENTS, calls / "two" / EVENTS)
    assert read(calls / "two").sealed
    assert not verify(calls / "two").good
    (calls / "two" / SEAL).unlink()
    assert not verify(calls / "two").good
    assert not verify(calls).good


def test_a_ledger_written_anew_is_missed_by_the_opening_lines(calls: Path, tmp_path: Path):
    for name in ("one", "two", "three"):
        sealed(tmp_path / "new", name, "all in order")
    (calls / LEDGER).write_bytes((tmp_path / "new" / LEDGER).read_bytes())
    for name in ("one", "two"):
        shutil.copy(tmp_path / "new" / name / EVENTS, calls / name / EVENTS)
        (calls / name / SEAL).unlink()
    found = verify(calls)
    assert not found.good
    assert any("which it does not have any more" in line for line in found.lines)


def test_a_line_taken_out_of_the_ledger_is_named(calls: Path):
    lines = (calls / LEDGER).read_bytes().splitlines(keepends=True)
    (calls / LEDGER).write_bytes(lines[0] + lines[2])
    assert "ledger.jsonl, line 2" in said(calls / LEDGER)
    assert not verify(calls).good


def test_a_call_that_was_written_anew_and_entered_again_is_named(calls: Path, tmp_path: Path):
    other = sealed(tmp_path / "elsewhere", "two", "another note")
    shutil.copy(other / EVENTS, calls / "two" / EVENTS)
    ledger.enter(calls, "two", read(other).last_hash, 3, NOON + timedelta(hours=5))
    assert verify(calls / LEDGER).lines[0].endswith("two stands in it with two heads: it was written anew after its seal")
    assert not verify(calls).good
    assert not verify(calls / "two").good


def test_calls_cut_off_the_end_of_the_ledger_are_missed_only_by_a_head_kept_elsewhere(calls: Path):
    kept = ledger.last(calls)
    assert kept is not None
    assert verify(calls, kept.hash).good
    assert verify(calls / "three", kept.head).good
    lines = (calls / LEDGER).read_bytes().splitlines(keepends=True)
    (calls / LEDGER).write_bytes(b"".join(lines[:2]))
    shutil.rmtree(calls / "three")
    assert verify(calls).good, "nobody can know"
    assert not verify(calls, kept.hash).good
    assert not verify(calls / LEDGER, kept.hash).good


def test_a_call_alone_says_that_without_a_ledger_less_is_known(calls: Path, tmp_path: Path):
    shutil.copytree(calls / "one", tmp_path / "sent" / "one")
    assert verify(tmp_path / "sent" / "one").good
    assert "no ledger beside it" in said(tmp_path / "sent" / "one")


def test_a_call_that_was_sealed_before_the_power_went_is_entered_by_the_next(tmp_path: Path):
    with Log(tmp_path / "one") as log:
        log.append(CallOpened("paper", "", "test"), NOON)
        log.append(CallSealed("x"), NOON)
    assert not (tmp_path / LEDGER).exists()
    clock = Clock(True, NOON + timedelta(days=1))
    _, _, second = new_call(load_profile(), tmp_path, clock)
    second.close()
    entered = ledger.last(tmp_path)
    assert entered is not None
    assert entered.call == "one"


def test_a_damaged_ledger_stops_no_call_and_is_named(calls: Path, tmp_path: Path):
    (calls / LEDGER).write_bytes(b"\xff" * 100 + b"\n")
    clock = Clock(True, NOON + timedelta(days=1))
    _, _, log = new_call(load_profile(), calls, clock)
    log.close()
    sealed(calls, "four")
    assert "line 1" in said(calls / LEDGER)


def test_a_ledger_in_use_by_nobody_is_torn_by_a_kill_and_goes_on(calls: Path):
    with open(calls / LEDGER, "ab") as file:
        file.write(b'{"seq": 4, "at')
    sealed(calls, "four", hours=4)
    assert verify(calls).good
    assert verify(calls / LEDGER).lines[0].endswith("4 sealed calls, the last four")


# ---- the technician's key


@pytest.fixture
def key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    pytest.importorskip("cryptography")
    monkeypatch.setattr(signing, "key_file", lambda: tmp_path / "own" / "key.pem")
    return signing.new_key()


def test_a_signed_seal_tells_whose_it_is_and_a_false_one_is_refused(key: str, tmp_path: Path):
    call = sealed(tmp_path / "calls", "one")
    assert verify(call, key=key).good
    assert verify(tmp_path / "calls", key=key).good
    assert f"signed with the key {key}" in said(call)
    assert not verify(call, key="0" * 64).good
    seal = json.loads((call / SEAL).read_text())
    (call / SEAL).write_text(json.dumps(seal | {"signature": "0" * 128}))
    assert "its signature is false" in said(call)


def test_everything_written_anew_together_is_missed_by_the_key_alone(key: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(signing, "key_file", lambda: tmp_path / "thief" / "key.pem")
    unsigned = sealed(tmp_path / "calls", "one")
    assert verify(tmp_path / "calls").good
    assert not verify(tmp_path / "calls", key=key).good
    assert "not signed" in said(unsigned, key=key)


def test_a_key_is_its_owners_alone_and_is_never_replaced(key: str, tmp_path: Path):
    assert (tmp_path / "own" / "key.pem").stat().st_mode & 0o777 == 0o600
    with pytest.raises(FileExistsError):
        signing.new_key()
    assert signing.public_key() == key


def test_without_the_library_a_call_is_sealed_all_the_same(key: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def missing() -> None:
        raise signing.SigningMissing("not installed")

    monkeypatch.setattr(signing, "_library", missing)
    call = sealed(tmp_path / "calls", "one")
    assert verify(call).good
    assert "signed" not in (call / SEAL).read_text()


# ---- a call of the product itself


def test_a_call_that_is_sealed_stands_in_the_ledger_and_the_next_one_knows_it(tmp_path: Path):
    from tests.simulated import Rack, drive

    first = Path(drive(Rack("not_called"), tmp_path)[-1]["call"])
    second = Path(drive(Rack("not_called"), tmp_path)[-1]["call"])
    assert read(second).lines[0].record["after_call"] == first.name
    got = rackcall("verify", str(tmp_path))
    assert got.returncode == 0, got.stdout
    assert "2 of 2 calls whole, 2 sealed, 2 in the ledger" in got.stdout


def test_a_new_call_and_a_ledger_on_a_full_disk_end_well(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    import io

    def full(*_: object, **__: object) -> None:
        raise ledger.DiskTrouble("cannot write the ledger")

    monkeypatch.setattr("assistant.fronts.loop.enter", full)
    clock = Clock(True, NOON)
    dialogue, effects, log = new_call(load_profile(), tmp_path, clock)
    from assistant.call.effects import Ended, Record

    out = io.StringIO()
    with log:
        ending = [*effects[:1], Record(CallSealed("x"), NOON), Ended("sealed")]
        assert run(dialogue, ending, log, PipeFront(clock, io.StringIO(), out)) == "sealed"
    with Index(tmp_path) as index:
        index.refresh()
        assert [row.call for row in index.not_entered()] == [log.folder.name]
