"""Sound files to the samples that the recogniser takes."""

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    import soundfile

RATE_HZ = 16_000
Samples = npt.NDArray[np.int16]
"""int16, shape (n_samples,), mono, 16 kHz."""

LONGEST_S = 600.0
"""Longest recording taken at once; an answer has seconds, a recorded call minutes."""


class AudioFault(Exception):
    """A sound file that cannot be used: the message says which file and why."""


def read_audio(path: str | Path) -> Samples:
    """A WAV or FLAC file as mono 16 kHz samples.

    Channels are averaged; other rates are resampled; 8, 16, 24 and 32 bit and float are taken.

    Args:
        path: the file.

    Returns:
        int16, shape (n_samples,), mono, 16 kHz.

    Raises:
        AudioFault: the file is missing, empty, cut short, longer than `LONGEST_S` or no sound.
    """
    import soundfile

    file = Path(path)
    if not file.is_file():
        raise AudioFault(f"{file}: no such file")
    if file.stat().st_size == 0:
        raise AudioFault(f"{file}: the file is empty")
    try:
        with soundfile.SoundFile(file) as sound:
            frames = sound.frames
            if frames > LONGEST_S * sound.samplerate:
                raise AudioFault(f"{file}: longer than {LONGEST_S:.0f} s")
            data, got = _mono(sound)
    except soundfile.LibsndfileError as fault:
        raise AudioFault(f"{file}: not a sound file that can be read ({_reason(fault)})") from fault
    if got == 0:
        raise AudioFault(f"{file}: no sound in it")
    if got < frames or _cut_short(file):
        raise AudioFault(f"{file}: cut short; its header promises more sound than there is")
    return data


def _mono(sound: "soundfile.SoundFile") -> tuple[Samples, int]:
    """The whole of an open file as samples, and the frames that were in it; only a second of it is in memory as it is there."""
    import soxr

    rate = sound.samplerate
    stream = soxr.ResampleStream(rate, RATE_HZ, 1, dtype="float32") if rate != RATE_HZ else None
    parts, got = [np.zeros(0, np.int16)], 0
    while len(block := sound.read(rate, dtype="float32", always_2d=True)):
        got += len(block)
        mono = block.mean(axis=1)
        parts.append(_whole(stream.resample_chunk(mono) if stream else mono))
    if stream:
        parts.append(_whole(stream.resample_chunk(np.zeros(0, np.float32), last=True)))
    return np.concatenate(parts), got


def _whole(mono: npt.NDArray[np.float32]) -> Samples:
    return np.asarray(np.clip(np.rint(mono * 32768.0), -32768, 32767), dtype=np.int16)


def _reason(fault: Exception) -> str:
    return str(getattr(fault, "error_string", fault)).strip().rstrip(".").lower()


def _cut_short(file: Path) -> bool:
    """Whether a WAV's sound chunk is longer than the file: the library takes what there is without a word."""
    with open(file, "rb") as stream:
        head = stream.read(12)
        if head[:4] != b"RIFF" or head[8:12] != b"WAVE":
            return False
        size = file.stat().st_size
        while len(chunk := stream.read(8)) == 8:
            length = int.from_bytes(chunk[4:], "little")
            if chunk[:4] == b"data":
                # 0 and 0xFFFFFFFF are written by recorders that stream and never come back to the header.
                return length not in (0, 0xFFFFFFFF) and stream.tell() + length > size
            stream.seek(length + length % 2, 1)
    return False


def write_audio(path: str | Path, samples: Samples) -> None:
    """Samples as a 16 kHz mono 16 bit file; the suffix says WAV or FLAC.

    Raises:
        AudioFault: it cannot be written, with the reason.
    """
    import soundfile

    try:
        soundfile.write(str(path), samples, RATE_HZ, subtype="PCM_16")
    except (soundfile.LibsndfileError, OSError) as fault:
        raise AudioFault(f"{path}: cannot be written ({_reason(fault)})") from fault
