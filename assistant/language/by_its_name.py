"""What speaks against safety when a reading is named with its value, at whatever question: "detector alarm", "clear no"."""

from functools import cache

from assistant.language.meaning import Remark
from assistant.language.vocabulary import vocabulary

_NO = ("no", "nope", "not", "negative", "false")
_AGAINST: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("detector_state", ("alarm", "in alarm", "alarms"), "alarm"),
    ("detector_state", ("dead", "none"), "no detector"),
    ("ventilation_running", _NO, "no fan"),
    ("everybody_safe", _NO, "not all safe"),
    ("room_safe", _NO, "room not safe"),
    ("lock_still_on", _NO, "lock off"),
    ("locked_out", (*_NO, "someone else", "someone_else"), "lock off"),
    ("others_clear", _NO, "others_clear"),
    ("covers_on", _NO, "panel_cover"),
    ("service_valves_open", _NO, "service_valves_open"),
    ("start_prevented", _NO, "not blocked"),
    ("meter_proved_before", _NO, "misread"),
    ("meter_proved_after", _NO, "misread"),
    ("clothing_meets_label", _NO, "gear"),
    ("control_power_off", _NO, "live"),
    ("coil_seated", ("loose",), "coil off"),
    ("ladder_kind", ("metal",), "metal ladder"),
    ("running_now", ("just tripped", "tripped", "off"), "tripped"),
    ("leak_found", ("yes",), "leak"),
    ("rotation", ("reversed", "backwards"), "backwards"),
)
"""The reading, the values that speak against it, and what is said by them."""
_OTHER_NAMES = {
    "lock_still_on": ("lock still on", "lock on", "my lock on", "lock"), "others_clear": ("everybody clear", "others clear"),
    "ventilation_running": ("ventilation running", "ventilation"), "service_valves_open": ("service valves open", "valve open"),
    "meter_proved_before": ("meter",), "control_power_off": ("control power off",), "detector_state": ("detector state",),
    "locked_out": ("locked",), "start_prevented": ("start prevented",), "clothing_meets_label": ("clothing meets label",),
    "ladder_kind": ("the ladder",), "everybody_safe": ("everyone safe",),
}  # fmt: skip


@cache
def _phrases() -> dict[str, tuple[str, str]]:
    """Every such phrase, with the reading and what is said by it."""
    found: dict[str, tuple[str, str]] = {}
    for id_, values, about in _AGAINST:
        for name in (vocabulary()[id_].say, *_OTHER_NAMES.get(id_, ())):
            for value in values:
                forms = [f"{name} {value}", f"{name} is {value}"]
                forms += [f"{value} {name}"] if value in ("no", "not") else []
                for form in forms:
                    found.setdefault(form, (id_, about))
    found |= dict.fromkeys(("power on", "control power on"), ("control_power_on", "live"))
    return found


def by_its_name(text: str, asked: tuple[str, ...] = ()) -> Remark | None:
    """What these words say against safety; None for nothing, or where the reading they name is what was asked.

    Args:
        text: normalised words.
        asked: ids of the question.

    >>> by_its_name("detector alarm"), by_its_name("not clear"), by_its_name("detector quiet")
    (Remark(about='alarm'), Remark(about='others_clear'), None)
    """
    id_, about = _phrases().get(text, ("", ""))
    to_come = id_ == "control_power_on" and "confirm" in asked  # said in place of a yes: it is asked for in a moment
    return Remark(about) if about and id_ not in asked and not to_come else None
