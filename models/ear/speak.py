"""Makes the speech: each job of one voice family, on all cores.

    python models/ear/speak.py kokoro MODEL.onnx kokoro.json OUT SECONDS WORKERS [--voices voices.npz] [--device cuda]
    python models/ear/speak.py espeak - espeak.json OUT SECONDS WORKERS
    python models/ear/speak.py flite /usr/bin/flite flite.json OUT SECONDS WORKERS

Writes `OUT/FAMILY-N.npz`: sound (int16, 16 kHz, end to end), and for each utterance its length, words, kind, voice and the
places of the pauses inside it. Needs numpy, soxr; for `kokoro` torch and onnx, for `espeak` espeakng-loader.
"""

import argparse
import ctypes
import json
import multiprocessing
import os
import subprocess
import tempfile
import time
import wave
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

RATE = 16_000
Spoken = tuple[np.ndarray, int, str, str, str, int]
"""Sound, its rate, kind, words, voice, number of commas."""


def kokoro(model: str, jobs: list[Any], said: argparse.Namespace) -> Iterator[Spoken]:
    """By the neural voice model, one graph run an utterance."""
    import torch
    from graph_torch import Graph

    torch.set_num_threads(1)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    graph = Graph(model, said.device)
    styles = {name: style.astype(np.float32) for name, style in np.load(said.voices).items()}
    for kind, words, voice, other, share, manner, speed, tokens, pauses in jobs:
        style = share * styles[voice][len(tokens)] + (1 - share) * styles[other][len(tokens)]
        style[128:] = 0.5 * style[128:] + 0.5 * styles[manner][len(tokens)][128:]  # the second half is melody and rhythm
        feeds = {
            "tokens": np.array([[0, *tokens, 0]], np.int64), "style": style[None].astype(np.float32),
            "speed": np.array([speed], np.float32),
        }  # fmt: skip
        yield graph.run(feeds).reshape(-1), 24_000, kind, words, f"{voice}|{other}|{share}|{manner}", pauses


def espeak(_: str, jobs: list[Any], __: argparse.Namespace) -> Iterator[Spoken]:
    """By rules: many accents, cheap."""
    import espeakng_loader

    library = ctypes.CDLL(espeakng_loader.get_library_path())
    rate = library.espeak_Initialize(1, 0, str(espeakng_loader.get_data_path()).encode(), 0)
    pieces: list[np.ndarray] = []

    @ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p)
    def take(samples: Any, count: int, _events: int) -> int:
        if count > 0 and samples:
            pieces.append(np.ctypeslib.as_array(samples, (count,)).copy())
        return 0

    library.espeak_SetSynthCallback(take)
    for kind, words, text, voice, speed, pitch in jobs:
        if library.espeak_SetVoiceByName(voice.encode()) != 0:
            continue
        library.espeak_SetParameter(1, speed, 0)
        library.espeak_SetParameter(3, pitch, 0)
        pieces.clear()
        blob = text.replace("p s i", "P S I").encode()
        library.espeak_Synth(blob, ctypes.c_size_t(len(blob) + 1), 0, 0, 0, 1, None, None)
        library.espeak_Synchronize()
        if pieces:
            yield np.concatenate(pieces) / 32768, rate, kind, words, voice, text.count(",")


def flite(program: str, jobs: list[Any], _: argparse.Namespace) -> Iterator[Spoken]:
    """By units and statistics of four people who gave their recordings freely."""
    pitch = {"kal16": 105, "awb": 120, "rms": 95, "slt": 170}
    with tempfile.TemporaryDirectory() as folder:
        made = f"{folder}/said.wav"
        for kind, words, text, voice, stretch, higher in jobs:
            tone = f"int_f0_target_mean={pitch[voice] * higher:.0f}"
            say = [program, "-voice", voice, "--setf", f"duration_stretch={stretch}", "--setf", tone, "-t", text, "-o", made]
            if subprocess.run(say, check=False, capture_output=True).returncode:
                continue
            with wave.open(made) as file:
                sound = np.frombuffer(file.readframes(file.getnframes()), np.int16)
                yield sound / 32768, file.getframerate(), kind, words, f"flite-{voice}", text.count(",")


def trimmed(sound: np.ndarray, rate: int) -> np.ndarray | None:
    """At 16 kHz, from 30 ms before its first sound to 40 ms after the last, its peak at 0.6; None for silence."""
    import soxr

    x = sound.astype(np.float32)
    x = soxr.resample(x, rate, RATE) if rate != RATE else x
    if len(x) < 1600 or not np.isfinite(x).all():
        return None
    power = (x[: len(x) // 160 * 160].reshape(-1, 160) ** 2).mean(axis=1)
    on = np.flatnonzero(power > power.max() * 1e-4)
    if not len(on) or power.max() <= 0:
        return None
    x = x[max(on[0] * 160 - 480, 0) : (on[-1] + 1) * 160 + 640]
    return (x / max(float(np.abs(x).max()), 1e-6) * 0.6 * 32767).astype(np.int16)


def pauses(sound: np.ndarray, at_most: int) -> list[int]:
    """Middles of the longest silences inside an utterance [samples]: there a gap can be made longer."""
    if not at_most:
        return []
    power = (sound[: len(sound) // 160 * 160].astype(np.float64).reshape(-1, 160) ** 2).mean(axis=1)
    quiet = power < power.max() * 10**-3.2
    runs, began = [], None
    for i, silent in enumerate([*quiet, False]):
        if silent and began is None:
            began = i
        elif not silent and began is not None:
            if i - began >= 7 and began > 8 and i < len(quiet) - 8:
                runs.append((i - began, (began + i) * 80))
            began = None
    return sorted(middle for _, middle in sorted(runs, reverse=True)[:at_most])


FAMILIES = {"kokoro": kokoro, "espeak": espeak, "flite": flite}


def work(number: int, said: argparse.Namespace) -> None:
    """One worker: every n-th job until the time is up."""
    if said.accelerators > 1:
        os.environ["CUDA_VISIBLE_DEVICES"] = str(number % said.accelerators)  # before torch is imported
    jobs = json.loads(Path(said.jobs).read_text())[number :: said.workers]
    began_s = saved_s = time.time()
    parts: list[np.ndarray] = []
    rows: list[tuple[str, str, str, str]] = []

    def save() -> None:
        if parts:
            file = Path(said.out) / f".{said.family}-{number}.npz"
            kinds, words, voices, cuts = zip(*rows, strict=True)
            lengths = np.array([len(part) for part in parts])
            np.savez(file, x=np.concatenate(parts), n=lengths, kind=kinds, text=words, voice=voices, cuts=cuts)
            file.replace(Path(said.out) / f"{said.family}-{number}.npz")

    for sound, rate, kind, words, voice, commas in FAMILIES[said.family](said.model, jobs, said):
        if time.time() - began_s > said.seconds:
            break
        cut = trimmed(sound, rate)
        if cut is not None:
            parts.append(cut)
            rows.append((kind, words, voice, " ".join(map(str, pauses(cut, commas)))))
        if time.time() - saved_s > 30:
            save()
            saved_s = time.time()
    save()
    print(said.family, number, len(parts), "of", len(jobs), round(time.time() - began_s), "s", flush=True)


def main() -> None:
    """Start the workers."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("family", choices=FAMILIES)
    parser.add_argument("model")
    parser.add_argument("jobs")
    parser.add_argument("out")
    parser.add_argument("seconds", type=float)
    parser.add_argument("workers", type=int)
    parser.add_argument("--voices", default="voices.npz")
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--accelerators", type=int, default=1, help="which the workers share")
    said = parser.parse_args()
    Path(said.out).mkdir(parents=True, exist_ok=True)
    begin = multiprocessing.get_context("spawn")
    workers = [begin.Process(target=work, args=(i, said)) for i in range(said.workers)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    (Path(said.out) / f"{said.family}.done").write_text("done")


if __name__ == "__main__":
    main()
