"""What is called good is not therefore shut, on, out, done, or all of it. Sentences of one who tried to break it."""

import pytest

from tests.language.test_said_at_steps import meant
from tests.test_said_not_safe import standing_at

FAULT = "injection_coil_failed"


@pytest.mark.parametrize(("step", "said", "reading"), [
    ("lock", "the disconnect's good", "locked_out"), ("lock", "the hasp's good", "locked_out"),
    ("meter_before", "the source is good", "meter_proved_before"), ("meter_after", "the source is good", "meter_proved_after"),
    ("unlock", "my lock's good", "lock_removed"), ("clear", "the tools are good", "others_clear"),
    ("clear", "fans are good", "others_clear"), ("valves", "valve's good", "service_valves_open"),
    ("covers", "panel cover's good", "covers_on"), ("lock", "no, nothing's unsafe, the disconnect's good", "locked_out"),
    ("output_fuse", "the coil's good", "module_output_fuse"),
])  # fmt: skip
def test_a_thing_that_is_good_is_asked_back_before_anything_counts(step: str, said: str, reading: str):
    talk = standing_at(FAULT, step).hear(said)
    assert reading not in talk.readings


@pytest.mark.parametrize(("step", "said"), [("contact_wire_back", "the wire's good"), ("reset", "the reset's good"),
                                            ("start", "it's good to start")])  # fmt: skip
def test_no_deed_is_done_by_it(step: str, said: str):
    assert standing_at(FAULT, step).hear(said).asked.startswith(step)


@pytest.mark.parametrize("step", ["fit", "food", "machine_look"])
@pytest.mark.parametrize("said", ["the ladder's good", "the panel's good", "no good, the fan", "no good, footing"])
def test_another_thing_or_the_contrary_is_not_all_of_it(step: str, said: str):
    talk = standing_at(FAULT, step)
    before = set(talk.readings)
    assert set(talk.hear(said).readings) == before


@pytest.mark.parametrize("said", [
    "fan's good for nothing", "fan's good for scrap", "valve's not so good", "all of it's good bar the probe",
    "coil's good as gone", "probe's not so good",
])  # fmt: skip
def test_anything_but_good_is_not_good(said: str):
    talk = standing_at(FAULT, "machine_look")
    before = set(talk.readings)
    assert set(talk.hear(said).readings) == before
    assert "Correct?" not in talk.said


def test_good_and_loose_is_loose_and_a_good_valve_that_is_closed_tells_of_the_valve():
    assert meant("machine_look", "coil's good and loose") == "coil_seated=loose"
    assert meant("machine_look", "the good valve is closed") == "injection_hand_valve=closed"


@pytest.mark.parametrize("said", [
    "discharge's good", "the motor's good", "low pressure's okay", "the oil's good, rest open", "not the discharge",
    "motor or discharge",
])  # fmt: skip
def test_a_contact_that_is_good_is_not_the_open_one(said: str):
    talk = standing_at(FAULT, "which_contact").hear(said)
    assert "chain_dead_check" not in talk.readings
    assert "Correct?" not in talk.said


@pytest.mark.parametrize("said", ["off on the other rack", "the other one is off"])
def test_how_another_one_stands_tells_nothing_of_this_one(said: str):
    assert "running_now" not in standing_at(FAULT, "state_now").hear(said).readings


@pytest.mark.parametrize("said", [
    "zero, breaker's open but no lock", "somebody opened the control breaker, zero", "he opened the control breaker, zero",
    "the control breaker is off, zero",
])  # fmt: skip
def test_a_control_breaker_that_anybody_opened_gets_his_lock(said: str):
    talk = standing_at(FAULT, "dead_control").hear(said)
    if talk.said.endswith("Correct?"):
        talk.hear("yes")
    assert talk.said.endswith("Lock that source out too, your own lock. Locked?")
    assert not talk.broken()


def test_a_lock_on_that_is_somebodys_stops_the_work():
    talk = standing_at(FAULT, "lock").hear("red lock is on, it's the electrician's")
    assert talk.said.startswith("Stop. Another person's lock")


@pytest.mark.parametrize("said", ["I'm down", "gloves on, I can't let go", "it threw me", "it knocked me on my back"])
def test_who_is_down_or_cannot_let_go_is_in_distress(said: str):
    assert standing_at(FAULT, "fit").hear(said).said.startswith("If it is an emergency, say emergency.")


@pytest.mark.parametrize(("step", "said", "reading"), [
    ("meter_before", "the source checks out", "meter_proved_before"), ("meter_before", "the outlet works", "meter_proved_before"),
    ("meter_before", "meter has been done", "meter_proved_before"),
    ("valves", "the valves have been done", "service_valves_open"),
    ("lock", "lock has been done", "locked_out"), ("output_fuse", "the spare is good", "module_output_fuse"),
    ("output_fuse", "control fuse checks out", "module_output_fuse"),
])  # fmt: skip
def test_nor_is_a_thing_that_works_passed_or_was_seen_to(step: str, said: str, reading: str):
    assert reading not in standing_at(FAULT, step).hear(said).readings


@pytest.mark.parametrize("said", [
    "motor checks out", "oil is as it should be", "nothing wrong with the discharge", "discharge passed", "low pressure is there",
    "no issues with the motor", "took care of the discharge", "discharge works",
])  # fmt: skip
def test_a_contact_that_is_in_order_is_not_the_open_one(said: str):
    assert "chain_dead_check" not in standing_at(FAULT, "which_contact").hear(said).readings


@pytest.mark.parametrize(("step", "said", "reading"), [
    ("watch_injection", "feeding, then it quit", "injection_feed"),
    ("watch_injection", "it was feeding, not now", "injection_feed"), ("glass", "it's full no longer", "sight_glass"),
    ("glass", "it was full, it isn't now", "sight_glass"), ("machine_look", "all good, then the fan quit", "head_fan_running"),
])  # fmt: skip
def test_what_was_and_is_no_more_is_not(step: str, said: str, reading: str):
    talk = standing_at(FAULT, step)
    before = talk.readings.get(reading)
    assert talk.hear(said).readings.get(reading) == before


@pytest.mark.parametrize("said", ["it'll be done", "it'd be done", "it'll be taken care of"])
def test_what_will_be_done_is_not_repaired(said: str):
    assert standing_at(FAULT, "repaired").hear(said).asked.startswith("repaired:")


def test_a_reset_that_has_been_done_twice_is_the_second_trip():
    assert standing_at(FAULT, "reset").hear("reset has been done already twice").said.startswith("Switch it off.")


@pytest.mark.parametrize("said", [
    "fifteen, two ten, it quit feeding", "fifteen and two ten but it's still dry", "fifteen, two ten, the new valve is stuck too",
    "fifteen, two ten, and the injection quit",
])  # fmt: skip
def test_a_repair_that_does_not_hold_is_not_lost_behind_the_numbers_of_a_round(said: str):
    assert "Is something not safe?" in standing_at("injection_valve_stuck_closed", "watch_first").hear(said).said
    assert standing_at("injection_valve_stuck_closed", "watch_first").hear("fifteen, two ten").asked.startswith("watch_second:")
