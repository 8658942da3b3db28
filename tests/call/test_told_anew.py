"""What is on record is put right in passing, in people's own words: it is asked back in place of the other."""

import pytest

from tests.talk import Talk
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("step", "said", "asked"), [
    ("coil", "the probe was dirty actually", "Instead of clean: Fouled."),
    ("coil", "actually the head fan isn't running", "Instead of yes: Head fan stopped."),
    ("coil", "the probe's fouled, not clean", "Instead of clean: Fouled."),
    ("glass", "sorry, there's two of them tripped", "Instead of one: Two tripped."),
    ("glass", "you got that wrong, the head is two twenty", "Instead of two ten: Two twenty."),
])  # fmt: skip
def test_a_reading_told_otherwise_is_asked_back_in_place_of_the_other(step: str, said: str, asked: str):
    talk = standing_at("injection_coil_failed", step)
    before = dict(talk.readings)
    talk.hear(said)
    assert talk.said.startswith(asked)
    assert talk.readings == before
    assert talk.hear("yes").readings != before
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "No, hold on, the detector is quiet, there's no alarm.", "You got that wrong, the detector is quiet. It's not in alarm.",
    "detector is quiet",
])  # fmt: skip
def test_a_detector_that_was_heard_in_alarm_is_asked_for_anew_before_anybody_goes_in(said: str):
    talk = Talk().hear("a two", "detector's in alarm", said)
    assert talk.said.startswith("Detector: quiet, alarm, dead or none?")
    assert talk.readings["detector_state"] == "alarm"
    talk.hear("quiet")
    assert talk.readings["detector_state"] == "quiet"
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "the green light's on the detector, no beeping",
    "Okay, the green light's on the detector, no beeping, and the exhaust fan is going, air's twenty point nine.",
])  # fmt: skip
def test_a_detector_with_no_beeping_is_in_no_alarm(said: str):
    talk = Talk().hear("a two", said)
    assert "Stay out" not in talk.said
    assert talk.asked.startswith("fit")


@pytest.mark.parametrize("said", ["the detector is beeping", "detector just went off", "there's no quiet, the detector's going"])
def test_one_that_beeps_is(said: str):
    assert "Stay out" in Talk().hear("a two", said).said
