"""The steps of a call, read from the TOML files beside this one and checked as they are read."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any

from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade.case import FACTS

FILES = (
    "front", "machine", "live_chain", "contact", "motor", "injection", "window", "oil", "high_pressure", "low_pressure",
    "liquid", "pressure_reset", "restore", "running", "watch", "stop", "close",
)  # fmt: skip
"""The run of steps, in order."""
PROOF_FILE = "prove_dead"
GATE_FILE = "live_work"
PHASES = (
    "front", "machine", "panel", "live", "oil", "condenser", "cases", "liquid", "restore", "watch", "close", "sealed",
)  # fmt: skip
ACTS = ("", "hands_in", "live", "power_on", "power_off", "unlock", "start")
NEEDS = ("power_off", "dead_after_window", "locked")


class ProcedureFault(ValueError):
    """A procedure that cannot be used, with the file, the step and what is wrong."""


@dataclass(frozen=True)
class Step:
    """One thing the technician does or says."""

    id: str
    phase: str
    ask: str
    asking: str
    also: tuple[str, ...] = ()
    act: str = ""
    """One of `ACTS`: what the technician's hands do, which decides what must hold first."""
    needs: tuple[str, ...] = ()
    when: tuple[str, ...] = ()
    """Findings by name, all of which must hold; `!` before one turns it round; `open:` names an obligation."""
    cautions: tuple[str, ...] = ()
    """Spoken and acknowledged before the step; with `?` only where the profile makes it apply."""
    opens: tuple[str, ...] = ()
    """Obligations that are open from the moment this step is asked."""
    clears: tuple[str, ...] = ()
    hands_over: tuple[str, ...] = ()
    all_good: Mapping[str, Value] = field(default_factory=dict)
    go_ahead: tuple[str, ...] = ()
    tells: Mapping[str, str] = field(default_factory=dict)
    """Words that answer a look which no id of the vocabulary stands for, each with the facts it establishes (`FACTS`
    of the refrigeration room, parted by spaces; none for "nothing found"). They are the step's go-aheads."""
    why: str = ""
    """What is said to "why" where the vocabulary has no meaning of its own for it."""
    required: bool = False
    """It cannot be skipped."""
    safe: bool = False
    """It is still asked when the call is closed early."""
    proof: bool = False
    gate: bool = False
    watch_round: int = 0
    wait_minutes: float = 0
    wait_minutes_after_power_off: float = 0
    wait_minutes_after_start: float = 0
    wait_minutes_after_trip: float = 0
    """Counted from the trip, as far as it is known."""

    def facts(self, said: str) -> tuple[str, ...]:
        """What these words establish: the longest of the step's words that is among them counts."""
        return tuple(self.tells[self.word(said)].split()) if self.word(said) else ()

    def word(self, said: str) -> str:
        """The one of the step's words that was said; empty for none."""
        return max((w for w in self.tells if f" {w} " in f" {said} "), key=len, default="")


def _step(raw: Mapping[str, Any], file: str) -> Step:
    known = {f.name for f in fields(Step)}
    name = raw.get("id", "?")
    for key in raw:
        if key not in known:
            raise ProcedureFault(f"{file}.toml, step '{name}': '{key}' is not known")
    for key in ("id", "phase", "ask", "asking"):
        if key not in raw:
            raise ProcedureFault(f"{file}.toml, step '{name}': '{key}' is missing")
    given: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value for key, value in raw.items()}
    if "tells" in given:
        given["go_ahead"] = tuple(given["tells"])
        for facts in given["tells"].values():
            for fact in facts.split():
                if fact not in FACTS:
                    raise ProcedureFault(f"{file}.toml, step '{name}': there is no fact '{fact}'")
    step = Step(**given)
    ids = [i for i in (step.asking, *step.also) if i != "command"]
    for id_ in ids:
        if id_ not in vocabulary():
            raise ProcedureFault(f"{file}.toml, step '{name}': '{id_}' is not an id of the vocabulary")
    if step.phase not in PHASES:
        raise ProcedureFault(f"{file}.toml, step '{name}': there is no phase '{step.phase}'")
    if step.act not in ACTS:
        raise ProcedureFault(f"{file}.toml, step '{name}': there is no act '{step.act}'")
    for need in step.needs:
        if need not in NEEDS:
            raise ProcedureFault(f"{file}.toml, step '{name}': there is no need '{need}'")
    return step


def load_steps(folder: Path | None = None) -> tuple[Step, ...]:
    """Every step: the run in order, then the proof of absence of voltage, then the gates of live work.

    Raises:
        ProcedureFault: a file is missing or a step is wrong; names both.
    """
    folder = folder or Path(__file__).parent.parent / "branches"
    steps: list[Step] = []
    for file in (*FILES, PROOF_FILE, GATE_FILE):
        try:
            data = tomllib.loads((folder / f"{file}.toml").read_text(encoding="utf-8"))
        except OSError as error:
            raise ProcedureFault(f"{folder / file}.toml: {error.strerror}") from error
        except tomllib.TOMLDecodeError as error:
            raise ProcedureFault(f"{file}.toml: {error}") from error
        steps += [_step(raw, file) for raw in data.get("step", [])]
    seen: set[str] = set()
    for step in steps:
        if step.id in seen:
            raise ProcedureFault(f"step '{step.id}' stands twice")
        seen.add(step.id)
    return tuple(steps)


@cache
def all_steps() -> tuple[Step, ...]:
    return load_steps()
