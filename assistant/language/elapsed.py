"""How long ago an alarm came, as people say it."""

import re
from datetime import datetime, timedelta

from assistant.language.meaning import AskFor, Part, Question
from assistant.language.numbers import number, spoken_number

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_HOUR = re.compile(
    r"(?:since |at |about |around )*(yesterday )?(?:at |about |around )*(.+?)( o'clock)?"
    r"( last night| this morning| tonight| yesterday| this afternoon| in the morning)?"
)
_SPAN = re.compile(r"(?:about |around |roughly )*([\w ]+?) hours?(?: and)? ([\w ]+?) minutes?(?: ago| back| now)?")
_FACE = re.compile(
    r"(?:(?:it|she|he|they|that) )?(?:(?:went|tripped|dropped|quit|stopped) )?(?:(?:off|out|down) )?"
    r"(?P<lead>(?:(?:since|at|from|about|around|just after|just before|gone|nearly) )*)"
    r"(?:(?P<part>half|quarter|[a-z ]+?)(?: minutes)? (?P<way>past|to|after|before|of|till) (?P<of>[a-z]+)"
    r"|half (?P<half>[a-z]+)|(?P<hour>[a-z]+) (?P<minutes>(?:oh )?[a-z ]+?)|(?P<alone>[a-z]+) o'clock)"
    r"(?P<when> (?:in the |this )(?:morning|afternoon|evening)| tonight| last night)?"
)
"""A time as the face of a clock has it: "ten to three", "half past one", "since two thirty"."""
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
    moment = _moment(words, now or datetime(2000, 1, 1, 12)) or _on_the_face(words, now or datetime(2000, 1, 1, 12))
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


def by_the_clock(question: Question, words: str) -> tuple[str, Part] | None:
    """A sentence without the time of day that it tells of the trip, and that as minutes ago; None where it tells none.

    >>> ask = Question("tripped_count", ("alarm_minutes_ago",), now=datetime(2026, 3, 4, 4, 20))
    >>> by_the_clock(ask, "just the one, it went at ten to three")[0]
    'just the one'
    """
    if question.now is None or "alarm_minutes_ago" not in (question.asking, *question.also):
        return None
    match = None if _SPAN_TOLD.search(words.lower()) else _IN_A_SENTENCE.search(words.lower())
    part = minutes_ago("alarm_minutes_ago", match[1], question.now) if match else None
    if match is None or not isinstance(part, Part):
        return None
    rest = f"{words[: match.start()]} {words[match.end() :]}"
    return " ".join(rest.split()).strip(" ,."), part


_SPAN_TOLD = re.compile(r"\b(?:minutes?|hours?|days?)\b")
"""Minutes or hours are told: what else is told of the clock is of something else."""
_DIGITS = "one|two|three|four|five|six|seven|eight|nine"
_HOURS = rf"(?:{_DIGITS}|ten|eleven|twelve)"
_TWO_FIGURES = rf"(?:(?:twenty|thirty|forty|fifty)(?: (?:{_DIGITS}))?|oh (?:{_DIGITS})|ten|eleven|twelve|\w+teen)"
_IN_A_SENTENCE = re.compile(
    r"(?:^|[,.] ?|\b(?:and|but) )(?:and )?(?:(?:it|she|he|they|that) )?(?:(?:went|tripped|dropped|quit|stopped|was) )?"
    r"(?:(?:off|out|down) )?"
    r"((?:since|at) (?:about |around |just after |just before |nearly )?"
    rf"(?:(?:half|quarter|a quarter|five|ten|twenty|twenty five) (?:past|to|after) {_HOURS}|half {_HOURS}"
    rf"|{_HOURS} {_TWO_FIGURES})"
    r"(?: (?:in the |this )(?:morning|afternoon|evening)| tonight| last night)?)\b(?! (?:volts|amps|degrees|pounds|psi|ohms)\b)"
)


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
    if then.minute:
        oh = "oh " if then.minute < 10 else ""
        return f"{spoken_number(then.hour % 12 or 12)} {oh}{spoken_number(then.minute)} {half}"
    return "midnight" if then.hour == 0 else "noon" if then.hour == 12 else f"{then.hour % 12 or 12} {half}"


def _on_the_face(words: str, now: datetime) -> tuple[datetime, bool] | None:
    """The last such time before now, of which nobody said whether it was morning; None where the words name none."""
    match = _FACE.fullmatch(words)
    if not match or (match["hour"] and "since" not in match["lead"] and "at" not in match["lead"].split()):
        return None
    parts = {"half": 30.0, "quarter": 15.0, "a quarter": 15.0}
    try:
        hour = number(match["of"] or match["half"] or match["hour"] or match["alone"])
        said = match["part"] or ("half" if match["half"] else match["minutes"] or "zero")
        minutes = parts[said] if said in parts else number(said.removeprefix("oh "))
    except ValueError:
        return None
    if hour not in range(1, 13) or minutes not in range(60) or (match["hour"] and not (minutes >= 10 or said.startswith("oh "))):
        return None
    minutes = -minutes if match["way"] in ("to", "before", "of", "till") else minutes
    today = now.replace(hour=0, minute=0, second=0, microsecond=0)
    at = [today + timedelta(hours=hour % 12 + half, minutes=minutes) for half in (-24, -12, 0, 12)]
    when = match["when"] or ""
    halves = {"morning": range(12), "afternoon": range(12, 18), "evening": range(16, 24)}
    right = next((hours for name, hours in halves.items() if name in when), range(24))
    past = [one for one in at if one <= now and one.hour in right]
    return (past[-1], False) if past else None


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
