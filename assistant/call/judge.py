"""What the readings of a call mean: hands them to the diagnosis and brings back what is new."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from assistant.branches.actions import action
from assistant.branches.diagnosis import diagnose
from assistant.branches.motor.causes import AMPS, VOLTS, WINDINGS
from assistant.branches.search import found
from assistant.call.by_reading import READ_DEAD
from assistant.call.facts import Concluded, Contradicted, Fact, NotComputed, ReadingsTooOld, ReadingTaken, ValueDerived
from assistant.call.known import case_of, doubted, in_us, older, one_round, overtaken, site_facts
from assistant.call.state import State, may_read_again
from assistant.language.vocabulary import vocabulary
from assistant.profile import Rack
from assistant.trade.contradictions import contradictions
from assistant.trade.derive import Derived, Deriver, bands, values
from assistant.trade.watch import minutes_to_settle, minutes_to_trip, trend

_RANK = {"ruled_out": 0, "suspected": 1, "supported": 2, "proven": 3}
_AFTER_REPAIR = frozenset({"no_fault_found", "injection_valve_stuck_closed", "refrigerant_low", "return_gas_hot",
                           "head_high", "suction_low", "capacity_control_stuck", "condenser_fouled",
                           "condenser_fan_failed", "head_fan_failed", "phase_lost", "phase_reversed", "motor_overloaded",
                           "motor_poorly_cooled", "compressor_seized", "oil_pump_worn", "oil_control_faulty",
                           "pressure_control_faulty", "discharge_restricted", "suction_restricted",
                           "injection_strainer_plugged", "discharge_valves_leaking", "injection_wrong_size",
                           "controller_wrong_refrigerant", "liquid_feed_restricted", "module_false_trip"})  # fmt: skip
"""Causes that readings after a repair may still speak for; the others were decided before it."""


_SINCE_THE_TRIP = frozenset({"standing_over_an_hour", "windings_read_after_an_hour", "lockout_waited"})
"""Facts that hang on how long ago it tripped."""


_OPENED_AND_SOUND = frozenset({"strainer_opened_clean"})
"""What is seen of a part once it is open rules it out, though its repair was begun."""


class Judge:
    """Remembers the last answer, since the same readings mean the same."""

    def __init__(self) -> None:
        self._key: object = None
        self._facts: list[Fact] = []
        self._derive = Deriver()

    def __call__(self, s: State) -> Iterator[Fact]:
        if s.rack is None or _mixed(s):
            return
        key = (
            tuple((i, r.value, s.taken_at[i]) for i, r in s.readings.items()), len(s.answered), s.choice, len(s.resets),
            s.feed.off_at, len(s.series), frozenset(s.established()), len(s.contradicted),
        )  # fmt: skip
        if key != self._key:
            self._key, self._facts = key, list(_facts(s, s.rack, self._derive))
        yield from (f for f in self._facts if _new(s, f))


def _mixed(s: State) -> bool:
    """Three of a set are being read again and are not whole yet: nothing is told from a mixture."""
    return any(len({s.readings[i].step for i in three if i in s.readings}) > 1 for three in (WINDINGS, VOLTS, AMPS))


def _new(s: State, fact: Fact) -> bool:
    match fact:
        case ValueDerived(id=id_, value=value):
            return id_ not in s.derived or s.derived[id_].value != value
        case Contradicted(ids=ids):
            return ids not in s.contradicted
        case ReadingsTooOld(ids=ids):
            return not s.too_old >= set(ids)
        case NotComputed(id=id_, reason=reason):
            return s.not_computed.get(id_) != reason
        case Concluded(cause=cause, standing="ruled_out", evidence=evidence) if _OPENED_AND_SOUND & set(evidence):
            return cause not in s.conclusions or s.conclusions[cause].standing != "ruled_out"  # seen as it was opened
        case Concluded(cause=cause, standing=standing):
            before = s.conclusions.get(cause)
            if before is None:
                return True
            if before.standing == standing:  # drawn anew, it rests on record on the value that was put right
                return standing in ("proven", "supported") and _corrected_since(s, before)
            return not s.choice or _RANK[standing] > _RANK[before.standing] or _corrected_since(s, before) or _gone(s, before)
    return False


def _read_since(s: State, before: Concluded) -> list[ReadingTaken]:
    """Readings that a conclusion rests on and that were taken after it was drawn."""
    rests_on = {i for name in before.evidence for i in (s.derived[name].source if name in s.derived else (name,))}
    rests_on |= {"alarm_minutes_ago"} if _SINCE_THE_TRIP & set(before.evidence) else set()
    return [s.readings[i] for i in rests_on if i in s.readings and s.taken_at[i] > s.concluded_at[before.cause]]


def _corrected_since(s: State, before: Concluded) -> bool:
    """One of them was put right: what was proven from a slip is proven no more, after a repair too."""
    return any(reading.corrected for reading in _read_since(s, before))


def _gone(s: State, before: Concluded) -> bool:
    """One of the readings that a conclusion rests on is on record no more: it was another thing's, or another machine's."""
    gone = any(name in vocabulary() and name not in s.readings for name in before.evidence)
    return gone or any(not s.has(name) for name in READ_DEAD & set(before.evidence))


def _fallen(s: State, before: Concluded) -> bool:
    """Whether a conclusion that the readings no longer give falls.

    A further round of the watch is another moment, and takes nothing from what an earlier one has shown.
    """
    since = _read_since(s, before)
    only_watched = bool(since) and all(r.id.startswith("watch.") for r in since)
    return any(r.corrected for r in since) or (not s.choice and not only_watched) or _gone(s, before)


def _shown_before_a_round(s: State, cause: str, held: str, rests_on: set[str]) -> bool:
    """It stands on record so, and only a further round of the watch is far from what it rests on: that takes nothing from it."""
    shown = s.conclusions.get(cause)
    if shown is None or shown.standing != held or _corrected_since(s, shown):
        return False
    return one_round(s, [i for i in rests_on if not i.startswith("watch.")])


def _facts(s: State, rack: Rack, derive: Deriver) -> Iterator[Fact]:
    readings = _readings(s)
    if "running_now" not in readings and s.started_at is None:
        readings.pop("discharge_temperature", None)  # nobody knows yet whether it ran when that was read
    case = replace(case_of(s), readings=in_us(readings))
    ran = s.started_at is not None or s.value("running_now") == "running"  # by itself, or as it was found
    derived = of_one_round(s, derive(case.readings, site_facts(s, rack), "running" if ran else "off"))
    yield from _derived(derived)
    if not (ran or s.finishing):
        yield from _too_old(s, derived)
    yield from _watched(s, rack)
    numbers, ends = values(derived), bands(derived)
    if "ambient_temperature" in readings and "air_read_at_the_valve" in readings["ambient_temperature"].establishes:
        numbers["surroundings_degf"] = float(case.readings["ambient_temperature"])
    if s.feed.spent_s:
        yield ValueDerived("injection_seconds", round(s.feed.spent_s, 1), "s", ("control_power_on", "control_power_off"))
    case = replace(case, derived=numbers, bands=ends)
    yield from (Contradicted(one.ids) for one in contradictions(case))
    in_doubt = doubted(s, case)
    got = {c.cause: c for c in diagnose(case)}
    for cause, c in got.items():
        if cause == "no_fault_found" and (s.choice or found(case_of(s))):
            continue
        shown = s.conclusions.get(cause)
        if not s.choice or cause in _AFTER_REPAIR or (shown is not None and (_corrected_since(s, shown) or _gone(s, shown))):
            held = _standing(s, rack, cause, c.standing)
            rests_on = {i for name in c.evidence for i in (derived[name].from_ids if name in derived else (name,))}
            joined = cause not in BY_TURNS and not one_round(s, rests_on)
            stale = overtaken(s)
            unsettled = bool(in_doubt or stale or s.sounds_wrong)
            barred = unsettled if cause == "no_fault_found" else bool(in_doubt & rests_on or stale & set(c.evidence))
            if held in ("proven", "supported") and (joined or barred):
                if not barred and _shown_before_a_round(s, cause, held, rests_on):
                    continue
                if again := () if barred or s.finishing or s.stopped else _read_again(s, rests_on):
                    yield ReadingsTooOld(again)
                    continue
                yield Concluded(cause, "suspected", tuple(c.evidence), action(cause, "suspected"), c.uncertain)
            else:
                yield Concluded(cause, held, tuple(c.evidence), c.action, c.uncertain)
    for cause, before in s.conclusions.items():
        if cause not in got and before.standing in ("proven", "supported") and _fallen(s, before):
            yield Concluded(cause, "suspected", (), "A reading it rested on was changed.")


OTHER_MOMENTS = "Readings of different moments are not worked out together."
def of_one_round(s: State, derived: dict[str, Derived]) -> dict[str, Derived]:
    """What was worked out, without values that would join readings of different moments or states (S40): the one on record
    stands, or it is withheld, and why is said once."""
    kept: dict[str, Derived] = {}
    for id_, one in derived.items():
        if one.value is None or one_round(s, one.from_ids):
            kept[id_] = one
        elif id_ in s.derived:
            before = s.derived[id_]
            low, high = (before.value if end is None else end for end in (before.low, before.high))
            kept[id_] = replace(one, value=before.value, low=low, high=high, from_ids=before.source)
        else:
            kept[id_] = replace(one, value=None, reason=OTHER_MOMENTS)
    return kept


BY_TURNS = frozenset({"oil_pump_worn"})
"""Causes that are judged from the standing and the running machine in turn: level, foam and crankcase before, then the pump."""


def _standing(s: State, rack: Rack, cause: str, standing: str) -> str:
    """What is not condemned yet though its readings say so.

    Dirt reads like a failed probe until it was cleaned: off the curve condemns no probe that can be cleaned. A winding
    read from the starter has its leads in the reading: it is proven at the motor's terminals, where they may be opened.
    """
    if cause == "winding_failed" and standing == "proven":
        at_terminals = s.has("read_at_terminals")
        return standing if at_terminals else "supported"
    can_be_cleaned = rack.probe.mount in ("clamp", "dry_well") and "probe_ohms.cleaned" not in s.readings
    off = isinstance(s.value("probe_ohms"), float)
    return "supported" if cause == "probe_failed" and standing == "proven" and off and can_be_cleaned else standing


def _derived(derived: dict[str, Derived]) -> Iterator[Fact]:
    for one in derived.values():
        if one.value is None:
            yield NotComputed(one.id, one.reason)
        else:
            ends = (None, None) if one.low == one.high else (_rounded(one.low), _rounded(one.high))
            yield ValueDerived(one.id, round(one.value, 3), one.unit, one.from_ids, *ends)


def _too_old(s: State, derived: dict[str, Derived]) -> Iterator[Fact]:
    """What is read again on the standing machine, for a value that wants readings of one moment."""
    withheld = (one for one in derived.values() if one.value is None and one.reason == OTHER_MOMENTS)
    again = next((again for one in withheld if (again := _read_again(s, one.from_ids))), ())
    if again:
        yield ReadingsTooOld(again)


def _read_again(s: State, ids: Iterable[str]) -> tuple[str, ...]:
    """Those that are older than the rest and were not asked again for that yet."""
    asked = (i for i in older(s, ids) if may_read_again(i) and i not in s.too_old)
    by_itself = (*AMPS, "idle_condenser_pressure")  # three come together; a rack is not shut down by the way
    return tuple(i for i in asked if i not in by_itself and not i.startswith("watch."))  # and a round has its minute


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _watched(s: State, rack: Rack) -> Iterator[Fact]:
    """What the rounds of the watch so far say of the discharge line."""
    rounds, source = s.rounds, ("watch.discharge_temperature",)
    line = [(one.minutes, one.discharge_degf) for one in rounds if one.discharge_degf is not None]
    if len(line) < 2 or line[-1][0] <= line[-2][0]:
        return  # answered so late that the next round was due at once: two readings at one moment have no trend
    error = s.site.instruments.difference_delta_degf
    rise = trend(line[-2:], error)
    low, high = rise.per_minute - rise.error_per_minute, rise.per_minute + rise.error_per_minute
    yield ValueDerived("line_rise", round(rise.per_minute, 2), "F/min", source, round(low, 2), round(high, 2))
    for id_, minutes in (
        ("minutes_to_trip", minutes_to_trip(rounds, rack.probe.trip_degf, error, rack.limits)),
        ("minutes_to_settle", minutes_to_settle(rounds, rack.limits)),
    ):
        if minutes is not None:
            yield ValueDerived(id_, round(minutes, 1), "min", source)


def _readings(s: State) -> dict[str, ReadingTaken]:
    """The readings; after a repair, those of the injection as they were before it."""
    taken = dict(s.readings)
    if s.choice:
        before = s.readings_before.get("repair", {})
        put_right = {i for i, r in s.readings.items() if r.corrected and i in before and r.step == before[i].step}
        fan = s.conclusions.get("head_fan_failed")  # one that only stood with the machine is judged as it is seen running
        of_then = ("injection_", "valve_", *(("head_fan",) if fan and fan.standing == "proven" else ()))
        taken |= {i: r for i, r in before.items() if i.startswith(of_then) and i not in put_right}
    before = s.readings_before.get("charge", {})
    return taken | {i: r for i, r in before.items() if i in ("receiver_level", "sight_glass")}
