"""What the commas of a sentence part: several readings of one breath, and an answer from what changes nothing of it."""

import re
from dataclasses import replace

from assistant.language.answering import one, part_of
from assistant.language.asides import clauses, elaborated, harmless, steered
from assistant.language.breath import at_its_place
from assistant.language.classes import whole_here
from assistant.language.composed import composed
from assistant.language.exceptions import everything_good
from assistant.language.grammar import normalise, understand
from assistant.language.hedges import is_sound, put_right
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Command, Meaning, NotUnderstood, Part, Question, Remark
from assistant.language.names import nearest
from assistant.language.numbers import DIGITS
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary


def said_here(question: Question, text: str) -> Meaning:
    """What all of these words say in this question's own way: a phrase that it alone has, or one put together.

    Of several readings asked for at once the one that the words are of, if they are of no other.
    """
    found = []
    for id in (question.asking, *question.also):
        alone = replace(question, asking=id, also=(), all_good={}) if question.also else question
        here = whole_here(alone, text) or composed(question, text, id)
        said = understand(alone, here) if here else NotUnderstood()
        if here != text and said == Command("continue"):
            said = Command("continue", "said so")  # read back with the word of the prompt that it stands for
        found += [said] if is_answer(said) else []
    return found[0] if len(found) == 1 else NotUnderstood()


def in_pieces(question: Question, words: str) -> Meaning:
    """What words mean, cut at their commas.

    Args:
        question: what was asked.
        words: as typed, with their commas.
    """
    pieces = [p.strip() for p in words.split(",") if p.strip()]
    pieces = [piece for piece in pieces if not is_sound(normalise(piece))] or pieces
    ids = (question.asking, *question.also)
    told = (piece for piece in pieces[1:] + pieces[:1] if not is_answer(said_here(question, normalise(piece))))
    told_of = (meaning for piece in told if isinstance(meaning := understand(question, _BUT.sub("", piece)), Remark))
    if len(pieces) > 1 and (remark := next(told_of, None)):
        return remark  # nothing that speaks against a start is passed over for the answer beside it
    if len(pieces) > 1 and question.all_good and (whole_said := _all_in_one_piece(question, ids, pieces)):
        return whole_said
    if len(pieces) > 1 and question.all_good and (otherwise := _all_but_told(question, ids, pieces)):
        return otherwise
    several = _of_pieces(question, ids, pieces) if 1 < len(pieces) < len(ids) else None
    if several and len(several.parts) > len(pieces):
        return several  # "holding, called for, switch in auto and controller in auto"
    whole_refused = bool(question.all_good) and pieces[:1] in (["no"], ["nope"])
    everything = bool(question.all_good) and any(everything_good(normalise(piece)) for piece in pieces)
    if 1 < len(pieces) <= len(ids) and not whole_refused and not everything:
        for first in range(len(ids) - len(pieces) + 1):
            parts = _one_each(question, ids[first:], pieces)
            shifted = first > 0 and not all(isinstance(part.value, float) for part in parts)  # a word says itself what it is of
            if first and _of_others(question, ids[first:], pieces):
                continue
            if len(parts) == len(pieces) and not shifted and not _twice(question, ids[first:], pieces, parts):
                return Answer(tuple(parts))
    if 1 < len(pieces) < len(ids) and len(split := _at_the_and(pieces)) == len(ids):
        parts = [part for id_, piece in zip(ids, split, strict=True) if isinstance(part := one(question, id_, piece), Part)]
        if len(parts) == len(ids) and all(isinstance(part.value, float) for part in parts):
            return Answer(tuple(parts))
    if len(pieces) > 1 and (said := _numbers_apart(question, pieces)):
        return said
    whole = understand(question, " ".join(pieces))
    if isinstance(whole, Answer) and len(pieces) > 1 and not _of_the_question(question, whole):
        return _among_asides(question, pieces) or whole  # an answer to what was asked goes before what is told beside it
    by_the_way = isinstance(whole, Remark) and _by_no_clause(question, pieces)
    if not isinstance(whole, NotUnderstood) and not by_the_way:
        return whole
    return (
        _of_pieces(question, ids, pieces)
        or _among_asides(question, pieces)
        or steered(question, normalise(" ".join(pieces)))
        or whole
    )


def _at_the_and(pieces: list[str]) -> list[str]:
    """ "Twelve, two twenty, one ninety five and twenty two amps": an and before the last of several is a comma too."""
    return [*pieces[:-1], *(part for part in _AND.split(pieces[-1]) if part)]


_ON = re.compile(r"\bon (?:the )?([a-z' ]+)$")


def _of_others(question: Question, here: tuple[str, ...], pieces: list[str]) -> bool:
    """Whether a clause names another of the readings that were asked than the one at its place: "two fourteen on the pipe"."""
    asked = (question.asking, *question.also)
    for id_, piece in zip(here, pieces, strict=False):
        behind = _ON.search(normalise(piece))
        named = [one_ for one_ in nearest(question, behind[1]) if one_ in asked] if behind else []
        if named and id_ not in named:
            return True
    return False


def _one_each(question: Question, ids: tuple[str, ...], pieces: list[str]) -> list[Part]:
    """What each clause says of the reading that stands at its place."""
    parts: list[Part] = []
    for id_, piece in zip(ids, pieces, strict=False):
        alone = understand(replace(question, asking=id_, also=(), all_good={}), at_its_place(ids, id_, piece))
        parts += alone.parts if isinstance(alone, Answer) else ()
    return parts


def at_the_and(words: str) -> list[str]:
    """The clauses of what was typed, those that are joined by an "and" too.

    >>> at_the_and("thirty one and one ninety, no sorry, an hour and a half")
    ['thirty one', 'one ninety', 'no sorry', 'an hour and a half']
    """
    return [part for piece in words.split(",") for part in _AND.split(normalise(piece)) if part]


_BUT = re.compile(r"^\s*(?:but|and|only) (?=\w)")
"""What joins a clause to the one before it; without it the clause may be an answer of its own."""
_AND = re.compile(r" and (?!a (?:half|quarter)\b|half\b|quarter\b|three quarters\b)")
"""Between two answers, never inside "an hour and a half"."""


def _by_no_clause(question: Question, pieces: list[str]) -> bool:
    """Whether a remark is in no clause of its own: "hands are out, power's on", where the power was to come on."""
    return any(not any(isinstance(understand(question, part), Remark) for part in split) for split in clauses(pieces))


def _all_in_one_piece(question: Question, ids: tuple[str, ...], pieces: list[str]) -> Answer | None:
    """ "No bother, all good here": one clause answers everything, the others add nothing."""
    meanings = [understand(question, piece) for piece in pieces]
    whole = [m for m in meanings if isinstance(m, Answer) and {part.id for part in m.parts} >= set(ids)]
    others = [
        normalise(piece)
        for piece, meaning in zip(pieces, meanings, strict=True)
        if meaning not in whole and not (whole and isinstance(meaning, Answer) and set(meaning.parts) <= set(whole[0].parts))
    ]
    agreed = whole[1:] == whole[:-1] and bool(whole) and all(harmless(question, other, [*whole]) for other in others)
    return whole[0] if agreed else None


_ALL_GOOD = re.compile(r"(?:(?:yes|yeah|yep|okay|well|uh|so) )*(?:it's |they're |we're |that's )?(?:all(?:"
    r" looks?)? good|all fine|all okay)")
_REST_GOOD = re.compile(r"(?:and |but )?(?:the |all the )?(?:rest|others?|everything else)(?:'s| is| are| looks?)(?:"
    r" all)? (?:good|fine|okay|right|normal|there)")
_ODD = re.compile(r"^(?:but |only |just |except |though |although )+|(?: though| however| but that's it| that's all)+$")


def _all_but_told(question: Question, ids: tuple[str, ...], pieces: list[str]) -> Answer | None:
    """ "All good, coil looks a bit cooked though": everything, but for what the other clauses tell of it."""
    texts = [_ODD.sub("", part) for piece in pieces for part in normalise(piece).split(" but ")]
    good = [bool(_ALL_GOOD.fullmatch(text) or everything_good(text) or _REST_GOOD.fullmatch(text)) for text in texts]
    rest = [text for text, whole in zip(texts, good, strict=True) if not whole and text not in ("no", "nope")]
    if not any(good) or not rest or "fit_to_start" in ids:
        return None
    told: dict[str, Part] = {}
    for text in rest:
        said = understand(replace(question, all_good={}), text)
        if isinstance(said, NotUnderstood) and told and harmless(question, text, [Answer(tuple(told.values()))]):
            continue
        if not isinstance(said, Answer) or any(part.id not in ids or part.id in told or part.doubt for part in said.parts):
            return None
        told |= {part.id: part for part in said.parts}
    if all(question.all_good.get(id) == part.value for id, part in told.items()):
        return None  # nothing is otherwise
    parts = (told.get(id) or part_of(question, id, question.all_good[id]) for id in ids if id in told or id in question.all_good)
    return Answer(tuple(parts))


def _of_pieces(question: Question, ids: tuple[str, ...], pieces: list[str]) -> Answer | None:
    """Answers in any order, each understood by itself: "she's full, and none of them are in defrost"."""
    split = [part.removeprefix("and ") for piece in pieces for part in _AND.split(piece)]
    if len(ids) < 2 or len(split) < 2:
        return None
    parts: list[Part] = []
    for piece in split:
        said = understand(question, piece)
        if not isinstance(said, Answer) or any(isinstance(part.value, float) for part in said.parts):
            return None
        parts += said.parts
    return Answer(tuple(parts)) if len({part.id for part in parts}) == len(parts) else None


def _twice(question: Question, ids: tuple[str, ...], pieces: list[str], parts: list[Part]) -> bool:
    """Whether a piece says the answer before it once more: "it's empty, nothing in it"."""
    if len({id_.split(".")[0] for id_ in ids}) == 1 and len(pieces) == len(ids) > 1:
        return False  # of a set each has its own: "point eight, one point eight, one point eight"
    return any(
        isinstance(again := one(question, ids[i - 1], pieces[i]), Part) and again == parts[i - 1] for i in range(1, len(pieces))
    )


def _numbers_apart(question: Question, pieces: list[str]) -> Meaning | None:
    """ "Twelve, twelve starts": one number said again, never the figures of a longer one; None where it is no such thing."""
    entry = vocabulary().get(question.asking)
    if entry is None or question.also or entry.kind not in NUMBER_KINDS or question.pending:
        return None
    if all(piece in (*DIGITS, "oh", "zero", "hundred", "thousand") or piece[0].isdigit() for piece in pieces):
        return None  # one number, a figure at a time
    said = [understand(question, piece) for piece in pieces if FIGURES & set(normalise(piece).split())]
    if len(said) < 2 or not all(isinstance(m, Answer) and [p.id for p in m.parts] == [question.asking] for m in said):
        return None
    return said[0] if all(meaning == said[0] for meaning in said) else _put_right(question, pieces)


def _put_right(question: Question, pieces: list[str]) -> Meaning:
    """ "Two ten, no, two twelve"; two numbers with nothing between them that says which is meant are none."""
    tokens = tuple(normalise(" ".join(pieces)).split())
    return understand(question, " ".join(pieces)) if next(iter(put_right(tokens)), None) else NotUnderstood()


def _among_asides(question: Question, pieces: list[str]) -> Meaning | None:
    """The answer of an utterance whose other clauses change nothing: "forty two, coming down slow"."""
    for split in clauses(pieces):
        meanings = [understand(question, clause) for clause in split]
        said = [meaning for meaning in meanings if is_answer(meaning)]
        others = [clause for clause, meaning in zip(split, meanings, strict=True) if not is_answer(meaning)]
        asked = any(_of_the_question(question, meaning) for meaning in said)
        if asked and all(harmless(question, normalise(clause), said) for clause in others):
            if together := _together(said):
                return together
    return elaborated(question, normalise(" ".join(pieces)))


def _in_fewer_words(meaning: Meaning, fullest: Meaning) -> bool:
    """ "Running, the fans are running": the same word of a look, once alone."""
    if not (isinstance(meaning, Command) and isinstance(fullest, Command)):
        return meaning == fullest
    return meaning.name == fullest.name and set(meaning.about.split()) <= set(fullest.about.split())


def is_answer(meaning: Meaning) -> bool:
    return isinstance(meaning, Answer) or (isinstance(meaning, Command) and meaning.name == "continue")


def _of_the_question(question: Question, meaning: Meaning) -> bool:
    """Whether it is an answer to what was asked, and not only to what may be said beside it."""
    ids = {part.id for part in meaning.parts} if isinstance(meaning, Answer) else {question.asking}
    return question.asking in ids or bool(ids & set(question.also))


def _together(said: list[Meaning]) -> Meaning | None:
    """What several clauses say; None where two of them say two things of one reading."""
    if not all(isinstance(meaning, Answer) for meaning in said):
        fullest = max(said, key=lambda meaning: len(meaning.about) if isinstance(meaning, Command) else 0)
        return fullest if all(_in_fewer_words(meaning, fullest) for meaning in said) else None
    parts: dict[str, Part] = {}
    for meaning in said:
        assert isinstance(meaning, Answer)
        for part in meaning.parts:
            if parts.setdefault(part.id, part) != part:
                return None
    return Answer(tuple(parts.values()))
