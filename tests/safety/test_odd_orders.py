"""Orders of kills, alarms and corrections that no script has: the monitor stays silent and the call comes to its seal."""

import pytest

from assistant.call.procedure import own_procedure
from tests.branch_rack import BranchRack
from tests.safety.planting import KILL, NOISE, Move, call
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

ORDERS: dict[str, tuple[str, tuple[Move, ...]]] = {
    "another's lock while isolating": (
        "seized", ("at isolate", "my lock is off", "somebody else's lock is on it", "understood", "yes", KILL),
    ),
    "killed at power on, an alarm, killed again": (
        "module_no_output", ("at power_on", KILL, "yes", "the gas alarm is going", KILL),
    ),
    "an emergency in the proof, then finish": (
        "none at the motor", ("at dead_control", "emergency", "continue", "yes", "yes", "finish job", "yes"),
    ),
    "noise at the start": ("injection_coil_failed", ("at start", NOISE, KILL, NOISE, "no")),
    "an alarm while a gauge is waited for": (
        "air in the system", ("at at_zero", "hold on", "the gas alarm is going", "continue", KILL),
    ),
    "the tag corrected with hands in": (
        "injection_coil_failed", ("at coil", "correction tag", "a one", "yes", KILL, "yes"),
    ),
    "a second trip, an emergency, back": (
        "oil control failed", ("at run_oil_holds", "it tripped", "emergency", "continue", "yes", "yes", "go back", "yes"),
    ),
    "the lock off while the hose is on": (
        "refrigerant_low", ("at hose_off", "the lock is off", "emergency", "continue", "yes", "no"),
    ),
    "the lock found off after it was handed over": (
        "low cutout will not hold",
        ("at repair_or_leave", "leave it locked", "at to_order", "emergency", "continue", "yes", "yes", "the lock is off"),
    ),
    "a click with no volts in the live window": ("none", ("at feed", "feeding, zero, click")),
    "a number of fans that cannot be, an hour late": ("condenser fan", ("at high_fans", "forty | after 3600")),
    "a wire lifted, an alarm, quiet again": (
        "injection_coil_failed", ("at coil", "the gas alarm is going", "correction detector", "quiet", "yes"),
    ),
}  # fmt: skip


def test_a_lock_that_was_taken_off_and_is_said_to_be_on_counts_with_its_tag_only():
    hot = Rack("none", {  # at sound pressures: its valves are suspected, and it is pumped down
        "watch.discharge_temperature": "two thirty eight", "head_pattern": "one hot", "suction_pressure": "ten",
        "discharge_pressure": "two hundred", "suction_temperature": "forty",
    })  # fmt: skip
    talk = Talk().until(hot, "pump_down").hear("six pounds", "hold on").wait(3600).hear("continue").until(hot, "anew_lock")
    talk.hear("yes").until(hot, "tag").until(hot, "leave_off")
    assert talk.to_the_seal(hot).broken() == ()


@pytest.mark.parametrize("order", ORDERS)
def test_an_odd_order_breaks_no_rule(order: str):
    fault, moves = ORDERS[order]
    assert call(fault, *moves)(own_procedure()) == ()


def test_a_machine_that_was_left_locked_is_not_started_on_the_same_call():
    rack = BranchRack("low cutout will not hold")  # its repair is skipped, and nobody speaks for hours at the hand-over
    talk = Talk(site_of(rack.fault)).until(rack, "repaired").hear("skip this", "yes").until(rack, "leave_locked")
    talk.wait(9000).to_the_seal(rack)
    assert talk.dialogue.state.started_at is None
    assert "Left locked off." in talk.spoken[-2]
    assert talk.broken() == ()
