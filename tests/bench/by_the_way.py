"""What is said by the way and concerns safety, by sound: heard, asked back, taken for something else, or not taken.

    python -m tests.bench.by_the_way [N] [--snr 10] [--seed 1] [--natural FOLDER --kept FOLDER] [-v]

N of the phrases of `grammars/remarks.jsgf` (all without it), by five voices that the second ear was not trained on, at five kinds
of question. Voices as in `calls`. `-v` prints what was not right.
"""

import argparse
from collections import Counter
from pathlib import Path
from random import Random

from assistant.hearing import recogniser
from assistant.hearing.model import model_folder
from assistant.language.by_the_way import by_the_way
from assistant.language.meaning import Question, Remark
from tests.bench.ears import in_noise, machine_room
from tests.spoken.voices import NATURAL, ROBOTS, Phrases, natural, robots

QUESTIONS = (
    Question("rack_suction_pressure", also=("rack_discharge_pressure",)), Question("command", go_ahead=("locked", "done")),
    Question("sight_glass"), Question("service_valves_open"), Question("dead_volts.power"),
)  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("phrases", type=int, nargs="?", default=len(by_the_way()))
    parser.add_argument("--snr", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--natural", type=Path)
    parser.add_argument("--kept", type=Path)
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    recogniser.LOADED = len(QUESTIONS)
    ear, noise = recogniser.Recogniser(model_folder()), machine_room()
    voices = NATURAL if options.natural else ROBOTS
    spoken = Phrases(natural(options.natural) if options.natural else robots(), options.kept)
    count: Counter[str] = Counter()
    for number, phrase in enumerate(Random(options.seed).sample(list(by_the_way()), options.phrases)):
        question, voice = QUESTIONS[number % len(QUESTIONS)], voices[number // len(QUESTIONS) % len(voices)]
        hearing = ear.hear(in_noise(spoken.of(phrase, voice), options.snr, noise, number), question)
        if not isinstance(hearing.meaning, Remark):
            came = f"not taken, but {hearing.status}"
        elif hearing.meaning == by_the_way()[phrase]:
            came = "asked back" if hearing.status == "confirm" else "heard"
        else:
            came = f"another remark, {hearing.status}"
        count[came] += 1
        if options.v and came not in ("heard", "asked back"):
            print(f"{phrase}, by {voice} at {question.asking}: {came}: {hearing.text}")
    for came, times in count.most_common():
        print(f"{came}: {times} of {options.phrases}")


if __name__ == "__main__":
    main()
