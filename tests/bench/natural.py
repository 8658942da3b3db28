"""Natural sentences by sound: what the ear makes of words that no grammar was written for.

    python -m tests.bench.natural [FILE.jsonl...] [--snr clean 20 10] [--every N] [--natural FOLDER] [--kept FOLDER] [-v]

A FILE has one row a line: {"step": ..., "words": ..., "means": ...} as in the tables of `tests/language`, which the ears have
learned; without one, all that `tests/bench/sentences` keeps for judging. Each sentence is spoken once, the voices in turn,
and heard at its step's own question.

`right`, at once; `asked`, right, but asked back; `told`, the word to say is named; `again`, not understood; `wrong?`, something
else, but asked back; `WRONG`, something else, and it counts. Of what must not be taken only `wrong?` and `WRONG` are told.
"""

import argparse
import json
import tempfile
import zlib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from assistant.hearing.decision import CONFIRM, UNCLEAR, Hearing, silent
from assistant.hearing.listener import Endpointer
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.hearing.voice_activity import TrainedDetector
from assistant.language.audible import audible
from assistant.language.meaning import AskFor, Question
from assistant.sound.audio_file import Samples
from tests.bench.ears import Sound, in_noise, machine_room, utterances
from tests.bench.listening import share
from tests.language.test_said_at_steps import NOT_TAKEN, STEPS, agrees, as_told, question
from tests.spoken.voices import NATURAL, ROBOTS, Phrases, natural, robots

_RESULTS = ("right", "asked", "told", "again", "wrong?", "WRONG")
Row = tuple[str, str, str]
"""Step, meaning, words."""


def rows_of(files: list[Path], every: int) -> list[Row]:
    """What is said: the rows of these files, or of those that are kept for it."""
    files = files or sorted(Path(__file__).with_name("sentences").glob("*.jsonl"))
    lines = [line for file in files for line in file.read_text(encoding="utf-8").splitlines() if line.strip()]
    read = [json.loads(line) for line in lines]
    return [(row["step"], row["means"], row["words"]) for row in read if row["step"] in STEPS][::every]


def hear(ear: Recogniser, asked: Question, sound: Samples) -> Hearing:
    """The first answer in a recording, as a call would have it."""
    for utterance in utterances(Endpointer(ear, asked, TrainedDetector(), ear.second), sound):
        hearing = ear.judged(asked, utterance)
        if hearing is not None:
            return hearing
    return silent(asked)


def result(row: Row, hearing: Hearing) -> str:
    """The column that a hearing counts in."""
    step, meaning, _ = row
    if hearing.status == UNCLEAR:
        return "told" if isinstance(hearing.meaning, AskFor) else "again"
    got = as_told(step, hearing.text, hearing.meaning)
    right = meaning not in NOT_TAKEN and agrees(step, got, meaning)
    if hearing.status == CONFIRM or got == "remark":
        return "asked" if right else "wrong?"
    return "right" if right else "WRONG"


def at(level: str, rows: list[Row], ear: Recogniser, phrases: Phrases, voices: tuple[str, ...], verbose: bool) -> Iterator[str]:
    """The lines for one level of noise."""
    noise: Sound = machine_room()
    counts: dict[bool, Counter[str]] = {True: Counter(), False: Counter()}
    turn = {row: voices[i % len(voices)] for i, row in enumerate(rows)}
    for row in sorted(rows, key=lambda row: audible(question(row[0])).name):  # each grammar is loaded once
        seed = zlib.crc32(f"{row[2]}|{level}".encode())
        sound = in_noise(phrases.of(row[2].lower(), turn[row]), None if level == "clean" else float(level), noise, seed)
        hearing = hear(ear, question(row[0]), sound)
        found = result(row, hearing)
        counts[row[1] not in NOT_TAKEN][found] += 1
        if verbose:
            told = as_told(row[0], hearing.text, hearing.meaning)
            yield f"  {found:6} {row[0]:18} {row[2]!r} ({row[1]}) heard {hearing.text!r}: {told}"
    answers, others = counts[True], counts[False]
    yield f"{level:>6} {answers.total():4d}  " + "  ".join(f"{k} {share(answers[k], answers.total())}" for k in _RESULTS)
    if others:
        asked = others["wrong?"] + others["asked"]
        yield f"       of {others.total()} that are none: asked back {asked}, counted {others['WRONG']}"


def main() -> None:
    """Print the rows."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", nargs="*", type=Path)
    parser.add_argument("--snr", nargs="+", default=["20", "10"])
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--natural", type=Path)
    parser.add_argument("--kept", type=Path)
    parser.add_argument("-v", action="store_true")
    given = parser.parse_args()
    rows = rows_of(given.file, given.every)
    with tempfile.TemporaryDirectory() as folder:
        voice, voices = (natural(given.natural), NATURAL) if given.natural else (robots(), ROBOTS)
        ear, phrases = Recogniser(model_folder()), Phrases(voice, given.kept or Path(folder))
        for level in given.snr:
            for line in at(level, rows, ear, phrases, voices, given.v):
                print(line, flush=True)


if __name__ == "__main__":
    main()
