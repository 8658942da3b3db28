"""What concerns safety and is listened for at every question, beside its answers."""

from functools import cache

from assistant.language.meaning import Remark
from assistant.language.phrasebook import tagged
from assistant.language.remarks import remark
from assistant.language.unready import unready


@cache
def ways_of_saying() -> dict[Remark, tuple[str, ...]]:
    """Every remark that is listened for, with its phrases."""
    found: dict[Remark, tuple[str, ...]] = {}
    for phrase, said in by_the_way().items():
        found[said] = (*found.get(said, ()), phrase)
    return found


@cache
def by_the_way() -> dict[str, Remark]:
    """Every phrase of `grammars/remarks.jsgf` with what it says.

    >>> by_the_way()["the cover's still off"]
    Remark(about='panel_cover')
    """
    return {phrase: remark(phrase) or Remark(unready(phrase)) for phrase in tagged("remarks", "remark")}
