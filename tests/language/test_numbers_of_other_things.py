"""A number beside the name of another thing is not the reading that was asked for."""

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Question
from assistant.language.names import names
from assistant.language.pieces import understand_in_pieces
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

THINGS = ("compressor", "machine", "rack", "panel", "number", "suction", "discharge", "receiver", "drier", "crankcase", "cutout")
ASKED = [id_ for id_, entry in vocabulary().items() if entry.kind in NUMBER_KINDS]


def own(id_: str) -> set[str]:
    called = (*names()[id_], vocabulary()[id_].say, *id_.replace(".", "_").split("_"))
    return {word for name in called for word in name.split()}


@pytest.mark.parametrize("thing", THINGS)
def test_a_bare_number_belongs_to_what_it_is_named_with(thing: str):
    said = [f"{thing} three", f"actually it's {thing} three", f"the {thing}'s at forty"]
    taken = [
        (id_, words) for id_ in ASKED if thing not in own(id_) for words in said
        if isinstance(meaning := understand(Question(id_), words), Answer) and any(part.id == id_ for part in meaning.parts)
    ]  # fmt: skip
    assert taken == []


@pytest.mark.parametrize("words", ["two guys here", "give me three hours"])
def test_what_is_counted_is_no_ohms(words: str):
    assert not isinstance(understand(Question("injection_coil_ohms"), words), Answer)


@pytest.mark.parametrize(("asked", "words"), [
    ("tripped_count", "the other two are running"), ("tripped_count", "off, the other two are going"),
    ("tripped_count", "two others are fine"), ("tripped_count", "everything but two"),
    ("tripped_count", "all but two"), ("tripped_count", "i see two running"),
    ("running_count", "two are off"), ("running_count", "two tripped"), ("running_count", "all but two"),
    ("condenser_fans_running", "two are stopped"), ("condenser_fans_running", "the other two are off"),
    ("condenser_fans_called", "two are running"), ("starts_last_hour", "two are running"), ("alarms_last_day", "two are fine"),
])  # fmt: skip
def test_machines_that_do_something_else_are_not_counted(asked: str, words: str):
    meaning = understand_in_pieces(Question(asked), words)
    assert not (isinstance(meaning, Answer) and not meaning.parts[0].doubt)


@pytest.mark.parametrize(("asked", "words"), [
    ("tripped_count", "two are off"), ("tripped_count", "two out of four"), ("running_count", "the other two are running"),
    ("running_count", "two are fine"), ("condenser_fans_running", "two are still turning"),
    ("alarms_last_day", "it went off two times"),
])  # fmt: skip
def test_machines_that_do_what_was_asked_are_counted(asked: str, words: str):
    meaning = understand_in_pieces(Question(asked), words)
    assert isinstance(meaning, Answer)
    assert (meaning.parts[0].value, meaning.parts[0].doubt) == (2.0, "")


@pytest.mark.parametrize("words", ["it's actually three", "the coil's at three", "i get about three on the coil"])
def test_a_number_with_its_own_name_or_none_is_taken(words: str):
    meaning = understand(Question("injection_coil_ohms"), words)
    assert isinstance(meaning, Answer)
    assert meaning.parts[0].value == 3.0


@pytest.mark.parametrize(("said", "degf"), [("thirty three celsius", 91.4), ("33 c", 91.4), ("minus ten degrees celsius", 14.0),
                                            ("thirty three celsius coming in to the condenser", 91.4)])  # fmt: skip
def test_the_other_scale_of_a_thermometer_is_asked_back_in_the_sites_own(said: str, degf: float):
    """33 C is 91.4 F, -10 C 14 F: F = 1.8 C + 32, the definition of the scales."""
    meaning = understand_in_pieces(Question("ambient_temperature"), said)
    assert isinstance(meaning, Answer)
    assert [(part.value, part.unit) for part in meaning.parts] == [(degf, "F")]
    assert meaning.parts[0].doubt.endswith("Fahrenheit?")


@pytest.mark.parametrize("said", ["twelve celsius", "twelve bar"])
def test_no_other_unit_is_converted(said: str):
    assert not isinstance(understand_in_pieces(Question("drier_temperature_drop"), said), Answer)
    assert not isinstance(understand_in_pieces(Question("suction_pressure"), said), Answer)
