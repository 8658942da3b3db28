"""Text as it is shown to text as the voice must be given it: units, signs, refrigerants and figures in words.

The voice reads "psi" as "sigh", "R410A" as "four hundred ten" and loses the minus of "- 12". Figures become the words
that a value is read back with, so that the same thing is always said in the same words.
"""

import re
from collections.abc import Callable

from assistant.language.numbers import DIGITS, TEENS, spoken_number

_NUMBER = r"(?<![\w.,])(\d+(?:,\d{3})*(?:\.\d+)?)"
_UNITS = {
    "psig": "P S I", "psia": "P S I absolute", "psid": "P S I", "psi": "P S I", "kPa": "kilo pascals", "MPa": "mega pascals",
    "barg": "bar", "bara": "bar absolute", "mbar": "milli bar", "inHg": "inches of mercury", "microns": "microns",
    "micron": "microns", "µm": "microns", "um": "microns", "°F": "degrees", "°C": "degrees", "degF": "degrees",
    "degC": "degrees", "F": "degrees", "C": "degrees", "K": "kelvins", "mV": "milli volts", "kV": "kilo volts",
    "V": "volts", "mA": "milli amps", "A": "amps", "kΩ": "k", "MΩ": "meg", "Ω": "ohms", "Mohm": "meg", "kohm": "k",
    "ohms": "ohms", "ohm": "ohms", "kHz": "kilo hertz", "Hz": "hertz", "kW": "kilo watts", "W": "watts",
    "%": "percent", "lbs": "pounds", "lb": "pounds", "oz": "ounces", "kg": "kilos", "ft": "feet", "in": "inches",
    "mm": "milli meters", "rpm": "R P M", "min": "minutes", "h": "hours", "s": "seconds", "dB": "decibels", "ppm": "P P M",
}  # fmt: skip
"""What stands behind a number, and how it is said."""
_ONE = {
    "amps": "amp", "volts": "volt", "ohms": "ohm", "degrees": "degree", "pounds": "pound", "ounces": "ounce", "feet": "foot",
    "inches": "inch", "minutes": "minute", "hours": "hour", "seconds": "second", "microns": "micron", "kilos": "kilo",
}  # fmt: skip
_ALONE = {
    r"\bpsi[agd]?\b": "P S I", r"\bkPa\b": "kilo pascals", r"\bAC\b": "A C", r"\bDC\b": "D C", r"\bCO2\b": "C O two",
    r"\bCAT III\b": "category three", r"\bCAT IV\b": "category four", r"\bA2L\b": "A two L", r"\bEPR\b": "E P R",
    r"\bOL\b": "O L", r"\bTXV\b": "T X V", r"\bLED\b": "L E D", r"\brpm\b": "R P M", r"Δ ?T\b": "delta T",
    r"\bV(?=AC\b|DC\b)": "volts ", "°": " degrees ", "±": " plus or minus ", "≥": " at least ", "≤": " at most ", "%": " percent",
    " [&] ": " and ", "µm": "microns", r"\bΩ": "ohms",
}  # fmt: skip
"""Written without a number before it."""
_FRACTIONS = {
    "1/2": "one half", "1/4": "one quarter", "3/4": "three quarters", "1/3": "one third", "2/3": "two thirds",
    "1/8": "one eighth", "3/8": "three eighths", "5/8": "five eighths", "7/8": "seven eighths", "1/16": "one sixteenth",
    "½": "one half", "¼": "one quarter", "¾": "three quarters", "⅛": "one eighth", "⅜": "three eighths", "⅝": "five eighths",
    "⅞": "seven eighths",
}  # fmt: skip
_FIGURES = "|".join((*DIGITS, *TEENS))
_LETTERS = " ".join


def spelled(text: str) -> str:
    """Units, signs, refrigerants and figures written out so that the voice says them right.

    >>> spelled("R-448A at -12.5 psig")
    'R four forty eight eigh at minus twelve point five P S I'
    >>> spelled("It stays at 200 to 300 degrees.")
    'It stays at two hundred to three hundred degrees.'
    """
    for step in (_refrigerants, _fractions, _signs, _units, _alone, _numbers, _letter_a):
        text = step(text)
    return re.sub(r" {2,}", " ", text).strip()


def _refrigerants(text: str) -> str:
    def said(match: re.Match[str]) -> str:
        figures, tail = match[1], match[2] or match[3] or ""
        return f"R {spoken_number(float(figures))}" + (f" {_LETTERS(tail.upper())}" if tail else "")

    # "R 407 A" is how a table spells it; two figures take no letter, or "R 22 A" would swallow an article.
    return re.sub(r"\bR[- ]?(\d{2,4})(?:([A-Ia-i]|yf|ze)\b|(?<=\d{3}) ([A-I])\b)?(?!\d)", said, text)


def _fractions(text: str) -> str:
    def said(match: re.Match[str]) -> str:
        whole, fraction = match[1], _FRACTIONS[match[2]]
        return f"{whole} and {fraction.replace('one half', 'a half')}" if whole else fraction

    known = "|".join(sorted(map(re.escape, _FRACTIONS), key=len, reverse=True))
    return re.sub(rf"(?<![\w/.])(?:(\d+)[ -]?)?({known})(?![\w/])", said, text)


def _signs(text: str) -> str:
    text = re.sub(r"(?<=\d) ?[-–] ?(?=\d)", " to ", text)  # 20-40
    text = re.sub(r"(?<![\w.])[-−–] ?(?=\d|\.\d)", "minus ", text)
    text = re.sub(r"(?<![\w.])\+ ?(?=\d)", "plus ", text)
    text = re.sub(r"(?<=\d)/(?=\d)", " or ", text)
    text = re.sub(r"(?<![\w])> ?(?=\d)", "over ", text)
    return re.sub(r"(?<![\w])< ?(?=\d)", "under ", text)


def _units(text: str) -> str:
    known = "|".join(sorted(map(re.escape, _UNITS), key=len, reverse=True))

    def said(match: re.Match[str]) -> str:
        unit = _UNITS[match[2]]
        return f"{match[1]} {_ONE.get(unit, unit) if match[1] == '1' else unit}"

    # "in" and "A" are words too: as units they stand before no word that would follow a preposition or an article.
    text = re.sub(rf"{_NUMBER} ?({known})(?![\w%])(?! (?:the|a|an|your|one|this)\b)", said, text)
    return re.sub(r"(?<=[a-z]) ?/ ?(?:min|minute)\b", " a minute", text)


def _alone(text: str) -> str:
    for pattern, words in _ALONE.items():
        text = re.sub(pattern, words, text)
    return text


def _numbers(text: str) -> str:
    said: Callable[[re.Match[str]], str] = lambda m: spoken_number(float(m[1].replace(",", "")))  # noqa: E731
    text = re.sub(r"(?<![\w.:])(\d+(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)(?![\w:]|\.\d)", said, text)
    return re.sub(r"(?<![\w.])(\.\d+)(?!\w)", said, text)


def _letter_a(text: str) -> str:
    """A letter A is taken for the article, "uh": inside a sentence a capital A is always the letter, and so is one that only a
    figure follows: compressor two of rack A is "A two"."""
    return re.sub(rf"(?<=\w )A(?=$|[ .,;:?!])|\bA(?= C\b)|\bA(?= (?:{_FIGURES})(?:[.,?]|$))", "eigh", text)
