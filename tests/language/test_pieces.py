"""A typed sentence by its clauses: what is said beside an answer changes nothing of it, or there is no answer."""

import pytest

from assistant.language.meaning import Answer, Command, NotUnderstood, Question, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.language.vocabulary import vocabulary
from tests.language.test_said import said

ACKNOWLEDGED = [id_ for id_, entry in vocabulary().items() if entry.kind == "acknowledge"]
THREE = Question("fuse_volts.a", ("fuse_volts.b", "fuse_volts.c"))
BESIDE = [
    "still working on the other one", "all but the last one", "in a minute", "not the last one though", "i'll finish it later",
    "the second one won't go", "maybe", "if that's what you want", "one's still not right", "nearly",
]  # fmt: skip


@pytest.mark.parametrize("id_", ACKNOWLEDGED)
@pytest.mark.parametrize("beside", BESIDE)
def test_beside_what_is_acknowledged_nothing_may_stand_that_takes_some_of_it_back(id_: str, beside: str):
    for words in (f"yes, {beside}", f"done, {beside}", f"done and {beside}"):
        meaning = understand_in_pieces(Question(id_), words)
        assert not isinstance(meaning, Answer) or all(part.doubt for part in meaning.parts), words


@pytest.mark.parametrize("id_", ACKNOWLEDGED)
def test_done_with_a_question_mark_is_not_done(id_: str):
    meaning = understand_in_pieces(Question(id_), "done?")
    assert not isinstance(meaning, Answer) or all(part.doubt for part in meaning.parts)
    assert isinstance(understand_in_pieces(Question("command"), "done?"), NotUnderstood)


@pytest.mark.parametrize(("id_", "words", "meant"), [
    ("suction_temperature", "forty two, coming down slow", "suction_temperature=42"),
    ("overload_state", "closed again, figured as much", "overload_state=closed"),
    ("starts_last_hour", "twelve, twelve starts", "starts_last_hour=12"),
    ("leak_found", "yeah, found it at a flare", "leak_found=yes"),
])  # fmt: skip
def test_what_changes_nothing_is_passed_over(id_: str, words: str, meant: str):
    assert said(understand_in_pieces(Question(id_), words)) == meant


@pytest.mark.parametrize(("id_", "words"), [
    ("suction_temperature", "forty two, it was fifty before"), ("overload_state", "closed, no, wait, it's open"),
    ("leak_found", "yeah, is that one leaking"), ("receiver_level", "somewhere between thirty and sixty"),
])  # fmt: skip
def test_what_may_change_it_is_not(id_: str, words: str):
    assert said(understand_in_pieces(Question(id_), words)) in ("asked", "refused", "overload_state=open")


def test_a_value_goes_to_the_line_that_it_is_said_of():
    meaning = understand_in_pieces(THREE, "zero on one, zero on two, four eighty on three")
    assert isinstance(meaning, Answer)
    assert [part.value for part in meaning.parts] == [0.0, 0.0, 480.0]
    meaning = understand_in_pieces(THREE, "zero, zero and four eighty on three")
    assert not isinstance(meaning, Answer) or [part.value for part in meaning.parts] == [0.0, 0.0, 480.0]


def test_what_speaks_against_a_start_goes_before_the_answer_beside_it():
    assert isinstance(understand_in_pieces(Question("others_clear"), "all clear, the cover's still off"), Remark)


@pytest.mark.parametrize("words", ["hold on, i dropped something", "give me one second", "wait, wait"])
def test_a_sentence_may_steer(words: str):
    assert understand_in_pieces(Question("suction_temperature"), words) == Command("hold")
