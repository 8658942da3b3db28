"""Text to sound: the one door to pyttsx3."""

import atexit
import builtins
import ctypes
import gc
import os
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.sound.spelling import spelled

RATE_HZ = 16000
WORDS_PER_MINUTE = 160
"""Clearer to a recogniser than the library's own 200: measured."""
SLOWEST, FASTEST = 100, 240
"""Words a minute."""
SOFTEST, LOUDEST = 0.35, 4.0
"""Gain over the voice's own level."""

Samples = npt.NDArray[np.int16]
"""int16, shape (n_samples,), mono, 16 kHz."""


class VoiceMissing(OSError):
    """No voice can be had on this machine."""


class Voice:
    """Renders sentences. One voice, one owner thread."""

    def __init__(self, words_per_minute: int = WORDS_PER_MINUTE, name: str = "gmw/en") -> None:
        """Start the engine.

        Raises:
            VoiceMissing: neither the bundled voices nor the system's can be loaded.
        """
        self.words_per_minute, self.name = words_per_minute, name
        try:
            import espeakng_loader

            ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
            os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
            _point_library_at(espeakng_loader.get_library_path())
            import pyttsx3

            self._engine: Any = pyttsx3.init(driverName="espeak")
            _keep_quiet()
            self._use(name)
            self._settle()
        except (OSError, RuntimeError, ImportError, AttributeError) as error:
            raise VoiceMissing(f"no voice: {error}; install the package again with pip") from error
        self._count = 0
        atexit.register(self._let_go)

    def _let_go(self) -> None:
        """The library's own end comes too late: it fails with a message when the interpreter is half gone."""
        self._engine = None
        gc.collect()

    def _use(self, name: str) -> None:
        known = {v.id for v in self._engine.getProperty("voices")}
        wanted = next((v for v in (name, "gmw/en", "en") if v in known), None)
        if wanted:
            self._engine.setProperty("voice", wanted)

    def _settle(self) -> None:
        """Voice and pace reach the library's own thread before the first text: one start in eight spoke at its own pace else."""
        from pyttsx3.drivers import _espeak

        self._engine.setProperty("rate", self.words_per_minute)
        _espeak.SetParameter(_espeak.RATE, self.words_per_minute, 0)
        _espeak.Synchronize()

    def render(self, text: str) -> Samples:
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
        sound = self._rendered(text)
        if not len(sound) and any(character.isalnum() for character in text):
            sound = self._rendered(text)  # seen once, on a busy machine: the file was there, and empty
            if not len(sound):
                raise VoiceMissing("the voice wrote a file without sound")
        return sound

    def _rendered(self, text: str) -> Samples:
        import soundfile
        import soxr

        self._count += 1
        with tempfile.TemporaryDirectory(dir=_memory()) as folder:
            file = Path(folder) / f"{self._count}.wav"
            self._settle()
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
        return _trim(np.clip(mono * 32767, -32768, 32767).astype(np.int16))


def as_loud(samples: Samples, gain: float) -> Samples:
    """The same sound louder or softer; its peaks bend over instead of being cut.

    Args:
        samples: int16, shape (n_samples,), mono, 16 kHz.
        gain: 1.0 leaves it as it is.

    Returns:
        int16, shape (n_samples,).
    """
    if gain == 1.0:
        return samples
    x = samples.astype(np.float64) * (gain / 32768)
    if gain > 1.0:
        x = np.where(np.abs(x) > 0.5, np.sign(x) * (0.5 + 0.49 * np.tanh((np.abs(x) - 0.5) / 0.49)), x)
    return np.asarray(np.rint(x * 32767), dtype=np.int16)


def _memory() -> str | None:
    """Where the driver's file goes: into memory where there is such a place, so that a full disk is spoken of too."""
    return "/dev/shm" if os.path.isdir("/dev/shm") and os.access("/dev/shm", os.W_OK) else None


def _keep_quiet() -> None:
    """The driver prints a line for each file, from its own thread, into the middle of the call's own lines."""
    from pyttsx3.drivers import espeak

    espeak.print = lambda *words, **how: None if str(words[0]).startswith("Audio saved") else builtins.print(*words, **how)


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


def _trim(samples: Samples) -> Samples:
    loud = np.flatnonzero(np.abs(samples.astype(np.int32)) > 100)
    return samples[: 0 if not len(loud) else min(len(samples), loud[-1] + 800)][0 if not len(loud) else max(0, loud[0] - 160) :]
