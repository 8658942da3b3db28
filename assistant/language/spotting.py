"""An answer inside a sentence: every word of it is the answer's, or changes nothing."""

import itertools
import re
from functools import cache

from assistant.language.answering import one, tables
from assistant.language.hedges import hedge_words, hedges
from assistant.language.meaning import AskFor, Command, Part, Question
from assistant.language.names import name_words
from assistant.language.phrasebook import tagged
from assistant.language.vocabulary import vocabulary

_KINDS = ("choice", "yes_no", "acknowledge")
LONGEST = 6
Phrases = dict[tuple[str, ...], str]

_TURNS = frozenset({"no", "not", "never", "without", "off", "out", "down", "nothing", "none"})
"""Words that may turn an answer round: never neutral."""
ALIKE = ({"shut", "closed", "close"}, {"open", "opened"})
"""How a thing stands, in more than one word."""
_COPULAS = frozenset("is are the it they that my she he a been has have i i'm we her".split())
"""Words that only hold others together: "the leads are off" is "leads off"."""


_NOT = dict.fromkeys(("isn't", "aren't", "ain't"), "not")


def _squeezed(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words without those that only hold them together.

    >>> _squeezed(("the", "fan's", "stopped")), _squeezed(("fan", "is", "stopped"))
    (('fan', 'stopped'), ('fan', 'stopped'))
    """
    plain = (_NOT.get(word, word.removesuffix("'s").removesuffix("'re").removesuffix("'ve")) for word in words)
    return tuple(word for word in plain if word not in _COPULAS)


def _with_squeezed(phrases: Phrases) -> Phrases:
    """The phrases, and each without what only holds it together, where that is still one answer's alone."""
    more: Phrases = {}
    torn: set[tuple[str, ...]] = set()
    for phrase, tag in phrases.items():
        if (key := _squeezed(phrase)) and not {"can't", "cannot"} & set(phrase):
            if more.setdefault(key, tag) != tag:
                torn.add(key)
    return {**{key: tag for key, tag in more.items() if key not in torn}, **phrases}


@cache
def phrases_of(id: str) -> Phrases:
    """The phrases of an id with their tags."""
    entry = vocabulary()[id]
    found: Phrases = {tuple(choice.split()): choice for choice in entry.choices}
    for grammar, rule in [*tables(entry), *([("yes_no", "answer")] if entry.kind == "yes_no" else [])]:
        for phrase, tag in tagged(grammar, rule).items():
            plain = not tag.startswith(("ask ", "command ", "other ", "doubt ", "value "))
            found.setdefault(tuple(phrase.split()), tag if plain or tag.startswith("ask ") else "none of it")
    if id == "chain_dead_check":
        found["two",] = "ask contact_two"  # the second contact, or two of them: never guessed inside a sentence either
    return found


@cache
def _squeezed_phrases(id: str) -> Phrases:
    return _with_squeezed(phrases_of(id))


@cache
def general() -> frozenset[str]:
    return frozenset(word for (word,) in hedges()["neutral"])


@cache
def neutral_of(id: str) -> frozenset[str]:
    """Words that change nothing here: those of `hedges.toml` and of the id's own names, but for what is an answer itself."""
    words = general() | name_words(id) | {f"{word}'s" for word in name_words(id)}
    alone = {phrase[0] for phrase in phrases_of(id) if len(phrase) == 1}
    return frozenset(words - alone - _TURNS)


def _of_prompt(question: Question, phrases: Phrases) -> frozenset[str]:
    """Words of what was asked, which change nothing when they are said again, but for those that say how something stands."""
    words = {*question.about, *(f"{word}'s" for word in question.about)}
    alone = {phrase[0] for phrase in phrases if len(phrase) == 1}
    return frozenset(words - alone - _TURNS - {"on", "in", "open", "closed", "up", "close", "good", "locked", "clear"})


def spotted(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    """The one answer that these words give; None where a word is left that might change it, or two answers are given.

    Args:
        question: what was asked.
        id: the reading that is looked for: a choice, a yes or no, an acknowledgement.
        tokens: normalised words.
    """
    if vocabulary()[id].kind not in _KINDS or vocabulary()[id].from_profile:
        return None
    neutral = neutral_of(id)
    if vocabulary()[id].kind == "acknowledge" and id == question.asking:
        neutral |= _of_prompt(question, phrases_of(id))
    for words, phrases in ((tokens, phrases_of(id)), (_squeezed(tokens), _squeezed_phrases(id))):
        tag = _one_tag(_cover(phrases, neutral, words))
        if tag and tag != "none of it":
            return Part(id, True if tag == "done" else tag)
    return None


def looks(question: Question) -> Phrases:
    """The words of a look, each with the one of them that is offered."""
    own = {**{word: word for word in question.go_ahead}, **question.other_words}
    return {tuple(said.split()): word for said, word in own.items()}


def gone_ahead(question: Question, tokens: tuple[str, ...]) -> str:
    """The one of a step's own words that these words say, where it waits for a bare go-ahead; empty where they say none."""
    phrases = looks(question)
    intent = next((lead for lead in hedges()["intends"] if tokens[: len(lead)] == lead), ()) if question.look else ()
    tokens = tokens[len(intent) :]
    done = next((word for word in question.go_ahead if word == "done"), "")
    if done:
        back = "back" in question.about  # "it's back on" does not say that a hose is off
        said_so = {tuple(phrase.split()): done for phrase in tagged("commands", "did_it") if back or "back" not in phrase.split()}
        phrases = {**said_so, **phrases}
    if stands_otherwise(question, tokens):
        return ""
    neutral = general() - {phrase[0] for phrase in phrases if len(phrase) == 1} - _TURNS | _of_prompt(question, phrases)
    for words, book in ((tokens, phrases), (_squeezed(tokens), _with_squeezed(phrases))):
        covered = set(_cover(book, neutral, words) or ())
        if covered and not question.look:
            return "said so"
        if len(covered - {done}) == 1 or covered == {done}:
            return (covered - {done} or covered).pop()
    return "said so" if done and not question.look and _did(question, tokens) else ""


def stands_otherwise(question: Question, tokens: tuple[str, ...]) -> bool:
    """Whether a state is told beside a deed that nobody asked for: "done, they're still on", where the hose was to come off."""
    if question.asking != "command" or not question.takes_a_done:
        return False
    own = {*question.about, *(word for phrase in question.go_ahead for word in phrase.split())}
    text = " ".join(tokens)
    for phrase in question.other_words:  # "off and running" says started; "off" alone does not
        text = re.sub(rf"\b{re.escape(phrase)}\b", "done", text)
    tokens = tuple(text.split())
    own |= {word for alike in ALIKE if alike & own for word in alike}
    own |= {"on"} if {"cap", "caps"} & set(tokens) or "back" in own else set()  # what is put back is on
    behind = (*tokens[1:], "")  # "on" before "it" is no state: "pulled on it"
    told = {word for word, after in zip(tokens, behind, strict=True) if word != "on" or after not in ("it", "them")}
    return "still" in told or bool(told & {*itertools.chain(*ALIKE), "on", "off"} - own)


def _did(question: Question, tokens: tuple[str, ...]) -> bool:
    """ "Flipped it back to auto": what was done, in the prompt's words, and how it stands now, in the step's own."""
    state = {word for phrase in question.go_ahead for word in phrase.split()} - _COPULAS - {"done", "they're", "it's"}
    first = next((word for word in tokens if word not in ("i", "i've", "we", "we've", "just", "okay", "yes", "yeah", "and")), "")
    known = general() | frozenset(question.about) | state
    return first in hedge_words("did") and bool(state & set(tokens)) and all(word in known or word == first for word in tokens)


def loosely(question: Question, id: str, text: str) -> Part | AskFor | Command | None:
    """These words as the answer for one id, or the answer that is in them."""
    found = one(question, id, text)
    return found if found is not None else spotted(question, id, tuple(text.split()))


def _one_tag(covered: list[str] | None) -> str:
    tags = set(covered or ())
    only = tags.pop() if len(tags) == 1 else ""
    return "" if only.startswith("ask ") else only


def person_meant(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    """The one person of the site's list who is named among words that change nothing: "give it to the day shift guys"."""
    local = question.local.get(id, {})
    spans = {tokens[at : at + n] for at in range(len(tokens)) for n in range(1, LONGEST)}
    named = {name: value for name, value in local.items() if tuple(name.split()) in spans}
    covered = {word for name in named for word in name.split()}
    own = general() | hedge_words("beside_people")
    whole = all(word in own or word in covered for word in tokens)
    return Part(id, next(iter(named.values()))) if whole and len(set(named.values())) == 1 else None


def asked_in(id: str, tokens: tuple[str, ...]) -> str:
    """What is asked for, where words that are no number are all that was said; empty where more was."""
    covered = _cover(phrases_of(id), neutral_of(id), tokens) or [""]
    asks = {tag.removeprefix("ask ") for tag in covered if tag.startswith("ask ")}
    return asks.pop() if len(asks) == 1 and all(tag.startswith("ask ") for tag in covered) else ""


def _cover(phrases: Phrases, neutral: frozenset[str], tokens: tuple[str, ...]) -> list[str] | None:
    """Tags of the phrases that take up most of the words, where all others are neutral."""
    best: list[tuple[int, list[str]] | None] = [None] * (len(tokens) + 1)
    best[len(tokens)] = (0, [])
    for at in range(len(tokens) - 1, -1, -1):
        ways: list[tuple[int, list[str]]] = []
        for length in range(1, min(LONGEST, len(tokens) - at) + 1):
            tag, rest = phrases.get(tokens[at : at + length]), best[at + length]
            if tag is not None and rest is not None:
                ways.append((rest[0] + 10 * length - 1, [tag, *rest[1]]))
        if tokens[at] in neutral and (rest := best[at + 1]) is not None:
            ways.append(rest)
        best[at] = max(ways, key=lambda way: way[0], default=None)
    whole = best[0]
    return whole[1] if whole and whole[1] else None
