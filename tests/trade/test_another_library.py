"""Our saturation lines against teqp: the same published parameters, another library and another solver."""

from typing import Any

import pytest

from assistant.trade import refrigerant
from tests.trade.independent_pressures import model, saturation_pa

# Mass percent and molar mass [g/mol] by ASHRAE 34.
MOLAR = {"R32": 52.024, "R125": 120.0214, "R134a": 102.032, "R143a": 84.041}
BLENDS = {
    "R407A": {"R32": 20, "R125": 40, "R134a": 40},
    "R407F": {"R32": 30, "R125": 30, "R134a": 40},
    # Pseudo-pure here, three fluids there: two different published models.
    "R407C": {"R32": 23, "R125": 25, "R134a": 52},
    "R404A": {"R125": 44, "R143a": 52, "R134a": 4},
    "R410A": {"R32": 50, "R125": 50},
    "R507A": {"R125": 50, "R143a": 50},
}
PSEUDO_PURE = {"R407C", "R404A", "R410A", "R507A"}
PURE = {"R22": ("R22", 86.468), "R134a": ("R134a", 102.032), "R290": ("n-Propane", 44.09562), "R744": ("CarbonDioxide", 44.0098)}
"""Its name there and its molar mass [g/mol] by the equation of state."""


@pytest.mark.parametrize("name", sorted(BLENDS))
def test_the_dew_and_bubble_pressures_of_a_blend_agree_with_another_library(name: str) -> None:
    parts = BLENDS[name]
    moles = [percent / MOLAR[part] for part, percent in parts.items()]
    per_kg = 10.0 * sum(moles)
    mixture = model(list(parts))
    for celsius in range(-60, 66, 5):
        for dew in (True, False):
            ours, theirs = _both(mixture, name, celsius + 273.15, [m / sum(moles) for m in moles], per_kg, dew)
            # Pseudo-pure here, three fluids there: two different published models.
            assert ours == pytest.approx(theirs, rel=0.0005 if name in PSEUDO_PURE else 1e-5), (celsius, dew)


@pytest.mark.parametrize("name", sorted(PURE))
def test_the_vapour_pressure_of_a_pure_refrigerant_agrees_with_another_library(name: str) -> None:
    theirs_called, gram_per_mol = PURE[name]
    fluid = model([theirs_called])
    for celsius in range(-55, 30 if name == "R744" else 66, 5):
        ours, theirs = _both(fluid, name, celsius + 273.15, [1.0], 1000.0 / gram_per_mol, True)
        assert ours == pytest.approx(theirs, rel=1e-5), celsius


def _both(
    theirs: Any, name: str, kelvin: float, moles: list[float], mol_per_kg: float, dew: bool
) -> tuple[float, float]:
    """Saturation pressure [Pa] by us and by the other library."""
    pressure = (refrigerant.dew_pa if dew else refrigerant.bubble_pa)(kelvin, name)
    # Only the start of their search: where it ends does not depend on it.
    liquid = refrigerant.boiling_liquid(pressure, name).density_kg_m3 * mol_per_kg
    vapour = refrigerant.saturated_vapour(pressure, name).density_kg_m3 * mol_per_kg
    return pressure, saturation_pa(theirs, kelvin, moles, dew, pressure * 1.001, liquid, vapour)
