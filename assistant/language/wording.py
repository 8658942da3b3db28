"""Values, read-backs, cautions and conclusions as they are spoken."""

import tomllib
from functools import cache
from pathlib import Path

from assistant.language.meaning import Value
from assistant.language.numbers import DIGITS, spoken_number
from assistant.language.vocabulary import vocabulary

_UNITS = {"psig": "", "psi": "pounds", "V": "volts", "A": "amps", "ohm": "ohms", "F": "degrees", "C": "degrees",
          "lb": "pounds", "kg": "kilos", "min": "minutes", "percent": "percent", "Hz": "hertz", "bar": "bar",
          "barg": "bar", "Mohm": "meg", "qt": "quarts", "l": "liters", "1": ""}  # fmt: skip
_WORDS = {"over_range": "over range", "below_resolution": "shorted", "none_present": "none",
          "not_fitted": "not fitted", "not_measurable": "not measurable", "someone_else": "someone else's"}  # fmt: skip


@cache
def cautions() -> dict[str, dict[str, str]]:
    """Every caution's `short` and `full` form by its name."""
    with open(Path(__file__).with_name("cautions.toml"), "rb") as file:
        return tomllib.load(file)


def spoken_value(id_: str, value: Value, unit: str | None) -> str:
    """A value as it is read back: the number first, then its unit; nothing for an acknowledgement."""
    if value is True:
        return ""
    if isinstance(value, (int, float)):
        kind = vocabulary()[id_].kind
        words = spoken_number(float(value), kind)
        if words.endswith((" k", " meg")):
            return words
        return f"{words} {_UNITS.get(unit or '', '')}".strip()
    if id_ == "live_or_dead":
        return f"{value} check"  # "dead" alone would sound like a verdict on the panel
    return _WORDS.get(value, value)


def digits_apart(value: float) -> str:
    """A whole number's figures one by one, the way that tells fifteen from fifty.

    >>> digits_apart(215), digits_apart(50)
    ('two one five', 'five oh')
    """
    return " ".join("oh" if figure == "0" else DIGITS[int(figure) - 1] for figure in f"{abs(value):.0f}")


def sentence(words: str) -> str:
    """First letter large, a full stop at the end."""
    words = words.strip()
    return words and words[0].upper() + words[1:] + ("" if words[-1] in ".?!" else ".")


CAUSES = {
    "probe_wiring_faulty": "probe lead or connector", "module_no_output": "injection module",
    "module_no_supply": "no supply to the module", "injection_wiring_open": "broken wire to the coil",
    "contactor_faulty": "starter contacts", "phase_lost": "a line lost", "phase_reversed": "two lines changed",
    "non_condensables": "air in the system", "overcharge": "too much refrigerant", "head_high": "head too high",
    "suction_low": "suction too low", "evaporator_load_low": "no load in the cases",
    "evaporator_fan_or_defrost": "case fans or defrost", "liquid_branch_closed": "one circuit shut",
    "low_pressure_normal": "satisfied, no fault", "control_supply_lost": "no control supply",
    "chain_wiring_open": "broken wire in the string", "phase_monitor_open": "phase monitor tripped",
    "drive_faulted": "the drive's fault", "compressor_seized": "compressor seized", "oil_logged": "oil left in the cases",
    "oil_wrong": "wrong oil", "oil_separator_stuck": "separator float stuck", "oil_supply_failed": "no oil feed",
    "overload_still_hot": "motor was still hot", "discharge_restricted": "discharge line shut or dropping",
}  # fmt: skip


def spoken_name(id_: str) -> str:
    """A reading's or a derived value's name as the trade says it."""
    entry = vocabulary().get(id_)
    return entry.say if entry else id_.replace("_delta_degf", "").replace("_degf", "").replace("_", " ")


def spoken_cause(cause: str) -> str:
    """A cause in the trade's words."""
    return CAUSES.get(cause, cause.replace("_", " "))
