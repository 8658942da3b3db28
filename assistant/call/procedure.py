"""The procedures that a call follows: the package's own, or a folder of a trainer's."""

from functools import cache
from pathlib import Path

from assistant.branches.diagnosis import rules
from assistant.branches.loading import HOME, Known, ProcedureFault, load
from assistant.branches.steps import Procedure, Step
from assistant.call.cautions import OF_THE_MACHINE
from assistant.call.conditions import NAMES
from assistant.language.wording import cautions
from assistant.trade.case import FACTS

__all__ = ["Procedure", "ProcedureFault", "Step", "all_steps", "load_procedure", "own_procedure"]


def load_procedure(folder: Path | None = None) -> Procedure:
    """The procedure of a folder; the package's own without one.

    Raises:
        ProcedureFault: something in it is wrong; names everything that is, with its line.
    """
    known = Known(NAMES, FACTS, frozenset(cautions()), frozenset(OF_THE_MACHINE), frozenset(rules()))
    return load(folder or HOME, known)


@cache
def own_procedure() -> Procedure:
    """The package's own procedure."""
    return load_procedure()


def all_steps() -> tuple[Step, ...]:
    """The steps of the package's own procedure: the run, then what is put before a step of it."""
    return own_procedure().steps
