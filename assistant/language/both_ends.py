"""What was heard, without the words that nobody knows and without what people hang on both ends of an answer."""

from assistant.language.hedges import bared, without_sounds
from assistant.language.numbers import words as words_of

UNKNOWN_WORD = "[unk]"
_FILLERS = words_of(
    "a an i it up uh um er the about around roughly its it's that's is are reads reading got have we i've say"
    " like so well okay please now still just me there"
)


def trimmed(text: str) -> list[str]:
    """The words without unknown ones, then without what people hang on both ends of an answer."""
    tokens = [token for token in text.split() if token != UNKNOWN_WORD]
    start, end = 0, len(tokens)
    forms = [" ".join(tokens)]
    while start < end - 1 and tokens[start] in _FILLERS:
        start += 1
        forms.append(" ".join(tokens[start:end]))
    while start < end - 1 and tokens[end - 1] in _FILLERS:
        end -= 1
        forms.append(" ".join(tokens[start:end]))
    return forms


def asked_phrases(text: str) -> list[str]:
    """The words as they were said, and bare of what people hang on an answer: what is looked up among the phrases asked for."""
    tokens = tuple(token for token in text.split() if token != UNKNOWN_WORD)
    return [*trimmed(text), *(" ".join(form) for form in bared(without_sounds(tokens), True))] if tokens else []
