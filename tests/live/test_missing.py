"""What a live call says where something of the machine is missing."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.live.virtual_card import missing

ROOT = Path(__file__).parent.parent.parent


def rackcall(*words: str, **env: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant.cli", *words], capture_output=True, text=True, cwd=ROOT, env={**os.environ, **env},
        timeout=600, check=False,
    )  # fmt: skip


def test_without_portaudio_it_names_the_line_that_installs_it_and_offers_the_keyboard(tmp_path: Path):
    (tmp_path / "sounddevice.py").write_text("raise OSError('PortAudio library not found')\n")
    got = rackcall("talk", "--calls", str(tmp_path / "calls"), PYTHONPATH=str(tmp_path))
    assert got.returncode == 3
    assert got.stderr == (
        "rackcall: PortAudio is missing; install it with 'sudo apt-get install libportaudio2' (Debian, Ubuntu), "
        "or use 'rackcall type'\n"
    )
    assert not (tmp_path / "calls").exists()


def test_without_any_device_it_says_so_and_offers_the_keyboard(tmp_path: Path):
    if why := missing():
        pytest.skip(why)
    cards = Path("/proc/asound/cards")
    if cards.is_file() and "[" in cards.read_text():
        pytest.skip("this machine has a sound card")
    got = rackcall("talk", "--calls", str(tmp_path / "calls"), PULSE_SERVER=f"unix:{tmp_path}/none")
    assert got.returncode == 3
    assert "no speaker; plug in a headset, or use 'rackcall type'" in got.stderr
    assert not (tmp_path / "calls").exists()
