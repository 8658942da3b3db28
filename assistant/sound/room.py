"""How loud the room is at the microphone while nobody speaks."""

from collections import deque

import numpy as np

from assistant.sound.audio_file import RATE_HZ, Samples

_PIECE = RATE_HZ // 10
_KEPT = 50
"""5 s of quiet: a door that slams is outvoted, a compressor that starts counts after half of it."""


class Room:
    """The middle of the last seconds that nobody spoke in."""

    def __init__(self) -> None:
        self._levels: deque[float] = deque(maxlen=_KEPT)
        self._rest: list[Samples] = []
        self._size = 0

    def hear(self, samples: Samples) -> None:
        """Sound of the microphone while nobody sounds, technician or speaker: int16, shape (n_samples,), mono, 16 kHz."""
        self._rest.append(samples)
        self._size += len(samples)
        if self._size >= _PIECE:
            x = np.concatenate(self._rest).astype(np.float64)
            self._levels.append(float(10 * np.log10(max(float((x * x).mean()), 1e-3) / 32768.0**2)))
            self._rest, self._size = [], 0

    def begin_again(self) -> None:
        """What was begun was no room: somebody spoke in it."""
        self._rest, self._size = [], 0

    @property
    def dbfs(self) -> float:
        """Its noise [dB below full scale]; -120 while nothing was heard."""
        return float(np.median(self._levels)) if self._levels else -120.0
