"""An assent to a caution with what is against it acknowledges nothing; a yes with another place in it is none."""

import pytest

from assistant.language.acknowledged import acknowledged_outright
from assistant.language.heeded import heeded
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("name", "said"), [
    ("coil", "understood, I never touch that stuff, my helper does it hot"), ("jumper", "okay, can't block it"),
    ("jumper", "understood, jumper's already in"), ("jumper", "okay, jumper stays in"),
    ("hot_line", "understood, very hot, I touch it every time"), ("hot_line", "okay, my sleeve's on the pipe"),
    ("proving", "understood, never tested the gloves"), ("live_place", "understood, I'm on aluminum"),
    ("live", "understood, one hand on the pipe"), ("live", "okay, never read the label"),
    ("live", "okay, clothing doesn't meet it"),
    ("live", "understood, both hands in there"), ("valves", "understood, both ends are shut"),
    ("restart", "okay, helper's got his hand on the fan"), ("restart", "understood, ladder's leaning on it"),
    ("reset", "understood, I'll reset until it holds"),
])  # fmt: skip
def test_an_assent_with_the_contrary_behind_it_is_none(name: str, said: str):
    assert not heeded(said, (name,))
    assert not acknowledged_outright(said)


@pytest.mark.parametrize(("name", "said"), [
    ("hot_line", "Understood, very hot, I do not touch"), ("hot_line", "understood, I won't touch it"),
    ("live", "understood, one hand in my pocket"), ("reset", "understood, one reset and that's it"),
    ("restart", "okay, my hands are clear of it"), ("valves", "okay, never both ends shut"),
])  # fmt: skip
def test_an_assent_with_the_caution_said_back_is_one(name: str, said: str):
    assert heeded(said, (name,)) or acknowledged_outright(said)


@pytest.mark.parametrize("yes", ["it is, over there", "yes I did, over there", "yes, on the other one", "yeah, in the van"])
def test_a_yes_of_another_place_is_asked_for_once_more(yes: str):
    talk = standing_at("injection_coil_failed", "lock").hear("locked over there", yes)
    assert "locked_out" not in talk.readings


@pytest.mark.parametrize("said", [
    "valve is open on the other one", "opened it a hair", "I'd say it's open now", "it's open on paper",
    "the oil valve is open now", "it's open about halfway now", "it's open now, the stem snapped",
])  # fmt: skip
def test_a_valve_that_is_not_wholly_open_here_repairs_nothing_at_once(said: str):
    assert standing_at("injection_hand_valve_closed", "repaired").hear(said).asked.startswith("repaired")


@pytest.mark.parametrize("said", ["reads fine on a dead circuit", "good on a dead outlet", "reads good on a known dead source"])
def test_a_meter_is_not_proved_on_what_is_dead(said: str):
    assert "meter_proved_before" not in standing_at("injection_coil_failed", "meter_before").hear(said).readings


def test_his_lock_that_he_took_off_is_another_persons():
    talk = standing_at("injection_coil_failed", "unlock").hear("took his lock off")
    assert "Another person's lock stays on" in talk.said
    assert "lock_removed" not in talk.readings


@pytest.mark.parametrize("said", ["open all except the discharge one", "all but the suction are open"])
def test_all_but_one_is_not_asked_back_as_all(said: str):
    assert "all safe?" not in standing_at("injection_coil_failed", "valves").hear(said).said
