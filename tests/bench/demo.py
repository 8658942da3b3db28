"""What the demo costs: time against sound, memory, and how soon the first prompt comes.

python -m tests.bench.demo
"""

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from assistant.fronts.recording import load
from assistant.hearing.model import model_folder
from assistant.paths import data_folder

RUNS = 3
DEMO = """
import sys, time
from pathlib import Path
from assistant.profile import DEMO_SITE, load_profile
from assistant.fronts.recording import demo
began = time.perf_counter()
shown = []
def out(line):
    shown.append(time.perf_counter() - began)
code = demo(load_profile(DEMO_SITE), Path(sys.argv[1]), out)
print(code, shown[0], shown[-1])
"""
BARE = "import sys, vosk; vosk.SetLogLevel(-1); vosk.Model(sys.argv[1])"
FIRST = "import sys; from assistant.cli import main; main(['demo', '--calls', sys.argv[1]])"


def _audio_s() -> float:
    """Length of every answer's sound, each as often as it is played when all are heard at once [s]."""
    import soundfile

    recording = load(data_folder("demo_audio") / "coil_failed")
    return float(sum(soundfile.info(recording.folder / row.file).duration for row in recording.rows))


def _seconds(code: str, argument: str) -> float:
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", code, argument], check=True, capture_output=True)
    return time.perf_counter() - began


def _first_line_s(calls: str) -> float:
    """From the start of the process to the first prompt on its output."""
    began = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-u", "-c", FIRST, calls], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        took = time.perf_counter() - began
        process.stdout.read()
    return took


def main() -> None:
    """Print the figures; the least of several runs where noise only adds."""
    with tempfile.TemporaryDirectory() as made:
        bare = min(_seconds(BARE, str(model_folder())) for _ in range(RUNS))
        bare_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        first = min(_first_line_s(f"{made}/first{i}") for i in range(RUNS))
        began = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-c", DEMO, str(Path(made) / "demo")], check=True, capture_output=True, text=True
        )
        whole = time.perf_counter() - began
        peak_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    code, _, last = done.stdout.split()
    audio = _audio_s()
    print(f"demo: {whole:.1f} s with its start ({float(last):.1f} s inside) for {audio:.0f} s of answers,")
    print(f"  {whole / audio:.2f} of their length; exit {code}")
    print(f"peak memory: {peak_mb:.0f} MB; bare vosk with one model {bare_mb:.0f} MB")
    print(f"start to first prompt: {first:.2f} s; bare import vosk and model {bare:.2f} s")


if __name__ == "__main__":
    main()
