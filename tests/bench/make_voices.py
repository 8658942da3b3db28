"""Makes recordings of strangers to the ear, for `listening`: readings, some with pauses, some slow, single commands, yes and no.

    python -m tests.bench.make_voices MODEL.onnx VOICES_FOLDER OUT --voices af_kore am_onyx ... [--seed 1] [--each 1.0]

Needs `kokoro-onnx` beside the product, the pinned voice model and its voices (`models/ear/README.md` says which, and which
voices were kept from the training). Writes FLAC files of 16 kHz and `manifest.csv` with the columns file, asking, expected, is,
style, text, voice.
"""

import argparse
import csv
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Command, Question
from assistant.sound.audio_file import RATE_HZ, write_audio

DIGITS = "zero one two three four five six seven eight nine".split()
TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "x x twenty thirty forty fifty sixty seventy eighty ninety".split()
GAPS_S = (0.2, 0.35, 0.5, 0.65, 0.8)
SINGLE = (
    "skip, hold, stop, pause, why, where, repeat, help, back, resume, continue, wait, note, faster, slower, louder, quiet, "
    "cancel, say again, go back, hold on, skip it, read back, correction, make a note, where am i, never mind, finish the job"
).split(", ")
Row = dict[str, Any]


def below_hundred(n: int) -> str:
    """0 to 99 as one says them."""
    return (DIGITS + TEENS)[n] if n < 20 else TENS[n // 10] + (f" {DIGITS[n % 10]}" if n % 10 else "")


def three(n: int, draw: random.Random) -> tuple[str, str]:
    """A number of three figures and its way of being said, pieces apart by a comma."""
    h, rest = divmod(n, 100)
    way = draw.choice(("pair", "hundred", "and", "digits"))
    if way == "digits":
        return ", ".join("oh" if c == "0" else DIGITS[int(c)] for c in str(n)), way
    low = f"oh {DIGITS[rest]}" if rest < 10 else below_hundred(rest)
    if way == "pair" and rest:
        return f"{DIGITS[h]}, {low}", way
    return f"{DIGITS[h]} hundred" + (f", {'and ' if way == 'and' else ''}{below_hundred(rest)}" if rest else ""), "hundred"


def readings(draw: random.Random) -> Iterator[Row]:
    """Without end: one reading after the other, by kind."""
    while True:
        words, style = three(draw.randrange(100, 700), draw)
        yield {"asking": "discharge_pressure", "style": style, "said": words.replace(",", "")}
        low = draw.choice((TEENS[draw.randrange(3, 10)], TENS[draw.randrange(2, 10)], below_hundred(draw.randrange(10, 100))))
        yield {"asking": "suction_pressure", "style": "two figures", "said": low}
        degrees = f"{below_hundred(draw.randrange(20, 100))} degrees"
        yield {"asking": "discharge_temperature", "style": "degrees", "said": degrees}
        sign = draw.choice(("minus {}", "{} below", "negative {}"))
        yield {"asking": "suction_temperature", "style": "below zero", "said": sign.format(below_hundred(draw.randrange(2, 50)))}
        tenth = f"{below_hundred(draw.randrange(20, 100))} point {DIGITS[draw.randrange(1, 10)]}"
        yield {"asking": "suction_pressure", "style": "tenths", "said": tenth}


def slow(draw: random.Random) -> Iterator[Row]:
    """Numbers of three figures, deliberately."""
    while True:
        words, _ = three(draw.randrange(100, 700), draw)
        yield {"asking": "discharge_pressure", "style": "slow", "said": words.replace(",", ""), "speed": draw.uniform(0.5, 0.68)}


def paused(draw: random.Random) -> Iterator[Row]:
    """Numbers of three figures with a pause inside, of each length in turn."""
    while True:
        for gap_s in GAPS_S:
            words, _ = three(draw.choice([n for n in range(101, 700) if n % 100]), draw)
            yield {"asking": "discharge_pressure", "style": f"pause {gap_s:g} s", "said": words, "gap_s": gap_s}


def commands(draw: random.Random) -> Iterator[Row]:
    """Single commands, at a question for a number and at one for yes or no."""
    while True:
        for words in draw.sample(SINGLE, len(SINGLE)):
            yield {"asking": draw.choice(("discharge_pressure", "leak_found")), "style": "command", "said": words}


def answers(draw: random.Random) -> Iterator[Row]:
    """Yes, no and their likes."""
    while True:
        yield {"asking": "leak_found", "style": "yes or no", "said": draw.choice(("yes", "no", "yeah", "nope"))}


KINDS = {
    "readings": (readings, 100), "slow": (slow, 40), "paused": (paused, 60), "commands": (commands, 56), "answers": (answers, 16),
}  # fmt: skip


def expected(row: Row) -> tuple[str, str] | None:
    """What it means, and of which sort; None where the grammar has it otherwise."""
    match understand(Question(row["asking"]), row["said"].replace(",", "")):
        case Command(name):
            return name, "command"
        case Answer(parts):
            value = parts[0].value
            return (f"{value:g}" if isinstance(value, float) else str(value)), "value"
    return ("yes" if row["said"] in ("yes", "yeah") else "no", "value") if row["style"] == "yes or no" else None


def main() -> None:
    """Render them."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name in ("model", "styles", "out"):
        parser.add_argument(name, type=Path)
    parser.add_argument("--voices", nargs="+", required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--each", type=float, default=1.0, help="more or fewer of every kind")
    said = parser.parse_args()
    voice = Voice(said.model, said.styles)
    draw = random.Random(said.seed)
    said.out.mkdir(parents=True, exist_ok=True)
    rows, turn = [], 0
    for make, count in KINDS.values():
        source = make(draw)
        for _ in range(round(count * said.each)):
            row = next(source)
            meaning, who = expected(row), said.voices[turn % len(said.voices)]
            turn += 1
            if meaning is None:
                continue
            sound = voice.say(row["said"], who, row.get("speed", draw.uniform(0.85, 1.25)), row.get("gap_s"))
            name = f"{len(rows):04d}.flac"
            write_audio(said.out / name, sound)
            text = row["said"].replace(",", "")
            rows.append([name, row["asking"], *meaning, row["style"], text, who])
    with open(said.out / "manifest.csv", "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["file", "asking", "expected", "is", "style", "text", "voice"])
        writer.writerows(rows)
    print(len(rows), "recordings in", said.out)


class Voice:
    """The voice model; a pause is made by saying the pieces one by one."""

    def __init__(self, model: Path, styles: Path) -> None:
        """Load it."""
        import onnxruntime
        from kokoro_onnx.tokenizer import Tokenizer

        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        self._session = onnxruntime.InferenceSession(str(model), options)
        self._tokens, self._styles = Tokenizer(), styles

    def say(self, words: str, who: str, speed: float, gap_s: float | None) -> np.ndarray:
        """int16, shape (n_samples,), mono, 16 kHz."""
        pieces = [self._piece(part.strip(), who, speed) for part in (words.split(",") if gap_s else [words.replace(",", "")])]
        parts = [pieces[0]]
        for piece in pieces[1:]:
            parts += [np.zeros(int((gap_s or 0) * RATE_HZ)), piece]
        sound = np.concatenate(parts)
        return np.asarray(sound / max(np.abs(sound).max(), 1e-6) * 0.6 * 32767, np.int16)

    def _piece(self, words: str, who: str, speed: float) -> np.ndarray:
        import soxr

        styles = np.fromfile(self._styles / f"{who}.bin", np.float32).reshape(510, 1, 256)
        tokens = self._tokens.tokenize(self._tokens.phonemize(words, lang="en-gb" if who[0] == "b" else "en-us"))
        feeds = {
            "tokens": np.array([[0, *tokens, 0]], np.int64), "style": styles[len(tokens)], "speed": np.array([speed], np.float32),
        }  # fmt: skip
        sound = soxr.resample(np.asarray(self._session.run(None, feeds)[0]).reshape(-1), 24_000, RATE_HZ)
        power = (sound[: len(sound) // 160 * 160].reshape(-1, 160) ** 2).mean(axis=1)
        on = np.flatnonzero(power > power.max() * 1e-3)
        return np.asarray(sound[on[0] * 160 : (on[-1] + 1) * 160])


if __name__ == "__main__":
    main()
