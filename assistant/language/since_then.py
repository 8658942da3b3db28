"""How it was, told before how it is: "it was bouncing around but it's settled on fifteen pounds"; and other things told in a row.

Only what stands last is of now. The patterns are the project's own reading of how people tell what changed before their eyes.
"""

import re

from assistant.language.asides import strictly
from assistant.language.guess import AT_ZERO
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Question
from assistant.language.names import named_elsewhere
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import kind_of, vocabulary

_WAS = re.compile(
    r"\b(?:was|were|had|started|used to|kept|bubbled|bounced|jumped|swung|moved|ran|went|read|showed|flashed|flickered|foamed"
    r"|hunted|wandered|climbed|dropped)\b"
)
_SUBJECT = r"(?:it|she|they|that|this|we|i)"
_HAS = r"(?:'s|'re|'ve| has| have| is| are)?(?: (?:now|just|since|finally|slowly|pretty much|all|then|kind of))*"
_SETTLED = (
    r"(?:settled(?: down| out| in| back)*|steadied(?: up| out| down)*|level(?:l)?ed (?:off|out)|evened out"
    r"|calmed(?: right)?(?: down)?"
    r"|(?:come|came|crept|climbed|gone|went|dropped|fallen|fell|pulled)(?: right| back| all the way)? (?:up|down|back)"
    r" (?:to|at|on)"
    r"|cleared(?: right| all the way)?(?: up)?)(?: (?:on|at|to|around|about))?"
)
_NOW = re.compile(
    rf"^.*?\b(?:but|and|then|so|before)(?: then| now)* (?:{_SUBJECT}{_HAS} {_SETTLED}|{_SETTLED}"
    rf"|now {_SUBJECT}{_HAS}|{_SUBJECT}(?:'s|'re| is| are)(?: \w+)? now|right now {_SUBJECT}{_HAS}|now) (?P<rest>\S.*)$"
)
_WAVERS = re.compile(
    r"\b(?:if|maybe|might|could|should|would|will|'ll|gonna|going to|guess|think|not|never|until|till|or|either|other|others"
    r"|neighbor\w*|again|yesterday|last|supposed|normally|usually|hope|want|need)\b|n't\b"
)
_FIGURE = (
    r"(?:(?:about|around|minus|more like) )?(?:a hundred|point|oh|zero|one|two|three|four|five|six|seven|eight|nine|ten"
    r"|eleven|twelve"
    r"|\w+teen|\w+ty|\d)"
)
_HIMSELF = re.compile(
    r"\b(at|it's|been|is|and|about|reads|says|around|that's|getting|got) what(?:'s (?:it|that) (?:say|read|now|showing)| is it"
    rf"| was it|'s that| does it say| have (?:we|i) got)? (?={_FIGURE})"
)
"""What somebody asks himself: "it's been what forty days"."""
_RIGHTED = re.compile(
    r"^(?P<told>.*) (?:no|wait|sorry|scratch that|actually|hang on|hold on|oops|my mistake|correction)\b"
    rf"(?P<why>(?: (?!no\b)[a-z']+){{0,10}}?) (?P<rest>(?:it's|that's|make it|make that|it is|reads|it reads) {_FIGURE}.*)$"
)
"""What was misread, why, and what it is."""
_WAITS = re.compile(r"\b(?:neighbor\w*|rack|machine|compressor|if|yesterday|when|before)\b")
_UNRELATED = re.compile(r"\b(?:feet|foot|floor|ladder|o'clock|minutes?|hours?|steps?)\b")
_COUNTED_OUT = re.compile(
    r"\b(?:(?:let me|i'll|i'm gonna) (?:count|see)(?: them| 'em)? )?one two three"
    r"(?: four(?: five(?: six(?: seven(?: eight(?: nine(?: ten)?)?)?)?)?)?)?"
    r"(?P<doing> (?:of them |are |that are )?(?:running|turning|going|spinning|on|up))?"
    r" (?:so|that's|that makes|makes|so that's|so it's|so i(?:'ve)? (?:got|make it))(?: it)? (?P<all>\w+)\b"
)
_ONE_BY_ONE = "one two three four five six seven eight nine ten".split()
_THEN = re.compile(
    r" (?:(?:and )?(?:then|followed by|and after(?: that| it)?) .*|(?:and )?(?:the )?(?:number |compressor )?\w+"
    r" (?:(?:went |tripped )?(?:right |just |shortly )?(?:after|followed|next|second)|came (?:after|next|second))\b.*)$"
)
_WENT_FIRST = re.compile(
    r"(?<=\w) (?:went|was|tripped|dropped|goes|came)(?: out| off| down)?(?: the)?(?: first)?$|(?<=\w) first$"
)


def of_now(question: Question, text: str) -> str:
    """What of a sentence is of now, where how it was is told before; the sentence itself where nothing is.

    >>> of_now(Question("receiver_level"), "i was at twenty before we started and it come up to thirty eight percent")
    "it's thirty eight percent"
    >>> of_now(Question("receiver_level"), "it was at thirty eight percent")
    'it was at thirty eight percent'
    """
    text = _HIMSELF.sub(r"\1 ", text)
    ids = (question.asking, *question.also)
    if question.asking == "first_to_trip":
        first = _THEN.sub("", text)
        return text if first == text else _WENT_FIRST.sub("", first)
    if "count" in {vocabulary()[id].kind for id in ids if id in vocabulary()}:
        text = _COUNTED_OUT.sub(_how_many, text)
    if strictly(question) or question.asking in AT_ZERO or question.asking not in vocabulary() or question.also:
        return text
    righted = _RIGHTED.match(text)
    if righted and FIGURES & set(righted["told"].split()) and not FIGURES & set(righted["why"].split()):
        another = bool(named_elsewhere(question.asking) & set(righted["why"].split())) or bool(_WAITS.search(righted["why"]))
        if kind_of(question.asking) in NUMBER_KINDS and not another:
            return text if _WAVERS.search(righted["rest"]) else righted["rest"]
    match = _NOW.match(text)
    if not match or _WAVERS.search(text) or _UNRELATED.search(match["rest"]) or not _WAS.search(text[: match.start("rest")]):
        return text
    return match["rest"] if match["rest"].startswith(("it's ", "they're ", "she's ")) else f"it's {match['rest']}"


def _how_many(match: re.Match[str]) -> str:
    """ "One two three four running so four": four, where that is as far as it was counted."""
    counted = [word for word in match[0].split() if word in _ONE_BY_ONE]
    same = match["all"] == counted[-2] == _ONE_BY_ONE[len(counted) - 2] if len(counted) > 3 else False
    return f"{match['all']}{match['doing'] or ''}" if same else match[0]
