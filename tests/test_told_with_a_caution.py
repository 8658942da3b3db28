"""What is told in the same breath as a caution is agreed to, and is asked behind it: it is not asked once more."""

import pytest

from assistant.call.facts import ReadingTaken
from assistant.fronts.pipe import ask_message
from tests.simulated import Rack
from tests.talk import Talk


def at_the_caution_before(step: str, fault: str = "injection_coil_failed") -> tuple[Rack, Talk]:
    rack, talk = Rack(fault), Talk()
    while not talk.asked.startswith(f"{step}/"):
        talk.hear(rack.answer(ask_message(talk.effects[-1])))
    return rack, talk


@pytest.mark.parametrize("said", [
    "yeah, detector's green, fan's going.", "yes i see the detector light, is quiet, and fan is running",
    "okay yes, detector is quiet and i can hear the fan running.",
])  # fmt: skip
def test_detector_and_fan_told_with_the_rooms_caution_are_not_asked_behind_it(said: str):
    rack, talk = at_the_caution_before("fit")
    talk.hear(said)
    assert talk.said.endswith("Footing, eyes, hands, somebody knows you are here: all good?")
    assert (talk.readings["detector_state"], talk.readings["ventilation_running"]) == ("quiet", "yes")
    talk.hear("all good")
    assert talk.asked.startswith("how_many_off")
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("said", "then"), [
    ("detector's quiet", "ventilation_running"), ("the fan's going", "detector_state"),
])  # fmt: skip
def test_what_was_not_told_is_asked_by_its_name(said: str, then: str):
    _, talk = at_the_caution_before("fit")
    talk.hear(said, "yes")
    assert talk.asked == f"fit:{then}"


def test_a_dead_fan_told_with_the_caution_lets_nobody_in():
    _, talk = at_the_caution_before("fit")
    talk.hear("yeah, detector's quiet but the fan's off")
    assert "No fan, no entry." in talk.said
    assert talk.readings.get("ventilation_running") != "yes"


@pytest.mark.parametrize("said", [
    "yep. tag says a two, my lock's on.", "yeah, tag says a two, my padlock's on, key's in me pocket",
])  # fmt: skip
def test_the_tag_read_with_the_locks_caution_heeds_it_and_counts_and_the_lock_comes_to_its_own_question(said: str):
    rack, talk = at_the_caution_before("tag")
    talk.hear(said)
    assert talk.readings["panel_tag"] == "a two"
    assert talk.asked == "lock:locked_out"
    assert "locked_out" not in talk.open
    talk.hear("told you, it's locked")
    assert "locked_out" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


def test_two_locks_told_with_the_caution_are_another_persons():
    _, talk = at_the_caution_before("tag")
    talk.hear("tag's a two, there's two locks on it")
    assert talk.asked.startswith("anew_other_lock")


def asked_what_is_not_safe(step: str) -> Talk:
    _, talk = at_the_caution_before(step)
    talk.hear("yada bloop fizz whatever")
    assert talk.asked.endswith(":confirm")
    return talk


@pytest.mark.parametrize(("step", "said"), [
    ("fit", "No, nothing unsafe. Detector lit and quiet, fan running."), ("tag", "Tag read. Own lock on, own key."),
    ("meter_before", "Gloves, shield, one hand. Yes."), ("meter_before", "Understood."), ("coil", "know that. power's off."),
])  # fmt: skip
def test_a_caution_told_back_over_the_question_of_safety_is_heeded_and_says_that_nothing_is(step: str, said: str):
    assert asked_what_is_not_safe(step).hear(said).asked.startswith(f"{step}:")


@pytest.mark.parametrize("said", ["no, we're good", "no, all good", "no, we're fine"])
def test_a_bare_no_to_the_question_of_safety_heeds_no_caution(said: str):
    talk = asked_what_is_not_safe("meter_before").hear(said)
    assert talk.asked == "meter_before/proving:command"


def test_words_of_trouble_want_a_no_before_the_caution_is_heeded():
    _, talk = at_the_caution_before("meter_before")
    talk.hear("there's a spark in here", "understood")
    assert talk.said == "The caution first. Say understood."


def test_one_no_answers_all_that_was_not_understood():
    talk = asked_what_is_not_safe("fit").hear("bloop fuzzy wuzzy, nothing bloop", "no")
    assert talk.asked == "fit/room:command"
    assert not talk.dialogue.state.doubts


def test_who_tells_why_the_pipe_is_not_hot_has_heard_the_caution():
    _, talk = at_the_caution_before("machine_look")
    assert talk.hear("yeah. been off two hours, it's lukewarm.").asked.startswith("machine_look:")


def test_who_only_thinks_that_it_is_cold_by_now_hears_the_caution_once_more():
    _, talk = at_the_caution_before("machine_look")
    assert "hot" in talk.hear("Understood. I think it's gone cold by now though").said.lower()


def test_what_is_said_twice_with_a_caution_is_on_record_once():
    talk = Talk().hear("a two", "yep, lit, quiet, fan's going")
    taken = [fact.id for _, fact in talk.facts if isinstance(fact, ReadingTaken)]
    assert taken.count("detector_state") == 1
    assert taken.count("ventilation_running") == 1
