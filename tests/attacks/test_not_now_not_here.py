"""What is still to come, in the hand, on another thing or up to some thing only is not done; what is cold has not stopped."""

import pytest

from assistant.language.by_example import by_example
from assistant.language.meaning import Answer, Command
from assistant.language.pieces import understand_in_pieces
from tests.language.test_said_at_steps import question
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("fault", "step", "said", "still_open"), [
    ("injection_coil_failed", "contact_wire_back", "the wire goes back on", "wire_lifted"),
    ("injection_coil_failed", "contact_wire_back", "time to put it back", "wire_lifted"),
    ("injection_coil_failed", "contact_wire_back", "the wire's on its way back", "wire_lifted"),
    ("injection_coil_failed", "contact_wire_back", "I have the wire back here", "wire_lifted"),
    ("module_no_output", "jumper_out", "time to take it out", "jumper_fitted"),
    ("module_no_output", "jumper_out", "it's out, the probe is in my hand", "jumper_fitted"),
    ("module_no_output", "leads_off", "leads come off", "leads_on"),
    ("module_no_output", "unblock_start", "control goes back on", "start_blocked"),
    ("module_no_output", "unblock_start", "I have it back here", "start_blocked"),
    ("injection_coil_failed", "covers", "time to put it on", "panel_cover"),
])  # fmt: skip
def test_what_is_to_come_or_in_the_hand_clears_nothing(fault: str, step: str, said: str, still_open: str):
    talk = standing_at(fault, step)
    assert still_open in talk.open
    assert still_open in talk.hear(said).open


@pytest.mark.parametrize(("step", "said", "reading"), [
    ("block_start", "the rack's switch is off", "start_prevented"), ("block_start", "time to turn it off", "start_prevented"),
    ("fit_jumper", "time to put it in", "jumper_fitted"), ("clip_leads", "I have the leads on me", "leads_clipped"),
    ("clip_leads", "time to clip them on", "leads_clipped"), ("clothing", "fiberglass, it's wet", "ladder_kind"),
    ("clear", "just me up here and my helper", "others_clear"), ("clear", "just me up here, and my helper", "others_clear"),
    ("clear", "only me in here, the apprentice is by the fan", "others_clear"),
    ("power_off", "power's off on the rack", "control_power_off"), ("clear", "everybody clear but me", "others_clear"),
    ("feed_after", "nothing coming through, frost everywhere", "injection_after"),
    ("feed_after", "not feeding, still frosted", "injection_after"), ("feed_after", "it's stopped and cold", "injection_after"),
    ("feed_after", "it's dry but ice cold", "injection_after"),
])  # fmt: skip
def test_it_is_not_put_on_record(step: str, said: str, reading: str):
    talk = standing_at("module_no_output", step)
    assert reading not in talk.hear(said).readings


def test_a_line_that_stopped_and_warmed_has_stopped():
    for said in ("stopped, it's warming up", "it was cold, it's stopped and warm now"):
        assert standing_at("module_no_output", "feed_after").hear(said).readings["injection_after"] == "stopped"


@pytest.mark.parametrize("said", [
    "all good except the coil", "all good as far as the hand valve goes", "it's all good apart from frost on the injection line",
    "all good if you ignore the frost", "everything's good, bar the reset", "all good last time I was here",
    "the last guy said all good", "all good but nothing's dry", "all good once the frost melts",
    "nothing wrong, other than the fan",
])  # fmt: skip
def test_all_good_up_to_some_thing_or_at_another_time_is_not_all_good(said: str):
    talk = standing_at("injection_coil_failed", "machine_look").hear(said)
    assert not {"injection_as_found", "coil_seated", "head_fan_running"} <= set(talk.readings)
    assert "Correct?" not in talk.said


def test_an_order_said_back_is_no_deed():
    asked = question("open_hand_valve")
    assert not isinstance(understand_in_pieces(asked, "open the injection hand valve"), Command | Answer)
    assert not isinstance(by_example(asked, "open the injection hand valve"), Command | Answer)
    assert isinstance(understand_in_pieces(asked, "opened the injection hand valve"), Command)


@pytest.mark.parametrize(("fault", "step", "said", "reading", "value"), [
    ("injection_coil_failed", "glass", "nothing but bubbles", "defrost_state", None),
    ("injection_coil_failed", "glass", "no bubbles left because it's empty", "sight_glass", "empty"),
    ("injection_coil_failed", "glass", "no bubbles, nothing in it", "sight_glass", "empty"),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|it's not stopped", "head_fan_running", "yes"),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|runs backwards", "head_fan_running", None),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|no fan's stopped but this one's slow",
     "head_fan_running", None),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|yes|it's not shut, it is cracked",
     "injection_hand_valve", None),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|yes|open|nothing loose but the coil",
     "coil_seated", "loose"),
    ("injection_coil_failed", "machine_look", "line frosted|understood|intact|yes|open|coil isn't off", "coil_seated", "seated"),
    ("injection_coil_failed", "machine_look",
     "line frosted|understood|intact|yes|open|seated|that's wrong, the line is dry on compressor three",
     "injection_as_found", "feeding"),
    ("oil diluted", "repaired", "repaired|foaming|understood|on|understood|not off", "lock_still_on", "yes"),
    ("oil diluted", "repaired", "repaired|foaming|understood|on|understood|yes, on the bench", "lock_still_on", None),
    ("oil diluted", "repaired", "repaired|foaming|understood|on|understood|somebody hung one on top", "lock_still_on", None),
])  # fmt: skip
def test_it_says_just_that(fault: str, step: str, said: str, reading: str, value: str | None):
    talk = standing_at(fault, step)
    assert talk.hear(*said.split("|")).readings.get(reading) == value
    assert not talk.broken()


def test_oil_that_will_be_normal_once_it_is_warm_starts_nothing():
    talk = standing_at("oil diluted", "repaired").hear("repaired", "foaming", "understood", "on", "understood", "locked")
    talk.hear("understood", "all clear", "normal once it warms up, warm")
    assert talk.readings["oil_level"] == "foaming"
