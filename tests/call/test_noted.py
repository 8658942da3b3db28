"""Notes in one breath, what is told while the call waits, and how a call is asked to end. The project's own sentences."""

import pytest

from assistant.call.facts import NoteTaken
from tests.simulated import Rack
from tests.talk import Talk


def notes(talk: Talk) -> list[str]:
    return [fact.text for _, fact in talk.facts if isinstance(fact, NoteTaken)]


@pytest.mark.parametrize(("said", "note"), [
    ("note: old coil cover was cracked, water got in", "old coil cover was cracked, water got in"),
    ("make a note, the lead was chafed on the bracket", "the lead was chafed on the bracket"),
    ("please, note that the fitting was weathered", "the fitting was weathered"),
    ("can you take a note, door gasket is torn", "door gasket is torn"),
])  # fmt: skip
def test_a_note_is_told_in_one_breath_and_the_question_stands(said: str, note: str):
    talk = Talk().until(Rack("injection_coil_failed"), "glass").hear(said)
    assert notes(talk) == [note]
    assert talk.said.startswith("Noted.")
    assert talk.asked.startswith("glass")


@pytest.mark.parametrize("said", ["make a note", "can you take a note for me", "note"])
def test_the_word_alone_waits_for_the_note(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "glass").hear(said)
    assert (talk.said, notes(talk)) == ("Go ahead.", [])


@pytest.mark.parametrize("said", ["note that somebody is hurt", "make a note, the detector is going off"])
def test_what_concerns_safety_is_no_mere_note(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "glass").hear(said)
    assert "Noted." not in talk.said
    assert not talk.asked.startswith("glass") or "emergency" in talk.said


def waiting() -> Talk:
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first")
    talk.waits_by_itself = False
    return talk.hear("suction ten, line two twenty")


def test_a_reading_told_while_the_round_is_waited_for_is_noted_and_asked_for_at_its_time():
    talk = waiting()
    assert "Next in" in talk.said
    talk.hear("suction eleven, discharge two nineteen")
    assert notes(talk) == ["suction eleven, discharge two nineteen"]
    assert "Next in" in talk.said


def test_a_line_over_its_trip_stops_the_machine_whenever_it_is_told():
    talk = waiting().hear("suction eleven, discharge two ninety")
    assert notes(talk) == []
    assert talk.asked.split(":")[0] == "stop" or "Stop" in talk.said


@pytest.mark.parametrize("said", [
    "She's comin' down already, pipe's at one ninety and droppin', suction thirteen, head two ten",
    "head's on two hundred and eight already, like a kid off a sugar rush",
])  # fmt: skip
def test_readings_in_a_story_while_the_round_is_waited_for_are_not_lost(said: str):
    talk = waiting().hear(said)
    assert notes(talk) == [said]
    assert talk.readings["watch.suction_pressure"] == 10.0


@pytest.mark.parametrize("said", ["how much longer do we have to wait", "how long", "how many more minutes"])
def test_who_asks_how_long_hears_how_long(said: str):
    assert "Next in" in waiting().hear(said).said


@pytest.mark.parametrize("said", [
    "i'm done here, finish up", "you know what, i gotta run, let's wrap this up", "right, i'm off, close it up",
    "i must go to another store, finish the job please", "let's finish the job",
])  # fmt: skip
@pytest.mark.parametrize("yes", ["yep, go ahead", "aye, go on", "yes please do"])
def test_a_call_is_ended_in_peoples_own_words(said: str, yes: str):
    talk = waiting().hear(said)
    assert talk.said.endswith("Make safe and close the call?")
    assert talk.hear(yes).asked.startswith("parts")


def test_a_go_ahead_says_nothing_of_what_may_not_be_safe():
    talk = Talk().until(Rack("injection_coil_failed"), "covers").hear("the wobbly thing sits sideways")
    assert talk.hear("yes, go ahead").asked == "covers:confirm"


def test_one_reading_asked_alone_is_not_called_by_one_of_its_answers():
    talk = Talk().until(Rack("injection_coil_failed"), "state_now").hear("three others running")
    assert talk.said.endswith("This one: running, just tripped or off?")


@pytest.mark.parametrize(("said", "note"), [
    ("twelve suction, two twenty five on the line, an' the head's come down to two thirty", "and the head's come down"
        " to two thirty"),
    ("twelve, two twenty five, amps are thirty", "amps are thirty"),
])  # fmt: skip
def test_a_reading_that_nobody_asked_for_is_noted_beside_those_of_the_round(said: str, note: str):
    talk = Talk().until(Rack("injection_coil_failed"), "watch_first").hear(said)
    assert (talk.readings["watch.suction_pressure"], talk.readings["watch.discharge_temperature"]) == (12.0, 225.0)
    assert notes(talk) == [note]


def test_what_is_told_beside_a_line_over_its_trip_changes_nothing_of_the_stop():
    talk = Talk().until(Rack("injection_coil_failed"), "watch_first").hear("twelve, two ninety, head's two thirty")
    assert "Over its trip" in talk.said


def test_a_typed_word_on_hold_is_answered_and_continue_may_have_more_behind_it():
    talk = Talk().until(Rack("injection_coil_failed"), "coil").hear("hold on")
    assert talk.hear("hello?").said == "Holding. Say continue."
    assert talk.hear("continue. where am i?").asked.startswith("coil")


@pytest.mark.parametrize("said", ["okay, it sounds good", "grand, i'll have a brew then", "anything to watch for"])
def test_talk_in_a_wait_doubts_nothing(said: str):
    assert waiting().hear(said).said == "Next in five minutes."


def test_trouble_in_a_wait_is_none_of_it():
    assert waiting().hear("something is smoking over there").said.startswith("If it is an emergency, say emergency.")
