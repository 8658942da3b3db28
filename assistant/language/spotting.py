"""An answer of words inside a sentence: every word of it is the answer's, or changes nothing."""

from functools import cache

from assistant.language.answering import tables
from assistant.language.hedges import hedges
from assistant.language.meaning import Part, Question
from assistant.language.names import names
from assistant.language.phrasebook import tagged
from assistant.language.vocabulary import vocabulary

_KINDS = ("choice", "yes_no", "acknowledge")
_LONGEST = 6


@cache
def _phrases(id: str) -> dict[tuple[str, ...], str]:
    """The phrases of an id with their tags."""
    entry = vocabulary()[id]
    found = {tuple(choice.split()): choice for choice in entry.choices}
    for grammar, rule in [*tables(entry), *([("yes_no", "answer")] if entry.kind == "yes_no" else [])]:
        for phrase, tag in tagged(grammar, rule).items():
            plain = not tag.startswith(("ask ", "command ", "other ", "doubt ", "value "))
            found.setdefault(tuple(phrase.split()), tag if plain or tag.startswith("ask ") else "none of it")
    return found


@cache
def _neutral(id: str) -> frozenset[str]:
    """Words that change nothing here: those of `hedges.toml` and of the id's own names, but for what is an answer itself."""
    words = {word for (word,) in hedges()["neutral"]} | {word for name in names()[id] for word in name.split()}
    words |= {f"{word}'s" for name in names()[id] for word in name.split()}
    alone = {phrase[0] for phrase in _phrases(id) if len(phrase) == 1}
    return frozenset(words - alone - {"no", "not", "never", "without", "off", "out", "down"})


def spotted(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    """The one answer that these words give; None where a word is left that might change it, or two answers are given.

    Args:
        question: what was asked.
        id: the reading that is looked for: a choice, a yes or no, an acknowledgement.
        tokens: normalised words.
    """
    if vocabulary()[id].kind not in _KINDS or vocabulary()[id].from_profile:
        return None
    covered = _cover(id, tokens)
    if covered is None:
        return None
    tags = {tag for tag in covered if not tag.startswith("ask ")}
    if len(tags) != 1:
        return None
    tag = tags.pop()
    if tag in ("none of it", ""):
        return None
    return Part(id, True if tag == "done" else tag)


def asked_in(id: str, tokens: tuple[str, ...]) -> str:
    """What is asked for, where words that are no number are all that was said; empty where more was."""
    covered = _cover(id, tokens) or [""]
    asks = {tag.removeprefix("ask ") for tag in covered if tag.startswith("ask ")}
    return asks.pop() if len(asks) == 1 and all(tag.startswith("ask ") for tag in covered) else ""


def _cover(id: str, tokens: tuple[str, ...]) -> list[str] | None:
    """Tags of the phrases that take up most of the words, where all others are neutral."""
    phrases, neutral = _phrases(id), _neutral(id)
    best: list[tuple[int, list[str]] | None] = [None] * (len(tokens) + 1)
    best[len(tokens)] = (0, [])
    for at in range(len(tokens) - 1, -1, -1):
        ways: list[tuple[int, list[str]]] = []
        for length in range(1, min(_LONGEST, len(tokens) - at) + 1):
            tag, rest = phrases.get(tokens[at : at + length]), best[at + length]
            if tag is not None and rest is not None:
                ways.append((rest[0] + 10 * length - 1, [tag, *rest[1]]))
        if tokens[at] in neutral and (rest := best[at + 1]) is not None:
            ways.append(rest)
        best[at] = max(ways, key=lambda way: way[0], default=None)
    whole = best[0]
    return whole[1] if whole and whole[1] else None
