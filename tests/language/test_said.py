"""What people say at each question, and what must not be taken: the table `said.toml`."""

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from assistant.call.effects import Listen
from assistant.language.grammar import commas_apart
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, NotUnderstood, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.vocabulary import vocabulary
from tests.simulated import Rack
from tests.talk import Talk

RECORDED = ("rack_suction_pressure", "compressor", "rack")
TABLE = tomllib.loads(Path(__file__).with_name("said.toml").read_text(encoding="utf-8"))
GUESSED, REFUSED = "asked", "refused"


def rows() -> list[tuple[str, str, str]]:
    """Question, meaning, words."""
    found = []
    steps = {f"step.{name}": one for name, one in TABLE["step"].items()}
    for asking, meanings in {**{k: v for k, v in TABLE.items() if k != "step"}, **steps}.items():
        found += [(asking, meaning, words) for meaning, said in meanings.items() for words in said]
    return found


@cache
def at_step(step: str) -> Question:
    talk = Talk().until(Rack("probe_fouled"), step)
    last = talk.effects[-1]
    assert isinstance(last, Listen)
    return last.question


def question(asking: str) -> Question:
    """The question as a call asks it: with what else may be said, and what is on record."""
    if asking.startswith("step."):
        return at_step(asking.removeprefix("step."))
    front = at_step("rack_suction")
    if asking == "confirm":
        return Question("confirm", of="rack_suction_pressure", value=15.0)
    told = RECORDED if asking != "rack_suction_pressure" else ("compressor", "rack")
    fans = {"condenser_fans_running": {"all": 6.0, "all of them": 6.0, "all six": 6.0}}
    ahead = () if asking.startswith("watch.") else (front.asking, *front.also, *front.volunteer)
    return replace(
        front, asking=asking, also=(), volunteer=tuple(i for i in ahead if i != asking and i not in told),
        recorded=("rack_suction_pressure", "compressor", "rack"), local={**front.local, **fans}, of="", limits={},
    )  # fmt: skip


def said(meaning: Meaning) -> str:
    """A meaning as the table has it."""
    match meaning:
        case Answer(parts=parts) if any(p.doubt for p in parts if p.id not in ("rack", "compressor")):
            return GUESSED
        case Answer(parts=parts):
            return "; ".join(f"{p.id}={_plain(p.value)}" for p in parts)
        case AskFor():
            return GUESSED
        case Command("correct", about) if about:
            return f"correct {about}"
        case Command(name):
            return f"command {name}"
        case Confirmed(yes, None):
            return "yes" if yes else "no"
        case Confirmed(_, instead) if instead is not None:
            return f"instead {instead.id}={_plain(instead.value)}"
    return REFUSED


def _plain(value: object) -> str:
    return "true" if value is True else f"{value:.10g}" if isinstance(value, float) else str(value)


def wanted(asking: str, meaning: str) -> str:
    plain = meaning in (GUESSED, REFUSED, "yes", "no") or "=" in meaning
    if plain and not (meaning in ("yes", "no") and asking in vocabulary()):
        return "; ".join(sorted(meaning.split("; ")))
    if meaning.startswith(("command ", "correct ")):
        return meaning
    return f"{asking}={meaning}"


def meant(asking: str, words: str) -> str:
    got = said(understand_in_pieces(question(asking), commas_apart(words.lower())))
    return "; ".join(sorted(got.split("; ")))


@pytest.mark.parametrize("asking", sorted({asking for asking, _, _ in rows()}))
def test_what_is_said_means_what_the_table_has(asking: str):
    otherwise = {}
    for _, meaning, words in (row for row in rows() if row[0] == asking):
        got = meant(asking, words)
        right = got in (REFUSED, GUESSED) if meaning == REFUSED else got == wanted(asking, meaning)  # asked about or asked again
        otherwise |= {} if right else {words: (wanted(asking, meaning), got)}
    assert otherwise == {}


def test_the_table_is_as_long_as_it_has_to_be():
    taken = [row for row in rows() if row[1] not in (GUESSED, REFUSED)]
    refused = [row for row in rows() if row[1] in (GUESSED, REFUSED)]
    assert len(taken) >= 600
    assert len(refused) >= 100
    assert isinstance(understand_in_pieces(question("sight_glass"), "blue"), NotUnderstood)
