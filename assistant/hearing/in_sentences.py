"""The sentences of this trade, for the first ear: what it hears a sound for where any of their words may follow another.

All words that its model knows are too many: "the log's" is "the logs as". These are some sixteen thousand sentences as
people answer, readings and talk (`models/ear/texts.py`), with what the product itself offers; the recogniser makes a bigram of
them.
"""

import json
from collections.abc import Callable
from functools import cache
from itertools import pairwise

from assistant.hearing.guesses import Guess
from assistant.language.both_ends import UNKNOWN_WORD
from assistant.language.by_the_way import by_the_way
from assistant.language.meaning import Question
from assistant.language.offered import commands, phrases
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder

PAUSE_S = 0.2
"""Between two words, from which it is one that is heard."""


def sentences(known: Callable[[str], bool]) -> str:
    """As the recogniser takes them: a list in JSON.

    Args:
        known: whether the model knows every word of a phrase.
    """
    return json.dumps([*(phrase for phrase in _all() if known(phrase)), UNKNOWN_WORD])


def with_pauses(guess: Guess) -> str:
    """Its words, with a comma where one stopped: people do between two things, and what was typed is understood by its commas."""
    words = guess.words.split()
    if not words or len(guess.spans) != len(words):
        return guess.words
    gaps = (after[0] - before[1] for before, after in pairwise(guess.spans))
    return "".join(f"{word}{',' * (gap >= PAUSE_S)} " for word, gap in zip(words, (*gaps, 0.0), strict=True)).rstrip()


def without_pauses(words: str) -> str:
    """The same without them."""
    return words.replace(",", "")


@cache
def _all() -> tuple[str, ...]:
    written = (data_folder("models") / "ear" / "sentences.txt").read_text(encoding="utf-8").split("\n")
    offered = (phrase for id in vocabulary() for phrase in phrases(Question(id)))
    return tuple(dict.fromkeys(phrase for phrase in (*written, *offered, *commands(), *by_the_way()) if phrase))
