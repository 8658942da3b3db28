"""The fast calls against CoolProp's own general flash, over the states a rack can be in."""

from itertools import pairwise

import pytest

from assistant.trade import circuit, discharge, refrigerant
from assistant.trade.uncertainty import estimate
from assistant.trade.units import k_from_degf, pa_from_psi, pa_from_psig

LOW = {"R744": 200.0, "R410A": 25.0}
HIGH = {"R744": 700.0, "R134a": 160.0, "R410A": 380.0, "R290": 200.0}


@pytest.mark.parametrize("name", sorted(refrigerant.REFRIGERANTS))
@pytest.mark.parametrize("suction_over", [0.0, 10.0])
@pytest.mark.parametrize("superheat", [5.0, 30.0, 70.0])
def test_the_band_rises_with_superheat_and_head_and_lies_over_the_dew_point(
    name: str, suction_over: float, superheat: float
) -> None:
    low, high = LOW.get(name, 8.0) + suction_over, HIGH.get(name, 230.0)
    gas = circuit.dew_degf(low, name) + superheat
    band = discharge.discharge_band(discharge.Suction(low, gas, high, name))
    warmer = discharge.discharge_band(discharge.Suction(low, gas + 10.0, high, name))
    higher = discharge.discharge_band(discharge.Suction(low, gas, high + 20.0, name))
    assert circuit.dew_degf(high, name) < band.low_degf < band.high_degf
    assert warmer.low_degf > band.low_degf
    assert higher.high_degf > band.high_degf
    efficiency = discharge.implied_efficiency(discharge.Suction(low, gas, high, name), band.high_degf)
    assert efficiency == pytest.approx(0.60, abs=1e-4)


@pytest.mark.parametrize("name", ["R22", "R134a", "R404A", "R290", "R744"])
def test_the_imposed_gas_phase_gives_what_the_general_flash_gives(name: str) -> None:
    from CoolProp.CoolProp import PropsSI

    low, high = LOW.get(name, 8.0), HIGH.get(name, 230.0)
    p1, p2, t1 = pa_from_psig(low), pa_from_psig(high), k_from_degf(circuit.dew_degf(low, name) + 30.0)
    entropy = PropsSI("S", "P", p1, "T", t1, name)
    theirs = PropsSI("T", "P", p2, "S", entropy, name)
    assert refrigerant.gas_at_entropy(p2, entropy, name, 350.0).temperature_k == pytest.approx(
        theirs, abs=1e-4
    )


@pytest.mark.parametrize("name", sorted(refrigerant.REFRIGERANTS))
def test_ten_thousand_states_from_minus_sixty_to_sixty_five_celsius_are_all_computed(name: str) -> None:
    """Saturation -60 to 65 C (carbon dioxide: -55 to 30), superheat 0 to 60 K, with what gas must do: hotter is
    thinner and richer."""
    coldest, hottest = (-55.0, 30.0) if name == "R744" else (-60.0, 65.0)
    for i in range(100):
        dew = coldest + (hottest - coldest) * i / 99 + 273.15
        pressure = refrigerant.dew_pa(dew, name)
        states = [refrigerant.gas(pressure, dew + 1e-6 + 60.0 * k / 99, name) for k in range(100)]
        assert all(a.density_kg_m3 > b.density_kg_m3 for a, b in pairwise(states))
        assert all(a.enthalpy_j_kg < b.enthalpy_j_kg for a, b in pairwise(states))
        assert all(a.entropy_j_kg_k < b.entropy_j_kg_k for a, b in pairwise(states))


@pytest.mark.parametrize("name", sorted(refrigerant.REFRIGERANTS))
def test_the_stored_lines_give_back_what_they_were_solved_with(name: str) -> None:
    entry = refrigerant.REFRIGERANTS[name]
    for i in range(60):
        pressure = entry.lowest_pa * (entry.highest_pa / entry.lowest_pa) ** ((i + 0.5) / 60)
        for quality, line in ((1.0, refrigerant.dew_k), (0.0, refrigerant.bubble_k)):
            assert line(pressure, name) == pytest.approx(refrigerant.flashed_k(pressure, quality, name), abs=1e-4)


@pytest.mark.parametrize("name", sorted(refrigerant.REFRIGERANTS))
def test_a_pressure_found_from_a_temperature_has_that_temperature(name: str) -> None:
    for degf in (-40.0, 10.0, 80.0):
        kelvin = k_from_degf(degf)
        assert refrigerant.dew_k(refrigerant.dew_pa(kelvin, name), name) == pytest.approx(kelvin, abs=1e-4)
        assert refrigerant.bubble_k(refrigerant.bubble_pa(kelvin, name), name) == pytest.approx(
            kelvin, abs=1e-4
        )


def test_liquid_that_flashes_keeps_its_enthalpy() -> None:
    start = refrigerant.liquid(pa_from_psi(205.0), k_from_degf(83.0), "R449A")
    mixed = refrigerant.mixed_at_enthalpy(pa_from_psi(190.0), start.enthalpy_j_kg, "R449A")
    assert mixed.enthalpy_j_kg == pytest.approx(start.enthalpy_j_kg, abs=1.0)
    assert 0.0 < mixed.vapour_mass_fraction < mixed.vapour_volume_fraction < 1.0


def test_two_degrees_and_a_pound_make_a_superheat_uncertain_by_three_and_a_half_degrees() -> None:
    def superheat(psig: float, degf: float) -> float:
        return circuit.superheat_delta_degf(psig, degf, "R449A")

    found = estimate(superheat, {"psig": 8.0, "degf": 5.0}, {"psig": 1.0, "degf": 2.0})
    per_psi = circuit.dew_degf(9.0, "R449A") - circuit.dew_degf(8.0, "R449A")
    assert found.value - found.low == pytest.approx((per_psi**2 + 4.0) ** 0.5, abs=0.05)
    assert found.high - found.value == pytest.approx(found.value - found.low, abs=0.1)
