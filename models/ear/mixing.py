"""What the ear is trained on: utterances joined, stretched, put into rooms and noise, a batch at a time."""

import bisect
import glob
import itertools
import json
import math
import multiprocessing
import random
from collections import defaultdict
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import torch
import torch.nn.functional as F
from net import LETTERS
from noises import LENGTH, RATE, Noises, mouths

try:
    from joining import joined
except ImportError:  # a machine without triton joins them piece by piece
    joined = None  # type: ignore[assignment]

FAMILIES = ("kokoro", "espeak", "flite")
SHARES = {"kokoro": 0.68, "espeak": 0.20, "flite": 0.12}
JOINED, DIGITS_ONLY = 0.35, 0.3  # share of answers that are joined from words of one voice, and of those, digits one by one
LEAD_S = 0.1, 0.4  # of room before the first sound: a word that begins with the recording is half lost
CALLED = ("number", "named", "led")  # kinds of texts that words are joined to
FEW, COUNTING = 14, 0.35  # words of a voice that says single digits alone; share of joined answers by such voices
BREATHS = 0.35  # share of joined answers that are several answers in one breath
PIECES, LONGEST = 10, 7  # at most in one answer, breaths too; words joined
LONGEST_S = 9.0
SPOKEN_DIGITS = "zero one two three four five six seven eight nine oh".split()
READY = 9000  # items to choose a batch of one length from
EDGE_S = 0.25  # a batch is a whole number of these long: the accelerator makes its plans once for each length


@dataclass
class Speech:
    """All utterances, end to end in one array, with what is said in each."""

    sound: np.ndarray
    start: list[int] = field(default_factory=list)
    length: list[int] = field(default_factory=list)
    kind: list[str] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    voice: list[str] = field(default_factory=list)
    family: list[str] = field(default_factory=list)
    cuts: list[list[int]] = field(default_factory=list)
    mouths: list[int] = field(default_factory=list)
    """Rows that are breaths or clicks."""


def read(folder: str, seed: int) -> Speech:
    """The speech that `speak.py` made, and mouth sounds behind it."""
    parts: list[np.ndarray] = []
    speech, at = Speech(np.zeros(0, np.int16)), 0
    for family in FAMILIES:
        for file in sorted(glob.glob(f"{folder}/{family}-*.npz")):
            found = np.load(file)
            parts.append(found["x"])
            for size, kind, text, voice, cuts in zip(*(found[k] for k in ("n", "kind", "text", "voice", "cuts")), strict=True):
                speech.start.append(at)
                speech.length.append(int(size))
                speech.kind.append(str(kind))
                speech.text.append(str(text))
                speech.voice.append(str(voice))
                speech.family.append(family)
                speech.cuts.append([int(cut) for cut in str(cuts).split()])
                at += int(size)
    for sound in mouths(seed):
        speech.mouths.append(len(speech.start))
        parts.append(sound.numpy())
        speech.start.append(at)
        speech.length.append(len(sound))
        speech.kind.append("mouth")
        speech.cuts.append([])
        for words in (speech.text, speech.voice, speech.family):
            words.append("")
        at += len(sound)
    speech.sound = np.concatenate(parts)
    return speech


class Planner:
    """Chooses what is joined to what; numbers only, no sound."""

    def __init__(self, speech: Speech, words: list[str], seed: int, joined: float = JOINED, fronts: bool = False) -> None:
        """Ready for `batch`.

        Args:
            speech: from `read`.
            words: `word_list`.
            seed: of what is chosen.
            joined: share of answers that are joined from words.
            fronts: whether words after the first may lack their front.
        """
        self.joined, self.fronts = joined, fronts
        self.speech, self.random = speech, random.Random(seed)
        self.letter = {c: i for i, c in enumerate(LETTERS)}
        self.word = {word: i for i, word in enumerate(words)}
        self.of = {family: [i for i, f in enumerate(speech.family) if f == family] for family in FAMILIES}
        self.alone: dict[str, dict[str, dict[str, list[int]]]] = {
            family: defaultdict(lambda: defaultdict(list)) for family in FAMILIES
        }
        for i, kind in enumerate(speech.kind):
            if kind == "word":
                self.alone[speech.family[i]][speech.voice[i]][speech.text[i]].append(i)
        self.speakers: dict[str, tuple[list[str], list[str]]] = {}
        for family in FAMILIES:
            kept = {voice: dict(said) for voice, said in self.alone[family].items() if sum(map(len, said.values())) >= 6}
            self.alone[family] = kept  # type: ignore[assignment]
            all_words = [voice for voice in sorted(kept) if len(kept[voice]) > FEW]
            self.speakers[family] = all_words, [voice for voice in sorted(kept) if len(kept[voice]) <= FEW]
        self.numbers = [text for kind, text in zip(speech.kind, speech.text, strict=True) if kind in CALLED]
        alone = {text for kind, text in zip(speech.kind, speech.text, strict=True) if kind == "word"}
        self.breaths = [
            text for kind, text in zip(speech.kind, speech.text, strict=True)
            if kind == "breath" and len(text.split()) <= LONGEST and alone.issuperset(text.split())
        ]  # fmt: skip
        self.families = [family for family in FAMILIES if self.of[family]]
        self.weights = [SHARES[family] for family in self.families]
        self.waiting: list[tuple[float, list[Any], float, str]] = []

    def gap_s(self) -> float:
        """Between two pieces: mostly short, at times as long as somebody who reads a gauge takes."""
        k = self.random.random()
        return self.random.uniform(0, 0.08 if k < 0.3 else 0.35 if k < 0.7 else 1.0)

    def cut(self, row: int, first: bool) -> tuple[int, int]:
        """Start and length of a word; one in six lacks up to 60 ms at an end: gates and cut recordings do that to people's.

        The first word of an answer is never cut at its front.
        """
        start, length = self.speech.start[row], self.speech.length[row]
        if self.random.random() < 0.84 or length < RATE // 4:
            return start, length
        before, after = (int(self.random.uniform(0, 0.06) * RATE) * (self.random.random() < 0.6) for _ in range(2))
        if first or not self.fronts:
            before = 0
        return start + 480 * (before > 0) + before, length - 480 * (before > 0) - before - after

    def pieces(self) -> tuple[list[tuple[int, int, float]], str]:
        """(start, length, gap before [s]) of each piece, and the words of all."""
        r, speech = self.random, self.speech
        k = r.random()
        if k < 0.03:
            return [], ""
        family = r.choices(self.families, self.weights)[0]
        alone = self.alone[family]
        if k < 0.03 + self.joined and alone:
            able, counting = self.speakers[family]
            said = alone[r.choice(counting if counting and (not able or r.random() < COUNTING) else able)]
            words = [r.choice(sorted(said)) for _ in range(r.choice((1, 2, 2, 3, 3, 3, 4)))]
            kind = r.random()
            if kind > DIGITS_ONLY:
                wanted = r.choice(self.breaths if self.breaths and r.random() < BREATHS else self.numbers).split()
            else:
                wanted = r.choices(SPOKEN_DIGITS, k=r.choice((1, 2, 2, 3, 3, 3, 4)))
            if kind < 0.8 and len(wanted) <= LONGEST and all(word in said for word in wanted):
                words = wanted
            rows = [r.choice(said[word]) for word in words]
            return [(*self.cut(i, not n), self.gap_s() if n else 0.0) for n, i in enumerate(rows)], " ".join(words)
        i = r.choice(self.of[family])
        edges = [0, *speech.cuts[i], speech.length[i]] if speech.cuts[i] and r.random() < 0.7 else [0, speech.length[i]]
        out = []
        for n, (low, high) in enumerate(itertools.pairwise(edges)):
            out.append((speech.start[i] + low, high - low, self.gap_s() if n else 0.0))
        return out[: PIECES - 2], speech.text[i]

    def item(self) -> tuple[float, list[Any], float, str]:
        """Length [s], pieces, speed, words."""
        r = self.random
        pieces, words = self.pieces()
        if r.random() < 0.12:
            mouth = r.choice(self.speech.mouths)
            place = r.randrange(len(pieces) + 1)
            pieces.insert(place, (self.speech.start[mouth], self.speech.length[mouth], r.uniform(0, 0.3)))
        speed = r.uniform(0.8, 1.2)
        length_s = sum(size / speed * 1.05 / RATE + gap for _, size, gap in pieces)
        return length_s + LEAD_S[0] + r.uniform(0.15, 1.0), pieces, speed, words

    def batch(self, seconds: float) -> dict[str, Any]:
        """Items of about one length, as arrays: where each piece comes from and where it goes."""
        while len(self.waiting) < READY:
            item = self.item()
            if item[0] <= LONGEST_S:
                self.waiting.append(item)
        length = math.ceil(self.random.choice(self.waiting)[0] / EDGE_S) * EDGE_S
        self.waiting.sort(key=lambda item: item[0])
        count = max(int(seconds / max(length, 0.8)), 16)
        high = max(bisect.bisect_right(self.waiting, length, key=lambda item: item[0]), count)
        taken = self.waiting[high - count : high]
        del self.waiting[high - count : high]
        samples = int(math.ceil(taken[-1][0] / EDGE_S) * EDGE_S * RATE)
        start, size, place, rate = (np.zeros((len(taken), PIECES)) for _ in range(4))
        letters, words = [], []
        for row, (_, pieces, speed, text) in enumerate(taken):
            need = sum(n / speed * 1.05 + gap * RATE for _, n, gap in pieces)
            least, spare = self.random.uniform(*LEAD_S) * RATE, max(samples - need, 0)
            at = max(self.random.uniform(0.03, 0.97) * spare, min(least, 0.9 * spare))
            for k, (begin, n, gap) in enumerate(pieces[:PIECES]):
                at += gap * RATE
                own = speed * self.random.uniform(0.95, 1.05)  # nobody says two words at one pace and pitch
                start[row, k], size[row, k], place[row, k], rate[row, k] = begin, n, at, own
                at += n / own
            letters.append([self.letter[c] for c in text if c in self.letter])
            words.append([self.word.get(word, 1) for word in text.split()])
        where = {"start": start, "size": size, "place": place, "rate": rate}
        return {"samples": samples, **where, "letters": letters, "words": words}


def _plans(speech: Speech, words: list[str], seed: int, seconds: float, queue: Any, joined: float, fronts: bool) -> None:
    speech.sound = np.zeros(0, np.int16)
    planner = Planner(speech, words, seed, joined, fronts)
    while True:
        queue.put(planner.batch(seconds))


class Plans:
    """Planners in processes of their own, asked in turn, so that the same seeds give the same batches."""

    def __init__(
        self, speech: Speech, words: list[str], seed: int, seconds: float, workers: int = 4, *, joined: float, fronts: bool
    ) -> None:
        """Start them."""
        begin = multiprocessing.get_context("fork")
        self.queues = [begin.Queue(3) for _ in range(workers)]
        for i, queue in enumerate(self.queues):
            given = (speech, words, seed * 100 + i, seconds, queue, joined, fronts)
            begin.Process(target=_plans, args=given, daemon=True).start()
        self.turn = 0

    def next(self) -> dict[str, Any]:
        """The next batch."""
        self.turn += 1
        return self.queues[self.turn % len(self.queues)].get()


class Mixer:
    """Batches as sound, on the device."""

    def __init__(self, speech: Speech, device: str, seed: int, rounds: int, snr_low_db: float, narrow: float) -> None:
        """Move the speech there and make the noises."""
        self.device, self.low_db, self.narrow = device, snr_low_db, narrow
        self.sound = torch.from_numpy(speech.sound).to(device)
        self.pool = Noises(device, seed).pool(rounds, self._babble(speech, seed))

    def _babble(self, speech: Speech, seed: int) -> torch.Tensor:
        draw = random.Random(seed)
        rows = [i for i, kind in enumerate(speech.kind) if kind in ("talk", "letters", "rare")] or list(range(len(speech.kind)))
        x = torch.zeros(64, LENGTH, device=self.device)
        for row in range(len(x)):
            for _ in range(draw.choice((1, 2, 4, 8))):
                at, loud = draw.randrange(RATE), draw.uniform(0.3, 1)
                while at < LENGTH - RATE:
                    i = draw.choice(rows)
                    size = min(speech.length[i], LENGTH - at)
                    x[row, at : at + size] += self.sound[speech.start[i] : speech.start[i] + size].float() / 32768 * loud
                    at += size + draw.randrange(RATE // 2)
        return x / (x.std(-1, keepdim=True) + 1e-6)

    def _chance(self, count: int) -> torch.Tensor:
        return torch.rand(count, 1, device=self.device)

    def _joined(self, plan: dict[str, Any]) -> torch.Tensor:
        """The pieces at their places and speeds."""
        if joined is not None and self.sound.is_cuda:
            loud = 10 ** (torch.randn(len(plan["start"]), PIECES, device=self.device) * 3 / 20)
            loud[:, 0] = 1.0
            return joined(self.sound, plan, loud)
        start, size, place, rate = (torch.tensor(plan[k], device=self.device) for k in ("start", "size", "place", "rate"))
        t = torch.arange(plan["samples"], device=self.device, dtype=torch.float64)[None]
        x = torch.zeros(len(start), plan["samples"], device=self.device)
        for k in range(PIECES):
            if not bool((size[:, k] > 0).any()):
                continue
            at = (t - place[:, k : k + 1]) * rate[:, k : k + 1]
            inside = (at >= 0) & (at < size[:, k : k + 1] - 1)
            whole = at.floor().clamp(min=0)
            share = (at - whole).float()
            index = (start[:, k : k + 1] + whole).long().clamp(0, len(self.sound) - 2)
            value = self.sound[index].float() * (1 - share) + self.sound[index + 1].float() * share
            loud = 10 ** (torch.randn(len(start), 1, device=self.device) * 3 / 20) if k else 1.0
            x += torch.where(inside, value / 32768 * loud, torch.zeros_like(value))
        return x

    def _tilt(self, count: int, octave: torch.Tensor, db: float) -> torch.Tensor:
        points = torch.randn(count, 8, device=self.device) * db
        at = octave.clamp(0, 6.999)
        left = at.long()
        share = at - left
        return 10 ** ((points[:, left] * (1 - share) + points[:, (left + 1).clamp(max=7)] * share) / 20)

    def _echo(self, count: int) -> torch.Tensor:
        """Rooms' responses, for six in ten; shape (count, 5600)."""
        size = 5600
        t = torch.arange(size, device=self.device) / RATE
        decay_s = 0.08 + 0.6 * self._chance(count) ** 1.5
        room = torch.randn(count, size, device=self.device) * torch.exp(-6.9 * t / decay_s)
        room[:, :24] = 0
        room = room / room.norm(dim=-1, keepdim=True) * 10 ** (-(self._chance(count) * 16 - 2) / 20)
        room[:, 0] = 1.0
        none = F.one_hot(torch.zeros(count, dtype=torch.long, device=self.device), size).float()
        return torch.where(self._chance(count) < 0.6, room, none)

    def sounds(self, plan: dict[str, Any]) -> torch.Tensor:
        """A batch: shape (n, samples), as the product hears it, whole steps of 16 bits."""
        x = self._joined(plan)
        count, samples = x.shape
        size = 1 << (samples + 6000).bit_length()
        hertz = torch.fft.rfftfreq(size, 1 / RATE).to(self.device)
        octave = torch.log2(hertz.clamp(min=60) / 60) / 7.06 * 7
        spectrum = torch.fft.rfft(x, size) * torch.fft.rfft(self._echo(count), size) * self._tilt(count, octave, 4.0)
        narrow = (self._chance(count) < self.narrow).float()  # headsets of 8 kHz
        high, low = 2900 + 1200 * self._chance(count), 60 + 300 * self._chance(count)
        steep = torch.where(self._chance(count) < 0.5, 16.0, 60.0)
        band = 1 / torch.sqrt(1 + (hertz / high) ** steep) / torch.sqrt(1 + (low / hertz.clamp(min=1)) ** 4)
        x = torch.fft.irfft(spectrum * (narrow * band + 1 - narrow), size)[:, :samples]
        noise = self._noise(count, samples, size, hertz, octave, narrow, band)
        frames = x[:, : samples // 320 * 320].view(count, -1, 320).pow(2).mean(-1) + 1e-12
        on = frames > frames.amax(-1, keepdim=True) * 10**-2.5
        power = (frames * on).sum(-1, keepdim=True) / on.sum(-1, keepdim=True).clamp(min=1)
        empty = torch.tensor([[not letters] for letters in plan["letters"]], device=self.device)
        power = torch.where(empty, power.clamp(min=1e-2), power)
        some = self.low_db + (14 - self.low_db) * self._chance(count)  # six in ten louder than most machine rooms
        some = torch.where(self._chance(count) < 0.6, some, 10 + 15 * self._chance(count))
        snr_db = torch.where(self._chance(count) < 0.12, 30 + 30 * self._chance(count), some)
        noise = noise * (power / 10 ** (snr_db / 10)).sqrt()
        noise = torch.where(self._chance(count) < 0.03, torch.zeros_like(noise), noise)
        y = x + noise
        y = torch.where((narrow > 0) & (self._chance(count) < 0.3), _telephone(y), y)
        y = y * 0.7 / y.abs().amax(-1, keepdim=True).clamp(min=1e-4) * 10 ** (-24 * self._chance(count) ** 2 / 20)
        return torch.round(y * 32767) / 32768

    def _noise(
        self, count: int, samples: int, size: int, hertz: torch.Tensor, octave: torch.Tensor, narrow: torch.Tensor,
        band: torch.Tensor,
    ) -> torch.Tensor:  # fmt: skip
        which = torch.randint(0, len(self.pool), (count, 1), device=self.device)
        begin = torch.randint(0, LENGTH, (count, 1), device=self.device)
        index = which * LENGTH + (begin + torch.arange(samples, device=self.device)[None]) % LENGTH
        spectrum = torch.fft.rfft(self.pool.view(-1)[index].float(), size) * self._tilt(count, octave, 3.0)
        spectrum = spectrum / torch.sqrt(1 + (100 / hertz.clamp(min=1)) ** 4)  # a headset passes little below
        both = (narrow > 0) & (self._chance(count) < 0.3)
        z = torch.fft.irfft(torch.where(both, spectrum * band, spectrum), size)[:, :samples]
        return z / z.pow(2).mean(-1, keepdim=True).sqrt().clamp(min=1e-6)


def _telephone(x: torch.Tensor) -> torch.Tensor:
    """The steps of a telephone line, 8 bits by the mu law of ITU-T G.711."""
    peak = x.abs().amax(-1, keepdim=True).clamp(min=1e-6)
    u = x / peak
    v = torch.round(torch.sign(u) * torch.log1p(255 * u.abs()) / math.log(256) * 127) / 127
    return torch.sign(v) * (torch.exp(v.abs() * math.log(256)) - 1) / 255 * peak


def word_list(texts: str) -> list[str]:
    """Blank, any other word, and the words of the product's language."""
    with open(texts, encoding="utf-8") as file:
        return ["_", "<other>", *json.load(file)["words"]]


def hours(speech: Speech) -> float:
    """Length of it all [h]."""
    return math.fsum(speech.length) / RATE / 3600
