"""What the rounds of the watch after a restart say: slopes, and whether the machine has settled."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.refrigeration.limits import OutOfRange

SETTLED_MINUTES, SUCTION_BAND_DELTA_PSI = 20.0, 2.0
LINE_RISE_DELTA_DEGF, LINE_MINUTES, LINE_UNDER_TRIP_DELTA_DEGF = 3.0, 10.0, 15.0
"""Suction within 2 psi of its set point for 20 min; line changing under 3 F in 10 min and 15 F under its
trip. Common practice."""


@dataclass(frozen=True)
class Round:
    """One round of the watch; None: not taken."""

    minutes: float
    """Since the restart."""
    suction_psig: float | None = None
    discharge_degf: float | None = None


def slope_per_minute(points: Sequence[tuple[float, float]]) -> float:
    """Slope of a series of (minutes, value), by least squares: value's unit per minute.

    Raises:
        OutOfRange: fewer than two moments.

    >>> slope_per_minute([(5.0, 180.0), (10.0, 190.0), (15.0, 200.0)])
    2.0
    """
    if len({minutes for minutes, _ in points}) < 2:
        raise OutOfRange("A slope takes readings at two moments.")
    mean_x = sum(minutes for minutes, _ in points) / len(points)
    mean_y = sum(value for _, value in points) / len(points)
    spread = sum((minutes - mean_x) ** 2 for minutes, _ in points)
    return sum((minutes - mean_x) * (value - mean_y) for minutes, value in points) / spread


def minutes_to_trip(points: Sequence[tuple[float, float]], trip_degf: float) -> float | None:
    """Minutes from the last reading until a rising line would reach its trip; None when it does not rise."""
    slope = slope_per_minute(points)
    return max(0.0, (trip_degf - max(points)[1]) / slope) if slope > 0.0 else None


def not_settled(
    rounds: Sequence[Round], set_point_psig: float, trip_degf: float, fully_loaded: bool, injection_seen: bool
) -> tuple[str, ...]:
    """Why the machine has not settled, as spoken sentences; empty when it has.

    Judged only from rounds that cover the times: a gap is a reason, never a pass.
    """
    reasons = []
    last = max((one.minutes for one in rounds), default=0.0)
    suction = [(one.minutes, one.suction_psig) for one in rounds if one.suction_psig is not None]
    within = [m for m, psig in suction if abs(psig - set_point_psig) <= SUCTION_BAND_DELTA_PSI]
    outside = [m for m, psig in suction if abs(psig - set_point_psig) > SUCTION_BAND_DELTA_PSI]
    held = [m for m in within if m > max(outside, default=-1.0)]
    if not held or max(held) < last or last - min(held) < SETTLED_MINUTES:
        reasons.append("Suction has not been at its set point for 20 minutes.")
    line = sorted((one.minutes, one.discharge_degf) for one in rounds if one.discharge_degf is not None)
    before = [degf for m, degf in line if last - m >= LINE_MINUTES]
    now = line[-1][1] if line and line[-1][0] == last else None
    if now is None or not before or abs(now - before[-1]) >= LINE_RISE_DELTA_DEGF:
        reasons.append("The discharge line has not held for 10 minutes.")
    if now is None or now > trip_degf - LINE_UNDER_TRIP_DELTA_DEGF:
        reasons.append("The discharge line is not 15 degrees under its trip.")
    if not fully_loaded:
        reasons.append("The machine has not run fully loaded.")
    if not injection_seen:
        reasons.append("The injection has not been seen to open.")
    return tuple(reasons)
