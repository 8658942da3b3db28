"""A straight call from hello to seal: answers, minutes of listening, the share of its words that are cautions, how often one is
acknowledged.

python -m tests.bench.straight_call [--words] [--no-lamp] [FAULT...]

A straight call is one whose technician answers each question as it is asked, with nothing to correct and nothing heard twice.
Listening is the time that the voice takes to speak, at its pace of 160 words a minute; waits and the technician's own words are
not in it. `--words` prints what was said, `--no-lamp` has nothing at the front that says which protection tripped.
"""

import argparse
import contextlib

from assistant.call.effects import Listen, Say
from assistant.call.facts import CautionAcknowledged
from assistant.fronts.loop import WORDS_PER_S
from assistant.fronts.pipe import ask_message
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk

STRAIGHT = (
    "probe_fouled", "injection_coil_failed", "injection_valve_stuck_closed", "module_no_output", "injection_hand_valve_closed",
    "refrigerant_low", "oil low", "oil feed starved", "condenser fouled", "suction filter", "winding open", "line fuse open",
    "control fuse blown", "none at the motor", "none",
)  # fmt: skip


def straight(fault: str, words: bool = False, lamp: bool = True) -> Talk:
    """One call, answered to its seal."""
    shown = {"none": "supply"}.get(FAULTS[fault].contact, FAULTS[fault].contact) if fault in FAULTS else "discharge"
    count = "three" if fault in ("refrigerant_low", "drier_plugged") else "one"
    said = {"protection_shown": f"{shown} {count} two hours"} if lamp else {}
    rack: Rack = BranchRack(fault, said) if fault in FAULTS else Rack(fault, said)
    talk = Talk()
    told = 0
    for _ in range(250):
        for effect in [e for _, effects in talk.history[told:] for e in effects if words and isinstance(e, Say)]:
            print(f"  {effect.purpose[:4]:4} {effect.text}")
        told = len(talk.history)
        if talk.dialogue.state.sealed:
            break
        last = talk.effects[-1]
        assert isinstance(last, Listen)
        said = rack.answer(ask_message(last))
        if words:
            print(f"> [{last.question.asking}] {said}")
        talk.hear(said)
    return talk


def figures(talk: Talk) -> tuple[int, float, float, int]:
    """Answers, seconds of listening, share of the spoken words that are cautions, acknowledgements of cautions."""
    said = [x for _, effects in talk.history for x in effects if isinstance(x, Say)]
    answers = sum(1 for _, effects in talk.history if effects and isinstance(effects[-1], Listen))
    spoken = sum(len(x.text.split()) for x in said)
    warned = sum(len(x.text.split()) for x in said if x.purpose == "caution")
    acknowledged = {at for at, fact in talk.facts if isinstance(fact, CautionAcknowledged)}
    return answers, spoken / WORDS_PER_S, warned / spoken, len(acknowledged)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("fault", nargs="*")
    parser.add_argument("--words", action="store_true")
    parser.add_argument("--no-lamp", action="store_true")
    given = parser.parse_args()
    print(f"{'fault':30} answers  min s  cautions  acknowledged")
    with contextlib.suppress(BrokenPipeError):
        for fault in given.fault or STRAIGHT:
            talk = straight(fault, given.words, not given.no_lamp)
            answers, seconds, share, acknowledged = figures(talk)
            minutes, rest = divmod(round(seconds), 60)
            end = "" if talk.dialogue.state.sealed else "  not sealed"
            print(f"{fault:30} {answers:7}  {minutes}:{rest:02}  {100 * share:7.0f}%  {acknowledged:12}{end}")


if __name__ == "__main__":
    main()
