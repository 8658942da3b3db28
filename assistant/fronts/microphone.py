"""A live call: microphone in, speech out.

Without `headset` the microphone is dropped while something sounds and for a tail after: an open loudspeaker answers
its own questions otherwise (measured: 8 of 20 prompts at -10 dB, most of them with full confidence). With it the
microphone stays open, and who knows the question may answer before it was asked to its end, or say "stop" or "repeat".

What may cut what off was decided so:
- "Stop" and "emergency" cut off anything. What "stop" cut off is not said again, except a caution: that is said in its
  short form before it can be acknowledged, for an acknowledgement counts only after its caution was heard.
- Cautions, urgent words, conclusions, and every word while control power is on for live work are cut off by nothing
  else. An answer given into one of them does not count, and nothing is said about it: the tone asks for it again.
- Any other prompt is cut off by an answer, a doubtful answer (it is asked back) or a command. Talk that is no answer
  cuts off nothing.
"""

import contextlib
import ctypes
import queue
import threading
import time
from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.fronts.turn import Ready, Turn
from assistant.sound import tones
from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.devices import FIRST_S, Block, Ear, Mouth, Part, SoundMissing, missing
from assistant.sound.headset import ALWAYS, Hiss, SelfHearing
from assistant.sound.room import Room
from assistant.sound.speech import Speech, Utterance

if TYPE_CHECKING:
    from assistant.call.effects import Listen, Say, Wait
    from assistant.call.engine import Dialogue
    from assistant.call.facts import Fact
    from assistant.call.heard import Heard, Silence, Unclear
    from assistant.fronts.loop import Clock
    from assistant.fronts.tape import Tape
    from assistant.hearing.decision import Hearing
    from assistant.hearing.recogniser import Recogniser
    from assistant.profile import Site
    from assistant.record.log import Log

TAIL_S = 0.35
"""Echo of an open loudspeaker that is dropped after a prompt: measured."""
REMIND_S = 20.0
UNCLEAR_ANSWERED = 2
"""So often in a row it says "say again"; then it only listens, and asks once more when it has been quiet."""
AHEAD = 12
"""Prompts rendered ahead of the step that is asked."""

MICROPHONE_GONE = "The microphone is gone. Check its plug. The question stands."
MICROPHONE_SILENT = "The microphone gives no sound. Check its plug and its mute switch. The question stands."
MICROPHONE_BACK = "I hear you again."
SPEAKER_BACK = "The speaker is back."
NO_HEADSET = "The microphone hears the speaker. From now on I listen only after I have spoken."
KEEPS_AUDIO = "This call keeps the sound of your answers."
DISK = "The log cannot be written: the disk may be full. The call stops here. What was read back is kept."
FAILED = "The program has failed. The call stops here. What was read back is kept."
FIXED = ("Say again.", MICROPHONE_GONE, MICROPHONE_SILENT, MICROPHONE_BACK)

Keeper = Callable[["Listen", "Hearing", Samples], str]
"""Takes what was heard and its sound; gives the file it was put in, relative to the call, or nothing."""


class LiveFront:
    """Microphone and speaker as a front of the loop."""

    def __init__(self, ear: Ear, mouth: Mouth, speech: Speech, clock: "Clock", headset: bool = False) -> None:
        self.ear, self.mouth, self.speech, self.clock = ear, mouth, speech, clock
        self.keeper: Keeper | None = None
        self.told: Callable[[Fact, datetime], None] = lambda fact, at: None
        """Takes what went on record."""
        self.recogniser: Ready
        self.upcoming: Callable[[str], Iterable[str]] = lambda step: ()
        """Prompts that may follow a step."""
        self.after_first: Callable[[], None] = lambda: None
        """Work that was put off until the first question is ready to be heard."""
        self._hiss = Hiss() if headset else None
        self._self_hearing, self._room = SelfHearing(), Room()
        self._news: queue.SimpleQueue[tuple[str, str]] = queue.SimpleQueue()
        ear.changed = mouth.changed = self._changed
        ear.alone = self._alone
        self._asked: tuple[str, bool] = ("", False)
        self._spoken: list[Utterance] = []
        self._hushed = self._alarmed = False
        self._unclear = 0
        self._first = True

    def _changed(self, part: Part) -> None:
        self._news.put((part.kind, part.trouble))

    # ---- the front

    def recorded(self, fact: "Fact") -> None:
        self.told(fact, self.clock.now())

    def say(self, say: "Say") -> None:
        print(say.text, flush=True)
        protected = say.urgent or say.purpose in ("caution", "conclusion")
        self._asked = (say.text, protected)
        if self._hushed and say.purpose not in ("caution", "conclusion"):
            return
        if say.urgent and not self.speech.protected:
            self.speech.stop()
        self._spoken.append(self.speech.say(say.text, protected, self._alarmed))
        self._alarmed = False

    def manner(self, word: str) -> None:
        if word == "stop":
            self._hushed = True
        if word == "alarm":
            self._alarmed = True  # what it is about is said as loud
            self.speech.sound(tones.ALARM, protected=True)
        self.speech.manner(word)

    def wait(self, wait: "Wait") -> "Heard | Unclear | Silence | None":
        from assistant.call.effects import Listen
        from assistant.language.meaning import Question

        question = Question("command", go_ahead=("continue",))
        return self.listen(Listen(question, wait.step, "acknowledge", None, wait.until, quiet=True))

    def ended(self, state: str, call: Path) -> None:
        print(f"The call is {state}. Log: {call}", flush=True)
        self.last_words()

    def last_words(self, *texts: str) -> None:
        """Say these, and wait until all that is to be said has been said."""
        for text in texts:
            self._say_aside(text)
        until = time.monotonic() + 60
        while self.speech.busy and not self.mouth.trouble and time.monotonic() < until:
            time.sleep(0.02)

    # ---- listening

    def listen(self, listen: "Listen") -> "Heard | Unclear | Silence | None":
        """Wait for the answer to a question, whatever happens to the devices meanwhile."""
        from assistant.call.heard import Silence

        self._hushed = False
        if listen.quiet:
            for utterance in self._spoken:
                utterance.protected = True
        recogniser = self.recogniser.get()
        recogniser.prepare(listen.question)
        _give_back_memory()
        if self._first:
            self._first = False
            self.after_first()
        self.speech.foresee([*FIXED, *self.upcoming(listen.step)])
        self.speech.sound(tones.LISTENING)
        turn = Turn(recogniser, listen.question, self._hiss)
        idle_s, reminded = time.monotonic(), listen.quiet
        while True:
            if listen.wake_at and self.clock.now() >= listen.wake_at:
                return Silence(listen.wake_at)
            found = self._tell_news(turn)
            found = found or self._block(turn)
            if found and not self._mere_talk(found, turn):
                return self._heard(found, turn, listen)
            busy = self.speech.busy or turn.speaking or bool(self.ear.trouble)
            idle_s = time.monotonic() if busy else idle_s
            if not reminded and time.monotonic() - idle_s > REMIND_S:
                reminded = True
                self._ask_again()

    def _mere_talk(self, found: "Hearing", turn: Turn) -> bool:
        """Whether talk goes on beside the microphone: after two "say again" in a row a third gets no answer."""
        from assistant.language.meaning import NotUnderstood

        if found.status != "unclear" or not isinstance(found.meaning, NotUnderstood):
            self._unclear = 0
            return False
        self._unclear += 1
        if self._unclear <= UNCLEAR_ANSWERED:
            return False
        print(f"  ({found.text or 'talk'}: not understood)", flush=True)
        turn.begin_again()
        return True

    def _block(self, turn: Turn) -> "Hearing | None":
        try:
            block = self.ear.blocks.get(timeout=0.1)
        except queue.Empty:
            return None
        if not self._open(block):
            turn.begin_again()
            return None
        self._self_hearing.hear(block.at_s, block.samples)
        found = turn.feed(block.samples)
        self._measure_room(turn, block)
        self.speech.hold = turn.speaking
        if self._hiss and self._spoken and not self.speech.busy:
            self._check_headset()
        return self._interrupting(found, turn) if found and self.speech.busy else found

    def _measure_room(self, turn: Turn, block: Block) -> None:
        """How loud it is while nobody speaks: what is said next is shaped for it."""
        if turn.speaking or self.speech.busy or not self._alone(block.at_s):
            self._room.begin_again()
            return
        self._room.hear(block.samples)
        self.speech.room_dbfs = self._room.dbfs

    def _open(self, block: Block) -> bool:
        """Whether the microphone counts at this block."""
        return self._hiss is not None or (not self.speech.busy and self._alone(block.at_s))

    def _alone(self, at_s: float) -> bool:
        """Whether the speaker was silent, its echo too."""
        return not self.mouth.busy and at_s > self.mouth.quiet_since_s + TAIL_S

    def _interrupting(self, found: "Hearing", turn: Turn) -> "Hearing | None":
        """What was heard while something is being said: it counts, or nothing happens."""
        always = found.status == "command" and found.value in ALWAYS
        counts = always or (found.status != "unclear" and not self.speech.protected)
        if not counts or self._check_headset():
            print(f"  ({found.text or 'something'}: does not count into this prompt)", flush=True)
            turn.begin_again()
            return None
        self.speech.stop()
        return found

    def _check_headset(self) -> bool:
        """Whether the microphone turned out to hear the speaker; then the headset's ways end."""
        spoken, self._spoken = self._spoken, []
        for utterance in spoken:
            began_s = self.mouth.began.get(utterance.number)
            if utterance.samples is None or began_s is None:
                continue
            played = utterance.samples[: max(0, round((time.monotonic() - began_s) * RATE_HZ))]
            if self._self_hearing.too_loud(played, began_s) is not None:
                self._hiss = None
                self._say_aside(NO_HEADSET)
                return True
        if self.speech.busy:
            self._spoken = spoken
        return False

    def _heard(self, found: "Hearing", turn: Turn, listen: "Listen") -> "Heard | Unclear":
        if found.status in ("accepted", "command"):
            self.speech.at_once(tones.TAKEN)
        elif found.status == "unclear":
            self.speech.at_once(tones.NOT_TAKEN)
        print(f"  > {found.text}", flush=True)
        self.speech.hold = False
        self._spoken = []
        audio = self.keeper(listen, found, turn.sound()) if self.keeper else ""
        return found.fact(self.clock.now(), audio)

    # ---- troubles

    def _tell_news(self, turn: Turn) -> "Hearing | None":
        """Say what changed about the devices. Returns what was begun when the microphone went away."""
        found = None
        while True:
            try:
                kind, trouble = self._news.get_nowait()
            except queue.Empty:
                return found
            if kind == "mouth" and trouble:
                print("\a(The speaker is gone: check its plug. The question stands.)", flush=True)
            elif kind == "mouth":
                said_to_its_end = not self.speech.busy
                self._say_aside(SPEAKER_BACK)
                if said_to_its_end:
                    self._ask_again()
            elif trouble:
                found = found or turn.close()
                turn.begin_again()
                self._say_aside(MICROPHONE_SILENT if trouble == "silent" else MICROPHONE_GONE)
            else:
                self.ear.clear()
                self._say_aside(MICROPHONE_BACK)
                self._ask_again()

    def _say_aside(self, text: str) -> None:
        print(f"({text})", flush=True)
        self.speech.say(text, protected=True)

    def _ask_again(self) -> None:
        text, protected = self._asked
        if text:
            self.speech.say(text, protected)
        self.speech.sound(tones.LISTENING)


# ---- a whole call


def keeping(folder: Path, log: "Log") -> Keeper:
    """Puts each answer beside its log line: `audio/`, by the number of the line that tells of it."""
    from assistant.sound.audio_file import write_audio

    def keep(listen: "Listen", found: "Hearing", sound: Samples) -> str:
        (folder / "audio").mkdir(exist_ok=True, mode=0o700)
        name = f"audio/{log.seq + 1:05d}.flac"
        write_audio(folder / name, sound)
        (folder / name).chmod(0o600)
        return name

    return keep


def prompts_ahead() -> Callable[[str], Iterable[str]]:
    """Fixed prompts and cautions of the steps after one, nearest first."""
    from assistant.call.procedure import all_steps
    from assistant.language.wording import cautions

    steps = all_steps()

    def ahead(step: str) -> Iterable[str]:
        plain = step.split("/")[0]
        at = next((i for i, s in enumerate(steps) if s.id == plain), 0)
        for s in steps[at : at + AHEAD]:
            if "{" not in s.ask:
                yield s.ask
            for name in s.cautions:
                words = cautions()[name.rstrip("?")]
                yield f"{words['short']} {words['full']}"

    return ahead


def warm(site: "Site") -> None:
    """Import CoolProp while the first prompt is spoken: no reading needs it before minutes have gone by."""
    from assistant.trade.refrigerant import warm_up
    from assistant.trade.validity import OutOfRange

    for name in dict.fromkeys(rack.refrigerant for rack in site.racks):
        with contextlib.suppress(OutOfRange):
            warm_up(name)


def _give_back_memory() -> None:
    """What a model took that is loaded no more goes back to the system: the library keeps it otherwise."""
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).malloc_trim(0)


def load_recogniser() -> "Recogniser":
    from assistant.hearing.model import model_folder
    from assistant.hearing.recogniser import Recogniser

    return Recogniser(model_folder())


def talk(
    open_sites: Callable[[], "tuple[Site, ...]"], calls: Path, call: Path | None, headset: bool = False,
    keep_audio: bool = False, tape: "Tape | None" = None,
) -> str:  # fmt: skip
    """A live call, or an interrupted one taken up.

    Args:
        open_sites: gives the profiles; called once the devices have begun to open.
        calls: where calls are kept.
        call: the one to take up.
        headset: the microphone stays open while it speaks.
        keep_audio: each answer's sound is kept beside the log; it is said aloud.
        tape: takes each answer's sound instead; it is said aloud too.

    Returns:
        `sealed` or `interrupted`.

    Raises:
        SoundMissing: PortAudio or a device is missing.
        ModelMissing: there is no speech model.
        VoiceMissing: there is no voice.
        DiskTrouble: the log cannot be written; it was said aloud, and the call can be taken up.
    """
    mouth, ear = Mouth(), Ear()  # their processes start while this one goes on loading
    speech = Speech(mouth)
    try:
        return _carried(ear, mouth, speech, open_sites, calls, call, headset, keep_audio, tape)
    finally:
        speech.close()
        ear.close()
        mouth.close()


def _carried(
    ear: Ear, mouth: Mouth, speech: Speech, open_sites: Callable[[], "tuple[Site, ...]"], calls: Path, call: Path | None,
    headset: bool, keep_audio: bool, tape: "Tape | None",
) -> str:  # fmt: skip
    from assistant.fronts.choosing import begun
    from assistant.fronts.loop import Clock, run
    from assistant.hearing.model import model_folder
    from assistant.record.log import DiskTrouble

    model_folder()
    sites, clock = open_sites(), Clock()
    front = LiveFront(ear, mouth, speech, clock, headset)
    _all_there(ear, mouth, speech, front)
    front.recogniser = Ready(load_recogniser)
    front.recogniser.start()
    started = begun(sites, calls, clock, front, call)
    if started is None:
        return "interrupted"
    dialogue, effects, log = started
    if keep_audio or tape:
        front.keeper = tape.hear if tape else keeping(log.folder, log)
        front.told = tape.fact if tape else front.told
        print(KEEPS_AUDIO)
        speech.say(KEEPS_AUDIO, protected=True)
    front.upcoming = prompts_ahead()
    front.after_first = threading.Thread(target=warm, args=(dialogue.state.site,), daemon=True).start
    try:
        with log:
            return run(dialogue, effects, log, front)
    except DiskTrouble:
        front.last_words(DISK, _standing(dialogue))
        raise
    except Exception:
        front.last_words(FAILED, _standing(dialogue))
        raise


def _standing(dialogue: "Dialogue") -> str:
    """What is still hooked up, for whoever is left alone with it."""
    from assistant.call.prompts import where

    return where(dialogue.state)


def _all_there(ear: Ear, mouth: Mouth, speech: Speech, front: LiveFront) -> None:
    """Wait for speaker, voice and microphone.

    Raises:
        SoundMissing, VoiceMissing: one of them is missing; what can speak has said so.
    """
    if not mouth.wait():
        raise missing(mouth)
    speech.wait_started(FIRST_S)
    if not ear.wait():
        error = missing(ear)
        front.last_words(f"{str(error).split(';')[0]}.")
        raise error


__all__ = ["LiveFront", "SoundMissing", "talk"]
