"""What words say more surely when they are typed: there is no noise in which they might be others."""

import re
from dataclasses import replace

from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Command, Meaning, Part, Question
from assistant.language.quantities import asked_back
from assistant.language.vocabulary import vocabulary

_ALL_THREE = re.compile(r"\b(?:all|each|every|same|alike|apiece|across the board|both)\b")


def each_the_same(question: Question, words: str, meaning: Meaning) -> Meaning:
    """ "Point nine on all three": typed there is nothing to ask back, it is one number said of each."""
    if not isinstance(meaning, Answer) or len(meaning.parts) < 3 or not _ALL_THREE.search(normalise(words)):
        return meaning
    first = meaning.parts[0]
    entry = vocabulary()[first.id]
    if not isinstance(first.value, float) or first.doubt != asked_back(entry, question.units, first.value):
        return meaning
    of_a_set = len({part.id.split(".")[0] for part in meaning.parts}) == 1
    alike = all((part.value, part.doubt) == (first.value, first.doubt) for part in meaning.parts)
    return Answer(tuple(replace(part, doubt="") for part in meaning.parts)) if of_a_set and alike else meaning


def some_time_ago(meaning: Meaning) -> Meaning:
    """ "Maybe twenty minutes ago": when an alarm came is an estimate however it is said."""
    if not isinstance(meaning, Answer):
        return meaning
    ago = [replace(part, doubt="") if part.id == "alarm_minutes_ago" and part.doubt == "." else part for part in meaning.parts]
    return Answer(tuple(ago))


def none_knows(question: Question, meaning: Meaning) -> Meaning:
    """ "Couldn't tell you", where that nobody knows is one of the answers."""
    entry = vocabulary().get(question.asking)
    nobody = isinstance(meaning, Command) and (meaning.name, meaning.about) == ("skip", "unknown")
    unknown = entry is not None and "unknown" in entry.choices and not question.also
    return Answer((Part(question.asking, "unknown"),)) if nobody and unknown else meaning
