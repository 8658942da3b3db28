"""A live call: microphone in, speech out. Half-duplex: nothing is heard while it speaks and for a tail after."""

import queue
import time
from pathlib import Path
from typing import Any

import numpy as np

from assistant.dialogue import events as e
from assistant.profile import Site
from assistant.session import Clock, new_call, resumed_call, run

RATE_HZ = 16000
BLOCK = 320
"""20 ms: short blocks keep the answer's end from being seen late."""
TAIL_S = 0.35
"""Echo of an open loudspeaker that is dropped after a prompt: measured."""
REMIND_S = 20.0
STALE_S = 1.5
"""A microphone that gives nothing, or exact zeros, for this long is gone or muted: measured."""


class SoundMissing(OSError):
    """Live sound cannot be had; the message says what to do."""


def _sounddevice() -> Any:
    try:
        import sounddevice
    except OSError as error:
        raise SoundMissing(
            "PortAudio is missing; install it with 'sudo apt-get install libportaudio2' (Debian, Ubuntu), or use 'rackcall type'"
        ) from error
    if not sounddevice.query_devices():
        raise SoundMissing("no sound device; plug in a headset, or use 'rackcall type'")
    return sounddevice


class LiveFront:
    """Microphone and speaker as a front of the loop."""

    def __init__(self, clock: Clock) -> None:
        """Open both.

        Raises:
            SoundMissing: PortAudio or a device is missing.
            ModelMissing: there is no speech model.
            VoiceMissing: there is no voice.
        """
        from assistant.devices.model import model_folder
        from assistant.devices.recogniser import Recogniser
        from assistant.devices.voice import Voice

        self.clock = clock
        self.sound = _sounddevice()
        self.voice = Voice()
        self.ear = Recogniser(model_folder())
        self.blocks: queue.Queue[Any] = queue.Queue(maxsize=500)
        self.last = ""
        self._open()

    def _open(self) -> None:
        def heard(block: Any, frames: int, at: object, status: object) -> None:
            if not self.blocks.full():
                self.blocks.put_nowait(np.frombuffer(block, np.int16).copy())

        try:
            self.stream = self.sound.RawInputStream(
                samplerate=RATE_HZ, blocksize=BLOCK, channels=1, dtype="int16", callback=heard
            )
            self.stream.start()
        except self.sound.PortAudioError as error:
            raise SoundMissing(f"the microphone cannot be opened ({error}); use 'rackcall type'") from error

    def _tone(self, hertz: float) -> None:
        t = np.arange(int(0.09 * RATE_HZ)) / RATE_HZ
        self._play((np.sin(2 * np.pi * hertz * t) * 9000).astype(np.int16))

    def _play(self, samples: Any) -> None:
        try:
            self.sound.play(samples, RATE_HZ, blocking=True, latency="high")
        except self.sound.PortAudioError as error:
            print(f"(no speaker: {error})")

    def _drop_echo(self) -> None:
        time.sleep(TAIL_S)
        while not self.blocks.empty():
            self.blocks.get_nowait()

    # ---- the front

    def recorded(self, fact: e.Fact) -> None:
        pass

    def say(self, say: e.Say) -> None:
        print(say.text)
        self.last = say.text
        self._play(self.voice.render(say.text))

    def manner(self, word: str) -> None:
        v = self.voice
        if word in ("slower", "faster"):
            v.words_per_minute = int(np.clip(v.words_per_minute + (20 if word == "faster" else -20), 100, 240))
        elif word in ("louder", "softer"):
            v.loudness = float(np.clip(v.loudness * (1.4 if word == "louder" else 0.7), 0.2, 4.0))

    def listen(self, listen: e.Listen) -> e.Heard | e.Unclear | e.Silence | None:
        return self._listen(listen)

    def wait(self, wait: e.Wait) -> e.Heard | e.Unclear | e.Silence | None:
        from assistant.language.meaning import Question

        question = Question("command", go_ahead=("continue",))
        return self._listen(e.Listen(question, wait.step, "acknowledge", None, wait.until, quiet=True))

    def _listen(self, listen: e.Listen) -> e.Heard | e.Unclear | e.Silence | None:
        from assistant.devices.recogniser import Listener

        self.ear.prepare(listen.question)
        self._drop_echo()
        self._tone(880)
        self._drop_echo()
        listener = Listener(self.ear, listen.question)
        began, sounded, reminded = time.monotonic(), time.monotonic(), False
        while True:
            if listen.wake_at and self.clock.now() >= listen.wake_at:
                return e.Silence(listen.wake_at)
            try:
                block = self.blocks.get(timeout=0.25)
            except queue.Empty:
                block = np.zeros(0, np.int16)
            now = time.monotonic()
            if block.any():
                sounded = now
            if now - sounded > STALE_S:
                sounded = now
                self._recover()
            hearing = listener.feed(block) if len(block) else None
            if hearing:
                print(f"  > {hearing.text}")
                self._tone(1320 if hearing.status != "unclear" else 440)
                return hearing.fact(self.clock.now())
            if not reminded and not listen.quiet and not listener.speaking and now - began > REMIND_S:
                reminded = True
                self._play(self.voice.render(self.last))
                self._drop_echo()

    def _recover(self) -> None:
        """The microphone gave nothing: say so and open it again; the question stands."""
        print("(the microphone is silent: is it plugged in and not muted?)")
        self.stream.close(ignore_errors=True)
        try:
            self._open()
        except SoundMissing as error:
            print(f"({error})")
            time.sleep(1.0)

    def ended(self, state: str, call: Path) -> None:
        print(f"The call is {state}. Log: {call}")


def talk(site: Site, calls: Path, call: Path | None) -> str:
    """A live call, or an interrupted one taken up. Returns `sealed` or `interrupted`."""
    clock = Clock()
    front = LiveFront(clock)
    dialogue, effects, log = resumed_call(site, call, clock) if call else new_call(site, calls, clock)
    with log:
        return run(dialogue, effects, log, front)
