"""Calls of a technician who goes astray come to their seal, and no rule of safety is broken on the way."""

import pytest

from tests.astray import Astray

SHARES = (0.05, 0.15, 0.3)
BROKE_ONCE = (1061, 1418, 1484, 1487, 1898, 1985, 2072, 2091, 3442, 61058)
"""Of 2,800 calls, those that broke off or a rule, the program's or the monitor's, when they were first made."""


@pytest.mark.parametrize(("seed", "share"), [
    *((seed, SHARES[seed // 15]) for seed in range(45)), *((seed, SHARES[seed % 3]) for seed in BROKE_ONCE),
])  # fmt: skip
def test_a_call_that_goes_astray_ends_and_breaks_no_rule(seed: int, share: float):
    call = Astray(seed, share)
    assert call.to_the_seal().broken() == (), call.turns[-12:]
    assert not call.talk.dialogue.state.sealed or call.talk.open == set()


def test_a_call_that_goes_astray_finds_a_fault_of_the_program(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("assistant.call.lock.Lock.off", lambda lock: lock)  # a lock that comes off ends no proof
    broken = {rule.split()[0] for seed in range(30, 60) for rule in Astray(seed, 0.3).to_the_seal().broken()}
    assert broken & {"S1", "S4", "S5", "S37"}
