"""Whether what was heard counts, is asked back, or is asked for again."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from assistant.call.heard import Heard, Unclear
from assistant.hearing.evidence import (
    SHORT_AT_WORDS,
    Candidate,
    Evidence,
    for_the_second,
    is_number,
    number_of,
    teen_or_ten,
    texts,
    weigh,
)
from assistant.hearing.guesses import Opinion, SecondOpinion
from assistant.hearing.listener import Utterance
from assistant.hearing.opposites import opposite_near
from assistant.hearing.sureness import probability
from assistant.language.audible import audible
from assistant.language.both_ends import UNKNOWN_WORD, asked_phrases, trimmed
from assistant.language.by_the_way import by_the_way, ways_of_saying
from assistant.language.grammar import understand
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Value,
)
from assistant.language.numbers import DIGITS
from assistant.language.offered import commands, phrases
from assistant.language.phrasebook import tagged
from assistant.language.quantities import in_hundreds, limits
from assistant.language.vocabulary import vocabulary

ACCEPTED, CONFIRM, COMMAND, UNCLEAR = "accepted", "confirm", "command", "unclear"


@dataclass(frozen=True)
class Hearing:
    """What one answer came to."""

    text: str
    """Its likeliest words; empty when there was nothing."""
    status: str
    """`accepted`, `confirm`, `command` or `unclear`."""
    value: Value | None
    """Number in `unit`, choice, `yes` or `no`, a command's name; None when unclear."""
    unit: str | None
    confidence: float
    """Probability that the value is right, 0 to 1."""
    late_ms: int | None
    """Sound consumed between the last speech sample and the decision [ms]; None without speech."""
    meaning: Meaning
    too_loud: bool = False
    """The room's noise is why it is unclear."""
    snr_db: float | None = None
    """Loudness of the voice over the room [dB]; None without speech."""
    rivals: tuple[tuple[Value, float], ...] = ()
    """Numbers that it may have been, the likeliest first, each with its share."""

    loud: bool = False
    """Whether the room is so loud that every number is asked back."""

    def fact(self, at: datetime, audio: str = "") -> Heard | Unclear:
        """For the dialogue: words that it may act on, or that there were none.

        Args:
            at: when it was heard.
            audio: file of the sound, relative to the call's folder.
        """
        if self.status == UNCLEAR and not isinstance(self.meaning, AskFor):
            return Unclear(at, self.text, self.too_loud, self.rivals, self.loud)
        return Heard(self.text, at, self.status != CONFIRM, self.confidence, audio, self.rivals, self.loud, self.meaning)


def silent(question: Question) -> Hearing:
    """A recording without speech."""
    return Hearing("", UNCLEAR, None, None, 0.0, None, NotUnderstood())


# ---- limits

TOO_LOUD_DB = 3.5
"""Loudness over the noise under which nothing is taken: of the answers mixed at 5 dB 1 in 100 is measured under it,
at 0 dB 8 of 10."""
LOUD_DB, _LOUD_ALONE_DB = 4.5, 7.0
"""Under it no number counts without being asked back, with both ears and with one."""
_ACCEPT_NUMBER, _ACCEPT_WORD = 0.96, 0.9
"""Calibrated probability from which it counts at once, with both ears. A slow "one hundred eighteen" was 108 at 0.957."""
_CONFIRM_NUMBER, _CONFIRM_WORD = 0.25, 0.5
"""Probability from which it is worth asking back; under it, the answer is asked for again."""
_REFUSES_RECORDED = 0.8
"""Probability from which "no, twelve" to a value on record is asked back."""
_ACCEPT_TWIN = 0.97
"""For a ten or a teen: "two hundred fifteen" of one voice was fifty to both ears at 0.954."""
_ACCEPT_LONE = 0.985
"""For a number of one word, alone or among words that change nothing: the end of spelled letters was "ten" at 0.976, a card's
"four" at 0.981. Of 177 numbers of synthetic voices that counted at 10 and 5 dB three of one word were less sure."""
_TWIN_FAR_ALONE, _TWIN_FAR = 6.0, 4.0
"""Log odds over its twin, to the first ear, that a ten or a teen must have to count, with one ear and with both. Of the 9 wrong
readings at a probability of 0.94 and more, 7 were twins that both ears mistook, none of them as far."""
_LEAST_WORD = -4.0
"""Log odds to the first ear under which a choice, a yes or a command does not count, whatever the second says: it took the end of
spelled letters for "yes" at 0.98 where the first gave -9; of what was said and counted nothing had less than -2."""
_LEAST_SHORT = -1.2
"""Log probability, by words, that the second ear must give to a command that it alone listens for: letters spelled at 0 dB were
"hold" at -1.9 and nothing spoke against it; of what was said and counted at 5 dB and over nothing had less than -0.9."""
_STROKES_DB, _ACCEPT_IN_STROKES = 1.5, 0.99
"""Loudness over the room with its strokes and clanks, under which only what is as sure as this counts."""
_BARE_HUNDREDS = frozenset(("a hundred", *(f"{digit} hundred" for digit in DIGITS)))
_NOISE_DB = 15.0
"""Loudness over the noise under which "three hundred" is asked back: "ninety three" after a pause was lost at 10 and 5 dB."""
_TALK = 6.0
"""How much likelier other words must be to the second ear than any answer, to be talk that leaves no guess behind; or no words at
all, to have been the room."""

_BY_THE_WAY, _OVER_ANSWERS = ((8.0, -30.0), (4.0, -45.0)), 3.0
"""How much likelier its own words may be to the second ear than a remark on safety, with the log probability by letters that
it then needs, and how much likelier it must be than any answer. It is asked back. At 10 dB, of 100 such sentences by voices that
the ear does not know 78 were heard right (with `freely`), of 300 of their answers and talk 1 was taken for another, of 180
recordings of people none."""
_SURELY = 1.0, -16.0
"""The same, of one that counts at once."""

# With one ear.
_ALL_GIVE_NUMBER = ((15.0, 2.0), (-99.0, 3.5))
"""Log odds that each hearing must give to a number that counts at once, by the loudness over the noise [dB] from
which it holds. Of 1,466 readings of 27 voices and 14 people from clean to 5 dB two wrong ones had them, in all hearings at 9:
"two hundred fifteen" taken for fifty, and "two sixty one" in a room too loud for any to count."""
_ACCEPT_ALONE = ((_LOUD_ALONE_DB, 0.9), (-99.0, 0.95))
_ALL_HEAR = 2.5
"""Log odds that each hearing must give to a command, and to "no, twelve" to a value on record. In talk "why" had -3.0, "stop" 2.5
of a long sentence, "no three" -1.6 to -9.2."""
_LONGEST_S, _LONGEST_ANSWER_S, _LONGEST_WORD_S, _LONGEST_LETTER_S = 0.5, 0.8, 0.4, 0.1
"""Voice, pauses left out, that a command or a number that was asked for may take, and each of its words; each letter of a
command where that is more. Measured: "rewind" took 1.06 s of a slow voice; 0.2 s and more are left of it in 128 commands of
others, 0.45 s in as many readings, for people who speak slowly; "no eleven oh eight", of colleagues' talk, is 0.6 s over it."""
_MAY_BE_COMMAND = 0.6
"""Probability under which a number is no guess worth asking back when a command may have been said: of 24, 6 were right and 9
were commands."""
_RIVALS = 6
_NOT_HEARD = -60.0  # log probability of a text that was not put to the second ear
_REFUSALS = ("no ", "nope ", "wrong ")
_NEAR_SHARE, _LEAST_SHARE, _CHANCE = 0.001, 0.01, 0.1


def judge(question: Question, utterance: Utterance, second: SecondOpinion | None = None) -> Hearing | None:
    """What an utterance counts for; None when it was only the room.

    Args:
        question: what was asked.
        utterance: one stretch of sound that stood out, with its hearings.
        second: the second ear, where there is one. It is asked about every answer in words that it knows: talk between
            colleagues is what the first ear is sure of at times.
    """
    opinion, found = None, []
    if second is not None and not audible(question).free and utterance.snr_db >= TOO_LOUD_DB:
        found = texts(question, utterance.hearings)
        if not found or second.knows(found[0]):
            opinion = second.opinion(utterance.said, found)
    evidence = weigh(question, utterance.hearings, utterance.snr_db, opinion)
    best = evidence.best
    sure = 0.0 if isinstance(best.meaning, NotUnderstood) else probability(evidence)
    emergency = best.meaning == Command("emergency")
    if second is not None and opinion is not None and not emergency:
        said = _said_by_the_way(question, utterance, second, opinion, found)
        if said:
            return said
    if utterance.snr_db < TOO_LOUD_DB and best.words and not emergency:
        return _unclear(utterance, evidence, sure)
    if evidence.unlike > _TALK and not emergency:
        nobody = opinion is not None and not opinion.own[0].words
        return None if nobody else replace(_unclear(utterance, evidence, 0.0), rivals=())
    if isinstance(best.meaning, NotUnderstood):
        return _unclear(utterance, evidence, 0.0) if best.words else None
    status, value, unit = _verdict(question, evidence, sure)
    if opinion is not None and _said_otherwise(question, best, opinion):
        status = UNCLEAR
    if not emergency:
        status = _in_doubt(utterance, evidence, sure, status)
    if opinion is None and _too_long(question, utterance, best):
        status = UNCLEAR
    if opinion is None and second is not None and status == ACCEPTED and is_number(best.meaning):
        status = CONFIRM  # "six sixty i think" was "six sixty six": a word that the second ear does not know
    if status == UNCLEAR and not (isinstance(best.meaning, AskFor) and sure >= _accept_word(evidence)):
        return _unclear(utterance, evidence, sure)
    return Hearing(
        best.words, status, value, unit, sure, utterance.late_ms, best.meaning, snr_db=utterance.snr_db,
        rivals=_rivals(evidence), loud=_loud(evidence),
    )  # fmt: skip


def _said_otherwise(question: Question, best: Candidate, opinion: Opinion) -> bool:
    score = opinion.words.get(best.words)
    return score is not None and not question.look and opposite_near(best.meaning, best.words, score, opinion.own)


def _said_by_the_way(
    question: Question, utterance: Utterance, second: SecondOpinion, opinion: Opinion, found: Sequence[str]
) -> Hearing | None:
    """A remark on safety that no question asks for, where the second ear finds it far likelier than any answer.

    The first ear is not asked: two hundred sentences more in every grammar would cost the answers. What both ears take for an
    answer stays one.
    """
    answers = max((opinion.words[text] for text in found if text not in by_the_way()), default=_NOT_HEARD)
    own = max((guess.score for guess in opinion.own), default=_NOT_HEARD)
    if own - answers < _OVER_ANSWERS:
        return None
    scored = second.opinion(utterance.said, list(by_the_way()))
    said = ways_of_saying()
    words = {remark: _together(scored.words, phrases) for remark, phrases in said.items()}
    remark = max(words, key=lambda one: words[one])
    behind, letter = own - words[remark], _together(scored.letters, said[remark])
    worth = any(behind <= least and letter >= by_letter for least, by_letter in _BY_THE_WAY)
    if not worth or words[remark] - answers < _OVER_ANSWERS:
        return None
    phrase = max(said[remark], key=lambda one: scored.words.get(one, _NOT_HEARD))
    if understand(question, phrase) != remark:
        return None  # here it is an answer
    status = ACCEPTED if behind <= _SURELY[0] and letter >= _SURELY[1] else CONFIRM
    sure = math.exp(min(-behind, 0.0))
    return Hearing(phrase, status, None, None, sure, utterance.late_ms, remark, snr_db=utterance.snr_db)


def _together(scores: Mapping[str, float], phrases: Sequence[str]) -> float:
    """Log probability of any of these ways of saying it."""
    logs = [scores.get(phrase, _NOT_HEARD) for phrase in phrases]
    top = max(logs)
    return top + math.log(sum(math.exp(one - top) for one in logs))


def _in_doubt(utterance: Utterance, evidence: Evidence, sure: float, status: str) -> str:
    """The verdict, less where the first ear is against the word, or strokes are louder than the voice."""
    meaning = evidence.best.meaning
    if evidence.both and evidence.weakest < _LEAST_WORD and not is_number(meaning):
        return UNCLEAR
    if status in (ACCEPTED, COMMAND) and utterance.over_strokes_db < _STROKES_DB and sure < _ACCEPT_IN_STROKES:
        return CONFIRM if isinstance(meaning, Answer) else UNCLEAR
    return status


def _rivals(evidence: Evidence) -> tuple[tuple[Value, float], ...]:
    """Values of one number that it may have been, with their shares."""
    found: list[tuple[Value, float]] = []
    for one in (evidence.best, *evidence.rivals):
        value = number_of(one.meaning)
        if value is not None and one.share >= _LEAST_SHARE:
            found.append((value, round(one.share, 4)))
    return tuple(found[:_RIVALS])


def _loud(evidence: Evidence) -> bool:
    return evidence.snr_db < (LOUD_DB if evidence.both else _LOUD_ALONE_DB)


def _unclear(utterance: Utterance, evidence: Evidence, sure: float) -> Hearing:
    words = evidence.best.words
    return Hearing(
        "" if UNKNOWN_WORD in words else words, UNCLEAR, None, None, sure, utterance.late_ms, NotUnderstood(),
        too_loud=utterance.snr_db < TOO_LOUD_DB, snr_db=utterance.snr_db, rivals=_rivals(evidence), loud=_loud(evidence),
    )  # fmt: skip


def _verdict(question: Question, evidence: Evidence, sure: float) -> tuple[str, Value | None, str | None]:
    words = evidence.best.words
    match evidence.best.meaning:
        case Command(name):
            return (COMMAND, name, None) if _commands(question, evidence, sure) else (UNCLEAR, None, None)
        case Confirmed(yes, None):
            value = "yes" if yes else "no"
            counts = sure >= _accept_word(evidence)
            if yes and words not in tagged("yes_no", "agreed"):
                # "Fifty", taken for the fifteen that was asked back, must not agree with it.
                counts = counts and not teen_or_ten(words) and _counts(evidence, sure)
            return (ACCEPTED, value, None) if counts else (UNCLEAR, None, None)
        case Confirmed(_, instead) if instead is not None:
            asked = question.asking == "confirm"
            worth = sure >= _CONFIRM_NUMBER if asked else sure >= _REFUSES_RECORDED and _clearly(evidence)
            return (CONFIRM, instead.value, instead.unit) if worth else (UNCLEAR, None, None)
        case Answer(parts):
            return _answer_verdict(question, parts, evidence, sure)
    return UNCLEAR, None, None


def _accept_word(evidence: Evidence) -> float:
    return _ACCEPT_WORD if evidence.both else _at(_ACCEPT_ALONE, evidence.snr_db)


def _too_long(question: Question, utterance: Utterance, best: Candidate) -> bool:
    """Whether more was said than this command or number: a sentence of which it is what a strict grammar leaves."""
    command = isinstance(best.meaning, Command)
    if utterance.spoken_s is None or best.meaning == Command("emergency") or not (command or is_number(best.meaning)):
        return False
    asked_for = isinstance(best.meaning, Answer) or (question.asking == "confirm" and not command)
    more_s = _LONGEST_WORD_S * len(best.words.split())
    if command:
        more_s = max(more_s, _LONGEST_LETTER_S * len(best.words.replace(" ", "")))
    return utterance.spoken_s > (_LONGEST_ANSWER_S if asked_for else _LONGEST_S) + more_s


def _commands(question: Question, evidence: Evidence, sure: float) -> bool:
    """Whether a command counts. Nothing stands in the way of `emergency` but its own probability."""
    words, meaning = evidence.best.words, evidence.best.meaning
    if sure < _accept_word(evidence) or not isinstance(meaning, Command):
        return False
    if meaning.name == "emergency":
        return True
    seconds_alone = words in SHORT_AT_WORDS or for_the_second(question, words)
    if evidence.both and seconds_alone and evidence.word < _LEAST_SHORT:
        return False
    if words.startswith(_REFUSALS):
        return False  # "no" and a number that is no value of what was read back: colleagues say it all day
    # Spelled letters were "the a why"; of 132 commands from clean to 5 dB none had a word beside it.
    known = {*commands(), *question.go_ahead, *tagged("yes_no", "refused")}
    known |= set(phrases(question)) if meaning.name == "continue" else set()  # "yeah", where "yes" goes ahead
    begun = evidence.both and any(form in known and words.startswith(form) for form in trimmed(words))  # "where i" of "am i"
    alone = words in known or bool(meaning.about) or begun
    return alone and _clearly(evidence)


def _offered(question: Question, words: str) -> bool:
    """Whether these words were asked for, or begin such: a list of phrases turns "yes" into the "yes it" of "yes it is"."""
    offered = audible(question).phrases
    return not offered or words in offered or any(phrase.startswith(words + " ") for phrase in offered)


def _clearly(evidence: Evidence) -> bool:
    """With one ear: whether every hearing has these words. Both ears say so by their probability."""
    return evidence.both or evidence.weakest >= _ALL_HEAR


def _answer_verdict(
    question: Question, parts: tuple[Part, ...], evidence: Evidence, sure: float
) -> tuple[str, Value | None, str | None]:
    first = parts[0]
    counts, confirm = sure >= _accept_word(evidence), _CONFIRM_WORD
    if any(isinstance(part.value, float) for part in parts):
        counts, confirm = _counts(evidence, sure), _CONFIRM_NUMBER
    if sure < confirm or (sure < _MAY_BE_COMMAND and _commands_near(evidence)):
        return UNCLEAR, None, None
    odd = any(part.doubt or not _plausible(question, part) for part in parts)
    odd = odd or _a_rest(question, first, evidence)
    # Words beside the answer that nobody was asked for: spelled letters were taken for "i yes" (measured).
    odd = odd or not _offered(question, evidence.best.words)
    return (ACCEPTED if counts and not odd else CONFIRM), first.value, first.unit


def _commands_near(evidence: Evidence) -> bool:
    """Whether a command may have been said; with one ear, that is surer of nothing, it must be more than a chance."""
    least = _NEAR_SHARE if evidence.both else _CHANCE
    return any(isinstance(one.meaning, Command) and one.share >= least for one in evidence.rivals)


def _counts(evidence: Evidence, sure: float) -> bool:
    """Whether a number counts without being asked back."""
    if _loud(evidence) or evidence.twin_margin < (_TWIN_FAR if evidence.both else _TWIN_FAR_ALONE):
        return False
    if evidence.both:
        words = evidence.best.words
        lone = len(FIGURES.intersection(words.split())) == 1
        return sure >= (_ACCEPT_LONE if lone else _ACCEPT_TWIN if teen_or_ten(words) else _ACCEPT_NUMBER)
    return evidence.weakest >= _at(_ALL_GIVE_NUMBER, evidence.snr_db)


def _at(limits_by_snr: tuple[tuple[float, float], ...], snr_db: float) -> float:
    return next(limit for floor, limit in limits_by_snr if snr_db >= floor)


def _a_rest(question: Question, part: Part, evidence: Evidence) -> bool:
    """Whether one digit, or in noise bare hundreds, may be all that was heard of three: people pause up to a second."""
    words = evidence.best.words
    begun = any(form in DIGITS for form in asked_phrases(words))
    begun = begun or (evidence.snr_db < _NOISE_DB and words in _BARE_HUNDREDS)
    return begun and in_hundreds(question, vocabulary()[part.id])


def _plausible(question: Question, part: Part) -> bool:
    span = limits(question, vocabulary()[part.id])
    return span is None or not isinstance(part.value, float) or span[0] <= part.value <= span[1]
