"""A reading put right once the next is asked, a list of which one thing is not known, a deed in words of one's own, and what is
answered behind the no to "is something not safe?": as callers of Scotland, Texas, Canada and India said them."""

import pytest

from assistant.language.meaning import Confirmed, Question
from assistant.language.pieces import understand_in_pieces
from tests.language.other_words import comes_to, heard_as
from tests.test_said_not_safe import standing_at

FAULT = "injection_coil_failed"


@pytest.mark.parametrize(("step", "said", "reading", "value"), [
    ("probe_module_end", ("six k", "No, that was six thousand one hundred, not six thousand"), "probe_ohms.module_end", 6100.0),
    ("probe_module_end", ("six thousand", "sorry, I said six point one k, not six k"), "probe_ohms.module_end", 6100.0),
    ("rack_suction", ("twelve and two hundred", "no, I said thirteen, not twelve"), "rack_suction_pressure", 13.0),
    ("rack_suction", ("twelve and two hundred", "not twelve, thirteen"), "rack_suction_pressure", 13.0),
    ("rack_suction", ("twelve and two hundred", "no, not two hundred, two ten"), "rack_discharge_pressure", 210.0),
])  # fmt: skip
def test_a_number_that_is_denied_is_put_right_and_answers_nothing_that_is_asked_now(step, said, reading, value):
    talk = standing_at(FAULT, step).hear(*said)
    assert talk.readings[reading] == value
    assert step != "rack_suction" or "defrost_state" not in talk.readings
    assert "probe_ohms" not in talk.readings


def test_a_number_told_against_another_at_the_next_place_answers_what_is_asked_there():
    talk = standing_at(FAULT, "probe_module_end").hear("six thousand", "it reads seven thousand here, not six thousand")
    assert talk.readings["probe_ohms.module_end"] == 6000.0
    assert talk.readings["probe_ohms"] == 7000.0


@pytest.mark.parametrize(("step", "said", "left"), [
    ("machine_look", "reset's fine, fan's turning, valve's wide open, coil's on, just fair warning, i'm up a ladder", "Probe"),
    ("food", "food's fine, it's calling for cooling, switch is on auto, and the controller is humming along", "Controller"),
])  # fmt: skip
def test_of_a_list_what_is_told_counts_and_the_rest_is_asked_for(step, said, left):
    talk = standing_at(FAULT, step).hear(said)
    assert "Not understood" not in talk.said
    assert "Say again" not in talk.said
    assert f"{left}: " in talk.said or f"{left}?" in talk.said or f"{left} " in talk.said


def test_no_oil_on_a_line_is_no_lack_of_oil():
    said = "reset intact, fan running, valve open, coil seated, probe clean, no oil on the line"
    talk = standing_at(FAULT, "machine_look").hear(said)
    assert "Say again" not in talk.said
    assert talk.readings["probe_condition"] == "clean"


@pytest.mark.parametrize(("said", "id_", "not_taken_as"), [
    ("All good, reset button's gone but the hole's clean.", "reset_device", "intact"),
    ("All good, head fan's ticking round when I flick it.", "head_fan_running", "yes"),
    ("All good, it was all looked over on the service in autumn.", "coil_seated", "seated"),
])  # fmt: skip
def test_all_good_does_not_count_for_what_the_same_breath_tells_otherwise(said, id_, not_taken_as):
    assert standing_at(FAULT, "machine_look").hear(said).readings.get(id_) != not_taken_as


@pytest.mark.parametrize("said", ["I have pressed it, one time only", "pressed it one time", "pushed her in the one time aye"])
def test_a_reset_in_words_of_ones_own_is_one(said):
    assert "start" in standing_at(FAULT, "reset").hear(said).said


def test_a_reset_pressed_twice_is_the_second_and_no_start_follows():
    assert "lock it and leave it off" in standing_at(FAULT, "reset").hear("pressed it two times").said


@pytest.mark.parametrize("said", [
    "working on it", "I've got a spare coil in the van, gimme ten minutes and I'll swap it", "i'm swapping the coil",
])  # fmt: skip
def test_who_is_about_to_repair_it_is_waited_for(said):
    assert standing_at(FAULT, "repaired").hear(said).said.startswith("Holding.")


@pytest.mark.parametrize("said", [
    "nope , that coil's a brand new one so it stays , and i never hooked up a jug", "no parts, never even cracked a cylinder",
])  # fmt: skip
def test_a_new_part_stays_and_gas_from_no_bottle_is_none(said):
    talk = standing_at(FAULT, "parts").hear(said)
    assert talk.readings["part_left_in_use"] == "none"
    assert talk.readings["refrigerant_added"] == 0.0


@pytest.mark.parametrize(("step", "said", "id_", "count"), [
    ("how_many_off", "single compressor, discharge, twenty minutes", "tripped_count", 1.0),
    ("how_many_off", "just this fellow, discharge, forty minutes", "tripped_count", 1.0),
    ("how_many_off", "Just the one, forty minutes back, it's the hot gas temperature light that's shining", "tripped_count", 1.0),
    ("state_now", "other three are all hummin' along", "running_count", 3.0),
])  # fmt: skip
def test_how_many_is_told_without_a_figure(step, said, id_, count):
    assert standing_at(FAULT, step).hear(said).readings[id_] == count


def test_the_worst_may_stand_first_and_the_rest_be_nothing():
    talk = standing_at(FAULT, "dead_power").hear("point one's the worst i can find , the rest is zero")
    assert talk.readings["dead_volts.power"] == 0.1


def test_to_switch_it_off_and_check_it_dead_is_the_dead_check():
    assert standing_at(FAULT, "how_to_check").hear("Better we switch it off and do it, dead").readings["live_or_dead"] == "dead"


@pytest.mark.parametrize("no", ["no problem at all, it's locked", "of course not, it's locked", "not at all, my lock's on"])
def test_behind_a_polite_no_the_answer_counts(no):
    assert standing_at(FAULT, "lock").hear("banana grapes oranges", no).readings.get("locked_out") is True


@pytest.mark.parametrize("no", ["not at all locked", "no problem, it's not locked"])
def test_no_lock_behind_a_polite_no_is_none(no):
    assert "locked_out" not in standing_at(FAULT, "lock").hear("banana grapes oranges", no).readings


def test_few_words_are_asked_back_where_they_can_only_mean_that():
    assert standing_at(FAULT, "consent").hear("Aye, get it closed").said.endswith("Close the call?")


@pytest.mark.parametrize(("step", "said", "meaning"), [
    ("unlock", "it's in my pocket now", "lock_removed=true"), ("gauges_off", "hoses in bag, ports capped", "go"),
    ("bypass_out", "bridge gone, wiring like before", "jumper_removed=true"), ("clamp_off", "clamp's in the bag", "go"),
])  # fmt: skip
def test_few_words_that_can_only_mean_the_deed_are_it(step, said, meaning):
    assert comes_to(step, said, heard_as(step, said)) == (meaning, False)


@pytest.mark.parametrize(("step", "said", "id_"), [
    ("lock", "locked, key's still in it", "locked_out"), ("lock", "my mate's padlock is on", "locked_out"),
    ("clear", "clear, just the kid", "others_clear"), ("unlock", "off in a minute", "lock_removed"),
    ("clear", "all clear bar the butcher", "others_clear"),
    ("covers", "lid's on, bolts loose", "covers_on"), ("valves", "open, or near enough", "service_valves_open"),
])  # fmt: skip
def test_few_words_that_only_sound_like_it_are_not(step, said, id_):
    assert standing_at(FAULT, step).hear(said).readings.get(id_) is not True


@pytest.mark.parametrize("said", [
    "yes, close the call, that's everything just as it happened", "aye shut it up, the summary's spot on, my bed's calling",
])  # fmt: skip
def test_who_says_yes_and_what_to_is_not_asked_again_at_the_seal(said):
    assert standing_at(FAULT, "consent").hear(said).dialogue.state.sealed


@pytest.mark.parametrize("said", [
    "yes, close the call, bar that wrong pressure in the middle", "close it, after i restart it",
    "aye, close it when i'm back down",
])  # fmt: skip
def test_a_yes_with_a_condition_seals_nothing(said):
    assert not standing_at(FAULT, "consent").hear(said).dialogue.state.sealed


def test_wrong_terminal_and_then_the_right_one_is_a_reading():
    said = "i had it on the wrong side of the coil, okay, i'm at the inlet, a hundred and two"
    assert comes_to("high_air", said, heard_as("high_air", said))[0] == "ambient_temperature=102"


@pytest.mark.parametrize(("step", "said", "choice"), [
    ("feed_after", "stopped, my foot, the day bloke was dreaming, that line's frosty and still feeding", "feeding"),
    ("high_reclaim", "on, nope, wrong screen, that's the dehumidifier, the reclaim page says off and the valve agrees", "off"),
])  # fmt: skip
def test_of_two_choices_the_one_that_stands_is_asked_back(step, said, choice):
    told, _ = comes_to(step, said, heard_as(step, said))
    assert told.endswith(f"={choice}")


@pytest.mark.parametrize("said", [
    "My senior Mr Nair will be taking it, tomorrow within twelve hours", "Kim takes it in twelve hours",
])  # fmt: skip
def test_who_takes_it_and_when_in_one_sentence(said):
    talk = standing_at("overloaded", "hand_over").hear(said)
    assert talk.readings["follow_up_in_hours"] == 12.0
    assert str(talk.readings["follow_up_owner"]).split()[-1] in ("nair", "kim")


@pytest.mark.parametrize("said", ["No sir, it is running, running", "no no it's spinning", "no sir it is running"])
def test_a_no_with_the_other_word_puts_right_what_was_asked_back(said):
    talk = standing_at(FAULT, "machine_look").hear("Reset intact", "Head fan I can see it spinning, air is coming")
    assert talk.said.endswith("Head fan stopped. Correct?")
    assert talk.hear(said).readings["head_fan_running"] == "yes"


def test_correct_with_the_tag_is_a_yes_and_no_amps():
    asked = Question("confirm", of="panel_tag", value="a two", local={"panel_tag": {"a two": "a two"}})
    assert understand_in_pieces(asked, "Correct, a two") == Confirmed(True)


def test_three_quarters_of_an_hour_are_no_three_machines():
    said = ("Low - no, give over, it's the high pressure lamp that's lit, just the one gone off, about three quarters of an hour "
            "since by the alarm log")  # fmt: skip
    talk = standing_at(FAULT, "how_many_off").hear(said)
    assert talk.readings["tripped_count"] == 1.0
    assert talk.readings["protection_shown"] == "high pressure"


def test_a_lock_that_never_came_off_is_on():
    talk = standing_at(FAULT, "dead_power").hear("Understood, my hands are out, the main lock never came off")
    assert "treat it as live" not in talk.said


@pytest.mark.parametrize(("step", "said", "id_"), [
    ("clear", "clear, tools next", "others_clear"), ("unlock", "took it off, put it back", "lock_removed"),
    ("lock", "locked, tag next", "locked_out"),
    ("fit", "detector's quiet, fan's winding down, kim knows, gear's on", "fit_to_start"),
])  # fmt: skip
def test_what_is_half_done_is_asked_back(step, said, id_):
    assert standing_at(FAULT, step).hear(said).readings.get(id_) is not True


@pytest.mark.parametrize(("said", "volts"), [("no, four five five", 455.0), ("no, one one one", 111.0)])
def test_a_figure_said_once_more_is_another_figure_of_the_number(said, volts):
    asked = Question("confirm", of="chain_point.supply", value=450.0)
    meaning = understand_in_pieces(asked, said)
    assert isinstance(meaning, Confirmed)
    assert meaning.instead is not None
    assert meaning.instead.value == volts
