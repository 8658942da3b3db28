"""Whole calls by sound: what comes of a technician who speaks in a noisy machine room.

    python -m tests.bench.calls N [--snr 10] [--seed 1] [--jobs 2] [--noise FOLDER] [--natural FOLDER --kept FOLDER]
                                  [--heard FOLDER] [-v]

N calls over every cause of `tests/rig`, by at least five voices that the second ear was not trained on. The technician
(`tests/spoken`) answers from a rack with physics of its own, in varied words, over noise at `--snr` dB (`clean`: none); he
hesitates, volunteers, corrects, asks for repeats, talks to a colleague, skips, drops out and resumes, all by the seed. A phrase
of a voice lies over one of four pieces of noise, and what the ear has once made of a sound is not worked out again (`--heard
FOLDER` keeps it for the next run too: then only what a change of grammars or of the dialogue makes new is heard).
`--natural FOLDER` speaks with the neural voices of `models/ear/README.md` (needs `kokoro-onnx`; `--kept FOLDER` keeps each
phrase, made once); without it voices by rule do, that need nothing. Prints the calls that did not end well (`-v`: every turn
of them), and then the figures.
"""

import argparse
import contextlib
import multiprocessing
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from assistant.sound.audio_file import read_audio
from tests.bench.ears import machine_room
from tests.rig.scenes import SCENES
from tests.spoken.call import Room, Spoken, SpokenCall
from tests.spoken.kept_ear import Kept, KeptEar
from tests.spoken.voices import NATURAL, ROBOTS, Phrases, natural, robots

REFRIGERANTS = ("R22", "R22", "R404A", "R507A")
KEPT_GRAMMARS = 160
"""Strict grammars kept loaded: memory is no matter here, a load of 0.4 s a question is."""


def room(options: argparse.Namespace) -> Room:
    """An ear, voices and noise of one process's own."""
    from assistant.hearing import recogniser
    from assistant.hearing.model import model_folder

    recogniser.LOADED = KEPT_GRAMMARS
    kept = Kept(options.heard / "heard.sqlite")
    noises = [read_audio(f) / 32768 for f in sorted(options.noise.glob("*.flac"))] if options.noise else [machine_room()]
    voice = natural(options.natural) if options.natural else robots()
    phrases = Phrases(voice, options.kept or options.heard / "phrases")  # two of these voices say nothing twice alike
    snr_db = None if options.snr == "clean" else float(options.snr)
    return Room(KeptEar(model_folder(), kept, options.heard / "grammars"), phrases, tuple(noises), snr_db)


_room: list[Room] = []


def _begin(options: argparse.Namespace) -> None:
    _room.append(room(options))


def one_call(number: int, seed: int, natural_voices: bool) -> Spoken:
    """Call `number` of the run: its fault, voice and refrigerant in turn, the rest by chance of the seed."""
    voices = NATURAL if natural_voices else ROBOTS
    scene = SCENES[number % len(SCENES)]
    refrigerant = REFRIGERANTS[(number // len(SCENES)) % len(REFRIGERANTS)]
    return SpokenCall(scene, _room[0], voices[number % len(voices)], seed * 100_000 + number, refrigerant).to_the_end()


def _one(given: tuple[int, int, bool]) -> Spoken:
    return one_call(*given)


def ended_badly(one: Spoken) -> list[str]:
    """What is wrong with a call, in words; nothing where it went as it should."""
    out = one.outcome
    return [
        *([f"wrong on record {one.wrong}"] if one.wrong else []),
        *([f"unsafe: {out.broken}"] if out.broken else []),
        *([f"left open: {sorted(one.open)}"] if one.open else []),
        *([] if out.sealed else ["not sealed"]),
        *([f"falsely proven {sorted(out.falsely_proven)}"] if out.falsely_proven else []),
        *([] if out.found(out.scenes[0]) else [f"not found, but {_held(one)}"]),
        *([f"talk counted {one.counted_talk} times"] if one.counted_talk else []),
    ]


def _held(one: Spoken) -> str:
    return ", ".join(f"{c} {s}" for c, s in one.outcome.standings.items() if s in ("proven", "supported")) or "nothing"


def figures(calls: list[Spoken], wall_s: float) -> Iterator[str]:
    """The lines at the end."""
    outcomes = [one.outcome for one in calls]
    count, readings = len(calls), sum(one.readings for one in calls)
    found, false = sum(out.found(out.scenes[0]) for out in outcomes), sum(bool(out.falsely_proven) for out in outcomes)
    wrong = Counter(id_ for one in calls for id_ in one.wrong)
    which = ": " + ", ".join(f"{id_} {times}" for id_, times in wrong.most_common(8)) if wrong else ""
    answers, seconds = sum(one.answers for one in calls), sum(one.seconds for one in calls)
    utterances, typed = sum(one.utterances for one in calls), sum(one.typed for one in calls)
    yield f"{count} calls, {readings} readings, {utterances} utterances, {typed} of them typed"
    yield f"right cause in {found} ({100 * found / count:.1f} %), falsely proven in {false}"
    yield f"wrong values on record {wrong.total()}{which}"
    yield (
        f"{answers / sum(one.questions for one in calls):.2f} utterances a question, {answers / readings:.2f} a reading, "
        f"{seconds / readings:.0f} s of the call a reading"
    )
    yield (
        f"unsafe events {sum(len(out.broken) for out in outcomes)}, left open {sum(len(one.open) for one in calls)}, "
        f"not sealed {sum(not out.sealed for out in outcomes)}, talk that counted {sum(one.counted_talk for one in calls)}"
    )
    for voice in sorted({one.voice for one in calls}):
        its = [one for one in calls if one.voice == voice]
        share = sum(one.answers for one in its) / sum(one.questions for one in its)
        yield f"  {voice}: {len(its)} calls, {share:.2f} utterances a question"
    yield f"{60 * count / wall_s:.1f} calls a minute"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("calls", type=int)
    parser.add_argument("--snr", default="10")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    for folder in ("noise", "natural", "kept", "heard"):
        parser.add_argument(f"--{folder}", type=Path)
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        options.heard = options.heard or Path(folder)
        options.heard.mkdir(parents=True, exist_ok=True)
        _hold(options)


def _hold(options: argparse.Namespace) -> None:
    """All the calls, and what came of them."""
    began, done = time.monotonic(), []
    jobs = [(number, options.seed, bool(options.natural)) for number in range(options.calls)]
    with multiprocessing.get_context("spawn").Pool(options.jobs, _begin, (options,)) as pool:
        ended = pool.imap_unordered(_one, jobs)
        with contextlib.suppress(StopIteration, KeyboardInterrupt):  # broken off, it tells of those that ended
            while True:
                one = next(ended)
                done.append(one)
                print(f"\r{len(done)} of {options.calls}", end="\r", file=sys.stderr, flush=True)
                _tell(one, options.v)
    print("\n".join(figures(done, time.monotonic() - began)) if done else "no call came to its end")


def _tell(one: Spoken, verbose: bool) -> None:
    """A call that did not end well, at once."""
    if bad := ended_badly(one):
        print(f"! {one.outcome.scenes[0].cause} by {one.voice}, {one.utterances} utterances: {'; '.join(bad)}", flush=True)
        for line in one.turns if verbose else ():
            print(f"    {line}")


if __name__ == "__main__":
    main()
