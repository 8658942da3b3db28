"""One call as a self-contained HTML page, from its log alone."""

import csv
import re
from datetime import datetime
from functools import cache
from pathlib import Path

import assistant.branches
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import spoken_name
from assistant.record.cycle import cycle_plot
from assistant.record.log import events_file
from assistant.record.pages import written
from assistant.record.plot import watch_plots
from assistant.record.row import NO_CAUSE, Held
from assistant.record.story import GUIDANCE, STANDINGS, Evidence, Finding, Story, cause_of, left_out, said_of, tell
from assistant.record.style import Cell, Html, html, link, page_of, table
from assistant.record.timeline import place, timeline

ORDINALS = ("First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth")
_NONE_SHOWN = ("none shown", "nothing", "none")
_PARTS = (("part_used", "parts used"), ("part_to_order", "parts to order"), ("part_left_in_use", "left in use"))


# ---- the three lines at the top


def ordinal(trip: int) -> str:
    return ORDINALS[trip - 1] if trip <= len(ORDINALS) else f"{trip}th"


def _tripped(s: Story) -> Html:
    """Which protection, the how-manyth trip, and who came."""
    opened, shown = s.last("chain_dead_check"), s.last("protection_shown")
    if opened and str(opened.value) not in _NONE_SHOWN:
        what = f"{opened.value} protection, found open"
    elif shown and str(shown.value) not in _NONE_SHOWN:
        what = f"{shown.value} protection, by what the panel showed"
    else:
        what = "no protection was found open"
    who = f" Technician: {s.technician}." if s.technician else " Nobody gave a name."
    return Html(f"{html(what)}. {html(ordinal(s.trip))} trip of this machine in 90 days.{html(who)}")


def _found(findings: list[Finding]) -> Html:
    """What was found, on what evidence as it stood then."""
    parts = []
    for one in findings:
        if one.concluded.standing not in ("proven", "supported"):
            continue
        later = f" ({one.later})" if one.later else ""
        by = ", ".join(_evidence(e) for e in one.evidence)
        if one.concluded.cause == NO_CAUSE:
            parts.append(f"no cause: {by}")
            continue
        parts.append(f"{html(cause_of(one.concluded))}, {html(STANDINGS[one.concluded.standing] + later)}: {by}")
    return Html("; ".join(parts) + "." if parts else "no cause.")


def _evidence(e: Evidence) -> Html:
    words = spoken_name(e.id) + (f" {e.text}" if e.text != "yes" else "")
    return link("", words, place(e.line)) if e.line else html(words)


def _done(s: Story) -> Html:
    """What was done, what was left, and what is due by law."""
    acts = [f"{words.partition(':')[0]} {at:%H:%M}" for at, words in s.acts] or ["nothing was repaired, reset or started"]
    parts = [html("; ".join(acts))]
    left = [h for h in s.holds if not h.cleared]
    parts.append(html("Left: " + ", ".join(f"{said_of(h.id)} ({h.state})" for h in left)) if left else html("Nothing left"))
    law = [f"{what} by {on:%B} {on.day}, {on.year}" for h in left for what, on in h.legal]
    if law:
        parts.append(Html(f'<span class="over">By law: {html(", ".join(law))}</span>'))
    return Html(". ".join(parts) + ".")


def lead(s: Story, findings: list[Finding]) -> Html:
    """Three lines that decide whether the rest is read."""
    lines = (("Tripped", _tripped(s)), ("Found", _found(findings)), ("Done", _done(s)))
    return Html('<dl class="lead">' + "".join(f"<div><dt>{name}:</dt><dd>{words}</dd></div>" for name, words in lines) + "</dl>")


# ---- the parts below


def _conclusions(findings: list[Finding]) -> Html:
    rows: list[tuple[Cell, ...]] = []
    for one in findings:
        c = one.concluded
        if c.standing == "ruled_out":
            continue
        standing = STANDINGS[c.standing] + (f"; {one.later}" if one.later else "")
        rests = Html("; ".join(f"{html(spoken_name(e.id))}: {_linked(e)}" for e in one.evidence))
        rows.append((link("", cause_of(c), place(one.line)), standing, rests, _what_to_do(one)))
    head = ("cause", "standing", "rests on", "what to do")
    causes = table(rows, head, caption="conclusions") if rows else Html("<p>No cause was found.</p>")
    out = [cause_of(one.concluded) for one in findings if one.concluded.standing == "ruled_out"]
    more = f'<p class="quiet">Ruled out: {html(", ".join(out))}.</p>' if out else ""
    return Html(f"{causes}{more}")


def _linked(e: Evidence) -> Html:
    return link("", e.text, place(e.line)) if e.line else html(e.text)


def _what_to_do(one: Finding) -> Html:
    action = html(one.concluded.action)
    test = proving_tests().get(one.concluded.cause)
    if one.concluded.standing == "proven" or not test:
        return action
    return Html(f'{action} <span class="quiet">Not checked, therefore not proven: {html(test)}.</span>')


@cache
def proving_tests() -> dict[str, str]:
    """What would prove each cause, in words."""
    file = Path(assistant.branches.__file__).with_name("causes.csv")
    with open(file, newline="", encoding="utf-8") as source:
        return {row["id"]: _in_words(row["proving_test"]) for row in csv.DictReader(source)}


def _in_words(test: str) -> str:
    """A proving test with the names of its readings instead of their ids."""
    known = vocabulary()
    return re.sub(r"[a-z]+(?:[_.][a-z_.]*[a-z])", lambda m: spoken_name(m[0]) if m[0] in known else m[0].replace("_", " "), test)


def _holds(s: Story) -> Html:
    rows = [(f"{h.opened:%H:%M:%S}", link("", said_of(h.id), place(h.line)), h.state, _until(h)) for h in s.holds]
    head = ("since", "what", "state", "until")
    return table(rows, head, caption="hooked up, locked, or left") if rows else Html("<p>Nothing was hooked up or left.</p>")


def _until(h: Held) -> str:
    if h.cleared:
        return f"{h.cleared:%H:%M:%S}"
    due = [f"due {h.due:%Y-%m-%d %H:%M}"] if h.due else []
    return "; ".join([*due, *(f"{what} by {on} by law" for what, on in h.legal)])


def _parts(s: Story) -> str:
    rows = [(name, str(reading.value)) for id_, name in _PARTS if (reading := s.last(id_)) and reading.value not in _NONE_SHOWN]
    return f"<h2>Parts</h2>{table(rows, ('', 'what'), caption='Parts')}" if rows else ""


def _list(title: str, rows: list[tuple[datetime, str]]) -> str:
    if not rows:
        return ""
    return f"<h2>{title}</h2>{table([(f'{at:%H:%M:%S}', words) for at, words in rows], ('time', 'what'), caption=title)}"


def page(s: Story, at: Path | None = None) -> str:
    """The whole page as HTML.

    Args:
        s: the call.
        at: where the page will be; kept sound is found from there.
    """
    findings = s.findings()
    open_ = [h for h in s.holds if h.state == "still open"]
    warn = f'<p class="warn">Still open: {html(", ".join(said_of(h.id) for h in open_))}.</p>' if open_ else ""
    minutes = (s.ended - s.began).total_seconds() / 60
    skipped = [(when, left_out(k)) for when, k in s.skipped]
    watch, cycle = watch_plots(s), cycle_plot(s)
    name = f"{s.site}, rack {s.rack or '?'}, compressor {s.compressor or '?'}"
    body = f"""
<h1>{html(name)}</h1>
<p class="quiet">{s.began:%A %Y-%m-%d %H:%M} to {s.ended:%H:%M}, {minutes:.0f} minutes.
The log is {s.state}, {len(s.log.lines)} lines, last hash {s.log.last_hash[:12]}.</p>
{lead(s, findings)}{warn}<p class="quiet">{html(s.summary or "The call is not closed.")}</p>
<h2>Conclusions</h2>{_conclusions(findings)}
<h2>Hooked up, locked, or left</h2>{_holds(s)}
{_parts(s)}
{_list("Repaired, reset, started", s.acts)}
{f"<h2>Watch after the start</h2>{watch}" if watch else ""}
{f"<h2>The cycle</h2>{cycle}" if cycle else ""}
{_list("Looked at", s.looks)}{_list("Skipped", skipped)}{_list("Notes", s.notes)}{_list("Interruptions", s.breaks)}
<h2>Line by line</h2>{timeline(s, at)}"""
    return page_of(f"{s.site} {s.began:%Y-%m-%d}", body, GUIDANCE)


def write_report(call: Path, out: Path | None = None) -> Path:
    """Write the page beside the log, or where it is wanted; whole or not at all.

    Raises:
        LogDamaged: the log is damaged.
        ValueError: something that is no page is there.
        DiskTrouble: the page cannot be written.
    """
    target = out or events_file(call).with_name("report.html")
    return written(target, page(tell(call), target))
