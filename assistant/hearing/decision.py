"""Whether what was heard counts, is asked back, or is asked for again."""

import math
from dataclasses import dataclass, replace
from datetime import datetime

from assistant.call.heard import Heard, Unclear
from assistant.hearing.evidence import Candidate, Evidence, is_number, number_of, teen_or_ten, weigh
from assistant.hearing.guesses import SecondOpinion
from assistant.hearing.listener import Utterance
from assistant.language.audible import audible
from assistant.language.grammar import UNKNOWN_WORD, asked_phrases, commands
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
from assistant.language.numbers import DIGITS, twin
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

    @property
    def loud(self) -> bool:
        """Whether the room is so loud that every number is to be asked back."""
        return self.snr_db is not None and self.snr_db < LOUD_DB

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


# ---- probability

# Logistic weights, fitted on readings of 15 synthetic voices in a machine room's noise and on people
# saying digits in four recorded noises, clean to 0 dB; each voice was judged by weights fitted on the others.
_NUMBER_WEIGHTS = (-1.24, 0.65, 0.06, 0.29)
_WORD_WEIGHTS = (-1.57, 0.35, 0.22, 0.65)
_SECONDED_WEIGHTS = (-1.77, 0.57, 0.46, 0.62)


def features(evidence: Evidence) -> tuple[float, ...]:
    """What the probability is made of: 1, log odds of the best, what a rival ear says of it, loudness over noise.

    The rival ear is the second one, where it was asked; else the hearing of the first that gives the best least.
    """
    rival = evidence.weakest if evidence.seconded is None else float(evidence.seconded)
    return 1.0, evidence.log_odds, rival, min(max(evidence.snr_db, 0.0), 30.0) / 10


def probability(evidence: Evidence) -> float:
    """Probability that the best candidate is what was said, 0 to 1."""
    weights = _SECONDED_WEIGHTS
    if evidence.seconded is None:
        weights = _NUMBER_WEIGHTS if is_number(evidence.best.meaning) else _WORD_WEIGHTS
    score = sum(weight * part for weight, part in zip(weights, features(evidence), strict=True))
    return 1.0 / (1.0 + math.exp(-score))


# ---- verdict

TOO_LOUD_DB = 3.5
"""Loudness over the noise under which nothing is taken: of the answers mixed at 5 dB 1 in 100 is measured under it,
at 0 dB 8 of 10."""
LOUD_DB = 7.0
"""Under it no number counts without being asked back."""
_ALL_GIVE_NUMBER = ((15.0, 2.0), (-99.0, 3.5))
"""Log odds that each hearing must give to a number that counts at once with one ear, by the loudness over the noise [dB] from
which it holds. Of 1,466 readings of 27 voices and 14 people from clean to 5 dB two wrong ones had them, in all hearings at 9:
"two hundred fifteen" taken for fifty, and "two sixty one" in a room too loud for any to count."""
_ACCEPT_SECONDED = 0.98
"""Probability from which a number counts at once with both ears: of 966 readings from clean to 10 dB, each judged with weights of
other voices, 2 counted wrongly, both another word to both ears. From 0.96 to 0.98 no other one did."""
_OTHER_WORDS_NUMBER = 3.0
"""How much likelier other words may be to the second ear than a number that counts at once: of 1,300 right readings from clean
to 10 dB 0.9 % came over it, of 5 wrong ones 2 ("six" taken for "six one" while it heard "thank you")."""
_TWIN_FAR, _TEEN_FAR_SECONDED = 6.0, 2.0
"""Log odds over its twin that a ten or a teen must have to count, and those that a teen must have with both ears. Nearer
than 6, 12 of 14 mistaken tens were found; nearer than 2, the "seventy" that both ears had taken for seventeen, for 10 questions
in 2,000 readings."""
_CONFIRM_NUMBER = ((LOUD_DB, 0.2), (-99.0, 0.25))
"""Probability from which it is worth asking back; under it, the answer is asked for again."""
_ACCEPT_WORD = ((LOUD_DB, 0.9), (-99.0, 0.95))
_CONFIRM_WORD = 0.5
_TALK = 12.0
"""How much likelier other words must be to the second ear than any answer, to be talk: of 74 answers at 10 dB none came
over 10; of what was taken for an answer in talk, "there are five or six pallets left" came to 21."""
_ALL_HEAR, _ALL_HEAR_SECONDED = 2.5, 0.0
"""Log odds that each hearing of the first ear must give to a command, alone or with the second ear; and to "no,
twelve" to a value on record. In talk "why" had -3.0, "stop" 2.5 of a long sentence, "no three" -1.6 to -9.2."""
_OTHER_WORDS = 6.0
"""How much likelier other words may be to the second ear than a command: of 128 commands from clean to 5 dB two came over
it, "why" in "my wife called" to 10."""
_LEAST_LIKELY = -7.0
"""Log probability that the second ear must give a command of one word. A piece of talk was a `stop` to both ears, at
-7.6; so few are the commands of one word under it that they are better asked for again ("pause", in noise)."""
_REFUSES_RECORDED = 0.8
"""Probability from which "no, twelve" to a value on record is asked back."""
_LONGEST_S, _LONGEST_ANSWER_S, _LONGEST_WORD_S, _LONGEST_LETTER_S = 0.5, 0.8, 0.4, 0.1
"""Voice, pauses left out, that a command or a number that was asked for may take, and each of its words; each letter of a
command where that is more. Measured: "rewind" took 1.06 s of a slow voice; 0.2 s and more are left of it in 128 commands of
others, 0.45 s in as many readings, for people who speak slowly; "no eleven oh eight", of colleagues' talk, is 0.6 s over it."""
_SURELY_ALONE = -5.0
"""Log probability to the second ear of a command, or an answer from a list, with a stray sound beside it ("stop it", "nope it"),
if no other words are likelier: for voices it was -2.8 to -3.7, for talk -7.6 at best."""
_MAY_BE_COMMAND = 0.6
"""Probability under which a number is no guess worth asking back when a command may have been said: of 24, 6 were right and 9
were commands."""
_LIKELY = 6
"""Candidates that the second ear is asked about: it takes 20 ms for each."""
_REFUSALS = ("no ", "nope ", "wrong ")
_NEAR_SHARE, _LEAST_SHARE, _CHANCE = 0.001, 0.01, 0.1


def judge(question: Question, utterance: Utterance, second: SecondOpinion | None = None) -> Hearing | None:
    """What an utterance counts for; None when it was only the room.

    Args:
        question: what was asked.
        utterance: one stretch of sound that stood out, with its hearings.
        second: the second ear, where there is one. It is asked about every answer: talk between colleagues is what
            the first ear is sure of at times.
    """
    evidence = weigh(question, utterance.hearings, utterance.snr_db)
    if second is not None and not audible(question).free and evidence.snr_db >= TOO_LOUD_DB:
        opinion = second.opinion(utterance.said, _likely(evidence), audible(question).strict is not None)
        evidence = weigh(question, utterance.hearings, utterance.snr_db, opinion)
    best = evidence.best
    sure = 0.0 if isinstance(best.meaning, NotUnderstood) else probability(evidence)
    if utterance.snr_db < TOO_LOUD_DB and best.words and best.meaning != Command("emergency"):
        return _unclear(utterance, evidence, sure)
    if evidence.unlike > _TALK:
        return replace(_unclear(utterance, evidence, 0.0), rivals=())
    if isinstance(best.meaning, NotUnderstood):
        return _unclear(utterance, evidence, 0.0) if best.words else None
    status, value, unit = _verdict(question, evidence, sure)
    if _too_long(question, utterance, best):
        status = UNCLEAR
    if status == UNCLEAR and not (isinstance(best.meaning, AskFor) and sure >= _at(_ACCEPT_WORD, evidence.snr_db)):
        return _unclear(utterance, evidence, sure)
    return Hearing(
        best.words, status, value, unit, sure, utterance.late_ms, best.meaning, snr_db=utterance.snr_db,
        rivals=_rivals(evidence),
    )  # fmt: skip


def _likely(evidence: Evidence) -> list[str]:
    """Words that the second ear is asked about: the best, and what is not far behind it."""
    near = [one for one in evidence.rivals if one.share >= _NEAR_SHARE]
    return [one.words for one in (evidence.best, *near) if one.words and UNKNOWN_WORD not in one.words][:_LIKELY]


def _rivals(evidence: Evidence) -> tuple[tuple[Value, float], ...]:
    """Values of one number that it may have been, with their shares."""
    found: list[tuple[Value, float]] = []
    for one in (evidence.best, *evidence.rivals):
        value = number_of(one.meaning)
        if value is not None and one.share >= _LEAST_SHARE:
            found.append((value, round(one.share, 4)))
    return tuple(found[:_LIKELY])


def _unclear(utterance: Utterance, evidence: Evidence, sure: float) -> Hearing:
    words = evidence.best.words
    return Hearing(
        "" if UNKNOWN_WORD in words else words, UNCLEAR, None, None, sure, utterance.late_ms, NotUnderstood(),
        too_loud=utterance.snr_db < TOO_LOUD_DB, snr_db=utterance.snr_db, rivals=_rivals(evidence),
    )  # fmt: skip


def _verdict(question: Question, evidence: Evidence, sure: float) -> tuple[str, Value | None, str | None]:
    words = evidence.best.words
    match evidence.best.meaning:
        case Command(name):
            return (COMMAND, name, None) if _commands(question, evidence, sure) else (UNCLEAR, None, None)
        case Confirmed(yes, None):
            value = "yes" if yes else "no"
            counts = sure >= _at(_ACCEPT_WORD, evidence.snr_db)
            if yes and words not in tagged("yes_no", "agreed"):
                # "Fifty", taken for the fifteen that was asked back, must not agree with it.
                counts = counts and not teen_or_ten(words) and _counts(evidence, sure)
            return (ACCEPTED, value, None) if counts else (UNCLEAR, None, None)
        case Confirmed(_, instead) if instead is not None:
            asked = question.asking == "confirm"
            worth = sure >= _at(_CONFIRM_NUMBER, evidence.snr_db) if asked else _refuses(evidence, sure)
            return (CONFIRM, instead.value, instead.unit) if worth else (UNCLEAR, None, None)
        case Answer(parts):
            return _answer_verdict(question, parts, evidence, sure)
    return UNCLEAR, None, None


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
    if sure < _at(_ACCEPT_WORD, evidence.snr_db) or not isinstance(meaning, Command):
        return False
    if meaning.name == "emergency":
        return True
    if words.startswith(_REFUSALS):
        return False  # "no" and a number that is no value of what was read back: colleagues say it all day
    # Spelled letters were "the a why"; of 132 commands from clean to 5 dB none had a word beside it.
    known = {*commands(), *question.go_ahead, *tagged("yes_no", "refused")}
    alone = words in known or bool(meaning.about) or _surely_alone(evidence)
    likely = evidence.second_score >= _LEAST_LIKELY or " " in words
    return alone and likely and _clearly(evidence)


def _surely_alone(evidence: Evidence) -> bool:
    """Whether a sound beside the words is none to the second ear."""
    return evidence.seconded is not None and not evidence.unlike and evidence.second_score >= _SURELY_ALONE


def _offered(question: Question, words: str) -> bool:
    """Whether these words were asked for, or begin such: a list of phrases turns "yes" into the "yes it" of "yes it is"."""
    offered = audible(question).phrases
    return not offered or words in offered or any(phrase.startswith(words + " ") for phrase in offered)


def _refuses(evidence: Evidence, sure: float) -> bool:
    """Whether "no, twelve" to a value on record is worth asking back."""
    return sure >= _REFUSES_RECORDED and _clearly(evidence)


def _clearly(evidence: Evidence) -> bool:
    """Whether every hearing has these words and no ear prefers others by far."""
    least = _ALL_HEAR if evidence.seconded is None else _ALL_HEAR_SECONDED
    return evidence.weakest >= least and evidence.unlike <= _OTHER_WORDS


def _answer_verdict(
    question: Question, parts: tuple[Part, ...], evidence: Evidence, sure: float
) -> tuple[str, Value | None, str | None]:
    first = parts[0]
    counts, confirm = sure >= _at(_ACCEPT_WORD, evidence.snr_db), _CONFIRM_WORD
    if any(isinstance(part.value, float) for part in parts):
        counts, confirm = _counts(evidence, sure), _at(_CONFIRM_NUMBER, evidence.snr_db)
    if sure < confirm or (sure < _MAY_BE_COMMAND and _commands_near(evidence)):
        return UNCLEAR, None, None
    odd = any(part.doubt or not _plausible(question, part) for part in parts)
    odd = odd or _a_rest(question, first, evidence.best.words)
    # Words beside the answer that nobody was asked for: spelled letters were taken for "i yes" (measured).
    odd = odd or not (_offered(question, evidence.best.words) or _surely_alone(evidence))
    return (ACCEPTED if counts and not odd else CONFIRM), first.value, first.unit


def _commands_near(evidence: Evidence) -> bool:
    """Whether a command may have been said; with one ear, that is surer of nothing, it must be more than a chance."""
    least = _NEAR_SHARE if evidence.seconded is not None else _CHANCE
    return any(isinstance(one.meaning, Command) and one.share >= least for one in evidence.rivals)


def _counts(evidence: Evidence, sure: float) -> bool:
    """Whether a number counts without being asked back."""
    if evidence.snr_db < LOUD_DB or evidence.twin_margin < _far(evidence):
        return False
    if evidence.seconded is not None:
        return sure >= _ACCEPT_SECONDED and evidence.unlike <= _OTHER_WORDS_NUMBER
    return evidence.weakest >= _at(_ALL_GIVE_NUMBER, evidence.snr_db)


def _far(evidence: Evidence) -> float:
    """Log odds that a ten, or a teen, must have over its twin."""
    value = number_of(evidence.best.meaning)
    other = None if value is None else twin(value)
    teen = other is not None and value is not None and abs(other) > abs(value)
    return _TEEN_FAR_SECONDED if teen and evidence.seconded is not None else _TWIN_FAR


def _at(limits_by_snr: tuple[tuple[float, float], ...], snr_db: float) -> float:
    return next(limit for floor, limit in limits_by_snr if snr_db >= floor)


def _a_rest(question: Question, part: Part, words: str) -> bool:
    """Whether one digit may be all that is left of a number of three: people pause up to 700 ms."""
    return any(form in DIGITS for form in asked_phrases(words)) and in_hundreds(question, vocabulary()[part.id])


def _plausible(question: Question, part: Part) -> bool:
    span = limits(question, vocabulary()[part.id])
    return span is None or not isinstance(part.value, float) or span[0] <= part.value <= span[1]
