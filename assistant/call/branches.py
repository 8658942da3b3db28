"""Findings of the branches beside the injection's: motor, control supply, oil, high and low pressure."""

from collections.abc import Callable
from datetime import datetime, timedelta
from math import inf

from assistant.call.state import State
from assistant.call.verdicts import (
    absent,
    explained,
    found,
    in_question,
    live_refused,
    open_contacts,
    standing,
    volts,
)  # fmt: skip
from assistant.trade.electrical import (
    MILLIOHM_OHM,
    VOLTAGE_UNBALANCE_PERCENT,
    WINDING_BALANCE_PERCENT,
    unbalance_percent,
)  # fmt: skip

WINDINGS = ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca")
LINES = ("line_volts.ab", "line_volts.bc", "line_volts.ca")
AMPS = ("line_amps.a", "line_amps.b", "line_amps.c")
GROUND_FAILS_MOHM, GROUND_RETEST_MOHM = 1.0, 5.0
"""Insulation to ground: under the first it fails, up to the second it is read again warm. Common practice."""
WARM_OVER_SUCTION_DELTA_DEGF = 20.0
"""A crankcase this far over the suction's dew point holds no liquid refrigerant. Common practice."""
STARTER_COIL_LOW_OHM = 3.0
"""Under this a starter coil whose good value nobody knows is taken for shorted. Common practice."""
LOCKED_ROTOR_TIMES = 4.0
"""Amps this many times the rated are those of a locked rotor. Common practice."""
MUST_NOT_RUN = frozenset({"oil_pump_worn", "oil_control_faulty", "phase_lost", "phase_reversed"})
"""Causes found on the running machine that stop it at once."""
RESET_NEEDS = {"oil": ("oil_glass", "oil_crankcase"), "high pressure": ("high_fans", "high_face"),
               "motor": ("windings", "insulation")}  # fmt: skip
"""Steps whose readings come before the one reset of a protection (S22)."""
_LOW_CAUSES = frozenset({"evaporator_load_low", "evaporator_fan_or_defrost", "liquid_branch_closed", "suction_restricted"})


def in_branch(s: State, contact: str) -> bool:
    """Whether this contact's branch is followed."""
    return in_question(s) and contact in open_contacts(s)


def motor_branch(s: State) -> bool:
    return in_branch(s, "motor") or (in_question(s) and s.value("drive_fault") == "yes")


def none_open(s: State) -> bool:
    """Every contact was found closed; a held one that its own control says did not trip counts as closed."""
    return s.value("chain_dead_check") == "none" or (bool(s.contacts) and not open_contacts(s))


def supply_branch(s: State) -> bool:
    """No contact is open, or the phase monitor tripped."""
    return in_question(s) and (none_open(s) or s.value("phase_monitor_state") == "tripped")


def held(s: State, contact: str) -> bool:
    return s.rack is not None and any(c.name == contact and c.kind == "held" for c in s.rack.panel.contacts)


# ---- motor


def stood_minutes(s: State, at: datetime) -> float | None:
    """How long the machine has stood since its trip; None where nobody knows."""
    ago = s.number("alarm_minutes_ago")
    return None if ago is None or s.opened_at is None else ago + (at - s.opened_at).total_seconds() / 60


def _stood_an_hour(s: State) -> bool:
    stood = stood_minutes(s, s.entered_at or s.opened_at or datetime.min)
    return stood is not None and stood >= 60


def ohm(s: State, id_: str) -> float | None:
    """A resistance [ohm or megohm]: over range is infinite, below resolution zero; None where it was not read."""
    word = {"over_range": inf, "below_resolution": 0.0}.get(str(s.value(id_)))
    return s.us(id_) if word is None else word


def _winding_ohms(s: State) -> list[float] | None:
    read = [ohm(s, i) for i in WINDINGS]
    return None if None in read else [o for o in read if o is not None]


def winding_bad(s: State) -> bool:
    """A winding is open, shorted, or out of balance by more than the meter can err."""
    read = _winding_ohms(s)
    if read is None:
        return False
    if inf in read or min(read) <= 0:
        return True
    judged = min(read) >= MILLIOHM_OHM or s.has_fact("milliohm_meter")
    return judged and unbalance_percent(read) > WINDING_BALANCE_PERCENT


def ground_good(s: State) -> bool:
    megohm = ohm(s, "ground_megohms")
    return megohm is not None and megohm >= GROUND_FAILS_MOHM


def _no_vacuum(s: State) -> bool:
    """No insulation test in a vacuum, nor with the pressure not read (S25)."""
    shell = s.us("shell_pressure")
    return shell is not None and shell >= 0.0


def insulation_allowed(s: State) -> bool:
    """S25: no vacuum, charge known, drive, soft starter and module off the windings."""
    return _no_vacuum(s) and s.has_fact("modules_off") and not s.has_fact("charge_unknown") and "wire_lifted" in s.open


def circuit_tested(s: State) -> bool:
    """What opened on a fault may be closed again (S18): its circuit was tested and is within limits."""
    motor = _winding_ohms(s) is not None and not winding_bad(s) and ground_good(s)
    return (motor or not s.has_fact("line_fuse_open")) and (_starter_coil_good(s) or s.value("control_fuse") != "blown")


def motor_out_of_limits(s: State) -> bool:
    """A winding or the insulation was read bad: this motor is not started on this call, whatever was repaired."""
    megohm = ohm(s, "ground_megohms")
    return winding_bad(s) or (megohm is not None and megohm < GROUND_FAILS_MOHM)


def _starter_coil_good(s: State) -> bool:
    read = ohm(s, "starter_coil_ohms")
    rated = s.rack.panel.starter_coil_ohms if s.rack else 0.0
    return read is not None and read != inf and read >= (0.5 * rated if rated else STARTER_COIL_LOW_OHM)


def reset_ready(s: State) -> bool:
    """The readings that a protection needs before its one reset were taken (S22)."""
    contacts = set(open_contacts(s)) | ({"motor"} if s.value("drive_fault") == "yes" else set())
    return all(s.answered.get(step) == "done" for c in contacts for step in RESET_NEEDS.get(c, ()))


def reset_left(s: State) -> bool:
    """A protection that is open has not had its one reset (S22)."""
    return "*" not in s.resets and (not s.resets or bool(set(open_contacts(s)) - s.resets))


def coil_off(s: State) -> bool:
    return s.value("coil_seated") == "loose" and s.answered.get("seat_coil") != "done"


def _balance_lost(s: State, ids: tuple[str, ...], limit_percent: float) -> bool:
    read = [0.0 if s.value(i) == "none_present" else s.us(i) for i in ids]
    known = [v for v in read if v is not None]
    return len(known) == 3 and (sum(known) == 0 or unbalance_percent(known) > limit_percent)


def _lines_in_question(s: State) -> bool:
    """The three line volts: wanted where the supply may have done it, and not read yet."""
    wanted = s.value("phase_monitor_state") == "tripped" or (motor_branch(s) and not explained(s))
    return wanted and not all(i in s.readings for i in LINES)


def locked_rotor(s: State) -> bool:
    """The starter pulls locked rotor amps."""
    rated = s.rack.panel.rated_amps if s.rack else None
    read = [s.us(i) for i in (*AMPS, "watch.amps")]
    over = any(s.value(i) == "over_range" for i in (*AMPS, "watch.amps"))
    return over or bool(rated and any(a is not None and a >= LOCKED_ROTOR_TIMES * rated for a in read))


def _amps_over(s: State) -> bool:
    """Over the maker's maximum in one line."""
    rated = s.rack.panel.rated_amps if s.rack else None
    return bool(rated and any((s.us(i) or 0.0) > rated for i in AMPS))


def supply_worked_on(s: State) -> bool:
    """After work on the supply everything may turn the wrong way."""
    supply = {"phase_monitor_open", "phase_lost", "supply_unbalanced", "phase_reversed"}
    return bool(supply & set(found(s))) or s.has_fact("line_fuse_open")


def rotation_in_question(s: State) -> bool:
    return supply_worked_on(s) and s.rack is not None and s.rack.machine_kind in ("scroll", "screw")


# ---- the live window


def window_allowed(s: State) -> bool:
    """Control power may come on with the disconnect locked: S8, S9, S12, S17, S18."""
    clear = not {"jumper_fitted", "wire_lifted", "terminal_cover", "leads_on", "start_blocked"} & set(s.open)
    route = "live_or_dead" in s.readings and not live_refused(s) and s.locked and not s.over_budget and not s.finishing
    return clear and route and not coil_off(s) and s.value("coil_seated") != "burnt" and circuit_tested(s)


def _window_wanted(s: State) -> bool:
    supply = supply_branch(s) and not standing(s, "control_supply_lost") and not _proven(s, "starter_coil_failed")
    module = motor_branch(s) and held(s, "motor") and "overload_state" not in s.readings
    return (supply and "control_volts" not in s.readings) or _lines_in_question(s) or (module and not explained(s))


def _proven(s: State, cause: str) -> bool:
    return cause in s.conclusions and s.conclusions[cause].standing == "proven"


def _walk_wanted(s: State) -> bool:
    dead_coil = volts(s, "control_volts") is True and absent(s, "contactor_coil_volts")
    return supply_branch(s) and dead_coil and not standing(s, "chain_wiring_open")


# ---- oil


def oil_fit(s: State) -> bool:
    """The oil's level lets the machine run: neither low nor foaming."""
    return not in_branch(s, "oil") or s.value("oil_level") in ("normal", "high")


def net_oil_low(s: State) -> bool:
    net = s.derived.get("net_oil")
    return net is not None and net.value < 10.0


# ---- high and low pressure


def _high_derived(s: State, name: str, limit: float) -> bool:
    return name in s.derived and s.derived[name].value > limit


def _backed_up(s: State) -> bool:
    """More liquid in the condenser than is usual: subcooling 5 to 15 is (common practice)."""
    return _high_derived(s, "condenser_subcooling", 15.0)


def _air_suspected(s: State) -> bool:
    doubt = s.conclusions.get("non_condensables")
    return doubt is not None and doubt.standing == "suspected" and not explained(s)


def rack_satisfied(s: State) -> bool:
    """The low-pressure contact is open because nothing asks for the machine: nothing is mended, nothing is reset."""
    return standing(s, "low_pressure_normal")


def _low_explained(s: State) -> bool:
    return any(standing(s, c) for c in (*_LOW_CAUSES, "refrigerant_low", "drier_plugged", "low_pressure_normal"))


# ---- the second trip


def must_stop(s: State) -> bool:
    """The running machine must be stopped at once, or has stopped itself."""
    if s.started_at is None:
        return False
    return (
        net_oil_low(s)
        or locked_rotor(s)
        or s.value("rotation") == "reversed"
        or any(standing(s, c) and s.concluded_running(c) for c in MUST_NOT_RUN)
    )


def runs(s: State) -> bool:
    """Started on this call and not stopped since."""
    return s.started_at is not None and not s.stopped and not must_stop(s)


BRANCH_FINDINGS: dict[str, Callable[[State], bool]] = {
    "motor_branch": motor_branch,
    "supply_branch": supply_branch,
    "oil_branch": lambda s: in_branch(s, "oil"),
    "high_branch": lambda s: in_branch(s, "high pressure"),
    "low_branch": lambda s: in_branch(s, "low pressure"),
    "pressure_branch": lambda s: in_branch(s, "high pressure") or in_branch(s, "low pressure"),
    "drive_fitted": lambda s: s.rack is not None and s.rack.panel.drive,
    "stood_an_hour": _stood_an_hour,
    "motor_is_warm": lambda s: s.has_fact("motor_warm"),
    "windings_low": lambda s: any(o < MILLIOHM_OHM for o in _winding_ohms(s) or ()),
    "two_winding_sets": lambda s: s.rack is not None and s.rack.panel.winding_sets > 1,
    "winding_bad": winding_bad,
    "no_vacuum": _no_vacuum,
    "insulation_allowed": insulation_allowed,
    "ground_doubtful": lambda s: (megohm := ohm(s, "ground_megohms")) is not None and megohm < GROUND_RETEST_MOHM,
    "crankcase_is_warm": lambda s: _high_derived(s, "crankcase_superheat", WARM_OVER_SUCTION_DELTA_DEGF),
    "terminals_allowed": ground_good,
    "motor_contact_mechanical": lambda s: "motor" in s.contacts and not held(s, "motor")
    and s.value("overload_state") != "closed",
    "motor_contact_held": lambda s: motor_branch(s) and held(s, "motor"),
    "motor_decided": explained,
    "reset_ready": reset_ready,
    "lines_in_question": _lines_in_question,
    "lines_odd": lambda s: _balance_lost(s, LINES, VOLTAGE_UNBALANCE_PERCENT),
    "amps_over": _amps_over,
    "supply_worked_on": supply_worked_on,
    "rotation_in_question": rotation_in_question,
    "window_wanted": _window_wanted,
    "window_allowed": window_allowed,
    "starter_should_pull": lambda s: volts(s, "contactor_coil_volts") is True and not standing(s, "starter_coil_failed"),
    "something_to_reset": lambda s: not none_open(s) or s.value("phase_monitor_state") == "tripped",
    "chain_walk_wanted": _walk_wanted,
    "oil_contact_held": lambda s: held(s, "oil") and "safety_volts.oil_pressure" not in s.readings,
    "oil_is_low": lambda s: s.value("oil_level") == "low",
    "oil_is_high": lambda s: s.value("oil_level") == "high",
    "oil_undecided": lambda s: not explained(s),
    "oil_was_off": lambda s: any(standing(s, c) for c in ("oil_level_low", "oil_diluted", "oil_overfilled")),
    "oil_was_low": lambda s: standing(s, "oil_level_low"),
    "all_glasses_low": lambda s: s.has_fact("all_levels_low"),
    "defrost_is_stuck": lambda s: s.value("defrost_state") == "stuck",
    "oil_kind_unknown": lambda s: s.rack is not None and not s.rack.oil,
    "high_cutout_unknown": lambda s: s.rack is not None and not s.rack.high_cutout_psig,
    "low_cutout_unknown": lambda s: s.rack is not None and s.rack.low_cutout_psig is None,
    "head_undecided": lambda s: not explained(s),
    "liquid_backed_up": _backed_up,
    "cold_air": lambda s: (s.us("ambient_temperature") or 99.0) < 40.0,
    "air_suspected": _air_suspected,
    "standing_test_agreed": lambda s: s.has_fact("idle_test_valid"),
    "other_stage_fitted": lambda s: s.rack is not None and s.rack.refrigerant == "R744",
    "cases_iced": lambda s: s.value("case_load") == "iced" and s.value("defrost_state") != "stuck",
    "low_undecided": lambda s: not _low_explained(s),
    "others_run": lambda s: (s.number("running_count") or 0) >= 1,
    "filter_not_read": lambda s: "suction_filter_drop" not in s.readings and not _low_explained(s),
    "nothing_found": lambda s: not explained(s),
    "reset_will_not_hold": lambda s: s.value("control_reset") == "will not hold",
    "rack_satisfied": rack_satisfied,
    "locked": lambda s: s.locked,
    "ever_started": lambda s: s.started_at is not None,
    "must_stop": must_stop,
    "stopped": lambda s: s.stopped,
    "rotor_was_locked": locked_rotor,
}  # fmt: skip

BRANCH_FREE = frozenset({
    "motor_branch", "supply_branch", "oil_branch", "high_branch", "low_branch", "pressure_branch", "stood_an_hour",
    "motor_is_warm", "windings_low", "two_winding_sets", "winding_bad", "ground_doubtful", "crankcase_is_warm",
    "motor_contact_mechanical", "motor_contact_held", "motor_decided", "lines_in_question", "lines_odd", "amps_over",
    "supply_worked_on", "rotation_in_question", "window_wanted", "starter_should_pull", "something_to_reset", "chain_walk_wanted",
    "oil_contact_held", "oil_is_low", "oil_is_high", "oil_undecided", "oil_was_off", "oil_was_low", "all_glasses_low",
    "defrost_is_stuck", "oil_kind_unknown", "high_cutout_unknown", "low_cutout_unknown", "head_undecided",
    "liquid_backed_up", "cold_air", "air_suspected", "other_stage_fitted", "cases_iced", "low_undecided", "others_run",
    "filter_not_read", "nothing_found", "reset_will_not_hold", "rack_satisfied", "must_stop", "rotor_was_locked", "drive_fitted",
})  # fmt: skip
"""Those that rest on measurement and judgement, as `FREE` of `findings`."""


BRANCH_VALUES: dict[str, tuple[str | float, ...]] = {
    "shell_pressure": (10.0, -5.0), "ground_megohms": (50.0, 0.5), "control_fuse": ("good", "blown"),
    "running_now": ("running", "just tripped"),
}  # fmt: skip
"""Readings whose value a safety rule of these branches looks at, and the values the proof gives them."""


def tells_apart(s: State) -> tuple[object, ...]:
    """What of these branches later decides about safety: two calls that differ in it are two for the proof."""
    before = s.started_at is None and not s.finishing
    motor = before and s.phase in ("machine", "panel", "live")
    contacts = sorted(set(open_contacts(s)) & set(RESET_NEEDS)) if before else []
    read = [s.answered.get(step) == "done" for c in contacts for step in RESET_NEEDS[c]]
    return (
        s.stopped, *contacts, *read,
        before and (circuit_tested(s), oil_fit(s), motor_out_of_limits(s)),
        motor and (insulation_allowed(s), ground_good(s), s.has_fact("line_fuse_open"), s.value("control_fuse") == "blown"),
        s.has_fact("idle_test_valid") and s.phase == "condenser",
    )  # fmt: skip


def wait_over_trip(s: State, minutes: float) -> datetime | None:
    """When so many minutes have gone by since the trip, as far as it is known."""
    ago = s.number("alarm_minutes_ago")
    return None if s.opened_at is None else s.opened_at + timedelta(minutes=minutes - (ago or 0.0))
