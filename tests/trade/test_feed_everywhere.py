"""The liquid feed answers at every pressure of every chart, from cold liquid to liquid that boils in the receiver."""

import math

import pytest

from assistant.trade import refrigerant as fluid
from assistant.trade.circuit import bubble_degf
from assistant.trade.liquid_feed import Losses, liquid_feed
from assistant.trade.refrigerant import REFRIGERANTS, refrigerant
from assistant.trade.units import psig_from_pa
from assistant.trade.validity import OutOfRange

DISTANCES_DELTA_DEGF = (-20.0, -5.0, -1.0, -0.4, -0.1, -0.01, 0.0, 0.1, 1.0, 6.0)
"""From the bubble point at the receiver."""
LOSSES = (Losses(), Losses(lift_ft=10.0), Losses(lift_ft=12.0, drier_delta_psi=8.0, line_delta_psi=3.0), Losses(lift_ft=-10.0))


def _pressures_psig(name: str) -> list[float]:
    """From 60 psig, or where the chart begins with room for the losses, to its end."""
    lowest, highest = (psig_from_pa(end) for end in (refrigerant(name).lowest_pa, refrigerant(name).highest_pa))
    return [*(float(p) for p in range(max(60, int(lowest) + 30), int(highest) - 1, 20)), highest - 0.5]


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_the_liquid_feed_has_an_answer_wherever_the_chart_goes(name: str):
    for psig in _pressures_psig(name):
        for distance in DISTANCES_DELTA_DEGF:
            degf = bubble_degf(psig, name) + distance
            for losses in LOSSES if degf >= -60.0 else ():
                feed = liquid_feed(psig, degf, losses, name)
                assert 0.0 <= feed.vapour_mass_fraction <= feed.vapour_volume_fraction < 1.0
                assert feed.vapour_mass_fraction == 0.0 or feed.flash_margin_delta_degf < 0.0
                if feed.flash_margin_delta_degf < -1.0 and distance < -1.0:  # what boils on the way
                    assert feed.vapour_mass_fraction > 0.0


def test_a_blend_between_its_lines_where_the_flash_fails_has_the_vapour_of_its_neighbors():
    name, losses = "R407F", Losses(lift_ft=10.0, drier_delta_psi=6.0)
    # 327 to 427 psig fail in CoolProp 8 at a small quality; either side answers.
    shares = [liquid_feed(p, bubble_degf(p, name) - 1.0, losses, name).vapour_mass_fraction for p in (320.0, 360.0, 400.0, 440.0)]
    assert shares == sorted(shares, reverse=True)
    assert liquid_feed(360.0, 123.0, losses, name).vapour_mass_fraction == pytest.approx(sum(shares[:3]) / 3, abs=0.05)


@pytest.mark.parametrize("name", ["R22", "R407A", "R407F", "R448A", "R290"])
def test_the_line_between_two_pressures_is_within_three_percent_of_the_flash(name: str):
    """Where the flash answers at both pressures and between them; the line is what stands in where it does not."""
    for psig in (150.0, 200.0, 250.0):
        at_pa = fluid.bubble_pa(fluid.bubble_k(psig * 6894.757 + 101325.0, name), name)
        boiling_j = fluid.boiling_liquid(at_pa, name).enthalpy_j_kg
        for quality in (0.02, 0.1, 0.3):
            line, flash = fluid._between(at_pa, quality, name), fluid._flashed(at_pa, quality, name)
            assert line.vapour_mass_fraction == pytest.approx(flash.vapour_mass_fraction, rel=0.03)
            assert line.enthalpy_j_kg - boiling_j == pytest.approx(flash.enthalpy_j_kg - boiling_j, rel=0.03)
            assert line.vapour_density_kg_m3 == pytest.approx(flash.vapour_density_kg_m3, rel=0.03)


@pytest.mark.parametrize("what", ["pressure", "temperature", "lift"])
def test_no_number_is_refused(what: str):
    with pytest.raises(OutOfRange):
        liquid_feed(
            math.nan if what == "pressure" else 200.0, math.nan if what == "temperature" else 90.0,
            Losses(lift_ft=math.nan if what == "lift" else 10.0), "R22",
        )  # fmt: skip
