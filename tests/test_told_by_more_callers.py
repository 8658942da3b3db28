"""What people said in whole calls and lost: half a breath, a second answer, a thing nobody asked for."""

import pytest

from assistant.language.heeded import heeded
from assistant.language.remarks import remark
from assistant.language.unready import unready
from tests.language.test_said_at_steps import meant
from tests.talk import Talk
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("step", "said", "means"), [
    ("rack_suction", "Suction is twenty two, discharge, wait, two hundred fifteen pounds.",
     "rack_suction_pressure=22; rack_discharge_pressure=215"),
    ("rack_suction", "suction is twenty two, wait, twelve, discharge two fifteen",
     "rack_suction_pressure=12; rack_discharge_pressure=215"),
    ("state_now", "She's just sitting there tripped, the other two are carrying the load like two old mules",
     "running_now=just tripped; running_count=2"),
    ("how_to_check", "We'll do it dead, I got bit once in Mobile and that was plenty", "live_or_dead=dead"),
    ("tag", "On the tag is A three", "panel_tag=a three"),
    ("tag", "It says A two, somebody wrote it with a paint pen", "panel_tag=a two"),
    ("parts", "Nothing left in her and I didn't add a drop", "part_left_in_use=none; refrigerant_added=0"),
    ("high_fans_called", "I scrolled clear down to the fan page and it's asking for six of them", "condenser_fans_called=6"),
    ("leak_zero", "she ain't budged off zero", "isolated_pressure=0"),
    ("windings", "One point two, one point two, and one point two, all the same",
     "winding_ohms.ab=1.2; winding_ohms.bc=1.2; winding_ohms.ca=1.2"),
    ("hand_over", "The day man", "follow_up_owner=day shift"),
    ("dead_power", "The cover is off. I have zero volts on all six.", "dead_volts.power=0"),
    ("dead_control", "Zero on control too, across and to ground.", "dead_volts.control=0"),
    ("low_cutout", "It's set at four pounds, cuts back in at twelve.", "cutout_pressure=4"),
    ("recover", "Two and a half pounds, and it's sitting at zero.", "refrigerant_recovered=2.5"),
    ("where", "It's painted rack A on the frame.", "rack=a"),
    ("state_now", "She's sittin' there tripped right now, and I've got the other three runnin'.",
     "running_now=just tripped; running_count=3"),
    ("unlock", "My lock's off and back on my belt.", "lock_removed=true"),
    ("parts", "Nope, nothin' left behind and I didn't put in any gas.", "part_left_in_use=none; refrigerant_added=0"),
    ("why_reclaim", "This store never did have any of that, there's no reclaim on it.", "heat_reclaim=none"),
])  # fmt: skip
def test_it_means(step: str, said: str, means: str):
    assert set(meant(step, said).split("; ")) == set(means.split("; "))


@pytest.mark.parametrize(("step", "said", "reading"), [
    ("food", "the food is okay", "product_state"), ("food", "the controller's good", "controller_mode"),
    ("machine_look", "the valve's good", "injection_hand_valve"), ("machine_look", "coil is good", "coil_seated"),
])  # fmt: skip
def test_what_is_called_good_by_its_name_is_all_that_is(step: str, said: str, reading: str):
    readings = standing_at("injection_coil_failed", step).readings
    told = standing_at("injection_coil_failed", step).hear(said).readings
    assert set(told) - set(readings) == {reading}


@pytest.mark.parametrize("said", ["looks good", "all good", "good on all of them"])
def test_what_is_called_good_by_no_name_is_all_of_it(said: str):
    assert standing_at("injection_coil_failed", "food").hear(said).said.startswith("All good.")


@pytest.mark.parametrize("said", ["Compressor two", "the tag says compressor two on it", "rack A"])
def test_half_a_tag_is_asked_for_whole(said: str):
    talk = standing_at("injection_coil_failed", "tag").hear(said)
    assert talk.said.startswith("All of it: rack and compressor.")
    assert talk.hear("rack A compressor two").readings["panel_tag"] == "a two"


def test_a_breaker_that_he_opened_himself_gets_his_lock_and_is_not_forgotten():
    talk = standing_at("injection_coil_failed", "dead_control").hear("also zero, I opened the control breaker too")
    assert talk.readings["dead_volts.control"] == 0.0
    assert talk.said.endswith("Lock that source out too, your own lock. Locked?")
    assert "second_lock" in talk.open
    assert talk.hear("locked").asked.startswith("meter_after:")
    assert not talk.broken()


def test_nobody_is_told_to_say_it_again_and_then_that_it_must_be_a_yes_or_a_no():
    talk = standing_at("injection_coil_failed", "tag").hear("the door's painted green over here")
    assert talk.said == "Not understood. Is something not safe? If not, say it again."
    assert talk.hear("it's painted green over here").said == "Yes or no, please. Is something not safe?"
    assert talk.hear("no").said == "Read me the disconnect's tag: which machine?"


def test_hours_that_are_said_before_the_name_hand_it_over_all_the_same():
    talk = standing_at("none at the motor", "hand_over").hear("twelve hours", "day shift")
    assert talk.open == set()
    assert talk.asked.startswith("tell_store:")


def test_a_look_with_hands_in_is_asked_back_without_its_order():
    talk = standing_at("starter pole open", "poles").hear("third pole won't make")
    assert talk.said == "One open?"


def test_a_screwdrivers_handle_presses_a_starter_in_for_a_look():
    said = "pushed her in with a screwdriver handle, all three closed"
    assert "jumper_fitted" not in standing_at("starter pole open", "poles").hear(said).open


def test_yes_and_the_rest_of_what_was_asked_agrees():
    talk = standing_at("injection_coil_failed", "state_now").hear("she's sitting over there like a dead mule")
    assert talk.said == "Off. Correct?"
    assert talk.hear("Yep, she's off, and there's two running").readings["running_now"] == "off"


def test_what_bit_him_once_is_no_distress_and_what_he_will_not_reset_no_second_reset():
    assert remark("i got bit once in mobile") is None
    assert remark("i just got bit") is not None
    assert unready("i will not reset it again") == ""
    assert unready("i reset it again") == "reset again"


def test_a_machine_that_hums_along_runs_and_one_that_was_started_to_does_not():
    started = standing_at("injection_coil_failed", "start").hear("started, and she's humming right along")
    assert started.asked.startswith("watch_first:")
    assert standing_at("injection_coil_failed", "start").hear("I started to").asked.startswith("start:")
    assert unready("it's just humming") == "won't start"


def test_windings_of_forty_ohms_are_asked_back_each():
    talk = standing_at("winding open", "windings").hear("three nine, three nine, four oh")
    assert talk.said == "That is outside what is usual. Thirty nine ohms, thirty nine ohms, forty ohms. Correct?"
    assert talk.hear("no", "three point nine, three point nine, four point oh").readings["winding_ohms.ca"] == 4.0


@pytest.mark.parametrize(("names", "said"), [
    (("room",), "The detector's lit and quiet, fan's running, and I read twenty point nine on oxygen."),
    (("room",), "Light's on, she's not hollerin', fan's blowin', and the air's good, twenty point eight."),
    (("lock_out",), "I read the tag, got my own lock and my own key right here, and I know the control power's separate."),
])  # fmt: skip
def test_a_caution_told_item_by_item_is_acknowledged(names: tuple[str, ...], said: str):
    assert heeded(said, names)


def test_too_little_oxygen_lets_nobody_in_however_it_is_told():
    said = "detector's quiet, fan's running, I read seventeen on oxygen"
    talk = standing_at("injection_coil_failed", "where").hear("a two", said)
    assert "fit_to_start" not in talk.readings
    assert not talk.asked.startswith("fit:fit")


def test_you_bet_agrees_and_you_bet_it_is_not_does_not():
    def asked_back() -> Talk:
        return standing_at("injection_coil_failed", "meter_after").hear("same as it ever was on the old socket")

    assert asked_back().hear("you bet").asked.startswith("which_contact:")
    assert asked_back().hear("you bet it isn't").asked.startswith("meter_after:")
