"""Sentences that gave an answer and took it back in the same breath, as an attacker found them. The project's own words."""

import pytest

from tests.test_said_not_safe import standing_at

COIL = "injection_coil_failed"
NOT_SO = [
    (COIL, "tag", "supposed to be a two", "panel_tag"), (COIL, "tag", "it should be a two", "panel_tag"),
    (COIL, "lock", "locked out with the controller", "locked_out"), (COIL, "lock", "lock is on and it was mine", "locked_out"),
    *((COIL, "dead_power", said, "dead_volts.power") for said in (
        "zero, it went up again", "zero, it went up", "zero, it came back", "two, it went up", "one, jumping to twenty",
    )),
    *(("condenser fouled", "lock_fans", said, "fans_locked") for said in (
        "locked out with the controller", "locked, one's dead", "locked both, one's dead", "locked and it was dead",
    )),
    *((COIL, "clear", said, "others_clear") for said in (
        "everybody clear, tools in", "tools in, everybody clear", "everybody clear, tools in, fans clear",
        "everybody in, tools out, fans clear", "everybody clear, tools out, fans in",
    )),
    *((COIL, "fit", said, "fit_to_start") for said in (
        "footing's icy, glasses on, gloves on, dispatch knows", "footing good, one glove on, glasses on, wife knows",
        "footing, hands, wife knows, glasses are all scratched up",
    )),
    (COIL, "covers", "covers in, all on", "covers_on"),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "step", "said", "id_"), NOT_SO, ids=[f"{step} {said}" for _, step, said, _ in NOT_SO])
def test_it_is_asked_about_and_not_taken(fault: str, step: str, said: str, id_: str):
    talk = standing_at(fault, step).hear(said)
    assert id_ not in talk.readings
    assert talk.said.startswith(("Not understood. Is something not safe?", "Locked out, and all safe?"))


@pytest.mark.parametrize("said", [
    "tools in, guards on, unlocked", "guards on, hands out, tools in, unlocked", "guards on, tools in the fan, unlocked",
    "hands in, guards on, unlocked", "guards out, hands out, tools out, unlocked",
])  # fmt: skip
def test_nobody_unlocks_fans_with_something_in_them(said: str):
    assert "fan_lock" in standing_at("condenser fouled", "fans_back").hear(said).open


def test_tools_in_their_bag_are_out():
    assert standing_at(COIL, "clear").hear("everybody clear, tools are in the bag").readings["others_clear"] is True


@pytest.mark.parametrize("said", ["it's full now", "full now", "full, now and then a bubble", "full, but now it's flashing"])
def test_now_of_the_glass_is_no_defrost(said: str):
    assert "defrost_state" not in standing_at(COIL, "glass").hear(said).readings


@pytest.mark.parametrize("said", ["clear, no, milky", "clear, no now it's bubbling"])
def test_a_no_of_the_glass_is_none_either(said: str):
    talk = standing_at(COIL, "glass").hear(said)
    assert "defrost_state" not in talk.readings
    assert talk.readings.get("sight_glass") in (None, "bubbles")


@pytest.mark.parametrize(("said", "defrost"), [
    ("full, now", "now"), ("full and now", "now"), ("full, no", "none"), ("full no", "none"),
])  # fmt: skip
def test_both_answers_in_turn_are_taken(said: str, defrost: str):
    assert standing_at(COIL, "glass").hear(said).readings["defrost_state"] == defrost


@pytest.mark.parametrize(("said", "face"), [
    ("it was fouled, it's clean now", "clean"), ("it was clean, it's fouled now", "fouled"),
])  # fmt: skip
def test_how_it_was_is_not_how_it_is(said: str, face: str):
    assert standing_at("condenser fouled", "high_face").hear(said).readings["condenser_face"] == face


@pytest.mark.parametrize("said", ["twelve, supposed to be ten", "supposed to be ten, it's twelve"])
def test_what_suction_is_supposed_to_be_is_no_discharge(said: str):
    talk = standing_at(COIL, "rack_suction").hear(said)
    assert talk.readings["rack_suction_pressure"] == 12.0
    assert talk.asked.endswith(":rack_discharge_pressure")
