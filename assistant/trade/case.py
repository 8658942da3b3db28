"""What is known when a diagnosis is made: readings, what follows from them, facts, and the site."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations
from math import inf
from typing import Literal

from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade.electrical import volts_present
from assistant.trade.limits import USUAL, Limits
from assistant.trade.probe import ProbeCurve
from assistant.trade.uncertainty import Instruments

Standing = Literal["proven", "supported", "suspected", "ruled_out"]
Verdict = tuple[Standing, tuple[str, ...]]
"""A standing and the ids it rests on. No verdict at all is None: the cause stays open."""

FACTS: dict[str, str] = {
    "standing_over_an_hour": "the machine stood over an hour: probe and pipe have one temperature",
    "dead_when_coil_read": "the injection coil was read dead with one wire lifted",
    "starter_dead_when_read": "the starter coil was read dead with one wire lifted",
    "feed_test_run": "power was on with the stimulus in",
    "stimulus_right": "the stimulus was the profile's for this probe kind",
    "timer_elapsed": "the module's start delay or lockout time had run out",
    "low_impedance": "module output and coil volts were read on the low impedance setting",
    "coil_volts_stimulus_out": "injection_coil_volts was read with power on and no stimulus in",
    "fed_as_found": "the injection fed the standing machine as it was found",
    "probe_cool": "the probe was cooler than its injection temperature while the coil was read",
    "five_minutes_power_off": "injection_outlet_temperature was read with power off for five minutes",
    "valve_opened_or_replaced": "the injection valve was opened or replaced",
    "feed_seen_after": "the feed was seen after that repair",
    "strainer_opened_plugged": "the injection strainer was opened and found plugged",
    "strainer_opened_clean": "the injection strainer was opened and found clean",
    "head_fan_broken": "the head fan is broken, unplugged, or wired to run always and stopped",
    "head_fan_seen_standing": "the head fan was looked at while the machine stood, and not since it was started",
    "discharge_stays_open": "the discharge contact stayed open after its one reset, under the lock",
    "reset_tried": "the protection was reset once on this call",
    "several_off": "two or more of the rack tripped on the same protection",
    "several_modules_dead": "two or more modules were found without supply",
    "at_load": "the rack carried its load while the drop was read",
    "rack_steady": "no defrost, no reclaim, no winter flooding while the receiver was read",
    "charge_restored": "a weighed charge brought glass and receiver level back",
    "suction_valve_found_shut": "the machine's suction valve was found shut or part shut, and nobody of this call had closed it",
    "liquid_valve_part_closed": "a valve of the liquid line was found part closed",
    "glass_full_upstream": "a glass upstream of that valve is full",
    "retrofit_changed_oil": "a retrofit of this rack changed the oil",
    "leak_at_seal": "the leak was found at a gasket or seal",
    "every_fan_called": "the control calls every condenser fan",
    "injection_shut": "injection was shut, or is proven dead, while the discharge was read",
    "injection_seen_running": "the injection line was seen cold while the machine ran",
    "pump_down_tried_twice": "the pump-down was done a second time",
    "watch_done": "the watch after the restart was completed",
    "settled": "the watch met every condition of settled",
    "all_checked": "every reading of the procedure was taken",
    "probe_hot_now": "the probe is still hot",
    "idle_test_valid": "the whole rack off and locked, the condenser at air temperature, relief open",
    "winter_valve_holding": "the head control valve was seen to hold liquid in the condenser",
    "discharge_drop_found": "a valve, check or separator between compressor and condenser was found dropping",
    "pressure_clearly_inside": "a checked gauge read clearly inside the control's setting",
    "gauge_checked": "the gauge was checked against another or zeroed",
    "case_fans_stopped": "fans of the iced cases were found stopped",
    "one_circuit_dry": "one circuit has no feed and the others are normal",
    "net_oil_read_as_it_opened": "the net oil pressure was read running at the moment the control opened",
    "all_levels_low": "the oil is low in every compressor of the rack",
    "separator_return_wrong": "the separator's return line is warm or cold when it should not be",
    "levels_fell_after_low_load": "levels fell after lost defrost or low load",
    "mineral_oil_left": "the rack holds mineral oil",
    "other_levels_low": "the oil is low in other compressors",
    "motor_off_when_read": "line volts were read with the motor off",
    "pole_open": "a pole of the starter was found open",
    "motor_cooled": "the motor had cooled when its windings were read",
    "milliohm_meter": "the windings were read with a milliohm meter",
    "warm_repeat": "the insulation was read again with the crankcase warm",
    "at_set_point_suction": "suction was at its set point when the amps were read",
    "lockout_waited": "the motor protection's lockout time was waited out",
    "cycled_once": "the motor protection's power was cycled once after that",
    "closed_after_cooling": "the motor protection closed by itself after cooling",
    "locked_rotor_amps": "the starter pulled locked rotor amps",
    "motor_warm": "the motor's shell was still warm",
    "line_fuse_open": "a line fuse, or the breaker, was found open",
    "line_fuses_good": "line fuses and breaker were found good, checked dead",
    "poles_closed": "every pole of the starter was found closed, pressed in by hand",
    "motor_lead_open": "windings read open at the starter and good at the motor's terminals",
    "modules_off": "drive, soft starter and motor module are off the windings, and the charge is known",
    "charge_unknown": "nobody knows what the machine holds",
    "starter_stays_out": "the starter does not pull in with its voltage there",
    "starter_pulls_in": "the starter pulls in",
    "oil_control_tripped": "the oil control's lamp or button says that it tripped",
    "oil_control_not_tripped": "the oil control's lamp or button says that it did not trip",
    "others_normal": "the other machines' oil glasses are normal",
    "discharge_drop_none": "discharge valve, check valve and separator are open",
    "circuits_fed": "every circuit has its feed",
    "case_fans_running": "the fans of the iced cases run",
    "contact_open:oil_pressure": "the oil contact was found open",
    "contact_open:high_pressure": "the high pressure contact was found open",
    "contact_open:motor_protection": "the motor protection contact was found open",
    "contact_open:low_pressure": "the low pressure contact was found open",
    "contact_open:discharge_temperature": "the discharge temperature contact was found open",
    "contact_closed:oil_pressure": "this contact was found closed when checked dead",
    "contact_closed:high_pressure": "this contact was found closed when checked dead",
    "contact_closed:low_pressure": "this contact was found closed when checked dead",
    "contact_closed:motor_protection": "this contact was found closed when checked dead",
    "contact_closed:discharge_temperature": "this contact was found closed when checked dead",
}
"""Every fact a rule looks at. A fact that is absent was not established; it is never the opposite."""


_LEGS = ("line_volts.", "line_amps.", "winding_ohms.")


@dataclass(frozen=True)
class SiteFacts:
    """The site's profile as far as calculation and diagnosis need it. None: not in the profile."""

    refrigerant: str = ""
    altitude_ft: float = 0.0
    control_volts: float | None = None
    coil_volts_rated: float | None = None
    """Rated volts of the injection coil; the control voltage where the profile has none."""
    coil_ohms: float | None = None
    """Good resistance of the injection coil [ohm]."""
    starter_coil_ohms: float | None = None
    high_cutout_psig: float | None = None
    low_cutout_psig: float | None = None
    """Settings of the pressure controls; read at the control where the profile has none."""
    probe_curve: ProbeCurve | None = None
    trip_temperature_degf: float | None = None
    """Trip of the discharge protection, where its probe sits."""
    discharge_reset: Literal["manual", "automatic"] = "manual"
    output_own_feed: bool = True
    """The module's output is a dry contact with a feed of its own."""
    ratio_limit: float | None = None
    """The maker's map for this refrigerant; there is no common limit."""
    condenser_fans: int | None = None
    compressors: int = 0
    """How many the rack has; 0 where nobody knows."""
    head_minimum_psig: float | None = None
    suction_set_point_psig: float | None = None
    design_suction_degf: float | None = None
    """Dew point of the suction that the rack was laid out for."""
    rated_amps: float | None = None
    """The maker's maximum continuous current."""
    lift_ft: float = 0.0
    liquid_line_delta_psi: float = 0.0
    full_charge_lb: float | None = None
    days_since_addition: float | None = None
    """Since the last addition on record before this leak; None: none on record."""
    added_for_this_leak_lb: float = 0.0
    """Added for the same leak before this call, by the record."""
    added_before_lb: float = 0.0
    """Added in the last 365 days before this call, by the record."""
    injection_holds_degf: float | None = None
    """Discharge temperature that the injection holds: where its probe asks for liquid."""
    limits: Limits = USUAL
    instruments: Instruments = field(default_factory=Instruments)
    held_contacts: frozenset[str] = frozenset()
    """Contacts that a powered module holds: read dead, open says nothing."""
    machine_kind: str = "reciprocating"
    oil: str = ""
    """`mineral` or `ester`; empty where nobody knows."""

    def error(self, reading: str, value: float) -> float:
        """How far a reading may be off, in its US unit; 0 for what is counted, chosen or unknown."""
        entry = vocabulary().get(reading)
        return self.instruments.error(entry.kind, value, reading.startswith(_LEGS)) if entry else 0.0


@dataclass(frozen=True)
class Case:
    """What is known when a diagnosis is made."""

    readings: Mapping[str, Value] = field(default_factory=dict)
    """Vocabulary id to value in US units: psig, degF, ohm, V, lb; a choice, `yes`, `no`, `over_range`."""
    derived: Mapping[str, float] = field(default_factory=dict)
    """Derived id (`derive.DERIVED`) to value."""
    facts: frozenset[str] = frozenset()
    """Names from `FACTS`."""
    site: SiteFacts = field(default_factory=SiteFacts)
    bands: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """Derived id to the lower and upper end of its band; without one a value counts as exact."""
    standings: Mapping[str, str] = field(default_factory=dict)
    """Cause to its standing, as far as the call has concluded, in that order."""
    mended: frozenset[str] = frozenset()
    """Causes that were found before the repair and said to be repaired: they explain nothing that is read after it."""
    contacts: tuple[str, ...] = ()
    """Contacts found open, by their names on the panel."""
    apart: frozenset[frozenset[str]] = frozenset()
    """Pairs of readings that were not taken in one round, in one state of the machine: they are never joined."""

    def with_facts(self, facts: frozenset[str]) -> "Case":
        """The case with these facts beside its own."""
        return replace(self, facts=self.facts | facts)

    def has(self, *facts: str) -> bool:
        """Whether every one of these facts was established."""
        return all(fact in self.facts for fact in facts)

    def says(self, reading: str, *values: str) -> bool:
        """Whether the reading was answered with one of these words."""
        return self.readings.get(reading) in values

    def number(self, reading: str) -> float | None:
        """The reading as a number; None when it is missing or was no number."""
        value = self.readings.get(reading)
        return None if value is None or isinstance(value, bool | str) else float(value)

    def ohm(self, reading: str) -> float | None:
        """Resistance [ohm]: over range is infinite, below resolution is zero."""
        if self.says(reading, "over_range"):
            return inf
        return 0.0 if self.says(reading, "below_resolution") else self.number(reading)

    def stood(self, cause: str, since: str) -> Standing | None:
        """How a cause was found, where by this fact another part stands in its place since: a new one says nothing of the old."""
        before = self.standings.get(cause)
        if not self.has(since) or before not in ("proven", "supported"):
            return None
        return "proven" if before == "proven" else "supported"

    def live(self, reading: str, rated_v: float | None = None) -> bool | None:
        """Whether a voltage is there; None when it is missing or neither (`electrical.volts_present`)."""
        volts = 0.0 if self.says(reading, "none_present") else self.number(reading)
        return None if volts is None else volts_present(volts, rated_v or self.site.control_volts, self.site.limits)

    def coil_live(self) -> bool | None:
        """Whether the injection coil has its voltage."""
        return self.live("injection_coil_volts", self.site.coil_volts_rated)

    def within(self, derived: str, low: float, high: float) -> bool:
        """Whether a derived value is known and between two limits, both allowed."""
        value = self.derived.get(derived)
        return value is not None and low <= value <= high

    def value(self, name: str) -> float | None:
        """A derived value, else a numeric reading; None where neither is known."""
        value = self.derived.get(name)
        return self.number(name) if value is None else value

    def over(self, name: str, limit: float) -> bool:
        """Whether a derived value or a numeric reading is known and over a limit."""
        value = self.value(name)
        return value is not None and value > limit

    def under(self, name: str, limit: float) -> bool:
        """Whether a derived value or a numeric reading is known and under a limit."""
        value = self.value(name)
        return value is not None and value < limit

    def at_least(self, name: str, limit: float) -> bool:
        """Whether a derived value or a numeric reading is known and not under a limit."""
        value = self.value(name)
        return value is not None and value >= limit

    def moved(self, name: str) -> "tuple[Case, ...]":
        """The case with a derived value or a reading at either end of its error; empty where it has none."""
        if name in self.bands:
            return tuple(replace(self, derived={**self.derived, name: end}) for end in self.bands[name])
        value = self.number(name) if name not in self.derived else None
        error = self.site.error(name, value) if value is not None else 0.0
        if value is None or not error:
            return ()
        return tuple(replace(self, readings={**self.readings, name: value + side * error}) for side in (-1.0, 1.0))

    def known(self, *names: str) -> tuple[str, ...]:
        """Those of the names that are in the case: evidence lists nothing that was not there."""
        return tuple(n for n in names if n in self.readings or n in self.derived or n in self.facts)

    def together(self, *names: str) -> bool:
        """Whether these readings belong to one round: none of them was taken at another moment than another."""
        return not any(frozenset(pair) in self.apart for pair in combinations(names, 2))

    def runs(self) -> bool:
        """Whether it runs now: said, or started on this call."""
        return self.says("running_now", "running") or self.has("read_running")

    def steady(self) -> bool:
        """Whether the rack was steady when its receiver was read."""
        quiet = self.says("defrost_state", "none") and self.says("heat_reclaim", "off", "none")
        return self.has("rack_steady") or (
            quiet and self.over("ambient_temperature", self.site.limits.warm_air_degf)
        )


@dataclass(frozen=True)
class Conclusion:
    """One cause with its standing."""

    cause: str
    """An id of causes.csv."""
    standing: Standing
    evidence: tuple[str, ...]
    """Vocabulary, derived and fact ids it rests on."""
    action: str
    """What to do, one short spoken sentence."""
    uncertain: tuple[str, ...] = ()
    """Evidence that lies so near its limit that the instruments' errors can take the standing away."""
