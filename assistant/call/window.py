"""How a live window ends when something is said that ends it: what was still to be seen is passed over, next is the power."""

from itertools import takewhile

from assistant.branches.steps import Step
from assistant.call import modes
from assistant.call.asking import caution_words
from assistant.call.by_reading import OUTSIDE_DUE
from assistant.call.conversation import Conversation
from assistant.call.facts import ReadingTaken, StepSkipped, WordsHeard
from assistant.call.heard import Heard
from assistant.language.grammar import normalise
from assistant.language.meaning import Answer, Question
from assistant.language.pieces import understand_in_pieces


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


def power_is_off(call: Conversation, question: Question, heard: Heard) -> bool:
    """Whether the power is said to be off while something else comes first: people, the room, an emergency, a hold."""
    s = call.state
    elsewhere = question.asking in OUTSIDE_DUE or call.mode.name in (modes.EMERGENCY, modes.ON_HOLD)
    if not (s.feed.window and elsewhere and heard.sure and heard.meaning is None):
        return False
    if "off" not in normalise(heard.words).split():
        return False
    said = understand_in_pieces(Question("control_power_off"), heard.words)
    return isinstance(said, Answer) and [(p.id, p.value) for p in said.parts] == [("control_power_off", True)]


def take_power_for_off(call: Conversation, heard: Heard) -> None:
    """Put it on record, whatever else was asked: its seconds end."""
    call.record(WordsHeard(heard.words, "answer", heard.confidence, heard.audio))
    step = call.course.power_off(call.state)
    call.record(ReadingTaken("control_power_off", True, None, step.id if step else "", heard.words, "volunteered"))
    call.settle_facts()
    liquid = "liquid_in_compressor" in call.state.open and call.mode.name != modes.EMERGENCY
    if liquid and "liquid_in_machine" not in call.state.acknowledged:
        caution_words(call, "liquid_in_machine")  # acknowledged once people and the room are seen to
