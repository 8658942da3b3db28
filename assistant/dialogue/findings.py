"""Findings by name: what a step's `when` may ask of the call."""

from collections.abc import Callable

from assistant.dialogue.obligations import OBLIGATIONS
from assistant.dialogue.state import FEED_BUDGET_S, State
from assistant.refrigeration.electrical import volts_present
from assistant.refrigeration.watch import not_settled, still_moving

Finding = Callable[[State], bool]

_SHARED = frozenset({
    "refrigerant_low", "drier_plugged", "liquid_valve_closed", "liquid_line_hot", "liquid_feed_restricted",
    "common_supply_lost", "return_gas_hot", "head_high", "suction_low",
})  # fmt: skip
_FRONT = frozenset({"not_called", "controller_fault"})
PROBE_FAULTS = frozenset({"probe_fouled", "probe_failed", "probe_wiring_faulty", "probe_loose"})
LEAD_ONLY = frozenset({"head_fan_failed", "liquid_slugged", "after_defrost"})
"""Causes that do not by themselves explain the trip: the search goes on."""


LEVERS = ("what_if_colder_return", "what_if_lower_head", "what_if_higher_suction")
"""Derived values: what the discharge would do with one thing changed."""


def found(s: State) -> list[str]:
    """Causes proven or supported, that explain the trip, in the order they were concluded."""
    return [
        c.cause
        for c in s.conclusions.values()
        if c.standing in ("proven", "supported")
        and c.cause not in LEAD_ONLY
        and c.cause != "no_fault_found"
        and not (c.cause == "probe_failed" and not {"probe_ohms", "probe_ohms.cleaned"} & set(s.readings))
    ]


def _proven_or_shared(s: State) -> bool:
    return any(c in _FRONT for c in found(s)) or (_several(s) and any(c in _SHARED for c in found(s)))


def _several(s: State) -> bool:
    return (s.number("tripped_count") or 0) >= 2


def _in_question(s: State) -> bool:
    return not _proven_or_shared(s)


def _discharge(s: State) -> bool:
    return "discharge" in s.contacts


def _decided(s: State) -> bool:
    return bool([c for c in found(s) if c not in _SHARED or _several(s)])


def _probe_off(s: State, derived: str) -> bool:
    error = s.derived.get(derived)
    return error is not None and abs(error.value) > 8


def _odd(s: State, id_: str, derived: str) -> bool:
    return s.value(id_) in ("over_range", "below_resolution") or _probe_off(s, derived)


def live_refused(s: State) -> str:
    """Why no live step may be taken on this call, or nothing (S8, S9)."""
    rack = s.rack
    if s.value("ladder_kind") == "metal":
        return "No live work from a metal ladder."
    if s.answered.get("clothing") == "skipped" or s.answered.get("ladder") == "skipped":
        return "No live work without the label and the ladder answered."
    if s.value("detector_state") == "alarm" or "leak_open" in s.open:
        return "No live work with a leak or an alarm."
    if rack and rack.flammable and s.value("detector_state") != "quiet":
        return "No live work: flammable refrigerant, and the detector is not quiet."
    return ""


def _feed_test(s: State) -> bool:
    return _discharge(s) and not _decided(s)


def _feed_test_allowed(s: State) -> bool:
    """The stimulus suits the probe (S13), live work is possible (S8), nothing is shut, off or lifted."""
    rack = s.rack
    return (
        rack is not None
        and "live_or_dead" in s.readings
        and rack.probe.feed_test_possible
        and not live_refused(s)
        and s.value("injection_hand_valve") != "closed"
        and s.value("coil_seated") not in ("loose", "burnt")
        and "wire_lifted" not in s.open
    )


def _no_volts(s: State) -> bool:
    return _volts(s, "injection_coil_volts", s.rack.injection.coil_volts if s.rack else None) is False


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
    off = any(c in _FRONT for c in found(s))
    return not off and not _other_branch(s)


def _restore_allowed(s: State) -> bool:
    """Nothing open forbids a start (S20), nobody chose to leave it off, and it was not started yet (S22)."""
    in_charge = not s.finishing and s.choice != "left" and s.started_at is None
    return in_charge and not blockers(s) and not _coil_off(s)


def _other_branch(s: State) -> bool:
    """A protection is open whose branch is not here yet. One that a powered module holds says nothing while dead."""
    held = [c.name for c in s.rack.panel.contacts if c.kind == "held"] if s.rack else []
    others = [c for c in s.contacts if c != "discharge" and (c not in held or not _discharge(s))]
    return bool(others)


def _coil_off(s: State) -> bool:
    return s.value("coil_seated") == "loose" and s.answered.get("seat_coil") != "done"


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
    return bool(s.series) and not why_not_settled(s)


def _watch_longer(s: State) -> bool:
    """The site's times allow another round, and time alone may still settle it."""
    more = len(s.series) < len(s.site.watch_minutes)
    return more and s.rack is not None and bool(still_moving(s.rounds, s.rack.suction_set_point_psig))


FINDINGS: dict[str, Finding] = {
    "several_off": _several,
    "food_at_risk": lambda s: s.value("product_state") in ("warming", "moving", "lost"),
    "liquid_in_question": lambda s: _several(s) or s.value("sight_glass") in ("bubbles", "empty"),
    "machine_in_question": _in_question,
    "reset_not_intact": lambda s: s.value("reset_device") in ("missing", "broken"),
    "isolator_stops_rack": lambda s: s.rack is not None and s.rack.panel.control_isolator_stops == "rack",
    "dead_route": lambda s: s.value("live_or_dead") != "live",
    "live_route": lambda s: _in_question(s) and s.value("live_or_dead") == "live" and not s.locked,
    "supply_present": lambda s: _volts(s, "control_volts") is True,
    "contact_unknown": lambda s: not s.contacts,
    "starter_without_volts": lambda s: _volts(s, "contactor_coil_volts") is not True,
    "panel_in_question": _in_question,
    "two_open": lambda s: s.value("chain_dead_check") == "two",
    "two_were_open": lambda s: s.two_open,
    "no_contact_open": lambda s: s.value("chain_dead_check") == "none",
    "drive_or_capacitors": lambda s: "dead_volts.drive" in s.proof_needed(),
    "discharge_branch": lambda s: _in_question(s) and _discharge(s),
    "undecided": lambda s: not _decided(s),
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
    "no_output": lambda s: _absent(s, "module_output_volts"),
    "output_test_wanted": lambda s: not _decided(s) and _no_volts(s),
    "output_test_allowed": lambda s: s.tested and s.jumper_is_in and not live_refused(s),
    "hand_valve_open": lambda s: s.value("injection_hand_valve") == "open",
    "seconds_left": _seconds_left,
    "module_supply_good": lambda s: not _absent(s, "module_supply_volts"),
    "was_fed": lambda s: s.was_fed,
    "still_feeding": lambda s: s.value("injection_after") == "feeding",
    "feed_poor_with_click": lambda s: not _decided(s) and s.value("injection_feed") in ("dry", "weak")
    and s.value("valve_click") == "click",
    "liquid_suspect": lambda s: not (_decided(s) and not _several(s))
    and ((s.value("injection_feed") in ("weak", "dry") and not _no_volts(s)) or s.value("sight_glass") in ("bubbles", "empty")
         or (_several(s) and not set(found(s)) & {"common_supply_lost"})),
    "receiver_not_read": lambda s: "receiver_level" not in s.readings,
    "drier_not_read": lambda s: "drier_temperature_drop" not in s.readings,
    "charge_low": lambda s: _standing(s, "refrigerant_low"),
    "leak_was_found": lambda s: s.value("leak_found") == "yes",
    "charge_wanted": lambda s: _standing(s, "refrigerant_low")
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
    "reset_allowed": lambda s: not s.reset_done,
    "started": lambda s: s.started_at is not None,
    "watch_longer": _watch_longer,
    "levers_known": lambda s: any(i in s.derived for i in LEVERS),
    "head_fan_was_stopped": lambda s: s.value("head_fan_running") == "no",
    "still_hot": lambda s: not _decided(s) and s.rack is not None
    and (s.us("watch.discharge_temperature") or 0) > s.rack.probe.trip_degf - 15,
    "arrived": lambda s: "fit_to_start" in s.readings,
    "open_for_hand_over": lambda s: any(OBLIGATIONS[o].hand_over == "owner" for o in s.open),
    "store_must_know": lambda s: "rack" in s.readings and s.readings.get("store_told") is None
    and (s.started_at is None or not settled(s)),
}  # fmt: skip


def _standing(s: State, cause: str) -> bool:
    conclusion = s.conclusions.get(cause)
    return conclusion is not None and conclusion.standing in ("proven", "supported")


def _discharge_or_cause(s: State) -> bool:
    return _decided(s) and not any(c in _FRONT for c in found(s)) and not _other_branch(s)


def _absent(s: State, id_: str) -> bool:
    return _volts(s, id_) is False


def _volts(s: State, id_: str, rated_v: float | None = None) -> bool | None:
    """Whether a voltage is there; None: not measured, or neither."""
    volts = 0.0 if s.value(id_) == "none_present" else s.number(id_)
    rated = rated_v or (s.rack.panel.control_volts if s.rack else None)
    return None if volts is None else volts_present(volts, rated)


FREE = frozenset({
    "several_off", "food_at_risk", "liquid_in_question", "machine_in_question", "reset_not_intact", "supply_present",
    "contact_unknown", "starter_without_volts", "panel_in_question", "two_open", "two_were_open", "no_contact_open",
    "discharge_branch", "undecided", "probe_off_at_module_end", "probe_off_at_probe", "probe_was_cleaned",
    "feed_test_wanted", "output_test_wanted", "no_output", "module_supply_good", "feed_poor_with_click",
    "liquid_suspect", "receiver_not_read", "drier_not_read", "charge_low", "leak_was_found", "charge_wanted",
    "charged", "repair_in_question", "leaking_valve", "may_run", "restore_wanted", "locked_long",
    "head_fan_was_stopped", "still_hot", "watch_longer", "levers_known", "store_must_know",
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
