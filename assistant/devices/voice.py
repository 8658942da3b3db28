"""Text to sound: the one door to pyttsx3."""

import ctypes
import os
import re
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import soxr

RATE_HZ = 16000
WORDS_PER_MINUTE = 160
"""Clearer to a recogniser than the library's own 200: measured."""


class VoiceMissing(OSError):
    """No voice can be had on this machine."""


_SPELLED = (
    (r"\bpsig?\b", "P S I"), (r"\bkPa\b", "kilo pascals"), (r"\bAC\b", "A C"), (r"\bDC\b", "D C"),
    (r"\bCAT III\b", "category three"), (r"\bR-?(\d)(\d\d)([A-Z])\b", r"R \1 \2 \3"), (r"- ?(?=\d)", "minus "),
    (r"\bR-?(\d\d)\b", r"R \1"), (r"%", " percent"),
)  # fmt: skip


def spelled(text: str) -> str:
    """Units, signs and refrigerants written out so that the voice says them right."""
    for pattern, words in _SPELLED:
        text = re.sub(pattern, words, text)
    return text


class Voice:
    """Renders sentences. One voice, one owner thread."""

    def __init__(self, words_per_minute: int = WORDS_PER_MINUTE, name: str = "gmw/en") -> None:
        """Start the engine.

        Raises:
            VoiceMissing: neither the bundled voices nor the system's can be loaded.
        """
        self.words_per_minute, self.loudness, self.name = words_per_minute, 1.0, name
        try:
            import espeakng_loader

            ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
            os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
            _point_library_at(espeakng_loader.get_library_path())
            import pyttsx3

            self._engine: Any = pyttsx3.init(driverName="espeak")
            self._use(name)
        except (OSError, RuntimeError, ImportError, AttributeError) as error:
            raise VoiceMissing(f"no voice: {error}; install the package again with pip") from error
        self._count = 0

    def _use(self, name: str) -> None:
        known = {v.id for v in self._engine.getProperty("voices")}
        wanted = next((v for v in (name, "gmw/en", "en") if v in known), None)
        if wanted:
            self._engine.setProperty("voice", wanted)

    def render(self, text: str) -> np.ndarray[Any, np.dtype[np.int16]]:
        """A sentence as sound.

        Args:
            text: up to a few sentences; empty text gives no samples.

        Returns:
            int16, shape (n_samples,), mono, 16 kHz, trimmed of silence.

        Raises:
            VoiceMissing: the engine wrote nothing.
        """
        if not text.strip():
            return np.zeros(0, np.int16)
        self._count += 1
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"{self._count}.wav"
            self._engine.setProperty("rate", self.words_per_minute)
            with _quiet_stdout():
                self._engine.save_to_file(spelled(text), str(file))
                self._engine.runAndWait()
                # runAndWait does not wait with this driver: the library's own call does.
                from pyttsx3.drivers import _espeak

                _espeak.Synchronize()
            try:
                samples, rate_hz = soundfile.read(file, dtype="float32", always_2d=True)
            except (soundfile.LibsndfileError, OSError) as error:
                raise VoiceMissing(f"the voice wrote no sound: {error}") from error
        mono = soxr.resample(samples.mean(axis=1), rate_hz, RATE_HZ)
        return _trim(np.clip(mono * self.loudness * 32767, -32768, 32767).astype(np.int16))


def _point_library_at(path: str | Path) -> None:
    """pyttsx3 looks its library up by name: give it the one that came with pip."""
    import ctypes.util

    found = ctypes.util.find_library

    def find(name: str) -> str | None:
        return str(path) if "espeak" in name else found(name)

    ctypes.util.find_library = find
    real = ctypes.cdll.LoadLibrary

    def load(name: str) -> ctypes.CDLL:
        return real(str(path) if "espeak" in str(name) else name)

    ctypes.cdll.LoadLibrary = load  # type: ignore[method-assign]


class _quiet_stdout:
    """The driver prints a line for each file, from its own thread."""

    def __enter__(self) -> None:
        import sys

        self._kept, sys.stdout = sys.stdout, open(os.devnull, "w")

    def __exit__(self, *_: object) -> None:
        import sys

        sys.stdout.close()
        sys.stdout = self._kept


def _trim(samples: np.ndarray[Any, np.dtype[np.int16]]) -> np.ndarray[Any, np.dtype[np.int16]]:
    loud = np.flatnonzero(np.abs(samples.astype(np.int32)) > 100)
    return samples[: 0 if not len(loud) else min(len(samples), loud[-1] + 800)][0 if not len(loud) else max(0, loud[0] - 160) :]
