"""How far a computed value can be off, from how far its readings can be off."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from assistant.trade.validity import OutOfRange


@dataclass(frozen=True)
class Instruments:
    """How far the technician's instruments can be off.

    Defaults: digital gauge, clamp thermometer, hand meter, scale and eye in the field. Common practice; the maker's
    sheet goes first, in the profile.
    """

    gauge_delta_psi: float = 1.0
    thermometer_delta_degf: float = 2.0
    difference_delta_degf: float = 0.5
    """Between two places with one thermometer: what it is off by falls out."""
    volts_percent: float = 1.0
    ohms_percent: float = 1.0
    amps_percent: float = 2.0
    beside_percent: float = 0.3
    """Of one leg beside another, read with one meter: what it is off by falls out."""
    scale_lb: float = 0.1
    level_percent: float = 2.0
    ohm_step: float = 0.1
    """Last digit of the ohmmeter on its lowest range [ohm]: a difference within it is none."""
    meter_top_ohm: float = 2_000_000.0
    """Top range of the ohmmeter: over range says nothing of a probe that reads higher."""

    def error(self, kind: str, value: float, beside: bool = False) -> float:
        """Error of one reading, in its own US unit; 0 for what is counted or chosen.

        Args:
            kind: a kind of the vocabulary.
            value: the reading in psig, degF, V, ohm, A, lb, percent.
            beside: it is one of the legs that are only compared with each other.
        """
        if beside:
            return abs(value) * self.beside_percent / 100.0
        match kind:
            case "pressure":
                return self.gauge_delta_psi
            case "temperature":
                return self.thermometer_delta_degf
            case "difference":
                return self.difference_delta_degf
            case "volts":
                return abs(value) * self.volts_percent / 100.0
            case "ohms" | "megohms":
                return abs(value) * self.ohms_percent / 100.0
            case "amps":
                return abs(value) * self.amps_percent / 100.0
            case "mass":
                return self.scale_lb
            case "percent":
                return self.level_percent
        return 0.0


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

    Where a moved reading is outside the calculation's range, the move the other way stands for both.

    Args:
        compute: takes the readings by name.
        readings: name to value.
        errors: name to the error of that reading, in its own unit, over zero; others count as exact.

    Raises:
        OutOfRange: the readings themselves are out of the calculation's range.

    Source:
        Root sum of squares of independent errors (JCGM 100, the guide to uncertainty), each side apart.

    >>> estimate(lambda high, low: high / low, {"high": 240.0, "low": 24.0}, {"low": 1.0})
    Estimate(value=10.0, low=9.6, high=10.434782608695652)
    """
    value = compute(**readings)
    up = down = 0.0
    for name, error in errors.items():
        moved = []
        for side in (-1.0, 1.0):
            try:
                moved.append(compute(**{**readings, name: readings[name] + side * error}) - value)
            except OutOfRange:
                continue
        moved += [-moved[0]] if len(moved) == 1 else []
        up += max(0.0, *moved) ** 2 if moved else 0.0
        down += min(0.0, *moved) ** 2 if moved else 0.0
    return Estimate(value, value - sqrt(down), value + sqrt(up))
