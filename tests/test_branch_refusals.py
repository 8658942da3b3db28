"""What the branches refuse: no insulation test in a vacuum, no terminals after a ground fault, nothing reclosed untested,
no reset before its readings, no second one."""

from dataclasses import replace
from datetime import timedelta

import pytest

from assistant.call.effects import Listen
from assistant.call.facts import StepEntered
from assistant.profile import Site, load_profile
from tests.branch_rack import BranchRack
from tests.talk import Talk


def asked_steps(talk: Talk) -> list[str]:
    return [f.step for _, f in talk.facts if isinstance(f, StepEntered)]


def call(fault: str, words: dict[str, str] | None = None, site: Site | None = None) -> Talk:
    return Talk(site).to_the_seal(BranchRack(fault, words or {}))


def skipping(fault: str, *steps: str) -> Talk:
    """A whole call in which these steps are skipped."""
    talk, rack = Talk(), BranchRack(fault)
    for step in steps:
        talk.until(rack, step).hear("skip this", "yes")
    return talk.to_the_seal(rack)


# ---- motor


def test_a_vacuum_refuses_the_insulation_test_and_without_it_there_is_no_reset():
    talk = call("none at the motor", {"shell_pressure": "five inches"})
    assert "Vacuum. No insulation test on this machine." in " ".join(talk.spoken)
    assert not {"modules_off", "insulation", "motor_reset", "reset", "start"} & set(asked_steps(talk))
    assert "No reset before its readings." in " ".join(talk.spoken)
    assert "locked_out" in talk.dialogue.state.handed_over


def test_a_charge_that_nobody_knows_refuses_the_insulation_test():
    steps = asked_steps(call("none at the motor", {"modules_off": "charge unknown"}))
    assert "modules_off" in steps
    assert "insulation" not in steps


def test_a_pressure_that_was_not_read_refuses_the_insulation_test():
    assert "insulation" not in asked_steps(skipping("none at the motor", "shell"))


def test_the_sensor_string_is_read_before_the_insulation_tester_is_on():
    steps = asked_steps(call("none at the motor"))
    assert steps.index("sensor_string") < steps.index("insulation") < steps.index("tester_off")


def test_go_back_never_leads_to_the_sensor_string_with_the_insulation_tester_on():
    talk = Talk().until(BranchRack("none at the motor"), "insulation").hear("go back")
    assert "Nothing before this can be taken back." in talk.said
    assert talk.asked == "insulation:ground_megohms"
    assert "leads_on" in talk.open


def test_after_a_ground_fault_nobody_opens_the_terminals():
    talk = call("winding open", {"ground_megohms": "grounded"})
    assert "windings_at_terminals" not in asked_steps(talk)
    assert talk.dialogue.state.conclusions["winding_grounded"].standing == "proven"


def test_a_winding_read_from_the_starter_is_not_condemned_before_the_terminals():
    talk = Talk().until(BranchRack("winding open"), "windings_at_terminals")
    assert talk.dialogue.state.conclusions["winding_failed"].standing == "supported"


def test_a_terminal_cover_that_is_off_cannot_be_skipped_and_holds_power_back():
    rack = BranchRack("winding open")
    talk = Talk().until(rack, "windings_at_terminals").hear("skip this", "yes", "understood")  # understood is not done
    assert "terminal_cover" in talk.open
    assert talk.asked.startswith("terminal_cover_on")
    talk.hear("skip this", "yes")
    assert "That cannot be skipped." in talk.said
    talk.hear("finish job", "yes")
    assert talk.asked.startswith("terminal_cover_on")
    talk.to_the_seal(rack)
    entered = asked_steps(talk)
    power = [i for i, s in enumerate(entered) if s in ("window_on", "unlock")]
    assert all(i > entered.index("terminal_cover_on") for i in power)


def test_a_line_fuse_that_opened_is_not_reclosed_before_the_motor_is_tested():
    talk = skipping("line fuse open", "windings")
    assert not {"window_on", "unlock", "start"} & set(asked_steps(talk))
    assert talk.dialogue.state.started_at is None


@pytest.mark.parametrize("bad", [{"ground_megohms": "point two"}, {"winding_ohms.ab": "open"}])
def test_a_line_fuse_is_not_reclosed_on_a_bad_motor_whatever_is_said(bad: dict[str, str]):
    talk = call("line fuse open", {**bad, "repaired": "repaired"})
    assert not {"window_on", "unlock", "start"} & set(asked_steps(talk))
    assert "What opened is not closed again before its circuit is tested and good." in " ".join(talk.spoken)


def test_under_a_meg_is_read_again_warm_before_the_motor_is_condemned():
    talk = Talk().until(BranchRack("winding grounded"), "warm_heater")
    assert talk.dialogue.state.conclusions["winding_grounded"].standing == "supported"
    talk.hear("no heater", "none")
    assert "insulation_warm" not in asked_steps(talk)


def test_windings_under_three_ohms_have_no_verdict_with_an_ordinary_meter():
    low = {"winding_ohms.ab": "point four", "winding_ohms.bc": "point four", "winding_ohms.ca": "point five"}
    assert "winding_failed" not in call("none at the motor", {**low, "low_ohm_meter": "ordinary"}).dialogue.state.conclusions
    talk = Talk().until(BranchRack("none at the motor", {**low, "low_ohm_meter": "low ohm meter"}), "windings_at_terminals")
    assert talk.dialogue.state.conclusions["winding_failed"].standing == "supported"


def test_closing_early_takes_the_tester_off_and_puts_the_wires_back():
    rack = BranchRack("none at the motor")
    talk = Talk().until(rack, "insulation").hear("finish job", "yes")
    assert talk.asked.startswith("tester_off")
    talk.hear("done")
    assert talk.asked.startswith("modules_back")
    assert talk.to_the_seal(rack).open == set()


def test_a_motor_module_is_judged_once_it_is_fed_again():
    site = load_profile()
    rack = site.racks[0]
    contacts = tuple(replace(c, kind="held" if c.name == "motor" else c.kind) for c in rack.panel.contacts)
    held = replace(site, racks=(replace(rack, panel=replace(rack.panel, contacts=contacts)), *site.racks[1:]))
    talk = call("motor protection failed", site=held)
    assert "window_motor" in asked_steps(talk)
    assert "motor_reset" not in asked_steps(talk)
    assert talk.dialogue.state.conclusions["motor_protection_faulty"].standing == "proven"


def test_a_motor_that_reads_out_of_limits_is_not_started_whatever_was_repaired():
    talk = call("winding grounded", {"repaired": "repaired"})
    assert talk.dialogue.state.started_at is None
    assert "This motor's readings are out of limits." in " ".join(talk.spoken)


def test_a_part_winding_motor_is_read_set_by_set():
    site = load_profile()
    two = replace(site, racks=(replace(site.racks[0], panel=replace(site.racks[0].panel, winding_sets=2)), *site.racks[1:]))
    rack = BranchRack("none at the motor")
    talk = Talk(two).until(rack, "windings_second").hear("four point one four point one open")
    talk.to_the_seal(rack)
    assert "windings_at_terminals" in asked_steps(talk)


# ---- control supply


def test_a_control_fuse_is_not_replaced_on_a_coil_that_is_shorted():
    talk = call("control fuse blown", {"starter_coil_ohms": "two ohms"})
    assert not {"window_on", "unlock", "start"} & set(asked_steps(talk))


def test_a_call_that_was_cut_in_the_window_goes_on_with_power_off():
    talk = Talk().until(BranchRack("control supply lost"), "window_control")
    later = Talk()
    later.dialogue.take_up(talk.facts[1:])
    effects = later.dialogue.resume(talk.now, "killed")
    assert isinstance(effects[-1], Listen)
    assert effects[-1].step == "window_off"


def test_from_a_metal_ladder_there_is_no_window():
    talk = call("control supply lost", {"ladder_kind": "metal"})
    assert "window_on" not in asked_steps(talk)
    assert "control_volts" not in talk.readings


# ---- oil


def test_no_reset_of_the_oil_control_before_glass_and_crankcase_are_read():
    talk = skipping("none at the oil", "oil_crankcase")
    assert not {"unlock", "reset", "start"} & set(asked_steps(talk))
    assert "No reset before its readings." in " ".join(talk.spoken)


def test_foam_over_a_cold_crankcase_is_liquid_in_the_machine_and_no_start_before_it_is_gone():
    rack = BranchRack("oil diluted", {"crankcase_temperature": "minus ten"})
    talk = Talk().until(rack, "repaired")
    assert "liquid_in_compressor" in talk.open
    assert talk.to_the_seal(rack).dialogue.state.started_at is None


def test_foam_that_stays_is_no_oil_to_start_on():
    talk = call("oil diluted", {"oil_level": "foaming"})
    assert talk.dialogue.state.started_at is None
    assert "No start on this oil." in " ".join(talk.spoken)


def test_an_oil_control_that_did_not_trip_sends_the_search_to_the_supply():
    talk = call("none at the oil", {"oil_control_look": "not tripped"})
    steps = asked_steps(talk)
    assert "control_fuse_look" in steps
    assert "oil_glass" not in steps


def test_the_gauges_come_off_before_the_seal():
    talk = Talk().until(BranchRack("none at the oil"), "run_oil")
    assert "hose_on" in talk.open
    assert call("none at the oil").open == set()


# ---- high pressure


def test_no_reset_of_the_high_pressure_control_before_the_condenser_was_seen():
    talk = skipping("none at the high pressure", "high_fans", "high_face")
    assert not {"pressure_reset", "unlock", "start"} & set(asked_steps(talk))


def test_a_standing_test_is_asked_for_only_when_the_whole_rack_may_stand():
    assert "high_standing" not in asked_steps(call("air suspected"))
    assert "high_standing" in asked_steps(call("air in the system"))


# ---- the second trip


def test_the_wrong_tag_locks_nothing_after_a_second_trip():
    rack = BranchRack("oil control failed")
    talk = Talk().until(rack, "run_oil_holds").hear("tripped", "understood").hear("a three")
    assert "another machine's tag" in talk.said
    assert talk.asked == "tag:panel_tag"


def test_an_interruption_between_tag_and_lock_asks_for_the_tag_again():
    talk = Talk().until(BranchRack("oil control failed"), "run_oil_holds").hear("tripped", "understood").hear("a two")
    assert talk.asked == "lock:locked_out"
    effects = talk.dialogue.resume(talk.now, "killed")
    talk._take(effects)
    talk.hear("understood", "clear", "no", "understood", "yes")
    assert talk.asked.startswith("tag")


def test_a_lock_that_is_answered_an_hour_late_is_asked_anew():
    talk = Talk().until(BranchRack("oil control failed"), "run_oil_holds").hear("tripped", "understood").hear("a two")
    assert talk.asked == "lock:locked_out"
    talk.now += timedelta(hours=1)  # and nobody looked at the clock between
    talk.hear("locked")
    assert talk.readings["locked_out"] is True
    assert talk.asked == "anew_lock:lock_still_on"


def test_it_tripped_is_understood_at_the_readings_of_a_running_machine():
    rack = BranchRack("none at the motor")
    talk = Talk().until(rack, "watch_first").hear("it tripped")
    assert talk.readings["running_now"] == "just tripped"
    assert talk.dialogue.state.stopped
    assert talk.to_the_seal(rack).dialogue.state.started_at is not None


# ---- in one breath


def test_all_three_the_same_are_asked_back_once_and_fill_three():
    talk = Talk().until(BranchRack("none at the motor"), "windings").hear("four point one on all three")
    assert talk.said == "All three four point one ohms. Correct?"
    talk.hear("yes")
    assert [talk.readings[f"winding_ohms.{pair}"] for pair in ("ab", "bc", "ca")] == [4.1, 4.1, 4.1]


def test_a_look_that_was_said_wrong_can_be_taken_again():
    talk = Talk().until(BranchRack("none at the high pressure"), "high_valves").hear("all open")
    assert talk.dialogue.state.has("discharge_drop_none")
    talk.hear("go back", "yes")
    assert talk.asked.split(":")[0] in ("high_valves", "high_valves/valves")


# ---- the monitor sees what is broken


def test_each_of_two_open_protections_has_its_own_one_reset():
    rack = BranchRack("none at the motor")
    talk = Talk().until(rack, "which_contact").hear("two of them", "motor", "contact three").to_the_seal(rack)
    resets = [s for s in asked_steps(talk) if s in ("motor_reset", "pressure_reset", "reset")]
    assert resets == ["motor_reset", "pressure_reset"]


def test_a_round_of_the_watch_answered_so_late_that_the_next_is_due_breaks_nothing():
    rack = BranchRack("none at the oil")
    talk = Talk().until(rack, "watch_second").wait(3600).hear("ten two ten").to_the_seal(rack)
    assert talk.dialogue.state.sealed


def test_a_correction_that_is_still_open_when_the_proof_ends_is_not_asked_from_inside_the_panel():
    talk = Talk().until(BranchRack("none at the motor"), "sensor_string").hear("correction").wait(3600)
    assert talk.asked.startswith("tag")


def test_going_back_does_not_put_the_string_under_the_insulation_tester():
    talk = Talk().until(BranchRack("none at the motor"), "insulation").hear("go back", "yes")
    assert "leads_on" in talk.open
    assert talk.asked.startswith("insulation")


# ---- a site in bar and Celsius


def test_a_site_in_bar_says_net_oil_in_bar_and_refuses_its_vacuum_too():
    site = replace(load_profile(), units="si")
    metric = {
        "rack_suction_pressure": "point eight", "rack_discharge_pressure": "fourteen point five",
        "watch.suction_pressure": "point seven", "crankcase_temperature": "thirty",
    }  # fmt: skip
    talk = Talk(site).until(BranchRack("none at the oil", metric), "run_oil").hear("three point eight point eight")
    assert "Net oil three bar." in " ".join(talk.spoken)
    motor = Talk(site).until(BranchRack("none at the motor", metric), "shell").hear("minus point two")
    assert "Vacuum. No insulation test" in motor.said or motor.hear("yes").said.startswith("Vacuum")


def test_after_the_live_window_the_panel_is_proved_dead_again_before_the_repair_is_asked_for():
    steps = asked_steps(call("starter coil open"))
    off, repaired = steps.index("window_off"), steps.index("repaired")
    assert steps[off + 1 : repaired] == ["meter_before", "dead_power", "dead_control", "meter_after"]


def test_without_a_live_window_the_repair_costs_no_second_proof():
    steps = asked_steps(call("suction filter"))
    assert "repaired" in steps
    assert steps.count("dead_power") == 1


@pytest.mark.parametrize("said", ["hot", "too hot to touch", "it's still warm"])
def test_a_hot_motor_waits_before_its_protection_is_judged(said: str):
    talk = Talk().until(BranchRack("still hot"), "motor_shell").hear(said)
    assert talk.asked == "protector_cooled:overload_state"
    assert any("minutes" in line for line in talk.spoken[-4:])
