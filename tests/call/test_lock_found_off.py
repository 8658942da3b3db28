"""A lock that is off before its turn goes on again before anybody has his hands at the machine to make it ready."""

import pytest

from tests.simulated import Rack
from tests.talk import Talk


@pytest.mark.parametrize("said", ["the lock is off", "lock's off already", "i took my lock off", "i already took the lock off"])
@pytest.mark.parametrize("step", ["valves", "covers", "clear"])
def test_what_is_made_ready_waits_for_the_lock(step: str, said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, step).hear(said)
    assert "The lock first." in talk.said
    assert talk.asked.startswith("tag")
    talk.until(rack, "lock").until(rack, "valves" if step == "valves" else step)
    assert talk.dialogue.state.lock.locked
    talk.until(rack, "unlock").until(rack, "start")
    assert not talk.dialogue.state.lock.locked
    assert talk.to_the_seal(rack).broken() == ()


def test_before_its_caution_it_waits_for_that():
    talk = Talk().until(Rack("injection_coil_failed"), "clear").hear("all clear").hear("the lock is off")
    assert talk.asked == "unlock/restart:command"


def test_found_off_after_an_interruption_it_goes_on_again_before_the_covers():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "covers").kill(600).until(rack, "anew_lock").hear("no").until(rack, "tag")
    assert talk.asked.startswith("tag")
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["the lock's off", "lock is off"])
def test_a_lock_that_came_off_in_its_turn_stays_off(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "start").hear(said)
    assert talk.asked == "start:command"
    assert talk.kill(60).until(rack, "start").to_the_seal(rack).broken() == ()
