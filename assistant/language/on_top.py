"""What is told with something on top that takes it away: "three and a bit" of what is dead, "holds but drops" of a tight one."""

import re

from assistant.language.answering import SENTENCES
from assistant.language.meaning import Answer, AskFor, Meaning, Question

_AND_MORE = re.compile(
    r"\band (?:a )?(?:(?:little )?bit|touch|hair|tad|little|smidge|change|some|something)\b|\bor more\b|\bplus\b"
)


def counted_whole(said: Meaning, words: str) -> Meaning:
    """What was said, or that its number is asked for: what is on top nobody has counted (S3, S31)."""
    parts = said.parts if isinstance(said, Answer) else ()
    counts = any(p.id.startswith("dead_volts.") or p.id == "isolated_pressure" for p in parts if isinstance(p.value, float))
    return AskFor(SENTENCES["number"]) if counts and _AND_MORE.search(words.lower()) else said


_NOT_TIGHT = re.compile(
    r"\b(?:holds?|held|holding) (?:no|not|zero)\b|\b(?:drops|dropping|ish|for now|almost|nearly|mostly|loses|losing|falling|falls"
    r"|bleeds?|bleeding|creeping|slowly)\b|\bbut\b|\b(?:shop|compressed|plant) air\b|\boxygen\b|\bacetylene\b"
)
_NOT_DROPPING = re.compile(
    r"\b(?:no|not|isn't|without|didn't|never|zero|nothing)(?: \w+)? (?:drop\w*|los\w+|fall\w*|bleed\w*|creep\w*)\b"
)
_BROKEN = re.compile(r"\b(?:done for|shot|toast|had it|finished off|dead as)\b")
_PARTLY = re.compile(
    r"\b(?:a little|a bit|a crack|half ?way|half|part ?way|partly|a quarter|cracked (?:a|it))\b(?! (?:slow|stiff|at a time))"
)
_SOME = re.compile(
    r"\b(?:good|fine|okay|sound) (?:on|in) (?:one|two|both of)\b"
    r"|\b(?:one|two)(?: of (?:them|the three))?(?:'s|'re| is| are) (?:good|fine)\b"
)


def half_done(question: Question, text: str) -> bool:
    """Whether what is told at a tightness test, a repair or of three fuses is not all of it.

    >>> half_done(Question("command", go_ahead=("tight", "leave it locked")), "holds but drops")
    True
    """
    words = set(question.go_ahead)
    if "tight" in words and _NOT_TIGHT.search(text) and not _NOT_DROPPING.search(text):
        return True
    if "repaired" in words and _BROKEN.search(text):
        return True
    if "open" in words and "cracked" not in question.about and _PARTLY.search(text):
        return True
    return {"good", "one open"} <= words and bool(_SOME.search(text))
