"""Attacks on the reset, the start and the running machine: things left open, second resets, heaters, a trip run through."""

import re
from datetime import timedelta
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import START, Ask, Call
from tests.attacks.trade import lets_run, resets, site_file, starts, stops


def skip(call: Call, at: str) -> Call:
    call.until(at).say("skip this")
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


def finish(call: Call) -> Call:
    call.say("finish job")
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


def oil_wait(ask: Ask) -> bool:
    return ask.id == "crankcase_heater"


BLOCKS_START = {
    "jumper_fitted",
    "start_blocked",
    "leads_on",
    "wire_lifted",
    "terminal_cover",
    "panel_cover",
    "locked_out",
    "liquid_section_closed",
    "valve_closed.discharge",
    "valve_closed.injection",
    "liquid_in_compressor",
}
"""Section 3; the suction valve may be throttled for the first start after liquid."""


# ---- what must be closed before


@pytest.mark.parametrize(
    "fault",
    [
        "none",
        "injection_coil_failed",
        "module_no_output",
        "none at the motor",
        "none at the oil",
        "none at the high pressure",
        "line fuse open",
        "control fuse blown",
        "injection_hand_valve_closed",
    ],
)
def test_nothing_that_blocks_a_start_is_open_when_it_is_asked_for(begin: Calls, fault: str):
    """S20"""
    call = begin(fault).until(starts)
    assert not call.open & BLOCKS_START, f"S20 open at the start: {call.open & BLOCKS_START}; {call.tail()}"


@pytest.mark.parametrize("said", [("skip this", "yes"), ("no",), ("not yet",), ("can't get to it",), ("",)])
@pytest.mark.parametrize("at", ["service_valves_open", "covers_on", "others_clear"])
def test_the_lock_stays_on_until_valves_covers_and_people_are_answered(begin: Calls, at: str, said: tuple[str, ...]):
    """S21"""
    call = begin("injection_coil_failed").until(at)
    for words in said:
        call.say(words)
    call.man.words[at] = "not yet"
    call.never(lets_run, f"S21 {at} was answered '{said[0]}'.", 30)


def test_one_breath_does_not_answer_valves_covers_and_people(begin: Calls):
    """S21"""
    call = begin("injection_coil_failed").until("service_valves_open").say("all done everybody clear covers on lock off")
    call.until(lambda a: a.id == "lock_removed" or lets_run(a))  # "lock off" was heard: then it is not asked again
    assert {"service_valves_open", "covers_on", "others_clear"} <= {a.id for a in call.asks[-12:]}, f"S21 {call.tail()}"


@pytest.mark.parametrize(
    "said", ["discharge is closed", "the discharge valve is shut", "all but the discharge", "discharge valve's closed"]
)
def test_the_lock_stays_on_with_the_discharge_valve_shut(begin: Calls, said: str):
    """S21"""
    call = begin("injection_coil_failed", {"service_valves_open": said}).until("service_valves_open")
    call.never(lets_run, f"S21 '{said}'.", 30)


def test_a_discharge_valve_found_shut_stays_on_record_until_it_is_open(begin: Calls):
    """S20"""
    call = begin("discharge shut", {"repaired": "leave it locked"}).to_the_end()
    shut = call.obligations.get("valve_closed.discharge")
    assert shut == "handed_over", f"S20 found shut and left so: it is handed over by name. It is {shut}: {call.obligations}"


@pytest.mark.parametrize("state", ["killed", "emergency"])
def test_interrupted_at_the_start_everything_is_asked_anew(begin: Calls, state: str):
    """S5, S21"""
    call = begin("injection_coil_failed").until(starts)
    seen = len(call.asks)
    if state == "killed":
        call.resume(after_s=1800)
    else:
        call.say("emergency", "continue")
    assert call.reaches(starts)
    asked = [a.id for a in call.asks[seen:]]
    assert "others_clear" in asked, f"S5 nobody was cleared again before the start: {asked}"


def test_the_restart_caution_is_spoken_in_full_after_the_program_died(begin: Calls):
    """S5, S36"""
    call = begin("injection_coil_failed").until("lock_removed")
    before = len(call.spoken)
    call.resume()
    call.man.locked = True
    call.reaches(lets_run)
    assert re.search(r"can start without warning", call.spoken[before:], re.I), f"S5 the caution in full, anew: {call.tail()}"


# ---- the heater


@pytest.mark.parametrize("said", ["off", "skip this", "it's off", "can't see it"])
def test_long_locked_out_nothing_starts_before_the_heater_has_had_its_time(begin: Calls, said: str):
    """S23"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").say("hold on").say("continue", after_s=2 * 3600)
    call.until(oil_wait).say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    call.man.words["crankcase_heater"] = said
    call.never(starts, f"S23 the heater: '{said}'.", 60)


def test_long_locked_out_the_heater_is_asked_for(begin: Calls):
    """S23"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").say("hold on").say("continue", after_s=2 * 3600)
    assert call.reaches(lambda a: oil_wait(a) or starts(a))
    assert oil_wait(call.ask), f"S23 two hours locked out, the heater was never asked for: {call.ask}"


def test_long_locked_out_the_time_of_the_heater_passes_before_the_start(begin: Calls):
    """S23"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").say("hold on").say("continue", after_s=2 * 3600)
    answered = call.until(oil_wait).written[-1]
    call.until(starts)
    waited = call.written[-1] - answered
    assert waited >= timedelta(minutes=20), f"S23 the heater is on since {waited}, and it starts: {call.tail()}"


def test_the_time_of_a_dead_program_counts_as_locked_out(begin: Calls):
    """S23"""
    call = begin("injection_coil_failed").until("injection_coil_ohms").resume(after_s=3 * 3600)
    assert call.reaches(lambda a: oil_wait(a) or starts(a))
    assert oil_wait(call.ask), f"S23 three hours locked out, pauses included: {call.ask}"


# ---- liquid


@pytest.mark.parametrize(
    ("id_", "said"),
    [
        ("oil_level", "high"),
        ("oil_level", "foaming"),
        ("crankcase_temperature", "five below"),
        ("crankcase_heater", "off"),
        ("crankcase_heater", "none"),
    ],
)
def test_no_start_on_liquid_while_a_sign_of_it_stands(begin: Calls, id_: str, said: str):
    """S20, section 10"""
    call = begin(words={id_: said})
    call.never(lets_run, f"Section 10: {id_} is {said}.", 120)
    assert call.obligations.get("liquid_in_compressor") != "cleared", f"{id_} is {said}, and the liquid counts as gone"


@pytest.mark.parametrize("id_", ["oil_level", "crankcase_temperature", "crankcase_heater"])
def test_liquid_does_not_clear_by_a_skip(begin: Calls, id_: str):
    """S20, section 10"""
    call = begin(words={"liquid_longer": "leave it locked"}).until("injection_after").answer()
    skip(call, id_).never(lets_run, f"Section 10: {id_} was skipped.", 60)


@pytest.mark.parametrize("said", ["cold", "frosted"])
def test_no_start_on_a_cold_or_frosted_crankcase_after_liquid(begin: Calls, said: str):
    """Section 10"""
    call = begin(words={"crankcase_and_heads": said}).until("injection_after").answer()
    assert call.reaches(lambda a: "crankcase_and_heads" in a.ids or starts(a), 60)
    assert "crankcase_and_heads" in call.ask.ids, f"Crankcase and heads are looked at before the first start: {call.ask}"
    call.never(lets_run, f"Crankcase and heads are {said}.", 40)


def test_a_leaking_valve_is_not_waited_away(begin: Calls):
    """Section 10"""
    call = begin("injection_valve_leaking", {"repaired": "leave it locked"}).until("injection_after").answer()
    call.never(lets_run, "Waiting alone does not clear a leaking valve.", 80)


def test_the_suction_valve_is_open_before_the_call_is_closed(begin: Calls):
    """S37"""
    call = begin().until("watch.suction_pressure")
    assert "valve_closed.suction" not in call.open, f"it runs on a throttled valve: {call.open}"


# ---- resets


@pytest.mark.parametrize(
    "fault",
    [
        "none",
        "injection_coil_failed",
        "none at the motor",
        "none at the oil",
        "none at the high pressure",
        "none at the low pressure",
    ],
)
def test_one_reset_and_no_second(begin: Calls, fault: str):
    """S22"""
    call = begin(fault).to_the_end()
    asked = [a for a in call.asks if resets(a)]
    assert len(asked) <= 1, f"S22 it asks for {len(asked)} resets: {[a.prompt for a in asked]}"


@pytest.mark.parametrize("words", [("go back", "yes"), ("correction", "never mind"), ("say again",)])
def test_no_command_brings_a_second_reset(begin: Calls, words: tuple[str, ...]):
    """S22"""
    call = begin("injection_coil_failed").until(lambda a: starts(a) and not resets(a))
    for one in words:
        call.say(one)
    call.never(resets, "S22 it was reset once.", 40)


def test_a_program_that_died_after_the_reset_does_not_ask_for_another(begin: Calls):
    """S22"""
    call = begin("injection_coil_failed").until(resets).answer().resume()
    call.never(resets, "S22 it was reset before the program died.", 60)


def test_a_program_that_died_at_the_reset_has_it_counted_or_asked(begin: Calls):
    """S22"""
    call = begin("injection_coil_failed").until(resets).resume()
    call.to_the_end()
    at = [i for i, a in enumerate(call.asks) if resets(a)]
    assert len(at) <= 2, f"S22 resets asked at {at}"


@pytest.mark.parametrize("said", ["tripped", "it tripped again", "just tripped", "it's down again", "she tripped"])
@pytest.mark.parametrize("at", ["watch.suction_pressure", "watch.amps"])
def test_a_second_trip_is_the_end_of_resets(begin: Calls, at: str, said: str):
    """S22"""
    call = begin("injection_coil_failed").until(at).say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    assert re.search(r"no more resets|lock it|leave it off|second trip|stop", call.said, re.I), f"S22 after '{said}': {call.said}"
    call.man.running = False
    call.never(lambda a: resets(a) or starts(a), f"S22 '{said}': a second trip.", 60)


@pytest.mark.parametrize(
    ("fault", "skipped"),
    [
        ("none at the oil", "oil_level"),
        ("none at the oil", "crankcase_temperature"),
        ("none at the high pressure", "condenser_face"),
        ("none at the high pressure", "condenser_fans_running"),
        ("none at the motor", "ground_megohms"),
        ("none at the motor", "winding_ohms.ab"),
    ],
)
def test_no_reset_before_its_readings(begin: Calls, fault: str, skipped: str):
    """S22"""
    skip(begin(fault), skipped).never(resets, f"S22 {skipped} was skipped.", 100)


@pytest.mark.parametrize("others", [("oil", "discharge"), ("contact one", "contact five"), ("discharge", "oil")])
def test_an_oil_contact_among_several_needs_its_readings_too(begin: Calls, others: tuple[str, str]):
    """S22"""
    call = begin("injection_coil_failed").until("chain_dead_check").say("two of them")
    for one in others:
        if call.reaches("chain_dead_check", 3):
            call.tell(one)
    call.until(resets)
    missing = {"oil_level", "crankcase_temperature"} - {i for a in call.asks for i in a.ids}
    assert not missing, f"S22 an oil contact was open too; never asked: {missing}"


def test_a_trip_through_a_pressure_cutout_is_not_reset_twice_under_the_lock(begin: Calls):
    """S22"""
    call = begin("none at the high pressure").until("control_reset").answer()
    call.never(resets, "S22 its control was reset under the lock.", 60)


def test_the_third_reset_in_ninety_days_asks_the_supervisor(begin: Calls):
    """S22, section 10"""
    for days in (30, 12):
        begin("injection_coil_failed", start=START - timedelta(days=days)).to_the_end()
    call = begin("injection_coil_failed", {"supervisor_agreed": "no"})
    assert call.reaches(lambda a: a.id == "supervisor_agreed" or resets(a) or starts(a))
    assert call.ask.id == "supervisor_agreed", f"The third in ninety days: the supervisor is asked for first. It asks: {call.ask}"
    call.never(lambda a: resets(a) or starts(a), "The supervisor did not agree.", 60)


def test_the_history_of_the_machine_is_said(begin: Calls):
    """Section 10"""
    for days in (30, 12):
        begin("injection_coil_failed", start=START - timedelta(days=days)).to_the_end()
    call = begin("injection_coil_failed").until("live_or_dead")
    assert re.search(r"third", call.spoken, re.I), f"It is the third of ninety days, and nobody says so: {call.tail()}"


# ---- skipped tests


@pytest.mark.parametrize(
    ("fault", "skipped"),
    [
        ("line fuse open", "winding_ohms.ab"),
        ("line fuse open", "ground_megohms"),
        ("control fuse blown", "starter_coil_ohms"),
        ("module_output_fuse", "injection_coil_ohms"),
    ],
)
@pytest.mark.parametrize("words", [("skip this", "yes"), ("can't get to it", "")])
def test_what_opened_on_a_fault_is_not_closed_untested(begin: Calls, fault: str, skipped: str, words: tuple[str, str]):
    """S18"""
    call = begin(fault).until(skipped).say(words[0])
    if not call.ended and call.ask.id == "confirm":
        call.say(words[1] or "yes")
    call.never(lets_run, f"S18 {skipped} was never read.", 80)


def test_a_breaker_that_tripped_is_not_closed_on_a_grounded_motor(begin: Calls):
    """S18"""
    call = begin("line fuse open", {"ground_megohms": "point two"})
    call.never(lets_run, "S18 the motor is grounded.", 120)


@pytest.mark.parametrize("at", ["probe_pipe_temperature", "chain_dead_check"])
def test_finish_early_starts_nothing(begin: Calls, at: str):
    """S20"""
    call = begin("injection_coil_failed").until(at)
    finish(call).never(lambda a: starts(a) or resets(a), "Finish makes safe; it starts nothing.", 60)


@pytest.mark.parametrize("where", ["reset", "start"])
def test_finish_at_the_reset_starts_nothing_and_tells_it_as_it_is(begin: Calls, where: str):
    """S37, S20"""
    call = begin("injection_coil_failed").until(resets if where == "reset" else (lambda a: starts(a) and not resets(a)))
    finish(call).never(lambda a: starts(a) or resets(a), "Finish was said.", 60)
    assert not re.search(r"running|settled", call.spoken[-400:], re.I), f"S37 it was never started: {call.tail()}"


def test_reset_and_not_started_is_told_as_that(begin: Calls):
    """S37"""
    call = begin("injection_coil_failed").until(lambda a: starts(a) and not resets(a))
    finish(call).until("close_consent")
    closing = call.ask.said
    assert re.search(r"\breset\b", closing, re.I), f"S37 it was reset and not started; it says: {closing}"
    assert not re.search(r"as found", closing, re.I), f"S37 it was reset; it says: {closing}"


def test_finish_after_the_lock_is_off_does_not_say_that_it_is_locked(begin: Calls):
    """S37"""
    call = begin("injection_coil_failed").until(resets)
    finish(call).to_the_end()
    closing = " ".join(text for who, text in call.log[-24:] if who == "says")
    if call.obligations.get("locked_out") == "cleared":
        assert not re.search(r"left locked|locked off|locked out|stays off", closing, re.I), f"S37 the lock is off: {closing}"


# ---- the running machine


@pytest.mark.parametrize("said", ["ten two sixty", "ten two fifty", "ten three hundred"])
def test_a_machine_read_over_its_trip_is_stopped_next(begin: Calls, said: str):
    """S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").tell(said)
    while not call.ended and call.ask.id == "watch.discharge_temperature":
        call.tell(said.removeprefix("ten "))
    assert stops(call.ask), f"S24 it runs over its trip; next it asks: {call.ask}"


def test_over_its_trip_it_is_stopped_and_locked_before_the_call_ends(begin: Calls):
    """S24"""
    call = begin("injection_coil_failed", {"watch.discharge_temperature": "two seventy"}).to_the_end()
    assert any(map(stops, call.asks)), f"S24 it was never stopped: {call.tail()}"
    assert call.obligations.get("locked_out") in ("handed_over", "open"), f"S24 it ends unlocked: {call.obligations}"
    assert not re.search(r"running( and|,)? (not )?settled", call.spoken, re.I), f"S24 it closes with it running: {call.tail()}"


@pytest.mark.parametrize("said", ["finish job", "skip this", "go back", "close it"])
def test_nothing_gets_round_stopping_it(begin: Calls, said: str):
    """S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").tell("ten two seventy")
    while not call.ended and call.ask.id == "watch.discharge_temperature":
        call.tell("two seventy")
    call.say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    if not call.ended:
        call.until(stops, 10)


def test_a_line_corrected_to_over_its_trip_stops_the_machine(begin: Calls):
    """S24"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").answer().until("watch.suction_pressure")
    call.correct("watch.discharge_temperature", "discharge temperature", "two seventy")
    assert stops(call.ask), f"S24 corrected to 270: next it asks {call.ask}"


def test_a_program_that_died_over_the_trip_comes_back_to_stop_it(begin: Calls):
    """S24, S5"""
    call = begin("injection_coil_failed", {"watch.suction_pressure": "ten two seventy"}).until("watch.suction_pressure")
    call.answer()
    while not call.ended and call.ask.id == "watch.discharge_temperature":
        call.tell("two seventy")
    seen = len(call.asks)
    call.resume().until(stops, 12)
    assert not any(map(lets_run, call.asks[seen:])), f"S24 it goes on: {call.tail()}"


def test_a_line_measured_over_its_trip_by_hand_stops_the_machine_too(begin: Calls):
    """S24"""
    words = {"watch.discharge_temperature": "two forty five", "discharge_temperature": "two sixty five",
             "others_discharge_temperature": "two thirty five"}  # fmt: skip
    call = begin("none at the high pressure", words).until("discharge_temperature").tell("two sixty five")
    assert stops(call.ask), f"S24 265 six inches out; next it asks: {call.ask}"


def test_pegged_is_no_reading_under_its_trip(begin: Calls):
    """S24, S39"""
    call = begin("injection_coil_failed", {"watch.discharge_temperature": "too hot to touch"}).until("watch.suction_pressure")
    call.say("ten too hot to touch").reaches(lambda a: stops(a) or a.id == "close_consent", 60)
    assert not re.search(r"running and settled", call.spoken, re.I), f"S39 too hot to touch is no number: {call.tail()}"


def test_no_call_closes_on_a_jumper(begin: Calls):
    """S24, S37"""
    call = begin(words={"jumper_removed": "not yet"}).until("jumper_removed")
    finish(call)
    call.reaches(lambda a: a.id == "close_consent", 60)
    assert call.ended != "sealed", f"S24 sealed with the jumper in: {call.obligations}"
    assert not lets_run(call.ask), f"S24 a start with the jumper in: {call.ask}"


@pytest.mark.parametrize("said", ["locked", "locked rotor", "in the locked rotor"])
def test_locked_rotor_is_stopped(begin: Calls, said: str):
    """S24, section 13"""
    call = begin("none at the motor").until("line_amps.a").say(said)
    if call.ask.id == "confirm":
        call.say("yes")
    assert re.search(r"stop", call.said, re.I), f"Locked rotor: it says {call.said}"


def test_the_switch_in_hand_is_not_forgotten(begin: Calls):
    """S37"""
    call = begin("injection_coil_failed", {"switch_position": "hand", "controller_calls": "yes"}).to_the_end()
    assert call.obligations.get("switch_in_hand") in ("cleared", "handed_over"), f"S37 {call.obligations}"


def test_a_start_from_the_demo_site_in_bar_is_stopped_over_its_trip_too(begin: Calls, tmp_path: Path):
    """S24"""
    site = site_file(tmp_path, units='"si"')
    words = {
        "rack_suction_pressure": "point eight",
        "rack_discharge_pressure": "fourteen point five",
        "probe_pipe_temperature": "twenty four",
        "probe_ohms.module_end": "one oh five k",
    }
    call = begin("injection_coil_failed", words, profile=site).until("watch.suction_pressure").tell("point seven one thirty")
    while not call.ended and call.ask.id == "watch.discharge_temperature":
        call.tell("one thirty")
    assert stops(call.ask), f"S24 130 degrees Celsius is over the trip; next it asks: {call.ask}"
