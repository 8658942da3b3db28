"""Dew and bubble lines, stored.

A flash of a blend takes up to a millisecond, fails in bands of pressure, and needs CoolProp's import of several
seconds. The lines below were solved with it once (`python -m tests.trade.make_lines`) and give its
temperatures back within 0.0001 K; a test holds them against it.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from math import exp, log
from pathlib import Path

from numpy.polynomial.chebyshev import chebval

from assistant.trade.validity import OutOfRange

FILE = Path(__file__).with_name("saturation.toml")


@dataclass(frozen=True)
class Line:
    """One saturation line: 1/T as a Chebyshev series in ln p, where it is nearly straight."""

    lowest_pa: float
    highest_pa: float
    coefficients: tuple[float, ...]
    """Of 1/T [1/K] over ln p [ln Pa], moved to -1 to 1."""

    def temperature_k(self, pressure_pa: float) -> float:
        """Temperature [K] at an absolute pressure [Pa] inside the line; the caller has checked that."""
        low, high = log(self.lowest_pa), log(self.highest_pa)
        return 1.0 / float(chebval((2.0 * log(pressure_pa) - low - high) / (high - low), self.coefficients))

    def pressure_pa(self, temperature_k: float) -> float | None:
        """Pressure [Pa] at a temperature [K], by a secant on the line; None outside it."""
        low, high = log(self.lowest_pa), log(self.highest_pa)
        at_low, at_high = 1.0 / self.temperature_k(self.lowest_pa), 1.0 / self.temperature_k(self.highest_pa)
        wanted = 1.0 / temperature_k
        if not at_high <= wanted <= at_low:
            return None
        guess = low
        for _ in range(40):
            guess = low + (high - low) * (at_low - wanted) / (at_low - at_high)
            at = 1.0 / self.temperature_k(exp(guess))
            if abs(1.0 / at - temperature_k) < 1e-7:
                break
            # The line curves one way: moving one end is enough.
            if at > wanted:
                low, at_low = guess, at
            else:
                high, at_high = guess, at
        return min(max(exp(guess), self.lowest_pa), self.highest_pa)


@dataclass(frozen=True)
class Saturation:
    """Both lines of one refrigerant; a pure one has the same twice."""

    dew: Line
    bubble: Line


@cache
def saturation(name: str) -> Saturation:
    """The stored lines of a refrigerant.

    Raises:
        OutOfRange: not one that is stored.
    """
    stored = _stored()
    if name not in stored:
        raise OutOfRange(f"{name} is not a refrigerant that is computed here.")
    entry = stored[name]
    ends = float(entry["lowest_pa"]), float(entry["highest_pa"])  # type: ignore[arg-type]
    dew, bubble = (Line(*ends, tuple(entry[line])) for line in ("dew", "bubble"))  # type: ignore[arg-type]
    return Saturation(dew, bubble)


@cache
def _stored() -> dict[str, dict[str, object]]:
    with open(FILE, "rb") as file:
        return tomllib.load(file)
