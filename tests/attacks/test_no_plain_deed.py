"""What is to come, of another thing, there and back again, or told with somebody in the way is no deed that safety hangs on."""

import pytest

from tests.language.test_said_at_steps import meant
from tests.test_said_not_safe import standing_at

NOT_DONE = [
    ("injection_coil_failed", "lock", "locked the ladder"), ("injection_coil_failed", "lock", "padlocked the truck"),
    ("injection_coil_failed", "lock", "handle's locked on"), ("injection_coil_failed", "lock", "locked on"),
    ("injection_coil_failed", "lock", "to be locked"), ("injection_coil_failed", "meter_before", "to be good"),
    ("injection_coil_failed", "wire_back", "done, my hand's in"), ("injection_coil_failed", "wire_back", "to be done"),
    ("injection_coil_failed", "wire_back", "wire's back, somebody's on the ladder"),
    ("injection_coil_failed", "covers", "on it"), ("injection_coil_failed", "covers", "on my way"),
    ("injection_coil_failed", "clear", "all clear, somebody's on the ladder"),
    ("injection_coil_failed", "clear", "yes, somebody's here"), ("injection_coil_failed", "clear", "to be clear"),
    ("injection_coil_failed", "unlock", "took it off and on"), ("injection_coil_failed", "unlock", "off, somebody's here"),
    ("injection_coil_failed", "unlock", "off my way"),
    ("module_no_output", "power_on", "on my way"), ("module_no_output", "power_on", "power on, somebody's on the ladder"),
    ("module_no_output", "clip_leads", "on my way"), ("module_no_output", "jumper_out", "on my way out"),
    ("module_no_output", "unblock_start", "done, it started"), ("injection_coil_failed", "covers", "hung on"),
    ("injection_coil_failed", "meter_before", "proved dead"), ("injection_coil_failed", "wire_back", "done for today"),
    ("injection_coil_failed", "repaired", "leave it running"), ("injection_coil_failed", "repaired", "leave it unlocked"),
    ("injection_coil_failed", "start", "it's running away"), ("module_no_output", "clothing", "does it"),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "step", "said"), NOT_DONE)
def test_it_does_not_count(fault: str, step: str, said: str):
    talk = standing_at(fault, step)
    assert talk.asked.startswith(step)
    readings, open_ = dict(talk.readings), set(talk.open)
    talk.hear(said)
    counted = {id_ for id_ in talk.readings if id_ not in readings and talk.readings[id_] is True}
    assert counted == set()
    assert not open_ - talk.open - {"panel_cover"} or step == "unblock_start"
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "my lock's on it"), ("lock", "locked the disconnect"), ("clear", "nobody's here but me"), ("covers", "on"),
])  # fmt: skip
def test_what_is_plainly_so_still_counts(step: str, said: str):
    talk = standing_at("injection_coil_failed", step)
    before = talk.asked
    assert talk.hear(said).asked != before


def test_power_that_is_off_counts_whoever_stands_there():
    talk = standing_at("module_no_output", "power_off").hear("power off, somebody's on the ladder")
    assert not talk.dialogue.state.feed.window


@pytest.mark.parametrize(("step", "said", "means"), [
    ("feed", "dry, no it's feeding", "injection_feed=feeding"),
    ("feed_after", "warmed, no, it's frosting", "injection_after=feeding"),
])  # fmt: skip
def test_what_stands_behind_a_no_is_what_he_sees(step: str, said: str, means: str):
    assert meant(step, said) == means
