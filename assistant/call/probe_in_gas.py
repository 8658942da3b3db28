"""What follows when it is said that a probe which sits in the gas comes out, or is out: it opens the system (S28)."""

import re

from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.call.replies import STAY_OUT
from assistant.call.window import out_of_the_window
from assistant.language.grammar import normalise

_TO_COME = re.compile(r"\b(?:i'll|i will|going to|gonna|want to|let me|can i|should i|could i|just|have to|need to|trying to)\b")
_DONE = re.compile(r"\b(?:took|taken|unscrewed|pulled|removed|backed|came|popped|blew|is out|'s out)\b")


def probe_out(call: Conversation, _: str, words: str) -> bool:
    """Of a probe in the gas only: it stays in; where it is out already, the system is open, and that is a leak on record."""
    s = call.state
    in_gas = s.rack is not None and s.rack.probe.mount == "in_gas" and "recovered" not in s.established()
    if not in_gas or s.machine is None:
        return False
    text = normalise(words)
    if _DONE.search(text) and not _TO_COME.search(text):
        out_of_the_window(call, words)
        call.volunteered("leak_found", "yes", words)
        call.volunteered("room_safe", "no", words)  # hot gas and oil come out of it: nobody stays at it
    call.say("caution", prompts.caution("probe_in_gas", False, s.site.units), urgent=True)
    if s.value("room_safe") == "no":
        call.say("caution", STAY_OUT, urgent=True)
    return True
