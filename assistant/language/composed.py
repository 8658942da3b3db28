"""How things stand, put together from words: of what, how many of them, whether or not, and in which state.

"None of them's lit", "no lights on any", "not one lamp burning": every word must be known as a part of it, and what is denied is
the opposite state. `composed.toml` has the words by question.
"""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from assistant.language.hedges import bared, without_sounds
from assistant.language.meaning import Question
from assistant.language.questions import is_question

_LONGEST = 14
_PHRASE = 5
_Item = tuple[str, str]
_NOT: _Item = ("not", "")
_NONE: _Item = ("quantity", "none")
_ALL = "all"
_CALLED = ("contact", "strip", "terminal")
"""Before a number it is the name of one."""
_SHORTENED = (
    (re.compile(r"\b(?:can't|cannot)\b"), "can not"),
    (re.compile(r"\bwon't\b"), "will not"),
    (re.compile(r"n't\b"), " not"),
    (re.compile(r"'(?:s|re|ve|m)\b"), ""),
)
"""Short forms put in full; what is left out says nothing here."""


_NUMBERED = re.compile(
    r"\b(pole|leg|line|phase|fuse|circuit|number|valve|head|lamp|module) (?:one|two|three|four|five|six)\b(?! of)"
)
"""One of several by its number; a contact's is its name on the site, and none of these."""


@dataclass(frozen=True)
class _Row:
    """The words of one question: states, how many, what is spoken of; and which answer each of them comes to."""

    of: frozenset[str]
    look: frozenset[str]
    about: frozenset[str]
    parts: dict[tuple[str, ...], tuple[str, str]]
    """Phrases with what they are: a state, a quantity, a name of one of several, a thing."""
    opposite: dict[str, str]
    says: dict[tuple[str, str], str]
    """The answer of a quantity ("" for none said, `named` for a name) and a state; a state alone is its own."""
    states: frozenset[str]
    absent: str
    """The answer to "there isn't one"; empty where that is none."""


def _in_full(text: str) -> str:
    """Short forms in full: "isn't" is "is not".

    >>> _in_full("it's not there and they won't")
    'it not there and they will not'
    """
    for pattern, instead in _SHORTENED:
        text = pattern.sub(instead, text)
    return " ".join(text.split())


def _keys(phrases: list[str]) -> list[tuple[str, ...]]:
    return [tuple(_in_full(phrase).split()) for phrase in phrases]


@cache
def _table() -> dict[str, Any]:
    with open(Path(__file__).with_name("composed.toml"), "rb") as file:
        return tomllib.load(file)


@cache
def _shared() -> dict[tuple[str, ...], tuple[str, str]]:
    """What is the same at every question: words that say nothing, how many, and what denies."""
    parts = dict.fromkeys(_keys(_table()["glue"]), ("glue", ""))
    parts |= dict.fromkeys(_keys(_table()["not"]), _NOT)
    parts |= dict.fromkeys(_keys(_table()["there"]), ("there", ""))
    for name, phrases in _table()["quantity"].items():
        parts |= dict.fromkeys(_keys(phrases), ("quantity", name))
    return parts


@cache
def _rows() -> tuple[_Row, ...]:
    rows = []
    for row in _table()["said"]:
        parts = dict.fromkeys(_keys(row.get("things", [])), ("thing", ""))
        for name, phrases in row.get("names", {}).items():
            parts |= dict.fromkeys(_keys(phrases), ("quantity", f"the {name}"))
        for state, phrases in row["state"].items():
            parts |= dict.fromkeys(_keys(phrases), ("state", state))
        says = {
            ("" if quantity == "any" else quantity, state): answer
            for quantity, answers in row.get("says", {}).items()
            for state, answer in answers.items()
        }
        rows.append(
            _Row(
                frozenset(row.get("of", ())), frozenset(row.get("look", ())), frozenset(row.get("about", ())), _shared() | parts,
                row.get("opposite", {}), says, frozenset(row["state"]), row.get("absent", ""),
            )
        )  # fmt: skip
    return tuple(rows)


def composed(question: Question, text: str, id: str = "") -> str:
    """The word of this question's that the words come to; empty where one of them is unknown, or they say two things.

    Args:
        question: what was asked.
        text: normalised words of one clause.
        id: of several readings asked for at once the one that is meant.

    >>> composed(Question("load_shed"), "nothing's been turned off"), composed(Question("load_shed"), "everything is still on")
    ('none', 'none')
    """
    if is_question(text) or len(text.split()) > _LONGEST or _NO_OR_NONE.match(text):
        return ""
    text = _NUMBERED.sub(r"one \1", text)
    asking = id or question.asking
    offered = {*question.go_ahead, *question.other_words}
    about = set(question.about)
    for row in _rows():
        look = asking == "command" and bool(row.look) and row.look <= offered
        if (asking in row.of or look) and row.about <= about:
            for form in bared(without_sounds(tuple(text.split()))):
                if said := _of(row, bool(question.also), tuple(_in_full(" ".join(form)).split())):
                    return said
    return ""


def _of(row: _Row, among: bool, tokens: tuple[str, ...]) -> str:
    """The answer of one way to bare the words."""
    tokens = _without_no_before(tokens)
    items = _items(row, tokens)
    if items is None:
        return ""
    if not any(kind == "state" for kind, _ in items):
        return row.absent if _tells_of_none(items, among) else ""
    pairs = _pairs(row, items)
    counted = {quantity for quantity, _ in pairs} - ({""} if among else {"", _ALL})
    if not row.says and counted:
        return ""  # "off, two running": how many of them is another answer
    answers = {_answer(row, quantity, state) for quantity, state in pairs} - {""}
    return answers.pop() if len(answers) == 1 else ""


_NO_OR_NONE = re.compile(r"(?:no|nope|nah) (?!one\b)(?:\w+ ){0,2}\w+'s\b(?!.*\b(?:no|not)\b)")
"""A no that answers by itself, or is of the thing behind it: "no hand valve's shut"."""
_PLAIN_NO = re.compile(
    r"^(?:no|nope|nah) (?=(?:it|they|that|this|these|there|she|he|we|i|the|my|all|everything"
    r"|just|still|every|not|none)\b)"
)


def _without_no_before(tokens: tuple[str, ...]) -> tuple[str, ...]:
    """ "No it's fine": a no that answers by itself and denies nothing behind it."""
    return tuple(_PLAIN_NO.sub("", " ".join(tokens)).split())


def _items(row: _Row, tokens: tuple[str, ...]) -> list[_Item] | None:
    """What each stretch of words is, without those that say nothing; None where a word is unknown."""
    found: list[_Item] = []
    at = 0
    while at < len(tokens):
        lengths = range(min(_PHRASE, len(tokens) - at), 0, -1)
        span = next((n for n in lengths if tokens[at : at + n] in row.parts), 0)
        if not span or (found and tokens[at - 1] in _CALLED and row.parts[tokens[at : at + span]][0] == "quantity"):
            return None
        found.append(row.parts[tokens[at : at + span]])
        at += span
    return [item for item in found if item[0] != "glue"]


def _tells_of_none(items: list[_Item], named: bool) -> bool:
    """ "There isn't one", "no heater on this": that what was asked about is not there at all.

    Args:
        items: what was said.
        named: whether it must be named: it is one of several that were asked about.
    """
    denied = [item for item in items if item in (_NOT, _NONE)]
    others = {name for kind, name in items if kind == "quantity"} - {"none", "one"}
    thing = any(kind == "thing" or (kind == "there" and not named) for kind, _ in items)
    return len(denied) == 1 and not others and (thing or (denied == [_NONE] and not named))


def _pairs(row: _Row, items: list[_Item]) -> list[tuple[str, str]]:
    """Each state with how many are in it; empty where it is not clear what is denied."""
    pairs: list[tuple[str, str]] = []
    said: list[_Item] = []
    for at, (kind, name) in enumerate(items):
        if kind != "state":
            said += [(kind, name)] if kind != "thing" else []
            continue
        if at and items[at - 1] == (kind, name):
            continue  # "getting liquid feed"
        after = items[at + 1 :]
        after = after[1:] if after[:1] == [("quantity", "one")] and len(after) == 1 else after  # "not a dark one"
        behind = [item for item in after if item[0] not in ("thing", "there")]
        last = not any(later == "state" for later, _ in behind)
        if last and behind and not any(before == "quantity" for before, _ in said):
            said += [item for item in behind if item[0] == "quantity" and item != _NONE]
            behind = [item for item in behind if item[0] != "quantity" or item == _NONE]
        if (last and any(item[0] != "state" for item in behind)) or _NONE in behind:
            return []  # denied or counted behind the state: that or anything
        pair = _pair(row, said, name)
        if pair is None:
            return []
        pairs.append(pair)
        said = []
    return pairs


def _pair(row: _Row, said: list[_Item], state: str) -> tuple[str, str] | None:
    """How many are in which state, by what was said before it: "not all lit" are some dark, "none dark" all lit."""
    quantities = [name for kind, name in said if kind == "quantity"]
    denied = said.count(_NOT) + said.count(_NONE)
    quantity = quantities[0] if quantities else ""
    if denied > 1 or len(set(quantities)) > 1:
        return None
    if _NONE in said:
        quantity = _ALL
    elif _NOT in said and said[said.index(_NOT) :][1:2] == [("quantity", _ALL)]:
        quantity = "some"
    state = row.opposite.get(state, "") if denied else state
    return (quantity, state) if state else None


def _answer(row: _Row, quantity: str, state: str) -> str:
    """What so many in such a state come to; empty for no answer of its own."""
    if quantity.startswith("the ") and ("named", state) in row.says:
        return quantity.removeprefix("the ")
    named = "one" if quantity.startswith("the ") else quantity
    said = row.says.get((named, state))
    if said is None and named in ("", _ALL):
        said = row.says.get(("", state), state)
    return said or ""
