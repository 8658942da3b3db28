"""Where the commas would stand in a sentence typed without any: "bubbles it's been like that all week"."""

import itertools
import re
from collections.abc import Iterator

from assistant.language.asides import harmless
from assistant.language.classes import framed
from assistant.language.grammar import normalise, understand
from assistant.language.hedges import hedge_words, is_aside, otherwise_said
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, NotUnderstood, Part, Question
from assistant.language.names import name_words, own_words
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.spotting import general, loosely, phrases_of
from assistant.language.unready import trouble
from assistant.language.vocabulary import vocabulary

_LONGEST = 24
_TWICE_UP_TO = 12
"""Words up to which two cuts are tried: the ways grow with the square."""
_PARTICLES = frozenset(("on", "off", "in", "out", "up", "down", "over", "through", "it", "them", "him", "her", "me", "all"))
"""What ends a clause only before a word that surely begins one: "the fan's on it's loud"."""
_MAY_BEGIN = ("that", "this", "which", "even", "all")
_COPULAS = [["is"], ["ain't"], ["isn't"], ["looks"], ["seems"], ["has"], ["one's"], ["means"], ["though"], ["the"]]
_CUTS_A_CLAUSE, _WAYS = 9, 6
_AND = re.compile(r"^(?:and|but|so|then|with|also) ")
BEGINS = re.compile(
    r"(?:it|that|this|there|they|he|she|we|i|you|one|what|who|here|everything|everybody|nobody|somebody|nothing|[a-z]+)'(?:s|re|ve|m|d)$"
    r"|(?:it|they|he|she|we|i|but|because|cause|cos|though|although|so|then|yeah|yes|yep|yup|okay|done|same|says)$"
)
"""What begins a clause wherever it stands."""
MANNER = re.compile(
    r"\bif (?:you (?:ask|believe|like|want|must)(?: me| it| to know| know)?|i'm (?:honest|reading (?:it|this|that) right)"
    r"|i (?:read|heard|see|saw|got|count|counted) (?:it|that|this|them|the \w+(?: \w+)?) right"
    r"|(?:this|the|my) (?:meter|gauge|thing|dial) (?:isn't|ain't|is not|don't|doesn't) \w+)\b"
    r"|\b(?:push|press|hit|reset|tri|check|did|ask)\w* (?:it|them|that) once\b"
    r"|\b(?:like|as) (?:i|you|he|she|they) (?:said|asked|told me|say)\b|\bwould you believe(?: it| that)?\b"
)
_BINDS = re.compile(
    r"\b(?:if|when|whenever|while|unless|until|till|except|without|instead|or|either|whether|once|supposed|hope|hoping|hopefully"
    r"|wish|doubt|wonder|pretend|assume|assuming|imagine|make sure|making sure|see to it|let me|let's see|every now and then)\b"
    r"|\b(?:told|tells|telling|tell) (?:me|us)\b"
    r"|\b(?:everything|anything|all|nothing) but (?:the|that|this)\b"
    r"|\b(?:the|that|an) ?other (?:machine|rack|compressor|unit|side|probe|store|system|panel|receiver|coil|case)\b"
    r"|\b(?:was|were|had|used to)\b.*\b(?:last|yesterday|earlier|before|previously)\b"
)
"""What makes the clause beside it a condition, an order or a wish."""


def _holds() -> frozenset[str]:
    """What cannot end a clause."""
    return hedge_words("cannot_end")


def _hangs() -> frozenset[str]:
    """What cannot begin one: it belongs to what stands before it."""
    return hedge_words("cannot_begin")


def with_commas(words: str) -> Iterator[list[str]]:
    """The ways to set commas in a sentence that has none, those with the fewest first; each list holds ways of one kind.

    Nothing where it asks, where it sounds like trouble, or where a clause may be a condition, an order or a wish.

    >>> next(with_commas("bubbles it's been like that"))
    ["bubbles , it's been like that"]
    >>> list(with_commas("it's full when the rack's down"))
    []
    """
    tokens = words.split()
    if not 3 <= len(tokens) <= _LONGEST or "," in words or is_question(words) or trouble(words) or _bound(words):
        return
    cuts = [at for at in range(1, len(tokens)) if may_part(tokens, at)]
    sure = [at for at in cuts if BEGINS.match(tokens[at])]
    if sure:
        yield [_cut(tokens, sure)]
    yield [_cut(tokens, [at]) for at in cuts]
    if len(tokens) <= _TWICE_UP_TO:
        yield [_cut(tokens, list(pair)) for pair in itertools.combinations(cuts, 2) if set(pair) & set(sure)]


def _bound(words: str) -> bool:
    """Whether a clause may be a condition, an order or a wish; not where the if is only a manner of speaking."""
    return bool(_BINDS.search(MANNER.sub("", words)))


def may_part(tokens: list[str], at: int) -> bool:
    """Whether a comma may stand before this word: never inside a number, nor between it and what it counts."""
    before, behind = tokens[at - 1], tokens[at]
    begins = bool(BEGINS.match(behind)) or (behind in _MAY_BEGIN and tokens[at + 1 : at + 2] in _COPULAS)
    numbers = [word in FIGURES or word[0].isdigit() for word in (before, behind)]
    letter = at > 1 and before in "abcdef" and (tokens[at - 2] in FIGURES or tokens[at - 2][0].isdigit())  # "four oh seven a"
    if behind in _hangs() or all(numbers) or (numbers[0] and not begins):
        return False
    first_no = at == 1 and before in ("no", "nope", "nah")
    return before not in _holds() or letter or first_no or (begins and before in _PARTICLES)


def _cut(tokens: list[str], at: list[int]) -> str:
    ends = [0, *at, len(tokens)]
    return " , ".join(" ".join(tokens[start:end]) for start, end in itertools.pairwise(ends))


def by_answers(question: Question, words: str) -> Answer | None:
    """Where several things are asked for at once: the clauses that each answer one, as they are or put plainly."""
    return _by_answers(question, words) or _by_answers(question, otherwise_said(normalise(words)))


def _by_answers(question: Question, words: str) -> Answer | None:
    """Where several things are asked for at once: the clauses that each answer one, whatever order they come in.

    >>> said = _by_answers(Question("sight_glass", ("defrost_state",)), "defrost's stuck and the glass is full")
    >>> [part.value for part in said.parts]
    ['stuck', 'full']
    """
    tokens = normalise(words.replace(",", " ")).split()
    ids = (question.asking, *question.also)
    if len(ids) < 2 or not 3 <= len(tokens) <= _LONGEST or is_question(words) or trouble(words) or _bound(words):
        return None
    kinds = [vocabulary()[id].kind for id in ids if id in vocabulary() and vocabulary()[id].kind in NUMBER_KINDS]
    if len(set(kinds)) < len(kinds):
        return None  # which of several alike a number is of, the order of all of them says
    cuts = [0, *(at for at in range(1, len(tokens)) if _may_end(question, tokens, at)), len(tokens)]
    ways: dict[int, list[tuple[int, int, tuple[Part, ...]]]] = {0: [(0, 0, ())]}
    for at, start in enumerate(cuts[:-1]):
        here = sorted(ways.get(start, ()), key=lambda way: way[:2])[:_WAYS]
        for end in cuts[at + 1 : at + 1 + _CUTS_A_CLAUSE] if here else ():
            if (said := _said_in(question, " ".join(tokens[start:end]))) is None:
                continue
            for answered, clauses, parts in here:
                if not {part.id for part in said} & {part.id for part in parts}:
                    ways.setdefault(end, []).append((answered - len(said), clauses + 1, (*parts, *said)))
    whole = sorted(ways.get(len(tokens), ()), key=lambda way: way[:2])
    first = [parts for answered, _, parts in whole if answered == whole[0][0]]
    agreed = len({frozenset((part.id, part.value) for part in parts) for parts in first}) == 1 and len(first[0]) > 1
    return Answer(max(first, key=lambda parts: sum(bool(part.doubt) for part in parts))) if agreed else None


def _said_in(question: Question, clause: str) -> tuple[Part, ...] | None:
    """What one clause answers; nothing where it changes nothing, None where it may."""
    bare = _AND.sub("", clause)
    said = understand(question, bare)
    if isinstance(said, NotUnderstood) and (other := framed(otherwise_said(bare))) != bare:
        said = understand(question, other)
    if isinstance(said, Answer):
        parts = [_its_own(question, part, bare) for part in said.parts]
        own = tuple(part for part in parts if part is not None)
        return own if len(own) == len(parts) == len({part.id for part in own}) else None
    if not isinstance(said, NotUnderstood):
        return None
    return () if is_aside(bare, False) or (harmless(question, clause, []) and not _tells(question, clause)) else None


def _its_own(question: Question, part: Part, clause: str) -> Part | None:
    """The part as what it must be of: "loose" may be the coil and the probe, "controller in auto" is not the switch's."""
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    if part.id not in ids or isinstance(part.value, float):
        return part if part.id in ids else None
    tokens = {word.removesuffix("'s") for word in clause.split()}
    several = [said for id in ids if id in vocabulary() and isinstance(said := loosely(question, id, clause), Part)]
    named = [said for said in several if name_words(said.id) & tokens - {*str(said.value).split()}]
    if len(named) == 1:
        return named[0]
    return part if len(several) < 2 or name_words(part.id) & tokens - general() else None


def _tells(question: Question, clause: str) -> bool:
    """Whether a word of any answer, or the name of what was asked, stands in a clause that answers nothing."""
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    words = [word.removesuffix("'s") for word in clause.split()]
    names = {name for id in ids for name in name_words(id)} - general()
    counted = any(vocabulary()[id].kind in NUMBER_KINDS for id in ids) and any(word in FIGURES for word in words)
    return counted or bool(names & set(words)) or any((word,) in phrases_of(id) for id in ids for word in words)


def _may_end(question: Question, tokens: list[str], at: int) -> bool:
    before, behind = tokens[at - 1], tokens[at]
    numbers = [word in FIGURES or word[0].isdigit() for word in (before, behind)]
    if all(numbers) or behind in _hangs() - {"and"}:
        return False
    name = tokens[at + 1] if behind == "the" and at + 1 < len(tokens) else behind
    named = name.removesuffix("'s") in own_words(question) - general()
    joined = named or behind in ("and", "but") or bool(BEGINS.match(behind))
    called = tokens[max(0, at - 2) : at] in (["called", "for"], ["at", "all"])
    return before not in _holds() or (joined and (called or before in _PARTICLES))


def asks(words: str) -> bool:
    """Whether the words ask something: by their mark, or a clause behind the first by its form ("Ray, is that thing full")."""
    first, *later = [normalise(piece) for piece in words.split(",")]
    asked_first = bool(later) and bool(_WHICH_ONE.fullmatch(first))
    asked_later = any(is_question(piece) and not _RELATES.match(piece) for piece in later)
    return words.rstrip().endswith("?") or asked_first or has_a_tag(words) or asked_later


def has_a_tag(words: str) -> bool:
    """Whether a sentence asks for assent behind its last comma.

    >>> has_a_tag("one reset, and that's all we get, right"), has_a_tag("clockwise, right")
    (True, False)
    """
    _, comma, last = words.rpartition(",")
    return bool(comma) and normalise(last) in ("right", "correct", "huh", "isn't it") and len(words.split()) > _SHORT


_SHORT = 5
"""Words up to which a "right" behind a comma may be the answer."""
_RELATES = re.compile(r"which (?:is|was|means|tells|makes|puts|looks|seems|ain't|isn't|i'd|i)\b")
"""Behind a comma it tells more of what was said: "one eighty five, which is a little low"."""
_WHICH_ONE = re.compile(
    r"(?:uh |um |wait |okay |sorry )*(?:which|what|whose) (?:one|gauge|glass|end|side|valve|fuse|contact|rack|unit|way"
    r"|do you mean)\b.*"
)
"""Asked back before anything is told: "which one, there's two up here"."""
