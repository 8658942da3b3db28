"""The one number in a sentence that nothing else understood, to be asked back: "zero volts, that's our open one".

Nothing counts by it. Numbers that count, name, date or compare something are none, nor is a zero by which something is opened or
touched; two that differ are one only where the sentence puts the first right.
"""

import re
from dataclasses import replace

from assistant.language.answering import one, part_of
from assistant.language.grammar import normalise, understand
from assistant.language.guess import AT_ZERO
from assistant.language.lone_numbers import FIGURES, counts_another, of_another
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.names import name_words
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.standing_out import hangs_on_safety
from assistant.language.told_against import told_against
from assistant.language.unready import trouble
from assistant.language.vocabulary import vocabulary

_LONGEST = 20
_NEVER = ("minutes", "free", "acknowledge")
_TURNED = re.compile(
    r"\b(?:not|never|nobody|except|but|or|if|unless|until|when|wait|hold|hang|maybe|might|could|would|should|supposed|what|which"
    r"|who|you|was|were|used to|had|yesterday|before|earlier|last|normally|usually|rated|spec|limit|plate|setting"
    r"|book|manual|max\w*|min|minimum|than|least|most|other"
    r"|others|another|neighbor\w*|near|nearly|almost|about to|going|went|jump\w*|swing\w*|bounc\w*|drift\w*|climb\w*|dropp\w*"
    r"|rising|falling|wrong|again|need|want|will|gonna|guess|minutes?|hours?|seconds?|more|less|over|under|above|below"
    r"|fluttering|supposedly|probably|think|said|told|touched|jumped|hit)\b|n't\b|'ll\b"
)
"""Beside a number these date it, share it, move it, bound it or make it another's."""
_PUTS_RIGHT = re.compile(
    r"\b(?:no|i mean|rather|make that|correction|scratch that|sorry|wait|hold on|hang on|oops|my bad|my mistake|call it|then)\b"
)
_FIGURE = f"(?:{'|'.join(FIGURES - {'point', 'minus', 'negative'})})"
_NO_NUMBER = re.compile(
    r"\b(?:this|that|the|every|each|which|first|last|next|other|another|open|only|right|new|old|good|bad|no) one\b"
    rf"|\b(?:number|compressor|rack|leg|line|phase|fuse|contact|pole|l|stage|circuit|step|case|channel) {_FIGURE}\b"
    rf"|\b(?:all|both|the|those|these|other|of) {_FIGURE}\b(?! (?:hundred|point|{_FIGURE}))"
    rf"|\b{_FIGURE} (?:times|of|phases?|legs?|sides?|ends?|guys|people|locks?|tags?|wires?|screws?|bolts?|terminals?"
    rf"|ways|inches|feet|foot|turns|tries|connectors?|conductors?"
    rf"|readings|spots|places|points?(?! {_FIGURE})|probes?|leads?)\b"
)
"""What counts, or names, something else."""
_NOT_THIS_ONE = re.compile(r"\b(?:it|that|this)(?:'s| is| was) the (?:cut ?in|set ?point|differential|(?:other|wrong) one)\b")
"""What the number before it was of."""
_NO_ZERO = 2.0
"""From which volts and pounds say that something is not dead or not empty: that may be heard in any sentence, a zero may not."""
_SIGNS = frozenset("minus negative point".split())
_PIECES = re.compile(r"[,;:!](?:\s|$)|\.(?:\s|$)|\b(?:but|so|because|then)\b")


def open_line(question: Question, words: str) -> Answer | None:
    """That the meter shows an open line, told by one clause and asked back: "one leg's off, it's open circuit, burnt through"."""
    if question.asking not in vocabulary() or vocabulary()[question.asking].kind != "ohms":
        return None
    said = [understand(replace(question, volunteer=()), normalise(clause)) for clause in re.split(r"[,.;]", words.lower())]
    told = [part for answer in said if isinstance(answer, Answer) for part in answer.parts if part.id == question.asking]
    found = next((part for part in told if part.value == "over_range"), None)
    text = normalise(words.replace(",", " "))
    if found is None and _SHOWS_OPEN.search(text) and not _IN_OHMS.search(text):
        found = part_of(question, question.asking, "over_range")
    return Answer((replace(found, doubt="."),)) if found else None


_SHOWS_OPEN = re.compile(
    r"(?<!not )(?<!no )(?<!n't )(?<!was )\b(?:open (?:line|circuit|loop)|infinit[ey]|over (?:limit|range)|o l|no continuity"
    r"|(?:reads?|reading|shows?|showing|says?|saying|sayin'|it's|she's) (?:(?:wide|plumb|dead) )?open)\b"
    r"(?! (?:before|earlier|yesterday|then|last|the|up|it|and)\b)"
)
_IN_OHMS = re.compile(rf"\b(?:{'|'.join(sorted(FIGURES))}|\d[\d.]*)(?: k| meg)? ?(?:ohms?|k|kilohms?)\b")


def number_left(question: Question, words: str) -> Meaning:
    """The number, to be asked back; not understood where there is none, or two.

    Args:
        question: what was asked, one reading and no more.
        words: as typed, not understood.

    >>> number_left(Question("safety_volts.high_pressure"), "Zero volts on this one also.").parts[0].value
    0.0
    >>> number_left(Question("safety_volts.high_pressure"), "it was one twenty, now zero")
    NotUnderstood()
    """
    entry = vocabulary().get(question.asking)
    if entry is None or question.also or entry.kind not in NUMBER_KINDS or entry.kind in _NEVER:
        return NotUnderstood()
    text = normalise(words.replace(",", " "))
    at_zero = entry.id.startswith("dead_volts") or (entry.id in AT_ZERO and entry.kind == "pressure")
    barred = not at_zero and (entry.id in AT_ZERO or hangs_on_safety(entry.id))
    if barred or question.pending or is_question(text) or trouble(text) or len(text.split()) > _LONGEST:
        return NotUnderstood()
    if told_against(question, words):
        return NotUnderstood()
    if open_ := open_line(question, words):
        return open_
    right = _PUTS_RIGHT.search(text)
    found: list[float] = []
    clauses = _PIECES.split(words.lower())
    not_this = [bool(_NOT_THIS_ONE.search(normalise(clause))) for clause in clauses]
    for clause, of_another_one in zip(clauses, [*not_this[1:], False], strict=True):
        if of_another_one:
            continue
        plain = _NO_NUMBER.sub("it", re.sub(r"(?<!\w )hundred", "one hundred", normalise(clause)))
        tokens = tuple(plain.split())
        groups = _groups(tokens)
        if not groups:
            continue
        if len(groups) > 1 or of_another(entry.id, _unlike(question, tokens)) or counts_another(entry.id, plain):
            return NotUnderstood()
        if _TURNED.search(_PUTS_RIGHT.sub("", plain)):
            return NotUnderstood()
        value = _value(question, entry.id, tokens, *groups[0])
        if value is None:
            return NotUnderstood()
        found.append(value)
    different = found[-1:] if right else sorted(set(found))
    if len(different) != 1 or (at_zero and different[0] < _NO_ZERO):
        return NotUnderstood()
    return Answer((part_of(question, entry.id, different[0], "."),))


def _unlike(question: Question, tokens: tuple[str, ...]) -> tuple[str, ...]:
    """Without the words of the question and of its reading's names: "the coil is", where the coil's ohms are asked for."""
    own = name_words(question.asking)
    return tuple(word for word in tokens if word not in question.about and word.removesuffix("'s") not in own)


def _groups(tokens: tuple[str, ...]) -> list[tuple[int, int]]:
    """Where figures stand in a row: first and behind the last."""
    found: list[tuple[int, int]] = []
    for at, word in enumerate(tokens):
        beyond = tokens[at + 1 : at + 2]
        hundred = word == "and" and tokens[at - 1 : at] == ("hundred",) and beyond and beyond[0] in FIGURES
        half = word in ("and", "a") and " ".join(tokens[at : at + 3]).removeprefix("and ").startswith(("a half", "a quarter"))
        if word not in FIGURES and not word[0].isdigit() and not hundred and not half:
            continue
        if found and found[-1][1] == at:
            found[-1] = (found[-1][0], at + 1)
        else:
            found.append((at, at + 1))
    return [(first, behind) for first, behind in found if set(tokens[first:behind]) - _SIGNS]


def _value(question: Question, id: str, tokens: tuple[str, ...], first: int, behind: int) -> float | None:
    """With its unit, where one is said."""
    for start in (first - 1, first) if first and tokens[first - 1] == "a" else (first,):
        for end in range(min(len(tokens), behind + 3), behind - 1, -1):
            part = one(question, id, " ".join(tokens[start:end]))
            if isinstance(part, Part) and isinstance(part.value, float):
                return part.value
    return None
