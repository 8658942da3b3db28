"""How long ago an alarm came, as people say it."""

import re
from datetime import datetime, timedelta

from assistant.language.meaning import AskFor, Part
from assistant.language.numbers import number

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_HOUR = re.compile(
    r"(?:since |at |about |around )*(yesterday )?(?:at |about |around )*(.+?)( o'clock)?"
    r"( last night| this morning| tonight| yesterday| this afternoon| in the morning)?"
)
_SPAN = re.compile(r"(?:about |around |roughly )*([\w ]+?) hours?(?: and)? ([\w ]+?) minutes?(?: ago| back| now)?")
ASK_MINUTES = AskFor("How many minutes or hours ago?")


def minutes_ago(id: str, words: str, now: datetime | None) -> Part | AskFor | None:
    """Minutes since the moment these words name; None when they name none.

    "Since Friday" gives no hour and is asked back; so is every clock time: the half of the day is a guess.

    Args:
        id: id of the reading.
        words: normalised words.
        now: the site's clock; without it the answer is asked for in minutes.
    """
    if (span := _span(words)) is not None:
        return Part(id, span, "min")
    moment = _moment(words, now or datetime(2000, 1, 1, 12))
    if moment is None:
        return None
    if now is None:
        return ASK_MINUTES
    then, exact = moment
    minutes = float(round((now - then).total_seconds() / 60))
    if minutes < 0:
        return ASK_MINUTES
    day = "today" if then.date() == now.date() else f"on {_DAYS[then.weekday()].capitalize()}"
    return Part(id, minutes, "min", doubt="" if exact else f"Since {_clock(then)} {day}?")


def _span(words: str) -> float | None:
    """Minutes of "two hours twenty minutes"; None for anything else."""
    match = _SPAN.fullmatch(words)
    if not match:
        return None
    try:
        hours = 1.0 if match[1] in ("an", "a") else float(number(match[1]))
        minutes = float(number(match[2]))
    except ValueError:
        return None
    return 60 * hours + minutes if minutes < 60 and hours <= 48 else None


def _clock(then: datetime) -> str:
    half = "in the morning" if then.hour < 12 else "in the evening" if then.hour >= 17 else "in the afternoon"
    return "midnight" if then.hour == 0 else "noon" if then.hour == 12 else f"{then.hour % 12 or 12} {half}"


def _moment(words: str, now: datetime) -> tuple[datetime, bool] | None:
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    if words in ("since midnight", "midnight", "at midnight"):
        return midnight, True
    if words in ("since noon", "noon", "at noon"):
        return midnight + timedelta(hours=12), True
    for i, name in enumerate(_DAYS):
        if words in (f"since {name}", name, f"on {name}"):
            return midnight - timedelta(days=(now.weekday() - i) % 7 or 7), False
    match = _HOUR.fullmatch(words)
    if not match or not (match[1] or match[4]):
        return None
    try:
        hour = number(match[2])
    except ValueError:
        return None
    if hour not in range(1, 13):
        return None
    when = (match[4] or match[1] or "").strip()
    start = midnight - timedelta(days=1) if when in ("yesterday", "last night") else midnight
    if when in ("last night", "tonight"):
        # From five in the evening to four in the morning is one night.
        later = hour < 5 or hour == 12
        start, hour = (start + timedelta(days=1), hour % 12) if later else (start, hour + 12)
    elif when in ("this morning", "in the morning"):
        hour %= 12
    elif hour < 7 or when == "this afternoon":
        hour = hour % 12 + 12
    return start + timedelta(hours=hour), False
