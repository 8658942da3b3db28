"""What the call says, and which words of the site it listens for."""

from collections.abc import Mapping
from datetime import timedelta

from assistant.dialogue import events as e
from assistant.dialogue.findings import found, settled
from assistant.dialogue.obligations import OBLIGATIONS
from assistant.dialogue.state import DEAD_LIMIT_V, State
from assistant.language.meaning import Part, Value
from assistant.language.numbers import spoken_number
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import cautions, sentence, spoken_cause, spoken_value
from assistant.procedures.steps import Step
from assistant.profile import Site

GUIDANCE = "Guidance only. The maker's instructions, local codes and licensed practice come first."
HELP = (
    "Answer, or say: say again, go back, correction and a name, skip this, why, where am I, make a note, hold on, "
    "read back, finish job, emergency."
)

SECOND_SOURCE_V = 30.0
"""Over this a second source is looked for. Common practice."""
HOT_PIPE_DEGF = 130.0


def opening(site: Site, fact: e.CallOpened) -> str:
    trips = len(fact.days_since_trip)
    known = f" {trips} earlier calls here in ninety days." if trips else ""
    return f"{GUIDANCE} {site.name}.{known}"


def caution(name: str, full: bool) -> str:
    words = cautions()[name]
    return f"{words['short']} {words['full']}" if full else words["short"]


def emergency(site: Site) -> str:
    """Key phrases in the order they matter, with no question first."""
    return (
        "Hands off. Power off only at the disconnect, if safe. Out, upwind. "
        f"Call emergency services, {site.emergency_number}: the address is {site.street_address}. "
        f"Roof: {site.roof_access}. Main disconnect: {site.main_disconnect}. "
        f"Ventilation: {site.ventilation_switch}. Eyewash: {site.eyewash}."
    )


def minutes(wait: timedelta) -> str:
    total = max(1, round(wait.total_seconds() / 60))
    return "one minute" if total == 1 else f"{spoken_number(float(total), 'minutes')} minutes"


def prompt(step: Step, s: State) -> str:
    """The step's words with the site's filled in."""
    rack = s.rack
    words: dict[str, str] = {"summary": summary(s), "minutes": "", "hot": "", "finding": "", "left": "",
                             "store_words": _store_words(s)}  # fmt: skip
    if rack:
        words |= {
            "rack": rack.id.upper(), "refrigerant": _spell(rack.refrigerant), "block": rack.panel.ways_to_block_start,
            "plug": "jumper" if rack.probe.test_plug == "jumper" else "resistor",
            "strips": ", ".join(_strip(c.strip) for c in rack.panel.contacts),
        }  # fmt: skip
        words |= {f"strip_{c.name.split()[0]}": _strip(c.strip) for c in rack.panel.contacts}
    if step.watch_round:
        at = s.site.watch_minutes[min(step.watch_round, len(s.site.watch_minutes)) - 1]
        words["minutes"] = spoken_number(float(at), "minutes")
    if (s.number("probe_pipe_temperature") or 0) > HOT_PIPE_DEGF:
        words["hot"] = "Gloves for heat, or wait."
    causes = found(s)
    if causes:
        words["finding"] = sentence(spoken_cause(causes[-1]))
    words["left"] = ", ".join(OBLIGATIONS[o].say for o in s.open if OBLIGATIONS[o].hand_over == "owner")
    return step.ask.format_map(words).replace("  ", " ").strip()


def _strip(number: int) -> str:
    return spoken_number(float(number), "count")


def _spell(refrigerant: str) -> str:
    """R407A as a voice must be given it: "R four oh seven A"."""
    digits = refrigerant.strip("R").rstrip("ABCDEFa")
    tail = refrigerant[1 + len(digits) :]
    said = spoken_number(float(digits), "pressure")
    return f"R {said} {tail.upper()}".strip()


def _refrigerant_words(refrigerant: str) -> list[str]:
    spelled = _spell(refrigerant).lower()
    bare = spelled.removeprefix("r ")
    return [spelled, bare]


def _store_words(s: State) -> str:
    if s.started_at:
        return "it runs but is not settled: at the next alarm call, do not press the button"
    return "this machine stays off: watch the product, and do not press the button"


def local_words(s: State, ids: tuple[str, ...]) -> Mapping[str, Mapping[str, Value]]:
    """Words of this site for the ids that the profile gives choices to."""
    words: dict[str, dict[str, Value]] = {}
    racks = [s.rack] if s.rack and "rack" not in ids else list(s.site.racks)
    for id_ in ids:
        if id_ == "site":
            words[id_] = dict.fromkeys(s.site.spoken, s.site.name)
        elif id_ == "rack":
            words[id_] = {w: r.id for r in s.site.racks for w in r.spoken}
        elif id_ in ("compressor", "first_to_trip"):
            names = list(dict.fromkeys(c.id for r in racks for c in r.compressors))
            words[id_] = {w: n for n in names for w in (n, f"number {n}", f"compressor {n}")}
            if len(racks) == 1:
                words[id_] |= dict.fromkeys(("the last one", "the end one"), racks[0].compressors[-1].id)
        elif id_ == "panel_tag":
            words[id_] = {c.tag: c.tag for r in s.site.racks for c in r.compressors}
        elif id_ == "follow_up_owner":
            words[id_] = {w: p.id for p in s.site.people for w in p.spoken}
        elif id_ == "refrigerant_label":
            names = list(dict.fromkeys([*(r.refrigerant for r in racks), *(r.refrigerant for r in s.site.racks), "R404A"]))
            words[id_] = {w: n for n in names for w in _refrigerant_words(n)}
        elif id_ == "chain_dead_check" and s.rack:
            leads = ("contact ", "number ", "")
            words[id_] = {f"{lead}{_strip(c.strip)}": c.name for c in s.rack.panel.contacts for lead in leads}
            # Bare "two" is the answer "two are open"; the second contact is said "contact two".
            words[id_].pop("two", None)
    return words


def limits(s: State, ids: tuple[str, ...]) -> Mapping[str, tuple[float, float]]:
    """Plausible ranges narrower than the vocabulary's, in the site's unit: outside them a value is asked back."""
    rack = s.rack
    if rack is None or s.site.units == "si":
        return {}
    co2 = rack.refrigerant == "R744"
    table = {
        "rack_suction_pressure": (-14.7, 450.0 if co2 else 120.0),
        "suction_pressure": (-14.7, 450.0 if co2 else 120.0),
        "watch.suction_pressure": (-14.7, 450.0 if co2 else 120.0),
        "rack_discharge_pressure": (0.0, 1800.0 if co2 else 450.0),
        "discharge_pressure": (0.0, 1800.0 if co2 else 450.0),
        "watch.discharge_pressure": (0.0, 1800.0 if co2 else 450.0),
        "follow_up_in_hours": (0.0, _latest_hours(s)),
    }
    return {i: table[i] for i in ids if i in table}


def _latest_hours(s: State) -> float:
    hours = [OBLIGATIONS[o].within_hours for o in s.open if OBLIGATIONS[o].within_hours]
    return float(min(hours, default=720))


def doubt(s: State, part: Part) -> str:
    """Why a value must be asked back before it counts, or nothing."""
    value = part.value
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return ""
    low, high = limits(s, (part.id,)).get(part.id, (None, None))
    if low is not None and high is not None and not low <= value <= high:
        return "That is outside what is usual."
    pairs = {
        "rack_discharge_pressure": "rack_suction_pressure", "discharge_pressure": "suction_pressure",
        "watch.discharge_pressure": "watch.suction_pressure", "discharge_temperature": "suction_temperature",
    }  # fmt: skip
    lower = s.number(pairs.get(part.id, ""))
    if lower is not None and value < lower:
        return "That is below the suction."
    upper = {low_id: high_id for high_id, low_id in pairs.items()}.get(part.id)
    higher = s.number(upper or "")
    if higher is not None and upper and not upper.startswith("watch") and value > higher:
        return "That is above the discharge."
    return ""


def refusal(s: State, part: Part) -> str:
    """Words against a reading: it is not taken; with `!` before them it is taken, and they are said after it."""
    id_, value = part.id, part.value
    entry = vocabulary()[id_]
    if value == "someone_else":
        return "Stop. Another person's lock stays on. Find its owner. Nobody else takes it off."
    if entry.kind == "acknowledge" and value is not True:
        return "Say it when it is so."
    if id_ == "panel_tag" and s.compressor and value != s.compressor.tag:
        return f"!That is another machine's tag. This one is {s.compressor.tag}. Find it."
    if id_.startswith("dead_volts."):
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            return "Say the number."
        if value > SECOND_SOURCE_V:
            return "!Stop. Not dead. Find the second source."
        if value > DEAD_LIMIT_V:
            return "!Not dead. Measure again."
    if id_ == "probe_pipe_temperature" and isinstance(value, (int, float)) and value > HOT_PIPE_DEGF:
        return "!Hot. Gloves for heat, or wait."
    if id_ == "ladder_kind" and value == "metal":
        return "!No live work from a metal ladder."
    if id_ == "refrigerant_label" and s.rack and value != s.rack.refrigerant:
        return "!That is not what the profile says. No charge before it is cleared up."
    if id_ == "chain_dead_check" and value == "two" and s.two_open:
        return "Say its number on the strip."
    if id_ == "chain_dead_check" and s.rack and value not in ("two", "none"):
        contact = next((c for c in s.rack.panel.contacts if c.name == value), None)
        if contact and contact.kind == "held":
            return "!A powered module holds that one: open says nothing while it is dead."
    if id_ == "running_now" and value == "running" and s.rack:
        return ""
    return ""


_DERIVED_WORDS = {
    "ratio": "Ratio {n}.", "superheat": "Superheat {n} degrees.", "flash_margin": "Flash margin {n} degrees.",
    "probe_error_delta_degf": "Sensor off by {n} degrees.", "injection_seconds": "{n} seconds fed.",
    "leak_rate_annualizing": "Leak rate {n} percent a year.",
}  # fmt: skip


def derived(fact: e.ValueDerived) -> str:
    """A derived value as it is spoken; most are only logged."""
    words = _DERIVED_WORDS.get(fact.id)
    value = round(fact.value, 1) if abs(fact.value) < 100 else float(round(fact.value))
    return words.format(n=spoken_number(value, "ratio")) if words else ""


def where(s: State) -> str:
    rack, compressor = s.rack, s.compressor
    place = f"Rack {rack.id.upper()}, compressor {compressor.id}. " if rack and compressor else ""
    open_ = ", ".join(OBLIGATIONS[o].say for o in s.open)
    power = "Proved dead." if s.dead else "Power off." if not s.powered else "Treat it as live."
    return f"{place}Phase: {s.phase}. {power} " + (f"Still hooked up: {open_}." if open_ else "Nothing hooked up.")


def review(s: State) -> str:
    said = [f"{vocabulary()[i].say} {spoken_value(i, r.value, r.unit)}" for i, r in s.readings.items() if r.value is not True]
    return sentence(", ".join(said)) if said else "Nothing measured yet."


def why(s: State) -> str:
    step = s.steps.get(s.step)
    if step is None:
        return GUIDANCE
    told = " ".join(caution(c.rstrip("?"), full=True) for c in step.cautions if not c.endswith("?"))
    entry = vocabulary().get(step.asking)
    meaning = sentence(entry.meaning) if entry else ""
    return f"{meaning} {told}".strip() or "It makes the machine safe."


def summary(s: State) -> str:
    """What is spoken before the consent: cause and standing, what runs, what is left."""
    lines = []
    causes = [c for c in s.conclusions.values() if c.standing in ("proven", "supported")]
    lines += [f"{spoken_cause(c.cause)}, {c.standing}" for c in causes]
    if not found(s):
        lines.append("no cause found")
    if s.started_at:
        lines.append("running and settled" if settled(s) else "running, not settled")
    elif "rack" in s.readings:
        lines.append("left off")
    if s.handed_over:
        lines.append("left for later: " + ", ".join(f"{OBLIGATIONS[o].say}, {h.owner}" for o, h in s.handed_over.items()))
    return " ".join(sentence(line) for line in lines)
