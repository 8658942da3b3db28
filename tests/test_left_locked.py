"""A machine that is left off stays locked: a lock found off on the way out goes on again before the call closes."""

import pytest

from tests.branch_rack import BranchRack
from tests.talk import Talk
from tests.test_branches import site_of
from tests.test_said_not_safe import standing_at

FOUND_OFF = ("emergency", "continue", "yes", "yes", "the lock is off")


def left_off_and_found(at: str) -> tuple[Talk, BranchRack]:
    rack = BranchRack("low cutout will not hold")
    talk = Talk(site_of(rack.fault)).until(rack, "repair_or_leave").hear("leave it locked").until(rack, at)
    return talk.hear(*FOUND_OFF), rack


@pytest.mark.parametrize("at", ["leave_locked", "to_order", "parts", "tell_store"])
def test_a_lock_found_off_goes_on_again_and_has_an_owner_before_the_call_closes(at: str):
    talk, rack = left_off_and_found(at)
    talk.until(rack, "tag").to_the_seal(rack)
    state = talk.dialogue.state
    assert state.lock.locked
    assert "locked_out" in state.handed_over
    assert "Left locked off. Left for later: your lock, supervisor." in talk.spoken[-2]
    assert talk.broken() == ()


def test_a_lock_found_off_is_asked_for_by_its_tag_even_where_the_call_is_to_be_ended():
    talk, rack = left_off_and_found("leave_locked")
    talk.hear("hand over", "yes")
    assert not talk.dialogue.state.sealed
    assert talk.until(rack, "tag").to_the_seal(rack).dialogue.state.lock.locked


def test_what_was_to_be_left_running_is_no_more_once_it_stands_locked():
    talk = standing_at("injection_coil_failed", "watch_second").hear("finish job", "yes")
    assert "no_cause_reset" in talk.open
    talk.hear("yada bloop fizz whatever", "yes", "switched off", "understood", "a two", "locked", "done", "supervisor")
    talk.hear("none none", "yes")
    assert talk.asked.startswith("consent")
    assert "Stopped, locked and left off. Left for later: your lock, supervisor." in talk.said
    assert talk.hear("yes").dialogue.state.sealed
    assert talk.broken() == ()
