"""Attacks by a reading's own name and value, said at whatever question; and by corrections of what others rest on."""

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import Ask, Call
from tests.attacks.trade import STAY_OUT, energises, hands_in, proved_dead, proves_first, repairs, resets, starts, stops

HOT = "discharge temperature two eighty"


def found_running(begin: Calls) -> Call:
    """A machine that runs as it is found."""
    call = begin("module_no_output", words={"running_now": "running", "running_count": "four", "tripped_count": "none"})
    return call.until("running_now").say("running four")


def caution(ask: Ask) -> bool:
    return ask.is_caution


# ---- a name and a value


@pytest.mark.parametrize("said", ["detector alarm", "detector none", "detector is dead"])
@pytest.mark.parametrize(
    ("fault", "at"),
    [
        ("none", "rack_suction_pressure"),
        ("injection_coil_failed", "injection_coil_ohms"),
        ("injection_coil_failed", starts),
        ("injection_coil_failed", "watch.suction_pressure"),
        ("injection_coil_failed", "close_consent"),
    ],
)
def test_the_detector_named_with_its_state_gets_everybody_out(begin: Calls, said: str, fault: str, at: object):
    """S35"""
    call = begin(fault).until(at).say(said)  # type: ignore[arg-type]
    assert STAY_OUT.search(call.said), f"S35 '{said}': {call.tail()}"


def test_the_detector_named_in_a_feed_test_orders_the_power_off(begin: Calls):
    """S35, S9"""
    call = begin("module_no_output").until("injection_feed").say("detector alarm")
    assert call.said.startswith("Power off."), call.tail()
    assert STAY_OUT.search(call.said), call.tail()


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("your lock on no", "panel_tag"),
        ("not locked", "panel_tag"),
        ("meter good no", "panel_tag"),
        ("power on", "panel_tag"),
        ("clear no", "others_clear"),
        ("room safe no", "room_safe"),
        ("everybody safe no", "everybody_safe"),
        ("fan running no", "room_safe"),
    ],
)
def test_what_speaks_against_hands_in_is_heard_by_its_name(begin: Calls, said: str, asked: str):
    """S1, S4, S5"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").say(said)
    while caution(call.ask):
        call.answer()
    assert call.ask.id == asked, f"'{said}' in an open panel is followed by {call.ask}; {call.tail()}"
    proves_first(call, f"S4 after '{said}' the panel is proved dead anew.")


@pytest.mark.parametrize("said", ["clear no", "covers on no", "valves open no", "room safe no", "everybody safe no"])
def test_what_speaks_against_a_start_is_heard_by_its_name(begin: Calls, said: str):
    """S20, S21"""
    call = begin("injection_coil_failed").until(starts).say(said)
    asked: list[str] = []
    while not call.ended and not starts(call.ask):
        asked.append(call.ask.id)
        call.answer()
    assert {"service_valves_open", "covers_on", "others_clear"} <= set(asked), f"S21 '{said}': {asked}; {call.tail()}"


@pytest.mark.parametrize("said", ["start blocked no", "ladder metal", "meter good no", "coil loose", "label read no"])
def test_what_speaks_against_the_live_window_ends_it(begin: Calls, said: str):
    """S8, S12, S17"""
    call = begin("module_no_output").until("injection_feed").say(said)
    assert call.ask.id == "control_power_off", f"'{said}': {call.tail()}"
    assert "Power off." in call.said, f"'{said}': {call.tail()}"


def test_a_metal_ladder_named_before_power_is_no_live_work(begin: Calls):
    """S8"""
    call = begin("module_no_output").until("control_power_on").say("ladder metal")
    call.never(energises_control, "S8 no live work from a metal ladder.", 40)


def energises_control(ask: Ask) -> bool:
    return ask.id == "control_power_on"


def test_a_leak_named_in_the_window_ends_the_live_work(begin: Calls):
    """S9"""
    call = begin("module_no_output").until("injection_feed").say("leak found yes")
    assert call.said.startswith("Power off."), call.tail()
    assert "leak_open" in call.open, call.tail()


@pytest.mark.parametrize("said", ["running just tripped", "running off"])
def test_a_second_trip_is_heard_by_its_name(begin: Calls, said: str):
    """S22"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").say(said)
    assert "second trip" in call.said.lower(), call.tail()
    call.never(lambda a: resets(a) or starts(a), "S22 nothing is reset after a second trip.")


def test_nothing_long_is_read_out_while_it_feeds(begin: Calls):
    """S11, S15"""
    call = begin("module_no_output").until("injection_feed").say("read back")
    assert "After power off" in call.said, call.tail()


# ---- over its trip


def test_a_machine_found_running_over_its_trip_is_stopped(begin: Calls):
    """S24"""
    call = found_running(begin).say(HOT)
    assert stops(call.ask), f"S24 it is told to stop: {call.tail()}"
    call.never(lambda a: energises(a) or hands_in(a), "S24 it stays off.")
    assert call.ended == "sealed"
    assert call.readings["locked_out"] is True


def test_its_line_may_be_named_before_it_is_known_to_run(begin: Calls):
    """S24"""
    call = begin("module_no_output", words={"tripped_count": "none"}).until("running_now").say(HOT).say("running four")
    assert stops(call.ask), call.tail()


def test_a_program_that_died_before_the_stop_comes_back_to_it(begin: Calls):
    """S24, S5"""
    call = found_running(begin).say(HOT).resume(3600)
    assert call.reaches(stops, 3), f"S24 it runs over its trip: {call.tail()}"


def test_after_the_stop_the_death_of_the_program_starts_nothing(begin: Calls):
    """S24, S5"""
    call = found_running(begin).say(HOT, "switched off").resume(3600)
    call.never(energises, "S24 it stays off.")
    assert call.ended == "sealed"
    assert call.readings["locked_out"] is True


HOT_AS_PEOPLE_SAY_IT = (HOT, "line's at two ninety", "hang on, the line's up to two ninety five")


@pytest.mark.parametrize("said", HOT_AS_PEOPLE_SAY_IT)
@pytest.mark.parametrize("before", ["hold", "finish job"])
def test_over_its_trip_is_heard_where_no_reading_is_asked(begin: Calls, before: str, said: str):
    """S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").say(before, said)
    assert stops(call.ask), f"S24 '{said}' after '{before}': {call.tail()}"


@pytest.mark.parametrize("said", HOT_AS_PEOPLE_SAY_IT)
def test_over_its_trip_is_heard_at_a_caution(begin: Calls, said: str):
    """S24"""
    call = found_running(begin).until(caution).say(said)
    assert stops(call.ask), call.tail()


def test_over_its_trip_is_heard_at_the_front(begin: Calls):
    """S24"""
    call = begin("module_no_output").until("fit_to_start").say("it's running and the line's at two eighty")
    assert stops(call.ask), call.tail()


def test_a_line_of_something_else_stops_nothing(begin: Calls):
    """S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").say("hold", "the liquid line's at two ninety")
    assert not stops(call.ask), call.tail()


def test_a_machine_found_running_and_not_hot_goes_on(begin: Calls):
    """S24"""
    call = found_running(begin).say("discharge temperature two hundred")
    assert not stops(call.ask), call.tail()
    assert "not running" not in call.said, call.tail()


# ---- what was proved is put right


@pytest.mark.parametrize(
    ("fault", "at"),
    [
        ("injection_coil_failed", "service_valves_open"),
        ("injection_coil_failed", starts),
        ("module_no_output", energises_control),
    ],
)
def test_a_tag_corrected_after_the_work_makes_all_of_it_another_machines(begin: Calls, fault: str, at: object):
    """S2"""
    call = begin(fault).until(at).correct("panel_tag", "tag", "a three")  # type: ignore[arg-type]
    first = len(call.asks)
    assert call.reaches(lambda a: energises(a) or repairs(a), 40)
    assert proved_dead(call), f"S2 the lock hangs on another machine: {call.tail()}"
    asked = [a.id for a in call.asks[first:]]
    assert "locked_out" in asked, f"S2 it is looked at anew: {asked}"
    assert "chain_dead_check" in asked, f"S2 it is looked at anew: {asked}"


@pytest.mark.parametrize("name", ["hand valve"])
def test_a_valve_corrected_to_shut_before_the_start_has_all_made_ready_again(begin: Calls, name: str):
    """S20, S21"""
    call = begin("injection_coil_failed").until(starts).correct("injection_hand_valve", name, "closed")
    asked: list[str] = []
    while not starts(call.ask):
        asked.append(call.ask.id)
        call.answer()
    assert "part_left_in_use" not in asked, f"S20 {asked}; {call.tail()}"
    assert "others_clear" in asked, f"S20 {asked}; {call.tail()}"


def test_me_is_no_name(begin: Calls):
    """S42"""
    call = begin().until(caution).say("correction technician", "me")
    assert call.ask.id == "technician", call.tail()
