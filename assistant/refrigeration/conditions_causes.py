"""When the running conditions are the cause. Rules: the trade's rules section 7.

The derived values are of a running machine or of the rack's headers: `derive` sees to that.
"""

from collections.abc import Callable

from assistant.refrigeration.case import Case, Verdict
from assistant.refrigeration.injection_causes import feed_does_not_hold_the_line

LEAKING_EFFICIENCY = 0.5
"""Implied efficiency under this, injection shut. Common practice."""
CONTROLLER_DELTA_DEGF = 3.0
"""Controller chart against the gauge: the glide of a wrong chart is larger. Common practice."""
RESTRICTION_DELTA_PSI = 10.0
"""Discharge over the rack's header by more than this: something between. Common practice."""
SUCTION_BAND_DELTA_DEGF, SUCTION_BAND_DELTA_PSI = 2.0, 2.0


def return_gas_hot(case: Case) -> Verdict | None:
    """High superheat, and a band that falls enough at design superheat to bring the line under its trip."""
    site = case.site
    evidence = case.known(
        "superheat",
        "suction_temperature",
        "discharge_band_high",
        "band_high_at_design_superheat",
        "running_now",
    )
    hot_gas = case.says("running_now", "running") and case.over(
        "suction_temperature", site.return_gas_high_degf
    )
    if not (case.over("superheat", site.superheat_high_delta_degf) or hot_gas):
        gas = case.number("suction_temperature")
        normal = case.within("superheat", site.superheat_low_delta_degf, site.superheat_high_delta_degf)
        cool = gas is not None and gas <= site.return_gas_high_degf
        return ("ruled_out", ("superheat", "suction_temperature")) if normal and cool else None
    high, design = (case.derived.get(n) for n in ("discharge_band_high", "band_high_at_design_superheat"))
    if high is None or design is None:
        return "suspected", evidence
    limit = site.trip_temperature_degf
    if high > limit and design < limit - site.band_fall_delta_degf:
        return "proven", evidence
    return ("supported" if high - design > site.band_fall_delta_degf else "suspected"), evidence


def head_is_judged(case: Case) -> bool:
    """Whether the split over the air may be judged: every fan called, head over its minimum, reclaim off."""
    called, fitted = case.number("condenser_fans_called"), case.site.condenser_fans
    every_fan = case.has("every_fan_called") or (
        fitted is not None and called is not None and called >= fitted
    )
    head, minimum = case.number("rack_discharge_pressure"), head_minimum(case)
    above = (
        head is not None and minimum is not None and head >= minimum + case.site.head_over_minimum_delta_psi
    )
    return every_fan and above and case.says("heat_reclaim", "off", "none")


def drops_before_the_header(case: Case) -> bool:
    """The running machine's discharge is well over the header: something between them, and no fault of the head."""
    runs = case.says("running_now", "running") or case.has("read_running")
    header = case.number("rack_discharge_pressure") if runs else None
    return header is not None and case.over("discharge_pressure", header + RESTRICTION_DELTA_PSI)


def head_high(case: Case) -> Verdict | None:
    """The split over the air is over its limit, judged only where it can be."""
    split = case.derived.get("condensing_difference")
    if split is None:
        return None
    evidence = case.known(
        "condensing_difference", "condenser_fans_called", "every_fan_called", "heat_reclaim",
        "rack_discharge_pressure", "head_set_point",
    )  # fmt: skip
    over = split > case.site.condensing_limit_delta_degf
    if head_is_judged(case):
        return ("proven" if over else "ruled_out"), evidence
    return None


def suction_low(case: Case) -> Verdict | None:
    """Suction under the design."""
    dew, design = case.derived.get("suction_dew_degf"), case.site.design_suction_degf
    if dew is None or design is None:
        return None
    return ("proven" if dew < design - SUCTION_BAND_DELTA_DEGF else "ruled_out"), ("suction_dew_degf",)


def discharge_valves_leaking(case: Case) -> Verdict | None:
    """Proven only by a holding test that fails twice; everything else supports it."""
    if case.has("pump_down_failed_twice"):
        return "proven", case.known("pump_down_failed_twice", "pump_down_low", "pump_down_rise")
    site = case.site
    if feed_does_not_hold_the_line(case):
        return "supported", case.known("discharge_temperature", "ratio", "superheat", "injection_feed")
    neighbour = case.number("others_discharge_temperature") if case.says("running_now", "running") else None
    if neighbour is not None and case.over(
        "discharge_temperature", neighbour + site.neighbour_over_delta_degf
    ):
        return "supported", ("discharge_temperature", "others_discharge_temperature")
    efficiency = case.derived.get("implied_efficiency")
    if efficiency is not None and efficiency < LEAKING_EFFICIENCY and case.has("injection_shut"):
        return "supported", ("implied_efficiency", "injection_shut")
    return ("suspected", ("head_pattern",)) if case.says("head_pattern", "one hot") else None


def controller_wrong_refrigerant(case: Case) -> Verdict | None:
    """The controller's chart and the gauge's disagree."""
    error = case.derived.get("controller_chart_error_delta_degf")
    if error is None:
        return None
    wrong = abs(error) > CONTROLLER_DELTA_DEGF
    return ("proven" if wrong else "ruled_out"), ("controller_chart_error_delta_degf",)


def after_defrost(case: Case) -> Verdict | None:
    """A trip within the hour after defrost, and all normal later."""
    if not case.says("defrost_state", "within the hour"):
        return None
    later = case.known("all_checked", "watch_done", "settled")
    return ("proven" if len(later) == 3 else "suspected"), ("defrost_state", *later)


def capacity_control_stuck(case: Case) -> Verdict | None:
    """Held unloaded while suction is over its set point."""
    if not case.says("capacity_control", "unloaded"):
        return None
    above = suction_asks(case)
    evidence = case.known("capacity_control", "rack_suction_pressure", "suction_set_point")
    return ("proven", evidence) if above else None


def head_minimum(case: Case) -> float | None:
    """The head control's minimum [psig]: the profile's, else as read at the controller."""
    site = case.site.head_minimum_psig
    return case.number("head_set_point") if site is None else site


def suction_asks(case: Case) -> bool:
    """Whether the header's suction is over its set point (the profile's, else the controller's)."""
    suction, wanted = case.number("rack_suction_pressure"), case.site.suction_set_point_psig
    wanted = case.number("suction_set_point") if wanted is None else wanted
    return suction is not None and wanted is not None and suction > wanted + SUCTION_BAND_DELTA_PSI


def upper_stage_down(case: Case) -> Verdict | None:
    """The other stage tripped and this stage's head is high."""
    if case.says("cascade_state", "normal", "none"):
        return "ruled_out", ("cascade_state",)
    if not case.says("cascade_state", "tripped"):
        return None
    head, wanted = case.number("rack_discharge_pressure"), case.number("head_set_point")
    high = head is not None and wanted is not None and head > wanted + case.site.head_over_minimum_delta_psi
    evidence = case.known("cascade_state", "rack_discharge_pressure", "head_set_point")
    return ("proven" if high else "supported"), evidence


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        return_gas_hot, head_high, suction_low, discharge_valves_leaking, controller_wrong_refrigerant,
        after_defrost, capacity_control_stuck, upper_stage_down,
    )
}  # fmt: skip
