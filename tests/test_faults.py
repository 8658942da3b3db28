"""A simulated technician at a simulated rack with each fault: the call must seal, with the right cause and no other
proven, nothing open, no rule of safety broken."""

import pytest

from assistant.call.facts import Concluded
from tests.simulated import Rack
from tests.talk import Talk

FAULTS = [
    # fault of the simulated machine, cause that must be concluded, least standing
    ("injection_coil_failed", "injection_coil_failed", "proven"),
    ("injection_coil_shorted", "injection_coil_failed", "proven"),
    ("probe_fouled", "probe_fouled", "proven"),
    ("probe_failed", "probe_failed", "proven"),
    ("probe_wiring_faulty", "probe_wiring_faulty", "proven"),
    ("probe_loose", "probe_loose", "proven"),
    ("injection_hand_valve_closed", "injection_hand_valve_closed", "proven"),
    ("injection_coil_loose", "injection_coil_loose", "supported"),
    ("module_output_fuse", "module_output_fuse", "proven"),
    ("injection_valve_stuck_closed", "injection_valve_stuck_closed", "supported"),
    ("injection_strainer_plugged", "injection_strainer_plugged", "supported"),
    ("injection_wiring_open", "injection_wiring_open", "proven"),
    ("module_no_output", "module_no_output", "supported"),
    ("module_no_supply", "module_no_supply", "proven"),
    ("injection_valve_leaking", "injection_valve_leaking", "proven"),
    ("refrigerant_low", "refrigerant_low", "supported"),
    ("drier_plugged", "drier_plugged", "supported"),
    ("not_called", "not_called", "proven"),
]
ALSO_TRUE = {"injection_valve_leaking": {"liquid_slugged"}}
"""What is true besides the fault: liquid stands in a machine whose valve leaks."""


@pytest.mark.parametrize(("fault", "cause", "least"), FAULTS)
def test_each_fault_is_found_and_nothing_else_is_proven(fault: str, cause: str, least: str):
    talk = Talk().to_the_seal(Rack(fault))
    got = {c.cause: c.standing for c in talk.dialogue.state.conclusions.values()}
    assert got[cause] in ({"proven"} if least == "proven" else {"proven", "supported"})
    ever_proven = {f.cause for _, f in talk.facts if isinstance(f, Concluded) and f.standing == "proven"}
    assert ever_proven <= {cause} | ALSO_TRUE.get(fault, set())
    assert talk.open == set()


def test_a_healthy_machine_is_closed_as_no_cause_found_never_as_fixed():
    talk = Talk().to_the_seal(Rack("none"))
    got = {c.cause: c.standing for c in talk.dialogue.state.conclusions.values() if c.standing != "ruled_out"}
    assert set(got) <= {"no_fault_found", "probe_fouled", "after_defrost"}
    assert "No cause found" in talk.spoken[-2]


@pytest.mark.parametrize("fault", ["none", "module_no_output", "injection_valve_leaking", "refrigerant_low"])
def test_no_rule_of_safety_is_broken_on_the_way(fault: str):
    talk = Talk().to_the_seal(Rack(fault))
    assert talk.broken() == ()


def test_left_locked_goes_to_the_next_person_by_name():
    talk = Talk().to_the_seal(Rack("injection_coil_failed", {"repaired": "leave it locked"}))
    assert talk.dialogue.state.handed_over["locked_out"].owner == "supervisor"
    assert talk.dialogue.state.started_at is None
