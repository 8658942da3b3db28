"""What people say at each step, looks and bare go-aheads too, and what must not be taken: the tables beside this file."""

import tomllib
from functools import cache
from pathlib import Path

import pytest

from assistant.call.asking import question_for
from assistant.call.commands import means_it
from assistant.call.procedure import own_procedure
from assistant.language.grammar import commas_apart, normalise
from assistant.language.meaning import AskFor, Command, Meaning, Question, Remark
from assistant.language.pieces import understand_in_pieces
from tests.language.test_said import said
from tests.simulated import Rack
from tests.talk import Talk

TABLES = (
    "said_at_steps", "said_by_many", "said_by_others", "said_in_one_go", "said_by_three", "said_by_three_more",
    "said_by_last_three", "said_with_reasons", "said_with_deeds", "said_to_himself",
    "said_another_way", "said_with_what_it_is", "said_as_it_comes", "said_in_a_call",
    "said_against_a_deed", "said_twice_over",
)  # fmt: skip
STEPS = {step.id: step for step in own_procedure().steps}
ROWS: dict[str, list[tuple[str, str]]] = {}
"""By step: a meaning, and words for it. One test for each step: ten thousand would take most of their time in being begun."""
for _file in TABLES:
    for _step, _meanings in tomllib.loads(Path(__file__).with_name(f"{_file}.toml").read_text(encoding="utf-8")).items():
        ROWS.setdefault(_step, []).extend((meaning, words) for meaning, said in _meanings.items() for words in said)
NOT_TAKEN = ("asked", "refused")


@cache
def _calls() -> dict[bool, Talk]:
    """A call at the front and one in the panel: what else may be said depends on it."""
    return {True: Talk().until(Rack("probe_fouled"), "rack_suction"), False: Talk().until(Rack("probe_fouled"), "coil")}


@cache
def question(step: str) -> Question:
    talk = _calls()[STEPS[step].part in ("front", "machine")]
    return question_for(talk.dialogue, STEPS[step].ids or ("command",), STEPS[step])


def meant(step: str, words: str) -> str:
    """The meaning of words at a step, as the table has it."""
    return as_told(step, words, understand_in_pieces(question(step), commas_apart(words.lower())))


def as_told(step: str, words: str, meaning: Meaning) -> str:
    """A meaning at a step, as the table has it."""
    match meaning:
        case Command("continue", about) if STEPS[step].tells:
            return f"tell={STEPS[step].word(about or normalise(words))}"
        case Command("continue"):
            return "go"
        case AskFor():
            return "asked"
        case Remark():
            return "remark"
    return said(meaning)


def means(step: str, words: str, meaning: str) -> bool:
    """Whether words at a step mean what the table has."""
    return agrees(step, meant(step, words), meaning)


def agrees(step: str, told: str, meaning: str) -> bool:
    """Whether what was understood at a step is what the table has."""
    got = sorted(told.split("; "))
    if meaning in NOT_TAKEN:
        return got[0] in (*NOT_TAKEN, "remark")
    if meaning.startswith("tell="):
        tells = STEPS[step].tells
        return got[0].startswith("tell=") and tells.get(got[0][5:]) == tells[meaning[5:]]
    return got == sorted(meaning.split("; "))


@pytest.mark.parametrize("step", ROWS)
def test_what_is_said_at_a_step_means_what_the_table_has(step: str):
    otherwise = {words: (meaning, meant(step, words)) for meaning, words in ROWS[step] if not means(step, words, meaning)}
    assert otherwise == {}


@pytest.mark.parametrize("step", [step for step in ROWS if any(meaning == "go" for meaning, _ in ROWS[step])])
def test_what_is_taken_for_a_bare_order_goes_ahead_in_a_call(step: str):
    """A "continue" without one of the step's own words is the command, and has the order asked again."""
    asked = question(step)
    said = [words for meaning, words in ROWS[step] if meaning == "go" and words not in _COMMANDED]
    taken = {words: understand_in_pieces(asked, commas_apart(words.lower())) for words in said}
    bare = [words for words, meaning in taken.items() if isinstance(meaning, Command) and not meaning.about]
    assert [words for words in bare if not means_it(words, asked.go_ahead)] == []


_COMMANDED = ("cables off",)
"""Understood, and still asked again: a word for another."""


@pytest.mark.parametrize(
    "words", ["is the meter good", "is it good", "did you check the meter", "hey is it good over there", "should it be good"]
)
def test_who_asks_does_not_answer(words: str):
    assert meant("meter_before", words) in NOT_TAKEN
