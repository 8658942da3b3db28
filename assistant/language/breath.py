"""Several readings in one breath: which words belong to which."""

import itertools
import re
from collections.abc import Callable
from dataclasses import replace

from assistant.language.machine_names import is_article
from assistant.language.meaning import AskFor, Command, Part, Question
from assistant.language.numbers import DIGITS, ORDINALS, TEENS, TENS, tears_a_ten, words
from assistant.language.quantities import NUMBER_KINDS, asked_back, limits
from assistant.language.vocabulary import vocabulary

One = Callable[[Question, str, str], Part | AskFor | Command | None]
ALIKE_LEADS = (
    "all three", "all three at", "all three the same at", "all balanced at", "balanced at", "all the same at",
    "same on all three",
)  # fmt: skip
ALIKE_TAILS = ("same on all three", "on all three", "all three")
"""What makes one value that of all three of a set, before it and behind it."""
_ALIKE = (
    "across the board", "all the way around", "all the way round", "all around", "all round", "all the way across", "each",
    "apiece", "on each", "on each one",
    "on each leg", "on every one", "on every leg", "on all of them", "for all three", "for all of them",
    "on all three legs", "all three legs", "all three of them", "every one",
)  # fmt: skip
"""The same, typed: in noise they would be numbers."""
_ALL = re.compile(
    r"(?:(?:all|each)(?: three| of them)?(?: are| is)"
    r"|(?:all|each)(?: three| of them)?(?: are| is)?(?: at| reading| read| sitting at)|they're all|all three the same"
    rf"|{'|'.join(ALIKE_LEADS)}) (.+)"
    rf"|(.+?) (?:{'|'.join((*ALIKE_TAILS, *_ALIKE))})"
)
_COPULA = re.compile(r"^(?:it|that|this|she) (is|was) (?!not\b)(?=\w)")
"""What leads to a word and is no yes of its own: "it is shut"."""
_PLACES = {word: at for row in (DIGITS, ORDINALS, "abc") for at, word in enumerate(row[:3])}
_PLACES |= {"last": 2, "middle": 1, "center": 1}
_ON_PLACE = re.compile(
    rf" (?:on|for|at|across|in)(?: the)?(?: number| line| leg| phase| fuse)?"
    rf" ({'|'.join(_PLACES)})(?: one| leg| fuse)?\b(?: and\b)?"
)
_THE = [[word] for word in ("the", "this", "that", "which")]
"""Before a "one" that is no number: "the one that's down"."""
_BETWEEN = words("and then with rack number compressor machine the store at on of in")
_DOWN = words(
    "it's it is that's that this down off away tripped quit stopped went gone out dead up done us kicked lost dropped dying"
    " me i'm we we've i've got has been having giving trouble playing says here looking working standing by again mate sir"
    " one bad faulty unit culprit problem patient kindly note please okay so yeah yes well just now tonight off's guess"
    " think believe call called tag number's which said alarm alarmed alarming showing"
)
"""What is said beside the name of a machine: that it is down."""
SOUND_ALIKE = "bcdegptvz"
"""Letters that nobody tells apart in noise."""
_DENY = frozenset(("nothing", "no", "not", "none", "never"))
_APART = frozenset((*_DENY, *DIGITS, *TEENS, *TENS, "zero", "a", "an", "and", "with", "about", "around"))
"""What begins another answer behind one of them."""
_EVEN = 1.6  # readings of one set (three lines, three windings) seldom lie further apart; common practice


def in_one_breath(question: Question, ids: tuple[str, ...], text: str, one: One) -> tuple[Part, ...]:
    """The readings that all these words say, in the order of `ids`; empty when they say none or not clearly.

    Numbers come in the order of the ids, choices in any order; either may be left out. Where the words can be
    cut in several ways, the way whose readings of one set lie close together is taken, else it is asked back.
    """
    if (led := _COPULA.match(text)) and len(ids) > 1:
        if led[1] == "was":
            return ()  # how it was is not how it is
        text = text[led.end() :]
    if len(ids) > 1 and all(vocabulary()[id].kind == "pressure" for id in ids[:2]):
        text = text.replace(" over ", " and ")  # "fourteen over two ten": suction over head
    if match := _ALL.fullmatch(text):
        return _alike(question, ids, match[1] or match[2], one)
    if _is_set(ids) and _ON_PLACE.search(f" {text}"):
        return _by_place(question, ids, text, one)
    if any(id in question.local for id in ids) and (found := _names(question, ids, text)):
        return found
    known: dict[tuple[str, str], Part | AskFor | Command | None] = {}

    def once(asked: Question, id: str, words: str) -> Part | AskFor | Command | None:
        if (id, words) not in known:
            known[id, words] = one(asked, id, words)
        return known[id, words]

    ways = _ways(question, list(ids), text.split(), once)
    ways = [way for way in ways if way]
    if not ways:
        return ()
    plausible = [way for way in ways if _plausible(question, way)]
    likely = [way for way in plausible if len(way) == len(ids)] or plausible or ways  # who answers all left nothing out
    likely = [way for way in likely if not any(part.doubt for part in way)] or likely
    even = [way for way in likely if _even(way)]
    if not even:  # lines and windings lie close together: "forty two" for two of them is one number, not a forty and a two
        closer = [way for way in plausible if _even(way)]
        even = [way for way in closer if len(way) == max(map(len, closer))]
    best = min(even or likely, key=lambda way: (len(way), -len(str(way))))
    rivals = {frozenset((p.id, p.value) for p in way) for way in (even or likely)}
    parts = tuple(sorted(best, key=lambda part: ids.index(part.id)))
    # "two hundred sixty" is one number before it is two
    torn = len(parts) == len(ids) == 2 and "hundred" in text and any(_is_one(question, id, text.split(), once) for id in ids)
    sure = not torn and len(rivals) == 1 and not any(part.doubt for part in parts if isinstance(part.value, float))
    return parts if sure else tuple(_doubted(question, part) for part in parts)


def _doubted(question: Question, part: Part) -> Part:
    if part.doubt or not isinstance(part.value, float):
        return part
    return replace(part, doubt=asked_back(vocabulary()[part.id], question.units, part.value))


def _is_set(ids: tuple[str, ...]) -> bool:
    return len(ids) == 3 and len({id.split(".")[0] for id in ids}) == 1


def _by_place(question: Question, ids: tuple[str, ...], text: str, one: One) -> tuple[Part, ...]:
    """ "Zero, zero and four eighty on three": values with the line, fuse or winding that each belongs to."""
    found = list(_ON_PLACE.finditer(text))
    starts = [0, *(match.end() for match in found[:-1])]
    if not found or text[found[-1].end() :].strip():
        return ()
    head, last, tail = text[: found[0].start()].partition(" and ")
    if len(found) == 1 and _PLACES[found[0][1]] == 2 and last:
        first, third = in_one_breath(question, ids[:2], head, one), one(question, ids[2], tail)
        if len(first) == 2 and isinstance(third, Part):
            return (*first, third)  # "zero, zero and two seventy seven on the third"
    if len(found) == 1 and _PLACES[found[0][1]] == 2:
        said = in_one_breath(question, ids, text[: found[0].start()].replace(" and ", " "), one)
        third = one(question, ids[2], text[: found[0].start()].strip())
        return said if len(said) == 3 else (third,) if isinstance(third, Part) else ()  # "four eighty on the third": of it alone
    parts = [one(question, ids[_PLACES[m[1]]], text[start : m.start()].strip()) for start, m in zip(starts, found, strict=True)]
    said = tuple(part for part in parts if isinstance(part, Part))
    return said if len({part.id for part in said}) == len(parts) else ()


def at_its_place(ids: tuple[str, ...], id: str, words: str) -> str:
    """One value of a set without the line, fuse or winding that it is said of, where that is the one meant."""
    match = _ON_PLACE.search(words) if _is_set(ids) else None
    return words[: match.start()] if match and match.end() == len(words) and ids[_PLACES[match[1]]] == id else words


def _alike(question: Question, ids: tuple[str, ...], text: str, one: One) -> tuple[Part, ...]:
    """ "All three four eighty": the same value for every id of the first one's set, read back."""
    same_set = [id for id in ids if id.split(".")[0] == ids[0].split(".")[0]]
    parts = [one(question, id, text) for id in same_set]
    if len(parts) < 3 or not all(isinstance(part, Part) for part in parts):
        return ()
    return tuple(_doubted(question, part) for part in parts if isinstance(part, Part))


def _ways(question: Question, left: list[str], tokens: list[str], one: One) -> list[tuple[Part, ...]]:
    """Every way to cut all the words into answers for different ids."""
    if not tokens:
        return [()]
    if tokens[0] in _BETWEEN and (rest := _ways(question, left, tokens[1:], one)):
        return rest
    found: list[tuple[Part, ...]] = []
    numeric = [id for id in left if vocabulary()[id].kind in NUMBER_KINDS]
    for id in left:
        for cut in range(1, len(tokens) + 1):
            part = one(question, id, " ".join(tokens[:cut]))
            # A number is for the first id that waits for one; only a word of another set may pass it by.
            out_of_turn = id in numeric and id != numeric[0]
            digit_left = id in numeric and tears_a_ten(tokens, cut) and not _begins_a_hundred(tokens, cut)  # "fifty | five"
            if _tears(tokens, cut) or digit_left:
                continue
            if isinstance(part, Part) and part.id == id and not out_of_turn:
                if _may_be_one(tokens, cut) and any(_is_one(question, other, tokens, one) for other in numeric):
                    if vocabulary()[id].kind == "count":
                        continue
                    part = _doubted(question, part)
                rest = _ways(question, [other for other in left if other != id], tokens[cut:], one)
                found += [(part, *way) for way in rest]
    return found


def _tears(tokens: list[str], cut: int) -> bool:
    """Whether a cut tears one number apart: "four | point one"; or a no off what it denies: "nothing | borrowed"."""
    if tokens[0] in _DENY and cut == 1 < len(tokens) and tokens[1] not in _APART:
        return True
    if tokens[cut : cut + 1] in (["hundred"], ["thousand"]) and tokens[cut - 1] in DIGITS:
        return True  # "two | hundred sixty"
    if tokens[cut : cut + 1] in (["point"], ["decimal"], ["dot"]):
        return "point" not in tokens[:cut]
    return tokens[cut : cut + 2] == ["a", "half"] or tokens[cut : cut + 3] in (["and", "a", "half"], ["and", "a", "quarter"])


def _begins_a_hundred(tokens: list[str], at: int) -> bool:
    """Whether a digit begins a number of its own: "twenty | two ten"."""
    return tokens[at + 1 : at + 2] != [] and tokens[at + 1] in {*TENS, *TEENS, "oh", "hundred", "thousand"}


def _may_be_one(tokens: list[str], cut: int) -> bool:
    """Whether a cut behind a lone digit may tear a hundred apart: "three | ninety five" for three ninety five."""
    return cut == 1 and tokens[0] in DIGITS and tokens[1:2] != [] and tokens[1] in {*TENS, *TEENS}


def _is_one(question: Question, id: str, tokens: list[str], one: One) -> bool:
    """Whether all of these words may be one number of this reading; nobody says three hours and forty as "two twenty minutes"."""
    if vocabulary()[id].kind == "minutes":
        return False
    said = one(question, id, " ".join(tokens))
    return isinstance(said, Part) and _plausible(question, (said,))


def _plausible(question: Question, way: tuple[Part, ...]) -> bool:
    for part in way:
        span = limits(question, vocabulary()[part.id])
        if span and isinstance(part.value, float) and not span[0] <= part.value <= span[1]:
            return False
    return True


def _even(way: tuple[Part, ...]) -> bool:
    """The readings of each set lie within `_EVEN` of each other: three lines, three windings; a suction and a line temperature
    are no set."""
    for _, group in itertools.groupby(way, key=lambda part: (part.id.split(".")[0], vocabulary()[part.id].kind)):
        values = [abs(part.value) for part in group if isinstance(part.value, float)]
        if len(values) > 1 and max(values) > _EVEN * min(values):
            return False
    return True


def machine_down(question: Question, text: str) -> tuple[Part, ...]:
    """ "B two done quit on us": the machine that was asked for, and no more than that it is down."""
    ids = (question.asking, *question.also)
    down = frozenset(_BETWEEN) | frozenset(_DOWN)
    return _names(question, ids, text, down) if "compressor" in ids and question.local else ()


def _names(question: Question, ids: tuple[str, ...], text: str, beside: frozenset[str] = frozenset(_BETWEEN)) -> tuple[Part, ...]:
    """Site, rack, compressor: the longest name of each, over words that names may share ("rack b two")."""
    tokens = [token.removesuffix("'s") for token in text.split()]
    covered: set[int] = set()
    parts: list[Part] = []
    for id in ids:
        local = question.local.get(id, {})
        spans = [
            (len(name.split()), start, name)
            for name in local
            for start in range(len(tokens) - len(name.split()) + 1)
            if tokens[start : start + len(name.split())] == name.split()
        ]
        spans = [span for span in spans if not (id == "rack" and span[0] == 1 and is_article(question, tokens, span[1]))]
        spans = [span for span in spans if not (span[2] == "one" and tokens[span[1] - 1 : span[1]] in _THE)]
        if not spans:
            continue
        length, start, name = max(spans, key=lambda span: (span[0], span[1]))
        covered |= set(range(start, start + length))
        letters = set(name.split()) & set(SOUND_ALIKE)
        parts.append(Part(id, local[name], doubt=f"{name.capitalize()}?" if letters else ""))
    rest = [token for i, token in enumerate(tokens) if i not in covered]
    return tuple(parts) if len(parts) > 1 and all(token in beside for token in rest) else ()


_SO_IS = re.compile(
    r"\b(?:the )?switch(?:'s| is)?(?: in| on)? (auto|hand|off) ?(?:, |and )+(?:so(?:'s| is) (?:the )?controller|"
    r"(?:the )?controller(?:'s| is)? (?:too|as well|also|likewise|the same))\b"
)
_BOTH = re.compile(
    r"\b(?:the )?switch and (?:the )?controller(?:'s|'re| are| is)?(?: both)?(?: (?:set |sitting )?(?:in|on|to))? (auto"
    r"|hand|off|automatic)\b"
)
_TWO_AND_ONE = re.compile(
    r"^([\w ]+?) on (?:the )?(?:first|other) two(?: of (?:them|those))? ?,? ?(?:and |but )*([\w ]+?)"
    r" on (?:the )?(?:third|last)(?: one)?$"
)
"""Two that were asked for together and stand alike."""


def both_alike(words: str) -> str:
    """ "Switch and controller in auto": each by its name.

    >>> both_alike("holding and the switch and controller both in auto")
    'holding and switch in auto and controller in auto'
    >>> both_alike("zero on the first two, two seventy on the third")
    'zero , zero , two seventy'
    """
    words = _TWO_AND_ONE.sub(r"\1 , \1 , \2", words)
    return _BOTH.sub(r"switch in \1 and controller in \1", _SO_IS.sub(r"switch in \1 and controller in \1", words))


_LEG = r"(?:(?:volts|amps|ohms|and|then|i|i've|got|get|it's|the) )*(?:line |leg |phase |fuse |winding |number |l |t )"
_IS = r"(?:'s| is| at| reads?| gets| has| shows)?"
_AND = r"(?: and| then)*"
_ONE_OF_THREE = "(?: (?:one|pair|leg|line|phase|fuse|winding|set))?"
_BY_LEGS = (
    re.compile(rf"{_LEG}one{_IS} (.+?) {_LEG}two{_IS} (.+?) {_LEG}three{_IS} (.+?)"),
    *(
        re.compile(rf"(?:volts |amps |ohms |i get |i got |it's )*{a}{_IS} (.+?){_AND} {b}{_IS} (.+?){_AND} {c}{_IS} (.+?)")
        for a, b, c in (
            ("one to two", "two to three", "(?:three to one|one to three)"),
            ("a to b", "b to c", "(?:c to a|a to c)"),
            ("a b", "b c", "(?:c a|a c)"),
            *((f"(?:the )?first{one}", f"(?:the )?second{one}", f"(?:the )?(?:third|last){one}") for one in (_ONE_OF_THREE,)),
        )
    ),
)


def by_legs(question: Question, text: str) -> str:
    """Three of one kind, each behind its number, parted as commas would part them; the text itself where it is no such thing.

    >>> by_legs(Question("line_amps.a", ("line_amps.b", "line_amps.c")), "line one twenty nine line two thirty line three thirty")
    'twenty nine , thirty , thirty'
    """
    three = len(question.also) == 2 and "." in question.asking
    found = next((match for way in _BY_LEGS if (match := way.fullmatch(text))), None) if three else None
    return " , ".join(found.groups()) if found else text
