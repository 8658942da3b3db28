"""Three of a kind by their names: "one two is two point one", "zero on one and two, four sixty on three".

Every word must be a value, the pair or place it was read on, or what leads from one to the other. The patterns are the project's
own reading of how people read off three lines.
"""

import re
from collections.abc import Iterator

from assistant.language.answering import one
from assistant.language.come_to import alike
from assistant.language.grammar import commas_apart
from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, NotUnderstood, Part, Question

_LEAD = (
    r"(?:(?:okay|so|and|then|but|yeah|yes|well|uh|um|i get|i got|i've got|got|it's|that's|from|on"
    r"|between|across|for|the|pair|volts|ohms|amps) )*"
)
_IS = (
    r"(?:'s got|'s| is| are| was| reads?| at| gets?"
    r"| got| shows?| showing| has| have| i get| i got| comes (?:out )?(?:at|to)| about| around| right at)*"
)
_UNTIL = r"(?: (?:and|then|but|,))*"
_NAMED = {
    f"{a}{link}{b}": at
    for at, (first, second) in enumerate((("one", "two"), ("two", "three"), ("three", "one")))
    for a, b in ((first, second), (second, first))
    for link in (" to ", " and ", " ")
}  # fmt: skip
_LETTERED = enumerate((("a", "b"), ("b", "c"), ("c", "a"), ("b", "a"), ("c", "b"), ("a", "c")))
_PAIRS = _NAMED | {f"{a}{link}{b}": at % 3 for at, (a, b) in _LETTERED for link in (" to ", " ")}
_PAIR = "|".join(sorted(_PAIRS, key=len, reverse=True))
_FIRST_PAIR = re.compile(rf"{_LEAD}(?P<name>{_PAIR}){_IS} (?P<value>.+)")
_LAST_PAIR = re.compile(rf"{_LEAD}(?P<value>.+?) (?:on|between|across|for|from) (?P<name>{_PAIR})")
_IN_A_ROW = tuple(
    re.compile(
        rf"{_LEAD}one(?: to| and)? two{_IS} (.+?){_UNTIL} two(?: to| and)? three{_IS} (.+?){_UNTIL}"
        rf" {last}(?: to| and)? {first}{_IS} (.+)"
    )
    for last, first in (("three", "one"), ("one", "three"))
)
_PLACES = dict(zip("one two three a b c first second third last middle".split(), (0, 1, 2, 0, 1, 2, 0, 1, 2, 2, 1), strict=True))
_KIND = r"(?:(?:the|line|leg|phase|fuse|number|winding|lines|legs|phases|fuses) )*"
_PLACE = rf"{_KIND}(?:{'|'.join(_PLACES)})(?: (?:one|leg|line|phase|fuse))?"
_OTHERS = r"(?:the )?(?:other (?:two|ones)|others?(?! (?:two|ones)\b)|rest)"
_WHERE = rf"(?:{_PLACE}(?:(?: and| ,)* {_PLACE})*|{_OTHERS})"
_MUST_BE = r"(?:'s got|'s| is| are| was| reads?| gets?| got| shows?| has| have)(?: at| about| around| right at)*"
_FIRST_PLACE = re.compile(
    rf"(?:(?:okay|so|and|then|but|well) )*(?P<name>{_WHERE}){_MUST_BE} (?P<value>.+?)(?: across (?:it|them))?"
)
_OTHERS_BARE = re.compile(rf"(?:(?:and|but|with) )*(?P<name>{_OTHERS})(?: are| is| both| all)* (?P<value>.+?)")
_LAST_PLACE = re.compile(
    rf"(?:(?:okay|so|and|then|but|well|i get|i got|i've got|got|it's) )*(?P<value>.+?) (?:on|across|at|in|for"
    rf"|through) (?P<name>{_WHERE})"
)
_PARTS = re.compile(r" ?, ?| and (?=(?:the )?(?:others?|rest)\b)")
_STILL_TO_COME = re.compile(
    r"(?:and |but |so )*(?:i |we )?(?:don't have|haven't (?:got|done|read|had)|still (?:need|doing|getting)|i'm"
    r" (?:still )?(?:getting|doing)|getting|no) "
    r"(?:the )?(?:others?|other (?:two|ones?)|rest|last (?:one|two))(?: yet| now)?"
)


def by_places(question: Question, words: str) -> Answer | NotUnderstood | None:
    """The readings by their pairs or places; not understood where one may be cut two ways; None where it is no such sentence.

    Args:
        question: what was asked.
        words: as typed, with their commas.

    >>> asked = Question("fuse_volts.a", ("fuse_volts.b", "fuse_volts.c"))
    >>> [part.value for part in by_places(asked, "zero on one and two, four sixty on three").parts]
    [0.0, 0.0, 460.0]
    """
    if not alike(question):
        return None
    text = commas_apart(words)
    pieces = [piece.strip() for piece in _PARTS.split(text) if piece.strip() and not is_sound(piece.strip())]
    if len(pieces) > 1 and _STILL_TO_COME.fullmatch(pieces[-1]):
        pieces = pieces[:-1]
    if numbered := _in_turn(question, pieces):
        return numbered
    if question.asking.endswith(".ab"):
        return _by_pairs(question, " ".join(text.replace(",", " ").split()), pieces)
    for split in (pieces, list(_at_each_value(text))):
        if said := _by_place(question, split):
            return said
    return None


_IS_READ = re.compile(r"(?:and )?(?:two|three)(?:'s| is| reads| has| shows| got)")
_RUN_ON = re.compile(r"((?:number |line |leg |fuse |phase )*one\b.+?) ((?:and )?two\b.+?) ((?:and )?three\b.+)")
"""The same by ear, which hears no commas."""
_IN_TURN = tuple(re.compile(rf"(?:(?:and|then|number|line|leg|fuse|phase) )*{n}{_IS} (?P<value>.+?)(?: (?:across|on)"
    rf" (?:it|that))?")
                 for n in ("one", "two", "three"))  # fmt: skip


def _in_turn(question: Question, pieces: list[str]) -> Answer | None:
    """ "One is zero, two's got four sixty, three zero": each behind its number, which is none of the value's."""
    if len(pieces) == 1 and (run_on := _RUN_ON.fullmatch(pieces[0])):
        pieces = list(run_on.groups())
    if len(pieces) != 3 or not any(map(_IS_READ.match, pieces[1:])):
        return None
    said = [way.fullmatch(piece) for way, piece in zip(_IN_TURN, pieces, strict=True)]
    ids = (question.asking, *question.also)
    parts = [one(question, id, match["value"]) for id, match in zip(ids, said, strict=True) if match]
    found = tuple(part for part in parts if isinstance(part, Part))
    return Answer(found) if len(found) == 3 else None


def _by_pairs(question: Question, text: str, pieces: list[str]) -> Answer | NotUnderstood | None:
    ids = (question.asking, *question.also)
    for match in (match for way in _IN_A_ROW if (match := way.fullmatch(text))):
        parts = [one(question, id, value) for id, value in zip(ids, match.groups(), strict=True)]
        found = tuple(part for part in parts if isinstance(part, Part))
        if len(found) == 3:
            return Answer(found)
    said: dict[str, Part] = {}
    plain = True
    for piece in pieces:
        match = _FIRST_PAIR.fullmatch(piece) or _LAST_PAIR.fullmatch(piece)
        part = one(question, ids[_PAIRS[match["name"]]], match["value"]) if match else None
        if match is None or not isinstance(part, Part) or part.id in said:
            return None
        said[part.id] = part
        plain = (
            plain and " to " not in match[0] and not re.search(r"\b(?:is|reads?|was|at|on|between|across|for)\b|'s\b", match[0])
        )
    if plain and len(said) < 2:
        return NotUnderstood() if said else None  # "one two point nine": twelve, or the first pair's point nine
    return Answer(tuple(said[id] for id in ids if id in said)) if said else None


def _at_each_value(text: str) -> Iterator[str]:
    """The clauses of a sentence without commas, each with its value and its places."""
    figure = "|".join(sorted(FIGURES))
    value = rf"(?:{figure}|nothing|dead|\d[\d.]*)(?: (?:{figure}|\d[\d.]*|volts?|amps?|ohms?))*"
    for match in re.finditer(
        rf"(?:and |then |but )*(?P<item>{value} (?:on|across|at|in|through) {_WHERE})(?= |$)", text.replace(",", "")
    ):
        yield match["item"]


def _by_place(question: Question, pieces: list[str]) -> Answer | None:
    ids = (question.asking, *question.also)
    said: dict[str, Part] = {}
    if not 0 < len(pieces) <= 3:
        return None
    for piece in pieces:
        match = _FIRST_PLACE.fullmatch(piece) or _LAST_PLACE.fullmatch(piece) or _OTHERS_BARE.fullmatch(piece)
        if match is None:
            return None
        of_others = re.fullmatch(_OTHERS, match["name"])
        named = [_PLACES[word] for word in re.findall(rf"\b(?:{'|'.join(_PLACES)})\b(?! one\b)", match["name"])]
        places = [at for at in range(3) if ids[at] not in said] if of_others else named
        parts = [one(question, ids[at], match["value"]) for at in places]
        found = [part for part in parts if isinstance(part, Part)]
        if not found or len(found) != len(parts) or any(part.id in said for part in found):
            return None
        said |= {part.id: part for part in found}
    several = len(pieces) > 1 or len(said) > 1
    return Answer(tuple(said[id] for id in ids if id in said)) if several else None
