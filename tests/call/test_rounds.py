"""Readings of different moments are never joined (S40): every pair that a verdict rests on is pulled apart in time."""

from copy import copy
from datetime import timedelta
from itertools import combinations

import pytest

from assistant.call.facts import Concluded
from assistant.call.judge import BY_TURNS, Judge
from assistant.call.known import of_a_moment
from assistant.call.state import State
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of
from tests.test_faults import FAULTS as INJECTION

RESTS_ON_TWO = {"poorly cooled", "discharge drops when it runs", "overloaded"}
"""Faults whose verdict certainly rests on several readings of one moment."""


def _rests_on(s: State, fact: Concluded) -> set[str]:
    return {i for name in fact.evidence for i in (s.derived[name].source if name in s.derived else (name,))}


def _judged_again(s: State) -> dict[str, str]:
    """What the readings on record mean, judged as if nothing had been worked out yet."""
    twin = copy(s)
    twin.derived, twin.conclusions, twin.not_computed, twin.case = {}, {}, {}, None
    return {fact.cause: fact.standing for fact in Judge()(twin) if isinstance(fact, Concluded)}


@pytest.mark.parametrize("fault", [*FAULTS, *(fault for fault, *_ in INJECTION)])
def test_a_verdict_whose_readings_are_pulled_apart_falls(fault: str):
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    talk = Talk(site_of(fault) if fault in FAULTS else None).to_the_seal(rack)
    s = talk.dialogue.state
    pulled = 0
    for one in list(s.conclusions.values()):
        if one.standing not in ("proven", "supported") or one.cause in BY_TURNS or s.choice:
            continue
        for first, second in combinations(sorted(i for i in _rests_on(s, one) if of_a_moment(i) and i in s.taken_at), 2):
            pulled += 1
            before = s.taken_at[first]
            s.taken_at[first] = s.taken_at[second] - timedelta(hours=3)
            assert _judged_again(s).get(one.cause) not in ("proven", "supported"), (one.cause, first, second)
            s.taken_at[first] = before
    assert pulled or fault not in RESTS_ON_TWO
