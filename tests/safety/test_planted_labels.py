"""Faults planted in what the steps declare: each is found by its rule, from what is asked, said and recorded."""

from pathlib import Path

import pytest

from assistant.call.procedure import load_procedure
from tests.safety.planting import KILL, Call, Find, Label, call, changed, rules
from tests.test_branches import LIVE

_MOTOR, _OIL, _COIL, _NONE = "none at the motor", "none at the oil", "injection_coil_failed", "none"
_OPEN, _GROUND = "winding open", "winding grounded"
FLAMMABLE = {"refrigerant": "R454C", "closed_room": False}
L = Label

LOST: list[tuple[str, Label, Find]] = [
    # rule that finds it, the step and the label it lost or has instead, the call that comes past it
    ("S1", L("which_contact", "act"), call(_MOTOR)),
    ("S1", L("contact_wire_back", "act"), call(_MOTOR, "at contact_wire_back", KILL)),
    ("S1", L("insulation", "act"), call(_MOTOR, "at insulation", KILL)),
    ("S1", L("jumper_out", "act"), call(_NONE)),
    ("S4", L("clamp_off", "act"), call(_COIL, "at start", "the clamp's still on")),
    ("S2", L("tag", "also", '["locked_out"]'), call(_MOTOR)),
    ("S5", L("anew_lock", "part", '"close"'), call(_MOTOR, "at insulation", KILL)),
    ("S5", L("anew_hooked_up", "part", '"close"'), call(_MOTOR, "at insulation", KILL)),
    ("S5", L("anew_clear", "part", '"close"'), call(_MOTOR, "at insulation", KILL)),
    ("S6", L("tell_store_rack", "when", '["alarm"]'), call(_MOTOR).on(control_isolator_stops="rack")),
    ("S7", L("anew_other_lock", "part", '"close"'), call(_MOTOR, "at windings", "somebody else's lock is on it")),
    ("S8", L("power_on", "act"), call(_NONE)),
    ("S8", L("clothing", "asking", '"covers_on"'), call(_NONE)),
    ("S8", L("clothing", "also"), call(_NONE)),
    ("S8", L("live_supply", "act"), Call("line lost", words=tuple(LIVE.items()))),
    ("S10", L("feed", "also", '["module_output_volts"]'), call(_NONE)),
    ("S13", L("fit_jumper", "when", '["discharge_followed"]'), call(_NONE).on(kind="ptc", test_plug="jumper")),
    ("S14", L("clip_leads", "clears", '["start_blocked"]'), call(_NONE)),
    ("S16", L("feed", "act"), call(_NONE, "at feed", "skip this", "yes")),
    ("S17", L("machine_look", "establishes", '["coil_back_on_stem"]'), call("control supply lost").but(coil_seated="loose")),
    ("S18", L("line_fuses", "tells", '{ "one open" = "line_fuses_good", tripped = "line_fuses_good", good = "line_fuses_good", '
              '"all good" = "line_fuses_good" }'),
     call("line fuse open", "at windings", "skip this", "yes")),
    ("S19", L("feed_after", "needs"), call(_NONE, "at feed_after", "the lock is off")),
    ("S20", L("which_contact", "opens"), call(_MOTOR)),
    ("S20", L("coil", "opens"), call(_COIL)),
    ("S20", L("fit_jumper", "opens"), call(_NONE)),
    ("S20", L("clip_leads", "opens"), call(_NONE)),
    ("S20", L("insulation", "opens"), call(_MOTOR)),
    ("S20", L("modules_off", "opens"), call(_MOTOR)),
    ("S20", L("windings_at_terminals", "opens"), call(_OPEN)),
    ("S20", L("dead_power", "opens"), call(_MOTOR)),
    ("S20", L("shut_hand_valve", "opens"), call("module_no_output")),
    ("S20", L("isolate", "opens"), call(_OPEN).but(repaired="repaired")),
    ("S20", L("anew_second_source_locked", "opens"), call(_MOTOR, "at dead_power", "one twenty")),
    ("S20", L("lock_fans", "opens"), call("condenser fouled")),
    ("S20", L("liquid_oil", "wait_minutes", "0"), call(_NONE)),
    ("S20", L("windings", "clears", '["panel_cover"]'), call(_MOTOR)),
    ("S20", L("block_start", "opens"), call(_NONE)),
    ("S21", L("valves", "also", '["others_clear"]'), call(_MOTOR)),
    ("S22", L("motor_reset", "resets"), call(_MOTOR)),
    ("S22", L("leave_off", "needs"), call(_COIL, "at watch_second", "it tripped", "at leave_off", "the lock is off")),
    ("S22", L("pressure_reset", "resets"), call("none at the high pressure")),
    ("S23", L("heater_time", "wait_minutes", "0"), call(_MOTOR, "at windings", *[600] * 7)),
    ("S25", L("insulation", "when", '["motor_branch"]'), call(_MOTOR).but(shell_pressure="five inches")),
    ("S25", L("modules_off", "tells", '{ unplugged = "modules_off", "charge unknown" = "modules_off" }'),
     call(_MOTOR).but(modules_off="charge unknown")),
    ("S26", L("insulation", "also", '["protector_string_ohms"]'), call(_MOTOR)),
    ("S27", L("windings_at_terminals", "when", '["motor_branch"]'), call(_GROUND)),
    ("S28", L("probe_clean", "when", '["machine_in_question"]'), call("probe_fouled").on(mount="in_gas")),
    ("S29", L("probe_direct", "ask", '"Unplug the connector at the probe. Ohms at the probe?"'),
     call("probe_fouled").but(probe_pipe_temperature="one ninety")),
    ("S30", L("isolate", "needs"), call(_OPEN, "at isolate", "the lock is off").but(repaired="repaired")),
    ("S31", L("repaired", "needs"), call("oil feed starved", "at repaired", KILL)),
    ("S31", L("leak_mend", "when", '["leak_found is yes"]'), call("refrigerant_low", "at leak_mend_or_leave", "later")),
    ("S31", L("winding_failed", "needs", '["locked"]'), call(_OPEN).but(repaired="repaired")),
    ("S31", L("condenser_fouled", "needs", '["locked"]'), call("condenser fouled")),
    ("S32", L("empty_section", "opens"), call("injection_valve_stuck_closed")),
    ("S33", L("high_standing", "when", '["high_branch"]'), call("condenser fouled")),
    ("S34", L("charge", "when", '["charge_wanted"]'), call("refrigerant_low").but(refrigerant_label="r four oh four a")),
    ("S36", L("fit", "cautions"), call(_MOTOR)),
    ("S36", L("tag", "cautions"), call(_MOTOR)),
    ("S36", L("machine_look", "cautions"), call(_MOTOR)),
    ("S36", L("machine_look", "station", '"front"'), call(_MOTOR).on(**FLAMMABLE)),
    ("S36", L("block_start", "cautions"), call(_NONE)),
    ("S36", L("coil", "cautions"), call(_COIL)),
    ("S36", L("insulation", "cautions"), call(_MOTOR, "at insulation", KILL)),
    ("S36", L("windings_at_terminals", "cautions"), call(_OPEN)),
    ("S36", L("high_fans", "cautions"), call("condenser fouled")),
    ("S36", L("oil_gauges", "cautions"), call(_OIL)),
    ("S36", L("leak_mend", "cautions"), call("refrigerant_low")),
    ("S36", L("reset", "cautions"), call(_OIL)),
    ("S36", L("injection_coil_failed", "cautions"), call(_COIL, "at repaired", KILL)),
    ("S37", L("charge", "opens"), call("refrigerant_low")),
    ("S37", L("oil_gauges", "opens"), call(_OIL)),
    ("S37", L("recover", "opens"), call(_OPEN).but(repaired="repaired")),
    ("S37", L("watch_first", "clears", '["hose_on"]'), call(_OIL)),
    ("S37", L("no_cause_reset", "within_hours", "0"), call("overloaded", "at hand_over", "supervisor three hundred", "yes")),
    ("S38", L("anew_room_safe", "part", '"close"'), call(_MOTOR, "at windings", "emergency", "continue")),
    ("S42", L("who", "required"), Call(_MOTOR, ("at who", "skip this", "yes"), opened=(("technician", ""),))),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "label", "find"), LOST, ids=[f"{rule} {label}" for rule, label, _ in LOST])
def test_a_label_that_is_lost_or_wrong_is_found_by_its_rule(tmp_path: Path, rule: str, label: Label, find: Find):
    assert rule in rules(find(load_procedure(changed(tmp_path, label))))
