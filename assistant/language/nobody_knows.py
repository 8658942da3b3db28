"""That he who is asked does not know, with why not: "I don't know, it's not written anywhere"; never beside a guess."""

import re

from assistant.language.grammar import normalise
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Command, Question
from assistant.language.standing_out import hangs_on_safety
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of

_KINDS_NOT_KNOWN = ("acknowledge", "free", "")
_LEAD = r"(?:(?:no|nope|well|sorry|honestly|uh|um|hmm|oh|man|yeah|to be honest|i'm afraid|hon|sir|boss) )*"
_KNOWS_NOT = (
    r"(?:(?:i|we|just|really|honestly|still) )*(?:don't|do not|wouldn't|couldn't|couldn't even|can't)(?: really| even| rightly)?"
    r" (?:know|tell(?: you)?|say)(?: (?:that|that one|it|this one|this|for sure|offhand))?"
    r"|(?:i've |i have |i got |got |we've )*(?:no|not a|not the (?:slightest|foggiest)|haven't a|haven't got a) (?:idea|clue)"
    r"|(?:nobody|no one|not anybody|none of (?:them|us))(?: here| there| around| on this shift)*(?: knows?| does| remembers?"
    r"| could (?:tell me|say))(?: that)?"
    r"|(?:god |lord )?who knows|dunno|beats me|search me|your guess is as good as mine|not known|unknown"
    r"|there(?:'s| is) no (?:record|note|log|way to know|way of knowing|telling)(?: of (?:it|that|this))?"
)
_OF_WHAT = r"(?: (?:when|how|what|which|who|if|whether|where|why) [a-z' ]+)?"
_WHY = (
    r"(?:,? (?:it|it's|that|that's|the|nobody|no one|there|there's|they|he|she|before|i|i'm|wasn't|somebody|log|no|never)\b.*)?"
)
_WHOLE = re.compile(rf"{_LEAD}(?:{_KNOWS_NOT}){_OF_WHAT}{_WHY}")
_AFTER_ALL = re.compile(
    r"\b(?:but|though|looks?|think|maybe|probably|guess|might|may|could be|about|around|except|must be|should|first|yet|wait"
    r"|hang|hold|let me|i'll|i can|yes)\b"
)
"""What makes it a guess, or puts it off."""


def nobody_knows(question: Question, words: str) -> Command | None:
    """That it is not known, as a skipped question has it; None for anything else.

    >>> nobody_knows(Question("days_since_last_addition"), "I don't know, it's not written anywhere")
    Command(name='skip', about='unknown')
    >>> nobody_knows(Question("days_since_last_addition"), "don't know, maybe a month")
    """
    asked = question.asking
    if kind_of(asked) in _KINDS_NOT_KNOWN or asked.startswith("dead_volts") or hangs_on_safety(asked):
        return None
    text = normalise(words.replace(".", " "))
    plain = text.replace(",", " ")
    known = FIGURES & set(plain.split()) - {"one"}
    if not _WHOLE.fullmatch(text) or _AFTER_ALL.search(plain) or known or trouble(plain):
        return None
    return Command("skip", "unknown")
