"""Recordings through the product's own ear, with what each ear made of them: what `listening` and `fit_sureness` look at."""

import contextlib
import csv
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from assistant.hearing.decision import COMMAND, CONFIRM, UNCLEAR, Hearing, silent
from assistant.hearing.evidence import Considered, consider, texts
from assistant.hearing.guesses import Opinion
from assistant.hearing.listener import Endpointer, Utterance
from assistant.hearing.recogniser import Recogniser, blocks
from assistant.hearing.voice_activity import TrainedDetector
from assistant.language.audible import audible
from assistant.language.meaning import Answer, Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio

Sound = npt.NDArray[np.float64]
Row = dict[str, str]


@dataclass(frozen=True)
class Heard:
    """One recording at one level of noise."""

    row: Row
    level: str
    hearing: Hearing
    utterance: Utterance | None = None
    """The one that was judged; None without speech."""
    opinion: Opinion | None = None

    @property
    def result(self) -> str:
        """The column that it counts in."""
        if self.hearing.status == UNCLEAR:
            return "unclear"
        right = self.hearing.value == wanted(self.row) and (self.hearing.status == COMMAND) == is_command(self.row)
        if self.hearing.status == CONFIRM:
            return "asked" if right else "wrong?"
        return "right" if right else "WRONG"

    @property
    def considered(self) -> list[Considered]:
        """Every meaning that it may have, with both ears' say."""
        if self.utterance is None:
            return []
        return consider(Question(self.row["asking"]), self.utterance.hearings, self.opinion)

    def best_is_right(self, ear: str) -> bool:
        """Whether the likeliest meaning to `first`, `second` or `both` is what was said, whatever comes of it.

        The first ear alone may choose `nothing of what was asked`; the second says that by its own guesses.
        """
        found = self.considered
        if ear == "first":
            found = [] if self.utterance is None else consider(Question(self.row["asking"]), self.utterance.hearings)
        weights = {
            "first": lambda one: one.first, "second": lambda one: one.word + one.letter / 3,
            "both": lambda one: one.weight(self.opinion is not None),
        }  # fmt: skip
        return bool(found) and means(self.row, max(found, key=weights[ear]).meaning)


def wanted(row: Row) -> object:
    """The value that the manifest has."""
    value: object = True if row["expected"] == "done" else row["expected"]
    with contextlib.suppress(ValueError):
        value = float(row["expected"])
    return value


def is_command(row: Row) -> bool:
    """Whether the manifest has a command."""
    return row.get("is") == "command"


def means(row: Row, meaning: Meaning) -> bool:
    """Whether this meaning is what the manifest has."""
    match meaning:
        case Command(name):
            return is_command(row) and name == row["expected"]
        case Confirmed(yes, None):
            return not is_command(row) and row["expected"] == ("yes" if yes else "no")
        case Answer(parts):
            return not is_command(row) and parts[0].value == wanted(row)
    return False


def heard(ear: Recogniser, row: Row, level: str, noises: list[Sound]) -> Heard:
    """One recording, in noise of this level, as the product hears it."""
    seed = zlib.crc32(f"{Path(row['file']).name}|{level}".encode())
    snr_db = None if level == "clean" else float(level)
    sound = in_noise(read_audio(row["file"]), snr_db, noises[seed % len(noises)], seed)
    question = Question(row["asking"])
    endpointer = Endpointer(ear, question, TrainedDetector(), ear.second)
    for utterance in utterances(endpointer, sound):
        hearing = ear.judged(question, utterance)
        if hearing is None:
            continue
        opinion = ear.second.opinion(utterance.said, texts(question, utterance.hearings)) if ear.second else None
        return Heard(row, level, hearing, utterance, opinion)
    return Heard(row, level, silent(question))


def utterances(endpointer: Endpointer, sound: Samples) -> Iterator[Utterance]:
    for block in blocks(sound):
        found = endpointer.feed(block)
        if found:
            yield found
    found = endpointer.close()
    if found:
        yield found


def nothing(meaning: Meaning) -> bool:
    """Whether it is no answer at all."""
    return isinstance(meaning, NotUnderstood)


# ---- sound


def machine_room(seconds: float = 60.0) -> Sound:
    """Mains hum, a compressor's pulses and a fan's broad noise: shape (n_samples,), 16 kHz, mean power 1."""
    rng = np.random.default_rng(7)
    n = int(seconds * RATE_HZ)
    t = np.arange(n) / RATE_HZ
    spectrum = np.fft.rfft(rng.standard_normal(n))
    fan = np.fft.irfft(spectrum / np.sqrt(np.maximum(np.fft.rfftfreq(n, 1 / RATE_HZ), 20.0)), n)
    hum = sum(np.sin(2 * np.pi * 60 * k * t + k) / k for k in (1, 2, 3))
    beat = np.maximum(np.sin(2 * np.pi * 29 * t), 0.9) * rng.standard_normal(n)
    mixed = fan / fan.std() + 0.5 * hum / np.std(hum) + 0.5 * beat / beat.std()
    return np.asarray(mixed / mixed.std())


def in_noise(samples: Samples, snr_db: float | None, noise: Sound, seed: int) -> Samples:
    """The recording with half a second before it and one after, in noise of this level under its speech."""
    x = samples.astype(np.float64) / 32768
    frames = x[: len(x) // 320 * 320].reshape(-1, 320).var(axis=1) + 1e-12
    power = frames[frames > frames.max() * 10**-2.5].mean()
    x = np.concatenate([np.zeros(RATE_HZ // 2), x, np.zeros(RATE_HZ)])
    if snr_db is not None:
        start = int(np.random.default_rng(seed).integers(0, max(len(noise) - len(x), 1)))
        piece = np.resize(noise[start:], len(x))
        x = x + piece * np.sqrt(power / 10 ** (snr_db / 10) / np.mean(piece**2))
    return np.asarray(np.rint(x * 0.7 * 32767 / max(float(np.abs(x).max()), 1e-9)), dtype=np.int16)


# ---- recordings


def recorded(folder: Path) -> list[Row]:
    """Rows of a folder's manifest, their files made whole."""
    with open(folder / "manifest.csv", newline="", encoding="utf-8") as stream:
        return [row | {"file": str(folder / row["file"])} for row in csv.DictReader(stream) if row["expected"]]


def own_recordings() -> list[Row]:
    """Each different answer of the project's recorded calls that answers one question."""
    found: dict[tuple[str, str], Row] = {}
    for file in sorted(data_folder("demo_audio").glob("*/answers.csv")):
        with open(file, newline="", encoding="utf-8") as stream:
            for row in csv.DictReader(stream):
                entry = vocabulary().get(row["asking"])
                # A site, rack or label has words of its profile, a breath several answers.
                if entry is None or "=" in row["value"] or entry.kind == "free" or entry.group == "arrival":
                    continue
                key = (row["asking"], row["words"])
                found.setdefault(key, {"file": str(file.parent / row["file"]), "asking": row["asking"], "expected": row["value"]})
    return list(found.values())


def in_order(rows: list[Row]) -> list[Row]:
    """In the order that loads each grammar once."""
    return sorted(rows, key=lambda row: audible(Question(row["asking"])).name)
