"""The ways in which the readings of motor, supply, oil and pressure branches are said."""

import pytest

from assistant.call.procedure import all_steps
from assistant.language.audible import audible
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, AskFor, Meaning, Question

PSI = 0.491154
ASKED = "asked"
SAID = [
    # id, words, value; `ASKED`: understood, and a number is asked for
    ("control_volts", "two oh eight", 208.0), ("control_volts", "two hundred eight", 208.0),
    ("control_volts", "one twenty", 120.0), ("control_volts", "half a volt", 0.5), ("control_volts", "zero", 0.0),
    ("control_volts", "full voltage", ASKED), ("control_volts", "got power", ASKED), ("control_volts", "hot", ASKED),
    ("control_volts", "nothing", "none_present"), ("control_volts", "dead", "none_present"),
    ("contactor_coil_volts", "no volts", "none_present"), ("contactor_coil_volts", "flat", "none_present"),
    ("chain_point.supply", "bouncing forty to sixty", 50.0), ("chain_point.supply", "ghost", ASKED),
    ("chain_point.supply", "floating", ASKED), ("fuse_volts.a", "point three", 0.3), ("fuse_volts.b", "dead", "none_present"),
    ("starter_coil_ohms", "four ten", 410.0), ("starter_coil_ohms", "one ninety", 190.0),
    ("starter_coil_ohms", "open", "over_range"), ("starter_coil_ohms", "o l", "over_range"),
    ("starter_coil_ohms", "beeps", ASKED), ("winding_ohms.ab", "point three five", 0.35),
    ("winding_ohms.ab", "two and a half", 2.5), ("winding_ohms.bc", "short", ASKED), ("winding_ohms.ca", "continuity", ASKED),
    ("protector_string_ohms", "two eighty", 280.0), ("protector_string_ohms", "open", "over_range"),
    ("ground_megohms", "two hundred meg", 200.0), ("ground_megohms", "point five meg", 0.5),
    ("ground_megohms", "a thousand", 1000.0), ("ground_megohms", "two gig", 2000.0),
    ("ground_megohms", "over two thousand", "over_range"), ("ground_megohms", "off the scale", "over_range"),
    ("ground_megohms", "infinity", "over_range"), ("ground_megohms", "zero", "below_resolution"),
    ("ground_megohms", "grounded", "below_resolution"), ("ground_megohms", "dead short", "below_resolution"),
    ("shell_pressure", "twelve pounds", 12.0), ("shell_pressure", "flat", 0.0), ("shell_pressure", "in a vacuum", ASKED),
    ("shell_pressure", "five inches of vacuum", -round(5 * PSI, 2)), ("shell_pressure", "minus five", ASKED),
    ("crankcase_pressure", "twelve point five", 12.5), ("crankcase_pressure", "eight p s i", 8.0),
    ("oil_pump_pressure", "fifty five", 55.0), ("oil_pump_pressure", "pegged", "over_range"),
    ("reservoir_pressure", "twenty six", 26.0), ("discharge_pressure", "two twenty five", 225.0),
    ("discharge_pressure", "four hundred even", 400.0), ("cutout_pressure", "cut out at four hundred", 400.0),
    ("cutout_pressure", "set at three fifty", 350.0), ("control_trip_pressure", "opened at three ten", 310.0),
    ("discharge_pressure", "swinging between two hundred and two twenty", 210.0),
    ("suction_filter_drop", "three pounds", 3.0), ("suction_filter_drop", "none", 0.0),
    ("suction_filter_drop", "can't feel any", 0.0), ("suction_filter_drop", "half a pound", 0.5),
    ("crankcase_temperature", "ninety and a half", 90.5), ("ambient_temperature", "five below", -5.0),
    ("liquid_out_temperature", "ninety", 90.0), ("ambient_temperature", "freezing", ASKED),
    ("line_volts.ab", "four eighty", 480.0), ("line_volts.bc", "four sixty three", 463.0), ("line_volts.ca", "nothing", 0.0),
    ("line_volts.ab", "dead leg", ASKED), ("line_volts.ab", "nothing on c", ASKED),
    ("line_amps.a", "twenty three point five", 23.5), ("line_amps.a", "point nine", 0.9),
    ("line_amps.b", "nothing", "none_present"), ("line_amps.c", "in the locked rotor", "over_range"),
    ("starts_last_hour", "fourteen", 14.0), ("starts_last_hour", "none", 0.0), ("starts_last_hour", "a couple", 2.0),
    ("overload_state", "made", "closed"), ("overload_state", "not made", "open"), ("overload_state", "o l", "open"),
    ("rotation", "backwards", "reversed"), ("mechanical_state", "locked up", "seized"), ("drive_fault", "yep", "yes"),
    ("control_fuse", "blown", "blown"), ("phase_monitor_state", "tripped", "tripped"),
    ("oil_level", "half glass", "normal"), ("oil_level", "third", "normal"), ("oil_level", "over the top", "high"),
    ("oil_level", "can't see any", "low"), ("oil_level", "milky", "foaming"), ("oil_supply", "starved", "starved"),
    ("oil_supply", "no oil", "starved"), ("oil_supply", "frosted", "starved"), ("oil_added", "two quarts", 2.0),
    ("condenser_face", "matted", "fouled"), ("condenser_face", "cottonwood", "blocked"), ("condenser_face", "good", "clean"),
    ("condenser_face", "can't see through it", "blocked"), ("fan_rotation", "backwards", "backwards"),
    ("heat_reclaim", "off", "off"), ("control_reset", "won't hold", "will not hold"), ("control_reset", "it holds", "holds"),
    ("case_load", "iced up", "iced"), ("case_load", "frozen solid", "iced"), ("case_load", "in defrost", "off"),
    ("running_now", "it tripped", "just tripped"), ("running_now", "still running", "running"),
    ("receiver_level", "half full", 50.0), ("condenser_fans_running", "three of six", 3.0),
]  # fmt: skip
THREE = Question("line_amps.a", also=("line_amps.b", "line_amps.c"))


def value_of(meaning: Meaning) -> object:
    match meaning:
        case Answer(parts=parts) if len(parts) == 1:
            return parts[0].value
        case AskFor():
            return ASKED
    return meaning


@pytest.mark.parametrize(("id_", "words", "value"), SAID)
def test_what_a_technician_says_is_understood(id_: str, words: str, value: object):
    assert value_of(understand(Question(id_), words)) == value


@pytest.mark.parametrize("words", ["all balanced at twenty three", "all three twenty three", "twenty three on all three",
                                   "same on all three twenty three"])  # fmt: skip
def test_one_value_for_all_three_lines(words: str):
    meaning = understand(THREE, words)
    assert isinstance(meaning, Answer)
    assert [p.value for p in meaning.parts] == [23.0, 23.0, 23.0]
    assert all(p.doubt for p in meaning.parts)


@pytest.mark.parametrize("words", ["all balanced at twenty three", "twenty three on all three", "it tripped"])
def test_the_ear_listens_for_what_is_said_of_three_lines(words: str):
    strict = audible(THREE).strict
    assert strict is not None
    at = 0
    for word in words.split():
        at = strict[at][word]
    assert "" in strict[at]


@pytest.mark.parametrize("words", ["north store rack b three", "rack b three", "north rack b"])
def test_the_ear_listens_for_a_rack_with_the_name_of_the_only_site_before_it(words: str):
    local = {"rack": {"rack b": "b"}, "compressor": {"three": "three"}, "site": {"north store": "n", "north": "n"}}
    strict = audible(Question("rack", also=("compressor",), local=local)).strict
    assert strict is not None
    at = 0
    for word in words.split():
        at = strict[at][word]
    assert "" in strict[at]


@pytest.mark.parametrize(
    ("words", "count"), [("all of them", 6.0), ("all but one", 5.0), ("none", 0.0), ("both", 2.0)]
)
def test_fans_are_counted_against_those_that_are_fitted(words: str, count: float):
    fitted = {"condenser_fans_running": {"all": 6.0, "all of them": 6.0, "all but one": 5.0}}
    assert value_of(understand(Question("condenser_fans_running", local=fitted), words)) == count


@pytest.mark.parametrize("step", [s for s in all_steps() if s.tells], ids=lambda s: s.id)
def test_every_word_of_a_look_is_an_answer_to_it(step):
    question = Question("command", go_ahead=step.go_ahead)
    for word in step.tells:
        assert word in audible(question).phrases
        assert step.word(word) == word
