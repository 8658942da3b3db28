"""What the steps of the liquid injection ask of the readings."""

from collections.abc import Callable

from assistant.branches.search import decided, found, liquid_explained, open_contacts, several, standing, to_mend
from assistant.profile import Rack
from assistant.trade.case import Case

PROBE_FAULTS = frozenset({"probe_fouled", "probe_wiring_faulty", "probe_loose"})
"""Faults of the probe that leave nothing to clean."""


def _probe_off(case: Case, derived: str) -> bool:
    error = case.derived.get(derived)
    return error is not None and abs(error) > case.site.limits.probe_tolerance_delta_degf


def _odd_at_module_end(case: Case) -> bool:
    end = "probe_ohms.module_end"
    return case.says(end, "over_range", "below_resolution") or _probe_off(case, "probe_error_delta_degf")


def _odd_at_probe(case: Case) -> bool:
    return not PROBE_FAULTS & set(found(case)) and _probe_off(case, "probe_error_at_probe_delta_degf")


def _discharge_followed(case: Case) -> bool:
    return "discharge" in open_contacts(case)


def _feed_test_wanted(case: Case) -> bool:
    return _discharge_followed(case) and not decided(case, "discharge")


def _feed_poor_with_click(case: Case) -> bool:
    return not decided(case, "discharge") and case.says("injection_feed", "dry", "weak") and case.says("valve_click", "click")


def leaking_valve(case: Case) -> bool:
    """The valve leaks by and was not repaired: the machine is not started."""
    return standing(case, "injection_valve_leaking") and not case.has("repaired")


def _liquid_suspect(case: Case) -> bool:
    vapour = case.says("sight_glass", "bubbles", "empty") and not liquid_explained(case)
    if decided(case, "discharge") and not several(case) and not vapour:
        return False
    tried = case.has("feed_test_run") or case.has("feed_read_running")  # a standing line is dry as found
    starved = tried and case.says("injection_feed", "weak", "dry") and case.coil_live() is not False
    common = several(case) and "common_supply_lost" not in found(case)
    return starved or common or case.says("sight_glass", "bubbles", "empty")


def _opened(case: Case) -> bool:
    return case.has("repaired") and "injection_valve_stuck_closed" in found(case)


def _coil_in_question(case: Case) -> bool:
    """A coil whose good ohms nobody knows, and which is neither open nor read beside a like one."""
    ohm, like = case.number("injection_coil_ohms"), "injection_coil_ohms.like"
    return ohm is not None and case.site.coil_ohms is None and like not in case.readings


def _probe_late(case: Case) -> bool:
    """Dirt on a probe that reads right: it may only be slow."""
    on = case.derived.get("probe_error_delta_degf")
    right = on is not None and abs(on) <= case.site.limits.probe_tolerance_delta_degf
    return right and case.says("probe_condition", "fouled") and not decided(case, "discharge")


def _strainer_was_opened(case: Case) -> bool:
    return case.has("repaired") and bool({"injection_strainer_plugged", "liquid_feed_restricted"} & set(found(case)))


def _fed_as_found(case: Case) -> bool:
    return case.says("injection_as_found", "feeding", "cold")


def _modules_in_question(case: Case) -> bool:
    another = case.says("protection_shown", "oil", "high pressure", "low pressure", "motor")
    return several(case) and case.says("trip_spread", "together") and not another


def _probe_unjudged(case: Case) -> bool:
    """Off its curve while pipe and probe had not one temperature: no verdict yet."""
    hot = not case.has("standing_over_an_hour")
    return hot and not decided(case, "discharge") and (_odd_at_module_end(case) or _odd_at_probe(case))


def _probe_good(case: Case) -> bool:
    """On its curve at one temperature, and below its trip."""
    error, reads, trip = (case.derived.get("probe_error_delta_degf"), case.derived.get("probe_reads_degf"),
                          case.site.trip_temperature_degf)  # fmt: skip
    on = error is not None and abs(error) <= case.site.limits.probe_tolerance_delta_degf
    return on and case.has("standing_over_an_hour") and reads is not None and trip is not None and reads < trip


def _seen_running(case: Case) -> bool:
    return case.has("feed_read_running") and case.says("injection_feed", "feeding")


JUDGED: dict[str, Callable[[Case], bool]] = {
    "discharge_followed": _discharge_followed,
    "probe_off_at_module_end": _odd_at_module_end,
    "probe_off_at_probe": _odd_at_probe,
    "feed_test_wanted": _feed_test_wanted,
    "output_fuse_opened_on_its_coil": lambda case: (
        case.says("module_output_fuse", "blown") and standing(case, "injection_coil_failed")
    ),
    "no_output": lambda case: case.live("module_output_volts") is False,
    "output_test_wanted": lambda case: not decided(case, "discharge") and case.coil_live() is False,
    "module_supply_good": lambda case: case.live("module_supply_volts") is not False,
    "feed_poor_with_click": _feed_poor_with_click,
    "liquid_suspect": _liquid_suspect,
    "coil_in_question": _coil_in_question,
    "probe_late": _probe_late,
    "strainer_was_opened": _strainer_was_opened,
    "fed_as_found": _fed_as_found,
    "modules_in_question": _modules_in_question,
    "probe_unjudged": _probe_unjudged,
    "probe_good": _probe_good,
    "discharge_unexplained": lambda case: not decided(case, "discharge") and "discharge" not in case.site.held_contacts,
    "probe_to_mend": lambda case: bool({"probe_fouled", "probe_failed", "probe_loose"} & set(to_mend(case))),
    "leaking_valve": leaking_valve,
    "may_run": lambda case: not leaking_valve(case),
}
FITTED: dict[str, Callable[[Rack], bool]] = {
    "probe_has_ohms": lambda rack: rack.probe.kind != "thermostat",  # that one opens or closes: it is the contact itself
    "probe_comes_out": lambda rack: rack.probe.mount in ("clamp", "dry_well"),
    "line_out_of_sight": lambda rack: not rack.injection.line_in_sight,
    "module_has_fuse": lambda rack: "module output" in rack.panel.fuses,
}
FACTS: dict[str, Callable[[Case], bool]] = {
    "probe_hot_now": lambda case: (case.number("probe_pipe_temperature") or 0.0) > (case.site.injection_holds_degf or 0.0),
    "injection_seen_running": _seen_running,
    "injection_shut": lambda case: case.has("feed_read_running") and case.says("injection_feed", "dry"),
    "fed_as_found": _fed_as_found,
    "probe_cool": lambda case: case.under("probe_pipe_temperature", case.site.injection_holds_degf or 0.0),
    "valve_opened_or_replaced": _opened,
    "feed_seen_after": lambda case: _opened(case) and _seen_running(case),
}
