"""The grammars of `grammars/`: their phrases with their tags, their rules as automata."""

import re
import warnings
from collections.abc import Iterator
from functools import cache

from assistant.paths import data_folder

with warnings.catch_warnings():
    # The library calls its parser by names that the parser has deprecated.
    warnings.simplefilter("ignore", DeprecationWarning)
    import jsgf
    from jsgf.expansions import (
        AlternativeSet,
        Expansion,
        Literal,
        NamedRuleRef,
        OptionalGrouping,
        RequiredGrouping,
        Sequence,
    )

Automaton = tuple[dict[str, int], ...]
"""Deterministic: for each state, the next state by word. State 0 starts; the key '' marks a final state."""


_RULE = re.compile(r"\s*((?:public\s+)?<(\w+)>\s*=.*)", re.S)
_PHRASE = r"\s*[a-z'][a-z' \n]*"
_LIST = re.compile(rf"(?<=[(\[|=]){_PHRASE}(?:\|{_PHRASE})+(?=[)\]|]|$)")
"""Phrases of nothing but words, one beside the other: most of what the grammars say."""


@cache
def _texts(grammar: str) -> dict[str, str]:
    """Each rule of a grammar as it is written."""
    whole = (data_folder("grammars") / f"{grammar}.jsgf").read_text(encoding="utf-8")
    bare = "\n".join(line.partition("//")[0] for line in whole.splitlines())
    found = (_RULE.fullmatch(text) for text in bare.split(";"))
    return {rule[2]: rule[1] for rule in found if rule}


@cache
def endings_in_ing() -> frozenset[str]:
    """Every word of the grammars that ends so."""
    texts = (text for grammar in ("choices", "yes_no", "commands") for text in _texts(grammar).values())
    return frozenset(word for text in texts for word in re.findall(r"\b[a-z]+ing\b", text))


@cache
def _rule(grammar: str, name: str) -> Expansion:
    """One rule, read when it is first asked for.

    The library takes half a millisecond for a phrase, three seconds for those of one call: lists of plain phrases are kept from
    it, and a number stands in their place.
    """
    lists: list[list[str]] = []

    def number(found: re.Match[str]) -> str:
        lists.append([" ".join(phrase.split()) for phrase in found[0].split("|")])
        return f" {len(lists) - 1} "

    text = _LIST.sub(number, _texts(grammar)[name])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        return _with_lists(jsgf.parse_rule_string(f"{text};").expansion, lists)


def _with_lists(node: Expansion, lists: list[list[str]]) -> Expansion:
    """The rule with its lists of phrases put back where their numbers stand."""
    if isinstance(node, Literal) and node.text.isdigit():
        phrases = AlternativeSet(*map(Literal, lists[int(node.text)]))
        phrases.tag = node.tag
        return phrases
    if node.children:
        node.children = [_with_lists(child, lists) for child in node.children]
    return node


def rules(grammar: str) -> tuple[str, ...]:
    """Names of the rules of this grammar, in the order of its file."""
    return tuple(_texts(grammar))


@cache
def tagged(grammar: str, rule: str) -> dict[str, str]:
    """Every phrase of a rule with its tag, in the order of the file; a hyphen in a tag stands for a space.

    Empty when the grammar has no such rule.

    >>> tagged("choices", "sight_glass")["flashing"]
    'bubbles'
    """
    expansion = _rule(grammar, rule) if rule in _texts(grammar) else None
    found: dict[str, str] = {}
    for words, tag in _expand(grammar, expansion) if expansion else ():
        found.setdefault(" ".join(words), tag.replace("-", " "))
    return found


def _expand(grammar: str, node: Expansion) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every phrase below a node with the tag nearest to the root."""
    for words, tag in _expand_untagged(grammar, node):
        yield words, node.tag or tag


def _expand_untagged(grammar: str, node: Expansion) -> Iterator[tuple[tuple[str, ...], str]]:
    match node:
        case Literal():
            yield tuple(node.text.split()), ""
        case NamedRuleRef():
            yield from _expand(grammar, _rule(grammar, node.name))
        case OptionalGrouping():
            yield (), ""
            yield from _expand(grammar, node.child)
        case AlternativeSet():
            for child in node.children:
                yield from _expand(grammar, child)
        case Sequence() | RequiredGrouping():
            yield from _expand_row(grammar, list(node.children))
        case _:
            raise TypeError(f"{grammar}.jsgf uses {type(node).__name__}, which phrases cannot be listed from")


def _expand_row(grammar: str, row: list[Expansion]) -> Iterator[tuple[tuple[str, ...], str]]:
    if not row:
        yield (), ""
        return
    for first, tag in _expand(grammar, row[0]):
        for rest, later in _expand_row(grammar, row[1:]):
            yield first + rest, tag or later


class Net:
    """A grammar while it is put together: arrows from state to state, '' for a free step."""

    def __init__(self) -> None:
        self.arrows: list[list[tuple[str, int]]] = []
        self.start, self.end = self.state(), self.state()

    def state(self) -> int:
        """A new state."""
        self.arrows.append([])
        return len(self.arrows) - 1

    def step(self, start: int, end: int, word: str = "") -> None:
        """A word, or a free step, from one state to another."""
        self.arrows[start].append((word, end))

    def phrase(self, text: str, start: int, end: int) -> None:
        """Words in this order from one state to another."""
        words = text.split()
        for word in words[:-1]:
            between = self.state()
            self.step(start, between, word)
            start = between
        self.step(start, end, words[-1])

    def rule(self, grammar: str, rule: str, start: int, end: int) -> None:
        """Everything that a rule says, from one state to another.

        Raises:
            KeyError: the grammar has no such rule.
        """
        self._build(grammar, _rule(grammar, rule), start, end)

    def _build(self, grammar: str, node: Expansion, start: int, end: int) -> None:
        match node:
            case Literal():
                self.phrase(node.text, start, end)
            case NamedRuleRef():
                self._build(grammar, _rule(grammar, node.name), start, end)
            case OptionalGrouping():
                self.step(start, end)
                self._build(grammar, node.child, start, end)
            case AlternativeSet():
                for child in node.children:
                    first = self.state()
                    self.step(start, first)
                    self._build(grammar, child, first, end)
            case Sequence() | RequiredGrouping():
                for child in node.children[:-1]:
                    between = self.state()
                    self._build(grammar, child, start, between)
                    start = between
                self._build(grammar, node.children[-1], start, end)
            case _:
                raise TypeError(f"{grammar}.jsgf uses {type(node).__name__}")

    def closure(self, state: int) -> frozenset[int]:
        """This state with all that free steps reach."""
        found, waiting = {state}, [state]
        while waiting:
            for word, to in self.arrows[waiting.pop()]:
                if not word and to not in found:
                    found.add(to)
                    waiting.append(to)
        return frozenset(found)

    def automaton(self) -> Automaton:
        """What leads from `start` to `end`, minimal and deterministic."""
        return _minimal(*_deterministic(self))


@cache
def automaton(grammar: str, rule: str) -> Automaton:
    """One rule as a minimal deterministic automaton over words.

    Raises:
        KeyError: the grammar has no such rule.
    """
    net = Net()
    net.rule(grammar, rule, net.start, net.end)
    return net.automaton()


def _deterministic(net: Net) -> tuple[list[dict[str, int]], list[bool]]:
    reached = cache(net.closure)  # thousands of words lead to the same few states
    first = reached(net.start)
    number, waiting = {first: 0}, [first]
    arrows: list[dict[str, int]] = []
    final: list[bool] = []
    while len(arrows) < len(waiting):
        here = waiting[len(arrows)]
        targets: dict[str, set[int]] = {}
        for state in here:
            for word, to in net.arrows[state]:
                if word:
                    targets.setdefault(word, set()).add(to)
        row: dict[str, int] = {}
        for word, states in sorted(targets.items()):
            there = frozenset().union(*map(reached, states))
            if there not in number:
                number[there] = len(waiting)
                waiting.append(there)
            row[word] = number[there]
        arrows.append(row)
        final.append(net.end in here)
    return arrows, final


def _minimal(arrows: list[dict[str, int]], final: list[bool]) -> Automaton:
    """States that accept the same words are one; refined until nothing splits."""
    block = [int(is_final) for is_final in final]
    count = 0
    while len(set(block)) != count:
        count = len(set(block))
        names: dict[tuple[int, tuple[tuple[str, int], ...]], int] = {}
        block = [
            names.setdefault((block[i], tuple((w, block[to]) for w, to in row.items())), len(names))
            for i, row in enumerate(arrows)
        ]
    merged: dict[int, dict[str, int]] = {}
    for i, row in enumerate(arrows):
        merged[block[i]] = {word: block[to] for word, to in row.items()} | ({"": 1} if final[i] else {})
    return tuple(merged[name] for name in range(len(merged)))
