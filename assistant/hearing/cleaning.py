"""Steady noise taken off a recording, for the second hearing of it."""

import numpy as np

from assistant.sound.audio_file import RATE_HZ, Samples

_SIZE, _STEP = 512, 128  # 32 ms windows every 8 ms
_FLOOR = 0.3  # measured: deeper subtraction loses consonants
_QUIETEST = 0.1  # share of the frames taken as noise where there is no lead


def without_steady_noise(samples: Samples, lead_s: float = 0.3) -> Samples:
    """The same sound after mild spectral subtraction.

    The noise is what the quietest frames and the lead before the speech have in common.

    Args:
        samples: int16, shape (n_samples,), mono, 16 kHz; silence or noise first.
        lead_s: length of that lead [s].

    Returns:
        int16, shape (n_samples,).
    """
    if len(samples) < 2 * _SIZE:
        return samples
    window = np.hanning(_SIZE + 1)[:-1]
    padded = np.concatenate([np.zeros(_SIZE), samples.astype(np.float64), np.zeros(_SIZE)])
    count = 1 + (len(padded) - _SIZE) // _STEP
    rows = np.lib.stride_tricks.sliding_window_view(padded, _SIZE)[::_STEP][:count]
    spectra = np.fft.rfft(rows * window, axis=1)
    size = np.abs(spectra)
    power = (size**2).mean(axis=1)
    inside = np.flatnonzero(power > 0)
    lead = inside[: max(int(lead_s * 16000 / _STEP), 4)]
    quiet = inside[np.argsort(power[inside])[: max(int(len(inside) * _QUIETEST), 4)]]
    noise = np.minimum(_mean(size, lead), 1.5 * _mean(size, quiet))
    gain = np.maximum(1.0 - noise / np.maximum(size, 1e-9), _FLOOR)
    pieces = np.fft.irfft(spectra * gain, _SIZE, axis=1) * window
    out = np.zeros(len(padded))
    weight = np.zeros(len(padded))
    for i, piece in enumerate(pieces):
        out[i * _STEP : i * _STEP + _SIZE] += piece
        weight[i * _STEP : i * _STEP + _SIZE] += window**2
    out = out[_SIZE:-_SIZE] / np.maximum(weight[_SIZE:-_SIZE], 1e-6)
    return np.clip(np.rint(out), -32768, 32767).astype(np.int16)


def _mean(size: np.ndarray, frames: np.ndarray) -> np.ndarray:
    return np.sqrt((size[frames] ** 2).mean(axis=0)) if len(frames) else np.zeros(size.shape[1])


def at_speed(samples: Samples, factor: float) -> Samples:
    """The same sound played faster or slower, its pitch with it.

    Args:
        samples: int16, shape (n_samples,), mono, 16 kHz.
        factor: above 1 for faster.

    Returns:
        int16, shape (n_samples / factor,).
    """
    import soxr

    return np.asarray(soxr.resample(samples, RATE_HZ * factor, RATE_HZ), dtype=np.int16)
