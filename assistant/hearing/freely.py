"""What an answer may be that no grammar has: heard by any word, understood as typed words are, and asked back.

A choice counts where both ears, each by words of its own, make the same of it.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from assistant.hearing.decision import ACCEPTED, COMMAND, CONFIRM, UNCLEAR, Hearing
from assistant.hearing.evidence import is_number
from assistant.hearing.guesses import SecondOpinion
from assistant.hearing.listener import Utterance
from assistant.language.asides import strictly
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
_AGREED_WORTH, _LEAST_OWN = 0.97, -1.5
"""What it is worth where both ears agree, and the log probability that the second ear's own words need for it. Of 402 sentences
at 20 dB 61 choices agreed, all right, at 10 dB 36, all but a half answer; of 96 that are none one, at -5.5. A number does not
count: "two eighty five" was "to eighty five" to both."""


def freely(
    question: Question, utterance: Utterance, hearing: Hearing, second: SecondOpinion | None, dictated: Callable[[], str]
) -> Hearing:
    """A hearing that was unclear, or what is asked back instead of "say again"; a choice that both ears make counts.

    The second ear's own words are looked at first, they cost nothing; then all words that the first ear's model knows. A number
    is taken from the latter alone: the second ear, which knows few words, makes figures of talk ("it get hot at five").

    Args:
        question: what was asked.
        utterance: its sound.
        hearing: what it came to by the grammars.
        second: the second ear, where there is one.
        dictated: hears the sound once more, by every word that the model knows.
    """
    unclear = hearing.status == UNCLEAR and not hearing.too_loud and not isinstance(hearing.meaning, AskFor)
    brief = utterance.spoken_s is not None and utterance.spoken_s < _SHORTEST_S
    tried = unclear or (hearing.status == CONFIRM and _is_choice(hearing.meaning))
    if not tried or brief or utterance.snr_db < LEAST_DB or question.asking == "confirm" or audible(question).free:
        return hearing
    own = second.likeliest(utterance.said) if second is not None else ""
    heard = cache(dictated)
    if second is not None and _sure_of_it(second, utterance) and (agreed := _agreed(question, own, heard)):
        return _counted(hearing, own, agreed)
    if not unclear:
        return hearing
    for words, numbers in ((own, False), (heard(), True)):
        meaning = _worth_asking(question, words)
        if meaning is not None and (numbers or not is_number(meaning)):
            return _asked_back(hearing, words, meaning)
    return hearing


def _agreed(question: Question, own: str, heard: Callable[[], str]) -> Meaning | None:
    """The choice that both ears' own words make to all that was asked, where nobody's safety hangs on it; None for none."""
    if strictly(question) or not (mine := _chosen(question, own)):
        return None
    return mine if _chosen(question, heard()) == mine else None


def _chosen(question: Question, words: str) -> Meaning | None:
    meaning = _understood(question, words)
    if isinstance(meaning, Command):
        return meaning if question.look and meaning.about and meaning.name == "continue" else None
    return meaning if meaning is not None and _is_choice(meaning) else None


def _is_choice(meaning: Meaning) -> bool:
    return isinstance(meaning, Answer) and not any(isinstance(part.value, float) or part.doubt for part in meaning.parts)


def _sure_of_it(second: SecondOpinion, utterance: Utterance) -> bool:
    own = second.opinion(utterance.said, ()).own
    return bool(own) and own[0].score >= _LEAST_OWN


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
    """What these words are an answer with, to all that was asked; None where they are none, or the sound may be of anything."""
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
    if isinstance(meaning, Remark):
        return replace(hearing, text=words, status=CONFIRM, confidence=_WORTH, meaning=meaning, rivals=())
    if not isinstance(meaning, Answer):
        return replace(hearing, text=words, meaning=meaning)
    first = meaning.parts[0]
    return replace(
        hearing, text=words, status=CONFIRM, value=first.value, unit=first.unit, confidence=_WORTH, meaning=meaning, rivals=()
    )
