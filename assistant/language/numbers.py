"""Spoken words to a number, with its inverse."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache


def words(text: str) -> tuple[str, ...]:
    """The words of a table written as one line."""
    return tuple(text.split())


DIGITS = words("one two three four five six seven eight nine")
ORDINALS = words("first second third fourth fifth sixth seventh eighth ninth")
TEENS = words("ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
TENS = words("twenty thirty forty fifty sixty seventy eighty ninety")
_ONES = {word: n for n, word in enumerate(DIGITS, 1)}
_TEEN = {word: n for n, word in enumerate(TEENS, 10)}
_TEN = {word: 10 * n for n, word in enumerate(TENS, 2)}
_SINGLE = {"zero": 0, "oh": 0} | _ONES
_NUMERAL = re.compile(r"(-?\d+(?:\.\d+)?|-?\.\d+)(k|m|meg|v|a|f|psi)?")

UNIT_WORDS = {
    "psi": "psi|p s i|psig|p s i g|pounds per square inch",
    "pound": "pounds|pound|lbs|lb",
    "bar": "bar|bars|barg",
    "inch": "inches|inch|inches of vacuum|inches vacuum|inches of mercury|inches mercury|inch of vacuum",
    "degree": "degrees|degree",
    "fahrenheit": "degrees fahrenheit|degree fahrenheit|fahrenheit|degrees f|f",
    "celsius": "degrees celsius|degree celsius|celsius|degrees c|c|centigrade|degrees centigrade",
    "volt": "volts|volt|v",
    "amp": "amps|amp|amperes|a",
    "ohm": "ohms|ohm",
    "k": "k|kilohms|kilohm|k ohms|k ohm|kay",
    "meg": "meg|megs|megohms|megohm|meg ohms|m",
    "gig": "gig|gigs|gigohms|gig ohms",
    "minute": "minutes|minute|mins|minutes ago|minute ago",
    "second": "seconds|second",
    "hour": "hours|hour|hours ago|hour ago",
    "day": "days|day|days ago|day ago",
    "week": "weeks|week|weeks ago",
    "month": "months|month|months ago|month ago",
    "ounce": "ounces|ounce",
    "kilo": "kilos|kilo|kilograms|kilogram|kg",
    "quart": "quarts|quart",
    "pint": "pints|pint",
    "gallon": "gallons|gallon",
    "liter": "liters|liter|litres|litre",
    "percent": "percent|per cent",
    "hertz": "hertz|cycles",
    "kilopascal": "k p a|kpa|kilopascals|kilopascal",
    "piece": "running|are running|is running|fans running|fans are running|tripped|are tripped|have tripped"
    "|compressors|compressor|machines|machine|fans|fan|starts|start|alarms|alarm|of them|times|time",
}  # fmt: skip
"""What follows a number, by the one name that the rest of the program uses for it."""

_UNITS = sorted(
    ((tuple(form.split()), unit) for unit, forms in UNIT_WORDS.items() for form in forms.split("|")),
    key=lambda pair: -len(pair[0]),
)
_ENDS = frozenset(form[-1] for form, _ in _UNITS)
_SCALE = {"k": Decimal(1000), "meg": Decimal(10**6), "gig": Decimal(10**9), "ounce": Decimal(1) / 16}
_FRACTIONS = {
    ("half",): "0.5", ("a", "half"): "0.5", ("half", "a"): "0.5", ("half", "an"): "0.5", ("quarter",): "0.25",
    ("a", "quarter"): "0.25", ("quarter", "of", "a"): "0.25", ("a", "quarter", "of", "a"): "0.25",
    ("three", "quarters"): "0.75", ("three", "quarters", "of", "a"): "0.75", ("three", "quarters", "of", "an"): "0.75",
    ("quarter", "of", "an"): "0.25", ("a", "quarter", "of", "an"): "0.25",
}  # fmt: skip
_AND_FRACTIONS = {
    ("and", "a", "half"): "0.5", ("and", "half"): "0.5", ("and", "a", "quarter"): "0.25",
    ("and", "three", "quarters"): "0.75", ("and", "three", "quarter"): "0.75", ("and", "quarter"): "0.25",
}  # fmt: skip


@dataclass(frozen=True)
class Quantity:
    """A number as it was said, before the question gives it a meaning."""

    value: Decimal
    unit: str
    """A key of `UNIT_WORDS`, or empty: the bare number. Never applied to the value here."""
    odd: bool = False
    """Said in a way that people also use for something else ("five two fifty"): ask it back."""


def number(text: str) -> float:
    """The number that these words say, as the trade says numbers.

    "k", "meg" and "gig" multiply, ounces are sixteenths; any other unit after the number is passed over.
    The expected range plays no part: "two forty" is 240 everywhere.

    Args:
        text: spoken words or typed figures, in any case.

    Raises:
        ValueError: these words are no number, with the words.

    >>> number("two oh eight"), number("minus twenty five"), number("ten point five k"), number("half a volt")
    (208.0, -25.0, 10500.0, 0.5)
    >>> number("forty five point eight thousand")
    45800.0
    """
    said = quantity(text)
    return float(said.value * _SCALE.get(said.unit, Decimal(1)))


def told_number(text: str) -> float | None:
    """The number of a quantity, in the unit that it is said in; None where these words are none.

    >>> told_number("ten point five k"), told_number("a bit"), told_number("two hundred volts")
    (10.5, None, 200.0)
    """
    try:
        return float(quantity(text).value)
    except ValueError:
        return None


def tears_a_ten(words: Sequence[str], cut: int) -> bool:
    """Whether a cut parts a ten from the digit behind it, which are one number.

    Args:
        words: as said.
        cut: of them stand before the cut, one at least.

    >>> tears_a_ten(("fifty", "five"), 1), tears_a_ten(("fifty", "ten"), 1), tears_a_ten(("fifty",), 1)
    (True, False, False)
    """
    return words[cut - 1] in TENS and cut < len(words) and words[cut] in DIGITS


def quantity(text: str) -> Quantity:
    """The number that these words say, apart from its unit.

    Raises:
        ValueError: these words are no number, with the words.

    >>> quantity("a pound and a half")
    Quantity(value=Decimal('1.5'), unit='pound', odd=False)
    """
    said = _signed(tuple(text.lower().replace(",", "").split()))
    if said is None:
        raise ValueError(f"no number in {text!r}")
    return said


@lru_cache(maxsize=4096)
def _signed(words: tuple[str, ...]) -> Quantity | None:
    if words[-1:] == ("ago",):
        words = words[:-1]
    if words[:3] in (("hour", "and", "a"), ("pound", "and", "a"), ("degree", "and", "a")) or (
        len(words) > 1 and words[0] in ("hundred", "thousand")
    ):
        words = ("a", *words)  # "hundred and twenty" is said of one hundred
    if "point" in words and (words[-1:] == ("thousand",) or words[-2:] == ("thousand", "ohms")):
        words = (*words[: words.index("thousand")], "k")
    if words[:1] in (("minus",), ("negative",)):
        said = _measured(words[1:])
        return said and Quantity(-said.value, said.unit, said.odd)
    if len(words) > 1 and (words[-1:] == ("above",) or words[-2:] == ("above", "zero")):
        words = words[: -1 - (words[-1] == "zero")]  # "five above": what is said where it may be below
    for tail in (("below",), ("below", "zero")):
        if words[-len(tail) :] == tail:
            said = _measured(words[: -len(tail)])
            return said and Quantity(-said.value, said.unit, said.odd)
    return _measured(words[:-1] if words[-1:] in (("even",), ("exactly",)) else words)


def _measured(words: tuple[str, ...]) -> Quantity | None:
    """A number with no sign, its unit behind it or in its middle."""
    if words[-1:] in (("ounces",), ("ounce",)) and (said := _pounds_and_ounces(words[:-1])) is not None:
        return said
    if len(words) == 1 and (figure := _NUMERAL.fullmatch(words[0])):
        unit = {"m": "meg", "v": "volt", "a": "amp", "f": "fahrenheit"}.get(figure[2] or "", figure[2] or "")
        return Quantity(Decimal(figure[1]), unit)
    unit, head_words = _split_unit(words)
    for tail, part in _AND_FRACTIONS.items():
        if head_words[-len(tail) :] == tail:
            head = _measured(head_words[: -len(tail)])
            plain = head is not None and head.value == int(head.value) and not (unit and head.unit)
            return Quantity(head.value + Decimal(part), unit or head.unit) if head and plain else None
    if unit and head_words in (("a",), ("an",)):
        return Quantity(Decimal(1), unit)
    value = _unsigned(head_words)
    odd = _pattern(head_words) == "ssp" or (unit == "ounce" and value is not None and value > 15)
    return None if value is None else Quantity(value, unit, odd)


def _split_unit(words: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    for form, unit in _UNITS if words and words[-1] in _ENDS else ():
        if len(words) > len(form) and words[-len(form) :] == form:
            return unit, words[: -len(form)]
    return "", words


def _pounds_and_ounces(words: tuple[str, ...]) -> Quantity | None:
    """ "ten four", "ten pounds four", "ten pounds and four": pounds, then ounces below sixteen."""
    for cut in range(1, len(words)):
        tail = words[cut + 1 :] if words[cut] == "and" else words[cut:]
        unit, head = _split_unit(words[:cut])
        pounds, ounces = _whole(head), _below_hundred(tail)
        if not unit and head and head[-1] in _TEN and tail[:1] and tail[0] in _ONES:
            continue  # "twenty four ounces" is one number, asked back
        if pounds is not None and ounces is not None and ounces < 16 and unit in ("", "pound"):
            return Quantity(Decimal(pounds) + Decimal(ounces) / 16, "pound")
    return None


def _unsigned(words: tuple[str, ...]) -> Decimal | None:
    if words in _FRACTIONS:
        return Decimal(_FRACTIONS[words])
    if len(words) == 1 and (figure := _NUMERAL.fullmatch(words[0])) and not figure[2]:
        return Decimal(figure[1])
    if "point" not in words:
        whole = _whole(words)
        return None if whole is None else Decimal(whole)
    cut = words.index("point")
    left, right = words[:cut], words[cut + 1 :]
    before = 0 if left in ((), ("oh",)) else _whole(left)
    after = "".join(_groups(right) or []) if _pattern(right) in ("s" * len(right), "p") else None
    return None if before is None or not after else Decimal(f"{before}.{after}")


def _whole(words: tuple[str, ...]) -> int | None:
    for name, scale in (("million", 10**6), ("thousand", 1000)):
        if name in words:
            cut = words.index(name)
            left, right = words[:cut], words[cut + 1 :]
            right = right[1:] if right[:1] == ("and",) else right
            high = 1 if left == ("a",) else _whole(left)
            low = (_whole(right) if right else 0) if right or words[-1] != "and" else None
            # Single digits behind "thousand" could be decimals or a second number.
            if right and _pattern(right) == "ss" and right[0] not in ("oh", "zero"):
                return None
            fits = high is not None and low is not None and 0 < high < 1000 and low < scale
            return high * scale + low if fits and high is not None and low is not None else None
    return _below_ten_thousand(words)


def _below_ten_thousand(words: tuple[str, ...]) -> int | None:
    if "hundred" not in words:
        text = _digit_string(words)
        return None if text is None or words == ("oh",) else int(text)
    cut = words.index("hundred")
    left, right = words[:cut], words[cut + 1 :]
    if right[:1] == ("and",):
        right = right[1:]
        if not right:
            return None
    high = 1 if left == ("a",) else _below_hundred(left)
    low = _below_hundred(right) if right else 0
    return None if high is None or low is None else high * 100 + low


def _below_hundred(words: tuple[str, ...]) -> int | None:
    """1 to 99."""
    if len(words) == 1:
        return (_ONES | _TEEN | _TEN).get(words[0])
    if len(words) == 2 and words[0] in _TEN and words[1] in _ONES:
        return _TEN[words[0]] + _ONES[words[1]]
    return None


def _groups(words: tuple[str, ...]) -> list[str] | None:
    """Figures of each single digit and each pair in a row of them: "two forty one" is 2, 41."""
    groups: list[str] = []
    after_ten = False
    for word in words:
        if after_ten and word in _ONES:
            groups[-1] = str(int(groups[-1]) + _ONES[word])
        elif word in _SINGLE:
            groups.append(str(_SINGLE[word]))
        elif word in _TEEN or word in _TEN:
            groups.append(str((_TEEN | _TEN)[word]))
        else:
            return None
        after_ten = word in _TEN
    return groups


def _pattern(words: tuple[str, ...]) -> str:
    """One letter a group: `s` a single digit, `p` a pair; empty when there is any other word."""
    return "".join("s" if len(group) == 1 else "p" for group in _groups(words) or [])


def _digit_string(words: tuple[str, ...]) -> str | None:
    """Figures of a number said without "hundred": 2 0 8, 1 47, 12 50, 12 0 5, 5 2 50."""
    groups, pattern = _groups(words), _pattern(words)
    if not groups:
        return None
    single = set(pattern) == {"s"} and len(groups) <= 9
    joined = pattern in ("p", "sp", "pp", "ssp") and groups[0] != "0"
    gap = pattern == "pss" and groups[1] == "0"
    return "".join(groups) if single or joined or gap else None


@lru_cache(maxsize=4096)
def spoken_number(value: float, kind: str = "") -> str:
    """The number as the trade says it; `number` of it is the value again.

    Args:
        value: any finite number, in the unit it is to be said in.
        kind: kind of reading of the vocabulary; `ohms` are said in k from 10,000 and in meg from a million.

    >>> spoken_number(147.3), spoken_number(1250000, "ohms"), spoken_number(208)
    ('one forty seven point three', 'one point two five meg', 'two oh eight')
    """
    exact = Decimal(repr(float(value)))
    if exact < 0:
        return "minus " + spoken_number(-value, kind)
    if kind == "ohms" and exact >= 10**6:
        return _spoken(exact / 10**6) + " meg"
    if kind == "ohms" and exact >= 10**4:
        return _spoken(exact / 1000) + " k"
    return _spoken(exact)


def twin(value: float) -> float | None:
    """The number that is easily heard for this one: the teen of a ten, the ten of a teen; None where it has none.

    >>> twin(215), twin(-50), twin(60.8), twin(208)
    (250.0, -15.0, 16.8, None)
    """
    exact = Decimal(repr(abs(float(value))))
    whole = int(exact)
    pair = whole % 100
    if 13 <= pair <= 19:
        other = 10 * (pair - 10)
    elif 30 <= pair <= 90 and pair % 10 == 0:
        other = 10 + pair // 10
    else:
        return None
    return math.copysign(float(exact + other - pair), value)


def _spoken(value: Decimal) -> str:
    whole, _, after = f"{value:f}".partition(".")
    after = after.rstrip("0")
    words = _spoken_whole(int(whole))
    if not after:
        return words
    decimals = " ".join("oh" if figure == "0" else DIGITS[int(figure) - 1] for figure in after)
    return f"point {decimals}" if int(whole) == 0 else f"{words} point {decimals}"


def _spoken_whole(n: int) -> str:
    if n < 10:
        return "zero" if n == 0 else DIGITS[n - 1]
    if n < 20:
        return TEENS[n - 10]
    if n < 100:
        return TENS[n // 10 - 2] + (f" {DIGITS[n % 10 - 1]}" if n % 10 else "")
    high, low = divmod(n, 100)
    if n < 1000 or (n < 10_000 and high % 10):
        return f"{_spoken_whole(high)} " + (
            "hundred" if low == 0 else f"oh {DIGITS[low - 1]}" if low < 10 else _spoken_whole(low)
        )
    name, scale = ("thousand", 1000) if n < 10**6 else ("million", 10**6)
    high, low = divmod(n, scale)
    return f"{_spoken_whole(high)} {name}" + (f" {_spoken_whole(low)}" if low else "")
