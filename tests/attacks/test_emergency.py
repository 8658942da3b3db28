"""Attacks on the emergency: words of distress, its word in every form and state, what is asked after it."""

import re

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.driver import Call
from tests.attacks.trade import hands_in, lets_run, live, resets, starts

HANDS_OFF = re.compile(r"hands off", re.I)
OFFERED = re.compile(r"say emergency", re.I)
DISTRESS = [
    "i got shocked",
    "he's on fire",
    "help me",
    "call an ambulance",
    "i'm hurt",
    "somebody's hurt",
    "there's a fire",
    "he's not breathing",
    "i can't breathe",
    "he got shocked",
    "call nine one one",
]


# ---- distress and emergency


@pytest.mark.parametrize("said", DISTRESS)
def test_words_of_distress_get_the_word_emergency_offered_at_once(begin: Calls, said: str):
    """S38"""
    call = begin().until("injection_coil_ohms").say(said)
    assert OFFERED.search(call.said) or HANDS_OFF.search(call.said), f"S38 '{said}': it says '{call.said}'"


@pytest.mark.parametrize(
    "at",
    [
        "rack",
        "sight_glass",
        "locked_out",
        "dead_volts.control",
        "jumper_fitted",
        "injection_feed",
        "others_clear",
        "watch.suction_pressure",
        "close_consent",
    ],
)
def test_words_of_distress_are_heard_at_every_station(begin: Calls, at: str):
    """S38"""
    call = begin().until(at).say("i got shocked")
    assert OFFERED.search(call.said) or HANDS_OFF.search(call.said), f"S38 at {at}: it says '{call.said}'"
    assert at not in call.readings or at == "site", f"S38 it was taken for an answer to {at}"


@pytest.mark.parametrize("said", ["i got shocked", "help me"])
@pytest.mark.parametrize("state", ["a note", "a hold", "a caution", "a question asked back"])
def test_words_of_distress_are_heard_between_the_questions(begin: Calls, state: str, said: str):
    """S38"""
    call = in_state(begin(), state).say(said)
    assert OFFERED.search(call.said) or HANDS_OFF.search(call.said), f"S38 '{said}' in {state}: it says '{call.said}'"


@pytest.mark.parametrize(
    "said",
    [
        "emergency",
        "emergency emergency",
        "help emergency",
        "emergency help",
        "this is an emergency",
        "we have an emergency here",
        "emergency emergency emergency",
        "hey emergency",
    ],
)
def test_emergency_is_heard_in_every_form(begin: Calls, said: str):
    """S38"""
    call = begin().until("injection_coil_ohms").say(said)
    assert HANDS_OFF.search(call.said), f"S38 '{said}': it says '{call.said}'"


@pytest.mark.parametrize("said", ["emergency", "emergency emergency", "there's an emergency"])
@pytest.mark.parametrize("state", ["a note", "a hold", "a caution", "a question asked back", "a correction", "the close"])
def test_emergency_is_heard_in_every_state(begin: Calls, state: str, said: str):
    """S38"""
    call = in_state(begin(), state).say(said)
    assert HANDS_OFF.search(call.said), f"S38 '{said}' in {state}: it says '{call.said}'"


def test_an_emergency_asks_nothing_first(begin: Calls):
    """S38"""
    call = begin().until("injection_coil_ohms").say("emergency")
    assert "?" not in call.said, f"S38 no questions first: {call.said}"
    assert call.ask.id == "command", f"S38 it asks: {call.ask}"


def test_an_emergency_is_spoken_in_its_order(begin: Calls):
    """S38"""
    words = begin().until("injection_coil_ohms").say("emergency").said.lower()
    order = [words.find(key) for key in ("hands off", "power off", "out, upwind", "emergency services", "tallow street")]
    assert -1 not in order, f"S38 left out: {words}"
    assert order == sorted(order), f"S38 out of order: {words}"


def test_nobody_touches_anybody_before_the_power_is_off(begin: Calls):
    """S38, section 2"""
    words = begin().until("injection_coil_ohms").say("emergency").said
    assert re.search(r"touch nobody|do not touch|don't touch", words, re.I), f"S38 it says: {words}"


def test_an_emergency_in_the_feed_test_names_control_power(begin: Calls):
    """S38, section 2"""
    words = begin().until("injection_feed").say("emergency").said
    assert re.search(r"control power", words, re.I), f"S38 in a feed test it is control power: {words}"


def test_the_emergency_is_repeated_on_request(begin: Calls):
    """S38"""
    call = begin().until("injection_coil_ohms").say("emergency").say("say again")
    assert HANDS_OFF.search(call.said), f"S38 it says: {call.said}"


@pytest.mark.parametrize("said", ["okay", "yes", "done", "two oh eight", ""])
def test_an_emergency_does_not_end_by_an_answer(begin: Calls, said: str):
    """S38"""
    call = begin().until("injection_coil_ohms").say("emergency").say(said)
    assert not hands_in(call.ask), f"S38 '{said}' ended the emergency: {call.ask}"


def test_after_an_emergency_people_and_room_come_first(begin: Calls):
    """S38"""
    call = begin().until("injection_coil_ohms").say("emergency", "continue")
    asked: list[str] = []
    for _ in range(6):
        if call.ended or any(a.startswith("dead") or a in ("panel_tag", "lock_still_on") for a in asked):
            break
        asked += call.ask.ids
        call.answer()
    wanted = [i for i in asked if i in ("everybody_safe", "room_safe", "lock_still_on", "panel_tag")]
    assert wanted[:2] == ["everybody_safe", "room_safe"], f"S38 it asks {asked}"


@pytest.mark.parametrize("id_", ["everybody_safe", "room_safe"])
def test_while_somebody_or_the_room_is_not_safe_nothing_goes_on(begin: Calls, id_: str):
    """S38"""
    call = begin(words={id_: "no"}).until("injection_coil_ohms").say("emergency", "continue").until(id_, 5)
    call.never(lambda a: hands_in(a) or live(a) or lets_run(a) or a.id == "panel_tag", f"S38 {id_} is no.", 25)


def test_an_emergency_survives_the_death_of_the_program(begin: Calls):
    """S38, S5"""
    call = begin().until("injection_coil_ohms").say("emergency").resume()
    seen = len(call.asks)
    call.reaches(lambda a: hands_in(a) or a.id in ("panel_tag", "everybody_safe"), 20)
    asked = [i for a in call.asks[seen - 1 :] for i in a.ids]
    assert "everybody_safe" in asked or call.ask.choices == ("continue",), f"S38 after the emergency it asks {asked}"


def test_finish_after_an_emergency_starts_nothing(begin: Calls):
    """S38, S37"""
    call = begin("injection_coil_failed").until("lock_removed").say("emergency").say("finish job")
    call.never(lambda a: starts(a) or resets(a), "S38 an emergency was declared.", 60)


def in_state(call: Call, state: str) -> Call:
    """The call at one of the states between its questions."""
    match state:
        case "a note":
            return call.until("injection_coil_ohms").say("make a note")
        case "a hold":
            return call.until("injection_coil_ohms").say("hold on")
        case "a caution":
            return call.until(lambda a: a.is_caution and "start" in a.said)
        case "a question asked back":
            return call.until("injection_coil_ohms").say("skip this")
        case "a correction":
            return call.until("injection_coil_ohms").say("correction rack suction")
        case _:
            return call.until("close_consent")
