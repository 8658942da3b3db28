"""Fits the weights of `assistant/hearing/sureness.py` and of the ears in `evidence.py`, both ears together.

    python -m tests.bench.fit_sureness FOLDER... [--snr clean 20 10 5] [--kept FILE]

FOLDERs as for `listening`, with a column `voice` or `speaker`. Weights are fitted on one half of the voices and judged on the
other, both halves pooled; what is printed last is fitted on all. A row without `expected` is talk: no answer is right there. A
FOLDER with real noises of its own is given as FOLDER:NOISES. `--kept` keeps what was heard, which takes long, for another run.
"""

import argparse
import csv
import itertools
import math
import pickle
import zlib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy.optimize import minimize

from assistant.hearing.evidence import Considered, Evidence, weigh
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.hearing.sureness import features
from assistant.language.meaning import NotUnderstood, Question
from assistant.sound.audio_file import read_audio
from tests.bench.ears import Heard, Row, heard, in_order, machine_room, means

_PULL = 0.002
"""Towards nought, so that a weight that few answers tell stays small."""
_LIMITS = (0.25, 0.5, 0.9, 0.96, 0.98)
_BINS = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 0.98, 0.99, 1.01)
Array = npt.NDArray[np.float64]


@dataclass
class Answer:
    """One utterance that both ears heard."""

    heard: Heard
    logs: Array
    """First ear, second by words, second by letters, of each meaning; shape (n, 3)."""
    right: int
    """Which of them was said; -1 for none."""
    half: int


def rows_of(folder: Path) -> list[Row]:
    """All rows, talk too."""
    with open(folder / "manifest.csv", newline="", encoding="utf-8") as stream:
        return in_order([row | {"file": str(folder / row["file"])} for row in csv.DictReader(stream)])


def answers(found: list[Heard]) -> list[Answer]:
    """What can be fitted on."""
    out = []
    for one in found:
        considered = [c for c in one.considered if not isinstance(c.meaning, NotUnderstood)]
        if one.opinion is None or not considered:
            continue
        right = next((i for i, c in enumerate(considered) if one.row["expected"] and means(one.row, c.meaning)), -1)
        voice = one.row.get("voice") or one.row.get("speaker") or ""
        out.append(Answer(one, np.array([_logs(c) for c in considered]), right, zlib.crc32(voice.encode()) % 2))
    return out


def _logs(one: Considered) -> tuple[float, float, float]:
    return one.first, max(one.word, -60.0), max(one.letter, -60.0)


def ears(fitted_on: list[Answer]) -> Array:
    """Weights of the three, by the likelihood of what was said."""
    told = [a for a in fitted_on if a.right >= 0 and len(a.logs) > 1]

    def loss(p: Array) -> tuple[float, Array]:
        weights, total, slope = np.exp(p), 0.0, np.zeros(3)
        for one in told:
            z = one.logs @ weights
            share = np.exp(z - z.max())
            share /= share.sum()
            total -= math.log(share[one.right] + 1e-12)
            slope -= (one.logs[one.right] - share @ one.logs) * weights
        return total / len(told) + _PULL * float((p**2).sum()), slope / len(told) + 2 * _PULL * p

    return np.exp(minimize(loss, np.full(3, -1.0), jac=True, method="L-BFGS-B", bounds=[(-6, 1.2)] * 3).x)


def evidence(one: Answer, weights: Array) -> Evidence:
    """What is known about the best one by these weights."""
    from assistant.hearing import evidence as module

    module._FIRST, module._WORD, module._LETTER = (float(w) for w in weights)
    assert one.heard.utterance is not None
    said = one.heard.utterance
    return weigh(Question(one.heard.row["asking"]), said.hearings, said.snr_db, one.heard.opinion)


def sureness(fitted_on: list[tuple[Evidence, bool]]) -> Array:
    """Logistic weights of the features, by the likelihood of right and wrong."""
    x = np.array([features(e) for e, _ in fitted_on])
    sign = np.array([1.0 if right else -1.0 for _, right in fitted_on])

    def loss(w: Array) -> tuple[float, Array]:
        z = x @ w
        slope = -(x * (sign / (1 + np.exp(z * sign)))[:, None]).mean(axis=0)
        return float(np.logaddexp(0, -z * sign).mean() + _PULL * (w[1:] ** 2).sum()), slope + 2 * _PULL * np.r_[0.0, w[1:]]

    return np.asarray(minimize(loss, np.zeros(x.shape[1]), jac=True, method="L-BFGS-B").x)


def judged(some: list[Answer], weights: Array) -> list[tuple[Evidence, bool]]:
    """The best of each, and whether it was said."""
    found = [(one, evidence(one, weights)) for one in some]
    return [(e, bool(one.heard.row["expected"]) and means(one.heard.row, e.best.meaning)) for one, e in found]


def report(known: list[tuple[Answer, float, bool]]) -> None:
    """How often the likeliest is right, and what would count from each probability on, by level; then the reliability."""
    for level in dict.fromkeys(a.heard.level for a, _, _ in known):
        here = [(sure, right) for a, sure, right in known if a.heard.level == level and a.heard.row["expected"]]
        talk = [sure for a, sure, _ in known if a.heard.level == level and not a.heard.row["expected"]]
        points = []
        for limit in _LIMITS:
            counted = [right for sure, right in here if sure >= limit]
            right, wrong = sum(counted), len(counted) - sum(counted)
            points.append(f"{limit:g}: {100 * right / len(here):.1f}/{100 * wrong / len(here):.2f}")
        likeliest = 100 * np.mean([right for _, right in here])
        high = sum(sure >= 0.9 for sure in talk)
        print(f"{level:>6} n {len(here)} likeliest {likeliest:.1f};  {'  '.join(points)};  talk {len(talk)}, {high}")
    for low, up in itertools.pairwise(_BINS):
        some = [(sure, right) for _, sure, right in known if low <= sure < up]
        if some:
            mean, right_share = np.mean(some, axis=0)
            print(f"  {low} to {up}: n {len(some)}, mean {mean:.3f}, right {right_share:.3f}")


def hear(said: argparse.Namespace) -> list[Heard]:
    """Every recording at every level."""
    if said.kept and said.kept.is_file():
        return list(pickle.loads(said.kept.read_bytes()))
    ear, found = Recogniser(model_folder()), []
    for name in said.folders:
        folder, _, noise = name.partition(":")
        noises = [read_audio(f) / 32768 for f in sorted(Path(noise).glob("*.flac"))] if noise else [machine_room()]
        found += [heard(ear, row, level, noises) for level in said.snr for row in rows_of(Path(folder))]
    if said.kept:
        said.kept.write_bytes(pickle.dumps(found))
    return found


def main() -> None:
    """Fit, judge, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="*")
    parser.add_argument("--snr", nargs="+", default=["clean", "20", "10", "5"])
    parser.add_argument("--kept", type=Path)
    everything = answers(hear(parser.parse_args()))
    known: list[tuple[Answer, float, bool]] = []
    for half in (0, 1):
        others = [one for one in everything if one.half != half]
        here = [one for one in everything if one.half == half]
        weights = ears(others)
        w = sureness(judged(others, weights))
        for one, (e, right) in zip(here, judged(here, weights), strict=True):
            known.append((one, 1 / (1 + math.exp(-float(np.dot(features(e), w)))), right))
        print(f"half {half}: ears {np.round(weights, 3).tolist()}, sureness {np.round(w, 2).tolist()}")
    report(known)
    weights = ears(everything)
    print("all: ears", np.round(weights, 3).tolist(), "sureness", np.round(sureness(judged(everything, weights)), 3).tolist())


if __name__ == "__main__":
    main()
