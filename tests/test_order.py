"""Which look comes next, and which is passed over: nothing is asked whose answer can change nothing."""

from dataclasses import replace

import pytest

from assistant.branches.order import best, open_still, tells_bits
from assistant.branches.steps import Step
from assistant.call.facts import StepEntered
from assistant.call.procedure import own_procedure
from assistant.trade.case import Case
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk

STEPS = {step.id: step for step in own_procedure().steps}
OIL_AND_DISCHARGE = Case(contacts=("oil", "discharge"))


def _asked(fault: str) -> list[str]:
    """The steps of a whole call, in the order in which they were asked."""
    talk = Talk().to_the_seal(BranchRack(fault) if fault in FAULTS else Rack(fault))
    return list(dict.fromkeys(fact.step for _, fact in talk.facts if isinstance(fact, StepEntered)))


def test_a_closed_hand_valve_explains_the_trip_and_no_probe_or_coil_is_read_after_it() -> None:
    asked = _asked("injection_hand_valve_closed")
    assert "which_contact" in asked
    assert not {"pipe_temperature", "probe_module_end", "coil", "output_fuse"} & set(asked)


def test_a_coil_off_its_stem_may_have_burnt_and_is_read_with_its_fuse() -> None:
    assert {"coil", "output_fuse"} <= set(_asked("injection_coil_loose"))


def test_what_comes_before_a_reset_is_read_though_the_cause_is_proven() -> None:
    asked = _asked("condenser fan")
    assert asked.index("high_fans") < asked.index("high_face")
    assert "run_head" not in asked


def test_a_cause_is_sought_until_every_contact_that_it_trips_has_a_proven_one() -> None:
    coil, valve = "injection_coil_failed", {"injection_hand_valve_closed": "proven"}
    assert open_still(Case(), coil)
    assert not open_still(replace(OIL_AND_DISCHARGE, standings=valve), coil)
    assert open_still(replace(OIL_AND_DISCHARGE, standings=valve), "oil_level_low")
    assert open_still(replace(OIL_AND_DISCHARGE, standings={"injection_hand_valve_closed": "supported"}), coil)
    assert open_still(replace(OIL_AND_DISCHARGE, standings={"probe_loose": "proven"}), "probe_failed")


def test_a_cause_that_has_another_behind_it_ends_no_search() -> None:
    assert open_still(Case(contacts=("high pressure",), standings={"head_high": "proven"}), "condenser_fouled")


@pytest.mark.parametrize(
    ("station", "known", "first"),
    [
        ("restore", {}, "high_air"),  # what is read in passing comes before the climb
        ("condenser", {}, "high_air"),  # and where one stands already it tells most
        ("condenser", {"head_high": "ruled_out", "condenser_fouled": "ruled_out"}, "high_air"),
        ("condenser", dict.fromkeys(("overcharge", "non_condensables", "head_high"), "ruled_out"), "high_fans_called"),
    ],
)
def test_the_look_that_tells_most_for_its_effort_comes_first(station: str, known: dict[str, str], first: str) -> None:
    looks = [STEPS[id_] for id_ in ("high_air", "high_fans_called", "high_reclaim", "high_fans", "high_face")]
    assert best(looks, Case(contacts=("high pressure",), standings=known), station).id == first


def test_between_equals_the_order_of_the_trade_stands() -> None:
    one = Step("one", "looks", "cases", "One?", "command", seeks=("suction_restricted",))
    other = replace(one, id="other", seeks=("liquid_branch_closed",))
    case = Case(contacts=("low pressure",))
    assert best([one, other], case, "panel") is one
    assert best([other, one], case, "panel") is other
    assert best([replace(one, station="condenser"), other], case, "panel") is other


def test_a_look_that_parts_more_causes_tells_more() -> None:
    assert tells_bits(0, 4) == 0.0
    assert tells_bits(1, 2) == 1.0
    assert tells_bits(1, 4) < tells_bits(2, 4) < tells_bits(3, 4) <= tells_bits(4, 4) == 2.0


def test_why_names_the_causes_that_are_still_open() -> None:
    talk = Talk().until(Rack("none"), "coil").hear("why")
    assert "Still open here: injection coil failed." in talk.said
    assert "and others." in Talk().until(Rack("none"), "machine_look").hear("understood", "why").said
