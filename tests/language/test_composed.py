"""How things stand, put together from words; and the whole answers that were gathered choice by choice."""

import tomllib
from pathlib import Path

import pytest

import assistant.language.composed as composed_room
from assistant.language.composed import composed
from assistant.language.narrated import explains, narrates, verifies
from tests.language.test_said_at_steps import NOT_TAKEN, meant, question

WHOLE = tomllib.loads(Path(composed_room.__file__).with_name("said_whole.toml").read_text(encoding="utf-8"))["said"]


@pytest.mark.parametrize(
    ("step", "words", "stands"),
    [
        ("shed_load", "nothing's been turned off", "none"),
        ("shed_load", "everything is still running", "none"),
        ("shed_load", "turned off the two end circuits", "some"),
        ("shed_load", "not one case running", "all"),
        ("module_lamps", "not a dark one among them", "all lit"),
        ("module_lamps", "no lights on any", "several dark"),
        ("poles", "no continuity on one", "one open"),
        ("poles", "two good and one open", "one open"),
        ("which_contact", "every one beeps", "none"),
        ("which_contact", "no beep on the high pressure", "high pressure"),
        ("warm_heater", "not one on here", "none"),
        ("low_circuits", "one of them's dry isn't getting any feed", "one without feed"),
    ],
)
def test_how_many_of_them_stand_how_is_put_together(step: str, words: str, stands: str):
    assert composed(question(step), words) == stands


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("poles", "all closed i only did two"),
        ("poles", "all closed and one open"),
        ("warm_heater", "on it's stone cold"),
        ("module_lamps", "no lamp's lit"),
        ("machine_look", "no hand valve's shut"),
        ("which_contact", "contact three is open"),
        ("state_now", "off two running"),
        ("protector_cooled", "it was closed"),
        ("protector_cooled", "is it closed"),
        ("shed_load", "maybe some"),
    ],
)
def test_what_says_two_things_or_has_an_unknown_word_is_put_together_to_nothing(step: str, words: str):
    assert composed(question(step), words) == ""


def test_no_whole_answer_stands_for_two_answers_of_one_question():
    twice = []
    for row in WHOLE:
        said = [phrase for phrases in row["words"].values() for phrase in phrases]
        twice += [phrase for phrase in said if said.count(phrase) > 1]
    assert not twice


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("output_fuse", "good i think"),
        ("rack_suction", "below twenty"),
        ("rack_suction", "it's dropping from twelve"),
        ("receiver", "used to be forty"),
        ("receiver_again", "which one, there's two up here"),
        ("leak_search", "i got a beep by the valve but then nothing i'm going over it again"),
        ("consent", "close the door"),
        ("glass", "bubbles the other glass is full"),
        ("meter_before", "good i tested it at home"),
        ("high_air", "it's thirty one degrees c going in"),
    ],
)
def test_what_turns_dates_or_moves_an_answer_is_not_passed_over(step: str, words: str):
    assert meant(step, words).split(";")[0] in (*NOT_TAKEN, "remark") or "doubt" in meant(step, words)


@pytest.mark.parametrize(
    "words", ["i jumped it out", "put a bigger one in", "pulled it off the other one", "it held", "i didn't pull it"]
)
def test_no_bypass_and_nothing_left_undone_is_a_way_to_a_reading(words: str):
    assert not narrates(words)
    assert not verifies(words)
    assert not explains(words, False)
