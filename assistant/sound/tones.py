"""The three tones of a call: it listens, it has taken an answer, it has not. And the alarm.

Chosen for a machine room at 85 dB and for ears that have worked in one:
- Compressors and fans fill the spectrum below 1 kHz with hums at multiples of the mains and of the shaft's speed, and what is
  loud below masks what is above it better than the other way round. So all partials lie in 1 to 4 kHz.
- Noise takes the hearing at 4 kHz and above first, and phone-sized loudspeakers give little under 800 Hz. So no
  partial is alone: each pip has four, spread over two octaves, and any two of them carry it (ISO 7731 wants a signal
  13 dB over the masking level in at least one third of an octave, better in two).
- The partials lie 4 Hz and more away from all multiples of 50 and 60 Hz, so that no hum lies exactly under them.
- Pitch alone is lost in noise and to many ears. So the three differ in rhythm first, in direction second: one long
  pip; two short ones going up; three falling ones.
- In the live window nothing sounds above speech (safety rule S11): a tone is as loud as the voice, not louder. It is
  heard because its power lies where the noise has little.
The tone for a taken answer is the shortest: the reply follows it without a gap.
"""

import numpy as np

from assistant.sound.audio_file import RATE_HZ, Samples

LOW_HZ = (1070.0, 1610.0, 2330.0, 3170.0)
HIGH_HZ = tuple(hertz * 1.197 for hertz in LOW_HZ)
"""Three semitones up."""
FALLEN_HZ = tuple(hertz * 0.96 for hertz in LOW_HZ)
"""A shade down: its lowest partial stays above 1 kHz."""
RMS = 3000.0
"""As loud as the voice over the whole of a prompt: measured, 20.8 dB below full scale."""


def _pip(partials_hz: tuple[float, ...], length_s: float) -> Samples:
    t = np.arange(round(length_s * RATE_HZ)) / RATE_HZ
    wave = sum(np.sin(2 * np.pi * hertz * t + turn) for turn, hertz in enumerate(partials_hz))
    edge = round(0.006 * RATE_HZ)  # a softer edge than a click, short enough to keep the pip sharp
    shape = np.minimum(1.0, np.minimum(np.arange(len(t)) + 1, len(t) - np.arange(len(t))) / edge)
    x = np.asarray(wave * shape)
    return np.asarray(np.rint(x * (RMS / np.sqrt((x**2).mean()))), dtype=np.int16)


def _gap(length_s: float) -> Samples:
    return np.zeros(round(length_s * RATE_HZ), np.int16)


LISTENING: Samples = np.concatenate([_gap(0.03), _pip(HIGH_HZ, 0.13)])
"""One long pip: it is your turn. int16, shape (n_samples,), mono, 16 kHz, like the others."""
TAKEN: Samples = np.concatenate([_pip(LOW_HZ, 0.03), _gap(0.012), _pip(HIGH_HZ, 0.04)])
"""Two short ones going up: the answer has been taken."""
NOT_TAKEN: Samples = np.concatenate([_pip(HIGH_HZ, 0.05), _gap(0.03), _pip(LOW_HZ, 0.05), _gap(0.03), _pip(FALLEN_HZ, 0.07)])
"""Three falling ones: it has not."""
ALARM: Samples = np.tile(
    np.concatenate([_pip(LOW_HZ, 0.25), _pip(HIGH_HZ, 0.25)]).astype(np.float64) * (26000 / np.abs(_pip(HIGH_HZ, 0.25)).max()), 4
).clip(-32767, 32767).astype(np.int16)
"""Two seconds up and down, as loud as the device can."""
