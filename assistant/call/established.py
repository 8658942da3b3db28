"""What a call has established beside its readings: the facts that the rules of diagnosis look at."""

from collections.abc import Iterable, Iterator
from datetime import timedelta

from assistant.call.branches import locked_rotor, stood_minutes, winding_bad
from assistant.call.findings import holds, settled
from assistant.call.state import State
from assistant.call.verdicts import CONTACT_IDS, found
from assistant.profile import Rack

LOCKOUT_MINUTES = 30.0
"""A motor protection's lockout. Common practice; the maker's goes first."""
INSIDE_SHARE = 0.1
"""A pressure this far inside its control's setting is clearly inside. Common practice."""
NO_PENALTY = frozenset({"run_amps", "watch_amps_again"})
"""Steps that may be skipped with nothing left unproven by it: amps never ask for a cover off."""


def established(s: State, rack: Rack) -> Iterator[str]:
    taken = s.readings
    pipe_at = s.taken_at.get("probe_pipe_temperature")
    stood = s.number("alarm_minutes_ago")
    if pipe_at and stood is not None and s.opened_at and pipe_at - s.opened_at + timedelta(minutes=stood) > timedelta(hours=1):
        yield "standing_over_an_hour"
    checks = {
        "dead_when_coil_read": "injection_coil_ohms" in taken and taken["injection_coil_ohms"].step == "coil",
        "starter_dead_when_read": "starter_coil_ohms" in taken,
        "feed_test_run": s.tested,
        "stimulus_right": s.tested and rack.probe.feed_test_possible,
        "timer_elapsed": s.timer_elapsed,
        # The prompts of the live steps ask for the low impedance setting.
        "low_impedance": s.tested,
        "five_minutes_power_off": "injection_outlet_temperature" in taken,
        "reset_tried": bool(s.resets),
        "several_off": (s.number("tripped_count") or 0) >= 2,
        "at_load": s.started_at is not None
        or ((s.number("running_count") or 0) >= 1 and s.value("defrost_state") == "none"),
        "every_fan_called": s.number("condenser_fans_called") == rack.condenser_fans,
        "injection_seen_running": "injection_feed" in taken and taken["injection_feed"].step == "watch_injection"
        and s.value("injection_feed") == "feeding",
        "watch_done": s.answered.get("watch_last") == "done"
        and not (holds(s, "motor_branch") and holds(s, "amps_over") and "watch_amps_again" not in s.answered),
        "settled": settled(s),
        "all_checked": not any(a == "skipped" and i not in NO_PENALTY for i, a in s.answered.items())
        and not s.finishing and not s.choice,
        "probe_hot_now": (s.us("probe_pipe_temperature") or 0) > rack.probe.inject_degf,
        "charge_restored": (s.number("refrigerant_added") or 0) > 0 and s.value("sight_glass") == "full"
        and (s.number("receiver_level") or 0) >= 20 and taken["sight_glass"].step == "glass_after_charge",
    }  # fmt: skip
    yield from (name for name, true in checks.items() if true)
    if s.choice == "repaired" and "injection_valve_stuck_closed" in found(s):
        yield "valve_opened_or_replaced"
        if checks["injection_seen_running"]:
            yield "feed_seen_after"
    yield from _told(s)
    yield from (name for name, true in (_motor(s) | _oil(s, rack) | _pressure(s, rack)).items() if true)
    for contact in rack.panel.contacts:
        name = CONTACT_IDS[contact.name]
        if contact.name in s.contacts:
            yield f"contact_open:{name}"
        elif s.value("chain_dead_check") in (*CONTACT_IDS, "none"):
            yield f"contact_closed:{name}"


def _told(s: State) -> Iterable[str]:
    """What was looked at and said."""
    for step, said in s.told.items():
        yield from s.steps[step].facts(said)


def _step_of(s: State, id_: str) -> str:
    return s.readings[id_].step if id_ in s.readings else ""


def _motor(s: State) -> dict[str, bool]:
    contact = _step_of(s, "overload_state")
    at = s.taken_at.get("overload_state")
    stood = stood_minutes(s, at) if at else None
    windings_at = s.taken_at.get("winding_ohms.ab")
    windings_stood = stood_minutes(s, windings_at) if windings_at else None
    closed_cold = contact == "protector_cooled" and s.value("overload_state") == "closed"
    wanted = s.rack.suction_set_point_psig if s.rack else None
    suction = next((r.suction_psig for r in reversed(s.rounds) if r.suction_psig is not None), None)
    return {
        "motor_cooled": closed_cold or (windings_stood is not None and windings_stood >= 60),
        "closed_after_cooling": closed_cold,
        "lockout_waited": stood is not None and stood >= LOCKOUT_MINUTES,
        "cycled_once": contact in ("motor_reset", "window_motor"),
        "warm_repeat": _step_of(s, "ground_megohms") == "insulation_warm",
        "motor_off_when_read": _step_of(s, "line_volts.ab") == "window_lines"
        or (_step_of(s, "line_volts.ab") == "live_lines" and s.value("running_now") != "running"),
        "motor_lead_open": _step_of(s, "winding_ohms.ab") == "windings_at_terminals" and not winding_bad(s),
        "locked_rotor_amps": locked_rotor(s),
        "read_running": s.started_at is not None,
        "at_set_point_suction": _step_of(s, "line_amps.a") == "watch_amps_again"
        and suction is not None and wanted is not None and abs(suction - wanted) <= 2,
    }  # fmt: skip


def _oil(s: State, rack: Rack) -> dict[str, bool]:
    return {
        "net_oil_read_as_it_opened": s.tripped_again and _step_of(s, "oil_pump_pressure") == "run_oil",
        "mineral_oil_left": rack.oil == "mineral" and holds(s, "oil_branch"),
    }


def _pressure(s: State, rack: Rack) -> dict[str, bool]:
    setting = s.us("cutout_pressure")
    high, low = (setting or rack.high_cutout_psig), (rack.low_cutout_psig if setting is None else setting)
    head = s.us("discharge_pressure") if _step_of(s, "discharge_pressure") == "pressure_gauge_high" else None
    suction = s.us("suction_pressure") if _step_of(s, "suction_pressure") == "pressure_gauge_low" else None
    inside = head is not None and bool(high) and head < (1 - INSIDE_SHARE) * high
    over = suction is not None and low is not None and suction > low + max(2.0, INSIDE_SHARE * abs(low))
    return {"pressure_clearly_inside": inside or over, "gauge_checked": "control_trip_pressure" in s.readings}
