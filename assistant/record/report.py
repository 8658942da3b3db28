"""One call as a self-contained HTML page, from its log alone."""

from collections.abc import Sequence
from datetime import datetime
from html import escape
from pathlib import Path

from assistant.language.wording import spoken_name
from assistant.record.cycle import cycle_plot
from assistant.record.log import events_file
from assistant.record.pages import written
from assistant.record.plot import watch_plots
from assistant.record.story import GUIDANCE, STANDINGS, Story, cause_of, derived_of, tell, value_of

STYLE = """
body{font:16px/1.5 Georgia,serif;max-width:58rem;margin:2rem auto;padding:0 1.2rem;color:#222;background:#fdfcf9}
h1{font-size:1.6rem;margin:0 0 .2rem}h2{font-size:1.1rem;margin:2rem 0 .4rem;border-bottom:1px solid #bbb}
table{border-collapse:collapse;width:100%;font-size:.92rem}td,th{text-align:left;padding:.25rem .6rem .25rem 0;vertical-align:top}
tr+tr td{border-top:1px solid #e4e1d8}.lead{font-size:1.15rem;margin:.8rem 0}.quiet{color:#666}
.mark{font-weight:bold}.open{border-left:4px solid #222;padding-left:.6rem}
svg{max-width:100%;height:auto}@media print{body{margin:0}}
"""


def table(rows: Sequence[tuple[str, ...]], head: tuple[str, ...], escaped: bool = False) -> str:
    """A table; its cells are text and are escaped here, unless they are HTML already."""
    top = "".join(f"<th>{escape(h)}</th>" for h in head)
    body = "".join("<tr>" + "".join(f"<td>{c if escaped else escape(c)}</td>" for c in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _clock(at: datetime | None) -> str:
    return f"{at:%H:%M:%S}" if at else ""


def _conclusions(s: Story) -> str:
    parts = []
    for c in s.best():
        if c.standing == "ruled_out":
            continue
        evidence = []
        for id_ in c.evidence:
            reading, derived = s.last(id_), s.derived.get(id_)
            value = value_of(reading) if reading else derived_of(derived, s.si) if derived else "yes"
            near = " (so near its limit that the instrument's error decides)" if id_ in c.uncertain else ""
            evidence.append(f"{spoken_name(id_)}: {value}{near}")
        parts.append((f"{cause_of(c)}", STANDINGS[c.standing], "; ".join(evidence), c.action))
    ruled_out = ", ".join(cause_of(c) for c in s.best() if c.standing == "ruled_out")
    causes = table(parts, ("cause", "standing", "rests on", "what to do")) if parts else "<p>No cause was found.</p>"
    return causes + (f'<p class="quiet">Ruled out: {escape(ruled_out)}.</p>' if ruled_out else "")


def _holds(s: Story) -> str:
    rows = [
        (_clock(h.opened), h.say, h.state, _clock(h.cleared) or (f"due {h.due:%Y-%m-%d %H:%M}" if h.due else "")) for h in s.holds
    ]
    return table(rows, ("since", "what", "state", "until")) if rows else "<p>Nothing was hooked up or left.</p>"


def _said(words: str) -> str:
    """In quotes, and nothing where nothing was said: a value that the profile gave."""
    return f"“{words}”" if words else ""


def _readings(s: Story) -> str:
    rows = [
        (_clock(at), spoken_name(r.id), value_of(r), _said(r.said), r.confirmed + (", corrected" if r.corrected else ""))
        for at, r in s.readings
    ]
    return table(rows, ("time", "reading", "value", "said", "confirmed"))


def page(s: Story) -> str:
    """The whole page as HTML."""
    open_ = [h for h in s.holds if h.state == "still open"]
    lead = s.summary or "The call is not closed."
    warn = f'<p class="open mark">Still open: {escape(", ".join(h.say for h in open_))}.</p>' if open_ else ""
    derived = [(spoken_name(d.id), derived_of(d, s.si), ", ".join(spoken_name(i) for i in d.source)) for d in s.derived.values()]
    derived += [(spoken_name(i), "not computed", why) for i, why in s.not_computed.items()]
    minutes = (s.ended - s.began).total_seconds() / 60
    skipped = [(at, f"{k.step.replace('_', ' ')}: {k.reason}") for at, k in s.skipped]
    lists = [
        ("Looked at", s.looks), ("Repaired, reset, started", s.acts), ("Cautions acknowledged", s.cautions), ("Skipped", skipped),
        ("Notes", s.notes), ("Interruptions", s.breaks),
    ]  # fmt: skip
    tail = "".join(
        f"<h2>{title}</h2>{table([(_clock(at), words) for at, words in rows], ('time', ''))}" for title, rows in lists if rows
    )
    watch, cycle = watch_plots(s), cycle_plot(s)
    return f"""<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1"><title>{escape(s.site)} {s.began:%Y-%m-%d}</title>
<style>{STYLE}</style></head><body>
<h1>{escape(s.site)}, rack {escape(s.rack or "?")}, compressor {escape(s.compressor or "?")}</h1>
<p class="quiet">{s.began:%A %Y-%m-%d %H:%M} to {s.ended:%H:%M}, {minutes:.0f} minutes.
The log is {s.state}, {len(s.log.lines)} lines, last hash {s.log.last_hash[:12]}.</p>
<p class="lead">{escape(lead)}</p>{warn}
<h2>Conclusions</h2>{_conclusions(s)}
<h2>Hooked up, locked, or left</h2>{_holds(s)}
{f"<h2>Watch after the start</h2>{watch}" if watch else ""}
{f"<h2>The cycle</h2>{cycle}" if cycle else ""}
<h2>Readings</h2>{_readings(s)}
<h2>Worked out</h2>{table(derived, ("value", "", "from"))}
{tail}
<p class="quiet">{GUIDANCE}</p></body></html>"""


def write_report(call: Path, out: Path | None = None) -> Path:
    """Write the page beside the log, or where it is wanted; whole or not at all.

    Raises:
        LogDamaged: the log is damaged.
        DiskTrouble: the page cannot be written.
    """
    return written(out or events_file(call).with_name("report.html"), page(tell(call)))
