"""What concerns safety and is listened for at every question, beside its answers."""

from functools import cache

from assistant.language.meaning import Remark
from assistant.language.phrasebook import tagged
from assistant.language.remarks import remark
from assistant.language.unready import unready


@cache
def by_the_way() -> dict[str, Remark]:
    """Every phrase of `grammars/remarks.jsgf` with what it says.

    >>> by_the_way()["the cover's still off"]
    Remark(about='panel_cover')
    """
    return {phrase: remark(phrase) or Remark(unready(phrase)) for phrase in tagged("remarks", "remark")}
