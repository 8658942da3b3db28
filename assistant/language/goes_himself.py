"""Who goes somewhere himself says of no machine that it runs: "got it, going up slowly"."""

import re

_LEAD = r"(?:(?:got it|understood|okay|yes|yeah|yep|right|alright|copy|sure|well|so|and|i'm|i am|we're|just|now|then) )*"
_GOES = re.compile(
    rf"{_LEAD}(?:going|running|heading|climbing|coming)"
    r"(?: (?:back|right|straight|now|slow|slowly|careful|carefully|easy|nice|on))*"
    r" (?:up(?! and)|down|over|back|in|out|on|to|there|around|round|inside|outside|slow|slowly|careful|carefully|easy)\b"
)


def goes_himself(text: str) -> bool:
    """Whether the words tell of their speaker's own way.

    Args:
        text: normalised.

    >>> goes_himself("got it going up slowly"), goes_himself("got it it's going"), goes_himself("up and running")
    (True, False, False)
    """
    return bool(_GOES.match(text))
