"""Live work, power and the feed test, S8 to S19: each rule broken on paper is found, and kept it is silent."""

from dataclasses import replace

import pytest

from tests.safety.paper import Paper, demo, with_rack

VOLTS = "Control voltage?"


@pytest.mark.parametrize("missing", ["live_or_dead", "clothing_meets_label", "ladder_kind", "the caution"])
def test_live_work_stands_behind_its_gates(missing: str):
    paper = Paper().arrives().cautions("restart")
    given = {"live_or_dead": "live", "clothing_meets_label": True, "ladder_kind": "fiberglass"}
    paper.reads(**{k: v for k, v in given.items() if k != missing})
    if missing != "the caution":
        paper.cautions("live", "live_place")
    assert paper.asks("control_volts", VOLTS).broken == {"S8"}


def test_live_work_with_every_gate_behind_it_is_silent():
    assert Paper().arrives().ready_for_live_work().asks("control_volts", VOLTS).broken == set()


def test_a_metal_ladder_is_no_place_for_live_work():
    paper = Paper().arrives().ready_for_live_work().reads(ladder_kind="metal")
    assert paper.asks("contactor_coil_volts", "Volts at the starter coil?").broken == {"S8"}


def test_the_live_caution_is_given_again_for_each_power_on():
    paper = Paper().proves_dead().ready_for_live_work().asks("control_power_on", "Power on.").answers(True)
    paper.asks("control_power_off", "Power off.").answers(True)
    assert paper.asks("control_power_on", "Power on.").broken == {"S8"}
    paper = Paper().proves_dead().ready_for_live_work().asks("control_power_on", "Power on.").answers(True)
    paper.asks("control_power_off", "Power off.").answers(True).cautions("live", "live_place", form="short")
    assert paper.asks("control_power_on", "Power on.").broken == set()


def test_the_dead_check_is_offered_first():
    assert Paper().arrives().asks("live_or_dead", "Live or dead check?").broken == {"S8"}
    assert Paper().arrives().asks("live_or_dead", "Dead or live check?").broken == set()


def test_no_live_work_with_a_leak_being_worked_on():
    paper = Paper().arrives().ready_for_live_work().asks("leak_found", "Leak found?").answers("yes").opens("leak_open")
    assert paper.asks("control_volts", VOLTS).broken == {"S9"}
    paper.reads(leak_repaired="yes")


def test_no_live_work_with_a_flammable_refrigerant_unless_the_detector_is_quiet():
    site = with_rack(refrigerant="R454C", closed_room=False)
    paper = Paper(site).arrives().cautions("flammable").ready_for_live_work().reads(detector_state="none")
    assert paper.asks("control_volts", VOLTS).broken == {"S9"}
    paper = Paper(site).arrives().cautions("flammable").ready_for_live_work()
    assert paper.asks("control_volts", VOLTS).broken == set()


def test_clips_and_wires_do_not_move_with_power_on():
    assert "S10" in Paper().in_the_feed_test().asks("command", "Leads off. Say done.").broken
    paper = Paper().proves_dead().opens("leads_on")
    assert paper.asks("command", "Leads off. Say done.").broken == set()


def test_hand_held_probes_have_no_business_in_a_panel_without_power():
    paper = Paper().proves_dead().ready_for_live_work()
    assert paper.asks("module_supply_volts", "Volts at the module supply?").broken == {"S10"}


def test_with_the_stimulus_in_one_place_is_asked_for_at_a_time():
    paper = Paper().in_the_feed_test()
    assert paper.asks("module_supply_volts", "Supply and output?", "module_output_volts").broken == {"S10"}
    paper = Paper().in_the_feed_test()
    assert paper.asks("injection_feed", "Line, volts, click?", "injection_coil_volts", "valve_click").broken == set()


def test_a_line_that_is_out_of_sight_is_not_asked_for_together_with_the_volts():
    site = with_rack(injection=replace(demo().racks[0].injection, line_in_sight=False))
    paper = Paper(site).in_the_feed_test()
    assert paper.asks("injection_feed", "Line, volts, click?", "injection_coil_volts").broken == {"S10"}


def test_in_the_live_window_nothing_reminds_and_nobody_says_now():
    assert Paper().in_the_feed_test().asks("injection_feed", "Line?", quiet=False).broken == {"S11"}
    assert Paper().in_the_feed_test().asks("injection_feed", "Line now?").broken == {"S11"}
    assert Paper().in_the_feed_test().asks("injection_feed", "Line?").broken == set()
    assert Paper().in_the_feed_test().asks("injection_feed", "Line?").fact("check_in_asked", times=1).turn().broken >= {"S11"}


def test_no_power_with_the_stimulus_in_and_the_start_free():
    paper = Paper().proves_dead().asks("jumper_fitted", "Fit the jumper.").answers(True).opens("jumper_fitted")
    assert paper.ready_for_live_work().asks("control_power_on", "Power on.").broken == {"S12"}
    assert Paper().in_the_feed_test().broken == set()


def test_a_power_on_whose_id_was_lost_is_found_by_its_words():
    paper = Paper().proves_dead().asks("jumper_fitted", "Fit the jumper.").answers(True).opens("jumper_fitted")
    assert paper.ready_for_live_work().asks("command", "Control power on. Say done.").broken == {"S12"}


@pytest.mark.parametrize(("kind", "plug"), [("ptc", "jumper"), ("rtd", "jumper"), ("thermostat", "resistor"), ("ntc", "none")])
def test_a_stimulus_must_suit_the_probe(kind: str, plug: str):
    rack = demo().racks[0]
    paper = Paper(with_rack(probe=replace(rack.probe, kind=kind, test_plug=plug))).proves_dead()
    assert paper.asks("jumper_fitted", "Fit the jumper.").broken == {"S13"}


def test_the_start_is_freed_only_after_the_stimulus_is_out():
    paper = Paper().in_the_feed_test().asks("control_power_off", "Power off.").answers(True).measures()
    assert paper.asks("command", "Put the start control back as it was. Say done.").broken == {"S14"}
    paper = Paper().in_the_feed_test().asks("control_power_off", "Power off.").answers(True).measures()
    paper.asks("jumper_removed", "Take the jumper out. Out?").answers(True).clears("jumper_fitted")
    assert paper.asks("command", "Put the start control back as it was. Say done.").broken == set()


def test_the_record_too_shows_a_start_freed_too_soon():
    paper = Paper().in_the_feed_test().asks("control_power_off", "Power off.").answers(True).clears("start_blocked")
    assert paper.asks("meter_proved_before").broken == {"S14", "S20"}


def test_thirty_seconds_into_the_feed_only_power_off_is_asked():
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").after(31).answers("dry").opens("liquid_in_compressor")
    assert "S15" in paper.asks("injection_coil_volts", "Volts?").broken
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").after(31).answers("dry")
    assert paper.asks("control_power_off", "Power off.").broken == set()


def test_no_more_power_on_once_the_seconds_are_spent_unless_the_hand_valve_is_shut():
    spent = Paper().in_the_feed_test().asks("injection_feed", "Line?").after(31).answers("dry")
    spent.asks("control_power_off", "Power off.").answers(True).cautions("live", "live_place", form="short")
    assert spent.asks("control_power_on", "Power on.").broken == {"S15"}
    shut = Paper().in_the_feed_test().asks("injection_feed", "Line?").after(31).answers("dry")
    shut.asks("control_power_off", "Power off.").answers(True).cautions("live", "live_place", form="short")
    shut.opens("valve_closed.injection")
    assert shut.asks("control_power_on", "Power on.").broken == set()


def test_seconds_do_not_count_while_the_hand_valve_is_shut_and_count_from_its_opening():
    paper = Paper().in_the_feed_test().opens("valve_closed.injection")
    paper.asks("module_supply_volts", "Supply?").after(60).answers(24.0)
    paper.asks("module_feed_volts", "Feed?").after(60).answers(24.0)
    assert "S15" not in paper.asks("module_output_volts", "Output?").broken
    paper.answers(24.0).reads(injection_hand_valve="open").clears("valve_closed.injection")
    paper.asks("injection_feed", "Line?").after(20)
    assert "S15" not in paper.answers("dry").asks("injection_coil_volts", "Volts?").broken
    assert "S15" in paper.after(20).answers(208.0).asks("valve_click", "Click?").broken


def test_nothing_is_said_between_the_answer_and_power_off():
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").answers("dry").says("Dry. The coil is good.")
    assert paper.asks("control_power_off", "Power off.").broken == {"S15"}


@pytest.mark.parametrize("value", ["feeding", "weak", "unknown"])
def test_a_feed_into_a_standing_machine_is_liquid_in_it(value: str):
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").answers(value)
    assert paper.asks("control_power_off", "Power off.").broken == {"S16"}
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").answers(value).opens("liquid_in_compressor")
    assert paper.asks("control_power_off", "Power off.").broken == set()


def test_a_feed_that_nobody_looked_at_counts_as_one():
    paper = Paper().in_the_feed_test().asks("injection_feed", "Line?").hears("skip this", "command: skip")
    paper.fact("step_skipped", step="feed", reason="skip this")
    assert paper.asks("control_power_off", "Power off.").broken == {"S16"}


def test_no_power_with_a_coil_off_its_stem_or_a_terminal_cover_off():
    paper = Paper().arrives().cautions("restart").reads(coil_seated="loose").cautions("coil").locks().measures()
    assert paper.ready_for_live_work().asks("control_power_on", "Power on.").broken == {"S17"}
    paper = Paper().arrives().cautions("restart").reads(coil_seated="loose").cautions("coil").locks().measures()
    paper.asks("command", "Seat the coil on its stem, power off. Say done.").done("seated").ready_for_live_work()
    assert paper.asks("control_power_on", "Power on.").broken == set()


def test_what_opened_on_a_fault_is_not_closed_again_before_its_circuit_is_good():
    fuse = Paper().proves_dead().asks("command", "Line fuses or breaker, checked dead: good, or one open?").done("one open")
    assert fuse.ready_for_live_work().asks("control_power_on", "Power on.").broken == {"S18"}
    told = Paper().proves_dead().asks("command", "Those?").done("yes", establishes=["line_fuse_open"])
    assert told.ready_for_live_work().asks("control_power_on", "Power on.").broken == {"S18"}


def test_a_tested_motor_lets_its_fuse_be_closed():
    paper = Paper().proves_dead().asks("command", "Line fuses or breaker, checked dead: good, or one open?").done("one open")
    paper.reads(winding_ohms__ab=4.1, winding_ohms__bc=4.1, winding_ohms__ca=4.2, shell_pressure=30.0)
    paper.asks("command", "Charge known? Module unplugged. Say all off.").done("all off").opens("wire_lifted")
    paper.cautions("insulation_test").asks("ground_megohms", "Winding to ground: how many meg?").answers(200.0).opens("leads_on")
    paper.asks("command", "Leads off. Say done.").done().clears("leads_on").wire_back().ready_for_live_work()
    assert paper.asks("control_power_on", "Power on.").broken == set()


def test_a_failed_coil_sends_the_next_look_to_its_fuse():
    paper = Paper().proves_dead().reads(injection_coil_ohms="over_range").opens("wire_lifted").wire_back().made_ready()
    assert paper.asks("lock_removed", "Your lock off?").broken == {"S18"}
    paper = Paper().proves_dead().reads(injection_coil_ohms="over_range").opens("wire_lifted").wire_back()
    paper.reads(module_output_fuse="good").made_ready()
    assert paper.asks("lock_removed", "Your lock off?").broken == set()


def test_the_line_is_judged_only_with_power_off_and_locked():
    assert "S19" in Paper().arrives().cautions("restart").asks("injection_after", "Has it stopped?").broken
    assert Paper().proves_dead().asks("injection_after", "Has it stopped?").broken == set()
