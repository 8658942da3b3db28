"""Readings put right by their name: "correction suction", "suction should be eleven"."""

import re
from dataclasses import replace

from assistant.language.answering import one
from assistant.language.hedges import bared
from assistant.language.meaning import Answer, AskFor, Command, Confirmed, Meaning, Part, Question
from assistant.language.names import called, names, nearest
from assistant.language.numbers import DIGITS
from assistant.language.phrasebook import tagged
from assistant.language.vocabulary import vocabulary

_TO = re.compile(r"(?: to| is| was| should be| should've been| should have been| it's| make it)?")
_WRONG = re.compile(r"(?:the )?(.+?)(?:'s| is| was) (?:wrong|not right|incorrect)")
_BEFORE_IT = re.compile(
    r"^(?:(?:sorry|no|wait|oh|oops|hang on|hold on|okay|actually) )*"
    r"(?:(?:correction|correct)(?: on| of| for)?(?: the)?|i (?:misread|read|got) the(?= [a-z ]+ wrong\b)|i misread the) "
)
"""What leads to the name of a reading that is put right."""
_SHOULD_BE = re.compile(r"(?:make )?(?:the )?(.+?) (?:should be|should have been|should've been|is really|is actually) (.+)")


_WHERE_ASKED = frozenset({"panel_tag", "refrigerant_label", "controller_refrigerant"})
"""Words of the site that are known only where they are asked for."""


def last_put_right(question: Question, first: Answer, before: tuple[str, ...], after: tuple[str, ...]) -> Answer | None:
    """ "Fourteen and two twenty no two thirty": of several numbers the one said last, put right by one number; else None."""
    if len(first.parts) < 2 or not all(isinstance(part.value, float) for part in first.parts):
        return None
    for start in range(len(before)):
        text = " ".join(before[start:])
        again = {part.id: one(question, part.id, text) for part in first.parts}
        said = [part for part in first.parts if isinstance(same := again[part.id], Part) and same.value == part.value]
        if said:
            instead = [one(question, said[0].id, " ".join(form)) for form in bared(after, True)] if len(said) == 1 else []
            right = next((part for part in instead if isinstance(part, Part) and isinstance(part.value, float)), None)
            return Answer(tuple(right if part == said[0] else part for part in first.parts)) if right else None
    return None


def by_name(question: Question, text: str) -> Meaning | None:
    """What words that put a reading right mean; None where they do not."""
    text = _BEFORE_IT.sub("correction ", text)
    for lead in sorted(tagged("commands", "correction_of"), key=len, reverse=True):
        if text.startswith(lead + " ") and (meaning := _correction_of(question, text.removeprefix(lead + " "))):
            return meaning
    return _put_right_by_name(question, text)


def _correction_of(question: Question, text: str) -> Meaning | None:
    """ "Suction", "suction eleven", "suction to eleven", behind the word that says that it is a correction."""
    words = text.removeprefix("the ").removesuffix(" wrong").replace("probe condition", "probe").split()
    for cut in range(len(words), 0, -1):
        id = _named(question, " ".join(words[:cut]).removesuffix("'s"))
        if not id:
            continue
        if cut == len(words):
            return Command("correct", id)
        value = " ".join(words[cut:])
        if id == "chain_dead_check" and value in DIGITS:
            return Command("correct", id)  # its place on the strip is known where it is asked for: "two" may be more than one
        lead = _TO.match(" " + value)
        value = (" " + value)[lead.end() :].strip() if lead else value
        said = _new_value(question, id, value)
        entry = vocabulary()[id]
        if said or (id in question.recorded and (id in _WHERE_ASKED or entry.kind == "acknowledge")):
            return said or Command("correct", id)
    return None


def _put_right_by_name(question: Question, text: str) -> Meaning | None:
    """ "The suction was wrong", "suction should be eleven"."""
    should_be = _SHOULD_BE.fullmatch(text)
    if should_be and (id := _named(question, should_be[1])) and vocabulary()[id].kind != "acknowledge":
        return _new_value(question, id, should_be[2])  # "everybody should be clear" says nothing of whether they are
    if (match := _WRONG.fullmatch(text)) and (id := _named(question, match[1])) and id in question.recorded:
        return Command("correct", id)
    return None


def _new_value(question: Question, id: str, text: str) -> Meaning | None:
    """Another value for a reading on record."""
    alone = replace(question, asking=id, also=(), all_good={}, pending="")
    for form in bared(tuple(text.split()), True) if text else ():
        said = one(alone, id, " ".join(form))
        if isinstance(said, Part) and said.id == id:
            return Confirmed(False, said)
        if isinstance(said, AskFor):
            return said
    return None


def _named(question: Question, name: str) -> str:
    """The id with this spoken name: what was asked or read last, else one on record, else of the question's own group."""
    near, own = nearest(question, name), name.removeprefix("the ")
    asked = (question.asking, *question.also)
    if taken := [id for id in near if id in question.recorded]:  # of those that are called so, the one that was taken last
        own_name = {id: names()[id][0].removeprefix("the ") == own for id in taken}
        return min(taken, key=lambda id: (id not in asked, not own_name[id], question.recorded.index(id)))
    if near:
        return near[0]
    ids = called(name)
    group = vocabulary()[question.asking].group if question.asking in vocabulary() else ""
    return min(ids, key=lambda id: (id not in question.recorded, vocabulary()[id].group != group), default="")
