"""What people said in whole calls, and was not taken, or taken for another thing."""

import pytest

from assistant.language.heeded import heeded
from assistant.language.spoilt import spoilt
from tests.language.test_said_at_steps import meant, question
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("module_no_output", "power_on", "Everybody's back and the power's on now."),
    ("module_no_output", "power_off", "Okay, power's off and my lock is back on."),
    ("module_no_output", "fit_jumper", "Jumper's still in."), ("module_no_output", "clip_leads", "Leads are still on."),
    ("module_no_output", "block_start", "The compressor's own switch is in the off position."),
    ("injection_coil_failed", "coil", "One wire's off and the coil reads four hundred and twelve."),
    ("injection_coil_failed", "dead_power", "Cover's off, nothing on any of the six."),
    ("injection_coil_failed", "dead_power", "Cover's off, and I get zero volts on all six of them"),
    ("injection_coil_failed", "dead_control", "zero on all, worst point two"),
    ("injection_coil_failed", "dead_control", "Zero on control too, every which way"),
    ("injection_coil_failed", "parts", "Ain't nothing borrowed and I didn't add none"),
    ("injection_coil_failed", "parts", "Nothing's borrowed, the module is new, and I didn't add any refrigerant."),
])  # fmt: skip
def test_it_goes_on(fault: str, step: str, said: str):
    talk = standing_at(fault, step)
    talk.hear(said)
    assert not talk.asked.startswith(step)
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said", "means"), [
    ("state_now", "ours is off, the other three are running", "running_now=off; running_count=3"),
    ("which_contact", "five is the only one that's open, the others all beep", "chain_dead_check=discharge"),
    ("high_fans_called", "controller's calling all six, only four turning", "condenser_fans_called=6"),
    ("food_temperature", "warmest one i've got is about eighteen degrees", "product_temperature=18"),
    ("feed", "the line's dry, i've got zero volts, and there wasn't any click",
     "injection_coil_volts=0; injection_feed=dry; valve_click=silent"),
])  # fmt: skip
def test_it_means(step: str, said: str, means: str):
    assert set(meant(step, said).split("; ")) == set(means.split("; "))


@pytest.mark.parametrize(("names", "said"), [
    (("room",), "Green light's on, nothing sounding, fan's running."), (("restart",), "I hear ya."),
    (("room",), "Okay, the detector light's green, it's not beeping, and the exhaust fan is on."),
    (("restart",), "I know she can kick off on her own."),
])  # fmt: skip
def test_a_caution_is_acknowledged(names: tuple[str, ...], said: str):
    assert heeded(said, names)


def test_a_ladder_that_is_tied_off_is_no_bypass():
    assert spoilt(question("high_fans"), "ladder's tied off no ice") == ""
    assert spoilt(question("reset"), "reset it's tied off") == "bypassed"


def test_a_wire_that_is_taped_up_is_asked_about_and_bridges_nothing():
    talk = standing_at("module_no_output", "repaired").hear("found a wire rubbed through and taped it up, and put a new fuse in")
    assert "Is something not safe?" in talk.said
    assert "jumper_fitted" not in talk.open
    assert "jumper_fitted" in standing_at("module_no_output", "repaired").hear("repaired, i taped the contact in").open


def test_where_there_is_no_jumper_none_is_taken_out():
    talk = standing_at("injection_coil_failed", "covers").hear("i jumpered it out")
    assert "jumper_fitted" in talk.open
    talk.hear("There's no jumper. I never put one in.")
    assert talk.said == "No jumper and no wire left in it?"
    assert "jumper_fitted" not in talk.hear("yes").open


def test_a_repair_in_its_story_is_asked_back():
    talk = standing_at("module_no_output", "repaired").hear("Its relay stuck half way, I swapped it, the whole bank turns now.")
    assert "Repaired?" in talk.said
