"""What words say more surely when they are typed: there is no noise in which they might be others."""

from dataclasses import replace

from assistant.language.meaning import Answer, Command, Meaning, Part, Question
from assistant.language.vocabulary import vocabulary


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
