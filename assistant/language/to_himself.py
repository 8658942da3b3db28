"""What somebody asks himself aloud before he answers: "is it on, let me feel, yeah it's on".

The patterns are the project's own reading of how people talk to themselves. A question to somebody else is none of it.
"""

import re

from assistant.language.lone_numbers import FIGURES

_LEAD = r"(?:(?:okay|so|uh|um|well|hmm|now|right) )*"
_ASKED = re.compile(
    rf"{_LEAD}(?:(?:is|are|did|do|does|was) (?:it|that|this|they|i|we|there|the|my)\b|which|where did|how|what|any)"
    r"(?P<what>(?: \S+?)*?)"
    r" (?P<then>um|uh|hmm|okay|yeah|yes|yep|yup|no|nope) (?P<it>\S+ .+|done)"
)
_NUMBERED = re.compile(
    rf"{_LEAD}(?:what's it (?:say|read)|what does (?:it|that) (?:say|read)|what do i (?:see|get|have|read)|what's left on the \w+"
    rf"|how many \w+|how much (?:is that|did (?:i|we) \w+))(?: um| uh| okay| hmm| it's| i get| i've got)* "
    rf"(?P<it>(?:{'|'.join(sorted(FIGURES))}|\d).*)"
)
_TO_OTHERS = re.compile(
    r"\b(?:you|your|should|supposed|ought|allowed|have to|need|if|he|she|him|her|normal|enough|mean|meant|want|still|ready)\b"
)
"""What makes it a question to somebody, or one that an answer would not settle."""


def answered_himself(text: str) -> tuple[str, ...]:
    """The words behind a question that the speaker asked himself, as they may be read; none where there is no such thing.

    Args:
        text: normalised words.

    >>> answered_himself("is it on let me feel yeah it's on"), answered_himself("what's it say eighteen pounds")
    (("yeah it's on", "it's on"), ('eighteen pounds',))
    >>> answered_himself("do you want it off yeah it's off"), answered_himself("is it on")
    ((), ())
    """
    if match := _NUMBERED.fullmatch(text):
        return (match["it"],)
    match = _ASKED.fullmatch(text)
    if match is None or _TO_OTHERS.search(match["what"]) or FIGURES & set(match["what"].split()):
        return ()
    said = match["it"]
    return (f"{match['then']} {said}", said) if match["then"] in ("yeah", "yes", "yep", "yup", "no", "nope") else (said,)
