"""A call at the pace of gloved hands, or cut off for an hour, comes to the same cause as one that is answered at once."""

from pathlib import Path

import pytest

from assistant.call.effects import Listen
from assistant.record.report import page
from assistant.record.story import tell
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

IN_SECONDS = ("power_on", "power_off", "feed")
"""Steps with control power on: nobody takes minutes over those."""
CUT_OFF = [
    ("condenser fouled", "high_air"), ("condenser fouled", "high_fans_called"), ("supply unbalanced", "window_lines"),
    ("wire of the string open", "window_walk_oil"), ("winding grounded", "modules_off"),
    ("winding grounded", "insulation"), ("winding grounded", "insulation_warm"),
]  # fmt: skip


def call(fault: str, answer_s: float = 4, cut_off_at: str = "") -> Talk:
    """A whole call; `cut_off_at` a step it is killed once and taken up again over an hour later."""
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    talk = Talk(site_of(fault) if fault in FAULTS else None)
    for _ in range(200):
        if talk.dialogue.state.sealed:
            return talk
        listen = talk.effects[-1]
        assert isinstance(listen, Listen)
        if listen.step == cut_off_at:
            cut_off_at = ""
            talk.kill(after_s=4000)
            continue
        slow = listen.step not in IN_SECONDS and not listen.step.startswith("window")
        talk.hear(talk.words_of(rack), after_s=answer_s if slow else 4)
    raise AssertionError(f"the call does not end; last asked {talk.asked}")


def causes(talk: Talk) -> set[tuple[str, str]]:
    found = talk.dialogue.state.conclusions.values()
    return {(one.cause, one.standing) for one in found if one.standing in ("proven", "supported")}


@pytest.mark.parametrize("answer_s", [45, 90])
@pytest.mark.parametrize("fault", ["turns backwards", "injection_valve_stuck_closed", "condenser fouled", "air in the system"])
def test_minutes_an_answer_change_neither_the_cause_nor_whether_it_starts(fault: str, answer_s: float):
    at_once, slowly = call(fault), call(fault, answer_s)
    assert causes(slowly) == causes(at_once)
    assert (slowly.dialogue.state.started_at is None) == (at_once.dialogue.state.started_at is None)
    assert slowly.broken() == ()


@pytest.mark.parametrize(("fault", "step"), CUT_OFF, ids=[" at ".join(one) for one in CUT_OFF])
def test_an_hour_s_interruption_costs_no_cause(fault: str, step: str):
    talk = call(fault, cut_off_at=step)
    assert causes(talk) >= causes(call(fault))
    assert talk.broken() == ()


def test_a_reading_too_old_for_the_one_just_taken_is_asked_again_once_and_may_be_left():
    talk = Talk(site_of("condenser fouled")).until(BranchRack("condenser fouled"), "high_air").kill(after_s=4000)
    talk.hear("ninety five")
    assert "different moments" in talk.said
    assert talk.said.endswith("Rack discharge?")
    talk.hear("skip this", "yes")
    assert "Rack discharge?" not in talk.said
    assert "condensing_difference" not in talk.dialogue.state.derived


def test_what_was_asked_again_for_its_age_is_told_in_the_log(tmp_path: Path):
    talk = Talk(site_of("condenser fouled")).until(BranchRack("condenser fouled"), "high_air").kill(after_s=4000)
    talk.hear("ninety five", "three ten")
    assert "too old for what was just read" in page(tell(talk.write(tmp_path / "call")))
