"""Who says what: the texts given to voices, speeds and accents.

    python models/ear/jobs.py TEXTS.json VOICES_FOLDER OUT_FOLDER EARLIER_WORDS.json

Run it where `kokoro-onnx` is installed (its phonemes are the voice model's own). Writes `kokoro.json`, `espeak.json`,
`flite.json`, `voices.npz`. Voices that are kept for judging say nothing here.
"""

import json
import math
import random
import sys
from collections import Counter, defaultdict
from pathlib import Path

import numpy as np
from kokoro_onnx.tokenizer import Tokenizer

SEED = 7
R = random.Random(SEED)
JUDGES = frozenset(
    "zm_yunxi af_kore af_nova af_river am_fenrir am_onyx am_puck bf_isabella bm_george bm_lewis hm_omega "  # of blind sets
    "af_bella af_sarah em_alex bf_emma if_sara am_michael af_heart bm_daniel bm_fable am_eric am_adam".split()  # of limits' fits
)
"""Never heard in training, so that what is measured on them is measured on strangers."""
ESPEAK_JUDGES = frozenset(("en-us+m3", "en-us+m7", "en-us+f3"))
SPEAKERS = 40
SAID = {
    "single": 15, "offered": 6, "command": 2, "onward": 5, "named": 1, "breath": 0.3, "correction": 0.5, "led": 0.4, "walk": 0.4,
    "spoken": 0.5, "digits": 0.8, "aside": 3, "way": 0.4, "told": 1, "number": 0.3, "talk": 0.5, "rare": 0.5, "letters": 1,
}  # fmt: skip
"""How many voices say each text of a kind; below one, the share of its texts that are said."""
ALONE, NEW_WORDS, SELDOM, COUNTERS = 4, 2, 8, 40
"""Voices for a phrase of one word, and for one of words that the ear before did not know; the others have half a one. How many
times a word at least is to be said in whole sentences. Speakers more, who say single digits and nothing else: that is how people
read out a gauge, and it is heard worst."""
LONGEST_TOKENS = 120
DIGITS = frozenset("zero oh one two three four five six seven eight nine".split())
ESPEAK_BASES = ("en-us", "en-gb-scotland", "en-gb-x-gbclan", "en-gb-x-gbcwmd", "en-us-nyc")
ESPEAK_VARIANTS = (
    "m1 m2 m4 m5 m6 m8 f1 f2 f4 f5 klatt klatt2 klatt3 klatt4 Alex Andy Gene Mario Michael steph Annie linda "
    "anikaRobot john victor"
).split()
FLITE = ("kal16", "awb", "rms", "slt")

Row = list[str]
Who = tuple[str, str, float, str]
"""Voice, another, the first one's share in the sound of it, and whose melody and rhythm."""


class Voices:
    """The voice model's voices and blends of two."""

    def __init__(self, folder: Path) -> None:
        """Read those that may be used."""
        self.styles = {
            file.stem: np.fromfile(file, np.float32).reshape(510, 256)[: LONGEST_TOKENS + 10].astype(np.float16)
            for file in sorted(folder.glob("*.bin")) if file.stem not in JUDGES
        }  # fmt: skip
        names = sorted(self.styles)
        self.home = {region: [n for n in names if (n[0] if n[0] in "ab" else "o") == region] for region in "abo"}
        self.speakers = [(name, name, 1.0, name) for name in names]
        while len(self.speakers) < SPEAKERS:
            self.speakers.append(self.blend())

    def pick(self) -> str:
        """A voice: of the United States 4 in 10, British 15 in 100, else one whose first language is another."""
        k = R.random()
        return R.choice(self.home["a" if k < 0.40 else "b" if k < 0.55 else "o"])

    def blend(self) -> Who:
        """Two voices, the first one's share, and whose melody and rhythm it has: its own, or a third one's."""
        voice, other = self.pick(), R.choice(self.home["a"] if R.random() < 0.6 else sorted(self.styles))
        return voice, other, round(R.uniform(0.35, 0.85), 2), voice if R.random() < 0.4 else self.pick()

    def anybody(self) -> Who:
        """A voice, or a blend."""
        if R.random() < 0.6:
            return self.blend()
        name = self.pick()
        return name, name, 1.0, name


def speed() -> float:
    """Mostly ordinary; one in five slow and deliberate."""
    return round(R.uniform(0.55, 0.8) if R.random() < 0.2 else R.uniform(0.75, 1.4), 2)


def kokoro(by: dict[str, list[Row]], voices: Voices, known_before: frozenset[str]) -> list[list[object]]:
    """Rows [kind, words, voice, other voice, share, whose manner, speed, phoneme numbers, number of pauses]."""
    tokens = Tokenizer()
    known: dict[tuple[str, str], list[int]] = {}
    rows: list[list[object]] = []

    def add(row: Row, who: Who) -> None:
        kind, words, said = row
        british = who[0][0] == "b" or (who[0][0] not in "ab" and R.random() < 0.3)
        key = (said, "en-gb" if british else "en-us")
        if key not in known:
            known[key] = tokens.tokenize(tokens.phonemize(said.replace("p s i", "P S I"), lang=key[1]))
        if 0 < len(known[key]) <= LONGEST_TOKENS:
            rows.append([kind, words, *who, speed(), known[key], said.count(",")])

    for row in by["word"]:
        for who in voices.speakers:
            add(row, who)
    for who in [voices.blend() for _ in range(COUNTERS)]:
        for row in by["word"]:
            if row[1] in DIGITS:
                add(row, who)
    for kind, times in SAID.items():
        for row in by[kind][: int(len(by[kind]) * min(times, 1))]:
            for _ in range(math.ceil(times)):
                add(row, voices.anybody())
    heard = Counter(word for row in by["told"] for word in row[1].split())
    for row in by["told"]:
        for _ in range(SELDOM // min(heard[word] for word in row[1].split()) - 1):
            add(row, voices.anybody())
    for i, row in enumerate(by["phrase"]):
        words = row[1].split()
        for _ in range(ALONE if len(words) == 1 else i % 2 if known_before.issuperset(words) else NEW_WORDS):
            add(row, voices.anybody())
    R.shuffle(rows)
    rows.sort(key=lambda row: row[0] != "word")  # first, so that each voice has all of them where time runs out
    return rows


def some(by: dict[str, list[Row]], counts: dict[str, int]) -> list[Row]:
    """So many rows of each kind, each text as often as any other."""
    out = [row for kind, count in counts.items() for row in (by[kind] * (count // len(by[kind]) + 1))[:count]]
    R.shuffle(out)
    return out


def main() -> None:
    """Write the four files."""
    texts, folder, out, earlier = (Path(argument) for argument in sys.argv[1:5])
    by: dict[str, list[Row]] = defaultdict(list)
    for row in json.loads(texts.read_text())["texts"]:
        by[row[0]].append(row)
    for rows in by.values():
        R.shuffle(rows)
    voices = Voices(folder)
    spoken = kokoro(by, voices, frozenset(json.loads(earlier.read_text())))
    (out / "kokoro.json").write_text(json.dumps(spoken))
    np.savez_compressed(out / "voices.npz", **voices.styles)
    robots = [f"{b}+{v}" for b in ESPEAK_BASES for v in ESPEAK_VARIANTS if f"{b}+{v}" not in ESPEAK_JUDGES]
    many = {
        "number": 7000, "word": 6000, "single": 900, "offered": 3000, "command": 1500, "phrase": 4500, "onward": 400,
        "named": 900, "breath": 4500, "correction": 1200, "led": 700, "walk": 800,
        "spoken": 1500, "digits": 1500, "aside": 600, "way": 1500, "told": 6000, "talk": 500, "letters": 100, "rare": 300,
    }  # fmt: skip
    picked = some(by, many)
    espeak = [[*row, R.choice(robots), R.randrange(100, 240), R.randrange(20, 80)] for row in picked]
    (out / "espeak.json").write_text(json.dumps(espeak))
    many = {
        "number": 1800, "word": 1800, "single": 250, "offered": 800, "command": 400, "phrase": 1500, "onward": 120, "named": 250,
        "breath": 1500, "correction": 400, "led": 200, "walk": 200, "spoken": 400, "digits": 400, "aside": 200, "way": 500,
        "told": 2000, "talk": 150,
    }  # fmt: skip
    picked = some(by, many)
    flite = [
        [*row, FLITE[i % len(FLITE)], round(R.uniform(0.8, 1.5), 2), round(R.uniform(0.8, 1.25), 2)]
        for i, row in enumerate(picked)
    ]
    (out / "flite.json").write_text(json.dumps(flite))
    print(len(voices.styles), "voices;", len(spoken), Counter(str(row[0]) for row in spoken), len(espeak), len(flite))


if __name__ == "__main__":
    main()
