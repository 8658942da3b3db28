"""A value that is told of another machine, in whatever words, is none of this one: "the one beside it sits at thirty".

A machine by its number is another's only where the call knows its own; one by its place always is. What was asked of the others
is never looked at here. The words are the project's own reading of how people point at a machine.
"""

import re

from assistant.language.meaning import Answer, Command, Confirmed, Meaning, NotUnderstood, Question, Value
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

_ONE = r"(?:one|ones|machine|compressor|unit|guy|fella|motor|pump)"
BESIDE = (
    r"(?:(?:right |just |sitting |standing |over )*(?:next to|beside|alongside|across from|opposite|in front of|behind"
    r"|(?:one|two|three) (?:over|down|up) from|over from|down from|left of|right of"
    r"|(?:to|on) the (?:left|right) of) (?:it|this|this one|mine|ours|him|her|the \w+ one|my one|here)"
    r"|next door|over there|further (?:down|along|up)|down the (?:line|row|rack)|(?:on|at) the (?:other|far|left|right)(?: hand)?"
    r" (?:end|side)|on the (?:end|left|right)|at the end|on (?:the )?rack [a-f]|on the other rack)"
)
_BY_PLACE = re.compile(
    rf"\b(?:number|machine|compressor|unit) [a-z]+ (?:that's |that is )?{BESIDE}(?!\w)|"
    rf"\b(?:the|that|a|my|its) (?:\w+ )?{_ONE}(?:'s)? (?:that's |that is |which is |standing )?{BESIDE}(?!\w)"
    rf"|\b{_ONE} (?:that's |that is )?{BESIDE}\b(?=(?:'s| is| was| reads?| has| had| shows?| sits?| runs?| at)\b)"
    rf"|\b(?:the )?next (?:{_ONE}|door)(?:'s)?(?: (?:over|down|along|up|to it|to this|to mine|in line))?"
    r"(?:'s| is| was| reads?| has| had| shows?| sits?| runs?| at)(?= )"
    rf"|\b(?:the |its |my )?(?:first|second|third|fourth|fifth|sixth|end|middle|other|neighbou?r(?:ing)?) (?:machine"
    rf"|compressor|unit)\b"
    r"|\b(?:first|second|third|fourth|fifth|sixth) one(?:'s| is| reads?| has| had| shows?| sits?| runs?)(?= (?!open|closed|shut))"
    r"|\bneighbou?r(?:'?s)?\b"
)
_OURS_LATER = re.compile(
    r"\b(?:let me|i'll|i'm|i am|i gotta|gotta|about to|going to|gonna|still|have to|haven't|pulling|checking|looking"
    r"|getting|coming"
    r"|not yet|next)\b(?: \w+){0,4} (?:ours|mine|this one|this machine|on this)\b|\b(?:ours|mine|this one)(?:'s| is"
    r"| comes?)? (?:next"
    r"|coming|still|later|not|to come)\b"
)
_OF_OTHERS = re.compile(
    r"^others_|\.like$|^first_to_trip$|^compressor$|^rack$|^panel_tag$|^technician$|_count$|^condenser_fans|_label$"
)
_OF_ANY = ("part_left_in_use", "follow_up_owner", "follow_up_in_hours", "addition_reason", "reset_history", "trip_spread")
"""What another machine may stand in: "a borrowed coil off machine four"."""
_OTHERS_ASKED = frozenset("other others neighbor neighbors neighbor's another beside next each".split())


_ITS_NUMBER = r"(one|two|three|four|five|six|seven|eight|nine|ten)"
_BY_NUMBER = re.compile(
    r"^(?:(?:and|so|but|okay|well|now|yeah) )*(?:(?:on|at|over at|for|over on) )?(?:(?:number|machine|compressor|unit|the) )?"
    rf"(?:[a-f] )?{_ITS_NUMBER}(?:'s)?,?"
    r" (?:it's|it is|is|was|reads?|has|had|shows?|sits?|runs?|at)\b"
)
"""Its number leads, and what it reads follows: "three's at one ninety", "on a three it's open"."""
_LOW_AND_HIGH = re.compile(rf"^{_ITS_NUMBER}(?:'s| is) \w+$")
_THAT_IS_ITS = re.compile(
    r"\b(?:that's|which is|for|off|out of|on (?:number|machine|compressor|unit)) (?:number |machine |compressor |unit )?"
    rf"(?:[a-f] )?{_ITS_NUMBER}(?:'s)?$"
)
"""It follows: "four ten, that's three's"."""
_PLACES = frozenset({"chain_dead_check"})
"""What a number names another thing of: a contact, a fan."""


def of_another_machine(question: Question, text: str, named: Value | None, said: Meaning) -> Meaning:
    """The meaning, unless it is told of another machine.

    Args:
        question: what was asked.
        text: normalised, the whole sentence as it was said.
        named: the machine that stands in it by its number; None where there is none.
        said: what it was taken for.

    >>> from assistant.language.meaning import Part
    >>> twenty = Answer((Part("suction_pressure", 20.0),))
    >>> of_another_machine(Question("suction_pressure"), "the one beside it sits at twenty", None, twenty)
    NotUnderstood()
    >>> of_another_machine(Question("suction_pressure", machine="two"), "twenty on machine two", "two", twenty) == twenty
    True
    """
    if not _OTHERS_ASKED.isdisjoint(question.about):
        return said
    others = named is not None and question.machine is not None and named != question.machine
    if not isinstance(said, Answer):
        looked = isinstance(said, Command) and said.name == "continue"
        put_right = isinstance(said, Confirmed) and said.instead is not None and not _OF_OTHERS.search(said.instead.id)
        return NotUnderstood() if (looked or put_right) and others else said
    asked = [part for part in said.parts if part.id in (question.asking, *question.also)] or list(said.parts)
    if not asked or any(_OF_OTHERS.search(part.id) for part in asked):
        return said
    stands_for_itself = all(part.id in _OF_ANY or vocabulary()[part.id].kind == "free" for part in asked)
    if others and not stands_for_itself:
        return NotUnderstood()
    measured = any(_measured(part.id) for part in asked)
    led = (measured and _BY_NUMBER.match(text)) or _THAT_IS_ITS.search(text) or _LOW_AND_HIGH.match(text)
    pointed = led and not any(part.id in _PLACES for part in asked) and not stands_for_itself
    if led and pointed and question.machine is not None and led[1] != question.machine:
        return NotUnderstood()
    if not measured or question.also:
        return said
    return NotUnderstood() if _BY_PLACE.search(text) or _OURS_LATER.search(text) else said


def _measured(id: str) -> bool:
    return vocabulary()[id].kind in NUMBER_KINDS
