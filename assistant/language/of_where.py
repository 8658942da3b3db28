"""Which reading a short name is of: "the line after the valve" is not the line that a reading is called by alone.

A reading that somebody names without being asked counts by its name only where nothing says of which other thing it is. The
patterns are the project's own reading of how people say where they are.
"""

import re
from functools import cache

from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.names import One, name_words, names
from assistant.language.names import volunteered as by_their_names
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

_AT = (
    r"(?:after|before|behind|ahead of|past|beyond|out of|into|from|by|beside|near|next to|between|over|under|above|below|off"
    r"|upstream|downstream|at|on|of|in|around|inside|outside|toward|towards|against|across|through|to|for|with)"
)
_GOES = (
    r"(?:that |which )?(?:'s |is )?(?:going|coming|leading|running|feeding|leaving|entering|goes|comes|leads|runs|feeds|leaves"
    r"|enters)"
)
_THING = (
    r"(?:the|a|an|my|its|that|this|those|these|his|her|our|another|other|each|every|rack|number|compressor|machine|it|there)"
)
_MEASURED = ("volts", "temperature", "pressure", "ohms", "amps", "difference")
_PLACES = re.compile(rf"^(?:'s)? (?:{_GOES}\b|(?:right |just |up |down |coming |going )?{_AT} (?P<thing>{_THING}\b.*))")
_VAGUE = frozenset("the line pipe air gas coil valve oil case outlet outside".split())
"""Names that several things have."""
_OF_ANY_CONTROL = ("setting", "set point")
"""What several controls have."""
_TIME = re.compile(
    r"\b(?:minutes?|hours?|half|quarter|ago|since|midnight|noon|o'clock|morning|night|yesterday|days?|now|[ap] ?m)\b"
)
_LATER_LEG = re.compile(r"\b(?:middle|center|last|second|third|end|others?|rest)\b")
_PAIR = re.compile(r"\bbetween (one|two|three|a|b|c) and (one|two|three|a|b|c)\b")
_ITS_OWN = frozenset("the this that its it my here gauge header machine compressor rack now meter clamp display screen".split())
"""What a reading is read on, whichever it is."""


_PLACE_FIRST = re.compile(
    r"^(?:and |so |okay |yes )*(?:the )?(?:reading |voltage |volts |temperature |pressure |number )?(?:across|on|at"
    r"|after|past|over|in|for|of)"
    r" (?:the |that |this )?(?P<place>\w+(?: \w+)?)(?:,|,? (?:i|we))?(?:'ve| have| get| got| see| read|'m getting"
    r"|'m reading|'m seeing)?"
    r"(?: got| a)?(?: it's| it is| is|'s| was| reads| shows| there's)? (?P<rest>(?:about |around |minus )?(?:a hundred"
    r"|point|oh|zero|one|two"
    r"|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty|\d).*)$"
)
_DONE_FIRST = re.compile(
    r"^(?:after|once|now|now that|since) (?:i|we|i've|we've|it's|it is)(?: have)? (?P<did>clean|wip|dr|brush)\w* (?:it "
    r"|that |them |the \w+ )?"
    r"(?:off |up )?(?P<rest>\S.*)$"
)


def place_first(question: Question, text: str) -> str:
    """What a sentence says behind the place that was asked about, or behind what was to be done first; else the sentence.

    >>> place_first(Question("safety_volts.motor_protection"), "across the motor one i have zero point two")
    'zero point two'
    >>> place_first(Question("safety_volts.motor_protection"), "across the oil one i have zero point two")
    'across the oil one i have zero point two'
    """
    done = _DONE_FIRST.match(text)
    if done and any(word.startswith(done["did"]) for word in question.about):
        return done["rest"]
    match = _PLACE_FIRST.match(text)
    if not match or question.also:
        return text
    own = {*question.about, *name_words(question.asking), "one", "contact", "it", "there", "this", "that", "terminals", "pair"}
    place = set(match["place"].split())
    return match["rest"] if place <= own and place - {"one", "contact", "number"} else text


_OF_IT = r"(?:the|it|that|this|its|contact|my)\b"
_BEHIND = re.compile(
    rf"\b(?:after|behind|past|beyond|downstream of|leaving|coming out of|coming off|out of|off) {_OF_IT}"
)
_AHEAD = re.compile(rf"\b(?:before|ahead of|upstream of|in front of|entering|going into|going in|coming into|into) {_OF_IT}")
_READ_BEHIND = frozenset("after outlet off leaving behind".split())
_READ_AHEAD = frozenset("before inlet into entering ahead".split())


def _on_the_other_side(question: Question, text: str) -> bool:
    """Whether it was read before what it was asked for after, or the other way round: "one twenty before the contact"."""
    asked = {*question.about, *(word for id in (question.asking, *question.also) for word in names()[id][0].split())}
    behind, ahead = _READ_BEHIND & asked, _READ_AHEAD & asked
    if bool(behind) == bool(ahead):
        return False
    here, there = (_BEHIND, _AHEAD) if behind else (_AHEAD, _BEHIND)
    return bool(there.search(text)) and not here.search(text)


def pairs_named(question: Question, text: str) -> str:
    """ "Two ten between one and two": the pair by its name, where pairs were asked for.

    >>> pairs_named(Question("line_volts.ab", ("line_volts.bc", "line_volts.ca")), "two ten between one and two")
    'two ten on one to two'
    """
    return _PAIR.sub(r"on \1 to \2", text) if question.asking.endswith(".ab") and question.also else text


def _of_a_later_leg(question: Question, text: str, parts: tuple[Part, ...]) -> bool:
    """ "The last one's four eighty", taken for the first of three because it was the one number."""
    of_three = len(question.also) == 2 and len({id.split(".")[0] for id in (question.asking, *question.also)}) == 1
    return of_three and [part.id for part in parts] == [question.asking] and bool(_LATER_LEG.search(text))


def of_its_name(question: Question, text: str, said: Meaning) -> Meaning:
    """The meaning without a reading that was not asked for and whose name is of some other thing here.

    Args:
        question: what was asked.
        text: normalised, the whole sentence.
        said: what it was taken for.

    >>> taken = Answer((Part("discharge_temperature", 64.0),))
    >>> of_its_name(Question("valve_outlet"), "i have sixty four on the line after the valve", taken)
    NotUnderstood()
    >>> of_its_name(Question("receiver_level"), "discharge line one eighty", taken) == taken
    True
    """
    if not isinstance(said, Answer):
        return said
    numbers = [part for part in said.parts if isinstance(part.value, float) and vocabulary()[part.id].kind in _MEASURED]
    if _of_a_later_leg(question, text, said.parts):
        return NotUnderstood()
    if numbers and question.asking in vocabulary() and _on_the_other_side(question, text):
        return NotUnderstood()
    kept = tuple(part for part in said.parts if _is_meant(question, text, part))
    return said if len(kept) == len(said.parts) else Answer(kept) if kept else NotUnderstood()


def volunteered(question: Question, tokens: tuple[str, ...], one: One) -> tuple[Part, ...]:
    """Readings said by their names, as `names.volunteered` finds them; none where a name is of some other thing here."""
    parts = by_their_names(question, tokens, one)
    return parts if all(_is_meant(question, " ".join(tokens), part) for part in parts) else ()


def _is_meant(question: Question, text: str, part: Part) -> bool:
    asked = (question.asking, *question.also)
    if part.id in asked or vocabulary()[part.id].kind not in NUMBER_KINDS:
        return True
    if vocabulary()[part.id].kind == "minutes" and not _TIME.search(text):
        return False  # "it tripped at thirty eight"
    name = _called(part.id, text)
    if name is None:
        return True
    if name.group() in _OF_ANY_CONTROL:
        return False
    own = name.group().split()
    alike = any(id in vocabulary() and vocabulary()[id].kind == vocabulary()[part.id].kind for id in asked)
    if alike and set(own) <= _VAGUE:
        return False  # the question itself may be of such a line
    place = _PLACES.match(text[name.end() :])
    if not place:
        return True
    told = {word.removesuffix("'s") for word in (place["thing"] or place[0]).split()[:3]}
    return bool(place["thing"]) and told <= _ITS_OWN | name_words(part.id)


def _called(id: str, text: str) -> re.Match[str] | None:
    """The longest name of a reading that stands in a sentence."""
    return max(_names(id).finditer(text), key=lambda match: len(match.group()), default=None)


@cache
def _names(id: str) -> re.Pattern[str]:
    longest_first = sorted(names()[id], key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})\b")
