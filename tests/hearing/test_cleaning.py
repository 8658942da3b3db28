"""Steady noise goes, the voice stays."""

import numpy as np

from assistant.hearing.cleaning import at_speed, without_steady_noise
from assistant.sound.audio_file import RATE_HZ


def _voice_in_noise() -> tuple[np.ndarray, np.ndarray]:
    t = np.arange(2 * RATE_HZ) / RATE_HZ
    voice = np.where((t > 0.6) & (t < 1.4), 6000 * np.sin(2 * np.pi * 500 * t), 0.0)
    return voice, np.random.default_rng(2).normal(0, 1000, len(t))


def test_noise_falls_by_more_than_eight_decibels_and_the_voice_by_less_than_one() -> None:
    voice, noise = _voice_in_noise()
    clean = without_steady_noise((voice + noise).astype(np.int16)).astype(float)
    before = noise[: RATE_HZ // 2].std()
    after = clean[: RATE_HZ // 2].std()
    assert 20 * np.log10(before / after) > 8
    inside = slice(int(0.7 * RATE_HZ), int(1.3 * RATE_HZ))
    kept = np.dot(clean[inside], voice[inside]) / np.dot(voice[inside], voice[inside])
    assert 20 * np.log10(kept) > -1


def test_silence_and_the_shortest_sound_pass_unharmed() -> None:
    assert not without_steady_noise(np.zeros(RATE_HZ, np.int16)).any()
    assert len(without_steady_noise(np.ones(100, np.int16))) == 100


def test_length_is_kept_by_cleaning_and_changed_by_speed() -> None:
    voice, noise = _voice_in_noise()
    sound = (voice + noise).astype(np.int16)
    assert len(without_steady_noise(sound)) == len(sound)
    assert abs(len(at_speed(sound, 0.94)) - len(sound) / 0.94) < 2
