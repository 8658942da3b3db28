"""An hour of room noise and an hour of colleagues talking, faster than real time through the same chain.

    python -m tests.bench.hours [--minutes 60] [--asking suction_pressure] [--one-ear]

The room is a machine room's noise at changing levels, with doors and relays; the colleagues are the voice's own
speakers at changing distance, talking shop. Every block goes through the listener of a live call. Prints what would
have counted as an answer or a command; the call stays where it was when nothing did.
"""

import argparse
import time

import numpy as np

from assistant.fronts.turn import Turn
from assistant.hearing.model import model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.meaning import Question
from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.voice import Voice
from tests.sound.test_tones import machine_room

BLOCK = 160
TALK = (
    "Did you see the game last night?", "I left the truck behind the store.", "We still need to order the filters for Tuesday.",
    "He said they would send somebody in the morning.", "That thing was making the same noise last week.",
    "Put the boxes over there by the door, please.", "My wife called, the car will not start again.",
    "Are you coming to lunch, or do you want us to bring you something?", "The manager wants the ice cream aisle done first.",
    "It always goes down when it gets hot outside.", "There is water all over the floor back there.",
    "I told him not to touch the thermostat.", "Watch your step, it is slippery.", "Can somebody turn the music down?",
)  # fmt: skip
VOICES = ("gmw/en", "gmw/en-us", "gmw/en-scotland", "gmw/en-gb-x-rp", "gmw/en-029")


def room(seconds: float, seed: int) -> Samples:
    """A minute of a machine room: its level wanders, something bangs now and then."""
    rng = np.random.default_rng(seed)
    count = round(seconds * RATE_HZ)
    level = 10 ** (rng.uniform(-50, -25) / 20) * 32768
    sound = machine_room(seconds, seed)[:count] * level * np.interp(np.arange(count), [0, count], rng.uniform(0.7, 1.4, 2))
    for _ in range(4):
        at, length = int(rng.integers(0, count - RATE_HZ)), int(rng.integers(400, 8000))
        bang = rng.standard_normal(length) * np.exp(-np.arange(length) / (length / 5)) * level * rng.uniform(2, 8)
        sound[at : at + length] += bang
    return np.clip(sound, -32767, 32767).astype(np.int16)


def colleagues(seconds: float, seed: int, said: list[Samples]) -> Samples:
    """A minute of talk, nearer and farther, with a second to four between sentences, in a quiet room."""
    rng = np.random.default_rng(seed)
    count = round(seconds * RATE_HZ)
    sound = rng.normal(0, 20, count)
    at = RATE_HZ
    while at < count - 6 * RATE_HZ:
        one = said[int(rng.integers(len(said)))].astype(np.float64) * 10 ** (rng.uniform(-30, -6) / 20)
        sound[at : at + len(one)] += one[: count - at]
        at += len(one) + int(rng.uniform(1, 4) * RATE_HZ)
    return np.clip(sound, -32767, 32767).astype(np.int16)


def sentences() -> list[Samples]:
    found = []
    for name in VOICES:
        voice = Voice(150, name)
        found += [voice.render(text) for text in TALK]
    return found


def run(name: str, minutes: int, asking: str, ear: Recogniser, said: list[Samples] | None) -> None:
    # The prompt has read back the reading before, as in a call: "no, twelve" would be about that one.
    question = Question(asking, of="discharge_pressure", go_ahead=("done", "ready") if asking == "command" else ())
    ear.prepare(question)
    turn, counted, unclear, began, cpu = Turn(ear, question, None), [], 0, time.monotonic(), time.process_time()
    for minute in range(minutes):
        sound = room(60.0, minute) if said is None else colleagues(60.0, minute, said)
        for at in range(0, len(sound), BLOCK):
            found = turn.feed(sound[at : at + BLOCK])
            if found is None:
                continue
            turn.begin_again()
            if found.status == "unclear":
                unclear += 1
            else:
                counted.append((minute, found.status, found.text))
    wall, spent = time.monotonic() - began, time.process_time() - cpu
    accepted = [one for one in counted if one[1] in ("accepted", "command")]
    print(
        f"{name}, asking {asking}, {minutes} min in {wall:.0f} s ({100 * spent / (60 * minutes):.1f} % of a core in real time): "
        f"{len(accepted)} counted, {len(counted) - len(accepted)} asked back, {unclear} 'say again'",
        flush=True,
    )
    for one in counted:
        print("   minute {} {}: {}".format(*one))


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--minutes", type=int, default=60)
    parser.add_argument("--asking", nargs="*", default=["suction_pressure", "command"])
    parser.add_argument("--one-ear", action="store_true")
    given = parser.parse_args()
    ear = Recogniser(model_folder(), second=not given.one_ear)
    said = sentences()
    for asking in given.asking:
        run("room", given.minutes, asking, ear, None)
        run("colleagues", given.minutes, asking, ear, said)


if __name__ == "__main__":
    main()
