"""How a fault is planted, and how it is found: calls on paper with the monitor beside them, and short walks.

A planted fault is one line of a table: the rule that must find it, where it sits, what is wrong there, and the cheapest
call that comes past it. The faults lie in what the steps declare, in what is said, and in the Python of the dialogue.
"""

import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from assistant.branches.loading import HOME
from assistant.branches.steps import BRANCHES
from assistant.call.effects import Effect, Listen
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard, Unclear
from assistant.call.procedure import Procedure, load_procedure, own_procedure
from assistant.language.meaning import Answer
from assistant.language.wording import cautions
from assistant.profile import Rack as RackProfile
from assistant.profile import Site
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor
from assistant.safety.walk import prove
from tests.branch_rack import FAULTS, BranchRack
from tests.safety.racks import every_kind
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

KILL, NOISE = "(killed)", "(noise)"
"""It is cut and taken up again; a noise is heard of which nothing can be made."""
MOST_TURNS = 260
SEAL = "the seal"

Move = str | float | Answer
"""`at STEP`: the technician answers until that step is asked; a number: so many seconds go by in silence; `KILL`, `NOISE`; else
what is said, with ` | after SECONDS` so late; an answer: words that are taken for it."""
Find = Callable[[Procedure], tuple[str, ...]]
"""Drives calls by these steps and gives what the monitor complains of."""
Plant = Callable[[pytest.MonkeyPatch], None]


# ---- calls that come past a fault


class WatchedTalk(Talk):
    """A call on paper with the monitor beside it, on any procedure, in anybody's or nobody's name."""

    def __init__(self, site: Site, procedure: Procedure, opened: CallOpened) -> None:
        self.monitor = Monitor(site)
        self.seen = self.monitor.begin()
        super().__init__(site, procedure=procedure, opened=opened)

    def _take(self, effects: list[Effect]) -> None:
        self.seen = self.monitor.watch(self.seen, lines(effects), self.now)
        super()._take(effects)

    def hear_meaning(self, meaning: Answer) -> None:
        """Words that are taken for this answer."""
        self.receive(Heard(str(meaning.parts[0].value), self.now + timedelta(seconds=4), meaning=meaning))

    def noise(self) -> None:
        """Something sounded, and nothing could be made of it."""
        self.receive(Unclear(self.now))

    @property
    def over(self) -> bool:
        return bool(self.seen.complaints) or self.dialogue.over

    @property
    def label(self) -> str:
        """The step that is asked, or the step and the caution before it."""
        last = self.effects[-1]
        assert isinstance(last, Listen)
        return last.step


def site_with(base: Site, **changes: Any) -> Site:
    """The site; its first rack with other data, of the panel or the probe where they are fields of these."""
    rack: RackProfile = base.racks[0]
    for name, value in changes.items():
        if name in vars(rack.panel):
            rack = replace(rack, panel=replace(rack.panel, **{name: value}))
        elif name in vars(rack.probe):
            rack = replace(rack, probe=replace(rack.probe, **{name: value}))
        else:
            rack = replace(rack, **{name: value})
    return replace(base, racks=(rack, *base.racks[1:]))


@dataclass(frozen=True)
class Call:
    """A simulated technician at a rack with a fault; what is said and done on the way."""

    fault: str
    moves: tuple[Move, ...] = ()
    words: tuple[tuple[str, str], ...] = ()
    """Answers instead of the healthy ones, by id or step."""
    rack: tuple[tuple[str, Any], ...] = ()
    """What the profile says instead of the demo site's first rack."""
    opened: tuple[tuple[str, Any], ...] = ()

    def but(self, **words: str) -> "Call":
        """The same with other answers; `__` stands for the dot of an id."""
        return replace(self, words=(*self.words, *((name.replace("__", "."), said) for name, said in words.items())))

    def on(self, **rack: Any) -> "Call":
        return replace(self, rack=(*self.rack, *rack.items()))

    def __call__(self, procedure: Procedure) -> tuple[str, ...]:
        rack = (BranchRack if self.fault in FAULTS else Rack)(self.fault, dict(self.words))
        opened = CallOpened("paper", "", "test", **{"technician": "Robin Vale", **dict(self.opened)})
        talk = WatchedTalk(site_with(site_of(self.fault), **dict(self.rack)), procedure, opened)
        for move in (*self.moves, f"at {SEAL}"):
            if not talk.over:
                self._do(talk, rack, move)
        return talk.seen.complaints if talk.over else (f"end the call does not end; last asked was {talk.label}",)

    def _do(self, talk: WatchedTalk, rack: Rack, move: Move) -> None:
        if isinstance(move, int | float):
            talk.wait(move)
        elif isinstance(move, Answer):
            talk.hear_meaning(move)
        elif move.startswith("at "):
            self._answer_until(talk, rack, move[3:])
        elif move == KILL:
            talk.kill()
        elif move == NOISE:
            talk.noise()
        else:
            said, _, late_s = move.partition(" | after ")
            talk.hear(said, after_s=float(late_s or 4))

    @staticmethod
    def _answer_until(talk: WatchedTalk, rack: Rack, step: str) -> None:
        for _ in range(MOST_TURNS):
            if talk.over or talk.label == step:
                return
            talk.hear(talk.words_of(rack))
        assert step == SEAL, f"'{step}' is never asked; last was {talk.label}"


def call(fault: str, *moves: Move) -> Call:
    return Call(fault, moves)


@dataclass(frozen=True)
class Walk:
    """A short walk on racks of every kind, to the first complaint."""

    calls: int
    at_most: int = 0

    def __call__(self, procedure: Procedure) -> tuple[str, ...]:
        return tuple(prove(every_kind(), procedure, self.at_most, self.calls, first_complaint=True).complaints)


def rules(complaints: tuple[str, ...]) -> set[str]:
    """The rules that were complained of; nothing else is."""
    return {complaint.split()[0] for complaint in complaints}


# ---- faults in what the steps declare


@dataclass(frozen=True)
class Label:
    """A label of one step of a copy of the procedures."""

    step: str
    label: str
    instead: str = ""
    """Its value in TOML; empty: the step loses the label."""

    def __str__(self) -> str:
        return f"{self.step}.{self.label}: {self.instead or 'lost'}"


def changed(folder: Path, *labels: Label) -> Path:
    """A copy of the package's procedures with labels of its steps changed."""
    for branch in BRANCHES:
        (folder / branch).mkdir(parents=True, exist_ok=True)
        shutil.copy(HOME / branch / "steps.toml", folder / branch)
    shutil.copy(HOME / "obligations.toml", folder)
    for label in labels:
        path, text, block = _block(folder, label.step)
        path.write_text(text.replace(block, _with(block, label), 1), encoding="utf-8")
    return folder


def _block(folder: Path, id_: str) -> tuple[Path, str, str]:
    """The file that holds a step, an obligation or the repair of a cause; its text; and the lines of that table."""
    for path in sorted(folder.rglob("*.toml")):
        text = path.read_text(encoding="utf-8")
        for block in re.split(r"(?m)^(?=\[\[)", text):
            if f'\nid = "{id_}"\n' in block or re.search(rf'\ncauses = \[[^\]]*"{id_}"', block):
                return path, text, block
    raise AssertionError(f"there is no step '{id_}'")


def _with(block: str, label: Label) -> str:
    line = re.compile(rf"(?m)^{re.escape(label.label)} = .*\n")
    assert label.instead or line.search(block), f"'{label.step}' has no '{label.label}' to lose"
    without = line.sub("", block)
    head, _, rest = without.partition("\n")
    return f"{head}\n{label.label} = {label.instead}\n{rest}" if label.instead else without


# ---- faults in what is said and in the Python of the dialogue


def of(owner: Any, name: str, value: Any) -> Plant:
    """An attribute of a module or a class is another one."""
    return lambda patch: patch.setattr(owner, name, value)


def entry(table: Any, key: str, value: Any) -> Plant:
    """An entry of a table is another one."""
    return lambda patch: patch.setitem(table, key, value)


def both(*plants: Plant) -> Plant:
    """A fault that takes two places: the dialogue guards this rule twice."""

    def plant(patch: pytest.MonkeyPatch) -> None:
        for one in plants:
            one(patch)

    return plant


def caution(name: str, lost: str, form: str = "full") -> Plant:
    """A caution lost some of its words."""

    def plant(patch: pytest.MonkeyPatch) -> None:
        words = cautions()[name]
        assert lost in words[form], f"'{name}' does not say '{lost}'"
        patch.setitem(words, form, words[form].replace(lost, ""))

    return plant


def planted(patch: pytest.MonkeyPatch, folder: Path, fault: "Label | Plant") -> Procedure:
    """Plant a fault, and give the steps that the calls follow then."""
    if isinstance(fault, Label):
        return load_procedure(changed(folder, fault))
    fault(patch)
    return own_procedure()
