"""A number that was said in the unit of another quantity is no reading of this one: "zero volts" where pounds are asked for."""

import re
from dataclasses import replace

from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Meaning, Part, Question
from assistant.language.numbers import UNIT_WORDS, quantity
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
    kept = tuple(part for part in said.parts if not _of_something_else(question, text, part))
    if len(kept) == len(said.parts):
        return said
    return replace(said, parts=kept) if kept else ask_for_unit(question, said.parts[0].id)


def _of_something_else(question: Question, text: str, part: Part) -> bool:
    asked = part.id in (question.asking, *question.also)
    if not asked or part.doubt or not isinstance(part.value, float) or vocabulary()[part.id].kind not in NUMBER_KINDS:
        return False
    units = [unit for value, unit in _numbers(text) if value == part.value]
    return bool(units) and not any(unit == "" or in_its_unit(question, part.id, unit) for unit in units)


def _numbers(text: str) -> list[tuple[float, str]]:
    """Every number of a sentence with its unit, `piece` for what is counted, empty for none."""
    found: list[tuple[float, str]] = []
    said_up_to = 0
    for run in _RUN.finditer(f"{text} "):
        if run.start() < said_up_to:
            continue  # the half of "a quart and a half"
        words = run[0].split()
        words = words[1:] if words[0] == "and" else words
        behind = text[run.end() :]
        unit = _BEHIND.match(behind)
        of_them = _OF_A_COUNT.match(behind)
        said_up_to = run.end() + (unit.end() if unit else 0)
        name = "piece" if of_them else _FORMS[unit[0].partition(" and a ")[0]] if unit else ""
        try:
            value = float(quantity(" ".join((*words, unit[0] if unit else ""))).value)
            found += [(value, name)]
            if unit and " and a " in unit[0]:
                found += [(value - int(value), name)]  # a half that was torn off
        except ValueError:
            continue
    return found
