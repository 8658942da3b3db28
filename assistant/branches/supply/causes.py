"""When the control circuit is the cause. Rules: section 5."""

from collections.abc import Callable
from itertools import pairwise

from assistant.trade.case import Case, Verdict
from assistant.trade.electrical import coil

CHAIN = (
    "supply",
    "oil_pressure",
    "high_pressure",
    "low_pressure",
    "motor_protection",
    "discharge_temperature",
)
"""The order of the string's points, from the common leg."""


def control_supply_lost(case: Case) -> Verdict | None:
    """No control voltage: one zero may be the probe's, a second place or the fuse makes it sure."""
    there, blown = case.live("control_volts"), case.says("control_fuse", "blown")
    evidence = case.known("control_volts", "chain_point.supply", "control_fuse")
    if there:
        return "ruled_out", evidence
    again = case.live("chain_point.supply") is False
    if there is False:
        return ("proven" if blown or again else "supported"), evidence
    return ("supported", evidence) if blown else None


def phase_monitor_open(case: Case) -> Verdict | None:
    """The monitor has tripped, whatever the lines read now."""
    if case.says("phase_monitor_state", "tripped"):
        return "proven", case.known("phase_monitor_state", "line_volts.ab", "line_volts.bc", "line_volts.ca")
    clear = case.says("phase_monitor_state", "normal", "none")
    return ("ruled_out", ("phase_monitor_state",)) if clear else None


def common_supply_lost(case: Case) -> Verdict | None:
    """They went together and several modules have no supply: dark is seen, no volts is read."""
    dead, dark = case.live("module_supply_volts") is False, case.has("several_modules_dead")
    if not (dead or dark) or case.live("module_supply_volts") or not case.says("trip_spread", "together"):
        return None
    evidence = case.known("trip_spread", "module_supply_volts", "several_modules_dead", "several_off")
    if dead and dark:
        return "proven", evidence
    return ("supported" if case.has("several_off") else "suspected"), evidence


def starter_coil_failed(case: Case) -> Verdict | None:
    """Volts at the coil and its ohms out of range: volts alone say nothing about the coil."""
    if before := case.stood("starter_coil_failed", "starter_coil_read_after"):
        return before, case.known("contactor_coil_volts", "control_fuse", "starter_coil_read_after")
    ohm, good = case.ohm("starter_coil_ohms"), case.site.starter_coil_ohms
    if ohm is None:
        return None
    volts, dead = case.live("contactor_coil_volts") is True, case.has("starter_dead_when_read")
    evidence = case.known("contactor_coil_volts", "starter_coil_ohms", "starter_dead_when_read")
    found = coil(ohm, good, case.site.limits)
    if found == "open" or (found == "short" and good is not None):
        return ("proven" if volts and dead else "supported"), evidence
    return ("ruled_out", evidence) if found == "good" and dead else None


def chain_wiring_open(case: Case) -> Verdict | None:
    """Voltage is lost between two contacts that were found closed when checked dead.

    Before the first contact and behind the last stands more than wire: a monitor, a timer, an interlock, the start control.
    There the loss only supports it, and not at all where the phase monitor has tripped.
    """
    if case.says("phase_monitor_state", "tripped"):
        return None
    all_closed = case.says("chain_dead_check", "none")
    for before, after in pairwise(CHAIN):
        lost = case.live(f"chain_point.{before}") is True and case.live(f"chain_point.{after}") is False
        if lost and (all_closed or case.has(f"contact_closed:{after}")):
            evidence = (f"chain_point.{before}", f"chain_point.{after}")
            monitor = case.says("phase_monitor_state", "normal", "none")
            between = monitor and before != "supply" and (all_closed or case.has(f"contact_closed:{before}"))
            return ("proven" if between else "supported"), evidence + case.known(f"contact_closed:{after}", "chain_dead_check")
    last = f"chain_point.{CHAIN[-1]}"
    if case.live(last) is True and case.live("contactor_coil_volts") is False:
        return "supported", (last, "contactor_coil_volts")
    return None


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        control_supply_lost,
        phase_monitor_open,
        common_supply_lost,
        starter_coil_failed,
        chain_wiring_open,
    )
}
