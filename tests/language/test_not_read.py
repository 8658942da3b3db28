"""Sentences with a value in them that nobody read here and now: none may count. The project's own reading of how people talk."""

import pytest

from assistant.language.meaning import Answer, Command, Question
from assistant.language.pieces import understand_in_pieces

OF_A_NUMBER = (
    "i doubt it's {}", "far from {}", "nowhere near {}", "we thought it was {}", "last time it was {}", "it used to be {}",
    "if it's {} i'll tell you", "tell me if it's {}", "could be {}", "{} would be nice", "i wish it was {}", "make it {}",
    "let me get it {}", "set to {}", "the setting is {}", "trips at {}", "the meter only goes to {}", "the book says {}",
    "it says {} on the label", "page {}", "the neighbor's {}", "the other one is {}", "{} on the other rack",
    "it's {} degrees outside", "there are {} of us", "it's {} o'clock", "it went {} then changed", "it's down from {}",
    "it dropped {}", "it went up {}", "it's climbing past {}", "{} to go", "{} too many", "an extra {}", "subtract {}",
    "normal's {}", "normally it's {}", "on a good day {}", "i was expecting {}", "i'd expect {}", "aiming for {}",
    "it's on its way to {}", "it isn't {}", "it started at {}", "it peaked at {}", "it tripped at {}", "{} at the next store",
    "my partner has {} on his", "he gets {}", "could've been {}", "has to be {}", "it's {} on the printout", "it's rated {}",
    "twice {}", "{} short", "off by {}", "down {}", "up {}", "it takes {} to open", "it'd be {}", "i'll have {} in a minute",
    "ask me again at {}", "wait till it's {}", "just shy of {}", "past {}", "passing {}",
)  # fmt: skip
OF_A_CHOICE = (
    "i doubt it's {}", "far from {}", "we thought it was {}", "last time it was {}", "it went {} then changed", "make it {}",
    "the book says {}", "tell me if it's {}", "if it's {} i'll tell you", "the neighbor's {}", "{} on the other rack",
)  # fmt: skip
OF_A_DEED = (
    "i doubt it's {}", "kind of {}", "{} my foot", "{} i hope", "hope it's {}", "i'll be {} in a minute", "{} when i'm ready",
    "can't get it {}", "{} and then some came loose", "you're {}", "about to be {}", "{} on rack b", "{} or so i'm told",
)  # fmt: skip


def taken(asked: Question, words: str) -> bool:
    said = understand_in_pieces(asked, words)
    return (isinstance(said, Command) and said.name == "continue") or (isinstance(said, Answer) and not said.parts[0].doubt)


@pytest.mark.parametrize(("asked", "value"), [
    ("product_temperature", "ninety"), ("suction_pressure", "twelve"), ("injection_coil_ohms", "four ten"),
    ("injection_coil_volts", "one twenty"),
    ("line_amps.a", "twelve"),
])  # fmt: skip
def test_a_number_that_nobody_read_here_and_now_is_none(asked: str, value: str):
    assert taken(Question(asked), f"it's {value}")
    assert [words for way in OF_A_NUMBER if taken(Question(asked), words := way.format(value))] == []


@pytest.mark.parametrize(("asked", "value"), [
    ("product_state", "holding"), ("running_now", "running"), ("sight_glass", "full"), ("controller_mode", "auto"),
    ("oil_level", "low"),
])  # fmt: skip
def test_a_look_that_nobody_took_here_and_now_is_none(asked: str, value: str):
    assert taken(Question(asked), f"it's {value}")
    assert [words for way in OF_A_CHOICE if taken(Question(asked), words := way.format(value))] == []


def test_a_deed_that_is_not_done_is_none():
    assert taken(Question("command"), "it's done")
    assert [words for way in OF_A_DEED if taken(Question("command"), words := way.format("done"))] == []


@pytest.mark.parametrize(("asked", "words", "value"), [
    ("product_temperature", "it's ninety if you ask me", 90.0), ("ambient_temperature", "it's ninety outside", 90.0),
    ("head_set_point", "it's set to one ninety", 190.0),
    ("others_discharge_temperature", "the neighbor's one ninety nine", 199.0),
    ("drier_temperature_drop", "it dropped three degrees", 3.0), ("receiver_level", "it has come up to fifty five percent", 55.0),
])  # fmt: skip
def test_what_only_sounds_like_it_is_taken(asked: str, words: str, value: float):
    said = understand_in_pieces(Question(asked), words)
    assert isinstance(said, Answer)
    assert said.parts[0].value == value


def test_no_the_other_truck_is_no_answer():
    assert not taken(Question("lock_still_on"), "no the other truck the white one")


def test_of_two_answers_in_two_words_neither_is_lost():
    said = understand_in_pieces(Question("running_now", ("running_count",)), "off one")
    assert isinstance(said, Answer)
    assert [part.value for part in said.parts] == ["off", 1.0]


@pytest.mark.parametrize(("asked", "also", "words"), [
    ("line_volts.ab", ("line_volts.bc", "line_volts.ca"), "four eighty to ground"),
    ("winding_ohms.ab", ("winding_ohms.bc", "winding_ohms.ca"), "one point one to ground"),
    ("fuse_volts.a", ("fuse_volts.b", "fuse_volts.c"), "the last one's four eighty"),
    ("oil_pump_pressure", ("crankcase_pressure",), "it's thirty three above crankcase"),
    ("protection_shown", ("tripped_count", "alarm_minutes_ago"), "two on discharge and one on oil"),
    ("line_amps.a", ("line_amps.b", "line_amps.c"), "twelve twelve no thirteen twelve"),
])  # fmt: skip
def test_what_was_measured_elsewhere_than_asked_is_none_of_several(asked: str, also: tuple[str, ...], words: str):
    assert not taken(Question(asked, also), words)


@pytest.mark.parametrize(("asked", "also", "words", "value"), [
    ("line_volts.ab", ("line_volts.bc", "line_volts.ca"), "two ten between one and two", {"line_volts.ab": 210.0}),
    ("fuse_volts.a", ("fuse_volts.b", "fuse_volts.c"), "four eighty on the middle one", {"fuse_volts.b": 480.0}),
    ("fuse_volts.a", ("fuse_volts.b", "fuse_volts.c"), "four eighty on the third", {"fuse_volts.c": 480.0}),
    ("watch.suction_pressure", ("watch.discharge_temperature",), "fourteen and two twenty no two thirty",
     {"watch.suction_pressure": 14.0, "watch.discharge_temperature": 230.0}),
])  # fmt: skip
def test_one_of_several_is_the_one_that_was_named(asked: str, also: tuple[str, ...], words: str, value: dict[str, float]):
    said = understand_in_pieces(Question(asked, also), words)
    assert isinstance(said, Answer)
    assert {part.id: part.value for part in said.parts} == value


TALK = (
    "i parked in bay four", "call me back in five", "see you at eight", "this thing weighs forty pounds", "i got three kids",
    "tell him i'll be done by nine", "i've been up since four", "i owe you ten bucks", "my phone's dead",
    "the truck's low on gas", "he's running late", "the parking lot's full", "my knee's cold", "the elevator's stuck",
    "the milk is warm", "good for you", "i'm closed on sundays", "the manager's gone home", "it's a quarter past two",
    "it's hot in here",
)  # fmt: skip


@pytest.mark.parametrize("said", TALK)
def test_talk_with_a_colleague_is_no_answer(said: str):
    asked = (
        *(Question(id_) for id_ in ("injection_coil_ohms", "drier_temperature_drop", "oil_level", "sight_glass")),
        Question("running_now", ("running_count",)), Question("command", go_ahead=("tripped", "not tripped"), look=True),
    )  # fmt: skip
    meanings = [understand_in_pieces(question, said) for question in asked]
    taken = [m for m in meanings if isinstance(m, Answer) or (isinstance(m, Command) and m.name == "continue")]
    assert not [m for m in taken if not isinstance(m, Answer) or not all(part.doubt for part in m.parts)]


@pytest.mark.parametrize("said", ["up to sixty", "the controller thinks it's sixty", "sixty if you believe the gauge",
                                  "he read sixty", "it should read sixty"])  # fmt: skip
def test_what_somebody_else_makes_of_it_is_asked_back(said: str):
    meaning = understand_in_pieces(Question("receiver_level"), said)
    assert not isinstance(meaning, Answer) or all(part.doubt for part in meaning.parts)


def test_what_has_come_up_to_a_value_is_at_it():
    meaning = understand_in_pieces(Question("receiver_level"), "it's up to sixty now")
    assert isinstance(meaning, Answer)
    assert [(part.value, part.doubt) for part in meaning.parts] == [(60.0, "")]


@pytest.mark.parametrize("said", ["off, other three are running", "three are off", "the other two", "three left running"])
def test_how_many_run_is_no_time(said: str):
    assert not isinstance(understand_in_pieces(Question("alarm_minutes_ago"), said), Answer)


@pytest.mark.parametrize(("said", "minutes"), [
    ("twenty minutes, the other three are running", 20.0), ("about an hour, other two are still on", 60.0),
    ("two hours twenty minutes", 140.0), ("an hour and ten minutes", 70.0),
])  # fmt: skip
def test_a_time_stands_beside_how_many_run(said: str, minutes: float):
    meaning = understand_in_pieces(Question("alarm_minutes_ago"), said)
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == [minutes]
