"""The numbers of a line, as the monitor reads them: in US units, unsteady ones by both ends."""

from collections.abc import Callable

from assistant.safety.seen import Reading
from assistant.safety.turn import Line, Turn

_TO_US: dict[str, Callable[[float], float]] = {
    "barg": lambda v: v * 14.503774, "bar": lambda v: v * 14.503774, "C": lambda v: v * 1.8 + 32, "kg": lambda v: v / 0.45359237,
}  # fmt: skip


def number(value: object) -> float | None:
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def reading(t: Turn, line: Line) -> Reading:
    """A reading with its number in US units; a difference of temperatures is never one of these units."""
    turn = _TO_US.get(str(line.get("unit")), float)
    us, low, high = (None if (n := number(line.get(k))) is None else turn(n) for k in ("value", "low", "high"))
    return Reading(line["value"], us, low, high, t.now, t.w.epoch)


def worst_volts(line: Line) -> float | None:
    """A reading of absence of voltage by its magnitude, an unsteady one by its worse end; None for a word."""
    if number(line["value"]) is None:
        return None
    ends = [number(line.get(k)) for k in ("value", "low", "high")]
    return max(abs(v) for v in ends if v is not None)
