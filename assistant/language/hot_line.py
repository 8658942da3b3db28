"""The discharge line's temperature, named beside other things where no reading is asked for: on hold, at a caution."""

import re

from assistant.language.asides import clauses
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Part, Question
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.vocabulary import Units

_LINE = re.compile(
    r"\b(?:discharge|hot gas|(?<!liquid )(?<!suction )(?<!injection )(?<!oil )(?<!drain )(?:line|pipe))(?: line| pipe)?"
    r"(?: temperature| temp)?(?:'s| is| reads| shows| says| went| hit| hits)?(?: up| now| already)?"
    r"(?: at| to| past| over)?(?: like| about| around| nearly| almost)? (?P<value>.+)"
)
_OTHERWISE = re.compile(r"\b(?:volt\w*|amps?|ohms?|psi|pounds|pressure|not|was|if|under|below|book|trips?|set|isn't|never)\b")


def of_the_line(words: str, units: Units) -> tuple[Part, ...]:
    """Every value of the discharge line in these words, as it would count or be asked back.

    >>> [part.value for part in of_the_line("it's running and the line's at two eighty", "us")]
    [280.0]
    >>> of_the_line("line's at four eighty volts", "us"), of_the_line("the liquid line's at ninety", "us")
    ((), ())
    """
    asked = Question("command", volunteer=("discharge_temperature",), units=units)
    said = understand_in_pieces(asked, words)
    if isinstance(said, Answer):
        return said.parts
    found: list[Part] = []
    pieces = words.split(",")
    if is_question(normalise(words)):
        return ()
    for clause in next(clauses(pieces), pieces):
        match = _LINE.search(normalise(clause))
        if match and not _OTHERWISE.search(normalise(clause)):
            value = understand_in_pieces(Question("discharge_temperature", units=units), match["value"])
            found += [part for part in value.parts if part.id == "discharge_temperature"] if isinstance(value, Answer) else []
    return tuple(found)
