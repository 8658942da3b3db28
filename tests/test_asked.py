"""Each id of the vocabulary is asked where its answer can change something, and only there."""

import re

import pytest

from assistant.call.facts import ReadingTaken
from assistant.call.procedure import own_procedure
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk


def _read(fault: str, words: dict[str, str] | None = None) -> tuple[Talk, dict[str, object]]:
    """A whole call, and what was read in it."""
    rack = BranchRack(fault, words or {}) if fault in FAULTS else Rack(fault, words or {})
    talk = Talk().to_the_seal(rack)
    return talk, {fact.id: fact.value for _, fact in talk.facts if isinstance(fact, ReadingTaken)}


def test_an_id_that_no_step_asks_for_is_named_with_its_reason():
    asked = {id_ for step in own_procedure().steps for id_ in step.ids}
    text = (data_folder("demo_audio").parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition("Ids of the vocabulary that no step asks for")[2].partition("## ")[0]
    told = {id_ for row in re.findall(r"^\| (`.+?) \|", table, re.M) for id_ in re.findall(r"`(\w+)`", row)}
    assert told == set(vocabulary()) - asked


def test_a_motor_that_burnt_asks_for_the_color_of_its_oil_and_dark_oil_for_the_moisture():
    talk, read = _read("winding grounded", {"oil_color": "dark", "ground_megohms": "point two"})
    assert read["oil_color"] == "dark"
    assert any("take it for acid" in said for said in talk.spoken)
    assert "oil_color" not in _read("line fuse open")[1]


def test_a_plugged_drier_asks_for_the_moisture_dot():
    talk, read = _read("drier_plugged", {"glass_moisture": "wet"})
    assert read["glass_moisture"] == "wet"
    assert any(said.startswith("Wet: a new drier") for said in talk.spoken)
    assert "glass_moisture" not in _read("refrigerant_low")[1]


def test_a_machine_left_for_want_of_a_part_says_which_part_to_bring():
    _, read = _read("module_no_output", {"repaired": "leave it locked", "part_to_order": "one injection module"})
    assert read["part_to_order"] == "one injection module"
    assert "part_to_order" not in _read("module_no_output")[1]


@pytest.mark.parametrize(("said", "left"), [("yes", True), ("no", False)])
def test_a_defrost_that_is_left_off_is_handed_over_by_name(said: str, left: bool):
    talk, _ = _read("defrost stuck", {"defrost_disabled": said})
    assert ("defrost_disabled" in talk.dialogue.state.handed_over) == left
    assert "defrost_disabled" not in _read("suction filter")[1]


@pytest.mark.parametrize(("said", "left"), [("yes", True), ("no", False)])
def test_loading_that_is_left_forced_is_handed_over_by_name(said: str, left: bool):
    talk, _ = _read("none", {"capacity_control": "unloaded", "loading_left": said})
    assert ("capacity_forced" in talk.dialogue.state.handed_over) == left


def test_food_that_was_lost_is_weighed_for_the_claim_and_food_that_holds_is_not():
    _, read = _read("injection_hand_valve_closed", {"product_state": "lost", "product_lost": "forty pounds"})
    assert read["product_lost"] == 40.0
    assert "product_lost" not in _read("injection_hand_valve_closed", {"product_state": "warming"})[1]


@pytest.mark.parametrize("said", ["a two", "rack a two", "tag a two", "it says a two"])
def test_a_tag_may_be_read_with_a_word_before_it(said: str):
    assert Talk().until(Rack("injection_coil_failed"), "tag").hear(said).asked == "lock:locked_out"


def test_who_is_not_heard_at_a_tag_is_told_the_word_that_is_heard_best():
    talk = Talk().until(Rack("injection_coil_failed"), "tag").hear("flibber").hear("flabber")
    assert "Say rack before it." in talk.said
