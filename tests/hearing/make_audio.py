"""Makes the phrases in `tests/hearing/audio`, which are committed: one synthetic voice, no noise.

python -m tests.hearing.make_audio
"""

import ctypes
import os
import tempfile
import time
from pathlib import Path

import espeakng_loader

from assistant.sound.audio_file import read_audio, write_audio

FOLDER = Path(__file__).with_name("audio")
PHRASES = {
    "two_oh_eight": "two oh eight",
    "two_forty": "two forty",
    "one_forty_seven_point_three": "one forty seven point three",
    "minus_twenty_five": "minus twenty five",
    "twelve_k": "twelve k",
    "yes": "yes",
    "no": "no",
    "dry": "dry",
    "bubbles": "bubbles",
    "say_again": "say again",
    "go_back": "go back",
    "talk": "he left the truck behind the store with all my tools",
}


def main() -> None:
    """Render every phrase."""
    ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
    os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
    import pyttsx3

    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as made:
        for name, words in PHRASES.items():
            engine = pyttsx3.init("espeak")
            engine.setProperty("voice", "gmw/en-US")
            engine.setProperty("rate", 150)
            wav = Path(made) / f"{name}.wav"
            engine.save_to_file(words, str(wav))
            engine.runAndWait()
            from pyttsx3.drivers import _espeak

            _espeak.Synchronize()
            while wav.stat().st_size < 2000:  # its file is closed from another thread, a moment later
                time.sleep(0.05)
            write_audio(FOLDER / f"{name}.flac", read_audio(wav))
            print(name, words)


if __name__ == "__main__":
    main()
