"""How far a computed value can be off, from how far its readings can be off."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

GAUGE_DELTA_PSI, THERMOMETER_DELTA_DEGF = 1.0, 2.0
"""A digital gauge and a clamp thermometer in the field. Common practice; the maker's sheet goes first."""


@dataclass(frozen=True)
class Estimate:
    """A value and the band it lies in."""

    value: float
    low: float
    high: float


def estimate(
    compute: Callable[..., float], readings: Mapping[str, float], errors: Mapping[str, float]
) -> Estimate:
    """A value with its band: each reading is moved up and down by its error, the changes added as squares.

    Args:
        compute: takes the readings by name.
        readings: name to value.
        errors: name to the error of that reading, in its own unit, over zero; others count as exact.

    Raises:
        OutOfRange: a reading moved out of the calculation's range.

    Source:
        Root sum of squares of independent errors (JCGM 100, the guide to uncertainty), each side apart.

    >>> estimate(lambda high, low: high / low, {"high": 240.0, "low": 24.0}, {"low": 1.0})
    Estimate(value=10.0, low=9.6, high=10.434782608695652)
    """
    value = compute(**readings)
    up = down = 0.0
    for name, error in errors.items():
        moved = [compute(**{**readings, name: readings[name] + side * error}) - value for side in (-1.0, 1.0)]
        up += max(0.0, *moved) ** 2
        down += min(0.0, *moved) ** 2
    return Estimate(value, value - sqrt(down), value + sqrt(up))
