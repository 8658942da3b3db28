"""Findings by name: what a step's `when` may ask of the call."""

from collections.abc import Callable

from assistant.call.branches import (
    BRANCH_FINDINGS,
    BRANCH_FREE,
    circuit_tested,
    coil_off,
    motor_out_of_limits,
    none_open,
    oil_fit,
    rack_satisfied,
    reset_left,
    reset_ready,
    runs,
)  # fmt: skip
from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.state import FEED_BUDGET_S, State
from assistant.call.verdicts import (
    FRONT,
    PROBE_FAULTS,
    absent,
    decided,
    found,
    in_question,
    open_contacts,
    several,
    standing,
    to_mend,
    volts,
)  # fmt: skip
from assistant.call.verdicts import live_refused as live_refused
from assistant.trade.watch import not_settled, still_moving

Finding = Callable[[State], bool]

LEVERS = ("what_if_colder_return", "what_if_lower_head", "what_if_higher_suction")
"""Derived values: what the discharge would do with one thing changed."""


def _discharge(s: State) -> bool:
    return "discharge" in open_contacts(s)


def _probe_off(s: State, derived: str) -> bool:
    error = s.derived.get(derived)
    return error is not None and abs(error.value) > 8


def _odd(s: State, id_: str, derived: str) -> bool:
    return s.value(id_) in ("over_range", "below_resolution") or _probe_off(s, derived)


def _feed_test(s: State) -> bool:
    return _discharge(s) and not decided(s)


def _feed_test_allowed(s: State) -> bool:
    """The stimulus suits the probe (S13), live work is possible (S8), nothing is shut, off or lifted, and no fuse is out
    whose circuit was not tested (S18)."""
    rack = s.rack
    return (
        rack is not None
        and "live_or_dead" in s.readings
        and rack.probe.feed_test_possible
        and not live_refused(s)
        and s.value("injection_hand_valve") != "closed"
        and s.value("coil_seated") not in ("loose", "burnt")
        and "wire_lifted" not in s.open
        and circuit_tested(s)
    )


def _no_volts(s: State) -> bool:
    return volts(s, "injection_coil_volts", s.rack.injection.coil_volts if s.rack else None) is False


def _seconds_left(s: State) -> bool:
    return not s.over_budget and (s.fed_s < FEED_BUDGET_S or "valve_closed.injection" in s.open)


def blockers(s: State) -> list[str]:
    """Open obligations that forbid a start, but for the lock and the cover, which come off on the way."""
    way = {"locked_out", "panel_cover"}
    if s.answered.get("first_start_valve") == "done" or s.step == "first_start_valve":
        # The throttled first start is the one exception: the suction valve is opened with eyes on it.
        way.add("valve_closed.suction")
    return [o for o in s.open if OBLIGATIONS[o].blocks_start and o not in way]


def _restore(s: State) -> bool:
    return not any(c in FRONT for c in found(s))


def _restore_allowed(s: State) -> bool:
    """Nothing open forbids a start (S20), nobody chose to leave it off, it was not started yet, and what its
    protection asks for was read (S18, S22)."""
    in_charge = not s.finishing and s.choice != "left" and s.started_at is None
    return in_charge and not blockers(s) and not coil_off(s) and not why_not_reset(s)


def why_not_reset(s: State) -> str:
    """Why this protection gets no reset, as a spoken sentence; empty where it may."""
    if not reset_ready(s):
        return "No reset before its readings."
    if not circuit_tested(s):
        return "What opened is not closed again before its circuit is tested and good."
    if motor_out_of_limits(s):
        return "This motor's readings are out of limits."
    return "" if oil_fit(s) else "No start on this oil."


def _leaking(s: State) -> bool:
    standing = s.conclusions.get("injection_valve_leaking")
    return standing is not None and standing.standing in ("proven", "supported") and s.choice != "repaired"


def why_not_settled(s: State) -> tuple[str, ...]:
    """Why the restarted machine has not settled, as spoken sentences; empty when it has."""
    rack = s.rack
    if rack is None:
        return ("The machine is not known.",)
    loaded = s.value("capacity_control") in ("full", "none")
    seen = s.value("injection_feed") == "feeding"
    return not_settled(s.rounds, rack.suction_set_point_psig, rack.probe.trip_degf, loaded, seen)


def settled(s: State) -> bool:
    return bool(s.series) and not s.stopped and not why_not_settled(s)


def _watch_longer(s: State) -> bool:
    """The site's times allow another round, and time alone may still settle it."""
    more = len(s.series) < len(s.site.watch_minutes)
    return more and s.rack is not None and bool(still_moving(s.rounds, s.rack.suction_set_point_psig))


FINDINGS: dict[str, Finding] = {
    "several_off": several,
    "food_at_risk": lambda s: s.value("product_state") in ("warming", "moving", "lost"),
    "liquid_in_question": lambda s: several(s) or s.value("sight_glass") in ("bubbles", "empty"),
    "machine_in_question": in_question,
    "reset_not_intact": lambda s: s.value("reset_device") in ("missing", "broken"),
    "isolator_stops_rack": lambda s: s.rack is not None and s.rack.panel.control_isolator_stops == "rack",
    "dead_route": lambda s: s.value("live_or_dead") != "live",
    "live_route": lambda s: in_question(s) and s.value("live_or_dead") == "live" and not s.locked,
    "supply_present": lambda s: volts(s, "control_volts") is True,
    "contact_unknown": lambda s: not s.contacts and s.value("drive_fault") != "yes",
    "starter_without_volts": lambda s: volts(s, "contactor_coil_volts") is not True,
    "panel_in_question": in_question,
    "two_open": lambda s: s.value("chain_dead_check") == "two",
    "two_were_open": lambda s: s.two_open,
    "no_contact_open": none_open,
    "drive_or_capacitors": lambda s: "dead_volts.drive" in s.proof_needed(),
    "discharge_branch": lambda s: in_question(s) and _discharge(s),
    "undecided": lambda s: not decided(s),
    "probe_off_at_module_end": lambda s: _odd(s, "probe_ohms.module_end", "probe_error_delta_degf"),
    "probe_off_at_probe": lambda s: not (PROBE_FAULTS - {"probe_failed"}) & set(found(s))
    and _probe_off(s, "probe_error_at_probe_delta_degf"),
    "probe_comes_out": lambda s: s.rack is not None and s.rack.probe.mount in ("clamp", "dry_well"),
    "probe_was_cleaned": lambda s: s.value("probe_cleaned") == "yes",
    "module_has_fuse": lambda s: s.rack is not None and "module output" in s.rack.panel.fuses,
    "feed_test_wanted": _feed_test,
    "feed_test_allowed": _feed_test_allowed,
    "start_is_blocked": lambda s: s.start_is_blocked,
    "jumper_is_in": lambda s: s.jumper_is_in,
    "leads_are_on": lambda s: s.leads_are_on,
    "powered": lambda s: s.power_on_at is not None,
    "no_output": lambda s: absent(s, "module_output_volts"),
    "output_test_wanted": lambda s: not decided(s) and _no_volts(s),
    "output_test_allowed": lambda s: s.tested and s.jumper_is_in and not live_refused(s),
    "hand_valve_open": lambda s: s.value("injection_hand_valve") == "open",
    "seconds_left": _seconds_left,
    "module_supply_good": lambda s: not absent(s, "module_supply_volts"),
    "was_fed": lambda s: s.was_fed,
    "still_feeding": lambda s: s.value("injection_after") == "feeding",
    "feed_poor_with_click": lambda s: not decided(s) and s.value("injection_feed") in ("dry", "weak")
    and s.value("valve_click") == "click",
    "liquid_suspect": lambda s: not (decided(s) and not several(s))
    and ((s.value("injection_feed") in ("weak", "dry") and not _no_volts(s)) or s.value("sight_glass") in ("bubbles", "empty")
         or (several(s) and not set(found(s)) & {"common_supply_lost"})),
    "receiver_not_read": lambda s: "receiver_level" not in s.readings,
    "drier_not_read": lambda s: "drier_temperature_drop" not in s.readings,
    "charge_low": lambda s: standing(s, "refrigerant_low"),
    "leak_was_found": lambda s: s.value("leak_found") == "yes",
    "charge_wanted": lambda s: standing(s, "refrigerant_low")
    and (s.value("leak_repaired") == "yes" or s.value("leak_found") == "no"),
    "label_agrees": lambda s: s.rack is not None and s.value("refrigerant_label") == s.rack.refrigerant,
    "cylinder_read": lambda s: s.value("cylinder_checked") is True,
    "charged": lambda s: (s.number("refrigerant_added") or 0) > 0,
    "repair_in_question": lambda s: _discharge_or_cause(s),
    "coil_off_stem": lambda s: s.value("coil_seated") == "loose" and s.locked,
    "leaking_valve": _leaking,
    "may_run": lambda s: not _leaking(s),
    "not_left": lambda s: not s.finishing and s.choice != "left",
    "not_finishing": lambda s: not s.finishing,
    "heater_is_on": lambda s: s.value("crankcase_heater") == "on",
    "restore_wanted": _restore,
    "restore_allowed": _restore_allowed,
    "made_ready": lambda s: s.value("service_valves_open") is True and s.value("others_clear") is True
    and "panel_cover" not in s.open,
    "locked_long": lambda s: bool(s.locked_at and s.entered_at and (s.entered_at - s.locked_at).total_seconds() >= 3600),
    "liquid_was_in": lambda s: "liquid_in_compressor" in s.cleared,
    "reset_allowed": reset_left,
    "started": runs,
    "watch_longer": _watch_longer,
    "levers_known": lambda s: any(i in s.derived for i in LEVERS),
    "head_fan_was_stopped": lambda s: s.value("head_fan_running") == "no",
    "still_hot": lambda s: not decided(s) and s.rack is not None
    and (s.us("watch.discharge_temperature") or 0) > s.rack.probe.trip_degf - 15,
    "arrived": lambda s: "fit_to_start" in s.readings,
    "open_for_hand_over": lambda s: any(OBLIGATIONS[o].hand_over == "owner" for o in s.open),
    "store_must_know": lambda s: "rack" in s.readings and s.readings.get("store_told") is None
    and (s.started_at is None or not settled(s)),
    **BRANCH_FINDINGS,
}  # fmt: skip


def _discharge_or_cause(s: State) -> bool:
    mended = decided(s) or to_mend(s) == "oil_level_low"
    return mended and not rack_satisfied(s) and not any(c in FRONT for c in found(s))


FREE = frozenset({
    "several_off", "food_at_risk", "liquid_in_question", "machine_in_question", "reset_not_intact", "supply_present",
    "contact_unknown", "starter_without_volts", "panel_in_question", "two_open", "two_were_open", "no_contact_open",
    "discharge_branch", "undecided", "probe_off_at_module_end", "probe_off_at_probe", "probe_was_cleaned",
    "feed_test_wanted", "output_test_wanted", "no_output", "module_supply_good", "feed_poor_with_click",
    "liquid_suspect", "receiver_not_read", "drier_not_read", "charge_low", "leak_was_found", "charge_wanted",
    "charged", "repair_in_question", "leaking_valve", "may_run", "restore_wanted", "locked_long",
    "head_fan_was_stopped", "still_hot", "watch_longer", "levers_known", "store_must_know",
    *BRANCH_FREE,
})  # fmt: skip
"""Findings that rest on measurements and judgement: the proof lets each come out either way. No safety rule may
rest on one of them."""


def holds(s: State, name: str) -> bool:
    """Does a `when` hold: a finding, `open:` an obligation, or `!` and either."""
    if name.startswith("!"):
        return not holds(s, name[1:])
    if name.startswith("open:"):
        return name[5:] in s.open
    return FINDINGS[name](s)
