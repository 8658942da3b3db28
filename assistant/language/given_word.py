"""Whose word stands for what is acknowledged, and how firmly: safety hangs on "done", so a guess is asked back, what is still to
be done is not done, and nobody answers for another's lock.
"""

import re
from dataclasses import replace

from assistant.language.meaning import Answer, Meaning, NotUnderstood
from assistant.language.vocabulary import vocabulary

_OWN = frozenset({"locked_out", "lock_removed", "second_source_locked"})
_ANOTHER = re.compile(
    r"^(?:(?:yes|yeah|yep|uh|well|no) )*(?:(?:my|the|our) \w+|he|she|they|somebody|someone)"
    r" (?:did|has|put|locked|unlocked|hung|took|pulled|removed)\b"
)
_GUESSED = re.compile(r"\b(?:i|we|they|he)(?:'d)? (?:think|believe|guess|reckon|say|suppose|assume|figure)\b")
_TO_COME = re.compile(r"\b(?:in a (?:second|sec|minute|moment|bit)|later|tomorrow|soon|shortly|going to|gonna|about to)\b")


def given_word(text: str, said: Meaning) -> Meaning:
    """What an acknowledgement is worth.

    Args:
        text: normalised words.
        said: what they mean to the question.

    >>> from assistant.language.meaning import Part
    >>> given_word("he did", Answer((Part("locked_out", True),)))
    NotUnderstood()
    >>> given_word("done i think", Answer((Part("covers_on", True),))).parts[0].doubt
    '.'
    """
    if not isinstance(said, Answer):
        return said
    done = [part for part in said.parts if vocabulary()[part.id].kind == "acknowledge" and part.value is True]
    if not done:
        return said
    if _TO_COME.search(text) or (any(part.id in _OWN for part in done) and _ANOTHER.search(text)):
        return NotUnderstood()
    if _GUESSED.search(text):
        return Answer(tuple(replace(part, doubt=part.doubt or ".") if part in done else part for part in said.parts))
    return said
