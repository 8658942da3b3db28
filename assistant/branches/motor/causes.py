"""When a cause in the motor holds. Rules: section 9, "Motor"."""

from collections.abc import Callable
from math import inf

from assistant.trade.case import Case, Verdict
from assistant.trade.electrical import coil, unbalance_percent

WINDINGS = ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca")
AMPS = ("line_amps.a", "line_amps.b", "line_amps.c")
VOLTS = ("line_volts.ab", "line_volts.bc", "line_volts.ca")
FUSES = ("fuse_volts.a", "fuse_volts.b", "fuse_volts.c")


def _three(case: Case, names: tuple[str, ...]) -> list[float] | None:
    """Three volts or amps; "nothing" is zero."""
    values = [0.0 if case.says(name, "none_present") else case.number(name) for name in names]
    return [value for value in values if value is not None] if None not in values else None


def supply_unbalanced(case: Case) -> Verdict | None:
    """Voltage unbalance over its limit; far over it a line is lost, which is another cause."""
    unbalance, limits = case.derived.get("voltage_unbalance"), case.site.limits
    if unbalance is None or unbalance > limits.line_lost_unbalance_percent:
        return None
    return ("proven" if unbalance > limits.voltage_unbalance_percent else "ruled_out"), ("voltage_unbalance",)


def phase_lost(case: Case) -> Verdict | None:
    """A current absent, volts across a fuse, or line volts absent with the motor off. Amps count most."""
    amps, volts = _three(case, AMPS), _three(case, VOLTS)
    limits = case.site.limits
    if amps is not None and case.runs():
        if min(amps) < limits.amps_absent_percent * max(amps) / 100.0:
            return "proven", AMPS
        return "ruled_out", AMPS
    for name in FUSES:
        if case.over(name, limits.fuse_open_v):
            return "proven", (name,)
    lost = volts is not None and min(volts) < limits.line_there_percent * max(volts) / 100.0
    if lost and case.has("motor_off_when_read"):
        return "proven", (*VOLTS, "motor_off_when_read")
    if case.has("line_fuse_open") or case.has("motor_lead_open"):
        return "supported", case.known("line_fuse_open", "motor_lead_open")
    return None


def contactor_faulty(case: Case) -> Verdict | None:
    """A pole open, pressed in by hand. The drop across a closed pole under load takes a cover off a running machine: never
    asked."""
    if case.has("pole_open"):
        return "proven", ("pole_open",)
    jammed = case.has("starter_stays_out") and case.live("contactor_coil_volts") is True
    ohm = case.ohm("starter_coil_ohms")
    if jammed and ohm is not None and coil(ohm, case.site.starter_coil_ohms, case.site.limits) in ("good", "neither"):
        return "supported", case.known("starter_stays_out", "contactor_coil_volts", "starter_coil_ohms")
    return ("ruled_out", ("poles_closed", "starter_pulls_in")) if case.has("poles_closed", "starter_pulls_in") else None


def winding_failed(case: Case) -> Verdict | None:
    """Open or unbalanced after cooling; low windings only with a milliohm meter."""
    ohms = [case.ohm(name) for name in WINDINGS]
    cooled = case.has("motor_cooled")
    evidence = case.known(*WINDINGS, "winding_unbalance", "motor_cooled", "milliohm_meter")
    if inf in ohms:
        return ("proven" if cooled else "suspected"), evidence
    unbalance, known = case.derived.get("winding_unbalance"), [ohm for ohm in ohms if ohm is not None]
    if unbalance is None or len(known) < 3 or not cooled:
        return None
    if min(known) < case.site.limits.milliohm_below_ohm and not case.has("milliohm_meter"):
        return None
    if unbalance <= case.site.limits.winding_balance_percent:
        return "ruled_out", evidence
    step_ohm = 0.0 if case.has("milliohm_meter") else case.site.instruments.ohm_step
    sure = unbalance_percent(closer(known, step_ohm)) > case.site.limits.winding_balance_percent
    return ("proven", evidence) if sure else None


def closer(ohms: list[float], step_ohm: float) -> list[float]:
    """The windings as near to each other as the meter's last digit lets them be: each may be one off."""
    middle = sum(ohms) / len(ohms)
    return [ohm + max(-step_ohm, min(step_ohm, middle - ohm)) for ohm in ohms]


def _windings_good(case: Case) -> bool:
    found = winding_failed(case)
    return found is not None and found[0] == "ruled_out"


def winding_grounded(case: Case) -> Verdict | None:
    """Under the limit, and again after a warm repeat, never in a vacuum."""
    megohm, shell = case.ohm("ground_megohms"), case.number("shell_pressure")
    if megohm is None or shell is None or shell < 0.0:
        return None
    evidence = case.known("ground_megohms", "shell_pressure", "warm_repeat")
    if megohm < case.site.limits.ground_fails_mohm:
        return ("proven" if case.has("warm_repeat") else "supported"), evidence
    return ("ruled_out", evidence) if megohm >= case.site.limits.ground_passes_mohm else None


def _balanced_amps(case: Case) -> list[float] | None:
    amps = _three(case, AMPS)
    balanced = case.within("current_unbalance", 0.0, case.site.limits.current_unbalance_percent)
    return amps if balanced and case.runs() else None


def motor_overloaded(case: Case) -> Verdict | None:
    """Balanced and over rated, at set-point suction: 20 minutes of pulldown are normal."""
    amps, rated = _balanced_amps(case), case.site.rated_amps
    if amps is None or rated is None:
        return None
    evidence = (*AMPS, *case.known("current_unbalance", "at_set_point_suction"))
    if min(amps) > rated:
        return ("proven" if case.has("at_set_point_suction") else "suspected"), evidence
    return None


def motor_poorly_cooled(case: Case) -> Verdict | None:
    """Amps normal and superheat high: the gas does not cool the motor."""
    amps, rated = _balanced_amps(case), case.site.rated_amps
    hot = case.over("superheat", case.site.limits.superheat_high_delta_degf)
    if amps is None or rated is None or max(amps) > rated or not hot:
        return None
    return "proven", (*AMPS, *case.known("current_unbalance", "superheat"))


def draw_out_of_limits(case: Case) -> bool:
    """Amps over the maker's maximum, or out of balance: whatever it hangs on, it is no machine without a fault."""
    rated, limits = case.site.rated_amps, case.site.limits
    read = [case.number(i) for i in (*AMPS, "watch.amps")]
    over = rated is not None and any(amps is not None and amps > rated for amps in read)
    return over or case.over("current_unbalance", limits.current_unbalance_percent)


def motor_protection_faulty(case: Case) -> Verdict | None:
    """Waited out, cycled once, still open, with sensor string and windings good."""
    if not case.says("overload_state", "open"):
        return ("ruled_out", ("overload_state",)) if case.says("overload_state", "closed") else None
    string, limits = case.number("protector_string_ohms"), case.site.limits
    fits = case.says("protector_string_ohms", "not_fitted") or (
        string is not None and limits.string_low_ohm <= string <= limits.string_high_ohm
    )
    good = fits and _windings_good(case)
    if not (case.has("lockout_waited", "cycled_once") and good):
        return None
    return "proven", case.known(
        "overload_state",
        "protector_string_ohms",
        *WINDINGS,
        "winding_unbalance",
        "lockout_waited",
        "cycled_once",
    )


def overload_still_hot(case: Case) -> Verdict | None:
    """The protector closed after cooling: not proven faulty."""
    closed = case.has("closed_after_cooling")
    return ("proven", ("closed_after_cooling",)) if closed else None


def short_cycling(case: Case) -> Verdict | None:
    """More starts in the hour than its limit."""
    starts = case.number("starts_last_hour")
    if starts is None:
        return None
    return ("proven" if starts > case.site.limits.starts_per_hour_limit else "ruled_out"), ("starts_last_hour",)


def phase_reversed(case: Case) -> Verdict | None:
    """It turns backwards."""
    if case.says("rotation", "reversed"):
        return "proven", ("rotation",)
    return ("ruled_out", ("rotation",)) if case.says("rotation", "right") else None


def drive_faulted(case: Case) -> Verdict | None:
    """The drive shows a fault: it is read before anything else of the motor."""
    if case.says("drive_fault", "yes"):
        return "proven", ("drive_fault",)
    return ("ruled_out", ("drive_fault",)) if case.says("drive_fault", "no") else None


def compressor_seized(case: Case) -> Verdict | None:
    """Locked rotor amps, shaft seized, windings good."""
    if case.says("mechanical_state", "free"):
        return "ruled_out", ("mechanical_state",)
    if not case.says("mechanical_state", "seized"):
        return None
    sure = case.has("locked_rotor_amps") and _windings_good(case)
    return ("proven" if sure else "supported"), case.known("mechanical_state", "locked_rotor_amps", *WINDINGS)


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        supply_unbalanced,
        phase_lost,
        contactor_faulty,
        winding_failed,
        winding_grounded,
        motor_overloaded,
        motor_poorly_cooled,
        motor_protection_faulty,
        overload_still_hot,
        short_cycling,
        phase_reversed,
        drive_faulted,
        compressor_seized,
    )
}
