"""Is this machine ready for a call: disk, model, profile, speaker, microphone, the room, an utterance heard back."""

import queue
import shutil
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from assistant.sites import is_demo, own_folder
from assistant.sound import tones
from assistant.sound.audio import BLOCK
from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.devices import FIRST_S, Ear, Mouth, missing
from assistant.sound.headset import SelfHearing, coupling_db
from assistant.sound.speech import Speech

if TYPE_CHECKING:
    from assistant.hearing.decision import Hearing
    from assistant.profile import Site

Out = Callable[[str], None]
GOOD, FAULT, WRONG, MISSING = 0, 1, 2, 3
ROOM_S = 2.0
ANSWER_S = 12.0
LATE_S = 5.0
"""So long sound is waited for that should have come by then: on a slow machine it comes late, it is not lost."""
NEEDED_MB = 50
"""A call's log takes under 1 MB; with the sound of its answers up to 20."""
QUIETEST_DBFS, LOUDEST_DBFS = -45.0, -6.0
"""Speech outside these: the microphone is too far or too near. Common practice."""
LEAST_OVER_DB = 12.0
"""Speech this far over the room is heard nearly always; under it numbers are asked back (measured)."""
SENTENCE = "This is the speaker. Say: two thirty."


@dataclass
class Found:
    """What was found, and how bad it is."""

    out: Out
    code: int = GOOD
    todo: list[str] = field(default_factory=list)

    def good(self, what: str, words: str) -> None:
        self.out(f"  ok  {what}: {words}")

    def bad(self, what: str, words: str, code: int) -> None:
        self.out(f"  --  {what}: {words}")
        self.todo.append(words)
        self.code = max(self.code, code)


def level_dbfs(samples: Samples) -> float:
    """RMS below full scale [dB]; a full sine has -3. Not the loudness of the room itself: that takes a calibrated meter."""
    power = float((samples.astype(np.float64) ** 2).mean()) if len(samples) else 0.0
    return float(10 * np.log10(max(power, 1e-3) / 32768.0**2))


def ready(open_sites: Callable[[], "tuple[Site, ...]"], calls: Path, out: Out) -> int:
    """Check everything that a live call needs; print, and say aloud, what is missing and how to get it.

    Args:
        open_sites: gives the profiles.
        calls: where calls are kept.
        out: takes each line.

    Returns:
        0 ready; 1 an utterance was not heard well enough; 2 the profile is wrong; 3 something of the machine is missing.
    """
    mouth, ear = Mouth(), Ear()
    speech = Speech(mouth)
    found = Found(out)
    try:
        _disk(found, calls)
        _profile(found, open_sites)
        hearing = _model(found)
        if _devices(found, mouth, ear, speech):
            _sound(found, mouth, ear, speech, hearing)
        _close(found, mouth, speech)
    finally:
        speech.close()
        ear.close()
        mouth.close()
    return found.code


def _disk(found: Found, calls: Path) -> None:
    try:
        calls.mkdir(parents=True, exist_ok=True)
        probe = calls / ".ready"
        probe.write_bytes(b"ready")
        probe.unlink()
        free_mb = shutil.disk_usage(calls).free / 1e6
    except OSError as error:
        found.bad("disk", f"{calls} cannot be written ({error.strerror or error}); give another folder with --calls", MISSING)
        return
    if free_mb < NEEDED_MB:
        found.bad("disk", f"{free_mb:.0f} MB free in {calls}; make room, a call wants {NEEDED_MB} MB", MISSING)
    else:
        found.good("disk", f"{free_mb:.0f} MB free in {calls}")


def _profile(found: Found, open_sites: Callable[[], "tuple[Site, ...]"]) -> None:
    try:
        sites = open_sites()
    except Exception as error:
        if type(error).__name__ not in ("Trouble", "ProfileFaults"):
            raise
        found.bad("profile", f"{error}", WRONG)
        return
    if is_demo(sites[0]):
        found.good("profile", f"none of your own, so the demo site's; yours go into {own_folder()}")
    else:
        found.good("profile", "; ".join(f"{site.name}, {len(site.racks)} racks" for site in sites))


def _model(found: Found) -> Callable[[], "Recognising"] | None:
    from assistant.hearing.model import ModelFault, ModelMissing, check, model_folder

    try:
        folder = model_folder()
        check(folder)
    except (ModelMissing, ModelFault) as error:
        found.bad("speech model", str(error), MISSING)
        return None
    found.good("speech model", str(folder))
    return lambda: Recognising(folder)


class Recognising:
    """The ear for the one utterance."""

    def __init__(self, folder: Path) -> None:
        from assistant.hearing.recogniser import Listener, Recogniser
        from assistant.language.meaning import Question

        question = Question("control_volts")
        recogniser = Recogniser(folder)
        recogniser.prepare(question)
        self._listener = Listener(recogniser, question)

    def feed(self, block: Samples) -> "Hearing | None":
        return self._listener.feed(block)


def _devices(found: Found, mouth: Mouth, ear: Ear, speech: Speech) -> bool:
    """Whether there are a speaker, a voice and a microphone."""
    from assistant.sound.voice import VoiceMissing

    if mouth.wait():
        found.good("speaker", mouth.device)
    else:
        found.bad("speaker", str(missing(mouth)), MISSING)
    try:
        speech.wait_started(FIRST_S)
        found.good("voice", "there")
    except VoiceMissing as error:
        found.bad("voice", str(error), MISSING)
    if ear.wait():
        found.good("microphone", ear.device)
    else:
        found.bad("microphone", str(missing(ear)), MISSING)
    return mouth.ready.is_set() and ear.ready.is_set() and not speech.failed


def _sound(found: Found, mouth: Mouth, ear: Ear, speech: Speech, hearing: Callable[[], Recognising] | None) -> None:
    room = _room(found, ear)
    if room is None:
        return
    recognising = hearing() if hearing else None
    _speaker(found, mouth, ear, speech)
    if recognising:
        _utterance(found, mouth, ear, recognising, room)


def _blocks(ear: Ear, seconds: float) -> Samples:
    """What is heard from now on for so long."""
    ear.clear()
    return _until(ear, time.monotonic() + seconds)


def _until(ear: Ear, end_s: float) -> Samples:
    """What is heard until then: what the microphone took by then, though it be handed over later."""
    blocks: list[Samples] = []
    while time.monotonic() < end_s + LATE_S:
        try:
            block = ear.blocks.get(timeout=0.05)
        except queue.Empty:
            continue
        blocks.append(block.samples)
        if block.at_s >= end_s:
            break
    return np.concatenate(blocks) if blocks else np.zeros(0, np.int16)


def _room(found: Found, ear: Ear) -> float | None:
    """The room's noise [dBFS]; None where the microphone gives nothing."""
    found.out("      be quiet for two seconds ...")
    heard = _blocks(ear, ROOM_S)
    if not heard.any():
        found.bad("room", "the microphone gives no sound; check its mute switch and its plug", MISSING)
        return None
    noise = level_dbfs(heard)
    found.good("room", f"noise {noise:.0f} dBFS (below full scale of this microphone; no sound level meter)")
    return noise


def _speaker(found: Found, mouth: Mouth, ear: Ear, speech: Speech) -> None:
    """Play a sentence and see whether the microphone hears it."""
    ear.clear()
    said = speech.say(SENTENCE)
    speech.sound(tones.LISTENING)
    heard = [_until(ear, time.monotonic() + 0.3)]
    while speech.busy and not mouth.trouble:
        heard.append(_until(ear, time.monotonic() + 0.2))
    heard.append(_until(ear, mouth.quiet_since_s + 0.35))
    coupling = coupling_db(said.samples, np.concatenate(heard)) if said.samples is not None else None
    if coupling is None:
        found.good("loudspeaker", "played; the microphone does not hear it, so your answer tells: --headset may be used")
    elif coupling > SelfHearing.TOO_LOUD_DB:
        found.good("loudspeaker", f"heard by the microphone, {-coupling:.0f} dB under what was played: talk without --headset")
    else:
        found.good("loudspeaker", f"heard by the microphone, {-coupling:.0f} dB under what was played: --headset may be used")


def _utterance(found: Found, mouth: Mouth, ear: Ear, recognising: Recognising, room_dbfs: float) -> None:
    """Hear one utterance back, and how loud it came."""
    found.out('      say "two thirty" ...')
    kept: list[Samples] = []
    heard: Hearing | None = None
    while heard is None and len(kept) * BLOCK < ANSWER_S * RATE_HZ:
        try:
            block = ear.blocks.get(timeout=LATE_S)
        except queue.Empty:
            break
        kept.append(block.samples)
        heard = recognising.feed(block.samples)
    if heard is None:
        found.bad("utterance", "heard none; speak up after the tone, or if you did not hear it, turn the speaker up", FAULT)
        return
    sound = np.concatenate(kept)
    loud = np.array([level_dbfs(sound[at : at + RATE_HZ // 50]) for at in range(0, len(sound), RATE_HZ // 50)])
    speech_dbfs = float(np.percentile(loud, 95))
    figures = f"speech {speech_dbfs:.0f} dBFS, {speech_dbfs - room_dbfs:.0f} dB over the room"
    if heard.value == 230.0:
        found.good("utterance", f'heard "{heard.text}"; {figures}')
    else:
        found.bad("utterance", f'heard "{heard.text or "nothing clear"}" for "two thirty"; {figures}. Say it again', FAULT)
    for advice in advices(speech_dbfs, room_dbfs):
        found.bad("microphone", advice, FAULT)


def advices(speech_dbfs: float, room_dbfs: float) -> list[str]:
    """What to do about these levels, in sentences; none where they are good."""
    found = []
    if speech_dbfs > LOUDEST_DBFS:
        found.append("you come in too loud; move the microphone away or turn it down")
    elif speech_dbfs < QUIETEST_DBFS:
        found.append("you come in too faint; move the microphone closer or turn it up")
    elif speech_dbfs - room_dbfs < LEAST_OVER_DB:
        found.append("the room is nearly as loud as you; move the microphone closer to your mouth")
    return found


def _close(found: Found, mouth: Mouth, speech: Speech) -> None:
    words = "Ready." if found.code == GOOD else "Not ready. " + ". ".join(part.split(";")[0] for part in found.todo) + "."
    found.out(words if found.code == GOOD else "Not ready:")
    for part in found.todo:
        found.out(f"  {part}")
    if mouth.ready.is_set() and not speech.failed:
        speech.say(words)
        until = time.monotonic() + 20
        while speech.busy and not mouth.trouble and time.monotonic() < until:
            time.sleep(0.02)
