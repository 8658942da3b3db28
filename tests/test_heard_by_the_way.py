"""What concerns safety is listened for at every question: a technician cries out what nobody asked for."""

from datetime import timedelta

import pytest

from assistant.call.heard import Heard
from assistant.language.by_the_way import by_the_way
from assistant.language.grammar import understand
from assistant.language.meaning import Question, Remark
from tests.simulated import Rack
from tests.talk import Talk

SUCTION = Question("rack_suction_pressure")


@pytest.mark.parametrize("phrase", by_the_way())
def test_every_phrase_that_is_listened_for_says_typed_what_it_says_by_sound(phrase: str):
    about = by_the_way()[phrase]
    assert about.about
    assert understand(SUCTION, phrase) == about or understand(Question("command"), phrase) == about


def _doubtful(talk: Talk, words: str, about: str) -> Talk:
    """Said by sound, and not heard surely."""
    return talk.receive(Heard(words, talk.now + timedelta(seconds=4), sure=False, confidence=0.4, meaning=Remark(about)))


def test_what_was_not_heard_surely_is_asked_back_and_counts_on_a_yes():
    talk = Talk().until(Rack("module_no_output"), "start")
    _doubtful(talk, "the cover's still off", "panel_cover")
    assert talk.said == "The cover's still off. Is that so?"
    assert "panel_cover" not in talk.open
    talk.hear("yes")
    assert "panel_cover" in talk.open
    assert "Then no start. First the covers on." in talk.said
    assert talk.to_the_seal(Rack("module_no_output")).broken() == ()


def test_a_no_leaves_everything_as_it_was():
    talk = Talk().until(Rack("module_no_output"), "start")
    asked = talk.asked
    _doubtful(talk, "the jumper's still in", "jumper_fitted")
    talk.hear("no")
    assert (talk.asked, talk.open) == (asked, set())
    assert talk.broken() == ()


def test_said_again_it_is_asked_back_again():
    talk = Talk().until(Rack("module_no_output"), "start")
    _doubtful(talk, "the cover's still off", "panel_cover")
    talk.hear("say again")
    assert "Is that so?" in talk.said


@pytest.mark.parametrize(("fault", "at", "words", "about", "answer"), [
    ("injection_coil_failed", "rack_suction", "somebody's hurt", "distress", "If it is an emergency, say emergency."),
    ("injection_coil_failed", "rack_suction", "i'm dizzy", "air", "Out, into fresh air."),
    ("module_no_output", "feed", "kill it", "window", "Power off."),
    ("module_no_output", "feed", "somebody's in the panel", "others_clear", "Everybody out. Power off first."),
    ("module_no_output", "feed", "the detector's going off", "alarm", "Stay out. Ventilate from outside."),
])  # fmt: skip
def test_where_somebody_may_be_hurt_and_in_the_live_window_nothing_is_asked_first(
    fault: str, at: str, words: str, about: str, answer: str
):
    talk = Talk().until(Rack(fault), at)
    assert answer in _doubtful(talk, words, about).said
    assert talk.broken() == ()


def test_what_waits_for_a_yes_outlives_a_kill_and_is_asked_before_anything_goes_on():
    talk = Talk().until(Rack("module_no_output"), "start")
    _doubtful(talk, "the jumper's still in", "jumper_fitted").kill(after_s=60)
    assert talk.said.endswith("The jumper's still in. Is that so?")
    talk.hear("yes")
    assert "jumper_fitted" in talk.open
    assert talk.to_the_seal(Rack("module_no_output")).broken() == ()


def test_a_second_doubt_does_not_put_the_first_out_of_mind():
    talk = Talk().until(Rack("module_no_output"), "start")
    _doubtful(talk, "the cover's still off", "panel_cover")
    _doubtful(talk, "somebody's in the panel", "others_clear").hear("no")
    assert talk.said.endswith("The cover's still off. Is that so?")
    assert "panel_cover" in talk.hear("yes").open


def test_a_doubt_is_neither_skipped_nor_lost_to_an_emergency():
    talk = Talk().until(Rack("module_no_output"), "start")
    _doubtful(talk, "the cover's still off", "panel_cover").hear("skip this")
    assert talk.said == "Yes or no first. | The cover's still off. Is that so?"
    talk.hear("emergency", "continue", "yes", "yes")
    assert talk.said.endswith("The cover's still off. Is that so?")
    assert "panel_cover" in talk.hear("yes").open
    assert talk.broken() == ()
