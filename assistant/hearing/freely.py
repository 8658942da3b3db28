"""What an answer may be that no grammar has: heard without one, understood as typed words are, and asked back.

It counts where both ears, each by words of its own, make the same of it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from assistant.hearing.decision import ACCEPTED, COMMAND, CONFIRM, UNCLEAR, Hearing
from assistant.hearing.evidence import is_number, teen_or_ten
from assistant.hearing.guesses import Guess, SecondOpinion
from assistant.hearing.in_sentences import without_pauses
from assistant.hearing.listener import Utterance
from assistant.hearing.opposites import opposite_near
from assistant.language.asides import strictly
from assistant.language.audible import audible
from assistant.language.both_ends import UNKNOWN_WORD
from assistant.language.grammar import understand
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, AskFor, Command, Meaning, Question, Remark
from assistant.language.offered import offered
from assistant.language.pieces import understand_in_pieces
from assistant.language.vocabulary import vocabulary

LEAST_DB = 8.0
"""Loudness over the noise from which it is tried: below, any word is heard for any other."""
_SHORTEST_S = 0.3
"""Voice under which there is no sentence: a cough, a clank."""
_WORTH = 0.8
"""What such a hearing is worth: of natural sentences at 20 dB so many of those asked back were right (tests/bench)."""
_AGREED_WORTH, _LEAST_OWN, _CLEAR, _VERY_CLEAR = 0.97, -1.5, -0.4, -0.1
"""What it is worth where both ears agree, and the log probability that the second ear's own words need for it: for a choice, a
number, and what must be beyond doubt. Of 762 sentences at 20 and 10 dB that no ear had learned some 340 numbers agreed at -0.5
and over, and no value was wrong but a fifteen heard as fifty (twins never count)."""

_LONG, _FIGURES = 4, 2
"""Words from which a sentence is read whole; words of a number under which it is a lone one, which noise and letters make."""


@dataclass(frozen=True)
class FreeWords:
    """A sound's likeliest words to the first ear, worked out when they are asked for."""

    in_sentences: Callable[[], str]
    """By the trade's sentences, with a comma at each pause."""
    of_any: Callable[[], str]
    """By all that its model knows."""


def freely(question: Question, utterance: Utterance, hearing: Hearing, second: SecondOpinion | None, words: FreeWords) -> Hearing:
    """A hearing that was unclear, or what is asked back instead of "say again"; an answer that both ears make counts.

    A number that the grammars have and doubt stays in doubt, they judge it by more than words. The second ear's own words are
    looked at first, they cost nothing; then what the first ear hears by the trade's sentences, and by all words that its model
    knows.

    Args:
        question: what was asked.
        utterance: its sound.
        hearing: what it came to by the grammars.
        second: the second ear, where there is one.
        words: what the first ear makes of the sound without the question's grammar.
    """
    if audible(question).free:
        told = hearing.status == ACCEPTED
        return _in_better_words(question, utterance, hearing, second, words) if told and second is not None else hearing
    if question.asking == "confirm":
        return hearing
    if hearing.status == ACCEPTED:
        return _read_whole(question, hearing)
    brief = utterance.spoken_s is not None and utterance.spoken_s < _SHORTEST_S
    if brief or utterance.snr_db < LEAST_DB:
        return hearing
    unclear = hearing.status == UNCLEAR and not hearing.too_loud and not isinstance(hearing.meaning, AskFor)
    if unclear or (hearing.status == CONFIRM and isinstance(hearing.meaning, Answer)):
        return _heard_anew(question, utterance, hearing, second, words)
    return hearing


def _heard_anew(
    question: Question, utterance: Utterance, hearing: Hearing, second: SecondOpinion | None, words: FreeWords
) -> Hearing:
    """What the ears' own words make of it: it counts, or is asked back; the hearing as it was where they make nothing."""
    unclear = hearing.status == UNCLEAR
    own = second.likeliest(utterance.said) if second is not None else ""
    if second is not None and own and (agreed := _agreed(question, own, words)) is not None:
        doubted = not unclear and is_number(agreed)
        if not doubted and _counts(question, agreed, second.opinion(utterance.said, ()).own, words):
            return _counted(hearing, own, agreed)
        if isinstance(agreed, Answer):
            return _asked_back(hearing, own, agreed)
    if not unclear:
        return hearing
    firsts = dict.fromkeys((_paused(own, words), words.in_sentences()))  # often the same
    for said in firsts:
        meaning = _worth_asking(question, said)
        if meaning is not None and not is_number(meaning):
            return _asked_back(hearing, said, meaning)
    meaning = _worth_asking(question, words.of_any())
    return hearing if meaning is None else _asked_back(hearing, words.of_any(), meaning)


def _in_better_words(
    question: Question, utterance: Utterance, hearing: Hearing, second: SecondOpinion, words: FreeWords
) -> Hearing:
    """What is told in free words, by the trade's sentences where the second ear finds their letters likelier.

    "Flare nut on the strainer" was "the flair not on the strainer"; a name is heard by all words, as before.
    """
    other = without_pauses(words.in_sentences())
    if not other or UNKNOWN_WORD in other:
        return hearing
    letters = second.opinion(utterance.said, (hearing.text, other)).letters
    meaning = understand(question, other)
    if letters[other] <= letters[hearing.text] or not isinstance(meaning, Answer):
        return hearing
    return replace(hearing, text=other, value=meaning.parts[0].value, meaning=meaning)


def _read_whole(question: Question, hearing: Hearing) -> Hearing:
    """What counted by a part of its words, asked back where the whole of them means another thing, or none.

    "No temporary parts" was parts left in use, "three, ten minutes ago, hang on a minute" one minute.
    """
    if not isinstance(hearing.meaning, Answer) or len(hearing.text.split()) < _LONG:
        return hearing
    whole = understand_in_pieces(question, hearing.text)
    if not isinstance(whole, Answer):
        return replace(hearing, status=CONFIRM)
    return hearing if _values(whole) == _values(hearing.meaning) else _asked_back(hearing, hearing.text, whole)


def _values(answer: Answer) -> dict[str, object]:
    return {part.id: part.value for part in answer.parts}


def _agreed(question: Question, own: str, words: FreeWords) -> Meaning | None:
    """What both ears' own words answer to all that was asked; None for none."""
    heard = words.in_sentences()
    theirs = _answered(question, heard)
    return theirs if theirs is not None and (_paused(own, words) == heard or _answered(question, own) == theirs) else None


def _paused(own: str, words: FreeWords) -> str:
    """The second ear's words, with the pauses that the first one heard where it has the same."""
    heard = words.in_sentences()
    return heard if without_pauses(heard) == own else own


def _counts(question: Question, meaning: Meaning, own: Sequence[Guess], words: FreeWords) -> bool:
    """Whether what both ears agree on needs not be asked back.

    What somebody's safety hangs on must be the same words to both, very clear or the same by all words that the model knows too,
    with its opposite far. So must a number of one word. One of which a part has a twin never counts ("two hundred fifteen"
    of one voice was fifty to all three), nor one with no word beside it, for which the grammars are.
    """
    said, score = own[0].words, own[0].score
    if isinstance(meaning, Answer) and any(part.doubt for part in meaning.parts):
        return False
    same = said == without_pauses(words.in_sentences())
    if strictly(question):
        if not same or score < _CLEAR or is_number(meaning) or opposite_near(meaning, said, score, own):
            return False
        return score >= _VERY_CLEAR or _answered(question, words.of_any()) == meaning
    if not is_number(meaning):
        return score >= _LEAST_OWN
    if teen_or_ten(said) or FIGURES.issuperset(said.split()):
        return False
    if len(FIGURES.intersection(said.split())) < _FIGURES:
        return same and score >= _VERY_CLEAR
    return score >= _CLEAR


def _answered(question: Question, words: str) -> Meaning | None:
    meaning = _understood(question, words)
    if isinstance(meaning, Command):
        return meaning if meaning.about and meaning.name == "continue" else None
    return meaning if isinstance(meaning, Answer) else None


def _counted(hearing: Hearing, words: str, meaning: Meaning) -> Hearing:
    if isinstance(meaning, Answer):
        first = meaning.parts[0]
        return replace(
            hearing, text=words, status=ACCEPTED, value=first.value, unit=first.unit, confidence=_AGREED_WORTH, meaning=meaning,
            rivals=(),
        )  # fmt: skip
    return replace(hearing, text=words, status=COMMAND, value="continue", confidence=_AGREED_WORTH, meaning=meaning, rivals=())


def _worth_asking(question: Question, words: str) -> Meaning | None:
    """What these words are an answer with, or a remark, or the word to be asked for; None where they are nothing."""
    meaning = _understood(question, words)
    return AskFor(_what_to_say(question)) if isinstance(meaning, Command) else meaning


def _understood(question: Question, words: str) -> Meaning | None:
    """What these words are an answer with, to all that was asked; None where they are none, or the sound may be of anything.

    Pauses are heard where one thing ends, and inside a number: where they change what is meant it is no answer.
    """
    at_once = _understood_so(question, without_pauses(words))
    if without_pauses(words) == words:
        return at_once
    paused = _understood_so(question, words)
    return paused if at_once in (None, paused) else at_once if paused is None else None


def _understood_so(question: Question, words: str) -> Meaning | None:
    if not words or UNKNOWN_WORD in words or len(words.split()) < 2:
        return None
    meaning = understand_in_pieces(question, words)
    if isinstance(meaning, Command):
        return meaning if meaning.name == "continue" else None
    if isinstance(meaning, Remark):
        return meaning  # what concerns safety is asked back at any question
    if not isinstance(meaning, Answer) or any(part.value in question.refused for part in meaning.parts):
        return None
    asked = {question.asking, *question.also}
    known = {part.id for part in meaning.parts}
    kept_out = any(id.startswith("dead_volts") or vocabulary()[id].kind == "free" for id in known)
    return meaning if known == asked and not kept_out else None


def _what_to_say(question: Question) -> str:
    words = question.go_ahead[:1] if "understood" in question.go_ahead else question.go_ahead[:4]
    return f"Say {' or '.join(words or offered(question)[:1])}, or hold on."


def _asked_back(hearing: Hearing, words: str, meaning: Meaning) -> Hearing:
    words = without_pauses(words)
    if isinstance(meaning, Remark):
        return replace(hearing, text=words, status=CONFIRM, confidence=_WORTH, meaning=meaning, rivals=())
    if not isinstance(meaning, Answer):
        return replace(hearing, text=words, meaning=meaning)
    first = meaning.parts[0]
    return replace(
        hearing, text=words, status=CONFIRM, value=first.value, unit=first.unit, confidence=_WORTH, meaning=meaning, rivals=()
    )
