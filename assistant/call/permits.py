"""What may be done now: conditions that decide about safety. They look at lock, power, what is open, and named readings; a walk
never lets one come out otherwise than it does."""

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from math import inf

from assistant.branches.injection.conditions import leaking_valve
from assistant.branches.motor.conditions import (
    ground_good,
    locked_rotor,
    motor_out_of_limits,
    motor_tested_good,
)  # fmt: skip
from assistant.branches.oil.conditions import net_oil_low, oil_fit
from assistant.branches.search import SEARCH_ON, found, none_open, open_contacts, proven, standing, to_mend
from assistant.branches.shared.conditions import FITTED, pump_down_failed
from assistant.call import history
from assistant.call.by_reading import THROTTLED
from assistant.call.known import ROUNDED_DEGF, case_of, high_cutout_psig, low_cutout_psig, settled, stood_minutes
from assistant.call.repairing import (
    at_zero,
    circuit_closed,
    emptied,
    opened_for_repair,
    repair,
    repair_needs,
    repair_prepared,
    wants_the_licence,
)
from assistant.call.state import State
from assistant.trade.electrical import coil
from assistant.trade.watch import still_moving

MUST_NOT_RUN = frozenset({
    "oil_pump_worn", "oil_control_faulty", "phase_lost", "phase_reversed",
    "supply_unbalanced", "winding_failed", "winding_grounded",
    "probe_loose", "probe_failed", "injection_valve_stuck_closed", "injection_valve_leaking", "module_output_stuck_on",
})  # fmt: skip
"""Causes found on the running machine, or shown there by a reading put right, that stop it at once."""
NOT_CLOSED_AGAIN = "What opened is not closed again before its circuit is tested and good."
RESET_NEEDS = {
    "oil": ("oil_level", "crankcase_temperature"), "high pressure": ("condenser_fans_running", "condenser_face"),
    "motor": ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca", "ground_megohms"),
}  # fmt: skip
"""Readings that come before the one reset of a protection (S22)."""


# ---- live work


def live_refused(s: State) -> str:
    """Why no live step may be taken on this call, or nothing (S8, S9)."""
    if s.value("ladder_kind") == "metal":
        return "No live work from a metal ladder."
    if any(how == "skipped" and s.steps[step].part == "live gate" for step, how in s.answered.items()):
        return "No live work without the label and the ladder answered."
    if s.wet:
        return "No live work where it is wet."
    if s.value("detector_state") == "alarm" or "leak_open" in (*s.open, *s.handed_over):  # left to another, it leaks on
        return "No live work with a leak or an alarm."
    if s.rack and s.rack.flammable and s.value("detector_state") != "quiet":
        return "No live work: flammable refrigerant, and the detector is not quiet."
    return ""


def coil_off(s: State) -> bool:
    """The injection coil is off its stem: powered there, it burns."""
    return s.value("coil_seated") == "loose" and not s.has("coil_back_on_stem")


def _coil_good(s: State, id_: str, rated_ohm: float | None) -> bool:
    """The coil was read, and is neither open nor shorted; where the site does not know a good one's ohms, beside a like coil."""
    case = case_of(s)
    read = case.ohm(id_)
    return read is not None and coil(read, rated_ohm or case.number(f"{id_}.like"), s.limits) in ("good", "neither")


def circuit_tested(s: State) -> bool:
    """What opened on a fault may be closed again (S18): its circuit was tested and is within limits."""
    rack = s.rack
    motor = motor_tested_good(case_of(s)) or not s.has("line_fuse_open")
    good_ohm = rack.panel.starter_coil_ohms if rack else 0.0
    return motor and (s.value("control_fuse") != "blown" or _coil_good(s, "starter_coil_ohms", good_ohm))


def output_circuit_tested(s: State) -> bool:
    """The module's output fuse may be replaced: the coil behind it was read and is good."""
    rack = s.rack
    good_ohm = rack.injection.coil_ohms if rack else None
    return s.value("module_output_fuse") != "blown" or _coil_good(s, "injection_coil_ohms", good_ohm)


def fuse_looked_at(s: State) -> bool:
    """A failed coil sends the next look to the fuse that fed it (S18)."""
    rack = s.rack
    if rack is None:
        return True
    fitted = {"injection_coil_ohms": ("module_output_fuse", rack.injection.coil_ohms, "module output" in rack.panel.fuses),
              "starter_coil_ohms": ("control_fuse", rack.panel.starter_coil_ohms, True)}  # fmt: skip
    failed = (id_ for id_, (_, good_ohm, _) in fitted.items() if id_ in s.readings and not _coil_good(s, id_, good_ohm))
    return all(fitted[id_][0] in s.readings or not fitted[id_][2] for id_ in failed)


def may_energise(s: State) -> bool:
    """Control power may come on with the disconnect locked: S12, S17, S18."""
    held = s.feed.blocked or not (s.feed.stimulus or "jumper_fitted" in s.open)
    clear = "terminal_cover" not in s.open and not coil_off(s) and s.value("coil_seated") != "burnt"
    return s.lock.locked and not s.lock.others and held and clear and circuit_tested(s)


def window_allowed(s: State) -> bool:
    """A live window with nothing hooked up: S8, S9, S12, S17, S18."""
    clear = not {"jumper_fitted", "wire_lifted", "terminal_cover", "leads_on", "start_blocked"} & set(s.open)
    route = "live_or_dead" in s.readings and not live_refused(s) and not s.feed.over and not s.finishing
    return clear and route and may_energise(s)


def _feed_test_allowed(s: State) -> bool:
    """The stimulus suits the probe (S13), live work is possible (S8), nothing is shut, off or lifted, no fuse is out whose
    circuit was not tested (S18), and no sign of liquid stands."""
    rack = s.rack
    return (
        rack is not None
        and "live_or_dead" in s.readings
        and rack.probe.feed_test_possible
        and not live_refused(s)
        and s.value("injection_hand_valve") != "closed"
        and s.value("coil_seated") not in ("loose", "burnt")
        and "wire_lifted" not in s.open
        and "oil" not in s.contacts
        and (s.value("oil_level") not in ("foaming", "high") or s.has("feed_test_run"))
        and ("liquid_in_compressor" not in s.open or s.has("feed_test_run"))
        and circuit_tested(s)
    )


def _pipe_older(s: State) -> bool:
    """The probe was read again long after its pipe: the pipe too is read again."""
    pipe, probe = (s.taken_at.get(i) for i in ("probe_pipe_temperature", "probe_ohms.module_end"))
    return pipe is not None and probe is not None and probe - pipe > timedelta(minutes=s.limits.round_minutes)


def _line_is_seen(s: State) -> bool:
    """The injection line is in sight of the panel, or read there: nobody looks at two places with power on (S10)."""
    in_sight = s.rack is not None and s.rack.injection.line_in_sight
    return in_sight or ("clamp_left_on" in s.open and s.has("line_read_at_the_panel"))


def _output_test_allowed(s: State) -> bool:
    return s.has("feed_test_run") and s.feed.stimulus and not live_refused(s)


def _seconds_left(s: State) -> bool:
    return not s.feed.over and (s.feed.spent_s < s.limits.feed_budget_s or s.valve_shut)


# ---- motor


def _no_vacuum(s: State) -> bool:
    """No insulation test in a vacuum, nor with the pressure not read; of an unsteady one the lower end counts (S25)."""
    taken, shell = s.readings.get("shell_pressure"), s.us("shell_pressure")
    low = shell if taken is None or taken.low is None else min(taken.low, shell or 0.0)
    return low is not None and low >= 0.0


def _shell_old(s: State) -> bool:
    """Read longer ago than a proof lasts: it is read again before the test."""
    taken = s.taken_at.get("shell_pressure")
    return taken is None or (s.at is not None and s.at - taken > timedelta(minutes=s.site.dead_minutes))


def insulation_allowed(s: State) -> bool:
    """S25: no vacuum and that read lately, charge known, drive, soft starter and module off the windings."""
    ready = s.has("modules_off") and not s.has("charge_unknown") and "wire_lifted" in s.open
    return _no_vacuum(s) and not _shell_old(s) and ready


def _stood_an_hour(s: State) -> bool:
    stood = stood_minutes(s, s.entered_at or s.opened_at or datetime.min)
    return stood is not None and stood >= s.limits.standing_minutes


# ---- start


def blockers(s: State) -> list[str]:
    """Obligations that forbid a start, open or left to somebody, but for the locks and the cover, which come off on the way.

    A lock that was left to the next person does not come off on this call.
    """
    way = {"locked_out", "second_lock", "panel_cover"}
    asked = s.steps.get(s.step)
    if s.has(THROTTLED) or (asked is not None and THROTTLED in asked.establishes):
        # The throttled first start is the one exception: the suction valve is opened with eyes on it.
        way.add("valve_closed.suction")
    open_ = [o for o in s.open if s.procedure.obligations[o].blocks_start and o not in way]
    return open_ + [o for o in s.handed_over if s.procedure.obligations[o].blocks_start]


def reset_ready(s: State) -> bool:
    """The readings that a protection needs before its one reset were taken (S22); an oil contact found open counts though
    others are open too and a module holds it."""
    contacts = set(open_contacts(case_of(s))) | ({"motor"} if s.value("drive_fault") == "yes" else set())
    contacts |= {"oil"} & set(s.contacts) if not s.has("oil_control_not_tripped") else set()
    return all(id_ in s.readings for contact in contacts for id_ in RESET_NEEDS.get(contact, ()))


def read_before_reset(contacts: Iterable[str], s: State) -> bool:
    """What is read before the one reset of these contacts was read, whichever of them was found open."""
    return all(id_ in s.readings for contact in contacts for id_ in RESET_NEEDS.get(contact, ()) if contact != "high pressure")


def reset_left(s: State) -> bool:
    """A protection that is open has not had its one reset (S22)."""
    return "*" not in s.resets and (not s.resets or bool(set(open_contacts(case_of(s))) - s.resets))




def _reset_allowed(s: State) -> bool:
    return reset_left(s) and not (history.is_third(s) and s.value("supervisor_agreed") == "no")


def _reset_agreed(s: State) -> bool:
    """From the third trip on a machine that takes a reset is started only where the supervisor agreed to it."""
    return not history.is_third(s) or none_open(case_of(s)) or s.value("supervisor_agreed") == "yes"


def to_lock_again(s: State) -> bool:
    """It stays off, and no lock is on it: found off, or taken off for a reset that did not hold, or for a start that must not
    be any more."""
    off = "lock_removed" in s.readings or s.has("reset_failed")
    barred = off and s.started_at is None and (s.has("reset_failed") or unfit_to_stand_free(s) or bool(why_not_reset(s)))
    return lock_found_off(s) or (barred and not (s.lock.locked or s.lock.others or s.alarm or "locked_out" in s.handed_over))


def unfit_to_stand_free(s: State) -> bool:
    """It must not start by itself: its injection coil is off its stem, its discharge valve is shut, liquid is in it, or was and
    its first start with eyes on it was not made."""
    liquid = "liquid_in_compressor" in (*s.open, *s.cleared)
    return coil_off(s) or liquid or "valve_closed.discharge" in s.open


def lock_found_off(s: State) -> bool:
    """Its own lock was found off, by no step that made the machine ready, and it does not run: it can start by itself, with
    its fault, on whoever comes next."""
    off, on = s.taken_at.get("lock_still_on"), s.taken_at.get("locked_out")
    removed = s.unlocked_at  # none where it was said to be on again since
    if s.value("lock_still_on") != "no" or not (off and on and on < off) or (removed and removed > on):
        return False
    running_at = s.taken_at.get("running_now") if s.value("running_now") == "running" else None
    theirs = s.lock.locked or s.lock.others or s.alarm or bool(running_at and running_at > off)
    return not (theirs or runs(s))


def locked_long(s: State) -> bool:
    """It was locked out so long that its crankcase has cooled (S23); once the lock is off by its step, no longer."""
    since, until, on = s.lock.locked_at, s.at, s.taken_at.get("locked_out")
    if s.unlocked_at and on and on <= s.unlocked_at and not s.lock.locked:
        until = s.unlocked_at
    return bool(since and until and until - since >= timedelta(minutes=s.limits.heater_asked_minutes))


def heater_waited(s: State) -> bool:
    """After a long lockout the heater was on for its time; a machine that has none has nothing to wait for (S23)."""
    heater = s.value("crankcase_heater")
    return not locked_long(s) or heater == "none" or (heater == "on" and s.has("heater_waited"))


def why_not_reset(s: State) -> str:
    """Why this protection gets no reset, as a spoken sentence; empty where it may."""
    if not reset_ready(s):
        return "No reset before its readings."
    if not circuit_tested(s) or not output_circuit_tested(s):
        return NOT_CLOSED_AGAIN
    if not fuse_looked_at(s):
        return "A failed coil: the fuse that fed it first."
    if motor_out_of_limits(case_of(s)):
        return "This motor's readings are out of limits."
    if history.is_third(s) and s.value("supervisor_agreed") != "yes" and "supervisor_agreed" in s.readings:
        return "No third reset without the supervisor."
    return "" if oil_fit(case_of(s)) else "No start on this oil."


def leaks_again(s: State) -> bool:
    """What was said to be mended was not, or another leak was found behind it: no charge, and no start through it."""
    return "leak_open" in s.open and "leak_open" in s.cleared


def _restore_allowed(s: State) -> bool:
    """Nothing open forbids a start (S20), nobody chose to leave it off, it was not started yet, and what its
    protection asks for was read (S18, S22)."""
    left = s.finishing or s.choice == "left" or s.started_at is not None or s.stopped or s.lock.others or s.has("reset_failed")
    sound = not (coil_off(s) or leaking_valve(case_of(s)) or leaks_again(s))
    return not left and not blockers(s) and sound and not why_not_reset(s)


def _made_ready(s: State) -> bool:
    clear = s.readings.get("others_clear")
    asked = clear is not None and clear.value is True and s.steps[clear.step].part != "return"
    ready = s.value("service_valves_open") is True and asked and "panel_cover" not in s.open
    return ready and "valve_closed.discharge" not in s.open


# ---- running


def over_trip(s: State) -> bool:
    """The running machine's discharge was read at its trip or over, and it did not trip (S24)."""
    rack = s.rack
    limit = rack.probe.trip_degf - ROUNDED_DEGF if rack else inf
    read = (s.readings.get(i) for i in ("watch.discharge_temperature", "discharge_temperature"))
    since = s.opened_at if s.found_running else s.started_at
    running = (r for r in read if r and since and s.taken_at[r.id] >= since)
    hot = any((s.us(r.id) or 0.0) >= limit or r.value == "over_range" for r in running)
    return hot or _over_the_cutout(s, since) or _under_the_cutout(s, since)


def _over_the_cutout(s: State, since: datetime | None) -> bool:
    """Its own discharge pressure was read at the setting of the high-pressure control or over, and it runs."""
    setting = high_cutout_psig(s)
    read = (s.readings.get(i) for i in ("watch.discharge_pressure", "discharge_pressure"))
    running = (r for r in read if r and since and s.taken_at[r.id] >= since)
    return bool(setting) and any((s.us(r.id) or 0.0) >= setting or r.value == "over_range" for r in running)


def _under_the_cutout(s: State, since: datetime | None) -> bool:
    """Its own suction was read at the low-pressure control's setting or under, and it runs; not while a valve throttles it."""
    setting = low_cutout_psig(s)
    if setting is None or "valve_closed.suction" in s.open:
        return False
    read = (s.readings.get(i) for i in ("watch.suction_pressure", "suction_pressure"))
    running = (psig for r in read if r and since and s.taken_at[r.id] >= since and (psig := s.us(r.id)) is not None)
    return any(psig <= setting for psig in running)


def must_stop(s: State) -> bool:
    """The running machine must be stopped at once, or has stopped itself."""
    if s.started_at is None:
        return s.found_running and (over_trip(s) or s.unsafe_running)
    case = case_of(s)
    return (
        s.unsafe_running
        or over_trip(s)
        or _runs_on_it(s)
        or _runs_unmended(s)
        or net_oil_low(case)
        or _oil_put_right(s)
        or liquid_as_it_runs(s)
        or not circuit_tested(s)
        or locked_rotor(case)
        or s.value("rotation") == "reversed"
        or _pump_down_over(s)
        or any(standing(case, c) and s.concluded_running(c) for c in MUST_NOT_RUN)
    )


def _oil_put_right(s: State) -> bool:
    """Pump and crankcase, as last told of the running machine, leave it too little oil, of whichever minutes they are."""
    both = ("oil_pump_pressure", "crankcase_pressure")
    running = all(s.started_at is not None and i in s.readings and s.taken_at[i] >= s.started_at for i in both)
    pump, crankcase = (s.us(i) if running else None for i in both)
    return pump is not None and crankcase is not None and pump - crankcase < s.limits.net_oil_limit_delta_psi


def _runs_unmended(s: State) -> bool:
    """It was started on a repair that is not one, as was said since."""
    asked = s.choice or s.has("left_locked") or "leak_open" in s.open
    case = case_of(s)
    mended = (c for c in to_mend(case) if c not in SEARCH_ON)  # what only leads on to the next look is watched as it runs
    return not asked and any(proven(case, c) and not s.concluded_running(c) for c in mended)


def _runs_on_it(s: State) -> bool:
    """It was said of the running machine that something is still in its panel, that a valve is shut, or its coil off or burnt."""
    def since(id_: str) -> bool:
        return s.started_at is not None and id_ in s.readings and s.taken_at[id_] > s.started_at

    shut = s.value("service_valves_open") is False and since("service_valves_open")
    shut = shut or (s.value("injection_hand_valve") == "closed" and since("injection_hand_valve"))
    coil = (coil_off(s) or s.value("coil_seated") == "burnt") and since("coil_seated")
    return shut or coil or bool((IN_THE_PANEL | {"panel_cover"}) & set(s.open))


IN_THE_PANEL = frozenset({"jumper_fitted", "wire_lifted", "start_blocked", "leads_on", "clamp_left_on", "terminal_cover"})
"""Obligations with which no machine runs on: a protection may not protect, or terminals may blow out, and hands must go in to
clear them."""


def _pump_down_over(s: State) -> bool:
    """Its suction valve is shut and the test is done: it holds, or it was tried twice."""
    second = (step.id for step in s.steps.values() if "pump_down_tried_twice" in step.establishes)
    possible = s.rack is None or FITTED["pump_down_possible"](s.rack)  # it is another machine once its name is put right
    to_come = possible and pump_down_failed(case_of(s)) and not any(id_ in s.answered for id_ in second)
    return "pump_down_low" in s.readings and not to_come


def runs(s: State) -> bool:
    """Started on this call and not stopped since."""
    return s.running and not must_stop(s)


# ---- liquid in the machine


_ONE_LOOK = timedelta(minutes=15)
"""What is felt and what is measured further apart is not of one look. Our judgement."""


def liquid_is_out(s: State) -> bool:
    """All that must hold before liquid in a standing machine is taken for gone. Never by waiting alone."""
    shown = [s.taken_at[id_] for id_ in ("crankcase_and_heads", "crankcase_temperature") if id_ in s.taken_at]
    return (
        _feed_is_off(s)
        and not any(s.liquid_since and at <= s.liquid_since for at in shown)
        and len(shown) == 2
        and abs(shown[0] - shown[1]) < _ONE_LOOK
        and s.value("crankcase_heater") == "on"
        and s.has("heater_waited_for_liquid")
        and s.value("oil_level") in ("low", "normal")
        and s.value("crankcase_and_heads") == "warm"
        and _crankcase_warm(s) is True
    )


def liquid_back(s: State) -> bool:
    """It was taken for gone, and a reading put right before the start says that it is not: cold or frosted outside, oil high or
    foaming, the crankcase not warm, or the heater off that was to drive it out."""
    known = "liquid_in_compressor" in (*s.open, *s.handed_over)
    if s.started_at is not None:
        return not known and liquid_as_it_runs(s)
    if "liquid_in_compressor" not in s.cleared or known:
        return False
    seen = s.value("crankcase_and_heads") in ("cold", "frosted") or s.value("oil_level") in ("high", "foaming")
    return seen or _crankcase_warm(s) is False or s.value("crankcase_heater") == "off"


def liquid_as_it_runs(s: State) -> bool:
    """A reading put right since it started says that liquid is in it: oil high or foaming, crankcase and heads cold or frosted;
    of one that liquid was in, the crankcase not warm."""
    def put_right(id_: str) -> bool:
        taken = s.readings.get(id_)
        return taken is not None and taken.corrected and s.started_at is not None and s.taken_at[id_] > s.started_at

    oil = put_right("oil_level") and s.value("oil_level") in ("high", "foaming")
    cold = put_right("crankcase_and_heads") and s.value("crankcase_and_heads") in ("cold", "frosted")
    was_in = "liquid_in_compressor" in s.cleared and put_right("crankcase_temperature")
    return oil or cold or (was_in and _crankcase_warm(s) is False)


def _crankcase_warm(s: State) -> bool | None:
    """So far over the suction's dew point that no liquid stands in it; None where that was not read."""
    dew, degf = s.derived.get("suction_dew_degf"), s.us("crankcase_temperature")
    return None if degf is None or dew is None else degf >= dew.value + s.limits.crankcase_warm_delta_degf


def _feed_is_off(s: State) -> bool:
    """The injection was seen to stop; or it never fed, and what brought the liquid back was repaired."""
    after = s.value("injection_after")
    return after == "stopped" or (after is None and not s.feed.fed and s.choice == "repaired")


def _watch_longer(s: State) -> bool:
    """The site's times allow another round, and time alone may still settle it."""
    more = len(s.series) < len(s.site.watch_minutes)
    return more and s.rack is not None and bool(still_moving(s.rounds, s.rack.suction_set_point_psig, s.limits))


def _old(id_: str) -> Callable[[State], bool]:
    """It was read in another round, or another state, than this one: it is read again before it is joined (S40)."""
    def old(s: State) -> bool:
        taken = s.taken_at.get(id_)
        before_start = taken is not None and s.started_at is not None and taken < s.started_at
        return before_start or taken is None or (s.at is not None and s.at - taken > timedelta(minutes=s.limits.round_minutes))

    return old


def _store_must_know(s: State) -> bool:
    """It does not run, has not settled, or runs with no cause found: the store hears what to do at the next alarm; in an alarm,
    that nobody goes in."""
    heard = s.readings.get("store_told")
    told = heard is not None and s.steps[heard.step].part != "lock gate"  # of a rack that stops for the work, and not of its end
    if s.alarm:
        told_at, alarm_at = s.taken_at.get("store_told"), s.taken_at.get("detector_state")
        return told_at is None or (alarm_at is not None and told_at < alarm_at)  # of the room it has not heard
    return "rack" in s.readings and not told and (s.started_at is None or not settled(s) or not found(case_of(s)))


def _live_route(s: State) -> bool:
    return s.value("live_or_dead") == "live" and not s.lock.locked


PERMITS: dict[str, Callable[[State], bool]] = {
    "live_route": _live_route,
    "feed_test_allowed": _feed_test_allowed,
    "line_is_seen": _line_is_seen,
    "start_is_blocked": lambda s: s.feed.blocked,
    "jumper_is_in": lambda s: s.feed.stimulus,
    "leads_are_on": lambda s: s.feed.leads,
    "powered": lambda s: s.feed.window,
    "output_test_allowed": _output_test_allowed,
    "seconds_left": _seconds_left,
    "line_fed": lambda s: s.feed.fed or s.value("injection_as_found") in ("feeding", "cold"),
    "pipe_older_than_probe": _pipe_older,
    "window_allowed": window_allowed,
    "no_vacuum": _no_vacuum,
    "shell_old": _shell_old,
    "insulation_allowed": insulation_allowed,
    "terminals_allowed": lambda s: ground_good(case_of(s)),
    "stood_an_hour": _stood_an_hour,
    "label_agrees": lambda s: s.rack is not None and s.value("refrigerant_label") == s.rack.refrigerant,
    "leaks_again": leaks_again,
    "locked": lambda s: s.lock.locked,
    "stays_locked": lambda s: "locked_out" in s.open or to_lock_again(s),
    "not_left": lambda s: not s.finishing and s.choice != "left",
    "not_finishing": lambda s: not s.finishing,
    "restore_allowed": _restore_allowed,
    "covers_to_see": lambda s: "panel_cover" in s.open or ("covers_on" in s.readings and _restore_allowed(s)),
    "hangs_elsewhere": lambda s: any(id_ in s.open for id_ in s.elsewhere),
    "made_ready": _made_ready,
    "locked_long": locked_long,
    "heater_waited": heater_waited,
    "liquid_was_in": lambda s: "liquid_in_compressor" in s.cleared,
    "reset_ready": reset_ready,
    "reset_allowed": _reset_allowed,
    "reset_left": reset_left,
    "reset_agreed": _reset_agreed,
    "third_trip": history.is_third,
    "started": runs,
    "ever_started": lambda s: s.started_at is not None,
    "must_stop": must_stop,
    "stopped": lambda s: s.stopped,
    "tripped_again": lambda s: s.tripped_again,
    "repair_stops_fans": repair_needs("fans"),
    "repair_isolates": repair_needs("isolated"),
    "repair_recovers": repair_needs("recovered"),
    "repair_empties_a_section": repair_needs("section"),
    "repair_wants_the_licence": wants_the_licence,
    "opened_for_repair": opened_for_repair,
    "repair_needs_zero": lambda s: bool({"isolated", "section"} & set(repair(s).needs)),
    "machine_emptied": emptied,
    "repair_prepared": repair_prepared,
    "at_zero": at_zero,
    "circuit_closed": circuit_closed,
    "watch_longer": _watch_longer,
    "rack_suction_old": _old("rack_suction_pressure"),
    "rack_head_old": _old("rack_discharge_pressure"),
    "store_must_know": _store_must_know,
    "open_for_hand_over": lambda s: any(s.procedure.obligations[o].hand_over == "owner" for o in s.open),
    "alarm": lambda s: s.alarm,
    "technician_unknown": lambda s: not s.technician,
}
"""Conditions of steps that decide what may be done."""
