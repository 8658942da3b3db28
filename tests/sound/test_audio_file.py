"""Sound files of every make, whole and broken."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.sound.audio_file import AudioFault, read_audio, write_audio


def _tone(rate: int, seconds: float = 0.5) -> np.ndarray:
    return 0.25 * np.sin(2 * np.pi * 440 * np.arange(int(rate * seconds)) / rate)


@pytest.mark.parametrize("rate", [8000, 16000, 44100, 48000])
@pytest.mark.parametrize(("suffix", "subtype"), [("wav", "PCM_16"), ("wav", "PCM_24"), ("flac", "PCM_24")])
def test_any_rate_and_width_becomes_sixteen_kilohertz(
    tmp_path: Path, rate: int, suffix: str, subtype: str
) -> None:
    file = tmp_path / f"tone.{suffix}"
    soundfile.write(file, _tone(rate), rate, subtype=subtype)
    samples = read_audio(file)
    assert samples.dtype == np.int16
    assert abs(len(samples) - 8000) <= 2
    spectrum = np.abs(np.fft.rfft(samples[:8000]))
    assert abs(int(spectrum.argmax()) * 16000 / 8000 - 440) < 3
    assert abs(int(samples.max()) - 8192) < 200


def test_two_channels_are_averaged(tmp_path: Path) -> None:
    left = _tone(16000)
    soundfile.write(tmp_path / "two.wav", np.stack([left, np.zeros_like(left)], axis=1), 16000)
    assert abs(int(read_audio(tmp_path / "two.wav").max()) - 4096) < 50


def test_what_was_written_is_read_again(tmp_path: Path) -> None:
    samples = (_tone(16000) * 32767).astype(np.int16)
    write_audio(tmp_path / "a.flac", samples)
    assert np.array_equal(read_audio(tmp_path / "a.flac"), samples)


def test_a_file_cut_short_says_so(tmp_path: Path) -> None:
    file = tmp_path / "cut.wav"
    soundfile.write(file, _tone(16000), 16000)
    file.write_bytes(file.read_bytes()[:-4000])
    with pytest.raises(AudioFault, match=r"cut\.wav: cut short"):
        read_audio(file)


def test_a_flac_cut_short_says_so(tmp_path: Path) -> None:
    file = tmp_path / "cut.flac"
    soundfile.write(file, np.random.default_rng(1).normal(0, 0.1, 48000), 16000)
    file.write_bytes(file.read_bytes()[:30000])
    with pytest.raises(AudioFault, match=r"cut\.flac"):
        read_audio(file)


@pytest.mark.parametrize(
    ("content", "reason"),
    [(b"", "the file is empty"), (b"not a sound" * 50, "not a sound file"), (b"RIFF", "not a sound file")],
)
def test_what_is_no_sound_is_refused_with_the_reason(tmp_path: Path, content: bytes, reason: str) -> None:
    (tmp_path / "odd.wav").write_bytes(content)
    with pytest.raises(AudioFault, match=rf"odd\.wav: {reason}"):
        read_audio(tmp_path / "odd.wav")


def test_a_recording_without_samples_is_refused(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "none.wav", np.zeros(0), 16000)
    with pytest.raises(AudioFault, match="no sound in it"):
        read_audio(tmp_path / "none.wav")


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(AudioFault, match=r"gone\.wav: no such file"):
        read_audio(tmp_path / "gone.wav")


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    with pytest.raises(AudioFault, match="cannot be written"):
        write_audio(tmp_path / "nowhere" / "a.wav", np.zeros(100, np.int16))
