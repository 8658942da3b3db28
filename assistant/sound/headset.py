"""An open microphone while the assistant speaks: what may interrupt, and whether it hears itself.

A headset lets little of the prompt back into the microphone (40 dB down and less: measured). Two things keep that
little from being taken for an answer. A faint even hiss lies over everything that is heard, so that the echo does not
stand out of it. And the loudness of what is heard is compared with what is played: where the two go up and down
together, the microphone hears the speaker, and the call goes on as without a headset.
"""

from collections import deque

import numpy as np
import numpy.typing as npt

from assistant.sound.audio_file import RATE_HZ, Samples

HISS_RMS = 40.0
"""58 dB below full scale: covers an echo 38 dB under the voice, leaves a headset's speech 30 dB over it."""
STEP = RATE_HZ // 50
SAME = 0.75
"""Correlation of the two loudnesses from which the microphone hears the speaker."""
LEAST_S = 1.5
LATEST_S = 0.4
"""Longest way from speaker to microphone that is looked for."""

ALWAYS = frozenset(("stop", "emergency"))
"""What cuts off anything, cautions and lines of live work too."""


class Hiss:
    """The even hiss over what is heard; always there, so that it is part of the room."""

    def __init__(self) -> None:
        self._random = np.random.default_rng(0)

    def over(self, samples: Samples) -> Samples:
        """int16, shape (n_samples,), the same with the hiss."""
        both = samples + self._random.normal(0.0, HISS_RMS, len(samples))
        return np.asarray(np.clip(np.rint(both), -32768, 32767), dtype=np.int16)


def loudness(samples: Samples) -> npt.NDArray[np.float64]:
    """RMS of each 20 ms."""
    rows = samples[: len(samples) // STEP * STEP].astype(np.float64).reshape(-1, STEP)
    return np.asarray(np.sqrt((rows**2).mean(axis=1)))


def coupling_db(played: Samples, heard: Samples) -> float | None:
    """How loud the speaker is in the microphone, over how loud it was played [dB]; None where it is not heard.

    Args:
        played: int16, shape (n_samples,), mono, 16 kHz.
        heard: what the microphone heard from when the first of these samples sounded: the same form.
    """
    out, back = loudness(played), loudness(heard)
    longest = round(LATEST_S * RATE_HZ / STEP)
    best, at = 0.0, 0
    for lag in range(longest):
        count = min(len(out), len(back) - lag)
        if count < LEAST_S * RATE_HZ / STEP:
            break
        a, b = out[:count], back[lag : lag + count]
        if a.std() > 0 and b.std() > 0:
            same = float(np.corrcoef(a, b)[0, 1])
            if same > best:
                best, at = same, lag
    if best < SAME:
        return None
    count = min(len(out), len(back) - at)
    a, b = out[:count], back[at : at + count]
    loud = a > a.max() / 4
    floor = np.percentile(b, 10)
    power = max(float((b[loud] ** 2).mean()) - floor**2, 1.0)
    return float(10 * np.log10(power / float((a[loud] ** 2).mean())))


class SelfHearing:
    """Watches, prompt by prompt, whether the microphone hears the speaker too well for a headset."""

    TOO_LOUD_DB = -38.0

    def __init__(self) -> None:
        self._heard: deque[tuple[float, Samples]] = deque(maxlen=1000)  # 10 s of blocks

    def hear(self, began_s: float, block: Samples) -> None:
        """A block of the microphone and when its first sample was heard."""
        self._heard.append((began_s, block))

    def too_loud(self, played: Samples, began_s: float) -> float | None:
        """The coupling [dB] where it is too loud for a headset, else None.

        Args:
            played: a prompt that has sounded.
            began_s: when its first sample left the speaker.
        """
        blocks = [b for at, b in self._heard if at >= began_s - 0.02]
        if not blocks:
            return None
        found = coupling_db(played, np.concatenate(blocks))
        return found if found is not None and found > self.TOO_LOUD_DB else None
