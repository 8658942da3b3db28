"""The watch after the start as pictures, from a call's log."""

from assistant.record.chart import LIMIT, Chart, Point, round_ticks
from assistant.record.story import Story
from assistant.trade.limits import USUAL
from assistant.trade.uncertainty import Instruments
from assistant.trade.units import convert

_ERRORS = Instruments()
"""The log keeps no instrument's sheet: the points carry the usual errors."""


def watch_plots(s: Story) -> str:
    """Discharge line and pressures over the minutes since the start; empty text where there was no watch."""
    line, suction, head = (
        _watched(s, f"watch.{name}") for name in ("discharge_temperature", "suction_pressure", "discharge_pressure")
    )
    if len(line) + len(suction) < 2:
        return ""
    last = max(minutes for minutes, _ in (*line, *suction)) * 1.04
    charts = [_line_chart(s, line, last)] if line else []
    charts += [_pressure_chart(s, suction, head, last)] if suction else []
    return "".join(chart.svg() for chart in charts)


def _watched(s: Story, id_: str) -> list[Point]:
    """Minutes since the start, and the value in the site's unit."""
    began = s.started or s.began
    taken = [(at, r.value) for at, r in s.readings if r.id == id_]
    return [((at - began).total_seconds() / 60, float(v)) for at, v in taken if isinstance(v, (int, float))]


def _temperature(degf: float, si: bool) -> float:
    return convert(degf, "F", "C") if si else degf


def _line_chart(s: Story, line: list[Point], last: float) -> Chart:
    si = s.si
    error = _ERRORS.thermometer_delta_degf / (1.8 if si else 1.0)
    limits = []
    if s.machine:
        trip = s.machine.trip_degf
        limits = [(trip, "trip"), (trip - USUAL.settled_under_trip_delta_degf, "settled under")]
    values = [v for _, v in line] + [_temperature(degf, si) for degf, _ in limits]
    room = (max(values) - min(values)) * 0.12 + error
    chart = Chart(
        "Discharge line after the start", (0.0, last), (min(values) - room, max(values) + room),
        "minutes since the start", "line, " + ("C" if si else "F"),
    )  # fmt: skip
    chart.x_ticks(round_ticks(0.0, last, 8))
    chart.y_ticks(round_ticks(*chart.y))
    for degf, name in limits:
        chart.limit(_temperature(degf, si), f"{name} {_temperature(degf, si):.0f}")
    chart.line(line)
    chart.measured(line, error)
    chart.name(*line[-1], f"line {line[-1][1]:g}")
    return chart


def _pressure_chart(s: Story, suction: list[Point], head: list[Point], last: float) -> Chart:
    si = s.si
    per = convert(1.0, "psi", "bar") if si else 1.0
    error = _ERRORS.gauge_delta_psi * per
    wanted = s.machine.suction_set_point_psig * per if s.machine else None
    values = [v for _, v in suction]
    band = USUAL.suction_band_delta_psi * per
    values += [] if wanted is None else [wanted - 2 * band, wanted + 2 * band]
    room = (max(values) - min(values)) * 0.12 + error
    chart = Chart(
        "Suction after the start", (0.0, last), (min(values) - room, max(values) + room),
        "minutes since the start", "suction, " + ("barg" if si else "psig"), height=210,
    )  # fmt: skip
    chart.x_ticks(round_ticks(0.0, last, 8))
    chart.y_ticks(round_ticks(*chart.y))
    if wanted is not None:
        chart.band(wanted - band, wanted + band)
        chart.name(last, wanted, f"set point {wanted:.3g}", LIMIT)
    chart.line(suction)
    chart.measured(suction, error)
    chart.name(*suction[-1], f"suction {suction[-1][1]:g}")
    for _, value in head[-1:]:
        chart.x_name += f" (discharge pressure at the end {value:g})"
    return chart
