"""A slice of the rack with physics of its own: the cause is found, nothing is proven falsely, no rule is broken."""

import pytest

from tests.bench.truth import call, causes
from tests.rig.scenes import SCENES, Scene, cannot_stand_together


def test_every_cause_has_its_call():
    assert set(causes()) == {scene.cause for scene in SCENES}


@pytest.mark.parametrize("one_fault", SCENES, ids=[f"{s.cause} by {s.site or s.part}" for s in SCENES])
def test_the_call_of_a_cause_proves_it_or_at_best_supports_it(one_fault: Scene):
    one = call((one_fault,))
    assert one.found(one.scenes[0]), one.standings
    assert one.falsely_proven == set()
    assert one.broken == ()
    assert one.sealed


def _scene(cause: str, seen_by: str = "") -> Scene:
    return next(s for s in SCENES if s.cause == cause and (not seen_by or seen_by in (s.site, s.part)))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("module_output_stuck_on", "return_gas_hot"),  # repaired, and the line is hot again in the watch
        ("injection_wiring_open", "head_high"),
        ("probe_failed", "liquid_valve_closed"),  # bubbles that no bad probe explains
        ("seal_leak_retrofit", "non_condensables"),  # a head that no low charge explains
        ("injection_coil_loose", "motor_protection_faulty"),  # two contacts
    ],
)
def test_the_search_goes_on_to_the_second_of_two_faults(first: str, second: str):
    scenes = _scene(first), _scene(second)
    one = call(scenes)
    assert all(one.found(scene) for scene in scenes), one.standings
    assert one.falsely_proven == set()
    assert one.broken == ()
    assert one.sealed


def test_a_line_that_is_hot_without_injection_accuses_no_valve_of_the_machine():
    one = call((_scene("liquid_slugged"), _scene("module_no_output")))
    assert one.standings.get("discharge_valves_leaking") in (None, "suspected")


def test_two_faults_of_which_one_hides_the_other_are_not_asked_of_one_machine():
    stopped, running = _scene("compressor_seized"), _scene("oil_control_faulty")
    assert "leaves the machine off" in cannot_stand_together(stopped, running)
    assert cannot_stand_together(_scene("injection_wiring_open"), _scene("head_high")) == ""
