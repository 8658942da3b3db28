"""The procedure drawn: every step in its order, when it is asked, and what stays open from where to where."""

from collections.abc import Mapping, Sequence
from html import escape

from assistant.branches.steps import Procedure, Step

_ROW, _LANE, _TOP, _WIDTH = 34, 17, 190, 1180
_ACTS = {"hands_in": "hands in: dead", "live": "live", "power_on": "power on", "power_off": "power off",
         "unlock": "lock off", "start": "start", "stop": "stop"}  # fmt: skip
_STYLE = "body{margin:2rem;background:#fdfcf9;color:#222;font:15px Georgia,serif}svg{font:12.5px Helvetica,Arial,sans-serif}"


def drawing(procedure: Procedure) -> str:
    """One self-contained HTML page.

    A column stands for something left unsafe or temporary; its bar runs from the first step that opens it to the last
    that clears it or hands it over. A step is one row: what is asked, and under it when, and what comes before it.

    Args:
        procedure: its steps, in the order of the run.
    """
    steps = procedure.steps
    titles = {"proof": "Before hands go in, and again whenever the proof has ended", "live gate": "Before the first live step",
              "lock gate": "Before a lock that stops more than one machine",
              "reset gate": "Before a reset that needs the supervisor",
              "return": "Asked anew after an interruption"}  # fmt: skip
    parts = [(title, [s for s in steps if s.part == part]) for part, title in titles.items()]
    parts.append(("The run", [s for s in steps if not s.inserted]))
    names = {id_: rule.say for id_, rule in procedure.obligations.items()}
    body = "".join(f"<h2>{title}</h2>{_svg(part, names)}" for title, part in parts if part)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>The procedure</title><style>{_STYLE}</style>'
        f"</head><body><h1>The procedure</h1><p>{len(steps)} steps. A step is asked when everything in its second line "
        f"holds; '!' means not.</p>{body}</body></html>"
    )


def _svg(steps: Sequence[Step], names: Mapping[str, str]) -> str:
    lanes = [o for o in names if any(o in (*s.opens, *s.clears) for s in steps)]
    left = 30 + _LANE * len(lanes)
    top = _TOP if lanes else 20
    height = top + _ROW * len(steps) + 20
    out = [f'<svg viewBox="0 0 {_WIDTH} {height}" width="{_WIDTH}" role="img" aria-label="Steps in their order">']
    for i, id_ in enumerate(lanes):
        out.append(_lane(steps, id_, names[id_], 20 + _LANE * i, top))
    station = ""
    for row, step in enumerate(steps):
        y = top + _ROW * row
        if step.station != station:
            station = step.station
            out.append(f'<path d="M{left} {y - 15}H{_WIDTH}" stroke="#bbb"/>')
            out.append(f'<text x="{_WIDTH - 6}" y="{y - 2}" text-anchor="end" font-weight="bold">{escape(station)}</text>')
        out.append(_step(step, left, y))
    return "".join([*out, "</svg>"])


def _lane(steps: Sequence[Step], id_: str, name: str, x: int, top: int) -> str:
    """One obligation: its name, and a bar from where it opens to where it ends."""
    rows = [i for i, s in enumerate(steps) if id_ in s.opens] + [
        i for i, s in enumerate(steps) if id_ in s.clears
    ]
    first, last = top + _ROW * min(rows), top + _ROW * max(rows)
    marks = "".join(
        f'<circle cx="{x}" cy="{top + _ROW * i - 4}" r="4" fill="{"#222" if id_ in s.opens else "#fff"}" stroke="#222"/>'
        for i, s in enumerate(steps)
        if id_ in (*s.opens, *s.clears)
    )
    return (
        f'<text x="{x}" y="{top - 24}" transform="rotate(-58 {x} {top - 24})">{escape(name)}</text>'
        f'<path d="M{x} {first - 4}V{last - 4}" stroke="#cdbf9d" stroke-width="7"/>{marks}'
    )


def _step(step: Step, x: int, y: int) -> str:
    act = _ACTS.get(step.act, "")
    asked = f"{act}: {step.ask}" if act else step.ask
    asked = asked if len(asked) < 118 else asked[:115] + "..."
    notes = [", ".join(step.when)] if step.when else []
    notes += ["caution: " + ", ".join(c.replace("_", " ") for c in step.cautions)] if step.cautions else []
    notes += ["cannot be skipped"] if step.required else []
    notes += ["also when closing early"] if step.safe else []
    weight = ' font-weight="bold"' if step.act in ("live", "power_on", "unlock", "start") else ""
    return (
        f'<text x="{x + 8}" y="{y}"{weight}><tspan fill="#777">{escape(step.id)}</tspan> {escape(asked)}</text>'
        f'<text x="{x + 22}" y="{y + 13}" fill="#8a7d5f" font-size="11">{escape("; ".join(notes))}</text>'
    )
