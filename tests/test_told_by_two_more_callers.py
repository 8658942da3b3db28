"""What two more callers said in their own words, and what they asked. The project's own sentences."""

import pytest

from tests.branch_rack import BranchRack
from tests.talk import Talk
from tests.test_said_not_safe import standing_at


def at(fault: str, step: str, *said: str) -> Talk:
    return standing_at(fault, step).hear(*said)


@pytest.mark.parametrize("said", [
    "full, no cases in defrost", "the glass is nice and full, no bubbles at all, and i don't have any case in defrost right now",
    "full and none of the cases are in defrost",
])  # fmt: skip
def test_no_case_in_defrost_is_no_case_that_is_off(said: str):
    talk = at("injection_coil_failed", "glass", said)
    assert talk.readings["sight_glass"] == "full"
    assert talk.readings["defrost_state"] == "none"
    assert "case_load" not in talk.readings


@pytest.mark.parametrize("said", ["the cases are not off, they're all on and pulling load", "the cases are off"])
def test_the_cases_choose_no_way_of_checking(said: str):
    assert "Dead check" not in at("injection_coil_failed", "how_to_check", said).said


def test_the_one_that_is_meant_is_no_number_one():
    talk = Talk().hear("compressor three", "that's the one")
    assert talk.readings["compressor"] == "three"


def test_who_comes_tomorrow_stands_near_nothing_now():
    talk = at("winding grounded", "leave_locked", "that'll be the day shift fellow, he comes in at seven")
    assert talk.readings.get("others_clear") is not False
    assert talk.readings["follow_up_owner"] == "day shift"


@pytest.mark.parametrize(("fault", "step", "said", "id_", "value"), [
    ("injection_coil_failed", "rack_suction", "suction's fourteen, discharge one ninety, which is about normal for tonight",
     "rack_suction_pressure", 14.0),
    ("injection_coil_failed", "dead_control", "control's dead too, i get nothing but zero", "dead_volts.control", 0.0),
    ("injection_coil_failed", "dead_control", "on the control also zero", "dead_volts.control", 0.0),
    ("suction filter", "low_filter", "i'm reading nine pounds across that filter, and it ought to be one or two",
     "suction_filter_drop", 9.0),
    ("injection_coil_failed", "parts", "i didn't leave anything behind and i didn't add any refrigerant",
     "part_left_in_use", "none"),
    ("injection_coil_failed", "watch_second", "still twelve on the suction, and two hundred on the discharge line",
     "watch.discharge_temperature", 200.0),
    ("injection_coil_failed", "coil", "one wire is off and the meter shows open line, nothing",
     "injection_coil_ohms", "over_range"),
])  # fmt: skip
def test_a_reading_with_what_is_usual_or_why_behind_it(fault: str, step: str, said: str, id_: str, value: object):
    assert at(fault, step, said).readings[id_] == value


@pytest.mark.parametrize("said", ["yeah, fans are locked out, i metered it and it's dead", "locked and the meter says dead"])
def test_the_fans_are_locked_by_their_own_words(said: str):
    assert at("condenser fouled", "lock_fans", said).readings["fans_locked"] is True


def test_and_unlocked():
    talk = at("condenser fouled", "fans_back", "guards are back on, tools are out, and i took my lock off the fans")
    assert "fan_lock" not in talk.open


def test_an_agreement_may_be_friendly():
    talk = at("injection_coil_failed", "dead_control", "maybe point two")
    assert talk.asked.endswith(":confirm")
    assert talk.hear("that's right, dear").readings["dead_volts.control"] == 0.2


def test_who_asks_which_racks_there_are_is_told():
    assert Talk().hear("what racks have you got?").said.startswith("Racks A, B and C.")


def test_more_machines_than_the_rack_has_are_told_in_plain_words():
    talk = standing_at("suction filter", "state_now").hear("off, four running")
    assert "One off and four running cannot be: this rack has four. Both again." in " ".join(talk.spoken)
    assert talk.to_the_seal(BranchRack("suction filter")).broken() == ()


@pytest.mark.parametrize("said", [
    "the motor's fine but the discharge is open", "oil's good, motor's good, discharge is open",
    "high's good, low's good, it's the discharge",
])  # fmt: skip
def test_one_contact_is_open_beside_others_that_are_good(said: str):
    assert at("injection_coil_failed", "which_contact", said).readings["chain_dead_check"] == "discharge"


@pytest.mark.parametrize("said", ["the motor's good", "motor's fine but i haven't tried the others"])
def test_good_contacts_alone_say_of_none_that_it_is_open(said: str):
    assert "chain_dead_check" not in at("injection_coil_failed", "which_contact", said).readings


def test_what_is_two_hours_ago_is_no_date_of_a_hand_over():
    assert at("none", "hand_over", "two hours ago the supervisor").said.endswith("In how many hours?")


def test_the_day_man_is_the_day_shift():
    talk = at("none", "hand_over", "the day man'll take it, i reckon twelve hours")
    assert talk.readings["follow_up_owner"] == "day shift"
    assert talk.readings["follow_up_in_hours"] == 12.0


def test_a_temperature_on_the_pipe_in_a_round_is_no_discharge_pressure():
    said = "same eleven on the suction , two fourteen on the pipe , twenty six amps , bang on."
    talk = at("injection_coil_failed", "watch_last", said)
    assert talk.readings["watch.discharge_temperature"] == 214.0
    assert talk.readings.get("watch.discharge_pressure") in (None, 208.0)


@pytest.mark.parametrize("said", ["nought on every one", "naught on every one of the six", "zilch on all six"])
def test_nought_is_zero_wherever_it_stands(said: str):
    assert at("injection_coil_failed", "dead_power", said).readings["dead_volts.power"] == 0.0


def test_what_was_never_fitted_is_asked_back_as_that():
    talk = at("module_no_output", "jumper_out", "There was never one in, nothing to take out.")
    assert talk.said == "No jumper and no wire left in it?"


@pytest.mark.parametrize("said", [
    "it's wearing a jumper, poplar fluff an inch thick", "Got a jumper on. Proper bunged up with fluff.",
])  # fmt: skip
def test_what_a_dirty_face_wears_is_no_wire(said: str):
    talk = at("condenser fouled", "high_face", said)
    assert "jumper_fitted" not in talk.open
    assert talk.readings.get("condenser_face", "fouled") != "clean"


@pytest.mark.parametrize("said", [
    "it's locked, i put a second padlock through the control isolator", "locked, i've hung my other lock on the control as well",
])  # fmt: skip
def test_a_second_lock_of_one_s_own_is_nobody_else_s(said: str):
    assert not at("injection_coil_failed", "lock", said).dialogue.state.lock.others


def test_a_second_lock_that_another_hung_is():
    assert at("injection_coil_failed", "lock", "locked, and the boss put a second lock on it").dialogue.state.lock.others


def test_a_no_to_two_readings_asked_back_may_put_one_of_them_right():
    talk = at("injection_coil_failed", "watch_first", "ninety two fourteen")
    assert talk.said.endswith("Correct?")
    assert talk.hear("no, suction's nine").readings["watch.suction_pressure"] == 9.0


@pytest.mark.parametrize("said", ["zero, I knocked the control breaker off too", "zero, I've dropped its fuse out"])
def test_whatever_he_calls_it_what_he_opened_of_the_control_takes_his_lock_too(said: str):
    assert at("injection_coil_failed", "dead_control", said).hear("yes").asked.endswith("second_source_locked")


@pytest.mark.parametrize(("step", "said", "reading", "value"), [
    ("coil", "one leg's off and my meter just sits there, it's open circuit", "injection_coil_ohms", "over_range"),
    ("tag", "A two, flower", "panel_tag", "a two"),
])  # fmt: skip
def test_what_stands_among_other_words_is_found(step: str, said: str, reading: str, value: str):
    talk = at("injection_coil_failed", step, said)
    talk = talk.hear("yes") if talk.asked.endswith("confirm") else talk
    assert talk.readings[reading] == value


@pytest.mark.parametrize(("step", "said", "asked"), [
    ("meter_before", "No, it's good, it read the live socket a treat", "dead_power:dead_volts.power"),
    ("dead_power", "No it's zero volts", "dead_control:dead_volts.control"),
])  # fmt: skip
def test_an_answer_behind_a_no_to_the_question_of_safety_is_not_lost(step: str, said: str, asked: str):
    talk = at("injection_coil_failed", step, "yada bloop fizz whatever").hear(said)
    talk = talk.hear("yes") if talk.asked.endswith("confirm") else talk
    assert talk.asked == asked


def test_a_lock_that_never_came_off_is_on():
    assert at("injection_coil_failed", "dead_control", "My lock never came off, it's still there").dialogue.state.lock.locked


def test_a_probe_that_is_strapped_on_is_no_bypass():
    said = "clean as a whistle and strapped on like a corset"
    assert "jumper_fitted" not in at("injection_coil_failed", "machine_look", said).open


def test_a_second_padlock_on_the_fans_is_one_s_own():
    talk = at("condenser fouled", "lock_fans", "second padlock's on the fans and i've metered it, dead")
    assert not talk.dialogue.state.lock.others
