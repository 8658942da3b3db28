"""A number that shows something dead or empty, told with more on top: "three and a bit"."""

import re

from assistant.language.answering import SENTENCES
from assistant.language.meaning import Answer, AskFor, Meaning

_AND_MORE = re.compile(
    r"\band (?:a )?(?:(?:little )?bit|touch|hair|tad|little|smidge|change|some|something)\b|\bor more\b|\bplus\b"
)


def counted_whole(said: Meaning, words: str) -> Meaning:
    """What was said, or that its number is asked for: what is on top nobody has counted (S3, S31)."""
    parts = said.parts if isinstance(said, Answer) else ()
    counts = any(p.id.startswith("dead_volts.") or p.id == "isolated_pressure" for p in parts if isinstance(p.value, float))
    return AskFor(SENTENCES["number"]) if counts and _AND_MORE.search(words.lower()) else said
