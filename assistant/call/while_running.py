"""What follows when it is said of a machine that it trips, knocks, burns, turns backwards or is too hot as it starts or runs."""

import re
from math import inf

from assistant.call import modes, prompts
from assistant.call.asking import units_of
from assistant.call.conversation import Conversation
from assistant.call.facts import CallContinued, NoteTaken, ObligationOpened, ReadingTaken, StepDone
from assistant.call.heard import Heard
from assistant.call.replies import DISTRESS, SECOND_TRIP, reply, us
from assistant.language.at_the_panel import runs
from assistant.language.grammar import normalise
from assistant.language.hot_line import of_the_line
from assistant.language.meaning import Answer, Command, Confirmed, Meaning, Part, Remark

STOPS = "Then it stops."
_WITHOUT_OIL = "Without oil it seizes: stop it at its switch. Then say it stopped."
_IF_IT_KNOCKS = "If it knocks, stop it at its switch. Then say it stopped."


def asks_to_start(call: Conversation) -> bool:
    """Whether the start, or the caution before it, is asked."""
    step = call.state.steps.get(call.asked_at.partition("/")[0])
    return step is not None and step.act == "start" and step.id not in call.state.answered


def may_run(call: Conversation) -> bool:
    """Whether it runs, was found running, or is just to start."""
    return call.state.running or call.state.found_running or asks_to_start(call)


def _tried(call: Conversation, about: str, words: str) -> bool:
    """The one reset, or the start, that was just asked for was tried and did not hold: it is locked, and left off."""
    s = call.state
    step = s.steps.get(s.step)
    if step is None or step.act != "start" or step.id in s.answered or call.asked_at != step.id:
        return False
    if about == "won't reset" or step.resets:
        call.record(StepDone(step.id, words, ("reset_failed",), step.resets))
    else:
        call.record(StepDone(step.id, words, step.establishes))
        call.volunteered("running_now", "off", words)
    call.say("caution", "Switch it off. No second try: lock it and leave it off.", urgent=True)
    return True


def _has_tripped(call: Conversation, words: str) -> bool:
    """A machine that ran stands: on record at once, whatever is asked, and nobody closes a call on its running."""
    s = call.state
    if not s.running:
        return False
    call.volunteered("running_now", "just tripped", words)
    call.say("caution", SECOND_TRIP if s.started_at is not None else "Just tripped.", urgent=True)
    return True


_RAN = re.compile(r"\b(?:started|running|runs|ran|took off|fired up|came on)\b")


def of_the_machine(call: Conversation, words: str) -> bool:
    """Whether the fire or smoke that is named may be of the machine, which runs or is just to start."""
    return may_run(call) and bool(re.search(r"\b(?:fire|smok\w+|flames?|burning|sparks?|sparking|arc(?:s|ed|ing)?|flash\w*"
                                             r"|(?:stuck|caught|trapped|pinned|jammed) (?:in|under|behind))\b", normalise(words)))


def burns(call: Conversation, _: str, words: str) -> bool:
    """The machine that runs, or was just to start, smokes, burns or bursts: it is switched off before anything else is asked."""
    s = call.state
    if asks_to_start(call):
        if not _RAN.search(normalise(words)):
            call.say("caution", DISTRESS, urgent=True)
            return _tried(call, "won't start", words)
        step = s.steps[s.step]
        call.record(StepDone(step.id, words, step.establishes))
    elif not may_run(call):
        return False
    call.say("caution", DISTRESS, urgent=True)
    return True


def backwards(call: Conversation, _: str, words: str) -> bool:
    """It turns the wrong way, as it is started or while it runs: it is stopped at once."""
    s = call.state
    starts = call.asked_at in s.steps and s.steps[call.asked_at].act == "start"
    if not (s.running or starts):
        return False
    call.volunteered("rotation", "reversed", words)
    if not _tried(call, "won't start", words):
        call.say("caution", "Backwards. Stop it at once.", urgent=True)
    return True


def tripped(call: Conversation, about: str, words: str) -> bool:
    """It will not start or reset, or stands again."""
    return _tried(call, about, words) or _has_tripped(call, words)


def stopped(call: Conversation, _: str, words: str) -> bool:
    """The technician stopped it: it is left off."""
    if not call.state.running:
        return False
    call.volunteered("running_now", "off", words)
    call.say("caution", "Stopped. Lock it and leave it off.", urgent=True)
    return True


def sounds_wrong(call: Conversation, _: str, words: str) -> bool:
    """It knocks or is loud: who hears it decides, and it has not settled."""
    if not call.state.running:
        return False
    call.record(NoteTaken(words))
    call.say("caution", _IF_IT_KNOCKS, urgent=True)
    return True


def no_oil(call: Conversation, about: str, words: str) -> bool:
    """It runs without oil: what was heard is on record as just that, and stops it."""
    if not call.state.running:
        return False
    call.record(NoteTaken(words))
    call.say("caution", _WITHOUT_OIL if about == "no oil" else STOPS, urgent=True)
    return True


def frosts_back(call: Conversation, about: str, words: str) -> bool:
    """Frost up to the machine: liquid in one that stands; of one that runs it may be usual, at a low temperature."""
    return sounds_wrong(call, about, words) if call.state.running else liquid(call, about, words)


def reset_again(call: Conversation, about: str, words: str) -> bool:
    """He himself reset it more than once: behind its start that was a second trip, whether it runs now or not (S22)."""
    if _tried(call, "won't reset", words):
        return True
    if call.state.started_at is None or not call.state.running:
        return resets(call, about, words)
    call.say("caution", SECOND_TRIP, urgent=True)  # what was heard is on record as just that, and stops it
    return True


def resets(call: Conversation, _: str, words: str) -> bool:
    """It was reset again and again, by whom or when nobody says."""
    if call.state.value("reset_history") is not None:
        return False
    call.volunteered("reset_history", "often", words)
    call.info("On record: reset often.")
    return True


def liquid(call: Conversation, _: str, words: str) -> bool:
    """Liquid in the machine, said where nobody asked: as found, it keeps a standing machine from its start."""
    s = call.state
    if s.machine is None or "technician" not in s.readings or s.feed.window:
        return False
    if s.running:
        return no_oil(call, "liquid", words)  # it stops: one slug breaks it
    if "liquid_in_compressor" not in s.open:
        call.record(ObligationOpened("liquid_in_compressor", s.step, words, s.technician))
        call.not_ready("liquid_in_compressor")  # its caution is said before what is asked now
    else:
        call.say("caution", prompts.caution("liquid_in_machine", False, s.site.units), urgent=True)
    return True


def over_its_trip(call: Conversation, meaning: Meaning, heard: Heard) -> Part | None:
    """The line over its trip, of a machine that runs or may run, said where nobody listens for it: at the front, at a caution, on
    hold, before a yes."""
    s = call.state
    runs_for_all_we_know = s.running or s.found_running or (s.machine is not None and "running_now" not in s.readings)
    elsewise = isinstance(meaning, Answer | Command | Confirmed) or (isinstance(meaning, Remark) and meaning.about != "trouble")
    if not runs_for_all_we_know or elsewise or not heard.sure or call.mode.name == modes.NOTING:
        return None
    parts = of_the_line(heard.words, units_of(call))
    trip_degf = s.rack.probe.trip_degf if s.rack else inf
    hot = (p for p in parts if p.id == "discharge_temperature" and (p.value == "over_range" or us(p) >= trip_degf))
    return next(hot, None)


def stops_it(call: Conversation, hot: Part, heard: Heard) -> None:
    """Put the line's temperature on record, whatever was asked, and say what follows of it."""
    if call.mode.name in (modes.ON_HOLD, modes.CHECK_IN):
        call.record(CallContinued(heard.words))
        call.go("go on")
    call.leave_the_question()
    s = call.state
    if runs(normalise(heard.words)) and "running_now" not in s.readings:
        call.volunteered("running_now", "running", heard.words)
    call.record(ReadingTaken(hot.id, hot.value, hot.unit, s.step, heard.words, "volunteered", False, hot.low, hot.high))
    call.say("readback", prompts.read_back([(hot.id, hot.value, hot.unit)], True))
    said = reply(s, hot)
    call.say("caution", said.text if said else "", urgent=True)
