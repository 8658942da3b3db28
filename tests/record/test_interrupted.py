"""A call that was broken off goes on: the right one, with its own profile, and with a clock that never runs back."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.call.effects import Say
from assistant.call.facts import CallOpened, ClockJumped, NoteTaken
from assistant.fronts.choosing import site_of_call
from assistant.fronts.loop import PROFILE, Clock, Overtaken, latest_open, new_call, profile_hash, resumed_call
from assistant.profile import DEMO_SITE, Site, load_profile
from assistant.record.index import Index
from assistant.record.log import Log, LogDamaged, facts, read
from assistant.sites import differences
from tests.simulated import Rack
from tests.talk import Talk

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def site(folder: Path, *changes: tuple[str, str]) -> Site:
    """A profile of one's own."""
    text = DEMO_SITE.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    folder.mkdir(exist_ok=True)
    (folder / "own.toml").write_text(text, encoding="utf-8")
    return load_profile(folder / "own.toml")


def begun(calls: Path, own: Site, at: datetime = NOON) -> Path:
    _, effects, log = new_call(own, calls, Clock(True, at))
    with log:
        for effect in effects:
            if hasattr(effect, "fact"):
                log.append(effect.fact, effect.at)
    return log.folder


def told(call: Path, own: Site) -> list[str]:
    _, effects, log = resumed_call(own, call, Clock(True, NOON + timedelta(hours=1)))
    log.close()
    return [effect.text for effect in effects if isinstance(effect, Say)]


# ---- its profile


def test_a_call_goes_on_with_the_profile_it_was_begun_with_and_says_what_differs(tmp_path: Path):
    call = begun(tmp_path / "calls", site(tmp_path / "sites"))
    assert (call / PROFILE).read_bytes() == (tmp_path / "sites" / "own.toml").read_bytes()
    today = site(tmp_path / "sites", ("full_charge_lb = 620", "full_charge_lb = 500"))
    said = told(call, today)
    assert any("racks a full charge lb was 620, is 500" in words for words in said), said
    _, _, log = resumed_call(today, call, Clock(True, NOON + timedelta(hours=1)))
    log.close()


def test_a_call_by_the_same_profile_says_nothing_of_it(tmp_path: Path):
    own = site(tmp_path / "sites")
    assert not any("profile" in words for words in told(begun(tmp_path / "calls", own), own))


@pytest.mark.parametrize("spoil", ["changed", "gone", "garbled"])
def test_a_call_whose_copy_is_not_what_it_was_is_not_taken_up_by_another(tmp_path: Path, spoil: str):
    call = begun(tmp_path / "calls", site(tmp_path / "sites"))
    copy = call / PROFILE
    match spoil:
        case "changed":
            copy.write_text(copy.read_text(encoding="utf-8") + "# changed\n", encoding="utf-8")
        case "gone":
            copy.unlink()
        case "garbled":
            copy.write_bytes(b"\xff\xfe")
    today = site(tmp_path / "sites", ("full_charge_lb = 620", "full_charge_lb = 500"))
    with pytest.raises(LogDamaged, match="give that one with --profile"):
        resumed_call(today, call, Clock(True, NOON))
    Log(call).close()  # and it is free again


def test_what_differs_between_two_profiles_is_named_by_its_part(tmp_path: Path):
    one = site(tmp_path / "one")
    other = site(tmp_path / "two", ("altitude_ft = ", "altitude_ft = 1"))
    assert differences(one, one) == []
    assert [words.split(" was ")[0] for words in differences(one, other)] == ["altitude ft"]


# ---- which call


def test_the_call_heard_last_is_taken_up_and_damaged_and_empty_ones_are_named(tmp_path: Path):
    own = load_profile()
    older, newer = begun(tmp_path, own), begun(tmp_path, own, NOON + timedelta(hours=2))
    begun_file = older / "events.jsonl"
    begun_file.touch()  # a copy or a backup touches files; what counts is when somebody was heard
    (tmp_path / "damaged").mkdir()
    (tmp_path / "damaged" / "events.jsonl").write_text("{}\n")
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty" / "events.jsonl").touch()
    said: list[str] = []
    assert latest_open(tmp_path, said.append) == newer
    assert len(said) == 2
    assert any("damaged" in words and "line 1" in words for words in said)
    assert any("empty holds no whole line" in words for words in said)


def test_calls_that_the_index_knows_as_sealed_are_not_read_for_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    sealed = Talk().to_the_seal(Rack("none")).write(tmp_path / "2026-03-01_1200")
    open_ = begun(tmp_path, load_profile())
    with Index(tmp_path) as index:
        index.refresh()
    looked: list[Path] = []
    monkeypatch.setattr("assistant.fronts.loop.read", lambda call: (looked.append(call), read(call))[1])
    assert latest_open(tmp_path) == open_
    assert sealed not in looked
    assert open_ in looked


def test_a_call_of_another_computer_in_a_shared_folder_is_not_taken_up(tmp_path: Path):
    call = begun(tmp_path, load_profile())
    (call / ".writer.json").write_text('{"host": "another", "pid": 1, "since": "yesterday"}')
    assert latest_open(tmp_path) is None


def test_the_site_of_a_call_is_found_by_its_profile_among_several(tmp_path: Path):
    one = site(tmp_path / "one")
    other = site(tmp_path / "two", ("north store", "south store"))
    call = begun(tmp_path / "calls", other)
    assert site_of_call((one, other), call) is other


# ---- its clock


class Walls:
    """A clock on the wall that can be set, and one that runs on evenly beside it."""

    def __init__(self) -> None:
        self.wall, self.even_s = NOON, 1000.0

    def clock(self) -> Clock:
        return Clock(wall=lambda: self.wall, even_s=lambda: self.even_s)

    def go_on(self, seconds: float, set_by_s: float = 0) -> None:
        self.even_s += seconds
        self.wall += timedelta(seconds=seconds + set_by_s)


@pytest.mark.parametrize("set_by_s", [-7200.0, 86400.0, -86400 * 400.0])
def test_a_clock_that_is_set_changes_no_interval_and_is_told_once(set_by_s: float):
    walls = Walls()
    clock = walls.clock()
    walls.go_on(60)
    assert clock.jumped_s() == 0
    walls.go_on(60, set_by_s)
    assert clock.now() == NOON + timedelta(seconds=120)
    assert clock.jumped_s() == pytest.approx(set_by_s)
    walls.go_on(1800)
    assert clock.now() - NOON == timedelta(seconds=1920)
    assert clock.jumped_s() == 0


def test_the_slow_correction_of_a_clock_by_the_network_is_no_jump():
    walls = Walls()
    clock = walls.clock()
    walls.go_on(3600, 1.5)
    assert clock.jumped_s() == 0


def test_a_clock_set_back_between_two_runs_does_not_stop_the_timers(tmp_path: Path):
    call = begun(tmp_path, load_profile(), NOON)
    last = read(call).lines[-1].at
    walls = Walls()
    walls.wall = NOON - timedelta(days=2)
    clock = walls.clock()
    _, _, log = resumed_call(load_profile(), call, clock)
    log.close()
    assert clock.now() == last
    walls.go_on(1800)
    assert clock.now() - last == timedelta(seconds=1800)
    assert clock.jumped_s() == pytest.approx(-2 * 86400)


def test_a_set_clock_stands_in_the_log(tmp_path: Path):
    import io

    from assistant.fronts.loop import run
    from assistant.fronts.pipe import PipeFront

    walls = Walls()
    clock = walls.clock()
    dialogue, effects, log = new_call(load_profile(), tmp_path, clock)
    walls.go_on(10, -3600)
    with log:
        run(dialogue, effects, log, PipeFront(clock, io.StringIO('{"say": "north store a two"}\n'), io.StringIO()))
    jumps = [fact for _, fact in facts(log.folder) if isinstance(fact, ClockJumped)]
    assert [fact.seconds for fact in jumps] == [-3600.0]
    times = [at for at, _ in facts(log.folder)]
    assert times == sorted(times)
    assert times[-1] - times[0] == timedelta(seconds=10)


def test_a_log_never_runs_back_whatever_time_it_is_given(tmp_path: Path):
    with Log(tmp_path) as log:
        log.append(CallOpened("x", "", ""), NOON)
        log.append(NoteTaken("y"), NOON - timedelta(hours=1))
    assert [line.at for line in read(tmp_path).lines] == [NOON, NOON]


# ---- another call about its machine came later


def _opened(own: Site) -> CallOpened:
    return CallOpened(own.name, profile_hash(own), "test", technician="Robin Vale")


def _broken_off(calls: Path, at: datetime, own: Site) -> Path:
    """A call that is cut before its repair."""
    talk = Talk(own, opened=_opened(own)).until(Rack("injection_coil_failed"), "repaired")
    with Log.begin(calls, at) as log:
        shift = at - talk.facts[0][0]
        for then, fact in talk.facts:
            log.append(fact, then + shift)
    return log.folder


def test_a_call_is_not_taken_up_behind_a_later_one_about_its_machine_that_is_sealed(tmp_path: Path):
    """S5, S40: what it left hooked up was taken over and cleared, and its coil has been replaced since."""
    own = load_profile()
    cut = _broken_off(tmp_path, NOON, own)
    with Log.begin(tmp_path, NOON + timedelta(hours=4)) as log:
        talk = Talk(own, opened=_opened(own)).to_the_seal(Rack("injection_coil_failed"))
        for then, fact in talk.facts:
            log.append(fact, then + timedelta(hours=4))
    lines: list[str] = []
    assert latest_open(tmp_path, lines.append) is None
    assert log.folder.name in lines[0]
    with pytest.raises(Overtaken, match="Begin a new call"):
        resumed_call(own, cut, Clock(True, NOON + timedelta(hours=9)))


def test_a_later_call_that_is_not_sealed_overtakes_nothing(tmp_path: Path):
    own = load_profile()
    cut = _broken_off(tmp_path, NOON, own)
    _broken_off(tmp_path, NOON + timedelta(hours=4), own)
    _, _, log = resumed_call(own, cut, Clock(True, NOON + timedelta(hours=9)))
    log.close()
