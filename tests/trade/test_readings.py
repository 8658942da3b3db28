"""What single readings mean, and what is refused."""

import datetime
from itertools import pairwise
from math import inf

import pytest

from assistant.trade import circuit, discharge, electrical, leak, probe, refrigerant, units
from assistant.trade.liquid_feed import Losses, liquid_feed
from assistant.trade.validity import OutOfRange

WARM = discharge.Suction(10.0, 20.0, 210.0, "R22")
CURVE = probe.ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0)


@pytest.mark.parametrize(
    ("curve", "degf", "ohm"),
    [
        (CURVE, -8.0, 1.25e6),
        (CURVE, -20.0, 1.9e6),
        (probe.ProbeCurve(r25_ohm=10_000.0, beta_k=3977.0), 310.0, 176.0),
        (probe.ProbeCurve(r25_ohm=10_000.0, beta_k=3977.0), 350.0, 111.0),
        (probe.ProbeCurve(kind="rtd", r0_ohm=100.0), -31.0, 86.0),
    ],
)
def test_a_good_probe_that_fixed_limits_would_condemn_is_on_its_curve(
    curve: probe.ProbeCurve, degf: float, ohm: float
) -> None:
    assert curve.ohm(degf) == pytest.approx(ohm, rel=0.02)
    assert curve.degf(curve.ohm(degf)) == pytest.approx(degf, abs=0.001)


def test_less_resistance_is_hotter_on_an_ntc_and_more_is_hotter_on_an_rtd() -> None:
    assert CURVE.degf(4000.0) > CURVE.degf(5000.0)
    rtd = probe.ProbeCurve(kind="rtd", r0_ohm=100.0)
    assert rtd.degf(150.0) > rtd.degf(140.0)
    assert rtd.degf(138.5055) == pytest.approx(212.0, abs=0.01)  # IEC 60751: 138.51 ohm at 100 C


def test_a_probe_s_table_answers_between_its_points_and_nothing_outside() -> None:
    table = tuple((degf, CURVE.ohm(degf)) for degf in range(32, 333, 20))
    curve = probe.ProbeCurve(table=table)
    assert curve.degf(CURVE.ohm(205.0)) == pytest.approx(205.0, abs=0.2)
    assert curve.ohm(205.0) == pytest.approx(CURVE.ohm(205.0), rel=0.005)
    with pytest.raises(OutOfRange, match="table ends"):
        curve.ohm(20.0)
    with pytest.raises(OutOfRange, match="table ends"):
        curve.degf(1e6)


def test_three_points_of_a_table_give_the_steinhart_hart_curve() -> None:
    known = probe.ProbeCurve(steinhart_hart=(1.129148e-3, 2.34125e-4, 8.76741e-8))
    abc = probe.steinhart_hart([(degf, known.ohm(degf)) for degf in (32.0, 140.0, 250.0)])
    assert abc == pytest.approx((1.129148e-3, 2.34125e-4, 8.76741e-8), rel=1e-6)
    with pytest.raises(ValueError, match="three different points"):
        probe.steinhart_hart([(32.0, 1e4), (32.0, 1e4), (90.0, 5e3)])


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"r25_ohm": 1e5},
        {"kind": "rtd", "r25_ohm": 1e5, "beta_k": 4000.0},
        {"table": ((32.0, 100.0), (50.0, 200.0))},
        {"kind": "ptc", "table": ((32.0, 200.0), (50.0, 100.0))},
        {"table": ((50.0, 100.0), (32.0, 200.0))},
    ],
)
def test_a_curve_that_is_none_or_two_or_runs_the_wrong_way_is_refused(fields: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="probe"):
        probe.ProbeCurve(**fields)  # type: ignore[arg-type]


def test_open_and_short_are_judged_against_the_curve_at_the_probe_s_temperature() -> None:
    at_ice = CURVE.ohm(32.0)
    assert probe.openness(at_ice * 3.1, at_ice) == "open"
    assert probe.openness(at_ice * 0.3, at_ice) == "short"
    assert probe.openness(at_ice, at_ice) == "neither"
    assert probe.openness(at_ice, CURVE.ohm(200.0)) == "open"


def test_boiling_water_at_altitude_is_colder() -> None:
    # ASHRAE Fundamentals table of water: 193.2 F at 10,000 ft within half a degree; 203 F near 5,000 ft.
    assert circuit.boiling_water_degf(0.0) == pytest.approx(212.0, abs=0.1)
    assert circuit.boiling_water_degf(5000.0) == pytest.approx(202.5, abs=0.5)


def test_inches_of_vacuum_are_negative_pounds() -> None:
    assert units.psig_from_inhg_vacuum(20.0) == pytest.approx(-9.823, abs=0.001)
    with pytest.raises(OutOfRange, match="vacuum"):
        units.psig_from_inhg_vacuum(31.0)


def test_a_superheat_of_ten_kelvin_is_eighteen_fahrenheit_degrees_and_ten_celsius_is_fifty() -> None:
    assert units.convert(10.0, "C", "F", difference=True) == 18.0
    assert units.convert(10.0, "C", "F") == 50.0
    with pytest.raises(ValueError, match="cannot be turned"):
        units.convert(1.0, "F", "psig")


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (lambda: circuit.dew_degf(10.0, "R999"), "not a refrigerant"),
        (lambda: circuit.dew_degf(-14.0, "R448A"), "too low"),
        (lambda: circuit.bubble_degf(900.0, "R448A"), "too high"),
        (lambda: circuit.dew_degf(1200.0, "R744"), "critical point"),
        (lambda: circuit.superheat_delta_degf(10.0, 400.0, "R22"), "suction temperature"),
        (lambda: circuit.compression_ratio(200.0, 10.0), "read both again"),
        (lambda: circuit.dew_degf(-20.0, "R22"), "absolute pressure"),
        (lambda: discharge.discharge_band(discharge.Suction(10.0, -30.0, 210.0, "R22")), "no superheat"),
        (lambda: discharge.implied_efficiency(WARM, 150.0), "colder than"),
        (lambda: liquid_feed(20.0, -10.0, Losses(lift_ft=100.0), "R22"), "no usable pressure"),
        (lambda: electrical.unbalance_percent([1.0, 2.0]), "three readings"),
        (lambda: electrical.unbalance_percent([0.0, 0.0, 0.0]), "over zero"),
        (lambda: electrical.derating_factor(6.0), "voltage unbalance"),
        (lambda: leak.annualized_percent(10.0, 0.0, 30.0), "full charge"),
        (lambda: leak.leak_rule("R22", "car", 60.0, datetime.date(2026, 3, 1)), "kind of appliance"),
        (lambda: units.atmosphere_psia(inf), "altitude"),
        (lambda: units.atmosphere_psia(float("nan")), "altitude"),
    ],
)  # fmt: skip
def test_outside_its_range_a_calculation_says_so(what: object, words: str) -> None:
    with pytest.raises(OutOfRange, match=words) as said:
        what()  # type: ignore[operator]
    assert str(said.value).endswith(".")


def test_the_what_ifs_all_bring_the_line_down() -> None:
    found = discharge.what_ifs(discharge.Suction(8.0, 25.0, 240.0, "R407F"))
    assert [*found] == ["colder_return", "lower_head", "higher_suction"]
    assert all(one.change_high_delta_degf < one.change_low_delta_degf < 0.0 for one in found.values())


def test_a_what_if_keeps_twenty_degrees_of_superheat_and_the_rack_s_minimum_head() -> None:
    found = discharge.what_ifs(discharge.Suction(8.0, 5.0, 240.0, "R407F"), minimum_head_psig=215.0)
    assert [*found] == ["higher_suction"]


def test_a_leak_rate_at_the_threshold_is_not_over_it() -> None:
    rule = leak.leak_rule("R448A", "commercial refrigeration", 400.0, datetime.date(2026, 3, 1))
    assert rule is not None
    assert not leak.over_threshold(20.0, rule)
    assert leak.over_threshold(20.1, rule)


@pytest.mark.parametrize(
    ("name", "pounds", "day", "part"),
    [
        ("R448A", 15.0, datetime.date(2025, 12, 31), None),
        ("R448A", 15.0, datetime.date(2026, 1, 1), "40 CFR part 84"),
        ("R22", 50.0, datetime.date(2026, 1, 1), "40 CFR part 82"),
        ("R290", 100.0, datetime.date(2026, 1, 1), None),
        ("R744", 900.0, datetime.date(2026, 1, 1), None),
        ("R454C", 40.0, datetime.date(2026, 1, 1), "40 CFR part 84"),
    ],
)
def test_the_leak_rule_depends_on_refrigerant_charge_and_day(
    name: str, pounds: float, day: datetime.date, part: str | None
) -> None:
    rule = leak.leak_rule(name, "commercial refrigeration", pounds, day)
    assert (rule.part if rule else None) == part


def test_the_first_addition_on_record_counts_a_whole_year() -> None:
    assert leak.annualized_percent(40.0, 400.0, None) == pytest.approx(10.0)


@pytest.mark.parametrize("name", sorted(refrigerant.REFRIGERANTS))
def test_every_refrigerant_has_a_chart_from_end_to_end_with_dew_over_bubble(name: str) -> None:
    entry = refrigerant.REFRIGERANTS[name]
    steps = [
        entry.lowest_pa * (entry.highest_pa / entry.lowest_pa) ** (i / 12) * (1 - 1e-9 * i) for i in range(13)
    ]
    at = [max(pressure, entry.lowest_pa) for pressure in steps]
    pairs = [(refrigerant.bubble_k(pressure, name), refrigerant.dew_k(pressure, name)) for pressure in at]
    assert all(bubble <= dew + 1e-6 for bubble, dew in pairs)
    assert all(a[1] < b[1] and a[0] < b[0] for a, b in pairwise(pairs))
