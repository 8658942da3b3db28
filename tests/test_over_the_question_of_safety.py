"""What is said to "is something not safe?" beside a yes or a no, and what is asked or put right at a question by itself."""

import pytest

from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("step", "said", "asked"), [
    ("lock", "no, locked", "meter_before"), ("lock", "no locked", "lock:locked_out"), ("reset", "no. reset.", "reset:command"),
    ("start", "no. is running", "start:command"),
])  # fmt: skip
def test_a_no_with_the_answer_behind_it_is_a_no_and_an_answer_where_nothing_will_run(step: str, said: str, asked: str):
    talk = standing_at("injection_coil_failed", step).hear("yada bloop fizz whatever", said)
    assert talk.asked.startswith(asked)


@pytest.mark.parametrize(("step", "said", "asked"), [
    ("unlock", "no, lock's off", "reset/reset:command"),
    ("unlock", "no, nothing's wrong, the lock's been taken off", "reset/reset:command"),
    ("reset", "no, it's reset", "start:command"), ("reset", "no, not reset", "reset:command"),
    ("unlock", "no, it's not off", "unlock:lock_removed"), ("unlock", "no, it's still on", "unlock:lock_removed"),
    ("covers", "no, it's all just taking a while", "covers:covers_on"),
    ("dead_power", "No, power's zero on all six.", "dead_control:dead_volts.control"),
    ("fit", "No sir, it's all safe. I'm good to go.", "fit:detector_state"),
    ("tag", "No sir. It says A two.", "lock:locked_out"),
    ("covers", "no, somebody's inside", ":confirm"),
])  # fmt: skip
def test_a_no_that_stands_apart_is_one_and_its_answer_counts_but_where_it_denies(step: str, said: str, asked: str):
    talk = standing_at("injection_coil_failed", step).hear("yada bloop fizz whatever", said)
    assert talk.asked == asked


@pytest.mark.parametrize(("said", "told"), [
    ("which number is the discharge one?", "Discharge: five."), ("which number is oil?", "Oil: one."),
])  # fmt: skip
def test_who_asks_at_the_contacts_which_number_is_which_is_told(said: str, told: str):
    assert standing_at("injection_coil_failed", "which_contact").hear(said).said.startswith(told)


@pytest.mark.parametrize("said", ["wait. i was a decimal out. it is seventy six point five k.", "no, that's wrong"])
def test_a_slip_that_is_told_as_one_has_the_reading_asked_for_again(said: str):
    assert standing_at("probe_fouled", "probe_direct").hear(said).asked.endswith("probe_ohms.module_end")


def test_a_correction_by_the_full_name_of_a_reading_corrects_that_one():
    talk = standing_at("probe_fouled", "probe_direct")
    talk.hear("correction, probe ohms at the module end. seventy six thousand five hundred")
    assert "probe_ohms" not in talk.readings
    assert talk.readings["probe_ohms.module_end"] == 76500


@pytest.mark.parametrize(("said", "closes"), [
    ("affirmative, close", True), ("aye, spot on", True), ("yes, finish it", True), ("no, keep going", False),
    ("no, that's the one i skipped", False),
])  # fmt: skip
def test_a_yes_or_a_no_to_a_command_may_say_once_more_to_what(said: str, closes: bool):
    talk = standing_at("injection_coil_failed", "watch_second").hear("finish job", said)
    assert talk.dialogue.state.finishing is closes


@pytest.mark.parametrize("said", ["kind of maybe there's a bit of oil there", "no, keep going"])
@pytest.mark.parametrize("before", ["finish job", "yada bloop fizz whatever"])
def test_whatever_is_said_to_a_yes_or_a_no_leads_on(before: str, said: str):
    talk = standing_at("condenser fouled", "covers").hear(before, said)
    assert talk.asked


@pytest.mark.parametrize("said", ["correction, open contact, two", "no no, wrong, two is open, the high pressure", "wrong, two"])
def test_a_contact_put_right_by_its_number_is_asked_for_and_is_not_more_than_one(said: str):
    talk = standing_at("condenser fouled", "contact_wire_back").hear(said)
    assert talk.asked == "contact_wire_back:chain_dead_check"
    assert talk.hear("two, of the high pressure").readings["chain_dead_check"] == "high pressure"


def test_a_command_counts_behind_a_reason_and_is_asked_for_as_always():
    talk = standing_at("injection_coil_failed", "watch_second").hear("well i ain't sitting here half an hour, finish job")
    assert talk.said == "Make safe and close the call?"
    assert not talk.dialogue.state.finishing


def test_go_back_where_nothing_can_be_taken_back_says_so_at_once_and_wants_no_yes():
    talk = standing_at("condenser fouled", "dead_control").hear("go back")
    assert talk.said.startswith("Nothing before this can be taken back.")


def test_a_yes_to_the_question_of_safety_is_no_answer_to_the_step_whatever_stands_behind_it():
    talk = standing_at("still hot", "motor_shell").hear("the cat is on the roof today", "yes, it's cool")
    assert talk.said == "Yes or no, please. Is something not safe?"


def test_go_back_behind_a_look_with_hands_in_asks_that_look_again():
    assert standing_at("condenser fouled", "contact_wire_back").hear("go back").asked == "contact_wire_back:chain_dead_check"


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("injection_coil_failed", "lock", "locked it, then unlocked it"),
    ("injection_coil_failed", "lock", "yes, and somebody unlocked it"),
    ("module_no_output", "jumper_out", "yeah it's in"), ("module_no_output", "jumper_out", "it stays in, done"),
])  # fmt: skip
def test_a_deed_beside_which_its_opposite_is_told_is_none(fault: str, step: str, said: str):
    assert standing_at(fault, step).hear(said).asked.startswith(f"{step}:")


@pytest.mark.parametrize("said", ["yeah, it's running good", "yeah, she's fine, close it", "yes, everything's good"])
def test_a_yes_to_the_close_may_say_how_it_runs(said: str):
    assert standing_at("probe_fouled", "watch_second").hear("finish job", said).asked.startswith("parts")


@pytest.mark.parametrize("said", ["yes, close it", "yes, finish it", "yes, skip it"])
def test_a_yes_with_a_command_to_the_question_of_safety_stops_no_machine(said: str):
    talk = standing_at("probe_fouled", "watch_second").hear("finish job", "yeah the thing is zorking away there", said)
    assert talk.dialogue.state.running
    assert talk.asked.endswith("confirm")


def test_what_was_to_be_confirmed_is_asked_again_once_nothing_was_unsafe():
    talk = standing_at("probe_fouled", "watch_second").hear("finish job", "yeah the thing is zorking away there", "no")
    assert talk.said.endswith("Make safe and close the call?")
    assert talk.hear("yes").asked.startswith("parts")
