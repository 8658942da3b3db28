"""Whole calls in spoken words, with the real judgement, that are disturbed as chance has it: skip, back, corrections, early
finish, emergencies, long silences, late answers, kills. The monitor of the safety rules watches each to its seal."""

from random import Random
from typing import Self

import pytest

from assistant.call.effects import Effect, Listen, Wait
from assistant.call.heard import Heard, Silence, Unclear
from assistant.language.vocabulary import vocabulary
from assistant.profile import Site
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor
from tests.branch_rack import FAULTS, BranchRack
from tests.planted import deaf_to_corrections
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

INJECTION = ("none", "injection_coil_failed", "injection_wiring_open", "module_no_output", "module_no_supply", "probe_fouled",
             "injection_valve_leaking", "injection_valve_stuck_closed", "injection_strainer_plugged", "refrigerant_low",
             "injection_hand_valve_closed", "injection_coil_loose")  # fmt: skip
WORSE = {
    "dead_volts.power": "one twenty", "dead_volts.control": "one twenty", "panel_tag": "a three", "injection_feed": "feeding",
    "injection_after": "feeding", "coil_seated": "loose", "injection_hand_valve": "closed", "shell_pressure": "five inches",
    "ground_megohms": "point two", "control_fuse": "blown", "oil_level": "foaming", "switch_position": "hand",
    "ladder_kind": "metal", "crankcase_temperature": "thirty", "chain_dead_check": "contact one", "compressor": "three",
}  # fmt: skip
"""What a reading is corrected to, so that less may be done."""
LONGEST = 900


class Disturbed(Talk):
    """One call, with its chance."""

    waits_by_itself = False

    def __init__(self, site: Site, rack: Rack, seed: int, share: float) -> None:
        self.rack, self.share = rack, share
        self.random = Random(seed)
        self.monitor, self.watched = Monitor(site), Monitor(site).begin()
        self.turns: list[str] = []
        super().__init__(site)

    def _take(self, effects: list[Effect]) -> None:
        self.watched = self.monitor.watch(self.watched, lines(effects), self.now)
        super()._take(effects)

    def receive(self, heard: Heard | Unclear | Silence) -> Self:
        self.turns.append(heard.words if isinstance(heard, Heard) else f"(to {heard.at:%H:%M:%S})")
        return self if self.dialogue.state.sealed else super().receive(heard)

    def disturb(self) -> None:
        kind = self.random.choice(("skip", "back", "correct", "correct", "emergency", "finish", "kill", "quiet", "late"))
        if kind == "finish" and self.random.random() < 0.8:
            kind = "late"
        match kind:
            case "skip":
                self.hear("skip this")
                self.hear("yes")
            case "back":
                self.hear("go back")
                self.hear("yes")
            case "correct":
                on_record = [i for i in WORSE if i in self.dialogue.state.readings]
                if on_record:
                    id_ = self.random.choice(on_record)
                    self.hear(f"correction {vocabulary()[id_].say}")
                    self.hear(self.random.choice((WORSE[id_], "never mind")))
            case "emergency":
                self.hear("emergency")
                self.hear("continue")
            case "finish":
                self.hear("finish job")
                self.hear("yes")
            case "kill":
                self.turns.append("(killed)")
                self.kill(after_s=120)
            case "quiet":
                self.wait(self.random.choice((40, 31 * 60)))
            case "late":
                self.answer(self.random.choice((45, 32 * 60)))

    def answer(self, after_s: float = 4) -> None:
        last = self.effects[-1]
        if isinstance(last, Wait):
            self.wait(max(0.0, (last.until - self.now).total_seconds()))
        elif isinstance(last, Listen):
            self.hear(self.words_of(self.rack), after_s=after_s)

    def until_sealed(self) -> Self:
        while not self.dialogue.state.sealed and not self.watched.complaints:
            assert len(self.turns) < LONGEST, f"the call does not end: {self.turns[-20:]}"
            if self.random.random() < self.share:
                self.disturb()
            else:
                self.answer()
        return self


def a_call(fault: str, seed: int) -> Disturbed:
    rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    share = Random(seed).choice((0.02, 0.06, 0.15))
    return Disturbed(site_of(fault), rack, seed, share).until_sealed()


@pytest.mark.parametrize("fault", [*INJECTION, *FAULTS])
def test_a_disturbed_call_comes_to_its_seal_with_no_rule_broken_and_nothing_open(fault: str):
    for seed in range(2):
        call = a_call(fault, seed)
        assert call.watched.complaints == (), call.turns[-12:]
        assert call.dialogue.state.open == {}


@pytest.mark.parametrize(("fault", "seed"), [
    ("turns backwards", 53487), ("air in the system", 53573), ("injection_valve_stuck_closed", 60595),
])  # fmt: skip
def test_a_disturbed_call_that_broke_a_rule_once_breaks_none(fault: str, seed: int):
    """S23: a lock said to be on was on since then; S33: a standing pressure is not read again by the way; S31: what was opened
    for one cause is proved tight whatever cause stands since."""
    assert a_call(fault, seed).watched.complaints == ()


def test_a_fault_of_the_dialogue_is_seen_in_a_disturbed_call(monkeypatch: pytest.MonkeyPatch):
    deaf_to_corrections(monkeypatch)
    call = Disturbed(site_of("none at the motor"), BranchRack("none at the motor"), seed=0, share=0.0)
    while call.dialogue.state.step != "windings":
        call.answer()
    call.hear("correction dead on power")
    call.hear("one twenty")
    assert {c.split()[0] for c in call.watched.complaints} == {"S4"}
