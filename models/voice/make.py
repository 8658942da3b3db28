"""Renders the pack: what is wanted and missing is spoken, what is stale goes.

    python -m models.voice.make --kokoro FOLDER [--workers 2] [--seconds 600]     speaks what is missing
    python -m models.voice.make                                                   says what is missing and stale

FOLDER holds `model.onnx` and `voices/af_heart.bin`; README.md beside this file says where they come from. Needs `kokoro-onnx` for
speaking, in any environment that also has this package. It may be stopped at any time and goes on where it was.
"""

import argparse
import hashlib
import json
import multiprocessing
import re
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

from assistant.sound.audio_file import RATE_HZ
from assistant.sound.pack import file_name
from assistant.sound.spelling import spelled
from models.voice.texts import wanted

HERE = Path(__file__).parent
SOUNDS = HERE / "sounds"
VOICE = "af_heart"
SPEED = 0.92
"""About 160 words a minute, the pace that the call speaks at."""
RMS = 3000.0
"""As loud as the plain voice over a prompt: 20.8 dB below full scale."""
SMALLEST = 0.95
"""`compression_level` of the Opus encoder: 22 kbit/s."""
SAID_AS = {
    r"\b([Cc])lose\b(?! to\b)": r"\1loze", r"\b(label|Label|Cylinder|cylinder|what it) read\b": r"\1 red",
}  # fmt: skip
"""Words that the model's phonemes have wrong: the verb is not the one that rhymes with dose, what was read is red."""
TEN_S = (0.40, 0.49)
"""From the silence before its t to its end, this voice's "ten" lasts so long: measured on the nine."""
Sound = np.ndarray[Any, np.dtype[np.float32]]


def speaker(folder: Path, masters: Path | None) -> Any:
    """The voice model on one core: takes a text, gives float32, shape (n_samples,), mono, 16 kHz; what it once spoke is kept."""
    import kokoro_onnx
    import onnxruntime
    import soundfile
    import soxr

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    session = onnxruntime.InferenceSession(str(folder / "model.onnx"), options, providers=["CPUExecutionProvider"])
    with tempfile.TemporaryDirectory() as made:
        style = np.fromfile(folder / "voices" / f"{VOICE}.bin", dtype=np.float32).reshape(510, 1, 256)
        np.savez(Path(made) / "voices.npz", allow_pickle=False, **{VOICE: style})
        engine = kokoro_onnx.Kokoro.from_session(session, str(Path(made) / "voices.npz"))

    def say(text: str) -> Sound:
        said = spelled(text)
        for words, sounds in SAID_AS.items():
            said = re.sub(words, sounds, said)
        kept = masters / f"{hashlib.sha256(f'{VOICE} {SPEED} {said}'.encode()).hexdigest()[:24]}.flac" if masters else None
        if kept and kept.is_file():
            sound, rate_hz = soundfile.read(kept, dtype="float32")
        else:
            sound, rate_hz = engine.create(said, voice=VOICE, speed=SPEED, lang="en-us")
            if kept:
                soundfile.write(kept, sound, rate_hz)
        return np.asarray(soxr.resample(sound.astype(np.float32), rate_hz, RATE_HZ), dtype=np.float32)

    return say


def trimmed(sound: Sound) -> Sound:
    """From 20 ms before its first sound to 40 ms after the last, with soft edges, as loud as every other."""
    power = (sound[: len(sound) // 80 * 80].reshape(-1, 80) ** 2).mean(axis=1)
    on = np.flatnonzero(power > power.max() * 10**-4.0)
    x = sound[max(0, on[0] * 80 - 320) : (on[-1] + 1) * 80 + 640].copy()
    edge = np.minimum(1.0, np.arange(len(x)) / 80)
    x *= edge * np.minimum(1.0, np.arange(len(x))[::-1] / 240)
    frames = (x[: len(x) // 320 * 320].reshape(-1, 320) ** 2).mean(axis=1)
    loud = np.sqrt(frames[frames > frames.max() * 10**-2.5].mean())
    x *= RMS / 32768 / loud
    return np.asarray(x * min(1.0, 0.97 / np.abs(x).max()), dtype=np.float32)


def hundreds(sound: Sound) -> Sound:
    """The "two" of "two ten": up to the silence before its t, so that it has the melody of what is followed by more."""
    power = (sound[: len(sound) // 80 * 80].reshape(-1, 80) ** 2).mean(axis=1)
    on = np.flatnonzero(power > power.max() * 10**-4.0)
    smooth = np.convolve(power, np.ones(5) / 5, mode="same")
    first, last = on[-1] - round(TEN_S[1] * 200), on[-1] - round(TEN_S[0] * 200)
    return sound[: (first + int(np.argmin(smooth[first:last]))) * 80]


def speak(rows: list[tuple[str, str]], said: argparse.Namespace, number: int, until_s: float) -> None:
    """One worker: every n-th phrase."""
    import soundfile

    say = speaker(said.kokoro, said.masters)
    for phrase, text in rows[number :: said.workers]:
        if time.time() > until_s:
            break
        file = SOUNDS / file_name(phrase)
        made = file.with_suffix(f".{number}")
        sound = say(text)
        sound = trimmed(hundreds(sound) if phrase.endswith("-") else sound)
        soundfile.write(made, sound, RATE_HZ, format="OGG", subtype="OPUS", compression_level=SMALLEST)
        made.replace(file)


def digest() -> str:
    """SHA-256 over the names and the sounds."""
    whole = hashlib.sha256()
    for file in sorted(SOUNDS.glob("*.opus")):
        whole.update(file.name.encode() + hashlib.sha256(file.read_bytes()).digest())
    return whole.hexdigest()


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kokoro", type=Path, metavar="FOLDER")
    parser.add_argument("--masters", type=Path, metavar="FOLDER", help="keep what the voice speaks, and take it from there")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=1e6, help="stop after so long")
    given = parser.parse_args()
    SOUNDS.mkdir(exist_ok=True)
    phrases = wanted()
    names = {file_name(phrase): phrase for phrase in phrases}
    stale = [file for file in SOUNDS.glob("*.opus") if file.name not in names]
    missing = [(phrase, phrases[phrase]) for name, phrase in names.items() if not (SOUNDS / name).is_file()]
    print(f"{len(phrases)} phrases wanted, {len(missing)} missing, {len(stale)} stale", flush=True)
    if given.kokoro is None:
        for phrase, _ in missing[:20]:
            print(f"  missing: {phrase}")
        return 1 if missing or stale else 0
    for file in stale:
        file.unlink()
    begin, until_s = multiprocessing.get_context("spawn"), time.time() + given.seconds
    workers = [begin.Process(target=speak, args=(missing, given, i, until_s)) for i in range(given.workers)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    size = sum(file.stat().st_size for file in SOUNDS.glob("*.opus"))
    card = {"voice": VOICE, "speed": SPEED, "phrases": len(list(SOUNDS.glob("*.opus"))), "bytes": size, "sha256": digest()}
    (HERE / "pack.json").write_text(json.dumps(card, indent=1) + "\n", encoding="utf-8")
    print(f"{card['phrases']} phrases, {size / 1e6:.1f} MB", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
