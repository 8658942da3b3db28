"""The published commands: parses words, prints, exit codes; no work of its own."""

import argparse
import errno
import json
import sys
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.arguments import Run, parser
from assistant.fronts.stopped import Stopped
from assistant.terminal import ended_by_signals, finish, nobody_reads, plain, three_streams

if TYPE_CHECKING:
    from assistant.branches.steps import Procedure
    from assistant.call.effects import Listen
    from assistant.call.heard import Heard, Unclear
    from assistant.fronts.loop import Clock, Front
    from assistant.fronts.pipe import HearsFile
    from assistant.fronts.recording import FileEar
    from assistant.profile import Site

OK, DIFFERENT, WRONG, MISSING = 0, 1, 2, 3


class Trouble(Exception):
    """What stopped a command, as a clear sentence, with its exit code."""

    def __init__(self, words: str, code: int) -> None:
        super().__init__(words)
        self.code = code


def main(argv: list[str] | None = None) -> int:
    """Run one command. Returns the exit code."""
    three_streams()
    options = parser(RUNS).parse_args(argv)
    with ended_by_signals():
        return finish(_run(options))


def _run(options: argparse.Namespace) -> int:
    run: Run = options.run
    try:
        return run(options)
    except Trouble as trouble:
        print(f"rackcall: {trouble}", file=sys.stderr)
        return trouble.code
    except (KeyboardInterrupt, Stopped):
        print("\nrackcall: interrupted; 'rackcall resume' goes on from here", file=sys.stderr)
        return MISSING
    except BrokenPipeError:
        nobody_reads()
        return MISSING
    except Exception as error:
        named = isinstance(error, ValueError | OSError) or type(error).__name__ in _MISSING | _WRONG
        if not named:
            raise
        return _named(error)


_MISSING = {"ModelMissing", "ModelFault", "SoundMissing", "DiskTrouble", "VoiceMissing", "SigningMissing", "BrowserMissing"}
_WRONG = {"AudioFault", "ManifestFault"}


_NO_ROOM = (errno.ENOSPC, errno.EIO, errno.EDQUOT)


def _named(error: Exception) -> int:
    """Faults that the rooms name themselves: known by name, so that no room is loaded only to ask."""
    name, missing = type(error).__name__, _MISSING
    if isinstance(error, OSError) and not error.filename and error.errno in _NO_ROOM:
        nobody_reads()
        print(f"rackcall: what it has to say cannot be written ({error.strerror})", file=sys.stderr)
        return MISSING
    code = MISSING if name in missing else DIFFERENT if name == "LogDamaged" else WRONG
    words = str(error)
    if isinstance(error, OSError) and error.filename and name not in missing:
        words = f"{error.filename}: {error.strerror}"
    print(f"rackcall: {plain(words)}", file=sys.stderr)
    return code


# ---- parts that several commands share


def _calls(options: argparse.Namespace) -> Path:
    if options.calls:
        return Path(options.calls)
    from platformdirs import user_data_path

    return user_data_path("rackcall") / "calls"


def _sites(options: argparse.Namespace) -> "tuple[Site, ...]":
    from assistant.profile import ProfileFaults
    from assistant.sites import load_sites

    try:
        return load_sites(Path(options.profile) if options.profile else None)
    except ProfileFaults as faults:
        raise Trouble(str(faults), WRONG) from faults


def _site(options: argparse.Namespace) -> "Site":
    """One site, for a command that is about no call."""
    sites = _sites(options)
    if len(sites) > 1:
        raise Trouble(f"there are {len(sites)} sites; say which with --profile FILE", WRONG)
    return sites[0]


def _call_folder(options: argparse.Namespace, name: str) -> Path:
    """A call by its path, or by its name under the calls' folder."""
    for path in (Path(name), _calls(options) / name):
        if path.exists():
            return path
    raise Trouble(f"there is no call '{name}', neither as a path nor in {_calls(options)}", WRONG)


def _quick_properties(at_once: bool = False) -> None:
    """Let the properties of refrigerants be at hand quickly; at once where a thread would import them beside what is printed."""
    from assistant.terminal import without_its_tables
    from assistant.trade import refrigerant

    refrigerant.around_import = without_its_tables
    if at_once:
        refrigerant.coolprop()


def _carry(options: argparse.Namespace, front: "Front", clock: "Clock", call: Path | None = None) -> str:
    from assistant.fronts.choosing import begun
    from assistant.fronts.loop import run

    _quick_properties()
    procedure = _procedure_of(getattr(options, "procedures", None))
    started = begun(_sites(options), _calls(options), clock, front, call, procedure)
    if started is None:
        return "interrupted"
    dialogue, effects, log = started
    with log:
        return run(dialogue, effects, log, front)


def _clock(options: argparse.Namespace) -> "Clock":
    from assistant.fronts.loop import Clock
    from assistant.record.chain import FIRST_YEAR, LAST_YEAR

    start = None
    if getattr(options, "start", None):
        try:
            start = datetime.fromisoformat(options.start)
        except ValueError as error:
            raise Trouble(f"--start {options.start}: not a time such as 2026-03-01T22:10:00-05:00", WRONG) from error
        if start.tzinfo is None:
            raise Trouble(f"--start {options.start}: the offset is missing, as in 22:10:00-05:00", WRONG)
        if not FIRST_YEAR < start.year < LAST_YEAR:
            raise Trouble(f"--start {options.start}: a year between {FIRST_YEAR} and {LAST_YEAR} is wanted", WRONG)
    return Clock(getattr(options, "clock", "real") == "simulated", start)


# ---- the commands


def _type(options: argparse.Namespace) -> int:
    from assistant.fronts.pipe import KeyboardFront

    clock = _clock(options)
    _carry(options, KeyboardFront(clock), clock)  # who ends the input has done nothing wrong: 'resume' goes on
    return OK


def _resume(options: argparse.Namespace) -> int:
    from assistant.fronts.loop import latest_open
    from assistant.fronts.pipe import KeyboardFront

    call = _call_folder(options, options.call) if options.call else latest_open(_calls(options), _aside)
    if call is None:
        raise Trouble(f"no interrupted call in {_calls(options)}", WRONG)
    clock = _clock(options)
    if options.pipe:
        from assistant.fronts.pipe import PipeFront

        _carry(options, PipeFront(clock, sys.stdin, sys.stdout, _lazy_ear()), clock, call)
        return OK
    if options.talk:
        return _talked(options, call)
    _carry(options, KeyboardFront(clock), clock, call)
    return OK


def _lazy_ear() -> "HearsFile":
    """The recogniser, loaded at the first sound file and not before."""
    ears: list[FileEar] = []

    def hear(file: Path, listen: "Listen") -> "Heard | Unclear":
        from assistant.fronts.recording import open_ear
        from assistant.sound.audio_file import read_audio

        samples = read_audio(file)
        if not ears:
            ears.append(open_ear())
        return ears[0].hear(samples, listen.question).fact(datetime.now().astimezone())

    return hear


def _pipe(options: argparse.Namespace) -> int:
    from assistant.fronts.pipe import PipeFront

    clock = _clock(options)
    _carry(options, PipeFront(clock, sys.stdin, sys.stdout, _lazy_ear()), clock)
    return OK


def _talk(options: argparse.Namespace) -> int:
    return _talked(options, None)


def _talked(options: argparse.Namespace, call: Path | None) -> int:
    """A call by voice, new or taken up."""
    from assistant.fronts.microphone import talk

    _quick_properties(at_once=True)
    ended = talk(lambda: _sites(options), _calls(options), call, options.headset, options.keep_audio)
    return OK if ended == "sealed" else MISSING


def _ready(options: argparse.Namespace) -> int:
    from assistant.fronts.ready import ready

    return ready(lambda: _sites(options), _calls(options), print)


def _record(options: argparse.Namespace) -> int:
    from assistant.fronts.recorder import record_call, record_phrases

    folder = Path(options.dir)
    if bool(options.asking) != bool(options.say):
        raise Trouble("--asking ID and --say WORDS go together", WRONG)
    if options.asking:
        return record_phrases(folder, options.asking, options.say, print)
    _quick_properties(at_once=not options.of)
    if options.of:
        from assistant.fronts.kept import record_kept

        return record_kept(_call_folder(options, options.of), folder, print)
    return record_call(lambda: _sites(options), _calls(options), folder, print, options.headset)


def _demo(options: argparse.Namespace) -> int:
    from assistant.fronts.recording import demo
    from assistant.profile import DEMO_SITE, load_profile

    _quick_properties(at_once=True)
    site = _sites(options)[0] if options.profile else load_profile(DEMO_SITE)
    beside = _calls(options)
    return demo(site, beside if options.calls else beside.with_name("demo"), print)  # no trip among a user's own calls


def _replay(options: argparse.Namespace) -> int:
    from assistant.fronts.replays import replay_all, write_junit

    if (options.noise is None) != (options.snr is None):
        raise Trouble("--noise and --snr go together", WRONG)
    if options.accept and options.noise:
        raise Trouble("--accept takes what is heard without noise", WRONG)
    how = {"noise": Path(options.noise) if options.noise else None, "snr_db": options.snr, "accept": options.accept}
    how["keep"] = Path(options.calls) if options.calls else None
    _quick_properties(at_once=True)
    with _told(f"Replaying {', '.join(options.dirs)}"):
        runs = replay_all(options.dirs, print, options.jobs, **how)
    if options.junit:
        write_junit(runs, Path(options.junit))
    return max(run.code for run in runs)


def _hear(options: argparse.Namespace) -> int:
    from assistant.hearing.hear import hear_files, hear_manifest
    from assistant.language.vocabulary import vocabulary

    if options.manifest:
        rows = hear_manifest(Path(options.manifest))
    elif options.asking and options.files:
        if options.asking != "command" and options.asking not in vocabulary():
            raise Trouble(f"'{options.asking}' is not an id of the vocabulary", WRONG)
        rows = hear_files(options.files, options.asking)
    else:
        raise Trouble("say --asking ID FILE..., or --manifest CSV", WRONG)
    bad = 0
    for row in rows:
        print(json.dumps(row, ensure_ascii=False), flush=True)
        bad += row.get("status") == "error"
    return WRONG if bad else OK


def _show(options: argparse.Namespace) -> int:
    from assistant.record.show import as_text

    print(plain(as_text(_call_folder(options, options.call))))
    return OK


def _report(options: argparse.Namespace) -> int:
    from assistant.record.report import write_report

    page = write_report(_call_folder(options, options.call), Path(options.out) if options.out else None)
    print(page)
    if options.pdf:
        from assistant.record.printing import print_page

        print(print_page(page))
    return OK


def _board(options: argparse.Namespace) -> int:
    from assistant.record.board import write_board

    out = Path(options.out) if options.out else None
    found = write_board(Path(options.dir), out, options.csv, options.parquet, options.ics)
    for words in found.damaged:
        print(plain(words))
    print(f"{found.index}: {found.calls} calls" + "".join(f"; {file}" for file in found.files))
    return DIFFERENT if found.damaged else OK


def _verify(options: argparse.Namespace) -> int:
    from assistant.record.log import events_file
    from assistant.record.verify import LEAST_DIGITS, verify

    worst = OK
    if options.head and len(options.head) < LEAST_DIGITS:
        raise Trouble(f"--head {options.head}: at least {LEAST_DIGITS} digits of it are wanted", WRONG)
    for name in options.calls_given:
        path = _call_folder(options, name)
        try:
            found = verify(path, options.head, options.key)
        except OSError as error:
            raise Trouble(f"{events_file(path)}: {error.strerror}", WRONG) from error
        for line in found.lines:
            print(plain(line))
        worst = worst if found.good else DIFFERENT
    return worst


def _forget(options: argparse.Namespace) -> int:
    from assistant.record.forget import forget_audio

    if not options.audio:
        raise Trouble("say what is to be forgotten: --audio", WRONG)
    call = _call_folder(options, options.call)
    count, megabytes = forget_audio(call)
    print(f"{call}: {count} sound files deleted, {megabytes:.1f} MB; the log is as it was")
    return OK


def _index(options: argparse.Namespace) -> int:
    from assistant.record.index import INDEX, Index

    folder = Path(options.dir)
    if not folder.is_dir():
        raise Trouble(f"{folder} is not a folder of calls", WRONG)
    if (folder / INDEX).is_file():
        (folder / INDEX).unlink()
    with Index(folder) as index, _told("Reading every log"):
        print(f"{folder}: {index.refresh().read} logs read into the index")
        for _, words in index.troubles():
            print(plain(words))
        return DIFFERENT if index.troubles() else OK


def _new_key(options: argparse.Namespace) -> int:
    from assistant.record.signing import key_file, new_key

    try:
        print(new_key())
    except FileExistsError:
        raise Trouble(f"{key_file()} is there already; it is not replaced", WRONG) from None
    _aside(f"{key_file()} signs every call that you seal from now on: keep it to yourself. The line above is for who verifies.")
    return OK


def _show_key(options: argparse.Namespace) -> int:
    from assistant.record.signing import key_file, public_key

    try:
        print(public_key())
    except FileNotFoundError:
        raise Trouble(f"no key in {key_file()}; 'rackcall key new' makes one", WRONG) from None
    return OK


def _procedure(options: argparse.Namespace) -> int:
    from assistant.safety.walk import SEED, prove

    procedure = _procedure_of(options.folder)
    _quick_properties(at_once=True)
    with _told("Walking through the procedure"):
        result = prove(_site(options), procedure, options.at_most, seed=options.seed or SEED)
    for line in result.rules():
        print(line)
    for complaint in (*result.complaints[:20], *result.not_met):
        print(complaint)
    print(result.summary())
    return DIFFERENT if result.complaints or result.not_met else OK


def _procedure_of(folder: str | None) -> "Procedure":
    """The procedure of the folder that was given; the package's own without one."""
    from assistant.call.procedure import ProcedureFault, load_procedure, own_procedure

    if folder and not Path(folder).is_dir():
        raise Trouble(f"{folder}: there is no such folder", WRONG)
    try:
        return load_procedure(Path(folder)) if folder else own_procedure()
    except ProcedureFault as fault:
        raise Trouble(str(fault), DIFFERENT) from fault


def _draw(options: argparse.Namespace) -> int:
    from assistant.record.pages import written
    from assistant.safety.drawing import drawing

    print(written(Path(options.out), drawing(_procedure_of(options.folder))))
    return OK


def _new_profile(options: argparse.Namespace) -> int:
    from assistant.profile import DEMO_SITE

    file = Path(options.file)
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        with open(file, "x", encoding="utf-8") as sink:
            sink.write(DEMO_SITE.read_text(encoding="utf-8"))
    except FileExistsError:
        raise Trouble(f"{file} is there already; give another name", WRONG) from None
    print(f"{file}: the demo site, to be changed into yours; then 'rackcall profile check {file}'")
    return OK


def _profile(options: argparse.Namespace) -> int:
    from assistant.fronts.profiles import check

    return check(Path(options.file), print, lambda words: print(words, file=sys.stderr))


def _model(options: argparse.Namespace) -> int:
    from assistant.hearing.model import ModelMissing, fetch, model_folder

    try:
        print(model_folder())
    except ModelMissing:
        with _told("Fetching the speech model"):
            found = fetch(_aside)
        print(found)
    return OK


def _aside(words: str) -> None:
    """A line about what is going on, beside the command's output."""
    print(words, file=sys.stderr, flush=True)


def _told(words: str) -> AbstractContextManager[None]:
    """What takes long says that it goes on."""
    from assistant.fronts.waiting import told

    return told(_aside, words)


RUNS: dict[str, Run] = {
    "demo": _demo, "ready": _ready, "record": _record, "talk": _talk, "type": _type, "resume": _resume, "pipe": _pipe,
    "replay": _replay, "hear": _hear, "show": _show, "report": _report, "board": _board, "verify": _verify,
    "forget": _forget, "index": _index, "new_key": _new_key, "show_key": _show_key, "procedure": _procedure, "draw": _draw,
    "new_profile": _new_profile, "profile": _profile, "model": _model,
}  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
