"""What is computed from a call's readings, and what is not."""

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade import circuit
from assistant.trade.case import SiteFacts
from assistant.trade.derive import DERIVED, Derived, Deriver, derive, values
from assistant.trade.probe import ProbeCurve
from assistant.trade.uncertainty import Instruments

CURVE = ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0)
SITE = SiteFacts(refrigerant="R449A", probe_curve=CURVE, full_charge_lb=400.0, trip_temperature_degf=225.0)
RUNNING: dict[str, Value] = {
    "suction_pressure": 8.0, "suction_temperature": 5.0, "discharge_pressure": 232.0,
    "discharge_temperature": 201.0,
    "ambient_temperature": 86.0, "liquid_pressure": 227.0, "liquid_temperature": 90.0,
}  # fmt: skip


def test_a_running_machine_gives_the_worked_job_s_values() -> None:
    found = values(derive(RUNNING, SITE, "running"))
    # scenarios.json, S1
    wanted = {
        "superheat": 27.893, "ratio": 10.87, "condensing_difference": 15.745, "subcooling": 5.941,
        "discharge_band_low": 205.99, "discharge_band_high": 240.475, "discharge_margin": 24.0,
        "implied_efficiency": 0.778,
    }  # fmt: skip
    assert {name: found[name] for name in wanted} == pytest.approx(wanted, abs=0.06)


@pytest.mark.parametrize("state", ["off", "just tripped"])
def test_a_standing_machine_s_own_values_are_not_computed_from(state: Any) -> None:
    readings = RUNNING | {"rack_suction_pressure": 12.0, "rack_discharge_pressure": 210.0}
    found = derive(readings, SITE, state)
    for name in ("superheat", "discharge_band_high", "discharge_margin", "implied_efficiency"):
        assert found[name].value is None
        assert found[name].reason.startswith("This machine is not running")
    assert found["ratio"].from_ids == ("rack_suction_pressure", "rack_discharge_pressure")


def test_without_the_rack_s_headers_a_standing_machine_has_no_ratio() -> None:
    assert "ratio" not in derive(RUNNING, SITE, "off")


def test_gas_without_superheat_gets_a_reason_and_no_discharge_temperature() -> None:
    found = derive(RUNNING | {"suction_temperature": -30.0}, SITE, "running")
    assert found["superheat"].value == pytest.approx(-7.1, abs=0.1)
    assert found["discharge_band_high"].value is None
    assert "no superheat" in found["discharge_band_high"].reason


def test_a_gauge_read_twice_is_a_reason_to_read_again_and_breaks_nothing() -> None:
    same = {"suction_pressure": 15.0, "discharge_pressure": 15.0, "suction_temperature": 40.0}
    for line_degf in (40.0, 60.0, 200.0):
        found = derive(RUNNING | same | {"discharge_temperature": line_degf}, SITE, "running")
        assert found["implied_efficiency"].value is None
        assert "read both again" in found["implied_efficiency"].reason


def test_carbon_dioxide_over_its_critical_point_gets_a_reason() -> None:
    found = derive({"rack_discharge_pressure": 1300.0}, SiteFacts(refrigerant="R744"), "off")
    assert "critical point" in found["condensing_temperature"].reason


def test_the_probe_is_compared_in_degrees_at_its_pipe_s_temperature() -> None:
    readings: dict[str, Value] = {
        "probe_ohms.module_end": 5250.0, "probe_ohms.cleaned": 8050.0, "probe_pipe_temperature": 201.0
    }  # fmt: skip
    found = values(derive(readings, SITE, "off"))
    assert found["probe_error_delta_degf"] == pytest.approx(27.07, abs=0.05)
    assert found["probe_error_cleaned_delta_degf"] == pytest.approx(0.09, abs=0.05)


def test_an_open_or_shorted_probe_has_no_temperature_but_the_curve_s_ohms_are_there_to_compare() -> None:
    for words in ("over_range", "below_resolution"):
        found = values(derive({"probe_ohms": words, "probe_pipe_temperature": 90.0}, SITE, "off"))
        assert set(found) == {"probe_curve_ohms"}


def test_words_are_never_turned_into_numbers() -> None:
    words = dict.fromkeys(vocabulary(), "not_measurable")
    assert derive(words, SITE, "running") == {}


def test_nothing_is_derived_from_nothing() -> None:
    assert derive({}, SITE, "running") == {}
    assert derive(RUNNING, SiteFacts(), "running").keys() == {"ratio"}


def test_every_value_says_which_readings_of_the_vocabulary_it_rests_on() -> None:
    readings: dict[str, Value] = RUNNING | {
        "oil_pump_pressure": 60.0, "crankcase_pressure": 9.0, "reservoir_pressure": 24.0, "rack_suction_pressure": 10.0,
        "crankcase_temperature": 70.0,
        "line_volts.ab": 480.0, "line_volts.bc": 478.0, "line_volts.ca": 474.0,
        "line_amps.a": 31.0, "line_amps.b": 30.2, "line_amps.c": 32.1,
        "winding_ohms.ab": 4.1, "winding_ohms.bc": 4.1, "winding_ohms.ca": 4.2,
        "idle_condenser_pressure": 180.0, "liquid_out_temperature": 85.0, "probe_pipe_temperature": 90.0,
        "probe_ohms": 70000.0, "probe_ohms.module_end": 70000.0, "probe_ohms.cleaned": 72000.0,
        "refrigerant_added": 40.0, "refrigerant_recovered": 10.0, "days_since_last_addition": 60.0,
    }  # fmt: skip
    # Return gas warm enough that twenty degrees less leaves superheat.
    site = replace(SITE, injection_holds_degf=215.0, suction_set_point_psig=12.0)
    found = derive(readings | {"suction_temperature": 25.0}, site, "running")
    assert found.keys() == DERIVED.keys()
    for one in found.values():
        assert one.value is not None, one
        assert one.from_ids
        assert set(one.from_ids) <= vocabulary().keys()
        assert one.low is not None
        assert one.high is not None
        assert one.low <= one.value <= one.high
    assert found["leak_rate_annualizing"].value == pytest.approx(60.83, abs=0.01)
    assert found["net_oil"].value == 51.0


def _band(one: Derived) -> tuple[float, float]:
    """How far the band goes down and up from the value."""
    assert one.value is not None
    assert one.low is not None
    assert one.high is not None
    return one.value - one.low, one.high - one.value


def test_a_superheat_carries_the_error_of_gauge_and_thermometer() -> None:
    down, up = _band(derive(RUNNING, SITE, "running")["superheat"])
    # One psi is 2.4 F of dew at this suction; with the thermometer's 2 F, as squares: 3.1 F.
    per_psi = circuit.dew_degf(9.0, "R449A") - circuit.dew_degf(8.0, "R449A")
    assert (down, up) == pytest.approx([(per_psi**2 + 4.0) ** 0.5] * 2, abs=0.1)


def test_better_instruments_make_a_narrower_band() -> None:
    better = replace(SITE, instruments=Instruments(gauge_delta_psi=0.1, thermometer_delta_degf=0.2))
    wide, narrow = (derive(RUNNING, site, "running")["superheat"] for site in (SITE, better))
    assert sum(_band(narrow)) * 9 < sum(_band(wide))


def test_three_legs_read_with_one_meter_are_surer_than_the_meter() -> None:
    legs: dict[str, Value] = {"line_volts.ab": 480.0, "line_volts.bc": 478.0, "line_volts.ca": 466.0}
    found = derive(legs, SITE, "off")["voltage_unbalance"]
    assert found.value == pytest.approx(1.83, abs=0.01)
    assert max(_band(found)) < 0.4  # a meter one percent off on each leg apart would make it over one percent


def test_what_is_remembered_is_dropped_when_a_reading_it_looked_for_is_taken() -> None:
    derive_again = Deriver()
    of_rack = derive_again({"rack_suction_pressure": 12.0, "rack_discharge_pressure": 210.0}, SITE, "running")["ratio"]
    both: dict[str, Value] = {"rack_suction_pressure": 12.0, "rack_discharge_pressure": 210.0, "suction_pressure": 8.0}
    own = derive_again(both, SITE, "running")["ratio"]
    assert of_rack.from_ids == ("rack_suction_pressure", "rack_discharge_pressure")
    assert own.from_ids == ("suction_pressure", "rack_discharge_pressure")
    assert own == derive(both, SITE, "running")["ratio"]


def test_an_addition_before_this_one_shortens_the_time_the_leak_rate_counts() -> None:
    added: dict[str, Value] = {"refrigerant_added": 40.0}
    first = values(derive(added, SITE, "off"))
    again = values(derive(added, replace(SITE, days_since_addition=60.0, added_before_lb=20.0), "off"))
    assert first["leak_rate_annualizing"] == pytest.approx(10.0)
    assert again["leak_rate_annualizing"] == pytest.approx(60.83, abs=0.01)
    assert again["leak_rate_rolling"] == pytest.approx(15.0)


def test_no_refrigerant_added_is_no_leak_rate() -> None:
    assert "leak_rate_annualizing" not in derive({"refrigerant_added": 0.0}, SITE, "off")


def test_oil_pressure_of_a_machine_that_is_off_says_nothing() -> None:
    found = derive({"oil_pump_pressure": 9.0, "crankcase_pressure": 9.0}, SITE, "off")
    assert found["net_oil"].value is None


_NUMBERS = {i: (entry.low_us, entry.high_us) for i, entry in vocabulary().items() if entry.low_us is not None}


@settings(max_examples=150)
@given(
    readings=st.fixed_dictionaries({}, optional={i: st.floats(low, high) for i, (low, high) in _NUMBERS.items()}),
    name=st.sampled_from(["R22", "R448A", "R744"]),
    state=st.sampled_from(["running", "off"]),
)
def test_no_readings_that_may_be_said_break_a_calculation(readings: dict[str, Value], name: str, state: Any) -> None:
    site = replace(SITE, refrigerant=name, injection_holds_degf=215.0)
    for one in derive(readings, site, state).values():
        assert (one.value is None) == bool(one.reason)


def test_a_lever_that_an_error_would_take_away_still_has_its_value_and_a_band() -> None:
    gas = circuit.dew_degf(8.0, "R449A") + 41.0  # 20 F colder leaves 21 F of superheat, of which 20 must stay
    found = derive(RUNNING | {"suction_temperature": gas}, SITE, "running")["what_if_colder_return"]
    assert sum(_band(found)) > 0.0


def test_the_split_does_not_jump_when_the_machines_gauge_passes_the_headers():
    """A machine far over its header has something shut before it: then the header counts, and it comes to that gradually."""
    splits = [_split_at(head, 200.0) for head in range(190, 261)]
    assert max(abs(b - a) for a, b in itertools.pairwise(splits)) < 1.0
    assert splits[-1] == _split_at(200.0, 200.0)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_gives_a_reason_and_no_value(bad: float) -> None:
    numbers = RUNNING | {
        "rack_suction_pressure": 10.0, "rack_discharge_pressure": 220.0, "liquid_out_temperature": 90.0,
        "idle_condenser_pressure": 180.0, "oil_pump_pressure": 40.0, "crankcase_pressure": 9.0, "reservoir_pressure": 20.0,
        "crankcase_temperature": 90.0,
        "line_volts.ab": 460.0, "line_volts.bc": 458.0, "line_volts.ca": 461.0, "probe_pipe_temperature": 90.0, "probe_ohms": 8e4,
    }  # fmt: skip
    assert len(derive(numbers, SITE, "running")) > 25
    for reading in numbers:
        for one in derive(numbers | {reading: bad}, SITE, "running").values():
            ends = [x for x in (one.value, one.low, one.high) if x is not None]
            assert all(math.isfinite(end) for end in ends), (reading, one)


def test_no_band_of_a_share_reaches_below_none_or_over_the_whole() -> None:
    for liquid_degf in (84.0, 88.0, 90.0, 92.0):
        for one in derive(RUNNING | {"liquid_temperature": liquid_degf}, SITE, "running").values():
            if one.kind == "percent" and one.value is not None and one.low is not None:
                assert 0.0 <= one.low <= one.value, one


def _split_at(head_psig: float, header_psig: float) -> float:
    heads = {"discharge_pressure": float(head_psig), "rack_discharge_pressure": header_psig, "ambient_temperature": 85.0}
    return values(derive(RUNNING | heads, SITE, "running"))["condensing_difference"]
