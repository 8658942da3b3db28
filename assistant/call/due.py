"""What the facts on record make true and that is not on record yet: found from the state alone, one fact after the other."""

from collections.abc import Callable, Iterable

from assistant.branches.search import SEARCH_ON, found, proven, standing
from assistant.call.facts import (
    LEFT,
    ROOM_NOT_SAFE,
    Fact,
    FinishAsked,
    MachineNamed,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    OthersLockFound,
)
from assistant.call.history import hooked_up_before, left_elsewhere, others_lock_left
from assistant.call.known import case_of, in_words, leak_law, settled, why_left_running
from assistant.call.permits import liquid_back, liquid_is_out
from assistant.call.state import State

Judge = Callable[[State], Iterable[Fact]]
"""What the readings mean: values derived and conclusions that are not on record yet."""


def due(s: State, judge: Judge) -> Fact | None:
    """The next fact that what is on record makes true; None when everything is."""
    return _of_obligations(s) or _of_the_room(s) or _of_the_machine(s) or next(iter(judge(s)), None)


def _of_obligations(s: State) -> Fact | None:
    while s.to_clear:
        id_, step = s.to_clear[0]
        if id_ in s.open:
            return ObligationCleared(id_, step, s.technician)
        s.to_clear.pop(0)
    if s.to_open:
        id_, step, detail = s.to_open[0]
        return ObligationOpened(id_, step, detail, s.technician)
    if s.to_hand_over:
        id_, owner, hours = s.to_hand_over[0]
        return ObligationHandedOver(id_, owner, hours, s.technician)
    if "liquid_in_compressor" in s.open and liquid_is_out(s):
        return ObligationCleared("liquid_in_compressor", s.step, s.technician)
    if "no_cause_reset" in s.open and s.stopped and s.lock.locked:
        return ObligationCleared("no_cause_reset", s.step, s.technician)  # it was to be left running, and stands locked
    if "no_cause_reset" in s.open and s.running and not s.finishing and settled(s) and _set_right(s):
        return ObligationCleared("no_cause_reset", s.step, s.technician)  # opened as the room was left, and settled since
    return None


def _of_the_room(s: State) -> Fact | None:
    return FinishAsked(ROOM_NOT_SAFE) if s.alarm and not s.finishing else None


def machine_named(s: State) -> MachineNamed | None:
    """Which machine the call is about, once rack and compressor are known."""
    rack, compressor = s.rack, s.compressor
    if rack is None or compressor is None:
        return None
    return MachineNamed(
        rack.id, compressor.id, rack.refrigerant, s.site.altitude_ft, rack.suction_set_point_psig, rack.probe.trip_degf
    )


def _of_the_machine(s: State) -> Fact | None:
    named = machine_named(s)
    if named and named != s.machine:
        return named
    if others_lock_left(s) and not s.lock.others and "other_lock_gone" not in s.readings:
        return OthersLockFound("left by an earlier call in another name")
    if s.locks_of_another() and not s.lock.others and not s.to_clear:
        return OthersLockFound("hung by who had this call before")
    if there := left_elsewhere(s):
        return ObligationCleared(there, "", s.technician)
    if before := hooked_up_before(s):
        return ObligationOpened(before, s.step, LEFT, s.technician)
    return _of_the_work(s)


def _set_right(s: State) -> bool:
    """Whether what was found before it ran was done something about, and nothing else is proven of it as it runs."""
    case = case_of(s)
    before_it_ran = any(c in s.stood_before and c not in SEARCH_ON for c in found(case))
    opened = case.has("suction_valve_found_shut") and "valve_closed.suction" in s.cleared  # that is all there was to do about it
    before_it_ran = before_it_ran or (opened and "suction_restricted" in found(case))
    another_gas = proven(case, "wrong_refrigerant") and s.rack and s.value("refrigerant_label") != s.rack.refrigerant
    mended = s.stood_before if s.choice == "repaired" else set()  # that it was so shows once more as it runs
    unmended = any(proven(case, c) and s.concluded_running(c) and c not in mended for c in (*found(case), "head_fan_failed"))
    unmended = unmended or (proven(case, "oil_level_low") and not s.has("oil_read_after"))
    contact = s.readings.get("chain_dead_check")
    since = s.started_at is not None and contact is not None and s.taken_at[contact.id] > s.started_at
    another_contact = since and contact is not None and contact.corrected
    return before_it_ran and not (unmended or another_gas or another_contact)


def _of_the_work(s: State) -> Fact | None:
    ever = {*s.open, *s.handed_over, *s.cleared}
    running = s.started_at is not None and not s.stopped
    case = case_of(s)
    mended = settled(s) and _set_right(s)
    told_otherwise = "no_cause_reset" in s.handed_over and s.why_left != why_left_running(s)
    if s.station == "close" and running and ("no_cause_reset" not in ever or told_otherwise) and not mended:
        return ObligationOpened("no_cause_reset", s.step, why_left_running(s), s.technician)
    device = s.value("reset_device")
    if device in ("missing", "broken") and s.resets & {"discharge", "*"} and "reset_substitute" not in ever:
        return ObligationOpened("reset_substitute", s.step, f"its own is {device}", s.technician)
    law = leak_law(s)
    if law and "leak_over_limit" not in ever:
        by, part = law
        words = f"{in_words(by)} ({part})"
        return ObligationOpened(
            "leak_over_limit", s.step, words, s.technician, by.repair_by.isoformat(), by.verify_by.isoformat()
        )
    weighed = (s.readings.get(id_) for id_ in ("days_since_last_addition", "refrigerant_added", "refrigerant_recovered"))
    if "leak_over_limit" in s.open and law is None and any(read is not None and read.corrected for read in weighed):
        return ObligationCleared("leak_over_limit", s.step, s.technician)  # misspoken: nobody takes over nothing
    if standing(case, "liquid_slugged") and "liquid_in_compressor" not in ever and s.started_at is None:
        return ObligationOpened("liquid_in_compressor", s.step, "oil high or foaming over a cold crankcase", s.technician)
    foams = s.has("oil_read_after") and s.value("oil_level") in ("high", "foaming") and s.started_at is None
    if standing(case, "oil_diluted") and foams and "liquid_in_compressor" not in ever:
        return ObligationOpened("liquid_in_compressor", s.step, "oil high or foaming after the work on it", s.technician)
    if liquid_back(s):
        return ObligationOpened("liquid_in_compressor", s.step, "it was not gone, as was read since", s.technician)
    return None
