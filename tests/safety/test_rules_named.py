"""Every rule stands in SAFETY.md and in the monitor's list, with watchers that exist; and the monitor stands on its own."""

import ast
import importlib
import re
from datetime import timedelta
from pathlib import Path

import pytest

from assistant import safety
from assistant.safety.monitor import Monitor, never_came, report
from assistant.safety.rules import RULES
from assistant.safety.seen import Tally
from tests.safety.paper import NOON, Paper

FOLDER = Path(safety.__file__).parent
SAFETY = (FOLDER / "SAFETY.md").read_text(encoding="utf-8")
IDS = [f"S{n}" for n in range(1, 43)]


def test_every_rule_stands_in_the_list_and_in_the_text():
    assert [i for i in RULES if i != "call"] == IDS
    assert re.findall(r"^- \*\*(S\d+)\*\*", SAFETY, re.M) == IDS
    parts = re.split(r"^- \*\*S\d+\*\*", SAFETY, flags=re.M)[1:]
    assert all("Watched by: " in part or "Not watched: " in part for part in parts)
    assert [bool(RULES[i].partly) for i in IDS] == ["Not watched: " in part for part in parts]


def test_every_watcher_that_is_named_exists():
    named = set(re.findall(r"`(watch_\w+)\.(\w+)`", SAFETY)) | {tuple(r.watcher.split(".")[:2]) for r in RULES.values()}
    for module, function in named:
        assert hasattr(importlib.import_module(f"assistant.safety.{module}"), function), f"{module}.{function}"


WALK = {"drawing", "likeness", "lines", "utterances", "walk", "walker"}
"""What drives the dialogue or draws its procedures stands in this room too; it judges nothing."""


@pytest.mark.parametrize("path", sorted(p for p in FOLDER.glob("*.py") if p.stem not in WALK), ids=lambda p: p.stem)
def test_the_monitor_knows_nothing_of_how_the_dialogue_decides(path: Path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    imported = {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.module}
    ours = {m for m in imported if m.startswith("assistant")}
    assert all(m == "assistant.profile" or m.startswith("assistant.safety") for m in ours)


def test_the_check_says_of_each_rule_how_often_it_came_about_and_how_often_it_was_broken():
    paper = Paper().proves_dead().asks("command", "Leads off. Say done.")
    paper.monitor.watch(paper.seen, [], paper.now)
    lines = {line.split()[0]: line for line in report(paper.monitor.tally)}
    assert "came about 1 times, broken 0 times" in lines["S1"]
    assert "broken 1 times" in lines["call"]
    assert list(lines) == list(RULES)


def test_a_rule_whose_situation_never_came_about_is_complained_of():
    paper = Paper().proves_dead().asks("command", "Leads off. Say done.")
    assert "S1 never came about: hands in only while proved dead" not in never_came(paper.monitor.tally)
    assert "S1 never came about: hands in only while proved dead" in never_came(Tally())


def test_what_was_seen_before_is_not_changed_by_what_comes_after():
    paper = Paper().proves_dead()
    paper.asks("oil_level")
    before = dict(vars(paper.seen))
    other = Monitor(paper.site)
    other.watch(paper.seen, [{"kind": "call_resumed", "reason": "killed"}], NOON + timedelta(hours=1))
    assert vars(paper.seen) == before


def test_two_calls_that_differ_only_in_time_are_one_to_a_walk():
    soon, late = Paper().proves_dead(), Paper().after(100).proves_dead()
    assert soon.turn().seen.key() == late.turn().seen.key()
    assert len({soon.seen.key(), Paper().arrives().turn().seen.key()}) == 2
