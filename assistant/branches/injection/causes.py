"""When a cause in the liquid injection holds. Rules: section 6."""

from collections.abc import Callable
from math import inf
from typing import Literal

from assistant.trade.case import Case, Verdict
from assistant.trade.electrical import coil
from assistant.trade.probe import openness

END, AT, CLEANED = "probe_ohms.module_end", "probe_ohms", "probe_ohms.cleaned"
_ERROR = {
    END: "probe_error_delta_degf",
    AT: "probe_error_at_probe_delta_degf",
    CLEANED: "probe_error_cleaned_delta_degf",
}
_CURVE = {END: "probe_curve_ohms", AT: "probe_curve_ohms", CLEANED: "probe_curve_ohms_after"}
HOT_LINE = ("discharge_temperature", "watch.discharge_temperature")
Probe = Literal["on", "off", "open", "short"]


def uniform(case: Case) -> bool:
    """Whether probe and thermometer had one temperature."""
    return case.has("standing_over_an_hour")


def _against_curve(case: Case, reading: str) -> Probe | None:
    """Where a probe reading lies against the curve at its temperature; None without a verdict."""
    ohm = case.ohm(reading)
    error = case.derived.get(_ERROR[reading]) if case.number(reading) is not None else None
    if error is not None and abs(error) <= case.site.limits.probe_tolerance_delta_degf:
        return "on"
    curve = case.derived.get(_CURVE[reading], case.derived.get("probe_curve_ohms"))
    if ohm is not None and curve is not None:
        over_range = case.says(reading, "over_range")
        beside = openness(case.site.instruments.meter_top_ohm if over_range else ohm, curve, case.site.limits)
        if over_range:  # says that it is over the meter's top, and no more
            return "open" if beside == "open" else None
        if beside != "neither":
            return beside
    return "off" if error is not None else None


def _bad(found: Probe | None) -> bool:
    return found in ("off", "open", "short")


def _seen(case: Case, *readings: str) -> tuple[str, ...]:
    names = [name for reading in readings for name in (reading, _ERROR[reading])]
    return case.known(*names, "probe_pipe_temperature", "standing_over_an_hour")


def probe_fouled(case: Case) -> Verdict | None:
    """Off as found and on after cleaning, or slow. The probe itself on the curve speaks against it."""
    if case.says("probe_response", "slow"):
        return "proven", ("probe_response",)
    if _against_curve(case, AT) == "on":
        return "ruled_out", _seen(case, AT)
    if _bad(_against_curve(case, END)) and _against_curve(case, CLEANED) == "on":
        return "proven", _seen(case, END, CLEANED)
    if case.says("probe_condition", "fouled"):
        return "suspected", ("probe_condition",)
    return None


def probe_failed(case: Case) -> Verdict | None:
    """Read at the probe itself, at one temperature; from the module end it may be the lead."""
    at, end, cleaned = (_against_curve(case, reading) for reading in (AT, END, CLEANED))
    for reading, found in ((CLEANED, cleaned), (AT, at), (END, end)):
        if found == "on" and (uniform(case) or reading == CLEANED):
            return "ruled_out", _seen(case, reading)
    for reading, found in ((CLEANED, cleaned), (AT, at)):
        # A hot head and a cool clamp differ by a factor of three; a dead short or an open line does not.
        if _bad(found) and (uniform(case) or case.says(reading, "over_range", "below_resolution")):
            return "proven", _seen(case, reading)
    for reading, found in ((CLEANED, cleaned), (AT, at)):
        if found in ("open", "short"):
            return "supported", _seen(case, reading)
    if _bad(end) and (uniform(case) or case.says(END, "over_range", "below_resolution")):
        return "supported", _seen(case, END)
    return ("suspected", ("probe_condition",)) if case.says("probe_condition", "damaged") else None


def probe_wiring_faulty(case: Case) -> Verdict | None:
    """Off at the module end and on the curve at the probe, at one temperature."""
    end, at = _against_curve(case, END), _against_curve(case, AT)
    if end == "on" and uniform(case):
        return "ruled_out", _seen(case, END)
    if _bad(end) and at == "on":
        return "proven", _seen(case, END, AT)
    if _bad(end) and at is None and uniform(case):
        return "suspected", _seen(case, END)
    if _bad(end) and _bad(at) and uniform(case) and _read_alike(case):
        return "ruled_out", _seen(case, END, AT)  # the lead adds nothing to what the probe itself reads
    return None


def _read_alike(case: Case) -> bool:
    """Whether a probe is as far off at itself as at the module end, to what a probe may be off."""
    end, at = case.derived.get(_ERROR[END]), case.derived.get(_ERROR[AT])
    return end is not None and at is not None and abs(end - at) <= case.site.limits.probe_tolerance_delta_degf


def probe_loose(case: Case) -> Verdict | None:
    """Out of its well or clamp: seen."""
    if case.says("probe_condition", "loose"):
        return "proven", ("probe_condition",)
    return ("ruled_out", ("probe_condition",)) if case.says("probe_condition", "clean", "fouled") else None


def _expected_coil(case: Case) -> tuple[float | None, tuple[str, ...]]:
    if case.site.coil_ohms is not None:
        return case.site.coil_ohms, ()
    like = case.number("injection_coil_ohms.like")
    return (like, ("injection_coil_ohms.like",)) if like else (None, ())


def injection_coil_failed(case: Case) -> Verdict | None:
    """Ohms read dead, one wire lifted. Over range is open by itself; low needs something to compare with."""
    if before := case.stood("injection_coil_failed", "injection_coil_read_after"):
        return before, case.known("module_output_fuse", "injection_coil_read_after")
    ohm, (good, by) = case.ohm("injection_coil_ohms"), _expected_coil(case)
    evidence = ("injection_coil_ohms", *by, *case.known("dead_when_coil_read"))
    if ohm is None:
        return ("supported", ("coil_seated",)) if case.says("coil_seated", "burnt") else None
    dead = case.has("dead_when_coil_read")
    found = coil(ohm, good, case.site.limits)
    if found == "open":
        return ("proven" if dead else "supported"), evidence
    if good is None:
        return ("supported", evidence) if found == "short" else None
    if found == "good":
        return ("ruled_out", evidence) if dead else None
    return ("proven" if found == "short" and dead else "supported"), evidence


def _coil_good(case: Case) -> bool:
    found = injection_coil_failed(case)
    return found is not None and found[0] == "ruled_out"


def injection_coil_loose(case: Case) -> Verdict | None:
    """Off its stem, and silent when energised."""
    if case.says("coil_seated", "loose"):
        silent = case.says("valve_click", "silent")
        return ("proven" if silent else "supported"), case.known("coil_seated", "valve_click")
    return ("ruled_out", ("coil_seated",)) if case.says("coil_seated", "seated") else None


def injection_hand_valve_closed(case: Case) -> Verdict | None:
    """Seen."""
    if case.says("injection_hand_valve", "closed"):
        return "proven", ("injection_hand_valve",)
    return ("ruled_out", ("injection_hand_valve",)) if case.says("injection_hand_valve", "open", "none") else None


def injection_valve_stuck_closed(case: Case) -> Verdict | None:
    """Volts and coil good, silent, liquid there: supported. Proven by the repair and the feed after it."""
    if case.says("injection_feed", "feeding"):
        return "ruled_out", ("injection_feed",)
    evidence = case.known(
        "injection_coil_volts",
        "injection_coil_ohms",
        "valve_click",
        "injection_hand_valve",
        "sight_glass",
        "valve_opened_or_replaced",
        "feed_seen_after",
    )
    dead_valve = (
        case.coil_live() is True
        and _coil_good(case)
        and case.says("valve_click", "silent")
        and case.says("injection_hand_valve", "open", "none")
    )
    if dead_valve and case.has("valve_opened_or_replaced", "feed_seen_after"):
        return "proven", evidence
    if not dead_valve or case.says("coil_seated", "loose"):
        return None
    return ("supported" if case.says("sight_glass", "full") else "suspected"), evidence


def injection_valve_leaking(case: Case) -> Verdict | None:
    """Power off, still cold at five minutes. Warm at three minutes: closed.

    The surroundings are the air at the machine (`surroundings_degf`); the air into the condenser
    stands for it only where that was not taken.
    """
    outlet = case.number("injection_outlet_temperature")
    around = case.derived.get("surroundings_degf", case.number("ambient_temperature"))
    evidence = case.known(
        "injection_outlet_temperature",
        "surroundings_degf",
        "ambient_temperature",
        "injection_after",
        "five_minutes_power_off",
    )
    timed = case.has("five_minutes_power_off")
    if outlet is not None and around is not None and timed:
        if around - outlet >= case.site.limits.valve_cold_delta_degf:
            return "proven", evidence  # measured: it counts more than a hand on the line
    elif case.says("injection_after", "feeding"):
        return ("supported" if timed else "suspected"), evidence
    return ("ruled_out", ("injection_after",)) if case.says("injection_after", "stopped") else None


def injection_wiring_open(case: Case) -> Verdict | None:
    """Volts leave the module and do not reach the coil."""
    if case.coil_live() is True:
        return "ruled_out", ("injection_coil_volts",)
    if case.live("module_output_volts", case.site.coil_volts_rated) is True and case.coil_live() is False:
        return "proven", ("module_output_volts", "injection_coil_volts")
    return None


def module_no_supply(case: Case) -> Verdict | None:
    """No volts at the module's supply."""
    there = case.live("module_supply_volts")
    if there is None:
        return None
    return ("ruled_out" if there else "proven"), ("module_supply_volts",)


def module_no_output(case: Case) -> Verdict | None:
    """Output absent with everything it needs known good; each need that was not checked weakens it."""
    output = case.live("module_output_volts", case.site.coil_volts_rated)
    if output is True:
        return "ruled_out", ("module_output_volts",)
    if output is not False or case.live("module_supply_volts") is not True:
        return None
    feed = case.live("module_feed_volts") if case.site.output_own_feed else True
    coil = injection_coil_failed(case)
    bad = (
        case.says("module_enabled", "no run signal"),
        case.says("module_output_fuse", "blown"),
        feed is False,
        coil is not None and coil[0] in ("proven", "supported"),
    )
    if any(bad):
        return None
    needs = (
        case.says("module_enabled", "run signal", "no input"),
        case.has("stimulus_right"),
        case.has("timer_elapsed"),
        feed is True,
        case.says("module_output_fuse", "good", "none"),
        _coil_good(case),
        case.has("low_impedance"),
    )
    evidence = case.known(
        "module_supply_volts",
        "module_output_volts",
        "module_enabled",
        "module_feed_volts",
        "module_output_fuse",
        "injection_coil_ohms",
        "stimulus_right",
        "timer_elapsed",
        "low_impedance",
    )
    missing = needs.count(False)
    return ("proven" if missing == 0 else "supported" if missing <= 2 else "suspected"), evidence


def module_output_stuck_on(case: Case) -> Verdict | None:
    """Power on, no stimulus, probe cool, and the coil is fed. Fed as found and stopped with the power: supported."""
    if not case.has("coil_volts_stimulus_out"):
        stopped = case.has("fed_as_found", "probe_cool") and case.says("injection_after", "stopped")
        return ("supported", case.known("fed_as_found", "injection_after", "probe_cool")) if stopped else None
    evidence = case.known("injection_coil_volts", "coil_volts_stimulus_out", "probe_cool", "low_impedance")
    if case.coil_live() is False:
        return "ruled_out", evidence
    if case.coil_live() is not True or not case.has("probe_cool"):
        return None
    # A solid state output leaks: across an open coil a high impedance meter shows near full volts.
    return ("proven" if _coil_good(case) or case.has("low_impedance") else "supported"), evidence


def module_output_fuse(case: Case) -> Verdict | None:
    """Blown, with the coil's ohms known: a shorted coil takes it out."""
    if case.says("module_output_fuse", "blown"):
        known = case.ohm("injection_coil_ohms") is not None
        return ("proven" if known else "supported"), case.known("module_output_fuse", "injection_coil_ohms")
    return ("ruled_out", ("module_output_fuse",)) if case.says("module_output_fuse", "good", "none") else None


def module_false_trip(case: Case) -> Verdict | None:
    """The contact stays open after its timer or its reset, the probe good and below its trip. A latched one was reset.

    A module that drives the coil has its supply.
    """
    probe_good = _against_curve(case, END) == "on" and uniform(case)
    trip = case.site.trip_temperature_degf
    below = trip is not None and case.within("probe_reads_degf", -inf, trip)
    open_contact = case.has("contact_open:discharge_temperature")
    supply = case.live("module_supply_volts")
    if not (probe_good and below and open_contact):
        return None
    evidence = case.known(END, "probe_error_delta_degf", "probe_reads_degf", "module_supply_volts", "injection_coil_volts")
    if case.has("discharge_stays_open") and (supply or case.coil_live()) and supply is not False:
        return "proven", (*evidence, "discharge_stays_open")
    if supply and case.has("timer_elapsed") and case.site.discharge_reset == "automatic":
        return "proven", (*evidence, "timer_elapsed")
    return ("suspected", (*evidence, "timer_elapsed")) if supply and case.has("timer_elapsed") else None


def injection_strainer_plugged(case: Case) -> Verdict | None:
    """Opened and found plugged; a temperature drop across it with a click supports it."""
    if case.has("strainer_opened_plugged"):
        return "proven", ("strainer_opened_plugged",)
    if case.has("strainer_opened_clean"):
        return "ruled_out", ("strainer_opened_clean",)
    limits = case.site.limits
    evidence = case.known("strainer_temperature_drop", "valve_click", "injection_feed")
    if case.over("strainer_temperature_drop", limits.drier_bad_delta_degf) and case.says("valve_click", "click"):
        return "supported", evidence
    good = case.under("strainer_temperature_drop", limits.drier_good_delta_degf) and case.says("injection_feed", "feeding")
    return ("ruled_out", evidence) if good else None


def liquid_feed_restricted(case: Case) -> Verdict | None:
    """Only while strainer, hand valve and drier are not told apart, and the valve was made to open: by the stimulus, or by
    a line that is hot enough for it."""
    holds, line = case.site.injection_holds_degf, case.value("discharge_temperature") or case.value("watch.discharge_temperature")
    hot = line is not None and holds is not None and line >= holds
    asked = (case.has("feed_test_run", "stimulus_right") and not case.has("feed_read_running")) or hot
    starved = asked and case.says("injection_feed", "weak", "dry") and case.says("valve_click", "click")
    if not (starved and case.says("sight_glass", "full")):
        return None
    told = (injection_strainer_plugged(case), injection_hand_valve_closed(case))
    if any(found is not None and found[0] in ("proven", "supported") for found in told):
        return None
    return "supported", ("injection_feed", "valve_click", "sight_glass")


def injection_wrong_size(case: Case) -> Verdict | None:
    """The feed is seen and the line is still hot at design ratio and superheat, or far over a neighbour's with even heads."""
    evidence = case.known("injection_seen_running", "injection_feed", *HOT_LINE, "ratio", "superheat")
    if feed_does_not_hold_the_line(case):
        return "supported", evidence
    fed = case.has("injection_seen_running") or (case.has("feed_test_run") and case.says("injection_feed", "feeding"))
    line = far_over_a_neighbour(case)
    if line is not None and fed and case.says("head_pattern", "even"):
        return "supported", case.known(line, "others_discharge_temperature", "injection_feed", "head_pattern")
    return None


def far_over_a_neighbour(case: Case) -> str | None:
    """The reading of this machine's line that lies well over a running neighbour's of the same minutes; None for none."""
    neighbour = case.number("others_discharge_temperature") if case.runs() else None
    if neighbour is None:
        return None
    most = neighbour + case.site.limits.neighbour_over_delta_degf
    return next((i for i in HOT_LINE if case.together(i, "others_discharge_temperature") and case.over(i, most)), None)


def feed_does_not_hold_the_line(case: Case) -> bool:
    """Feed seen, running, line within what settled asks of its trip or over it, ratio within the maker's map, superheat as
    it should be. A machine over its trip is stopped before anything else is asked: what is read shortly under it counts."""
    site, limits = case.site, case.site.limits
    line = max((case.number(i) or -inf for i in HOT_LINE), default=-inf)
    trip, most = site.trip_temperature_degf, site.ratio_limit or limits.ratio_usual
    held = case.site.head_minimum_psig
    head_in_line = held is None or case.under("rack_discharge_pressure", held + held * limits.head_out_percent / 100.0)
    split = case.derived.get("condensing_difference")
    head_is_no_reason = head_in_line or (split is not None and split <= limits.condensing_limit_delta_degf)
    return (
        case.runs()
        and all(i in case.readings for i in ("head_pattern", "controller_refrigerant"))  # nothing else explains it
        and head_is_no_reason
        and case.has("injection_seen_running")
        and trip is not None
        and line > trip - limits.settled_under_trip_delta_degf
        and case.within("ratio", 0.0, most)
        and case.within("superheat", limits.superheat_minimum_delta_degf, limits.superheat_high_delta_degf)
    )


def head_fan_failed(case: Case) -> Verdict | None:
    """Stopped while the machine runs. On a standing machine only when broken, unplugged or always on."""
    if case.says("head_fan_running", "yes"):
        return "ruled_out", ("head_fan_running",)
    if case.says("head_fan_running", "no"):
        if (case.runs() and not case.has("head_fan_seen_standing")) or case.has("head_fan_broken"):
            return "proven", case.known("head_fan_running", "running_now", "head_fan_broken")
        return None
    return ("proven", ("head_fan_broken",)) if case.has("head_fan_broken") else None


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        probe_fouled,
        probe_failed,
        probe_wiring_faulty,
        probe_loose,
        injection_coil_failed,
        injection_coil_loose,
        injection_hand_valve_closed,
        injection_valve_stuck_closed,
        injection_valve_leaking,
        injection_wiring_open,
        module_no_supply,
        module_no_output,
        module_output_stuck_on,
        module_output_fuse,
        module_false_trip,
        injection_strainer_plugged,
        liquid_feed_restricted,
        injection_wrong_size,
        head_fan_failed,
    )
}
