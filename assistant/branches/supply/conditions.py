"""What the steps of the control supply ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import in_question, none_open, proven, standing
from assistant.branches.supply.causes import CHAIN
from assistant.profile import Rack
from assistant.trade.case import Case


def supply_branch(case: Case) -> bool:
    """No contact is open, or the phase monitor tripped."""
    return in_question(case) and (none_open(case) or case.says("phase_monitor_state", "tripped"))


def window_wanted(case: Case) -> bool:
    """Volts of the control circuit are still to be read, and nothing that the dead readings found explains the trip."""
    unexplained = not standing(case, "control_supply_lost") and not proven(case, "starter_coil_failed")
    at_the_coil = case.live("control_volts") is True and "contactor_coil_volts" not in case.readings
    along = _walk_wanted(case) and not all(f"chain_point.{point}" in case.readings for point in CHAIN)
    return supply_branch(case) and unexplained and ("control_volts" not in case.readings or at_the_coil or along)


def _walk_wanted(case: Case) -> bool:
    dead_coil = case.live("control_volts") is True and case.live("contactor_coil_volts") is False
    return supply_branch(case) and dead_coil and not standing(case, "chain_wiring_open")


def _starter_should_pull(case: Case) -> bool:
    return case.live("contactor_coil_volts") is True and not standing(case, "starter_coil_failed")


JUDGED: dict[str, Callable[[Case], bool]] = {
    "supply_branch": supply_branch,
    "supply_present": lambda case: case.live("control_volts") is True,
    "supply_absent": lambda case: case.live("control_volts") is False,
    "starter_without_volts": lambda case: case.live("contactor_coil_volts") is not True,
    "starter_should_pull": _starter_should_pull,
    "chain_walk_wanted": _walk_wanted,
    "fuse_opened_on_its_coil": lambda case: case.says("control_fuse", "blown") and standing(case, "starter_coil_failed"),
}
FITTED: dict[str, Callable[[Rack], bool]] = {}
FACTS: dict[str, Callable[[Case], bool]] = {}
