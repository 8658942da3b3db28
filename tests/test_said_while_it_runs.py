"""What is said of a machine as it starts or while it runs, of its room, and of what was opened for its repair."""

import pytest

from assistant.call.facts import ReadingTaken
from tests.talk import Talk
from tests.test_said_of_the_work import at


def at_the_room() -> Talk:
    """At the caution of the room."""
    talk = Talk()
    while "room" not in talk.dialogue.cautioned:
        talk.hear("rack a compressor two")
    return talk


# ---- smoke, fire, a burst


@pytest.mark.parametrize("said", ["there's smoke coming off it", "something's burning", "it smells hot", "a burning smell here",
                                  "the contactor is glowing", "the wire's melting", "that went bang", "sight glass broke",
                                  "oil's all over the floor", "it's leaking oil bad"])  # fmt: skip
def test_a_machine_that_smokes_burns_or_bursts_is_stopped_before_anything_else_is_asked(said: str):
    rack, talk = at("injection_coil_failed", "watch_second")
    talk.hear(said)
    assert "If it is an emergency, say emergency." in talk.said
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert "Stopped, locked and left off" in " ".join(talk.spoken[-4:])
    assert not talk.broken()


@pytest.mark.parametrize("said", ["started, smoke", "it started but something's burning"])
def test_a_machine_that_started_and_smokes_is_on_record_as_started_and_stopped(said: str):
    rack, talk = at("injection_coil_failed", "start")
    talk.hear(said)
    assert talk.dialogue.state.started_at is not None
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert "Stopped, locked and left off" in " ".join(talk.spoken[-4:])


def test_smoke_at_the_start_is_no_start():
    rack, talk = at("injection_coil_failed", "start")
    talk.hear("there's smoke")
    assert "Switch it off. No second try" in talk.said
    talk.to_the_seal(rack)
    assert "It did not stay on, locked and left off" in " ".join(talk.spoken[-4:])


def test_a_yes_to_is_something_not_safe_stops_the_machine_that_runs():
    _, talk = at("injection_coil_failed", "watch_second")
    talk.hear("i hear a funny hiss over there")
    assert "Is something not safe?" in talk.said
    talk.hear("yes")
    assert talk.asked.startswith("stop_now")


def test_a_burned_hand_stops_no_machine_and_gets_the_word_for_an_emergency():
    _, talk = at("injection_coil_failed", "watch_second")
    talk.hear("i burned my hand")
    assert "say emergency" in talk.said
    assert talk.asked.startswith("watch_second")


# ---- the room's caution


@pytest.mark.parametrize(("said", "answer"), [
    ("noted but the fan's off", "No fan, no entry"), ("fan's off", "No fan, no entry"),
    ("okay, fan isn't running", "No fan, no entry"), ("no fan in here", "No fan, no entry"),
    ("detector's dark", "Stay out"), ("got it, detector's flashing", "Stay out"),
])  # fmt: skip
def test_what_the_room_lacks_is_heard_at_its_caution(said: str, answer: str):
    assert answer in at_the_room().hear(said).said


@pytest.mark.parametrize("said", ["understood", "detector's green, fan's humming"])
def test_a_room_that_is_as_its_caution_asks_is_gone_into(said: str):
    assert at_the_room().hear(said).asked.startswith("fit")


# ---- what was opened is proved tight


def test_a_drier_that_was_changed_is_tested_with_nitrogen_and_pulled_down_before_its_valves_open():
    _, talk = at("drier_plugged", "repaired")
    talk.hear("repaired")
    assert "Nitrogen, regulator, relief. Never oxygen." in talk.said or "Never oxygen or compressed air" in talk.said
    talk.hear("understood")
    assert talk.asked == "tight:command"
    talk.hear("it held")
    assert talk.asked.startswith("open_section_again")
    assert not talk.broken()


def test_what_is_not_tight_stays_shut_and_locked():
    rack, talk = at("drier_plugged", "tight")
    talk.hear("it leaks")
    assert talk.asked.startswith("leave_locked")
    assert "section_shut" in talk.open
    talk.to_the_seal(rack)
    assert "Left locked off" in " ".join(talk.spoken[-4:])
    assert not talk.broken()


def test_a_coil_that_was_changed_opens_no_circuit_and_asks_for_no_test():
    rack, talk = at("injection_coil_failed", "repaired")
    talk.to_the_seal(rack)
    assert "Tight" not in " ".join(talk.spoken)


# ---- how it is left


def test_gas_that_was_added_is_not_left_as_found():
    rack, talk = at("refrigerant_low", "charge")
    talk.hear("forty pounds", "finish", "yes").to_the_seal(rack)
    told = " ".join(talk.spoken[-6:])
    assert "Not started." in told
    assert "as found" not in told
    assert "as it was found" not in told


def test_a_shut_section_that_is_left_keeps_the_machine_off_and_the_store_hears_so():
    rack, talk = at("refrigerant_low", "leak_mend")
    talk.hear("finish", "yes").to_the_seal(rack)
    assert "Tell the store: this machine stays off" in " ".join(talk.spoken)
    assert "Left locked off" in " ".join(talk.spoken[-4:])


@pytest.mark.parametrize("said", ["told the cleaner", "i told my wife", "told the delivery driver"])
def test_somebody_who_is_not_of_the_store_is_not_the_store(said: str):
    rack, talk = at("injection_coil_failed", "repaired")
    talk.hear("leave it locked").until(rack, "tell_store").hear(said)
    assert talk.asked.startswith("tell_store")


def test_nobody_takes_over_in_no_time():
    rack, talk = at("refrigerant_low", "leak_mend")
    talk.hear("finish", "yes").until(rack, "hand_over").hear("supervisor, zero hours")
    assert "follow_up_in_hours" not in talk.readings


def test_a_repair_with_the_power_on_is_none():
    _, talk = at("drier_plugged", "repair_or_leave")
    talk.hear("repair it live")
    assert "Repair now" not in talk.said


def test_a_pause_after_a_machine_was_left_in_auto_asks_for_no_lock():
    _, talk = at("satisfied", "tell_store")
    assert talk.dialogue.state.has("left_in_auto")
    talk.hear("hold on", after_s=4).wait(3000).hear("continue")
    for _ in range(4):
        assert "Is your lock still on?" not in talk.said
        talk.hear("yes")


def test_a_heater_that_was_off_meanwhile_has_its_time_anew_before_liquid_is_taken_for_gone():
    talk = Talk()
    state = talk.dialogue.state
    state.waited.add("liquid_oil")
    take = ReadingTaken("crankcase_heater", "off", None, "liquid_heater", "off", "volunteered")
    state.apply(take, talk.now)
    assert "liquid_oil" not in state.waited


@pytest.mark.parametrize(
    "said", ["it's compressor three, line's at two ninety and it's running", "compressor three is at ten and two ten"]
)
def test_another_machines_readings_are_none_of_this_ones(said: str):
    _, talk = at("none", "watch_second")
    talk.hear(said)
    assert talk.asked.startswith("watch_second")
    taken = {fact.id for _, fact in talk.facts if isinstance(fact, ReadingTaken) and fact.said == said}
    assert not taken


def test_its_own_name_beside_readings_changes_nothing():
    _, talk = at("none", "watch_second")
    talk.hear("compressor two's at ten and two ten")
    assert talk.readings["watch.suction_pressure"] == 10.0
    assert talk.readings["watch.discharge_temperature"] == 210.0


def test_after_a_second_trip_the_lock_comes_before_any_valve():
    rack, talk = at("none", "open_suction")
    assert "valve_closed.suction" in talk.open
    talk.hear("it tripped again")
    assert talk.asked.startswith("tag")
    talk.to_the_seal(rack)
    assert "It tripped again, locked and left off" in " ".join(talk.spoken[-4:])
    assert not talk.broken()
