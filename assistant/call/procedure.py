"""The procedures that a call follows: the package's own, or a folder of a trainer's."""

from functools import cache
from pathlib import Path

from assistant.branches.actions import ACTIONS
from assistant.branches.diagnosis import rules
from assistant.branches.loading import HOME, Known, ProcedureFault, load
from assistant.branches.steps import Procedure, Step
from assistant.call.cautions import OF_THE_MACHINE
from assistant.call.conditions import NAMES
from assistant.language.wording import cautions
from assistant.trade.case import FACTS

__all__ = ["Procedure", "ProcedureFault", "Step", "all_steps", "load_procedure", "own_procedure"]


FACTS_OF_THE_CALL = (
    "read_running", "reset_failed", "tripped_in_its_delay", "two_contacts_open", "windings_read_after_an_hour",
)  # fmt: skip
"""Facts with a meaning in the files that no step establishes: the call does."""
OBLIGATIONS = (
    "jumper_fitted", "leads_on", "wire_lifted", "start_blocked", "terminal_cover", "panel_cover", "clamp_left_on", "hose_on",
    "liquid_section_closed", "section_shut", "circuit_open",
    "valve_closed.discharge", "valve_closed.suction", "valve_closed.injection",
    "liquid_in_compressor", "floodback", "leak_over_limit", "second_lock", "fan_lock", "lock_elsewhere", "locked_out",
    "switch_in_hand", "defrost_disabled",
    "set_point_changed", "capacity_forced", "part_borrowed", "reset_substitute", "no_cause_reset", "leak_open",
)  # fmt: skip
"""What log, pages and the call know by name. A folder may have more of its own."""


def load_procedure(folder: Path | None = None) -> Procedure:
    """The procedure of a folder; the package's own without one.

    Raises:
        ProcedureFault: something in it is wrong; names everything that is, with its line.
    """
    spoken, of_the_machine = frozenset(cautions()), frozenset(OF_THE_MACHINE)
    known = Known(NAMES, FACTS, spoken, of_the_machine, frozenset(rules()), ACTIONS, FACTS_OF_THE_CALL, OBLIGATIONS)
    return load(folder or HOME, known)


@cache
def own_procedure() -> Procedure:
    """The package's own procedure."""
    return load_procedure()


def all_steps() -> tuple[Step, ...]:
    """The steps of the package's own procedure: the run, then what is put before a step of it."""
    return own_procedure().steps
