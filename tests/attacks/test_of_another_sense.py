"""Words of an answer in another sense: partly so, of another thing, of before, with a danger beside them."""

import pytest

from assistant.language.heeded import heeded
from tests.language.test_said_at_steps import meant
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize("said", ["one's unplugged", "it was unplugged", "unplugged the phone"])
def test_what_was_unplugged_is_asked_back(said: str):
    talk = standing_at("winding grounded", "modules_off").hear(said)
    assert talk.said.endswith("Unplugged?")


@pytest.mark.parametrize(("fault", "step", "said", "reading"), [
    ("module_no_output", "feed_after", "stopped warming", "injection_after"),
    ("module_no_output", "feed_after", "stopped and started", "injection_after"),
    ("module_no_output", "feed_after", "stopped a bit", "injection_after"),
    ("module_no_output", "feed_after", "warm on one side, cold past the valve", "injection_after"),
    ("refrigerant_low", "cylinder", "read the cylinder, it's the other one", "cylinder_checked"),
    ("refrigerant_low", "label", "r twenty two on the cylinder", "refrigerant_label"),
    ("refrigerant_low", "leak_section", "empty upstream, full downstream", "section_emptied"),
])  # fmt: skip
def test_it_is_no_answer(fault: str, step: str, said: str, reading: str):
    talk = standing_at(fault, step)
    assert talk.asked.split(":")[0] == step
    assert reading not in talk.hear(said).readings


def test_a_feed_that_quit_is_dry():
    assert "injection_feed=dry" in meant("feed", "it quit feeding")


def test_a_burn_told_with_a_look_is_no_look_alone():
    talk = standing_at("still hot", "motor_shell").hear("I touched it and got burned")
    assert "emergency" in talk.said


@pytest.mark.parametrize(("name", "said"), [
    ("jumper", "okay, no jumper, I use a wire"), ("jumper", "understood, I'm skipping the block"),
    ("live_place", "okay, I'm alone up here and standing on the pipe"), ("live_place", "understood, ladder's not tied"),
    ("live", "okay, kid's standing behind me"), ("reset", "understood, second one today"), ("reset", "okay, I'll hold it in"),
    ("valves", "understood, liquid's shut in already"), ("brazing", "understood, charge is still in it"),
])  # fmt: skip
def test_an_assent_with_its_contrary_is_none(name: str, said: str):
    assert not heeded(said.lower(), (name,))


def test_who_knows_after_all_has_not_said_that_nobody_knows():
    assert meant("motor_shell", "I don't know, it's hot I guess") != "command skip"
