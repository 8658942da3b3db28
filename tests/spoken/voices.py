"""Phrases as sound, each rendered once by its voice and kept in a folder."""

import atexit
import ctypes
import hashlib
import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import espeakng_loader
import numpy as np
import soxr

from assistant.language.numbers import DIGITS
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio, write_audio

Render = Callable[[str, str, float, float | None], Samples]
"""Words, voice, speed, seconds of each comma's pause (None: no pause) to sound."""
ROBOTS = ("en-us+m3", "en-us+f3", "en-us+m7", "en-gb-x-rp+m3", "en-029+f2")
"""Voices by rule that the second ear was not trained on, two of them with accents that it never heard."""
NATURAL = ("am_puck", "bf_isabella", "hm_omega", "af_kore", "zm_yunxi")
"""Voices of the neural model that the second ear was not trained on; two of them with the accent of another language."""


class Phrases:
    """Sound of phrases by voices, at one speed each."""

    def __init__(self, render: Render, kept: Path | None = None) -> None:
        """
        Args:
            render: makes the sound of a phrase that is not kept.
            kept: folder of FLAC files by voice and words; None keeps nothing beyond this object.
        """
        self._render, self._kept = render, kept
        self._made: dict[tuple[str, str, float, float | None], Samples] = {}

    def of(self, words: str, voice: str, speed: float = 1.0, gap_s: float | None = None) -> Samples:
        """int16, shape (n_samples,), mono, 16 kHz."""
        key = (_aloud(words), voice, round(speed, 2), gap_s)
        if key not in self._made:
            self._made[key] = self._found(*key)
        return self._made[key]

    def _found(self, words: str, voice: str, speed: float, gap_s: float | None) -> Samples:
        if self._kept is None:
            return self._render(words, voice, speed, gap_s)
        name = hashlib.sha256(f"{words}|{speed}|{gap_s}".encode()).hexdigest()[:16]
        file = self._kept / voice / f"{name}.flac"
        if not file.is_file():
            file.parent.mkdir(parents=True, exist_ok=True)
            made = file.with_name(f"{name}.{id(self)}.part.flac")  # two processes may make the same one
            write_audio(made, self._render(words, voice, speed, gap_s))
            made.replace(file)
        return read_audio(file)


def _aloud(words: str) -> str:
    """The letter of a rack's or a tag's name as one: both engines take the A of "a two" for the article."""
    return re.sub(rf"\ba(?= (?:{'|'.join(DIGITS)})\b)", "eigh", words)


def natural(folder: Path) -> Render:
    """The neural voices of `models/ear/README.md`.

    Args:
        folder: holds `model.onnx` and `voices/NAME.bin`. Needs `kokoro-onnx` beside the product.
    """
    from tests.bench.make_voices import Voice

    voice = Voice(folder / "model.onnx", folder / "voices")
    return voice.say


def robots() -> Render:
    """The voices by rule of the product's plain engine, here with accents.

    In a process of their own: the library holds one voice for a whole process, and the product's plain engine may have it there.
    """
    process = subprocess.Popen([sys.executable, "-m", "tests.spoken.voices"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    atexit.register(process.kill)
    assert process.stdin is not None
    assert process.stdout is not None
    into, out = process.stdin, process.stdout

    def say(words: str, voice: str, speed: float, gap_s: float | None) -> Samples:
        into.write(json.dumps([words, voice, speed, gap_s]).encode() + b"\n")
        into.flush()
        count = int(out.readline())
        return np.frombuffer(out.read(2 * count), np.int16)

    return say


def _serve() -> None:
    """Speak what comes in, a line of JSON each: how many samples, and they."""
    library = ctypes.CDLL(espeakng_loader.get_library_path())
    rate_hz = library.espeak_Initialize(1, 0, str(espeakng_loader.get_data_path()).encode(), 0)
    pieces: list[np.ndarray[Any, Any]] = []

    @ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p)
    def take(samples: Any, count: int, _events: int) -> int:
        if count > 0 and samples:
            pieces.append(np.ctypeslib.as_array(samples, (count,)).copy())
        return 0

    library.espeak_SetSynthCallback(take)
    for line in sys.stdin:
        words, voice, speed, gap_s = json.loads(line)
        if library.espeak_SetVoiceByName(voice.encode()) != 0:
            raise ValueError(f"no voice {voice}")
        library.espeak_SetParameter(1, int(150 * speed), 0)
        parts: list[np.ndarray[Any, Any]] = []
        for piece in words.split(",") if gap_s else [words]:
            pieces.clear()
            text = piece.strip().encode()
            library.espeak_Synth(text, ctypes.c_size_t(len(text) + 1), 0, 0, 0, 1, None, None)
            library.espeak_Synchronize()
            heard = soxr.resample(np.concatenate(pieces) / 32768, rate_hz, RATE_HZ)
            parts += [_trimmed(heard), np.zeros(int((gap_s or 0) * RATE_HZ))]
        sound = np.concatenate(parts[:-1])
        samples = np.asarray(sound / max(float(np.abs(sound).max()), 1e-6) * 0.6 * 32767, np.int16)
        sys.stdout.buffer.write(f"{len(samples)}\n".encode() + samples.tobytes())
        sys.stdout.buffer.flush()


def _trimmed(sound: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    on = np.flatnonzero(np.abs(sound) > 0.02 * np.abs(sound).max())
    return sound[on[0] : on[-1]] if len(on) else sound


if __name__ == "__main__":
    _serve()
