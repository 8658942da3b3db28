"""Attacks on the call itself: another person, another machine, silence, old readings, conclusions, the seal, two programs."""

import json
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import START, Ask, Call
from tests.attacks.trade import hands_in, proves_first, resets, starts

NEVER_HANDED_OVER = {
    "jumper_fitted",
    "start_blocked",
    "leads_on",
    "wire_lifted",
    "terminal_cover",
    "hose_on",
    "liquid_section_closed",
    "clamp_left_on",
}
LOCKED_AND_TAGGED = {"liquid_in_compressor", "valve_closed.discharge", "valve_closed.suction", "valve_closed.injection"}


def heard(call: Call, said: str) -> Call:
    """The words, and yes where they are asked back."""
    call.say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


# ---- who, which machine


def test_somebody_is_named_at_the_start(begin: Calls):
    """S42"""
    call = begin()
    assert call.reaches(lambda a: "technician" in a.ids or a.id == "reset_device", 60)
    assert "technician" in (*call.ask.ids, *call.readings), f"S42 nobody is named before the work at the machine: {call.ask}"


def left_locked(begin: Calls, words: dict[str, str]) -> Call:
    """An earlier call that left its lock on, twelve hours ago, and a new one to the same machine."""
    begin(
        "injection_coil_failed", {"repaired": "leave it locked", "technician": "sam"}, start=START - timedelta(hours=12)
    ).to_the_end()
    return begin("injection_coil_failed", {"technician": "alex", **words})


def test_a_lock_left_by_an_earlier_call_is_anothers(begin: Calls):
    """S7, S42"""
    call = left_locked(begin, {})
    call.reaches("locked_out", 120)
    about = [one for one in re.split(r"(?<=[.?!])", call.spoken) if "lock" in one.lower()]
    whose = re.compile(r"another|owner|\bsam\b|supervisor|someone else|somebody else", re.I)
    assert any(map(whose.search, about)), f"S42 sam's lock hangs there, alex is told: {' '.join(about)}"


@pytest.mark.parametrize("said", ["correction compressor", "correction the compressor"])
def test_another_compressor_voids_what_was_read_of_the_first(begin: Calls, said: str):
    """S40, S41"""
    call = begin().until("live_or_dead").say(said).tell("three")
    assert call.readings["compressor"] == "three", f"the correction is not taken: {call.tail()}"
    call.man.words |= {"panel_tag": "a three"}
    seen = len(call.asks)
    call.reaches(lambda a: a.id == "panel_tag" or hands_in(a), 40)
    asked = {i for a in call.asks[seen - 1 :] for i in a.ids}
    missing = {"reset_device", "head_fan_running", "probe_condition"} - asked
    assert not missing, f"S40 kept from the other machine: {missing}; it asked {sorted(asked)}"


def test_another_rack_voids_what_was_read_of_the_first(begin: Calls):
    """S40"""
    call = begin().until("reset_device").say("correction rack").tell("b")
    if call.readings.get("rack") == "b":
        call.man.words |= {"panel_tag": "b two"}
        seen = len(call.asks)
        call.reaches(lambda a: a.id == "panel_tag" or hands_in(a), 40)
        asked = {i for a in call.asks[seen - 1 :] for i in a.ids}
        missing = {"rack_suction_pressure", "rack_discharge_pressure", "sight_glass"} - asked
        assert not missing, f"S40 kept from the other rack: {missing}; it asked {sorted(asked)}"


@pytest.mark.parametrize("at", ["locked_out", "chain_dead_check", "watch.suction_pressure"])
def test_the_machine_is_not_changed_once_the_lock_belongs_to_it(begin: Calls, at: str):
    """S4, S40"""
    call = begin("injection_coil_failed").until(at).say("correction compressor")
    if not call.ended and "compressor" in call.ask.ids:
        call.tell("three")
    assert call.readings["compressor"] == "two", f"S4 the lock is on two, the call is about three now: {call.tail()}"


# ---- silence, noise, old answers


@pytest.mark.parametrize("said", ["", "uh", "mhm", "the weather is nice", "one two three", "yes yes yes no"])
def test_neither_silence_nor_noise_acknowledges_a_caution(begin: Calls, said: str):
    """S39"""
    call = begin().until(lambda a: a.is_caution and "tag" in a.said.lower())
    for _ in range(5):
        call.say(said, after_s=45)
        assert call.ask.id != "panel_tag", f"S39 '{said}' acknowledged the caution"


@pytest.mark.parametrize("at", ["fit_to_start", "service_valves_open", "others_clear", "lock_removed", "covers_on"])
def test_silence_answers_no_acknowledgement(begin: Calls, at: str):
    """S39"""
    call = begin("injection_coil_failed").until(at)
    for _ in range(4):
        call.say("", after_s=90)
    assert at not in call.readings, f"S39 silence at {at} is on record"


def test_a_yes_meant_for_the_read_back_answers_nothing_else(begin: Calls):
    """S39"""
    call = begin("injection_coil_failed").until("others_clear").say("skip this", "yes", "yes")
    asked = [a.id for a in call.asks[-3:]]
    assert call.ask.id != "lock_removed" or asked.count("others_clear") >= 1, f"S39 it asks {call.ask}"
    assert "lock_removed" not in call.readings, f"S39 the second yes took the lock off: {call.tail()}"


@pytest.mark.parametrize(
    ("id_", "said"),
    [
        ("watch.suction_pressure", "no idea"),
        ("watch.discharge_temperature", "hot"),
        ("rack_suction_pressure", "can't see it"),
        ("product_temperature", "frozen"),
    ],
)
def test_no_word_becomes_a_number(begin: Calls, id_: str, said: str):
    """S39"""
    call = begin("injection_coil_failed", {"product_state": "warming"}).until(id_)
    heard(call, said)
    value = call.readings.get(id_)
    assert not isinstance(value, (int, float)) or isinstance(value, bool), f"S39 '{said}' is {value} on record"


@pytest.mark.parametrize(
    ("id_", "said"),
    [("rack_discharge_pressure", "pegged"), ("injection_coil_ohms", "open line"), ("dead_volts.control", "off the scale")],
)
def test_off_the_scale_is_no_maximum(begin: Calls, id_: str, said: str):
    """S39"""
    call = heard(begin().until(id_), said)
    value = call.readings.get(id_)
    assert not isinstance(value, (int, float)), f"S39 '{said}' is {value} on record"
    assert not call.readings.get("ratio"), call.readings


# ---- old readings


def ratios(call: Call) -> list[dict[str, object]]:
    return [m for m in call.messages if m["type"] == "derived" and m["id"] in ("ratio", "superheat", "condensing_difference")]


def test_an_old_suction_is_not_joined_with_a_new_discharge(begin: Calls):
    """S40"""
    call = begin().until("rack_discharge_pressure")
    before = len(ratios(call))
    call.say("two ten", after_s=2 * 3600)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    assert len(ratios(call)) == before or "rack_suction_pressure" in call.ask.ids, (
        f"S40 suction and discharge lie two hours apart, and it derives {ratios(call)[-1]}"
    )


def test_a_discharge_corrected_hours_later_is_not_joined_with_the_old_suction(begin: Calls):
    """S40"""
    call = begin().until("chain_dead_check")
    before = len(ratios(call))
    call.say("say again", after_s=3 * 3600).correct("rack_discharge_pressure", "rack discharge", "two sixty")
    new = ratios(call)[before:]
    assert not new or "rack_suction_pressure" in call.ask.ids, f"S40 the suction is three hours old: {new}"


def test_a_watch_round_is_not_joined_with_the_header_of_the_arrival(begin: Calls):
    """S40"""
    call = begin("injection_coil_failed").until("watch.suction_pressure").answer()
    joined = [m for m in ratios(call) if {"rack_discharge_pressure", "watch.suction_pressure"} <= set(m["from"])]
    assert not joined, f"S40 the suction of the watch with the head of the arrival: {joined}"


def test_two_readings_that_cannot_both_be_true_are_both_asked_again(begin: Calls):
    """S41"""
    call = (
        begin(words={"rack_suction_pressure": "sixty", "rack_discharge_pressure": "forty"})
        .until("rack_discharge_pressure")
        .answer()
    )
    asked: list[str] = []
    for _ in range(6):
        asked += [call.ask.of or call.ask.id]
        if call.ask.id == "confirm":
            call.say("yes")
        else:
            call.answer()
    assert {"rack_suction_pressure", "rack_discharge_pressure"} <= set(asked), f"S41 suction over discharge: it asks {asked}"


# ---- conclusions


@pytest.mark.parametrize(
    "words",
    [
        {"watch.discharge_temperature": "two forty five"},
        {"injection_feed": "dry"},
        {"watch.suction_pressure": "two"},
        {"capacity_control": "unloaded"},
        {"sight_glass": "bubbles"},
        {"suction_temperature": "eighty"},
    ],
)
def test_settled_is_not_said_over_a_reading_that_contradicts_it(begin: Calls, words: dict[str, str]):
    """S41"""
    call = begin("none at the motor", words)
    call.to_the_end()
    clean = call.conclusions.get("no_fault_found") == "proven" and re.search(r"running and settled", call.spoken, re.I)
    assert not clean, f"S41 {words} stands on record, and it closes as no fault, settled: {call.tail(12)}"


@pytest.mark.parametrize("id_", ["winding_ohms.ab", "line_amps.a", "probe_ohms.module_end", "injection_coil_ohms"])
def test_no_fault_is_not_proven_on_a_test_that_was_skipped(begin: Calls, id_: str):
    """S41"""
    fault = "none" if id_.startswith(("probe", "injection")) else "none at the motor"
    call = heard(begin(fault).until(id_), "skip this").to_the_end()
    assert call.conclusions.get("no_fault_found") != "proven", f"S41 {id_} was skipped, no fault is proven: {call.tail(12)}"


def test_a_proven_cause_that_nobody_repaired_is_handed_over(begin: Calls):
    """S41, S37"""
    call = begin("injection_coil_failed", {"repaired": "leave it locked"}).to_the_end()
    assert not any(map(starts, call.asks)), f"S41 it was started on a failed coil: {call.tail()}"
    assert call.obligations.get("locked_out") == "handed_over", f"S37 {call.obligations}"


def test_a_coil_corrected_to_failed_after_the_start_is_not_closed_as_no_fault(begin: Calls):
    """S41"""
    call = begin().until("watch.suction_pressure").correct("injection_coil_ohms", "coil resistance", "open line").to_the_end()
    assert call.conclusions.get("no_fault_found") != "proven", f"S41 the coil is open: {call.conclusions}"
    assert not re.search(r"no cause found", call.spoken[-300:], re.I), f"S41 the coil is open: {call.tail(12)}"


# ---- the seal


@pytest.mark.parametrize(
    "at",
    [
        "chain_dead_check",
        "injection_coil_ohms",
        "jumper_fitted",
        "injection_feed",
        "jumper_removed",
        "ground_megohms",
        "control_power_off",
        "others_clear",
        "lock_removed",
        "watch.suction_pressure",
    ],
)
def test_finish_goes_through_everything_that_is_open(begin: Calls, at: str):
    """S37"""
    call = heard(begin("none at the motor" if at == "ground_megohms" else "none").until(at), "finish job").to_the_end()
    assert call.ended == "sealed", f"S37 the call ends {call.ended}"
    assert not call.open, f"S37 sealed with {call.open}"
    handed = {i for i, state in call.obligations.items() if state == "handed_over"}
    assert not handed & NEVER_HANDED_OVER, f"S37 handed over what never may be: {handed & NEVER_HANDED_OVER}"
    if handed & LOCKED_AND_TAGGED:
        assert call.obligations.get("locked_out") == "handed_over", f"S37 {handed & LOCKED_AND_TAGGED} with the lock off"


@pytest.mark.parametrize("at", [resets, starts])
def test_liquid_is_not_handed_over_as_locked_out_with_the_lock_off(begin: Calls, at: Callable[[Ask], bool]):
    """S37"""
    call = begin("module_no_output").until(at).say("correction injection line")
    if call.ask.id in ("injection_feed", "injection_after"):
        call.tell("feeding")
    if "liquid_in_compressor" in call.open:
        heard(call, "finish job").to_the_end()
        assert call.obligations.get("locked_out") == "handed_over", (
            f"S37 liquid is handed over with the lock off: {call.obligations}"
        )


def test_the_lock_taken_off_before_the_hand_over_is_no_lock_and_tag(begin: Calls):
    """S37, S4"""
    call = begin("injection_valve_leaking", {"repaired": "leave it locked"}).until("follow_up_owner")
    if "locked_out" in call.open:
        heard(call, "the lock is off")
        call.reaches(lambda a: a.id in ("panel_tag", "locked_out", "lock_still_on") or a.id == "close_consent", 6)
        assert call.ended != "sealed", f"S37 sealed with the lock off: {call.tail()}"
        assert call.ask.id != "close_consent", f"S37 liquid inside, the lock off, and it closes: {call.tail()}"


@pytest.mark.parametrize("said", ["close it", "close the call", "yes", "seal it", "we're done here"])
@pytest.mark.parametrize("at", ["injection_coil_ohms", "jumper_removed", "lock_removed"])
def test_no_word_closes_a_call_from_its_middle(begin: Calls, at: str, said: str):
    """S37"""
    call = begin().until(at).say(said)
    assert call.ended != "sealed", f"S37 '{said}' at {at} sealed it"


@pytest.mark.parametrize("said", ["no", "wait", "not yet", "", "add a note"])
def test_nothing_but_consent_seals(begin: Calls, said: str):
    """S37, S39"""
    call = begin("injection_coil_failed").until("close_consent").say(said)
    assert call.ended != "sealed", f"S37 '{said}' sealed the call"


def test_a_program_that_died_at_the_consent_does_not_seal_by_itself(begin: Calls):
    """S37, S39"""
    call = begin("injection_coil_failed").until("close_consent").resume()
    assert call.ended != "sealed", "S37 sealed by the resume"


def test_the_store_is_told_what_to_do_at_the_next_alarm(begin: Calls):
    """Section 10"""
    call = begin("none at the motor").to_the_end()
    assert re.search(r"do not press|not the button|next alarm", call.spoken, re.I), f"the store is told nothing: {call.tail()}"


def test_no_cause_found_comes_back_within_forty_eight_hours(begin: Calls):
    """Section 3"""
    call = begin("none at the motor", {"follow_up_in_hours": "seventy two"})
    call.until("follow_up_owner").say("supervisor seventy two")
    call.reaches(lambda a: a.id == "close_consent" or a.id == "confirm", 3)
    hours = call.readings.get("follow_up_in_hours")
    assert hours is None or hours <= 48, f"section 3: within 48 h, it takes {hours}"


@pytest.mark.parametrize("said", ["skip this", "nobody", "no idea", ""])
def test_what_is_left_is_left_to_somebody(begin: Calls, said: str):
    """S37"""
    call = begin("injection_coil_failed", {"repaired": "leave it locked", "follow_up_owner": said}).until("follow_up_owner")
    heard(call, said)
    call.reaches(lambda a: a.id == "close_consent", 10)
    assert call.ended != "sealed", f"S37 sealed, and left to '{said}'"
    assert "handed_over" not in call.obligations.values(), f"S37 handed over to '{said}': {call.obligations}"


# ---- two programs, a damaged log


def test_two_programs_do_not_write_one_call(begin: Calls, tmp_path: Path):
    """S5"""
    call = begin().until("chain_dead_check")
    command = [
        sys.executable,
        "-m",
        "assistant.cli",
        "resume",
        str(call.path),
        "--pipe",
        "--clock",
        "simulated",
        "--start",
        (START + timedelta(hours=1)).isoformat(),
    ]
    second = subprocess.run(command, input='{"say":"understood"}\n' * 3, capture_output=True, text=True, timeout=120)
    asked = [json.loads(line) for line in second.stdout.splitlines() if '"ask"' in line]
    assert second.returncode != 0, f"a second program took the open call up and asked {[a.get('asking') for a in asked][:3]}"


def test_a_call_goes_on_after_a_refused_second_program(begin: Calls):
    """S5"""
    call = begin().until("rack_suction_pressure")
    command = [sys.executable, "-m", "assistant.cli", "resume", str(call.path), "--pipe", "--clock", "simulated"]
    subprocess.run(command, input="", capture_output=True, text=True, timeout=120)
    call.to_the_end()
    whole = subprocess.run(
        [sys.executable, "-m", "assistant.cli", "verify", str(call.path)], capture_output=True, text=True, timeout=120
    )
    assert whole.returncode == 0, f"the log of the call is damaged: {whole.stdout}{whole.stderr}"


def test_a_log_that_ends_in_half_a_line_comes_back_at_the_lock(begin: Calls):
    """S5"""
    call = begin().until("injection_coil_ohms").kill()
    log = call.path / "events.jsonl"
    log.write_bytes(log.read_bytes()[:-20])
    call.resume()
    proves_first(call, "S5 the power was cut while the log was written.")


@pytest.mark.parametrize("hours", [-2, 0, 24 * 20])
def test_a_clock_that_is_wrong_when_the_program_comes_back_keeps_no_proof(begin: Calls, hours: int):
    """S5"""
    call = begin().until("injection_coil_ohms").resume(after_s=hours * 3600)
    proves_first(call, f"S5 the clock went {hours} hours.")


@pytest.mark.parametrize("times", [3])
def test_a_program_that_dies_again_and_again_still_comes_to_its_seal(begin: Calls, times: int):
    """S5, S37"""
    call = begin("injection_coil_failed")
    for at in ("panel_tag", "chain_dead_check", "injection_coil_ohms")[:times]:
        call.until(at).resume()
    call.to_the_end()
    assert call.ended == "sealed"
    assert not call.open, f"S37 sealed with {call.open}"


def test_skip_at_every_question_reaches_neither_panel_nor_start(begin: Calls):
    """S1, S36, S37"""
    call = begin()
    call.until("fit_to_start").answer()
    for _ in range(120):
        if call.ended:
            break
        assert not hands_in(call.ask), f"S1 skipped into the panel: {call.ask}"
        assert not starts(call.ask), f"S20 skipped to a start: {call.ask}"
        if call.ask.is_caution:
            call.answer()
        else:
            heard(call, "skip this")
    assert call.ended != "sealed" or not call.open


def test_understood_alone_opens_nothing(begin: Calls):
    """S1, S39"""
    call = begin()
    for _ in range(80):
        if call.ended:
            break
        call.say("understood")
        assert call.ended or not (hands_in(call.ask) or starts(call.ask)), f"S39 'understood' came to {call.ask}"


def test_yes_alone_opens_nothing(begin: Calls):
    """S1, S39"""
    call = begin()
    for _ in range(80):
        if call.ended:
            break
        call.say("yes")
        assert call.ended or not (hands_in(call.ask) or starts(call.ask)), f"S39 'yes' came to {call.ask}"
