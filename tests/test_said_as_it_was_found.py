"""A valve that somebody opened before it was looked at was shut: that is the cause, and it is not lost."""

import pytest

from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def at(fault: str, step: str) -> Talk:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return Talk(site_of(fault)).until(rack, step)


@pytest.mark.parametrize("said", [
    "i opened it already", "one was closed, i opened it", "it was closed but i opened it already",
    "the discharge was shut, opened it",
])  # fmt: skip
def test_a_discharge_valve_that_was_opened_already_is_what_tripped_it(said: str):
    talk = at("discharge shut", "high_valves").hear(said)
    assert "Discharge line shut or dropping. Proven." in talk.said
    assert "valve_closed.discharge" in talk.open


@pytest.mark.parametrize("said", ["all open now", "all open, nobody opened it", "all open"])
def test_valves_that_are_open_and_that_nobody_opened_are_open(said: str):
    assert "discharge_restricted" not in at("discharge shut", "high_valves").hear(said).dialogue.state.conclusions


@pytest.mark.parametrize("said", [
    "it was shut, i opened it already", "i opened it already", "hand valve was closed but i opened it",
])  # fmt: skip
def test_a_hand_valve_that_was_opened_already_was_closed_as_found(said: str):
    talk = at("injection_hand_valve_closed", "machine_look").hear(said)
    assert talk.readings["injection_hand_valve"] == "closed"
    assert "head_fan_running" not in talk.readings


@pytest.mark.parametrize("said", ["it is shut", "it is loose"])
def test_what_leads_to_a_word_is_no_yes_to_the_fan(said: str):
    assert "head_fan_running" not in at("injection_hand_valve_closed", "machine_look").hear(said).readings
