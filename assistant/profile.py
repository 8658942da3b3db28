"""The site's profile: load it, or name every fault with its line."""

import difflib
import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from assistant.profile_faults import of_site
from assistant.profile_shape import misshapen
from assistant.site import (
    CONTACTS,
    DEMO_SITE,
    FLAMMABLE,
    REFRIGERANTS,
    Compressor,
    Contact,
    Injection,
    Panel,
    Person,
    Probe,
    Rack,
    Site,
)
from assistant.trade.limits import RANGES, RISING, USUAL, Limits
from assistant.trade.probe import ProbeCurve
from assistant.trade.uncertainty import Instruments

__all__ = [
    "CONTACTS", "DEMO_SITE", "FLAMMABLE", "REFRIGERANTS", "Compressor", "Contact", "Injection", "Panel", "Person", "Probe",
    "ProfileFaults", "Rack", "Site", "load_profile",
]  # fmt: skip


class ProfileFaults(ValueError):
    """What is wrong with a profile, one sentence a fault, each with its line."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


_ONE_OF: Mapping[str, tuple[str, ...]] = {
    "units": ("us", "si"),
    "category": ("commercial refrigeration", "industrial process refrigeration", "comfort cooling"),
    "refrigerant": REFRIGERANTS,
    "control_isolator_stops": ("compressor", "rack"),
    "contact.name": CONTACTS,
    "contact.kind": ("mechanical", "held"),
    "probe.kind": ("ntc", "ptc", "rtd", "thermostat"),
    "mount": ("clamp", "dry_well", "in_gas"),
    "place": ("head", "line"),
    "machine_kind": ("reciprocating", "scroll", "screw"),
    "oil": ("", "mineral", "ester"),
    "test_plug": ("jumper", "resistor", "none"),
    "discharge_reset": ("manual", "automatic"),
}
_RANGE: Mapping[str, tuple[float, float]] = {
    "altitude_ft": (-1000, 30000), "dead_minutes": (1, 240), "check_in_minutes": (0, 240), "full_charge_lb": (0, 50000),
    "suction_set_point_psig": (-14.7, 450), "head_minimum_psig": (0, 1800), "condenser_fans": (0, 24),
    "liquid_lift_ft": (-200, 200), "control_volts": (12, 600), "rated_amps": (0.5, 400), "strip": (1, 99),
    "r25_ohm": (10, 2_000_000), "beta_k": (1000, 8000), "trip_degf": (150, 350), "inject_degf": (120, 320),
    "high_cutout_psig": (0, 1800), "low_cutout_psig": (-14.7, 450), "winding_sets": (1, 2), "starter_coil_ohms": (0, 20000),
    "coil_ohms": (0.5, 20000), "coil_volts": (12, 600), "gauge_delta_psi": (0, 20), "thermometer_delta_degf": (0, 20),
    "difference_delta_degf": (0, 10), "volts_percent": (0, 20), "ohms_percent": (0, 20), "amps_percent": (0, 20),
    "beside_percent": (0, 20), "scale_lb": (0, 5), "level_percent": (0, 50), "meter_top_ohm": (1000, 1e9),
    "ratio_limit": (1.5, 40), "design_suction_degf": (-60, 60), **{f"limits.{name}": ends for name, ends in RANGES.items()},
}  # fmt: skip


_NUMBER = (int, float)
LONGEST_WATCH_MIN = 600


_TABLE = re.compile(r"\s*\[+([\w.\- ]+)\]+")
_KEY = re.compile(r"\s*([\w-]+)\s*=")
_INLINE = re.compile(r"[{,]\s*([\w-]+)\s*=")


def _keys(line: str) -> Iterator[str]:
    """What a line sets, or opens as a table."""
    if table := _TABLE.match(line):
        yield table[1].rpartition(".")[2].strip()
    elif key := _KEY.match(line):
        yield key[1]
    if "{" in line:
        yield from _INLINE.findall(line)


class _Reader:
    """Takes values out of the parsed TOML and collects what is wrong."""

    def __init__(self, text: str, name: str) -> None:
        self.lines = text.split("\n")
        self.name = name
        self.faults: list[str] = []
        self._set: dict[str, list[int]] = {}
        """Key or name of a table to the lines that set or open it."""
        for number, line in enumerate(self.lines, 1):
            for key in dict.fromkeys(_keys(line)):
                self._set.setdefault(key, []).append(number)

    def line_of(self, key: str, after: int = 0) -> int:
        """The first line after line `after` that sets `key` or opens the table of that name; `after` where there is none."""
        there = self._set.get(key, [])
        place = bisect_right(there, after)
        return there[place] if place < len(there) else after or 1

    def fault(self, key: str, after: int, words: str) -> None:
        self.faults.append(f"{self.name}, line {self.line_of(key, after)}: {words}")

    def take(self, table: Mapping[str, Any], key: str, kind: type | tuple[type, ...], after: int,
             rule: str = "") -> Any:  # fmt: skip
        where = rule or key
        if key not in table:
            self.faults.append(f"{self.name}, line {after or 1}: '{key}' is missing in this part")
            return _nothing(kind)
        value = _named_plainly(where, table[key])
        if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            self.fault(key, after, f"'{key}' is {value!r}; {_kind_words(kind)} is wanted")
            return _nothing(kind)
        if where in _ONE_OF and value not in _ONE_OF[where]:
            self.fault(key, after, f"'{key}' is {value!r}; it is one of: {', '.join(_ONE_OF[where])}")
        if where in _RANGE:
            low, high = _RANGE[where]
            if isinstance(value, (int, float)) and not low <= value <= high:
                self.fault(key, after, f"'{key}' is {value}; it lies between {low:g} and {high:g}")
        return value

    def maybe(self, table: Mapping[str, Any], key: str, after: int) -> float | None:
        """A number that a profile need not have."""
        return float(self.take(table, key, _NUMBER, after)) if key in table else None

    def unknown(self, table: Mapping[str, Any], known: set[str], after: int) -> None:
        for key in table:
            if key not in known:
                near = difflib.get_close_matches(key, sorted(known), 1)
                self.fault(key, after, f"'{key}' is not known here" + (f"; '{near[0]}' is" if near else ""))


def _named_plainly(where: str, value: Any) -> Any:
    """A refrigerant by the name that the program knows it by: "R-22", "r22" and "R 22" are R22."""
    if where != "refrigerant" or not isinstance(value, str):
        return value
    bare = re.sub(r"[ -]", "", value).lower()
    return next((name for name in REFRIGERANTS if name.lower() == bare), value)


def _nothing(kind: type | tuple[type, ...]) -> Any:
    first = kind[0] if isinstance(kind, tuple) else kind
    return first()


def _kind_words(kind: type | tuple[type, ...]) -> str:
    names = {str: "text in quotes", bool: "true or false", list: "a list", dict: "a table"}
    return names.get(kind if isinstance(kind, type) else kind[0], "a number")


_TEXT = {"name", "street_address", "emergency_number", "roof_access", "main_disconnect", "ventilation_switch",
         "eyewash"}  # fmt: skip


def _words(reader: _Reader, table: Mapping[str, Any], after: int) -> tuple[str, ...]:
    spoken = reader.take(table, "spoken", list, after)
    for words in spoken:
        if not isinstance(words, str) or not re.fullmatch(r"[a-z' ]+", words):
            reader.fault("spoken", after, f"{words!r}: spoken words are lower-case letters and spaces")
    if not spoken:
        reader.fault("spoken", after, "'spoken' needs at least one phrase")
    return tuple(str(words) for words in spoken)


def _panel(reader: _Reader, table: Mapping[str, Any], after: int) -> Panel:
    take = reader.take
    contacts = []
    for item in take(table, "contacts", list, after):
        contacts.append(
            Contact(
                take(item, "name", str, after, "contact.name"),
                take(item, "strip", int, after, "strip"),
                # An unknown kind counts as held: open then proves nothing.
                take({"kind": "held"} | item, "kind", str, after, "contact.kind"),
            )
        )
    if len({c.strip for c in contacts}) < len(contacts):
        reader.fault("contacts", after, "two contacts have the same number on the strip")
    known = {"control_volts", "control_isolator_stops", "drive", "capacitors", "contacts", "fuses",
             "ways_to_block_start", "rated_amps", "starter_coil_ohms", "winding_sets", "discharge_reset"}  # fmt: skip
    reader.unknown(table, known, after)
    return Panel(
        take(table, "control_volts", _NUMBER, after),
        take(table, "control_isolator_stops", str, after),
        take(table, "drive", bool, after),
        take(table, "capacitors", bool, after),
        tuple(contacts),
        tuple(take(table, "fuses", list, after)),
        take(table, "ways_to_block_start", str, after),
        take(table, "rated_amps", _NUMBER, after),
        take({"starter_coil_ohms": 0, **table}, "starter_coil_ohms", _NUMBER, after),
        take({"discharge_reset": "manual", **table}, "discharge_reset", str, after),
        take({"winding_sets": 1, **table}, "winding_sets", int, after),
    )


_CURVE_KEYS: Mapping[str, type | tuple[type, ...]] = {
    "r25_ohm": _NUMBER, "beta_k": _NUMBER, "steinhart_hart": list, "table": list, "r0_ohm": _NUMBER,
}  # fmt: skip


def _curve(reader: _Reader, table: Mapping[str, Any], after: int) -> ProbeCurve | None:
    """The probe's curve in one of its forms; None for a thermostat, which has none."""
    kind = table.get("kind")
    if kind not in ("ntc", "ptc", "rtd"):
        return None
    given = {key: reader.take(table, key, wanted, after) for key, wanted in _CURVE_KEYS.items() if key in table}
    key = next(iter(given), "kind")
    try:
        pairs = tuple((float(degf), float(ohm)) for degf, ohm in given.pop("table", ()))
        constants = tuple(float(c) for c in given.pop("steinhart_hart", ()))
        if constants and len(constants) != 3:
            raise ValueError("'steinhart_hart' is three numbers: A, B, C")
        return ProbeCurve(kind, table=pairs, steinhart_hart=constants or None, **given)  # type: ignore[arg-type]
    except (TypeError, ValueError) as error:
        words = str(error) if "probe" in str(error) or "steinhart" in str(error) else "'table' is a list of [degF, ohm] pairs"
        reader.fault(key, after, words)
        return None


def _probe(reader: _Reader, table: Mapping[str, Any], after: int) -> Probe:
    take = reader.take
    probe = Probe(
        take(table, "kind", str, after, "probe.kind"),
        # An unknown mount is treated as in the gas everywhere: but the profile must say it (S28).
        take(table, "mount", str, after),
        take(table, "place", str, after),
        take(table, "trip_degf", _NUMBER, after),
        take(table, "inject_degf", _NUMBER, after),
        take(table, "test_plug", str, after),
        _curve(reader, table, after),
    )
    reader.unknown(table, set(Probe.__dataclass_fields__) - {"curve"} | set(_CURVE_KEYS), after)
    if probe.inject_degf >= probe.trip_degf:
        reader.fault("inject_degf", after, "'inject_degf' must lie under 'trip_degf'")
    return probe


def _rack(reader: _Reader, table: Mapping[str, Any], after: int, limits: Limits) -> Rack:
    take = reader.take
    compressors = tuple(
        Compressor(take(c, "id", str, after), take(c, "tag", str, after))
        for c in take(table, "compressor", list, after)
    )
    if not compressors:
        reader.fault("compressor", after, "a rack needs at least one compressor")
    if len({c.id for c in compressors}) < len(compressors):
        reader.fault("compressor", after, "two compressors of this rack have the same id")
    if len({c.tag for c in compressors}) < len(compressors):
        reader.fault("compressor", after, "two compressors have the same tag: the tag must tell them apart")
    injection = take(table, "injection", dict, after)
    line = reader.line_of("injection", after)
    reader.unknown(injection, {"coil_ohms", "coil_volts", "line_in_sight", "output_own_feed"}, line)
    known = set(Rack.__dataclass_fields__) - {"compressors"} | {"compressor"}
    reader.unknown(table, known, after)
    return Rack(
        id=take(table, "id", str, after),
        spoken=_words(reader, table, after),
        refrigerant=take(table, "refrigerant", str, after),
        full_charge_lb=take({"full_charge_lb": 0, **table}, "full_charge_lb", _NUMBER, after),
        suction_set_point_psig=take(table, "suction_set_point_psig", _NUMBER, after),
        head_minimum_psig=take(table, "head_minimum_psig", _NUMBER, after),
        condenser_fans=take(table, "condenser_fans", int, after),
        liquid_lift_ft=take(table, "liquid_lift_ft", _NUMBER, after),
        liquid_line_psi=tuple(take(table, "liquid_line_psi", list, after)),
        closed_room=take(table, "closed_room", bool, after),
        panel=_panel(reader, take(table, "panel", dict, after), reader.line_of("panel", after)),
        probe=_probe(reader, take(table, "probe", dict, after), reader.line_of("probe", after)),
        injection=Injection(
            reader.maybe(injection, "coil_ohms", line),
            take(injection, "coil_volts", _NUMBER, line),
            take(injection, "line_in_sight", bool, line),
            take({"output_own_feed": True, **injection}, "output_own_feed", bool, line),
        ),
        compressors=compressors,
        machine_kind=take({"machine_kind": "reciprocating", **table}, "machine_kind", str, after),
        oil=take({"oil": "", **table}, "oil", str, after),
        high_cutout_psig=take({"high_cutout_psig": 0, **table}, "high_cutout_psig", _NUMBER, after),
        low_cutout_psig=reader.maybe(table, "low_cutout_psig", after),
        ratio_limit=reader.maybe(table, "ratio_limit", after),
        design_suction_degf=reader.maybe(table, "design_suction_degf", after),
        limits=_limits(reader, table, after, limits),
    )


def _instruments(reader: _Reader, head: Mapping[str, Any], after: int) -> Instruments:
    """The errors that the profile names; the rest are the defaults of common practice."""
    table = reader.take({"instruments": {}, **head}, "instruments", dict, after)
    line = reader.line_of("instruments", after)
    reader.unknown(table, set(Instruments.__dataclass_fields__), line)
    given = {key: reader.take(table, key, _NUMBER, line) for key in table if key in Instruments.__dataclass_fields__}
    return Instruments(**given)


def _limits(reader: _Reader, table: Mapping[str, Any], after: int, before: Limits) -> Limits:
    """The thresholds that this part names, over those that hold without it."""
    part = reader.take({"limits": {}, **table}, "limits", dict, after)
    line = reader.line_of("limits", after)
    reader.unknown(part, set(RANGES), line)
    given: dict[str, float] = {}
    for key in (name for name in part if name in RANGES):
        faults = len(reader.faults)
        value = float(reader.take(part, key, _NUMBER, line, f"limits.{key}"))
        if len(reader.faults) == faults:
            given[key] = value
    limits = replace(before, **given)
    for low, high in (pair for names in RISING for pair in pairwise(names)):
        ends = getattr(limits, low), getattr(limits, high)
        if ends[0] > ends[1] and given.keys() & {low, high}:
            named = low if low in given else high
            reader.fault(named, line, f"'{low}' is {ends[0]:g} and '{high}' is {ends[1]:g}: the other way round")
    return limits


def _people(reader: _Reader, tables: list[Mapping[str, Any]], table: str) -> tuple[Person, ...]:
    line = reader.line_of(table)
    return tuple(
        Person(reader.take(p, "id", str, line), _words(reader, p, line), reader.take(p, "name", str, line)) for p in tables
    )


def load_profile(path: Path = DEMO_SITE) -> Site:
    """The site's profile.

    Raises:
        ProfileFaults: the file is missing, no TOML, or has faults; each named with its line.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n")  # as an editor of another system writes it
    except OSError as error:
        raise ProfileFaults([f"{path}: {error.strerror or error}"]) from error
    except UnicodeDecodeError as error:
        raise ProfileFaults([f"{path}: not a text file in UTF-8"]) from error
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise ProfileFaults([f"{path.name}, {_place(str(error))}"]) from error
    if not data:
        raise ProfileFaults([f"{path.name}: is empty; 'rackcall profile new FILE' writes one to start from"])
    reader = _Reader(text, path.name)
    if wrong := list(misshapen(data, reader.line_of)):
        raise ProfileFaults([f"{path.name}, line {line}: {words}" for line, words in wrong])
    return _site(reader, data, path)


def _place(words: str) -> str:
    """A fault of the TOML reader with its line in front, as everywhere: "Invalid value (at line 3, column 5)"."""
    found = re.fullmatch(r"(.*) \(at line (\d+), column \d+\)", words, re.DOTALL)
    return f"line {found[2]}: {found[1]}" if found else f"line 1: {words}"


def _site(reader: _Reader, data: Mapping[str, Any], path: Path) -> Site:
    head = reader.take(data, "site", dict, 1)
    line = reader.line_of("site")
    reader.unknown(data, {"site", "rack", "person", "technician"}, 0)
    reader.unknown(
        head,
        _TEXT | {"spoken", "altitude_ft", "units", "category", "watch_minutes", "dead_minutes", "check_in_minutes"}
        | {"instruments", "limits"},
        line,
    )
    limits = _limits(reader, head, line, USUAL)
    racks, after = [], 0
    for table in reader.take(data, "rack", list, 1):
        after = reader.line_of("rack", after)
        racks.append(_rack(reader, table, after, limits))
    if not racks:
        reader.faults.append(f"{path.name}, line 1: a site needs at least one [[rack]]")
    minutes = reader.take(head, "watch_minutes", list, line)
    if not minutes or minutes[0] <= 0 or minutes[-1] > LONGEST_WATCH_MIN or any(b <= a for a, b in pairwise(minutes)):
        reader.fault("watch_minutes", line, f"'watch_minutes' is a rising list of minutes, at most {LONGEST_WATCH_MIN}")
    site = Site(
        **{key: reader.take(head, key, str, line) for key in sorted(_TEXT)},
        spoken=_words(reader, head, line),
        altitude_ft=reader.take(head, "altitude_ft", _NUMBER, line),
        units=reader.take(head, "units", str, line),
        category=reader.take(head, "category", str, line),
        watch_minutes=tuple(minutes),
        dead_minutes=reader.take(head, "dead_minutes", _NUMBER, line),
        check_in_minutes=reader.take({"check_in_minutes": 0, **head}, "check_in_minutes", _NUMBER, line),
        racks=tuple(racks),
        people=_people(reader, reader.take(data, "person", list, 1), "person"),
        technicians=_people(reader, reader.take({"technician": [], **data}, "technician", list, 1), "technician"),
        instruments=_instruments(reader, head, line),
        source=str(path),
    )
    for key, words, near in of_site(site) if not reader.faults else ():
        reader.fault(key, _line_after(reader, near), words)
    if reader.faults:
        raise ProfileFaults(reader.faults)
    return site


def _line_after(reader: _Reader, text: str) -> int:
    """The line before the one that holds this text; 0 where none does."""
    return next((n for n, line in enumerate(reader.lines) if text and text in line), 0)
