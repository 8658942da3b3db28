"""A sentence that is of another thing than was asked about answers nothing: "them cases is off" takes no lock off.

A clause is of another thing where its subject is one that the prompt, the reading's names and its own phrases do not know. The
things are the project's own list of what stands on a rack and in its room.
"""

import re
import tomllib
from pathlib import Path

from assistant.language.asides import strictly
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Question
from assistant.language.names import own_words
from assistant.language.offered import own_phrases
from assistant.language.vocabulary import vocabulary

with open(Path(__file__).with_name("other_thing.toml"), "rb") as _file:
    _TABLE = tomllib.load(_file)
_SAME = {word: frozenset(things) for things in _TABLE["things"] for word in things}
_READ_ON = frozenset(_TABLE["read_on"])
_ANY = "|".join(sorted(_SAME, key=len, reverse=True))
_LEAD = r"(?:(?:yes|yeah|yep|okay|well|so|and|but|now|oh|uh|um|because|since|then|here) )*"
_SUBJECT = re.compile(
    rf"{_LEAD}(?:the |my |all |both |them |those |these |our |your |its |that |this |every |each |of |two |three "
    rf"|four |five |six )*"
    rf"(?:(?:old|new|ice|room|vent|case|liquid|line|control|main|little|whole|crankcase|reset|frozen|leak) )*"
    rf"(?P<thing>{_ANY})"
    r"(?: (?:entering|leaving|coming in|going in|coming off|outside|around|up there|in there|over there)(?: (?:it|the \w+))?)?"
    r"(?:'s|'re| is| are| was| were| has| have| had| check| checks| looks?| reads?| stays?| went| came| got|"
    r" works?| runs?| tests?"
    r"| all| both| back)\b.*"
)
_NAMED_BEHIND = re.compile(rf"(?:the|my|that) (?P<thing>{_ANY})")
"""Said behind it: "it's off, the heater"."""
_ALL_BUT = re.compile(rf"\b(?:bar|except|but|save|besides|apart from|other than) (?:for )?(?:the|my) (?P<thing>{_ANY})\b")
"""Among several things one that was not asked about: "all grand bar the probe"."""
_BARE_YES = frozenset("yes yeah yep yup aye okay sure".split())
_PARTS = re.compile(r"\s*,\s*| and (?!a half\b|a quarter\b)| but | so | because ")


def of_asked_things(question: Question, words: str, said: Meaning) -> Meaning:
    """The meaning, unless every clause is of another thing.

    Args:
        question: what was asked.
        words: as typed, with their commas.
        said: what they were taken for.

    >>> from assistant.language.meaning import Part
    >>> of_asked_things(Question("lock_removed"), "them cases is off", Answer((Part("lock_removed", True),)))
    NotUnderstood()
    """
    if not _is_of_asked(question, said):
        return said
    clauses = [clause.strip() for clause in _PARTS.split(words) if clause.strip()]
    own = _own(question)
    number = isinstance(said, Answer) and any(isinstance(part.value, float) for part in said.parts)
    foreign = [_of_another(clause, own, number) for clause in clauses]
    for at in range(1, len(clauses)):  # "all covers back on and tight"
        foreign[at] = foreign[at] or (foreign[at - 1] and " " not in clauses[at] and clauses[at] not in _BARE_YES)
    behind = _NAMED_BEHIND.fullmatch(clauses[-1]) if len(clauses) > 1 else None
    named = behind is not None and _SAME[behind["thing"]].isdisjoint(own)
    if not question.also and (bar := _ALL_BUT.search(words)) and _SAME[bar["thing"]].isdisjoint(own):
        return NotUnderstood()
    if strictly(question) and any(foreign):
        foreign = [other or clause in _BARE_YES for other, clause in zip(foreign, clauses, strict=True)]  # "start's blocked, yep"
    return NotUnderstood() if clauses and (all(foreign) or named) else said


def _is_of_asked(question: Question, said: Meaning) -> bool:
    """Whether it answers what was asked and tells nothing beside it, and is no free speech."""
    if isinstance(said, Command):
        return said.name == "continue" and "understood" not in question.go_ahead
    if not isinstance(said, Answer) or question.asking == "confirm":
        return False
    asked = (question.asking, *question.also)
    plain = all(vocabulary()[part.id].kind != "free" and not vocabulary()[part.id].from_profile for part in said.parts)
    return plain and all(part.id in asked for part in said.parts)


def _own(question: Question) -> set[str]:
    """Every word of what was asked, of its names and of the phrases that answer it."""
    offered = (*question.go_ahead, *question.other_words, *question.local.get(question.asking, ()))
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    phrases = [*offered, *(phrase for id in ids for phrase in own_phrases(question, id))]
    own = {*question.about, *own_words(question), *(word for phrase in phrases for word in phrase.split())}
    return {word.removesuffix("'s").removesuffix("'re") for word in own}


def _of_another(clause: str, own: set[str], number: bool) -> bool:
    match = _SUBJECT.fullmatch(clause)
    if match is None or not _SAME[match["thing"]].isdisjoint(own):
        return False
    return not (number and match["thing"] in _READ_ON)
