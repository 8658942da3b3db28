"""The words of the published commands: their names, options and what each is for."""

import argparse
from collections.abc import Callable, Mapping
from typing import Any

Run = Callable[[argparse.Namespace], int]
Commands = Any
"""What argparse gives to add commands to; its class is no public name."""


def parser(runs: Mapping[str, Run]) -> argparse.ArgumentParser:
    """The words of every command.

    Args:
        runs: what carries a command out, by its name.
    """
    whole = argparse.ArgumentParser(
        prog="rackcall",
        description="Takes a refrigeration technician through a tripped rack compressor, by voice, offline.",
        epilog="Guidance only: the maker's instructions, local codes and licensed practice come first.",
    )
    whole.add_argument("--version", action=_Version, help="the program's version")
    commands = whole.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def add(name: str, words: str, profile: bool = True) -> argparse.ArgumentParser:
        sub = _described(commands, name, words, runs[name])
        sub.add_argument("--calls", metavar="DIR", help="where calls are kept")
        if profile:
            sub.add_argument("--profile", metavar="FILE|FOLDER", help="a site's profile, or a folder of them; without it "
                             "the folder rackcall/sites of your configuration, and where that is empty the demo site")
        return sub

    _of_calls(add)
    _of_recordings(add)
    _of_records(add, commands, runs)
    _of_safety(commands, runs)
    _of_profiles(commands, runs)
    add("model", "fetch the speech model, or say where it is", profile=False)
    return whole


def _of_calls(add: Callable[..., argparse.ArgumentParser]) -> None:
    add("demo", "a recorded call through recogniser, dialogue, log and report")
    add("ready", "check microphone, speaker, speech model, profile and disk")
    _voice_options(add("talk", "a live call: microphone in, speech out"))
    _procedures_option(add("type", "the same call from the keyboard"))
    sub = add("resume", "go on where an interrupted call stopped")
    sub.add_argument("call", nargs="?", help="the call; the latest that is not sealed without it")
    sub.add_argument("--pipe", action="store_true", help="over stdin and stdout, as JSON Lines")
    sub.add_argument("--talk", action="store_true", help="by voice")
    _procedures_option(sub)
    _voice_options(sub)
    _clock_options(sub)
    _clock_options(add("pipe", "a call driven over stdin and stdout, JSON Lines both ways"))


def _of_recordings(add: Callable[..., argparse.ArgumentParser]) -> None:
    sub = add("record", "record a live call, or single phrases, for replay")
    sub.add_argument("dir", metavar="DIR", help="a new folder for the recording")
    sub.add_argument("--asking", metavar="ID", help="single phrases: what they answer, an id of the vocabulary or 'command'")
    sub.add_argument("--say", action="append", metavar="WORDS", help="single phrases: the words of one; may be repeated")
    sub.add_argument("--headset", action="store_true", help="the microphone stays open while it speaks")
    sub.add_argument("--of", metavar="CALL", help="no live call: one that was spoken with --keep-audio")
    sub = add("replay", "run recorded calls and compare each log with its expected one", profile=False)
    sub.add_argument("dirs", nargs="+", metavar="DIR", help="a recorded call")
    sub.add_argument("--noise", metavar="FILE", help="sound that is mixed in")
    sub.add_argument("--snr", type=float, metavar="DB", help="how far the speech is over it")
    sub.add_argument("--accept", action="store_true", help="what was got, once shown, is what is expected from now on")
    sub.add_argument("--jobs", type=_count, default=1, metavar="N", help="so many calls at a time")
    sub.add_argument("--junit", metavar="FILE", help="also the outcome as JUnit XML")
    sub = add("hear", "the recogniser alone: one JSON line per file", profile=False)
    sub.add_argument("--asking", metavar="ID", help="what the files answer: an id of the vocabulary, or 'command'")
    sub.add_argument("--manifest", metavar="CSV", help="instead of files: columns file and asking")
    sub.add_argument("files", nargs="*", metavar="FILE", help="WAV or FLAC")


def _of_records(add: Callable[..., argparse.ArgumentParser], commands: Commands, runs: Mapping[str, Run]) -> None:
    for name, words in (("show", "a call's log, readable in the terminal"), ("report", "a call as one HTML page")):
        sub = add(name, words, profile=False)
        sub.add_argument("call", metavar="CALL", help="a call's folder, or its name")
    sub.add_argument("--out", metavar="FILE", help="where the page goes; into the call's folder without it")
    sub.add_argument("--pdf", action="store_true", help="also as a PDF beside it, printed by the browser of this machine")
    sub = _described(commands, "board", "many calls as static HTML pages", runs["board"])
    sub.add_argument("dir", metavar="DIR", help="the folder of calls")
    sub.add_argument("--out", metavar="FOLDER", help="where the pages go; DIR/board without it")
    sub.add_argument("--csv", action="store_true", help="also calls.csv, one line a call")
    sub.add_argument("--parquet", action="store_true", help="also calls and follow-ups as Parquet, one file a month")
    sub.add_argument("--ics", action="store_true", help="also due.ics, what is due for a calendar")
    sub = add("verify", "is a log whole and unaltered; a ledger, or a folder of calls", profile=False)
    sub.add_argument("calls_given", nargs="+", metavar="CALL", help="a call's folder or its name, a ledger, or a folder of calls")
    sub.add_argument("--head", default="", metavar="HASH", help="a head that was kept elsewhere: it must still be there")
    sub.add_argument("--key", default="", metavar="KEY", help="the public key that every seal must be signed with")
    sub = add("forget", "take away what a call need not keep; its log stays whole", profile=False)
    sub.add_argument("call", metavar="CALL", help="a call's folder, or its name")
    sub.add_argument("--audio", action="store_true", help="the kept sound")
    sub = _described(commands, "index", "read every log of a folder into its index again", runs["index"])
    sub.add_argument("dir", metavar="DIR", help="the folder of calls")
    sub = _described(commands, "key", "the key that signs your seals")
    kinds = sub.add_subparsers(required=True, metavar="WHAT")
    _described(kinds, "new", "make your key; from then on every call that you seal is signed", runs["new_key"])
    _described(kinds, "show", "its public part, for whoever verifies", runs["show_key"])


def _of_safety(commands: Commands, runs: Mapping[str, Run]) -> None:
    sub = _described(commands, "procedure", "check the safety rules on the procedure, or draw the steps")
    kinds = sub.add_subparsers(required=True, metavar="WHAT")
    words = "check the safety rules in whole calls, and with every command at their steps"
    check = _described(kinds, "check", words, runs["procedure"])
    check.add_argument("folder", nargs="?", help="a folder of procedures; the package's own without it")
    check.add_argument("--profile", metavar="FILE")
    check.add_argument("--at-most", type=_count, default=400, metavar="N", help="situations walked on from")
    check.add_argument("--seed", type=_count, metavar="N", help="another gives other calls of chance")
    draw = _described(kinds, "draw", "the steps in their order, as one HTML page", runs["draw"])
    draw.add_argument("folder", nargs="?", help="a folder of procedures; the package's own without it")
    draw.add_argument("--out", default="procedure.html", metavar="FILE", help="where it goes; procedure.html without it")


def _of_profiles(commands: Commands, runs: Mapping[str, Run]) -> None:
    sub = _described(commands, "profile", "a commented site profile, and what is wrong with one")
    kinds = sub.add_subparsers(required=True, metavar="WHAT")
    new = _described(kinds, "new", "write a commented profile to start from", runs["new_profile"])
    new.add_argument("file", metavar="FILE", help="a new file")
    check = _described(kinds, "check", "what is wrong with a site's profile, line by line", runs["profile"])
    check.add_argument("file", metavar="FILE|FOLDER", help="the profile, or a folder of them")


def _described(commands: Commands, name: str, words: str, run: Run | None = None) -> argparse.ArgumentParser:
    """A command, its help saying what it is for in both places."""
    sub: argparse.ArgumentParser = commands.add_parser(name, help=words, description=words)
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
        raise argparse.ArgumentTypeError(f"{text!r} is no number from 1 on")
    return int(text)


def _procedures_option(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--procedures", metavar="FOLDER", help="a folder of procedures to follow; the package's own without it")


def _voice_options(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--headset", action="store_true", help="the microphone stays open while it speaks")
    sub.add_argument("--keep-audio", action="store_true", help="keep the sound of each answer beside the log; said aloud")


def _clock_options(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--clock", choices=("real", "simulated"), default="real", help="simulated: waits take no time")
    sub.add_argument("--start", metavar="RFC3339", help="the time at which it starts, with its offset")
