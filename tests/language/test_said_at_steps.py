"""What people say at each step, looks and bare go-aheads too, and what must not be taken: the tables `said_at_steps.toml`,
`said_by_many.toml`, `said_by_others.toml`, `said_in_one_go.toml`, `said_by_three.toml`,
`said_by_three_more.toml` and `said_by_last_three.toml`."""

import tomllib
from functools import cache
from pathlib import Path

import pytest

from assistant.call.asking import question_for
from assistant.call.procedure import own_procedure
from assistant.language.grammar import normalise
from assistant.language.meaning import AskFor, Command, Question, Remark
from assistant.language.pieces import understand_in_pieces
from tests.language.test_said import said
from tests.simulated import Rack
from tests.talk import Talk

TABLE = tomllib.loads(Path(__file__).with_name("said_at_steps.toml").read_text(encoding="utf-8"))
BY_MANY = tomllib.loads(Path(__file__).with_name("said_by_many.toml").read_text(encoding="utf-8"))
BY_OTHERS = tomllib.loads(Path(__file__).with_name("said_by_others.toml").read_text(encoding="utf-8"))
IN_ONE_GO = tomllib.loads(Path(__file__).with_name("said_in_one_go.toml").read_text(encoding="utf-8"))
BY_THREE = tomllib.loads(Path(__file__).with_name("said_by_three.toml").read_text(encoding="utf-8"))
THREE_MORE = tomllib.loads(Path(__file__).with_name("said_by_three_more.toml").read_text(encoding="utf-8"))
LAST_THREE = tomllib.loads(Path(__file__).with_name("said_by_last_three.toml").read_text(encoding="utf-8"))
STEPS = {step.id: step for step in own_procedure().steps}
ROWS = [
    (step, meaning, words)
    for table in (TABLE, BY_MANY, BY_OTHERS, IN_ONE_GO, BY_THREE, THREE_MORE, LAST_THREE)
    for step, meanings in table.items()
    for meaning, said in meanings.items()
    for words in said
]
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
    meaning = understand_in_pieces(question(step), " ".join(words.lower().replace(",", " , ").split()))
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


@pytest.mark.parametrize(("step", "meaning", "words"), ROWS)
def test_what_is_said_at_a_step_means_what_the_table_has(step: str, meaning: str, words: str):
    got = sorted(meant(step, words).split("; "))
    if meaning in NOT_TAKEN:
        assert got[0] in (*NOT_TAKEN, "remark")
    elif meaning.startswith("tell="):
        tells = STEPS[step].tells
        assert got[0].startswith("tell=")
        assert tells.get(got[0][5:]) == tells[meaning[5:]]
    else:
        assert got == sorted(meaning.split("; "))


@pytest.mark.parametrize(
    "words", ["is the meter good", "is it good", "did you check the meter", "hey is it good over there", "should it be good"]
)
def test_who_asks_does_not_answer(words: str):
    assert meant("meter_before", words) in NOT_TAKEN
