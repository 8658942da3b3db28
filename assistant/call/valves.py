"""What follows when it is said by the way that a valve is shut, opened, or to be closed."""

import re

from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.call.facts import ObligationOpened, ReadingWithdrawn
from assistant.call.while_running import STOPS, may_run
from assistant.call.window import end_the_window, out_of_the_window

_OF_THE_VALVE = ("section_shut", "valve_closed.discharge", "valve_closed.suction")
"""What is open with a valve of the liquid line, the discharge side, the suction shut."""


def valve_open(call: Conversation, _: str, words: str) -> bool:
    s = call.state
    if not (s.feed.window and s.valve_shut):
        return False
    end_the_window(call, words)
    call.volunteered("injection_hand_valve", "open", words)  # from power on, for all that anybody knows
    call.say("caution", "Power off.", urgent=True)
    return True


def held_open(call: Conversation, _: str, words: str) -> bool:
    """The injection valve is held open by hand, with a magnet: what was seen of the feed tells nothing, it comes off before a
    start, and a machine that stands under it has liquid in it."""
    s = call.state
    if s.machine is None or "technician" not in s.readings:
        return False
    window, running = s.feed.window, s.running or s.found_running
    out_of_the_window(call, words)
    if "injection_feed" in s.readings:
        call.record(ReadingWithdrawn("injection_feed", words))
    if "jumper_fitted" not in s.open:
        call.record(ObligationOpened("jumper_fitted", s.step, words, s.technician))
        call.not_ready("" if running or window else "jumper_fitted")
    if not running and "liquid_in_compressor" not in s.open:
        call.record(ObligationOpened("liquid_in_compressor", s.step, words, s.technician))
    if not window:
        call.say("caution", STOPS if running else "Then no start. First the bypass out.", urgent=True)
    return True


def would_close(call: Conversation, _: str, __: str) -> bool:
    call.say("caution", prompts.caution("valves", False, call.state.site.units), urgent=True)
    return True


def shut(call: Conversation, words: str) -> str:
    """The valve of a standing machine that is said to be shut as found, and is not on record as that; empty for none."""
    s = call.state
    known = s.machine is not None and "technician" in s.readings and s.started_at is None and not may_run(call)
    surely = re.search(r"\bvalved?\b|\b(?:closed|shut|front ?seated)(?: \w+)? (?:discharge|condenser|suction)\b", words)
    known = known and bool(s.station != "panel" or surely)  # a discharge contact that is closed is no valve
    known = known and not {"hose_on", "liquid_section_closed", "section_shut"} & set(s.open)  # there it is asked about
    id_ = named(words)
    return id_ if known and id_ not in s.open else ""


_VALVE = re.compile(r"\b(?:(discharge|condenser|receiver inlet)|(suction)|(?:king|receiver|liquid|section)(?: line| outlet)?)\b")
_CLOSED = re.compile(r"\b(?:closed?|shut|front ?seated|valved off|not open|isn't open|stuck)\b")


def named(words: str) -> str:
    """What is open while the valve that is named is shut; empty where none is. Of several the one that is told to be closed:
    "suction is open, discharge is closed"."""
    valves = list(_VALVE.finditer(words))
    if not valves:
        return ""
    ends = [*(valve.start() for valve in valves[1:]), len(words)]
    told = [valve for valve, end in zip(valves, ends, strict=True) if _CLOSED.search(words, valve.end(), end)]
    valve = min(told, key=lambda one: one.lastindex or 3, default=valves[0])
    return _OF_THE_VALVE[valve.lastindex or 0]


def shut_after_all(call: Conversation, words: str) -> None:
    """One of the service valves, which were said to be open, is not: whoever takes the machine over is told which."""
    id_, s = named(words), call.state
    if id_.startswith("valve_closed.") and id_ not in s.open:
        call.record(ObligationOpened(id_, s.step, "as found" if s.running else words, s.technician))
