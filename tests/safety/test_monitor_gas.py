"""Probe, valves, repairs, charge and alarm, S28 to S35: each rule broken on paper is found, and kept it is silent."""

from dataclasses import replace

import pytest

from tests.safety.paper import Paper, demo, with_rack

TAKE_OUT = "Take the probe out, clean it gently, put it back. Cleaned?"
REPAIRED = "Repaired, or leave it locked?"


def test_a_probe_in_the_gas_is_only_unplugged():
    in_gas = with_rack(probe=replace(demo().racks[0].probe, mount="in_gas"))
    paper = Paper(in_gas).proves_dead().cautions("probe_in_gas").reads(probe_pipe_temperature=75.0)
    assert paper.asks("probe_cleaned", TAKE_OUT).broken == {"S28"}
    paper = Paper(in_gas).proves_dead().cautions("probe_in_gas").reads(probe_pipe_temperature=75.0)
    assert paper.asks("probe_ohms", "Unplug the connector at the probe. Ohms?").broken == set()
    assert Paper().proves_dead().reads(probe_pipe_temperature=75.0).asks("probe_cleaned", TAKE_OUT).broken == set()


def test_a_prompt_never_says_pull():
    paper = Paper().proves_dead().reads(probe_pipe_temperature=75.0)
    assert paper.asks("probe_ohms", "Pull the connector at the probe. Ohms?").broken == {"S28"}


def test_the_pipes_temperature_comes_before_the_probe_is_touched():
    assert Paper().proves_dead().asks("probe_ohms", "Unplug the connector at the probe. Ohms?").broken == {"S29"}
    hot = Paper().proves_dead().reads(probe_pipe_temperature=190.0)
    assert hot.asks("probe_ohms", "Unplug the connector at the probe. Ohms?").broken == {"S29"}
    gloves = Paper().proves_dead().reads(probe_pipe_temperature=190.0)
    assert gloves.asks("probe_ohms", "Unplug the connector at the probe. Gloves for heat, or wait. Ohms?").broken == set()


def test_no_discharge_side_valve_is_closed_on_what_may_run():
    paper = Paper().arrives().cautions("restart", "valves")
    assert paper.asks("command", "Close the discharge valve. Say done.").broken == {"S30"}
    paper = Paper().proves_dead().cautions("valves")
    assert paper.asks("command", "Close the discharge valve. Say done.").broken == set()
    paper = Paper().arrives().reads(running_now="running").asks("command", "And?").done().opens("valve_closed.discharge")
    assert paper.asks("product_state").broken == {"S30"}


def test_a_scroll_is_not_pumped_down():
    paper = Paper(with_rack(machine_kind="scroll")).arrives().cautions("restart")
    assert paper.asks("pump_down_low", "Where does it pull down to?").broken == {"S30"}
    assert Paper().arrives().cautions("restart").asks("pump_down_low", "Where does it pull down to?").broken == set()


@pytest.mark.parametrize(("cause", "given"), [
    ("injection_wiring_open", ()), ("drier_plugged", ("section_emptied",)), ("oil_pump_worn", ("isolated_at_zero", "recovered")),
    ("overcharge", ("recovered",)), ("compressor_seized", ("isolated_at_zero", "recovered")),
])  # fmt: skip
def test_a_repair_is_asked_only_behind_what_its_cause_needs(cause: str, given: tuple[str, ...]):
    behind = Paper().proves_dead().cautions("liquid_and_cold", "acid")
    behind.asks("command", "That?").done("done", establishes=list(given)) if given else behind
    behind.finds(cause)
    assert behind.asks("command", REPAIRED).broken == set()
    before = Paper().arrives().cautions("restart", "liquid_and_cold", "acid").finds(cause)
    assert before.asks("command", REPAIRED).broken == {"S31"}


@pytest.mark.parametrize("cause", ["condenser_fouled", "condenser_fan_failed", "head_fan_failed"])
def test_hands_go_near_a_fan_only_behind_a_lock_of_its_own(cause: str):
    def at_the_fans() -> Paper:
        return Paper().proves_dead().cautions("fans", "ladder").finds(cause)

    assert at_the_fans().asks("command", REPAIRED).broken == {"S31"}
    locked = at_the_fans().asks("fans_locked", "Locked?").reads(fans_locked=True).opens("fan_lock")
    assert locked.asks("command", REPAIRED).broken == set()
    off = at_the_fans().asks("fans_locked", "Locked?").reads(fans_locked=True).opens("fan_lock").clears("fan_lock")
    assert "S31" in off.asks("command", REPAIRED).broken


def test_a_leak_is_repaired_on_a_section_that_is_emptied():
    paper = Paper().arrives().cautions("liquid_and_cold", "brazing")
    assert paper.asks("leak_repaired", "Repair it under your licence. Repaired?").broken == {"S31"}
    paper = Paper().arrives().cautions("liquid_and_cold", "brazing").reads(refrigerant_recovered=40.0)
    assert paper.asks("leak_repaired", "Repair it under your licence. Repaired?").broken == set()


def test_liquid_between_two_closed_valves_is_on_record():
    def both() -> Paper:
        paper = Paper().proves_dead().cautions("valves").asks("command", "Close the drier inlet valve. Say done.").done()
        return paper.asks("command", "Close the drier outlet valve. Say done.").done()

    assert both().asks("oil_level").broken == {"S32"}
    assert both().opens("liquid_section_closed").asks("oil_level").broken == set()


@pytest.mark.parametrize("shut", ["liquid_section_closed", "section_shut"])
def test_a_rack_is_not_charged_with_a_section_of_its_liquid_shut_in(shut: str):
    paper = Paper().arrives().cautions("charging", "liquid_and_cold", "valves").opens(shut, "hose_on")
    assert "S32" in paper.asks("refrigerant_added", "Hose on, weigh it in. How many pounds?").broken


def test_a_standing_test_is_offered_with_everything_it_needs():
    whole = ("Air suspected. A standing test needs the whole rack off and locked, the store agreed, food planned, relief open, "
             "the receiver a buffer. Say leave it, or all so.")  # fmt: skip
    assert Paper().arrives().asks("command", whole.replace(", relief open", "")).broken == {"S33"}
    paper = Paper().arrives().cautions("restart").locks()
    assert paper.asks("command", whole).done("all so").asks("idle_condenser_pressure", "Its pressure?").broken == set()
    paper = Paper().arrives().asks("command", whole).done("all so").asks("idle_condenser_pressure", "Its pressure?")
    assert paper.broken == {"S33"}, "with its lock off"
    paper = Paper().arrives().asks("command", whole).done("leave it").asks("idle_condenser_pressure", "Its pressure?")
    assert paper.broken == {"S33"}


@pytest.mark.parametrize(("label", "cylinder", "broken"), [
    ("R22", True, set()), ("R407A", True, {"S34"}), ("R22", None, {"S34"}),
])  # fmt: skip
def test_no_charge_before_label_and_cylinder_agree(label: str, cylinder: bool | None, broken: set[str]):
    paper = Paper().arrives().reads(refrigerant_label=label).cautions("charging", "liquid_and_cold")
    if cylinder:
        paper.reads(cylinder_checked=True)
    assert paper.asks("refrigerant_added", "Hose on, weigh it in. How many pounds?").broken == broken


def test_the_pounds_asked_for_at_the_close_are_no_charge():
    assert Paper().arrives().asks("refrigerant_added", "Refrigerant added, pounds?").broken == set()


def _alarm() -> Paper:
    paper = Paper().arrives().asks("product_state").hears("detector's going")
    return paper.answers("alarm", "detector's going", "detector_state")


def test_with_an_alarm_nothing_is_asked_that_is_done_in_the_room():
    assert _alarm().says("Stay out. Ventilate from outside.").asks("store_told").broken == set()
    assert _alarm().says("Stay out. Ventilate from outside.").asks("sight_glass").broken == {"S35"}
    assert _alarm().says("Stay out. Ventilate from outside.").asks("command", "Leads off. Say done.").broken >= {"S35"}
    assert _alarm().asks("store_told").broken == {"S35"}


def test_an_alarm_counts_at_any_moment_and_in_whatever_words():
    paper = Paper().arrives().asks("product_state").hears("the gas alarm went off", "not understood")
    assert paper.asks("product_state").broken == {"S35"}


def test_a_closed_room_without_a_detector_is_not_entered():
    paper = Paper().arrives().reads().asks("detector_state").answers("none").says("Stay out. Ventilate from outside.")
    assert paper.asks("sight_glass").broken == {"S35"}
    open_room = Paper(with_rack(closed_room=False)).arrives().asks("detector_state").answers("none")
    assert open_room.asks("sight_glass").broken == set()
