"""What an answer may be that no grammar has: heard by any word, understood as typed words are, and always asked back."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from assistant.hearing.decision import CONFIRM, UNCLEAR, Hearing
from assistant.hearing.evidence import is_number
from assistant.hearing.guesses import SecondOpinion
from assistant.hearing.listener import Utterance
from assistant.language.audible import audible
from assistant.language.both_ends import UNKNOWN_WORD
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


def freely(
    question: Question, utterance: Utterance, hearing: Hearing, second: SecondOpinion | None, dictated: Callable[[], str]
) -> Hearing:
    """A hearing that was unclear, or what is asked back instead of "say again"; it never counts by itself.

    The second ear's own words are looked at first, they cost nothing; then all words that the first ear's model knows. A number
    is taken from the latter alone: the second ear, which knows few words, makes figures of talk ("it get hot at five").

    Args:
        question: what was asked.
        utterance: its sound.
        hearing: what it came to by the grammars.
        second: the second ear, where there is one.
        dictated: hears the sound once more, by every word that the model knows.
    """
    tried = hearing.status == UNCLEAR and not hearing.too_loud and not isinstance(hearing.meaning, AskFor)
    brief = utterance.spoken_s is not None and utterance.spoken_s < _SHORTEST_S
    if not tried or brief or utterance.snr_db < LEAST_DB or question.asking == "confirm" or audible(question).free:
        return hearing
    for words, numbers in _heard(utterance, second, dictated):
        meaning = _worth_asking(question, words)
        if meaning is not None and (numbers or not is_number(meaning)):
            return _asked_back(hearing, words, meaning)
    return hearing


def _heard(utterance: Utterance, second: SecondOpinion | None, dictated: Callable[[], str]) -> Iterator[tuple[str, bool]]:
    """Words, each with whether a number in them is worth asking back."""
    if second is not None:
        yield second.likeliest(utterance.said), False
    yield dictated(), True


def _worth_asking(question: Question, words: str) -> Meaning | None:
    """What these words are an answer with, to all that was asked; None where they are none, or the sound may be of anything."""
    if not words or UNKNOWN_WORD in words or len(words.split()) < 2:
        return None
    meaning = understand_in_pieces(question, words)
    if isinstance(meaning, Command) and meaning.name == "continue":
        return AskFor(_what_to_say(question))
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
    if isinstance(meaning, Remark):
        return replace(hearing, text=words, status=CONFIRM, confidence=_WORTH, meaning=meaning, rivals=())
    if not isinstance(meaning, Answer):
        return replace(hearing, text=words, meaning=meaning)
    first = meaning.parts[0]
    return replace(
        hearing, text=words, status=CONFIRM, value=first.value, unit=first.unit, confidence=_WORTH, meaning=meaning, rivals=()
    )
