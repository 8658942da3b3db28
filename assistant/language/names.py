"""What readings are called, and readings that somebody names without being asked for them."""

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from assistant.language.hedges import bared
from assistant.language.machine_names import is_article
from assistant.language.meaning import Answer, AskFor, Command, Meaning, Part, Question
from assistant.language.numbers import tears_a_ten
from assistant.language.numbers import words as words_of
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

One = Callable[[Question, str, str], Part | AskFor | Command | None]
_JOINS = frozenset(words_of(
    "and then with also plus the a oh so well okay now uh um but we it's is are i've got there's there we've have"
))  # fmt: skip
_ON = (("on", "the"), ("on",), ("for", "the"), ("for",), ("of",), ("at", "the"), ("across", "the"), ("across",), ())
_LONGEST_VALUE = 8
_WAYS = 64


@dataclass(frozen=True)
class _Alone:
    """Words that are an answer to one id whatever was asked."""

    id: str
    pattern: re.Pattern[str]
    asked: bool
    """Only where it was asked for."""


@cache
def _table() -> dict[str, object]:
    with open(Path(__file__).with_name("names.toml"), "rb") as file:
        return tomllib.load(file)


@cache
def names() -> dict[str, tuple[str, ...]]:
    """Every id with what it is called: the vocabulary's own name first."""
    more = _table()["names"]
    assert isinstance(more, dict)
    own = {id: re.sub(r"[^\w' ]", " ", entry.say.lower()) for id, entry in vocabulary().items()}
    return {id: tuple(dict.fromkeys([say, *more.get(id, ())])) for id, say in own.items()}


@cache
def name_words(id: str) -> frozenset[str]:
    """Every word of a reading's names; none for what is no reading."""
    return frozenset(word for name in names().get(id, ()) for word in name.split())


def own_words(question: Question) -> frozenset[str]:
    """Every word of the names of what is asked."""
    return frozenset().union(*(name_words(id) for id in (question.asking, *question.also)))


def without_namesakes(question: Question, text: str, said: Meaning) -> Meaning:
    """The meaning less what nobody asked for and is named only by a word of what was: "the coil's seated" is no condenser's."""
    asked = {question.asking, *question.also}
    if not isinstance(said, Answer) or not question.volunteer or not {part.id for part in said.parts} & asked:
        return said
    words, own = {word.removesuffix("'s").removesuffix("'re") for word in text.split()}, own_words(question)

    def meant(id: str) -> bool:
        by = words & (name_words(id) - _NAMES_NOTHING)
        return id in asked or not by or not by <= own

    kept = tuple(part for part in said.parts if meant(part.id))
    return said if len(kept) == len(said.parts) else Answer(kept)


def is_named(id: str, text: str) -> bool:
    """Whether a word of the reading's names stands in the text, other than those that name nothing."""
    words = {word.removesuffix("'s").removesuffix("'re") for word in text.split()}
    return bool(words & (name_words(id) - _NAMES_NOTHING))


def of_another_unnamed(question: Question, text: str, said: Meaning) -> bool:
    """Whether bare words that answer nothing of what the prompt named would be another's that it asked for before: "good" at the
    valve is no clean probe."""
    if not question.alone or not isinstance(said, Answer) or any(part.id == question.asking for part in said.parts):
        return False
    return not any(is_named(part.id, text) for part in said.parts)


@cache
def named_elsewhere(id: str) -> frozenset[str]:
    """Words that name another reading, or what it is read on."""
    return frozenset().union(*(name_words(other) for other in names() if other != id)) - name_words(id) - _NAMES_NOTHING


_NAMES_NOTHING = frozenset(
    "a across added after again ago an and are as at b c beside call called calling came check clear close closed day days"
    " down end everybody first follows for found gone good hour hours i in is it it's known last left long lost many minute"
    " minutes next of off on one open opened order out outside part people per point put read reading ready reason room run"
    " running second seconds set shown side since site standing store that that's the this three time to told trip tripped"
    " turns two used was we where which who why your zero dead hand high low live locked repaired cleaned pulls rises"
    " machine compressor rack gauge meter screen display door doors boxes test emergency recovered safe start starts stop"
    " blocked agreed other panel power".split()
)
"""Of the words of names, those that name nothing by themselves."""


@cache
def _by_name() -> dict[tuple[str, ...], tuple[str, ...]]:
    found: dict[tuple[str, ...], tuple[str, ...]] = {}
    for id, called in names().items():
        for name in called:
            key = tuple(name.split())
            found[key] = (*found.get(key, ()), id)
    return found


@cache
def _alone() -> tuple[_Alone, ...]:
    rows = _table()["alone"]
    assert isinstance(rows, list)
    return tuple(_Alone(row["id"], re.compile(row["pattern"]), row.get("asked", False)) for row in rows)


def called(name: str) -> tuple[str, ...]:
    """The ids that have this name, in the order of the vocabulary."""
    key = tuple(name.split())
    return _by_name().get(key) or _by_name().get(key[1:] if key[:1] == ("the",) else key, ())


def nearest(question: Question, name: str) -> list[str]:
    """The ids with this name in the order in which they are meant: asked, still to come, read last; of those the ones
    that have it as their own name first."""
    if not (ids := called(name)):
        return []
    asked = (question.asking, *question.also)
    order = [id for id in dict.fromkeys((*asked, *question.volunteer, *question.recorded)) if id in ids]
    plain = name.removeprefix("the ")
    return sorted(order, key=lambda id: (id not in asked, names()[id][0].removeprefix("the ") != plain))


def volunteered(question: Question, tokens: tuple[str, ...], one: One) -> tuple[Part, ...]:
    """Readings said by their names, or by words that can be nothing else, among them the answer to what was asked;
    empty where the words are not all taken up, or can be taken in two ways.

    Args:
        question: what was asked; `volunteer` names what else may be said.
        tokens: normalised words.
        one: words as the answer for one id.
    """
    ways = list(_Cut(question, tokens, one).ways(0, frozenset()))[:_WAYS]
    ways = [way for way in ways if way]
    if not ways:
        return ()
    asked = (question.asking, *question.also)

    def rank(way: tuple[Part, ...]) -> tuple[int, int]:
        machine = sum(part.id in asked and vocabulary()[part.id].from_profile for part in way)
        return -machine, len(way)  # "compressor one down": the compressor that was asked for, before how it runs

    first = min(map(rank, ways))
    best = [way for way in ways if rank(way) == first]
    first_way = best[0]
    return first_way if all({(p.id, p.value) for p in way} == {(p.id, p.value) for p in first_way} for way in best) else ()


class _Cut:
    """One utterance cut into readings."""

    def __init__(self, question: Question, tokens: tuple[str, ...], one: One) -> None:
        self.question, self.tokens, self.one = question, tokens, one
        self.asked = (question.asking, *question.also)
        self.allowed = frozenset((*self.asked, *question.volunteer)) & frozenset(vocabulary())
        self.local = frozenset(word for id in self.allowed for word in question.local.get(id, ()))
        self.values: dict[tuple[str, int, int], Part | None] = {}
        self.alone: dict[str, Question] = {}

    def ways(self, at: int, taken: frozenset[str]) -> Iterator[tuple[Part, ...]]:
        if at == len(self.tokens):
            yield ()
            return
        for part, end in self._parts(at, taken):
            for rest in self.ways(end, taken | {part.id}):
                yield (part, *rest)
        joins = self.tokens[at] in _JOINS and (self.tokens[at] not in self.local or self._is_article(at))
        if joins and at + 1 < len(self.tokens):  # at the end it is half of something
            yield from self.ways(at + 1, taken)

    def _parts(self, at: int, taken: frozenset[str]) -> Iterator[tuple[Part, int]]:
        """Every reading that may begin here, with where it ends."""
        tokens = self.tokens
        for length in range(min(5, len(tokens) - at), 0, -1):
            for id in self._ids(tokens[at : at + length], taken):
                for end in range(len(tokens), at + length, -1):
                    if part := self._value(id, at + length, end):
                        yield part, end
        for end in range(len(tokens), at, -1):
            text = " ".join(tokens[at:end])
            for alone in _alone():
                if alone.id not in (self.asked if alone.asked else self.allowed) or alone.id in taken:
                    continue
                if alone.id == "running_count" and self.asked[0].endswith("fans_running"):
                    continue  # "all six are running" is of the fans that were asked for
                if (match := alone.pattern.fullmatch(text)) and (part := self._of(alone.id, match[1])):
                    yield part, end
            if found := self._named_behind(at, end, taken):
                yield found
        open_ = [id for id in self.asked if id in self.allowed and id not in taken]
        plain = [id for id in open_ if id == open_[0] or id in self.question.local]
        plain += ["site"] if "site" in self.allowed - taken and "site" not in plain else []
        for id in plain:
            for end in range(len(tokens), at, -1):
                if part := self._value(id, at, end):
                    yield part, end

    def _named_behind(self, at: int, end: int, taken: frozenset[str]) -> tuple[Part, int] | None:
        """ "Twelve on the suction": a value, and the name behind it."""
        for on in _ON:
            if self.tokens[end : end + len(on)] != on:
                continue
            bare = not on  # "thirteen suction and two twenty discharge"
            name_at = end + len(on)
            for length in range(min(4, len(self.tokens) - name_at), 0, -1):
                behind = self.tokens[name_at + length :]
                if bare and behind and behind[0] != "and":
                    continue
                for id in self._ids(self.tokens[name_at : name_at + length], taken):
                    if (part := self._value(id, at, end)) and (not bare or isinstance(part.value, float)):
                        return part, name_at + length
        return None

    def _ids(self, name: tuple[str, ...], taken: frozenset[str]) -> list[str]:
        """The reading meant by this name: the nearest that has it."""
        plain = (*name[:-1], name[-1].removesuffix("'s"))
        ids = nearest(self.question, " ".join(plain))
        return [id for id in ids if id in self.allowed and id not in taken]

    def _value(self, id: str, start: int, end: int) -> Part | None:
        if id == "rack" and any(map(self._is_article, range(start, end))):
            return None
        if self.tokens[start] == "and":  # "it's called and the two": nothing of two that are called
            return None
        if end - start > _LONGEST_VALUE or tears_a_ten(self.tokens, end):  # "ninety | five out"
            return None
        key = (id, start, end)
        if key not in self.values:
            self.values[key] = self._of(id, " ".join(self.tokens[start:end]))
        return self.values[key]

    def _is_article(self, at: int) -> bool:
        """ "A" may be a rack."""
        return is_article(self.question, self.tokens, at)

    def _of(self, id: str, text: str) -> Part | None:
        if id not in self.alone:
            self.alone[id] = replace(self.question, asking=id, also=(), all_good={}, volunteer=(), recorded=(), pending="")
        question, words = self.alone[id], tuple(text.split())
        number = vocabulary()[id].kind in NUMBER_KINDS
        if number and vocabulary()[id].kind != "count" and words[-2:] in (("the", "one"), ("this", "one"), ("that", "one")):
            return None  # "just the one" is no reading of one
        for form in bared(words, number) if words[0] not in self.local else (words,):
            part = self.one(question, id, " ".join(form))
            if isinstance(part, Part) and part.id == id:
                return part
            if part is not None:
                return None
        return None
