"""What each command does in a call."""

from assistant.branches.steps import Step
from assistant.call import cautions, modes, prompts, unready
from assistant.call.asking import go_ahead
from assistant.call.conversation import Conversation
from assistant.call.effects import Manner
from assistant.call.facts import (
    CallHeld,
    FinishAsked,
    LeftContradicted,
    PowerOffOrdered,
    ReadingWithdrawn,
    StepReopened,
    StepSkipped,
)
from assistant.call.heard import Heard
from assistant.call.replies import HOLDING
from assistant.call.state import State
from assistant.call.window import out_of_the_window, power_is_on
from assistant.language.grammar import normalise
from assistant.language.meaning import Command
from assistant.language.vocabulary import vocabulary

_NOT_BACK = "Nothing before this can be taken back. Say correction and the reading's name."
_LEADS_AWAY = ("skip", "back", "finish", "correct", "hold", "note")
"""Commands that wait while people, the room, another person's lock, or power off, or a machine that must stop come first."""
_UNREADY = {
    "covers_on": "panel_cover", "others_clear": "others_clear", "service_valves_open": "service_valves_open",
    "jumper_removed": "jumper_fitted", "start_prevented": "not blocked", "clothing_meets_label": "gear",
    "meter_proved_before": "misread", "meter_proved_after": "misread", "cylinder_checked": "other gas",
    "control_power_off": "live", "section_emptied": "pressure", "machine_isolated": "pressure",
    "fit_to_start": "unknown here",
}  # fmt: skip
"""What was acknowledged and is taken back by a correction, by what is said then."""
MACHINE = ("site", "rack", "compressor")
"""Readings that name the machine."""


def obey(call: Conversation, command: Command, heard: Heard) -> None:
    """Do what a command asks for. Those that leave a step are asked back first."""
    s = call.state
    if command.name in _LEADS_AWAY and call.course.first_of_all(s):
        call.info("That first.")
        return
    if command.name in ("skip", "cancel") and call.doing.correcting in s.ask_again:
        call.record(LeftContradicted(call.doing.correcting, heard.words))
        call.go("ask")
        call.info("Then nothing rests on it.")
        return
    match command.name:
        case "continue":
            question = call.question
            if question and question.asking == "command" and (command.about or means_it(heard.words, question.go_ahead)):
                go_ahead(call, heard, "" if command.about == "said so" else command.about)
            else:
                call.say_again = "/" not in call.asked_at  # what was asked is asked again; a caution is only named
        case "repeat":
            call.say_again = True
            if call.mode.name == modes.CONFIRMING and not call.doing.said:
                call.go("ask")
        case "cancel":
            call.go("ask")
            call.info("Never mind, then.")
        case "skip" if call.doing.said:
            call.info("Yes or no first.")
        case "skip" if "/" in call.asked_at:
            call.say_again = True
            call.info("The caution first.")
        case "skip" if command.about and call.question and call.question.asking != "confirm":
            leave(call, "skip", heard.words)
        case "back" if call.course.last_plain(s) is None:  # nobody is asked for a yes to what cannot be done
            read = "" if s.feed.window or call.doing.said else _read_last(s)
            correct(call, read) if read else call.info(_NOT_BACK)
        case "skip" | "back" | "finish":
            call.confirm(command.name)
        case "correct":
            before = command.about or next((r for r in reversed(s.readings) if r != "close_consent"), "")
            only_no = normalise(heard.words) == "no" and before in vocabulary()
            if only_no and vocabulary()[before].kind == "acknowledge":
                call.info("Answer it, or say go back.")  # what was done is not put right by a no
                return
            if only_no and call.question and before != call.question.of:
                call.info("The one before, then.")  # it is asked again, and who only said no would wonder why
            correct(call, command.about)
        case "hold":
            call.kept = (call.mode.name, call.doing)
            call.record(CallHeld(heard.words))
            call.go("hold")
            call.info(HOLDING)
        case "note":
            call.go("take a note")
        case "slower" | "faster" | "louder" | "softer" | "stop":
            call.out.append(Manner(command.name))
        case "help":
            call.info(prompts.help_with(call.question))
        case "review":
            call.info("After power off." if s.feed.window else prompts.review(s))  # nobody is read to while it feeds
        case "where":
            call.info(prompts.where(s))
        case "why":
            call.info(prompts.why(s, call.cautioned if call.at_a_caution else ()))


def means_it(words: str, go_ahead: tuple[str, ...]) -> bool:
    """Whether one of the step's own words was said."""
    return any(f" {word} " in f" {normalise(words)} " for word in go_ahead)


def correct(call: Conversation, id_: str) -> None:
    """Ask a reading again: the one named, or the last."""
    s = call.state
    if not id_:
        id_ = next((r for r in reversed(s.readings) if r != "close_consent"), "")
    words = f"correction {vocabulary()[id_].say}" if id_ in s.readings else ""
    if id_ not in s.readings:
        call.info("That is not on record.")
    elif id_ in MACHINE and (s.station not in ("front", "machine") or s.lock.locked):
        # Tag, lock and proof are this machine's, and would stand for the other one.
        call.info("The panel belongs to this machine. Finish this call, and open one for the other.")
    elif id_ == "locked_out" and s.lock.locked:
        out_of_the_window(call, words)
        unready.lock_is_off(call, words)
    elif id_ == "control_power_off" and "jumper_fitted" in s.open and "control_power_on" in s.readings:
        _power_is_on_still(call, words)
    elif id_ == "store_told":
        call.record(ReadingWithdrawn(id_, words))
        call.leave_the_question()
    elif id_ == "lock_removed" and not s.lock.locked and s.started_at is None:
        call.volunteered("lock_still_on", "yes", words)
        call.leave_the_question()
    elif (about := _UNREADY.get(id_)) and unready.take(call, about, words):
        pass
    elif s.feed.window and not ((read_at := s.steps.get(s.readings[id_].step)) and read_at.act in ("live", "power_on")):
        call.after_power = id_
        call.info("After power off.")
    elif (gate := s.steps.get(s.readings[id_].step)) and gate in call.course.lock_gates and not s.lock.locked:
        call.record(StepReopened(gate.id))  # the store hears of it before the lock, or again
    elif id_ in ("section_emptied", "machine_isolated"):  # it was opened since
        unready.take(call, "trouble", words)
    elif id_ in ("jumper_fitted", "leads_clipped") and not s.feed.window:
        _not_as_the_feed_wants(call, id_, words)
    elif vocabulary()[id_].kind == "acknowledge":
        call.info("That was done, not measured. Say go back.")
    else:
        call.correct(id_)


def _power_is_on_still(call: Conversation, words: str) -> None:
    """Power was not off after all, with the stimulus in: it is fed, and its seconds go on. Power off comes first (S15)."""
    power_is_on(call, call.state.steps[call.state.readings["control_power_on"].step], words)
    call.record(PowerOffOrdered(call.state.feed.seconds(call.now, call.state.valve_shut)))  # for how long it fed nobody knows
    out_of_the_window(call, words)
    call.leave_the_question()


def _not_as_the_feed_wants(call: Conversation, id_: str, words: str) -> None:
    """The jumper was not in, or the leads not on, after all: what was seen with power on rests on nothing; it is asked again."""
    s = call.state
    seen = [read for read in ("injection_feed", "injection_coil_volts", "valve_click") if read in s.readings]
    for read in seen:
        call.record(ReadingWithdrawn(read, words))
    if not seen and s.readings[id_].step in s.answered:
        call.record(StepReopened(s.readings[id_].step))
    call.info("Noted.")
    call.leave_the_question()


def _to_skip(call: Conversation) -> Step | None:
    """The step that "skip" means: the one that is asked, or waited for. What was answered is never marked skipped
    afterwards; None behind a caution."""
    s = call.state
    if s.step and s.step not in s.answered:
        return s.steps[s.step]
    ahead = call.course.next_step(s)
    return None if ahead is None or cautions.wanted(ahead, s) else ahead


def leave(call: Conversation, name: str, words: str) -> None:
    """Leave the step, as was confirmed: `skip`, `back` or `finish`."""
    s = call.state
    if name == "finish":
        if not s.finishing:
            call.record(FinishAsked(words))
        return
    if name == "skip":
        step = _to_skip(call)
        if step is None:
            call.info(prompts.CAUTION_FIRST)
        elif step.required:
            call.info(prompts.not_skipped(step))
        else:
            told = [id_ for id_ in step.ids if s.given_here(id_, step)]
            call.record(StepSkipped(step.id, words))
            call.info(prompts.skipped(step, told))
        return
    earlier = call.course.last_plain(s)
    if earlier is not None:
        call.record(StepReopened(earlier.id))
    else:
        call.info(_NOT_BACK)


def _read_last(s: State) -> str:
    """The look of the step before, which cannot be gone back to as a whole; empty where that was a deed, a reset or measured."""
    step = s.steps.get(s.order[-1]) if s.order else None
    step = None if step is not None and step.resets else step
    ids = [id_ for id_ in step.ids if id_ in s.readings and vocabulary()[id_].kind in ("choice", "yes_no")] if step else []
    return ids[0] if ids else ""
