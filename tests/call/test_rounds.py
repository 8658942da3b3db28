"""Readings of different moments are never joined (S40): every pair that a verdict rests on is pulled apart in time."""

from copy import copy
from datetime import timedelta
from itertools import combinations

import pytest

from assistant.call.effects import Listen
from assistant.call.facts import Concluded
from assistant.call.judge import BY_TURNS, Judge
from assistant.call.moments import of_a_moment
from assistant.call.state import State
from assistant.fronts.pipe import ask_message
from tests.bench.truth import site_for
from tests.branch_rack import FAULTS, BranchRack
from tests.rig.scenes import SCENES
from tests.rig.technician import Rig
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


def test_what_was_proven_from_a_slip_is_proven_no_more_once_it_is_put_right_after_a_repair_too():
    rack = BranchRack("line fuse open", {"suction_temperature": "eighty six"})
    call = Talk(site_of("line fuse open")).until(rack, "amps_with_the_gas")
    assert "Motor poorly cooled. Proven." in call.said
    call.hear("correction suction temperature", "five")
    assert "Motor poorly cooled. Proven no more." in " ".join(call.spoken)
    rack.words = {"suction_temperature": "five"}
    call.to_the_seal(rack)
    assert call.dialogue.state.conclusions["motor_poorly_cooled"].standing == "suspected"
    assert "poorly cooled" not in call.spoken[-2]


def test_a_further_round_takes_nothing_from_what_an_earlier_round_has_proven():
    scene = next(one for one in SCENES if one.cause == "capacity_control_stuck")
    call = Talk(site_for((scene,), "R22")).to_the_seal(Rig("none", scenes=(scene,)))
    assert call.dialogue.state.conclusions["capacity_control_stuck"].standing == "proven"
    assert "capacity control stuck, proven" in " ".join(call.spoken).lower()


def test_what_was_read_of_the_running_machine_is_not_read_again_once_it_stands():
    fault = "oil control failed"
    call = Talk(site_of(fault)).until(BranchRack(fault), "run_oil").hear("three, eighty", "switched off")
    assert call.asked == "tag:panel_tag"
    held = call.dialogue.state.conclusions.get("oil_pump_worn")
    assert held is None or held.standing not in ("proven", "supported")


def test_a_reading_after_the_stop_is_worked_out_with_none_from_before_it():
    fault = "oil control failed"
    call = Talk(site_of(fault)).until(BranchRack(fault), "run_oil").hear("three, eighty", "switched off")
    call.hear("correction crankcase pressure", "two")
    assert "Net oil one pound" not in " ".join(call.spoken)
    assert call.broken() == ()


def test_a_proof_stands_though_the_last_round_of_the_watch_is_far_from_its_readings():
    scene = next(one for one in SCENES if one.cause == "motor_poorly_cooled")
    rack = Rig("none", scenes=(scene,))
    call = Talk(site_for((scene,), "R22")).until(rack, "watch_last")
    assert call.dialogue.state.conclusions["motor_poorly_cooled"].standing == "proven"
    last = call.effects[-1]
    assert isinstance(last, Listen)
    call.hear(rack.answer(ask_message(last)), after_s=600).hear("yes")
    assert "watch_last" not in call.asked
    assert call.dialogue.state.conclusions["motor_poorly_cooled"].standing == "proven"
