"""Several readings told one after the other, each with its place or its name, among whatever words: "first four point one, then
four point two, and the last one six point five", "suction dropped to sixteen and discharge is hanging at two oh eight".

A place is no part of a value, whatever number it is called by. What stands beside may date or doubt them: then it is asked back.
"""

import re
from dataclasses import replace

from assistant.language.among_unknown import asks_back, measured, turns
from assistant.language.answering import one
from assistant.language.come_to import alike
from assistant.language.grammar import commas_apart
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Part, Question
from assistant.language.names import name_words
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of

_AT = dict(zip("one two three a b c first second third last middle".split(), (0, 1, 2, 0, 1, 2, 0, 1, 2, 2, 1), strict=True))
_PAIR = {frozenset(pair): at for at, pair in enumerate((("one", "two"), ("two", "three"), ("three", "one")))}
_COUNT = r"(?:one|two|three)"
_PLACE = re.compile(
    rf"\b(?:between|across|from) (?P<a>{_COUNT}) (?:and|to) (?P<b>{_COUNT})\b"
    r"|\b(?:the )?(?P<ordinal>first|second|third|last|middle)(?: (?:one(?! point\b)|leg|line|phase|pair|fuse|winding|set))?\b"
    rf"|\b(?:line|leg|phase|fuse|number) (?P<kind>{_COUNT}|[abc])\b"
    rf"|\b(?:on|for|through|in|at) (?:the (?P<the>{_COUNT}|[abc])\b|(?P<on>{_COUNT}|[abc])\b"
    rf"(?! (?:{'|'.join(sorted(FIGURES))}|hundred)\b))"
    rf"|(?<!\w )\b(?P<has>{_COUNT})(?= (?:has|is|shows|reads|draws|pulls|takes)\b|'s )"
    rf"|(?<=, )(?P<then>{_COUNT})(?= (?:has|is|shows|reads|draws|pulls|takes)\b|'s )"
)

_NO_NAME = frozenset("at in on of the".split())
_SEVERAL = re.compile(
    rf"\b(?:on|for|at|in|through) (?:the )?(?:{_COUNT}|[abc]|first|second)(?: and| ,)+"
    rf" (?:the )?(?:{_COUNT}|[abc]|second|third|last)\b(?! has| is|'s)"
    r"|\b(?:first|last|other|next) two\b|\b(?:others|rest|both|all)\b"
)
"""One value for several places."""


def told_in_turn(question: Question, words: str) -> Answer | None:
    """The three readings by their places; None where it is no such sentence.

    Args:
        question: what was asked.
        words: as typed, with their commas.

    >>> asked = Question("winding_ohms.ab", ("winding_ohms.bc", "winding_ohms.ca"))
    >>> said = told_in_turn(asked, "first four point one, then four point two, and the last one six point five")
    >>> [part.value for part in said.parts]
    [4.1, 4.2, 6.5]
    """
    if not alike(question):
        return None
    text = " ".join(commas_apart(words.lower()).split())
    if question.asking.endswith(".ab"):
        text = text.replace("one to two", "between one and two")
    places = list(_PLACE.finditer(text))
    rest = _PLACE.sub(lambda match: " " * len(match.group()), text)
    if any(match["has"] or match["then"] for match in places) and len(places) != len(question.also) + 1:
        return None  # "two's got two seventy seven, three zero"
    values = [(match.start(), match.group().strip()) for match in measured(rest)]
    if not places or _SEVERAL.search(text) or len(values) != len(question.also) + 1 or turns(rest):
        return None
    stand = [at for at, _ in values]
    order = _by_place([(match.start(), _index(match)) for match in places], stand, _leads(rest, places[0], stand))
    ids = (question.asking, *question.also)
    if order is None:
        return None
    return _read(question, {ids[at]: value for at, (_, value) in zip(order, values, strict=True)}, rest)


def told_by_name(question: Question, words: str) -> Answer | None:
    """Each of several readings behind its own name, whatever stands between; None where it is no such sentence.

    >>> asked = Question("watch.suction_pressure", ("watch.discharge_temperature",))
    >>> said = told_by_name(asked, "well, suction dropped to sixteen and discharge is hanging at two oh eight")
    >>> [part.value for part in said.parts]
    [16.0, 208.0]
    """
    ids = (question.asking, *question.also)
    text = " ".join(commas_apart(words.lower()).split())
    numbers = measured(text)
    if len(ids) < 2 or len(numbers) != len(ids) or any(kind_of(id) not in NUMBER_KINDS for id in ids):
        return None
    if turns(text.replace(" to ", " ")):  # "dropped to sixteen"; from one value to another there are two numbers
        return None
    own = {id: name_words(id) - frozenset().union(*(name_words(other) for other in ids if other != id)) - _NO_NAME for id in ids}
    told: dict[str, str] = {}
    since = 0
    for number in numbers:
        before = {word.removesuffix("'s") for word in text[since : number.start()].split()}
        named = [id for id in ids if own[id] & before]
        if len(named) != 1 or named[0] in told:
            return None
        told[named[0]] = number.group().strip()
        since = number.end()
    return _read(question, told, text)


def _read(question: Question, told: dict[str, str], text: str) -> Answer | None:
    """All that was asked, in its order, or nothing; asked back where what stands beside dates or doubts it."""
    parts = [one(question, id, told[id]) for id in (question.asking, *question.also)]
    found = [part for part in parts if isinstance(part, Part)]
    for match in reversed(measured(text)):
        text = text[: match.start()] + text[match.end() :]
    doubt = "." if asks_back(text.replace("then", " ")) else ""
    return Answer(tuple(replace(part, doubt=part.doubt or doubt) for part in found)) if len(found) == len(parts) else None


def _leads(text: str, place: re.Match[str], values: list[int]) -> bool:
    """Whether a place leads its value: none stands before it, or a comma parts it from that one and not from the next."""
    before, behind = [at for at in values if at < place.start()], [at for at in values if at > place.start()]
    return not before or (bool(behind) and "," in text[before[-1] : place.start()] and "," not in text[place.end() : behind[0]])


def _index(match: re.Match[str]) -> int:
    if match["a"]:
        return _PAIR.get(frozenset((match["a"], match["b"])), -1)
    return _AT[next(word for name in ("ordinal", "kind", "the", "on", "has", "then") if (word := match[name]))]


def _by_place(places: list[tuple[int, int]], values: list[int], leads: bool) -> list[int] | None:
    """For each value, in the order told, the place that it is of: the one beside it, or the next that is free."""
    found: list[int | None] = []
    for n, at in enumerate(values):
        since = values[n - 1] if n else -1
        until = values[n + 1] if n + 1 < len(values) else 10**6
        beside = [index for where, index in places if (since < where < at if leads else at < where < until)]
        if len(beside) > 1:
            return None
        found.append(beside[0] if beside else None)
    free = iter([at for at in range(len(values)) if at not in found])
    order = [next(free, -1) if at is None else at for at in found]
    return order if sorted(order) == list(range(len(values))) else None
