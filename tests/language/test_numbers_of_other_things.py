"""A number beside the name of another thing is not the reading that was asked for."""

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Question
from assistant.language.names import names
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


@pytest.mark.parametrize("words", ["it's actually three", "the coil's at three", "i get about three on the coil"])
def test_a_number_with_its_own_name_or_none_is_taken(words: str):
    meaning = understand(Question("injection_coil_ohms"), words)
    assert isinstance(meaning, Answer)
    assert meaning.parts[0].value == 3.0
