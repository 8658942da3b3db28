"""Whole calls in spoken words, with the real judgement, that are disturbed as chance has it: skip, back, corrections, early
finish, emergencies, long silences, late answers, kills. The monitor of the safety rules watches each to its seal."""

from datetime import datetime, timedelta
from random import Random

import pytest

from assistant.call.effects import Effect, Listen, Record, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened, Fact
from assistant.call.heard import Heard, Silence
from assistant.call.judge import Judge
from assistant.call.procedure import own_procedure
from assistant.fronts.pipe import ask_message
from assistant.language.vocabulary import vocabulary
from assistant.profile import Site
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor
from tests.branch_rack import FAULTS, BranchRack
from tests.planted import deaf_to_corrections
from tests.simulated import Rack
from tests.talk import NOON
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


class Disturbed:
    """One call, with its chance."""

    def __init__(self, site: Site, rack: Rack, seed: int, share: float) -> None:
        self.site, self.rack, self.share = site, rack, share
        self.random = Random(seed)
        self.monitor, self.watched = Monitor(site), Monitor(site).begin()
        self.facts: list[tuple[datetime, Fact]] = []
        self.now = NOON
        self.heard: list[str] = []
        self.dialogue = Dialogue(site, own_procedure(), Judge())
        self.take(self.dialogue.open(NOON, CallOpened("paper", "", "test", technician="Robin Vale")))

    def take(self, effects: list[Effect]) -> None:
        self.effects = list(effects)
        self.facts += [(x.at, x.fact) for x in effects if isinstance(x, Record)]
        self.watched = self.monitor.watch(self.watched, lines(effects), self.now)

    def hear(self, words: str, after_s: float = 4) -> None:
        self.now += timedelta(seconds=after_s)
        self.heard.append(words)
        if not self.dialogue.state.sealed:
            self.take(self.dialogue.receive(Heard(words, self.now)))

    def silence(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)
        self.heard.append(f"({seconds:.0f} s)")
        self.take(self.dialogue.receive(Silence(self.now)))

    def kill(self) -> None:
        """Another program takes the log up."""
        self.heard.append("(killed)")
        self.dialogue = Dialogue(self.site, own_procedure(), Judge())
        self.dialogue.take_up(self.facts)
        self.now += timedelta(minutes=2)
        self.take(self.dialogue.resume(self.now, "killed"))

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
                self.kill()
            case "quiet":
                self.silence(self.random.choice((40, 31 * 60)))
            case "late":
                self.answer(after_s=self.random.choice((45, 32 * 60)))

    def answer(self, after_s: float = 4) -> None:
        last = self.effects[-1]
        if isinstance(last, Wait):
            self.silence(max(0.0, (last.until - self.now).total_seconds()))
        elif isinstance(last, Listen):
            self.hear(self.rack.answer(ask_message(last)), after_s)

    def to_the_seal(self) -> "Disturbed":
        while not self.dialogue.state.sealed and not self.watched.complaints:
            assert len(self.heard) < LONGEST, f"the call does not end: {self.heard[-20:]}"
            if self.random.random() < self.share:
                self.disturb()
            else:
                self.answer()
        return self


def a_call(fault: str, seed: int) -> Disturbed:
    rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    share = Random(seed).choice((0.02, 0.06, 0.15))
    return Disturbed(site_of(fault), rack, seed, share).to_the_seal()


@pytest.mark.parametrize("fault", [*INJECTION, *FAULTS])
def test_a_disturbed_call_comes_to_its_seal_with_no_rule_broken_and_nothing_open(fault: str):
    for seed in range(2):
        call = a_call(fault, seed)
        assert call.watched.complaints == (), call.heard[-12:]
        assert call.dialogue.state.open == {}


def test_a_fault_of_the_dialogue_is_seen_in_a_disturbed_call(monkeypatch: pytest.MonkeyPatch):
    deaf_to_corrections(monkeypatch)
    call = Disturbed(site_of("none at the motor"), BranchRack("none at the motor"), seed=0, share=0.0)
    while call.dialogue.state.step != "windings":
        call.answer()
    call.hear("correction dead on power")
    call.hear("one twenty")
    assert {c.split()[0] for c in call.watched.complaints} == {"S4"}
