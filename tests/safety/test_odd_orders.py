"""Orders of kills, alarms and corrections that no script has: the monitor stays silent and the call comes to its seal."""

import pytest

from assistant.call.procedure import own_procedure
from tests.safety.planting import KILL, NOISE, Move, call

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
    "a wire lifted, an alarm, quiet again": (
        "injection_coil_failed", ("at coil", "the gas alarm is going", "correction detector", "quiet", "yes"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("order", ORDERS)
def test_an_odd_order_breaks_no_rule(order: str):
    fault, moves = ORDERS[order]
    assert call(fault, *moves)(own_procedure()) == ()
