"""What is asked next, and how: cautions before it, waiting, reading back, asking back."""

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from assistant.branches.steps import Step
from assistant.call import cautions, leaving, modes, prompts
from assistant.call.conversation import Conversation, Doing
from assistant.call.course import wait_until
from assistant.call.effects import Effect, Ended, Listen, Say, Wait
from assistant.call.facts import (
    CautionAcknowledged,
    CautionGiven,
    NoteTaken,
    ReadingWithdrawn,
    StepDone,
    StepEntered,
    StepReopened,
    WaitEnded,
)
from assistant.call.heard import Heard
from assistant.call.permits import why_not_reset
from assistant.call.replies import OTHERS_LOCK, limits
from assistant.language.agreed import ASKS_OF_SAFETY
from assistant.language.grammar import normalise
from assistant.language.meaning import DONE_AND_SAFE, Part, Question
from assistant.language.numbers import twin
from assistant.language.numbers import words as words_of
from assistant.language.unready import trouble
from assistant.language.vocabulary import Units, kind_of, vocabulary
from assistant.language.wording import digits_apart, of_a_set, sentence, spoken_back

NOT_SAFE = "Not understood. Is something not safe?"
YES_OR_NO = "Yes or no, please. Is something not safe?"
LEAVING = {"skip": "Skip this?", "back": "Go back?", "finish": "Make safe and close the call?"}
"""Commands that leave a step: each is asked back first."""
CLOSE = "Close the call?"
ENDS_OPEN = "The call ends here, not closed. Nobody goes in before the room is safe."


def _of_the_deed(part: Part) -> str:
    """What is asked back of a deed names it: "locked out, and all safe?"."""
    if part.id == "close_consent" and part.doubt == DONE_AND_SAFE:
        return CLOSE
    named = part.doubt == DONE_AND_SAFE and part.id in vocabulary()
    return f"{sentence(vocabulary()[part.id].say).removesuffix('.')}, and all safe?" if named else part.doubt


def go_on(call: Conversation) -> list[Effect]:
    """Record what is due, then ask the next thing."""
    call.settle_facts()
    if not call.state.feed.window and call.later:
        call.out += [said for at, said in enumerate(call.later) if not _outdone(said, call.later[at + 1 :])]
        call.later = []
    match call.mode.name:
        case modes.SEALED:
            call.out.append(Ended("sealed"))
        case modes.EMERGENCY | modes.ON_HOLD:
            _listen(call, Question("command", go_ahead=("continue",)), call.mode.name)
        case modes.CHECK_IN:
            _listen(call, Question("command", go_ahead=("okay", "yes", "done", "continue")), call.mode.name)
        case modes.NOTING:
            call.say("ask", "Go ahead.")
            _listen(call, Question("note"), "note")
        case modes.CONFIRMING:
            call.asked_back_as = _before_it_goes_on(call)
            call.say("ask", call.asked_back_as)
            _listen(call, Question("confirm", of=call.doing.command, value=call.state.step), call.state.step)
        case modes.ASKING_BACK:
            _ask_back(call)
        case modes.CORRECTING if call.doing.correcting in call.state.ask_again and _cautions_first(call, call.doing.correcting):
            call.go("ask")
            _ask_next(call)
        case modes.CORRECTING:
            _ask_corrected(call)
        case _:
            _ask_next(call)
    return call.out


def _before_it_goes_on(call: Conversation) -> str:
    """What a yes or a no is wanted to: a remark on safety, or a command to leave."""
    said = call.doing.said
    if not said:
        return LEAVING[call.doing.command]
    if call.state.doubts[said] != "trouble":
        return f"{sentence(said)} Is that so?"
    if call.again.misses and call.again.asking == call.doing.command:
        return YES_OR_NO
    if said == call.sounds_unsafe:
        return ASKS_OF_SAFETY
    step = call.state.steps.get(call.state.step)
    waits = step is not None and step.id not in call.state.answered and not cautions.wanted(step, call.state)
    once_more = waits and not trouble(normalise(said))
    return f"{NOT_SAFE} If not, say it again." if once_more else NOT_SAFE


def _told(step: Step) -> set[str]:
    """Facts that its words lead to: "repaired" is not taken out of a sentence that is not wholly known."""
    return {fact for facts in step.tells.values() for fact in facts.split()}


def _outdone(said: Effect, after: Sequence[Effect]) -> bool:
    """Whether a conclusion that waited for the power to be off is drawn more firmly in the same breath."""
    if not isinstance(said, Say) or said.purpose != "conclusion":
        return False
    cause = said.text.partition(".")[0]
    return any(isinstance(x, Say) and x.purpose == "conclusion" and x.text.partition(".")[0] == cause for x in after)


def _ask_corrected(call: Conversation) -> None:
    call.say("ask", prompts.alone(call.doing.correcting))
    _listen(call, question_for(call, (call.doing.correcting,), None), call.state.step)


def _ask_back(call: Conversation) -> None:
    asked_back = call.doing.asked_back
    part, _ = asked_back[0]
    several = len(asked_back) > 1
    apart = several and not of_a_set([p.id for p, _ in asked_back])
    values = [spoken_back(p.id, p.value, p.unit, several, apart) or "yes" for p, _ in asked_back]
    alike = several and len(set(values)) == 1
    words = f"all {digits_apart(len(values))} {values[0]}" if alike else ", ".join(values)
    in_hours = part.id == "alarm_minutes_ago" and "hour" in words  # "an hour and a half" has no twin
    alone = not several and not in_hours
    other = twin(part.value) if alone and isinstance(part.value, float) and part.value.is_integer() else None
    if other is not None and isinstance(part.value, float) and not part.doubt.endswith("?"):
        words += f": {digits_apart(part.value)}, or {digits_apart(other)}"
    whole = part.doubt.endswith("?") and not several
    lead = "" if part.doubt == "." or part.doubt.endswith("?") else part.doubt
    ask = f"{sentence(words).removesuffix('.')}?" if other is not None else f"{sentence(words)} Correct?"
    call.asked_back_as = _of_the_deed(part) if whole else f"{lead} {ask}".strip()
    call.say("readback", call.asked_back_as)
    refused = tuple(call.refused.get(part.id, ()))
    local = prompts.local_words(call.state, (part.id,))
    question = Question("confirm", of=part.id, value=part.value, units=units_of(call), local=local, refused=refused)
    _listen(call, question, call.state.step)


def units_of(call: Conversation) -> Units:
    """In which system numbers are said and heard at this site."""
    return "si" if call.state.site.units == "si" else "us"


def _listen(call: Conversation, question: Question, step: str) -> None:
    call.question, call.asked_at = question, step
    entry = vocabulary().get(question.asking)
    kind = entry.kind if entry else "yes_no" if question.asking == "confirm" else "acknowledge"
    unit = entry.unit(units_of(call)) if entry else None
    s = call.state
    wake = None
    if s.feed.window and s.feed.stimulus and not s.feed.over and not s.valve_shut:
        wake = call.now + timedelta(seconds=max(0.0, s.limits.feed_budget_s - s.feed.seconds(call.now, s.valve_shut)))
    elif not s.feed.window:
        wake = call.check_in.next_at()
    call.out.append(Listen(question, step, kind, unit, wake, quiet=s.feed.window or s.probes_in))


def question_for(call: Conversation, ids: tuple[str, ...], step: Step | None) -> Question:
    """What is listened for when these ids are asked, with what else may be said in this call.

    Args:
        call: as it stands.
        ids: of the vocabulary, or `command` alone.
        step: the step that asks; None for a reading that is put right.
    """
    first = ids[0]
    ahead = tuple(id_ for id_ in call.course.volunteered(call.state) if id_ not in ids and f"watch.{id_}" not in ids)
    settled = "compressor" in call.state.readings and not call.state.feed.window
    return Question(
        asking=first,
        step=step.id if step else "",
        also=ids[1:],
        units=units_of(call),
        of=call.again.of if call.again.of not in ids else "",
        local=prompts.local_words(call.state, (*ids, *ahead)),
        machines=prompts.local_words(call.state, ("rack", "compressor")) if settled else {},
        machine=call.state.value("compressor") if settled else None,
        volunteer=ahead,
        recorded=tuple(reversed(call.state.readings)),
        yes_is_all=step is not None and step.ask.endswith("all good?"),
        go_ahead=step.go_ahead if step and step.go_ahead else ("done", "ready"),
        other_words=step.other_words if step else {},
        look=bool(step and step.tells),
        harmless=bool(step and step.harmless),
        loose=bool(step and step.tells and not step.act and not step.resets and "repaired" not in _told(step)),
        about=tuple(words_of(normalise(step.ask))) if step else (),
        all_good=step.all_good if step else {},
        limits=limits(call.state, (*ids, *ahead)),
        refused=tuple(call.refused.get(first, ())),
        rivals=call.again.rivals_of(first),
        pending=call.completes,
        now=call.now,
    )


def left_to_ask(call: Conversation, step: Step) -> tuple[str, ...]:
    """What the step asks for and was not given at it."""
    return tuple(id_ for id_ in (step.asking, *step.also) if id_ == "command" or not call.state.given_here(id_, step))


def _ask_next(call: Conversation) -> None:
    s = call.state
    if s.doubts and not s.feed.window and not call.course.first_of_all(s):
        call.go("have it confirmed", Doing(command="said so", said=next(reversed(s.doubts))))
        go_on(call)
        return
    at_once = s.ask_again and not s.feed.window and not s.finishing and not call.course.first_of_all(s)
    asks = call.course.asks(s.ask_again[0]) if at_once else None
    if asks and asks.id not in s.answered and cautions.wanted(asks, s):  # told from afar: it is read in its place, behind these
        call.record(ReadingWithdrawn(s.ask_again[0], "it cannot be"))
        _ask_next(call)
        return
    if at_once and not _cautions_first(call, s.ask_again[0]):
        call.correct(s.ask_again[0])
        _ask_corrected(call)
        return
    if call.after_power and _put_right_after_power(call):
        return
    step = call.course.next_step(s)
    if step is None:
        call.say("caution", ENDS_OPEN, urgent=True)
        call.go("end open")
        call.out.append(Ended("interrupted"))
        return
    if step is call.course.consent and s.store_heard and s.store_heard != leaving.store_words(s) and not s.alarm:
        call.record(ReadingWithdrawn("store_told", "it is otherwise now"))
        _ask_next(call)
        return
    names = cautions.wanted(step, s)
    if names:
        call.go("ask")
        _ask_cautions(call, step, names)
        return
    until = wait_until(step, s, call.now)
    if until and until > call.now and step.id not in s.waited:
        call.go("wait")
        call.info(prompts.before_waiting(step, s, until - call.now))
        call.out.append(Wait(min(until, call.check_in.next_at() or until), step.id))
        call.question = Question("command", go_ahead=("continue",), recorded=tuple(reversed(s.readings)))
        return
    if until and step.id not in s.waited:
        call.record(WaitEnded(step.id))
        if call.pause_ends(_ANSWERED_WITHIN_MINUTES):  # what is asked anew comes before the question, not behind its answer
            _ask_next(call)
            return
    call.go("open the window" if s.feed.window else "ask")
    call.say_again = False  # what was not understood here asks for no caution of a later step again
    _ask_step(call, step)


_ANSWERED_WITHIN_MINUTES = 1
"""What it takes to go there and look, at least."""


def _put_right_after_power(call: Conversation) -> bool:
    """Ask what was to be put right with power on, once it is off; what takes hands in the panel is looked at anew there."""
    s = call.state
    liquid = "liquid_in_compressor" in s.open and "liquid_in_machine" not in s.acknowledged  # its caution comes first
    if s.feed.window or s.finishing or s.lock.others or liquid or call.course.first_of_all(s):
        return False
    put_right, call.after_power = call.after_power, ""
    step = s.steps.get(s.readings[put_right].step) if put_right in s.readings else None
    if step is None:
        return False
    if step.act == "hands_in":
        call.record(ReadingWithdrawn(put_right, "to be put right, said with power on"))
        _ask_next(call)
    else:
        call.correct(put_right)
        _ask_corrected(call)
    return True


def _cautions_first(call: Conversation, id_: str) -> bool:
    """Whether what is read once more is asked by its step again: after an interruption its cautions come before it anew."""
    s = call.state
    step = s.steps.get(s.readings[id_].step)
    if step is None or id_ not in (step.asking, *step.also):
        return False
    if step.id in s.answered and cautions.wanted(step, s):
        call.record(StepReopened(step.id))
    return step.id not in s.answered


def caution_words(call: Conversation, name: str) -> None:
    """Speak a caution, in full where it was not yet, on record as given."""
    words = prompts.caution(name, name not in call.state.given, units_of(call))
    form = "short" if name in call.state.given else "full"
    call.record(CautionGiven(name, form))
    call.say("caution", words)


def heed_at_last(call: Conversation, heard: Heard) -> None:
    """The cautions that stand behind "is something not safe?" are acknowledged in the same breath as its no."""
    step = call.course.next_step(call.state)
    if step is not None and call.cautioned and cautions.wanted(step, call.state) == call.cautioned and not call.state.doubts:
        call.asked_at = _label(step, call.cautioned)
        go_ahead(call, heard)


def _label(step: Step, names: tuple[str, ...]) -> str:
    return f"{step.id}/{'+'.join(names)}"


def _ask_cautions(call: Conversation, step: Step, names: tuple[str, ...]) -> None:
    """Speak cautions that belong together, each named in the log, and have them acknowledged once."""
    label = _label(step, names)
    if names != call.cautioned or call.say_again or not all(cautions.lately(name, call.state, call.now) for name in names):
        for name in names:
            caution_words(call, name)
    elif not any(isinstance(effect, Say) for effect in call.out):
        call.info(prompts.CAUTION_FIRST)  # no turn is silent
    call.say_again, call.cautioned = False, names
    # "Detector lit and quiet?" may be answered by what it does: in alarm nobody goes in.
    also = ("detector_state",) if "room" in names else ()
    go_ahead, recorded = ("understood", "okay", "done", "yes"), tuple(reversed(call.state.readings))
    question = Question("command", also, go_ahead=go_ahead, recorded=recorded)
    _listen(call, question, label)


_WHEREVER_HE_IS = ("return", "lock gate")
"""Parts of the call that take the technician nowhere: what is asked anew, and the store told before a lock. Of the front nothing
does either once his hands are in the panel: "I'm alone and nobody knows" has his footing asked there."""


def _ask_step(call: Conversation, step: Step) -> None:
    s = call.state
    if s.step != step.id or step.id in s.answered:
        stays = step.part in _WHEREVER_HE_IS or (step.part == "front" and not call.station.leads_to(step.station))
        call.record(StepEntered(step.id, s.station if stays else step.station))
        call.settle_facts()
        # A pause longer than a proof is over: all of them are said anew, in full, at the next word.
        pause_over = call.now - call.heard_at >= timedelta(minutes=s.site.dead_minutes)
        for name in () if pause_over else cautions.to_remind(step, s, call.fresh, call.now):
            caution_words(call, name)
        call.fresh.clear()
    if "locked" in step.hands_over and s.choice == "repaired" and not s.finishing and (why := why_not_reset(s)):
        call.info(why)  # who has mended it wants to know why it stays locked before he is asked who takes it
    ids = left_to_ask(call, step)
    if s.lock.others and step.act == "power_off" and not any(isinstance(x, Say) and x.text == OTHERS_LOCK for x in call.out):
        call.say("caution", OTHERS_LOCK, urgent=True)  # the power comes off first; that lock is not forgotten over it
    whole = len(ids) == 1 + len(step.also)
    if step.asking == "close_consent" and (left_out := prompts.skipped_on_the_way(s)):
        call.info(left_out)
    words = prompts.prompt(step, s) if whole else _alone(step, ids[0])
    before = "" if step.tells and step.act else _LAST_SENTENCE.sub("", words)  # a look that hands are in for is not ordered again
    call.asked_back_as = f"{before} {call.asks_back}".strip() if call.asks_back else ""
    call.say("ask", call.asked_back_as or words)
    alone = not whole and len(ids) > 1
    if ids == (step.asking,) and not step.all_good and _is_a_word(step.asking):
        ids = (step.asking, *step.also)  # "a two" names both again, though one of them was heard
    question = replace(question_for(call, ids, step), alone=alone)
    if alone and step.alone:  # "all good" tells of what the prompt named, and the rest is asked by its name
        question = replace(question, all_good={id_: good for id_, good in question.all_good.items() if id_ == step.asking})
    _listen(call, question, step.id)


_LAST_SENTENCE = re.compile(r"(?:(?<=[.?]) |^)[^.?]*[.?]$")
"""What is to be said, or the question: in its place it is asked back, "put the wire back. Done, and all safe?"."""


def _alone(step: Step, id_: str) -> str:
    return step.alone if step.alone and id_ == step.asking else prompts.alone(id_)


def _is_a_word(id_: str) -> bool:
    """A word or a name answers it: what is said after it is not taken for more of its number."""
    return kind_of(id_) == "choice"


def go_ahead(call: Conversation, heard: Heard, meant: str = "") -> None:
    """A bare go-ahead: the cautions that were just spoken are acknowledged, or the step is done.

    Args:
        call: the call.
        heard: what was said.
        meant: the step's own word that it means, where it was said in other words.
    """
    s = call.state
    step = call.course.next_step(s)
    if step is None:
        return
    if call.after_pause and step.part == "return":
        asked = s.steps.get(call.asked_at)
        if asked is not None and asked.resets and asked.id not in s.answered and asked.asking == "command":
            call.record(StepDone(asked.id, heard.words, asked.facts(heard.words), asked.resets))  # it was its one, however late
        return  # it is asked anew since that pause: what was said before it was asked answers nothing
    names = cautions.wanted(step, s)
    if names and call.asked_at != step.id:
        if call.asked_at != _label(step, names):
            return  # what was just said answers what was asked before: these were not spoken yet
        if not heard.sure:
            call.info("Say understood.")
            return
        for name in names:
            call.record(CautionAcknowledged(name, heard.words))
        call.fresh |= set(names)
    elif step.asking == "command" and s.step == step.id:
        said = step.word(meant or normalise(heard.words))
        if step.tells and not (heard.sure and said):
            call.info(f"Say {' or '.join(list(step.tells)[:4])}.")
            return
        facts = step.facts(said or heard.words)
        call.record(StepDone(step.id, said or heard.words, facts, step.resets))
        if call.first_told and "repaired" in facts:
            call.record(NoteTaken(call.first_told))  # what was done, where the word that counts is a yes
        call.say("readback", prompts.told_back(said))
