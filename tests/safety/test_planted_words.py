"""Faults planted in what is said: each is found by its rule, because the words are all that the technician acts on."""

from pathlib import Path

import pytest

from assistant.call import answers, cautions, conversation, leaving, prompts, replies
from assistant.call.replies import Reply
from assistant.call.state import State
from assistant.language import wording
from assistant.language.meaning import Answer, Meaning, Part, Question
from assistant.language.pieces import understand_in_pieces
from assistant.profile import Site
from tests.safety.planting import KILL, Find, Label, Plant, both, call, caution, entry, of, planted, rules

_MOTOR, _OIL, _COIL, _NONE = "none at the motor", "none at the oil", "injection_coil_failed", "none"
_EMERGENCY = prompts.emergency
_NO_RELIEF = "A standing test needs the whole rack off and locked, the store agreed, food planned, receiver a buffer. All so?"


def ask(step: str, words: str) -> Label:
    """A step asks in other words."""
    return Label(step, "ask", f'"{words}"')


def _order(*phrases: str) -> Plant:
    """What is said after "emergency" lost or changed some of it: each phrase with what stands for it."""

    def said(site: Site, window: bool) -> str:
        words = _EMERGENCY(site, window)
        for lost, instead in zip(phrases[::2], phrases[1::2], strict=True):
            assert lost in words
            words = words.replace(lost, instead)
        return words

    return of(prompts, "emergency", said)


def _others_lock(words: str) -> Plant:
    return both(of(answers, "OTHERS_LOCK", words), of(conversation, "OTHERS_LOCK", words), of(replies, "OTHERS_LOCK", words))


def _both_forms(name: str, short: str, full: str) -> Plant:
    """Words are lost from the short form of a caution and from the full one."""
    return both(caution(name, short, "short"), caution(name, full))


def _silent(id_: str) -> Plant:
    """Nothing is said to this answer."""
    return entry(replies._REPLIES, id_, lambda s, part: None)


def _a_word(question: Question, words: str) -> Meaning:
    """ "No volts" is taken for an answer."""
    if words == "no volts":
        return Answer((Part(question.asking, "none_present"),))
    return understand_in_pieces(question, words)


def _not_dead(words: str) -> Plant:
    """What is said to a circuit that is not dead."""

    def said(s: State, part: Part) -> Reply | None:
        return Reply(words) if replies.us(part) > s.limits.dead_limit_v else None

    return entry(replies._REPLIES, "dead_volts.", said)


SAID: list[tuple[str, str, Label | Plant, Find]] = [
    # rule that finds it, what is said or left out, where, the call that comes past it
    ("S3", "over 30 V, nothing of a second source", _not_dead("Not dead. Measure again."),
     call(_MOTOR, "at dead_power", "one twenty", "yes")),
    ("S3", "over 3 V, nothing said", _silent("dead_volts."), call(_MOTOR, "at dead_power", "twelve", "yes")),
    ("S3", "'Say the number' is not said: a word is taken",
     both(_silent("dead_volts."), of(answers, "understand_in_pieces", _a_word)),
     call(_MOTOR, "at dead_power", "no volts", "yes")),
    ("S5", "'Still hooked up' and no names", ask("anew_hooked_up", "Still hooked up? Say understood."),
     call(_MOTOR, "at insulation", KILL)),
    ("S6", "a lock for the whole rack, not said", ask("tell_store_rack", "Store told?"),
     call(_MOTOR).on(control_isolator_stops="rack")),
    ("S7", "another's lock, and no 'Stop'", _others_lock("Noted."), call(_MOTOR, "at lock", "somebody else's lock is on it")),
    ("S7", "asks for another's lock to come off", ask("anew_other_lock", "Take the other lock off. Is it gone?"),
     call(_MOTOR, "at lock", "somebody else's lock is on it")),
    ("S8", "live offered before dead", ask("how_to_check", "Live or dead check?"), call(_MOTOR)),
    ("S8", "the live caution without 'one hand'", both(caution("live", ", one hand", "short"), caution("live", ", one hand")),
     call(_NONE)),
    ("S11", "the word 'now' in the live window", ask("feed", "Line, volts, click now?"), call(_NONE)),
    ("S11", "'now' at the end of the window", ask("power_off", "Power off now, and locked. Say power off."), call(_NONE)),
    ("S10", "two places at once", Label("supply_volts", "also", '["module_output_volts"]'),
     call("module_no_supply").but(injection_hand_valve="none")),
    ("S15", "words between the answer and 'Power off.'", ask("power_off", "Well done. Power off and locked. Say power off."),
     call(_NONE)),
    ("S25", "a thousand volts", ask("insulation", "Winding to ground, one thousand volts: how many meg?"), call(_MOTOR)),
    ("S26", "the insulation tester, on the sensor string",
     ask("insulation", "Sensor string to ground, five hundred volts: how many meg?"), call(_MOTOR)),
    ("S28", "'pull' for a probe", ask("probe_direct", "Pull the plug off the probe. {hot} Ohms at the probe?"),
     call("probe_fouled")),
    ("S28", "takes out a probe that is in the gas", ask("probe_direct", "Take the probe out. {hot} Ohms at the probe?"),
     call("probe_fouled").on(mount="in_gas")),
    ("S29", "a hot pipe, neither gloves nor wait", ask("probe_clean", "Take the probe out, clean it gently. Cleaned?"),
     call("probe_fouled").but(probe_pipe_temperature="one ninety")),
    ("S32", "downstream closed first", ask("leak_section", "Close downstream, then close upstream. Section empty?"),
     call("refrigerant_low")),
    ("S33", "the standing test, no relief named",
     ask("high_standing_offer", _NO_RELIEF),
     call("air in the system")),
    ("S35", "an alarm, and no 'Stay out'", both(of(answers, "STAY_OUT", "Noted."), of(replies, "STAY_OUT", "Noted.")),
     call(_MOTOR, "at windings", "the gas alarm is going")),
    ("S36", "lock-out caution: 'Your own lock' lost",
     both(caution("lock_out", "Your own lock.", "short"), caution("lock_out", "Your own lock, ")), call(_MOTOR)),
    ("S36", "restart caution: 'without warning' lost", caution("restart", " without warning"), call(_MOTOR)),
    ("S36", "room caution: 'stay out' lost", caution("room", "else stay out"), call(_MOTOR)),
    ("S36", "hot pipe caution: 'Gloves' lost", _both_forms("hot_line", "Gloves.", ", gloves"), call(_MOTOR)),
    ("S36", "jumper caution: 'feeds liquid' lost", caution("jumper", ": every second feeds liquid"),
     call(_NONE)),
    ("S36", "coil caution: 'Power off before' lost", caution("coil", "Power off before it is lifted."), call(_COIL)),
    ("S36", "liquid caution: 'Do not start' lost", _both_forms("liquid_in_machine", "Do not start.", "Do not start: "),
     call(_NONE)),
    ("S36", "insulation caution: '500 volts' lost", caution("insulation_test", "500 volts."), call(_MOTOR)),
    ("S36", "terminals caution: 'Stand aside' lost", _both_forms("terminals", "Stand aside.", "Stand aside."),
     call("winding open")),
    ("S36", "charging caution: 'Weigh it' lost", caution("charging", "Weigh it."), call("refrigerant_low")),
    ("S36", "reset caution: 'leave it off' lost", caution("reset", ", leave it off"), call(_OIL)),
    ("S36", "the full form never", of(prompts, "caution", lambda name, full, units: wording.cautions()[name]["short"]),
     call(_MOTOR)),
    ("S36", "the same caution twice in a minute", of(cautions, "NOT_TWICE_S", 0.0), call(_MOTOR)),
    ("S37", "'left locked off' of a machine that runs", of(leaving, "summary", lambda s: "Left locked off."), call(_MOTOR)),
    ("S37", "'not started' of a machine that runs", of(leaving, "summary", lambda s: "Left as found, not started."),
     call(_MOTOR)),
    ("S38", "emergency: the ambulance before the power", _order("Hands off. ", "", "Out, upwind. ", "Out, upwind. Hands off. "),
     call(_MOTOR, "at windings", "emergency")),
    ("S38", "emergency: 'Touch nobody' lost", _order("Touch nobody until the power is off. ", ""),
     call(_MOTOR, "at windings", "emergency")),
    ("S38", "emergency: no address", _order("the address is", "you know"), call(_MOTOR, "at windings", "emergency")),
    ("S38", "distress, and not the word to say", of(answers, "DISTRESS", "Noted."), call(_MOTOR, "at windings", "help me")),
    ("S41", "'no cause found' over a proven cause", of(leaving, "summary", lambda s: "No cause found."), call("overloaded")),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "what", "fault", "find"), SAID, ids=[f"{rule} {what}" for rule, what, *_ in SAID])
def test_words_that_are_lost_or_wrong_are_found_by_their_rule(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rule: str, what: str, fault: Label | Plant, find: Find
):
    assert rule in rules(find(planted(monkeypatch, tmp_path, fault))), what
