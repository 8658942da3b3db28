"""The discharge probe: its resistance against its temperature, by the maker's curve."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log, sqrt
from typing import Literal

from assistant.trade.limits import USUAL, Limits
from assistant.trade.units import degc_from_degf, degf_from_degc, degf_from_k, k_from_degf
from assistant.trade.validity import OutOfRange, check

ProbeKind = Literal["ntc", "ptc", "rtd"]
COLDEST_DEGF, HOTTEST_DEGF = -80.0, 500.0


@dataclass(frozen=True)
class ProbeCurve:
    """A probe's resistance over its temperature. Give one of beta, Steinhart-Hart, or a table.

    An RTD without a table follows the platinum curve of IEC 60751 from its ohms at 0 C (`r0_ohm`).
    """

    kind: ProbeKind = "ntc"
    r25_ohm: float | None = None
    """Ohms at 25 C (77 F), with `beta_k`."""
    beta_k: float | None = None
    steinhart_hart: tuple[float, float, float] | None = None
    table: tuple[tuple[float, float], ...] = ()
    """Pairs (degF, ohm) in the order of the temperature; ohms only rising or only falling."""
    r0_ohm: float | None = None

    def __post_init__(self) -> None:
        ways = (self.r25_ohm is not None and self.beta_k is not None, self.steinhart_hart is not None,
                len(self.table) >= 2, self.r0_ohm is not None)  # fmt: skip
        if sum(ways) != 1:
            raise ValueError(
                "a probe's curve is one of: r25_ohm with beta_k, steinhart_hart, table, r0_ohm (rtd)"
            )
        if self.r0_ohm is not None and self.kind != "rtd":
            raise ValueError("a probe's curve by r0_ohm is that of a platinum rtd")
        if self.kind != "ntc" and (ways[0] or ways[1]):
            raise ValueError(f"a {self.kind} probe has no beta or Steinhart-Hart curve: give its table")
        if self.table:
            steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(self.table)]
            falls = self.kind == "ntc"
            if any(hotter <= 0.0 or (change >= 0.0 if falls else change <= 0.0) for hotter, change in steps):
                raise ValueError("a probe's table rises in degF, and its ohms fall (ntc) or rise (ptc, rtd)")
            if any(ohm <= 0.0 for _, ohm in self.table):
                raise ValueError("every ohms of a probe's table is over zero")

    def ohm(self, degf: float) -> float:
        """Resistance [ohm] a good probe has at a temperature [degF].

        Raises:
            OutOfRange: outside -80 to 500 degF, or outside the table.
        """
        check("The probe's temperature", degf, COLDEST_DEGF, HOTTEST_DEGF, "degrees")
        if self.table:
            return self._between(degf)
        if self.r0_ohm is not None:
            return _platinum_ohm(degc_from_degf(degf), self.r0_ohm)
        kelvin = k_from_degf(degf)
        if self.steinhart_hart is not None:
            return _steinhart_hart_ohm(kelvin, self.steinhart_hart)
        assert self.r25_ohm is not None
        assert self.beta_k is not None
        return self.r25_ohm * exp(self.beta_k * (1.0 / kelvin - 1.0 / 298.15))

    def degf(self, ohm: float) -> float:
        """Temperature [degF] at which a good probe has this resistance [ohm].

        Lower ohms of an NTC are HOTTER. Outside the curve nothing is guessed.

        Raises:
            OutOfRange: zero ohms or less, or a temperature outside -80 to 500 degF or the table.

        Source:
            beta: IEC 60539-1 (from memory), good within about 50 K of its two points. Steinhart-Hart:
            1/T = A + B ln R + C (ln R)^3. Table: ln R linear in 1/T between points.

        >>> round(ProbeCurve(r25_ohm=100000.0, beta_k=4000.0).degf(5250.0), 1)
        228.1
        """
        check("The resistance", ohm, 1e-3, 1e9, "ohms")
        if self.table:
            return self._at(ohm)
        if self.r0_ohm is not None:
            return degf_from_degc(_platinum_degc(ohm, self.r0_ohm))
        if self.steinhart_hart is not None:
            a, b, c = self.steinhart_hart
            inverse = a + b * log(ohm) + c * log(ohm) ** 3
        else:
            assert self.r25_ohm is not None
            assert self.beta_k is not None
            inverse = 1.0 / 298.15 + log(ohm / self.r25_ohm) / self.beta_k
        found = degf_from_k(1.0 / inverse) if inverse > 0.0 else 1e9
        check("The temperature this resistance stands for", found, COLDEST_DEGF, HOTTEST_DEGF, "degrees")
        return found

    def _between(self, degf: float) -> float:
        for (t0, r0), (t1, r1) in pairwise(self.table):
            if t0 <= degf <= t1:
                share = (1 / k_from_degf(degf) - 1 / k_from_degf(t0)) / (
                    1 / k_from_degf(t1) - 1 / k_from_degf(t0)
                )
                return exp(log(r0) + share * log(r1 / r0))
        raise OutOfRange(f"The probe's table ends before {degf:.4g} degrees.")

    def _at(self, ohm: float) -> float:
        for (t0, r0), (t1, r1) in pairwise(self.table):
            if min(r0, r1) <= ohm <= max(r0, r1):
                share = log(ohm / r0) / log(r1 / r0)
                return degf_from_k(
                    1 / (1 / k_from_degf(t0) + share * (1 / k_from_degf(t1) - 1 / k_from_degf(t0)))
                )
        raise OutOfRange(f"The probe's table ends before {ohm:.4g} ohms.")


_PLATINUM_A, _PLATINUM_B, _PLATINUM_C = 3.9083e-3, -5.775e-7, -4.183e-12
"""IEC 60751 platinum."""


def _platinum_ohm(degc: float, r0_ohm: float) -> float:
    below = _PLATINUM_C * (degc - 100.0) * degc**3 if degc < 0.0 else 0.0
    return r0_ohm * (1.0 + _PLATINUM_A * degc + _PLATINUM_B * degc**2 + below)


def _platinum_degc(ohm: float, r0_ohm: float) -> float:
    inside = _PLATINUM_A**2 - 4.0 * _PLATINUM_B * (1.0 - ohm / r0_ohm)
    if inside < 0.0:
        raise OutOfRange("This resistance is hotter than the platinum curve goes.")
    degc = (-_PLATINUM_A + sqrt(inside)) / (2.0 * _PLATINUM_B)
    for _ in range(20 if degc < 0.0 else 0):
        degc += (ohm - _platinum_ohm(degc, r0_ohm)) / (r0_ohm * _PLATINUM_A)
    check(
        "The temperature this resistance stands for",
        degf_from_degc(degc),
        COLDEST_DEGF,
        HOTTEST_DEGF,
        "degrees",
    )
    return degc


def _steinhart_hart_ohm(kelvin: float, abc: tuple[float, float, float]) -> float:
    """Solve A + B x + C x^3 = 1/T for x = ln R, which only rises."""
    a, b, c = abc
    low, high = log(1e-3), log(1e9)
    for _ in range(100):
        x = (low + high) / 2.0
        low, high = (x, high) if a + b * x + c * x**3 < 1.0 / kelvin else (low, x)
    return exp(low)


def steinhart_hart(points: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """A, B, C of a probe from three (degF, ohm) pairs, by the three linear equations.

    Raises:
        ValueError: not three different points.
    """
    import numpy

    if len({degf for degf, _ in points}) != 3 or len(points) != 3:
        raise ValueError("Steinhart-Hart takes three different points of the probe's table")
    rows = [(1.0, log(ohm), log(ohm) ** 3) for _, ohm in points]
    solved = numpy.linalg.solve(
        numpy.array(rows), numpy.array([1.0 / k_from_degf(degf) for degf, _ in points])
    )
    return float(solved[0]), float(solved[1]), float(solved[2])


def probe_error_delta_degf(curve: ProbeCurve, ohm: float, at_degf: float) -> float:
    """How much hotter a probe reads than the pipe it sits in [F degrees]; negative reads cold.

    Raises:
        OutOfRange: ohms or a temperature off the curve. Then compare ohms: `openness`.

    >>> round(probe_error_delta_degf(ProbeCurve(r25_ohm=100000.0, beta_k=4000.0), 5250.0, 201.0))
    27
    """
    return curve.degf(ohm) - at_degf


def openness(ohm: float, curve_ohm: float, limits: Limits = USUAL) -> Literal["open", "short", "neither"]:
    """Whether a resistance is open or shorted against what the curve gives at that temperature [ohm]."""
    if ohm > limits.probe_open_times * curve_ohm:
        return "open"
    return "short" if ohm * limits.probe_short_times < curve_ohm else "neither"
