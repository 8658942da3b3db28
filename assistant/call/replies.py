"""What is said to an answer at once: against it, where it is not taken; after it, where it is; before it counts, where it is odd.

Each reading has its own small functions in the tables below; what is said is a whole sentence.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import inf

from assistant.branches.motor.conditions import locked_rotor
from assistant.call.known import ROUNDED_DEGF, case_of, high_cutout_psig
from assistant.call.lock import worst_v
from assistant.call.standing import worse_end
from assistant.call.state import State
from assistant.language.introduced import names_somebody
from assistant.language.meaning import Part, Question
from assistant.language.numbers import spoken_number
from assistant.language.quantities import limits as usual
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import sentence
from assistant.trade.units import convert, us_value

OTHERS_LOCK = "Stop. Another person's lock stays on. Find its owner. Nobody else takes it off."
SECOND_TRIP = "A second trip. No more resets: lock it and leave it off."
NO_FAN = "No fan, no entry. Get it running from outside, or say finish job."
TREAT_AS_LIVE = "Then treat it as live. Hands out. The lock first."
HOLDING = "Holding. Say continue."
DISTRESS = "If it is an emergency, say emergency."
STAY_OUT = "Stay out. Ventilate from outside."
IN_HAND = "In hand it runs on into a vacuum, whatever the suction is."
METAL_LADDER = "No live work from a metal ladder."


@dataclass(frozen=True)
class Reply:
    """What is said to an answer."""

    text: str
    taken: bool = True
    """False: the answer is not taken, and the question stands."""
    again: bool = False
    """The answer is on record, and the question is asked once more."""


_Answer = Callable[[State, Part], Reply | None]


def us(part: Part) -> float:
    """A part's number in its US unit; 0 for a word."""
    value = us_value(worse_end(part), part.unit, vocabulary()[part.id].kind)
    return 0.0 if isinstance(value, (bool, str)) else float(value)


def reply(s: State, part: Part) -> Reply | None:
    """What is said to an answer before anything else; None for nothing."""
    if part.value == "someone_else":
        return Reply(OTHERS_LOCK, taken=False)
    entry = vocabulary()[part.id]
    if entry.kind == "acknowledge" and part.value is not True and part.id != "meter_proved_after":
        return Reply("Say it when it is so.", taken=False)
    if entry.kind in ("mass", "volume") and us(part) < 0:
        return Reply("It cannot be less than nothing.", taken=False)
    for ids in (part.id, part.id.partition(".")[0] + "."):
        found = _REPLIES[ids](s, part) if ids in _REPLIES else None
        if found:
            return found
    return None


def _compressor(s: State, part: Part) -> Reply | None:
    """A compressor that this rack does not have has no tag either."""
    names = [c.id for c in s.rack.compressors] if s.rack else []
    if not names or part.value in names:
        return None
    return Reply(f"Rack {s.rack.id.upper()} has {', '.join(names)}. Which one?" if s.rack else "", taken=False)


def _tag(s: State, part: Part) -> Reply | None:
    if s.tag_wanted and part.value != s.tag_wanted:
        return Reply(f"That is another machine's tag. This one is {s.tag_wanted}. Find it.")
    return None


def _lock(s: State, part: Part) -> Reply | None:
    return Reply(OTHERS_LOCK, taken=False) if s.lock.others else None


def _meter_again(s: State, part: Part) -> Reply | None:
    return None if part.value is True else Reply("The meter failed: what it read does not count. Every circuit again.")


def _dead_volts(s: State, part: Part) -> Reply | None:
    volts = worst_v(part.value, part.low, part.high)
    if volts is None:
        return Reply("Say the number.", taken=False)
    if volts > s.limits.second_source_v:
        return Reply("Stop. It is live. Not dead. Find the second source.")
    return Reply("It is live. Not dead. Measure again.") if volts > s.limits.dead_limit_v else None


def _ventilation(s: State, part: Part) -> Reply | None:
    if part.value == "no" and any(r.closed_room for r in s.site.racks):
        return Reply(NO_FAN, taken="ventilation_running" in s.readings)  # it ran before: everybody is out until it does again
    return None


def _detector(s: State, part: Part) -> Reply | None:
    closed = any(r.closed_room for r in s.site.racks) if s.rack is None else s.rack.closed_room
    bad = part.value == "alarm" or (part.value in ("dead", "none") and closed)
    return Reply(STAY_OUT) if bad else None


def _safe(s: State, part: Part) -> Reply | None:
    return None if part.value == "yes" else Reply("Then nobody goes on. Help comes first. Say yes when it is so.")


def _line(s: State, part: Part) -> Reply | None:
    trip_degf = s.rack.probe.trip_degf - ROUNDED_DEGF if s.rack else inf
    if (s.running or s.found_running) and (us(part) >= trip_degf or part.value == "over_range"):
        return Reply("Over its trip, and it has not tripped. Stop the machine and lock it.")
    return None


def _head(s: State, part: Part) -> Reply | None:
    setting = high_cutout_psig(s)
    if setting and (s.running or s.found_running) and (us(part) >= setting or part.value == "over_range"):
        return Reply("Over its trip, and it has not tripped. Stop the machine and lock it.")
    return None


def _shell(s: State, part: Part) -> Reply | None:
    low = us(part) if part.low is None else min(us(part), part.low)
    return Reply("Vacuum. No insulation test on this machine.") if low < 0 else None


def _amps(s: State, part: Part) -> Reply | None:
    locked = part.value == "over_range" and not locked_rotor(case_of(s))
    return Reply("Locked rotor. Stop it.") if locked else None


def _rotation(s: State, part: Part) -> Reply | None:
    return Reply("Backwards. Stop it at once.") if part.value == "reversed" else None


def _running(s: State, part: Part) -> Reply | None:
    if part.value == "running" and s.lock.locked and s.started_at is None:
        return Reply("Stop. It runs with your lock on: that lock is not this machine's. Hands out.")
    if part.value == "running" and s.stopped and (s.lock.locked or "locked_out" in s.handed_over):
        return Reply("It is locked out. If it runs, that is not its lock: say the lock is off.", taken=False)
    if s.started_at is not None and part.value in ("just tripped", "off"):
        return Reply(SECOND_TRIP)
    return None


def _control(s: State, part: Part) -> Reply | None:
    least_v = s.limits.coil_pull_in_percent / 100 * s.rack.panel.control_volts if s.rack else 0.0
    low = s.limits.volts_absent_v < us(part) < least_v
    return Reply("Low control volts: a starter may not pull in.") if low else None


def _pipe(s: State, part: Part) -> Reply | None:
    return Reply("Hot. Gloves for heat, or wait.") if us(part) > s.limits.hot_pipe_degf else None


def _ladder(s: State, part: Part) -> Reply | None:
    return Reply(METAL_LADDER) if part.value == "metal" else None


def _label(s: State, part: Part) -> Reply | None:
    if s.rack and part.value != s.rack.refrigerant:
        return Reply("That is not what the profile says. No charge before it is cleared up.")
    return None


def _contact(s: State, part: Part) -> Reply | None:
    if part.value == "two" and s.has("two_contacts_open"):
        return Reply("Say its number on the strip.", taken=False)
    contact = next((c for c in s.rack.panel.contacts if c.name == part.value), None) if s.rack else None
    if contact and contact.kind == "held":
        return Reply("A powered module holds that one: open says nothing while it is dead.")
    return None


def _zero(s: State, part: Part) -> Reply | None:
    if abs(us(part)) <= s.limits.at_zero_psi:
        return None
    before = s.readings.get(part.id)
    asked_twice = before is not None and before.step == s.step
    return Reply("Not at zero. Nothing is opened." if asked_twice else "Not at zero. Wait for it.", again=not asked_twice)


def _oil_after(s: State, part: Part) -> Reply | None:
    """Filled or set right, and still not what lets it run: it is looked at once more, and then left off."""
    step = s.steps.get(s.step)
    if step is None or "oil_read_after" not in step.establishes or part.value == "normal":
        return None
    before = s.readings.get(part.id)
    return Reply("No start on this oil.", again=before is None or before.step != s.step)


def _supervisor(s: State, part: Part) -> Reply | None:
    return None if part.value == "yes" else Reply("Then no reset. It stays off.")


def _switch(s: State, part: Part) -> Reply | None:
    return Reply(IN_HAND) if part.value == "hand" else None


def _heads(s: State, part: Part) -> Reply | None:
    return None if part.value == "warm" else Reply("Cold or frosted: liquid is in it. No start.")


def _hours(s: State, part: Part) -> Reply | None:
    latest = _latest_hours(s)
    most = sentence(spoken_number(latest)).removesuffix(".")
    if us(part) < 1:
        return Reply("At least one hour.", taken=False)  # nobody takes over in no time
    return Reply(f"{most} hours at most.", taken=False) if us(part) > latest else None


def _oil_color(s: State, part: Part) -> Reply | None:
    """Common practice."""
    said = {"dark": "Dark oil: take it for acid. Test it, and clean the circuit before another motor runs in it.",
            "milky": "Milky oil: water or refrigerant in it."}  # fmt: skip
    return Reply(said[str(part.value)]) if part.value in said else None


def _moisture(s: State, part: Part) -> Reply | None:
    """Common practice."""
    return Reply("Wet: a new drier, and a deep vacuum of what was open.") if part.value == "wet" else None


_BARE = frozenset({
    "yes", "yeah", "yep", "no", "nope", "done", "okay", "ok", "sure", "it is", "not yet", "wait", "none", "nobody", "no one",
    "nothing", "me", "myself", "it's me", "same", "the same",
    "understood", "ready", "all good", "somebody", "someone", "whoever", "unknown", "no idea", "i don't know",
})  # fmt: skip
"""Words that name neither a source nor a person."""


_NAMES_NO_SOURCE = re.compile(
    r"\b(?:idea|clue|know|dunno|not sure|unsure|unknown|nowhere|went away|gone|disappear\w*|clear(?:ed|s)? (?:up|itself)?|guess"
    r"|(?:can't|cannot|couldn't|could not|didn't) (?:find|see|tell|trace|say)|beats me|fixed itself|it's (?:dead|off|zero) now)\b"
)


def _source(s: State, part: Part) -> Reply | None:
    """A yes names nothing, and a correction is none of a source."""
    said = str(part.value).lower().strip(" .")
    nothing = said in _BARE or said.startswith(("correction", "nothing")) or bool(_NAMES_NO_SOURCE.search(said))
    return Reply("Say where it comes from.", taken=False) if nothing else None


def _person(s: State, part: Part) -> Reply | None:
    """Locks carry a name (S42), and a no, or a word that steers, is none."""
    known = any(str(part.value) in (one.id, one.name) for one in s.site.technicians)
    said = str(part.value).lower().strip(" .")
    return None if known or (said not in _BARE and names_somebody(said)) else Reply("Say again.", taken=False)


_REPLIES: dict[str, _Answer] = {
    "second_source": _source, "technician": _person,
    "oil_level": _oil_after, "oil_color": _oil_color, "glass_moisture": _moisture,
    "compressor": _compressor, "panel_tag": _tag, "locked_out": _lock, "meter_proved_after": _meter_again,
    "dead_volts.": _dead_volts,
    "ventilation_running": _ventilation, "detector_state": _detector, "everybody_safe": _safe, "room_safe": _safe,
    "watch.discharge_temperature": _line, "discharge_temperature": _line,
    "watch.discharge_pressure": _head, "discharge_pressure": _head, "shell_pressure": _shell, "line_amps.": _amps,
    "watch.amps": _amps, "rotation": _rotation, "running_now": _running, "control_volts": _control,
    "probe_pipe_temperature": _pipe, "ladder_kind": _ladder, "refrigerant_label": _label, "chain_dead_check": _contact,
    "isolated_pressure": _zero, "supervisor_agreed": _supervisor, "crankcase_and_heads": _heads,
    "switch_position": _switch,
    "follow_up_in_hours": _hours,
}  # fmt: skip
"""By the reading's id, or by what its id begins with."""


# ---- asked back before it counts


def limits(s: State, ids: tuple[str, ...]) -> Mapping[str, tuple[float, float]]:
    """Plausible ranges narrower than the vocabulary's, in the site's unit: outside them a value is asked back."""
    rack = s.rack
    if rack is None:
        return {}
    co2 = rack.refrigerant == "R744"
    suction, head = (-14.7, 450.0 if co2 else 120.0), (0.0, 1800.0 if co2 else 450.0)
    table = dict.fromkeys(("rack_suction_pressure", "suction_pressure", "watch.suction_pressure"), suction)
    table |= dict.fromkeys(("rack_discharge_pressure", "discharge_pressure", "watch.discharge_pressure"), head)
    table["rack_discharge_pressure"] = (rack.head_minimum_psig / 3, head[1])
    table["watch.discharge_pressure"] = (rack.head_minimum_psig / 2, head[1])  # it runs: less is a word left out
    if ("high pressure" in s.contacts) != ("low pressure" in s.contacts):  # of the control that is open
        control = (rack.head_minimum_psig, head[1]) if "high pressure" in s.contacts else suction
        table |= dict.fromkeys(("cutout_pressure", "control_trip_pressure"), control)
    if s.site.units == "si":
        table = {i: (convert(a, "psig", "barg"), convert(b, "psig", "barg")) for i, (a, b) in table.items()}
    if rack.panel.rated_amps:
        table["watch.amps"] = (0.2 * rack.panel.rated_amps, 2 * rack.panel.rated_amps)
    table["follow_up_in_hours"] = (0.0, _latest_hours(s))
    return {i: table[i] for i in ids if i in table}


def _usual(s: State, id: str) -> tuple[float, float] | None:
    """The vocabulary's range of a reading, in the site's unit; None where it has none."""
    return usual(Question(id, units="si" if s.site.units == "si" else "us"), vocabulary()[id])


def _latest_hours(s: State) -> float:
    rules = [s.procedure.obligations[o] for o in (*s.open, *s.handed_over)]
    return float(min((r.within_hours for r in rules if r.within_hours), default=720))


_LOWER = {
    "rack_discharge_pressure": "rack_suction_pressure", "discharge_pressure": "suction_pressure",
    "watch.discharge_pressure": "watch.suction_pressure", "discharge_temperature": "suction_temperature",
    "watch.discharge_temperature": "suction_temperature",
}  # fmt: skip
"""What a discharge reading is never under."""
_UPPER = {low: high for high, low in _LOWER.items() if not high.startswith("watch")}


_RATHER_TENTHS = (20.0, 99.0)
"""Ohms that a rack compressor's winding hardly has (common practice: a few): "three nine" may be three point nine."""
_ENDS_IT = {("switch_position", "off"): "Switch off. Correct?", ("controller_calls", "no"): "Satisfied, not called for. Correct?"}
"""Words that end the search at once: misheard, one would close the call as no trip."""


_COILS = ("injection_coil_ohms", "starter_coil_ohms")
_LIKE_ITS_VOLTS = 0.1
"""So near the control voltage a coil's number may be the volts that are still there."""


_ALL_OF_THEM = re.compile(r"\ball (?:of )?(?:the |them |two|three|four|five|six|seven|eight)|\bevery one\b")
"""Said of a number that is meant to be the whole."""


def called_all(s: State, part: Part, words: str) -> str:
    """Why a number of fans is asked back that was called all of them, and is not how many the rack has; empty for none."""
    of_fans = part.id in ("condenser_fans_called", "condenser_fans_running")
    if s.rack is None or not of_fans or not _ALL_OF_THEM.search(words.lower()) or part.value == s.rack.condenser_fans:
        return ""
    return f"The rack has {spoken_number(float(s.rack.condenser_fans), 'count')}."


def doubt(s: State, part: Part) -> str:
    """Why a value must be asked back before it counts, or nothing; a question of its own is asked as it is."""
    value = part.value
    if isinstance(value, str) and (part.id, value) in _ENDS_IT:
        return _ENDS_IT[part.id, value]
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return ""
    if part.id in _COILS and s.rack and abs(value - s.rack.panel.control_volts) <= _LIKE_ITS_VOLTS * s.rack.panel.control_volts:
        return "Ohms, not volts?"
    if part.id.startswith("winding_ohms.") and _RATHER_TENTHS[0] <= value <= _RATHER_TENTHS[1]:
        return "That is outside what is usual."
    if part.id == "refrigerant_added" and s.rack and 0 < s.rack.full_charge_lb < us(part):
        return "That is more than the full charge."
    if part.id == "watch.amps" and value == 0:
        return "It runs, and draws nothing?"
    lower, higher = s.number(_LOWER.get(part.id, "")), s.number(_UPPER.get(part.id, ""))
    if lower is not None and value < lower:
        return "That is below the suction."
    low, high = limits(s, (part.id,)).get(part.id) or _usual(s, part.id) or (value, value)
    if not low <= value <= high:
        return "That is outside what is usual."
    if part.id == "tripped_count" and s.rack and value > len(s.rack.compressors):
        return "That is more than this rack has."
    return "That is above the discharge." if higher is not None and value > higher else ""
