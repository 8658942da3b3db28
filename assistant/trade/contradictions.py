"""Readings that cannot both be true: one gauge, one word or one ear is wrong (rule S41).

What is listed is physics or the wiring itself, not what is usual: suction over discharge, a click without volts, a fan more
than there are. Readings of different rounds contradict nothing: they may both have been true.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from assistant.trade.case import Case

_PRESENT = 1e-6
_EMPTY_PERCENT = 2.0
"""A receiver up to this has no liquid over its outlet, and no glass behind it stays full. Our own figure."""
_GLIDE_DELTA_DEGF = 12.0
"""The widest glide of the refrigerants computed here, so that a blend's midpoint is no reason. Computed (R-448A, 15 psig)."""


@dataclass(frozen=True)
class Contradiction:
    """Readings that cannot both be true."""

    ids: tuple[str, ...]
    """One or two readings, in the order they are asked again."""
    holds: Callable[[Case], bool]


def _over(low: str, high: str) -> Contradiction:
    """The first is never over the second."""

    def holds(case: Case) -> bool:
        below, above = case.number(low), case.number(high)
        return below is not None and above is not None and below > above

    return Contradiction((low, high), holds)


def _while_running(one: Contradiction) -> Contradiction:
    return Contradiction(one.ids, lambda case: case.runs() and one.holds(case))


def _as_found(one: Contradiction) -> Contradiction:
    """Of the machine as it was found: what was opened or switched since contradicts nothing."""
    return Contradiction(one.ids, lambda case: not case.has("read_running") and one.holds(case))


def _words(first: str, word: str | tuple[str, ...], second: str, words: str | tuple[str, ...]) -> Contradiction:
    """Two answers that exclude each other."""
    ones, others = ((w,) if isinstance(w, str) else w for w in (word, words))
    return Contradiction((first, second), lambda case: case.says(first, *ones) and case.says(second, *others))


def _volts(dead: str, live: str) -> Contradiction:
    """What is fed from the first cannot have volts where the first has none."""
    return Contradiction((dead, live), lambda case: case.live(dead) is False and case.live(live) is True)


def _more_than_fitted(case: Case) -> bool:
    fitted = case.site.condenser_fans
    return fitted is not None and case.over("condenser_fans_called", float(fitted))


def _more_run_than_fitted(case: Case) -> bool:
    fitted = case.site.condenser_fans
    return fitted is not None and case.over("condenser_fans_running", float(fitted))


def _too_many_machines(case: Case) -> bool:
    tripped, running = case.number("tripped_count"), case.number("running_count")
    return bool(case.site.compressors) and (tripped or 0.0) + (running or 0.0) > case.site.compressors


def _full_of_nothing(case: Case) -> bool:
    level = case.number("receiver_level")
    return level is not None and level <= _EMPTY_PERCENT and case.says("sight_glass", "full")


def _superheat(suction: str) -> Contradiction:
    """Gas colder than its dew point, or as cold within the instruments' error: liquid, or a bad reading."""

    def holds(case: Case) -> bool:
        low = case.bands.get("superheat", (case.derived.get("superheat", 1.0), 0.0))[0]
        return suction in case.readings and low <= 0.0

    return Contradiction((suction, "suction_temperature"), holds)


def _line_too_cold(line: str, head: str) -> Contradiction:
    """The discharge line of a running machine is warmer than its gas condenses."""

    def holds(case: Case) -> bool:
        condensing, degf = case.derived.get("condensing_temperature"), case.number(line)
        known = condensing is not None and degf is not None and head in case.readings and case.runs()
        return known and (degf or 0.0) < (condensing or 0.0) - _GLIDE_DELTA_DEGF

    return Contradiction((line, head), holds)


def _head_under_the_air(case: Case) -> bool:
    """A stage that condenses into another stage's evaporator, as R-744 does under a cascade, may be colder than any air."""
    if case.site.refrigerant == "R744" or case.says("cascade_state", "normal", "tripped"):
        return False
    split = case.bands.get("condensing_difference", (0.0, case.derived.get("condensing_difference", 1.0)))[1]
    return split < 0.0 and (case.number("running_count") or 0.0) > 0.0


def _vapour_off_the_condenser(case: Case) -> bool:
    below = case.bands.get("condenser_subcooling", (0.0, case.derived.get("condenser_subcooling", 1.0)))[1]
    return below < 0.0


def _clicks_open(case: Case) -> bool:
    return case.says("valve_click", "click") and case.says("injection_coil_ohms", "over_range", "below_resolution")


def _runs_without_amps(case: Case) -> bool:
    amps = [0.0 if case.says(i, "none_present") else case.number(i) for i in ("line_amps.a", "line_amps.b", "line_amps.c")]
    return case.runs() and None not in amps and max(a or 0.0 for a in amps) <= _PRESENT


def _open_after_all(contact: str) -> Contradiction:
    """Every contact found closed, and full control voltage across one."""
    across = f"safety_volts.{contact}"
    return Contradiction(
        ("chain_dead_check", across), lambda case: case.says("chain_dead_check", "none") and case.live(across) is True
    )


_POINTS = ("supply", "oil_pressure", "high_pressure", "low_pressure", "motor_protection", "discharge_temperature")

CONTRADICTIONS: tuple[Contradiction, ...] = (
    _over("rack_suction_pressure", "rack_discharge_pressure"),
    _over("suction_pressure", "discharge_pressure"),
    _over("watch.suction_pressure", "watch.discharge_pressure"),
    _while_running(_over("suction_temperature", "discharge_temperature")),
    _while_running(_over("suction_temperature", "watch.discharge_temperature")),
    _while_running(_over("crankcase_pressure", "oil_pump_pressure")),
    *(_superheat(i) for i in ("suction_pressure", "watch.suction_pressure", "rack_suction_pressure")),
    _line_too_cold("discharge_temperature", "discharge_pressure"),
    _line_too_cold("watch.discharge_temperature", "watch.discharge_pressure"),
    Contradiction(("rack_discharge_pressure", "ambient_temperature"), _head_under_the_air),
    Contradiction(("rack_discharge_pressure", "liquid_out_temperature"), _vapour_off_the_condenser),
    Contradiction(("sight_glass", "receiver_level"), _full_of_nothing),
    Contradiction(("condenser_fans_called",), _more_than_fitted),
    Contradiction(("condenser_fans_running",), _more_run_than_fitted),
    Contradiction(("tripped_count", "running_count"), _too_many_machines),
    Contradiction(("running_now", "running_count"),
                  lambda c: c.says("running_now", "running") and c.number("running_count") == 0),
    _as_found(_words("running_now", "running", "switch_position", "off")),
    _as_found(_words("injection_hand_valve", "closed", "injection_feed", ("feeding", "weak"))),
    _as_found(_words("injection_hand_valve", "closed", "injection_as_found", "feeding")),
    Contradiction(("control_fuse", "control_volts"),
                  lambda c: c.says("control_fuse", "blown") and c.live("control_volts") is True),
    Contradiction(("valve_click", "injection_coil_ohms"), _clicks_open),
    Contradiction(("injection_coil_volts", "valve_click"),
                  lambda c: c.coil_live() is False and c.says("valve_click", "click")),
    _volts("module_supply_volts", "module_output_volts"),
    _volts("module_output_volts", "injection_coil_volts"),
    _volts("control_volts", "contactor_coil_volts"),
    *(_volts("control_volts", f"chain_point.{point}") for point in _POINTS),
    *(_volts(f"chain_point.{a}", f"chain_point.{b}") for i, a in enumerate(_POINTS) for b in _POINTS[i + 1 :]),
    *(_volts(f"chain_point.{point}", "contactor_coil_volts") for point in _POINTS),
    *(_open_after_all(contact) for contact in _POINTS[1:]),
    Contradiction(("line_amps.a", "running_now"), _runs_without_amps),
)  # fmt: skip
"""Each pair once; what was read at other moments stands apart and contradicts nothing."""


def contradictions(case: Case) -> Iterable[Contradiction]:
    """Those that hold in this case, of readings that belong to one round."""
    for one in CONTRADICTIONS:
        if all(i in case.readings for i in one.ids) and case.together(*one.ids) and one.holds(case):
            yield one
