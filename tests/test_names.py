"""Names of steps steer nothing: no code knows one, and with every step renamed each simulated call is the same."""

import ast
import json
import re
from collections.abc import Iterator
from dataclasses import fields, replace
from functools import cache
from pathlib import Path

import pytest

import assistant
from assistant.branches.diagnosis import rules
from assistant.branches.steps import ACTS, INSERTED, NEEDS, PARTS, REPAIR_NEEDS, STATIONS
from assistant.call.conditions import NAMES
from assistant.call.effects import Listen
from assistant.call.facts import FACTS
from assistant.call.procedure import Procedure, own_procedure
from assistant.fronts.pipe import ask_message
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import cautions
from assistant.profile import CONTACTS, load_profile
from assistant.safety.words import ACTS as SEEN_ACTS
from tests.bench.simulated_logs import INJECTION_FAULTS, line
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

CODE = sorted(Path(assistant.__file__).parent.rglob("*.py"))
COMMANDS = frozenset((
    "repeat", "back", "correct", "skip", "hold", "continue", "note", "help", "review", "where", "why", "slower", "faster",
    "louder", "softer", "stop", "emergency", "finish", "cancel",
))  # fmt: skip
ORDINARY = frozenset({
    "tag",  # a key of the profile
    "hand_over",  # a key of an obligation
    "drier",  # a place of the liquid line, where its losses are summed
    "defrost",  # how the monitor hears an obligation's name
    "recover",  # a word that the monitor looks for in a prompt
    "added",  # a column of the board
})  # fmt: skip
OTHER = "renamed-{}-"
"""What every step is called instead, with its number."""


def also_means_something_else() -> frozenset[str]:
    """Ids of steps that are also ids of something that code may well name."""
    own = own_procedure()
    words = (vocabulary(), own.facts, own.obligations, rules(), cautions(), NAMES, STATIONS, ACTS, PARTS, INSERTED, NEEDS,
             REPAIR_NEEDS, CONTACTS, COMMANDS, SEEN_ACTS, ORDINARY, (name for fact in FACTS.values() for name in names_of(fact)),
             (person.id for person in load_profile().people), *(entry.choices for entry in vocabulary().values()))  # fmt: skip
    return frozenset(word for group in words for word in group)


def names_of(fact: type) -> Iterator[str]:
    """The fields of a fact, which a line of the log has."""
    return (one.name for one in fields(fact))


def literals(path: Path) -> Iterator[tuple[int, str]]:
    """Every text in the code that is no docstring, with its line."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in alone:
            yield node.lineno, node.value


def test_the_ids_of_most_steps_mean_nothing_else():
    ids = {step.id for step in own_procedure().steps}
    assert len(ids - also_means_something_else()) > 0.8 * len(ids)


@pytest.mark.parametrize("path", CODE, ids=lambda p: str(p.relative_to(CODE[0].parent)))
def test_no_code_knows_a_step_by_its_name(path: Path):
    ids = {step.id for step in own_procedure().steps} - also_means_something_else()
    assert [f"line {number}: {text}" for number, text in literals(path) if text.partition("/")[0] in ids] == []


# ---- every step renamed


@cache
def _renamed() -> tuple[Procedure, dict[str, str]]:
    """The procedure with other names, and the old name of each."""
    own = own_procedure()
    other = replace(own, steps=tuple(replace(step, id=OTHER.format(n)) for n, step in enumerate(own.steps)))
    return other, {new.id: old.id for new, old in zip(other.steps, own.steps, strict=True)}


def whole_call(fault: str, procedure: Procedure, old_names: dict[str, str]) -> list[str]:
    """What a simulated call by these steps recorded, said and asked; the technician, no part of it, is told the old names."""
    talk = Talk(site_of(fault) if fault in FAULTS else None, procedure=procedure)
    rack = (BranchRack if fault in FAULTS else Rack)(fault)
    for _ in range(300):
        if talk.dialogue.over:
            return [json.dumps(line(x), default=str, sort_keys=True) for _, turn in talk.history for x in turn]
        last = talk.effects[-1]
        assert isinstance(last, Listen)
        asked = ask_message(last)
        talk.hear(rack.answer({**asked, "step": old_names.get(asked["step"], asked["step"])}))
    raise AssertionError(f"the call does not end; last asked was {talk.asked}")


@pytest.mark.parametrize("fault", [*INJECTION_FAULTS, *FAULTS])
def test_with_every_step_renamed_a_simulated_call_is_the_same(fault: str):
    other, old_names = _renamed()
    pattern = re.compile(OTHER.replace("{}", r"\d+"))
    call = [pattern.sub(lambda found: old_names[found[0]], text) for text in whole_call(fault, other, old_names)]
    assert call == whole_call(fault, own_procedure(), {})


def test_the_renamed_calls_really_go_by_other_names():
    other, old_names = _renamed()
    text = "\n".join(whole_call("none", other, old_names))
    assert "renamed-" in text
    assert '"how_to_check"' not in text
