"""What the product makes of a rack that it does not know: which call proves each cause, what it finds, and what it asks for that.

python -m tests.bench.truth [--seeds N] [--causes CAUSE,...] [--doubles N] [--trade-order] [-v]

Prints one line a cause: the call that proves it, or at best supports it, and the questions to the cause and to the seal; then the
share found, what was proven falsely, rules of safety broken, and of two faults at once how often both were found.
"""

import argparse
import csv
import statistics
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random

import assistant.branches
from assistant.call.effects import Listen
from assistant.call.facts import Concluded, ReadingTaken, StepDone, ValueDerived
from assistant.fronts.pipe import ask_message
from assistant.language.vocabulary import vocabulary
from assistant.profile import Site
from tests.rig.scenes import SCENES, Scene, cannot_stand_together
from tests.rig.technician import HOLDS_DEGF, Rig
from tests.talk import Talk
from tests.test_branches import site_of

REFRIGERANTS = ("R22", "R404A", "R507A")
SET_POINTS_PSIG = {"R22": (10.0, 150.0), "R404A": (15.0, 185.0), "R507A": (16.0, 190.0)}
"""Of the suction and of the head's minimum."""
HELD = ("proven", "supported")


@dataclass
class Outcome:
    """One call on one rig."""

    scenes: tuple[Scene, ...]
    standings: dict[str, str]
    """The best standing each cause ever had in the call."""
    asked: set[str]
    to_the_cause: int
    """Answers to the first scene's cause, proven or supported; 0 where it was not found."""
    to_the_seal: int
    sealed: bool
    broken: tuple[str, ...]
    questions: tuple[int, int] = (0, 0)
    """The same two, as the trade counts them: a number that is confirmed counts one, a caution that is acknowledged none."""
    rests_on: dict[str, frozenset[str]] = field(default_factory=dict)
    """The readings and looks that each cause was concluded from: ids, and steps."""

    def found(self, scene: Scene) -> bool:
        held = self.standings.get(scene.cause, "")
        return held in HELD or (scene.best == "suspected" and held == "suspected")

    def asked_for(self, scene: Scene) -> bool:
        """Everything was asked by which a call with this fault alone comes to its cause."""
        alone = call((scene,))
        return alone.found(scene) and alone.rests_on.get(scene.cause, frozenset()) <= self.asked

    @property
    def falsely_proven(self) -> set[str]:
        true = {cause for one in self.scenes for cause in (one.cause, *one.true_too)}
        return {cause for cause, held in self.standings.items() if held == "proven"} - true - {"no_fault_found"}


def site_for(scenes: tuple[Scene, ...], refrigerant: str) -> Site:
    """The demo site, with a rack that these scenes can happen on."""
    special = next((one.site for one in scenes if one.site), "")
    site = site_of(special)
    rack = site.racks[0]
    if special == "other stage":
        return replace(site, racks=(replace(rack, refrigerant="R744"), *site.racks[1:]))
    if special == "oil wrong":
        return site  # its refrigerant is the fault
    holds = HOLDS_DEGF[refrigerant]
    suction, head = SET_POINTS_PSIG[refrigerant]
    rack = replace(
        rack, refrigerant=refrigerant, oil=rack.oil and ("mineral" if refrigerant == "R22" else "ester"),
        suction_set_point_psig=suction, head_minimum_psig=head,
        probe=replace(rack.probe, trip_degf=holds + 35.0, inject_degf=holds),
    )  # fmt: skip
    return replace(site, racks=(rack, *site.racks[1:]))


def call(scenes: tuple[Scene, ...], seed: int = 0, refrigerant: str = "R22", verbose: bool = False,
         chosen: bool = True) -> Outcome:  # fmt: skip
    """One call from hello to seal.

    Args:
        scenes: what is wrong with the rack.
        seed: of the meters' errors and the wordings.
        refrigerant: what the rack holds.
        verbose: print what is said.
        chosen: looks are ordered by what they tell, and passed over where they tell nothing; else the trade's order.
    """
    rig, talk = Rig("none", scenes=scenes, seed=seed, refrigerant=refrigerant), Talk(site_for(scenes, refrigerant))
    talk.dialogue.course.chosen = chosen
    answers, at_cause, asked_so_far, asked_at_cause = 0, 0, 0, 0
    while not talk.dialogue.state.sealed and answers < 300:
        last = talk.effects[-1]
        if not isinstance(last, Listen):
            break
        rig.found = {one.cause for one in talk.dialogue.state.conclusions.values() if one.standing in HELD}
        said = rig.answer(ask_message(last))
        if verbose:
            print(f"   {last.step}: {talk.said[-150:]}  > {said}")
        talk.hear(said)
        answers += 1
        asked_so_far += last.question.asking != "confirm" and "/" not in last.step
        held = talk.dialogue.state.conclusions.get(scenes[0].cause)
        if not at_cause and held and held.standing in HELD:
            at_cause, asked_at_cause = answers, asked_so_far
    asked = {fact.id for _, fact in talk.facts if isinstance(fact, ReadingTaken)}
    asked |= {fact.step for _, fact in talk.facts if isinstance(fact, StepDone)}
    counted, sealed = (asked_at_cause, asked_so_far), talk.dialogue.state.sealed
    return Outcome(scenes, standings(talk), asked, at_cause, answers, sealed, talk.broken(), counted, rests_on(talk))


RANK = {"ruled_out": 0, "suspected": 1, "supported": 2, "proven": 3}


def standings(talk: Talk) -> dict[str, str]:
    """The best standing that each cause had in a call."""
    best: dict[str, str] = {}
    for _, fact in talk.facts:
        if isinstance(fact, Concluded) and RANK[fact.standing] >= RANK[best.get(fact.cause, "ruled_out")]:
            best[fact.cause] = fact.standing
    return best


def rests_on(talk: Talk) -> dict[str, frozenset[str]]:
    """The readings and looks that each cause was last concluded from: ids, and steps."""
    from_ids = {fact.id: fact.source for _, fact in talk.facts if isinstance(fact, ValueDerived)}
    looks = {told: fact.step for _, fact in talk.facts if isinstance(fact, StepDone) for told in fact.establishes}
    known = {*vocabulary(), *looks.values()}
    return {
        fact.cause: frozenset(i for name in fact.evidence for i in from_ids.get(name, (looks.get(name, name),)) if i in known)
        for _, fact in talk.facts
        if isinstance(fact, Concluded) and fact.standing in HELD
    }


def doubles(number: int, seed: int) -> Iterator[tuple[Scene, Scene, str]]:
    """Pairs of faults by chance, until `number` of them stand together; the others with the reason why they do not."""
    chance = Random(seed)
    alone = ("no_fault_found", "after_defrost", "upper_stage_down")
    own_rack = ("turns backwards", "drive fault", "oil wrong", "lead to the motor broken")
    whole = [one for one in SCENES if one.cause not in alone and one.site not in own_rack]
    while number:
        first, second = chance.sample(whole, 2)
        if first.cause == second.cause:
            continue
        reason = cannot_stand_together(first, second)
        number -= not reason
        yield first, second, reason


def causes() -> list[str]:
    file = Path(assistant.branches.__file__).parent / "causes.csv"
    with file.open(encoding="utf-8") as rows:
        return [row["id"] for row in csv.DictReader(rows)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=1)
    parser.add_argument("--causes", default="")
    parser.add_argument("--doubles", type=int, default=0)
    parser.add_argument("--trade-order", action="store_true", help="print the figures with the trade's order too")
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    wanted = set(options.causes.split(",")) - {""}
    singles: list[Outcome] = []
    for scene in SCENES if options.doubles == 0 or wanted else ():
        if wanted and scene.cause not in wanted:
            continue
        for seed in range(options.seeds):
            refrigerant = REFRIGERANTS[seed % len(REFRIGERANTS)]
            one = call((scene,), seed, refrigerant, options.v)
            singles.append(one)
            how = one.standings.get(scene.cause, "-")
            note = f" FALSE {sorted(one.falsely_proven)}" if one.falsely_proven else ""
            note += f" BROKEN {one.broken}" if one.broken else ""
            note += "" if one.sealed else " NOT SEALED"
            mark = " " if one.found(scene) else "!"
            where = scene.site or scene.part if scene.part != "none" or scene.site else scene.fault.contact
            print(f"{mark} {scene.cause:30} {how:10} {refrigerant:6} {one.to_the_cause:3} {one.to_the_seal:3}  {where}{note}")
    if singles:
        _figures(singles)
        if options.trade_order:
            print("in the trade's order, nothing passed over:")
            _figures([call((s,), n, REFRIGERANTS[n % 3], chosen=False) for s in SCENES for n in range(options.seeds)])
        print("no scene:", ", ".join(sorted(set(causes()) - {s.cause for s in SCENES})) or "none")
    if options.doubles:
        _doubles(options.doubles)


def _doubles(number: int) -> None:
    both = asked = 0
    for n, (first, second, reason) in enumerate(doubles(number, 11)):
        names = f"{first.cause} and {second.cause}"
        if reason:
            print(f"   {names}: left out, {reason}")
            continue
        one = call((first, second), n)
        marks = [one.found(s) or one.asked_for(s) for s in one.scenes]
        both += all(one.found(s) for s in one.scenes)
        asked += all(marks)
        print("".join("+" if one.found(s) else "?" if one.asked_for(s) else "-" for s in one.scenes),
              names, sorted(one.falsely_proven) or "", one.broken or "")
    print(f"both of two faults found in {both} of {number}; found or the second asked for in {asked}")


def _figures(singles: list[Outcome]) -> None:
    found = [one for one in singles if one.found(one.scenes[0])]
    timed = [one.to_the_cause for one in found if one.to_the_cause]
    false, broken = (sum(map(bool, ones)) for ones in ([o.falsely_proven for o in singles], [o.broken for o in singles]))
    share = f"{100 * len(found) / len(singles):.0f} %"
    print(f"found {len(found)} of {len(singles)} ({share}), falsely proven {false}, rules broken {broken}")
    print(f"median answers to the cause {statistics.median(timed or [0]):.0f}, "
          f"to the seal {statistics.median(one.to_the_seal for one in singles):.0f}")
    to_cause = [one.questions[0] for one in found if one.to_the_cause]
    print(f"median questions to the cause {statistics.median(to_cause or [0]):.0f}, "
          f"to the seal {statistics.median(one.questions[1] for one in singles):.0f} (cautions and confirmations not counted)")


if __name__ == "__main__":
    main()
