"""What a reading brings with it: obligations, the lock and its proof, power, the contacts found open."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from assistant.call.facts import ReadingTaken
from assistant.call.hooked_up import OBLIGATIONS
from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade.electrical import volts_present
from assistant.trade.units import us_value

if TYPE_CHECKING:
    from assistant.call.state import State

PROOF_READINGS = ("panel_tag", "locked_out", "meter_proved_before", "dead_volts.power", "dead_volts.control",
                  "dead_volts.drive", "meter_proved_after")  # fmt: skip
DEAD_LIMIT_V = 3.0
"""Absence of voltage, low-impedance setting. Common practice."""


def follow(s: "State", fact: ReadingTaken, at: datetime) -> None:
    """Change what a reading changes beside its own value."""
    id_, value = fact.id, fact.value
    if id_ in PROOF_READINGS:
        _proof_step(s, fact, at)
    handler = _HANDLERS.get(id_)
    if handler:
        handler(s, value, fact, at)
    if id_.startswith("safety_volts.") or id_ == "contactor_coil_volts":
        _across(s, id_, value)
    if id_.startswith("watch.") and isinstance(value, (int, float)):
        if not s.series or fact.step != s.watch_step:
            s.series.append((_round_at(s, at), {}))
            s.watch_step = fact.step
        us = us_value(value, fact.unit, vocabulary()[id_].kind)
        s.series[-1][1][id_] = float(us)


def _round_at(s: "State", at: datetime) -> datetime:
    """When a round of the watch was read: when it was asked for, unless the answer took long."""
    asked = s.entered_at
    return asked if asked and at - asked < timedelta(minutes=1) else at


def _proof_step(s: "State", fact: ReadingTaken, at: datetime) -> None:
    if fact.id == "locked_out" and fact.value is True:
        s.locked, s.lock_unsure = True, False
        s.will_open("locked_out", fact.step)
        s.locked_at = s.locked_at or at
    if fact.id == "panel_tag":
        s.proof = ()
    good = fact.value is True or (fact.id == "panel_tag" and _tag_agrees(s, fact.value))
    if fact.id.startswith("dead_volts."):
        number = s.number(fact.id)
        good = number is not None and number <= DEAD_LIMIT_V
    if fact.corrected:
        if not good:
            s.end_proof(keep_lock=False)
        return
    needed = s.proof_needed()
    if not good or needed[: len(s.proof) + 1] != (*s.proof, fact.id):
        if not fact.id.startswith("dead_volts.") or good:
            s.proof = s.proof if good else ()
        s.dead = False
        return
    s.proof = (*s.proof, fact.id)
    if s.proof == needed and s.locked:
        s.dead, s.powered = True, False
        s.panel_at = at
        s.power_off_at = s.power_off_at or at


def _tag_agrees(s: "State", value: Value) -> bool:
    compressor = s.compressor
    return compressor is not None and value == compressor.tag


def _control_power_on(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.powered, s.power_on_at, s.tested = True, at, s.tested or s.jumper_is_in
    s.dead, s.proof = False, ()


def _control_power_off(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.fed_s += s.feeding_s(at)
    s.was_fed = s.was_fed or s.jumper_is_in
    s.powered, s.power_on_at, s.power_off_at = False, None, at
    # The live caution holds for one power-on only (S8). The lock stayed on: tag and lock stand (S2).
    s.acknowledged -= {"live", "live_place"}
    s.end_proof(keep_lock=True)


def _module_output_volts(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.timer_elapsed = bool(s.power_on_at and (at - s.power_on_at).total_seconds() >= 10)


def _lock_removed(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.locked, s.powered = False, True
    s.end_proof(keep_lock=False)


def _running_now(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.tripped_again = s.tripped_again or (s.started_at is not None and value in ("just tripped", "off"))


def _control_reset(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.resets |= {"high pressure", "low pressure"}


def _overload_state(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if fact.step == "motor_reset":
        s.resets.add("motor")


def _start_prevented(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.start_is_blocked = value is True


def _jumper_fitted(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.jumper_is_in = value is True


def _jumper_removed(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.jumper_is_in = False


def _leads_clipped(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    s.leads_are_on = value is True


def _injection_feed(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if s.started_at is None and value in ("feeding", "weak"):
        s.will_open("liquid_in_compressor", fact.step, "fed on a standing machine")


def _injection_after(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "feeding":
        s.will_open("liquid_in_compressor", fact.step, "feeding with power off")


def _injection_hand_valve(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "closed":
        s.will_open("valve_closed.injection", fact.step, "as found")
    elif value == "open" and "valve_closed.injection" in s.open:
        s.to_clear.append(("valve_closed.injection", fact.step))


def _switch_position(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "hand":
        s.will_open("switch_in_hand", fact.step, "as found")


def _defrost_disabled(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "yes":
        s.will_open("defrost_disabled", fact.step)


def _part_left_in_use(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    kinds = {"borrowed": "part_borrowed", "temporary": "part_borrowed", "substitute": "reset_substitute"}
    if value in kinds:
        s.will_open(kinds[str(value)], fact.step)


def _leak_repaired(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "no":
        s.will_open("leak_open", fact.step)
    elif "leak_open" in s.open:
        s.to_clear.append(("leak_open", fact.step))


def _leak_found(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "yes":
        s.will_open("leak_open", fact.step)


def _detector_state(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    closed = any(r.closed_room for r in s.site.racks) if s.rack is None else s.rack.closed_room
    s.stay_out = value == "alarm" or (value in ("dead", "none") and closed)


def _crankcase_temperature(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if "liquid_in_compressor" in s.open and _liquid_is_out(s):
        s.to_clear.append(("liquid_in_compressor", fact.step))


def _liquid_is_out(s: "State") -> bool:
    """All that must hold before liquid in a standing machine is taken for gone. Never by waiting alone."""
    dew = s.derived.get("suction_dew_degf")
    warm = s.us("crankcase_temperature")
    return (
        _feed_is_off(s)
        and s.value("crankcase_heater") == "on"
        and "liquid_oil" in s.waited
        and s.value("oil_level") in ("low", "normal")
        and warm is not None
        and dew is not None
        and warm >= dew.value + 20
    )


def _feed_is_off(s: "State") -> bool:
    """The injection was seen to stop; or it never fed, and what brought the liquid back was repaired."""
    after = s.value("injection_after")
    return after == "stopped" or (after is None and not s.was_fed and s.choice == "repaired")


def _follow_up_owner(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    step = s.steps.get(fact.step)
    if step and "locked_out" in step.hands_over:
        _hand_over_locked(s, str(value))


def _hand_over_locked(s: "State", owner: str) -> None:
    for id_ in ("panel_cover", "valve_closed.discharge", "valve_closed.suction", "valve_closed.injection",
                "liquid_in_compressor", "locked_out"):  # fmt: skip
        if id_ in s.open:
            s.to_hand_over.append((id_, owner, 0.0))


def _follow_up_in_hours(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    owner, step = s.value("follow_up_owner"), s.steps.get(fact.step)
    if step and "*" in step.hands_over and owner is not None and isinstance(value, (int, float)):
        for id_ in list(s.open):
            rule = OBLIGATIONS[id_]
            if rule.hand_over == "owner" and (not rule.within_hours or value <= rule.within_hours):
                s.to_hand_over.append((id_, str(owner), float(value)))


def _chain_dead_check(s: "State", value: Value, fact: ReadingTaken, at: datetime) -> None:
    if value == "two":
        s.two_open = True
    elif value != "none" and value not in s.contacts:
        s.contacts.append(str(value))


def _across(s: "State", id_: str, value: Value) -> None:
    names = {"oil_pressure": "oil", "high_pressure": "high pressure", "low_pressure": "low pressure",
             "motor_protection": "motor", "discharge_temperature": "discharge"}  # fmt: skip
    name = names.get(id_.partition(".")[2])
    rack = s.rack
    full = rack is not None and isinstance(value, (int, float)) and volts_present(value, rack.panel.control_volts) is True
    if name and full and name not in s.contacts:
        s.contacts.append(name)


_HANDLERS: dict[str, Callable[["State", Value, ReadingTaken, datetime], None]] = {
    "control_power_on": _control_power_on,
    "control_power_off": _control_power_off,
    "module_output_volts": _module_output_volts,
    "lock_removed": _lock_removed,
    "running_now": _running_now,
    "control_reset": _control_reset,
    "overload_state": _overload_state,
    "start_prevented": _start_prevented,
    "jumper_fitted": _jumper_fitted,
    "jumper_removed": _jumper_removed,
    "leads_clipped": _leads_clipped,
    "injection_feed": _injection_feed,
    "injection_after": _injection_after,
    "injection_hand_valve": _injection_hand_valve,
    "switch_position": _switch_position,
    "defrost_disabled": _defrost_disabled,
    "part_left_in_use": _part_left_in_use,
    "leak_repaired": _leak_repaired,
    "leak_found": _leak_found,
    "detector_state": _detector_state,
    "crankcase_temperature": _crankcase_temperature,
    "follow_up_owner": _follow_up_owner,
    "follow_up_in_hours": _follow_up_in_hours,
    "chain_dead_check": _chain_dead_check,
}
"""By the reading's id."""
