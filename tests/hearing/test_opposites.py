"""A deed is not taken where the second ear hears its opposite as likely: the grammar of a deed holds no opposite."""

import pytest

from assistant.hearing.decision import ACCEPTED, UNCLEAR, judge
from assistant.hearing.guesses import Guess, Opinion
from assistant.hearing.opposites import opposite_near
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Meaning, Part, Question
from tests.hearing.test_decision import _Says, _utterance

CLIPPED: Meaning = Answer((Part("leads_clipped", True),))


@pytest.mark.parametrize(("taken", "own"), [
    ("leads are on", "leads are off"), ("it's in", "it's out"), ("cover is on", "cover is off still"), ("done", "not done"),
    ("it's locked", "it isn't locked"), ("all open", "all closed"),
])  # fmt: skip
def test_the_opposite_or_a_denial_as_likely_speaks_against_it(taken: str, own: str):
    assert opposite_near(CLIPPED, taken, -0.5, [Guess(own, -1.2)])
    assert not opposite_near(CLIPPED, taken, -0.5, [Guess(own, -4.0)])


@pytest.mark.parametrize("own", ["leads are on", "leads on", "the leads are on", "leads all on"])
def test_the_same_in_other_words_does_not(own: str):
    assert not opposite_near(CLIPPED, "leads are on", -0.5, [Guess(own, -0.1)])


def test_far_likelier_words_speak_against_it_whatever_they_say():
    assert opposite_near(CLIPPED, "leads are on", -5.1, [Guess("leads are on order", -0.3)])
    assert not opposite_near(CLIPPED, "leads are on", -3.1, [Guess("leads are on order", -0.3)])


def test_a_choice_has_its_opposite_beside_it():
    assert not opposite_near(Answer((Part("running_now", "off"),)), "it's off", -0.5, [Guess("it's on", -0.4)])


@pytest.mark.parametrize(("opposite", "status"), [(-0.3, UNCLEAR), (-7.0, ACCEPTED)])
def test_leads_off_are_not_leads_on_because_the_grammar_has_these_alone(opposite: float, status: str):
    asked, taken, own = Question("leads_clipped"), "leads are on", "leads are off"
    assert understand(asked, taken) == CLIPPED
    scores = {taken: -1.0}
    opinion = Opinion(scores, {taken: -3.0}, (Guess(own, opposite),))
    found = judge(asked, _utterance([[(taken, 0.0)], [(taken, 0.0)]], 25.0), _Says(opinion))
    assert found is not None
    assert found.status == status
