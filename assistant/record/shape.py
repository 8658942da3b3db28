"""Whether the fields of a log line have the types of the fact that it is read as."""

import math
import types
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from assistant.call.facts import FACTS, Fact, from_record

Fits = Callable[[Any], bool]


def fact_of(record: Mapping[str, Any]) -> Fact:
    """The fact of a log line, its fields of the types that it was written with.

    Raises:
        ValueError: the kind is not known, or a field is missing or of another type; names it.
    """
    kind = record.get("kind")
    if not isinstance(kind, str) or kind not in FACTS:
        raise ValueError(f"unknown kind {str(kind)[:60]!r}")
    for name, fits in _checks(kind).items():
        if name in record and not fits(record[name]):
            raise ValueError(f"{kind}: '{name}' is {str(record[name])[:60]!r}")
    return from_record(record)


@cache
def _checks(kind: str) -> Mapping[str, Fits]:
    return {name: _check(hint) for name, hint in get_type_hints(FACTS[kind]).items()}


def _check(hint: Any) -> Fits:
    """What takes a value as JSON gives it, by the type of its field."""
    origin, parts = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        fits = [_check(part) for part in parts]
        return lambda value: any(one(value) for one in fits)
    if origin is Literal:
        return lambda value: value in parts
    if origin is tuple:
        return _tuple(parts)
    plain: dict[Any, Fits] = {
        str: lambda value: isinstance(value, str),
        bool: lambda value: isinstance(value, bool),
        int: lambda value: isinstance(value, int) and not isinstance(value, bool) and abs(value) < 1e12,
        float: lambda value: isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
        and abs(value) < 1e15,
        type(None): lambda value: value is None,
    }  # fmt: skip
    return plain[hint]


def _tuple(parts: tuple[Any, ...]) -> Fits:
    if len(parts) == 2 and parts[1] is Ellipsis:
        one = _check(parts[0])
        return lambda value: isinstance(value, list) and all(one(item) for item in value)
    fits = [_check(part) for part in parts]
    return lambda value: (
        isinstance(value, list) and len(value) == len(fits) and all(fit(item) for fit, item in zip(fits, value, strict=True))
    )
