"""A word on record is put right with what it is not; "go back" behind what is no step to go back to asks its reading again."""

import pytest

from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize("said", [
    "no, wait, not discharge, it's the oil contact that's open", "the open contact was oil, not discharge",
    "sorry, it's not discharge, it's oil",
])  # fmt: skip
def test_the_contact_that_was_misheard_is_put_right(said: str):
    talk = standing_at("injection_coil_failed", "contact_wire_back").hear(said)
    assert talk.readings["chain_dead_check"] == "oil"
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "the open contact was oil, not low pressure", "not now, oil's all over my gloves", "not discharge", "it was not oil, was it?",
])  # fmt: skip
def test_what_does_not_name_what_stands_puts_nothing_right(said: str):
    talk = standing_at("injection_coil_failed", "contact_wire_back").hear(said)
    assert talk.readings["chain_dead_check"] == "discharge"


@pytest.mark.parametrize("said", [
    "the only one open is the discharge one, all the others beep", "the only open one is discharge, the rest ring through",
])  # fmt: skip
def test_the_only_one_is_not_the_first_one(said: str):
    assert standing_at("injection_coil_failed", "which_contact").hear(said).readings["chain_dead_check"] == "discharge"


def test_go_back_asks_the_reading_of_the_step_before_again():
    talk = standing_at("injection_coil_failed", "contact_wire_back").hear("go back")
    assert talk.said == "Which contact is open?"
    assert talk.hear("oil").readings["chain_dead_check"] == "oil"
    assert "Nothing before this" in standing_at("injection_coil_failed", "start").hear("go back").said
