"""A number that stands plainly among words that nobody listed: "two oh eight, same as the last point, so it's passing".

Tried only after all else failed. Clauses without a number are left out, and what only compares; of a value told more and more
closely the last counts. Where a word of what was left out dates, doubts or turns it, and where safety hangs on it, it is
asked back.
"""

import re
from collections.abc import Callable
from dataclasses import replace

from assistant.language.guess import AT_ZERO
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question
from assistant.language.numbers import DIGITS, TEENS, TENS, UNIT_WORDS, told_number
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.standing_out import hangs_on_safety
from assistant.language.vocabulary import kind_of

_LATER = sorted({*DIGITS, *TEENS, *TENS, "hundred", "thousand", "point", "oh", "zero", "half", "quarter"})
_FIRST = sorted({*DIGITS, *TEENS, *TENS, "zero", "nought", "half", "quarter"})
_DIGITS = r"-?\d[\d.]*"
_NUMBER = (
    rf"(?:a (?=hundred|half|quarter|thousand))?(?:{'|'.join(_FIRST)}|(?<=a )(?:hundred|thousand)"
    rf"|point(?= (?:{'|'.join(_FIRST)})\b)|{_DIGITS})\b"
    rf"(?: (?:(?:and )?a (?=half|quarter)|(?<=hundred )and |and (?=half))?(?:{'|'.join(_LATER)}|{_DIGITS})\b)*"
)
_UNIT_FORMS = {form for unit, forms in UNIT_WORDS.items() if unit != "piece" for form in forms.split("|")}
_UNITS = "|".join(sorted((form for form in _UNIT_FORMS if len(form) > 1 or form == "k"), key=len, reverse=True))
_MEASURED = re.compile(rf"(?<![\w'])(?:minus |negative )?{_NUMBER}(?: (?:{_UNITS})(?![\w']))?")
_STANDS_FOR_IT = re.compile(
    rf"\b(that|this|the|last|first|second|third|other|another|each|every|which|good|bad|new|old|any|no|worst|highest|lowest|like"
    rf"|next|sound|\w+'s) one\b(?! (?:{'|'.join(_LATER)})\b)|\b()one (?:bit|thing|of)\b"
)
""" "That one" is no number."""
_SIDES = re.compile(r"\b(?:the |both |its )?(?:two|both) (?:sides|ends|terminals|legs|points|screws|lugs|probes)\b")
_CUTS = re.compile(
    r"\s*[,;]\s*|\s*(?<=\w)[.](?=\s|$)\s*|\s+(?=(?:so|but|which|because|though|although|and|while|where|since|as)\s+"
    r"(?:it|it's|that|that's|i|i'm|i'll|i've|we|she|she's|the|there|there's|they|they're|nothing|not|is|was|means|wandering|still"
    r"|this|hasn't|haven't|holding|climbing|falling|steady|stopping|staying|had|my)\b)"
)
_COMPARED = re.compile(
    rf"(?:(?:that's|which is|and|a|good|about|only|just|but|it's|maybe) )*{_NUMBER}(?: (?:{_UNITS}|couple))*"
    r" (?:up|down|under|over|above|below|less|more|higher|lower|colder|warmer|hotter|cooler|off|better|worse)\b.*"
    r"|in (?:that|the|a|one) (?:minute|hour)"
    r"|(?:and |but |so |it |i )*(?:not|which|with|hasn't|haven't|didn't|after|since|watched|taken|same|scale zeroed)\b.*"
)
"""How far it is from something else, when or under what it was read, what it is held against."""
_ASKS_BACK = re.compile(
    r"\b(?:if|unless|until|wrong|certain|trust|supposed|should|ought|specs?|plate|book|manual|label|rated|rating|usually"
    r"|normally|normal|yesterday|last (?:week|month|year|night|time i|visit|service|shift)|ago|others?|another|neighbor\w*|next"
    r"|wait|hold on|hang on|hmm|let me|checking|recheck|remember|memory|told|said|says he|he says|they say|somebody|someone"
    r"|everybody|maybe|might|may|could|would|when|running|tripped|before i|before it|earlier|used to|was|were|had|bounc\w*"
    r"|jump\w*|swing\w*|wander\w*|hunting|between|range|set|setting|or|not sure|don't know|no idea|can't tell|can't read|hard to"
    r"|can't be|need|needs|want|wants|try|goes|going to|gonna|will|expect\w*|fluctuat\w*|flicker\w*|guess\w*|probably|both|each"
    r"|every|percent of|half of|for a moment|for a second|at first|then|nothing|none|los[et]\w*|falling|rising|climbing|dropping"
    r"|creeping|coming|went|fans?|(?:good|bad|like|new|old|spare) one|this one|that one|dead|open|shorted|short|gone)\b"
)
"""Beside a number one of these dates it, doubts it, shares it out, turns it or makes it another's: it is asked back."""
_SETTLES = re.compile(
    r"^(?:(?:yeah|yes|well|so|and|then|now|say|call it|i'd (?:say|call it|go with)|i'll (?:say|go with)|let's (?:say|call it)"
    r"|make it|it's|that's|it is|i mean|it says|scale says|settles at|steady at|about|right at|like|on it|maybe|i guess) )+(?=\w)"
)
"""What leads to the one of several that counts."""
_HARD = re.compile(
    r"\b(?:if|unless|until|wrong|what|which one|who|whose|why|how|or|between|from|to|other|another|neighbor\w*)\b|\?"
)
_SPEAKS_OF_OTHERS = re.compile(rf"\b(?:(?:compressor|machine|number|unit|rack) (?:{'|'.join(DIGITS)}|[a-h])|decimal|misread)\b")
"""Another machine is named, or the reading before is taken back."""
_NAMES_ONE = re.compile(
    r"\b(?:one to two|two to three|three to one|on (?:one|two|three)|first|second (?!set)|third|last|middle|left"
    r"|right (?!at|on)|line one)\b"
)
_NEAR_SHARE = 0.15
_LONGEST = 24


def among_unknown(question: Question, words: str, understand: Callable[[str], Meaning]) -> Meaning:
    """The answer that its numbers give; not understood where they give none.

    Args:
        question: what was asked.
        words: as said, commas apart.
        understand: what words mean to the same question.
    """
    ids = (question.asking, *question.also)
    if question.pending or kind_of(question.asking) not in NUMBER_KINDS or len(words.split()) > _LONGEST:
        return NotUnderstood()
    words = _SIDES.sub("the ends", words.lower())
    clauses = [clause.strip() for clause in _CUTS.split(words) if clause and clause.strip()]
    numbered = [clause for clause in clauses if _numbers(clause) and not _COMPARED.fullmatch(clause)]
    beside = " , ".join(clause for clause in clauses if clause not in numbered)
    too_few = len(clauses) < 2 and "the ends" not in words
    if not numbered or too_few or _HARD.search(" , ".join(numbered)) or _SPEAKS_OF_OTHERS.search(beside):
        return NotUnderstood()
    told = _of_each(numbered, ids) if question.also else _last_of(numbered)
    if question.also and told == " , ".join(clauses):
        return NotUnderstood()
    said = understand(told) if told else NotUnderstood()
    if not isinstance(said, Answer) or not {part.id for part in said.parts} <= set(ids):
        return NotUnderstood()
    doubted = bool(_ASKS_BACK.search(beside)) or any(hangs_on_safety(id) or id in AT_ZERO for id in ids)
    return Answer(tuple(replace(part, doubt=part.doubt or ("." if doubted else "")) for part in said.parts))


def _numbers(clause: str) -> list[str]:
    return [match.group() for match in _MEASURED.finditer(_STANDS_FOR_IT.sub("it", clause))]


def measured(text: str) -> list[re.Match[str]]:
    """The numbers of a text with their units, where they stand."""
    return list(_MEASURED.finditer(text))


def turns(words: str) -> bool:
    """Whether words beside a number make it a condition, a question, one of two or another's."""
    return bool(_HARD.search(words) or _SPEAKS_OF_OTHERS.search(words))


def only_compares(clause: str) -> bool:
    """Whether a clause tells no reading but what one is held against, or when it was read."""
    return bool(_COMPARED.fullmatch(clause))


def asks_back(words: str) -> bool:
    """Whether words beside an answer date it, doubt it, share it out or turn it."""
    return bool(_ASKS_BACK.search(words))


def _of_each(clauses: list[str], ids: tuple[str, ...]) -> str:
    """The clauses of several values; where there is one number for each of three alike, the numbers alone."""
    told = " , ".join(clauses)
    numbers = [number for clause in clauses for number in _numbers(clause)]
    alike = len({id.split(".")[0] for id in ids}) == 1 and len(numbers) == len(ids) and not _NAMES_ONE.search(told)
    return " , ".join(numbers) if alike and all(len(_numbers(clause)) == 1 for clause in clauses) else told


def _last_of(clauses: list[str]) -> str:
    """The clause with the one number; of a value told in several clauses the last number, where it says the same more closely.

    Empty where they are two values.
    """
    found = [number for clause in clauses for number in _numbers(clause)]
    values = [told_number(one) for one in found]
    if len(found) == 1:
        return clauses[0]
    last, before = values[-1], values[:-1]
    finer = found[-1].startswith(f"{found[-2].split(' ')[0]} point ")
    closer = finer or last in before or _SETTLES.match(clauses[-1]) is not None
    if not closer or last is None or any(value is None for value in before) or len(_numbers(clauses[-1])) != 1:
        return ""
    near = all(value is not None and abs(value - last) <= _NEAR_SHARE * max(abs(value), abs(last), 1.0) for value in before)
    return found[-1] if near else ""
