"""A technician asks back: what a good one reads, what a reading was, what a conclusion rests on, what comes next."""

from dataclasses import replace

import pytest

from assistant.profile import load_profile
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_said_not_safe import standing_at

ASKED = [
    ("injection_coil_failed", "coil", "what should it read?", "Four ten ohms by the site's list. What does this one read?"),
    ("injection_coil_failed", "coil", "is that normal?", "Four ten ohms by the site's list. What does this one read?"),
    ("oil low", "rack_suction", "what should it be", "The set point is ten. What does this one read?"),
    ("oil low", "dead_power", "what's good there?", "Up to three volts is dead. What does this one read?"),
    ("oil feed starved", "run_oil", "what should net oil be?", "twenty pounds or more over its crankcase"),
    ("winding open", "insulation", "what am i looking for?", "Five meg or more passes, under one fails."),
    ("injection_coil_failed", "pipe_temperature", "what should that read?", "I have no figure for that one."),
    ("injection_coil_failed", "coil", "what did I say the suction was?", "Rack suction twelve."),
    ("injection_coil_failed", "coil", "what was the discharge pressure again?", "Rack discharge two ten."),
    ("injection_coil_failed", "coil", "what's the discharge temperature?", "No discharge temperature is on record yet."),
    ("injection_coil_failed", "coil", "what's the suction set point?", "The set point is ten."),
    ("injection_coil_failed", "repaired", "why is the coil bad?", "Injection coil failed. Proven. It rests on: coil resistance"),
    ("injection_coil_failed", "repaired", "are you sure?", "coil resistance over range"),
    ("injection_coil_failed", "coil", "how do you know it's the coil?", "Nothing is concluded yet."),
    ("winding open", "repair_or_leave", "how do you know the winding's gone", "winding two to three over range"),
    ("injection_coil_failed", "coil", "what's next after this?", "What comes next hangs on this answer."),
    ("injection_coil_failed", "coil", "where's the truck?", "I can't answer that."),
]


@pytest.mark.parametrize(("fault", "step", "asked", "told"), ASKED)
def test_who_asks_back_is_answered_from_the_record_and_asked_again(fault: str, step: str, asked: str, told: str):
    talk = standing_at(fault, step)
    before = dict(talk.readings)
    prompt = talk.said.split(" | ")[-1]
    talk.hear(asked)
    assert told in talk.said
    assert talk.said.endswith(prompt.split(". ")[-1])
    assert talk.readings == before


def test_what_a_good_one_reads_is_told_in_the_sites_unit():
    talk = Talk(replace(load_profile(), units="si")).until(Rack("probe_fouled"), "rack_suction").hear("what should it be?")
    assert "The set point is point seven bar." in talk.said  # 10 psig is 0.69 bar


def test_nobody_invents_a_figure_that_the_site_has_not():
    talk = standing_at("winding open", "starts").hear("what should it read?")
    assert "I have no figure for that one." in talk.said


@pytest.mark.parametrize("again", ["say that again", "what was the question again", "what did you say"])
def test_who_wants_the_question_again_gets_no_reading(again: str):
    talk = standing_at("injection_coil_failed", "coil").hear(again)
    assert talk.said == "Lift one wire of the injection coil. Coil ohms?"
