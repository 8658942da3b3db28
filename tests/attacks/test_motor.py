"""Attacks on the motor's tests: vacuum, charge, tester, terminals, what opened on a fault, readings that do not fit."""

import re
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import Ask, Call
from tests.attacks.trade import energises, hands_in, lets_run, proved_dead, proves_first, repairs, resets, site_file, starts
from tests.branch_rack import BranchRack
from tests.safety.paper import demo
from tests.talk import Talk

MOTOR = "none at the motor"


def insulation(ask: Ask) -> bool:
    return "ground_megohms" in ask.ids


def at_the_terminals(ask: Ask) -> bool:
    return bool(re.search(r"terminal cover off|at the motor's terminals", ask.prompt, re.I)) and not ask.is_caution


def skip(call: Call, at: str) -> Call:
    call.until(at).say("skip this")
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


# ---- no insulation test in a vacuum or with the charge unknown


@pytest.mark.parametrize("said", ["five inches", "twenty inches of vacuum", "ten inches", "two inches of vacuum"])
def test_no_insulation_test_in_a_vacuum(begin: Calls, said: str):
    """S25"""
    call = begin(MOTOR, {"shell_pressure": said}).until("shell_pressure")
    call.never(insulation, f"S25 the machine is at {said}.", 80)


@pytest.mark.parametrize(
    "said", ["skip this", "can't get to it", "no idea", "in a vacuum", "it's in a vacuum", "there is no gauge"]
)
def test_no_insulation_test_on_a_pressure_that_was_not_read(begin: Calls, said: str):
    """S25"""
    call = begin(MOTOR, {"shell_pressure": said}).until("shell_pressure").say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    call.never(insulation, f"S25 '{said}' is no pressure.", 60)


def test_a_pressure_corrected_to_a_vacuum_takes_the_tester_away(begin: Calls):
    """S25"""
    call = begin(MOTOR).until("protector_string_ohms").correct("shell_pressure", "pressure in the machine", "five inches")
    call.never(insulation, "S25 the pressure is corrected to a vacuum.", 60)


@pytest.mark.parametrize("said", ["charge unknown", "i don't know the charge", "no", "not yet", "skip this"])
def test_no_insulation_test_with_the_charge_unknown(begin: Calls, said: str):
    """S25"""
    call = begin(MOTOR).until(lambda a: bool(re.search("charge known", a.prompt, re.I)) and not a.is_caution)
    for _ in range(6):
        if call.ended or not re.search("charge known", call.ask.prompt, re.I):
            break
        call.say(said)
        if not call.ended and call.ask.id == "confirm":
            call.say("yes")
        if not call.ended and call.ask.id == "command" and call.ask.choices == ("continue",):
            call.say("continue")
    assert call.ended or not insulation(call.ask), f"S25 '{said}': {call.ask}"


def test_a_pressure_read_before_the_program_died_is_read_again_for_the_test(begin: Calls):
    """S25, S40"""
    call = begin(MOTOR).until("ground_megohms").resume(after_s=4 * 3600)
    seen = len(call.asks)
    if call.reaches(insulation, 60):
        asked = [i for a in call.asks[seen - 1 :] for i in a.ids]
        assert "shell_pressure" in asked, f"S40 the pressure is four hours old: {asked}"


def test_the_insulation_caution_comes_before_the_tester(begin: Calls):
    """S36"""
    call = begin(MOTOR).until("ground_megohms")
    assert re.search(r"modules off|disconnect drive", call.spoken, re.I), f"S36 it was never said: {call.tail()}"
    assert re.search(r"never in a vacuum|no vacuum", call.spoken, re.I), f"S36 it was never said: {call.tail()}"


def test_five_hundred_volts_are_named(begin: Calls):
    """S25"""
    call = begin(MOTOR).until("ground_megohms")
    assert re.search(r"five hundred volts|500 volts", call.spoken, re.I), f"S25 the voltage was never said: {call.tail()}"


def test_a_drive_is_off_before_the_tester_is_on(begin: Calls, tmp_path: Path):
    """S25"""
    call = begin(MOTOR, profile=site_file(tmp_path, drive="true")).until("ground_megohms")
    assert re.search(r"drive[^.]*(unplugged|disconnected|off)", call.spoken, re.I), f"S25 the drive is still on: {call.tail()}"


# ---- the string and the tester


def test_going_back_does_not_put_the_string_under_the_tester(begin: Calls):
    """S26"""
    call = begin(MOTOR).until("ground_megohms")
    assert "leads_on" in call.open
    call.say("go back")
    if call.ask.id == "confirm":
        call.say("yes")
    call.never(lambda a: "protector_string_ohms" in a.ids and "leads_on" in call.open, "S26 the tester is on.", 10)


def test_after_the_program_died_with_the_tester_on_its_leads_come_off_first(begin: Calls):
    """S26, S5"""
    call = begin(MOTOR).until("ground_megohms").resume()
    proves_first(call, "S5 the program died with hands in.")
    call.never(lambda a: "protector_string_ohms" in a.ids and "leads_on" in call.open, "S26 the tester is still on.", 40)


def test_the_string_is_read_with_an_ohmmeter(begin: Calls):
    """S26"""
    ask = begin(MOTOR).until("protector_string_ohms").ask
    assert re.search(r"ohmmeter|ohm meter|never the insulation tester", ask.said, re.I), f"S26 with which meter? {ask}"


def test_the_winding_is_discharged_before_the_leads_come_off(begin: Calls):
    """Section 2"""
    call = begin(MOTOR).until("ground_megohms").answer()
    assert re.search(r"to ground|discharge", call.ask.said, re.I), f"the winding holds the tester's charge: {call.ask}"


# ---- ground fault and terminals


@pytest.mark.parametrize("said", ["zero", "grounded", "dead short", "point two", "to ground"])
def test_nobody_opens_the_terminals_after_a_ground_fault(begin: Calls, said: str):
    """S27"""
    call = begin("winding open", {"ground_megohms": said}).until("ground_megohms")
    call.never(at_the_terminals, f"S27 the winding reads {said}.", 60)


def test_nobody_opens_the_terminals_on_an_insulation_that_was_not_read(begin: Calls):
    """S27"""
    skip(begin("winding open"), "ground_megohms").never(at_the_terminals, "S27 nobody knows whether it is grounded.", 60)


def test_an_insulation_corrected_to_grounded_closes_the_terminals(begin: Calls):
    """S27"""
    call = begin("winding open").until(at_the_terminals).correct("ground_megohms", "insulation", "zero")
    assert not at_the_terminals(call.ask), f"S27 it is grounded after all: {call.ask}"
    call.never(lambda a: at_the_terminals(a), "S27 it is grounded after all.", 30)


def test_the_terminals_caution_is_acknowledged_before_the_cover(begin: Calls):
    """S36"""
    call = begin("winding open").until(at_the_terminals)
    assert re.search(r"stand aside|blow out", call.spoken, re.I), f"S36 terminals can blow out: {call.tail()}"


def test_the_windings_are_read_from_the_starter_first(begin: Calls):
    """S27"""
    ask = begin("winding open").until("winding_ohms.ab").ask
    assert not at_the_terminals(ask), f"S27 from the load side of the starter first: {ask}"


def test_the_cover_of_a_program_that_died_is_on_before_power(begin: Calls):
    """S17, S5"""
    call = begin("winding open").until(at_the_terminals).resume()
    call.never(lambda a: energises(a) and "terminal_cover" in call.open, "S17 the terminal cover is off.", 80)


# ---- what opened, and readings that do not fit


@pytest.mark.parametrize("said", ["tripped", "one open"])
@pytest.mark.parametrize("bad", [{"winding_ohms.bc": "open"}, {"ground_megohms": "point one"}, {"ground_megohms": "zero"}])
def test_a_breaker_is_not_closed_on_a_bad_motor(begin: Calls, said: str, bad: dict[str, str]):
    """S18"""
    call = begin("line fuse open", {**bad, "repaired": "repaired"})
    call.man.words["line fuses"] = said
    call.never(lets_run, f"S18 the motor reads {bad}.", 120)


def test_repaired_does_not_stand_for_a_test(begin: Calls):
    """S18"""
    call = begin("line fuse open", {"repaired": "repaired"})
    skip(call, "winding_ohms.ab").never(energises, "S18 'repaired' tests no winding.", 100)


@pytest.mark.parametrize("said", ["same on all three", "four point one on all three"])
def test_all_three_alike_is_read_back(begin: Calls, said: str):
    """S39"""
    call = begin(MOTOR).until("winding_ohms.ab").say(said)
    if "four" in said:
        assert call.ask.id == "confirm", f"S39 three readings from one are read back: {call.ask}"
    else:
        assert "winding_ohms.ab" in call.ask.ids or call.ask.id == "confirm", f"S39 no number was said: {call.ask}"


def test_no_fault_is_not_found_over_an_open_winding(begin: Calls):
    """S41"""
    call = (
        begin(MOTOR)
        .until("winding_ohms.ab")
        .answer()
        .until("shell_pressure")
        .correct("winding_ohms.ab", "winding one to two", "open")
    )
    call.man.words["winding_ohms.ab"] = "open"  # at the terminals too
    call.to_the_end()
    assert call.conclusions.get("no_fault_found") != "proven", f"S41 a winding is open: {call.conclusions}"
    assert not any(map(starts, call.asks)), f"S41 it was started: {call.tail()}"


@pytest.mark.parametrize("words", [{"line_amps.b": "thirty five"}, {"watch.amps": "fifty"}, {"line_volts.bc": "four twenty"}])
def test_no_fault_is_not_found_over_an_electrical_contradiction(begin: Calls, words: dict[str, str]):
    """S41"""
    call = begin(MOTOR, words).to_the_end()
    assert call.conclusions.get("no_fault_found") != "proven", f"S41 {words} stands on record: {call.conclusions}"


@pytest.mark.parametrize("id_", ["starts_last_hour", "shell_pressure", "protector_string_ohms"])
def test_a_skipped_reading_is_no_healthy_one(begin: Calls, id_: str):
    """S41, S22"""
    call = skip(begin(MOTOR), id_)
    call.to_the_end()
    if id_ == "shell_pressure":
        assert not any(map(resets, call.asks)), f"S22 no insulation reading, no reset: {call.tail()}"
    assert id_ not in call.readings, f"S39 {id_} was skipped and is on record as {call.readings.get(id_)}"


@pytest.mark.parametrize("said", ["point four", "half an ohm"])
def test_a_low_winding_has_no_verdict_by_an_ordinary_meter(begin: Calls, said: str):
    """S41, section 9"""
    words = {"winding_ohms.ab": said, "winding_ohms.bc": said, "winding_ohms.ca": "point five", "which meter": "ordinary"}
    call = begin(MOTOR, words).until("shell_pressure")
    assert call.conclusions.get("winding_failed") not in ("proven", "supported"), f"{call.conclusions}"


def test_the_lock_is_on_while_the_shaft_is_tried(begin: Calls):
    """S1"""
    call = begin("seized").until("mechanical_state")
    assert "locked_out" in call.open, f"S1 the shaft is tried with the lock off: {call.obligations}"


@pytest.mark.parametrize("fault", ["winding grounded", "winding open", "motor protection failed", "starter pole open"])
def test_no_repair_in_a_panel_that_is_not_dead(begin: Calls, fault: str):
    """S31"""
    call = begin(fault, {"repaired": "repaired"})
    if call.reaches(repairs, 200):  # a program may also leave it locked without asking
        assert proved_dead(call), f"S31 it asks for the repair in a live panel: {call.ask}; {call.tail()}"


@pytest.mark.parametrize("fault", ["starter pole open", "control fuse blown", "starter coil open", "wire of the string open"])
def test_a_repair_in_the_panel_after_an_hour_is_proved_anew(begin: Calls, fault: str):
    """S31, S4"""
    call = begin(fault).until(repairs).say("hold on").say("continue", after_s=3600)
    if call.reaches(lambda a: repairs(a) or hands_in(a) or lets_run(a), 60):
        ready = proved_dead(call) or lets_run(call.ask)
        assert ready, f"S4 an hour has passed, the repair goes on in a panel not proved: {call.ask}"


def test_of_two_sets_one_that_is_good_at_the_terminals_says_nothing_of_the_other():
    """S18"""
    rack = BranchRack("lead to the motor broken")
    talk = Talk(demo(winding_sets=2))
    for _ in range(200):
        if talk.asked.startswith("second_at_terminals:"):
            break
        talk.hear(talk.words_of(rack))
    talk.hear("over range", "four", "four")
    asked = []
    for _ in range(60):
        if talk.dialogue.state.sealed:
            break
        talk.hear(talk.words_of(rack))
        asked.append(talk.asked.partition(":")[0] if not talk.dialogue.state.sealed else "")
    assert "start" not in asked
    assert "winding_failed" in talk.dialogue.state.conclusions
    assert not talk.broken()
