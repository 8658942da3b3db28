"""The first sentence of a call: which machine it is, beside what it went off on and when."""

import re
from dataclasses import replace
from itertools import pairwise

from assistant.language.answering import one
from assistant.language.grammar import normalise
from assistant.language.machine_names import compressors_in, racks_in, several_named
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question, Value
from assistant.language.questions import is_question
from assistant.language.spotting import general
from assistant.language.unready import trouble

_TURNS = re.compile(
    r"\b(?:not|no|never|or|if|unless|maybe|except|isn't|wasn't|don't|doesn't|didn't|which|another|other|neither|both|two of)\b"
)
_BESIDE = frozenset(
    "hi hey hello evening morning afternoon good there here it's it is that's that this the a an i i'm we we've i've got"
    " have has been had having trouble with on at of in by from its his her our my and so well okay down off out tripped"
    " trips tripping went gone quit stopped died dead dropped locked kicked failed cut shut itself just now again up us me"
    " for about around since says saying said showing shows shown panel screen display lamp light code alarm alarms alarmed"
    " protection trip fault lit called call looks like think believe say one machine compressor unit rack number can't will"
    " won't run start running calling problem standing bad looking working night tonight store system please yes yeah done"
    " was keeps kept".split()
)
_GUESSED = re.compile(
    r"\b(?:maybe|perhaps|possibly|probably|might|could|guess|guessing|not (?:quite |really |exactly )?sure|no idea|don't know"
    r"|can't say|haven't (?:looked|checked))\b"
)
_GUESSED_TIME = re.compile(
    r"\b(?:(?:been |it's been |she's been )?(?:off|down|out) |for )?(?:maybe|perhaps|probably|possibly) (?:for |about |around )*"
    r"(?:(?!and\b|on\b|rack\b|compressor\b)[\w']+ ){1,4}(?:minutes?|hours?|days?)\b(?: ago| now| back)?"
)
"""What is only guessed is asked in its turn; the machine is named all the same."""
_BACK = re.compile(r"\b(minutes?|hours?|days?) (?:back|since|now)\b")
_OF_TIME = frozenset(
    "ago hour hours minute minutes day days since midnight noon morning night afternoon evening yesterday o'clock just".split()
)
"""A bare number may be anything's."""
_LONGEST_SPAN = 8
_BESIDES_IT = ("protection_shown", "alarm_minutes_ago")


def opened(question: Question, words: str) -> Meaning:
    """The machine of a whole sentence, with the protection and the time where they are said too.

    Args:
        question: which machine it is; `local` has the names of racks and compressors.
        words: as typed.

    >>> names = {"rack": {"rack a": "a", "a": "a", "b": "b"}, "compressor": {"two": "two", "number two": "two"}}
    >>> ask = Question("rack", ("compressor",), local=names, volunteer=("protection_shown", "alarm_minutes_ago"))
    >>> [part.value for part in opened(ask, "number two on rack a is down, it went off on oil twenty minutes ago").parts]
    ['a', 'two', 'oil', 20.0]
    >>> opened(ask, "there's a compressor down")
    NotUnderstood()
    """
    text = _put_right(question, _BACK.sub(r"\1 ago", normalise(words)))
    ids = (question.asking, *question.also)
    if "compressor" not in ids or is_question(text) or trouble(text) or _TURNS.search(text):
        return NotUnderstood()
    tokens = [token.removesuffix("'s") if token not in ("it's", "that's") else token for token in text.split()]
    racks = list(racks_in(question, tokens))
    machines = list(compressors_in(question, tokens, racks))
    if not racks + machines or len({value for _, _, value in racks}) > 1 or len({value for _, _, value in machines}) > 1:
        return NotUnderstood()
    covered = {at for start, end, _ in (*racks, *machines) for at in range(start, end)}
    left = [token if at not in covered else "|" for at, token in enumerate(tokens)]
    said, known = _besides(question, left)
    if not known and not (racks and machines and not _ONE_OF.search(text) and _nothing_else_named(question, left)):
        return NotUnderstood()
    rack = [Part("rack", racks[0][2], doubt=_letter(question, racks[0][2]))] if racks else []
    machine = [Part("compressor", machines[0][2])] if machines else []
    return Answer((*rack, *machine, *said))


_RATHER = re.compile(r" (?:no|sorry|wait|i mean|scrub that|make that) ")


def _put_right(question: Question, text: str) -> str:
    """The sentence without a compressor that is put right in the same breath: "number three, no, number one"."""
    at = [match for match in _RATHER.finditer(text) if match.start()]
    if not at or "compressor" not in (question.asking, *question.also) or not question.local:
        return text
    before, behind = text[: at[-1].start()], text[at[-1].end() :]
    last = before.split()
    racks, again = (list(racks_in(question, part.split())) for part in (before, behind))
    slips = list(compressors_in(question, last, racks))
    if len(slips) != 1 or len(list(compressors_in(question, behind.split(), again))) != 1:
        return text
    start, end, _ = slips[0]
    return " ".join([*last[:start], *last[end:], behind])


def _nothing_else_named(question: Question, left: list[str]) -> bool:
    """Whether nothing beside a rack and a compressor may be another machine, or say that it is not about this one."""
    numbers = {name for name in question.local.get("compressor", {}) if " " not in name} - {"one"}
    another = any(pair == ("one", follows) for pair in pairwise(left) for follows in _GOES_ON_OF_ONE)
    return numbers.isdisjoint(left) and _ELSEWHERE.isdisjoint(left) and not another


_ELSEWHERE = frozenset(
    "next beside near opposite behind before after yesterday last fine good running runs okay done fixed another other was were"
    " instead except like than same".split()
)
"""What may tell that it is about another machine, or another day."""
_ONE_OF = re.compile(r"\bone of\b")
_GOES_ON_OF_ONE = ("is", "on", "of", "off", "down", "tripped")
""" "One is off" names a machine, "the one by the door" does not."""


def without_guesses(question: Question, words: str) -> str:
    """A first sentence without its clauses that only guess and name no machine; any other as it was said."""
    if "compressor" not in (question.asking, *question.also) or not question.local:
        return words
    clauses = [_GUESSED_TIME.sub(" ", normalise(clause)) for clause in re.split(r" , |,", words)]
    named = [bool(_names(question, clause)) for clause in clauses]
    kept = [clause for clause, machine in zip(clauses, named, strict=True) if machine or not _GUESSED.search(clause)]
    return " , ".join(kept) if any(named) else words


def _names(question: Question, clause: str) -> list[tuple[int, int, Value]]:
    tokens = clause.split()
    racks = list(racks_in(question, tokens))
    return [*racks, *compressors_in(question, tokens, racks)]


def of_the_machine(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The machine as a whole sentence names it, rather than what its pieces come to."""
    if "compressor" not in (question.asking, *question.also) or not question.local:
        return meaning
    if several_named(question, normalise(words)):
        return NotUnderstood()
    whole = opened(question, words)
    if not isinstance(whole, Answer):
        return meaning
    said = {part.id: part.value for part in whole.parts}
    fuller = isinstance(meaning, Answer) and said.items() < {part.id: part.value for part in meaning.parts}.items()
    return meaning if fuller else whole


def _letter(question: Question, rack: Value) -> str:
    """What is asked back: letters that sound alike."""
    said = one(replace(question, also=()), "rack", str(rack))
    return said.doubt if isinstance(said, Part) else ""


def _besides(question: Question, tokens: list[str]) -> tuple[tuple[Part, ...], bool]:
    """What else is said, each once, and whether every other word is known to change nothing."""
    parts: list[Part] = []
    left = list(tokens)
    for id in _BESIDES_IT:
        if id not in (question.asking, *question.also, *question.volunteer):
            continue
        ask = replace(question, asking=id, also=(), all_good={}, volunteer=(), recorded=(), pending="", local={})
        spans = [
            (end - start, start, part)
            for start in range(len(left))
            for end in range(start + 1, min(len(left), start + _LONGEST_SPAN) + 1)
            if "|" not in left[start:end] and isinstance(part := one(ask, id, " ".join(left[start:end])), Part)
            and part.id == id
            and (id != "alarm_minutes_ago" or _OF_TIME.intersection(left[start:end]))
        ]
        if spans:
            length, start, part = max(spans, key=lambda span: span[:2])
            parts.append(part)
            left[start : start + length] = ["|"] * length
    known = _BESIDE | general()
    return tuple(parts), all(word == "|" or word in known for word in left)
