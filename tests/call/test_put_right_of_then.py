"""What is put right long after it was read: it is joined with nothing of then (S40), and nothing stands proven or settled on what
it was before (S41). The project's own calls."""

import pytest

from tests.branch_rack import BranchRack
from tests.talk import Talk
from tests.test_branches import site_of


def _talk(fault: str, step: str, *said: str) -> tuple[Talk, BranchRack]:
    rack = BranchRack(fault)
    return Talk(site_of(fault)).until(rack, step).hear(*said), rack


@pytest.mark.parametrize("step", ["watch_last", "consent"])
@pytest.mark.parametrize("said", ["correction oil pump pressure fourteen", "correction crankcase pressure sixty"])
def test_net_oil_pressure_that_is_put_right_to_too_little_stops_the_machine_however_late(step: str, said: str):
    """Stopped on whichever of the two is true of now; no pump is condemned from two moments."""
    talk, rack = _talk("none at the oil", step, said)
    assert talk.asked == "stop_now:command", talk.said
    talk.to_the_seal(rack)
    assert "locked_out" in talk.dialogue.state.handed_over
    held = talk.dialogue.state.conclusions
    assert "no_fault_found" not in held or held["no_fault_found"].standing == "suspected"
    assert "oil_pump_worn" not in held or held["oil_pump_worn"].standing in ("suspected", "ruled_out")
    assert talk.broken() == ()


@pytest.mark.parametrize(("fault", "said"), [
    ("none at the oil", "correction oil pump pressure sixty"), ("none at the motor", "correction amps line one forty"),
])  # fmt: skip
def test_a_value_whose_reading_is_put_right_long_behind_it_bears_nothing(fault: str, said: str):
    talk, rack = _talk(fault, "consent", said)
    assert talk.dialogue.state.conclusions["no_fault_found"].standing == "suspected"
    talk.to_the_seal(rack)
    assert any("Running, not settled: a reading was put right" in said for said in talk.spoken)
    assert "no_cause_reset" in talk.dialogue.state.handed_over
    assert talk.broken() == ()


def test_a_value_whose_reading_is_put_right_at_once_is_worked_out_anew():
    talk, rack = _talk("none at the oil", "run_oil_holds", "correction oil pump pressure sixty")
    assert "Net oil forty eight" in talk.said
    talk.to_the_seal(rack)
    assert any("Running and settled" in said for said in talk.spoken)


def test_what_is_found_at_the_consent_is_handed_over_as_what_it_is():
    """S41: not as "cause not found" that was left to somebody a moment before."""
    talk, rack = _talk("none at the motor", "consent", "correction starts fourteen")
    assert talk.asked.startswith("hand_over:")
    assert "its cause not repaired" in talk.said
    talk.to_the_seal(rack)
    assert talk.broken() == ()


def test_a_tag_that_is_put_right_with_its_new_name_is_asked_for():
    talk, _ = _talk("oil low", "start", "correction tag a one")
    assert talk.asked == "start:panel_tag"
    talk.hear("a one")
    assert talk.asked == "tag/restart:command"  # what was acknowledged was said of the other's lock
    assert talk.broken() == ()


def test_a_leak_that_was_none_is_handed_to_nobody():
    talk, rack = _talk("charge low", "leak_section", "correction leak found no")
    talk.to_the_seal(rack)
    assert "leak_open" not in talk.dialogue.state.handed_over
    assert talk.broken() == ()
