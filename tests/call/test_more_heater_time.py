"""Liquid that does not boil out at once: the heater gets more time and the machine is looked at once more, or it stays locked.

That oil foams and levels rise while refrigerant boils out of it, and that a heater needs hours for that, is common practice.
"""

import pytest

from tests.talk import Talk
from tests.test_said_not_safe import standing_at

ANEW = ("understood", "locked", "understood", "all clear")
"""What is asked anew after so long a wait, before the question that was waited for."""


def heated(look: str) -> Talk:
    """The oil was diluted, foams after the repair, and was looked at after half an hour of heat."""
    return standing_at("oil diluted", "repaired").hear("repaired", "foaming", "understood", "on", *ANEW, look, "fourteen, fifty")


def test_oil_that_foams_after_its_repair_has_liquid_in_it():
    talk = standing_at("oil diluted", "repaired").hear("repaired", "foaming")
    assert "liquid_in_compressor" in talk.open
    assert "Liquid inside. Do not start" in talk.said
    assert "liquid_in_compressor" not in standing_at("oil diluted", "repaired").hear("repaired", "normal").open


@pytest.mark.parametrize(("said", "step"), [
    ("more time", "liquid_oil_again"), ("give it another hour", "liquid_oil_again"),
    ("leave the heater on and we'll look again in thirty minutes", "liquid_oil_again"),
    ("leave it locked", "covers"), ("nah, let the morning guys deal with it", "covers"),
])  # fmt: skip
def test_it_is_heated_longer_or_left_locked(said: str, step: str):
    talk = heated("foaming, cold")
    assert talk.said.endswith("Still liquid in it. More heater time, or leave it locked?")
    talk.hear(said)
    assert (talk.hear(*ANEW) if step == "liquid_oil_again" else talk).asked.startswith(step)


def test_it_may_run_once_the_second_look_finds_it_dry():
    talk = heated("foaming, cold").hear("more time", *ANEW, "normal, warm", "fourteen, ninety five")
    assert "liquid_in_compressor" not in talk.open
    assert talk.asked.startswith("oil_gauges")  # the glass was read a minute ago
    assert talk.hear("understood", "gauges on").asked.startswith("valves")
    assert not talk.broken()


@pytest.mark.parametrize("second", ["foaming, warm", "normal, cold", "normal, frosted"])
def test_what_is_still_wet_at_the_second_look_stays_locked(second: str):
    talk = heated("foaming, cold").hear("more time", *ANEW, second, "fourteen, fifty")
    assert "liquid_in_compressor" in talk.open
    while not talk.asked.startswith("leave_locked"):
        was = talk.asked
        talk.hear("foaming" if talk.asked.startswith("oil_glass") else "done")
        assert talk.asked != was
    assert not talk.broken()


def test_nothing_is_asked_twice_of_a_machine_that_is_dry_at_the_first_look():
    talk = standing_at("oil diluted", "repaired").hear("repaired", "foaming", "understood", "on", *ANEW)
    talk.hear("normal, warm", "fourteen, ninety five")
    assert "liquid_in_compressor" not in talk.open
    assert not talk.asked.startswith("liquid_longer")


def test_what_was_measured_before_the_second_wait_clears_nothing():
    talk = heated("foaming, cold").hear("more time", *ANEW, "normal, warm")
    assert "liquid_in_compressor" in talk.open
    assert talk.asked.startswith("liquid_crankcase_again")


def test_lock_and_people_are_asked_anew_before_the_question_that_was_waited_for():
    talk = standing_at("oil diluted", "repaired").hear("repaired", "foaming", "understood", "on")
    assert talk.asked.startswith("anew_lock")
    assert talk.hear(*ANEW).asked.startswith("liquid_oil:")
