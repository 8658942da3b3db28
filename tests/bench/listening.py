"""How well the ear hears recordings, clean and in a machine room's noise.

    python -m tests.bench.listening [FOLDER] [--snr clean 20 10 5 0] [--noise FOLDER] [--one-ear] [--curve]

FOLDER holds `manifest.csv` with columns `file`, `asking`, `expected` and, for a command, `is` = `command`; without
it the project's own recorded calls are heard. In per cent: `right`, at once or after asking back; `asked`, of
those, asked back; `WRONG`, would count at once and is wrong; `wrong?`, wrong, but asked back; `unclear`, asked
again. `--curve`: what would count at once, right and WRONG, if only the probability decided. `late`: sound from
the last speech sample to the decision, median and 95 of 100. The noise is made here, or drawn from a folder of
files. What was tried and what it brought is in `README.md` beside this file.
"""

import argparse
import contextlib
import csv
import statistics
import zlib
from collections import Counter
from pathlib import Path

import numpy as np
import numpy.typing as npt

from assistant.hearing.decision import ACCEPTED, COMMAND, CONFIRM, UNCLEAR, Hearing
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.audible import audible
from assistant.language.meaning import Question
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio

_LIMITS = (0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99, 0.995)
Sound = npt.NDArray[np.float64]


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


def result(row: dict[str, str], heard: Hearing) -> str:
    """The column that one hearing counts in."""
    if heard.status == UNCLEAR:
        return "unclear"
    wanted: object = True if row["expected"] == "done" else row["expected"]
    with contextlib.suppress(ValueError):
        wanted = float(row["expected"])
    right = heard.value == wanted and (heard.status == COMMAND) == (row.get("is") == "command")
    if heard.status == CONFIRM:
        return "asked" if right else "wrong?"
    assert heard.status in (ACCEPTED, COMMAND)
    return "right" if right else "WRONG"


def recorded(folder: Path) -> list[dict[str, str]]:
    """Rows of a folder's manifest, their files made whole."""
    with open(folder / "manifest.csv", newline="", encoding="utf-8") as stream:
        return [row | {"file": str(folder / row["file"])} for row in csv.DictReader(stream) if row["expected"]]


def own_recordings() -> list[dict[str, str]]:
    """Each different answer of the project's recorded calls that answers one question."""
    found: dict[tuple[str, str], dict[str, str]] = {}
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


def main() -> None:
    """Print one row a level."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("--snr", nargs="+", default=["clean", "20", "10", "5", "0"])
    parser.add_argument("--noise", type=Path)
    parser.add_argument("--one-ear", action="store_true", help="without the second ear, even if it is installed")
    parser.add_argument("--curve", action="store_true", help="right against WRONG by the probability from which a number counts")
    said = parser.parse_args()
    rows = recorded(said.folder) if said.folder else own_recordings()
    rows.sort(key=lambda row: audible(Question(row["asking"])).name)
    noises = [read_audio(f) / 32768 for f in sorted(said.noise.glob("*.flac"))] if said.noise else [machine_room()]
    ear = Recogniser(model_folder(), second=not said.one_ear)
    print(f"{'SNR':>6} {'n':>5} {'right':>6} {'asked':>6} {'WRONG':>6} {'wrong?':>6} {'unclear':>7}  late (p95)")
    for level in said.snr:
        counts: Counter[str] = Counter()
        late: list[int] = []
        numbers: list[tuple[float, bool]] = []
        for row in rows:
            seed = zlib.crc32(f"{Path(row['file']).name}|{level}".encode())
            snr = None if level == "clean" else float(level)
            sound = in_noise(read_audio(row["file"]), snr, noises[seed % len(noises)], seed)
            heard = ear.hear(sound, Question(row["asking"]))
            counts[result(row, heard)] += 1
            if heard.status in (ACCEPTED, CONFIRM) and isinstance(heard.value, float):
                numbers.append((heard.confidence, result(row, heard) in ("right", "asked")))
            late += [] if heard.late_ms is None else [heard.late_ms]
        print(_line(level, counts, late), flush=True)
        if said.curve:
            print(_curve(numbers, len(rows)), flush=True)


def _curve(numbers: list[tuple[float, bool]], total: int) -> str:
    """For each probability from which a number would count: right and WRONG among all that was said, per cent."""
    points = []
    for limit in _LIMITS:
        counted = [right for sure, right in numbers if sure >= limit]
        points.append(f"{limit:g}: {100 * sum(counted) / total:.1f}/{100 * (len(counted) - sum(counted)) / total:.2f}")
    return "       counts from, right/WRONG:  " + "  ".join(points)


def _line(level: str, counts: Counter[str], late: list[int]) -> str:
    total = sum(counts.values())
    share = {name: 100 * counts[name] / total for name in ("right", "asked", "WRONG", "wrong?", "unclear")}
    late.sort()
    times = f"{statistics.median(late):.0f} ({late[int(0.95 * (len(late) - 1))]}) ms" if late else "-"
    return (
        f"{level:>6} {total:5d} {share['right'] + share['asked']:6.1f} {share['asked']:6.1f} "
        f"{share['WRONG']:6.2f} {share['wrong?']:6.1f} {share['unclear']:7.1f}  {times}"
    )


if __name__ == "__main__":
    main()
