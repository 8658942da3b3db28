"""What the steps of the high-pressure cutout ask of the readings."""

from collections.abc import Callable

from assistant.branches.head.causes import head_minimum
from assistant.branches.search import decided, explained, head_explained, in_branch, several
from assistant.profile import Rack
from assistant.trade.case import Case


def _air_suspected(case: Case) -> bool:
    return case.standings.get("non_condensables") == "suspected" and not explained(case, "high pressure")


def _drop_in_question(case: Case) -> bool:
    """This machine's discharge lies well over what its header had, whenever that was read."""
    header = case.number("rack_discharge_pressure")
    return header is not None and case.over("discharge_pressure", header + case.site.limits.discharge_restricted_delta_psi)


def _clearly_inside(case: Case) -> bool:
    """A checked gauge reads clearly under the setting of the cutout."""
    setting, head = case.number("cutout_pressure") or case.site.high_cutout_psig, case.number("discharge_pressure")
    inside = head is not None and bool(setting) and head < (1 - case.site.limits.pressure_inside_percent / 100) * (setting or 0.0)
    return case.has("head_read_on_checked_gauge") and inside


def head_out_of_line(case: Case) -> bool:
    """The header's head lies a fifth over what its control holds: why it was hot is looked for there at once."""
    head, least = case.number("rack_discharge_pressure"), head_minimum(case)
    return head is not None and least is not None and head > least * (1 + case.site.limits.head_out_percent / 100)


def head_far_out(case: Case) -> bool:
    """So far over what its control holds that no cause of another kind explains it."""
    head, least = case.number("rack_discharge_pressure"), head_minimum(case)
    return head is not None and least is not None and head > least * (1 + case.site.limits.head_far_percent / 100)


def _head_followed(case: Case) -> bool:
    """Its own cutout is open, the discharge protection with the head out of line, or the head is so high that it has a
    cause of its own beside the one that was found."""
    hot = in_branch(case, "discharge") and head_out_of_line(case) and not decided(case, "discharge")
    beside = bool(case.contacts or several(case)) and head_far_out(case) and not head_explained(case)
    return in_branch(case, "high pressure") or hot or beside


def _head_looked_at(case: Case) -> bool:
    """Its own cutout is open, or the split over the air says that the head is the reason: then the climb is worth it."""
    split = case.over("condensing_difference", case.site.limits.condensing_limit_delta_degf)
    return in_branch(case, "high pressure") or (_head_followed(case) and split)


JUDGED: dict[str, Callable[[Case], bool]] = {
    "head_searched": lambda case: in_branch(case, "high pressure") or _head_looked_at(case),
    "head_followed": _head_followed,
    "head_looked_at": _head_looked_at,
    "high_branch": lambda case: in_branch(case, "high pressure"),
    "pressure_branch": lambda case: in_branch(case, "high pressure") or in_branch(case, "low pressure"),
    "head_undecided": lambda case: not explained(case, "high pressure"),
    "liquid_backed_up": lambda case: case.over("condenser_subcooling", case.site.limits.subcooling_high_delta_degf),
    "cold_air": lambda case: (air := case.number("ambient_temperature")) is not None and air < case.site.limits.warm_air_degf,
    "air_suspected": _air_suspected,
    "drop_in_question": _drop_in_question,
}
FITTED: dict[str, Callable[[Rack], bool]] = {
    "high_cutout_unknown": lambda rack: not rack.high_cutout_psig,
    "other_stage_fitted": lambda rack: rack.refrigerant == "R744",
}
FACTS: dict[str, Callable[[Case], bool]] = {
    "every_fan_called": lambda case: case.number("condenser_fans_called") == case.site.condenser_fans,
    "pressure_clearly_inside": _clearly_inside,
}
