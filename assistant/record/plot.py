"""The watch as a picture: inline SVG, from the log alone."""

from datetime import datetime

from assistant.record.story import Story

_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 720, 240, 56, 150, 16, 36
_LINES = (("watch.discharge_temperature", "discharge temperature"), ("watch.suction_pressure", "suction"),
          ("watch.discharge_pressure", "discharge pressure"))  # fmt: skip
_DASHES = ("", "6 3", "2 3")


def _points(s: Story, id_: str) -> list[tuple[datetime, float]]:
    return [(at, float(r.value)) for at, r in s.readings if r.id == id_ and isinstance(r.value, (int, float))]


def watch_plot(s: Story) -> str:
    """The readings of the watch over its minutes; empty text where there was no watch."""
    series = [(name, _points(s, id_)) for id_, name in _LINES]
    series = [(name, points) for name, points in series if points]
    if not series or len(series[0][1]) < 2:
        return ""
    start = min(p[0] for _, points in series for p in points)
    end = max(p[0] for _, points in series for p in points)
    span_s = max(60.0, (end - start).total_seconds())
    top = max(v for _, points in series for _, v in points) * 1.1

    def xy(at: datetime, value: float) -> tuple[float, float]:
        x = _LEFT + (at - start).total_seconds() / span_s * (_WIDTH - _LEFT - _RIGHT)
        return x, _HEIGHT - _BOTTOM - max(0.0, value) / top * (_HEIGHT - _TOP - _BOTTOM)

    out = [f'<svg viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" aria-label="Readings of the watch" font-size="13">']
    for k in range(5):
        value = top * k / 4
        _, y = xy(start, value)
        out.append(f'<path d="M{_LEFT} {y:.0f}H{_WIDTH - _RIGHT}" stroke="#ddd"/>')
        out.append(f'<text x="{_LEFT - 6}" y="{y + 4:.0f}" text-anchor="end">{value:.0f}</text>')
    for index, (_, points) in enumerate(series):
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (xy(*p) for p in points))
        out.append(
            f'<polyline points="{path}" fill="none" stroke="#222" stroke-width="1.6" stroke-dasharray="{_DASHES[index]}"/>'
        )
        out += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y in (xy(*p) for p in points)]
    below = 0.0
    for name, points in sorted(series, key=lambda one: -one[1][-1][1]):
        x, y = xy(*points[-1])
        below = max(y + 4, below + 15)  # one name under the other where two lines end close together
        out.append(f'<text x="{x + 8:.0f}" y="{below:.0f}">{name} {points[-1][1]:g}</text>')
    out.append(f'<text x="{_LEFT}" y="{_HEIGHT - 12}">{start:%H:%M}</text>')
    out.append(f'<text x="{_WIDTH - _RIGHT}" y="{_HEIGHT - 12}" text-anchor="end">{end:%H:%M}</text></svg>')
    return "".join(out)
