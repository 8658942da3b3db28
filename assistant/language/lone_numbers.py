"""The one number of a sentence: every word beside it changes nothing."""

import re
from functools import cache

from assistant.language.answering import one
from assistant.language.hedges import hedge_words
from assistant.language.meaning import Part, Question
from assistant.language.names import called, name_words
from assistant.language.numbers import DIGITS, TEENS, TENS, UNIT_WORDS
from assistant.language.spotting import general
from assistant.language.vocabulary import vocabulary

FIGURES = frozenset((*DIGITS, *TEENS, *TENS, *"hundred thousand point oh zero minus negative half quarter".split()))
_LIMITS = frozenset(
    "under over below above close almost maybe not no or than more less most least max maximum minimum guess all part hair within"
    .split()
)
"""Words that make a number the end of a range, or a guess."""
_COUNTED = frozenset("book manual spec specs guys folks people everyone everybody somebody hours times number".split())
"""What a number may count, or name, that is no reading: "two guys", "number three"."""
_THINGS = frozenset(
    "suction discharge injection liquid line panel disconnect tag refrigerant circuit control coil head case cases oil drier"
    " receiver compressor machine rack cutout heater crankcase".split()
)
"""What another number may be of: beside its name a bare number is not this reading's."""
_SAYS = frozenset("says say shows show showing reads read reading gives indicates indicating displays registers".split())
"""What a thing does that a number is read on, whatever it is called ("infrared says ninety five"), but for another reading's."""
_UP = frozenset("running going turning spinning working on up fine good okay healthy alive holding humming".split())
_DOWN = frozenset("off down tripped out dead stopped quit standing dropped failed".split())
_BESIDES = frozenset("other others rest remaining but except besides".split())
HOW_SET = frozenset("open opened closed shut tight".split())
"""How valves and covers stand, which count no machine."""
_NO_COUNT_OF = {
    "tripped_count": _UP | _BESIDES, "alarms_last_day": _UP | _BESIDES,
    "running_count": _DOWN | {"but", "except"}, "condenser_fans_running": _DOWN | {"but", "except"},
    "condenser_fans_called": _UP | _DOWN | _BESIDES, "starts_last_hour": _UP | _DOWN | _BESIDES,
}  # fmt: skip
"""What the machines do that a count is not of: "the other two are running", where it was asked how many tripped."""
_WHERE = frozenset("in on at by from off across into over with when".split())
"""What begins the place where it was read, or how."""
_UNIT_WORDS = [form for forms in UNIT_WORDS.values() for form in forms.split("|")]
_UNITS = frozenset(word for form in _UNIT_WORDS for word in form.split()) - {"of", "is", "are"}
_ASIDE_WORDS = 4
_HALVED = frozenset({"and", "a", "an", "or"})
"""Words that a number cannot end with: half of one may be left."""
_IS_FIGURE = re.compile(r"[-.\d]")


@cache
def _beside_numbers(id: str) -> frozenset[str]:
    """Words that change nothing beside a number: what people hang on one, the id's own names, and how it feels."""
    kinds = ("leads", "tails", "number_leads", "number_tails", "beside_numbers")
    own = name_words(id)
    words = general() | own | {f"{word}'s" for word in own}
    words |= {word for kind in kinds for word in hedge_words(kind)}
    return frozenset(words - _LIMITS - FIGURES - _elsewhere(id))


@cache
def _elsewhere(id: str) -> frozenset[str]:
    """Words that say of what else the number is."""
    words = _COUNTED | (_THINGS - name_words(id))
    return frozenset(words | {f"{word}'s" for word in words})


def counts_another(id: str, text: str) -> bool:
    """Whether a number among these words is of machines that do something else than those that were asked for.

    >>> counts_another("tripped_count", "the other two are running"), counts_another("running_count", "the other two are running")
    (True, False)
    """
    words = set(text.replace(" out of ", " of ").split())
    return bool(words & _NO_COUNT_OF.get(id, frozenset())) or (id in _NO_COUNT_OF and bool(words & HOW_SET))


SOME_OF_THEM = re.compile(
    r"\b(?:one|two|three|four|five|six|seven|eight|\d) of (?:them|these|those|us|(?:the|my|our) other\w*)\b"
)
_OTHERS = re.compile(r"\b(?:one|two|three|four|five|six|\d) (?:others?|other ones?|more)\b")


def number_in(question: Question, id: str, tokens: tuple[str, ...]) -> Part | None:
    """The one number among these words; None where a word beside it might change it, or another number stands there."""
    text = " ".join(tokens)
    if id.startswith("dead_volts") or SOME_OF_THEM.search(text) or of_another(id, tokens):
        return None  # what opens a panel is said plainly; "one of them started" is no pound
    if vocabulary()[id].kind != "count" and _OTHERS.search(text):
        return None
    asked = {word for about in question.about for word in (about, f"{about}'s")}
    beside = _beside_numbers(id) | (asked - _LIMITS - FIGURES - _elsewhere(id))
    figures = [at for at, word in enumerate(tokens) if word in FIGURES or _IS_FIGURE.match(word)]
    if not figures:
        return None
    barred = (_LIMITS | _elsewhere(id) | hedge_words("turning")) - asked - name_words(id) - {"can"}
    for start in range(figures[0] + 1):
        lead = tokens[:start]
        of_it = lead[-1:] in (("is",), ("are",)) and not asked.isdisjoint(set(lead[:2]) - general())  # "the spare from my van is"
        if not all(word in beside for word in lead) and not _on_something(lead, beside, barred, of_it):
            continue
        for end in range(len(tokens), figures[-1], -1):
            if tokens[end - 1] in _HALVED or tokens[end:] == ("and",):
                continue
            if not all(word in beside for word in tokens[end:]) and not _somewhere(tokens[end:], beside, barred):
                continue
            part = one(question, id, " ".join(tokens[start:end]))
            if isinstance(part, Part) and isinstance(part.value, float) and part.id == id:
                return part
    return None


def _on_something(lead: tuple[str, ...], beside: frozenset[str], barred: frozenset[str], of_it: bool = False) -> bool:
    """ "The worst one is showing": what the number was read on, by any name that is no other reading's."""
    unknown = [word for word in lead if word not in beside]
    return bool(lead) and (of_it or lead[-1] in _SAYS) and len(unknown) <= _ASIDE_WORDS and not set(unknown) & barred


def _somewhere(tail: tuple[str, ...], beside: frozenset[str], barred: frozenset[str]) -> bool:
    """ "In the worst freezer": where it was read, no other reading's place."""
    unknown = [word for word in tail if word not in beside]
    if tail[:1] and tail[0] in _UNITS:
        return False  # "celsius by my clamp": of another unit than was asked for
    opened = any(word in _WHERE for word in tail[:2])
    return opened and len(unknown) <= _ASIDE_WORDS - 1 and not set(unknown) & (barred | FIGURES)


_NO_QUANTITY = ("minutes", "count", "free", "acknowledge")


def of_another(id: str, tokens: tuple[str, ...]) -> bool:
    """Whether it begins with the name of another reading: "return gas is at forty two", where a filter's drop is asked for."""
    for end in range(min(5, len(tokens) - 1), 0, -1):
        name = " ".join((*tokens[: end - 1], tokens[end - 1].removesuffix("'s")))
        said_of_it = tokens[end - 1].endswith("'s") or tokens[end] in FIGURES | {"is", "at", "was", "reads", "sits"}
        if said_of_it and (ids := [other for other in called(name) if vocabulary()[other].kind not in _NO_QUANTITY]):
            return id not in ids and id.split(".")[0] not in {other.split(".")[0] for other in ids}
    return False


def named_beside(id: str, tokens: tuple[str, ...]) -> bool:
    """Whether another reading, or what a number counts, is named among these words."""
    return bool(set(tokens) & (_elsewhere(id) | _LIMITS)) or of_another(id, tokens)
