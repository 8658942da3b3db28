"""Attacks by putting a reading right, or adding one, after what rests on it was done: before power, a start, on the run."""

from datetime import timedelta

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import START, Ask, Call
from tests.attacks.trade import hands_in, lets_run, proved_dead, repairs, resets, starts, stops


def power_on(ask: Ask) -> bool:
    return ask.id == "control_power_on"


def asked_until(call: Call, wanted: object, limit: int = 40) -> list[str]:
    """The ids that are asked before that."""
    first = len(call.asks) - 1
    assert call.reaches(wanted, limit), call.tail()  # type: ignore[arg-type]
    return [ask.id for ask in call.asks[first:-1]]


# ---- before power


@pytest.mark.parametrize("volts", ["two oh eight", "twenty"])
def test_volts_put_right_before_power_have_the_panel_proved_again(begin: Calls, volts: str):
    """S2, S4, S5"""
    call = begin("module_no_output").until(power_on).correct("dead_volts.power", "dead on power", volts)
    assert call.reaches(power_on, 30), call.tail()
    assert proved_dead(call), f"S4 {volts} volts: {call.tail()}"


@pytest.mark.parametrize("said", ["running running", "it's running"])
def test_a_machine_that_runs_with_the_lock_on_was_not_the_one_that_was_worked_on(begin: Calls, said: str):
    """S2"""
    call = begin("module_no_output").until(power_on).tell(said)
    asked = asked_until(call, power_on, 60)
    assert {"panel_tag", "dead_volts.power", "chain_dead_check", "start_prevented"} <= set(asked), f"S2 {asked}"
    assert proved_dead(call), call.tail()


def test_a_fan_put_right_to_stopped_has_everybody_out(begin: Calls):
    """S35"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").correct("ventilation_running", "fan running", "no")
    assert call.ask.id == "room_safe", call.tail()
    assert call.reaches(hands_in, 40)
    assert proved_dead(call), f"hands were out: {call.tail()}"


@pytest.mark.parametrize("said", ["oil level foaming", "oil level high"])
def test_no_feed_test_over_oil_that_shows_liquid(begin: Calls, said: str):
    """S16, section 6"""
    call = begin("module_no_output").until(power_on).tell(said)
    call.never(lambda a: power_on(a) and "jumper_fitted" in call.open, f"no feed test: {said}.", 40)


# ---- before a start


@pytest.mark.parametrize(
    ("id_", "name", "said"),
    [("probe_pipe_temperature", "pipe temperature", "minus forty"), ("coil_seated", "coil", "loose")],
)
def test_a_machine_that_must_not_run_any_more_is_locked_before_anything_else(begin: Calls, id_: str, name: str, said: str):
    """S16, S17, S20"""
    call = begin("module_no_output").until(starts).correct(id_, name, said)
    asked = asked_until(call, "locked_out", 12)
    assert not {"store_told", "part_left_in_use"} & set(asked), f"{asked}; {call.tail()}"
    first = len(call.asks)
    if call.reaches(lets_run):
        ready = {"service_valves_open", "covers_on", "others_clear"} - {ask.id for ask in call.asks[first:]}
        assert not ready, f"S21 hands were in since: {ready}; {call.tail()}"


def test_a_second_source_before_the_start_has_all_made_ready_again(begin: Calls):
    """S2, S21"""
    call = begin("injection_coil_failed").until(starts).correct("dead_volts.control", "dead on control", "two oh eight")
    asked = asked_until(call, starts)
    assert "part_left_in_use" not in asked, f"{asked}; {call.tail()}"
    assert {"second_source_locked", "others_clear", "covers_on"} <= set(asked), f"S21 {asked}"


def test_a_section_that_was_emptied_is_not_forgotten_with_its_valves_shut(begin: Calls):
    """S32, S37"""
    call = begin("injection_valve_stuck_closed").until("isolated_pressure").say("finish job", "yes").to_the_end()
    assert call.obligations.get("section_shut") == "handed_over", call.obligations
    assert "section shut" in call.spoken


def test_a_section_is_open_again_before_the_start(begin: Calls):
    """S20, S32"""
    call = begin("injection_valve_stuck_closed").until(starts)
    assert call.obligations["section_shut"] == "cleared", call.obligations


def test_a_leak_that_was_not_mended_leaves_its_section_on_record(begin: Calls):
    """S32, S37"""
    call = begin("charge low", words={"leak_found": "yes", "leak_repaired": "no"}).to_the_end()
    assert call.obligations.get("section_shut") == "handed_over", call.obligations


def test_ohms_that_contradict_a_click_are_measured_again(begin: Calls):
    """S41"""
    call = begin("module_no_output").until("injection_feed").say("dry two oh eight click", "power off")
    call.correct("injection_coil_ohms", "coil resistance", "open line")
    assert call.reaches("injection_coil_ohms", 40), f"S41 both are asked again: {call.tail()}"
    assert proved_dead(call), call.tail()
    assert not {"jumper_fitted", "leads_on"} & call.open, "nothing is hooked up for a test meanwhile"


# ---- on the run


def test_a_coil_off_its_stem_stops_the_running_machine(begin: Calls):
    """S17, S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").say("coil loose")
    assert stops(call.ask), call.tail()
    call.never(lambda a: resets(a) or starts(a), "it stays off.")


@pytest.mark.parametrize(
    ("id_", "name", "said"),
    [("panel_tag", "tag", "a three"), ("injection_coil_ohms", "coil resistance", "four ten")],
)
def test_a_cause_proven_by_a_slip_is_not_closed_as_proven(begin: Calls, id_: str, name: str, said: str):
    """S2, S41"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").correct(id_, name, said)
    assert "no more" in call.said, call.tail()
    call.to_the_end()
    assert call.conclusions["injection_coil_failed"] != "proven", call.conclusions


def test_over_its_trip_is_kept_through_an_emergency(begin: Calls):
    """S24, S38"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").say("emergency", "discharge temperature two eighty")
    call.say("continue").until("room_safe").answer()
    assert call.reaches(stops, 3), f"S24 it runs over its trip: {call.tail()}"


def test_rounds_with_a_night_between_them_settle_nothing(begin: Calls):
    """S41, section 10: only rounds after the night, over the times that settling takes"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").answer().resume(8 * 3600)
    asked = len(call.asks)
    call.until("close_consent")
    rounds = [a for a in call.asks[asked - 1 :] if "watch.suction_pressure" in a.ids]
    assert len(rounds) > 2, call.tail()
    assert "not settled" in call.ask.said.lower() or call.written[-1] - START > timedelta(hours=8, minutes=25), call.tail()


def test_the_repair_of_another_machine_is_not_this_ones(begin: Calls):
    """S2"""
    call = begin("injection_coil_failed").until("service_valves_open").correct("panel_tag", "tag", "a three")
    assert call.reaches(repairs, 40), call.tail()
    assert proved_dead(call), call.tail()


# ---- the machine


@pytest.mark.parametrize("said", [
    "actually make that compressor three", "no it's compressor three, not two", "sorry, compressor three",
])  # fmt: skip
@pytest.mark.parametrize("where", ["tripped_count", "controller_calls", "reset_device"])
def test_another_machine_named_at_any_question_is_asked_back_in_place_of_the_one_on_record(begin: Calls, where: str, said: str):
    """S2"""
    call = begin("module_no_output").until(where).say(said)
    assert "Compressor three. Correct?" in call.said, call.tail()
    assert call.say("yes").readings["compressor"] == "three", call.tail()
    assert call.readings.get("tripped_count") != 3.0


def test_the_machine_on_record_named_again_is_read_back_and_the_question_stands(begin: Calls):
    """S2"""
    call = begin("module_no_output").until("tripped_count").say("it's compressor two on rack a")
    assert "Rack A, compressor two." in call.said, call.tail()
    assert "tripped_count" in (call.ask.id, *call.ask.also)


def test_a_machine_named_at_its_panel_has_another_call(begin: Calls):
    """S2"""
    call = begin("module_no_output").until("chain_dead_check").say("wait it's compressor three")
    assert "The panel belongs to this machine" in call.said, call.tail()
    assert call.readings["compressor"] == "two"


@pytest.mark.parametrize("said", ["compressor three tripped", "compressor three is off", "just compressor three"])
def test_a_machine_by_its_number_counts_none(begin: Calls, said: str):
    """S2"""
    call = begin("module_no_output").until("tripped_count").say(said)
    assert "tripped_count" not in call.readings, call.tail()
