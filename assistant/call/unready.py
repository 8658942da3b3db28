"""What follows when it is said by the way that something is still in, open or shut, that somebody is at the machine, that the
power is on or a protection bypassed: nothing is started on it, and no hand goes in.
"""

import re
from collections.abc import Callable

from assistant.branches.search import found, proven
from assistant.branches.steps import Step
from assistant.call import prompts
from assistant.call.conversation import Conversation
from assistant.call.facts import (
    CautionGiven,
    NoteTaken,
    ObligationOpened,
    OthersLockFound,
    ProofEnded,
    ReadingWithdrawn,
    StepDone,
    StepReopened,
    StepSkipped,
)
from assistant.call.known import case_of
from assistant.call.permits import IN_THE_PANEL, NOT_CLOSED_AGAIN
from assistant.call.probe_in_gas import probe_out
from assistant.call.replies import DISTRESS, METAL_LADDER, OTHERS_LOCK, STAY_OUT, TREAT_AS_LIVE, reply
from assistant.call.temporary import borrowed, in_hand, left_so, makeshift, said_repaired
from assistant.call.valves import held_open, shut, shut_after_all, valve_open, would_close
from assistant.call.while_running import (
    STOPS,
    asks_to_start,
    backwards,
    burns,
    frosts_back,
    liquid,
    may_run,
    no_oil,
    reset_again,
    resets,
    sounds_wrong,
    stopped,
    tripped,
)
from assistant.call.window import end_the_window, out_of_the_window, power_is_on
from assistant.call.wrong_thing import wrong_machine, wrong_one
from assistant.language import unready as language
from assistant.language.grammar import normalise
from assistant.language.left_so import LEFT_SO
from assistant.language.meaning import Part
from assistant.language.wording import spelled

AIR = f"Out, into fresh air. {DISTRESS}"
LIVE = "Then it is live. Hands out."
_TAKEN_BACK = {"others_clear": "Then no start. Everybody clear first.", "service_valves_open": "Then no start. The valves first."}
_FIRST = {
    "jumper_fitted": "the jumper out", "bypassed": "the bypass out", "leads_on": "the meter leads off",
    "wire_lifted": "the wire back on", "start_blocked": "the start block off", "hose_on": "the hose off",
    "clamp_left_on": "the clamp off", "panel_cover": "the covers on", "terminal_cover": "the covers on",
}  # fmt: skip
_NOT_AS_SAID: dict[str, tuple[Callable[[Step], bool], Callable[[Step], bool], str]] = {
    "pressure": (
        lambda step: "isolated_at_zero" in step.establishes,
        lambda step: step.asking == "leak_repaired" or "repaired" in step.tells.values(),
        "Then nothing is opened. Wait for zero, and read it again.",
    ),
    "vacuum": (
        lambda step: step.asking == "shell_pressure", lambda step: step.asking == "ground_megohms",
        "Then no insulation test. Read its gauge again.",
    ),
    "modules on": (
        lambda step: "modules_off" in step.tells.values(), lambda step: step.asking == "ground_megohms",
        "Then no test. They come off first.",
    ),
    "other gas": (
        lambda step: step.asking == "cylinder_checked", lambda step: step.asking == "refrigerant_added",
        "Then no charge from it.",
    ),
}
"""What makes it so, what ends its need, and what is said."""
_UNSAFE = {
    "misread": ("the meter was said to have read wrong", "Then nothing is proven dead. Hands out. A sound meter first."),
    "wet": ("water was said to be there", "Out of the water. Nothing electrical until you and it are dry."),
    "gear": ("gloves or shield were said not to be sound", "Sound gloves and shield first. Until then nothing is opened."),
    "trouble": ("something was said not to be safe", "Then stop. Hands off. Make it safe first."),
}
"""Why a proof ends, and what is said."""
_IN_MIND = {
    "would bypass": "No. No protection is bypassed: it is locked and left off instead.",
    "vent": "Never vent it. Recover it.",
    "takes over": "Their own lock goes on before yours comes off. They take the call up in their own name.",
}
"""What is said to what somebody has in mind."""
_ENDS_A_WINDOW = frozenset({
    "window", "burns", "tripped", "won't start", "won't reset", "reset again", "stopped",
    "misread", "wet", "gear", "trouble", "not blocked",
    "coil off",
})  # fmt: skip
"""What is said with power on that takes hands and probes out at once."""
_OUT = "Everybody out. Power off first."
_KEEP_AWAY = "It runs. Everybody away from it."


def take(call: Conversation, about: str, words: str) -> bool:
    """Take it as said.

    Args:
        about: one of `language.unready.UNREADY`.
        words: as said.

    Returns:
        Whether it was to the point: what was never said to be ready, or dead, is asked for anyway.
    """
    s = call.state
    if about in _ENDS_A_WINDOW and s.feed.window:
        end_the_window(call, words)
        _not_as_it_was_asked(call, about, words)
        call.say("caution", "Power off.", urgent=True)
    elif about in _ENDS_A_WINDOW - {"coil off"} and s.probes_in:
        _leave_the_live_panel(call, about, words)
    elif about in _KEEPS_POWER_OFF and _before_power(call):
        _no_power_yet(call, about, words)
    elif not _TAKES.get(about, _still_there)(call, about, words):
        return False
    call.leave_the_question()
    return True


def beside_the_point(call: Conversation, about: str, words: str) -> bool:
    """Whether there is nothing that this could be said of: a trip of what does not run, a valve that nobody said to be open."""
    s = call.state
    match about:
        case _ if s.feed.window or s.probes_in:
            return False
        case "noise" | "no oil" | "stopped":
            return not s.running
        case "burns":
            return not may_run(call)
        case "tripped" | "won't start" | "won't reset" | "backwards":
            return not s.running and not asks_to_start(call) and not _breaker_opened(call, words)
        case "service_valves_open":
            return s.value(about) is not True and not shut(call, words)
        case "not repaired":
            return said_repaired(call) is None
    return about in _NOT_AS_SAID and not _made(call, about)


def speaks_against(text: str) -> str:
    """What a sentence says against what was opened, charged or repaired; empty for nothing."""
    about = language.unready(text)
    return about if about in _NOT_AS_SAID else ""


# ---- what follows, each as said; False where it is not to the point


def _coil_off(call: Conversation, _: str, words: str) -> bool:
    s = call.state
    if s.machine is None:
        return False
    call.volunteered("coil_seated", "loose", words)
    call.say("caution", STOPS if s.running else prompts.caution("coil", False, s.site.units), urgent=True)
    return True


def _rather_dead(call: Conversation, _: str, words: str) -> bool:
    call.volunteered("live_or_dead", "dead", words)
    call.say("readback", prompts.read_back([("live_or_dead", "dead", None)]))
    return True


def _leak(call: Conversation, _: str, words: str) -> bool:
    if call.state.machine is None:
        return False
    out_of_the_window(call, words)
    call.volunteered("leak_found", "yes", words)
    call.say("readback", prompts.read_back([("leak_found", "yes", None)]))
    call.search_first()
    return True


def _room_not_safe(call: Conversation, _: str, words: str) -> bool:
    return _nobody_goes_on(call, "room_safe", STAY_OUT, words)


def _not_all_safe(call: Conversation, _: str, words: str) -> bool:
    return _nobody_goes_on(call, "everybody_safe", DISTRESS, words)


def _nobody_goes_on(call: Conversation, id_: str, say: str, words: str) -> bool:
    out_of_the_window(call, words)
    call.volunteered(id_, "no", words)
    looked_at_again(call)
    call.say("caution", say, urgent=True)
    return True


def _runs_locked(call: Conversation, _: str, words: str) -> bool:
    said = reply(call.state, Part("running_now", "running"))
    step = call.state.steps.get(call.asked_at.partition("/")[0])
    if step is not None and step.id == call.asked_at and _before_power(call) and _IS_ON.search(normalise(words)):
        # It is fed, its start block did not hold, and the lock may be another's: power off before anything else (S14, S15).
        power_is_on(call, step, words)
        end_the_window(call, words)
        _not_as_it_was_asked(call, "not blocked", words)
        call.record(ReadingWithdrawn("panel_tag", words))
        call.say("caution", "Power off.", urgent=True)
        call.say("caution", said.text if said else "", urgent=True)
        return True
    if _before_power(call):
        _ready_again(call)
    call.volunteered("running_now", "running", words)
    call.say("caution", said.text if said else LIVE, urgent=True)
    return True


_IS_ON = re.compile(r"\b(?:power|it|control|breaker|switch|juice)(?:'s| is)?(?: back)? on\b|^(?:yes |yeah |okay |it's )*on\b")


def _not_blocked(call: Conversation, about: str, words: str) -> bool:
    s = call.state
    if not s.feed.blocked or _asks_to_unblock(call):
        return False
    _not_as_it_was_asked(call, about, words)
    call.record(CautionGiven("jumper", "short"))  # said now, it is not said again before the block a moment later
    call.say("caution", prompts.caution("jumper", False, s.site.units), urgent=True)
    return True


def _in_mind(call: Conversation, about: str, words: str) -> bool:
    call.record(NoteTaken(words))
    call.say("caution", _IN_MIND[about], urgent=True)
    return True


def _took_over(call: Conversation, _: str, words: str) -> bool:
    """Somebody else speaks now: the lock that is on is not his (S7, S42)."""
    if not call.state.lock.locked:
        return _in_mind(call, "takes over", words)
    out_of_the_window(call, words)
    call.record(OthersLockFound(words))
    call.say("caution", OTHERS_LOCK, urgent=True)
    return True


def _air(call: Conversation, _: str, words: str) -> bool:
    out_of_the_window(call, words)
    end_the_proof(call, "somebody was not well")
    looked_at_again(call)
    if call.state.machine is not None:
        call.volunteered("room_safe", "no", words)
    call.say("caution", AIR, urgent=True)
    return True


def _live(call: Conversation, _: str, __: str) -> bool:
    before_power = _before_power(call)
    if call.state.feed.window or not end_the_proof(call, "the power was said to be on"):
        return False
    if before_power:
        _ready_again(call)  # it came on before it was asked for: start block, stimulus and leads are seen to once more
    call.say("caution", LIVE, urgent=True)
    return True


def _not_repaired(call: Conversation, _: str, words: str) -> bool:
    """What was said to be repaired is not: it is asked about again before anything starts, and a machine that runs stops."""
    s = call.state
    asks = said_repaired(call)
    if asks is None:
        return False
    running, here = s.running, s.step
    call.record(NoteTaken(words))
    if running and not any(proven(case_of(s), cause) for cause in found(case_of(s))):
        call.info("Noted.")  # what was found and set right shows in the readings that were taken since
        return True
    looked_at_again(call)
    call.record(StepReopened(asks.id))
    if running and here not in s.answered:
        call.record(StepReopened(here))  # the watch stays where it is: the machine is stopped first
    call.say("caution", STOPS if running else "Say it when it is so.", urgent=True)
    return True


def _asks_to_unblock(call: Conversation) -> bool:
    """Whether the start block is to come off where the call stands."""
    step = call.state.steps.get(call.asked_at)
    return step is not None and "start_blocked" in step.clears


def _not_as_said(call: Conversation, about: str, words: str) -> bool:
    """What stood for a repair, a test or a charge does not: it is asked again before that."""
    s = call.state
    say = _NOT_AS_SAID[about][2]
    made = _made(call, about)
    same = about == "other gas" and s.rack is not None and f" {spelled(s.rack.refrigerant).lower()} " in f" {normalise(words)} "
    if not made or same:
        return False
    if made[-1].id in s.answered:
        call.record(StepReopened(made[-1].id))
    elif about == "other gas":
        call.record(StepSkipped(made[-1].id, words))
    call.say("caution", say, urgent=True)
    return True


def _made(call: Conversation, about: str) -> list[Step]:
    """The steps that made it so, since what it was made for was last done."""
    s = call.state
    makes, ends, _ = _NOT_AS_SAID[about]
    here = call.course.run[: s.position + 1]
    over = max((i for i, step in enumerate(here) if step.id in s.answered and ends(step)), default=-1)
    return [step for step in here[over + 1 :] if makes(step) and (step.id in s.answered or step.id == s.step)]


def _unsafe(call: Conversation, about: str, words: str) -> bool:
    """On record for who hears it; what was proven dead is proved anew, and nothing starts before all is looked at again."""
    s = call.state
    why, say = _UNSAFE[about]
    call.record(NoteTaken(words))
    proven = end_the_proof(call, why)
    if about == "misread" and not proven:
        if s.started_at is not None and s.value("meter_proved_after") is True:
            call.record(ReadingWithdrawn("meter_proved_after", words))  # what it had measured is void (S2)
        call.info("On record. A sound meter before anything is measured.")
        return True
    call.say("caution", f"{say} {DISTRESS}" if about == "trouble" else say, urgent=True)
    if about == "trouble" and not s.running:
        call.not_ready("others_clear")
    return True


def lock_is_off(call: Conversation, words: str) -> None:
    """The own lock is not on, as is said or put right: hands out, and it comes first (S2)."""
    call.volunteered("lock_still_on", "no", words)
    end_the_window(call, words)
    call.say("caution", TREAT_AS_LIVE, urgent=True)
    call.leave_the_question()


def end_the_proof(call: Conversation, why: str) -> bool:
    """Whether anything was proven dead, or about to be: it is proved anew."""
    if not (call.state.lock.dead or call.state.lock.proof):
        return False
    call.record(ProofEnded(why))
    return True


_PUT_IN = re.compile(r"\b(?:plugg?(?:ed|ing)?|put(?:ting)?|stuck|sticking)\b.*\bin\b")
_MADE_READY = ("start_prevented", "jumper_fitted", "leads_clipped")
"""What stands before control power comes on with the stimulus in."""


def _before_power(call: Conversation) -> bool:
    """Whether power is about to come on: its step, or the caution before it, is asked."""
    step = call.state.steps.get(call.asked_at.partition("/")[0])
    return step is not None and step.act == "power_on" and step.id not in call.state.answered


def _no_power_yet(call: Conversation, about: str, words: str) -> None:
    """Hands go in once more, behind a new proof, and what was made ready is asked again."""
    call.record(NoteTaken(words))
    end_the_proof(call, "something was said not to be as it must be before power")
    blocked = about in ("not blocked", "start_blocked")
    _not_as_it_was_asked(call, "not blocked" if blocked else about, words)
    _ready_again(call)
    say = prompts.caution("jumper", False, call.state.site.units) if blocked else _UNSAFE[about][1]
    call.say("caution", f"{say} {DISTRESS}" if about == "trouble" else say, urgent=True)


def _ready_again(call: Conversation) -> None:
    """Start block, stimulus and leads are asked for once more; the earliest stands last, and is asked next."""
    for step in reversed(call.course.run[: call.state.position + 1]):
        if step.asking in _MADE_READY and step.id in call.state.answered:
            call.record(StepReopened(step.id))


def _not_as_it_was_asked(call: Conversation, about: str, words: str) -> None:
    """What was answered for the work under power and is not so any more: the start block, or what the gates ask."""
    s = call.state
    if about == "coil off":
        call.volunteered("coil_seated", "loose", words)
        return
    if about == "not blocked":
        call.volunteered("start_prevented", False, words)
        block = next((step for step in call.course.run if step.asking == "start_prevented" and step.id in s.answered), None)
        if block and not s.feed.window:
            call.record(StepReopened(block.id))
        return
    for gate in call.course.gates:
        if gate.id in s.answered:
            call.record(StepReopened(gate.id))


def _off_the_metal_ladder(call: Conversation, _: str, words: str) -> bool:
    """No more live work on this call: out of what is live, and the power off."""
    probes_in = call.state.probes_in
    out_of_the_window(call, words)
    call.volunteered("ladder_kind", "metal", words)
    if probes_in:
        _leave_the_live_panel(call, "gear", words)
    call.say("caution", METAL_LADDER, urgent=True)
    return True


def _leave_the_live_panel(call: Conversation, about: str, words: str) -> None:
    """Out of a panel that is live as found, and not back in: what is left of it is read dead, under the lock."""
    s = call.state
    here = s.steps[s.step].part
    call.record(NoteTaken(words))
    for step in call.course.run[max(s.position, 0) :]:
        if step.act == "live" and step.part == here and step.id not in s.answered:
            call.record(StepSkipped(step.id, words))
    _not_as_it_was_asked(call, about, words)
    say = _UNSAFE.get(about, _UNSAFE["trouble"])[1]
    call.say("caution", say if about in ("misread", "wet", "gear") else f"{say} {DISTRESS}", urgent=True)


def looked_at_again(call: Conversation) -> None:
    """Before a start everything that was made ready is asked anew."""
    if not (call.state.running or call.state.feed.window):
        call.not_ready("others_clear")


def _taken_back(call: Conversation, id_: str, words: str) -> bool:
    s = call.state
    if s.value(id_) is not True and id_ != "others_clear":
        valve = shut(call, words)
        if valve:
            call.record(ObligationOpened(valve, s.step, words, s.technician))
            call.not_ready(valve)
            call.say("caution", _TAKEN_BACK[id_], urgent=True)
        return bool(valve)
    if s.running and id_ == "others_clear":
        call.say("caution", _KEEP_AWAY, urgent=True)
        return True
    window = s.feed.window
    call.volunteered(id_, False, words)
    if id_ != "others_clear":
        shut_after_all(call, words)
    call.not_ready("" if s.running or window else id_)
    call.say("caution", STOPS if s.running else _OUT if window else _TAKEN_BACK[id_], urgent=True)
    return True


def _left_inside(call: Conversation, _: str, words: str) -> bool:
    """A tool lies in the panel: hands go in for it once more, and no machine runs over it."""
    s = call.state
    if not s.running:
        return _taken_back(call, "others_clear", words)
    if "panel_cover" not in s.open:
        call.record(ObligationOpened("panel_cover", s.step, words, s.technician))
    call.say("caution", STOPS, urgent=True)
    return True


def _still_there(call: Conversation, about: str, words: str) -> bool:
    s = call.state
    id_ = "jumper_fitted" if about == "bypassed" else about
    say = s.procedure.obligations[id_].say
    if id_ in s.open and about == "bypassed" and _PUT_IN.search(words):
        out_of_the_window(call, words)  # whoever puts one in there has his hands in
    if id_ in s.open:
        call.info("That one comes out too." if about == "bypassed" and s.feed.stimulus else f"On record: {say}.")
        return True
    if s.machine is None or "technician" not in s.readings:
        call.info("The machine first. Then say that again.")
        return True
    call.record(ObligationOpened(id_, s.step, words, s.technician))
    if s.feed.window:
        end_the_window(call, words)
        call.say("caution", _OUT, urgent=True)
        return True
    call.not_ready("" if s.running else id_)
    first = _FIRST[about]
    say = STOPS if id_ in IN_THE_PANEL else f"It runs. Hands away, then {first}."
    call.say("caution", say if s.running else f"Then no start. First {first}.", urgent=True)
    return True


def _unknown_here(call: Conversation, _: str, words: str) -> bool:
    """Nobody knows that he is here: he is not fit to go on until somebody does."""
    s = call.state
    asks, here = call.course.fit, s.step
    if s.value("fit_to_start") is True:
        call.volunteered("fit_to_start", False, words)
        if asks.id in s.answered:
            call.record(StepReopened(asks.id))
            if here not in ("", asks.id) and not call.station.leads_to(asks.station):
                call.record(StepReopened(here))  # the run stays where it is
    else:
        call.record(NoteTaken(words))
    call.say("caution", "Say it when it is so.", urgent=True)
    return True


_BREAKER = re.compile(r"\bbreakers?\b")


def _tripped_or_opened(call: Conversation, about: str, words: str) -> bool:
    """The machine trips or will not start; of one that stands, that its breaker opened: its circuit is tested first (S18)."""
    if tripped(call, about, words):
        return True
    if not _breaker_opened(call, words):
        return False
    look = next(step for step in call.course.run if "line_fuse_open" in step.tells.values())
    out_of_the_window(call, words)
    call.record(StepDone(look.id, words, ("line_fuse_open",)))
    call.say("caution", NOT_CLOSED_AGAIN, urgent=True)
    return True


def _breaker_opened(call: Conversation, words: str) -> bool:
    s = call.state
    stands = s.machine is not None and not (s.running or s.found_running) and s.started_at is None
    of_the_fans = call.question is not None and call.question.asking.startswith("condenser_fans")
    return stands and not of_the_fans and bool(_BREAKER.search(words)) and not s.has("line_fuse_open")


def _to_nothing(call: Conversation, about: str, words: str) -> bool:
    return False


_KEEPS_POWER_OFF = frozenset({"misread", "wet", "gear", "trouble", "not blocked", "start_blocked"})
"""What is said before power comes on that keeps it off."""
_TAKES: dict[str, Callable[[Conversation, str, str], bool]] = {
    "valve open": valve_open, "coil off": _coil_off, "rather dead": _rather_dead, "metal ladder": _off_the_metal_ladder,
    "leak": _leak, "room not safe": _room_not_safe, "not all safe": _not_all_safe, "runs locked": _runs_locked,
    "not blocked": _not_blocked, "window": _to_nothing, "tripped": tripped, "won't reset": tripped,
    "reset again": reset_again, "left inside": _left_inside,
    "won't start": _tripped_or_opened,
    "backwards": backwards, "burns": burns, "noise": sounds_wrong, "no oil": no_oil, "stopped": stopped,
    "in hand": in_hand, "liquid": liquid, "frosts back": frosts_back,
    "not repaired": _not_repaired, "borrowed": borrowed, "would close": would_close,
    "would bypass": _in_mind, "vent": _in_mind, "takes over": _in_mind, "took over": _took_over, "resets": resets,
    "probe out": probe_out,
    **dict.fromkeys(LEFT_SO, left_so), "temporary": makeshift,
    "unknown here": _unknown_here, "held open": held_open, "wrong one": wrong_one, "wrong machine": wrong_machine,
    "pressure": _not_as_said, "vacuum": _not_as_said, "modules on": _not_as_said, "other gas": _not_as_said, "air": _air,
    "misread": _unsafe, "wet": _unsafe, "gear": _unsafe, "trouble": _unsafe, "live": _live, "others_clear": _taken_back,
    "service_valves_open": _taken_back,
}  # fmt: skip
"""What follows what was said; of anything else, that it is still there."""
