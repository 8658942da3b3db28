"""What the steps of the liquid ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import liquid_explained, standing
from assistant.profile import Rack
from assistant.trade.case import Case


def _charge_wanted(case: Case) -> bool:
    searched = case.says("leak_repaired", "yes") or case.says("leak_found", "no")
    return standing(case, "refrigerant_low") and searched


def _charge_restored(case: Case) -> bool:
    level = case.number("receiver_level") or 0.0
    whole = case.says("sight_glass", "full") and level >= case.site.limits.receiver_normal_percent
    return case.over("refrigerant_added", 0.0) and whole and case.has("glass_read_after_charge")


_SEALS = ("gasket", "seal", "o ring")
"""Words for what shrinks when a retrofit changes the oil. Common practice."""


def _valve_in_question(case: Case) -> bool:
    """Starved with liquid in the receiver and a good drier: something between them is shut, or the line is warm."""
    level, drop, limits = case.number("receiver_level"), case.number("drier_temperature_drop"), case.site.limits
    return (
        not liquid_explained(case)
        and level is not None and level > limits.receiver_low_percent
        and drop is not None and drop <= limits.drier_bad_delta_degf
    )  # fmt: skip


def _leak_wanted(case: Case) -> bool:
    """The charge is low; or the liquid flashes with a good drier and a receiver that is neither low nor normal: there a leak
    decides."""
    level, drop, limits = case.number("receiver_level"), case.number("drier_temperature_drop"), case.site.limits
    between = level is not None and limits.receiver_low_percent < level < limits.receiver_normal_percent
    good = drop is not None and drop < limits.drier_good_delta_degf
    open_ = between and good and case.says("sight_glass", "bubbles", "empty") and not liquid_explained(case)
    return standing(case, "refrigerant_low") or open_


def _at_seal(case: Case) -> bool:
    place = case.readings.get("leak_place")
    return isinstance(place, str) and any(word in place for word in _SEALS)


def _moisture_in_question(case: Case) -> bool:
    """A drier that is plugged, or oil that speaks of water or acid."""
    return standing(case, "drier_plugged") or case.says("oil_color", "milky", "dark")


JUDGED: dict[str, Callable[[Case], bool]] = {
    "moisture_in_question": _moisture_in_question,
    "liquid_valve_in_question": _valve_in_question,
    "leak_at_seal": _at_seal,
    "addition_unknown": lambda case: case.site.days_since_addition is None,
    "charge_low": lambda case: standing(case, "refrigerant_low"),
    "leak_wanted": _leak_wanted,
    "charge_wanted": _charge_wanted,
    "charged": lambda case: case.over("refrigerant_added", 0.0),
}
FITTED: dict[str, Callable[[Rack], bool]] = {}
FACTS: dict[str, Callable[[Case], bool]] = {
    "charge_restored": _charge_restored,
    "leak_at_seal": _at_seal,
}
