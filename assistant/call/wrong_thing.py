"""What follows when what was measured, or worked on, is said to have been another thing or another machine."""

import re

from assistant.call.conversation import Conversation
from assistant.call.facts import ProofEnded, ReadingWithdrawn
from assistant.call.replies import TREAT_AS_LIVE
from assistant.call.state import State
from assistant.call.window import out_of_the_window
from assistant.language import unready as language
from assistant.language.grammar import normalise
from assistant.language.vocabulary import vocabulary

_CONTACT = "chain_dead_check"
_METER = re.compile(
    r"\bit was my (?:meter|leads?|tester)\b"
    r"|\b(?:meter|leads?|tester)(?:'s| is| was| were)(?: \w+)? (?:off|out|bad|broken|dead|faulty|loose|no good)\b"
)
"""What measured it is not sound: nothing is proved dead by it either."""


def wrong_one(call: Conversation, _: str, words: str) -> bool:
    """What was measured was another thing: the proof that rested on it falls, and it is measured anew before anything starts."""
    s = call.state
    what = language.measured_wrong(normalise(words))
    if s.feed.window or s.finishing:
        return False
    measured = [id_ for id_ in reversed(s.readings) if _by_hand(s, id_)]
    if what == "contact":
        measured = [id_ for id_ in measured if id_ == _CONTACT]
    elif what != "wire":
        measured = [id_ for id_ in measured if what in vocabulary()[id_].say.split()]
    proof = (what == "wire" or bool(_METER.search(normalise(words)))) and bool(s.lock.dead or s.lock.proof)
    if proof:
        call.record(ProofEnded("another wire, or a meter that is not sound, was said to have been used"))
        call.say("caution", "Then nothing is proven dead. Hands out. A sound meter first.", urgent=True)
    if measured:
        call.record(ReadingWithdrawn(measured[0], words))
        call.info("Noted.")
    return bool(measured) or proof


def _by_hand(s: State, id_: str) -> bool:
    """It was measured with hands in."""
    step = s.steps.get(s.readings[id_].step)
    return step is not None and step.act == "hands_in" and vocabulary()[id_].kind != "acknowledge"


def wrong_machine(call: Conversation, _: str, words: str) -> bool:
    """What was measured and done under the lock was so at another machine: which one, its tag tells."""
    s = call.state
    if "panel_tag" not in s.readings:
        return False
    out_of_the_window(call, words)
    call.record(ReadingWithdrawn("panel_tag", words))
    call.say("caution", TREAT_AS_LIVE, urgent=True)
    return True
