"""What a reading put right, or told late, brings about where its place was passed. The project's own calls."""

from assistant.call.facts import Concluded, ReadingTaken
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk


def test_a_charge_that_turns_out_low_is_searched_for_before_anything_starts():
    rack = BranchRack("none at the low pressure", {"receiver_level": "twenty two", "sight_glass": "bubbles none"})
    talk = Talk().until(rack, "glass_again").hear("bubbles").until(rack, "valves").hear("correction receiver", "ten")
    assert talk.asked.startswith("leak_search")
    assert not talk.broken()


def test_a_leak_that_is_told_late_is_left_to_somebody():
    rack = BranchRack("none at the low pressure")
    talk = Talk().until(rack, "valves").hear("charge is low, i found a leak at the condenser flange")
    assert talk.readings["leak_found"] == "yes"
    talk.to_the_seal(rack)
    assert "leak_open" in {fact.id for _, fact in talk.facts if type(fact).__name__ == "ObligationHandedOver"}
    assert not talk.broken()


def test_the_circuit_of_a_breaker_that_is_found_open_late_is_tested_before_anything_starts():
    rack = BranchRack("oil low")
    talk = Talk().until(rack, "repaired").hear("my breaker tripped")
    assert talk.asked.startswith("starts")
    talk.until(rack, "insulation").until(rack, "start").to_the_seal(rack)
    assert talk.readings["ground_megohms"] == 200.0
    assert talk.dialogue.state.started_at is not None
    assert not talk.broken()


def test_a_part_that_was_misspoken_is_handed_to_nobody():
    talk = Talk().until(Rack("injection_coil_failed"), "parts").hear("temporary, none")
    assert talk.open == {"part_borrowed"}
    talk.hear("correction parts", "none")
    assert talk.open == set()
    assert not talk.broken()


def test_a_conclusion_is_drawn_anew_from_a_value_that_was_put_right():
    talk = Talk().until(Rack("injection_coil_failed"), "coil").hear("one ohm").hear("correction coil ohms", "open")
    drawn = [
        fact.value if isinstance(fact, ReadingTaken) else fact.standing for _, fact in talk.facts
        if (isinstance(fact, ReadingTaken) and fact.id == "injection_coil_ohms")
        or (isinstance(fact, Concluded) and fact.cause == "injection_coil_failed" and fact.standing == "proven")
    ]  # fmt: skip
    assert drawn == [1.0, "proven", "over_range", "proven"]  # a report tells what it rests on as it stood then


def test_none_left_in_says_nothing_of_refrigerant():
    talk = Talk().until(Rack("injection_coil_failed"), "parts").hear("nothing temporary left")
    assert talk.asked == "parts:refrigerant_added"


def test_no_temporary_parts_are_none():
    talk = Talk().until(Rack("injection_coil_failed"), "parts").hear("no temporary parts. refrigerant added, eighteen pounds")
    assert (talk.readings["part_left_in_use"], talk.readings["refrigerant_added"]) == ("none", 18.0)
    assert talk.open == set()


def test_who_has_mended_it_hears_why_it_stays_locked():
    rack = BranchRack("control fuse blown", {"starter_coil_ohms": "four"})
    talk = Talk().until(rack, "covers").hear("done")
    assert talk.said.startswith("What opened is not closed again before its circuit is tested and good.")
    assert talk.asked.startswith("leave_locked")
