"""Every threshold of the trade, once, with its source. The site's profile overrides it, and a rack's goes before the site's.

A figure without a published source is common practice; where we set it ourselves it is our own figure. The maker's goes
before both. Standards are named from memory. What the law sets, by date, is in `leak.py`; physical constants and the
tolerances of a computation stay where they are used.
"""

from dataclasses import dataclass, field, fields


def _limit(usual: float, low: float, high: float) -> float:
    """A figure, and the range in which a profile may set it."""
    made: float = field(default=usual, metadata={"range": (low, high)})
    return made


@dataclass(frozen=True)
class Limits:
    """Where a verdict turns. Each field's range is what a profile may set it to."""

    # ---- volts, coils
    coil_pull_in_percent: float = _limit(85.0, 60.0, 95.0)
    """A voltage is there from this share of its rating; under it a coil may not pull in. Common practice."""
    volts_absent_percent: float = _limit(5.0, 1.0, 20.0)
    """Up to this share of its rating a voltage is not there; between, it is neither: a ghost. Our own figure."""
    volts_absent_v: float = _limit(3.0, 0.5, 10.0)
    """Up to so much, no voltage is there whatever the rating. Common practice (near zero)."""
    volts_present_v: float = _limit(18.0, 8.0, 50.0)
    """From so much one is there where no rating is known: three quarters of 24 V. Our own figure."""
    fuse_open_v: float = _limit(20.0, 5.0, 100.0)
    """More than this across a fuse: it is open. Our own figure."""
    coil_short_percent: float = _limit(50.0, 20.0, 80.0)
    """A coil under this share of its good ohms, or of a like coil's, is shorted. Common practice."""
    coil_spread_percent: float = _limit(20.0, 5.0, 40.0)
    """A coil this near its good ohms, or a like coil's, is good. Common practice."""
    coil_low_ohm: float = _limit(3.0, 0.5, 20.0)
    """Under this a coil whose good ohms nobody knows is taken for shorted. Our own figure."""

    # ---- discharge probe, injection
    probe_tolerance_delta_degf: float = _limit(8.0, 2.0, 30.0)
    """A probe further off its curve at a uniform temperature is off. Common practice."""
    probe_open_times: float = _limit(3.0, 1.5, 20.0)
    """Over so many times the curve's ohms a probe is open. Common practice."""
    probe_short_times: float = _limit(3.0, 1.5, 20.0)
    """Under the curve's ohms divided by this a probe is shorted. Common practice (a third)."""
    line_cold_degf: float = _limit(32.0, 0.0, 50.0)
    """A discharge line of a standing machine under this holds liquid: no feed test, no start. Our own figure."""
    valve_cold_delta_degf: float = _limit(20.0, 5.0, 60.0)
    """An outlet still this much colder than its surroundings five minutes after power off: the valve leaks. Common practice."""

    # ---- liquid
    drier_good_delta_degf: float = _limit(2.0, 0.5, 10.0)
    """Under this across a drier or strainer it is good. Common practice."""
    drier_bad_delta_degf: float = _limit(3.0, 1.0, 15.0)
    """Over this across a drier or strainer, at load, it is plugged. Common practice."""
    drier_clean_delta_psi: float = _limit(2.0, 0.0, 15.0)
    """What a clean drier takes at load, in the calculation of the liquid feed. Common practice (1 to 2)."""
    liquid_rise_delta_degf: float = _limit(3.0, 1.0, 20.0)
    """Liquid this much warmer at the header than off the receiver has picked up heat. Our own figure."""
    receiver_low_percent: float = _limit(10.0, 1.0, 50.0)
    """Up to this a receiver is low. Our own figure."""
    receiver_normal_percent: float = _limit(20.0, 5.0, 80.0)
    """From this on a receiver has liquid enough. Our own figure."""
    receiver_full_percent: float = _limit(80.0, 40.0, 100.0)
    """From this on a receiver is full. Our own figure, after the 80 percent of a cylinder."""

    # ---- operating conditions
    superheat_minimum_delta_degf: float = _limit(20.0, 5.0, 40.0)
    """Superheat at the compressor, low temperature: the least, in a what-if too. Common practice."""
    superheat_aim_delta_degf: float = _limit(30.0, 10.0, 60.0)
    """What the band is worked out with at design superheat. Common practice."""
    superheat_high_delta_degf: float = _limit(40.0, 20.0, 90.0)
    """Over this the return gas is hot; 25 to 45 is seen on long bare lines. Common practice."""
    return_gas_high_degf: float = _limit(65.0, 20.0, 100.0)
    """Return gas over this is hot: the makers' rating point. Common practice."""
    band_fall_delta_degf: float = _limit(20.0, 5.0, 60.0)
    """How far the band falls at design superheat before return gas is blamed. Common practice."""
    efficiency_best: float = _limit(0.75, 0.5, 0.95)
    """Isentropic, low temperature: the cool end of the discharge band. Common practice (reciprocating)."""
    efficiency_worst: float = _limit(0.60, 0.35, 0.9)
    """The hot end of the discharge band. Common practice (reciprocating)."""
    efficiency_leaking: float = _limit(0.5, 0.3, 0.8)
    """Implied efficiency under this with injection shut: leaking valves. Common practice."""
    neighbour_over_delta_degf: float = _limit(25.0, 5.0, 80.0)
    """A line this much over a running neighbour's, at the same pressures, is well above it. Our own figure."""
    ratio_usual: float = _limit(12.0, 3.0, 25.0)
    """Compression ratio up to which nothing is out of the way where the maker's map is not known. Our own figure."""
    head_out_percent: float = _limit(20.0, 5.0, 60.0)
    """A head this much over what its control holds asks at once why. Common practice."""
    head_far_percent: float = _limit(50.0, 10.0, 120.0)
    """A head this much over it has a cause of its own, whatever else was found. Our own figure."""
    pump_down_reach_psig: float = _limit(0.0, -7.0, 10.0)
    """A reciprocating machine with sound valves pulls its closed suction down to this. Common practice (0 psig to 5 inHg)."""
    pump_down_rise_delta_psi: float = _limit(5.0, 1.0, 30.0)
    """Over this in a minute the pump-down does not hold. Our own figure."""
    superheat_low_delta_degf: float = _limit(15.0, 2.0, 30.0)
    """Under this, at a low temperature compressor, liquid may come back: the flooding valve is looked for. Common practice."""
    pressure_control_percent: float = _limit(5.0, 1.0, 20.0)
    """A pressure control that opens further than this off its setting is faulty. Common practice."""
    pressure_control_delta_psi: float = _limit(1.0, 0.2, 10.0)
    """The same near zero, where a percent of the setting is nothing. Our own figure."""
    suction_band_delta_psi: float = _limit(2.0, 0.5, 10.0)
    """Suction this near its set point is at it. Common practice."""
    suction_low_delta_degf: float = _limit(2.0, 0.5, 15.0)
    """A dew point of the suction more than this under the design is low: the loss of a good line. Common practice."""

    # ---- head, low side
    condensing_limit_delta_degf: float = _limit(15.0, 8.0, 40.0)
    """Split over the air, low temperature, remote, air-cooled, full load (medium temperature 20). Common practice."""
    head_over_minimum_delta_psi: float = _limit(10.0, 2.0, 60.0)
    """From this over the control's minimum the head may be judged. Common practice."""
    subcooling_high_delta_degf: float = _limit(15.0, 5.0, 40.0)
    """Off the condenser; 5 to 15 is usual. Common practice."""
    warm_air_degf: float = _limit(40.0, 0.0, 70.0)
    """Air over this floods no condenser for winter. Our own figure."""
    discharge_restricted_delta_psi: float = _limit(10.0, 2.0, 60.0)
    """Discharge this much over the rack's header: something between. Our own figure."""
    noncondensables_delta_degf: float = _limit(3.0, 1.0, 10.0)
    """Standing pressure this much over the air's: air in the system. Common practice (2 to 3)."""
    suction_filter_limit_delta_psi: float = _limit(3.0, 0.5, 15.0)
    """Over this a suction filter is plugged. Our own figure."""

    # ---- oil
    crankcase_diluted_delta_degf: float = _limit(10.0, 2.0, 40.0)
    """A crankcase this near the suction's dew point holds refrigerant in its oil. Our own figure."""
    crankcase_warm_delta_degf: float = _limit(20.0, 5.0, 60.0)
    """A crankcase this far over it holds no liquid: the oil is judged, the machine may start. Common practice."""
    reservoir_low_delta_psi: float = _limit(5.0, 1.0, 30.0)
    """An oil reservoir under this over the suction feeds nothing (5 to 20). Common practice."""
    net_oil_limit_delta_psi: float = _limit(10.0, 3.0, 30.0)
    """Net oil pressure up to this is low: controls trip under 9 to 10. Common practice."""
    net_oil_healthy_delta_psi: float = _limit(20.0, 8.0, 60.0)
    """Net oil pressure from this on is normal (20 to 60). Common practice."""

    # ---- motor
    voltage_unbalance_percent: float = _limit(2.0, 0.5, 5.0)
    """Common practice over NEMA MG 1 (1 recommended, over 5 do not run)."""
    line_lost_unbalance_percent: float = _limit(12.5, 6.0, 40.0)
    """Over this a line is lost rather than unbalanced. Our own figure."""
    line_there_percent: float = _limit(80.0, 50.0, 95.0)
    """A line under this share of the highest, the motor off, is lost. Our own figure."""
    amps_absent_percent: float = _limit(5.0, 1.0, 30.0)
    """A current under this share of the highest is absent. Our own figure."""
    current_unbalance_percent: float = _limit(10.0, 3.0, 30.0)
    """Common practice; 6 to 10 times the voltage unbalance at load."""
    winding_balance_percent: float = _limit(5.0, 1.0, 15.0)
    """Windings further out of balance are bad. Common practice."""
    milliohm_below_ohm: float = _limit(3.0, 0.5, 10.0)
    """Under this only a milliohm meter tells balance: 0.1 of 0.4 ohm is 25 percent. Common practice."""
    ground_fails_mohm: float = _limit(1.0, 0.1, 100.0)
    """Insulation under this fails, after a warm repeat; 500 V DC, motors to 600 V. Common practice."""
    ground_passes_mohm: float = _limit(5.0, 0.5, 1000.0)
    """Insulation from this on passes; between, it is read again. Common practice; IEEE 43-2013 (random-wound)."""
    string_low_ohm: float = _limit(20.0, 1.0, 500.0)
    """A cold sensor string under this is shorted: tens of ohms a sensor at least. Common practice."""
    string_high_ohm: float = _limit(4500.0, 200.0, 20000.0)
    """A cold sensor string over this has opened. Common practice, from memory; hundreds of ohms a sensor."""
    starts_per_hour_limit: float = _limit(8.0, 1.0, 30.0)
    """More starts heat the motor. Common practice, from memory."""

    # ---- watch
    round_minutes: float = _limit(15.0, 2.0, 60.0)
    """Readings further apart are not of one round: boxes and pressures drift in that time. Our own figure."""
    line_rise_delta_degf: float = _limit(3.0, 0.5, 15.0)
    """A discharge line that changes by less in `line_minutes` holds. Common practice."""
    line_minutes: float = _limit(10.0, 5.0, 60.0)
    """The time over which the line's change is judged. Common practice."""
    near_trip_delta_degf: float = _limit(25.0, 5.0, 80.0)
    """A line this near its trip is warned of on two rounds already; farther off, two rounds of a machine that warms up
    after its start say nothing. Our own figure."""
    horizon_minutes: float = _limit(30.0, 5.0, 120.0)
    """A crossing of the trip farther off than this is no alarm: the next rounds show it. Our own figure."""
    settled_minutes: float = _limit(20.0, 10.0, 120.0)
    """How long suction is at its set point before the machine counts as settled. Common practice."""
    settled_under_trip_delta_degf: float = _limit(15.0, 5.0, 60.0)
    """A settled line is this far under its trip. Common practice."""
    settled_under_cutout_delta_psi: float = _limit(15.0, 5.0, 100.0)
    """A settled head is this far under its high-pressure control's setting. Our own figure."""

    # ---- safety and the course of the call: a profile may only make the first five stricter
    dead_limit_v: float = _limit(3.0, 0.5, 3.0)
    """Up to this a circuit is dead, on the low impedance setting. Common practice."""
    second_source_v: float = _limit(30.0, 10.0, 30.0)
    """Over this a circuit that should be dead has another source. Common practice."""
    hot_pipe_degf: float = _limit(130.0, 100.0, 130.0)
    """A pipe over this is touched only with gloves for heat. Common practice."""
    feed_budget_s: float = _limit(30.0, 10.0, 30.0)
    """Power with the stimulus in, in one call. Computed: 30 s is 0.8 lb of liquid in a standing 45 cfm machine."""
    trips_to_supervisor: float = _limit(3.0, 2.0, 3.0)
    """From so many trips in 90 days on no reset without the supervisor. Common practice."""
    heater_asked_minutes: float = _limit(60.0, 10.0, 240.0)
    """After so long locked out the crankcase heater is asked before a start. Common practice."""
    standing_minutes: float = _limit(60.0, 30.0, 240.0)
    """A machine that stood so long has one temperature, and its motor is cold. Common practice."""
    heater_minutes: float = _limit(30.0, 30.0, 720.0)
    """What a crankcase heater takes before a start, at least; after a leaking valve hours. Common practice."""
    at_zero_psi: float = _limit(0.5, 0.0, 1.0)
    """What a gauge may show and still be at zero: half of its first mark. Our own figure."""
    protection_lockout_minutes: float = _limit(30.0, 1.0, 120.0)
    """A motor protection's lockout. Common practice (to 30)."""
    module_delay_s: float = _limit(10.0, 1.0, 300.0)
    """A module's start delay: an absent output counts only after it. Our own figure."""
    pressure_inside_percent: float = _limit(10.0, 2.0, 40.0)
    """A pressure this far inside its control's setting is clearly inside. Our own figure."""
    pressure_inside_delta_psi: float = _limit(2.0, 0.5, 20.0)
    """The same near zero. Our own figure."""
    locked_rotor_times: float = _limit(4.0, 2.0, 10.0)
    """Amps so many times the rated are those of a locked rotor. Common practice, from memory."""


USUAL = Limits()
"""What holds where the profile says nothing."""

RANGES: dict[str, tuple[float, float]] = {one.name: one.metadata["range"] for one in fields(Limits)}
"""What a profile may set each to, both ends allowed."""

RISING: tuple[tuple[str, ...], ...] = (
    ("volts_absent_percent", "coil_pull_in_percent"),
    ("volts_absent_v", "volts_present_v"),
    ("volts_absent_v", "fuse_open_v"),
    ("drier_good_delta_degf", "drier_bad_delta_degf"),
    ("receiver_low_percent", "receiver_normal_percent", "receiver_full_percent"),
    ("superheat_low_delta_degf", "superheat_minimum_delta_degf", "superheat_aim_delta_degf", "superheat_high_delta_degf"),
    ("head_out_percent", "head_far_percent"),
    ("efficiency_leaking", "efficiency_worst", "efficiency_best"),
    ("crankcase_diluted_delta_degf", "crankcase_warm_delta_degf"),
    ("net_oil_limit_delta_psi", "net_oil_healthy_delta_psi"),
    ("voltage_unbalance_percent", "line_lost_unbalance_percent"),
    ("ground_fails_mohm", "ground_passes_mohm"),
    ("string_low_ohm", "string_high_ohm"),
    ("dead_limit_v", "second_source_v"),
)
"""Limits of one scale: each is at most the next."""
