"""How a valve was found, told by what was done to it: "i opened it already" says that it was shut.

Typed words only. The patterns are the project's own reading of how people talk.
"""

import re

from assistant.language.meaning import Answer, Command, Meaning, Part, Question

_OPENED = re.compile(
    r"\b(?:i|we|he|she|they|somebody|someone|my \w+)(?:'ve|'s| have| has|'d| had)?(?: just| already)? (?:re)?opened"
    r"(?! the (?:panel|cover|box|door|call))\b"
    r"|^(?:just |already )?(?:re)?opened (?:it|one|that one|them)\b"
    r"|\b(?:was|were|had been|been|found (?:it|one)) (?:\w+ )?(?:closed|shut|front ?seated)\b"
)
_NOT = re.compile(r"\b(?:not|never|nothing|none|no|nobody|didn't|haven't|wasn't|weren't|isn't|aren't)\b|n't\b")
_AT = re.compile(r"\bopened (?:at|on|by itself|by its own)\b")
"""Where a control opens."""
_VALVE = "injection_hand_valve"


_LEFT_IN_HAND = re.compile(
    r"\b(?:somebody|someone|they|he|she|the \w+(?: \w+)?|last guy)(?:'s|'d| has| had)? left (?:the switch|it|the"
    r" selector|the h o a)"
    r" (?:in|on|to) (?=(?:hand|off)\b)"
)


_WAS_IN_HAND = re.compile(r"\b(?:the |its |compressor |own )*(?:switch|selector) (?:was|had been|got)(?: left|"
    r" put)? (?:in|on|to) (?=(?:hand|off)\b)")


_HOLDING = re.compile(r"\b(running|going|up)\s*,?\s+(?:and )?(?:all )?holding(?: fine| steady| okay| the load)?$", re.IGNORECASE)
_TRIPPED_AND_OFF = re.compile(r"\b(?:it's |it |this one's )?tripped and (?:it's )?off\b", re.IGNORECASE)


def found_switched(question: Question, words: str) -> str:
    """The words with a switch that others left somewhere as one that stands there, where it is asked how it stands.

    >>> found_switched(Question("product_state", ("switch_position",)), "holding, but somebody left the switch in hand")
    'holding, but the switch is in hand'
    """
    if "running_now" in (question.asking, *question.also):
        words = _HOLDING.sub(r"\1", _TRIPPED_AND_OFF.sub("off", words))
    asked = "switch_position" in (question.asking, *question.also)
    return _WAS_IN_HAND.sub("the switch is in ", _LEFT_IN_HAND.sub("the switch is in ", words)) if asked else words


def was_shut(text: str) -> bool:
    """Whether a sentence tells that something was shut as it was found.

    >>> was_shut("one was closed i opened it"), was_shut("i didn't open any")
    (True, False)
    """
    return bool(_OPENED.search(text)) and not _NOT.search(text)


def found_shut(question: Question, text: str, closed: str) -> Meaning | None:
    """That the valve that is looked at was shut as it was found; None where the words tell no such thing.

    Args:
        question: what was asked.
        text: normalised words.
        closed: the word of the look for a valve that is shut; empty where it has none.

    >>> look = Question("command", look=True, go_ahead=("all open", "one closed"))
    >>> found_shut(look, "i opened it already", "one closed"), found_shut(look, "i didn't open any", "one closed")
    (Command(name='continue', about='one closed'), None)
    """
    if not _OPENED.search(text) or _NOT.search(text) or _AT.search(text):
        return None
    if question.look and closed:
        return Command("continue", closed)
    if _VALVE in (question.asking, *question.also):
        return Answer((Part(_VALVE, "closed"),))
    return None
