"""Makes the recorded calls beside it: a scripted technician, his answers as sound, a replay that must agree.

python -m demo_audio.make --kokoro FOLDER [CALL ...]        README.md says what the folder holds.
"""

import argparse
import csv
import re
import sys
import tempfile
import time
import tomllib
import zlib
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np

from assistant.call.effects import Listen, Say, Wait
from assistant.call.facts import Fact
from assistant.call.heard import Heard, Silence
from assistant.fronts.comparing import as_lines, that_count, value_text
from assistant.fronts.loop import Clock
from assistant.fronts.recording import FileEar, Row, Samples, carry, mixed, open_ear, replay
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Question
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.profile import DEMO_SITE, load_profile
from assistant.sound.audio_file import RATE_HZ, write_audio

HERE = Path(__file__).parent
CALLS = ("probe_fouled", "coil_failed", "low_refrigerant")
SPEEDS = (0.95, 0.85, 1.1)
"""The first at which the recogniser takes a phrase for what it is, twice over; else the first."""
LEAD_S, TAIL_S = 0.45, 0.9
"""Room before and after the words: the ear needs some before an onset, and the longest wait after the end."""
EVERYDAY = {
    "site": "north store", "fit_to_start": "all good", "detector_state": "quiet",
    "ventilation_running": "yes", "protection_shown": "discharge temperature",
    "tripped_count": "one", "alarm_minutes_ago": "two hours",
    "product_state": "all good", "controller_calls": "yes", "switch_position": "auto",
    "controller_mode": "auto", "running_now": "off", "running_count": "three", "sight_glass": "full",
    "defrost_state": "none", "machine_look/reset_device": "all good",
    "reset_device": "intact", "head_fan_running": "yes",
    "injection_hand_valve": "open", "coil_seated": "seated", "probe_condition": "clean",
    "phase_monitor_state": "normal", "live_or_dead": "dead", "locked_out": "locked",
    "meter_proved_before": "meter good", "meter_proved_after": "meter good", "dead_volts.power": "zero",
    "dead_volts.control": "zero", "chain_dead_check": "discharge", "probe_cleaned": "done",
    "module_output_fuse": "good", "start_prevented": "done", "jumper_fitted": "done",
    "leads_clipped": "done", "clothing_meets_label": "done", "ladder_kind": "fiberglass",
    "control_power_on": "power on", "control_power_off": "power off", "valve_click": "click",
    "jumper_removed": "done", "injection_feed": "feeding", "injection_after": "stopped",
    "strainer_temperature_drop": "one", "leak_repaired": "yes", "cylinder_checked": "done",
    "refrigerant_added": "none", "crankcase_heater": "on", "oil_level": "normal",
    "service_valves_open": "valves open", "covers_on": "covers on", "others_clear": "all clear",
    "lock_removed": "lock off", "capacity_control": "full", "part_left_in_use": "none",
    "reset_history": "none", "follow_up_owner": "supervisor", "follow_up_in_hours": "twenty four",
    "close_consent": "close it", "store_told": "done", "everybody_safe": "yes", "room_safe": "yes",
    "lock_still_on": "yes", "machine_isolated": "done", "section_emptied": "done", "isolated_pressure": "zero",
    "refrigerant_recovered": "none", "crankcase_and_heads": "warm", "addition_reason": "leak", "injection_as_found": "dry",
    "days_since_last_addition": "two hundred", "one_reset_discharge/command": "closed",
}  # fmt: skip
Speak = Callable[[str, float], np.ndarray[Any, np.dtype[np.float32]]]
"""Words and a speed to sound: float32, shape (n_samples,), mono, 16 kHz."""


class Technician:
    """Answers in words and writes down what he said: a front of the ordinary loop."""

    def __init__(self, told: dict[str, Any], clock: Clock) -> None:
        """
        Args:
            told: `call.toml`. `says`: by id, or by step and id; `out_of_turn`: a command or remark at a step, once, before its
                answer; `ended_at`: the steps at which the program is ended, and taken up again.
            clock: simulated.
        """
        self.says, self.clock = {**EVERYDAY, **told["says"]}, clock
        self.out_of_turn: dict[str, str] = dict.fromkeys(told.get("ended_at", ()), "") | dict(told.get("out_of_turn", {}))
        self.cut = False
        self.rows: list[tuple[Row, Question]] = []
        self.state = ""

    def recorded(self, fact: Fact) -> None:
        pass

    def manner(self, word: str) -> None:
        pass

    def say(self, say: Say) -> None:
        self.clock.speak(say.text)

    def wait(self, wait: Wait) -> Silence:
        self.clock.advance((wait.until - self.clock.now()).total_seconds())
        return Silence(self.clock.now())

    def ended(self, state: str, call: Path) -> None:
        self.state = state

    def listen(self, listen: Listen) -> Heard | None:
        q = listen.question
        if q.asking != "confirm" and listen.step in self.out_of_turn:
            return self._out_of_turn(q, listen.step, self.out_of_turn.pop(listen.step))
        if len(self.rows) > 200:
            raise SystemExit(f"the call does not end: it asks {q.asking} at {listen.step}")
        if q.asking == "confirm":
            same = self.rows[-1][0].means(q.of, q.value)
            words = "yes" if same else "no"
        else:
            row = self._row(listen)
            self.rows.append((row, q))
            words = row.words
        self.clock.advance(0.8)
        self.clock.speak(words)
        return Heard(words, self.clock.now())

    def _out_of_turn(self, q: Question, step: str, words: str) -> Heard | None:
        self.rows.append((Row(slug(words) if words else "", "command", words, words, step), q))
        self.cut = not words
        if self.cut:
            return None
        self.clock.advance(0.8)
        self.clock.speak(words)
        return Heard(words, self.clock.now())

    def _row(self, listen: Listen) -> Row:
        q = listen.question
        if q.asking == "command":
            words = self.says.get(f"{listen.step}/command", q.go_ahead[0])
            return Row(slug(words), "command", words, words)
        words = " ".join(self._words(id_, listen.step) for id_ in self._in_a_breath(q, listen.step))
        if q.all_good and words.startswith("all good"):
            words = "all good"
        if q.all_good and set(words.split()) == {"none"}:
            words = "none"
        meant = understand(q, words)
        if not isinstance(meant, Answer):
            raise SystemExit(f"{listen.step}: '{words}' is no answer to {q.asking}: {meant}")
        parts = [(p.id, value_text(p.value)) for p in meant.parts]
        value = parts[0][1] if len(parts) == 1 else "; ".join(f"{id_}={v}" for id_, v in parts)
        return Row(slug(words), q.asking, value, words)

    def _in_a_breath(self, q: Question, step: str) -> list[str]:
        """The ids answered together: one number at most, so that figures never run into each other; a look that is not all
        good is answered one by one, as it is asked then."""
        ids, numbers = [q.asking], vocabulary()[q.asking].kind in NUMBER_KINDS
        if len(q.all_good) > 3 and self._words(q.asking, step) != "all good":
            return ids
        for id_ in q.also:
            number = vocabulary()[id_].kind in NUMBER_KINDS
            if number and numbers:
                break
            numbers = numbers or number
            ids.append(id_)
        return ids

    def _words(self, id_: str, step: str) -> str:
        words = self.says.get(f"{step}/{id_}") or self.says.get(id_)
        if words is None:
            raise SystemExit(f"{step} asks {id_}: say in call.toml what the technician answers")
        return words


def slug(words: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_") + ".flac"


def kokoro(folder: Path, voice: str) -> Speak:
    """A natural voice: the optional `kokoro-onnx` with the model and the voice from a folder."""
    import kokoro_onnx
    import soxr

    with tempfile.TemporaryDirectory() as made:
        voices = Path(made) / "voices.npz"
        style = np.fromfile(folder / "voices" / f"{voice}.bin", dtype=np.float32).reshape(510, 1, 256)
        np.savez(voices, allow_pickle=False, **{voice: style})
        engine = kokoro_onnx.Kokoro(str(folder / "model.onnx"), str(voices))

    def say(words: str, speed: float) -> np.ndarray[Any, np.dtype[np.float32]]:
        spelled = re.sub(r"\b([a-z])\b(?! few)", lambda m: m[1].upper(), words)
        sound, rate_hz = engine.create(spelled + ".", voice=voice, speed=speed, lang="en-us")
        return np.asarray(soxr.resample(sound.astype(np.float32), rate_hz, RATE_HZ), dtype=np.float32)

    return say


def in_a_room(sound: np.ndarray[Any, np.dtype[np.float32]], snr_db: float | None = None) -> Samples:
    """The words at an even level with a quiet room (70 dB below full scale) around them; or in a made machine room, `snr_db`
    louder than its noise."""
    padded = np.concatenate([np.zeros(int(LEAD_S * RATE_HZ)), sound, np.zeros(int(TAIL_S * RATE_HZ))])
    room = np.random.default_rng(1).normal(0, 10 ** (-70 / 20), len(padded))
    both = np.clip(padded * 0.7 / np.abs(padded).max() + room, -1, 1)
    samples = np.asarray(np.rint(both * 32767), dtype=np.int16)
    if snr_db is None:
        return samples
    from tests.bench.ears import machine_room

    noise = np.asarray(machine_room() * 3000, dtype=np.int16)
    return mixed(samples, noise, snr_db, zlib.crc32(samples.tobytes()))


def spoken(say: Speak, words: str, asked: list[Question], ear: FileEar, snr_db: float | None) -> Samples:
    """A phrase at the first speed at which every question it answers hears it right."""
    kept: list[Samples] = []
    for speed in SPEEDS:
        sound = in_a_room(say(words, speed), snr_db)
        kept.append(sound)
        if all(_right(ear, sound, words, q) for q in asked for _ in range(2)):
            return sound
    print(f"  '{words}' is not always heard right, at any speed")
    return kept[0]


def _right(ear: FileEar, sound: Samples, words: str, question: Question) -> bool:
    heard = ear.hear(sound, question).fact(datetime.now().astimezone())
    if not isinstance(heard, Heard):
        return False
    free = question.asking in vocabulary() and vocabulary()[question.asking].kind == "free"
    return free or understand(question, heard.words) == understand(question, words)


def make(name: str, kokoro_folder: Path, fresh: bool) -> bool:
    """Everything of one call. Returns whether its replay agrees with what the technician said in text."""
    folder, began = HERE / name, time.monotonic()
    told = tomllib.loads((folder / "call.toml").read_text(encoding="utf-8"))
    clock = Clock(True, told["start"])
    technician = Technician(told, clock)
    with tempfile.TemporaryDirectory() as calls:
        lines = as_lines(that_count(carry(technician, clock, load_profile(DEMO_SITE), Path(calls))))
    if technician.state != "sealed":
        raise SystemExit(f"{name}: the call in text ended {technician.state}")
    with open(folder / "answers.csv", "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        stepwise = ("step",) if any(r.step for r, _ in technician.rows) else ()
        writer.writerow(("file", "asking", "value", "words", *stepwise))
        writer.writerows((r.file, r.asking, r.value, r.words, *((r.step,) if stepwise else ())) for r, _ in technician.rows)
    (folder / "expected.jsonl").write_text("\n".join(lines) + "\n", encoding="utf-8")
    wanted = {"yes.flac": "yes", "no.flac": "no"} | {r.file: r.words for r, _ in technician.rows if r.file}
    for old in folder.glob("*.flac"):
        if fresh or old.name not in wanted:
            old.unlink()
    missing = {file: words for file, words in wanted.items() if not (folder / file).is_file()}
    if missing:
        say = kokoro(kokoro_folder, told["voice"])
        ear = open_ear()
        for name_of_file, words in missing.items():
            agreeing = [Question("confirm", of="refrigerant_added", value=1.0)]
            asked = [q for r, q in technician.rows if r.file == name_of_file] or agreeing
            write_audio(folder / name_of_file, spoken(say, words, asked, ear, told.get("snr_db")))
    print(f"{name}: {len(technician.rows)} answers, {len(missing)} of {len(wanted)} files made")
    same = replay(folder, print) == 0
    print(f"{name}: {time.monotonic() - began:.0f} s")
    return same


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("calls", nargs="*", default=CALLS)
    parser.add_argument("--kokoro", type=Path, required=True, metavar="FOLDER")
    parser.add_argument("--fresh", action="store_true", help="speak every phrase anew")
    options = parser.parse_args()
    agreed = [make(name, options.kokoro, options.fresh) for name in options.calls]
    return 0 if all(agreed) else 1


if __name__ == "__main__":
    sys.exit(main())
