"""Speech faster or slower with its pitch as it was.

Overlap and add by similarity of waveform: Verhelst and Roelands, "An overlap-add technique based on waveform similarity
(WSOLA) for high quality time-scale modification of speech" (ICASSP 1993). Own code, for the libraries that do it
bring a program of their own or a licence that this project cannot carry.
"""

import numpy as np

from assistant.sound.audio_file import RATE_HZ, Samples

_FRAME = RATE_HZ // 50
"""20 ms: two periods of a low voice."""
_SEARCH = RATE_HZ // 160


def at_pace(samples: Samples, factor: float) -> Samples:
    """The same words so many times as fast.

    Args:
        samples: int16, shape (n_samples,), mono, 16 kHz.
        factor: 1.0 leaves it as it is; under 1 is slower.

    Returns:
        int16, shape (about n_samples / factor,).
    """
    if factor == 1.0 or len(samples) < 4 * _FRAME:
        return samples
    half = _FRAME // 2
    x = np.concatenate([np.zeros(_SEARCH, np.float32), samples.astype(np.float32), np.zeros(_FRAME + 2 * _SEARCH, np.float32)])
    window = np.hanning(_FRAME + 1)[:-1].astype(np.float32)
    count = int(len(samples) / factor) // half
    out = np.zeros((count + 1) * half, np.float32)
    at = _SEARCH
    out[:half] = x[at : at + half] * (1 - window[:half])
    for number in range(count):
        wanted = _SEARCH + round(number * half * factor)
        if number:
            follows = x[at + half : at + half + _FRAME]
            near = x[wanted - _SEARCH : wanted + _SEARCH + _FRAME]
            alike = np.correlate(near, follows, "valid") if len(follows) == _FRAME else np.zeros(1)
            at = wanted - _SEARCH + int(np.argmax(alike)) if alike.any() else wanted
        piece = x[at : at + _FRAME]
        out[number * half : number * half + len(piece)] += piece * window[: len(piece)]
    return np.asarray(np.clip(np.rint(out), -32768, 32767), dtype=np.int16)
