"""What the readings of a call mean: hands them to the refrigeration room and brings back what is new."""

from collections.abc import Iterator

from assistant.branches.diagnosis import diagnose
from assistant.call.branches import AMPS, LINES, WINDINGS
from assistant.call.established import established
from assistant.call.facts import Concluded, Fact, NotComputed, ValueDerived
from assistant.call.state import State
from assistant.call.verdicts import found
from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Rack
from assistant.trade.case import Case, SiteFacts
from assistant.trade.derive import Derived, Deriver, bands, values
from assistant.trade.units import us_value
from assistant.trade.watch import minutes_to_settle, minutes_to_trip, trend

_RANK = {"ruled_out": 0, "suspected": 1, "supported": 2, "proven": 3}
_AFTER_REPAIR = frozenset({"no_fault_found", "injection_valve_stuck_closed", "refrigerant_low", "return_gas_hot",
                           "head_high", "suction_low", "capacity_control_stuck", "condenser_fouled",
                           "condenser_fan_failed", "head_fan_failed", "phase_lost", "phase_reversed", "motor_overloaded",
                           "motor_poorly_cooled", "compressor_seized", "oil_pump_worn", "oil_control_faulty",
                           "pressure_control_faulty", "discharge_restricted", "suction_restricted"})  # fmt: skip
"""Causes that readings after a repair may still speak for; the others were decided before it."""


class Judge:
    """Remembers the last answer, since the same readings mean the same."""

    def __init__(self) -> None:
        self._key: object = None
        self._facts: list[Fact] = []
        self._derive = Deriver()

    def __call__(self, s: State) -> Iterator[Fact]:
        if s.rack is None or _mixed(s):
            return
        key = (
            tuple((i, r.value) for i, r in s.readings.items()), len(s.answered), s.choice, len(s.resets),
            s.power_off_at, len(s.series),
        )  # fmt: skip
        if key != self._key:
            self._key, self._facts = key, list(_facts(s, s.rack, self._derive))
        yield from (f for f in self._facts if _new(s, f))


def _mixed(s: State) -> bool:
    """Three of a set are being read again and are not whole yet: nothing is told from a mixture."""
    return any(len({s.readings[i].step for i in three if i in s.readings}) > 1 for three in (WINDINGS, LINES, AMPS))


def _new(s: State, fact: Fact) -> bool:
    match fact:
        case ValueDerived(id=id_, value=value):
            return id_ not in s.derived or s.derived[id_].value != value
        case NotComputed(id=id_, reason=reason):
            return s.not_computed.get(id_) != reason
        case Concluded(cause=cause, standing=standing):
            before = s.conclusions.get(cause)
            if before is None:
                return True
            if before.standing == standing:
                return False
            return not s.choice or _RANK[standing] > _RANK[before.standing]
    return False


def _facts(s: State, rack: Rack, derive: Deriver) -> Iterator[Fact]:
    site = site_facts(s, rack)
    readings = _readings(s)
    derived = derive(readings, site, "running" if s.started_at else "off")
    yield from _derived(derived)
    yield from _watched(s, rack)
    numbers, ends = values(derived), bands(derived)
    if s.readings.get("ambient_temperature") and s.readings["ambient_temperature"].step == "valve_air":
        numbers["surroundings_degf"] = float(readings["ambient_temperature"])
    if s.fed_s:
        yield ValueDerived("injection_seconds", round(s.fed_s, 1), "s", ("control_power_on", "control_power_off"))
    case = Case(readings, numbers, frozenset(established(s, rack)), site, ends)
    got = {c.cause: c for c in diagnose(case)}
    for cause, c in got.items():
        if cause == "no_fault_found" and (s.choice or found(s)):
            continue
        if not s.choice or cause in _AFTER_REPAIR:
            yield Concluded(cause, _standing(s, rack, cause, c.standing), tuple(c.evidence), c.action, c.uncertain)
    for cause, before in s.conclusions.items():
        if cause not in got and not s.choice and before.standing in ("proven", "supported"):
            yield Concluded(cause, "suspected", (), "A reading it rested on was changed.")


def _standing(s: State, rack: Rack, cause: str, standing: str) -> str:
    """What is not condemned yet though its readings say so.

    Dirt reads like a failed probe until it was cleaned: off the curve condemns no probe that can be cleaned. A winding
    read from the starter has its leads in the reading: it is proven at the motor's terminals, where they may be opened.
    """
    if cause == "winding_failed" and standing == "proven":
        at_terminals = all(i in s.readings and s.readings[i].step == "windings_at_terminals" for i in WINDINGS)
        return standing if at_terminals else "supported"
    can_be_cleaned = rack.probe.mount in ("clamp", "dry_well") and "probe_ohms.cleaned" not in s.readings
    off = isinstance(s.value("probe_ohms"), float)
    return "supported" if cause == "probe_failed" and standing == "proven" and off and can_be_cleaned else standing


def _derived(derived: dict[str, Derived]) -> Iterator[Fact]:
    for one in derived.values():
        if one.value is None:
            yield NotComputed(one.id, one.reason)
        else:
            ends = (None, None) if one.low == one.high else (_rounded(one.low), _rounded(one.high))
            yield ValueDerived(one.id, round(one.value, 3), one.unit, one.from_ids, *ends)


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _watched(s: State, rack: Rack) -> Iterator[Fact]:
    """What the rounds of the watch so far say of the discharge line."""
    rounds, source = s.rounds, ("watch.discharge_temperature",)
    line = [(one.minutes, one.discharge_degf) for one in rounds if one.discharge_degf is not None]
    if len(line) < 2 or line[-1][0] <= line[-2][0]:
        return  # answered so late that the next round was due at once: two readings at one moment have no trend
    error = s.site.instruments.difference_delta_degf
    rise = trend(line[-2:], error)
    low, high = rise.per_minute - rise.error_per_minute, rise.per_minute + rise.error_per_minute
    yield ValueDerived("line_rise", round(rise.per_minute, 2), "F/min", source, round(low, 2), round(high, 2))
    for id_, minutes in (
        ("minutes_to_trip", minutes_to_trip(rounds, rack.probe.trip_degf, error, rack.limits)),
        ("minutes_to_settle", minutes_to_settle(rounds, rack.limits)),
    ):
        if minutes is not None:
            yield ValueDerived(id_, round(minutes, 1), "min", source)


def site_facts(s: State, rack: Rack) -> SiteFacts:
    """The profile as the diagnosis takes it."""
    place = next((i for i, c in enumerate(rack.compressors) if c.id == s.value("compressor")), 0)
    line = rack.liquid_line_psi[min(place, len(rack.liquid_line_psi) - 1)] if rack.liquid_line_psi else 0.0
    return SiteFacts(
        refrigerant=rack.refrigerant, altitude_ft=s.site.altitude_ft, control_volts=rack.panel.control_volts,
        coil_volts_rated=rack.injection.coil_volts, coil_ohms=rack.injection.coil_ohms,
        probe_curve=rack.probe.curve, trip_temperature_degf=rack.probe.trip_degf, condenser_fans=rack.condenser_fans,
        head_minimum_psig=rack.head_minimum_psig, suction_set_point_psig=rack.suction_set_point_psig,
        lift_ft=rack.liquid_lift_ft, liquid_line_delta_psi=line, full_charge_lb=rack.full_charge_lb,
        injection_holds_degf=rack.probe.inject_degf, limits=rack.limits, instruments=s.site.instruments,
        ratio_limit=rack.ratio_limit, design_suction_degf=rack.design_suction_degf,
        discharge_reset=rack.panel.discharge_reset, output_own_feed=rack.injection.output_own_feed,
        days_since_addition=min((days for r, days, _ in s.additions if r == rack.id), default=None),
        added_before_lb=sum(pounds for r, _, pounds in s.additions if r == rack.id),
        rated_amps=rack.panel.rated_amps, starter_coil_ohms=rack.panel.starter_coil_ohms or None,
        high_cutout_psig=rack.high_cutout_psig or None, low_cutout_psig=rack.low_cutout_psig,
    )  # fmt: skip


def _readings(s: State) -> dict[str, Value]:
    """The readings in US units; after a repair, the injection readings as they were before it."""
    taken = dict(s.readings)
    if s.choice:
        taken |= {i: r for i, r in s.readings_before_repair.items() if i.startswith(("injection_", "valve_", "head_fan"))}
    taken |= {i: r for i, r in s.readings_before_charge.items() if i in ("receiver_level", "sight_glass")}
    return {i: us_value(r.value, r.unit, vocabulary()[i].kind) for i, r in taken.items()}
