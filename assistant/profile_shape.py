"""Whether everything in a profile is of the type that is wanted there, at any depth: only then it is read."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

LARGEST = 1e12
LineOf = Callable[[str, int], int]


@dataclass(frozen=True)
class ListOf:
    """A list, each item of one shape; of this length where that is known."""

    item: Any
    length: int | None = None
    words: str = ""
    """What it is, where that is said as a whole instead of what is wrong with an item."""


@dataclass(frozen=True)
class TableOf:
    """A table of any keys, each value of one shape."""

    item: Any


TEXT, NAME = "text in quotes", "text in quotes that is not empty"
NUMBER, WHOLE, TRUTH = "a number", "a whole number", "true or false"
"""Shapes of single values; a name is text that somebody is to read or hear."""
_NUMBERS = TableOf(NUMBER)
_PERSON = {"id": NAME, "spoken": ListOf(TEXT), "name": NAME}
_PANEL = {
    "control_volts": NUMBER, "control_isolator_stops": TEXT, "drive": TRUTH, "capacitors": TRUTH,
    "contacts": ListOf({"name": TEXT, "strip": WHOLE, "kind": TEXT}), "fuses": ListOf(TEXT), "ways_to_block_start": NAME,
    "rated_amps": NUMBER, "starter_coil_ohms": NUMBER, "discharge_reset": TEXT, "winding_sets": WHOLE,
}  # fmt: skip
_PROBE = {
    "kind": TEXT, "mount": TEXT, "place": TEXT, "trip_degf": NUMBER, "inject_degf": NUMBER, "test_plug": TEXT, "r25_ohm": NUMBER,
    "beta_k": NUMBER, "steinhart_hart": ListOf(NUMBER, 3, "three numbers: A, B, C"),
    "table": ListOf(ListOf(NUMBER, 2), words="a list of [degF, ohm] pairs"), "r0_ohm": NUMBER,
}  # fmt: skip
_RACK = {
    "id": NAME, "spoken": ListOf(TEXT), "refrigerant": TEXT, "full_charge_lb": NUMBER, "suction_set_point_psig": NUMBER,
    "head_minimum_psig": NUMBER, "condenser_fans": WHOLE, "liquid_lift_ft": NUMBER, "liquid_line_psi": ListOf(NUMBER),
    "closed_room": TRUTH, "machine_kind": TEXT, "oil": TEXT, "high_cutout_psig": NUMBER, "low_cutout_psig": NUMBER,
    "ratio_limit": NUMBER, "design_suction_degf": NUMBER, "limits": _NUMBERS, "panel": _PANEL, "probe": _PROBE,
    "injection": {"coil_ohms": NUMBER, "coil_volts": NUMBER, "line_in_sight": TRUTH, "output_own_feed": TRUTH},
    "compressor": ListOf({"id": NAME, "tag": NAME}),
}  # fmt: skip
_SITE = {
    "name": NAME, "spoken": ListOf(TEXT), "street_address": NAME, "emergency_number": NAME, "roof_access": NAME,
    "main_disconnect": NAME, "ventilation_switch": NAME, "eyewash": NAME, "altitude_ft": NUMBER, "units": TEXT,
    "category": TEXT, "watch_minutes": ListOf(NUMBER), "dead_minutes": NUMBER, "check_in_minutes": NUMBER,
    "instruments": _NUMBERS, "limits": _NUMBERS,
}  # fmt: skip
PROFILE = {"site": _SITE, "rack": ListOf(_RACK), "person": ListOf(_PERSON), "technician": ListOf(_PERSON)}


def misshapen(data: Mapping[str, Any], line_of: LineOf) -> Iterator[tuple[int, str]]:
    """Everything of a wrong type, as a line and a sentence. What is missing or not known is not looked at here.

    Args:
        data: the parsed TOML.
        line_of: the line that sets a key, or opens the table of that name, from a line on.
    """
    yield from _look(data, PROFILE, "", 0, line_of)


def _look(value: Any, shape: Any, key: str, after: int, line_of: LineOf) -> Iterator[tuple[int, str]]:
    match shape:
        case str():
            if not _fits(value, shape):
                yield after, f"'{key}' is {_brief(value)}; {shape} is wanted"
        case TableOf(item=item):
            shape = dict.fromkeys(value, item) if isinstance(value, dict) else {}
            yield from _look_into(value, shape, key, after, line_of)
        case ListOf(words=words) if words:
            if any(_look_along(value, shape, key, after, line_of)):
                yield after, f"'{key}' is {words}"
        case ListOf():
            yield from _look_along(value, shape, key, after, line_of)
        case _:
            yield from _look_into(value, shape, key, after, line_of)


def _look_into(value: Any, shape: Mapping[str, Any], key: str, after: int, line_of: LineOf) -> Iterator[tuple[int, str]]:
    if not isinstance(value, dict):
        yield after, f"'{key}' is {_brief(value)}; a table is wanted"
        return
    for name in value.keys() & shape.keys():
        yield from _look(value[name], shape[name], name, line_of(name, max(0, after - 1)), line_of)


def _look_along(value: Any, shape: ListOf, key: str, after: int, line_of: LineOf) -> Iterator[tuple[int, str]]:
    if not isinstance(value, list):
        yield after, f"'{key}' is {_brief(value)}; a list is wanted"
        return
    if shape.length is not None and len(value) != shape.length:
        yield after, f"'{key}' has {len(value)} items; {shape.length} are wanted"
    for item in value:
        yield from _look(item, shape.item, key, after, line_of)
        if isinstance(shape.item, dict) and item is not value[-1]:
            after = line_of(key, after)  # the next table of that name, where each has a line of its own


def _fits(value: Any, shape: str) -> bool:
    if shape in (TEXT, NAME):
        return isinstance(value, str) and (shape is TEXT or bool(value.strip())) and "\0" not in value
    if shape == TRUTH:
        return isinstance(value, bool)
    if isinstance(value, bool) or not isinstance(value, int if shape == WHOLE else (int, float)):
        return False
    return abs(value) <= LARGEST and math.isfinite(value)


def _brief(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:40] + "..."
