"""Balance of volts, amps and windings, and what unbalance costs a motor."""

from collections.abc import Sequence
from itertools import pairwise

from assistant.trade.validity import OutOfRange, check

VOLTAGE_UNBALANCE_PERCENT = 2.0
"""Trade limit. Common practice over NEMA MG 1 (1 % recommended, over 5 % do not run)."""
CURRENT_UNBALANCE_PERCENT = 10.0
"""Common practice; 6 to 10 times the voltage unbalance at load."""
WINDING_BALANCE_PERCENT = 5.0
"""Common practice. Below `MILLIOHM_OHM` only with a milliohm meter."""
MILLIOHM_OHM = 3.0
"""Under this an ordinary meter cannot tell balance: 0.1 of 0.4 ohm is 25 percent. Common practice."""
POLE_DROP_V = 0.1
"""Volts across a closed pole under load. Common practice."""
COIL_PULL_IN = 0.85
"""A coil under this share of its rating may not pull in. Common practice."""
_DERATING = ((0.0, 1.0), (1.0, 0.99), (2.0, 0.95), (3.0, 0.88), (4.0, 0.82), (5.0, 0.75))


def volts_present(volts: float, rated_v: float | None = None) -> bool | None:
    """Whether a voltage is there; None for what is neither: a ghost voltage or a poor contact, to be measured again.

    Args:
        volts: as measured on the low-impedance setting [V].
        rated_v: what is there when it is there [V]; None where it is not known.

    Returns:
        True from 85 percent of the rating (18 V where none is known); False up to 5 percent or 3 V. Common practice.

    >>> volts_present(206.0, 208.0), volts_present(2.0, 208.0), volts_present(60.0, 208.0)
    (True, False, None)
    """
    if volts >= (0.85 * rated_v if rated_v else 18.0):
        return True
    return False if volts <= max(3.0, 0.05 * (rated_v or 0.0)) else None


def unbalance_percent(values: Sequence[float]) -> float:
    """Largest deviation from the average, in percent of the average: NEMA MG 1's form.

    Not (largest - smallest) over average, which reads nearly twice as much.

    Args:
        values: three readings of one kind (volts, amps or ohms), all over zero.

    Raises:
        OutOfRange: not three, or one that is zero or less.

    >>> round(unbalance_percent([460.0, 467.0, 450.0]), 2)
    1.96
    """
    if len(values) != 3:
        raise OutOfRange("Unbalance takes three readings.")
    if min(values) < 0.0 or sum(values) == 0.0:
        raise OutOfRange("Unbalance takes three readings over zero.")
    average = sum(values) / 3.0
    return 100.0 * max(abs(value - average) for value in values) / average


def derating_factor(voltage_unbalance_percent: float) -> float:
    """Share of its rated load a motor may carry on unbalanced volts. No unit.

    Source:
        NEMA MG 1 Figure 14-1 (from memory), linear between whole percents.

    Raises:
        OutOfRange: over 5 percent, where the motor must not run.

    >>> derating_factor(2.5)
    0.915
    """
    check("The voltage unbalance", voltage_unbalance_percent, 0.0, 5.0, "percent")
    for (x0, y0), (x1, y1) in pairwise(_DERATING):
        if voltage_unbalance_percent <= x1:
            return y0 + (y1 - y0) * (voltage_unbalance_percent - x0) / (x1 - x0)
    return _DERATING[-1][1]


def extra_rise_percent(voltage_unbalance_percent: float) -> float:
    """Extra temperature rise of the winding [percent], about twice the unbalance squared (NEMA MG 1)."""
    check("The voltage unbalance", voltage_unbalance_percent, 0.0, 5.0, "percent")
    return 2.0 * voltage_unbalance_percent**2


def off_nameplate_percent(volts: float, nameplate_v: float) -> float:
    """How far a voltage is off its nameplate [percent], signed; 10 either way is allowed (NEMA MG 1)."""
    check("The nameplate voltage", nameplate_v, 1.0, 1000.0, "volts")
    return 100.0 * (volts - nameplate_v) / nameplate_v


def winding_hot_ohm(ohm: float, at_degc: float, wanted_degc: float) -> float:
    """Copper winding's resistance [ohm] at another temperature [degC], -50 to 200.

    Source:
        IEEE 112 (from memory): 234.5.
    """
    for degc in (at_degc, wanted_degc):
        check("The winding temperature", degc, -50.0, 200.0, "degrees Celsius")
    return ohm * (234.5 + wanted_degc) / (234.5 + at_degc)
