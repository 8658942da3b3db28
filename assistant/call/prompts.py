"""What the call says, and which words of the site it listens for."""

from collections.abc import Collection, Mapping
from datetime import timedelta
from functools import cache

from assistant.branches.motor.conditions import windings_low
from assistant.branches.order import sought
from assistant.branches.search import found, in_branch, to_mend
from assistant.branches.shared.conditions import LEVERS
from assistant.branches.steps import Step
from assistant.call import leaving
from assistant.call.course import round_minutes
from assistant.call.facts import CallOpened, Concluded, ValueDerived
from assistant.call.known import (
    additions_before,
    case_of,
    in_words,
    site_facts,
)
from assistant.call.permits import must_stop
from assistant.call.state import State
from assistant.language.meaning import Question, Value
from assistant.language.numbers import DIGITS, ORDINALS, spoken_number
from assistant.language.offered import offered
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of, vocabulary
from assistant.language.wording import (
    cautions,
    of_a_set,
    sentence,
    spelled,
    spoken_back,
    spoken_cause,
    spoken_name,
    spoken_value,
)
from assistant.profile import DEMO_SITE, REFRIGERANTS, Site
from assistant.trade.leak import CHRONIC_PERCENT, chronic_percent, dates, leak_rule, over_threshold
from assistant.trade.units import convert
from assistant.trade.watch import still_moving

CAUTION_FIRST = "The caution first. Say understood."
GUIDANCE = "Guidance only. The maker's instructions, local codes and licensed practice come first."
HELP = (
    "Answer, or say: say again, go back, correction and a name, skip this, why, where am I, make a note, hold on, "
    "read back, finish job, emergency."
)


def help_with(question: Question | None) -> str:
    """The words that answer what is asked, and those that are always heard."""
    words = offered(question)[:8] if question else []
    if question and kind_of(question.asking) == "acknowledge":
        words = [*words[:2], "not yet"]
    if question and question.asking in vocabulary() and kind_of(question.asking) in NUMBER_KINDS:
        return f"A number answers it. {HELP}"
    return f"{sentence(', '.join(words))} {HELP}".strip() if words else HELP


def skipped(step: Step, told: Collection[str] = ()) -> str:
    """What a skip leaves open: what the step asks and was not told here."""
    names = [vocabulary()[id_].say for id_ in step.ids if id_ not in told] or [vocabulary()[id_].say for id_ in step.ids]
    named = names if len(names) < 3 else [names[0], "and the rest"]
    return f"Skipped: {', '.join(named)}." if names else "Skipped."


def skipped_on_the_way(s: State) -> str:
    """The readings that were skipped and that a cause may hang on, three at most; empty where one was found, or nobody may go
    in."""
    if s.alarm or found(case_of(s)):
        return ""
    steps = (s.steps[id_] for id_, how in s.answered.items() if how == "skipped")
    return " ".join([skipped(step) for step in steps if step.ids and not step.free_to_skip][:3])


def not_skipped(step: Step) -> str:
    """Why a step cannot be skipped, and what else may be said."""
    entry = vocabulary().get(step.asking)
    if entry and entry.kind == "acknowledge":
        return "That cannot be skipped. Say done when it is so, or hold on."
    return "That cannot be skipped. Say hold on, or finish job."


def opening(site: Site, fact: CallOpened) -> str:
    trips = len(fact.days_since_trip)
    known = f" {trips} earlier call{'s' if trips > 1 else ''} here in ninety days." if trips else ""
    demo = "Demo site, not yours: " if site.source == str(DEMO_SITE) else ""
    return f"{GUIDANCE} {demo}{site.name}.{known}"


def caution(name: str, full: bool, units: str) -> str:
    """The words of a caution, in full or short, with figures in the site's units."""
    words = cautions()[name]
    return words.get("full_si", words["full"]) if full and units == "si" else words["full" if full else "short"]


def caution_why(name: str, units: str) -> str:
    """Everything that a caution says, with what is behind it."""
    words = cautions()[name]
    return f"{words['short']} {words.get('why_si', words['why']) if units == 'si' else words['why']}"


def emergency(site: Site, window: bool) -> str:
    """Key phrases in the order they matter, with no question first.

    Args:
        site: gives address, number and places.
        window: control power is on for a feed test or a live window: that is what is switched off.
    """
    off = "Power off: the control power, if safe" if window else "Power off at the disconnect, if safe"
    return (
        f"Hands off. {off}. Touch nobody until the power is off. Out, upwind. "
        f"Call emergency services, {site.emergency_number}: the address is {site.street_address}. "
        f"Roof: {site.roof_access}. Main disconnect: {site.main_disconnect}. "
        f"Ventilation: {site.ventilation_switch}. Eyewash: {site.eyewash}."
    )


def minutes(wait: timedelta) -> str:
    total = max(1, round(wait.total_seconds() / 60))
    return "one minute" if total == 1 else f"{spoken_number(float(total), 'minutes')} minutes"


def prompt(step: Step, s: State) -> str:
    """The step's words with the site's filled in."""
    said = (step.ask.format_map(_words(step, s)) if "{" in step.ask else step.ask).replace("  ", " ").strip()
    return said[:1].upper() + said[1:]


def _words(step: Step, s: State) -> dict[str, str]:
    """Every word in braces that a prompt may hold (`PLACEHOLDERS` of the branches' steps)."""
    rack, si, case = s.rack, s.site.units == "si", case_of(s)
    at = round(round_minutes(step, s)) if step.watch_round else 0
    strips = {c.name.split()[0]: _strip(c.strip) for c in rack.panel.contacts} if rack else {}
    boss = next((p for p in s.site.people if p.id == "supervisor"), s.site.people[0] if s.site.people else None)
    return {
        "mass": "kilos" if si else "pounds", "quarts": "liters" if si else "quarts",
        "hand": "fifteen centimeters" if si else "six inches", "minutes": spoken_number(float(at), "minutes") if at else "",
        "summary": leaving.summary(s), "store_words": leaving.store_words(s), "levers": _levers(s), "hooked_up": _open_words(s),
        "hot": "Gloves for heat, or wait." if (s.us("probe_pipe_temperature") or 0) > s.limits.hot_pipe_degf else "",
        "finding": _finding(s),
        "left": _open_words(s, "owner"), "supervisor": boss.name if boss else "the supervisor",
        "control": "high pressure" if in_branch(case, "high pressure") else "low pressure",
        "rack": rack.id.upper() if rack else "", "refrigerant": spelled(rack.refrigerant) if rack else "",
        "block": rack.panel.ways_to_block_start if rack else "",
        "plug": "jumper" if rack and rack.probe.test_plug == "jumper" else "resistor",
        "strips": ", ".join(strips.values()),
        **{f"strip_{name}": strips.get(name, name) for name in ("oil", "high", "low", "motor", "discharge")},
    }  # fmt: skip


def _finding(s: State) -> str:
    """The causes that are mended; a single one not again within a minute of its conclusion."""
    causes = to_mend(case_of(s))
    since = s.concluded_at.get(causes[0]) if len(causes) == 1 else None
    just_now = since is not None and s.at is not None and s.at - since < timedelta(minutes=1)
    return "" if just_now else " ".join(sentence(spoken_cause(cause)) for cause in causes)


def _open_words(s: State, hand_over: str = "") -> str:
    """What is open, as it is spoken; only what is handed over in one way where that is asked for."""
    rules = [s.procedure.obligations[o] for o in s.open]
    named = (r for r in rules if not hand_over or r.hand_over == hand_over)
    return ", ".join(f"{r.say}, {s.open[r.id].detail.partition(' (')[0]}" if r.tells_detail else r.say for r in named)


def hangs_elsewhere(s: State) -> str:
    """What hangs in another machine's panel, as it is spoken."""
    return ", ".join(s.procedure.obligations[id_].say for id_ in s.elsewhere)


def read_back(taken: list[tuple[str, Value, str | None]], named: bool = False) -> str:
    """The values just taken, as they are repeated at once: those of one unit in one breath, the unit once.

    Args:
        taken: id, value and unit of each.
        named: several came in one breath, or one that was not asked for: each is said with its name.
    """
    alike = len(taken) > 1 and of_a_set([id_ for id_, _, _ in taken])
    said = [(id_, spoken_back(id_, value, unit, named, not alike)) for id_, value, unit in taken]
    spoken = [words for _, words in said if words]
    unit = spoken[-1].rpartition(" ")[2] if spoken else ""
    of_one_unit = all(w.endswith(f" {unit}") and w != f"no {unit}" for w in spoken)
    if alike and len(spoken) > 1 and unit in ("ohms", "volts", "amps") and of_one_unit:
        return sentence(", ".join(words.removesuffix(f" {unit}") for words in spoken) + f" {unit}")
    each = spoken if alike and len(set(spoken)) > 1 else dict.fromkeys(spoken)  # of three lines two alike are said twice
    return sentence(", ".join(each))


def told_back(word: str) -> str:
    """The word that answered a look, as it is repeated."""
    return sentence(word) if word else ""


def alone(id_: str) -> str:
    """One reading asked by its name, with the choices where it has a few: "Coil?" says nothing to who hears it once."""
    entry = vocabulary()[id_]
    few = entry.choices if 2 <= len(entry.choices) <= 4 else ()
    name = "this one" if entry.say in few else entry.say  # "Running: running, just tripped or off?" reads like a slip
    named = f"{name}: {', '.join(few[:-1])} or {few[-1]}" if few else entry.say
    return sentence(named).rstrip(".") + "?"


def _strip(number: int) -> str:
    return spoken_number(float(number), "count")


def _ordinal(number: str) -> tuple[str, ...]:
    """ "The third one", for what is numbered; none for what has a name."""
    place = dict(zip(DIGITS, ORDINALS, strict=True)).get(number)
    return (f"the {place} one", f"{place} one") if place else ()


@cache
def _refrigerant_words(refrigerant: str) -> tuple[str, ...]:
    words = spelled(refrigerant).lower()
    figures = [" ".join(DIGITS[int(c) - 1] if c in "123456789" else "oh" if c == "0" else c for c in refrigerant.lower())]
    return tuple(form for word in (words, *figures) for form in (word, word.removeprefix("r ")))


_ALL_BUT_THIS_ONE = ("all but this one", "all but mine", "all the others", "the others", "all the rest", "the rest of them")


def _shares_of(count: int, whole: tuple[str, ...]) -> dict[str, Value]:
    """What people say of how many there are: "all but one"."""
    all_of = (f"all {spoken_number(float(count))}", "all", "all of them", "every one of them", "every one", *whole)
    words: dict[str, Value] = dict.fromkeys(all_of, float(count))
    return words | {f"all but {spoken_number(float(n))}": float(count - n) for n in range(1, min(4, count))}


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
            words[id_] = {w: n for n in names for w in (n, f"number {n}", f"compressor {n}", *_ordinal(n))}
            if len(racks) == 1:
                words[id_] |= dict.fromkeys(("the last one", "the end one"), racks[0].compressors[-1].id)
        elif id_ == "panel_tag":
            tags = [c.tag for r in s.site.racks for c in r.compressors]
            words[id_] = {f"{lead}{tag}": tag for lead in ("", "rack ", "tag ", "it says ") for tag in tags}
        elif id_ in ("condenser_fans_called", "condenser_fans_running") and s.rack:
            fans = s.rack.condenser_fans
            words[id_] = _shares_of(fans, ("the whole bank",))
            words[id_] |= {f"{spoken_number(float(n))} out": float(fans - n) for n in range(1, min(4, fans))}
        elif id_ in ("tripped_count", "running_count") and s.rack:
            words[id_] = _shares_of(len(s.rack.compressors), ("the whole rack",))
            if id_ == "running_count":
                words[id_] |= dict.fromkeys(_ALL_BUT_THIS_ONE, len(s.rack.compressors) - 1.0)
        elif id_ == "follow_up_owner":
            words[id_] = {w: p.id for p in s.site.people for w in p.spoken}
        elif id_ == "technician":
            words[id_] = {w: p.name for p in s.site.technicians for w in p.spoken}
        elif id_ in ("refrigerant_label", "controller_refrigerant"):
            names = list(dict.fromkeys([*(r.refrigerant for r in racks), *(r.refrigerant for r in s.site.racks), *REFRIGERANTS]))
            words[id_] = {w: n for n in names for w in _refrigerant_words(n)}
            if id_ == "controller_refrigerant" and s.rack:
                words[id_] |= {"the same": s.rack.refrigerant, "same": s.rack.refrigerant}
        elif id_ == "chain_dead_check" and s.rack:
            leads = ("contact ", "number ", "")
            contacts = s.rack.panel.contacts
            words[id_] = {f"{lead}{_strip(c.strip)}": c.name for c in contacts for lead in leads}
            words[id_] |= {w: c.name for c in contacts for w in _ordinal(_strip(c.strip))}
            # Bare "two" is the answer "two are open"; the second contact is said "contact two".
            words[id_].pop("two", None)
    return words


_DERIVED_WORDS = {
    "ratio": "Ratio {n}.", "superheat": "Superheat {n} {degrees}.", "flash_margin": "Flash margin {n} {degrees}.",
    "probe_error_delta_degf": "Sensor reads high by {n} {degrees}.", "injection_seconds": "Fed {n} seconds.",
    "net_oil": "Net oil {n} {pounds}.", "condensing_difference": "Split {n} {degrees}.",
    "crankcase_superheat": "Crankcase over the suction by {n} {degrees}.",
    "condenser_subcooling": "Liquid off the condenser, under its boiling point by {n} {degrees}.",
    "standing_excess": "Over the air by {n} {degrees}.", "voltage_unbalance": "Volts unbalanced {n} percent.",
    "current_unbalance": "Amps unbalanced {n} percent.", "winding_unbalance": "Windings unbalanced {n} percent.",
    "reservoir_over_suction": "Reservoir over the suction by {n} {pounds}.",
    "minutes_to_trip": "The line goes on rising: at its trip in {n} {minutes}. Stay by the machine.",
}  # fmt: skip
"""Derived values that are spoken; the others are only logged. The number and its unit come last, in one breath, whatever they are
of: who missed the name asks again, who missed the end of the number has another number."""
_IMPOSSIBLE = {
    "superheat": "Superheat {n}: liquid at the compressor, or a bad reading. Read both again.",
    "subcooling": "Liquid over its boiling point by {n}: vapour in it, or a bad reading.",
}
"""Said where a difference comes out at zero or under it."""


def contradicted(ids: tuple[str, ...], s: State) -> str:
    """What cannot be true together, each with its value, and what comes of it."""
    said = [f"{spoken_name(i)} {spoken_value(i, r.value, r.unit)}" for i in ids if (r := s.readings.get(i))]
    if len(ids) == 1:
        return sentence(f"{said[0]} cannot be")
    counts = [s.number(id_) for id_ in ("tripped_count", "running_count")]
    if set(ids) == {"tripped_count", "running_count"} and s.rack is not None and None not in counts:
        off, run, fitted = (spoken_number(n, "count") for n in (*counts, len(s.rack.compressors)) if n is not None)
        return sentence(f"{off} off and {run} running cannot be: this rack has {fitted}") + " Both again."
    again = set(ids) & set(s.ask_again) and not (must_stop(s) and not s.stopped)  # what must be stopped is stopped first
    return sentence(f"{' and '.join(said)} cannot both be true") + (" Both again." if again else "")


def derived(fact: ValueDerived, s: State) -> str:
    """A derived value as it is spoken, in the site's unit, no finer than its band; nothing for most."""
    if fact.id == "leak_rate_annualizing":
        return _leak(fact.value, s)
    words = _DERIVED_WORDS.get(fact.id, "")
    value = fact.value
    if fact.id in _IMPOSSIBLE and value <= 0:
        words, value = _IMPOSSIBLE[fact.id], value if fact.id == "superheat" else -value
    if fact.id == "probe_error_delta_degf" and fact.low is not None and fact.high is not None and fact.low <= 0 <= fact.high:
        words = "Sensor agrees."
    elif fact.id == "probe_error_delta_degf" and value < 0:
        words, value = "Sensor reads low by {n} {degrees}.", -value
    if fact.id == "injection_seconds" and s.value("injection_feed") == "dry":
        words = "Driven {n} seconds."  # nothing was fed
    if not words or (fact.id == "winding_unbalance" and windings_low(case_of(s))):
        return ""  # of low windings an ordinary meter tells no balance: the meter is asked about first
    scale = {"F": 1 / 1.8, "psi": convert(1.0, "psi", "bar")}.get(fact.unit, 1.0) if s.site.units == "si" else 1.0
    wide = fact.unit == "min" or (fact.low is not None and fact.high is not None and (fact.high - fact.low) * scale > 1)
    value = float(round(value * scale)) if wide or abs(value) >= 100 else round(value * scale, 1)
    degrees, pounds = ("degrees", "pounds") if s.site.units == "us" else ("kelvin", "bar")
    named = {"degrees": degrees, "pounds": pounds, "minutes": "minutes"}
    named = {key: name.removesuffix("s") if abs(value) == 1 else name for key, name in named.items()}
    return words.format(n=spoken_number(value, "ratio"), **named)


def _leak(rate_percent: float, s: State) -> str:
    """The leak rate, the rule that applies on this day, and the dates it sets; what nobody knows is said."""
    rack = s.rack
    percent = f"{spoken_number(round(rate_percent, 1), 'percent')} percent a year"
    if rack is None or s.opened_at is None:
        return f"Leak rate {percent}."
    unknown = site_facts(s, rack).days_since_addition is None and "days_since_last_addition" not in s.readings
    said = f"Leak rate at least {percent}: the charge before is not on record." if unknown else f"Leak rate {percent}."
    day = s.opened_at.date()
    added = s.us("refrigerant_added") or 0.0
    if chronic_percent(additions_before(s, rack.id), added, rack.full_charge_lb, day) > CHRONIC_PERCENT:
        said += " Over one hundred twenty five percent of the charge this year: a report to the agency by March 1."
    rule = leak_rule(rack.refrigerant, s.site.category, rack.full_charge_lb, day)
    if rule is None:
        return f"{said} No federal leak rule for this charge. The state's may be stricter."
    limit = f"{spoken_number(rule.threshold_percent, 'percent')} percent"
    if not over_threshold(rate_percent, rule):
        return said if unknown else f"{said} Not over the limit of {limit}."
    return f"{said} Over the limit of {limit}: {in_words(dates(rule, day))}."


def conclusion(fact: Concluded, mended: bool = False) -> str:
    """A cause with its standing and what to do; and what it hangs on, where that lies within an instrument's error.

    Args:
        fact: what was concluded.
        mended: it was repaired already: what to do was done.
    """
    words = f"{sentence(spoken_cause(fact.cause))} {sentence(fact.standing)} {'' if mended else fact.action}".rstrip()
    if not fact.uncertain:
        return words
    names = " and ".join(spoken_name(i) for i in fact.uncertain)
    return f"{words} Uncertain: {names} so near the limit that the instrument's error decides."


def taken_back(cause: str) -> str:
    """A cause that was called proven, and is not any more."""
    return f"{sentence(spoken_cause(cause))} Proven no more."


def before_waiting(step: Step, s: State, wait: timedelta) -> str:
    """Words before a wait; from the first round on, why the watch goes on."""
    rack = s.rack
    why = still_moving(s.rounds, rack.suction_set_point_psig, rack.limits) if rack and "watch_longer" in step.when else ()
    return " ".join((*why[:1], f"Next in {minutes(wait)}."))


_LEVER_WORDS = {
    "us": ("Return gas twenty colder", "Head thirty pounds lower", "Suction three pounds higher"),
    "si": ("Return gas eleven colder", "Head two bar lower", "Suction point two bar higher"),
}


def _levers(s: State) -> str:
    """What each thing changed would do to the discharge."""
    scale, unit = (1.0, "degrees") if s.site.units == "us" else (1 / 1.8, "kelvin")
    changes = zip(LEVERS, _LEVER_WORDS[s.site.units], strict=True)
    known = [(words, s.derived[id_].value * scale) for id_, words in changes if id_ in s.derived]
    return " ".join(
        f"{words}: {'colder' if change < 0 else 'hotter'} by {spoken_number(float(abs(round(change))), 'count')} {unit}."
        for words, change in known
    )


def where(s: State) -> str:
    rack, compressor = s.rack, s.compressor
    place = f"Rack {rack.id.upper()}, compressor {compressor.id}. " if rack and compressor else ""
    open_ = _open_words(s)
    power = "Proved dead." if s.lock.dead else "Treat it as live."
    return f"{place}Place: {s.station}. {power} " + (f"Still hooked up: {open_}." if open_ else "Nothing hooked up.")


def review(s: State) -> str:
    over = {"lock_still_on"} if s.lock.locked else set()  # one that was found off, and is on again
    kept = {i: r for i, r in s.readings.items() if r.value is not True and i not in over}
    said = [f"{vocabulary()[i].say} {spoken_value(i, r.value, r.unit)}" for i, r in kept.items()]
    said += [s.procedure.facts[fact] for done in s.told.values() for fact in done.establishes]
    return sentence(", ".join(said)) if said else "Nothing measured yet."


def why(s: State, warned: tuple[str, ...] = ()) -> str:
    """Why this is asked; while a caution waits for its acknowledgement, why that one is given."""
    if warned:
        return " ".join(caution_why(name, s.site.units) for name in warned)
    step = s.steps.get(s.step)
    if step is None:
        return GUIDANCE
    told = " ".join(caution_why(c.rstrip("?"), s.site.units) for c in step.cautions if not c.endswith("?"))
    names = [spoken_cause(cause) for cause in sought(step, case_of(s))]
    entry = vocabulary().get(step.asking)
    done = entry.kind == "acknowledge" if entry else not step.tells
    reason = ("" if step.clears else _ONLY_THEN) if done else _RESTS_ON_IT
    meaning = step.why or ("" if names else reason)
    open_ = f"Still open here: {', '.join(names[:_NAMED])}{' and others' if len(names) > _NAMED else ''}." if names else ""
    return f"{meaning} {open_} {told}".replace("  ", " ").strip() or "It makes the machine safe."


_ONLY_THEN = "Only when it is so, what comes next is safe."
_RESTS_ON_IT = "What is asked next, and what is concluded, rests on it."
"""Where a step gives no reason of its own and no cause hangs on it."""
_NAMED = 3
"""Causes that "why" names: more are not kept in mind."""
