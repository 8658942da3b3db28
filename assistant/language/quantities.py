"""What a number with its spoken unit is worth in the unit of the reading that was asked for."""

import re

from assistant.language.meaning import AskFor, Part, Question
from assistant.language.numbers import Quantity, quantity, spoken_number
from assistant.language.numbers import words as words_of
from assistant.language.vocabulary import Entry, Units, vocabulary
from assistant.trade.units import convert

PSI_PER_INCH_OF_MERCURY = 0.491154  # at 32 F
BAR_PER_INCH_OF_MERCURY = 0.0338639

NUMBER_KINDS = words_of(
    "pressure temperature difference volts amps ohms megohms minutes count mass volume percent hertz"
)
SAY_THE_NUMBER, BETWEEN = "Say the number.", "Between what and what?"
_UNSTEADY = re.compile(
    r"(?:it's )?(?:swinging|bouncing|jumping|hunting|moving"
    r"|going(?! (?:by|in|into|out|off|on|at|through|over|past)\b))(?: between| from)? (.+)|between (.+)"
)
_LEAD = re.compile(
    r"(?:cut out at|cuts out at|set at|trips at|opened at|pulls (?:down )?to|point of"
    r"|(?:it )?(?:won't|will not|wouldn't|doesn't) (?:go|pull|pull down|get|come|come down) (?:any )?"
    r"(?:below|under|past|lower than)) (.+)"
)

# Factor to the reading's unit for each unit that may be said, by kind and system; '' is the bare number.
_FACTORS: dict[tuple[str, Units], dict[str, float]] = {
    ("pressure", "us"): {"": 1, "psi": 1, "pound": 1},
    ("pressure", "si"): {"": 1, "bar": 1},
    ("temperature", "us"): {"": 1, "degree": 1, "fahrenheit": 1},
    ("temperature", "si"): {"": 1, "degree": 1, "celsius": 1},
    ("volume", "us"): {"": 1, "quart": 1, "pint": 0.5, "gallon": 4},
    ("volume", "si"): {"": 1, "liter": 1},
    ("mass", "us"): {"": 1, "pound": 1, "ounce": 0.0625},
    ("mass", "si"): {"": 1, "kilo": 1},
}
_SAME_IN_BOTH: dict[str, dict[str, float]] = {
    "volts": {"": 1, "volt": 1},
    "amps": {"": 1, "amp": 1},
    "ohms": {"": 1, "ohm": 1, "k": 1e3, "meg": 1e6},
    "megohms": {"": 1, "meg": 1, "gig": 1e3, "k": 1e-3, "ohm": 1e-6},
    "minutes": {"": 1, "minute": 1, "hour": 60, "day": 1440},
    "percent": {"": 1, "percent": 1},
    "hertz": {"": 1, "hertz": 1},
}
_COUNTS = {"follow_up_in_hours": {"hour": 1.0, "day": 24.0, "week": 168.0},
           "days_since_last_addition": {"day": 1.0, "week": 7.0, "month": 30.0},
           "injection_seconds": {"second": 1.0, "minute": 60.0}}  # fmt: skip
_SPOKEN_UNITS = {
    "psig": "P S I", "psi": "P S I", "barg": "bar", "bar": "bar", "F": "degrees", "C": "degrees",
    "V": "volts", "A": "amps", "ohm": "ohms", "Mohm": "meg", "min": "minutes", "lb": "pounds", "kg": "kilos",
    "qt": "quarts", "l": "liters", "percent": "percent", "Hz": "hertz",
}  # fmt: skip


def asked_back(entry: Entry, units: Units, value: float) -> str:
    """The short question that asks a value back: "Ten k?", "Twelve hundred ohms?"."""
    unit = "" if entry.kind == "ohms" and value >= 10_000 else _SPOKEN_UNITS.get(entry.unit(units) or "", "")
    return f"{spoken_number(value, entry.kind)} {unit}".strip().capitalize() + "?"


def limits(question: Question, entry: Entry) -> tuple[float, float] | None:
    """Plausible range of a reading in this question, in the site's unit; None where it has none."""
    if entry.id in question.limits:
        return question.limits[entry.id]
    if question.units != "us" and entry.unit_us != entry.unit_si:
        return None
    return None if entry.low_us is None or entry.high_us is None else (entry.low_us, entry.high_us)


def in_hundreds(question: Question, entry: Entry) -> bool:
    """Whether three digits are usual for this reading, so that one alone may be all that is left of them."""
    span = limits(question, entry)
    return span is not None and span[1] >= 400


def reading(question: Question, entry: Entry, words: str) -> Part | AskFor | None:
    """A number for a reading, in the site's unit; None when the words are none.

    Raises nothing: a unit that does not belong to the reading is asked about; of units only the other scale of a thermometer is
    converted, and asked back.
    """
    if steady := _unsteady(question, entry, words):
        return steady
    lead = _LEAD.fullmatch(words)
    if entry.kind == "count" and " of " in words:
        return _some_of(question, entry, words.replace(" out of ", " of ").replace(" of the ", " of "))
    try:
        said = quantity(lead[1] if lead else words)
    except ValueError:
        return None
    pulls = lead and entry.id == "pump_down_low" and words.startswith("pulls")
    if pulls and not said.unit and said.value > 0:
        # "Pulls to twenty" is the vacuum gauge's twenty to most, the pressure gauge's to some.
        return _inches(question, entry, Quantity(said.value, "inch", odd=True))
    return _valued(question, entry, said, lead[1] if lead else words)


def _some_of(question: Question, entry: Entry, words: str) -> Part | None:
    """ "Three of four": three, when there can be three of them."""
    some, _, total = words.partition(" of ")
    try:
        count = float(quantity(some).value)
        fits = total == "them" or 0 <= count <= float(quantity(total).value)
    except ValueError:
        return None
    return Part(entry.id, count, entry.unit(question.units)) if fits and count == int(count) else None


def _valued(question: Question, entry: Entry, said: Quantity, words: str) -> Part | AskFor | None:
    unit = entry.unit(question.units)
    if entry.kind == "pressure" and said.unit == "inch":
        return _inches(question, entry, said)
    if entry.kind == "pressure" and question.units == "us" and said.value < 0 and (entry.low_us or 0) < 0:
        # Nobody says pounds below zero: it may be inches of vacuum, or a sign heard by mistake.
        if not said.unit:
            return AskFor("Inches or pounds?", pending=f"{words} {{}}")
        below = float(said.value)
        return Part(entry.id, below, unit, doubt=asked_back(entry, question.units, below))
    factors = _factors(entry, question.units)
    if said.unit in ("celsius", "fahrenheit") and said.unit not in factors and entry.kind == "temperature":
        return _of_the_other_scale(entry, question.units, said)
    if said.unit not in factors:
        return AskFor(_unit_question(entry, question.units))
    value = float(round(float(said.value) * factors[said.unit], 9))
    if entry.kind == "count" and value != int(value):
        return AskFor(SAY_THE_NUMBER)
    if entry.id.split(".")[0] == "probe_ohms" and not said.unit and value < 1000:
        return _bare_probe_ohms(question, entry, value, words)
    doubt = asked_back(entry, question.units, value) if said.odd else ""
    return Part(entry.id, value, unit, doubt=doubt)


def _of_the_other_scale(entry: Entry, units: Units, said: Quantity) -> Part:
    """ "Thirty three celsius" where Fahrenheit is asked for: asked back in the site's own, to a tenth."""
    unit = entry.unit(units) or ""
    value = round(convert(float(said.value), "C" if said.unit == "celsius" else "F", unit), 1)
    named = "Fahrenheit" if units == "us" else "Celsius"
    return Part(entry.id, value, unit, doubt=f"{spoken_number(value).capitalize()} {named}?")


def _factors(entry: Entry, units: Units) -> dict[str, float]:
    if entry.kind == "count":
        return {"": 1.0, "piece": 1.0} | _COUNTS.get(entry.id, {})
    if entry.kind == "difference":
        pounds = {"psi": 1.0, "pound": 1.0} if units == "us" else {"bar": 1.0}
        return {"": 1.0} | (pounds if entry.unit_us == "psi" else {"degree": 1.0})
    return _SAME_IN_BOTH.get(entry.kind) or _FACTORS[(entry.kind, units)]


def in_its_unit(question: Question, id: str, unit: str) -> bool:
    """Whether a number in this unit, by its name in `UNIT_WORDS`, is one of this reading; "" is none, "piece" what is counted."""
    entry = vocabulary()[id]
    other_scale = entry.kind == "temperature" and unit in ("celsius", "fahrenheit")
    return unit in _factors(entry, question.units) or other_scale or (entry.kind == "pressure" and unit == "inch")


def ask_for_unit(question: Question, id: str) -> AskFor:
    """What is said to a number in the unit of something else."""
    return AskFor(_unit_question(vocabulary()[id], question.units))


def _unit_question(entry: Entry, units: Units) -> str:
    unit = entry.unit(units) or ""
    named = {"F": "Fahrenheit", "C": "Celsius"}.get(unit) if entry.kind == "temperature" else None
    unit_words = named or _SPOKEN_UNITS.get(unit, "")
    return f"Say it in {unit_words}." if unit_words else SAY_THE_NUMBER


def _inches(question: Question, entry: Entry, said: Quantity) -> Part:
    """Inches of mercury below the atmosphere, as a gauge pressure; to a hundredth, finer than the gauge."""
    factor = PSI_PER_INCH_OF_MERCURY if question.units == "us" else BAR_PER_INCH_OF_MERCURY
    digits = 2 if question.units == "us" else 3
    inches = abs(float(said.value))
    doubt = f"{spoken_number(inches).capitalize()} inches of vacuum?" if said.odd else ""
    return Part(entry.id, -round(inches * factor, digits), entry.unit(question.units), doubt=doubt)


def _bare_probe_ohms(question: Question, entry: Entry, value: float, words: str) -> Part | AskFor:
    """ "Ten" for a probe: ohms or thousands? Its curve decides where only one of them is possible."""
    if entry.id in question.limits:
        low, high = question.limits[entry.id]
        possible = [v for v in (value, value * 1000) if low <= v <= high]
        if len(possible) == 1:
            back = asked_back(entry, question.units, possible[0])
            return Part(entry.id, possible[0], entry.unit(question.units), doubt=back)
    return AskFor("Ohms or k?", pending=f"{words} {{}}")


def _unsteady(question: Question, entry: Entry, words: str) -> Part | AskFor | None:
    """ "Swinging between two hundred and two twenty": the mean, with both ends."""
    match = _UNSTEADY.fullmatch(words)
    if not match or entry.kind in ("count", "minutes", "mass", "volume", "percent", "hertz"):
        return None
    tokens = (match[1] or match[2]).split()
    found: list[tuple[float, float]] = []
    for cut, word in enumerate(tokens):
        if word not in ("and", "to"):
            continue
        ends = [_plain(question, entry, half) for half in (tokens[:cut], tokens[cut + 1 :])]
        low, high = ends[0], ends[1]
        if low is not None and high is not None and low < high:
            found.append((low, high))
    if not found:
        return AskFor(BETWEEN)
    low, high = min(found, key=lambda pair: pair[1] - pair[0])
    sure = len(set(found)) == 1
    doubt = "" if sure else f"Between {spoken_number(low)} and {spoken_number(high)}?"
    return Part(entry.id, (low + high) / 2, entry.unit(question.units), low=low, high=high, doubt=doubt)


def _plain(question: Question, entry: Entry, tokens: list[str]) -> float | None:
    try:
        part = _valued(question, entry, quantity(" ".join(tokens)), " ".join(tokens))
    except ValueError:
        return None
    return part.value if isinstance(part, Part) and isinstance(part.value, float) else None
