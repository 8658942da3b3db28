"""A caution acknowledged outright, with more told behind it: "I know, I've seen one take a glove", "will do, hands are out".

The first clause says that it was heard or will be done. What stands behind it may be anything in which no word denies, puts off,
asks, lacks something or tells of a danger. The words are the project's own reading of how people answer a caution.
"""

import re

from assistant.language.grammar import normalise
from assistant.language.heeded import CONTRARY, acknowledges, clauses_of
from assistant.language.questions import is_question
from assistant.language.unready import trouble, unready

_AGAINST = re.compile(
    r"\b(?:but|except|instead|later|anyway|though|forgot|lost|left (?:my|it|them|the)|haven't|didn't|don't (?:have|own|need|care)"
    r"|do not|couldn't|can't (?:find|see|hear|reach|feel|stand|wait)|without|out of|skip|can we|can i|could|should i|maybe|wish"
    r"|rather|want to|wanted|not sure|not (?:on|wearing|rated|running|isolated|blocked|off)|isn't|aren't|wasn't"
    r"|no (?:gloves?|glasses|shield|goggles|lock|label|permit|detector|fan|light|mat|key|heater|regulator|relief|scale|nitrogen)"
    r"|in the (?:truck|van|car|shop)|at the shop|broken|missing|torn|wet|burn(?:ed|t|s|ing)?|dead|beeping|red|leaking|hissing"
    r"|smells?|hurts?|dizzy|somebody|someone|already (?:closed|opened|started|pulled|did|off)|just (?:bump|dip|going)|wait"
    r"|hold on|hang on|let me|in a (?:minute|second)|as soon as|almost|nearly|supposed|says he|they said"
    r"|(?:it|she|that|machine|compressor)(?:'s| is| has| just)* (?:started|running|turning|going|came on|kicked (?:on|in|off)"
    r"|quit|stopped|tripped))\b"
)


def acknowledged_outright(words: str) -> bool:
    """Whether the first clause acknowledges a caution and nothing behind it speaks against that.

    Args:
        words: as typed.

    >>> acknowledged_outright("I know, it comes on by itself"), acknowledged_outright("got it, gloves are in the van")
    (True, False)
    >>> acknowledged_outright("it comes on by itself"), acknowledged_outright("okay, which fans are those")
    (False, False)
    """
    clauses, text = clauses_of(words.lower()), normalise(words.replace(",", " "))
    if not clauses or not acknowledges(clauses[0]) or "?" in words:
        return False
    asks = any(is_question(clause) for clause in clauses)
    return not (asks or _AGAINST.search(text) or CONTRARY.search(text) or trouble(text) or unready(text))
