"""Everything that can be computed from the readings so far, each value with what it rests on."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from assistant.language.meaning import Value
from assistant.trade import circuit, discharge, electrical, leak, probe
from assistant.trade.case import Case, SiteFacts
from assistant.trade.discharge import Band, Suction
from assistant.trade.liquid_feed import Feed, Losses, liquid_feed
from assistant.trade.uncertainty import estimate
from assistant.trade.validity import OutOfRange

MachineState = Literal["running", "just tripped", "off"]


@dataclass(frozen=True)
class Derived:
    """A computed value, or the sentence that says why there is none."""

    id: str
    value: float | None
    unit: str
    """As in the vocabulary; empty for a pure number."""
    kind: str
    """`temperature`, `difference` (never minus 32), `pressure`, `ohms`, `percent` or `number`."""
    from_ids: tuple[str, ...]
    """The readings it was computed from."""
    reason: str = ""
    """Why there is no value: a sentence that can be spoken. Empty where there is one."""
    low: float | None = None
    """Lower and upper end of the band that the instruments' errors leave; None where there is no value."""
    high: float | None = None


class _Missing(Exception):
    """A reading this value needs was not taken: it is left out, nothing is said."""


class _Work:
    """The readings of one computation, and a note of which were used and which were looked for."""

    def __init__(self, readings: Mapping[str, Value], site: SiteFacts, state: MachineState) -> None:
        self._case, self.site, self.running = Case(readings=readings, site=site), site, state == "running"
        self.used: list[str] = []
        self.looked: dict[str, Value | None] = {}

    def _look(self, reading: str) -> None:
        self.looked[reading] = self._case.readings.get(reading)

    def _note(self, reading: str) -> None:
        if reading not in self.used:
            self.used.append(reading)

    def take(self, reading: str) -> float:
        """A numeric reading, or `_Missing`."""
        self._look(reading)
        value = self._case.number(reading)
        if value is None:
            raise _Missing(reading)
        self._note(reading)
        return value

    def said(self, reading: str) -> Value | None:
        """A reading that is a word, or None where it was not taken."""
        self._look(reading)
        return self._case.readings.get(reading)

    def maybe(self, reading: str) -> float | None:
        """A numeric reading, or None where it was not taken."""
        try:
            return self.take(reading)
        except _Missing:
            return None

    def own(self, reading: str, said: str) -> float:
        """A reading of this machine that counts only while it runs."""
        return self._running(self.take(reading), said)

    def _running(self, value: float, said: str) -> float:
        if not self.running:
            raise OutOfRange(f"This machine is not running: nothing is computed from its {said}.")
        return value

    def first(self, *readings: str) -> float:
        """The first of these readings that was taken."""
        for reading in readings:
            self._look(reading)
            if self._case.number(reading) is not None:
                return self.take(reading)
        raise _Missing(readings[0])

    def ohm(self, reading: str) -> float:
        self._look(reading)
        value = self._case.ohm(reading)
        if value is None or not 0.0 < value < float("inf"):
            raise _Missing(reading)
        self._note(reading)
        return value

    def suction(self) -> float:
        """Suction [psig]: this machine's while it runs, else the rack's header."""
        own = ("suction_pressure", "watch.suction_pressure") if self.running else ()
        return self.first(*own, "rack_suction_pressure")

    def discharge(self) -> float:
        """Discharge [psig]: this machine's while it runs, else the rack's header."""
        own = ("discharge_pressure", "watch.discharge_pressure") if self.running else ()
        return self.first(*own, "rack_discharge_pressure")

    def line(self) -> float:
        line = self.first("discharge_temperature", "watch.discharge_temperature")
        return self._running(line, "discharge temperature")

    def where(self) -> tuple[str, float]:
        """Refrigerant and altitude of the site."""
        if not self.site.refrigerant:
            raise _Missing("refrigerant")
        return self.site.refrigerant, self.site.altitude_ft

    def compression(self) -> Suction:
        gas = self.own("suction_temperature", "suction temperature")
        return Suction(self.suction(), gas, self.discharge(), *self.where())

    def band(self) -> Band:
        return discharge.discharge_band(self.compression(), self.site.limits)

    def trip_degf(self) -> float:
        if self.site.trip_temperature_degf is None:
            raise _Missing("trip_temperature_degf")
        return self.site.trip_temperature_degf

    def curve(self) -> probe.ProbeCurve:
        if self.site.probe_curve is None:
            raise _Missing("probe_curve")
        return self.site.probe_curve

    def feed(self) -> Feed:
        site = self.site
        losses = Losses(site.lift_ft, site.limits.drier_clean_delta_psi, site.liquid_line_delta_psi)
        return liquid_feed(
            self.take("liquid_pressure"), self.take("liquid_temperature"), losses, *self.where()
        )


def _superheat(work: _Work) -> float:
    gas = work.own("suction_temperature", "suction temperature")
    return circuit.superheat_delta_degf(work.suction(), gas, *work.where())


def _suction_under_design(work: _Work) -> float:
    """How far the suction's dew point lies under what the rack was laid out for, else under its set point's."""
    design, wanted = work.site.design_suction_degf, work.site.suction_set_point_psig
    if design is None:
        if wanted is None:
            raise _Missing("suction_set_point_psig")
        design = circuit.dew_degf(wanted, *work.where())
    return design - circuit.dew_degf(work.suction(), *work.where())


def _design_band(work: _Work) -> float:
    """The worst end of the band, with the return gas at design superheat."""
    at = work.compression()
    gas = circuit.dew_degf(at.suction_psig, *work.where()) + work.site.limits.superheat_aim_delta_degf
    changed = Suction(at.suction_psig, gas, at.discharge_psig, *work.where())
    return discharge.discharge_band(changed, work.site.limits).high_degf


def _condensing_difference(work: _Work) -> float:
    """The condenser is at the header's pressure; a machine well over it has something shut before the header."""
    own, header = work.discharge(), work.maybe("rack_discharge_pressure")
    over = 0.0 if header is None else own - header - work.site.limits.discharge_restricted_delta_psi
    psig = own if header is None or over <= 0.0 else max(header, own - 2.0 * over)  # from one gauge to the other without a jump
    return circuit.condensing_difference_delta_degf(
        psig, work.take("ambient_temperature"), *work.where()
    )


def _net_oil(work: _Work) -> float:
    pump, crankcase = work.own("oil_pump_pressure", "oil pressure"), work.take("crankcase_pressure")
    return circuit.net_oil_delta_psi(pump, crankcase)


def _crankcase_superheat(work: _Work) -> float:
    warm, psig = work.take("crankcase_temperature"), work.first("crankcase_pressure", "rack_suction_pressure")
    return warm - circuit.dew_degf(psig, *work.where())


def _three(*readings: str) -> Callable[[_Work], float]:
    return lambda work: electrical.unbalance_percent([work.take(reading) for reading in readings])


def _windings(work: _Work) -> float:
    return electrical.unbalance_percent([work.ohm(f"winding_ohms.{pair}") for pair in ("ab", "bc", "ca")])


def _probe_error(reading: str) -> Callable[[_Work], float]:
    def error(work: _Work) -> float:
        pipe = work.take("probe_pipe_temperature")
        return probe.probe_error_delta_degf(work.curve(), work.ohm(reading), pipe)

    return error


NO_LEAK = ("retrofit", "new installation", "seasonal")
"""Reasons for an addition that count for no leak rate. Source: 40 CFR 82.157(b), 84.106(b)."""


def _added(work: _Work) -> tuple[float, float]:
    """Pounds added on this call, more than none, and the full charge."""
    added, charge = work.take("refrigerant_added"), work.site.full_charge_lb
    if added <= 0.0:
        raise _Missing("refrigerant_added")
    if charge is None:
        raise OutOfRange("No leak rate: the full charge is not known.")
    if work.said("addition_reason") in NO_LEAK:
        raise OutOfRange("Not added for a leak: it makes no leak rate.")
    return added, charge


def _leak_rate(work: _Work) -> float:
    added, charge = _added(work)
    said = work.maybe("days_since_last_addition")
    # Two additions on one day count as a day apart: the rule divides by days.
    days = work.site.days_since_addition if said is None else said
    return leak.annualized_percent(
        added + work.site.added_for_this_leak_lb, charge, None if days is None else max(1.0, days)
    )


def _leak_rate_net(work: _Work) -> float:
    """The same less what was recovered on this call and put back; which of the two counts is not settled here."""
    added, recovered = work.take("refrigerant_added"), work.take("refrigerant_recovered")
    if recovered <= 0.0:
        raise _Missing("refrigerant_recovered")
    return _leak_rate(work) * max(0.0, added - recovered) / added


def _leak_rate_rolling(work: _Work) -> float:
    added, charge = _added(work)
    return leak.rolling_percent((work.site.added_before_lb, added), charge)


def _lever(name: str) -> Callable[[_Work], float]:
    """Change of the hot end of the discharge band with one thing changed: a calculation only."""

    def change(work: _Work) -> float:
        found = discharge.what_ifs(work.compression(), work.site.head_minimum_psig or 0.0, work.site.limits)
        if name not in found:
            raise _Missing(name)
        return found[name].change_high_delta_degf

    return change


def _injection_share(work: _Work) -> float:
    """Liquid that holds the line at the injection's temperature, from the hot end of the band: a lower bound."""
    at, holds = work.compression(), work.site.injection_holds_degf
    if holds is None:
        raise _Missing("injection_holds_degf")
    hot = discharge.discharge_band(at, work.site.limits).high_degf
    liquid = work.take("liquid_pressure"), work.take("liquid_temperature")
    return 100.0 * discharge.injection_needed(at, max(hot, holds), holds, *liquid).fraction


def _standing_excess_psi(work: _Work) -> float:
    standing, air = work.take("idle_condenser_pressure"), work.take("ambient_temperature")
    return circuit.standing_excess_delta_psi(standing, air, *work.where())


def _derating(work: _Work) -> float:
    return 100.0 * electrical.derating_factor(_three("line_volts.ab", "line_volts.bc", "line_volts.ca")(work))


def _subcooling(pressure: str, temperature: str) -> Callable[[_Work], float]:
    return lambda work: circuit.subcooling_delta_degf(
        work.take(pressure), work.take(temperature), *work.where()
    )


def _condenser_subcooling(work: _Work) -> float:
    """By the header, which is the condenser's pressure; only without it by this machine's."""
    header = work.maybe("rack_discharge_pressure")
    psig = work.discharge() if header is None else header
    return circuit.subcooling_delta_degf(psig, work.take("liquid_out_temperature"), *work.where())


def _standing_excess(work: _Work) -> float:
    standing, air = work.take("idle_condenser_pressure"), work.take("ambient_temperature")
    return circuit.standing_excess_delta_degf(standing, air, *work.where())


DERIVED: dict[str, tuple[str, str, Callable[[_Work], float]]] = {
    "suction_dew_degf": ("F", "temperature", lambda work: circuit.dew_degf(work.suction(), *work.where())),
    "suction_under_design": ("F", "difference", _suction_under_design),
    "superheat": ("F", "difference", _superheat),
    "ratio": (
        "",
        "number",
        lambda w: circuit.compression_ratio(w.suction(), w.discharge(), w.site.altitude_ft),
    ),
    "condensing_temperature": (
        "F",
        "temperature",
        lambda w: circuit.midpoint_degf(w.discharge(), *w.where()),
    ),
    "condensing_difference": ("F", "difference", _condensing_difference),
    "subcooling": ("F", "difference", _subcooling("liquid_pressure", "liquid_temperature")),
    "condenser_subcooling": ("F", "difference", _condenser_subcooling),
    "liquid_rise_delta_degf": (
        "F",
        "difference",
        lambda w: w.take("liquid_temperature") - w.take("liquid_out_temperature"),
    ),
    "flash_margin": ("F", "difference", lambda work: work.feed().flash_margin_delta_degf),
    "required_subcooling": ("F", "difference", lambda work: work.feed().required_subcooling_delta_degf),
    "flash_volume": ("percent", "percent", lambda work: 100.0 * work.feed().vapour_volume_fraction),
    "flash_mass": ("percent", "percent", lambda work: 100.0 * work.feed().vapour_mass_fraction),
    "discharge_band_low": ("F", "temperature", lambda w: w.band().low_degf),
    "discharge_band_high": (
        "F",
        "temperature",
        lambda w: w.band().high_degf,
    ),
    "band_high_at_design_superheat": ("F", "temperature", _design_band),
    "discharge_margin": (
        "F",
        "difference",
        lambda w: discharge.margin_delta_degf(w.line(), w.trip_degf()),
    ),
    "implied_efficiency": ("", "number", lambda w: discharge.implied_efficiency(w.compression(), w.line())),
    "standing_excess": ("F", "difference", _standing_excess),
    "net_oil": ("psi", "pressure", _net_oil),
    "reservoir_over_suction": ("psi", "pressure", lambda w: w.take("reservoir_pressure") - w.take("rack_suction_pressure")),
    "crankcase_superheat": ("F", "difference", _crankcase_superheat),
    "voltage_unbalance": ("percent", "percent", _three("line_volts.ab", "line_volts.bc", "line_volts.ca")),
    "current_unbalance": ("percent", "percent", _three("line_amps.a", "line_amps.b", "line_amps.c")),
    "winding_unbalance": ("percent", "percent", _windings),
    "probe_curve_ohms": ("ohm", "ohms", lambda w: w.curve().ohm(w.take("probe_pipe_temperature"))),
    "probe_reads_degf": ("F", "temperature", lambda w: w.curve().degf(w.ohm("probe_ohms.module_end"))),
    "probe_error_delta_degf": ("F", "difference", _probe_error("probe_ohms.module_end")),
    "probe_error_at_probe_delta_degf": ("F", "difference", _probe_error("probe_ohms")),
    "probe_error_cleaned_delta_degf": ("F", "difference", _probe_error("probe_ohms.cleaned")),
    "motor_derating": ("percent", "percent", _derating),
    "standing_excess_psi": ("psi", "pressure", _standing_excess_psi),
    "injection_share": ("percent", "percent", _injection_share),
    "what_if_colder_return": ("F", "difference", _lever("colder_return")),
    "what_if_lower_head": ("F", "difference", _lever("lower_head")),
    "what_if_higher_suction": ("F", "difference", _lever("higher_suction")),
    "leak_rate_annualizing": ("percent", "percent", _leak_rate),
    "leak_rate_net": ("percent", "percent", _leak_rate_net),
    "leak_rate_rolling": ("percent", "percent", _leak_rate_rolling),
}
"""Every derived id: unit, kind, computation."""


class Deriver:
    """Works out every value, and remembers those whose readings did not change: a band takes many computations."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[object, dict[str, Value | None], Derived | None]] = {}

    def __call__(
        self, readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState
    ) -> dict[str, Derived]:
        """Every value that the readings allow, with its band; arguments and result as `derive`."""
        found = ((name, self._one(name, readings, site, machine_state)) for name in DERIVED)
        return {name: one for name, one in found if one is not None}

    def _one(
        self, name: str, readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState
    ) -> Derived | None:
        around = (site, machine_state)
        if name in self._known:
            before, looked, value = self._known[name]
            if before == around and all(readings.get(reading) == seen for reading, seen in looked.items()):
                return value
        looked, value = _computed(name, readings, site, machine_state)
        if value is not None and value.value is not None:
            value = _banded(value, readings, site, machine_state)
        self._known[name] = around, looked, value
        return value


def derive(readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState) -> dict[str, Derived]:
    """Every value that the readings allow, with the band that the instruments' errors leave.

    This machine's own suction, discharge, oil and line count only while it runs; else the rack's
    headers do. A reading that was taken in another state than `machine_state` must not be in `readings`.

    Args:
        readings: vocabulary id to value in US units.
        site: the profile; without a refrigerant or a probe curve what needs them is left out.
        machine_state: `running_now` at this moment.

    Returns:
        Derived id to value with unit and readings used; or to a spoken reason where the readings are
        there but no value can be given. What lacks a reading is left out.
    """
    return Deriver()(readings, site, machine_state)


def derive_one(
    name: str, readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState
) -> Derived | None:
    """One value of `DERIVED` without its band; None where it lacks a reading."""
    return _computed(name, readings, site, machine_state)[1]


def _computed(
    name: str, readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState
) -> tuple[dict[str, Value | None], Derived | None]:
    """What was looked at, and the value."""
    unit, kind, compute = DERIVED[name]
    work = _Work(readings, site, machine_state)
    try:
        value = compute(work)
        if not math.isfinite(value):
            raise OutOfRange("This is no number: nothing is computed from it.")
    except _Missing:
        return work.looked, None
    except OutOfRange as fault:
        return work.looked, Derived(name, None, unit, kind, tuple(work.used), str(fault))
    return work.looked, Derived(name, value, unit, kind, tuple(work.used))


def _banded(
    one: Derived, readings: Mapping[str, Value], site: SiteFacts, machine_state: MachineState
) -> Derived:
    used = {i: value for i in one.from_ids if (value := Case(readings=readings).ohm(i)) is not None}
    errors = {i: site.error(i, value) for i, value in used.items()}

    def compute(**moved: float) -> float:
        try:
            return DERIVED[one.id][2](_Work({**readings, **moved}, site, machine_state))
        except _Missing as fault:
            raise OutOfRange("With this reading moved by its error there is no such value.") from fault

    found = estimate(compute, used, {i: error for i, error in errors.items() if error > 0.0})
    least, most = _ENDS.get(one.id, (0.0, math.inf) if one.kind == "percent" else (-math.inf, math.inf))
    return replace(one, low=max(found.low, min(least, found.value)), high=min(found.high, max(most, found.value)))


_ENDS = dict.fromkeys(("flash_volume", "flash_mass", "injection_share"), (0.0, 100.0))
"""Where physics ends a band: a share of a whole. No other percentage is under none."""


def bands(derived: Mapping[str, Derived]) -> dict[str, tuple[float, float]]:
    """The bands alone, as `Case.bands` takes them; exact values have none."""
    ends = ((name, one.low, one.high) for name, one in derived.items())
    return {name: (low, high) for name, low, high in ends if low is not None and high is not None and low < high}


def values(derived: Mapping[str, Derived]) -> dict[str, float]:
    """The values alone, as `Case.derived` takes them."""
    return {name: one.value for name, one in derived.items() if one.value is not None}
