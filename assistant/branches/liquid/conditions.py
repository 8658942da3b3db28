"""What the steps of the liquid ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import standing
from assistant.profile import Rack
from assistant.trade.case import Case


def _charge_wanted(case: Case) -> bool:
    searched = case.says("leak_repaired", "yes") or case.says("leak_found", "no")
    return standing(case, "refrigerant_low") and searched


def _charge_restored(case: Case) -> bool:
    level = case.number("receiver_level") or 0.0
    whole = case.says("sight_glass", "full") and level >= case.site.limits.receiver_normal_percent
    return case.over("refrigerant_added", 0.0) and whole and case.has("glass_read_after_charge")


JUDGED: dict[str, Callable[[Case], bool]] = {
    "charge_low": lambda case: standing(case, "refrigerant_low"),
    "charge_wanted": _charge_wanted,
    "charged": lambda case: case.over("refrigerant_added", 0.0),
}
FITTED: dict[str, Callable[[Rack], bool]] = {}
FACTS: dict[str, Callable[[Case], bool]] = {"charge_restored": _charge_restored}
