"""A call's log, readable in the terminal."""

from pathlib import Path

from assistant.language.wording import spoken_name
from assistant.record.story import GUIDANCE, STANDINGS, cause_of, derived_of, left_out, said_of, tell, value_of


def as_text(call: Path) -> str:
    """The call as lines of text.

    Raises:
        LogDamaged: the log is damaged; names the line.
    """
    s = tell(call)
    out = [
        f"{s.site}, rack {s.rack or '?'}, compressor {s.compressor or '?'}",
        f"{s.began:%Y-%m-%d %H:%M} to {s.ended:%H:%M}, {s.state}" + ("; last line torn, left out" if s.log.torn else ""),
        s.summary, "", "CONCLUSIONS",
    ]  # fmt: skip
    for one in s.findings():
        c = one.concluded
        if c.standing != "ruled_out":
            later = f" ({one.later})" if one.later else ""
            out.append(f"  {cause_of(c)}: {STANDINGS[c.standing]}{later}. {c.action}")
            out.append(f"      from {', '.join(f'{spoken_name(e.id)} {e.text}' for e in one.evidence)}")
    ruled_out = [cause_of(c) for c in s.best() if c.standing == "ruled_out"]
    if ruled_out:
        out.append(f"  ruled out: {', '.join(ruled_out)}")
    out += ["", "READINGS"]
    for at, r in s.readings:
        mark = " corrected" if r.corrected else ""
        said = f'"{r.said}" ' if r.said else ""
        out.append(f"  {at:%H:%M:%S}  {spoken_name(r.id):38} {value_of(r):22} {said}{r.confirmed}{mark}")
    out += ["", "WORKED OUT"]
    out += [f"  {spoken_name(d.id):38} {derived_of(d, s.si)}" for d in s.derived.values()]
    out += [f"  {spoken_name(i):38} not computed: {why}" for i, why in s.not_computed.items()]
    out += ["", "HOOKED UP OR LEFT"]
    for h in s.holds:
        due = f", due {h.due:%Y-%m-%d %H:%M}" if h.due else ""
        due += "".join(f"; {what} by {on} (law)" for what, on in h.legal)
        end = f" at {h.cleared:%H:%M:%S}" if h.cleared else ""
        out.append(f"  {h.opened:%H:%M:%S}  {said_of(h.id)}: {h.state}{end}{due}")
    for title, rows in (
        ("LOOKED AT", s.looks), ("REPAIRED, RESET, STARTED", s.acts), ("CAUTIONS ACKNOWLEDGED", s.cautions),
        ("SKIPPED", [(a, left_out(k)) for a, k in s.skipped]),
        ("NOTES", s.notes), ("INTERRUPTIONS", s.breaks),
    ):  # fmt: skip
        if rows:
            out += ["", title, *(f"  {at:%H:%M:%S}  {words}" for at, words in rows)]
    return "\n".join([*out, "", GUIDANCE]).replace(" ,", ",")  # typed words keep their commas apart
