"""The worst of what was measured in turn, where the worst is asked for: "zero everywhere, worst is point three".

Every clause must be a value, nothing at all, or where it was read: the highest of them is a plainer sentence, which is then
understood as any other. The patterns are the project's own reading of how people tell what a meter showed on several legs.
"""

import re

from assistant.language.among_unknown import measured
from assistant.language.grammar import commas_apart
from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Question
from assistant.language.numbers import told_number
from assistant.language.own_unit import LIVE_VOLTS

_FIGURE = rf"(?:half a|half|{'|'.join(sorted(FIGURES))}|\d[\d.]*)"
_VALUE = rf"(?P<value>{_FIGURE}(?: {_FIGURE})*)(?: volts?)?"
_WHERE = (
    r"(?: (?:(?:on|to|at|across|between|from|of|for) )?(?:all|each|every|any|the|both|of|them|it|legs?|lines?|pairs?"
    r"|ones?|one|two"
    r"|three|six|way|ground|earth|and|everywhere|everything|here|around|round|over|across|control|power|others?|rest|single|side|there|also|too|still|either|neither))*"
)
_ZERO = re.compile(
    r"(?:(?:(?:the )?(?:rest|others?|remainder|other five)(?:'s| is| are)?|"
    r"it's|it is|they're|is|i get|i got|got|get|i have|all are|all|dead|and|okay|so|still|also|(?:the )?control's"
    rf"|(?:the )?control is|power's|power is) )*(?:zeros?|nothing|none|dead|nil"
    rf"|i'm not (?:getting|reading|seeing) (?:anything|a thing|nothing))(?: volts?)?{_WHERE}"
)
_WORST = re.compile(
    r"(?:(?:and|but|with|so|well|okay|the|my|it's|a) )*(?:worst|highest|most|biggest|max|maximum|top)"
    r"(?: (?:one|of (?:them|the six|all)|reading|leg|pair|i (?:got|saw|had|have|see|get)|there|here))*"
    r"(?:(?:'s| is| was| at| reads)+|(?= (?:zero )?point\b))"
    rf" (?:a |about |only |just )?{_VALUE}{_WHERE}"
)
_THE_WORST = re.compile(
    rf"(?:(?:and|but|well|okay|so|a|about) )*{_VALUE}(?:'s| is| was|,)? (?:the |my )?(?:worst|highest|most|max|biggest|top)"
    r"(?: (?:one|of (?:them|it|all|the lot|the six)|(?:that )?i (?:can|could) (?:find|see|get)|i (?:got|saw|see|found)|anywhere"
    r"|there|here))*"
)
_NONE_OVER = re.compile(
    rf"(?:nothing|none|not one|all|they're all|none of them)(?: of them)?{_WHERE}(?:'s| is| are)?"
    rf" (?:over|above|more than|higher than|under|below|less than) {_VALUE}{_WHERE}"
)
_TAKES_BACK = re.compile(r"(?:no|wait|actually|hold on|hang on|hmm|let's see)(?: (?:no|wait))*")
_BESIDE = re.compile(
    r"(?:well|okay|so|no|wait|actually|sorry|yeah|yes|hmm|let's see|same(?: thing| again| here| deal| story)?|that's (?:all|it)"
    r"|(?:it's"
    r" )?(?:just |only )?(?:a )?"
    r"(?:ghost(?:s|y|ing)?|phantom|stray|induced|float(?:ing)?)(?: (?:volts?|voltage|like|i'd say|i think|probably|most"
    r" likely))*"
    r"|(?:the )?cover(?:'s| is) off|(?:on |for )?all (?:of )?(?:the )?(?:six|three)(?: of them)?"
    r"|(?:the )?control(?: \w+)? (?:breaker|switch|fuse|isolator)(?:'s| is) (?:off|out|pulled|open))"
)
"""What may be told beside it: which kind of volts a high impedance shows, that it is the same, what it is cut off by."""
_CONTROL_TOO = re.compile(r"(?:and )?(?:the )?control(?:'s| is)?(?: also| too)? (?:zero|nothing|dead)(?: too| also| as well)?")
_WHY_LIVE = re.compile(
    r"(?:(?:it's|that's|it|that) )?(?:fed|comes?|coming|is) (?:from|off) .+|of course|(?:so )?(?:i'll|i will|let me)"
    r" (?:turn|switch|shut|kill|pull|lock) .+"
)
"""What is told beside volts that are there."""
_ON_EVERY = re.compile(r"\b(?:every|each)\b|\b(?:on|across) all$|^all (?:the )?(?:six|three)\b")
_ONE = re.compile(rf"(?:(?:and|then|but|with) )*(?:(?:a|only|just|it's|at|about|i|i've|i have|got|get|see|read|had|we|we've) )*"
    rf"{_VALUE}{_WHERE}(?:,? at (?:the )?most"
    rf"| max| tops| or less| (?:is |was |at )?(?:the )?worst)?")

_ITS_OWN = (re.compile(r"(?:the )?power(?:'s| is) "), re.compile(r"(?:the )?control(?:'s| is) (?:also |all )*(?:zero|nothing)\b"))
"""What is named as it was asked."""
_AT_MOST = re.compile(r"\b(?:at (?:the )?most|max|tops)$")


def worst_of(question: Question, words: str) -> str:
    """The highest value of a sentence whose every clause is one or says that there is none; empty where it is no such sentence.

    Args:
        question: what was asked; only a worst of several is looked for.
        words: as typed, with their commas.

    >>> asked = Question("dead_volts.control", about=("across", "each", "leg", "worst"))
    >>> worst_of(asked, "zero everywhere, worst is point three"), worst_of(asked, "zero, zero, four eighty")
    ('point three', 'four eighty')
    >>> worst_of(asked, "zero on two of them, still doing the rest")
    ''
    """
    if question.also or "worst" not in question.about or not question.asking.startswith("dead_volts."):
        return ""
    pieces = [piece.strip() for piece in commas_apart(words).split(",") if piece.strip() and not is_sound(piece.strip())]
    if pieces and _TAKES_BACK.fullmatch(pieces[-1]):
        return ""
    other = _CONTROL_TOO if question.asking == "dead_volts.power" else _BESIDE  # asked for by itself all the same
    pieces = [piece for piece in pieces if not (_BESIDE.fullmatch(piece) or other.fullmatch(piece))]
    told = [value for piece in pieces if (value := _value(piece)) is not None]
    if any((told_number(value) or 0.0) >= LIVE_VOLTS for value in told):
        pieces = [piece for piece in pieces if not _WHY_LIVE.fullmatch(piece)]
    read = [_value(piece) for piece in pieces]
    if len(pieces) == 1 and "," in words and read[0] is not None:
        return re.sub(r"^(?:and|but|so) ", "", pieces[0])
    bounds = any(_AT_MOST.search(piece) or _NONE_OVER.fullmatch(piece) or _ON_EVERY.search(piece) for piece in pieces)
    whole = len(read) > 1 or bounds or bool(pieces and _ITS_OWN[question.asking.partition(".")[2] == "control"].match(pieces[0]))
    if any(value is None for value in read) or not whole:
        return ""  # one value alone is understood as any other
    return max((value for value in read if value is not None), key=lambda value: told_number(value) or 0.0)


def _value(piece: str) -> str | None:
    """The number of one clause in its own words; "zero" where there is none, None where it says anything else."""
    if _ZERO.fullmatch(piece):
        return "zero"
    for way in (_WORST, _THE_WORST, _NONE_OVER, _ONE):
        if (match := way.fullmatch(piece)) and told_number(match["value"]) is not None:
            return str(match["value"])
    return None


_SOME_LEGS = re.compile(
    r"^(?!.*\b(?:all|every|each|worst|rest|others?|most|highest|none|nothing on)\b).*\bon (?:just |only )?"
    r"(?:one|two|a couple|the (?:first|second|third|last|top|bottom))(?: (?:legs?|lines?|pairs?|phases?|sides?|poles?"
    r"|of (?:them|six)))?$"
)
_HOW_MANY = re.compile(
    r"\b(?:all|the|on|of|any|each|every|one|both|number)(?: of)?(?: the)? (?:one|two|three|four|six)\b"
    r"(?! (?:point|hundred|volts?)\b)"
    r"|\b(?:one|two|three|four|six) (?:legs?|lines?|pairs?|phases?|readings?|ways|sides|of them)\b"
    r"|\b(?:worst|highest|biggest) one\b"
)
"""How many were measured, or which."""


def not_the_worst(text: str, said: Answer) -> bool:
    """Whether only a part of the legs is told of, or a higher value beside the one that was taken.

    >>> from assistant.language.meaning import Part
    >>> zero = Answer((Part("dead_volts.power", 0.0),))
    >>> [not_the_worst(text, zero) for text in ("zero on one", "one twenty no zero now", "zero on all six")]
    [True, True, False]
    """
    values = [part.value for part in said.parts if isinstance(part.value, float)]
    told = [told_number(match.group()) for match in measured(_HOW_MANY.sub(" ", text))]
    higher = bool(values) and any(value is not None and value > max(values) for value in told)
    return higher or bool(_SOME_LEGS.search(text))
