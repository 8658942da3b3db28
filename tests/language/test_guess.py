"""What was not understood and names one answer is asked back with it, and never counts before a yes."""

import pytest

from assistant.language.guess import guessed
from assistant.language.meaning import Answer, NotUnderstood, Question
from tests.simulated import Rack
from tests.talk import Talk


@pytest.mark.parametrize(
    ("id_", "words", "value"),
    [
        ("sight_glass", "the thing over here looks bubbly as anything today boss", "bubbles"),
        ("condenser_face", "whole back row of that old coil got cottonwood stuck upon every inch", "blocked"),
        ("receiver_level", "that little bob thing floats up by sixty percent yonder", 60.0),
        ("discharge_pressure", "the big old needle hops round two ten pounds mostly", 210.0),
    ],
)
def test_an_answer_named_among_words_that_are_not_known_is_asked_back(id_: str, words: str, value: object):
    meaning = guessed(Question(id_), words)
    assert isinstance(meaning, Answer)
    assert [(part.value, bool(part.doubt)) for part in meaning.parts] == [(value, True)]


@pytest.mark.parametrize(
    ("id_", "words"),
    [
        ("locked_out", "that there locked thing over yonder"),
        ("covers_on", "covers on yonder bench there"),
        ("dead_volts.power", "thing reads zero volts over yonder"),
        ("room_safe", "air smells safe yonder"),
        ("sight_glass", "bubbles or full or something"),
        ("sight_glass", "hey is yonder glass full of bubbles"),
        ("sight_glass", "never saw bubbles yonder"),
        ("receiver_level", "compressor three took forty minutes yonder"),
        ("receiver_level", "passing over this one yonder"),
        ("receiver_level", "between thirty yonder and forty"),
    ],
)
def test_what_safety_hangs_on_two_answers_a_denial_and_a_question_are_not_guessed(id_: str, words: str):
    assert guessed(Question(id_), words) == NotUnderstood()


def test_a_guess_counts_only_once_it_was_confirmed():
    talk = Talk().until(Rack("probe_fouled"), "glass")
    talk.hear("it's kind of fizzy, i'd say")
    assert talk.said.startswith("Bubbles. Correct?")
    assert "sight_glass" not in talk.readings

    talk.hear("yes")
    assert talk.readings["sight_glass"] == "bubbles"
