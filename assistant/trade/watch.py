"""What the rounds of the watch after a restart say: trends, and whether the machine has settled."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt

from assistant.trade.limits import USUAL, Limits
from assistant.trade.validity import OutOfRange

ANSWER_MINUTES = 0.5
"""A round is asked for on the minute and answered a little later: a time that is short by this still counts."""


GAP_MINUTES = 45.0
"""Between two rounds: over a longer one nobody knows how it ran. Judgement."""


@dataclass(frozen=True)
class Round:
    """One round of the watch; None: not taken."""

    minutes: float
    """Since the restart."""
    suction_psig: float | None = None
    discharge_degf: float | None = None


@dataclass(frozen=True)
class Trend:
    """A slope and how far it can be off, in the value's unit per minute."""

    per_minute: float
    error_per_minute: float


def _line(rounds: Sequence[Round]) -> list[tuple[float, float]]:
    return sorted((one.minutes, one.discharge_degf) for one in rounds if one.discharge_degf is not None)


def trend(points: Sequence[tuple[float, float]], error: float = 0.0) -> Trend:
    """Slope of a series of (minutes, value), by least squares, with its standard error.

    Args:
        points: minutes and values.
        error: how far one value can be off beside the next, read with the same instrument, in its unit.

    Raises:
        OutOfRange: fewer than two moments.

    Source:
        Ordinary least squares; the larger of the scatter about the line and the instrument's own error.

    >>> trend([(5.0, 180.0), (10.0, 190.0), (15.0, 200.0)], 0.5)
    Trend(per_minute=2.0, error_per_minute=0.07071067811865475)
    """
    if len({minutes for minutes, _ in points}) < 2:
        raise OutOfRange("A slope takes readings at two moments.")
    mean_x = sum(minutes for minutes, _ in points) / len(points)
    mean_y = sum(value for _, value in points) / len(points)
    spread = sum((minutes - mean_x) ** 2 for minutes, _ in points)
    slope = sum((minutes - mean_x) * (value - mean_y) for minutes, value in points) / spread
    rest = sum((value - mean_y - slope * (minutes - mean_x)) ** 2 for minutes, value in points)
    scatter = sqrt(rest / (len(points) - 2)) if len(points) > 2 else 0.0
    return Trend(slope, max(error, scatter) / sqrt(spread))


def minutes_to_trip(
    rounds: Sequence[Round], trip_degf: float, error_delta_degf: float = 0.5, limits: Limits = USUAL
) -> float | None:
    """Minutes from the last round until the line would reach its trip, going on as between the last two.

    None when it holds, levels off under it, would cross only after the horizon, is still warming up far from its trip, or was
    read twice at one moment.

    Args:
        rounds: those of the watch so far.
        trip_degf: the discharge protection's trip [degF].
        error_delta_degf: how far one line reading can be off beside the next [F degrees].
    """
    line = _line(rounds)
    if len(line) < 2 or line[-1][0] == line[-2][0]:
        return None
    rise = trend(line[-2:], error_delta_degf)
    left = trip_degf - line[-1][1]
    known = len(line) > 2 or left <= limits.near_trip_delta_degf
    rising = rise.per_minute > max(rise.error_per_minute, limits.line_rise_delta_degf / limits.line_minutes)
    if not known or not rising or left > rise.per_minute * limits.horizon_minutes or left > _still_to_rise(line):
        return None
    return max(0.0, left / rise.per_minute)


def _dying_away(line: Sequence[tuple[float, float]]) -> tuple[float, float] | None:
    """Change per minute at the last reading, and the share of it that is lost each minute; None for a line that does
    not level off.

    The change between rounds of a machine that levels off dies away by the same share each minute.
    """
    if len(line) < 3:
        return None
    (a, first), (b, second), (c, third) = line[-3:]
    if not a < b < c:  # two rounds of one moment have no trend
        return None
    before, now = abs(second - first) / (b - a), abs(third - second) / (c - b)
    if not 0.0 < now < before:
        return None
    share = log(before / now) / ((c - a) / 2.0)
    return now * exp(-share * (c - b) / 2.0), share


def _still_to_rise(line: Sequence[tuple[float, float]]) -> float:
    """How much higher the line goes if it levels off as it does; endless where it does not."""
    dying = _dying_away(line)
    return dying[0] / dying[1] if dying else inf


def minutes_to_settle(rounds: Sequence[Round], limits: Limits = USUAL) -> float | None:
    """Minutes from the last round until the line holds, if it goes on to level off as it does.

    Returns:
        None for fewer than three line readings, or a line that does not level off.
    """
    line = _line(rounds)
    wanted = limits.line_rise_delta_degf / limits.line_minutes
    if len(line) > 2 and abs(line[-1][1] - line[-2][1]) <= wanted * (line[-1][0] - line[-2][0]):
        return 0.0
    dying = _dying_away(line)
    return max(0.0, log(dying[0] / wanted) / dying[1]) if dying else None


def not_settled(
    rounds: Sequence[Round], set_point_psig: float, trip_degf: float, fully_loaded: bool, injection_seen: bool,
    limits: Limits = USUAL,
) -> tuple[str, ...]:
    """Why the machine has not settled, as spoken sentences; empty when it has.

    Judged only from rounds that cover the times: a gap is a reason, never a pass.
    """
    rounds = without_a_gap(rounds)
    reasons = [*still_moving(rounds, set_point_psig, limits)]
    last, line = max((one.minutes for one in rounds), default=0.0), _line(rounds)
    now = line[-1][1] if line and line[-1][0] == last else None
    if now is None or now > trip_degf - limits.settled_under_trip_delta_degf:
        reasons.append("The discharge line is too near its trip.")
    if not fully_loaded:
        reasons.append("The machine has not run fully loaded.")
    if not injection_seen:
        reasons.append("The injection has not been seen to open.")
    return tuple(reasons)


def without_a_gap(rounds: Sequence[Round]) -> tuple[Round, ...]:
    """The last rounds that follow each other without a long gap: what was before it says nothing of how it ran since.

    >>> [one.minutes for one in without_a_gap([Round(5.0), Round(480.0), Round(490.0)])]
    [480.0, 490.0]
    """
    kept: list[Round] = []
    for one in sorted(rounds, key=lambda one: one.minutes, reverse=True):
        if kept and kept[-1].minutes - one.minutes > GAP_MINUTES:
            break
        kept.append(one)
    return tuple(reversed(kept))


def still_moving(rounds: Sequence[Round], set_point_psig: float, limits: Limits = USUAL) -> tuple[str, ...]:
    """Those reasons that time alone may take away: suction not yet long enough at its set point, line not steady."""
    reasons: list[str] = []
    rounds = without_a_gap(rounds)
    last = max((one.minutes for one in rounds), default=0.0)
    suction = [(one.minutes, one.suction_psig) for one in rounds if one.suction_psig is not None]
    within = [m for m, psig in suction if abs(psig - set_point_psig) <= limits.suction_band_delta_psi]
    outside = [m for m, psig in suction if abs(psig - set_point_psig) > limits.suction_band_delta_psi]
    held = [m for m in within if m > max(outside, default=-1.0)]
    if not suction:
        reasons.append("No suction was read since the start.")
    elif outside and max(outside) == last:
        reasons.append("Suction is not at its set point.")
    elif not held or max(held) < last or last - min(held) < limits.settled_minutes - ANSWER_MINUTES:
        reasons.append(f"Suction has been at its set point for less than {limits.settled_minutes:g} minutes.")
    line = _line(rounds)
    before = [degf for m, degf in line if last - m >= limits.line_minutes - ANSWER_MINUTES]
    now = line[-1][1] if line and line[-1][0] == last else None
    if now is None or not before or abs(now - before[-1]) >= limits.line_rise_delta_degf:
        reasons.append(f"The discharge line has not held for {limits.line_minutes:g} minutes.")
    return tuple(reasons)
