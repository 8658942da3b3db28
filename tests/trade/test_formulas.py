"""Formulas that no row of checks.csv covers, against what is known of them elsewhere."""

import pytest

from assistant.trade import electrical
from assistant.trade.circuit import glide_delta_degf
from assistant.trade.units import psi_from_bar


@pytest.mark.parametrize(
    ("refrigerant", "least_k", "most_k"),
    [
        ("R407A", 4, 6), ("R449A", 4, 6), ("R407C", 5, 7), ("R448A", 5, 6), ("R454A", 6, 7), ("R454C", 7, 8),
        ("R455A", 11, 13), ("R404A", 0, 0.8), ("R507A", 0, 0.8), ("R22", 0, 0),
    ],
)  # fmt: skip
@pytest.mark.parametrize("bar_absolute", [2.0, 8.0, 15.0])
def test_a_blend_glides_as_far_as_it_is_known_to(refrigerant: str, least_k: float, most_k: float, bar_absolute: float) -> None:
    # Common practice: glides of these blends from 1.5 to 17 bar, half a kelvin of rounding.
    glide_k = glide_delta_degf(psi_from_bar(bar_absolute - 1.01325), refrigerant) / 1.8
    assert least_k - 0.5 <= glide_k <= most_k + 0.5


def test_a_voltage_unbalance_of_three_and_a_half_percent_heats_the_winding_a_quarter_more() -> None:
    # NEMA MG 1 (from memory): about twice the square of the unbalance.
    assert electrical.extra_rise_percent(3.5) == pytest.approx(25, abs=1)


def test_a_480_volt_supply_is_a_little_over_a_460_volt_nameplate() -> None:
    assert electrical.off_nameplate_percent(480.0, 460.0) == pytest.approx(4.35, abs=0.01)
    assert electrical.off_nameplate_percent(414.0, 460.0) == pytest.approx(-10.0)


def test_a_copper_winding_gains_four_tenths_of_a_percent_a_degree() -> None:
    # Handbook value of copper's temperature coefficient at 20 C: 0.00393 per kelvin.
    assert electrical.winding_hot_ohm(1.0, 20.0, 21.0) - 1.0 == pytest.approx(0.00393, abs=0.00002)
    assert electrical.winding_hot_ohm(electrical.winding_hot_ohm(2.5, 20.0, 90.0), 90.0, 20.0) == pytest.approx(2.5)
