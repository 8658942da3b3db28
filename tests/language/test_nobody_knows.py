"""Who does not know, and says why, is not asked again; a guess beside it is none, and of a lock or a proof it is no answer."""

import pytest

from assistant.language.meaning import Answer, Command, Question
from assistant.language.pieces import understand_in_pieces


@pytest.mark.parametrize("said", [
    "I don't know, it's not written anywhere", "No, I just don't know", "couldn't tell you, the log's been wiped",
    "I've no idea when they charged it last", "nobody here knows", "who knows, before my time", "there's no record of it",
])  # fmt: skip
def test_it_is_skipped_as_not_known(said: str):
    assert understand_in_pieces(Question("days_since_last_addition"), said) == Command("skip", "unknown")


def test_where_unknown_is_an_answer_it_is_that():
    found = understand_in_pieces(Question("trip_spread"), "couldn't tell you, the log's been wiped")
    assert isinstance(found, Answer)
    assert found.parts[0].value == "unknown"


@pytest.mark.parametrize(("id", "said"), [
    ("days_since_last_addition", "don't know, maybe a month"), ("days_since_last_addition", "I don't know, but it says forty"),
    ("locked_out", "I don't know"), ("dead_volts.power", "I don't know, it's dark in there"),
    ("days_since_last_addition", "I don't know, something's burning in here"),
])  # fmt: skip
def test_a_guess_a_lock_a_proof_and_trouble_are_not_skipped(id: str, said: str):
    found = understand_in_pieces(Question(id), said)
    assert id == "locked_out" or found != Command("skip", "unknown")
