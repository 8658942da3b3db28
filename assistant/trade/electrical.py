"""Balance of volts, amps and windings, and what unbalance costs a motor."""

from collections.abc import Sequence
from itertools import pairwise
from math import inf
from typing import Literal

from assistant.trade.limits import USUAL, Limits
from assistant.trade.validity import OutOfRange, check

_DERATING = ((0.0, 1.0), (1.0, 0.99), (2.0, 0.95), (3.0, 0.88), (4.0, 0.82), (5.0, 0.75))


def volts_present(volts: float, rated_v: float | None = None, limits: Limits = USUAL) -> bool | None:
    """Whether a voltage is there; None for what is neither: a ghost voltage or a poor contact, to be measured again.

    Args:
        volts: as measured on the low-impedance setting [V].
        rated_v: what is there when it is there [V]; None where it is not known.

    Returns:
        True from where a coil pulls in (by volts where no rating is known); False up to where none is there.

    >>> volts_present(206.0, 208.0), volts_present(2.0, 208.0), volts_present(60.0, 208.0)
    (True, False, None)
    """
    if volts >= (limits.coil_pull_in_percent * rated_v / 100.0 if rated_v else limits.volts_present_v):
        return True
    return False if volts <= max(limits.volts_absent_v, limits.volts_absent_percent * (rated_v or 0.0) / 100.0) else None


def coil(ohm: float, good_ohm: float | None, limits: Limits = USUAL) -> Literal["open", "short", "good", "neither"]:
    """What a coil's resistance says, read dead with one wire lifted.

    Args:
        ohm: as read [ohm]; infinite for over range.
        good_ohm: its good value, or a like coil's [ohm]; None where nobody knows: then nothing is good.

    >>> coil(150.0, 400.0), coil(410.0, 400.0), coil(300.0, 400.0), coil(2.0, None)
    ('short', 'good', 'neither', 'short')
    """
    if ohm == inf:
        return "open"
    if good_ohm is None:
        return "short" if ohm < limits.coil_low_ohm else "neither"
    if abs(ohm - good_ohm) <= limits.coil_spread_percent * good_ohm / 100.0:
        return "good"
    return "short" if ohm < limits.coil_short_percent * good_ohm / 100.0 else "neither"


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
