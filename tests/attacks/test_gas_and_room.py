"""Attacks on gas, pressure and the room: alarms in mid-call, probes in the gas, repairs without isolation, cautions left out."""

import re
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import Ask, Call
from tests.attacks.trade import hands_in, in_the_room, lets_run, live, proved_dead, repairs, site_file, starts

ALARMS = [
    "the detector's going off",
    "detector's going",
    "the alarm's going",
    "gas alarm",
    "the refrigerant alarm is going",
    "detector in alarm",
    "the alarm is going off",
]


def heard(call: Call, said: str) -> Call:
    """The words, and yes where they are asked back."""
    call.say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


def warned(call: Call, words: str, rule: str) -> None:
    """The sentence of a caution was spoken in this call."""
    assert re.search(words, call.spoken, re.I), f"{rule}; {call.tail(30)}"


# ---- the room


@pytest.mark.parametrize("said", ALARMS)
@pytest.mark.parametrize("at", ["rack_suction_pressure", "chain_dead_check", "watch.suction_pressure"])
def test_an_alarm_at_any_moment_gets_everybody_out(begin: Calls, at: str, said: str):
    """S35"""
    call = heard(begin("injection_coil_failed").until(at), said)
    assert re.search(r"stay out|get out|out of the room", call.said, re.I), f"S35 '{said}' at {at}: it says '{call.said}'"
    call.never(in_the_room, f"S35 '{said}': nobody goes in.", 40)


@pytest.mark.parametrize(
    "at",
    [
        "product_state",
        "sight_glass",
        "head_fan_running",
        "panel_tag",
        "dead_volts.power",
        "injection_coil_ohms",
        "jumper_removed",
        "service_valves_open",
        "lock_removed",
        "part_left_in_use",
    ],
)
def test_the_alarm_is_heard_at_every_station(begin: Calls, at: str):
    """S35"""
    call = heard(begin().until(at), "the detector's going off")
    assert re.search(r"stay out|get out|out of the room", call.said, re.I), f"S35 at {at}: it says '{call.said}'"
    assert call.readings.get("detector_state") == "alarm", (
        f"S35 the alarm is not on record: {call.readings.get('detector_state')}"
    )
    call.never(in_the_room, "S35 nobody goes in.", 30)


def test_an_alarm_at_a_question_that_is_asked_back_is_heard(begin: Calls):
    """S35"""
    call = begin().until("panel_tag").say("finish job")
    assert call.ask.id == "confirm"
    call.say("the detector's going off")
    assert re.search(r"stay out|get out|out of the room", call.said, re.I), f"S35 it says '{call.said}'"


def test_an_alarm_in_a_hold_is_heard(begin: Calls):
    """S35"""
    call = begin().until("chain_dead_check").say("hold on").say("the alarm's going")
    assert re.search(r"stay out|get out|out of the room", call.said, re.I), f"S35 it says '{call.said}'"


def test_an_alarm_in_a_note_is_heard(begin: Calls):
    """S35"""
    call = begin().until("chain_dead_check").say("make a note").say("the detector is going off in here")
    assert re.search(r"stay out|get out|out of the room", call.said, re.I), f"S35 it says '{call.said}'"


def test_in_an_alarm_what_is_open_is_handed_over_from_outside_or_the_call_stays_open(begin: Calls):
    """S35, S37"""
    call = heard(begin().until("leads_clipped"), "the detector's going off")
    call.never(in_the_room, "S35 nobody goes back for the jumper.", 40)
    if call.ended == "sealed":
        assert not call.open, f"S37 sealed with {call.open}"
        assert call.obligations.get("jumper_fitted") == "handed_over", f"S35 nobody took the jumper out: {call.obligations}"


def test_an_alarm_survives_the_death_of_the_program(begin: Calls):
    """S35, S5"""
    call = heard(begin().until("chain_dead_check"), "the detector's going off").resume()
    call.never(lambda a: in_the_room(a) and "room_safe" not in {x.id for x in call.asks}, "S35 it was in alarm.", 30)


@pytest.mark.parametrize("said", ["alarm", "going", "in alarm", "dead", "not lit", "none"])
def test_no_entry_into_a_closed_room_without_a_quiet_detector(begin: Calls, said: str):
    """S35"""
    call = begin(words={"fit_to_start": "ready", "detector_state": said}).until("fit_to_start")
    call.never(lambda a: in_the_room(a), f"S35 the detector: '{said}'.", 30)


@pytest.mark.parametrize("said", ["no", "fan's off", "not running", "no fan"])
def test_no_entry_without_the_fan(begin: Calls, said: str):
    """S35"""
    call = begin(words={"fit_to_start": "ready", "ventilation_running": said}).until("fit_to_start")
    call.never(in_the_room, f"S35 the fan: '{said}'.", 30)


@pytest.mark.parametrize("said", ["skip this", "can't get to it", "not yet", "no idea", "detector's going"])
def test_fitness_is_not_skipped(begin: Calls, said: str):
    """S35, S36"""
    heard(begin(words={"fit_to_start": said}).until("fit_to_start"), said).never(
        in_the_room, f"'{said}' is not fit to start.", 20
    )


@pytest.mark.parametrize("said", ["skip this", "skip", "next step", "", "no"])
def test_the_caution_of_the_room_is_not_skipped(begin: Calls, said: str):
    """S36"""
    call = begin().until(lambda a: a.is_caution)
    for _ in range(4):
        call.say(said)
        if call.ask.id == "confirm":
            call.say("yes")
    waits = "understood" in call.ask.choices or call.ask.choices == ("continue",)
    assert call.ask.is_caution or waits, f"S36 '{said}' acknowledged a caution: {call.ask}"


# ---- cautions of the refrigerant


def on_rack(begin: Calls, folder: Path, refrigerant: str, fault: str = "none", **words: str) -> Call:
    label = {"R744": "r seven forty four", "R454C": "r four fifty four c"}.get(refrigerant, "r twenty two")
    pressures = (
        {"rack_suction_pressure": "two hundred", "rack_discharge_pressure": "six hundred"} if refrigerant == "R744" else {}
    )
    return begin(
        fault, {**pressures, "refrigerant_label": label, **words}, profile=site_file(folder, refrigerant=f'"{refrigerant}"')
    )


def test_carbon_dioxide_is_named_before_the_first_act_at_the_machine(begin: Calls, tmp_path: Path):
    """S36"""
    call = on_rack(begin, tmp_path, "R744").until("reset_device")
    warned(call, r"half a percent|0\.5 ?%|three percent|3 ?%|dry ice", "S36 R-744 has its own caution")


def test_a_flammable_refrigerant_is_named_before_the_first_act_at_the_machine(begin: Calls, tmp_path: Path):
    """S36"""
    call = on_rack(begin, tmp_path, "R454C").until("reset_device")
    warned(call, r"no sparks|rated detector|flammable", "S36 an A2L has its own caution")


@pytest.mark.parametrize("refrigerant", ["R744", "R454C", "R290"])
def test_the_refrigerants_caution_is_acknowledged_not_only_said(begin: Calls, tmp_path: Path, refrigerant: str):
    """S36"""
    call = on_rack(begin, tmp_path, refrigerant).until("reset_device")
    words = r"half a percent" if refrigerant == "R744" else r"no sparks"
    assert any(re.search(words, a.said, re.I) and a.id == "command" for a in call.asks), f"S36 never waited for: {call.tail(30)}"


@pytest.mark.parametrize("refrigerant", ["R744", "R454C"])
def test_the_refrigerants_caution_is_full_again_after_the_program_died(begin: Calls, tmp_path: Path, refrigerant: str):
    """S5, S36"""
    call = on_rack(begin, tmp_path, refrigerant).until("chain_dead_check")
    before = len(call.spoken)
    call.resume().reaches(hands_in, 60)
    words = r"half a percent|8 h limit" if refrigerant == "R744" else r"no sparks|rated detector"
    assert re.search(words, call.spoken[before:], re.I), f"S5 every caution in full, anew: {call.tail(30)}"


# ---- the probe


def in_gas(begin: Calls, folder: Path, fault: str, **words: str) -> Call:
    return begin(fault, words, profile=site_file(folder, mount='"in_gas"'))


TAKEN_OUT = re.compile(r"take (the probe|it) out|unscrew (the|it)", re.I)
EMPTIED = re.compile(r"emptied|empty (the|it|that|this)|section|pump(ed)? (it )?(down|out)|recover|isolat", re.I)
AT_ZERO = re.compile(r"(gauge|pressure)[^.]*\bzero|\bzero[^.]*gauge", re.I)


@pytest.mark.parametrize("fault", ["none", "probe_fouled", "probe_failed"])
def test_a_probe_in_the_gas_is_only_unplugged(begin: Calls, tmp_path: Path, fault: str):
    """S28"""
    call = in_gas(begin, tmp_path, fault)
    call.never(
        lambda a: not a.is_caution and ("probe_cleaned" in a.ids or bool(TAKEN_OUT.search(a.prompt))) and not isolated(call),
        "S28 the probe is threaded into the gas.",
        120,
    )


@pytest.mark.parametrize("fault", ["probe_failed", "probe_fouled", "probe_loose"])
def test_a_probe_in_the_gas_is_not_replaced_before_isolation_recovery_and_gauge(begin: Calls, tmp_path: Path, fault: str):
    """S28, S31"""
    call = in_gas(begin, tmp_path, fault)
    if call.reaches(repairs, 150):
        assert isolated(call), f"S31 it asks for the repair of a probe in the gas: {call.ask}; {call.tail()}"


def test_the_caution_of_a_probe_in_the_gas_comes_before_its_connector(begin: Calls, tmp_path: Path):
    """S36"""
    call = in_gas(begin, tmp_path, "probe_failed").until("probe_ohms")
    warned(call, r"unplug only|opens the system", "S36 a probe in the gas has its own caution")


def test_nobody_is_told_to_pull_a_probe(begin: Calls, tmp_path: Path):
    """S28"""
    for fault in ("probe_failed", "probe_fouled"):
        call = in_gas(begin, tmp_path, fault).to_the_end()
        assert not re.search(r"\bpull (the|it|out)", call.spoken, re.I), f"S28 {re.findall('.{40}pull.{20}', call.spoken)}"


def asked(call: Call) -> str:
    """Every prompt so far, without the cautions."""
    return " ".join(a.prompt for a in call.asks if not a.is_caution)


def isolated(call: Call) -> bool:
    """The machine was valved off and emptied, and its gauge was read at zero."""
    words, read = asked(call), call.readings
    at_zero = 0 in (read.get("shell_pressure"), read.get("suction_pressure")) or AT_ZERO.search(words)
    return bool(at_zero) and bool(EMPTIED.search(words))


def test_the_pipe_is_measured_before_the_probe_is_touched(begin: Calls):
    """S29"""
    call = begin("probe_failed").until(lambda a: any(i.startswith("probe_ohms") for i in a.ids))
    assert "probe_pipe_temperature" in call.readings, f"S29 it asks {call.ask} first"


@pytest.mark.parametrize("said", ["skip this", "can't get to it"])
def test_a_pipe_that_nobody_measured_counts_as_hot(begin: Calls, said: str):
    """S29"""
    call = heard(begin("probe_fouled").until("probe_pipe_temperature"), said)
    if call.reaches(lambda a: "probe_ohms" in a.ids or "probe_cleaned" in a.ids, 40):
        assert re.search(r"gloves|hot|wait|temperature", call.ask.said, re.I), f"S29 nobody measured the pipe: {call.ask}"


@pytest.mark.parametrize("said", ["one forty", "two hundred", "two eighty"])
def test_a_hot_pipe_is_handled_with_gloves_or_waited_for(begin: Calls, said: str):
    """S29"""
    call = begin("probe_failed").until("probe_pipe_temperature").tell(said)
    assert re.search(r"gloves|wait", call.said, re.I), f"S29 the pipe is at {said}: {call.said}"


# ---- repairs


@pytest.mark.parametrize(
    "fault", ["drier_plugged", "injection_strainer_plugged", "injection_valve_stuck_closed", "suction filter"]
)
def test_no_part_of_the_circuit_is_opened_before_its_section_is_emptied(begin: Calls, fault: str):
    """S31, S32"""
    call = begin(fault, {"repaired": "repaired"})
    if call.reaches(repairs, 200):
        assert EMPTIED.search(asked(call)), f"S31 'Repaired?' of {fault}, and nothing was emptied or isolated: {call.tail()}"


@pytest.mark.parametrize(
    "fault", ["drier_plugged", "injection_strainer_plugged", "injection_valve_stuck_closed", "suction filter"]
)
def test_the_circuit_is_opened_behind_its_caution(begin: Calls, fault: str):
    """S31, S36"""
    call = begin(fault, {"repaired": "repaired"})
    if call.reaches(repairs, 200):
        warned(call, r"liquid burns cold|frostbite", f"S36 'Repaired?' of {fault} without the caution of liquid and cold")


@pytest.mark.parametrize("fault", ["injection_strainer_plugged", "suction filter", "injection_valve_stuck_closed", "probe_loose"])
def test_no_repair_of_a_machine_that_is_not_locked(begin: Calls, fault: str):
    """S31"""
    call = begin(fault, {"repaired": "repaired"})
    if call.reaches(repairs, 200):
        assert "locked_out" in call.open, f"S31 it asks for a repair with no lock on: {call.ask}; {call.tail()}"


@pytest.mark.parametrize(
    "fault",
    [
        "injection_wiring_open",
        "module_no_output",
        "injection_coil_failed",
        "probe_wiring_faulty",
        "module_output_fuse",
        "starter pole open",
        "starter coil open",
        "wire of the string open",
    ],
)
def test_no_repair_in_a_panel_that_is_not_proved_dead(begin: Calls, fault: str):
    """S31"""
    call = begin(fault, {"repaired": "repaired"}).until(repairs)
    assert proved_dead(call), f"S31 it asks for a repair in a panel that is not dead: {call.ask}; {call.tail()}"


def test_the_coil_is_changed_behind_its_caution(begin: Calls):
    """S31, S36"""
    call = begin("injection_coil_failed", {"repaired": "repaired"}).until(repairs)
    warned(call, r"off its stem|no plunger", "S36 the coil has its own caution")


@pytest.mark.parametrize("interruption", ["killed", "held"])
def test_an_interrupted_repair_comes_back_to_the_lock(begin: Calls, interruption: str):
    """S31, S5"""
    call = begin("injection_coil_failed", {"repaired": "repaired"}).until(repairs)
    if interruption == "killed":
        call.resume(after_s=1200)
    else:
        call.say("hold on").say("continue", after_s=2400)
    assert not repairs(call.ask), f"S5 it comes back in the middle of the repair: {call.ask}"
    call.until(repairs)
    assert proved_dead(call), f"S31 the repair is asked for on an old proof: {call.tail()}"


def test_a_leak_is_repaired_with_the_section_empty(begin: Calls):
    """S31"""
    call = begin("refrigerant_low").until("leak_repaired")
    assert "refrigerant_recovered" in call.readings or EMPTIED.search(asked(call)), (
        f"S31 a leak is repaired under pressure: {call.ask}; {call.tail()}"
    )


def test_the_torch_has_its_caution(begin: Calls):
    """S36"""
    call = begin("refrigerant_low").until("leak_repaired")
    warned(call, r"nitrogen|phosgene|fire watch", "S36 brazing has its own caution")


def test_nobody_closes_a_discharge_valve(begin: Calls):
    """S30"""
    for fault in (
        "none",
        "drier_plugged",
        "suction filter",
        "injection_strainer_plugged",
        "discharge shut",
        "none at the high pressure",
    ):
        call = begin(fault).to_the_end()
        wrong = re.search(r".{60}close the (discharge|condenser|receiver inlet).{40}", asked(call), re.I)
        assert not wrong, f"S30 {fault}: {wrong and wrong.group()}"


@pytest.mark.parametrize("kind", ["scroll", "screw"])
def test_a_scroll_or_screw_is_not_pumped_down(begin: Calls, tmp_path: Path, kind: str):
    """S30"""
    for fault in ("none", "suction filter", "drier_plugged", "none at the low pressure"):
        call = begin(fault, {"rotation": "right"}, profile=site_file(tmp_path, machine_kind=f'"{kind}"')).to_the_end()
        assert not re.search(r"pump (it )?down|close the suction valve", asked(call), re.I), (
            f"S30 a {kind} is pumped down: {fault}"
        )
        assert not any("pump_down_low" in a.ids for a in call.asks), f"S30 a {kind} is pumped down: {fault}"


def test_the_valves_caution_comes_before_the_hand_valve_is_moved(begin: Calls):
    """S36"""
    call = begin("injection_hand_valve_closed").until(
        lambda a: a.id == "command" and bool(re.search(r"(open|close) the (injection )?hand valve", a.prompt, re.I))
    )
    warned(call, r"suction only|never close discharge|never shut liquid", "S36 the valves have their own caution")


# ---- the charge


def charging(ask: Ask) -> bool:
    return "refrigerant_added" in ask.ids and bool(re.search(r"hose|weigh", ask.prompt, re.I))


@pytest.mark.parametrize("said", ["r four oh seven a", "r four oh four a", "skip this", "can't see it", "r four forty eight a"])
def test_no_charge_before_the_label_agrees(begin: Calls, said: str):
    """S34"""
    call = begin("refrigerant_low", {"refrigerant_label": said})
    heard(call.until("refrigerant_label"), said).never(charging, f"S34 the label says '{said}'.", 60)


@pytest.mark.parametrize(
    "said", ["skip this", "not yet", "no", "no it's four oh seven a", "can't get to it", "wrong one", "r four oh four a"]
)
def test_no_charge_before_the_cylinder_is_read(begin: Calls, said: str):
    """S34"""
    call = begin("refrigerant_low", {"cylinder_checked": said})
    heard(call.until("cylinder_checked"), said).never(charging, f"S34 the cylinder: '{said}'.", 40)


def test_a_label_corrected_to_another_refrigerant_stops_the_charge(begin: Calls):
    """S34"""
    call = (
        begin("refrigerant_low")
        .until("cylinder_checked")
        .correct("refrigerant_label", "refrigerant on the label", "r four oh seven a")
    )
    call.never(charging, "S34 the label says R-407A after all.", 30)


def test_no_charge_before_the_leak_was_looked_for(begin: Calls):
    """S34, section 6"""
    call = heard(begin("refrigerant_low").until("leak_found"), "skip this")
    call.never(charging, "No charge before the leak search.", 60)


def test_the_charging_caution_comes_before_the_cylinder_valve(begin: Calls):
    """S36"""
    call = begin("refrigerant_low").until(charging)
    warned(call, r"blends leave as liquid|read rack and cylinder", "S36 charging has its own caution")


@pytest.mark.parametrize("said", ["did not weigh", "half a cylinder", "a full cylinder", "a couple of pounds maybe"])
def test_what_was_not_weighed_is_not_on_record(begin: Calls, said: str):
    """S39, section 11"""
    call = heard(begin("refrigerant_low").until(charging), said)
    assert "refrigerant_added" not in call.readings, f"'{said}' is on record as {call.readings['refrigerant_added']}"


@pytest.mark.parametrize("words", ["finish job", "skip this", "go back"])
def test_no_call_closes_with_the_hose_on(begin: Calls, words: str):
    """S37"""
    call = begin("refrigerant_low").until(charging).answer()
    assert "hose_on" in call.open
    heard(call, words)
    call.to_the_end()
    assert call.obligations["hose_on"] == "cleared", f"S37 the hose is {call.obligations['hose_on']}"


def test_a_program_that_died_with_the_hose_on_comes_back_to_it(begin: Calls):
    """S5, S37"""
    call = begin("refrigerant_low").until(charging).answer().resume()
    call.reaches(lambda a: starts(a) or a.id == "close_consent", 80)
    assert call.obligations["hose_on"] == "cleared", f"S37 {call.ask}: the hose is still on"


def test_an_unrepaired_leak_is_handed_over_by_name(begin: Calls):
    """S37"""
    call = begin("refrigerant_low", {"leak_repaired": "no"}).to_the_end()
    assert call.obligations.get("leak_open") == "handed_over", f"S37 the leak: {call.obligations}"


def test_no_standing_test_while_the_rest_of_the_rack_runs(begin: Calls):
    """S33"""
    call = begin("air suspected")
    call.never(lambda a: "idle_condenser_pressure" in a.ids, "S33 the rack runs, and nobody agreed.", 150)


def test_no_live_work_during_a_leak_on_a_flammable_rack(begin: Calls, tmp_path: Path):
    """S9"""
    call = on_rack(begin, tmp_path, "R454C", "charge low", leak_repaired="no").until("leak_found").answer()
    call.never(live, "S9 a leak of a flammable refrigerant.", 80)


def test_the_ladder_has_its_caution_before_the_climb(begin: Calls):
    """S36"""
    call = begin("none at the high pressure").until("condenser_fans_running")
    warned(call, r"three points|tied", "S36 the climb has its own caution")
    warned(call, r"fans start by themselves|arm's length", "S36 the fans have their own caution")


def test_liquid_in_the_machine_is_said_when_it_is_found(begin: Calls):
    """S36"""
    call = begin().until("injection_feed").tell("feeding two oh eight click").until("jumper_removed")
    warned(call, r"liquid inside|do not start", "S36 liquid in the machine has its own caution")
    call.never(lambda a: lets_run(a) and "liquid_in_compressor" in call.open, "S20 liquid inside.", 80)
