"""What of free words is the answer: without the frame that it is said in, and nothing where somebody asks or only guesses.

A name, a source, a place and a part go on record as they are said, less the article before them; who asks, tells somebody
to do something or does not know has said none. The patterns are the project's own reading of how people put such things.
"""

import re

from assistant.language.introduced import introduced
from assistant.language.questions import is_question

_LEAD = r"(?:(?:hey|so|okay|well|uh|um|wait|hang on|hold on|and|but|sorry|yeah|hmm|oh|listen|yo) )*"
_NAME = r"(?:(?!at |by |on |in |under |behind |near |from |it's |the )[a-z]+ )?"
_ASKS = re.compile(
    rf"{_LEAD}(?:{_NAME}"
    r"(?:(?:where|what|who|how|why|when|which(?: one| \w+)?)(?:'s| is| are| was| did| do| does| have| has| should"
    r"| would| could| can)"
    r" (?:you|i|we|he|she|they|it|that|this|the|your|my)\b(?!.*\b(?:meets?|comes?|goes|bends?|joins?|enters?|sits?)$)"
    r"|(?:do|did|can|could|would|should|have|are|will) (?:you|we|i)\b)"
    r"|(?:who|what|which \w+) (?:feeds|powers|supplies|runs|made|is|was|else|did)\b"
    r"|(?:does|did|do|is|are|was|has|will|could|can|should) (?:he|she|they|it|that|this|there|anybody|someone|somebody)\b)"
    r"|.*\b(?:where|what|who) (?:did|do|does) (?:you|he|she|they|we|i) \w+"
)
"""What asks for itself: "marco, where did you smell it"; "where the line meets the header" is a place."""
_TELLS = re.compile(
    rf"{_LEAD}(?:[a-z]+ )?(?:hand|pass|throw|toss|bring|fetch|grab|lend|give) (?:me|us)\b"
    rf"|{_LEAD}(?:[a-z]+ )?(?:go|come) (?:and )?(?:look|check|see|get|find|over here|here)\b"
)
_NOT_KNOWN = re.compile(
    r"\b(?:still|just) (?:looking|checking|searching|tracing|hunting)\b|\b(?:let me|i'll|i will|gonna|going to|have to|need to)"
    r" (?:look|check|find|trace|see|ask|search|hunt)\b|\b(?:not|haven't|hasn't|didn't|don't|can't|couldn't)(?: \w+)?"
    r" (?:found?|sure|looked|checked|traced|know|tell|see|figure\w*)\b|\bnot yet\b|\bno idea\b|\bso be it\b"
)
_GUESSED = re.compile(
    r"\b(?:might|may|could|must|should|probably|maybe|perhaps|possibly|i guess|i suppose|i assume|i'm guessing|supposedly|i heard"
    r"|they say|somebody said|someone said)\b"
)
_FEEDS = (
    r"(?:feeds|is feeding|'s feeding|powers|is powering|'s powering|supplies|is supplying|backfeeds|is backfeeding|runs|does)"
)
_IT = r"(?:it|that|this|that one|this one|the circuit|that circuit|this circuit|control|the control(?: circuit)?)"
_FED = re.compile(
    rf"{_LEAD}(?:i (?:found|traced) it )?(?:(?:it|that|this|power|the power|the feed|control|the control(?:"
    rf" circuit)?|the other feed)"
    r"(?:'s| is|'d be| was)? )?(?:(?:coming|fed|comes?|came|powered|supplied|backfed|feeding|runs?|gets? (?:it"
    r"|its power|power)|traced|back)"
    r" )(?:(?:in|over|back|down|here) )?(?:from|off(?: of)?|by|out of|to)(?: that's| that is)? (?P<what>.+)"
)
_FEEDS_IT = re.compile(rf"{_LEAD}(?:it's |that's |there's )?(?P<what>.+?) (?:that )?{_FEEDS} {_IT}(?: too| as well| also)?")
_IS = re.compile(rf"{_LEAD}(?:it's|it is|that's|that is|that would be|that'd be|it'd be|it would be|there's|it was|i found"
rf"|found) (?P<what>.+)")
_NEEDED = re.compile(
    rf"{_LEAD}(?:(?:i|we)(?:'ll|'d|'m|'re| will)? (?:gonna |going to |just |have to |need to )?(?:need|want|order|ordering|get)"
    r"(?: to order)?|order(?: me| us)?|need|put down|it'd be|it would be|that'd be|it'll be|it's|that's) (?P<what>.+)"
)
_USED = re.compile(
    rf"{_LEAD}(?:(?:i|we)(?:'ve)? (?:just )?(?:used|put in|fitted|installed|swapped|replaced)|used|it's|that's) (?P<what>.+)"
)
_WHERE = re.compile(
    rf"{_LEAD}(?:(?:i )?(?:found|got|see|have) (?:it|bubbles|the leak|oil|one)|it's|it is|that's|(?:it's "
    rf"|it is )?(?:leaking|coming|bubbling"
    r"|blowing|hissing|spraying)(?: out)?|there's bubbles|bubbles|the leak's|leak's|the leak is)? ?(?:right |just |out |down )*"
    r"(?P<what>(?:at|on|from|by|in|under|behind|near|below|above)? ?\b.+)"
)
_ASIDE = re.compile(
    r"^(?:(?:yeah|yes|yep|uh|um|oh|so|okay|well|ah|please) )+(?=\w)|(?: (?:please|thanks|thank you|if you can|for me"
    r"|i think it's called|they call it|i think they call it|is what they call it))+$"
)
_BARE = {
    "second_source": re.compile(r"^(?:(?:from|off|out of) )?(?:the|a|an|that|this) "),
    "part_to_order": re.compile(r"^(?:(?:me|us) )?(?:the|a|an|another) (?!\w+ty\b)"),
    "part_used": re.compile(r"^(?:the|a|an|that|this) "),
    "leak_place": re.compile(r"^(?:(?:at|on|from|in) )?(?:(?:the|a|an) )?"),
}
"""What stands before the thing itself and says nothing of it; under, behind and near do."""
_FRAMES = {
    "leak_place": (_WHERE,), "second_source": (_FEEDS_IT, _FED, _IS), "part_to_order": (_NEEDED,), "part_used": (_USED,),
}  # fmt: skip


def in_free_words(id: str, text: str) -> str | None:
    """The answer in free words; empty where they end nothing, None where they answer nothing.

    Args:
        id: the reading that was asked for; a note is every word of it.
        text: normalised words.

    >>> in_free_words("second_source", "the defrost panel feeds it")
    'defrost panel'
    >>> in_free_words("leak_place", "marco where did you smell oil"), in_free_words("second_source", "it might be fed from there")
    (None, None)
    """
    if id == "note":
        return text.removesuffix("end note").strip()
    if id == "technician":
        return None if is_question(text) else introduced(text)
    if _ASKS.match(text) or _TELLS.match(text) or _NOT_KNOWN.search(text):
        return None
    if id == "second_source" and _GUESSED.search(text):
        return None
    text = _ASIDE.sub("", text.removesuffix("end note").strip())
    found = next((match for frame in _FRAMES.get(id, ()) if (match := frame.fullmatch(text))), None)
    told = found["what"] if found else text
    return (_BARE[id].sub("", told) or told) if id in _BARE else told
