"""What the trade says, and what it means to the question that was asked."""

import re
from datetime import datetime

import pytest

from assistant.language import phrasebook
from assistant.language.elapsed import by_the_clock
from assistant.language.grammar import understand
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Value,
)
from assistant.language.offered import choices, phrases
from assistant.language.pieces import understand_in_pieces
from assistant.language.vocabulary import vocabulary

NOT = NotUnderstood()
SAY = AskFor("Say the number.")

VALUES: list[tuple[str, str, Value]] = [
    ("fit_to_start", "good to go", True),
    ("alarm_minutes_ago", "twenty minutes", 20.0),
    ("alarm_minutes_ago", "an hour and a half", 90.0),
    ("alarm_minutes_ago", "half an hour ago", 30.0),
    ("alarm_minutes_ago", "just now", 0.0),
    ("tripped_count", "three of four", 3.0),
    ("tripped_count", "just this one", 1.0),
    ("tripped_count", "none", 0.0),
    ("tripped_count", "both", 2.0),
    ("starts_last_hour", "fourteen starts", 14.0),
    ("follow_up_in_hours", "two days", 48.0),
    ("controller_calls", "she's running", "yes"),
    ("ventilation_running", "off", "no"),
    ("ventilation_running", "down", "no"),
    ("leak_found", "negative", "no"),
    ("leak_found", "yep", "yes"),
    ("injection_coil_volts", "two oh eight", 208.0),
    ("injection_coil_volts", "it's two hundred eight volts", 208.0),
    ("injection_coil_volts", "point three", 0.3),
    ("injection_coil_volts", "half a volt", 0.5),
    ("injection_coil_volts", "zero", 0.0),
    ("injection_coil_volts", "nothing", "none_present"),
    ("injection_coil_volts", "dead", "none_present"),
    ("injection_coil_volts", "208", 208.0),
    ("dead_volts.power", "point two", 0.2),
    ("dead_volts.control", "zero", 0.0),
    ("probe_ohms", "ten k", 10_000.0),
    ("probe_ohms", "ten point five k", 10_500.0),
    ("probe_ohms", "one point two meg", 1_200_000.0),
    ("probe_ohms", "twelve hundred", 1200.0),
    ("probe_ohms", "a hundred and forty seven k", 147_000.0),
    ("probe_ohms", "O L", "over_range"),
    ("probe_ohms", "no reading", "over_range"),
    ("probe_ohms.module_end", "dead short", "below_resolution"),
    ("probe_ohms.cleaned", "zero", "below_resolution"),
    ("injection_coil_ohms", "four ten", 410.0),
    ("winding_ohms.ab", "point three five", 0.35),
    ("winding_ohms.ab", "two and a half", 2.5),
    ("winding_ohms.bc", "open", "over_range"),
    ("injection_coil_ohms", "zero ohms", 0.0),
    ("ground_megohms", "two hundred meg", 200.0),
    ("ground_megohms", "point five meg", 0.5),
    ("ground_megohms", "two gig", 2000.0),
    ("ground_megohms", "a thousand", 1000.0),
    ("ground_megohms", "off the scale", "over_range"),
    ("ground_megohms", "grounded", "below_resolution"),
    ("ground_megohms", "zero", "below_resolution"),
    ("suction_pressure", "twelve pounds", 12.0),
    ("suction_pressure", "eight psi", 8.0),
    ("suction_pressure", "flat", 0.0),
    ("suction_pressure", "five inches of vacuum", -2.46),
    ("suction_pressure", "five inches", -2.46),
    ("discharge_pressure", "four hundred even", 400.0),
    ("discharge_pressure", "two ten", 210.0),
    ("discharge_pressure", "pegged", "over_range"),
    ("cutout_pressure", "cut out at four hundred", 400.0),
    ("suction_filter_drop", "three pounds", 3.0),
    ("drier_temperature_drop", "two degrees", 2.0),
    ("suction_filter_drop", "half a pound", 0.5),
    ("suction_temperature", "minus twenty five", -25.0),
    ("suction_temperature", "negative twelve", -12.0),
    ("suction_temperature", "five below", -5.0),
    ("discharge_temperature", "two oh one", 201.0),
    ("suction_temperature", "ninety and a half", 90.5),
    ("line_volts.ab", "four sixty three", 463.0),
    ("line_amps.a", "twenty three point five", 23.5),
    ("line_amps.a", "nothing", "none_present"),
    ("reset_device", "somebody took it", "missing"),
    ("reset_device", "magnet's gone", "missing"),
    ("reset_history", "every week", "often"),
    ("reset_history", "no idea", "unknown"),
    ("trip_spread", "no idea", "unknown"),
    ("probe_condition", "carboned up", "fouled"),
    ("probe_condition", "hanging out", "loose"),
    ("injection_feed", "freezing up", "feeding"),
    ("injection_feed", "spitting", "weak"),
    ("injection_feed", "no frost", "dry"),
    ("injection_after", "leaking by", "feeding"),
    ("sight_glass", "clear and full", "full"),
    ("sight_glass", "milky", "bubbles"),
    ("condenser_face", "cottonwood", "blocked"),
    ("condenser_face", "matted", "fouled"),
    ("case_load", "frozen solid", "iced"),
    ("oil_level", "over the top", "high"),
    ("oil_level", "can't see any", "low"),
    ("oil_supply", "no oil", "starved"),
    ("overload_state", "not made", "open"),
    ("overload_state", "o l", "open"),
    ("refrigerant_added", "twenty three pounds", 23.0),
    ("refrigerant_added", "ten four ounces", 10.25),
    ("refrigerant_added", "none", 0.0),
    ("locked_out", "mine's on", True),
    ("locked_out", "someone else's is on there", "someone_else"),
    ("jumper_removed", "it's out", True),
    ("jumper_removed", "off", True),
    ("close_consent", "close the call", True),
    ("running_now", "just tripped", "just tripped"),
    ("chain_dead_check", "high pressure", "high pressure"),
    ("phase_monitor_state", "not fitted", "not fitted"),
    ("drive_hertz", "not fitted", "not_fitted"),
    ("module_output_volts", "can't measure it", "not_measurable"),
    ("receiver_level", "forty percent", 40.0),
    ("note", "the fan belt is worn", "the fan belt is worn"),
]


@pytest.mark.parametrize(("asking", "words", "value"), [row for row in VALUES if row[2] != "not fitted"])
def test_a_technicians_way_of_saying_it_is_the_value(asking: str, words: str, value: Value) -> None:
    unit = vocabulary()[asking].unit("us") if isinstance(value, float) else None
    assert understand(Question(asking), words) == Answer((Part(asking, value, unit),))


DOUBTED: list[tuple[str, str, Value]] = [
    ("tripped_count", "a couple", 2.0),
    ("probe_ohms", "five two fifty", 5250.0),
    ("pump_down_low", "pulls to twenty", -9.82),
    ("drier_temperature_drop", "can't feel any", 0.0),
    ("line_volts.bc", "nothing", 0.0),
    ("line_amps.b", "in the locked rotor", "over_range"),
    ("suction_pressure", "minus two pounds", -2.0),
]


@pytest.mark.parametrize(("asking", "words", "value"), DOUBTED)
def test_what_may_mean_something_else_is_asked_back(asking: str, words: str, value: Value) -> None:
    meaning = understand(Question(asking), words)
    assert isinstance(meaning, Answer)
    assert meaning.parts[0].value == value
    assert meaning.parts[0].doubt.endswith("?")


REFUSED: list[tuple[str, str, Meaning]] = [
    ("fit_to_start", "not yet", Command("hold")),
    ("fit_to_start", "no ladder", AskFor("Stop. Get safe footing first. Then say ready.")),
    ("locked_out", "wait", Command("hold")),
    ("alarm_minutes_ago", "no idea", Command("skip", "unknown")),
    ("tripped_count", "all but one", AskFor("How many?")),
    ("leak_found", "kind of", AskFor("Yes or no?")),
    ("control_volts", "full voltage", SAY),
    ("control_volts", "hot", SAY),
    ("control_volts", "ghost", AskFor("Ghost voltage. Measure again on low impedance.")),
    ("dead_volts.power", "nothing", SAY),
    ("dead_volts.control", "dead", SAY),
    ("probe_ohms", "ten", AskFor("Ohms or k?", pending="ten {}")),
    ("injection_coil_ohms", "beeps", SAY),
    ("suction_pressure", "in a vacuum", AskFor("How many inches?", pending="{} inches")),
    ("suction_pressure", "minus five", AskFor("Inches or pounds?", pending="minus five {}")),
    ("suction_pressure", "one bar", AskFor("Say it in P S I.")),
    ("suction_temperature", "ambient", SAY),
    ("discharge_temperature", "too hot to touch", AskFor("Over one forty. Say the number.")),
    ("drier_temperature_drop", "freezing", AskFor("Over ten. Say the number.")),
    ("line_volts.ab", "nothing on c", AskFor("Say all three pairs.")),
    ("sight_glass", "can see through it", AskFor("Full or empty?")),
    ("refrigerant_added", "half a cylinder", AskFor("How many pounds?")),
    ("refrigerant_added", "did not weigh", AskFor("Weigh it, then say the number.")),
    ("close_consent", "add a note", Command("note")),
    ("suction_pressure", "can't get to it", Command("skip", "not_measurable")),
    ("suction_pressure", "correction suction temperature", Command("correct", "suction_temperature")),
    ("suction_pressure", "correct the starter coil", Command("correct", "contactor_coil_volts")),
    ("watch.amps", "correct suction pressure", Command("correct", "watch.suction_pressure")),
    ("suction_pressure", "wrong", Command("correct")),
    ("suction_pressure", "dry", NOT),
    ("suction_pressure", "two hundred and", NOT),
    ("suction_pressure", "[unk] fifteen", NOT),
    ("suction_pressure", "fifteen [unk]", NOT),
    ("suction_pressure", "two [unk] eight", NOT),
    ("suction_pressure", "yes", AskFor("Say the number, or correction for the one before.")),
    ("suction_pressure", "", NOT),
    ("leak_found", "two oh eight", NOT),
    ("sight_glass", "dead", NOT),
    ("leak_found", "[unk] yes", Answer((Part("leak_found", "yes"),))),
    ("suction_pressure", "go back [unk]", Command("back")),
    ("note", "end note", Command("cancel")),
]


@pytest.mark.parametrize(("asking", "words", "meaning"), REFUSED)
def test_what_is_no_answer_asks_or_steers_or_is_not_understood(
    asking: str, words: str, meaning: Meaning
) -> None:
    assert understand(Question(asking), words) == meaning


COMMANDS = [
    ("repeat", "say again|repeat|repeat that"), ("back", "go back|rewind|back"),
    ("correct", "correction|correct"),
    ("skip", "skip this|skip"), ("hold", "hold on|pause|hold"), ("continue", "continue|resume"),
    ("note", "make a note|take a note|note"), ("help", "help"), ("review", "read back|review"),
    ("where", "where am i|where"), ("why", "why|tell me why"), ("slower", "slower"), ("faster", "faster"),
    ("louder", "louder"), ("softer", "softer"), ("stop", "stop|quiet"), ("emergency", "emergency"),
    ("finish", "finish job|finish"), ("cancel", "cancel|never mind"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "forms"), COMMANDS)
@pytest.mark.parametrize(
    "asking", ["suction_pressure", "sight_glass", "leak_found", "jumper_fitted", "command"]
)
def test_a_command_is_understood_at_any_question(name: str, forms: str, asking: str) -> None:
    for form in forms.split("|"):
        assert understand(Question(asking), form) == Command(name), form


FEED = Question("injection_feed", also=("injection_coil_volts", "valve_click"))


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("dry two oh eight click", ["dry", 208.0, "click"]),
        ("click dry", ["dry", "click"]),
        ("two oh eight", [208.0]),
        ("dry", ["dry"]),
        ("no frost and no volts no click", ["dry", "none_present", "silent"]),
    ],
)
def test_feed_and_volts_come_in_one_breath(words: str, values: list[Value]) -> None:
    meaning = understand(FEED, words)
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == values


LINES = Question("line_volts.ab", also=("line_volts.bc", "line_volts.ca"))


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("four eighty four seventy nine four eighty one", [480.0, 479.0, 481.0]),
        ("one twenty one nineteen one twenty one", [120.0, 119.0, 121.0]),
        ("two oh eight two ten two oh seven", [208.0, 210.0, 207.0]),
        ("all three four eighty", [480.0, 480.0, 480.0]),
    ],
)
def test_three_lines_come_in_one_breath(words: str, values: list[Value]) -> None:
    meaning = understand(LINES, words)
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == values


SITE = Question(
    "site", also=("rack", "compressor"),
    local={"site": {"north store": "north"}, "rack": {"rack b": "b", "rack one": "1"},
           "compressor": {"b two": "b2", "number two": "b2", "the last one": "b4"}},
)  # fmt: skip


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("north store rack b two", ["north", "b", "b2"]),
        ("north store rack one number two", ["north", "1", "b2"]),
        ("north store", ["north"]),
    ],
)
def test_the_machine_is_named_in_one_breath(words: str, values: list[Value]) -> None:
    meaning = understand(SITE, words)
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == values


def test_a_letter_that_sounds_like_another_is_read_back_unless_it_was_spelled() -> None:
    compressor = Question("compressor", local=SITE.local)
    assert understand(compressor, "b two") == Answer((Part("compressor", "b2", doubt="B two?"),))
    assert understand(compressor, "bravo two") == Answer((Part("compressor", "b2"),))
    assert understand(compressor, "the last one") == Answer((Part("compressor", "b4"),))


FIFTEEN = Question("confirm", of="suction_pressure", value=15.0)


@pytest.mark.parametrize(
    ("words", "meaning"),
    [
        ("yes", Confirmed(True)),
        ("yep", Confirmed(True)),
        ("fifteen", Confirmed(True)),
        ("no", Confirmed(False)),
        ("wrong", Confirmed(False)),
        ("no twelve", Confirmed(False, Part("suction_pressure", 12.0, "psig"))),
        ("No, it's fifty.", Confirmed(False, Part("suction_pressure", 50.0, "psig"))),
        ("fifty", Confirmed(False, Part("suction_pressure", 50.0, "psig"))),
        ("correct", Confirmed(True)),
        ("correction", AskFor("Yes or no?")),
        ("kind of", AskFor("Yes or no?")),
        ("say again", Command("repeat")),
        ("bubbles", NOT),
    ],
)
def test_a_value_asked_back_is_agreed_refused_or_said_again(words: str, meaning: Meaning) -> None:
    assert understand(FIFTEEN, words) == meaning


def test_negative_is_no_only_where_yes_or_no_is_asked() -> None:
    cold = Question("confirm", of="suction_temperature", value=12.0)
    assert understand(cold, "negative") == Confirmed(False)
    assert understand(cold, "negative twelve") == Confirmed(False, Part("suction_temperature", -12.0, "F"))


def test_no_twelve_after_a_read_back_corrects_the_value_before() -> None:
    next_one = Question("suction_temperature", of="suction_pressure")
    instead = Part("suction_pressure", 12.0, "psig")
    assert understand(next_one, "no twelve") == Confirmed(False, instead)


def test_half_an_answer_is_completed_by_the_next_words() -> None:
    ohms = Question("probe_ohms", pending="ten {}")
    assert understand(ohms, "k") == Answer((Part("probe_ohms", 10_000.0, "ohm"),))
    assert understand(ohms, "ohms") == Answer((Part("probe_ohms", 10.0, "ohm"),))
    inches = Question("suction_pressure", pending="{} inches")
    assert understand(inches, "five") == Answer((Part("suction_pressure", -2.46, "psig"),))
    assert understand(inches, "twelve pounds") == Answer((Part("suction_pressure", 12.0, "psig"),))


def test_the_probes_curve_decides_between_ohms_and_thousands() -> None:
    question = Question("probe_ohms", limits={"probe_ohms": (2000.0, 90_000.0)})
    meaning = understand(question, "ten")
    assert meaning == Answer((Part("probe_ohms", 10_000.0, "ohm", doubt="Ten k?"),))


def test_an_unsteady_reading_keeps_both_its_ends() -> None:
    said = understand(Question("discharge_pressure"), "swinging between two hundred and two twenty")
    assert said == Answer((Part("discharge_pressure", 210.0, "psig", low=200.0, high=220.0),))
    said = understand(Question("control_volts"), "bouncing forty to sixty")
    assert said == Answer((Part("control_volts", 50.0, "V", low=40.0, high=60.0),))


def test_a_metric_site_is_answered_in_bar() -> None:
    si = Question("suction_pressure", units="si")
    assert understand(si, "one bar") == Answer((Part("suction_pressure", 1.0, "barg"),))
    assert understand(si, "minus point three") == Answer((Part("suction_pressure", -0.3, "barg"),))
    assert understand(si, "twelve pounds") == AskFor("Say it in bar.")


def test_all_good_answers_what_the_question_says_it_answers() -> None:
    both: dict[str, Value] = {"detector_state": "quiet", "ventilation_running": "yes"}
    question = Question("detector_state", also=("ventilation_running",), all_good=both)
    assert understand(question, "all good") == Answer((
        Part("detector_state", "quiet"), Part("ventilation_running", "yes"),
    ))  # fmt: skip


@pytest.mark.parametrize(
    ("words", "minutes", "asked_back"),
    [
        ("since midnight", 390.0, False),
        ("about ten last night", 510.0, True),
        ("yesterday at four", 870.0, True),
        ("one last night", 330.0, True),
        ("since friday", 1830.0, True),
        ("since two thirty", 240.0, True),
        ("it went at ten to three", 220.0, True),
        ("half past one", 300.0, True),
        ("quarter past seven", 675.0, True),
        ("at two oh five this morning", 265.0, True),
    ],
)
def test_a_clock_time_becomes_minutes_ago(words: str, minutes: float, asked_back: bool) -> None:
    saturday_half_past_six = datetime(2026, 3, 7, 6, 30)
    meaning = understand(Question("alarm_minutes_ago", now=saturday_half_past_six), words)
    assert isinstance(meaning, Answer)
    assert meaning.parts[0].value == minutes
    assert bool(meaning.parts[0].doubt) == asked_back


@pytest.mark.parametrize(("words", "told"), [
    ("discharge, just the one, it went at twenty past two", ["discharge", 1.0, 250.0]),
    ("one on discharge, at half past one", ["discharge", 1.0, 300.0]), ("it went at ten to three", [220.0]),
    ("discharge, one, twenty minutes ago", ["discharge", 1.0, 20.0]),
])  # fmt: skip
def test_a_clock_time_is_no_count_of_compressors(words: str, told: list[Value]) -> None:
    saturday_half_past_six = datetime(2026, 3, 7, 6, 30)
    asked = Question("protection_shown", ("tripped_count", "alarm_minutes_ago"), now=saturday_half_past_six)
    meaning = understand_in_pieces(asked, words)
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == told


@pytest.mark.parametrize("words", [
    "three quarters of an hour since, the lass on bakery rang me at half two", "she rang me at half two",
])  # fmt: skip
def test_the_time_of_day_of_something_else_is_not_that_of_the_trip(words: str) -> None:
    asked = Question("protection_shown", ("tripped_count", "alarm_minutes_ago"), now=datetime(2026, 3, 7, 6, 30))
    assert by_the_clock(asked, words) is None


def test_without_a_clock_the_minutes_are_asked_for() -> None:
    meaning = understand(Question("alarm_minutes_ago"), "since midnight")
    assert meaning == AskFor("How many minutes or hours ago?")


def test_a_go_ahead_continues_and_nothing_else_does() -> None:
    question = Question("command", go_ahead=("ready", "set"))
    assert understand(question, "set") == Command("continue")
    assert understand(question, "done") == NOT


def test_the_canonical_word_of_a_choice_comes_first() -> None:
    assert choices(Question("leak_found"))[:2] == ["yes", "no"]
    assert choices(Question("sight_glass"))[:3] == ["full", "bubbles", "empty"]
    assert choices(Question("locked_out"))[0] == "done"
    assert choices(FIFTEEN) == ["yes", "no"]
    assert choices(Question("suction_pressure")) == []


@pytest.mark.parametrize("id", list(vocabulary()))
def test_every_phrase_offered_to_the_recogniser_is_understood(id: str) -> None:
    for phrase in phrases(Question(id)):
        assert understand(Question(id), phrase) != NOT, phrase


@pytest.mark.parametrize("id", [entry.id for entry in vocabulary().values() if entry.choices])
def test_every_choice_of_the_vocabulary_is_said_as_it_is_written(id: str) -> None:
    for choice in vocabulary()[id].choices:
        assert understand(Question(id), choice) == Answer((Part(id, choice),))


def test_all_good_answers_only_what_is_still_asked_and_a_bare_no_asks_what_is_not() -> None:
    good: dict[str, Value] = {"fit_to_start": True, "detector_state": "quiet", "ventilation_running": "yes"}
    rest = Question("detector_state", also=("ventilation_running",), all_good=good)
    assert understand(rest, "all good") == Answer((Part("detector_state", "quiet"), Part("ventilation_running", "yes")))
    assert understand(rest, "no") == AskFor("What is not good?")
    last = Question("ventilation_running", all_good=good)
    assert understand(last, "no") == Answer((Part("ventilation_running", "no"),))
    assert understand(last, "all good") == Answer((Part("ventilation_running", "yes"),))


MACHINE_LOOK = Question(
    "head_fan_running",
    also=("injection_hand_valve", "coil_seated"),
    all_good={"head_fan_running": "yes", "injection_hand_valve": "open", "coil_seated": "seated"},
)


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("yes, all good", {"head_fan_running": "yes", "injection_hand_valve": "open", "coil_seated": "seated"}),
        ("fan runs valve open coil seated", {"head_fan_running": "yes", "injection_hand_valve": "open", "coil_seated": "seated"}),
        ("the fan is stopped", {"head_fan_running": "no"}),
        ("no, the fan's stopped", {"head_fan_running": "no"}),
        ("no, valve is closed", {"injection_hand_valve": "closed"}),
        ("hand valve shut", {"injection_hand_valve": "closed"}),
        ("coil is loose", {"coil_seated": "loose"}),
        ("fan stopped coil loose", {"head_fan_running": "no", "coil_seated": "loose"}),
    ],
)  # fmt: skip
def test_what_is_not_good_on_the_machine_is_named_and_the_rest_is_not_guessed(words: str, values: dict[str, Value]) -> None:
    meaning = understand(MACHINE_LOOK, words)
    assert isinstance(meaning, Answer)
    assert {part.id: part.value for part in meaning.parts} == values


def test_no_to_all_good_asks_what_and_takes_nothing() -> None:
    assert understand(MACHINE_LOOK, "no") == AskFor("What is not good?")


@pytest.mark.parametrize("grammar", ["yes_no", "commands"])
def test_a_list_of_phrases_is_read_as_the_library_reads_it(grammar: str, monkeypatch: pytest.MonkeyPatch):
    ours = {name: list(phrasebook.tagged(grammar, name).items()) for name in phrasebook.rules(grammar)}
    monkeypatch.setattr(phrasebook, "_LIST", re.compile("(?!)"))
    phrasebook._rule.cache_clear()
    phrasebook.tagged.cache_clear()
    assert {name: list(phrasebook.tagged(grammar, name).items()) for name in phrasebook.rules(grammar)} == ours
