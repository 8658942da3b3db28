"""The published commands: parses words, prints, exit codes; no work of its own."""

import argparse
import io
import json
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

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
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")  # one odd byte from a keyboard must not end a call
    options = _parser().parse_args(argv)
    run: Callable[[argparse.Namespace], int] = options.run
    try:
        return run(options)
    except Trouble as trouble:
        print(f"rackcall: {trouble}", file=sys.stderr)
        return trouble.code
    except KeyboardInterrupt:
        print("\nrackcall: interrupted; 'rackcall resume' goes on from here", file=sys.stderr)
        return MISSING
    except BrokenPipeError:
        sys.stderr.close()
        return MISSING
    except Exception as error:
        named = isinstance(error, ValueError | OSError) or type(error).__name__ in _MISSING | _WRONG
        if not named:
            raise
        return _named(error)


_MISSING = {"ModelMissing", "ModelFault", "SoundMissing", "DiskTrouble", "VoiceMissing"}
_WRONG = {"AudioFault", "ManifestFault"}


def _named(error: Exception) -> int:
    """Faults that the rooms name themselves: known by name, so that no room is loaded only to ask."""
    name, missing = type(error).__name__, _MISSING
    code = MISSING if name in missing else DIFFERENT if name == "LogDamaged" else WRONG
    words = str(error)
    if isinstance(error, OSError) and error.filename and name not in missing:
        words = f"{error.filename}: {error.strerror}"
    print(f"rackcall: {words}", file=sys.stderr)
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


def _carry(options: argparse.Namespace, front: "Front", clock: "Clock", call: Path | None = None) -> str:
    from assistant.fronts.choosing import begun
    from assistant.fronts.loop import run

    procedure = _procedure_of(getattr(options, "procedures", None))
    started = begun(_sites(options), _calls(options), clock, front, call, procedure)
    if started is None:
        return "interrupted"
    dialogue, effects, log = started
    with log:
        return run(dialogue, effects, log, front)


def _clock(options: argparse.Namespace) -> "Clock":
    from assistant.fronts.loop import Clock

    start = None
    if getattr(options, "start", None):
        try:
            start = datetime.fromisoformat(options.start)
        except ValueError as error:
            raise Trouble(f"--start {options.start}: not a time such as 2026-03-01T22:10:00-05:00", WRONG) from error
        if start.tzinfo is None:
            raise Trouble(f"--start {options.start}: the offset is missing, as in 22:10:00-05:00", WRONG)
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

    call = _call_folder(options, options.call) if options.call else latest_open(_calls(options))
    if call is None:
        raise Trouble(f"no interrupted call in {_calls(options)}", WRONG)
    clock = _clock(options)
    if options.pipe:
        from assistant.fronts.pipe import PipeFront

        _carry(options, PipeFront(clock, sys.stdin, sys.stdout, _lazy_ear()), clock, call)
        return OK
    if options.talk:
        from assistant.fronts.microphone import talk

        ended = talk(lambda: _sites(options), _calls(options), call, options.headset, options.keep_audio)
        return OK if ended == "sealed" else MISSING
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
    from assistant.fronts.microphone import talk

    ended = talk(lambda: _sites(options), _calls(options), None, options.headset, options.keep_audio)
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
    return record_call(lambda: _sites(options), _calls(options), folder, print, options.headset)


def _demo(options: argparse.Namespace) -> int:
    from assistant.fronts.recording import demo
    from assistant.profile import DEMO_SITE, load_profile

    site = _sites(options)[0] if options.profile else load_profile(DEMO_SITE)
    return demo(site, _calls(options), print)


def _replay(options: argparse.Namespace) -> int:
    from assistant.fronts.recording import replay

    snr = options.snr
    if (options.noise is None) != (snr is None):
        raise Trouble("--noise and --snr go together", WRONG)
    worst = OK
    for folder in options.dirs:
        with _told(f"Replaying {folder}"):
            worst = max(worst, replay(Path(folder), print, Path(options.noise) if options.noise else None, snr))
    return worst


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

    print(as_text(_call_folder(options, options.call)))
    return OK


def _report(options: argparse.Namespace) -> int:
    from assistant.record.report import write_report

    folder = _call_folder(options, options.call)
    print(write_report(folder, Path(options.out) if options.out else None))
    return OK


def _board(options: argparse.Namespace) -> int:
    from assistant.record.board import write_board

    found = write_board(Path(options.dir), Path(options.out) if options.out else None, options.csv)
    for words in found.damaged:
        print(words)
    print(f"{found.index}: {found.calls} calls" + (f"; {found.index.with_name('calls.csv')}" if options.csv else ""))
    return DIFFERENT if found.damaged else OK


def _verify(options: argparse.Namespace) -> int:
    from assistant.record.log import LogDamaged, events_file, read

    worst = OK
    for name in options.calls_given:
        folder = _call_folder(options, name)
        try:
            found = read(folder)
        except LogDamaged as error:
            print(f"{error}")
            worst = DIFFERENT
            continue
        except OSError as error:
            raise Trouble(f"{events_file(folder)}: {error.strerror}", WRONG) from error
        if not found.lines:
            print(f"{folder}: the log holds no whole line")
            worst = DIFFERENT
            continue
        state = "sealed" if found.sealed else "not sealed"
        torn = "; the last line is torn and does not count" if found.torn else ""
        print(f"{folder}: whole, {len(found.lines)} lines, {state}{torn}")
    return worst


def _procedure(options: argparse.Namespace) -> int:
    from assistant.safety.walk import prove

    procedure = _procedure_of(options.folder)
    with _told("Walking through the procedure"):
        result = prove(_site(options), procedure, options.at_most)
    for line in result.rules():
        print(line)
    for complaint in (*result.complaints[:20], *result.not_met):
        print(complaint)
    print(result.summary())
    return DIFFERENT if result.complaints or result.not_met else OK


def _procedure_of(folder: str | None) -> "Procedure":
    """The procedure of the folder that was given; the package's own without one."""
    from assistant.call.procedure import ProcedureFault, load_procedure

    if folder and not Path(folder).is_dir():
        raise Trouble(f"{folder}: there is no such folder", WRONG)
    try:
        return load_procedure(Path(folder) if folder else None)
    except ProcedureFault as fault:
        raise Trouble(str(fault), DIFFERENT) from fault


def _draw(options: argparse.Namespace) -> int:
    from assistant.record.report import written
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


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="rackcall",
        description="Takes a refrigeration technician through a tripped rack compressor, by voice, offline.",
        epilog="Guidance only: the maker's instructions, local codes and licensed practice come first.",
    )
    parser.add_argument("--version", action=_Version, help="the program's version")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def add(name: str, run: Callable[[argparse.Namespace], int], words: str, profile: bool = True) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=words, description=words)
        sub.set_defaults(run=run)
        sub.add_argument("--calls", metavar="DIR", help="where calls are kept")
        if profile:
            sub.add_argument("--profile", metavar="FILE|FOLDER", help="a site's profile, or a folder of them; without it "
                             "the folder rackcall/sites of your configuration, and where that is empty the demo site")
        return sub

    add("demo", _demo, "a recorded call through recogniser, dialogue, log and report")
    add("ready", _ready, "check microphone, speaker, speech model, profile and disk")
    sub = add("record", _record, "record a live call, or single phrases, for replay")
    sub.add_argument("dir", metavar="DIR", help="a new folder for the recording")
    sub.add_argument("--asking", metavar="ID", help="single phrases: what they answer, an id of the vocabulary or 'command'")
    sub.add_argument("--say", action="append", metavar="WORDS", help="single phrases: the words of one; may be repeated")
    sub.add_argument("--headset", action="store_true", help="the microphone stays open while it speaks")
    _voice_options(add("talk", _talk, "a live call: microphone in, speech out"))
    _procedures_option(add("type", _type, "the same call from the keyboard"))
    sub = add("resume", _resume, "go on where an interrupted call stopped")
    sub.add_argument("call", nargs="?", help="the call; the latest that is not sealed without it")
    sub.add_argument("--pipe", action="store_true", help="over stdin and stdout, as JSON Lines")
    sub.add_argument("--talk", action="store_true", help="by voice")
    _voice_options(sub)
    _clock_options(sub)
    sub = add("pipe", _pipe, "a call driven over stdin and stdout, JSON Lines both ways")
    _clock_options(sub)
    sub = add("replay", _replay, "run recorded calls and compare each log with its expected one", profile=False)
    sub.add_argument("dirs", nargs="+", metavar="DIR", help="a recorded call")
    sub.add_argument("--noise", metavar="FILE", help="sound that is mixed in")
    sub.add_argument("--snr", type=float, metavar="DB", help="how far the speech is over it")
    sub = add("hear", _hear, "the recogniser alone: one JSON line per file", profile=False)
    sub.add_argument("--asking", metavar="ID", help="what the files answer: an id of the vocabulary, or 'command'")
    sub.add_argument("--manifest", metavar="CSV", help="instead of files: columns file and asking")
    sub.add_argument("files", nargs="*", metavar="FILE", help="WAV or FLAC")
    sub = add("show", _show, "a call's log, readable in the terminal", profile=False)
    sub.add_argument("call", metavar="CALL", help="a call's folder, or its name")
    sub = add("report", _report, "a call as one HTML page", profile=False)
    sub.add_argument("call", metavar="CALL", help="a call's folder, or its name")
    sub.add_argument("--out", metavar="FILE", help="where the page goes; into the call's folder without it")
    sub = _described(commands, "board", "many calls as static HTML pages", _board)
    sub.add_argument("dir", metavar="DIR", help="the folder of calls")
    sub.add_argument("--out", metavar="FOLDER", help="where the pages go; DIR/board without it")
    sub.add_argument("--csv", action="store_true", help="also calls.csv, one line a call")
    sub = add("verify", _verify, "is a log whole and unaltered", profile=False)
    sub.add_argument("calls_given", nargs="+", metavar="CALL", help="a call's folder, or its name")
    sub = _described(commands, "procedure", "check the safety rules on the procedure, or draw the steps")
    kinds = sub.add_subparsers(required=True, metavar="WHAT")
    check = _described(kinds, "check", "check the safety rules in whole calls, and with every command at their steps", _procedure)
    check.add_argument("folder", nargs="?", help="a folder of procedures; the package's own without it")
    check.add_argument("--profile", metavar="FILE")
    check.add_argument("--at-most", type=_count, default=400, metavar="N", help="situations walked on from")
    draw = _described(kinds, "draw", "the steps in their order, as one HTML page", _draw)
    draw.add_argument("folder", nargs="?", help="a folder of procedures; the package's own without it")
    draw.add_argument("--out", default="procedure.html", metavar="FILE", help="where it goes; procedure.html without it")
    sub = _described(commands, "profile", "a commented site profile, and what is wrong with one")
    kinds = sub.add_subparsers(required=True, metavar="WHAT")
    new = _described(kinds, "new", "write a commented profile to start from", _new_profile)
    new.add_argument("file", metavar="FILE", help="a new file")
    check = _described(kinds, "check", "what is wrong with a site's profile, line by line", _profile)
    check.add_argument("file", metavar="FILE|FOLDER", help="the profile, or a folder of them")
    add("model", _model, "fetch the speech model, or say where it is", profile=False)
    return parser


def _described(
    commands: "argparse._SubParsersAction[argparse.ArgumentParser]", name: str, words: str,
    run: Callable[[argparse.Namespace], int] | None = None,
) -> argparse.ArgumentParser:  # fmt: skip
    """A command that needs no folder of calls, its help saying what it is for in both places."""
    sub = commands.add_parser(name, help=words, description=words)
    if run:
        sub.set_defaults(run=run, calls=None)
    return sub


class _Version(argparse.Action):
    """Prints the version; looked up only when it is asked for."""

    def __init__(self, option_strings: list[str], dest: str, help: str | None = None) -> None:
        super().__init__(option_strings, dest, nargs=0, help=help)

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        from assistant.fronts.loop import program

        print(program())
        parser.exit()


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) == 0:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of situations")
    return int(text)


def _procedures_option(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--procedures", metavar="FOLDER", help="a folder of procedures to follow; the package's own without it")


def _voice_options(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--headset", action="store_true", help="the microphone stays open while it speaks")
    sub.add_argument("--keep-audio", action="store_true", help="keep the sound of each answer beside the log; said aloud")


def _clock_options(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--clock", choices=("real", "simulated"), default="real", help="simulated: waits take no time")
    sub.add_argument("--start", metavar="RFC3339", help="the time at which it starts, with its offset")


if __name__ == "__main__":
    sys.exit(main())
