"""What of the dialogue no simulated technician comes to: steps, answers, cautions, obligations.

python -m tests.bench.reached [--more] [--astray 600]

Calls of every scene of the rack with physics of its own, of every fault of the branches and of the simple rack, those in
which what is seldom asked is asked, the recorded calls of the demo, and so many calls of a technician who goes astray. Prints
what none of them reached; `--more` also the answers of the vocabulary that none of them gave. `rackcall procedure check` walks
to every step by itself, and ends with 1 where no call reaches one.
"""

import argparse
import json
from collections.abc import Iterable, Iterator

from assistant.call.facts import CautionGiven, Fact, ObligationOpened, ReadingTaken, StepDone, StepEntered
from assistant.call.procedure import own_procedure
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import cautions
from assistant.paths import data_folder
from tests.astray import Astray
from tests.bench.truth import site_for
from tests.branch_rack import FAULTS, BranchRack
from tests.rig.scenes import SCENES
from tests.rig.technician import Rig
from tests.seldom import SELDOM, seldom_call
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of
from tests.test_faults import FAULTS as SIMPLE

SHARES = (0.1, 0.25, 0.4)
"""Of the turns, how often he goes astray."""


def calls(astray: int) -> Iterator[Iterable[Fact]]:
    """The facts of each simulated call."""
    for scene in SCENES:
        yield _facts(Talk(site_for((scene,), "R22")).to_the_seal(Rig("none", scenes=(scene,))))
    for fault in FAULTS:
        yield _facts(Talk(site_of(fault)).to_the_seal(BranchRack(fault)))
    for fault, *_ in SIMPLE:
        yield _facts(Talk().to_the_seal(Rack(fault)))
    for one in SELDOM.values():
        yield _facts(seldom_call(one))
    for seed in range(astray):
        yield _facts(Astray(seed, SHARES[seed % len(SHARES)]).to_the_seal())


def _facts(talk: Talk) -> list[Fact]:
    return [fact for _, fact in talk.facts]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--more", action="store_true")
    parser.add_argument("--astray", type=int, default=600, help="calls of a technician who goes astray")
    options = parser.parse_args()
    procedure = own_procedure()
    steps, given, opened, answers, number = set(), set(), set(), set(), 0
    for call in calls(options.astray):
        number += 1
        for fact in call:
            match fact:
                case StepEntered(step=step) | StepDone(step=step):
                    steps.add(step)
                case CautionGiven(caution=name):
                    given.add(name)
                case ObligationOpened(id=id_):
                    opened.add(id_)
                case ReadingTaken(id=id_, value=value, step=step):
                    steps.add(step)
                    answers.add((id_, str(value)))
    for file in data_folder("demo_audio").glob("*/expected.jsonl"):
        steps |= {json.loads(line).get("step", "") for line in file.read_text(encoding="utf-8").splitlines()}
    _told("steps", [one.id for one in procedure.steps], steps)
    _told("cautions", cautions(), given)
    _told("obligations", procedure.obligations, opened)
    choices = [(id_, choice) for id_, entry in vocabulary().items() for choice in entry.choices]
    if options.more:
        _told("answers", [f"{id_}: {choice}" for id_, choice in choices], {f"{id_}: {value}" for id_, value in answers})
    else:
        print(f"answers: {sum(one in answers for one in choices)} of {len(choices)} choices given")
    print(f"{number} calls")


def _told(what: str, all_: Iterable[str], reached: set[str]) -> None:
    names = list(all_)
    missing = [name for name in names if name not in reached]
    print(f"{what}: {len(names) - len(missing)} of {len(names)} reached" + (f"; not: {', '.join(missing)}" if missing else ""))


if __name__ == "__main__":
    main()
