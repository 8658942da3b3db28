"""Faults planted in the dialogue's own code: each is found by its rule, in calls that come past it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from assistant.branches import conditions
from assistant.call import (
    answers,
    asking,
    by_reading,
    cautions,
    course,
    due,
    engine,
    judge,
    known,
    leaving,
    permits,
    repairing,
    replies,
    state,
    unready,
    watched,
    while_running,
)
from assistant.call.asking import go_ahead
from assistant.call.course import Course
from assistant.call.effects import Listen
from assistant.call.engine import Dialogue
from assistant.call.facts import CheckInAsked
from assistant.call.feed import Feed
from assistant.call.heard import Heard
from assistant.call.lock import DRIVE, PROOF, Lock
from assistant.call.permits import PERMITS
from assistant.call.state import State
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.pieces import understand_in_pieces
from tests.planted import deaf_to_corrections
from tests.safety.planting import KILL, NOISE, Find, Plant, both, call, entry, of, planted, rules

_MOTOR, _OIL, _COIL, _NONE = "none at the motor", "none at the oil", "injection_coil_failed", "none"
_SUPPLY, _MODULE = "control supply lost", "module_no_output"
_OUTSIDE = {"refrigerant": "R454C", "closed_room": False}
_SLOW_LOOKS = call("oil feed starved", "at oil_glass", "low | after 1500", "at oil_feed", "starved | after 1500")
_NOT_SHUT = ("at shut_hand_valve", "skip this", "yes")
_FAILED = Answer((Part("meter_proved_after", "failed"),))
_LEFT = replace(call(_COIL), opened=(("left_before", (("a", "two", "jumper_fitted", "Robin Vale"),)),))
_LEFT_LOCKED = replace(_LEFT, opened=(("left_before", (("a", "two", "locked_out", "Robin Vale"),)),))
_LONG_LOCK = call(_MOTOR, "at windings", *[600] * 7)


def never(*args: Any) -> bool:
    return False


def always(*args: Any) -> bool:
    return True


def nothing(*args: Any) -> None:
    return None


def itself(one: Any, *args: Any) -> Any:
    return one


def permit(name: str, holds: Callable[..., bool], *also: str) -> Plant:
    """What may be done comes out so, whatever is true; under its names in the code too."""
    return both(entry(PERMITS, name, holds), *(of(permits, one, holds) for one in also))


_will_open = State.will_open


def _forgets_the_circuit(s: State, id_: str, *rest: str) -> None:
    if id_ != "circuit_open":
        _will_open(s, id_, *rest)


def _takes_every_tag(s: State, fact: Any) -> bool:
    return fact.id == "panel_tag" or _good(s, fact)


def _spends_nothing(feed: Feed, at: datetime, valve_shut: bool) -> Feed:
    return replace(feed, on_at=None, off_at=at, fed=True)


def _only_over(s: State, fact: Any, at: datetime) -> None:
    s.feed = replace(s.feed, over=True)


def _off_and_forgotten(s: State, fact: Any, at: datetime) -> None:
    s.feed, s.lock = s.feed.off(at, s.valve_shut), s.lock.power_off(at)


def _skipped_and_forgotten(s: State, fact: Any, at: datetime) -> None:
    s.answered[fact.step] = "skipped"


_interrupted = State._interrupted


def _the_cylinder_stands(s: State, *args: Any) -> None:
    read = {id_: one for id_, one in s.readings.items() if id_ == "cylinder_checked"}
    answered = dict(s.answered)
    _interrupted(s, *args)
    s.readings |= read
    s.answered |= {step: how for step, how in answered.items() if s.steps[step].asking in read}


def _noise_is_an_answer(d: Dialogue, heard: Any) -> None:
    go_ahead(d, replace(_HEARD, at=d.now))


def _zero_for_anything(question: Question, words: str) -> Meaning:
    meaning = understand_in_pieces(question, words)
    lost = isinstance(meaning, NotUnderstood) and question.asking == "rack_suction_pressure"
    return Answer((Part(question.asking, 0.0, "psig"),)) if lost else meaning


def _asks_for_a_sign(d: Dialogue) -> None:
    d.record(CheckInAsked(1))


def _without(lost: str) -> Callable[..., list[str]]:
    whole = cautions.of_step
    return lambda step, s: [name for name in whole(step, s) if name != lost]


def _cautions_stand(s: State, *first: str) -> None:
    s.lock = s.lock.ended()
    s._ask_anew(*first, "lock_still_on", "hooked up", "others_clear")


def _loud(*args: Any, **fields: Any) -> Listen:
    return Listen(*args, **{**fields, "quiet": False})


def _no_gates(d: Course, procedure: Any) -> None:
    _course(d, procedure)
    d.gates = []


def _outside_anyhow(d: Course, s: State) -> Any:
    return d.leave_locked if "locked_out" in s.open else d.consent


_NO_COVERS = ("others_clear", "service_valves_open")
_good, _course = State.good_for_the_proof, Course.__init__
_HEARD = Heard("understood", datetime.min)
_no_drive = tuple(id_ for id_ in PROOF if id_ != DRIVE)


def _volts(by_magnitude: bool, by_the_worse_end: bool) -> Plant:
    """A reading of absence of voltage is looked at with less care."""

    def worst(value: Any, low: float | None = None, high: float | None = None) -> float | None:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return None
        ends = [value, *((low, high) if by_the_worse_end else ())]
        return max((abs(v) if by_magnitude else v) for v in ends if v is not None)

    return both(of(by_reading, "worst_v", worst), of(replies, "worst_v", worst))


CODE: list[tuple[str, str, Plant, Find]] = [
    # rule that finds it, what is wrong, where, the call that comes past it
    # ---- lock.py, and what the state makes of it
    ("S1", "power off under the lock proves it dead",
     of(Lock, "power_off", lambda lock, at: replace(lock, dead=True, powered=False)), call(_NONE)),
    ("S1", "no meter tried afterwards", of(State, "proof_needed", lambda s: _no_drive[:-1]), call(_MOTOR)),
    ("S2", "a drive's bus is not proved", of(State, "proof_needed", lambda s: _no_drive), call("drive fault")),
    ("S2", "a meter that failed keeps the volts", of(Lock, "_voided", lambda lock, id_: replace(lock, dead=False)),
     call(_MOTOR, "at meter_after", _FAILED)),
    ("S2", "any tag will do", of(State, "good_for_the_proof", _takes_every_tag), call(_MOTOR, "at tag", "a three")),
    ("S3", "the magnitude is not looked at", _volts(False, True), call(_MOTOR, "at dead_power", "minus one twenty", "yes")),
    ("S3", "an unsteady reading by its middle", both(_volts(True, False), of(watched, "not_the_worst", never)),
     call(_MOTOR, "at dead_power", "swinging between zero and five", "yes")),
    ("S4", "a proof outlives thirty minutes away", of(Lock, "away", never), _SLOW_LOOKS),
    ("S4", "two answers of a proof an hour apart", of(Lock, "stale", never),
     call(_MOTOR, "at meter_before", "good | after 1500", "at dead_power", "zero | after 1500")),
    ("S4", "a correction does not end it", deaf_to_corrections,
     call(_MOTOR, "at windings", "correction dead on power", "one twenty", "yes")),
    ("S4", "a lock that is off does not end it", of(Lock, "off", itself), call(_MOTOR, "at windings", "the lock is off")),
    ("S4", "a resume does not end it", of(State, "_interrupted", nothing), call(_MOTOR, "at windings", KILL)),
    ("S10", "power on does not end it", both(of(Lock, "power_on", itself), permit("powered", never)), call(_NONE)),
    # ---- interruptions, people, the room
    ("S5", "after a resume nothing is asked anew", of(Course, "_returning", nothing), call(_MOTOR, "at windings", KILL)),
    ("S37", "a lock found off at the end is not asked for again",
     both(of(permits, "to_lock_again", never), of(course, "to_lock_again", never)),
     call("low cutout will not hold", "at repair_or_leave", "leave it locked", "at leave_locked", "the lock is off")),
    *(("S20", f"'{said}' is not heeded", of(unready, "take", never), call(_MODULE, "at start", said))
      for said in ("the cover's still off", "the jumper is still in", "the discharge valve is shut", "somebody's in the panel")),
    ("S22", "a trip that is said while something else is asked is not heeded", of(while_running, "_has_tripped", never),
     call("injection_coil_failed", "at consent", "it tripped again")),
    ("S36", "cautions outlive an hour's hold", of(Dialogue, "_paused", nothing),
     call(_MOTOR, "at windings", "hold on", "continue | after 3700")),
    ("S6", "the store is not told before the rack's lock", of(Course, "_to_the_lock", lambda c, step, s: step),
     call(_MOTOR).on(control_isolator_stops="rack")),
    ("S7", "another's lock is ignored", of(State, "_OthersLockFound", nothing),
     call(_MOTOR, "at lock", "somebody else's lock is on it")),
    ("S7", "another's lock waits its turn", of(Course, "first_of_all", nothing),
     call(_MOTOR, "at glass", "somebody else's lock is on it")),
    ("S35", "an alarm is ignored", of(State, "_on_detector_state", nothing),
     call(_MOTOR, "at windings", "the gas alarm is going")),
    ("S35", "an alarm, and the call goes on inside", of(Course, "next_step", lambda c, s: c._before(c._target(s), s)),
     call(_MOTOR, "at windings", "the gas alarm is going")),
    ("S38", "after an emergency nobody asks for people", of(State, "_EmergencyOver", lambda s, fact, at: s._interrupted()),
     call(_MOTOR, "at windings", "emergency", "continue")),
    ("S39", "a noise acknowledges a caution", of(engine, "not_understood", _noise_is_an_answer),
     call(_MOTOR, "at tag/lock_out", NOISE)),
    ("S39", "words that nobody understood are a zero", of(answers, "understand_in_pieces", _zero_for_anything),
     call(_MOTOR, "at rack_suction", "well")),
    ("S42", "locks in nobody's name", of(State, "technician", property(lambda s: "")), call(_MOTOR)),
    # ---- live work, power, the feed
    ("S16", "a power-on that was asked for when the program died fed nothing", of(State, "asks_for", never),
     call(_MODULE, "at power_on", KILL)),
    ("S20", "an emptied section is forgotten with its valves shut", of(State, "_on_section_emptied", nothing),
     call("injection_valve_stuck_closed").but(repair_or_leave="repair now")),
    ("S8", "live work from a metal ladder", both(of(course, "live_refused", nothing), of(permits, "live_refused", nothing)),
     call(_SUPPLY).but(ladder_kind="metal")),
    ("S8", "live work without its gates", of(Course, "__init__", _no_gates), call(_NONE)),
    ("S8", "the live caution of the last window", of(by_reading, "LIVE_CAUTIONS", frozenset()), call(_MODULE)),
    ("S9", "live work, flammable and unwatched", both(of(course, "live_refused", nothing), of(permits, "live_refused", nothing)),
     call(_SUPPLY).on(**_OUTSIDE).but(detector_state="none")),
    ("S11", "the live window is not quiet", of(asking, "Listen", _loud), call(_NONE)),
    ("S11", "the check-in does not wait for its end", of(Dialogue, "_ask_for_a_sign", _asks_for_a_sign),
     call(_NONE, "at feed", 10)),
    ("S12", "power with the start free", both(permit("start_is_blocked", always), of(course, "may_energise", always)),
     call(_NONE, "at block_start", "skip this", "yes")),
    ("S13", "a plug that does not suit the probe", permit("feed_test_allowed", always),
     call(_NONE).on(kind="ptc", test_plug="jumper")),
    ("S15", "the seconds of the feed are not counted", of(Feed, "seconds", lambda feed, now, shut: 0.0),
     call(_NONE, "at feed", 45)),
    ("S15", "nobody wakes at the end of them", of(Dialogue, "_lapse", nothing), call(_NONE, "at feed", 45)),
    ("S15", "power on again with all of them spent", of(Feed, "off", _spends_nothing),
     call(_MODULE, "at feed", "dry no volts silent | after 20", "at power_off", "power off | after 9", *_NOT_SHUT)),
    ("S16", "a feed that was seen opens nothing", of(State, "_on_injection_feed", nothing), call(_NONE)),
    ("S16", "a feed that was skipped opens nothing", of(State, "_StepSkipped", _skipped_and_forgotten),
     call(_NONE, "at feed", "skip this", "yes")),
    ("S16", "a feed that nobody answered opens nothing",
     both(of(State, "_PowerOffOrdered", _only_over), of(State, "_on_control_power_off", _off_and_forgotten)),
     call(_NONE, "at feed", 45)),
    ("S16", "a line that goes on feeding opens nothing", of(State, "_on_injection_after", nothing),
     call(_COIL).but(injection_coil_ohms="four ten", injection_feed="dry", injection_after="feeding")),
    ("S17", "power with the coil off its stem", both(of(course, "may_energise", always), of(permits, "may_energise", always)),
     call(_SUPPLY).but(coil_seated="loose")),
    ("S18", "a fuse is closed on a motor untested", of(permits, "circuit_tested", always),
     call("control fuse blown", "at starter_coil", "skip this", "yes")),
    ("S18", "a failed coil's fuse is not looked at", of(permits, "fuse_looked_at", always),
     call(_COIL, "at output_fuse", "skip this", "yes")),
    # ---- repair, start, running
    ("S4", "a lock found off stays off while it is made ready", of(course, "_makes_ready", never),
     call(_COIL, "at valves", "the lock is off")),
    ("S20", "liquid in the machine forbids nothing", of(permits, "blockers", lambda s: []),
     call(_NONE).but(crankcase_heater="none")),
    ("S5", "nobody asks whether the lock of an earlier call is on", of(state, "LEFT", "never"), _LEFT_LOCKED),
    ("S20", "what an earlier call left hooked up is only told", of(due, "hooked_up_before", nothing), _LEFT),
    ("S20", "liquid is out without its heater's time", of(due, "liquid_is_out", always), call(_NONE)),
    ("S22", "a second reset", permit("reset_allowed", always, "reset_left", "_reset_allowed"), call(_MOTOR)),
    ("S22", "a reset before its readings",
     both(permit("reset_ready", always, "reset_ready"), of(course, "read_before_reset", always)),
     call(_OIL, "at oil_crankcase", "skip this", "yes")),
    ("S23", "an hour's lock is not looked at", permit("locked_long", never, "locked_long"), _LONG_LOCK),
    ("S23", "the heater's time is not waited", of(asking, "wait_until", nothing), _LONG_LOCK),
    ("S24", "a machine over its trip runs on", of(permits, "over_trip", never),
     call(_MOTOR).but(watch__discharge_temperature="three hundred")),
    ("S24", "a head at its cutout runs on", of(permits, "_over_the_cutout", never),
     call(_MOTOR).on(high_cutout_psig=360.0).but(watch__discharge_pressure="four hundred")),
    ("S24", "a cutout that was read on the call is not looked at",
     both(of(permits, "high_cutout_psig", lambda s: 0.0), of(replies, "high_cutout_psig", lambda s: 0.0)),
     call("none at the high pressure").but(watch__discharge_pressure="four hundred")),
    ("S24", "a suction under its cutout runs on", of(permits, "_under_the_cutout", never),
     call("none at the low pressure", "at watch_second", "one two ten", "yes").but(cutout_pressure="six")),
    ("S5", "a gauge of before the interruption stands", of(State, "_anew", nothing),
     call("suction filter", "at repaired", KILL)),
    ("S41", "settled is said over a head that is too high, and nobody comes back", of(due, "_set_right", always),
     call("air suspected")),
    ("S24", "a winding that is put right to a failed one lets it run on", of(permits, "MUST_NOT_RUN", frozenset()),
     call(_MOTOR, "at watch_second", "correction winding three to one four ten")),
    ("S33", "a standing test goes on after an emergency", of(State, "_not_at_rest", nothing),
     call("air in the system", "at high_standing", "emergency", "continue")),
    ("S21", "what was ready before a second lock counts for it", of(State, "_ready_anew", nothing),
     call(_OIL, "at start", "correction oil level low")),
    ("S22", "a trip with its protection named is taken for the front's answer",
     both(of(watched, "_NO_START", frozenset()), of(course, "_AT_WORK", ())),
     call(_OIL, "at start", "it tripped on oil again", "yes")),
    ("S25", "an insulation test in a vacuum", permit("no_vacuum", always, "_no_vacuum"),
     call(_MOTOR).but(shell_pressure="five inches")),
    ("S27", "terminals opened over a ground fault", permit("terminals_allowed", always),
     call("winding open").but(ground_megohms="point two")),
    ("S28", "a probe in the gas comes out", entry(conditions.FITTED, "probe_comes_out", always),
     call("probe_fouled").on(mount="in_gas")),
    ("S31", "a repair on a gauge that is not at zero", permit("repair_prepared", always),
     call("winding open").but(repaired="repaired", isolated_pressure="thirty")),
    ("S31", "a start on a circuit that was opened and not tested",
     both(permit("opened_for_repair", never), of(repairing, "opened_for_repair", never),
          of(State, "will_open", _forgets_the_circuit)), call("drier_plugged")),
    ("S34", "a charge from a cylinder of before the interruption", of(State, "_interrupted", _the_cylinder_stands),
     call("refrigerant_low", "at charge", KILL)),
    ("S37", "a circuit that was left open is forgotten", of(State, "will_open", _forgets_the_circuit),
     call("injection_strainer_plugged", "at tight", "leave it locked")),
    ("S20", "liquid that is back stays gone", of(due, "liquid_back", never),
     call(_NONE, "at start", "correction crankcase and heads frosted")),
    ("S17", "a terminal cover that is off stops nothing", of(permits, "IN_THE_PANEL", frozenset()),
     call(_COIL, "at watch_first", "the terminal cover is off")),
    ("S21", "covers stand after an interruption",
     both(of(state, "ASKED_ANEW", _NO_COVERS), of(course, "ASKED_ANEW", _NO_COVERS)), call(_COIL, "at unlock", KILL)),
    ("S5", "power on what nobody looked at since", of(State, "unseen", property(never, nothing)),
     call(_MODULE, "at power_on_again", KILL)),
    ("S37", "handed over as locked with control power on", of(Course, "_outside", _outside_anyhow),
     call(_MODULE, "at supply_volts", "the detector's going off")),
    ("S34", "a charge by another label", permit("label_agrees", always),
     call("refrigerant_low").but(refrigerant_label="r four oh four a")),
    # ---- cautions
    ("S36", "no caution at all", of(cautions, "wanted", lambda step, s: ()), call(_MOTOR)),
    ("S36", "lock-out with others in one go", of(cautions, "_ALONE", frozenset()), call(_MOTOR, "at lock", KILL)),
    ("S36", "no restart caution before the lock comes off", of(cautions, "_restart_again", never), call(_MOTOR)),
    ("S36", "nobody says that liquid is in it", of(cautions, "of_step", _without("liquid_in_machine")), call(_NONE)),
    ("S36", "cautions outlive a resume", of(State, "_interrupted", _cautions_stand), call(_MOTOR, "at which_contact", KILL)),
    # ---- what is worked out, concluded and said at the end
    ("S37", "a second trip is not taken for one", of(State, "_on_running_now", nothing), call("oil control failed")),
    ("S40", "an old suction is joined with a new reading",
     both(permit("rack_suction_old", never), of(judge, "one_round", always)),
     call("oil diluted", "at oil_glass", "foaming | after 1000", "at oil_crankcase", "ninety | after 1000")),
    ("S41", "settled is said of what is not",
     both(of(leaving, "why_not_settled", lambda s: ()), of(known, "why_not_settled", lambda s: ())),
     call(_MOTOR).but(watch__suction_pressure="thirty")),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "what", "fault", "find"), CODE, ids=[f"{rule} {what}" for rule, what, *_ in CODE])
def test_a_fault_of_the_dialogue_is_found_by_its_rule(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rule: str, what: str, fault: Plant, find: Find
):
    assert rule in rules(find(planted(monkeypatch, tmp_path, fault))), what
