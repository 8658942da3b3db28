"""Six noises of the places where a call goes on, made: each float64, shape (n_samples,), mono, 16 kHz, mean power 1.

Figures of spectra and speeds are common practice: mains hum and its multiples, strokes of a four-pole motor at 29 turns a second,
blades of an axial fan, a screw's whine, gas through a valve, sheet metal that is struck.
"""

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from assistant.sound.audio_file import RATE_HZ, read_audio

Sound = npt.NDArray[np.float64]
LENGTH_S = 40.0


def _time(seconds: float) -> Sound:
    return np.arange(round(seconds * RATE_HZ)) / RATE_HZ


def _coloured(random: np.random.Generator, seconds: float, points: tuple[tuple[float, float], ...]) -> Sound:
    """Noise with a spectrum through these points, (hertz, dB)."""
    count = round(seconds * RATE_HZ)
    hertz, level_db = zip(*points, strict=True)
    bins = np.maximum(np.fft.rfftfreq(count, 1 / RATE_HZ), 10.0)
    gain = 10 ** (np.interp(np.log(bins), np.log(hertz), level_db) / 20)
    return _even(np.fft.irfft(np.fft.rfft(random.standard_normal(count)) * gain, count))


def _even(x: Sound) -> Sound:
    return np.asarray(x / np.sqrt(np.mean(x**2)))


def _strokes(random: np.random.Generator, seconds: float, turns_hz: float, rings_hz: tuple[float, ...]) -> Sound:
    """A reciprocating compressor: each stroke rings the casting."""
    t = _time(seconds)
    turns = np.cumsum(turns_hz * (1 + 0.01 * np.sin(2 * np.pi * 0.07 * t))) / RATE_HZ
    struck = np.flatnonzero(np.diff(np.floor(turns)) > 0)
    hits = np.zeros(len(t))
    hits[struck] = 1 + 0.2 * random.standard_normal(len(struck))
    after = _time(0.03)
    ring = sum(np.sin(2 * np.pi * hertz * after + hertz) for hertz in rings_hz) * np.exp(-after / 0.007)
    return _even(np.convolve(hits, ring)[: len(t)])


def rack_room(seconds: float = LENGTH_S) -> Sound:
    """Compressors, hum and fans together."""
    random, t = np.random.default_rng(11), _time(seconds)
    hum = sum(np.sin(2 * np.pi * 60 * k * t + k) / k for k in (1, 2, 3, 4, 6))
    fan = _coloured(random, seconds, ((20, 0), (100, 0), (1000, -12), (8000, -30)))
    return _even(fan + 0.6 * _even(np.asarray(hum)) + 0.9 * _strokes(random, seconds, 29.2, (190, 510, 1150)))


def piston(seconds: float = LENGTH_S) -> Sound:
    """A big piston compressor beside one's head."""
    random = np.random.default_rng(12)
    floor = _coloured(random, seconds, ((20, 0), (300, -3), (2000, -18), (8000, -34)))
    return _even(_strokes(random, seconds, 19.4, (140, 420, 980, 2100)) + 0.5 * floor)


def screw(seconds: float = LENGTH_S) -> Sound:
    """A screw compressor: a whine with its multiples over broad noise."""
    random, t = np.random.default_rng(13), _time(seconds)
    turn = 2 * np.pi * np.cumsum(295 * (1 + 0.004 * np.sin(2 * np.pi * 0.2 * t))) / RATE_HZ
    whine = sum(np.sin(k * turn + k) / k**0.7 for k in (1, 2, 3, 4, 5, 6, 8))
    return _even(_even(np.asarray(whine)) + 0.9 * _coloured(random, seconds, ((20, -6), (400, 0), (3000, -8), (8000, -22))))


def condenser_fans(seconds: float = LENGTH_S) -> Sound:
    """Axial fans on a roof: broad, swelling as they beat against each other, with their blades' tone."""
    random, t = np.random.default_rng(14), _time(seconds)
    broad = _coloured(random, seconds, ((20, -4), (150, 0), (1000, -4), (4000, -14), (8000, -24)))
    swell = 1 + 0.3 * np.sin(2 * np.pi * 1.7 * t) + 0.2 * np.sin(2 * np.pi * 9.3 * t)
    return _even(broad * swell + 0.35 * np.sin(2 * np.pi * 112 * t))


def gas(seconds: float = LENGTH_S) -> Sound:
    """Gas through a valve: hiss where consonants are, over the room."""
    random = np.random.default_rng(15)
    hiss = _coloured(random, seconds, ((20, -30), (1000, -8), (3000, 0), (8000, -3)))
    return _even(hiss + 0.8 * rack_room(seconds))


def struck_metal(seconds: float = LENGTH_S) -> Sound:
    """The room, and every second or two a contactor, a cylinder, a panel."""
    random, x = np.random.default_rng(16), rack_room(seconds).copy()
    at = RATE_HZ // 2
    while at < len(x) - RATE_HZ:
        after = _time(float(random.uniform(0.05, 0.4)))
        tones_hz, lasts_s = random.uniform(300, 4000, 4), random.uniform(0.01, 0.1, 4)
        rings = sum(np.sin(2 * np.pi * f * after) * np.exp(-after / s) for f, s in zip(tones_hz, lasts_s, strict=True))
        x[at : at + len(after)] += np.asarray(rings) * float(random.uniform(1, 3))
        at += int(random.uniform(0.6, 2.0) * RATE_HZ)
    return _even(x)


MADE: dict[str, Callable[[], Sound]] = {
    "rack room": rack_room, "piston": piston, "screw": screw, "condenser fans": condenser_fans, "gas": gas,
    "struck metal": struck_metal,
}  # fmt: skip


def noises(folder: str = "") -> dict[str, Sound]:
    """The six made ones, or every recording (`*.flac`, `*.wav`) of a folder instead."""
    from pathlib import Path

    if not folder:
        return {name: make() for name, make in MADE.items()}
    files = sorted(file for file in Path(folder).iterdir() if file.suffix in (".flac", ".wav"))
    return {file.stem: _even(read_audio(file).astype(np.float64)) for file in files}
