"""What follows when something is said to be left otherwise than it was: it is on record, and somebody by name puts it back."""

from assistant.branches.steps import Step
from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.call.facts import ObligationOpened
from assistant.call.replies import IN_HAND


def in_hand(call: Conversation, _: str, words: str) -> bool:
    if call.state.machine is None:
        return False
    call.volunteered("switch_position", "hand", words)
    call.say("readback", prompts.read_back([("switch_position", "hand", None)], True))
    call.say("caution", IN_HAND)
    return True


def said_repaired(call: Conversation) -> Step | None:
    """The step at which something was said to be repaired."""
    s = call.state
    asks = (step for step in call.course.run if "repaired" in step.tells.values() and step.id in s.answered)
    return next(asks, None) if s.choice == "repaired" else None


def borrowed(call: Conversation, _: str, words: str) -> bool:
    """A part of another machine was put in: it is on record, and somebody puts it back."""
    here = call.state.steps.get(call.asked_at)
    asked = here is not None and ("repaired" in here.tells.values() or "part_left_in_use" in here.ids)
    return (asked or said_repaired(call) is not None) and _part(call, "borrowed", words)


def makeshift(call: Conversation, _: str, words: str) -> bool:
    """A part, or a feed, that is not to stay."""
    return call.state.machine is not None and _part(call, "temporary", words)


def _part(call: Conversation, kind: str, words: str) -> bool:
    if call.state.value("part_left_in_use") == kind:
        return False
    call.volunteered("part_left_in_use", kind, words)
    call.say("readback", prompts.read_back([("part_left_in_use", kind, None)], True))
    return True


def left_so(call: Conversation, about: str, words: str) -> bool:
    """A set point, a defrost or the loading is not as it was: nobody puts it back who is not told to."""
    s = call.state
    if s.machine is None or "technician" not in s.readings or s.feed.window:
        return False
    if about not in s.open:
        call.record(ObligationOpened(about, s.step, words, s.technician))
    call.info(f"On record: {s.procedure.obligations[about].say}.")
    return True
