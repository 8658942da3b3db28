"""What somebody finds and tells beside an answer: it is noted and not lost, and says nothing that it does not say."""

import pytest

from assistant.call.facts import NoteTaken
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("fault", "step", "said", "found", "then"), [
    ("injection_coil_failed", "machine_look", "all good but one of its wires is rubbing on the bracket, should i note that?",
     "one of its wires is rubbing on the bracket", "phase_monitor"),
    ("injection_coil_failed", "machine_look", "everything's good, but the wire to the valve is chafed, i can see copper",
     "the wire to the valve is chafed, i can see copper", ""),
    ("condenser fouled", "rack_suction", "twelve and three hundred ten, and one fan of the condenser it doesn't turn",
     "one fan of the condenser it doesn't turn", "glass"),
])  # fmt: skip
def test_what_is_found_beside_an_answer_is_noted_and_the_answer_counts(fault: str, step: str, said: str, found: str, then: str):
    talk = standing_at(fault, step).hear(said)
    assert [fact.text for _, fact in talk.facts if isinstance(fact, NoteTaken)] == [found]
    assert talk.said.startswith("Noted.")
    assert talk.asked.startswith(then)


def test_what_is_still_chafed_is_not_repaired_by_a_note():
    talk = standing_at("control fuse blown", "repaired").hear("repaired, but the wire's still chafed")
    assert not any(isinstance(fact, NoteTaken) for _, fact in talk.facts)
    assert talk.asked.startswith("repaired")


@pytest.mark.parametrize("said", [
    "i've found the wire to the injection valve shorted to the bracket, that's what blew it",
    "there's a wire shorted against the frame",
])  # fmt: skip
def test_a_wire_found_shorted_to_metal_is_no_jumper(said: str):
    assert "jumper_fitted" not in standing_at("control fuse blown", "repaired").hear(said).open


@pytest.mark.parametrize("said", [
    "two eighty five, i had it on the wrong range before",
    "twenty eight, no wait, i had it on the wrong range. two eighty five ohms",
])  # fmt: skip
def test_ohms_told_anew_for_a_wrong_range_leave_the_proof_as_it_is(said: str):
    talk = standing_at("injection_coil_failed", "coil").hear(said)
    talk = talk.hear("yes") if talk.asked.endswith("confirm") else talk
    assert talk.readings["injection_coil_ohms"] == 285
    assert talk.asked.startswith("wire_back")


def test_a_timer_hung_in_defrost_off_is_a_stuck_defrost_and_none_that_was_switched_off():
    talk = standing_at("injection_coil_failed", "glass").hear("glass full. defrost stuck, timer's hung in defrost off")
    assert "defrost_disabled" not in talk.open
    assert talk.readings["defrost_state"] == "stuck"
