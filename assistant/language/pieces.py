"""What typed words mean: commas part the readings of one breath, and what is said beside an answer."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from assistant.language.among_unknown import among_unknown, turns
from assistant.language.another_machine import of_another_machine
from assistant.language.answering import SENTENCES
from assistant.language.as_asked import as_asked
from assistant.language.asides import harmless, put_off, steered, steers, still_at_it, strictly, told_beside, without_waiting
from assistant.language.at_first import after_the_wait, agreed_first, answered_before_it_asks, at_first, before_the_question
from assistant.language.at_the_contacts import not_none, one_contact, the_open_one
from assistant.language.beside_it import done_alone, reason_apart
from assistant.language.breath import both_alike, by_legs
from assistant.language.by_commas import at_the_and, in_pieces, is_answer, said_here
from assistant.language.by_places import by_places
from assistant.language.called_good import called_good, no_good, of_what_is_named
from assistant.language.classes import framed, in_its_words, in_words_of_here
from assistant.language.clause_by_clause import as_its_clause_has, clause_by_clause
from assistant.language.come_to import alike, come_to, said_again
from assistant.language.contradicted import unless_contradicted
from assistant.language.deeds import by_clauses
from assistant.language.elapsed import by_the_clock
from assistant.language.exceptions import sound_but
from assistant.language.fit import fit
from assistant.language.found_so import found_switched
from assistant.language.given_word import given_word
from assistant.language.grammar import LONGEST, normalise, understand
from assistant.language.guess import AT_ZERO, surely_numbered
from assistant.language.handing_over import handed_over
from assistant.language.hedges import hedge_words, is_aside, is_sound, otherwise_said, unstressed
from assistant.language.in_short import by_its_kind, counted_off, in_short, without_missing
from assistant.language.lone_numbers import FIGURES
from assistant.language.machine_names import named_beside, only_named
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Part, Question, Remark
from assistant.language.mended import mended, to_be_mended
from assistant.language.names import is_named, name_words, named_elsewhere, of_another_unnamed, own_words, without_namesakes
from assistant.language.nobody_knows import nobody_knows
from assistant.language.not_read import here_and_now, weighed, without_counts
from assistant.language.not_this import HISTORY, of_this
from assistant.language.numbers import DIGITS, told_number
from assistant.language.of_several import of_the_one, told_of_each
from assistant.language.of_where import of_its_name, pairs_named, place_first
from assistant.language.on_top import counted_whole
from assistant.language.opening import of_the_machine, without_guesses
from assistant.language.other_thing import of_asked_things
from assistant.language.own_unit import in_its_own_unit, on_a_live_source
from assistant.language.parts_and_gas import parts_and_gas, told_of, unless_denied
from assistant.language.passed_over import cautious
from assistant.language.plainly_so import plainly_so
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_order
from assistant.language.remarks import harmless_remark
from assistant.language.run_on import asks, by_answers, with_commas
from assistant.language.since_then import of_now
from assistant.language.spotting import general
from assistant.language.sure_clause import agrees, surely_said
from assistant.language.thought_better import thought_better
from assistant.language.to_himself import answered_himself
from assistant.language.told_against import glass_alone, told_against
from assistant.language.told_alike import told_alike
from assistant.language.told_apart import told_apart
from assistant.language.told_in_turn import told_by_name, told_in_turn
from assistant.language.typed import no_case_off, none_knows, some_time_ago, with_its_commas, without_its_age
from assistant.language.typed_numbers import (
    label_in_words,
    no_number_of_its_own,
    plainly_numbered,
    put_right_between,
    unless_numbered,
    worked_out,
)
from assistant.language.unready import said_against, trouble, without_leak
from assistant.language.vocabulary import kind_of, vocabulary
from assistant.language.whole_words import first_named_last, no_plain_deed, put_plainly, put_right, rest_is_good
from assistant.language.word_first import its_own_word, or_word_first
from assistant.language.worst_of import worst_of


def understand_in_pieces(question: Question, words: str) -> Meaning:
    """What typed words mean; commas part the readings of one breath, and an answer from what is said beside it."""
    if question.all_good and (no_good(text := normalise(words)) or text.startswith("no good")):
        return AskFor(SENTENCES["not_good"])
    if timed := by_the_clock(question, words):
        return _beside_its_time(question, *timed)
    words = of_the_one(question, the_open_one(question, words) or words)
    typed, words = words, put_plainly(question, words)
    if unknown := nobody_knows(question, words):
        why = _understood_whole(question, words.partition(",")[2]) if "," in words else NotUnderstood()
        known = isinstance(why, Answer) and not any(part.value == "unknown" for part in why.parts)
        return NotUnderstood() if known else none_knows(question, unknown)
    said = put_right(partial(_understood_whole, question), words) or _understood_whole(question, words)
    said = of_what_is_named(question, words, said)
    if isinstance(said, NotUnderstood) and question.volunteer and not (turns(words.lower()) or _names_unasked(question, words)):
        alone = _understood_whole(replace(question, volunteer=()), words)  # "one wire's off" is no compressor that is off
        said = alone if isinstance(alone, Answer) and not _doubted(alone) else said
    said = its_own_word(question, typed, called_good(question, words, said))
    said = or_word_first(question, typed, said, _understood_whole)
    said = glass_alone(question, typed, said, _understood_whole)
    if is_answer(said) and told_against(question, typed):
        return NotUnderstood()
    if is_answer(said) and _ONCE_IT_IS.search(words.lower()):
        return NotUnderstood()
    return NotUnderstood() if is_answer(said) and strictly(question) and no_plain_deed(question, normalise(words)) else said


def _beside_its_time(question: Question, rest: str, time: Part) -> Meaning:
    """What is told beside the time of day at which it tripped."""
    said = understand_in_pieces(question, rest) if rest else Answer(())
    if not isinstance(said, Answer):
        return Answer((time,))
    return Answer((*(part for part in said.parts if part.id != time.id), time))


_ONCE_IT_IS = re.compile(r"\bonce (?:it|she|they|i|that|the \w+)(?:'s|'re| is| are| has| have|'ve)? [a-z]+")
""" "Normal once it warms up" is not normal."""


def _names_unasked(question: Question, words: str) -> bool:
    """Whether a reading is named that nobody asked for."""
    rest = " ".join(set(normalise(words.replace(",", " ")).replace("'s", "").split()) - own_words(question) - set(question.about))
    return any(is_named(id, rest) for id in question.volunteer)


def _understood_whole(question: Question, words: str) -> Meaning:
    words = agreed_first(question, words)
    text = normalise(words)
    if (plain := plainly_so(question, text)) is not None:
        return plain
    if in_turn := told_in_turn(question, words):
        return in_turn
    words = first_named_last(question, as_asked(question, words))
    said = without_namesakes(question, normalise(words.replace(",", " ")), counted_whole(_in_pieces(question, words), words))
    said = as_its_clause_has(question, words, said, _in_pieces)
    unclear = isinstance(said, NotUnderstood) or _only_guessed(said)
    if not unclear or question.asking == "confirm" or trouble(text) or asks(words) or said_against(question, text):
        return said
    alike = told_alike(question, words, partial(_in_pieces, question)) if isinstance(said, NotUnderstood) else said
    if isinstance(alike, NotUnderstood) or _only_guessed(alike):
        named = told_by_name(question, words)
        alike = _surer(alike, named or among_unknown(question, words, partial(_in_order, question)))
    return clause_by_clause(question, words, _in_order) if isinstance(alike, NotUnderstood) else alike


def _in_order(question: Question, words: str) -> Meaning:
    return _in_pieces(question, first_named_last(question, words))


def _surer(said: Meaning, other: Meaning) -> Meaning:
    """What is asked back, or the same where it is sure."""
    if not isinstance(said, Answer):
        return other
    same = isinstance(other, Answer) and [(p.id, p.value) for p in other.parts] == [(p.id, p.value) for p in said.parts]
    return other if same else said


def _in_pieces(question: Question, words: str) -> Meaning:
    words = at_first(question, words)
    if (rest := after_the_wait(words)) and is_answer(said := understand_in_pieces(question, rest)):
        return said
    told, asks_next = before_the_question(question, words)
    if told:
        return answered_before_it_asks(question, understand_in_pieces(question, told), asks_next)
    words = without_waiting(words)
    if (plain := without_leak(question, words)) != words and is_answer(said := understand_in_pieces(question, plain)):
        return said
    words = one_contact(question, words) or words
    words = by_its_kind(question, without_missing(question, said_again(question, words)))
    words = worst_of(question, words) or found_switched(question, words)
    words = without_guesses(question, words)
    words = rest_is_good(words) if question.all_good else _THE_REST.sub("the others are", words)
    text = normalise(words.replace(",", " "))
    if command := steers(question, text):
        return command
    if (better := thought_better(question, words, understand_in_pieces)) is not None:
        return better
    if put_off(words) and not trouble(text):
        return Command("hold")
    if to_be_mended(question, words) and not (trouble(text) or said_against(question, text)):
        return Command("hold")
    if word := mended(question, words):
        return Command("continue", word) if question.look else Answer((Part(question.asking, "yes"),))
    if (told := parts_and_gas(question, words)) and question.also and "," not in told:
        return understand_in_pieces(question.of_one(told_of(told)), told)  # "nothing temporary left" says nothing of refrigerant
    words = told or counted_off(question, words) or words
    if machine := only_named(question, text):
        return machine
    as_told = text
    words, named = named_beside(question, plainly_numbered(question, without_counts(question, words)))
    text = normalise(words.replace(",", " "))
    meaning = _as_said(question, words) if (placed := by_places(question, words)) is None else placed
    if isinstance(meaning, NotUnderstood | AskFor | Remark) or _only_guessed(meaning):
        meaning = _beside_how_it_went(question, words, meaning)
    if isinstance(meaning, NotUnderstood | AskFor) or _only_guessed(meaning) or (_in_part(question, meaning) and alike(question)):
        meaning = _as_it_came(question, words, _in_another_order(question, text, meaning))
    meaning = in_its_own_unit(question, as_told, told_of_each(question, words, meaning))
    if (isinstance(meaning, NotUnderstood | AskFor) or _in_part(question, meaning)) and (handed := handed_over(question, words)):
        meaning = _fuller(meaning, handed)
    if isinstance(meaning, NotUnderstood | AskFor) and question.asking != "confirm":
        meaning = _said_to_himself(question, text, meaning)
    meaning = told_apart(question, words, sound_but(question, text, weighed(question, text, meaning)))
    meaning = unless_denied(text, meaning)
    meaning = of_another_machine(question, as_told, named, of_asked_things(question, words, meaning))
    if "defrost" in text.split():
        meaning = no_case_off(text, without_its_age(meaning))
    meaning = not_none(question, words, meaning)
    meaning = unless_contradicted(question, words, on_a_live_source(question, text, _but_not(question, words, meaning)))
    unnamed = of_another_unnamed(question, text, meaning)
    return understand_in_pieces(question.of_one(question.asking), words) if unnamed else with_its_commas(words, meaning)


_WISHED_BUT = re.compile(
    r"\b(?:(?:i|we|he|they)(?:'d| would| could| should| really)+|(?:i|we) (?:really |kind of )?(?:want|wanted|wish|hoped?"
    r"|need|meant"
    r"|intended|was going|were going|planned))\b(?P<wish>.*?)(?:,? (?:but|only|except|although|though|just that)\b"
    r"|,(?= (?:i|we|they|he)"
    r" (?:can't|couldn't|don't|haven't|won't)\b))(?P<behind>.*)"
)
"""A wish and what stands in its way."""


def _but_not(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The meaning; of a wish with a but, only what stands behind it: "I'd like to fix it but it's up to the boss" is none."""
    match = _WISHED_BUT.search(words)
    if match is None or not is_answer(meaning) or question.asking == "note":
        return meaning
    if isinstance(meaning, Answer) and any(vocabulary()[part.id].kind == "free" for part in meaning.parts):
        return meaning
    wished, behind = _one_clause(question, match["wish"]), _one_clause(question, match["behind"])
    if is_answer(behind) and not _doubted(behind):
        return behind
    before = normalise(words[: match.start()].replace(",", " "))
    said = _one_clause(question, before) if before else NotUnderstood()
    return meaning if said == meaning and wished != meaning else NotUnderstood()


def _said_to_himself(question: Question, text: str, meaning: Meaning) -> Meaning:
    """The whole and sure answer behind a question that its speaker asked himself; else the meaning as it was."""
    if kind_of(question.asking) == "free":
        return meaning
    for said in answered_himself(text):
        found = in_its_own_unit(question, said, _as_said(question, said))
        if is_answer(found) and not _doubted(found) and _of_it_alone(question, found) and not _in_part(question, found):
            return found
    return meaning


"""What parts two sentences as a comma parts two clauses; never a point inside a number."""
_THE_REST = re.compile(r"\b(?:all )?the rest(?: of (?:them|the machines|the rack|those))?(?:'re| are)\b")
"""Where not everything is asked for at once, the other machines."""


def _in_another_order(question: Question, text: str, meaning: Meaning) -> Meaning:
    """The first sure answer of what is of now, of its legs, of its place or otherwise said; else the meaning as it was."""
    between = otherwise_said(text) if isinstance(meaning, AskFor) else text  # which places, or how it moved at first
    plainer = in_short(question, text)
    for other in (of_now(question, text), by_legs(question, text), place_first(question, text), between, *plainer):
        said = _as_said(question, other) if other != text else meaning
        if is_answer(said) and not _doubted(said):
            return said
    return meaning


def _beside_how_it_went(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The sure answer of the one clause beside which all others only tell how it went, or why it is so."""
    if asks(words) or "?" in words:
        return meaning
    cores = [core] if (core := done_alone(question, words)) else []
    cores += [] if isinstance(meaning, Remark) and not harmless_remark(question, meaning) else reason_apart(question, words)
    for core in cores:
        said = _as_said(question, core)
        against = isinstance(meaning, Remark) and meaning.about == "not repaired" and not cautious(question, [said])
        if is_answer(said) and not _doubted(said) and not _in_part(question, said) and not against:
            return said
    return meaning


_BY_THE_LOG = re.compile(
    r",? (?:going )?(?:by|from|per|according to) (?:what )?(?:the |its )?(?:log|controller|alarm list|list|alarm"
    r" log|screen|history|display)"
    r"(?: says| shows| has)?$|^(?:the )?(?:log|alarm log|controller|alarm list|history|screen)(?: says| shows| has| said)"
    r"(?: that| it's| it was| it| (?:number|machine|compressor|unit)(?= \w+$))* (?=\w)|^going by the (?:log|list"
    r"|history|screen) ?,? "
)
"""Where it is looked up what nobody saw."""


def _as_it_came(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The first sure answer of the plainer words that a value's story comes to; three alike are read back as always."""
    listed = [_BY_THE_LOG.sub("", words)] if question.asking in HISTORY | {"first_to_trip"} and _BY_THE_LOG.search(words) else []
    for other in (*listed, *come_to(question, words)):
        if is_answer(meaning) and not _doubted(meaning) and not other.startswith("all three "):
            return meaning
        said = _as_said(question, other)
        if is_answer(said) and (other.startswith("all three ") or not _doubted(said)):
            return said
    if question.also and not is_answer(meaning) and (righted := put_right_between(at_the_and(words))):
        return understand_in_pieces(question, " , ".join(righted))
    return meaning


def _as_said(question: Question, words: str) -> Meaning:
    """The same of all that was said."""
    if question.asking != "note" and (is_order(normalise(words)) or still_at_it(question, normalise(words))):
        return NotUnderstood()  # "hand me the one twenty volt tester"
    if told := fit(question, words):
        return told
    if question.also and (righted := put_right_between(at_the_and(words))):
        words = " , ".join(righted)
    words = pairs_named(question, both_alike(words)) if question.also else words
    text = normalise(words)
    apart = normalise(words.split(",")[0]) in ("no", "nope", "nah") and "," in words  # "no, the hand valve's shut"
    apart = apart or _number_by_number(question, words)
    here = NotUnderstood() if apart else said_here(question, text)
    meaning = given_word(question, text, of_this(question, text, here))
    if not is_answer(meaning):
        meaning = _understood(question, words)
    elif question.also and _in_part(question, meaning):
        meaning = _fuller(meaning, _understood(question, words))  # "off one": the rest is not lost over it
    unsure = _only_guessed(meaning) and not asks(words)
    if isinstance(meaning, NotUnderstood) or unsure or (isinstance(meaning, AskFor) and len(words.split()) > _SHORT):
        said = surely_said(question, words, partial(_one_clause, question))
        said = given_word(question, normalise(words), of_this(question, normalise(words), said))
        meaning = meaning if isinstance(said, NotUnderstood) else said
    elif _in_part(question, meaning) and question.also:
        meaning = _fuller(meaning, surely_said(question, words, partial(_one_clause, question)))
    whole = normalise(words.replace(",", " "))
    meaning = here_and_now(question, whole, of_its_name(question, whole, of_the_machine(question, words, meaning)))
    return some_time_ago(none_knows(question, meaning))


def _number_by_number(question: Question, words: str) -> bool:
    """A comma stands between every two of the numbers: "point eight, one point eight, one point eight" is no 0.81."""
    ids = (question.asking, *question.also)
    pieces = [piece for piece in words.split(",") if piece.strip()]
    return 1 < len(ids) == len(pieces) and all(told_number(normalise(piece)) is not None for piece in pieces)


_SHORT = 5
"""Words up to which what asks for a number is all that was said."""


def one_thing(question: Question, text: str) -> bool:
    """Whether behind a but the same is said again: "it went hard but it's all the way shut"."""
    head, _, tail = text.partition(" but ")
    before, after = _one_clause(question, head), _one_clause(question, tail)
    said_again = is_answer(after) and not _doubted(after) and _of_it_alone(question, after)
    return said_again and agrees(question, text, partial(_one_clause, question)) and not isinstance(before, Remark)


def ends_with_it(question: Question, text: str) -> bool:
    """Whether what stands behind the last but is a whole answer: "wouldn't fry an egg on it but it's hot"."""
    said = _one_clause(question, text.rpartition(" but ")[2])
    return is_answer(said) and not _doubted(said) and _of_it_alone(question, said)


def _one_clause(question: Question, clause: str) -> Meaning:
    """What one clause means, as it is or in other words."""
    text = normalise(clause)
    if no_number_of_its_own(question, text):
        return unless_numbered(understand(question, clause), text)
    here = said_here(question, text)
    here = here if is_answer(here) else said_here(question, otherwise_said(text))
    meaning = here if is_answer(here) else in_pieces(question, clause)
    return of_this(question, normalise(clause), _in_other_words(question, clause, meaning))


def _understood(question: Question, words: str) -> Meaning:
    """What they mean where all of them are known, or change nothing."""
    if (entry := vocabulary().get(question.asking)) is None or entry.kind != "free":
        if asks(words):
            text = " ".join(words.replace(",", " ").split())
            return steered(question, normalise(text)) or _asked_back(understand(question, text))
    if len(words.split()) > LONGEST:
        return understand(question, words)
    if no_number_of_its_own(question, normalise(words)):
        return unless_numbered(
            understand(question, words), normalise(words)
        )  # parted into clauses, it would lose its unit, or what it counts
    meaning = in_pieces(question, words)
    free = kind_of(question.asking) == "free"
    meaning = meaning if free else _in_other_words(question, words, meaning)
    if isinstance(meaning, NotUnderstood) and not free:
        meaning = _beside_what_is_told(question, words)
    if isinstance(meaning, Command) and meaning.name == "skip":
        bare = normalise(words).removeprefix("no ")
        here = in_pieces(question, in_words_of_here(question, bare))  # "no couldn't find a thing", where a leak was looked for
        meaning = here if is_answer(here) else meaning
    if (isinstance(meaning, NotUnderstood) or _in_part(question, meaning)) and not free:
        meaning = _fuller(meaning, _run_on(question, words))
    if isinstance(meaning, NotUnderstood) and not free:
        meaning = worked_out(question, words)
    if isinstance(meaning, NotUnderstood) and not free and "," not in words:
        meaning = surely_numbered(question, words)
    clauses_said = [normalise(piece) for piece in words.split(",") if piece.strip()]
    if isinstance(meaning, NotUnderstood) and (said := by_clauses(question, clauses_said)):
        meaning = Answer((Part(question.asking, True if said == "done" else said),))
    if isinstance(meaning, Answer) and _COUNT_RUNS.fullmatch(normalise(words)):
        counted = tuple(part for part in meaning.parts if isinstance(part.value, float))
        meaning = Answer(counted) if counted else NotUnderstood()  # "two running" says nothing of this one
    if question.all_good and isinstance(meaning, Answer):
        meaning = _shared(question, meaning, words)
    meaning = of_this(question, normalise(words), meaning)
    return given_word(question, normalise(words), meaning)  # of the whole sentence: a guess in one clause is one of all


def _run_on(question: Question, words: str) -> Meaning:
    """What a sentence without commas means where some would stand: the same wherever else they might."""
    if question.asking.startswith("dead_volts") or question.asking in AT_ZERO:
        return NotUnderstood()  # what a panel or a circuit is opened by is said plainly
    if strictly(question) and _ANOTHERS.search(words):
        return NotUnderstood()
    if together := by_answers(question, words):
        return together
    for ways in with_commas(words):
        hopeful = [way for way in ways if _may_be_answered(question, way)]
        meanings = [_understood(question, way) for way in hopeful]
        if any(isinstance(meaning, Remark) for meaning in meanings):
            return NotUnderstood()
        found = [said for said in meanings if is_answer(said) and not _doubted(said) and _of_it_alone(question, said)]
        whole = [meaning for meaning in found if not _in_part(question, meaning)] or found
        if whole:
            return whole[0] if all(meaning == whole[0] for meaning in whole) else NotUnderstood()
    return NotUnderstood()


_ANOTHERS = re.compile(r"\b(?:other|another|others|with|his|hers|her|their|for now|tonight|today|tomorrow|yesterday|last)\b")
"""Beside what safety hangs on, never passed over where no comma says which clause it is of."""


def _may_be_answered(question: Question, way: str) -> bool:
    """Whether all clauses but one change nothing, or each answers: the others are not worth a look."""
    said = [normalise(piece) for piece in way.split(",")]
    telling = [clause for clause in said if not (is_sound(clause) or is_aside(clause, True) or harmless(question, clause, []))]
    if len(telling) < 2 or by_clauses(question, said):
        return True
    return all(is_answer(understand(question, clause)) for clause in telling)


def _of_it_alone(question: Question, meaning: Meaning) -> bool:
    """Whether nothing is said beside what was asked: cut at the wrong place, words may name another reading."""
    return not isinstance(meaning, Answer) or all(part.id in (question.asking, *question.also) for part in meaning.parts)


def _doubted(meaning: Meaning) -> bool:
    return isinstance(meaning, Answer) and any(part.doubt for part in meaning.parts)


def _only_guessed(meaning: Meaning) -> bool:
    """Whether it is asked back only because not all around it was understood."""
    return isinstance(meaning, Answer) and all(part.doubt == "." for part in meaning.parts)


_COUNT_RUNS = re.compile(
    rf"(?:a |about |just |only |there's |there are )*(?:{'|'.join(DIGITS)}|couple|few|\d+)(?: of (?:them|the others))?"
    r"(?: are| still)* (?:running|going)"
)


def _asked_back(meaning: Meaning) -> Meaning:
    """What is asked is no answer: one that it names is asked back."""
    if is_answer(meaning) and not isinstance(meaning, Answer):
        return NotUnderstood()  # "done?"
    if not isinstance(meaning, Answer):
        return meaning
    one_only = meaning.parts[0] if len(meaning.parts) == 1 else None
    return Answer((replace(one_only, doubt=one_only.doubt or "."),)) if one_only else NotUnderstood()


def _in_part(question: Question, meaning: Meaning) -> bool:
    return isinstance(meaning, Answer) and not {part.id for part in meaning.parts} >= {question.asking, *question.also}


def _fuller(meaning: Meaning, other: Meaning) -> Meaning:
    """The one that says more: of two answers the one that has the other's parts and further ones."""
    if isinstance(meaning, Answer):
        return other if isinstance(other, Answer) and set(other.parts) > set(meaning.parts) else meaning
    return other


def _in_other_words(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The meaning, or that of other words for the same while it is none or says a part of what was asked."""
    ways = _otherwise(question, words)
    while isinstance(meaning, NotUnderstood) or _in_part(question, meaning):
        if (way := next(ways, None)) is None:
            break
        meaning = _fuller(meaning, in_pieces(question, way))
    return meaning


def _otherwise(question: Question, words: str) -> Iterator[str]:
    """The same in other words: alike ones, without what only stresses, without the place that was asked about."""
    pieces = [normalise(piece) for piece in words.split(",")]
    said = [pieces]

    def classed(piece: str) -> str:
        return in_its_words(question, piece)

    def here(piece: str) -> str:
        return in_words_of_here(question, piece)

    def placeless(piece: str) -> str:
        return _without_place(question, piece)

    for plainer in (put_right_between(pieces), _without_asides(question, pieces)):
        if plainer and plainer != said[-1]:
            said.append(plainer)
            yield ", ".join(plainer)
    said = [_without_asides(question, pieces) or pieces]

    def labelled(piece: str) -> str:
        return label_in_words(question, piece)

    changes = (labelled, here, framed, here, otherwise_said, framed, here, classed, unstressed, here, classed, placeless, classed)
    for change in changes:
        changed = [change(piece) for piece in said[-1]]
        if changed != said[-1]:
            said.append(changed)
            yield ", ".join(changed)


def _without_asides(question: Question, pieces: list[str]) -> list[str]:
    """The clauses without those that only tell how good it is or where it comes from; empty where none is such a one."""
    entries = [vocabulary()[id] for id in (question.asking, *question.also) if id in vocabulary()]
    number = bool(entries) and all(entry.kind in NUMBER_KINDS for entry in entries)
    pieces = [part for piece in pieces for part in _BUT_NOT.split(piece)]
    kept = [piece for piece in pieces if not is_aside(piece, number) and not _contrasts(question, piece, pieces)]
    if len(kept) > 1 and kept[-1] in ("no", "nope", "nah") and _DENIES.search(kept[-2]):
        kept = kept[:-1]  # "not tripped, no"
    return kept if kept and kept != pieces else []


def _beside_what_is_told(question: Question, words: str) -> Meaning:
    """The whole answer of the clauses that are left without those which change nothing of any answer here."""
    pieces = [normalise(piece) for piece in words.split(",") if piece.strip()]
    kept = [piece for piece in pieces if not told_beside(question, piece)]
    if not kept or kept == pieces:
        return NotUnderstood()
    meaning = _understood(question, ", ".join(kept))
    return meaning if is_answer(meaning) and not _in_part(question, meaning) else NotUnderstood()


def _contrasts(question: Question, piece: str, pieces: list[str]) -> bool:
    """ "It's warm, not hot": what it is not, where another clause says what it is."""
    match = _CONTRAST.fullmatch(piece)
    if not match or len(pieces) < 2 or question.also or question.all_good:
        return False
    others = [understand(question, other) for other in pieces if other != piece]
    denied = understand(question, match[1])
    told = [meaning for meaning in others if is_answer(meaning)]
    return bool(told) and is_answer(denied) and denied not in told and isinstance(denied, type(told[0]))


_CONTRAST = re.compile(
    r"(?:but |and )?(?:it's |they're |she's |that's )?(?:not|isn't|aren't)(?: quite| too| so| really| that| very| at all)? (.+)"
)
_NOT_LOOKED = re.compile(r"(?:n't|\bnot|\bnever)(?: yet)? (?:look|looked|check|checked|see|seen|been|get|got|tried|try)\b")
_BUT_NOT = re.compile(r" (?:but|and) (?=(?:it's |they're |that's )?not )")
_DENIES = re.compile(r"\b(?:not|no|none|nothing|nobody|never|without)\b|n't\b")
_PLACE = re.compile(
    r"(.+?) (?:on|at|across|in|off|from|for|of|after|before|ahead of|to|over|past|beyond|behind|through)"
    r"(?: (?:the|this|that|my|it's|its))? ((?:\S+ ?){1,3})"
)


def _without_place(question: Question, piece: str) -> str:
    """ "Nothing on the coil", where the coil was asked about: "nothing"."""
    if question.all_good and _NOT_LOOKED.search(piece):
        return piece  # "didn't look at the coil"
    own = own_words(question)
    match = _PLACE.fullmatch(piece)
    place = match[2].split() if match else []
    entry = vocabulary().get(question.asking)
    if match and len(place) == 1 and entry and entry.kind in NUMBER_KINDS and not entry.id.startswith("dead_volts"):
        plain = not set(place) & (named_elsewhere(entry.id) | FIGURES | hedge_words("turning"))
        return match[1] if plain else piece  # "one nineteen at that point"
    return match[1] if match and all(word in own or word in (*question.about, "one") for word in place) else piece


def _shared(question: Question, answer: Answer, words: str) -> Answer:
    """ "It's all in auto", where switch and controller were asked together: both, unless one of them was named."""
    said = {part.id: part for part in answer.parts}
    tokens = set(normalise(words).split())
    if question.alone and not tokens & {"all", "both", "everything"}:
        return answer
    more = []
    for id in (question.asking, *question.also):
        for part in answer.parts:
            alike = id not in said and question.all_good.get(id) == part.value != "yes" and isinstance(part.value, str)
            named = (name_words(part.id) - general()) & tokens - set(str(part.value).split())
            if alike and not named:
                more.append(replace(part, id=id))
    return Answer((*answer.parts, *more))
