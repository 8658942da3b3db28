"""The refrigerant's cycle on pressure and enthalpy, from a call's log."""

from dataclasses import dataclass
from math import exp, log

from assistant.language.vocabulary import vocabulary
from assistant.record.chart import LIMIT, Chart, Point, round_ticks
from assistant.record.story import Story
from assistant.trade import refrigerant as fluid
from assistant.trade.units import convert, k_from_degf, pa_from_psig, us_value
from assistant.trade.validity import OutOfRange

KJ_PER_BTU_LB = 2.326
"""kJ/kg in one Btu/lb. Source: exact definition, NIST SP 811 (from memory)."""
_GAUGE_TICKS = {False: (0, 10, 25, 50, 100, 200, 400, 800), True: (0, 0.5, 1, 2, 4, 8, 16, 32)}
_DOME_STEPS = 40


@dataclass(frozen=True)
class _Site:
    """What turns the log's readings into places on the chart."""

    refrigerant: str
    altitude_ft: float
    si: bool

    def pa(self, psig: float) -> float:
        return pa_from_psig(psig, self.altitude_ft)

    def heat(self, enthalpy_j_kg: float) -> float:
        return enthalpy_j_kg / 1000.0 / (1.0 if self.si else KJ_PER_BTU_LB)

    def gas(self, psig: float, degf: float) -> Point:
        return self.heat(fluid.gas(self.pa(psig), k_from_degf(degf), self.refrigerant).enthalpy_j_kg), self.pa(psig)

    def liquid(self, psig: float, degf: float) -> Point:
        return self.heat(fluid.liquid(self.pa(psig), k_from_degf(degf), self.refrigerant).enthalpy_j_kg), self.pa(psig)


def cycle_plot(s: Story) -> str:
    """The machine's cycle; empty text where the two pressures were not read, or lie off the chart.

    Gauge pressures on a scale of absolute ones, so that a step up the page is a ratio.
    """
    suction, discharge = _last(s, "suction_pressure"), _last(s, "discharge_pressure")
    if s.machine is None or suction is None or discharge is None or suction >= discharge:
        return ""
    site = _Site(s.machine.refrigerant, s.machine.altitude_ft, s.si)
    try:
        return _chart(s, site, suction, discharge)
    except OutOfRange:
        return ""


def _last(s: Story, id_: str) -> float | None:
    """The last such reading in its US unit: of this machine while it ran, else of the rack's header."""
    for name in (id_, f"watch.{id_}", f"rack_{id_}"):
        reading = s.last(name)
        value = us_value(reading.value, reading.unit, vocabulary()[name].kind) if reading else None
        if value is not None and not isinstance(value, (bool, str)):
            return float(value)
    return None


def _chart(s: Story, site: _Site, suction: float, discharge: float) -> str:
    low, high = site.pa(suction), site.pa(discharge)
    bubble, dew = _dome(site, low * 0.6, min(high * 1.9, fluid.refrigerant(site.refrigerant).highest_pa))
    corners = _corners(s, site, suction, discharge)
    uncooled, trip = _uncooled(s, site, discharge), _trip(s, site, discharge)
    heats = [x for x, _ in (*bubble, *dew, *(point for _, point in corners), *uncooled, *trip)]
    room = (max(heats) - min(heats)) * 0.06
    unit = "kJ/kg" if site.si else "Btu/lb"
    chart = Chart(
        f"Cycle of {site.refrigerant} on pressure and enthalpy", (min(heats) - room, max(heats) + room),
        (low * 0.6, max(high * 1.6, bubble[-1][1])), f"enthalpy, {unit} ({site.refrigerant})",
        "pressure, " + ("barg" if site.si else "psig"), height=330, log_y=True,
    )  # fmt: skip
    chart.x_ticks(round_ticks(*chart.x, 7))
    gauges = [(site.pa(convert(g, "barg", "psig") if site.si else g), f"{g:g}") for g in _GAUGE_TICKS[site.si]]
    chart.y_ticks([(pa, label) for pa, label in gauges if chart.y[0] <= pa <= chart.y[1]])
    chart.line(bubble, ink="var(--curve)", width=1.2)
    chart.line(dew, ink="var(--curve)", width=1.2)
    if uncooled:
        chart.line(uncooled, width=7, ink="var(--wide)")
        chart.mark(*uncooled[0], "without injection", dx=0, dy=20)
    for heat, pa in trip:
        chart.line([(heat, pa * 0.92), (heat, pa * 1.08)], width=2.4, ink=LIMIT)
        chart.mark(heat, pa * 1.08, "trip", dx=3, dy=-5)
    for words, point in corners:
        chart.measured([point])
        chart.mark(*point, words, dx=-7)
    chart.name(chart.x[1], high, f"head {_gauge(discharge, site)}")
    chart.name(chart.x[1], low, f"suction {_gauge(suction, site)}")
    chart.line([(chart.x[0], high), (chart.x[1], high)], "2 4", 0.9)
    chart.line([(chart.x[0], low), (chart.x[1], low)], "2 4", 0.9)
    places = dict(corners)
    if {"suction gas", "discharge line"} <= set(places):
        chart.line([places["suction gas"], places["discharge line"]])
    if "liquid" in places:
        heat, pa = places["liquid"]
        chart.line([(heat, pa), (heat, low)])
    return chart.svg()


def _dome(site: _Site, low: float, high: float) -> tuple[list[Point], list[Point]]:
    """Bubble and dew line between two absolute pressures."""
    low = max(low, fluid.refrigerant(site.refrigerant).lowest_pa)
    steps = [exp(log(low) + (log(high) - log(low)) * i / _DOME_STEPS) for i in range(_DOME_STEPS)] + [high]
    name = site.refrigerant
    return (
        [(site.heat(fluid.boiling_liquid(pa, name).enthalpy_j_kg), pa) for pa in steps],
        [(site.heat(fluid.saturated_vapour(pa, name).enthalpy_j_kg), pa) for pa in steps],
    )


def _corners(s: Story, site: _Site, suction: float, discharge: float) -> list[tuple[str, Point]]:
    """What was measured, where it lies on the chart; a reading that is not what it should be is left out."""
    found = []
    for words, place, psig, degf in (
        ("suction gas", site.gas, suction, _last(s, "suction_temperature")),
        ("discharge line", site.gas, discharge, _last(s, "discharge_temperature")),
        ("liquid", site.liquid, _last(s, "liquid_pressure") or discharge, _last(s, "liquid_temperature")),
    ):
        if degf is not None:
            try:
                found.append((words, place(psig, degf)))
            except OutOfRange:
                continue
    return found


def _uncooled(s: Story, site: _Site, discharge: float) -> list[Point]:
    """Where the discharge would end without injection: both ends of the band, or nothing."""
    low, high = s.derived.get("discharge_band_low"), s.derived.get("discharge_band_high")
    if low is None or high is None:
        return []
    return [site.gas(discharge, low.value), site.gas(discharge, high.value)]


def _trip(s: Story, site: _Site, discharge: float) -> list[Point]:
    """Gas at the head's pressure as hot as the trip; nothing where that would be wet."""
    try:
        return [site.gas(discharge, s.machine.trip_degf)] if s.machine else []
    except OutOfRange:
        return []


def _gauge(psig: float, site: _Site) -> str:
    return f"{convert(psig, 'psig', 'barg') if site.si else psig:.3g}"
