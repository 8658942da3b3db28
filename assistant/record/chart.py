"""A plain chart as inline SVG: axes, lines, measured points with their error, bands and limits."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from math import log

INK, FAINT, LIMIT, BAND = "var(--ink)", "var(--faint)", "var(--limit)", "var(--band)"
"""Colours of the page, light or dark."""
_LEFT, _RIGHT, _TOP, _BOTTOM = 62, 132, 12, 34

Point = tuple[float, float]


@dataclass
class Chart:
    """One pair of axes. Things are drawn in the order they are added; positions are in the axes' own units."""

    title: str
    """What it shows: read aloud by a screen reader."""
    x: tuple[float, float]
    y: tuple[float, float]
    x_name: str
    y_name: str
    width: int = 760
    height: int = 250
    log_y: bool = False
    parts: list[str] = field(default_factory=list)
    _names: list[tuple[float, float, str, str]] = field(default_factory=list)

    def at(self, x: float, y: float) -> Point:
        """Place on the page."""
        (x0, x1), (y0, y1) = self.x, self.y
        if self.log_y:
            y, y0, y1 = log(y), log(y0), log(y1)
        across = _LEFT + (x - x0) / (x1 - x0) * (self.width - _LEFT - _RIGHT)
        return across, self.height - _BOTTOM - (y - y0) / (y1 - y0) * (self.height - _TOP - _BOTTOM)

    def x_ticks(self, ticks: Sequence[tuple[float, str]]) -> None:
        for value, label in ticks:
            x, y = self.at(value, self.y[0])
            self._text(x, y + 16, label, "middle")
            self.parts.append(f'<path d="M{x:.1f} {y:.1f}v4" stroke="{INK}"/>')

    def y_ticks(self, ticks: Sequence[tuple[float, str]]) -> None:
        for value, label in ticks:
            x, y = self.at(self.x[0], value)
            self.parts.append(f'<path d="M{x:.1f} {y:.1f}H{self.width - _RIGHT}" stroke="{FAINT}"/>')
            self._text(x - 6, y + 4, label, "end")

    def line(self, points: Sequence[Point], dashes: str = "", width: float = 1.6, ink: str = INK) -> None:
        path = " ".join("{:.1f},{:.1f}".format(*self.at(*point)) for point in points)
        self.parts.append(
            f'<polyline points="{path}" fill="none" stroke="{ink}" stroke-width="{width}" stroke-dasharray="{dashes}"/>'
        )

    def measured(self, points: Sequence[Point], error: float = 0.0) -> None:
        """Points that were read, with how far each may be off in y."""
        for x, y in points:
            (across, down), low, high = self.at(x, y), self.at(x, y - error)[1], self.at(x, y + error)[1]
            if error:
                self.parts.append(f'<path d="M{across:.1f} {low:.1f}V{high:.1f}" stroke="{INK}" stroke-width="1.2"/>')
            self.parts.append(f'<circle cx="{across:.1f}" cy="{down:.1f}" r="3.2" fill="{INK}"/>')

    def band(self, low: float, high: float) -> None:
        """A range of y in which a value should lie."""
        (x0, y0), (x1, y1) = self.at(self.x[0], low), self.at(self.x[1], high)
        self.parts.insert(
            0, f'<rect x="{x0:.1f}" y="{y1:.1f}" width="{x1 - x0:.1f}" height="{y0 - y1:.1f}" fill="{BAND}"/>'
        )

    def limit(self, value: float, name: str) -> None:
        """A y that must not be passed."""
        self.line([(self.x[0], value), (self.x[1], value)], "7 4", 1.2, LIMIT)
        self.name(self.x[1], value, name, LIMIT)

    def name(self, x: float, y: float, words: str, ink: str = INK) -> None:
        """A name to the right of a place; names that would overlap move down."""
        self._names.append((*self.at(x, y), words, ink))

    def mark(self, x: float, y: float, words: str, dx: float = 7, dy: float = -6) -> None:
        """A name beside a place inside the chart."""
        across, down = self.at(x, y)
        self._text(across + dx, down + dy, words, "start" if dx >= 0 else "end")

    def _text(self, x: float, y: float, words: str, anchor: str, ink: str = INK) -> None:
        self.parts.append(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{ink}">{escape(words)}</text>')

    def svg(self) -> str:
        below = 0.0
        for x, y, words, ink in sorted(self._names, key=lambda one: one[1]):
            below = max(y + 4, below + 15)
            self._text(x + 8, below, words, "start", ink)
        self._names.clear()
        left, bottom, right = _LEFT, self.height - _BOTTOM, self.width - _RIGHT
        frame = f'<path d="M{left} {_TOP}V{bottom}H{right}" fill="none" stroke="{INK}"/>'
        names = (
            f'<text x="{(left + right) / 2:.0f}" y="{self.height - 3}" text-anchor="middle" fill="{INK}">'
            f"{escape(self.x_name)}</text>"
            f'<text x="13" y="{(_TOP + bottom) / 2:.0f}" text-anchor="middle" fill="{INK}" '
            f'transform="rotate(-90 13 {(_TOP + bottom) / 2:.0f})">{escape(self.y_name)}</text>'
        )
        return (
            f'<svg viewBox="0 0 {self.width} {self.height}" role="img" aria-label="{escape(self.title)}" font-size="12.5" '
            f'font-family="Helvetica,Arial,sans-serif">{"".join(self.parts)}{frame}{names}</svg>'
        )


def round_ticks(low: float, high: float, about: int = 5) -> list[tuple[float, str]]:
    """Round values inside a range, with their labels.

    >>> round_ticks(150.0, 250.0)
    [(160.0, '160'), (180.0, '180'), (200.0, '200'), (220.0, '220'), (240.0, '240')]
    """
    rough = (high - low) / about
    step = next(m * 10.0**e for e in range(-3, 7) for m in (1, 2, 5) if m * 10.0**e >= rough)
    first = -(-low // step)
    ticks = [(first + i) * step for i in range(int((high - first * step) / step) + 1)]
    return [(value, f"{value:g}") for value in ticks]
