"""When the call for the machine, the running conditions or a pressure control is the cause. Rules: sections 7 and 9.

The derived values are of a running machine or of the rack's headers: `derive` sees to that.
"""

from collections.abc import Callable

from assistant.branches.injection.causes import far_over_a_neighbour, feed_does_not_hold_the_line
from assistant.branches.suction.causes import suction_asks
from assistant.trade.case import Case, Verdict


def _setting(case: Case) -> float | None:
    """Where the control is set [psig]: as read at it, else the profile's of the contact that is open."""
    high, low = case.has("contact_open:high_pressure"), case.has("contact_open:low_pressure")
    known = case.site.high_cutout_psig if high else case.site.low_cutout_psig if low else None
    read = case.number("cutout_pressure")
    return known if read is None else read


def pressure_control_faulty(case: Case) -> Verdict | None:
    """After its reset it opens off its setting on a checked gauge, or will not hold."""
    loose = case.says("control_reset", "will not hold")
    if loose and case.has("pressure_clearly_inside"):
        return "proven", ("control_reset", "pressure_clearly_inside")
    opened, setting = case.number("control_trip_pressure"), _setting(case)
    sure = case.has("reset_tried", "gauge_checked")
    evidence = case.known("control_trip_pressure", "cutout_pressure", "control_reset", "reset_tried", "gauge_checked")
    if opened is None or setting is None:
        return ("suspected", evidence) if loose else None
    limits = case.site.limits
    if abs(opened - setting) > max(limits.pressure_control_delta_psi, abs(setting) * limits.pressure_control_percent / 100.0):
        return ("proven" if sure else "suspected"), evidence
    holds = case.says("control_reset", "holds", "automatic")
    return ("ruled_out", evidence) if sure and holds else None


def return_gas_hot(case: Case) -> Verdict | None:
    """High superheat, and a band that falls enough at design superheat to bring the line under its trip."""
    limits, trip = case.site.limits, case.site.trip_temperature_degf
    evidence = case.known(
        "superheat",
        "suction_temperature",
        "discharge_band_high",
        "band_high_at_design_superheat",
        "running_now",
    )
    hot_gas = case.runs() and case.over("suction_temperature", limits.return_gas_high_degf)
    if not (case.over("superheat", limits.superheat_high_delta_degf) or hot_gas):
        gas = case.number("suction_temperature")
        normal = case.within("superheat", limits.superheat_minimum_delta_degf, limits.superheat_high_delta_degf)
        cool = gas is not None and gas <= limits.return_gas_high_degf
        return ("ruled_out", ("superheat", "suction_temperature")) if normal and cool else None
    high, design = (case.derived.get(n) for n in ("discharge_band_high", "band_high_at_design_superheat"))
    if high is None or design is None:
        return "suspected", evidence
    if trip is not None and high > trip and design < trip - limits.band_fall_delta_degf:
        return "proven", evidence
    return ("supported" if high - design > limits.band_fall_delta_degf else "suspected"), evidence


def discharge_valves_leaking(case: Case) -> Verdict | None:
    """Proven without opening it only by a pump-down that fails twice. Else supported: the feed does not hold the line, a
    running neighbour is far colder, the efficiency is too low, or a pump-down will not reach or hold."""
    limits = case.site.limits
    pulled, rise = case.number("pump_down_low"), case.number("pump_down_rise")
    reaches = pulled is not None and pulled <= limits.pump_down_reach_psig
    if pulled is not None and (not reaches or case.over("pump_down_rise", limits.pump_down_rise_delta_psi)):
        twice = not reaches and case.has("pump_down_tried_twice")
        return ("proven" if twice else "supported"), case.known("pump_down_low", "pump_down_rise", "pump_down_tried_twice")
    if reaches and rise is not None:
        return "ruled_out", ("pump_down_low", "pump_down_rise")
    if feed_does_not_hold_the_line(case):
        return "supported", case.known("discharge_temperature", "ratio", "superheat", "injection_feed")
    line = far_over_a_neighbour(case)
    if line is not None:
        # A neighbour is cooled by its injection: a line that nobody saw fed may be hot for want of it.
        fed = case.says("injection_feed", "feeding")
        return ("supported" if fed else "suspected"), case.known(line, "others_discharge_temperature", "injection_feed")
    if case.under("implied_efficiency", limits.efficiency_leaking) and case.has("injection_shut"):
        return "supported", ("implied_efficiency", "injection_shut")
    return ("suspected", ("head_pattern",)) if case.says("head_pattern", "one hot") else None


def controller_wrong_refrigerant(case: Case) -> Verdict | None:
    """The controller's chart is another refrigerant's than the rack's."""
    chart = case.readings.get("controller_refrigerant")
    if chart is None or not case.site.refrigerant:
        return None
    return ("proven" if chart != case.site.refrigerant else "ruled_out"), ("controller_refrigerant",)


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
    for suction in ("watch.suction_pressure", "rack_suction_pressure"):
        if case.together("capacity_control", suction) and suction_asks(case, suction):
            return "proven", case.known("capacity_control", suction, "suction_set_point")
    return None


def upper_stage_down(case: Case) -> Verdict | None:
    """The other stage tripped and this stage's head is high."""
    if case.says("cascade_state", "normal", "none"):
        return "ruled_out", ("cascade_state",)
    if not case.says("cascade_state", "tripped"):
        return None
    head, wanted = case.number("rack_discharge_pressure"), case.number("head_set_point")
    high = head is not None and wanted is not None and head > wanted + case.site.limits.head_over_minimum_delta_psi
    evidence = case.known("cascade_state", "rack_discharge_pressure", "head_set_point")
    return ("proven" if high else "supported"), evidence


def not_called(case: Case) -> Verdict | None:
    """Satisfied or switched off: no trip."""
    off, silent = case.says("switch_position", "off"), case.says("controller_calls", "no")
    if off or silent:
        said = (("switch_position",) if off else ()) + (("controller_calls",) if silent else ())
        return "proven", said
    called = case.says("controller_calls", "yes") and case.says("switch_position", "auto", "hand")
    return ("ruled_out", ("controller_calls", "switch_position")) if called else None


def controller_fault(case: Case) -> Verdict | None:
    """The control is dead or in hand while the pressures ask for the machine."""
    if case.says("controller_mode", "auto"):
        return None
    if not case.says("controller_mode", "dead", "hand"):
        return None
    evidence = case.known("controller_mode", "rack_suction_pressure", "suction_set_point")
    if suction_asks(case):
        return "proven", evidence
    return ("suspected", ("controller_mode",)) if case.says("controller_mode", "dead") else None


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        pressure_control_faulty,
        return_gas_hot,
        discharge_valves_leaking,
        controller_wrong_refrigerant,
        after_defrost,
        capacity_control_stuck,
        upper_stage_down,
        not_called,
        controller_fault,
    )
}
