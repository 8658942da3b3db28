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
ROOM = "Detector lit and quiet, fan running, 19.5 percent oxygen: else stay out."


@dataclass
class Came:
    """What a scene came to."""

    shown: str = ""
    code: int | None = None
    log: list[dict[str, Any]] = field(default_factory=list)
    codes: dict[str, int] = field(default_factory=dict)
    """Exit codes of further programs."""
    said: dict[str, float | None] = field(default_factory=dict)
    """When a sentence was heard in the speaker's track [s]; None where it was not."""
    folder: Path = Path()


def _log(calls: Path) -> list[dict[str, Any]]:
    files = list(calls.glob("*/events.jsonl"))
    return [json.loads(line) for line in files[0].read_text().splitlines()] if files else []


def whole_call_with_headset(folder: Path) -> Came:
    """From the first word to the seal, with interruptions, the sound of the answers kept."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk", "--headset", "--keep-audio") as caller:
        came.said[live.KEEPS_AUDIO] = caller.wait_said(live.KEEPS_AUDIO)
        caller.early("Rack and compressor", "stop", "  > stop")
        caller.answer("rack b three")
        caller.early("Correct?", "yes")
        caller.speaking(caller.wait_line(ROOM))
        caller.early(ROOM, "understood", "does not count")
        caller.early(ROOM, "stop", "  > stop")
        caller.answer("understood")
        caller.early("Footing", "all good")
        caller.early("How many tripped", "finish job")
        caller.early("Make safe and close", "yes")
        caller.early("Borrowed or temporary parts", "none")
        caller.early("Tell the store", "done")
        caller.early("Close the call", "close it")
        came.code = caller.ended()
        came.said["Closed and sealed."] = caller.heard_saying("Closed and sealed.")
        came.shown = caller.shown
        came.folder = next((folder / "calls").glob("*/events.jsonl")).parent
        came.log = _log(folder / "calls")
    return came


def open_loudspeaker(folder: Path) -> Came:
    """Half-duplex, the loudspeaker 10 dB down in the microphone."""
    came = Came()
    with VirtualCard(echo_db=-10) as card, Caller(card, folder / "calls", "talk") as caller:
        caller.answer("rack b three", "yes", "understood")
        caller.asked()
        came.shown, came.log = caller.shown, _log(folder / "calls")
        came.said[ROOM] = caller.heard_saying(ROOM)
    return came


def microphone_troubles(folder: Path) -> Came:
    """Unplugged and plugged in again, muted and back, and only then the answer."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk") as caller:
        caller.asked()
        for what, away, back in (
            ("unplugged", lambda: card.unplug(MICROPHONE), lambda: card.plug(MICROPHONE)),
            ("muted", card.mute, lambda: card.mute(False)),
        ):
            lines, at = len(caller.lines), time.monotonic()
            away()
            known = caller.line("microphone", lines).strip("()")
            came.said[what] = caller.wait_said(known, at)
            lines, at = len(caller.lines), time.monotonic()
            back()
            at = caller.wait_line(live.MICROPHONE_BACK, lines)
            came.said[f"{what}, asked again"] = caller.wait_said("Rack and compressor?", at)
            caller.asked(caller.tap.frame(at))
        caller.answer("rack b three")
        caller.wait_line("Correct?")
        came.shown, came.log = caller.shown, _log(folder / "calls")
    return came


def speaker_and_server_gone(folder: Path) -> Came:
    """The speaker in mid-sentence, then the whole sound server."""
    came = Came()
    with VirtualCard() as card, Caller(card, folder / "calls", "talk") as caller:
        caller.speaking()
        for what, away, back in (
            ("speaker", lambda: card.unplug(SPEAKER), lambda: card.plug(SPEAKER)),
            ("server", card.kill, card.start),
        ):
            lines, at = len(caller.lines), time.monotonic()
            away()
            caller.wait_line("The speaker is gone", lines)
            lines, at = len(caller.lines), time.monotonic()
            back()
            caller.hear_again()
            caller.wait_line(live.SPEAKER_BACK, lines)
            came.said[f"{what}, asked"] = caller.wait_said("Rack and compressor?", at)
        caller.asked(caller.tap.frame(caller.wait_line(live.MICROPHONE_BACK)))
        caller.answer("rack b three")
        caller.wait_line("Correct?")
        came.shown, came.log = caller.shown, _log(folder / "calls")
    return came


def killed_in_mid_sentence(folder: Path) -> Came:
    """The program killed while it speaks, then taken up."""
    came = Came()
    calls = folder / "calls"
    with VirtualCard() as card, Caller(card, calls, "talk", "--headset") as caller:
        caller.early("Rack and compressor", "rack b three")
        caller.early("Correct?", "yes")
        caller.speaking(caller.wait_line(ROOM))
        os.kill(caller.program.pid, signal.SIGKILL)
        mark = caller.tap.now()
        wait_for(lambda: caller.tap.quiet_for(1.0, mark), "it goes on speaking")
        came.said[ROOM] = caller.heard_saying(ROOM)
        came.log = _log(calls)
        with Caller(card, calls, "resume", "--talk", "--headset") as again:
            again.wait_line(ROOM)
            again.answer("understood")
            again.wait_line("Footing")
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
            caller.wait_line("Rack and compressor")
            filler = disk / "filler"
            with open(filler, "wb", buffering=0) as file:
                try:
                    while True:
                        file.write(bytes(4096))
                except OSError:
                    pass
            caller.early("Rack and compressor", "rack b three")
            while live.DISK not in caller.shown:  # the last page of the file has room for a few lines yet
                lines = caller.say("stop")
                caller.wait(lambda lines=lines: len(caller.lines) > lines, "it says nothing to stop")
            came.code = caller.ended()
            came.shown = caller.shown
            came.said[live.DISK] = caller.heard_saying(live.DISK)
            filler.unlink()
        whole = next((disk / "calls").glob("*/events.jsonl")).parent
        checked = subprocess.run([*_python(), "verify", str(whole)], capture_output=True, text=True, cwd=ROOT, check=False)
        came.codes["verified"] = checked.returncode
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
                card.say((phrase("two thirty") * gain).astype(np.int16))
                came.codes[what] = caller.ended()
                came.shown += f"== {what}\n{caller.shown}\n"
        card.mute()
        with Caller(card, folder / "calls", "ready") as caller:
            came.codes["muted"] = caller.ended()
            came.shown += f"== muted\n{caller.shown}\n"
        card.mute(False)
        came.folder = folder / "phrases"
        words = ("record", str(came.folder), "--asking", "control_volts", "--say", "two thirty")
        with Caller(card, folder / "calls", *words) as caller:
            caller.wait_line('say "two thirty"')
            caller.asked()
            caller.say("two thirty")
            came.code = caller.ended()
    return came


def _python() -> list[str]:
    import sys

    return [sys.executable, "-m", "assistant.cli"]


LONGEST_FIRST = (
    whole_call_with_headset, microphone_troubles, speaker_and_server_gone, open_loudspeaker, ready_and_phrases,
    killed_in_mid_sentence, disk_full,
)  # fmt: skip
