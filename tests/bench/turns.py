"""From the last sample of an answer to the first sample of the reply, on the virtual card.

    python -m tests.bench.turns [--answers 36] [--call coil_failed] [--echo-db -10]

A recorded call's answers go into the microphone, each half a second after the prompt has ended. The end of speech is
when its last sample went into the microphone; the reply is the first sample of the tone that says "taken", and after
it the first word. Both are heard on the speaker's own side. Prints a line an answer and the medians.
"""

import argparse
import os
import tempfile
import threading
import time
from pathlib import Path
from typing import Any

import numpy as np

from assistant.call.effects import Listen, Say
from assistant.call.facts import Fact
from assistant.fronts import microphone as live
from assistant.fronts.loop import Clock
from assistant.fronts.recording import RecordedFront, Sounds, load
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder
from assistant.profile import load_profile
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio
from tests.live.virtual_card import SPEAKER, Tap, VirtualCard


class Enough(Exception):
    """So many answers were asked for."""


class Technician(live.LiveFront):
    """The live front, with somebody who answers."""

    card: VirtualCard
    chooser: RecordedFront
    folder: Path
    limit = 36
    taken: list[dict[str, Any]]

    def recorded(self, fact: Fact) -> None:
        self.chooser.recorded(fact)

    def say(self, say: Say) -> None:
        self.speech.words_per_minute = 240  # only to come through the call sooner
        super().say(say)
        turn = self.taken[-1] if self.taken else {}
        if turn and "first" not in turn:
            turn["first"] = self._spoken[-1] if self._spoken else None

    def listen(self, listen: Listen) -> Any:
        file = None if len(self.taken) >= self.limit else self.chooser._file(listen)
        if file is None:
            raise Enough(self.chooser.trouble)
        done = threading.Event()
        threading.Thread(target=self._answer, args=(file, done), daemon=True).start()
        heard = super().listen(listen)
        done.set()
        turn = self.taken[-1]
        turn |= {"asking": listen.question.asking, "decided_s": time.monotonic(), "heard": type(heard).__name__}
        return heard

    def _answer(self, file: str, done: threading.Event) -> None:
        time.sleep(0.1)
        while self.speech.busy or time.monotonic() < self.mouth.quiet_since_s + 0.5:
            time.sleep(0.01)
        self.card.say(_speech(self.folder / file))
        self.taken.append({"file": file, "ended_s": self.card.microphone.last_sample_s})


def _speech(file: Path) -> Samples:
    """An answer from its first to its last loud sample."""
    sound = read_audio(file)
    rows = np.abs(sound[: len(sound) // 160 * 160].astype(np.int32)).reshape(-1, 160).max(axis=1)
    loud = np.flatnonzero(rows > rows.max() / 40)
    return sound[max(0, loud[0] - 1) * 160 : (loud[-1] + 1) * 160]


def run(answers: int, call: str, echo_db: float | None) -> list[dict[str, Any]]:
    folder = data_folder("demo_audio") / call
    recording = load(folder)
    with VirtualCard(echo_db=echo_db) as card, tempfile.TemporaryDirectory() as calls:
        os.environ.update(card.env())
        Technician.card, Technician.folder, Technician.limit, Technician.taken = card, folder, answers, []
        Technician.chooser = RecordedFront(recording, Sounds(folder), None, Clock(True))  # type: ignore[arg-type]
        live.LiveFront = Technician  # type: ignore[misc]
        with Tap(card.env(), SPEAKER) as tap:
            try:
                live.talk(lambda: (load_profile(),), Path(calls), None)
            except Enough as why:
                print(why)
            for turn in Technician.taken:
                _measure(turn, tap)
    return [turn for turn in Technician.taken if "sound_ms" in turn]


def _measure(turn: dict[str, Any], tap: Tap) -> None:
    at = round((turn["ended_s"] - tap.began_s) * RATE_HZ)
    heard = np.flatnonzero(np.abs(tap.samples()[at:].astype(np.int32)) > 300)
    first = turn.get("first")
    if not len(heard) or "decided_s" not in turn or first is None or not first.sounded_s:
        return
    turn["sound_ms"] = heard[0] * 1000 / RATE_HZ
    turn["decided_ms"] = (turn["decided_s"] - turn["ended_s"]) * 1000
    turn["word_ms"] = (first.sounded_s - turn["ended_s"]) * 1000
    id_ = turn["asking"]
    turn["kind"] = "number" if id_ in vocabulary() and vocabulary()[id_].kind in NUMBER_KINDS else "words"


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--answers", type=int, default=36)
    parser.add_argument("--call", default="coil_failed")
    parser.add_argument("--echo-db", type=float)
    said = parser.parse_args()
    turns = run(said.answers, said.call, said.echo_db)
    for turn in turns:
        figures = "  ".join(f"{what} {turn[f'{what}_ms']:5.0f}" for what in ("decided", "sound", "word"))
        print(f"{turn['file']:36} {turn['kind']:7} {figures} ms")
    for kind in ("words", "number", ""):
        rows = [turn for turn in turns if kind in turn["kind"]]
        if rows:
            figures = "  ".join(_figures(rows, what) for what in ("decided", "sound", "word"))
            print(f"{kind or 'all':7} n {len(rows):3}  {figures}")
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


def _figures(rows: list[dict[str, Any]], what: str) -> str:
    values = np.array([row[f"{what}_ms"] for row in rows])
    return f"{what}: median {np.median(values):.0f} p95 {np.percentile(values, 95):.0f} ms"


if __name__ == "__main__":
    main()
