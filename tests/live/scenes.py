"""What happens on the virtual card: each scene is one call with its own card, as a technician would have it."""

import json
import os
import signal
import subprocess
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from assistant.fronts import microphone as live
from tests.live.caller import ROOT, Caller, phrase
from tests.live.virtual_card import MICROPHONE, SPEAKER, VirtualCard, wait_for

OPENING = "Guidance only."
ROOM = "Detector lit and quiet, fan running: else stay out."


@dataclass
class Came:
    """What a scene came to."""

    shown: str = ""
    code: int | None = None
    log: list[dict[str, Any]] = field(default_factory=list)
    known_s: dict[str, float] = field(default_factory=dict)
    """How long it took to notice something [s]."""
    said: dict[str, float | None] = field(default_factory=dict)
    """When a sentence was heard in the speaker's track, after what called for it [s]; None where it was not."""
    folder: Path = Path()
    first_word_s: float = 0.0


def _log(calls: Path) -> list[dict[str, Any]]:
    files = list(calls.glob("*/events.jsonl"))
    return [json.loads(line) for line in files[0].read_text().splitlines()] if files else []


def whole_call_with_headset(folder: Path) -> Came:
    """From the first word to the seal, with interruptions, the sound of the answers kept."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk", "--headset", "--keep-audio") as caller:
        caller.wait_line("Site, rack")
        time.sleep(4)
        caller.wait_line("  > stop", caller.say("stop"))
        caller.answer("north store rack b three")
        caller.early("Correct?", "yes")
        caller.wait_line(ROOM)
        time.sleep(1)
        caller.say("understood")  # into the caution: it must not count
        time.sleep(1)
        caller.wait_line("  > stop", caller.say("stop"))
        caller.answer("understood", "understood")
        caller.early("Footing", "all good")
        caller.early("How many tripped", "finish job")
        caller.early("Make safe and close", "yes")
        caller.early("Parts left in use", "none")
        caller.early("Tell the store", "done")
        caller.early("Close the call", "close it")
        came.code = caller.ended()
        came.said[live.KEEPS_AUDIO] = caller.heard_saying(live.KEEPS_AUDIO)
        came.said["Closed and sealed."] = caller.heard_saying("Closed and sealed.")
        came.shown = caller.shown
        came.folder = next((folder / "calls").iterdir())
        came.log = _log(folder / "calls")
    return came


def open_loudspeaker(folder: Path) -> Came:
    """Half-duplex, the loudspeaker 10 dB down in the microphone."""
    came = Came()
    with VirtualCard(echo_db=-10) as card, Caller(card, folder / "calls", "talk") as caller:
        wait_for(lambda: caller.tap.sounded(0), 10, "no sound")
        came.first_word_s = time.monotonic() - caller.began_s
        caller.answer("north store rack b three", "yes", "understood")
        caller.quiet(1.5)
        came.shown, came.log = caller.shown, _log(folder / "calls")
        came.said[ROOM] = caller.heard_saying(ROOM)
    return came


def microphone_troubles(folder: Path) -> Came:
    """Unplugged and plugged in again, muted and back, and only then the answer."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk") as caller:
        caller.quiet(0.8)
        for what, away, back in (
            ("unplugged", lambda: card.unplug(MICROPHONE), lambda: card.plug(MICROPHONE)),
            ("muted", card.mute, lambda: card.mute(False)),
        ):
            lines, at = len(caller.lines), time.monotonic()
            away()
            came.known_s[what] = caller.wait_line("microphone", lines) - at
            came.said[what] = caller.wait_said(live.MICROPHONE_SILENT, at)
            caller.quiet(0.8, since=0)
            lines, at = len(caller.lines), time.monotonic()
            back()
            came.known_s[f"{what}, back"] = caller.wait_line(live.MICROPHONE_BACK, lines) - at
            came.said[f"{what}, asked again"] = caller.wait_said("Site, rack, compressor?", at)
            caller.quiet(0.8, since=0)
        caller.answer("north store rack b three")
        caller.wait_line("Correct?")
        came.shown, came.log = caller.shown, _log(folder / "calls")
    return came


def speaker_and_server_gone(folder: Path) -> Came:
    """The speaker in mid-sentence, then the whole sound server."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk") as caller:
        wait_for(lambda: caller.tap.sounded(0), 10, "no sound")
        time.sleep(6)  # in the last sentence; before, CoolProp's import may hold the call's process for seconds
        for what, away, back in (
            ("speaker", lambda: card.unplug(SPEAKER), lambda: card.plug(SPEAKER)),
            ("server", card.kill, card.start),
        ):
            lines, at = len(caller.lines), time.monotonic()
            away()
            came.known_s[what] = caller.wait_line("The speaker is gone", lines) - at
            time.sleep(1)
            lines, at = len(caller.lines), time.monotonic()
            back()
            caller.hear_again()
            came.known_s[f"{what}, back"] = caller.wait_line(live.SPEAKER_BACK, lines) - at
            came.said[f"{what}, asked"] = caller.wait_said("Site, rack, compressor?", at)
        at = caller.wait_line(live.MICROPHONE_BACK)
        caller.quiet(1.0, since=max(0, round((at - caller.tap.began_s) * 100)))
        caller.answer("north store rack b three")
        caller.wait_line("Correct?")
        came.shown, came.log = caller.shown, _log(folder / "calls")
    return came


def killed_in_mid_sentence(folder: Path) -> Came:
    """The program killed while it speaks, then taken up."""
    came = Came()
    calls = folder / "calls"
    with VirtualCard() as card, Caller(card, calls, "talk", "--headset") as caller:
        caller.early("Site, rack", "north store rack b three")
        caller.early("Correct?", "yes")
        caller.wait_line(ROOM)
        time.sleep(1.5)
        os.kill(caller.program.pid, signal.SIGKILL)
        at = time.monotonic()
        mark = caller.tap.now()
        wait_for(lambda: caller.tap.quiet_for(0.3, mark), 5, "it goes on speaking")
        came.known_s["silent"] = time.monotonic() - at - 0.3
        came.log = _log(calls)
        with Caller(card, calls, "resume", "--talk", "--headset") as again:
            again.wait_line(ROOM)
            again.quiet(0.8)
            again.answer("understood")
            again.wait_line("Three points")
            came.shown = again.shown
    return came


def disk_full(folder: Path) -> Came:
    """The disk fills up while a call goes on; made room, the call is taken up. Needs the right to mount."""
    came = Came()
    disk = folder / "disk"
    disk.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=256k", "none", str(disk)], capture_output=True, check=False)
    if mounted.returncode:
        came.shown = "no right to mount"
        return came
    try:
        with VirtualCard() as card, Caller(card, disk / "calls", "talk", "--headset") as caller:
            caller.wait_line("Site, rack")
            filler = disk / "filler"
            with open(filler, "wb", buffering=0) as file:
                try:
                    while True:
                        file.write(bytes(4096))
                except OSError:
                    pass
            caller.early("Site, rack", "north store rack b three")
            caller.early("Correct?", "yes", must=False)
            for _ in range(6):  # the last page of the file has room for a few lines yet
                time.sleep(2.5)
                if caller.program.poll() is None and "cannot be written" not in caller.shown:
                    caller.say("stop")
            came.code = caller.ended()
            came.shown = caller.shown
            came.said[live.DISK] = caller.heard_saying(live.DISK)
            filler.unlink()
        checked = subprocess.run(
            [*_python(), "verify", str(next((disk / "calls").iterdir()))], capture_output=True, text=True, cwd=ROOT, check=False
        )
        came.known_s["verified"] = checked.returncode
        typed = subprocess.run(
            [*_python(), "resume", "--calls", str(disk / "calls")], input="", capture_output=True, text=True, cwd=ROOT,
            check=False,
        )  # fmt: skip
        came.shown += "\n" + typed.stdout
        came.log = _log(disk / "calls")
    finally:
        subprocess.run(["umount", str(disk)], capture_output=True, check=False)
    return came


def ready_and_phrases(folder: Path) -> Came:
    """The check before a call, beside an open loudspeaker, too far from the microphone, and muted; a phrase recorded."""
    came = Came()
    with VirtualCard(echo_db=-12) as card:
        for what, gain in (("good", 1.0), ("far", 0.015)):
            with Caller(card, folder / "calls", "ready") as caller:
                caller.wait_line('say "two thirty"')
                time.sleep(0.3)
                card.say((phrase("two thirty") * gain).astype(np.int16))
                came.known_s[what] = caller.ended()
                came.shown += f"== {what}\n{caller.shown}\n"
        card.mute()
        with Caller(card, folder / "calls", "ready") as caller:
            came.known_s["muted"] = caller.ended()
            came.shown += f"== muted\n{caller.shown}\n"
        card.mute(False)
        came.folder = folder / "phrases"
        words = ("record", str(came.folder), "--asking", "control_volts", "--say", "two thirty")
        with Caller(card, folder / "calls", *words) as caller:
            caller.wait_line('say "two thirty"')
            caller.quiet(0.6, since=0)
            caller.card.say(phrase("two thirty"))
            came.code = caller.ended()
    return came


def _python() -> list[str]:
    import sys

    return [sys.executable, "-m", "assistant.cli"]


LONGEST_FIRST = (
    whole_call_with_headset, microphone_troubles, speaker_and_server_gone, open_loudspeaker, ready_and_phrases,
    killed_in_mid_sentence, disk_full,
)  # fmt: skip
