"""What is said at the front, before anybody is near a panel, and must not be lost over the question that stands."""

import pytest

from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

FRONT = ["fit", "how_many_off", "food", "rack_suction", "glass"]


def at(step: str, fault: str = "injection_coil_failed") -> tuple[Rack, Talk]:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return rack, Talk(site_of(fault)).until(rack, step)


@pytest.mark.parametrize("step", FRONT)
def test_oil_on_somebodys_hands_is_no_protection_that_shows(step: str):
    _, talk = at(step)
    talk.hear("there's oil on my hands")
    assert talk.said.startswith("Sound gloves and shield first.")
    assert "protection_shown" not in talk.readings or step != "how_many_off"


@pytest.mark.parametrize("step", FRONT[1:])
def test_who_says_that_nobody_knows_of_him_is_asked_again_whether_he_is_fit_to_start(step: str):
    _, talk = at(step)
    talk.hear("i'm alone and nobody knows")
    assert talk.asked == "fit:fit_to_start"
    assert talk.readings["fit_to_start"] is False


@pytest.mark.parametrize(("fault", "step"), [
    *(("injection_coil_failed", step) for step in ("lock", "coil", "covers", "start", "watch_first", "consent")),
    ("oil low", "run_oil_holds"),
])  # fmt: skip
def test_who_says_so_later_is_asked_there_and_goes_on_when_it_is_so(fault: str, step: str):
    rack, talk = at(step, fault)
    talk.hear("i'm alone and nobody knows")
    assert talk.asked == "fit:fit_to_start"
    talk.hear("all good now")
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("step", FRONT)
@pytest.mark.parametrize(("said", "open_"), [
    ("i shut the king valve", "section_shut"), ("i already opened the panel", "panel_cover"),
    ("i closed the receiver inlet valve", "valve_closed.discharge"), ("i bypassed the oil switch an hour ago", "jumper_fitted"),
])  # fmt: skip
def test_what_was_opened_shut_or_bypassed_before_the_call_is_on_record_and_put_back_before_a_start(
    step: str, said: str, open_: str
):
    rack, talk = at(step)
    talk.hear(said)
    assert open_ in talk.open
    talk.until(rack, "start")
    assert open_ not in talk.open


@pytest.mark.parametrize("step", FRONT)
def test_a_friend_on_the_roof_at_the_fan_is_at_the_machine(step: str):
    _, talk = at(step)
    talk.hear("my buddy's on the roof at the fan")
    assert talk.readings["others_clear"] is False


def test_a_child_on_the_roof_is_not_clear():
    _, talk = at("clear")
    talk.hear("a kid's on the roof")
    assert talk.said.startswith("Then no start. Everybody clear first.")


@pytest.mark.parametrize("said", ["breaker tripped again on its own", "the breaker popped"])
def test_a_breaker_that_opened_by_itself_is_tested_before_anything_starts(said: str):
    rack, talk = at("food", "oil low")
    talk.hear(said)
    assert talk.said.startswith("What opened is not closed again before its circuit is tested and good.")
    talk.until(rack, "start")
    assert {"winding_ohms.ab", "ground_megohms"} <= set(talk.readings)


def test_a_breaker_named_when_all_was_ready_is_tested_before_anything_starts_too():
    rack, talk = at("valves", "oil low")
    talk.hear("the breaker tripped").until(rack, "start")
    assert {"winding_ohms.ab", "ground_megohms"} <= set(talk.readings)


def test_a_breaker_whose_circuit_cannot_be_tested_leaves_the_machine_off():
    rack, talk = at("valves", "oil low")
    talk.hear("the breaker tripped").until(rack, "windings").hear("skip this").to_the_seal(rack)
    assert "started" not in talk.dialogue.state.established()


@pytest.mark.parametrize("said", ["i shut the king valve", "breaker tripped again on its own", "i already opened the panel"])
def test_before_the_machine_is_named_it_is_asked_to_be_said_again(said: str):
    _, talk = at("where")
    talk.hear(said)
    assert talk.said.startswith("The machine first. Then say that again.")
