"""What the steps of the low-pressure cutout ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import in_branch, standing
from assistant.profile import Rack
from assistant.trade.case import Case

_LOW_CAUSES = ("evaporator_load_low", "evaporator_fan_or_defrost", "liquid_branch_closed", "suction_restricted",
               "refrigerant_low", "drier_plugged", "low_pressure_normal")  # fmt: skip


def rack_satisfied(case: Case) -> bool:
    """The low-pressure contact is open because nothing asks for the machine: nothing is mended, nothing is reset."""
    return standing(case, "low_pressure_normal")


def _low_explained(case: Case) -> bool:
    return any(standing(case, c) for c in _LOW_CAUSES)


def _clearly_over(case: Case) -> bool:
    """A checked gauge reads clearly over the setting of the cutout."""
    read, suction = case.number("cutout_pressure"), case.number("suction_pressure")
    setting = case.site.low_cutout_psig if read is None else read
    if suction is None or setting is None:
        return False
    limits = case.site.limits
    inside = max(limits.pressure_inside_delta_psi, limits.pressure_inside_percent / 100 * abs(setting))
    return case.has("suction_read_on_checked_gauge") and suction > setting + inside


JUDGED: dict[str, Callable[[Case], bool]] = {
    "low_branch": lambda case: in_branch(case, "low pressure"),
    "low_undecided": lambda case: not _low_explained(case),
    "cases_iced": lambda case: case.says("case_load", "iced") and not case.says("defrost_state", "stuck"),
    "rack_satisfied": rack_satisfied,
}
FITTED: dict[str, Callable[[Rack], bool]] = {"low_cutout_unknown": lambda rack: rack.low_cutout_psig is None}
FACTS: dict[str, Callable[[Case], bool]] = {"pressure_clearly_inside": _clearly_over}
