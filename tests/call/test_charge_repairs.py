"""Repairs of a whole rack's charge, and of what is opened: what is recovered, and how it is left. The project's own calls."""

import pytest

from tests.branch_rack import BranchRack
from tests.talk import Talk
from tests.test_branches import site_of


def test_a_surplus_is_recovered_through_gauges_and_no_nitrogen_goes_into_a_charged_rack():
    """Common practice: nothing was opened, and what is let in beside the refrigerant is air."""
    rack = BranchRack("overcharged")
    talk = Talk(site_of("overcharged")).until(rack, "recover_charge")
    assert "valves" in talk.dialogue.state.acknowledged
    assert "Gauges and recovery cylinder" in talk.said
    talk.to_the_seal(rack)
    assert not any("Nitrogen" in said for said in talk.spoken)
    assert "hose_on" in talk.dialogue.state.cleared
    assert talk.broken() == ()


@pytest.mark.parametrize("fault", ["high cutout opens early", "oil control failed"])
def test_a_control_in_the_gas_is_opened_only_behind_a_recovery(fault: str):
    """S31: isolated, what it holds recovered and weighed, at zero; nothing is vented to get there."""
    rack = BranchRack(fault)
    talk = Talk(site_of(fault)).to_the_seal(rack)
    steps = [getattr(effects[-1], "step", "") for _, effects in talk.history]
    if "at_zero" in steps:
        assert "recover" in steps[: steps.index("at_zero")]
    assert talk.broken() == ()


def test_a_control_that_will_not_hold_is_isolated_recovered_and_at_zero_before_it_is_replaced():
    rack = BranchRack("high cutout will not hold")
    talk = Talk(site_of("high cutout will not hold"))
    steps: list[str] = []
    while "at_zero" not in steps:
        steps.append(talk.asked.split(":")[0])
        talk.hear(talk.words_of(rack))
    assert steps.index("isolate") < steps.index("recover") < steps.index("at_zero")


def test_a_head_that_is_too_high_with_nothing_found_behind_it_runs_watched_and_is_left_to_somebody():
    """S41: proven, neither repaired nor handed over, it is not settled."""
    rack = BranchRack("air suspected")
    talk = Talk(site_of("air suspected")).until(rack, "start").hear("started")
    assert talk.asked.startswith("run_head:"), talk.said
    talk.to_the_seal(rack)
    assert "no_cause_reset" in talk.dialogue.state.handed_over
    assert talk.broken() == ()
