"""What four callers said and was not taken, or taken for another: an old Scot, a quick young woman of Canada, a
Texan and an engineer of India."""

from copy import deepcopy
from functools import cache

import pytest

from assistant.call import modes
from assistant.language.grammar import normalise
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_said_not_safe import standing_at

FAULT = "injection_coil_failed"


@cache
def _waited_for() -> Talk:
    talk, rack = standing_at(FAULT, "start"), Rack(FAULT)
    talk.waits_by_itself = False
    while talk.dialogue.mode.name != modes.WAITING:
        talk.hear(talk.words_of(rack))
    return talk


def waiting() -> Talk:
    """A call at its first wait of the watch."""
    talk = _waited_for()
    return deepcopy(talk, {id(one): one for one in (talk.site, talk.procedure, *talk.procedure.steps)})


@pytest.mark.parametrize(("said", "plain"), [
    ("Naw, it's no' feeding, it isnae", "no it's not feeding it isn't"), ("a hunner and ten", "a hundred and ten"),
    ("it willnae start, the heid is deid", "it won't start the head is dead"),
])  # fmt: skip
def test_the_words_of_the_north_are_put_plainly(said: str, plain: str):
    assert normalise(said) == plain


@pytest.mark.parametrize("said", [
    "Naw, it's no' feeding the now, as warm as ma tea was an hour ago, same as it's been all night", "it's no' feeding",
])  # fmt: skip
def test_a_line_that_is_not_feeding_in_scots_is_not_feeding(said: str):
    talk = standing_at("injection_strainer_plugged", "feed_after").hear(said)
    assert "Feeding." not in talk.said
    assert talk.readings.get("injection_after", "stopped") == "stopped"


def test_the_line_of_which_was_spoken_last_is_the_one_that_is_put_right():
    talk = standing_at("injection_strainer_plugged", "feed_after").hear("feeding", "correction injection line", "stopped")
    assert talk.readings["injection_after"] == "stopped"
    assert talk.readings["injection_as_found"] == "dry"


@pytest.mark.parametrize("said", [
    "she's off on hot discharge, just the one, it went down maybe an hour and a half ago according to the stock guy",
    "Just the one o' them, off ninety minutes back according to the alarm printer, and it's the discharge light that's shining",
])  # fmt: skip
def test_what_a_clause_tells_of_those_asked_together_is_not_asked_again(said: str):
    talk = standing_at(FAULT, "how_many_off").hear(said)
    if "Correct?" in talk.said:
        talk.hear("yes")
    got = [talk.readings.get(id_) for id_ in ("protection_shown", "tripped_count", "alarm_minutes_ago")]
    assert got == ["discharge", 1.0, 90.0]


@pytest.mark.parametrize("said", ["oil, or maybe two, twenty minutes ago", "it was discharge, three yesterday, an hour ago"])
def test_a_clause_of_another_day_or_in_doubt_tells_nothing_by_itself(said: str):
    talk = standing_at(FAULT, "how_many_off").hear(said)
    assert "tripped_count" not in talk.readings


@pytest.mark.parametrize("said", [
    "Head's sitting at a hunner and eighty, and the low side, it's, eh, fourteen, naw I tell a lie, thirteen, she's a touch high",
    "Head's a hundred and eighty, and the low side's fourteen, no I tell a lie, thirteen, with one machine out of the team",
])  # fmt: skip
def test_of_two_gauges_the_one_put_right_and_the_other_count(said: str):
    talk = standing_at(FAULT, "rack_suction").hear(said)
    if "Correct?" in talk.said:
        talk.hear("yes")
    assert (talk.readings["rack_suction_pressure"], talk.readings["rack_discharge_pressure"]) == (13.0, 180.0)


@pytest.mark.parametrize("said", ["goose egg", "a big fat goose egg"])
def test_a_goose_egg_is_no_volts(said: str):
    assert standing_at(FAULT, "dead_power").hear(said).readings["dead_volts.power"] == 0.0


@pytest.mark.parametrize(("step", "said", "told"), [
    ("rack_suction", "what's the suction set for?", "The set point is ten."),
    ("coil", "what should I see there?", "Four ten ohms"),
])  # fmt: skip
def test_what_it_should_read_is_told(step: str, said: str, told: str):
    assert standing_at(FAULT, step).hear(said).said.startswith(told)


@pytest.mark.parametrize("said", [
    "I'm not standing here half an hour in the cold, leave her off and wrap this job up", "can we finish up now, I'm done in",
    "let's call it a night", "I've seen enough, close the job", "i'm done here, heading home",
])  # fmt: skip
def test_who_has_waited_enough_is_asked_whether_to_close(said: str):
    assert waiting().hear(said).said == "Make safe and close the call?"


@pytest.mark.parametrize("said", ["wrap it up before you go, they say", "i'll go home once it's settled", "don't close the job"])
def test_who_would_not_close_yet_is_not_asked(said: str):
    assert "close the call" not in waiting().hear(said).said


def test_talk_in_a_wait_is_let_pass_once_and_then_told_what_may_be_said():
    talk = waiting().hear("grand, i'll have a brew then")
    assert talk.said == "Next in five minutes."
    assert talk.hear("lovely weather for it").said == "Say hold on, or finish job. | Next in five minutes."


@pytest.mark.parametrize("said", ["what are we waiting on?", "is it time yet?", "how much longer"])
def test_at_a_wait_the_time_answers_who_asks_for_it(said: str):
    assert waiting().hear(said).said == "Next in five minutes."


def test_a_word_put_right_at_a_wait_counts():
    talk = waiting().hear("that's wrong, the sight glass is bubbling")
    assert talk.readings["sight_glass"] == "bubbles"


def test_with_a_receiver_neither_low_nor_normal_a_leak_is_searched_for_and_decides():
    rack = Rack("refrigerant_low")
    rack.words.update({"receiver_level": "fourteen", "drier_temperature_drop": "half a degree", "sight_glass": "bubbles"})
    talk = Talk().until(rack, "leak_search").hear("yes")
    assert talk.dialogue.state.conclusions["refrigerant_low"].standing == "supported"
    assert not talk.to_the_seal(rack).broken()


@pytest.mark.parametrize(("step", "said"), [
    ("covers", "just put the last screw in, panel's all buttoned up"),
    ("probe_plugged_in", "took me two goes but aye, that's it plugged in again"),
    ("fans_back", "i put it on so i took it off, guards are on and there's nothing near the blades"),
])  # fmt: skip
def test_what_the_sense_of_a_whole_harmless_sentence_is_very_sure_of_counts_in_whatever_words(step: str, said: str):
    fault = {"covers": FAULT, "probe_plugged_in": "probe_fouled", "fans_back": "condenser fouled"}[step]
    talk = standing_at(fault, step).hear(said)
    assert "all safe?" not in talk.said
    assert not talk.asked.startswith(step)


@pytest.mark.parametrize(("step", "said"), [
    ("dead_power", "zero on all six, leads were in the amps sockets but zero's zero"),
    ("contact_wire_back", "I have the wire back here"),
    ("unblock_start", "I have it back here"),
])  # fmt: skip
def test_no_volts_and_a_few_words_of_what_safety_hangs_on_never_do(step: str, said: str):
    talk = standing_at("module_no_output" if step == "unblock_start" else FAULT, step)
    before = talk.asked
    talk.hear(said)
    assert talk.asked.split(":")[0] == before.split(":")[0]


@pytest.mark.parametrize("said", ["right on the money", "afraid so", "right enough", "aye, it is"])
def test_who_agrees_in_other_words_than_a_yes_agrees(said: str):
    talk = standing_at("oil low", "oil_glass").hear("it's lowish, I'd say")
    assert talk.said == "Low. Correct?"
    assert talk.hear(said).readings["oil_level"] == "low"


@pytest.mark.parametrize(("said", "asked"), [
    ("It's got A three on it, no, wrong box, A two", "A two. Correct?"),
    ("It's got A two on it, no, wrong box, A three", "A three. Correct?"),
])  # fmt: skip
def test_of_a_tag_put_right_the_last_is_asked_back(said: str, asked: str):
    assert standing_at(FAULT, "tag").hear(said).said == asked


@pytest.mark.parametrize("said", ["an hour and a half ago", "hour and a half or so", "oh, an hour and a half, give or take"])
def test_an_hour_and_a_half_sounds_like_no_other_number(said: str):
    talk = standing_at(FAULT, "how_many_off").hear("discharge, one", said)
    assert "nine oh" not in talk.said
    assert talk.readings["alarm_minutes_ago"] == 90.0


def test_of_discharge_and_one_nobody_says_when():
    assert "alarm_minutes_ago" not in standing_at(FAULT, "how_many_off").hear("discharge, one").readings


def test_who_wraps_it_up_at_the_close_consents_to_it():
    talk = standing_at("refrigerant_low", "consent").hear("I reckon that'll do it, wrap it up")
    assert talk.said == "Close the call?"
    assert talk.hear("yup").said.endswith("Closed and sealed.")


@pytest.mark.parametrize("said", ["twelve and two hundred, sir it is not jumping", "twelve, two hundred, needle isn't jumping"])
def test_a_needle_that_does_not_jump_bypasses_nothing(said: str):
    talk = standing_at(FAULT, "watch_second").hear(said)
    assert "jumper_fitted" not in talk.open
    assert talk.readings["watch.discharge_temperature"] == 200.0


@pytest.mark.parametrize("said", ["it's jumped out", "somebody's jumping the control"])
def test_what_is_jumped_out_while_it_runs_still_stops_it(said: str):
    assert standing_at(FAULT, "watch_second").hear(said).said.startswith("Then it stops.")


def test_a_lock_that_was_pulled_two_times_was_reset_by_nobody():
    talk = standing_at(FAULT, "lock").hear("Locked and tagged, my name is on it, I pulled it also two times to see.")
    assert "reset_history" not in talk.readings


def test_six_thousand_and_one_hundred_is_one_number():
    talk = standing_at(FAULT, "probe_module_end").hear("six thousand and one hundred ohms")
    assert talk.readings["probe_ohms.module_end"] == 6100.0


def test_defrosting_that_is_not_there_is_none():
    assert standing_at(FAULT, "glass").hear("it is full, defrosting is not there anywhere").readings["defrost_state"] == "none"


def test_another_deed_is_no_yes_to_the_one_that_was_asked_back():
    talk = standing_at(FAULT, "valves").hear("all four I have opened only, no one has closed")
    assert talk.said == "Valves open, and all safe?"
    assert "service_valves_open" not in talk.hear("Covers I have screwed back").readings
    assert talk.hear("aye, all four of the valves are open").readings["service_valves_open"] is True
