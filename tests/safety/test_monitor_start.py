"""Reset, start and what may not run on, S20 to S24; the motor's tests, S25 to S27."""

import pytest

from tests.safety.paper import Paper

START = "Switch to auto, start. Say started."
RESET = "One reset. It can start. Say reset when it is done."


@pytest.mark.parametrize("hooked_up", ["wire_lifted", "leads_on", "jumper_fitted", "terminal_cover", "panel_cover",
                                       "valve_closed.discharge", "valve_closed.injection", "liquid_in_compressor"])  # fmt: skip
def test_nothing_that_blocks_a_start_is_open_at_one(hooked_up: str):
    paper = Paper().proves_dead().made_ready().asks("oil_level").answers("normal").opens(hooked_up)
    if hooked_up == "liquid_in_compressor":
        paper.says("Liquid inside. Do not start.", "caution")
    assert "S20" in paper.asks("lock_removed", "Your lock off?").broken


def test_what_was_left_to_somebody_is_still_there_at_a_start():
    paper = Paper().proves_dead().made_ready()
    paper.fact("obligation_handed_over", id="locked_out", owner="supervisor", hours=24, who="Ada")
    assert "S20" in paper.asks("command", START).broken


def test_what_was_asked_back_and_not_answered_is_not_started_over():
    asked_back = Paper().proves_dead().made_ready().hears("the cover's still off", "remark in doubt: panel_cover")
    assert "S20" in asked_back.asks("lock_removed", "Your lock off?").broken


def test_what_was_asked_back_and_denied_stands_in_no_ones_way():
    paper = Paper().proves_dead().made_ready().hears("the cover's still off", "remark in doubt: panel_cover")
    paper.hears("the cover's still off", "remark not so: panel_cover")
    assert paper.asks("lock_removed", "Your lock off?").broken == set()


def test_a_start_with_nothing_open_is_silent():
    assert Paper().proves_dead().runs().asks("watch.suction_pressure").broken == set()


def test_a_start_whose_label_was_lost_is_found_by_its_words():
    assert "S20" in Paper().proves_dead().opens("wire_lifted").asks("command", START).broken


def test_what_is_reset_under_ones_own_lock_lets_nothing_run():
    paper = Paper().proves_dead().asks("chain_dead_check", "Which contact?").answers("low pressure").cautions("reset")
    assert paper.asks("control_reset", "Lock still on. One reset of the control: holds?").broken == set()


@pytest.mark.parametrize("missing", ["service_valves_open", "covers_on", "others_clear"])
def test_before_the_lock_comes_off_valves_covers_and_everybody_are_asked(missing: str):
    paper = Paper().proves_dead().after(60).cautions("restart", form="short")
    paper.reads(**{i: True for i in ("service_valves_open", "others_clear") if i != missing})
    if missing != "covers_on":
        paper.reads(covers_on=True).clears("panel_cover")
    assert f"without {missing}" in " ".join(c for c in paper.asks("lock_removed", "Your lock off?").complaints if c[:3] == "S21")


def test_they_are_asked_one_by_one_and_after_hands_were_last_in():
    paper = Paper().proves_dead().asks("service_valves_open", "Valves open, covers on?", "covers_on")
    assert paper.broken == {"S21"}
    paper = Paper().proves_dead().made_ready().asks("control_fuse", "Control fuse, checked dead?").answers("good")
    assert paper.asks("lock_removed", "Your lock off?").broken == {"S21"}


def _after_a_reset() -> Paper:
    paper = Paper().proves_dead().asks("chain_dead_check", "Which contact?").answers("discharge").made_ready()
    paper.asks("lock_removed", "Your lock off?").answers(True).clears("locked_out").cautions("reset")
    return paper.asks("command", RESET).done("reset")


def test_there_is_one_reset():
    assert _after_a_reset().asks("command", START).broken == set()
    assert _after_a_reset().asks("command", START).done("started").asks("command", RESET).broken >= {"S22"}


def test_the_record_shows_a_second_reset_of_the_same_contact():
    paper = Paper().proves_dead().asks("command", "That?").done("done", resets=["oil"]).asks("command", "And that?")
    assert paper.done("done", resets=["oil"]).asks("oil_level").broken == {"S22"}


def test_a_low_pressure_control_is_reset_without_the_readings_of_the_high_one():
    paper = Paper().proves_dead().cautions("reset")
    assert paper.asks("control_reset", "One reset of the low pressure control: holds?").broken == set()
    paper = Paper().proves_dead().cautions("reset")
    assert paper.asks("control_reset", "One reset of the high pressure control: holds?").broken == {"S22"}


@pytest.mark.parametrize("contact", ["oil", "high pressure", "motor"])
def test_no_reset_before_the_readings_of_its_protection(contact: str):
    paper = Paper().proves_dead().asks("chain_dead_check", "Which contact?").answers(contact).made_ready()
    paper.asks("lock_removed", "Your lock off?").answers(True).clears("locked_out").cautions("reset")
    assert paper.asks("command", RESET).broken == {"S22"}


def test_an_oil_contact_counts_among_several_and_is_reset_after_its_readings():
    def several() -> Paper:
        paper = Paper().proves_dead().asks("chain_dead_check", "First?").answers("oil")
        return paper.asks("chain_dead_check", "Second?").answers("discharge")

    def to_the_reset(paper: Paper) -> Paper:
        paper.made_ready().asks("lock_removed", "Your lock off?").answers(True).clears("locked_out").cautions("reset")
        return paper.asks("command", RESET)

    assert to_the_reset(several()).broken == {"S22"}
    assert to_the_reset(several().reads(oil_level="normal", crankcase_temperature=90.0)).broken == set()


def test_after_a_second_trip_nothing_is_started_again():
    paper = Paper().proves_dead().runs().asks("running_now").answers("just tripped")
    assert paper.asks("command", START).broken == {"S22"}


def test_after_an_hour_locked_out_the_heater_is_on_for_its_time_before_a_start():
    def locked_long() -> Paper:
        paper = Paper().proves_dead()
        for _ in range(3):
            paper.asks("oil_level").after(1300).answers("normal")
        return paper

    assert locked_long().made_ready().asks("lock_removed", "Your lock off?").broken == {"S23"}
    assert locked_long().reads(crankcase_heater="off").made_ready().asks("lock_removed", "Your lock off?").broken == {"S23"}
    heated = locked_long().reads(crankcase_heater="on").asks("oil_level").after(1500).answers("normal")
    heated.asks("oil_level").after(400).answers("normal")
    assert heated.made_ready().asks("lock_removed", "Your lock off?").broken == set()


def test_a_machine_that_runs_over_its_trip_is_stopped_before_anything_else_is_asked():
    def hot() -> Paper:
        return Paper().proves_dead().runs().asks("watch.discharge_temperature").answers(252.0)

    assert hot().asks("watch.suction_pressure").broken == {"S24"}
    assert hot().asks("command", "Stop it at its switch. Say switched off.").broken == set()


def test_a_line_named_after_the_watch_counts_over_the_watchs():
    paper = Paper().proves_dead().runs().asks("watch.discharge_temperature").answers(210.0).after(60)
    paper.reads(discharge_temperature=280.0)
    assert "S24" in paper.asks("close_consent", "Close the call?").broken


def test_in_celsius_a_trip_is_the_same_trip():
    paper = Paper().proves_dead().runs().asks("watch.discharge_temperature").answers(122.0, unit="C")
    assert paper.asks("watch.suction_pressure").broken == {"S24"}


def _modules_off(pressure: float) -> Paper:
    paper = Paper().proves_dead().reads(shell_pressure=pressure).cautions("insulation_test")
    return paper.asks("command", "Charge known? Module unplugged. Say all off.").done("all off").opens("wire_lifted")


def test_no_insulation_test_in_a_vacuum_or_with_the_modules_on():
    assert _modules_off(-5.0).asks("ground_megohms", "Winding to ground: how many meg?").broken == {"S25"}
    assert _modules_off(30.0).asks("ground_megohms", "Winding to ground: how many meg?").broken == set()
    paper = Paper().proves_dead().reads(shell_pressure=30.0).cautions("insulation_test")
    assert paper.asks("ground_megohms", "Winding to ground: how many meg?").broken == {"S25"}
    assert _modules_off(30.0).asks("ground_megohms", "Winding to ground, one thousand volts: meg?").broken == {"S25"}


def test_the_insulation_tester_stays_off_the_sensor_string():
    paper = _modules_off(30.0).asks("ground_megohms", "Winding to ground: how many meg?").answers(50.0).opens("leads_on")
    assert paper.asks("protector_string_ohms", "Sensor string: ohms?").broken == {"S26"}
    assert _modules_off(30.0).asks("protector_string_ohms", "Sensor string, plain ohmmeter: ohms?").broken == set()


def test_the_terminals_stay_shut_until_no_ground_fault_is_found_from_the_starter():
    def tested(megohm: float) -> Paper:
        paper = _modules_off(30.0).asks("ground_megohms", "Winding to ground: how many meg?").answers(megohm).opens("leads_on")
        return paper.cautions("terminals").asks("winding_ohms.ab", "Terminal cover off. Ohms at the motor's terminals?")

    assert tested(0.2).broken == {"S27"}
    assert tested(50.0).broken == set()
    paper = Paper().proves_dead().cautions("terminals").asks("command", "Something?").done().opens("terminal_cover")
    assert paper.asks("oil_level").broken == {"S27"}


def test_what_was_hooked_up_is_on_record_and_comes_off_only_once_it_is_off():
    lifted = Paper().proves_dead().asks("command", "Lift one wire. Say done.").done()
    assert lifted.asks("oil_level").broken == {"S20"}
    cleared = Paper().proves_dead().asks("command", "Lift one wire. Say done.").done().opens("wire_lifted")
    cleared.asks("oil_level").answers("normal").clears("wire_lifted")
    assert cleared.asks("oil_level").broken == {"S20"}
    kept = Paper().proves_dead().asks("command", "Lift one wire. Say done.").done().opens("wire_lifted").wire_back()
    assert kept.asks("oil_level").broken == set()


def test_liquid_in_the_machine_does_not_go_by_waiting_alone():
    def liquid() -> Paper:
        paper = Paper().proves_dead().asks("injection_after", "Stopped?").answers("feeding").opens("liquid_in_compressor")
        return paper.says("Liquid inside. Do not start.", "caution").reads(injection_after="stopped")

    waited = liquid().asks("crankcase_temperature").after(1700).answers(90.0).clears("liquid_in_compressor")
    assert waited.asks("sight_glass").broken == {"S20"}
    heated = liquid().reads(crankcase_heater="on", oil_level="normal").asks("sight_glass").after(1000).answers("full")
    heated.asks("crankcase_temperature").after(1000).answers(90.0).clears("liquid_in_compressor")
    assert heated.asks("sight_glass").broken == set()


def _started() -> Paper:
    return Paper().proves_dead().runs().asks("watch.suction_pressure").answers(12.0)


def test_a_trip_that_is_said_stops_counting_it_as_running():
    assert "S22" in _started().hears("it's tripped", "not understood").asks("discharge_temperature").broken


def test_a_trip_that_was_not_heard_for_sure_is_asked_back_at_once():
    in_doubt = _started().hears("it's tripped", "asked back").says("Just tripped. Correct?", "readback")
    assert in_doubt.asks("confirm").broken == set()
    assert "S22" in in_doubt.hears("yes", "answer").asks("discharge_temperature").broken


def test_a_trip_that_was_not_heard_for_sure_and_was_none_stands_in_no_ones_way():
    in_doubt = _started().hears("it's tripped", "asked back").says("Just tripped. Correct?", "readback").asks("confirm")
    assert in_doubt.hears("no", "answer").asks("discharge_temperature").broken == set()
