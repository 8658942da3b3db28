"""What follows when it is said by the way that a valve is shut, opened, or to be closed."""

import re

from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.call.while_running import may_run
from assistant.call.window import end_the_window


def valve_open(call: Conversation, _: str, words: str) -> bool:
    s = call.state
    if not (s.feed.window and s.valve_shut):
        return False
    end_the_window(call, words)
    call.volunteered("injection_hand_valve", "open", words)  # from power on, for all that anybody knows
    call.say("caution", "Power off.", urgent=True)
    return True


def would_close(call: Conversation, _: str, __: str) -> bool:
    call.say("caution", prompts.caution("valves", False, call.state.site.units), urgent=True)
    return True


def shut(call: Conversation, words: str) -> str:
    """The valve of a standing machine that is said to be shut as found, and is not on record as that; empty for none."""
    s = call.state
    known = s.machine is not None and "technician" in s.readings and s.started_at is None and not may_run(call)
    valve = re.search(r"\b(?:(discharge|condenser)|suction)\b", words)
    surely = re.search(r"\bvalved?\b|\b(?:closed|shut|front ?seated)(?: \w+)? (?:discharge|condenser|suction)\b", words)
    known = known and bool(s.station != "panel" or surely)  # a discharge contact that is closed is no valve
    known = known and not {"hose_on", "liquid_section_closed", "section_shut"} & set(s.open)  # there it is asked about
    id_ = "" if valve is None else "valve_closed.discharge" if valve[1] else "valve_closed.suction"
    return id_ if known and id_ not in s.open else ""
