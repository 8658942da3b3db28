"""The tones in a machine room's noise."""

from itertools import pairwise

import numpy as np
import pytest

from assistant.sound import tones
from assistant.sound.audio_file import RATE_HZ, Samples

TONES = {"listening": tones.LISTENING, "taken": tones.TAKEN, "not taken": tones.NOT_TAKEN}


def machine_room(seconds: float, seed: int) -> np.ndarray:
    """Hums of mains and shafts over a noise that falls 6 dB an octave from 200 Hz: float, RMS 1."""
    rng = np.random.default_rng(seed)
    count = round(seconds * RATE_HZ)
    hertz = np.fft.rfftfreq(count, 1 / RATE_HZ)
    noise = np.fft.irfft(np.fft.rfft(rng.standard_normal(count)) / np.maximum(hertz, 200.0) * 200.0, count)
    t = np.arange(count) / RATE_HZ
    for base in (29.2, 58.4, 120.0):
        for order in range(1, 12):
            noise += 0.08 / order**0.5 * np.sin(2 * np.pi * base * order * t + rng.uniform(0, 6))
    return noise / np.sqrt((noise**2).mean())


def bands_db(samples: np.ndarray) -> np.ndarray:
    """Power in thirds of an octave from 1 to 4 kHz [dB]."""
    power = np.abs(np.fft.rfft(samples)) ** 2 / len(samples)
    hertz = np.fft.rfftfreq(len(samples), 1 / RATE_HZ)
    edges = 1000 * 2 ** ((np.arange(8) - 0.5) / 3)
    return np.array([10 * np.log10(power[(hertz >= a) & (hertz < b)].sum() + 1e-9) for a, b in pairwise(edges)])


@pytest.mark.parametrize("name", TONES)
def test_a_tone_as_loud_as_the_room_stands_13_db_out_of_it_in_two_thirds_of_an_octave(name: str):
    tone = TONES[name].astype(float)
    tone = tone[tone != 0]
    over = bands_db(tone / np.sqrt((tone**2).mean())) - bands_db(machine_room(len(tone) / RATE_HZ, 1))
    assert (over >= 13).sum() >= 2, over.round(1)


def test_the_three_are_told_apart_in_noise_louder_than_they_are():
    for name, tone in TONES.items():
        for seed in range(20):
            heard = np.zeros(RATE_HZ // 2)
            heard[2000 : 2000 + len(tone)] += tone
            heard += machine_room(0.5, seed) * tones.RMS * 10 ** (5 / 20)  # the noise 5 dB over the tone
            likeness = {other: _likeness(heard, sample) for other, sample in TONES.items()}
            assert max(likeness, key=lambda other: likeness[other]) == name


def _likeness(heard: np.ndarray, tone: Samples) -> float:
    """Best match of the rhythm and the pitches of a tone, above 1 kHz."""
    return float(np.abs(np.correlate(heard, tone / np.sqrt((tone.astype(float) ** 2).sum()), "valid")).max())


def test_no_partial_lies_on_a_hum_of_the_mains():
    for hertz in (*tones.LOW_HZ, *tones.HIGH_HZ, *tones.FALLEN_HZ):
        assert 1000 < hertz < 4000
        for mains in (50, 60):
            assert min(hertz % mains, mains - hertz % mains) >= 4, hertz


def test_a_tone_is_no_louder_than_the_voice():
    from assistant.sound.voice import Voice

    spoken = Voice().render("Site, rack, compressor?").astype(float)
    for tone in TONES.values():
        sounding = tone[tone != 0].astype(float)
        assert np.sqrt((sounding**2).mean()) < 1.15 * np.sqrt((spoken**2).mean())
