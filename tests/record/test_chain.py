"""What is read from a log is what was written, byte by byte; and nobody else writes it."""

import json
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.call.facts import CallOpened, CallSealed, NoteTaken
from assistant.record.chain import GENESIS, encode, hash_of
from assistant.record.log import Log, LogDamaged, LogInUse, body_of, read
from tests.talk import Talk

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def chained(*bodies: dict[str, object], times: list[datetime] | None = None) -> bytes:
    """A log with a whole chain, whatever stands in its lines."""
    lines, prev = [], GENESIS
    for number, body in enumerate(bodies, 1):
        lines.append(encode(number, times[number - 1] if times else NOON, body, prev))
        prev = hash_of(lines[-1])
    return b"\n".join(lines) + b"\n"


@pytest.fixture
def call(tmp_path: Path) -> Path:
    return Talk().hear("b four", "all good", "make a note", "the fan hums").write(tmp_path / "one")


def lines_of(call: Path) -> list[bytes]:
    return (call / "events.jsonl").read_bytes().splitlines()


def put(call: Path, lines: list[bytes]) -> None:
    (call / "events.jsonl").write_bytes(b"\n".join(lines) + b"\n")


def rewritten(line: bytes, old: str, new: str) -> bytes:
    """A line changed by somebody who knows how its own hash is made."""
    record = json.loads(line)
    text = json.dumps({key: value for key, value in record.items() if key != "own"}, ensure_ascii=False)
    assert old in text
    body = text.replace(old, new).encode()
    return body[:-1] + b', "own": "' + hash_of(body).encode() + b'"}'


def fault(call: Path) -> LogDamaged:
    with pytest.raises(LogDamaged) as found:
        read(call)
    return found.value


# ---- bytes


def test_a_space_that_a_text_editor_leaves_behind_a_line_is_noticed(call: Path):
    lines = lines_of(call)
    put(call, [*lines[:-1], lines[-1] + b" "])
    assert fault(call).line == len(lines)


def test_a_key_that_stands_there_twice_is_no_line(call: Path):
    lines = lines_of(call)
    lines[4] = lines[4].replace(b'"seq": 5,', b'"seq": 5, "seq": 5,')
    put(call, lines)
    assert fault(call).line == 5


def test_words_after_the_hash_of_the_line_are_noticed(call: Path):
    lines = lines_of(call)
    lines[4] = lines[4][:-1] + b', "note": "added"}'
    put(call, lines)
    assert fault(call).line == 5


def test_the_line_that_was_altered_is_the_one_that_is_named(call: Path):
    lines = lines_of(call)
    for place in (0, 3, len(lines) - 1):
        bad = list(lines)
        bad[place] = bad[place].replace(b'"prev": "', b'"prev": "f', 1)
        put(call, bad)
        assert fault(call).line == place + 1


def test_a_line_that_was_written_anew_with_its_hash_is_named_by_the_one_after_it(call: Path):
    lines = lines_of(call)
    place = next(n for n, line in enumerate(lines) if b"the fan hums" in line)
    lines[place] = rewritten(lines[place], "the fan hums", "the fan is silent")
    put(call, lines)
    found = fault(call)
    assert found.line == place + 1
    assert "written anew" in str(found)


def test_times_that_run_back_are_noticed(tmp_path: Path):
    body = body_of(NoteTaken("x"))
    (tmp_path / "events.jsonl").write_bytes(chained(body, body, times=[NOON, NOON - timedelta(seconds=1)]))
    found = fault(tmp_path)
    assert found.line == 2
    assert "runs back" in str(found)


@pytest.mark.parametrize("at", ["2026-03-01T12:00:00", "0001-01-01T00:00:00+00:00", "9999-12-31T23:59:59+00:00", "noon", 5, None])
def test_a_time_that_nothing_can_be_reckoned_from_is_no_time(tmp_path: Path, at: object):
    line = chained(body_of(NoteTaken("x"))).rstrip(b"\n")
    record = json.loads(line) | {"at": at}
    del record["own"]
    body = json.dumps(record).encode()
    (tmp_path / "events.jsonl").write_bytes(body[:-1] + b', "own": "' + hash_of(body).encode() + b'"}\n')
    assert fault(tmp_path).line == 1


@pytest.mark.parametrize(
    "body",
    [
        {"kind": ["note_taken"], "text": "x"}, {"kind": {}, "text": "x"}, {"kind": "nonsense"}, {"kind": "note_taken"},
        {"kind": "note_taken", "text": 5}, {"kind": "note_taken", "text": ["x"]},
        {"kind": "obligation_handed_over", "id": "x", "owner": "y", "hours": True},
        {"kind": "concluded", "cause": "x", "standing": "y", "evidence": "z", "action": ""},
        {"kind": "call_opened", "site": "x", "profile": "", "program": "", "machine_trips": [["a", "two"]]},
    ],
)  # fmt: skip
def test_a_line_of_strange_types_is_no_line_though_its_chain_is_whole(tmp_path: Path, body: dict[str, object]):
    (tmp_path / "events.jsonl").write_bytes(chained(body))
    assert fault(tmp_path).line == 1


@pytest.mark.parametrize(
    "data",
    [
        b"[" * 100_000 + b"\n", b'{"a":' * 100_000 + b"\n", b"x" * 3_000_000 + b"\n",
        b"\xff\xfe\n", b"null\n", b"[]\n", b"{}\n", b"\n",
        b'{"seq": NaN}\n', b'{"seq": 1e999}\n',
    ],
)  # fmt: skip
def test_what_is_no_log_at_all_is_damage_and_never_a_crash(tmp_path: Path, data: bytes):
    (tmp_path / "events.jsonl").write_bytes(data)
    assert fault(tmp_path).line == 1


def test_a_file_of_gigabytes_is_refused_before_it_is_read(tmp_path: Path):
    with open(tmp_path / "events.jsonl", "wb") as file:
        file.truncate(3 << 30)
    assert "limit" in str(fault(tmp_path))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_no_change_of_any_bytes_goes_unnoticed(tmp_path: Path, data: st.DataObject):
    call = tmp_path / "one"
    if not call.exists():
        Talk().hear("b four", "all good").write(call)
    whole = (call / "events.jsonl").read_bytes()
    start = data.draw(st.integers(0, len(whole) - 1))
    end = data.draw(st.integers(start, min(len(whole), start + 40)))
    bad = whole[:start] + data.draw(st.binary(max_size=12)) + whole[end:]
    (tmp_path / "events.jsonl").write_bytes(bad)
    try:
        found = read(tmp_path)
    except LogDamaged:
        return
    kept = b"".join(line + b"\n" for line in whole.splitlines()[: len(found.lines)])
    assert bad[: found.whole_bytes] == kept, "what is read was never written"


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=60).filter(lambda t: t.isprintable() or "\n" in t))
def test_whatever_was_said_is_read_again_as_it_was_said(tmp_path: Path, said: str):
    (tmp_path / "events.jsonl").unlink(missing_ok=True)
    with Log(tmp_path) as log:
        log.append(NoteTaken(said), NOON)
    assert read(tmp_path).lines[0].fact == NoteTaken(said)


# ---- one call, one process


def test_a_second_program_on_a_call_is_refused_and_told_who_has_it(tmp_path: Path):
    with Log(tmp_path / "one") as log:
        log.append(CallOpened("x", "", ""), NOON)
        with pytest.raises(LogInUse, match=f"process {os.getpid()} on "):
            Log(tmp_path / "one")
    Log(tmp_path / "one").close()


def test_a_call_that_could_not_be_opened_is_free_for_the_next(tmp_path: Path):
    with Log(tmp_path) as log:
        log.append(CallOpened("x", "", ""), NOON)
        log.append(CallSealed("y"), NOON)
    for _ in range(2):
        with pytest.raises(LogDamaged, match="sealed"):
            Log(tmp_path)


def test_calls_of_one_second_never_share_a_folder(tmp_path: Path):
    logs = [Log.begin(tmp_path, NOON) for _ in range(50)]
    assert len({log.folder for log in logs}) == 50
    for log in logs:
        log.close()


def test_a_new_call_takes_no_folder_that_is_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    names = iter(["same", "same", "other"])
    monkeypatch.setattr("secrets.token_hex", lambda n: next(names))
    with Log.begin(tmp_path, NOON), Log.begin(tmp_path, NOON) as second:
        assert second.folder.name.endswith("-other")


def test_calls_and_their_logs_are_their_owners_alone(tmp_path: Path):
    with Log.begin(tmp_path / "calls", NOON) as log:
        log.append(CallOpened("x", "", ""), NOON)
    assert (tmp_path / "calls").stat().st_mode & 0o777 == 0o700
    assert log.folder.stat().st_mode & 0o777 == 0o700
    for file in log.folder.iterdir():
        assert file.stat().st_mode & 0o777 == 0o600, file
