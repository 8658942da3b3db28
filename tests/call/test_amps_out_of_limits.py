"""A machine that draws over its rating, or out of balance, is not settled, whatever else is in order."""

from tests.branch_rack import BranchRack
from tests.test_said_not_safe import standing_at

FAULT = "none at the motor"


def _ends(amps: str) -> str:
    talk, rack = standing_at(FAULT, "run_amps").hear(amps), BranchRack(FAULT)
    for _ in range(60):
        if talk.dialogue.state.sealed:
            break
        says = amps if "line_amps" in talk.asked else "feeding, full" if talk.asked.startswith("watch_injection") else None
        talk.hear(says or talk.words_of(rack))
    assert not talk.broken()
    return " ".join(talk.spoken)


def test_one_leg_far_under_the_others_is_not_settled():
    assert "not settled: its amps are out of limits" in _ends("thirty four, twenty four, thirty three")


def test_balanced_amps_in_their_rating_are_settled():
    said = _ends("twenty four, twenty four, twenty three")
    assert "Running and settled" in said
