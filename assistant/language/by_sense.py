"""An answer in words that no table has, made surer by the sense of the whole sentence (`sense`), or doubted by it.

What the examples or a number left over would ask back counts where the sense is sure of the same; what nothing understands is
asked back, or counts where nothing hangs on it; what a table took and the sense finds most unlikely is asked back.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from assistant.language.agreed import HARMLESS, harmless
from assistant.language.answering import one
from assistant.language.by_example import examples, go_on, names_another, not_done, tells_nothing, unknown_words, value_of
from assistant.language.called_good import called_good, may_tell_of, of_what_is_named
from assistant.language.exceptions import ANOTHERS, NOT_ALL
from assistant.language.found_so import was_shut
from assistant.language.grammar import normalise
from assistant.language.meaning import (
    DONE_AND_SAFE,
    Answer,
    AskFor,
    Command,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    all_asked_back,
    asked_back,
    asked_word,
)
from assistant.language.number_left import open_line
from assistant.language.passed_over import strict
from assistant.language.placed import PUTS_RIGHT, as_placed, marked, surely_placed
from assistant.language.quantities import BETWEEN
from assistant.language.quantities import asked_back as of_a_number
from assistant.language.questions import is_question
from assistant.language.sense import NUMBER, likely, word_of
from assistant.language.unheard_of import unless_unheard_of
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of, vocabulary
from assistant.language.whole_words import no_plain_deed

SURE, SURE_ENOUGH, ASKED, RIVAL = 0.97, 0.93, 0.7, 0.3
"""Probability from which an answer counts, from which one does that nobody's safety hangs on, from which it is asked back, and up
to which another answer to the same may stand beside it."""
DOUBTED, DEED_DOUBTED, ANOTHER = 0.3, 0.03, 0.7
"""Under which what a table took is asked back, and a deed; where nothing that the sentence may mean is as likely as the last."""
_VERY_SURE, _UNKNOWN = 0.98, 1
"""Probability from which odd words count; and how many words of what safety hangs on the step's answers may lack, to be none."""
OUTRIGHT, OUTRIGHT_A_DEED = 0.96, 0.98
"""Probability from which a sentence counts in whatever words, and one that safety hangs on, where it tells of no danger."""
IN_SHORT, _HARMLESS_IN_SHORT = 0.995, 0.012
"""Probability from which a few words of what safety hangs on count, and of danger up to which they do."""
_NEVER, _RATHER_NOT, _UNLIKELY = 2.0, 0.1, 0.05
_NO_DANGER = 0.02
_FEW, _SENTENCE, _WHOLE = 5, 6, 7
"""Words from which anything is surer or doubted by it; from which what safety hangs on may count; and from which it does in odd
words, and what no answer names is let pass: of "locked over there" the sense knows no more than its words."""
_MANY, _TOLD = 2, 3
_LEAKS = frozenset({"leak", "leaks", "leaking"})
_COUNTS_AT_ONCE = {"control_power_on"}
_ASKED_ANYHOW = frozenset({"close_consent"})
"""What is not undone once it counts: the seal; but where he says yes, and what to."""
_AGREES = re.compile(
    r"^(?!.*\b(?:but|if|when|once|after|until|till|unless|later|tomorrow|before|first|almost|nearly|except|not|no|never|wait|hold)\b)"
    r"(?=.*\b(?:yes|yeah|yep|yup|aye|sure|go ahead|go on|please|happy to)\b).*\b(?:close|shut|wrap|seal)\b"
)
_DOUBTS = (".", DONE_AND_SAFE)
"""Those of likeness; what is asked in other words is asked for a reason of its own."""
_GO = "go"


def surer(question: Question, words: str, said: Meaning) -> Meaning:
    """What was found by likeness, without its doubt where the sense is sure of it; or what the sense finds.

    Args:
        question: what was asked, with its step.
        words: as typed.
        said: what they were found to be like, or not understood.
    """
    asked = isinstance(said, Answer) and any(_of_likeness(question, part) for part in said.parts)
    if asked and (open_ := open_line(question, words)):
        return open_
    chances = _chances(question, words) if asked or isinstance(said, NotUnderstood | AskFor) else {}
    if not chances:
        return _all_the_same(question, words) if isinstance(said, NotUnderstood) else said
    if isinstance(said, NotUnderstood):
        few = len(words.split()) < _FEW
        return _all_the_same(question, words) if few else _found(question, words, chances)
    least = _least(question, words, chances)
    if isinstance(said, AskFor) and said.say == BETWEEN:
        one_number = len(marked(words)) == 1 and chances.get(NUMBER, 0.0) >= SURE  # "it swung, and sat down on six"
        return _the_number(question, words, chances[NUMBER], False) if one_number else said
    if isinstance(said, AskFor):
        return _go_on(question, said, chances, least)
    if isinstance(said, Answer):
        likelihood = _of_each(question, words, said, chances)
        return replace(said, parts=tuple(
            replace(p, doubt="") if _of_likeness(question, p) and likelihood[p.id] >= least and not _dead(question, p) else p
            for p in said.parts
        ))  # fmt: skip
    return said


def _of_likeness(question: Question, part: Part) -> bool:
    """Whether it is asked back because the words are only like it, or its number only sounds like it."""
    plainly = of_a_number(vocabulary()[part.id], question.units, part.value) if isinstance(part.value, float) else ""
    return bool(part.doubt) and part.doubt in (*_DOUBTS, plainly)


def _dead(question: Question, part: Part) -> bool:
    """Whether it says of what safety hangs on that there is nothing: no volts, no pressure."""
    return strict(question) and part.value == 0 and not isinstance(part.value, bool)


def unless_strange(question: Question, words: str, said: Meaning, plain: str) -> Meaning:
    """What was understood, asked back where it names what no answer to the question has; not where the sense of a whole
    sentence is sure of it.

    Args:
        question: what was asked.
        words: as typed.
        said: what they were understood as.
        plain: the words put plainly.
    """
    asked = unless_unheard_of(question, said, plain)
    if asked == said or len(words.split()) < _WHOLE:
        return asked
    chances = _chances(question, words)
    least = _least(question, words, chances)
    if isinstance(said, Answer):
        sure = all(chance >= least for chance in _of_each(question, words, said, chances).values())
        return said if sure or surely_placed(question, words, said) else asked
    return said if chances.get(_word_said(question, said), 0.0) >= least else asked


def doubted(question: Question, words: str, said: Meaning) -> Meaning:
    """What a table took, asked back where by the sense of the whole sentence it tells of nothing.

    A name stays as it is, and so do several numbers (`placed`), what is told with trouble or of how a thing was found, which
    others look to, and an answer to many things at once, of which the sense knows each for itself; power that may be on is on.
    """
    text = normalise(words.replace(",", " "))
    tokens = set(text.split())
    numbers = len(marked(words))
    named = question.asking in question.local or kind_of(question.asking) == "free"  # a name is not its matter
    if named or len(text.split()) < _FEW or numbers > 1 or _LEAKS & tokens or trouble(text) or was_shut(text):
        return said
    if isinstance(said, Answer) and surely_placed(question, words, said):
        return said
    chances = likely(question.step, words)
    if isinstance(said, Answer) and (other := _rather(question, said, chances)):
        return other
    if question.look and isinstance(said, Command | AskFor) and (word := _other_word(question, said, chances)):
        return asked_word(word)
    if isinstance(said, Answer) and len(said.parts) > _MANY:
        said = all_asked_back(said) if ANOTHERS.search(text) else _but_what_is_otherwise(question, said, chances)
    if not chances or max(chances.values()) >= ANOTHER:
        return said
    least = DEED_DOUBTED if strict(question) else DOUBTED
    if isinstance(said, Command) and chances.get(_word_said(question, said), 1.0) < least:
        return asked_word(said.about) if question.look else AskFor(DONE_AND_SAFE, pending=question.go_ahead[0])
    if isinstance(said, Answer) and len(said.parts) > _MANY:
        # "all good, bar the coil that hangs by its lead"; what is dangerous beside it is asked about
        return all_asked_back(said) if max(chances.values()) < DOUBTED and harmless(question.step, words) else said
    if isinstance(said, Answer):
        alone = numbers == len(said.parts) == 1
        unlike = {part.id for part in said.parts if chances.get(_key(question, part, alone), 1.0) < least} - _COUNTS_AT_ONCE
        return replace(said, parts=tuple(
            replace(part, doubt=part.doubt or asked_back(part.value)) if part.id in unlike else part for part in said.parts
        ))  # fmt: skip
    return said


def _rather(question: Question, said: Answer, chances: Mapping[str, float]) -> Answer | None:
    """The other choice that the sense is sure of where it finds the one that was taken most unlikely; asked back."""
    part = said.parts[0]
    unlikely, least = (_RATHER_NOT, ASKED) if part.doubt else (_UNLIKELY, SURE)
    if len(said.parts) > 1 or not isinstance(part.value, str) or chances.get(_key(question, part, True), 1.0) >= unlikely:
        return None
    of_it = {key.partition("=")[2]: chance for key, chance in chances.items() if key.startswith(f"{part.id}=")}
    best = max(of_it, key=lambda value: of_it[value])
    return Answer((replace(part, value=best, doubt=asked_back(best)),)) if of_it[best] >= least else None


def _but_what_is_otherwise(question: Question, said: Answer, chances: Mapping[str, float]) -> Answer:
    """Of many things called good those of which the sense finds nothing else told; the others are asked for by themselves: "all
    good, reset button's gone but the hole's clean"."""

    def otherwise(part: Part) -> bool:
        told = {key.partition("=")[2]: chance for key, chance in chances.items() if key.startswith(f"{part.id}=")}
        own = told.pop(_key(question, part, False).partition("=")[2], 0.0)
        return own <= _RATHER_NOT and max(told.values(), default=0.0) >= SURE_ENOUGH

    kept = tuple(part for part in said.parts if part.value != question.all_good.get(part.id) or not otherwise(part))
    return replace(said, parts=kept) if kept else said


def _other_word(question: Question, said: Command | AskFor, chances: Mapping[str, float]) -> str:
    """The other word of a look that the sense is sure of where it finds the one that was taken, or would be asked back, most
    unlikely; empty for none."""
    asked = isinstance(said, AskFor)
    word = _word_said(question, said) if isinstance(said, Command) else word_of(question.step, said.pending)
    unlikely, least = (_RATHER_NOT, ASKED) if asked else (_UNLIKELY, SURE)
    if not word or chances.get(word, 1.0) >= unlikely:
        return ""
    return next((key.removeprefix("tell=") for key, chance in chances.items() if chance >= least and key.startswith("tell=")), "")


def _chances(question: Question, words: str) -> Mapping[str, float]:
    """How likely each answer is; nothing where words are none whatever they are like, or tell of trouble beside what is done."""
    text = normalise(words.replace(",", " "))
    few = len(text.split()) < (_TOLD if strict(question) else _FEW)
    if few or tells_nothing(question, words) or (strict(question) and trouble(text)):
        return {}
    chances = likely(question.step, words)
    if question.all_good and NOT_ALL.search(text):
        return {key: chance for key, chance in chances.items() if not _all_good(question, key)}
    return chances


def _least(question: Question, words: str, chances: Mapping[str, float]) -> float:
    """The probability from which words count: more is wanted where one of them may turn them, names another thing, or is strange
    to the answers of what safety hangs on; most where anything may."""
    text = normalise(words.replace(",", " "))
    least, outright = _by_words(question, text), _outright(question)
    short = len(words.split()) < _WHOLE
    if question.asking in _ASKED_ANYHOW and _AGREES.search(text) and harmless(question.step, words, _HARMLESS_IN_SHORT):
        return IN_SHORT  # "yes, close the call, it's all there and no lies in it"
    if short and _in_short(question, words, text, chances):
        return min(least, IN_SHORT)
    if len(words.split()) < _FEW:
        return _NEVER
    if short or question.asking in _ASKED_ANYHOW or least <= outright or max(chances.values(), default=0.0) < outright:
        return least
    return outright if harmless(question.step, words, _NO_DANGER) else least


def _in_short(question: Question, words: str, text: str, chances: Mapping[str, float]) -> bool:
    """Whether a few words tell of what safety hangs on so surely that it counts: "lid's on, every bolt nipped"."""
    odd = names_another(question, text) or not_done(text) or no_plain_deed(question, text) or _CALLED_GOOD.search(text)
    sure = max(chances.values(), default=0.0) >= IN_SHORT and harmless(question.step, words, _HARMLESS_IN_SHORT)
    return strict(question) and question.asking not in _ASKED_ANYHOW and sure and not odd


_CALLED_GOOD = re.compile(r"\b(?:good|fine|okay|ok|works?|working)$")
"""A thing that is good has not been tried, put on or taken off by it."""


def _outright(question: Question) -> float:
    return OUTRIGHT_A_DEED if strict(question) else OUTRIGHT


def _by_words(question: Question, text: str) -> float:
    """The same, by what the words are."""
    long, deed = len(text.split()), strict(question) and not question.harmless
    if deed and (question.step not in examples() or long < _SENTENCE or question.asking in _ASKED_ANYHOW):
        return _NEVER
    odd = names_another(question, text) or (
        deed and (not_done(text) or no_plain_deed(question, text) or unknown_words(question, text) > _UNKNOWN)
    )
    if odd:
        return _VERY_SURE if long >= _WHOLE else _NEVER
    return SURE if strict(question) else SURE_ENOUGH


def _all_good(question: Question, key: str) -> bool:
    """Whether it is of those things of which "all good" would tell: "all good but the coil" tells of none by itself."""
    id_, _, value = key.partition("=")
    good = question.all_good.get(id_)
    return good is not None and value == ("true" if good is True else good)


def _key(question: Question, part: Part, alone: bool) -> str:
    if isinstance(part.value, bool):
        return f"{part.id}=true"
    if part.id == "alarm_minutes_ago":
        return ""  # "an hour and a half" is no number to it
    if isinstance(part.value, int | float):
        return NUMBER if alone and part.id in (question.asking, *question.also) else ""
    return f"{part.id}={part.value}"


def _word_said(question: Question, said: Meaning) -> str:
    """The meaning of a go-ahead."""
    if not isinstance(said, Command) or said.name != "continue":
        return ""
    return word_of(question.step, said.about) if question.look else _GO


def _of_each(question: Question, words: str, said: Answer, chances: Mapping[str, float]) -> dict[str, float]:
    """How likely each part is; 0 where another answer to the same may be."""
    found = {}
    numbers = marked(words)
    of_one_kind = len({part.id.partition(".")[0] for part in said.parts}) == 1
    one_each = len(numbers) == len(said.parts) and len({part.value for part in said.parts}) == len({n for n, _ in numbers})
    each_its_own = of_one_kind and one_each and not PUTS_RIGHT.search(words.lower())
    alone = len(said.parts) == 1 or each_its_own
    for part in said.parts:
        key = _key(question, part, alone)
        others = (chance for meaning, chance in chances.items() if meaning != key and meaning.startswith(f"{part.id}="))
        found[part.id] = chances.get(key, 0.0) if max(others, default=0.0) <= RIVAL else 0.0
    return found


def _go_on(question: Question, said: AskFor, chances: Mapping[str, float], least: float) -> Meaning:
    """A deed or a look without its question."""
    if said.say == DONE_AND_SAFE and not question.look:
        return Command("continue", "said so") if chances.get(_GO, 0.0) >= least else said
    key = word_of(question.step, said.pending) if question.look else ""
    sure = bool(key) and chances.get(key, 0.0) >= least and max(_others(chances, key), default=0.0) <= RIVAL
    return Command("continue", said.pending) if sure else said


def _others(chances: Mapping[str, float], key: str) -> Iterable[float]:
    return (chance for meaning, chance in chances.items() if meaning != key)


def over_a_remark(question: Question, words: str, told_so: bool = True) -> Meaning:
    """What a sentence answers in which a remark on safety was heard, where the sense is sure of the answer and that nothing in it
    is dangerous: "just put the last screw in"; asked back where safety hangs on it. Not understood for nothing.

    Args:
        question: what was asked, with its step.
        words: as typed.
        told_so: answers are often told in such words; else the sense must be very sure, and what safety hangs on never counts.
    """
    text = normalise(words.replace(",", " "))
    if len(text.split()) < _FEW or "?" in words or is_question(text) or trouble(text):
        return NotUnderstood()
    if not harmless(question.step, words, HARMLESS if told_so else _NO_DANGER):
        return NotUnderstood()
    chances = likely(question.step, words)
    if not strict(question):
        counts = SURE if told_so else OUTRIGHT
    else:
        outright = told_so and len(text.split()) >= _WHOLE and question.asking not in _ASKED_ANYHOW
        outright = outright and harmless(question.step, words, _NO_DANGER)
        counts = OUTRIGHT_A_DEED if outright else _NEVER
    found = _found(question, words, chances, SURE if told_so else OUTRIGHT, counts) if chances else NotUnderstood()
    return as_placed(question, words, found) if isinstance(found, NotUnderstood) else found


def _all_the_same(question: Question, words: str) -> Meaning:
    """What sounds like a question or like none of it, asked back where the sense is very sure that it is an answer: "did the far
    one first, as you said"; and a few words, where nothing may be dangerous in them: "aye, get it closed"."""
    text = normalise(words.replace(",", " "))
    long = len(text.split())
    if "?" in words or trouble(text) or _FEW <= long < _WHOLE:
        return NotUnderstood()
    if long >= _WHOLE:
        return _sure_of(question, words, _VERY_SURE)
    few = long >= _TOLD and not is_question(text) and not tells_nothing(question, words)
    return _sure_of(question, words, SURE) if few and harmless(question.step, words, _NO_DANGER) else NotUnderstood()


def _sure_of(question: Question, words: str, least: float) -> Meaning:
    """What the sense is that sure of, asked back, whatever else was heard in the words."""
    chances = likely(question.step, words)
    return _found(question, words, chances, least, _NEVER) if chances else NotUnderstood()


def _found(
    question: Question, words: str, chances: Mapping[str, float], least: float = ASKED, counts: float = 0.0
) -> Meaning:
    """What nothing else understands, asked back or, where the sense is sure of it, as it is.

    Args:
        question: what was asked.
        words: as typed.
        chances: how likely each answer is.
        least: from which one is asked back.
        counts: from which one counts; as the words have it where it is left out.
    """
    text = normalise(words.replace(",", " "))
    odd = names_another(question, text) or (strict(question) and no_plain_deed(question, text))
    least, counts = max(least, _VERY_SURE if odd else least), counts or _least(question, words, chances)
    if question.asking == "command":
        return _found_word(question, words, chances, least, counts)
    parts = []
    for id_ in (question.asking, *(() if question.alone else question.also)):
        of_it = {meaning.split("=", 1)[1]: chance for meaning, chance in chances.items() if meaning.startswith(f"{id_}=")}
        if not of_it or id_ == "panel_tag" or not may_tell_of(question, id_, text):
            continue  # a tag is read, and nothing is like it
        best = max(of_it, key=lambda value: of_it[value])
        if of_it[best] < least or max(_others(of_it, best), default=0.0) > RIVAL:
            continue
        value = value_of(id_, best)
        if value not in question.refused:
            parts.append(Part(id_, value, doubt="" if of_it[best] >= counts else asked_back(value)))
    if not parts and chances.get(NUMBER, 0.0) >= least:
        return _the_number(question, words, chances[NUMBER], chances[NUMBER] >= counts and not strict(question))
    return called_good(question, words, of_what_is_named(question, words, Answer(tuple(parts)))) if parts else NotUnderstood()


def _the_number(question: Question, words: str, chance: float, surely: bool) -> Meaning:
    """The one number of a sentence; of several the last that may be the reading, and none at all, asked back where the sense is
    sure that one is and that nothing is dangerous."""
    numbers = marked(words)
    parts = [part for number, sentence in numbers if not _OF_ANOTHER_KIND.match(sentence.partition("]")[2])
             and isinstance(part := one(question, question.asking, normalise(number.replace("-", " "))), Part)]  # fmt: skip
    if not parts:
        return NotUnderstood()
    part = parts[-1]
    if len(numbers) == 1 and not (strict(question) and part.value == 0):
        return Answer((part if surely or part.doubt else replace(part, doubt="."),))
    alone = question.alone or not question.also  # else which of them it is would be a guess
    asked = alone and chance >= SURE and harmless(question.step, words) and not trouble(normalise(words.replace(",", " ")))
    concluded = chance >= _outright(question) and not strict(question) and _concluded(numbers)
    return Answer((part if concluded else replace(part, doubt=part.doubt or "."),)) if asked else NotUnderstood()


def _concluded(numbers: Sequence[tuple[str, str]]) -> bool:
    """Whether the last of several numbers is told as what they come to, or puts the one before it right."""
    before = numbers[-1][1].partition("[")[0]
    between = before[before.rfind(numbers[-2][0]) + len(numbers[-2][0]) :] if len(numbers) > 1 else ""
    return bool(_CONCLUDES.search(before) or PUTS_RIGHT.search(between))


_CONCLUDES = re.compile(
    r"\b(?:so|makes|make it|stop(?:ped|s) at|sitting (?:on|at)|says|settled (?:on|at)|reading|right at|but no|for|at|there)"
    r"(?: (?:that's|that makes|it's|that'd be|i make it|an?|about))*,? $"
)
"""Behind which the last of several numbers is the one that is told."""


_OF_ANOTHER_KIND = re.compile(
    r" (?:inch|foot|feet|second|minute|hour|day|year|time|of (?:them|us|the)|turn|screw|leg|phase|men)"
)
"""What follows a number that is no reading."""


def deed_told(question: Question, words: str, said: Meaning) -> Meaning:
    """A go-ahead that has none of the step's own words, as the deed that was asked for where the sense is sure that it tells of
    that: "pressed it one time"; asked back where it may.

    Args:
        question: what was asked, with its step.
        words: as typed.
        said: what they were understood as.
    """
    bare = said == Command("continue") and question.asking == "command" and not question.look
    text = normalise(words.replace(",", " "))
    other = _GOES_ON.search(text) or _CALLED_GOOD.search(text)
    if not bare or len(text.split()) < _TOLD or other or not harmless(question.step, words, _NO_DANGER):
        return said
    chance = likely(question.step, words).get(_GO, 0.0)
    if chance >= OUTRIGHT_A_DEED:
        return Command("continue", "said so")
    return AskFor(DONE_AND_SAFE, pending=question.go_ahead[0]) if chance >= ASKED else said


_GOES_ON = re.compile(r"\b(?:continue|go on|carry on|next|proceed|go ahead|move on|resume)\b")


def _found_word(question: Question, words: str, chances: Mapping[str, float], least: float, counts: float) -> Meaning:
    """That a deed is done, asked back, or a word of a look."""
    best = max(chances, key=lambda meaning: chances[meaning])
    if chances[best] < least or max(_others(chances, best), default=0.0) > RIVAL:
        return NotUnderstood()
    if question.look == (best == _GO):
        return NotUnderstood()
    if best == _GO:
        counts = max(counts, _outright(question) if len(words.split()) >= _WHOLE else _NEVER)
    return go_on(question, best.removeprefix("tell="), chances[best] >= counts)
