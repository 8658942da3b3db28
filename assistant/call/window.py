"""How a live window ends when something is said that ends it: what was still to be seen is passed over, next is the power."""

from itertools import takewhile

from assistant.branches.steps import Step
from assistant.call.conversation import Conversation
from assistant.call.facts import ReadingTaken, StepSkipped


def out_of_the_window(call: Conversation, words: str) -> None:
    """Power off, before anything else is said."""
    if call.state.feed.window:
        end_the_window(call, words)
        call.say("caution", "Power off.", urgent=True)


def power_is_on(call: Conversation, step: Step, words: str) -> None:
    """Control power is told to be on, and not at its question: its seconds count from now (S15)."""
    call.record(ReadingTaken("control_power_on", True, None, step.id, words, "volunteered", establishes=step.establishes))
    call.settle_facts()


def end_the_window(call: Conversation, words: str) -> None:
    """What was still to be seen in the live window is passed over: next is the power."""
    s = call.state
    if not s.feed.window:
        return
    ahead = call.course.run[max(s.position, 0) :]
    for step in takewhile(lambda step: step.act != "power_off", ahead):
        if step.act == "live" and step.id not in s.answered:
            call.record(StepSkipped(step.id, words))
