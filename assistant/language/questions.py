"""Whether somebody asks instead of answering: "is the meter good?" says nothing of the meter."""

import re

_PEOPLE = r"(?:i|we|you|he|she|they|my|your|anybody|anyone|somebody|someone|everybody|everyone)"
_WHO = rf"(?:it|the|this|that|these|those|our|there|both|{_PEOPLE})"
_LEAD = r"(?:(?:hey(?: [a-z]+)??|so|okay|ok|well|uh|um|wait|hang on|hold on|and|but|sorry|yeah|hmm|oh) ){0,2}"
_QUESTION = re.compile(
    rf"{_LEAD}(?:"
    rf"(?:is|are|was|were|isn't|aren't|wasn't|weren't|am) {_WHO}\b"
    rf"|(?:did|do|should|could|can|would|will|have|didn't|don't|haven't|shouldn't|couldn't) {_PEOPLE}\b"
    r"|(?:does|has|will|would|should|can|could) (?:it|the|this)\b(?! live| dead|$)"
    r"|did (?:it|the|this)\b(?! live| dead|$)(?! (?:\w+ )?(?:again|twice|as well)\b)"
    r"|does (?:that|he|she|they)\b"
    r"|(?:what|which|where|who|whose|when|how|why)(?:'s|'re|'d|'ll)?\b"
    r"|should\b"
    r"|(?:you|ya|you all) (?:ready|set|good|clear|done|there|sure|happy|okay)(?: (?:for|to|with|about|over)\b.*|$)"
    r"|(?:is|are|was) (?:(?!\b(?:good|off|on|now|not|all|(?!every|any|some|no)[a-z]+ing)\b)[a-z]+ ){1,4}"
    r"(?:good|okay|right|normal|enough|high|low|bad|fine|too \w+|about right)$"
    r")"
)
"""The project's own reading of how people ask. The voice goes up at the end; a recogniser's words do not show it."""


def is_question(text: str) -> bool:
    """Whether these words ask something.

    Args:
        text: normalised words.

    >>> is_question("is the meter good"), is_question("it is good"), is_question("did it"), is_question("hey which coil")
    (True, False, False, True)
    """
    return bool(_QUESTION.match(text))


_ORDER = re.compile(
    r"\b(?:hand|pass|throw|toss|bring|fetch|grab|lend|get|give) (?:me|us) (?:the|that|a|an|my|your|those|some)\b"
    r"(?! (?:second|sec|minute|min|moment|bit|break|hour|couple|few|chance|mo|tick)s?\b)"
    r"|\b(?:with|for|by|from|on|to) (?:what|who|whom|which)$"
    r"|^(?:hey |yo |oi )?(?:[a-z]+ )?(?:go|come|pop|nip|run|head) (?:round|around|up|down|over|out|back|and|on up|on down)\b"
    r".*\b(?:see|check|look|tell|count|read)\b"
    r"|^(?:(?:no|whoa|oi) )+(?:do not|don't) (?:pull|touch|push|move|turn|open|close|start|lift|use|take|put|grab"
    r"|reset|switch|throw|flip|stand|lean|drop|climb|unplug|plug)\b"
)
"""What is said to somebody else: the project's own reading."""


def is_order(text: str) -> bool:
    """Whether somebody is told to do something, beside whom no answer is meant.

    Args:
        text: normalised words.

    >>> is_order("carlos hand me the one twenty volt tester"), is_order("dave go round the back and see"), is_order("go ahead")
    (True, True, False)
    """
    return bool(_ORDER.search(text))
