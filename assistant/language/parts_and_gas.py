"""What was left in and what was added, told in a sentence: "no, nothing, just the fuse, didn't touch the gas".

Each clause must tell of parts, of refrigerant, or what new part went in, which is nothing left over; what comes of it is a
plainer sentence, which is then understood as any other. The patterns are the project's own reading of how people tell it.
"""

import re

from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question

_PART, _GAS = "part_left_in_use", "refrigerant_added"
_LEAD = r"(?:(?:no|nope|nah|yes|yeah|well|uh|um|and|but|so|okay|only|just|i|we|i've|it's|there's|that's) )*"
_STUFF = r"(?:gas|refrigerant|charge|juice|pounds?|kilos?|ounces|(?:r )?(?:three|four|five|six)(?: \w+){1,3})"
_THING = (
    r"(?:part|parts|coil|fuse|fuses|fan|motor|module|valve|probe|sensor|wire|relay|contactor|switch|gasket|gaskets|core|filter|drier|nut|flare"
    r"|belt|capacitor|cap|plug|jumper|cable|lead|bit of wire|piece of wire|strainer|oil|regulator|spare|one)"
)
_FIGURE = rf"(?:a|half a|an|{'|'.join(sorted(FIGURES))}|and a half|and half|\d[\d.]*|and)"
_KIND = r"(?:borrowed|temporary|temp|makeshift|loaner|substitute|or)"
_STAYED = r"(?: (?:(?:(?:is|are|was|were) )?left(?: (?:in|behind|over|there))*|in there|stays in|still in|that stays|in it))"
_NO_PARTS = re.compile(
    rf"{_LEAD}(?:i |we )?(?:didn't|haven't|never) (?:leave|left) (?:anything|any|nothing|a thing)(?: {_KIND})*(?: {_THING})?"
    rf"{_STAYED}*|"
    rf"{_LEAD}(?:nothing|none)(?: (?:{_KIND}|of (?:that|those|them|mine)))*{_STAYED}*"
    rf"|{_LEAD}no(?: {_KIND})*(?: {_THING}{_STAYED}*|{_STAYED})"
)
_NEW_PARTS = re.compile(
    rf"{_LEAD}(?:(?:used|fitted|put in|changed|needed) )?(?:the |a |an |one |its |my |that |new |old |bit of |piece of "
    rf"|some |own |original |proper |right )*{_THING}"
    r"(?: and (?:the |a |an |one |new |bit of |piece of |some )*" + _THING + r")*"
    r"(?:(?:'s|'re| was| is| were| are)(?: all| brand| the| a)* (?:new|mine|ours|original|proper|right|right one|right"
    r" ones|store's|from stock|in for good|in to stay)(?: one| part)?"
    r"(?:(?: and| so)? it(?:'s)? stay(?:s|ing)?(?: in| on| there)?)?)?"
    r"(?: (?:used|fitted|put in))?"
    r"(?: (?:off|from|out of) (?:the|my) (?:van|truck|stock|shelf|box))?"
    rf"|{_LEAD}(?:all|everything)(?:'s| is| was)? (?:brand )?new(?: parts)?|{_LEAD}(?:new|proper|right|original) parts(?: only)?"
    r"|(?:it's |it was |straight )?(?:off|from|out of) (?:the|my) (?:van|truck|stock|shelf|box)"
)
"""A new part that was fitted is none that is left over."""
_NO_GAS = re.compile(
    rf"{_LEAD}(?:(?:the )?(?:refrigerant|gas|charge)(?: also| too)? (?:nothing|none|zero)"
    rf"|(?:didn't|did not|never|haven't|don't)(?: even)? (?:touch|touched|add|added|put|open|opened|need"
    rf"|charge|charged)(?: (?:the|any|in|a))*"
    rf"(?: (?:{_STUFF}|system|circuit|anything|any|in))*"
    rf"|(?:added )?(?:no|zero|none of the|any) {_STUFF}"
    rf"(?: (?:is|was|has been|got|added|put in|put|in|went in|needed|charged|at all|either))*"
    rf"|(?:the )?(?:refrigerant|gas|charge)(?: i| we) (?:didn't|did not|never|haven't|have not)"
    r" (?:add|touch|put|open|charge)(?:ed)?(?: (?:in|any|at all|either))*"
    r"|(?:never|didn't)(?: even)? (?:hook|connect|crack|open)(?:ed)?(?: up| out)? (?:a|the|my|any)"
    r" (?:jug|bottle|cylinder|drum|hose|hoses|gauges|manifold)(?: at all)?"
    rf"|(?:nothing|none|zero) (?:added|put in|went in|charged)(?: (?:at all|either))*|{_STUFF}(?:'s|'re| was|"
    rf" is)? (?:untouched|not touched))"
)
_GAS_IN = re.compile(
    rf"{_LEAD}(?:(?:charged|added|put back|put in|put|weighed in|weighed|topped (?:it )?(?:up|off)|recharged|used)(?:"
    rf" (?:it|in|back|up|with|by|about"
    rf"|around))* )?(?P<mass>{_FIGURE}(?: {_FIGURE})* (?:pounds?|kilos?|kilograms?|lbs?)(?: (?:and )?{_FIGURE}(?:"
    rf" {_FIGURE})* ounces)?)"
    rf"(?: (?:of|added|in|back|went in|put in|put back|it|charged|the|{_STUFF}))*"
    rf"|(?:refrigerant|gas|charge)(?: added| put in| put back| in)?(?:'s| is| was)? (?P<more>{_FIGURE}(?:"
    rf" {_FIGURE})* (?:pounds?|kilos?|kilograms?|lbs?))(?: (?:of|{_STUFF}))*"
)
_LEFT = re.compile(
    rf"(?!(?:no|nope|nothing|none|not)\b(?! ?,)){_LEAD}(?:(?:have|had to|used|put in|fitted|left|borrowed|took)(?:"
    rf" (?:in|a|an|the|one))* )?(?:a |an |one |the )?"
    rf"(?P<kind>borrowed|temporary|temp|substitute|makeshift|loaner)(?: \w+)? {_THING}(?:'s| is)?(?: (?:in there|in it|left in"
    r"|in|for now))*(?: (?:till|until) .+)?"
    rf"|(?!(?:no|nothing|none|not)\b){_LEAD}(?P<lent>borrowed) (?:a|an|the|one|its) (?:\w+ )?{_THING}(?: (?:off|from) .+)?"
)
_IS_BORROWED = re.compile(
    rf"{_LEAD}(?:the |a |an |one |that )?(?:\w+ )?(?:{_THING}|magnet|reset magnet)(?:'s| is) (?P<kind>borrowed"
    rf"|temporary|substitute)"
)
_WHOSE = re.compile(r"(?:and |it's |that's )*(?:mine|ours|the store's|on order|to be ordered|needs ordering|needs"
    r" replacing|has to be replaced)")
_KIND_ALONE = re.compile(
    r"(?:(?:yes|yeah|well|uh|it's|that's|so) )*(?:a |an |one )?(?P<kind>borrowed|temporary|temp|substitute|makeshift"
    r"|loaner)(?: one| part)?"
)
_RIGHT_ONES = re.compile(
    r"(?:(?:they're|it's|that's|those are|they are) )?(?:all )?(?:the |a )?(?:right|proper|correct|new|original|factory)"
    r" (?:ones?|parts?|size|kind|rating)"
)
"""Said beside a part that was fitted: it is none that is borrowed or for now."""
_NOTHING = re.compile(r"(?:(?:no|nope|nah|well|uh|nothing|none|neither|zip|zero) ?)+(?:at all|of (?:it|that|either|both))?")
_KINDS = {"temp": "temporary", "makeshift": "temporary", "loaner": "borrowed"}


def parts_and_gas(question: Question, words: str) -> str:
    """The same in plainer words; empty where a clause tells anything else, or where it is not asked.

    >>> asked = Question("part_left_in_use", ("refrigerant_added",))
    >>> parts_and_gas(asked, "no, nothing, just the fuse, didn't touch the gas")
    'no parts left , zero pounds'
    >>> parts_and_gas(asked, "no parts left, i charged two and half pounds of four oh seven a back")
    'no parts left , two and a half pounds'
    >>> parts_and_gas(asked, "a temporary fan, no gas added"), parts_and_gas(asked, "nothing, the fan fell off")
    ('temporary , zero pounds', '')
    """
    if question.asking != _PART or question.also not in ((_GAS,), ()):
        return ""
    zero = "zero kilos" if question.units == "si" else "zero pounds"
    part = mass = ""
    both = False
    for clause in _clauses(words):
        if _NOTHING.fullmatch(clause):
            both = True
        elif _RIGHT_ONES.fullmatch(clause):
            part = part or "no parts left"
        elif match := _GAS_IN.fullmatch(clause):
            mass = (match["mass"] or match["more"]).replace("and half", "and a half")
        elif _NO_GAS.fullmatch(clause):
            mass = zero
        elif match := _KIND_ALONE.fullmatch(clause) or _IS_BORROWED.fullmatch(clause):
            part = _KINDS.get(match["kind"], match["kind"])
        elif _NO_PARTS.fullmatch(clause):
            part = part or "no parts left"
        elif match := _LEFT.fullmatch(clause):
            kind = match["kind"] or match["lent"]
            part = _KINDS.get(kind, kind)
        elif not (_NEW_PARTS.fullmatch(clause) or _WHOSE.fullmatch(clause)):
            return ""
    if both:
        part, mass = part or "no parts left", mass or zero
    said = [part] if part else []
    return " , ".join(said + ([mass] if mass and question.also else []))


def told_of(plain: str) -> str:
    """Which of the two readings the plainer words are of, where they are of one alone."""
    return _GAS if re.search(r"\b(?:pounds?|kilos?|ounces|lbs?|kilograms?)\b", plain) else _PART


_DENIED = re.compile(r"\b(?:no|nothing|not|none|without|never)(?: (?:any|a|of|parts?|or|borrowed|temporary"
    r"|substitute)){0,3} (?:borrowed|temporary|substitute)\b")


def unless_denied(text: str, meaning: Meaning) -> Meaning:
    """The meaning, but for a part that is said not to be there: "no temporary parts" leaves none in.

    >>> from assistant.language.meaning import Part
    >>> unless_denied("no temporary parts two pounds", Answer((Part("part_left_in_use", "temporary"),)))
    NotUnderstood()
    """
    if not isinstance(meaning, Answer) or not _DENIED.search(text):
        return meaning
    kept = tuple(part for part in meaning.parts if part.id != _PART or part.value == "none")
    return Answer(kept) if kept else NotUnderstood()


def _clauses(words: str) -> list[str]:
    words = re.sub(r"(?<!no )\b(refrigerant|gas|charge)( added| put in| put back)?\s*[,:]\s*(?=\w)", r"\1\2 ", words.lower())
    pieces = re.split(r"\s*,\s*|\s+(?:and|but) (?=(?:no|didn't|four|two|three|one|i|nothing|a temporary|about|put|added"
        r"|charged)\b)(?!a half|half)", words.lower())
    return [" ".join(piece.split()) for piece in pieces if piece.strip() and not is_sound(piece.strip())]
