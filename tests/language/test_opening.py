"""The first sentence of a call, as technicians say it: which machine, beside what it went off on and when. Common practice."""

import pytest

from assistant.language.grammar import commas_apart
from assistant.language.machine_names import several_named
from assistant.language.meaning import Answer
from assistant.language.pieces import understand_in_pieces
from tests.language.test_said_at_steps import question
from tests.talk import Talk

FIRST_SENTENCES = {
    "number two on rack a is down, it went off on oil about an hour back": ("a", "two", "oil", 60.0),
    "number two on rack a is down it went off on oil about an hour back": ("a", "two", "oil", 60.0),
    "compressor two on the a rack went out on discharge temperature twenty minutes ago": ("a", "two", "discharge", 20.0),
    "compressor two on a is off, discharge, twenty minutes ago": ("a", "two", "discharge", 20.0),
    "a two's down on its discharge temp, about forty minutes": ("a", "two", "discharge", 40.0),
    "a two, oil, an hour ago": ("a", "two", "oil", 60.0),
    "rack a number one just tripped again": ("a", "one", None, None),
    "the second compressor on rack a": ("a", "two", None, None),
}


@pytest.mark.parametrize(("said", "meant"), FIRST_SENTENCES.items())
def test_the_first_sentence_names_machine_protection_and_time(said: str, meant: tuple[object, ...]):
    state = Talk().hear(said).dialogue.state
    assert tuple(state.value(id) for id in ("rack", "compressor", "protection_shown", "alarm_minutes_ago")) == meant


@pytest.mark.parametrize(("said", "machine"), [
    ("evenin', well, it's the number two on rack A that's layin' down on me, the one nearest the door", ("a", "two")),
    ("rack a, compressor two, sounds like a bag of nails this one", ("a", "two")),
    ("rack A, number three, no, hang my eyes, number one that's gone off in a huff", ("a", "one")),
    ("number three on rack a, sorry, number two", ("a", "two")),
    ("i fixed rack a compressor two yesterday and now it's three", (None, None)),
    ("lads at the store rang me, it's rack A compressor three that's packed in, third time this month", ("a", "three")),
    ("rack a compressor one is fine, two is down", (None, "two")),
])  # fmt: skip
def test_a_machine_is_named_among_whatever_else_is_told(said: str, machine: tuple[str | None, str | None]):
    state = Talk().hear(said).dialogue.state
    assert (state.value("rack"), state.value("compressor")) == machine


@pytest.mark.parametrize("said", [
    "i'm at rack b, three is out, tripped half an hour ago on motor protection", "the third compressor's off on rack b",
    "number three on rack b is off on the oil failure", "rack b, the third one, it's tripped on discharge temp",
])  # fmt: skip
def test_a_letter_that_sounds_like_others_is_in_doubt_by_sound_and_sure_where_it_is_typed(said: str):
    heard = understand_in_pieces(question("where"), commas_apart(said))
    assert isinstance(heard, Answer)
    assert {part.id: part.doubt for part in heard.parts}["rack"] == "B?"
    talk = Talk().hear(said)
    assert talk.said.startswith("Rack B, compressor three")
    assert not talk.asked.endswith(":confirm")
    assert talk.dialogue.state.value("compressor") == "three"


@pytest.mark.parametrize(("said", "machine"), [
    ("number three has a problem", "three"), ("number three is off with a bad oil alarm", "three"),
    ("there's a compressor down", None), ("we lost a three phase supply", None), ("somebody called a two hour delay", None),
])  # fmt: skip
def test_the_article_is_no_rack(said: str, machine: str | None):
    state = Talk().hear(said).dialogue.state
    assert (state.value("rack"), state.value("compressor")) == (None, machine)


@pytest.mark.parametrize("said", ["rack a, two and three are off", "a two and a three", "two or three on rack a"])
def test_of_two_machines_none_is_taken(said: str):
    talk = Talk()
    assert several_named(talk.dialogue.question, said.replace(",", ""))
    assert talk.hear(said).dialogue.state.machine is None


@pytest.mark.parametrize("said", [
    "yeah i'm at rack a, compressor two's down on discharge temp, been off maybe two hours", "rack a two, could be the oil",
    "rack a compressor two is down maybe two hours", "rack a compressor two, not sure what tripped it",
    "rack a compressor two, maybe three of them are off",
])  # fmt: skip
def test_what_is_only_guessed_beside_the_machine_is_asked_in_its_turn(said: str):
    state = Talk().hear(said).dialogue.state
    assert (state.value("rack"), state.value("compressor")) == ("a", "two")
    assert {"alarm_minutes_ago", "tripped_count"}.isdisjoint(state.readings)
    assert state.value("protection_shown") in (None, "discharge")


@pytest.mark.parametrize("said", ["it might be compressor two on rack a", "rack a compressor two or three, not sure"])
def test_a_machine_that_is_itself_a_guess_is_asked_again(said: str):
    assert Talk().hear(said).dialogue.state.machine is None
