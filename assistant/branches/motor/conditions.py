"""What the steps of the motor protection ask of the readings."""

from collections.abc import Callable
from math import inf

from assistant.branches.motor.causes import AMPS, VOLTS, WINDINGS
from assistant.branches.search import explained, found, in_branch, in_question, standing
from assistant.branches.supply.conditions import window_wanted as supply_window_wanted
from assistant.profile import Rack
from assistant.trade.case import Case
from assistant.trade.electrical import unbalance_percent


def motor_branch(case: Case) -> bool:
    """Whether the motor is looked at: by its contact or its drive, and by a line that opened, whatever else was found (S18)."""
    by_its_drive = in_question(case) and case.says("drive_fault", "yes")
    return in_branch(case, "motor") or by_its_drive or case.has("line_fuse_open")


def windings_ohm(case: Case) -> list[float] | None:
    """The three windings [ohm], over range infinite; None where one was not read."""
    read = [case.ohm(i) for i in WINDINGS]
    return None if None in read else [o for o in read if o is not None]


def windings_low(case: Case) -> bool:
    """So low that an ordinary meter tells no balance."""
    return any(o < case.site.limits.milliohm_below_ohm for o in windings_ohm(case) or ())


def winding_bad(case: Case) -> bool:
    """A winding is open, shorted, or out of balance by more than the meter can err."""
    read = windings_ohm(case)
    if read is None:
        return False
    if inf in read or min(read) <= 0:
        return True
    judged = min(read) >= case.site.limits.milliohm_below_ohm or case.has("milliohm_meter")
    return judged and unbalance_percent(read) > case.site.limits.winding_balance_percent


def ground_good(case: Case) -> bool:
    megohm = case.ohm("ground_megohms")
    return megohm is not None and megohm >= case.site.limits.ground_fails_mohm


def motor_tested_good(case: Case) -> bool:
    """Windings and insulation were read, and both are within limits."""
    return windings_ohm(case) is not None and not winding_bad(case) and ground_good(case)


def motor_out_of_limits(case: Case) -> bool:
    """A winding or the insulation was read bad: this motor is not started on this call, whatever was repaired."""
    megohm = case.ohm("ground_megohms")
    return winding_bad(case) or (megohm is not None and megohm < case.site.limits.ground_fails_mohm)


def _balance_lost(case: Case, ids: tuple[str, ...], limit_percent: float) -> bool:
    read = [0.0 if case.says(i, "none_present") else case.number(i) for i in ids]
    known = [v for v in read if v is not None]
    return len(known) == 3 and (sum(known) == 0 or unbalance_percent(known) > limit_percent)


def _lines_in_question(case: Case) -> bool:
    """The three line volts: wanted where the supply may have done it, and not read yet."""
    wanted = case.says("phase_monitor_state", "tripped") or (motor_branch(case) and not explained(case, "motor"))
    return wanted and not all(i in case.readings for i in VOLTS)


def locked_rotor(case: Case) -> bool:
    """The starter pulls locked rotor amps."""
    ids = (*AMPS, "watch.amps")
    rated, read = case.site.rated_amps, [case.number(i) for i in ids]
    over = any(case.says(i, "over_range") for i in ids)
    return over or bool(rated and any(a is not None and a >= case.site.limits.locked_rotor_times * rated for a in read))


def amps_over(case: Case) -> bool:
    """Over the maker's maximum in one line."""
    rated = case.site.rated_amps
    return bool(rated and any((case.number(i) or 0.0) > rated for i in AMPS))


def supply_worked_on(case: Case) -> bool:
    """After work on the supply everything may turn the wrong way."""
    supply = {"phase_monitor_open", "phase_lost", "supply_unbalanced", "phase_reversed"}
    return bool(supply & set(found(case))) or case.has("line_fuse_open")


def rotation_in_question(case: Case) -> bool:
    return supply_worked_on(case) and case.site.machine_kind in ("scroll", "screw")


def _ground_doubtful(case: Case) -> bool:
    """Read, and too low to pass: it is read again warm."""
    megohm = case.ohm("ground_megohms")
    return megohm is not None and megohm < case.site.limits.ground_passes_mohm


def _held(case: Case) -> bool:
    return "motor" in case.site.held_contacts


def _module_wanted(case: Case) -> bool:
    """The motor's module says only with its power back what its contact does."""
    return motor_branch(case) and _held(case) and "overload_state" not in case.readings and not explained(case, "motor")


def _contact_mechanical(case: Case) -> bool:
    return "motor" in case.contacts and not _held(case) and not case.says("overload_state", "closed")


def _at_set_point(case: Case) -> bool:
    wanted, suction = case.site.suction_set_point_psig, case.number("watch.suction_pressure")
    near = suction is not None and wanted is not None and abs(suction - wanted) <= case.site.limits.suction_band_delta_psi
    return case.has("amps_read_again") and near


JUDGED: dict[str, Callable[[Case], bool]] = {
    "motor_branch": motor_branch,
    "burn_out_suspected": lambda case: standing(case, "winding_failed") or standing(case, "winding_grounded"),
    "windings_low": windings_low,
    "winding_bad": winding_bad,
    "ground_doubtful": _ground_doubtful,
    "crankcase_is_warm": lambda case: case.over("crankcase_superheat", case.site.limits.crankcase_warm_delta_degf),
    "motor_contact_mechanical": _contact_mechanical,
    "motor_contact_held": lambda case: motor_branch(case) and _held(case),
    "motor_decided": lambda case: explained(case, "motor"),
    "lines_in_question": _lines_in_question,
    "lines_odd": lambda case: _balance_lost(case, VOLTS, case.site.limits.voltage_unbalance_percent),
    "window_wanted": lambda case: supply_window_wanted(case) or _lines_in_question(case) or _module_wanted(case),
    "amps_over": amps_over,
    "gas_hot": lambda case: case.over("superheat", case.site.limits.superheat_high_delta_degf),
    "supply_worked_on": supply_worked_on,
    "rotation_in_question": rotation_in_question,
    "rotor_was_locked": locked_rotor,
}
FITTED: dict[str, Callable[[Rack], bool]] = {
    "drive_fitted": lambda rack: rack.panel.drive,
    "two_winding_sets": lambda rack: rack.panel.winding_sets > 1,
}
FACTS: dict[str, Callable[[Case], bool]] = {
    "motor_cooled": lambda case: case.has("windings_read_after_an_hour")
    or (case.has("overload_read_cooled") and case.says("overload_state", "closed")),
    "closed_after_cooling": lambda case: case.has("overload_read_cooled") and case.says("overload_state", "closed"),
    "motor_off_when_read": lambda case: case.has("lines_read_live") and not case.says("running_now", "running"),
    "motor_lead_open": lambda case: case.has("read_at_terminals") and not winding_bad(case),
    "locked_rotor_amps": locked_rotor,
    "at_set_point_suction": _at_set_point,
}
