"""A number that was said in the unit of another quantity is no reading of this one: "zero volts" where pounds are asked for."""

import re
from dataclasses import replace

from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.numbers import DIGITS, UNIT_WORDS, quantity
from assistant.language.quantities import NUMBER_KINDS, ask_for_unit, in_its_unit
from assistant.language.vocabulary import vocabulary

_FORMS = {form: unit for unit, forms in UNIT_WORDS.items() for form in forms.split("|") if len(form) > 1 and unit != "piece"}
_LONGEST_FIRST = sorted(map(re.escape, _FORMS), key=lambda form: -len(form))
_FIGURE = "|".join(sorted(map(re.escape, FIGURES)))
_BEHIND = re.compile(rf"(?:{'|'.join(_LONGEST_FIRST)})\b(?: and a (?:half|quarter)\b)?(?!(?: is| are| at)? (?:{_FIGURE}|\d))")
"""A unit; before another number it is that one's name: "one ninety, amps twenty three"."""
_OF_A_COUNT = re.compile(r"of (?:them|those|these|the others?)\b")
_RUN = re.compile(rf"\b(?:(?:{_FIGURE}|and|an?|[-\d][\d.]*)(?: |$))+")


def in_its_own_unit(question: Question, text: str, said: Meaning) -> Meaning:
    """The meaning, less every number that stands only before another's unit; its own is asked for where none is left.

    Args:
        question: what was asked.
        text: normalised, the whole sentence.
        said: what it was taken for.

    >>> zero = Answer((Part("refrigerant_added", 0.0, "lb"),))
    >>> in_its_own_unit(Question("refrigerant_added"), "it's gone there i got zero volts", zero)
    AskFor(say='Say it in pounds.', pending='')
    """
    if not isinstance(said, Answer):
        return said
    text = _FRACTION.sub(r"point \1 ", text)
    kept = tuple(part for part in said.parts if not _of_something_else(question, text, part))
    if len(kept) == len(said.parts):
        return said
    return replace(said, parts=kept) if kept else ask_for_unit(question, said.parts[0].id)


METER = ("meter_proved_before", "meter_proved_after")
LIVE_VOLTS = 100.0
"""Below that a source proves no meter: a known source is alike what is to be proved, and its least is 120 (common practice)."""


def on_a_live_source(question: Question, text: str, said: Meaning) -> Meaning:
    """The meaning, unless a meter is called proved and what it read is told and is no live source's: "yes, reads two volts"."""
    if question.asking not in METER or not isinstance(said, Answer):
        return said
    read = [value for value, unit in _numbers(_ONE_THING.sub("it", text)) if unit in ("", "volt")]
    return NotUnderstood() if read and max(read) < LIVE_VOLTS else said


_ONE_THING = re.compile(
    r"\b(?:the|this|that|a|known|good|same|first|other|last|right|live) (?:\w+ )?one\b(?! (?:\w+ty|\w+teen|hundred|oh)\b)"
)


def _of_something_else(question: Question, text: str, part: Part) -> bool:
    asked = part.id in (question.asking, *question.also)
    if not asked or part.doubt or not isinstance(part.value, float) or vocabulary()[part.id].kind not in NUMBER_KINDS:
        return False
    if vocabulary()[part.id].kind == "count" and (all_of := _ALL_OF.search(text)):
        return part.value != DIGITS.index(all_of[1]) + 1  # "all five", where there are six
    numbers = _numbers(text)
    units = [unit for value, unit in numbers if value == part.value]
    alike = {vocabulary()[id].kind for id in (question.asking, *question.also)} == {vocabulary()[part.id].kind}
    if alike and set(units) <= {""} and any(_measures_another(question, part.id, unit) for _, unit in numbers):
        return True  # "forty pounds, call it forty five", where volts are asked for
    if any(_measures_another(question, part.id, unit) for unit in units):
        return not any(unit and in_its_unit(question, part.id, unit) for unit in units)
    return bool(units) and not any(unit == "" or in_its_unit(question, part.id, unit) for unit in units)


_TIMES = ("", "piece", "name", "inch", "second", "minute", "hour", "day", "week", "month")


def _measures_another(question: Question, id: str, unit: str) -> bool:
    return unit not in _TIMES and not in_its_unit(question, id, unit)


_FRACTION = re.compile(r"\b(one|two|three|four|five|six|seven|eight|nine) tenths? of an? ")


_ALL_OF = re.compile(rf"\ball ({'|'.join(DIGITS[2:])})\b(?! but)")
_THE = re.compile(r"\b(?:the|those|these|other|both|my|our|all) $")
_FOUND = re.compile(r"\b(?:found|needs?|isn't|wasn't|ain't|weren't|hasn't|without|there's|there is) $")
_THINGS = re.compile(
    r"(?!(?:thereabouts|perhaps|always|yes|was|has|this|its|plus|less|minus|volts|ohms|amps|pounds|degrees|across|reads|says"
    r"|holds|stays|shows|sits)\b)[a-z]{3,}s\b(?!')"
)
_IN_AN_HOUR = re.compile(r"(?:starts? )?(?:in the last|an|per|in an|every|each) hour\b")
_STANDING = re.compile(r"(?:are |is |still |of )*(?:running|tripped|going|them)\b")
_NUMBERED = re.compile(r"\b(?:number|compressor|(?<!of )(?<!on )rack|case|strip|page) $")
_OF_A_GAS = re.compile(r"\br $")
_GASES = frozenset((22.0, 134.0, 404.0, 407.0, 410.0, 448.0, 449.0, 450.0, 452.0, 454.0, 455.0, 502.0, 507.0, 513.0, 744.0))
_SAYS_A_GAS = re.compile(r"(?:says?|on|is|it|by)\b")
_LETTER = re.compile(r"[a-d]$")


def _of_a_thing(words: list[str], before: str, behind: str, has_unit: bool) -> bool:
    """Whether a number counts or names something: "the two frozen islands", "found one", "half a glass", "R four forty eight"."""
    if has_unit or not words:
        return False
    if _OF_A_GAS.search(before) or (len(words) > 1 and _LETTER.match(behind)) or _IN_AN_HOUR.match(behind):
        return True
    small = len(words) == 1 and (words[0] in DIGITS or words[0] in ("ten", "eleven", "twelve"))
    if small and words[0] == "one" and _FOUND.search(before):
        return True
    if words[-1] in ("a", "an") and words[0] == "half" and re.match(r"[a-z]", behind):
        return True
    if small and _STANDING.match(behind):
        return True
    return small and ((bool(_THE.search(before)) and behind[:1].isalpha()) or bool(_THINGS.match(behind)))


def _numbers(text: str) -> list[tuple[float, str]]:
    """Every number of a sentence with its unit, `piece` for what is counted, `name` for what it names, empty for none."""
    found: list[tuple[float, str]] = []
    said_up_to = 0
    for run in _RUN.finditer(f"{text} "):
        if run.start() < said_up_to:
            continue  # the half of "a quart and a half"
        words = run[0].split()
        words = words[1:] if words[0] == "and" else words
        behind = text[run.end() :]
        unit = _BEHIND.match(behind)
        of_them = _OF_A_COUNT.match(behind) or _of_a_thing(words, text[: run.start()], behind, bool(unit))
        said_up_to = run.end() + (unit.end() if unit else 0)
        named = not unit and bool(_NUMBERED.search(text[: run.start()]))
        name = "name" if named else "piece" if of_them else _FORMS[unit[0].partition(" and a ")[0]] if unit else ""
        try:
            counted = name in ("piece", "name")
            lettered = words[-1:] == ["a"] and (not behind or bool(_SAYS_A_GAS.match(behind)))
            words = words[:-1] if lettered and len(words) > 1 else words
            value = float(quantity(" ".join((*words, unit[0] if unit and not counted else ""))).value)
            name = "piece" if lettered and value in _GASES else name  # "four oh seven a"
            found += [(value, name)]
            if unit and " and a " in unit[0]:
                found += [(value - int(value), name)]  # a half that was torn off
        except ValueError:
            continue
    return found
