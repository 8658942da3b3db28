"""A second hearing counts: refused values, rivals, other ways of saying it, a loud room."""

from datetime import timedelta

from assistant.call.effects import Listen
from assistant.call.facts import ReadingTaken
from assistant.call.heard import Heard, Unclear
from assistant.language.meaning import Answer, Part, Question
from tests.branch_rack import BranchRack
from tests.call.test_call import at
from tests.simulated import Rack
from tests.talk import Talk


def _question(talk: Talk) -> Question:
    last = talk.effects[-1]
    assert isinstance(last, Listen)
    return last.question


def _unclear(talk: Talk, **how: object) -> Talk:
    return talk.receive(Unclear(talk.now + timedelta(seconds=4), **how))  # type: ignore[arg-type]


def _loud(talk: Talk, words: str) -> Talk:
    return talk.receive(Heard(words, talk.now + timedelta(seconds=4), loud=True))


def test_a_value_refused_at_read_back_is_struck_out_of_the_next_hearing():
    talk = at("rack_suction").hear("fifty", sure=False).hear("no")
    assert _question(talk).refused == (50.0,)
    talk.hear("fifteen", sure=False)
    assert _question(talk).refused == (50.0,)
    talk.hear("no")
    assert _question(talk).refused == (50.0, 15.0)
    talk.hear("sixteen")
    assert talk.readings["rack_suction_pressure"] == 16


def test_what_it_may_have_been_goes_into_the_next_hearing():
    rivals = ((16.0, 0.5), (60.0, 0.4))
    talk = _unclear(at("rack_suction"), rivals=rivals)
    assert _question(talk).rivals == rivals
    talk.hear("sixteen", "one ninety")
    assert _question(talk).rivals == ()


def test_a_number_read_back_that_has_a_twin_is_told_apart():
    assert "Fifteen: one five, or five oh?" in at("rack_suction").hear("fifteen", sure=False).said
    assert "Fifty: five oh, or one five?" in at("rack_suction").hear("fifty", sure=False).said
    assert "Twelve. Correct?" in at("rack_suction").hear("twelve", sure=False).said


def test_a_teen_that_may_be_a_ten_is_asked_for_by_its_digits():
    talk = _unclear(at("rack_suction"), rivals=((50.0, 0.5), (15.0, 0.4)))
    assert "One five, or five oh?" in talk.said
    talk.hear("one five")
    assert talk.readings["rack_suction_pressure"] == 15


def test_what_to_say_differently_is_suggested():
    talk = _unclear(at("rack_suction"))
    assert talk.said.startswith("Say again, I need a number.")
    assert _unclear(talk).said.startswith("Say it digit by digit.")
    assert _unclear(talk).said.startswith("Say it digit by digit. Say skip this, or type it.")


def test_a_choice_not_understood_twice_is_told_its_words():
    talk = _unclear(_unclear(at("glass")))
    assert talk.said.startswith("Say ")
    assert "bubbles" in talk.said.split(".")[0]


def test_too_much_noise_is_said_with_what_may_help():
    said = _unclear(at("rack_suction"), too_loud=True).said
    assert said.startswith("It is too loud to hear you. Come closer, or say it digit by digit.")


def test_no_twelve_to_a_value_asked_back_takes_the_new_value():
    talk = at("rack_suction").hear("fifty", sure=False).hear("no , twelve")
    assert talk.readings["rack_suction_pressure"] == 12
    assert talk.asked == "rack_suction:rack_discharge_pressure"


def test_no_twelve_to_a_value_in_the_next_prompt_corrects_it():
    talk = at("rack_suction").hear("fifty")
    assert talk.readings["rack_suction_pressure"] == 50
    assert _question(talk).of == "rack_suction_pressure"
    asked = talk.asked
    talk.hear("no , twelve")
    assert talk.readings["rack_suction_pressure"] == 12
    assert talk.asked == asked
    corrected = [fact for _, fact in talk.facts if isinstance(fact, ReadingTaken) and fact.corrected]
    assert [(fact.id, fact.value) for fact in corrected] == [("rack_suction_pressure", 12.0)]


def test_no_twelve_heard_without_being_sure_is_asked_back_first():
    talk = at("rack_suction").hear("fifty").hear("no twelve", sure=False)
    assert "Correct?" in talk.said
    assert talk.readings["rack_suction_pressure"] == 50
    talk.hear("yes")
    assert talk.readings["rack_suction_pressure"] == 12


def test_a_no_to_that_leaves_the_reading_and_the_question_as_they_were():
    talk = at("rack_suction").hear("fifty")
    asked = talk.asked
    talk.hear("no twelve", sure=False).hear("no")
    assert talk.readings["rack_suction_pressure"] == 50
    assert talk.asked == asked
    assert _question(talk).asking != "rack_suction_pressure"
    assert not [fact for _, fact in talk.facts if isinstance(fact, ReadingTaken) and fact.corrected]


def test_another_number_instead_of_the_one_asked_back_corrects_the_reading_after_its_own_yes():
    talk = at("rack_suction").hear("fifty")
    asked = talk.asked
    talk.hear("no twelve", sure=False).hear("no thirteen", sure=False)
    assert talk.readings["rack_suction_pressure"] == 50
    talk.hear("yes")
    assert talk.readings["rack_suction_pressure"] == 13
    assert talk.asked == asked
    corrected = [fact for _, fact in talk.facts if isinstance(fact, ReadingTaken) and fact.corrected]
    assert [(fact.id, fact.value) for fact in corrected] == [("rack_suction_pressure", 13.0)]


def test_cancel_leaves_the_reading_that_was_to_be_replaced():
    talk = at("rack_suction").hear("fifty").hear("no twelve", sure=False).hear("cancel")
    assert talk.readings["rack_suction_pressure"] == 50
    assert _question(talk).asking != "confirm"


def test_in_a_loud_room_every_number_is_asked_back_and_that_is_said_once():
    talk = _loud(_loud(at("rack_suction"), "repeat"), "twelve")
    assert "It is loud here, I will ask back every number." in talk.said
    assert "Twelve. Correct?" in talk.said
    assert "rack_suction_pressure" not in talk.readings
    _loud(talk, "yes")
    assert talk.readings["rack_suction_pressure"] == 12
    assert "It is loud here" not in _loud(talk, "one ninety").said


def test_one_loud_answer_does_not_make_a_loud_room():
    talk = _loud(at("rack_suction"), "twelve")
    assert talk.readings["rack_suction_pressure"] == 12


def test_a_room_that_falls_quiet_is_believed_again():
    talk = _loud(_loud(at("rack_suction"), "repeat"), "repeat")
    talk.hear("repeat", "repeat", "twelve")
    assert talk.readings["rack_suction_pressure"] == 12


def test_why_at_a_caution_says_why_that_caution_is_given():
    talk = Talk().until(Rack("none"), "machine_look/restart+hot_line").hear("why")
    assert "It stays at 200 to 300 degrees for 20 to 40 minutes after a trip." in talk.said
    assert "Bubbles" not in talk.said


def test_a_no_to_a_caution_is_asked_for_the_one_word():
    assert Talk().until(Rack("none"), "machine_look/restart+hot_line").hear("no").said == "Say understood, or hold on."


def test_by_sound_what_is_doubtful_in_a_breath_makes_all_of_it_so():
    talk = at("rack_suction")
    parts = (Part("rack_suction_pressure", 11.0, "psig"), Part("rack_discharge_pressure", 560.0, "psig"))
    talk.receive(Heard("eleven five sixty", talk.now + timedelta(seconds=4), meaning=Answer(parts)))
    assert talk.said.endswith("Correct?")
    assert "eleven" in talk.said
    talk.hear("no")
    assert not {"rack_suction_pressure", "rack_discharge_pressure"} & set(talk.readings)


def test_by_sound_a_value_that_was_refused_is_asked_back_when_it_is_heard_once_more():
    talk = at("how_many_off")
    parts = (Part("protection_shown", "none shown"), Part("tripped_count", 3.0), Part("alarm_minutes_ago", 120.0, "min"))
    for sure in (False, True):
        talk.receive(Heard("not three two hours", talk.now + timedelta(seconds=4), sure=sure, meaning=Answer(parts)))
        assert talk.said.endswith("Correct?")
        talk.hear("no")
    assert "tripped_count" not in talk.readings


def test_typed_each_of_several_counts_by_itself():
    talk = at("rack_suction").hear("eleven , five sixty")
    assert talk.readings["rack_suction_pressure"] == 11
    assert "rack_discharge_pressure" not in talk.readings


def test_by_ear_a_breath_that_says_another_value_than_stands_on_record_is_asked_back_whole():
    rack = BranchRack("discharge drops when it runs")
    talk = Talk().until(rack, "high_liquid_out")
    before = talk.readings["rack_discharge_pressure"]
    parts = (Part("liquid_out_temperature", 4.0, "F"), Part("rack_discharge_pressure", 91.0, "psig"))
    talk.receive(Heard("four head ninety one", talk.now + timedelta(seconds=4), meaning=Answer(parts)))
    assert talk.said.endswith("Four degrees. Correct?")
    talk.hear("no")
    assert "liquid_out_temperature" not in talk.readings
    assert talk.readings["rack_discharge_pressure"] == before


def test_by_ear_a_later_reading_of_the_same_beside_an_answer_is_asked_back_alone():
    talk = Talk().until(BranchRack("discharge drops when it runs"), "high_liquid_out")
    head = talk.readings["rack_discharge_pressure"]
    assert isinstance(head, float)
    parts = (Part("liquid_out_temperature", 91.0, "F"), Part("rack_discharge_pressure", head + 1, "psig"))
    talk.receive(Heard("ninety one head a pound more", talk.now + timedelta(seconds=4), meaning=Answer(parts)))
    assert "Ninety one degrees." in talk.said
    assert "Instead of" in talk.said
    talk.hear("yes")
    assert (talk.readings["liquid_out_temperature"], talk.readings["rack_discharge_pressure"]) == (91.0, head + 1)
