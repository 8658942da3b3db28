"""What was repaired, and holds, runs on: the call does not stop a machine because its repair proved the cause."""

import pytest

from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_faults import FAULTS as INJECTION
from tests.test_said_not_safe import site_of

STAYS_OFF = {
    "injection_valve_leaking": "liquid is in it", "turns backwards": "two lines are changed",
}  # fmt: skip
"""Repaired, and off at the end for another reason."""


def at_its_end(fault: str) -> Talk:
    return Talk(site_of(fault)).to_the_seal(BranchRack(fault)) if fault in FAULTS else Talk().to_the_seal(Rack(fault))


@pytest.mark.parametrize("fault", [*(name for name, *_ in INJECTION), *FAULTS])
def test_a_machine_that_was_repaired_is_left_running(fault: str):
    talk = at_its_end(fault)
    s = talk.dialogue.state
    if s.choice == "repaired" and fault not in STAYS_OFF:
        assert s.started_at is not None
        assert not s.stopped
    assert not talk.broken()
