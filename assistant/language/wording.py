"""Values, read-backs, cautions and conclusions as they are spoken."""

import tomllib
from functools import cache
from pathlib import Path

from assistant.language.meaning import Value
from assistant.language.numbers import DIGITS, spoken_number, twin
from assistant.language.quantities import PSI_PER_INCH_OF_MERCURY
from assistant.language.vocabulary import vocabulary

_UNITS = {"psig": "", "psi": "pounds", "V": "volts", "A": "amps", "ohm": "ohms", "F": "degrees", "C": "degrees",
          "lb": "pounds", "kg": "kilos", "min": "minutes", "percent": "percent", "Hz": "hertz", "bar": "bar",
          "barg": "bar", "Mohm": "meg", "qt": "quarts", "l": "liters", "1": ""}  # fmt: skip
_ONE = {"volts": "volt", "amps": "amp", "ohms": "ohm", "degrees": "degree", "pounds": "pound", "kilos": "kilo",
        "minutes": "minute", "quarts": "quart", "liters": "liter"}  # fmt: skip
_WORDS = {"over_range": "over range", "below_resolution": "shorted",
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
        if kind == "pressure" and unit == "psig" and value < 0:
            words = spoken_number(round(-2 * value / PSI_PER_INCH_OF_MERCURY) / 2)  # to the half inch that a gauge shows
            return f"{words} {'inch' if words == 'one' else 'inches'} of vacuum"
        name = _UNITS.get(unit or "", "")
        return f"{words} {_ONE.get(name, name) if abs(value) == 1 else name}".strip()
    if id_ == "refrigerant_label":
        return spelled(value)
    if id_ == "live_or_dead":
        return f"{value} check"  # "dead" alone would sound like a verdict on the panel
    kind = vocabulary()[id_].kind
    if value == "none_present":
        return f"no {kind}"
    if value == "below_resolution" and kind == "megohms":
        return "to ground"
    return _WORDS.get(value, value)


_COUNTED = {"tripped_count": ("tripped", "tripped"), "running_count": ("running", "running"),
            "starts_last_hour": ("start an hour", "starts an hour"), "condenser_fans_running": ("fan running", "fans running"),
            "condenser_fans_called": ("fan called", "fans called"), "follow_up_in_hours": ("hour", "hours"),
            "days_since_last_addition": ("day", "days"), "injection_seconds": ("second", "seconds")}  # fmt: skip
_NONE_OF = {"tripped_count": "none", "running_count": "none", "starts_last_hour": "no", "condenser_fans_running": "no",
            "condenser_fans_called": "no"}  # fmt: skip
"""Before what is counted, where there is none of it."""
_UNNAMED = frozenset({"site", "rack", "compressor", "tripped_count", "running_count", "alarm_minutes_ago", "first_to_trip",
                      "starts_last_hour", "condenser_fans_running", "condenser_fans_called", "days_since_last_addition",
                      "follow_up_owner", "leak_place"})
"""Said together they need no name: the value says what it is."""


_SAYS_ITSELF = {
    ("controller_calls", "yes"): "called for", ("controller_calls", "no"): "not called for",
    ("ventilation_running", "yes"): "fan running", ("ventilation_running", "no"): "fan not running",
    ("head_fan_running", "yes"): "head fan runs", ("head_fan_running", "no"): "head fan stopped",
    ("defrost_state", "none"): "no defrost", ("defrost_state", "now"): "in defrost",
    ("leak_found", "yes"): "leak found", ("leak_found", "no"): "no leak",
    ("leak_repaired", "yes"): "leak repaired", ("leak_repaired", "no"): "leak not repaired",
    ("probe_cleaned", "yes"): "cleaned", ("probe_cleaned", "no"): "not cleaned",
    ("lock_still_on", "yes"): "lock on", ("lock_still_on", "no"): "lock off",
    ("part_left_in_use", "none"): "no parts left", ("part_left_in_use", "borrowed"): "borrowed part left in",
    ("part_left_in_use", "substitute"): "substitute left in", ("part_left_in_use", "temporary"): "temporary part left in",
    ("trip_spread", "hours"): "hours apart", ("trip_spread", "weeks"): "over weeks",
    ("trip_spread", "together"): "together", ("trip_spread", "unknown"): "how they went is not known",
    ("defrost_state", "within the hour"): "defrost within the hour", ("defrost_state", "stuck"): "defrost stuck",
    ("capacity_control", "full"): "fully loaded", ("capacity_control", "unloaded"): "unloaded",
    ("capacity_control", "modulating"): "modulating", ("capacity_control", "none"): "no unloading",
    ("drive_fault", "yes"): "drive fault", ("drive_fault", "no"): "no drive fault",
    ("defrost_disabled", "yes"): "a defrost left off", ("defrost_disabled", "no"): "no defrost left off",
    ("supervisor_agreed", "yes"): "supervisor agreed", ("supervisor_agreed", "no"): "supervisor did not agree",
    ("everybody_safe", "yes"): "everybody safe", ("everybody_safe", "no"): "not everybody safe",
    ("room_safe", "yes"): "room safe", ("room_safe", "no"): "room not safe",
    ("valve_click", "click"): "valve clicks", ("valve_click", "silent"): "valve silent",
    ("injection_hand_valve", "none"): "no hand valve", ("control_fuse", "none"): "no control fuse",
    ("module_output_fuse", "none"): "no output fuse", ("module_enabled", "run signal"): "run signal",
    ("module_enabled", "no run signal"): "no run signal", ("module_enabled", "no input"): "no input",
    ("crankcase_heater", "on"): "heater on", ("crankcase_heater", "off"): "heater off", ("crankcase_heater", "none"): "no heater",
    ("reset_history", "none"): "never reset", ("reset_history", "once"): "reset once", ("reset_history", "often"): "reset often",
    ("reset_history", "unknown"): "history not known", ("heat_reclaim", "none"): "no heat reclaim",
    ("heat_reclaim", "on"): "heat reclaim on", ("heat_reclaim", "off"): "heat reclaim off",
    ("subcooler_state", "none"): "no liquid cooler", ("cascade_state", "none"): "no other stage",
    ("ladder_kind", "none"): "no ladder", ("load_shed", "none"): "no load shed", ("load_shed", "some"): "some load shed",
    ("load_shed", "all"): "all load shed", ("probe_response", "quick"): "follows quick",
    ("probe_response", "slow"): "follows slow",
    ("mechanical_state", "free"): "shaft free", ("mechanical_state", "tight"): "shaft tight",
    ("mechanical_state", "seized"): "shaft seized", ("control_reset", "holds"): "it holds",
    ("control_reset", "will not hold"): "it will not hold", ("control_reset", "automatic"): "automatic reset",
    ("addition_reason", "leak"): "for a leak", ("addition_reason", "retrofit"): "for a retrofit",
    ("addition_reason", "new installation"): "for a new installation", ("addition_reason", "other"): "for another reason",
    ("detector_state", "alarm"): "",
    ("running_now", "running"): "running", ("running_now", "off"): "off", ("running_now", "just tripped"): "just tripped",
    ("protection_shown", "none shown"): "nothing shown", ("chain_dead_check", "none"): "none open",
    ("chain_dead_check", "two"): "more than one open", ("phase_monitor_state", "none"): "no phase monitor",
    ("live_or_dead", "dead"): "dead check", ("live_or_dead", "live"): "live check",
}  # fmt: skip
"""Answers that are read back in words of their own: the value alone would say too little, or something else."""


_SHORT = {
    "rack_suction_pressure": "suction", "rack_discharge_pressure": "discharge", "watch.suction_pressure": "suction",
    "watch.discharge_temperature": "line", "watch.discharge_pressure": "discharge", "injection_hand_valve": "valve",
    "probe_condition": "probe", "injection_feed": "line", "isolated_pressure": "gauge", "drive_hertz": "drive",
}  # fmt: skip
"""Names that are long, where several values are read back together."""


def of_a_set(ids: list[str]) -> bool:
    """Whether these are readings of one set of three, lines or windings: said without names, and no twin of anything."""
    sets = {id.split(".")[0] for id in ids}
    return len(sets) == 1 and sets <= {"line_volts", "line_amps", "winding_ohms", "fuse_volts"}


def spoken_back(id_: str, value: Value, unit: str | None, named: bool, apart: bool = True) -> str:
    """A value as it is read back at once; with its name where several came together. A ten or a teen is said twice, the
    second time figure by figure."""
    if value is True:
        return ""
    if id_ == "protection_shown" and named and value != "none shown":
        return f"tripped on {value}"
    if (id_, value) in _SAYS_ITSELF:
        return _SAYS_ITSELF[id_, str(value)]
    words = spoken_value(id_, value, unit)
    number = isinstance(value, float) and not isinstance(value, bool)
    if number and id_ in _COUNTED:
        words = _NONE_OF[id_] if value == 0 and id_ in _NONE_OF else words
        words = f"{words} {_COUNTED[id_][0 if value == 1 else 1]}"
    if id_ == "alarm_minutes_ago" and number:
        words = f"{duration(float(value))} ago" if value else "just now"
    elif apart and isinstance(value, float) and value.is_integer() and twin(value) is not None:
        words = f"{words}, {digits_apart(value)}"
    if id_ == "follow_up_in_hours" and number:
        return f"within {words}"
    if id_ == "refrigerant_added" and value == 0:
        return "none added"
    if id_ in ("rack", "compressor"):
        return f"{id_} {str(value).upper() if id_ == 'rack' else value}"
    if not named or id_ in _UNNAMED or id_ not in vocabulary():
        return words
    if number and vocabulary()[id_].say.startswith("amps"):
        words = words.replace(" amps", "")
    if id_ in _SHORT:
        return f"{_SHORT[id_]} {words}"
    return words if of_a_set([id_]) else f"{vocabulary()[id_].say} {words}"


def duration(minutes: float) -> str:
    """So many minutes as people say them.

    >>> duration(1), duration(45), duration(90), duration(120), duration(4320)
    ('one minute', 'forty five minutes', 'an hour and a half', 'two hours', 'three days')
    """
    for size, one in ((1440.0, "day"), (60.0, "hour")):
        count = minutes / size
        if count >= 1 and count == int(count) and (one == "hour" or count >= 2):
            return f"{spoken_number(count)} {one}{'s' if count > 1 else ''}"
    if minutes == 90:
        return "an hour and a half"
    return f"{spoken_number(minutes)} minute{'s' if minutes != 1 else ''}"


def digits_apart(value: float) -> str:
    """A whole number's figures one by one, the way that tells fifteen from fifty.

    >>> digits_apart(215), digits_apart(50)
    ('two one five', 'five oh')
    """
    return " ".join("oh" if figure == "0" else DIGITS[int(figure) - 1] for figure in f"{abs(value):.0f}")


def spelled(refrigerant: str) -> str:
    """A refrigerant as a voice must be given it.

    >>> spelled("R407A"), spelled("R22")
    ('R four oh seven A', 'R twenty two')
    """
    digits = refrigerant.strip("R").rstrip("ABCDEFa")
    tail = refrigerant[1 + len(digits) :]
    return f"R {spoken_number(float(digits))} {tail.upper()}".strip()


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
