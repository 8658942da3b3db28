"""Nothing from outside breaks a call or prints a traceback: what comes in, what goes out, what ends it, what lies around."""

import errno
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from subprocess import PIPE

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.fronts.loop import Clock
from assistant.fronts.pipe import MOST_CHARACTERS, PipeFront
from assistant.language.grammar import understand
from assistant.language.meaning import Question
from assistant.language.vocabulary import vocabulary
from assistant.profile import DEMO_SITE, ProfileFaults, load_profile
from assistant.record.log import LogDamaged, read
from assistant.record.verify import verify
from assistant.terminal import plain
from tests.test_cli import ROOT, rackcall

linux = pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="a system that says how much memory a program had")
posix = pytest.mark.skipif(os.name != "posix", reason="signals and special files of a POSIX system")
HELLO = '{"say": "north store a two"}\n'


def messages(text: str) -> list[dict[str, object]]:
    return [json.loads(line) for line in text.splitlines()]


def pipe(calls: Path, said: str, *more: str) -> list[dict[str, object]]:
    got = rackcall("pipe", "--calls", str(calls), "--clock", "simulated", *more, said=said)
    assert "Traceback" not in got.stderr, got.stderr
    return messages(got.stdout)


MOST_KILOBYTES = "open('/proc/self/status').read().split('VmHWM:')[1].split()[0]"
"""The most memory that a program had, in its own words: `getrusage` gives it that of the program that started it too."""


# ---- what comes in


def test_deep_brackets_and_long_lines_get_an_error_and_the_question_stands(tmp_path: Path):
    said = "[" * 50_000 + "\n" + json.dumps({"say": "x" * 200_000}) + "\n" + HELLO
    got = pipe(tmp_path, said)
    errors = [m["error"] for m in got if m["type"] == "error"]
    assert len(errors) == 2
    assert f"at most {MOST_CHARACTERS} characters" in str(errors[1])
    assert any(m["type"] == "reading" and m["id"] == "rack" for m in got)


@linux
def test_a_hundred_megabytes_on_one_line_are_let_go_without_being_kept(tmp_path: Path):
    run = f"from assistant.cli import main; main(sys.argv[1:]); print({MOST_KILOBYTES}, file=sys.stderr)"
    words = [sys.executable, "-c", f"import sys; {run}", "pipe", "--calls", str(tmp_path), "--clock", "simulated"]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as process:
        assert process.stdin
        for _ in range(100):
            process.stdin.write(b"x" * 1_000_000)
        out, kilobytes = process.communicate(b"\n" + HELLO.encode())
    got = messages(out.decode())
    assert [m["type"] for m in got if m["type"] in ("error", "end")] == ["error", "end"]
    assert int(kilobytes.split()[-1]) < 600_000


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.one_of(st.text(max_size=80), st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(st.sampled_from(["say", "after_s", "audio", "x"]), inner, max_size=3),
    max_leaves=8,
).map(json.dumps)))  # fmt: skip
def test_no_line_of_the_pipe_is_more_than_an_answer_or_an_error(line: str):
    from assistant.call.effects import Listen

    front = PipeFront(Clock(True), None, None)  # type: ignore[arg-type]
    answer = front._read(line, Listen(Question("rack_suction_pressure"), "x", "pressure", "psig"))
    assert isinstance(answer, str) or hasattr(answer, "at")


@settings(max_examples=80)
@given(st.sampled_from(sorted(vocabulary())), st.text(max_size=40) | st.lists(
    st.sampled_from("two ten point minus no yes hundred open correction suction emergency a b".split()),
    max_size=9,
).map(" ".join))  # fmt: skip
def test_no_words_break_the_grammar(asking: str, words: str):
    understand(Question(asking), words)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_no_profile_breaks_the_program_it_is_good_or_its_faults_have_lines(tmp_path: Path, data: st.DataObject):
    lines = DEMO_SITE.read_text(encoding="utf-8").splitlines()
    keys = [n for n, line in enumerate(lines) if " = " in line and not line.startswith("#")]
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.sampled_from(keys))
        value = data.draw(st.sampled_from(
            ['""', "0", "-1", "1e308", "nan", "inf", "true", "[]", "{}", "[[]]", '["", 5]', '[{}]', "1979-05-27", "9" * 400,
             '"emergency"', "[1, 2, 3]", '{ id = 5 }', '"\\u0000"', "[[1, 2], [3]]"]
        ))  # fmt: skip
        lines[place] = lines[place].split(" = ")[0] + " = " + value
    file = tmp_path / "site.toml"
    file.write_text("\n".join(lines), encoding="utf-8")
    found: list[str] = []
    try:
        load_profile(file)
    except ProfileFaults as faults:
        found = faults.faults
    assert all(fault.startswith("site.toml, line ") for fault in found), found


@pytest.mark.parametrize("start", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00"])
def test_the_ends_of_the_calendar_are_no_time_for_a_call(start: str):
    got = rackcall("pipe", "--clock", "simulated", "--start", start)
    assert got.returncode == 2
    assert "a year between" in got.stderr


# ---- streams


@posix
@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_a_stream_that_is_closed_breaks_no_call_and_no_log(tmp_path: Path, closed: str):
    words = f"'{sys.executable}' -m assistant.cli pipe --calls '{tmp_path}' --clock simulated {closed}"
    said = b"" if "<" in closed else HELLO.encode()
    got = subprocess.run(["bash", "-c", words], input=said, capture_output=True, cwd=ROOT, check=False)
    assert b"Traceback" not in got.stderr
    (call,) = tmp_path.glob("2*")
    assert read(call).lines
    assert verify(call).good


@posix
def test_what_cannot_be_written_is_said_and_exits_3(tmp_path: Path):
    pipe(tmp_path, HELLO)
    (call,) = tmp_path.glob("2*")
    for words in (["show", str(call)], ["verify", str(call)], ["pipe", "--calls", str(tmp_path)]):
        with open("/dev/full", "w") as full:
            got = subprocess.run([sys.executable, "-m", "assistant.cli", *words], stdin=subprocess.DEVNULL, stdout=full,
                                 stderr=subprocess.PIPE, text=True, cwd=ROOT, check=False)  # fmt: skip
        assert got.returncode == 3, (words, got.stderr)
        assert os.strerror(errno.ENOSPC) in got.stderr
        assert "Traceback" not in got.stderr


@posix
def test_a_reader_that_goes_away_ends_the_call_with_a_whole_log(tmp_path: Path):
    words = f"'{sys.executable}' -m assistant.cli pipe --calls '{tmp_path}' --clock simulated | head -n 1"
    got = subprocess.run(["bash", "-c", words], input=HELLO.encode(), capture_output=True, cwd=ROOT, check=False)
    assert b"Traceback" not in got.stderr
    (call,) = tmp_path.glob("2*")
    assert not read(call).torn


@posix
def test_a_terminal_that_knows_ascii_only_gets_every_line(tmp_path: Path):
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONUTF8": "0"}
    words = [sys.executable, "-m", "assistant.cli", "pipe", "--calls", str(tmp_path), "--clock", "simulated"]
    said = HELLO + json.dumps({"say": "make a note"}) + "\n" + json.dumps({"say": "größer → 5"}, ensure_ascii=True) + "\n"
    got = subprocess.run(words, input=said.encode(), capture_output=True, cwd=ROOT, env=environment, check=False)
    assert b"Traceback" not in got.stderr
    assert messages(got.stdout.decode("ascii"))[-1]["type"] == "end"
    (call,) = tmp_path.glob("2*")
    shown = subprocess.run([*words[:3], "show", str(call)], capture_output=True, cwd=ROOT, env=environment, check=False)
    assert shown.returncode == 0, shown.stderr
    shown.stdout.decode("ascii")


def test_what_would_move_the_cursor_of_a_terminal_is_not_printed(tmp_path: Path):
    said = HELLO + json.dumps({"say": "make a note"}) + "\n" + json.dumps({"say": "\x1b[2Jgone \u202e\x07"}) + "\n"
    pipe(tmp_path, said)
    (call,) = tmp_path.glob("2*")
    shown = rackcall("show", str(call)).stdout
    assert "[2jgone" in shown.lower()
    assert not set("\x1b\x07\u202e") & set(shown)
    assert plain("two\nlines\tand \x9b31m") == "two\nlines\tand �31m"


# ---- what ends it


@posix
@pytest.mark.parametrize("by", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_whoever_ends_the_program_gets_an_end_and_a_whole_log(tmp_path: Path, by: signal.Signals):
    words = [sys.executable, "-m", "assistant.cli", "pipe", "--calls", str(tmp_path)]
    before = signal.signal(by, signal.default_int_handler)  # a shell ignores it in what it starts in the background
    try:
        begun = subprocess.Popen(words, stdin=PIPE, stdout=PIPE, stderr=PIPE, text=True, cwd=ROOT)
    finally:
        signal.signal(by, before)
    with begun as one:
        assert one.stdout
        assert one.stdin
        while json.loads(one.stdout.readline())["type"] != "ask":
            pass
        one.stdin.write(HELLO)
        one.stdin.flush()
        while json.loads(one.stdout.readline())["type"] != "ask":
            pass
        one.send_signal(by)
        rest = messages(one.stdout.read())
        assert one.stderr
        said = one.stderr.read()
    assert one.returncode == 3
    assert "Traceback" not in said
    assert rest[-1]["type"] == "end"
    assert rest[-1]["state"] == "interrupted"
    found = read(Path(str(rest[-1]["call"])))
    assert found.lines
    assert not found.torn


@posix
def test_a_program_started_to_outlive_its_window_does(tmp_path: Path):
    words = ["nohup", sys.executable, "-m", "assistant.cli", "pipe", "--calls", str(tmp_path)]
    with subprocess.Popen(words, stdin=PIPE, stdout=PIPE, stderr=subprocess.DEVNULL, text=True, cwd=ROOT) as one:
        assert one.stdout
        while json.loads(one.stdout.readline())["type"] != "ask":
            pass
        one.send_signal(signal.SIGHUP)
        time.sleep(0.2)
        out, _ = one.communicate(HELLO)
    assert any(m["type"] == "reading" for m in messages(out))
    assert one.returncode == 0


@posix
def test_two_programs_on_one_call_leave_its_log_whole(tmp_path: Path):
    pipe(tmp_path, HELLO)
    (call,) = tmp_path.glob("2*")
    words = [sys.executable, "-m", "assistant.cli", "resume", "--pipe", "--calls", str(tmp_path), call.name]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT) as first:
        assert first.stdout
        while json.loads(first.stdout.readline())["type"] != "ask":
            pass
        second = rackcall("resume", "--pipe", "--calls", str(tmp_path), call.name)
        assert second.returncode == 2
        assert f"process {first.pid}" in second.stderr
        first.communicate("")
    assert verify(call).good


# ---- what lies around


def test_nothing_foreign_among_the_calls_stops_a_new_one_or_a_command(tmp_path: Path):
    from tests.record.test_index import foreign

    foreign(tmp_path)
    got = pipe(tmp_path, HELLO)
    assert got[-1]["type"] == "end"
    again = rackcall("resume", "--pipe", "--calls", str(tmp_path), "--clock", "simulated")
    assert again.returncode == 0, again.stderr
    assert "passed over" in again.stderr
    for words in (["board", str(tmp_path)], ["verify", str(tmp_path)], ["index", str(tmp_path)]):
        got_ = rackcall(*words)
        assert got_.returncode == 1, (words, got_.stderr)
        assert "Traceback" not in got_.stderr


@pytest.mark.parametrize("name", ["am/final.mdl", "graph/HCLr.fst", "conf/model.conf"])
def test_a_damaged_speech_model_is_named_and_exits_3(tmp_path: Path, name: str):
    from assistant.hearing.model import ModelMissing, model_folder, pin

    try:
        whole = model_folder()
    except ModelMissing as error:
        pytest.skip(str(error))
    bad = tmp_path / pin().name
    for file in whole.rglob("*"):
        if file.is_file():
            target = bad / file.relative_to(whole)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.symlink_to(file)
    data = bytearray((whole / name).read_bytes())
    data[len(data) // 2] ^= 1
    (bad / name).unlink()
    (bad / name).write_bytes(bytes(data))
    environment = {**os.environ, "RACKCALL_MODEL": str(bad)}
    words = [sys.executable, "-m", "assistant.cli", "hear", "--asking", "rack_suction_pressure", str(DEMO_SITE)]
    got = subprocess.run(words, capture_output=True, text=True, cwd=ROOT, env=environment, check=False)
    assert "Traceback" not in got.stderr
    assert got.returncode == 3, got.stdout + got.stderr
    assert "is damaged" in got.stderr


@linux
def test_ten_minutes_of_192_kilohertz_take_bounded_memory(tmp_path: Path):
    import numpy as np
    import soundfile

    file = tmp_path / "long.flac"
    with soundfile.SoundFile(file, "w", 192_000, 1, "PCM_16") as sink:
        for _ in range(600):
            sink.write(np.zeros(192_000, np.int16))
    read = "from assistant.sound.audio_file import read_audio; print(len(read_audio(sys.argv[1]))"
    words = f"import sys; {read}, {MOST_KILOBYTES})"
    got = subprocess.run([sys.executable, "-c", words, str(file)], capture_output=True, text=True, cwd=ROOT, check=True)
    samples, kilobytes = map(int, got.stdout.split())
    assert samples == 600 * 16_000
    assert kilobytes < 250_000


def test_a_report_never_overwrites_a_log_or_anything_that_is_no_page(tmp_path: Path):
    pipe(tmp_path, HELLO)
    (call,) = tmp_path.glob("2*")
    own = tmp_path / "notes.txt"
    own.write_text("mine")
    before = (call / "events.jsonl").read_bytes()
    for target in (call / "events.jsonl", own):
        got = rackcall("report", str(call), "--out", str(target))
        assert got.returncode == 2, got.stderr
        assert "is there and is no page" in got.stderr
    assert (call / "events.jsonl").read_bytes() == before
    assert own.read_text() == "mine"
    assert rackcall("report", str(call), "--out", str(tmp_path / "page.html")).returncode == 0
    assert rackcall("report", str(call), "--out", str(tmp_path / "page.html")).returncode == 0


def test_the_kept_sound_is_forgotten_and_the_chain_stays_whole(tmp_path: Path):
    pipe(tmp_path, HELLO)
    (call,) = tmp_path.glob("2*")
    (call / "audio").mkdir()
    for n in range(3):
        (call / "audio" / f"{n:05d}.flac").write_bytes(b"x" * 1000)
    before = (call / "events.jsonl").read_bytes()
    assert rackcall("forget", str(call)).returncode == 2
    got = rackcall("forget", str(call), "--audio")
    assert got.returncode == 0
    assert "3 sound files deleted" in got.stdout
    assert not (call / "audio").exists()
    assert (call / "events.jsonl").read_bytes() == before
    assert rackcall("verify", str(call)).returncode == 0


def test_no_sound_is_deleted_behind_a_link(tmp_path: Path):
    pipe(tmp_path / "calls", HELLO)
    (call,) = (tmp_path / "calls").glob("2*")
    (tmp_path / "else").mkdir()
    (tmp_path / "else" / "mine.flac").write_bytes(b"x")
    (call / "audio").symlink_to(tmp_path / "else")
    assert rackcall("forget", str(call), "--audio").returncode == 2
    assert (tmp_path / "else" / "mine.flac").is_file()


def test_a_log_in_the_place_of_a_folder_is_damage_and_no_crash(tmp_path: Path):
    (tmp_path / "events.jsonl").mkdir()
    with pytest.raises((LogDamaged, OSError)):
        read(tmp_path)
    got = rackcall("verify", str(tmp_path))
    assert got.returncode in (1, 2)
    assert "Traceback" not in got.stderr
