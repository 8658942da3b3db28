"""What an earlier call left hooked up, shut or locked at the machine is put back in the next one before anything starts."""

from datetime import timedelta

import pytest

from assistant.call.facts import CallOpened
from tests.simulated import Rack
from tests.talk import Talk

ROBIN = "Robin Vale"
HANGS = ["jumper_fitted", "leads_on", "wire_lifted", "start_blocked", "panel_cover", "clamp_left_on", "hose_on", "section_shut",
         "liquid_in_compressor", "valve_closed.discharge", "valve_closed.suction", "valve_closed.injection", "terminal_cover",
         "second_lock", "fan_lock", "locked_out", "liquid_section_closed", "circuit_open", "lock_elsewhere"]  # fmt: skip


def after(*left: str, who: str = ROBIN, at: tuple[str, str] = ("a", "two")) -> Talk:
    there = tuple((*at, id_, who) for id_ in left)
    return Talk(opened=CallOpened("paper", "", "test", left_before=there, technician=ROBIN))


@pytest.mark.parametrize("id_", HANGS)
def test_what_still_hangs_there_is_put_back_before_the_start_and_the_call_comes_to_its_seal(id_: str):
    rack = Rack("injection_coil_failed")
    talk = after(id_).until(rack, "fit")
    assert id_ in talk.open
    talk.until(rack, "start")
    assert id_ not in talk.open
    assert id_ in talk.dialogue.state.cleared
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("id_", HANGS)
def test_no_feed_test_is_made_on_it_and_nothing_starts_with_it(id_: str):
    rack = Rack("none")
    talk = after(id_).to_the_seal(rack)
    assert talk.broken() == ()
    cleared = id_ in talk.dialogue.state.cleared
    assert cleared or (id_ in talk.dialogue.state.handed_over and talk.dialogue.state.started_at is None)


def test_everything_at_once_that_a_call_left_which_was_cut_off():
    rack = Rack("injection_coil_failed")
    talk = after("jumper_fitted", "leads_on", "start_blocked", "panel_cover", "locked_out").until(rack, "anew_lock")
    assert talk.asked == "anew_lock:lock_still_on"
    talk.until(rack, "anew_hooked_up")
    assert "Still hooked up: jumper, meter leads, start block, panel cover off" in talk.said
    talk.until(rack, "start")
    assert not talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("id_", HANGS)
def test_a_machine_that_nothing_tripped_is_not_left_with_it_either(id_: str):
    rack = Rack("not_called")
    talk = after(id_).to_the_seal(rack)
    assert talk.broken() == ()
    assert id_ in {*talk.dialogue.state.cleared, *talk.dialogue.state.handed_over}


def test_what_hangs_at_another_machine_is_not_this_ones():
    rack = Rack("injection_coil_failed")
    talk = after("jumper_fitted", at=("b", "two")).until(rack, "fit")
    assert not talk.open


def test_the_machine_put_right_has_its_own_and_not_the_other_ones():
    talk = after("jumper_fitted", at=("a", "one")).hear("a one", "yes")
    assert "jumper_fitted" in talk.open
    talk.hear("correction compressor", "two", "yes")
    assert talk.readings["compressor"] == "two"
    assert not talk.open
    talk.hear("correction compressor", "one", "yes")
    assert "jumper_fitted" in talk.open
    assert talk.broken() == ()


def test_what_was_handed_over_to_somebody_by_name_is_told_and_stays_his():
    talk = after("part_borrowed", "set_point_changed").until(Rack("injection_coil_failed"), "fit")
    assert not talk.open


def test_a_lock_of_somebody_else_is_waited_for_and_what_hangs_under_it_is_open():
    talk = after("locked_out", "jumper_fitted", who="Kim Ash").hear("a two")
    assert talk.asked == "anew_other_lock:other_lock_gone"
    assert talk.open == {"jumper_fitted"}
    rack = Rack("injection_coil_failed")
    assert talk.until(rack, "start").to_the_seal(rack).broken() == ()


def test_from_outside_a_room_that_nobody_may_enter_it_stays_and_the_store_is_told():
    talk = after("jumper_fitted").until(Rack("none"), "glass").hear("the detector's going off")
    assert talk.asked == "tell_store:store_told"
    talk.hear("done")
    assert talk.dialogue.over
    assert not talk.dialogue.state.sealed
    assert "jumper_fitted" in talk.open


def test_a_call_that_is_cut_off_in_its_turn_forgets_nothing_of_it():
    rack = Rack("injection_coil_failed")
    talk = after("jumper_fitted").until(rack, "glass").kill(timedelta(hours=1).total_seconds())
    assert "jumper_fitted" in talk.open
    assert talk.until(rack, "start").to_the_seal(rack).broken() == ()


def test_a_circuit_that_was_left_open_is_proved_tight_before_any_of_its_valves_is_opened():
    rack = Rack("injection_coil_failed")
    talk = after("circuit_open", "valve_closed.suction", "valve_closed.discharge", "valve_closed.injection", "locked_out")
    asked = []
    while "circuit_open" in talk.open or "circuit_open" not in talk.dialogue.state.cleared:
        talk.hear(talk.words_of(rack))
        asked.append(talk.asked.partition(":")[0])
        assert len(asked) < 120, asked[-5:]
    assert "tight" in asked
    assert not {"open_all_again", "open_discharge_again", "open_suction_again", "open_hand_valve"} & set(asked[:-1])
    assert talk.to_the_seal(rack).broken() == ()
