"""Hours in which nobody watched the running machine: what was read before them does not stand for it."""

import pytest

from tests.simulated import Rack
from tests.talk import Talk

HOURS_S = 10 * 3600.0


def at(step: str) -> tuple[Rack, Talk]:
    rack = Rack("injection_coil_failed")
    return rack, Talk().until(rack, step)


def test_a_consent_that_is_hours_old_is_asked_for_behind_another_round():
    rack, talk = at("consent")
    talk.kill(HOURS_S)
    assert talk.asked == "watch_last:watch.suction_pressure"
    assert "Six twenty five minutes." in talk.said
    talk.hear("ten two ten two hundred twenty three")
    assert not talk.dialogue.state.sealed
    talk.until(rack, "consent")
    assert "Running and settled." in talk.said


def test_a_pause_of_hours_at_the_consent_is_no_other():
    _, talk = at("consent")
    talk.hear("close it", after_s=9000)
    assert talk.asked == "watch_last:watch.suction_pressure"


def test_one_round_after_hours_settles_nothing_by_itself():
    rack, talk = at("watch_last")
    talk.kill(HOURS_S).hear("ten two ten two hundred twenty three").until(rack, "watch_fourth")
    assert talk.asked == "watch_fourth:watch.suction_pressure"


@pytest.mark.parametrize(("step", "minutes"), [("watch_first", "Six oh five"), ("watch_second", "Six ten")])
def test_the_watch_says_how_long_the_machine_has_really_run(step: str, minutes: str):
    _, talk = at(step)
    talk.kill(HOURS_S)
    assert f"{minutes} minutes." in talk.said


def test_the_rounds_that_are_left_keep_their_distance():
    _, talk = at("watch_second")
    talk.kill(HOURS_S)
    asked = talk.now
    talk.hear("ten two ten")
    assert (talk.now - asked).total_seconds() == pytest.approx(15 * 60, abs=30)


def test_a_short_interruption_has_no_round_read_twice():
    _, talk = at("consent")
    talk.kill(600)
    assert talk.asked == "consent:close_consent"


def test_the_log_of_such_a_call_gives_the_same_state_again():
    _, talk = at("consent")
    talk.kill(HOURS_S).hear("ten two ten two hundred twenty three")
    before = (talk.asked, talk.dialogue.state.watch_late_minutes)
    talk.kill()
    assert (talk.asked, talk.dialogue.state.watch_late_minutes) == before
