"""What words say more surely when they are typed: there is no noise in which they might be others."""

import re
from dataclasses import replace

from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Part, Question, Value
from assistant.language.vocabulary import vocabulary


def some_time_ago(meaning: Meaning) -> Meaning:
    """ "Maybe twenty minutes ago": when an alarm came is an estimate however it is said."""
    if not isinstance(meaning, Answer):
        return meaning
    ago = [replace(part, doubt="") if part.id == "alarm_minutes_ago" and part.doubt == "." else part for part in meaning.parts]
    return Answer(tuple(ago))


_NO_DEFROST = re.compile(r"\b(?:no|none|not|nothing|never|nobody|any)\b|n't\b")


def no_case_off(text: str, meaning: Meaning) -> Meaning:
    """The meaning without cases that are off where it was denied that any is in defrost: "no cases in defrost"."""
    if not isinstance(meaning, Answer) or not _NO_DEFROST.search(text.partition("defrost")[0]):
        return meaning
    kept = tuple(part for part in meaning.parts if (part.id, part.value) != ("case_load", "off"))
    return Answer(kept) if kept else NotUnderstood()


def letters_for_sure(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """A rack named by a letter that sounds like others is no doubt where it is typed.

    >>> letters_for_sure((Part("rack", "b", doubt="B?"),))[0].doubt
    ''
    """
    letters = (p.id == "rack" and p.doubt == f"{str(p.value).capitalize()}?" for p in parts)
    return tuple(replace(p, doubt="") if letter else p for p, letter in zip(parts, letters, strict=True))


def without_its_age(meaning: Meaning) -> Meaning:
    """ "It came out of defrost forty minutes ago" says nothing of when the alarm came, where the defrost is what is answered."""
    if not isinstance(meaning, Answer) or "defrost_state" not in [part.id for part in meaning.parts]:
        return meaning
    return Answer(tuple(part for part in meaning.parts if part.id != "alarm_minutes_ago"))


def none_knows(question: Question, meaning: Meaning) -> Meaning:
    """ "Couldn't tell you", where that nobody knows is one of the answers."""
    entry = vocabulary().get(question.asking)
    nobody = isinstance(meaning, Command) and (meaning.name, meaning.about) == ("skip", "unknown")
    unknown = entry is not None and "unknown" in entry.choices and not question.also
    return Answer((Part(question.asking, "unknown"),)) if nobody and unknown else meaning


def with_its_commas(words: str, meaning: Meaning) -> Meaning:
    """The meaning, its free words with the commas that were typed between them; a name has none.

    Args:
        words: as typed.
        meaning: what they were taken for.

    >>> said = Answer((Part("leak_place", "drier outlet brazed joint"),))
    >>> with_its_commas("it's at the drier outlet, brazed joint", said).parts[0].value
    'drier outlet, brazed joint'
    """
    if "," not in words or not isinstance(meaning, Answer):
        return meaning
    tokens = [(word, at) for at, piece in enumerate(words.split(",")) for word in normalise(piece).split()]
    return Answer(tuple(replace(part, value=_apart(tokens, part.value)) if _is_free(part) else part for part in meaning.parts))


def _is_free(part: Part) -> bool:
    return vocabulary()[part.id].kind == "free" and part.id != "technician"


def _apart(tokens: list[tuple[str, int]], told: Value) -> Value:
    """The answer as it stands among the tokens, each with the number of its clause; unchanged where it stands nowhere."""
    answer = str(told).split()
    for start in range(len(tokens) - len(answer) + 1):
        found = tokens[start : start + len(answer)]
        if [word for word, _ in found] == answer:
            behind = [at for _, at in found[1:]] + [found[-1][1]]
            return " ".join(word + "," * (at != then) for (word, at), then in zip(found, behind, strict=True))
    return told
