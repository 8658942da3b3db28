"""Where a sentence names a rack and a compressor, and where one does nothing else.

A rack's letter A is an article in most sentences ("there's a compressor down"); it counts only where it can be nothing else.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from assistant.language.meaning import Answer, Part, Question, Value
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

Named = tuple[int, int, Value]
"""Words from where to where, and what they name."""
_MACHINE = frozenset(("number", "compressor", "machine", "unit"))
_ORDINALS = frozenset("first second third fourth fifth sixth last end".split())
_NO_COUNT = frozenset(
    "hundred thousand phase pole wire stage ton tons times o'clock this in tonight or and to point days hours minutes day hour"
    " minute week weeks years ago others other volts volt ohms ohm degrees pounds psi amps hertz inches percent meg feet".split()
)
"""What follows a number that is no machine's name: "a two hour delay", "around two this morning"."""
_AT = frozenset("on at of in from".split())
_GOES_ON = re.compile(
    r"(?:is|was|has|had|went|tripped|quit|just|keeps|kept|dropped|died|won't|isn't|stopped|shut|locked|kicked|cut|failed"
    r"|down|off|out"
    r"|it|it's|and|with|since|again)$"
)
"""What a machine's name is followed by, where a sentence is about it."""

_PUTS_RIGHT = frozenset(
    "correction correct actually no nope sorry wait oops hold on i i'm we we're said meant mean should have make made that that's"
    " it it's this is was the a my bad mistake change to wrong machine compressor unit rack number be i'd at in of standing and"
    " oh so hang yeah yes really talking about looking rather".split()
)
"""What may stand beside a machine's name where it is put right, or only named."""
_DENIED = r"\b(?:and |, )?(?:it's |that's |is )?not (?:the )?(?:rack )?(?:[a-z] )?(?:compressor |machine |number |unit )*"


def is_article(question: Question, tokens: Sequence[str], at: int) -> bool:
    """Whether an "a" stands here that names no rack."""
    return tokens[at] == "a" and not _is_rack(question, tokens, at)


def _is_rack(question: Question, tokens: Sequence[str], at: int) -> bool:
    """Whether a bare letter A is the rack's name here, and not the article."""
    before, behind = tokens[at - 1] if at else "", tokens[at + 1] if at + 1 < len(tokens) else ""
    machine = _number_at(question, tokens, at + 1)
    if len(tokens) == 1 or before == "rack" or machine:
        return True
    if behind == "rack":
        return before in ("", "the", "on", "at", "of", "in")
    ends = not behind or bool(_GOES_ON.match(behind))
    return ends and (before in _AT or _number_at(question, tokens, at - 1) == at)


def _number_at(question: Question, tokens: Sequence[str], at: int) -> int:
    """Where a compressor's number ends that begins here; 0 where none does."""
    names = question.local.get("compressor", {})
    start = at
    if tokens[start : start + 1] and tokens[start] in _MACHINE:
        start += 1
    number = tokens[start : start + 1]
    if start < 0 or not number or number[0] not in names or number[0] in _MACHINE:
        return 0
    follows = tokens[start + 1 : start + 2]
    return 0 if follows and follows[0] in _NO_COUNT and start == at else start + 1


def racks_in(question: Question, tokens: Sequence[str]) -> Iterator[Named]:
    """Where a rack is named, as (start, end, rack)."""
    names = question.local.get("rack", {})
    at = 0
    while at < len(tokens):
        length = next((n for n in (4, 3, 2, 1) if " ".join(tokens[at : at + n]) in names and at + n <= len(tokens)), 0)
        if length == 1 and is_article(question, tokens, at):
            length = 0
        if length:
            yield at, at + length, names[" ".join(tokens[at : at + length])]
        at += length or 1


def compressors_in(question: Question, tokens: Sequence[str], racks: list[Named]) -> Iterator[Named]:
    """Where a compressor is named so that the number can be nothing else, as (start, end, compressor)."""
    names = question.local.get("compressor", {})
    ends = {end for _, end, _ in racks}
    for at, token in enumerate(tokens):
        if token in _MACHINE and (end := _number_at(question, tokens, at)) > at + 1:
            yield at, end, names[tokens[end - 1]]
        elif token in _ORDINALS and tokens[at + 1 : at + 2] and (tokens[at + 1] in _MACHINE or tokens[at + 1] == "one"):
            said = next((names[name] for name in (f"{token} one", f"the {token} one", token) if name in names), None)
            if said is not None:
                yield at, at + 2, said
        elif token in names and (at in ends or _stands_alone(tokens, at)) and _number_at(question, tokens, at):
            if not (at and tokens[at - 1] in _MACHINE):
                yield at, at + 1, names[token]


def _stands_alone(tokens: Sequence[str], at: int) -> bool:
    """Whether a bare number is what the sentence is about: "three's down on rack b", "two on a"."""
    behind = tokens[at + 1] if at + 1 < len(tokens) else ""
    before = tokens[at - 1] if at else ""
    return (not before or before in ("it's", "that's", "is", "got", "and")) and (behind in _AT or bool(_GOES_ON.match(behind)))


def several_named(question: Question, text: str) -> bool:
    """Whether two machines are named in one sentence: which of them it is must be said."""
    names = sorted((name for name in question.local.get("compressor", {}) if " " not in name), key=len, reverse=True)
    lead = r"(?:(?:rack |compressor |number |machine |unit )*(?:[a-z] )?)"
    name = "|".join(map(re.escape, names))
    of_time = r"(?! (?:hours?|minutes?|days?|times))"
    return bool(names and re.search(rf"\b(?:{name}) (?:and|or|plus) {lead}(?:{name})\b{of_time}", text))


_ABOUT_IT = frozenset({"rack", "compressor", "panel_tag", "first_to_trip", "confirm", "others_discharge_temperature"})
_NAMED = (
    r"\b(?:(?:on|of|for|at) )?(?:the )?(?:{called})(?: number)? ({names})('s)?(?: (?:is )?on rack \w)?\b"
    r"(?! (?:{counts})\b)"
)
_CALLED = "compressor|machine|unit"
_NUMBERED = frozenset("number contact contacts terminal terminals fuse fuses fan fans strip winding windings head heads".split())
"""Where one of those is asked about, a bare "number four" may be one of them."""

_ITS_PANEL = re.compile(r"\b(?:disconnect|breaker|isolator|panel|(?:pad)?lock|tag|switch|feeder|feed|source|box|starter|door)\b")
"""What is said of another machine's panel or lock is no reading (`remarks`)."""


def named_beside(question: Question, text: str) -> tuple[str, Value | None]:
    """A sentence without the machine that it names beside something else, and that machine; None where it names none.

    >>> names = {"compressor": {"two": "two", "three": "three"}}
    >>> named_beside(Question("rack_suction_pressure", machines=names), "it's compressor three line's at two ninety")
    ("it's it line's at two ninety", 'three')
    """
    names = [name for name in question.machines.get("compressor", {}) if " " not in name and name not in _MACHINE]
    ids = {question.asking, *question.also}
    free = any(vocabulary()[id_].kind == "free" for id_ in ids if id_ in vocabulary())
    if not names or free or _ABOUT_IT & ids or any(id_.endswith(".like") for id_ in ids) or _ITS_PANEL.search(text):
        return text, None
    counts = sorted(_NO_COUNT - {"in", "and", "to", "this"})
    kinds = {vocabulary()[id_].kind for id_ in ids if id_ in vocabulary()}
    measured = (
        bool(kinds) and kinds <= set(NUMBER_KINDS) - {"count"} and not question.also and _NUMBERED.isdisjoint(question.about)
    )
    called = f"{_CALLED}|number" if measured else _CALLED
    pattern = _NAMED.format(called=called, names="|".join(map(re.escape, names)), counts="|".join(counts))
    match = re.search(pattern, text)
    if match is None:
        return text, None
    return re.sub(pattern, lambda found: f"it{found[2] or ''}", text), question.machines["compressor"][match[1]]


def only_named(question: Question, text: str) -> Answer | None:
    """A machine named at a question that is about something else, with no other word in it: to be put right, if it is another.

    >>> names = {"rack": {"rack a": "a", "a": "a"}, "compressor": {"two": "two", "three": "three", "compressor three": "three"}}
    >>> only_named(Question("tripped_count", machines=names), "actually make that compressor three").parts
    (Part(id='compressor', value='three', unit=None, low=None, high=None, doubt=''),)
    >>> only_named(Question("tripped_count", machines=names), "three compressors")
    """
    if _ABOUT_IT & {question.asking, *question.also} or not question.machines:
        return None
    naming = replace(question, local=question.machines)
    names = "|".join(re.escape(name) for name in question.machines["compressor"])
    tokens = re.sub(rf"{_DENIED}(?:{names})$", "", text).split()
    racks = list(racks_in(naming, tokens))
    told = {"compressor", "machine", "unit"}  # "the second one" may be a contact
    machines = [named for named in compressors_in(naming, tokens, racks) if racks or told.intersection(tokens[slice(*named[:2])])]
    if not machines or len({value for _, _, value in machines}) > 1 or len({value for _, _, value in racks}) > 1:
        return None
    covered = {at for start, end, _ in (*racks, *machines) for at in range(start, end)}
    if not all(word in _PUTS_RIGHT for at, word in enumerate(tokens) if at not in covered):
        return None
    return Answer((*(Part("rack", value) for _, _, value in racks[:1]), Part("compressor", machines[0][2])))
