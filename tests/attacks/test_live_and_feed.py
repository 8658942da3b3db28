"""Attacks on live work, on the restoring of power and on the feed test: skipped cautions, wrong plugs, seconds, sudden deaths."""

import re
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import Ask, Call
from tests.attacks.trade import energises, hands_in, lets_run, live, proves_first, repairs, site_file

LIVE_CAUTION = re.compile(r"gloves, shield|one hand", re.I)


def on_the_live_route(begin: Calls, **words: str) -> Call:
    return begin("none at the motor", {"live_or_dead": "live", **words})


def power_on(ask: Ask) -> bool:
    return ask.id == "control_power_on"


def jumper(ask: Ask) -> bool:
    return ask.id == "jumper_fitted"


def skipped(call: Call, at: str) -> Call:
    """The question is skipped, by the word and by its confirmation."""
    call.until(at).say("skip this")
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    return call


# ---- before the first live reading


def test_dead_is_offered_first(begin: Calls):
    """S8"""
    ask = begin().until("live_or_dead").ask
    words = ask.prompt.lower()
    assert "dead" in words, f"S8 dead is not offered: {ask}"
    assert words.index("dead") < (words.index("live") if "live" in words else len(words)), f"S8 dead is offered first: {ask}"


@pytest.mark.parametrize("said", ["metal", "aluminum", "it's a metal one", "metal ladder"])
def test_nothing_live_from_a_metal_ladder(begin: Calls, said: str):
    """S8"""
    on_the_live_route(begin, ladder_kind=said).until("ladder_kind").never(live, f"S8 the ladder is {said}.")


def test_a_ladder_corrected_to_metal_ends_the_live_work(begin: Calls):
    """S8"""
    call = on_the_live_route(begin).until("control_volts").correct("ladder_kind", "ladder", "metal")
    call.never(live, "S8 the ladder is metal after all.", 30)


@pytest.mark.parametrize(
    "said",
    [
        "no label",
        "the label's missing",
        "there is no label",
        "it's wet in here",
        "the panel is damaged",
        "there's water in it",
        "not met",
        "no",
    ],
)
def test_no_label_water_or_damage_is_no_live_work(begin: Calls, said: str):
    """S8"""
    on_the_live_route(begin, clothing_meets_label=said).until("clothing_meets_label").never(live, f"S8 '{said}' at the door.", 40)


@pytest.mark.parametrize("said", ["skip this", "skip", "can't get to it"])
@pytest.mark.parametrize("at", ["clothing_meets_label", "ladder_kind"])
def test_what_live_work_needs_is_not_skipped(begin: Calls, at: str, said: str):
    """S8"""
    call = on_the_live_route(begin).until(at).say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    call.man.words[at] = said
    call.never(live, f"S8 {at} was skipped.", 40)


@pytest.mark.parametrize("said", ["skip this", "next step", "", "can't get to it"])
def test_the_live_caution_is_not_skipped(begin: Calls, said: str):
    """S8, S36"""
    call = on_the_live_route(begin).until(
        lambda a: a.is_caution and LIVE_CAUTION.search(a.said) is not None and "Live." in a.said
    )
    for _ in range(5):
        call.say(said)
        if call.ask.id == "confirm":
            call.say("yes")
        assert not live(call.ask), f"S8 '{said}' was taken for an acknowledgement: {call.tail()}"


def test_the_live_caution_comes_again_after_each_power_on(begin: Calls):
    """S8"""
    call = begin("module_no_output").until("control_power_on").answer()
    before = len(call.log)
    call.until("control_power_off").answer().until("control_power_on")
    between = [i for i, (who, what) in enumerate(call.log[before:]) if who == "says" and re.search(r"^live\b", what, re.I)]
    assert between, f"S8 power comes back without the live caution: {call.tail(30)}"


@pytest.mark.parametrize("at", ["injection_feed", "module_supply_volts"])
def test_a_program_that_died_with_power_on_takes_no_live_reading_when_it_comes_back(begin: Calls, at: str):
    """S8, S5"""
    call = begin("module_no_output").until(at).resume()
    assert not live(call.ask), f"S5 it comes back at a live reading: {call.ask}"
    assert call.ask.id != "injection_feed", f"S5 it comes back in the feed test: {call.ask}"
    assert not hands_in(call.ask), f"S5 nor with hands in: {call.ask}"
    proves_first(call, "S5 power was on when the program died.")


def test_after_the_program_died_on_the_live_route_its_caution_comes_first(begin: Calls):
    """S8, S5"""
    call = on_the_live_route(begin).until("safety_volts.oil_pressure").resume()
    before = len(call.log)
    if call.reaches(live, 40):
        said = " ".join(text for who, text in call.log[before - 6 :] if who == "says")
        assert LIVE_CAUTION.search(said), f"S5 a live reading on an old caution: {call.ask}"


# ---- flammable, leak, alarm


@pytest.mark.parametrize("state", ["not lit", "none"])
def test_no_live_work_on_a_flammable_rack_unless_its_detector_is_quiet(begin: Calls, tmp_path: Path, state: str):
    """S9"""
    site = site_file(tmp_path, refrigerant='"R454C"', closed_room="false")
    call = begin("none at the motor", {"live_or_dead": "live", "fit_to_start": "ready", "detector_state": state}, profile=site)
    call.until("phase_monitor_state")
    call.never(lambda a: live(a) or power_on(a), f"S9 the detector is {state}.", 70)


@pytest.mark.parametrize("said", ["the detector's going off", "detector's going", "gas alarm", "the alarm's going"])
def test_an_alarm_in_the_live_window_ends_it(begin: Calls, said: str):
    """S9, S35"""
    call = begin("module_no_output").until("module_supply_volts").say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    assert re.search("stay out|out of the room", call.said, re.I), f"S35 after '{said}' it says: {call.said}"
    call.never(lambda a: live(a) or hands_in(a), "S9 the detector is in alarm.", 30)


def test_no_live_work_while_a_leak_is_worked_on(begin: Calls):
    """S9"""
    call = begin("refrigerant_low", {"leak_repaired": "no", "live_or_dead": "live", "tripped_count": "one"})
    call.until("leak_found").answer().never(lambda a: live(a) or power_on(a), "S9 a leak is open.", 60)


# ---- the live window


def test_now_is_never_said_with_power_on(begin: Calls):
    """S11"""
    for fault in ("module_no_output", "none", "control supply lost"):
        call = begin(fault)
        while call.reaches(power_on):
            call.answer()
            before = len(call.log)
            call.until("control_power_off")
            heard = " ".join(text for who, text in call.log[before:] if who == "says")
            assert not re.search(r"\bnow\b", heard, re.I), f"S11 'now' in the live window: {heard}"
            call.answer()


@pytest.mark.parametrize("said", ["hold on", "go back", "make a note", "what can i say", "why"])
def test_a_command_in_the_feed_test_does_not_stretch_its_seconds(begin: Calls, said: str):
    """S15"""
    call = begin().until("injection_feed").say(said, after_s=5)
    call.say("say again", after_s=40)
    words = call.log[-20:]
    assert any("Power off." in text for who, text in words if who == "says"), f"S15 the thirty seconds passed: {call.tail()}"


def test_power_off_is_ordered_at_thirty_seconds(begin: Calls):
    """S15"""
    call = begin().until("injection_feed").say("dry two oh eight click", after_s=45)
    heard = [text for who, text in call.log[-8:] if who == "says"]
    assert any(re.search(r"power off", text, re.I) for text in heard), f"S15 after 45 seconds it says: {heard}"


def test_no_second_power_on_with_the_stimulus_in_once_the_seconds_are_spent(begin: Calls):
    """S15"""
    call = begin("module_no_output").until("injection_feed").say("dry no volts silent", after_s=45)
    call.never(
        lambda a: power_on(a) and "jumper_fitted" in call.open and "valve_closed.injection" not in call.open,
        "S15 the budget is spent.",
        100,
    )


def test_the_seconds_of_a_test_that_died_are_counted(begin: Calls):
    """S15"""
    call = begin("module_no_output").until("injection_feed").resume(after_s=60)
    call.never(
        lambda a: power_on(a) and "jumper_fitted" in call.open and "valve_closed.injection" not in call.open,
        "S15 power was on for a minute while nobody was there.",
        100,
    )


def test_nothing_is_said_between_the_feed_and_power_off(begin: Calls):
    """S15"""
    call = begin().until("injection_feed").tell("feeding two oh eight click")
    assert call.ask.id == "control_power_off", f"S15 after the feed comes power off: {call.ask}"
    before = call.said.lower().split("power off")[0]
    assert not re.search(r"caution|liquid|do not start|burn|why|proven|supported", before), f"S15 it says first: {call.said}"


def test_the_seconds_of_two_windows_add_up(begin: Calls):
    """S15"""
    call = (
        begin("module_no_output", {"injection_hand_valve": "none"}).until("injection_feed").say("dry no volts silent", after_s=15)
    )
    if call.reaches(power_on, 60) and "jumper_fitted" in call.open:
        call.until(live).say("two oh eight", after_s=20)
        heard = [text for who, text in call.log[-8:] if who == "says"]
        assert any("power off" in text.lower() for text in heard), f"S15 15 and 20 seconds make 35: {heard}"


def test_no_reminder_breaks_into_the_live_window(begin: Calls, tmp_path: Path):
    """S11"""
    call = begin("none at the motor", {"live_or_dead": "live"}, profile=site_file(tmp_path, check_in_minutes="1")).until(
        "control_volts"
    )
    for _ in range(3):
        call.say("", after_s=120)
        assert not re.search(r"check.?in|are you well", call.said, re.I), f"S11 in the live window: {call.said}"


def test_the_lock_stays_on_the_power_disconnect_in_a_live_window(begin: Calls):
    """S21"""
    for fault in ("none", "control supply lost"):
        call = begin(fault).until(power_on)
        assert "locked_out" in call.open, f"S21 control power comes on with the lock off: {call.obligations}"


@pytest.mark.parametrize("said", ["two oh eight", "minus two oh eight", "bouncing zero to ninety", "nothing"])
def test_after_the_window_the_jumper_stays_until_control_is_dead_again(begin: Calls, said: str):
    """S10, S1"""
    call = begin().until("control_power_off").answer()
    call.man.words["dead_volts.control"] = said
    call.never(hands_in, f"S10 control reads {said} after the window.", 40)


@pytest.mark.parametrize("said", ["not yet", "no", "skip this", "it won't go off", ""])
def test_power_that_is_not_off_is_not_taken_for_off(begin: Calls, said: str):
    """S1, S10"""
    call = begin(words={"control_power_off": said}).until("control_power_off")
    call.never(lambda a: hands_in(a) or a.id in ("meter_proved_before", "injection_after"), f"S10 '{said}' is no power off.", 25)


# ---- start blocked, jumper, power


@pytest.mark.parametrize(
    "words",
    [
        {"start_prevented": "skip this"},
        {"start_prevented": "not yet"},
        {"start_prevented": "no"},
        {"start_prevented": "can't get to it"},
    ],
)
def test_no_stimulus_and_no_power_with_the_starter_free(begin: Calls, words: dict[str, str]):
    """S12"""
    call = begin(words=words).until("start_prevented")
    call.never(lambda a: jumper(a) or (power_on(a) and "jumper_fitted" in call.open), "S12 the start is not blocked.", 60)


@pytest.mark.parametrize("words", [("skip this", "yes"), ("go back", "yes"), ("finish job", "yes")])
@pytest.mark.parametrize("at", ["leads_clipped", "jumper_removed"])
def test_the_start_stays_blocked_until_the_jumper_is_out(begin: Calls, at: str, words: tuple[str, str]):
    """S12, S14"""
    call = begin().until(at).say(words[0])
    if call.ask.id == "confirm":
        call.say(words[1])
    for _ in range(60):
        if call.ended:
            break
        assert "jumper_fitted" not in call.open or "start_blocked" in call.open, (
            f"S14 the jumper is in, the start free: {call.tail()}"
        )
        assert not (lets_run(call.ask) and call.open & {"jumper_fitted", "start_blocked", "leads_on"}), f"S20 it asks {call.ask}"
        call.answer()


def test_the_start_is_put_back_before_it_is_asked_for(begin: Calls):
    """S14"""
    call = begin().until(lets_run)
    assert not call.open & {"jumper_fitted", "start_blocked", "leads_on", "wire_lifted"}, f"S14 still open: {call.open}"


def with_probe(folder: Path, kind: str, plug: str, curve: str) -> Path:
    """The demo site with another probe on its first rack."""
    site = site_file(folder, test_plug=f'"{plug}"', r25_ohm="100000")
    text = site.read_text(encoding="utf-8")
    at = text.index("[rack.probe]")
    probe = text[at:].replace('kind = "ntc"', f'kind = "{kind}"', 1).replace("beta_k = 4000", "", 1)
    site.write_text(text[:at] + probe.replace("r25_ohm = 100000", curve, 1), encoding="utf-8")
    return site


NTC, PTC = "r25_ohm = 100000\nbeta_k = 4000", "table = [[-40, 500], [77, 1000], [250, 2500], [350, 4000]]"


@pytest.mark.parametrize(
    ("kind", "plug", "curve"),
    [("ptc", "jumper", PTC), ("ntc", "none", NTC), ("rtd", "jumper", "r0_ohm = 100"), ("thermostat", "jumper", "")],
)
def test_no_feed_test_with_a_plug_that_does_not_suit_the_probe(begin: Calls, tmp_path: Path, kind: str, plug: str, curve: str):
    """S13"""
    ohms = {"ptc": "nine nine eight ohms", "rtd": "one oh nine ohms"}
    words = {"probe_ohms.module_end": ohms[kind]} if kind in ohms else {}
    call = begin(words=words, profile=with_probe(tmp_path, kind, plug, curve)).until("injection_coil_ohms")
    call.never(jumper, f"S13 a {plug} is no hot {kind}.", 100)


# ---- liquid


@pytest.mark.parametrize("said", ["feeding two oh eight click", "weak two oh eight click", "spitting two oh eight click"])
def test_a_feed_into_a_standing_machine_is_liquid_in_it(begin: Calls, said: str):
    """S16"""
    call = begin().until("injection_feed").tell(said).until("control_power_off").answer()
    assert "liquid_in_compressor" in call.obligations, f"S16 after '{said}': {call.obligations}"


@pytest.mark.parametrize("said", ["skip this", "can't see it", "no idea"])
def test_a_feed_that_nobody_saw_is_liquid_in_the_machine(begin: Calls, said: str):
    """S16"""
    call = begin().until("injection_feed").say(said)
    if call.ask.id == "confirm":
        call.say("yes")
    call.until("control_power_off").answer()
    assert "liquid_in_compressor" in call.obligations, f"S16 the feed was '{said}' with the stimulus in: {call.obligations}"


def test_a_feed_that_the_program_died_in_is_liquid_in_the_machine(begin: Calls):
    """S16, S5"""
    call = begin().until("injection_feed").resume()
    call.reaches(lets_run)
    assert "liquid_in_compressor" in call.obligations, f"S16 nobody knows what was fed: {call.obligations}"


def test_a_feed_corrected_to_feeding_after_the_jumper_is_out_is_liquid_in_the_machine(begin: Calls):
    """S16"""
    call = begin("injection_wiring_open").until("jumper_removed").answer().say("correction injection line")
    assert call.ask.id in ("injection_feed", "injection_after"), f"the correction is not understood: {call.ask}"
    call.tell("feeding").reaches(lets_run)
    assert "liquid_in_compressor" in call.obligations, f"S16 it fed after all: {call.obligations}"


def test_a_valve_that_leaks_is_liquid_in_the_machine_and_no_start(begin: Calls):
    """S16, S20"""
    call = begin("injection_valve_leaking").until("injection_after").answer()
    call.never(lambda a: lets_run(a) and "liquid_in_compressor" in call.open, "S20 liquid is in the machine.")
    assert "liquid_in_compressor" in call.obligations


def test_whether_the_line_still_feeds_is_asked_with_power_off_and_locked(begin: Calls):
    """S19"""
    call = begin("injection_valve_leaking").until("injection_after")
    order = [m["id"] for m in call.messages if m["type"] == "reading" and m["id"] in ("control_power_on", "control_power_off")]
    assert order[-1] == "control_power_off", f"S19 power is on: {order}"
    assert "locked_out" in call.open, f"S19 the lock is off: {call.obligations}"


@pytest.mark.parametrize("first", ["oil", "contact one"])
def test_no_feed_test_while_an_oil_contact_is_open_too(begin: Calls, first: str):
    """S16, section 6"""
    call = begin().until("chain_dead_check").say("two of them")
    if "chain_dead_check" in call.ask.ids:
        call.tell(first)
    if call.reaches("chain_dead_check", 3):
        call.tell("discharge")
    call.never(jumper, "A sign of liquid stands: no feed test.", 60)


def test_a_line_cold_as_found_is_no_machine_to_feed(begin: Calls):
    """Section 6"""
    call = begin(
        words={
            "alarm_minutes_ago": "six hours",
            "probe_pipe_temperature": "minus ten",
            "probe_ohms.module_end": "one point three meg",
        }
    )
    call.never(jumper, "The line stood cold for hours: oil glass, crankcase and line first.", 90)


# ---- what bars power


def test_a_coil_off_its_stem_gets_no_power(begin: Calls):
    """S17"""
    call = begin("injection_coil_loose")
    seated = False
    for _ in range(120):
        if call.ended:
            break
        seated = seated or bool(re.search(r"seat the coil|coil (back )?on its stem", call.ask.prompt, re.I))
        assert seated or not energises(call.ask), f"S17 the coil is off its stem: {call.ask}"
        call.answer()


@pytest.mark.parametrize("words", [("skip this", "yes"), ("finish job", "yes"), ("not yet", "")])
def test_a_coil_that_nobody_seated_gets_no_power_and_no_start(begin: Calls, words: tuple[str, str]):
    """S17"""
    call = begin("injection_coil_loose").until(
        lambda a: bool(re.search(r"seat the coil|on its stem", a.prompt, re.I)) and not a.is_caution
    )
    for _ in range(6):
        if call.ended:
            break
        call.say(words[0])
        if not call.ended and call.ask.id == "confirm":
            call.say(words[1] or "yes")
        assert call.ended or not energises(call.ask), f"S17 nobody seated the coil: {call.ask}"


def test_an_open_terminal_cover_bars_power_whatever_is_said(begin: Calls):
    """S17"""
    call = begin("winding open")
    call.until(lambda a: "terminal_cover" in call.open)
    for said in ("finish job", "skip this", "go back"):
        if call.ended:
            break
        call.say(said)
        if not call.ended and call.ask.id == "confirm":
            call.say("yes")
    call.never(lambda a: energises(a) and "terminal_cover" in call.open, "S17 the terminal cover is off.", 60)


def test_a_failed_coil_sends_the_next_look_to_the_fuse_that_fed_it(begin: Calls):
    """S18"""
    call = begin("injection_coil_shorted").until("injection_coil_ohms").answer()
    assert call.reaches(lambda a: "module_output_fuse" in a.ids or lets_run(a))
    assert "module_output_fuse" in call.ask.ids, f"S18 a shorted coil takes its output out. It asks: {call.ask}"


def test_a_blown_output_fuse_sends_the_next_look_to_its_coil(begin: Calls):
    """S18"""
    call = begin("module_output_fuse")
    call.until("injection_coil_ohms").say("skip this")
    if call.ask.id == "confirm":
        call.say("yes")
    call.never(lets_run, "S18 the fuse is blown, its coil was never measured.", 100)


def test_a_control_fuse_is_not_replaced_untested(begin: Calls):
    """S18"""
    call = begin("control fuse blown").until("starter_coil_ohms").say("skip this")
    if call.ask.id == "confirm":
        call.say("yes")
    call.never(energises, "S18 the coils behind the blown fuse were never measured.", 80)


@pytest.mark.parametrize("ohms", ["two", "open", "zero point five"])
def test_a_control_fuse_is_not_replaced_on_a_bad_coil(begin: Calls, ohms: str):
    """S18"""
    call = begin("control fuse blown", {"starter_coil_ohms": ohms, "repaired": "repaired"})
    call.until("starter_coil_ohms").answer()
    call.never(
        lambda a: a.id == "control_power_on" or (lets_run(a) and not any(map(repairs, call.asks))),
        f"S18 the coil behind the fuse reads {ohms}.",
        60,
    )
