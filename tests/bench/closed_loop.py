"""What a technician and the ear make of many readings together, in noise; what the ear makes of noise and of talk.

    python -m tests.bench.closed_loop FOLDER [--snr 10] [--readings 1000] [--noise FOLDER] [--talk FOLDER]
                                             [--minutes 10] [--one-ear]

FOLDER holds `manifest.csv` as for `tests.bench.listening`, with readings, `yes`, `no` and, if it can, `correct`.
Each reading is a call of two questions through the real dialogue. The technician's sound lies on another stretch
of the noise each time; they answer a read-back truthfully, notice a wrong value inside the next prompt nine times
of ten and correct it, and say it again when asked to. Nothing is taken from FOLDER but sound and what it means.
"""

import argparse
import csv
import random
import statistics
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

from assistant.call.effects import Listen
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened
from assistant.call.procedure import Step, all_steps, own_procedure
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Listener, Recogniser, blocks
from assistant.language.audible import audible
from assistant.language.meaning import Question, Value
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.profile import DEMO_SITE, load_profile
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio
from tests.bench.ears import Sound, in_noise, machine_room

NOTICED = 0.9
"""Part of the wrong values inside a prompt that a technician catches."""
PATIENCE = 8
"""Utterances after which a technician would write it down by hand."""


@dataclass(frozen=True)
class Said:
    """One recording of the folder."""

    sound: Samples
    asking: str
    means: str


class Technician:
    """Answers from recordings, in noise."""

    def __init__(self, folder: Path, snr_db: float | None, noises: list[Sound], seed: int) -> None:
        with open(folder / "manifest.csv", newline="", encoding="utf-8") as stream:
            rows = list(csv.DictReader(stream))
        said = [
            (r.get("is", "value"), Said(read_audio(folder / r["file"]), r["asking"], r["expected"])) for r in rows
        ]
        kinds = {id: entry.kind for id, entry in vocabulary().items()}
        self.readings = [
            s for kind, s in said if kind != "command" and kinds.get(s.asking) in NUMBER_KINDS and _is_number(s.means)
        ]
        words = {"yes": [], "no": [], "correct": []}  # type: dict[str, list[Said]]
        for kind, s in said:
            if (kind == "command") == (s.means == "correct") and s.means in words:
                words[s.means].append(s)
        self.words = words
        self._snr_db, self._noises, self._seed = snr_db, noises, seed
        self._random = random.Random(seed)

    def says(self, said: Said) -> Samples:
        """This recording on a new stretch of the noise."""
        self._seed += 1
        return in_noise(said.sound, self._snr_db, self._noises[self._seed % len(self._noises)], self._seed)

    def word(self, word: str) -> Samples:
        """Yes, no or correction, by any voice of the folder; "no" corrects too, where nobody says correction."""
        return self.says(self._random.choice(self.words[word] or self.words["no"]))

    def notices(self) -> bool:
        """Whether a wrong value inside a prompt is caught."""
        return self._random.random() < NOTICED


def _is_number(text: str) -> bool:
    return text.lstrip("-").replace(".", "", 1).isdigit()


def _dialogue(asking: str) -> Dialogue:
    """A call of two questions: the reading, and one whose prompt reads it back."""
    after = "follow_up_in_hours"
    steps = (
        Step("reading", "front", "panel", "The reading?", asking),
        Step("after", "front", "panel", "And when does somebody come back?", after),
        *all_steps(),  # never come to, but a call looks for some of them
    )
    return Dialogue(load_profile(DEMO_SITE), replace(own_procedure(), steps=steps), lambda state: ())


class Loop:
    """Counts what one technician's readings come to."""

    def __init__(self, ear: Recogniser, technician: Technician) -> None:
        self.ear, self.technician = ear, technician
        self.utterances = 0
        self.results: Counter[str] = Counter()

    def take(self, said: Said) -> None:
        """One reading until it is on record, or given up."""
        call = _dialogue(said.asking)
        now = datetime(2026, 3, 2, 7, 0).astimezone()
        effects = call.open(now, CallOpened("bench", "", ""))
        for _ in range(PATIENCE):
            listen = next(effect for effect in effects if isinstance(effect, Listen))
            sound = self._answer(call, listen.question, said)
            if sound is None:
                break
            self.utterances += 1
            now += timedelta(seconds=5)
            effects = call.receive(self.ear.hear(sound, listen.question).fact(now))
        taken = call.state.readings.get(said.asking)
        self.results["given up" if taken is None else "right" if _same(taken.value, said) else "WRONG"] += 1

    def _answer(self, call: Dialogue, question: Question, said: Said) -> Samples | None:
        if question.asking == "confirm" and question.of == said.asking:
            return self.technician.word("yes" if _same(question.value, said) else "no")
        if question.asking == "confirm":  # a command that was never said
            return self.technician.word("no")
        taken = call.state.readings.get(said.asking)
        if question.asking == said.asking:
            return self.technician.says(said)
        if taken is not None and not _same(taken.value, said) and self.technician.notices():
            return self.technician.word("correct")
        return None


def _same(value: Value | None, said: Said) -> bool:
    return isinstance(value, float) and abs(value - float(said.means)) < 1e-6


# ---- noise and talk


def false_ones(ear: Recogniser, sound: Samples, question: Question) -> Iterator[str]:
    """Statuses of what is heard where nobody answers."""
    listener = Listener(ear, question)
    for block in blocks(sound):
        heard = listener.feed(block)
        if heard:
            yield f"{heard.status} {heard.value}" if heard.value is not None else heard.status
            listener = Listener(ear, question)


def report_false(ear: Recogniser, name: str, sound: Samples) -> None:
    """A line for each kind of question: what counts, is asked back or steers, a minute."""
    for asking in ("suction_pressure", "leak_found", "injection_feed", "command"):
        began = time.process_time()
        found = Counter(word.split()[0] for word in false_ones(ear, sound, Question(asking)))
        seconds = len(sound) / RATE_HZ
        share = (time.process_time() - began) / seconds
        minute = {key: 60 * found[key] / seconds for key in ("accepted", "confirm", "command", "unclear")}
        print(
            f"{name:>6} {seconds / 60:4.1f} min {asking:>16}: a minute {minute['accepted']:.2f} accepted, "
            f"{minute['confirm']:.2f} asked back, {minute['command']:.2f} commands, {minute['unclear']:.2f} "
            f"unclear; {100 * share:.0f} % of a core",
            flush=True,
        )


def report_compute(ear: Recogniser, technician: Technician, count: int = 100) -> None:
    """CPU while listening, and after the end of speech."""
    after: list[float] = []
    listening = seconds = 0.0
    chosen = sorted(technician.readings[:count], key=lambda s: audible(Question(s.asking)).name)
    for said in chosen:
        question = Question(said.asking)
        ear.prepare(question)
        listener = Listener(ear, question)
        sound = technician.says(said)
        for block in blocks(sound):
            began = time.process_time()
            heard = listener.feed(block)
            spent = time.process_time() - began
            seconds += len(block) / RATE_HZ
            if heard:
                after.append(spent)
                break
            listening += spent
    after.sort()
    print(
        f"CPU while listening {100 * listening / seconds:.0f} % of a core; after the end of speech "
        f"{statistics.median(after):.2f} s median, {after[int(0.95 * (len(after) - 1))]:.2f} s at the 95th percentile"
    )


def main() -> None:
    """Print what the readings came to, then the false answers."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--snr", default="10")
    parser.add_argument("--readings", type=int, default=1000)
    parser.add_argument("--noise", type=Path)
    parser.add_argument("--talk", type=Path, help="a folder of recordings that answer nothing")
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--one-ear", action="store_true", help="without the second ear, even if it is installed")
    said = parser.parse_args()
    noises = [read_audio(f) / 32768 for f in sorted(said.noise.glob("*.flac"))] if said.noise else [machine_room()]
    ear = Recogniser(model_folder(), second=not said.one_ear)
    technician = Technician(said.folder, None if said.snr == "clean" else float(said.snr), noises, 1)
    report_compute(ear, technician)
    readings = technician.readings
    order = [readings[i % len(readings)] for i in range(said.readings)]
    if said.readings < len(readings):
        order = random.Random(1).sample(readings, said.readings)
    order.sort(key=lambda s: audible(Question(s.asking)).name)  # each grammar is loaded once
    loop = Loop(ear, technician)
    for reading in order:
        loop.take(reading)
    done = sum(loop.results.values())
    print(
        f"{done} readings at {said.snr} dB: {loop.results['WRONG']} wrong on record, {loop.results['given up']} given "
        f"up, {loop.utterances / max(done, 1):.2f} utterances a reading",
        flush=True,
    )
    room = np.concatenate([n for n in noises for _ in range(int(said.minutes * 60 * RATE_HZ / len(n)) + 1)])
    room = room[: int(said.minutes * 60 * RATE_HZ)]
    report_false(ear, "noise", np.asarray(room / np.abs(room).max() * 12000, dtype=np.int16))
    if said.talk:
        talk = np.concatenate([np.concatenate([read_audio(f), np.zeros(RATE_HZ, np.int16)]) for f in _files(said.talk)])
        report_false(ear, "talk", np.resize(talk, int(said.minutes * 60 * RATE_HZ)))


def _files(folder: Path) -> list[Path]:
    return sorted([*folder.glob("*.flac"), *folder.glob("*.wav")])


if __name__ == "__main__":
    main()
