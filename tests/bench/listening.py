"""How well the ear hears recordings, clean and in a machine room's noise.

    python -m tests.bench.listening [FOLDER] [--snr clean 20 10 5 0] [--noise FOLDER] [--one-ear] [--every N]
                                    [--by style voice] [--ears] [--reliability] [--curve]

FOLDER holds `manifest.csv` with columns `file`, `asking`, `expected` and, for a command, `is` = `command`; without
it the project's own recorded calls are heard. In per cent, each with its standard error: `right`, at once or after
asking back; `asked`, of those, asked back; `WRONG`, would count at once and is wrong; `wrong?`, wrong, but asked back;
`unclear`, asked again. `late`: sound from the last speech sample to the decision, median and 95 of 100.

`--by`: a row for each value of these columns of the manifest. `--ears`: how often the likeliest meaning is the right one to
each ear alone and to both, whatever comes of it. `--reliability`: how often what has this probability is right.
`--curve`: what would count at once, right and WRONG, if only the probability decided. The noise is made here, or drawn
from a folder of files. What was tried and what it brought is in `README.md` beside this file.
"""

import argparse
import itertools
import math
import statistics
from collections import Counter, defaultdict
from pathlib import Path

from assistant.hearing.decision import ACCEPTED, CONFIRM
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.sound.audio_file import read_audio
from tests.bench.ears import Heard, heard, in_order, machine_room, own_recordings, recorded

_LIMITS = (0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.96, 0.98, 0.99)
_BINS = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 0.98, 0.99, 1.01)
_RESULTS = ("right", "asked", "WRONG", "wrong?", "unclear")


def share(count: int, total: int) -> str:
    """Per cent with its standard error; where none was seen, what 95 of 100 such samples would still allow."""
    if not total:
        return "-"
    p = count / total
    error = f"±{100 * math.sqrt(p * (1 - p) / total):.1f}" if 0 < count < total else "" if count else f"<{300 / total:.1f}"
    return f"{100 * p:5.1f} {error:>5}"


def line(name: str, found: list[Heard]) -> str:
    """One row."""
    counts = Counter(one.result for one in found)
    counts["right"] += counts["asked"]
    late = sorted(one.hearing.late_ms for one in found if one.hearing.late_ms is not None)
    times = f"{statistics.median(late):.0f} ({late[int(0.95 * (len(late) - 1))]}) ms" if late else "-"
    return f"{name:>18} {len(found):5d}  " + "  ".join(share(counts[k], len(found)) for k in _RESULTS) + f"  {times}"


def curve(found: list[Heard]) -> str:
    """For each probability from which a number would count: right and WRONG among all that was said, per cent."""
    numbers = [
        (one.hearing.confidence, one.result in ("right", "asked")) for one in found
        if one.hearing.status in (ACCEPTED, CONFIRM) and isinstance(one.hearing.value, float)
    ]  # fmt: skip
    points = []
    for limit in _LIMITS:
        counted = [right for sure, right in numbers if sure >= limit]
        wrong = len(counted) - sum(counted)
        points.append(f"{limit:g}: {100 * sum(counted) / len(found):.1f}/{100 * wrong / len(found):.2f}")
    return "       counts from, right/WRONG:  " + "  ".join(points)


def reliability(found: list[Heard]) -> list[str]:
    """For each range of the probability: how many answers had it, its mean there, and how many were right."""
    lines = ["       probability         n    mean   right"]
    for low, high in itertools.pairwise(_BINS):
        here = [one for one in found if low <= one.hearing.confidence < high and one.utterance is not None]
        if here:
            mean = statistics.mean(one.hearing.confidence for one in here)
            right = sum(one.best_is_right("both") for one in here)
            lines.append(f"       {low:.2f} to {min(high, 1.0):.2f} {len(here):6d}   {mean:.3f}   {share(right, len(here))}")
    return lines


def main() -> None:
    """Print one row a level, and what else was asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("--snr", nargs="+", default=["clean", "20", "10", "5", "0"])
    parser.add_argument("--noise", type=Path)
    parser.add_argument("--one-ear", action="store_true", help="without the second ear, even if it runs here")
    parser.add_argument("--every", type=int, default=1, help="every N-th recording")
    parser.add_argument("--by", nargs="+", default=[], help="columns of the manifest")
    parser.add_argument("--ears", action="store_true", help="each ear alone")
    parser.add_argument("--reliability", action="store_true", help="what the probability is worth, all levels together")
    parser.add_argument("--curve", action="store_true", help="right against WRONG by the probability from which a number counts")
    said = parser.parse_args()
    rows = in_order((recorded(said.folder) if said.folder else own_recordings())[:: said.every])
    noises = [read_audio(f) / 32768 for f in sorted(said.noise.glob("*.flac"))] if said.noise else [machine_room()]
    ear = Recogniser(model_folder(), second=not said.one_ear)
    print(f"{'SNR':>18} {'n':>5}  " + "  ".join(f"{name:>11}" for name in _RESULTS) + "  late (p95)")
    everything: list[Heard] = []
    for level in said.snr:
        found = [heard(ear, row, level, noises) for row in rows]
        everything += found
        print(line(level, found), flush=True)
        for column in said.by:
            groups: dict[str, list[Heard]] = defaultdict(list)
            for one in found:
                groups[one.row.get(column, "")].append(one)
            for name, some in sorted(groups.items()):
                print(line(name[:18], some))
        if said.ears:
            which = ("first", "second", "both") if ear.second else ("first",)
            likeliest = [f"{e} {share(sum(one.best_is_right(e) for one in found), len(found))}" for e in which]
            print("       likeliest is right:  " + "   ".join(likeliest))
        if said.curve:
            print(curve(found), flush=True)
    if said.reliability:
        print("\n".join(reliability(everything)))


if __name__ == "__main__":
    main()
