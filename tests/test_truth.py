"""A slice of the rack with physics of its own: the cause is found, nothing is proven falsely, no rule is broken."""

import pytest

from tests.bench.truth import call, causes
from tests.rig.scenes import SCENES, Scene


def test_every_cause_has_its_call():
    assert set(causes()) == {scene.cause for scene in SCENES}


@pytest.mark.parametrize("one_fault", SCENES, ids=[f"{s.cause} by {s.site or s.part}" for s in SCENES])
def test_the_call_of_a_cause_proves_it_or_at_best_supports_it(one_fault: Scene):
    one = call((one_fault,))
    assert one.found(one.scenes[0]), one.standings
    assert one.falsely_proven == set()
    assert one.broken == ()
    assert one.sealed
