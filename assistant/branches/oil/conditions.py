"""What the steps of the oil pressure differential ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import explained, in_branch, in_question, standing
from assistant.profile import Rack
from assistant.trade.case import Case


def oil_open(case: Case) -> bool:
    """Its contact was read open, alone or among several, and the control itself does not say that it did not trip."""
    return in_question(case) and "oil" in case.contacts and not case.has("oil_control_not_tripped")


def oil_fit(case: Case) -> bool:
    """The oil's level lets the machine run: neither low nor foaming, and not high once it was filled or set right."""
    high = case.says("oil_level", "high") and not case.has("oil_read_after")
    if not oil_open(case):  # said by the way, or seen beside another protection's
        return not (case.says("oil_level", "foaming") or (case.says("oil_level", "high") and not case.has("oil_read_after")))
    return case.says("oil_level", "normal") or high


def net_oil_low(case: Case) -> bool:
    net = case.derived.get("net_oil")
    return net is not None and net < case.site.limits.net_oil_limit_delta_psi


def _look_wanted(case: Case) -> bool:
    """Dead, a contact that a powered module holds reads open whether it tripped or not."""
    return "oil" in case.contacts and "oil" in case.site.held_contacts and "safety_volts.oil_pressure" not in case.readings


JUDGED: dict[str, Callable[[Case], bool]] = {
    "oil_branch": lambda case: in_branch(case, "oil"),
    "oil_open": oil_open,
    "oil_contact_held": _look_wanted,
    "oil_undecided": lambda case: not explained(case, "oil"),
    "oil_was_off": lambda case: any(standing(case, c) for c in ("oil_level_low", "oil_diluted", "oil_overfilled")),
    "oil_was_low": lambda case: standing(case, "oil_level_low"),
    "oil_read_dry": lambda case: case.has("heater_waited_for_liquid") and not standing(case, "oil_level_low"),
}
FITTED: dict[str, Callable[[Rack], bool]] = {"oil_kind_unknown": lambda rack: not rack.oil}
FACTS: dict[str, Callable[[Case], bool]] = {
    "net_oil_read_as_it_opened": lambda case: case.has("tripped_in_its_delay", "net_oil_read_running"),
    "mineral_oil_left": lambda case: case.site.oil == "mineral" and in_branch(case, "oil"),
}
