"""What is known in a call, as the rooms that judge take it: readings in US units, what was established, the site."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import combinations

from assistant.branches.conditions import facts as from_readings
from assistant.branches.motor.causes import draw_out_of_limits
from assistant.branches.search import CONTACT_IDS, found, proven, to_mend
from assistant.call.facts import ReadingTaken
from assistant.call.moments import OF_A_NEIGHBOUR, of_a_moment
from assistant.call.standing import worse_end
from assistant.call.state import State
from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Rack
from assistant.trade.case import Case, SiteFacts
from assistant.trade.contradictions import contradictions
from assistant.trade.leak import Addition, Dates, dates, leak_rule, of_one_leak, over_threshold
from assistant.trade.units import us_value
from assistant.trade.watch import not_settled

ROUNDED_DEGF = 0.05
"""What a trip loses that is told in another unit: 250 F is 121.1 C."""


def one_round(s: State, ids: Iterable[str]) -> bool:
    """Whether these readings were taken within one round, in one state of the machine (S40)."""
    return _in_one_round(_taken(s, ids).values(), timedelta(minutes=s.limits.round_minutes))


def older(s: State, ids: Iterable[str]) -> list[str]:
    """Those of these readings that are not of one round with the one taken last, in the state that the machine is in now."""
    taken = _taken(s, ids)
    last = max(taken.values(), key=lambda one: one[0], default=None)
    round_ = timedelta(minutes=s.limits.round_minutes)
    return [i for i, one in taken.items() if last and one[1] == last[1] and not _together(one, last, round_)]


def _taken(s: State, ids: Iterable[str]) -> dict[str, tuple[datetime, int | None]]:
    """When each of these was read that drifts, and in which state of the machine and its charge; of a neighbour's in none."""
    changes = [moment for moment in (s.started_at, s.stopped_at, *s.charged_at) if moment is not None]
    return {
        i: (at, None if i in OF_A_NEIGHBOUR else sum(at >= moment for moment in changes))
        for i in ids if of_a_moment(i) and (at := s.taken_at.get(i))
    }  # fmt: skip


def _in_one_round(taken: Collection[tuple[datetime, int | None]], round_: timedelta) -> bool:
    return all(_together(a, b, round_) for a, b in combinations(taken, 2))


def _together(a: tuple[datetime, int | None], b: tuple[datetime, int | None], round_: timedelta) -> bool:
    """Whether two moments belong to one round, in one state of the machine."""
    (at_a, state_a), (at_b, state_b) = a, b
    return abs(at_a - at_b) <= round_ and (state_a == state_b or state_a is None or state_b is None)


def _apart(s: State) -> frozenset[frozenset[str]]:
    """The pairs of readings that are not of one round."""
    round_ = timedelta(minutes=s.limits.round_minutes)
    pairs = combinations(_taken(s, s.readings).items(), 2)
    return frozenset(frozenset((a, b)) for (a, at_a), (b, at_b) in pairs if not _together(at_a, at_b, round_))


def case_of(s: State) -> Case:
    """The call as the conditions of its steps look at it, with what is on record as derived and concluded."""
    if s.case is None:
        s.case = _build(s)
    return s.case


def in_us(readings: Mapping[str, ReadingTaken]) -> dict[str, Value]:
    """Readings as the rooms that judge take them: in US units, by id; an unsteady insulation by its lower end (S18, S27)."""
    value = {i: worse_end(r) if i == "ground_megohms" else r.value for i, r in readings.items()}
    return {i: us_value(value[i], r.unit, vocabulary()[i].kind) for i, r in readings.items()}


def _build(s: State) -> Case:
    rack = s.rack
    case = Case(
        readings=in_us(s.readings),
        derived={i: v.value for i, v in s.derived.items()},
        bands={i: (v.low, v.high) for i, v in s.derived.items() if v.low is not None and v.high is not None},
        facts=frozenset((*s.established(), *_of_the_call(s))),
        site=site_facts(s, rack) if rack else SiteFacts(),
        standings={c.cause: c.standing for c in s.conclusions.values()},
        mended=frozenset(c for c in s.conclusions if s.choice == "repaired" and not s.concluded_running(c)),
        contacts=tuple(s.contacts),
        apart=_apart(s),
    )
    return case.with_facts(from_readings(case))


def stood_minutes(s: State, at: datetime) -> float | None:
    """How long the machine has stood since its trip; None where nobody knows."""
    ago = s.number("alarm_minutes_ago")
    return None if ago is None or s.opened_at is None else ago + (at - s.opened_at).total_seconds() / 60


def _stood(s: State, id_: str, minutes: float) -> bool:
    """Whether it had stood so long when this was read."""
    at = s.taken_at.get(id_)
    stood = stood_minutes(s, at) if at and id_ in s.readings else None
    return stood is not None and stood >= minutes


def _before_the_start(s: State, id_: str) -> bool:
    """Whether it was read before the machine was started."""
    at = s.taken_at.get(id_)
    return at is not None and s.started_at is not None and at < s.started_at


IN_ITS_DELAY = timedelta(minutes=5)
"""An oil control lets a machine run for two minutes without oil, and the trip is told within a few more. Common practice."""


def _soon_after_its_start(s: State) -> bool:
    """Whether it stopped so soon after its start that its oil control may have opened inside its delay."""
    return s.started_at is not None and s.stopped_at is not None and s.stopped_at - s.started_at <= IN_ITS_DELAY


def _of_the_call(s: State) -> Iterator[str]:
    """Facts that times and the course of the call establish."""
    checks = {
        "standing_over_an_hour": _stood(s, "probe_pipe_temperature", s.limits.standing_minutes),
        "windings_read_after_an_hour": _stood(s, "winding_ohms.ab", s.limits.standing_minutes),
        "lockout_waited": _stood(s, "overload_state", s.limits.protection_lockout_minutes),
        "timer_elapsed": s.output_read_after_s >= s.limits.module_delay_s,
        "reset_tried": bool(s.resets),
        "read_running": s.started_at is not None,
        "head_fan_seen_standing": _before_the_start(s, "head_fan_running") and not s.found_running,
        "tripped_in_its_delay": s.tripped_again and _soon_after_its_start(s),
        "settled": bool(s.series) and not s.stopped and not _unsettled(s),
        "all_checked": _all_checked(s),
    }
    yield from (name for name, true in checks.items() if true)
    for contact in s.rack.panel.contacts if s.rack else ():
        name = CONTACT_IDS[contact.name]
        if contact.name in s.contacts:
            yield f"contact_open:{name}"
        elif s.value("chain_dead_check") in (*CONTACT_IDS, "none"):
            yield f"contact_closed:{name}"


def _all_checked(s: State) -> bool:
    """Nothing was skipped that leaves something unproven, the call was neither closed early nor repaired on, and the panel was
    this machine's."""
    own = s.compressor.tag if s.compressor else None
    if s.value("panel_tag") not in (None, own):
        return False
    skipped = (s.steps[id_] for id_, how in s.answered.items() if how == "skipped")
    return not s.finishing and not s.choice and all(step.free_to_skip for step in skipped)


def doubted(s: State, case: Case) -> frozenset[str]:
    """Readings that were found not to be true together, until both agree in one round (S41)."""
    holds = [one.ids for one in contradictions(case)]
    before = [ids for ids in s.contradicted if not case.together(*ids) or not all(i in case.readings for i in ids)]
    return frozenset(i for ids in (*holds, *before) for i in ids)


def overtaken(s: State, since: datetime | None = None) -> set[str]:
    """Values that rest on a reading which was put right behind them, in another round than the others: they have no verdict (S40,
    S41). One that was asked again for its age is read once more, and puts nothing right.

    Args:
        since: only values worked out from then on.
    """
    found: set[str] = set()
    for id_, one in s.derived.items():
        at = s.derived_at[id_]
        right = (i for i in one.source if i in s.readings and s.readings[i].corrected and i not in s.too_old)
        later = (i for i in right if s.taken_at[i] > at)
        if (since is None or at >= since) and any(later) and not one_round(s, one.source):
            found.add(id_)
    return found


def why_not_settled(s: State) -> tuple[str, ...]:
    """Why the restarted machine has not settled, as spoken sentences; empty when it has."""
    if why := _unsettled(s):
        return why
    if doubted(s, case_of(s)):
        return ("Two readings cannot both be true.",)
    if s.sounds_wrong:
        return ("It did not sound right.",)
    if overtaken(s, s.started_at):
        return ("A reading was put right, and not read again with the others.",)
    return ("Its amps are out of limits.",) if draw_out_of_limits(case_of(s)) else ()  # whatever they hang on (S41)


def _unsettled(s: State) -> tuple[str, ...]:
    """The same by the rounds alone."""
    rack = s.rack
    if rack is None:
        return ("The machine is not known.",)
    loaded = s.value("capacity_control") in ("full", "none")
    seen = s.value("injection_feed") == "feeding" and s.has("feed_read_running")
    near = ("The head is too near its cutout.",) if _near_its_cutout(s) else ()
    return (*near, *not_settled(s.rounds, rack.suction_set_point_psig, rack.probe.trip_degf, loaded, seen, rack.limits))


def _near_its_cutout(s: State) -> bool:
    setting, head = high_cutout_psig(s), s.us("watch.discharge_pressure")
    return bool(setting) and head is not None and head > setting - s.limits.settled_under_cutout_delta_psi


def settled(s: State) -> bool:
    return bool(s.series) and not s.stopped and not why_not_settled(s)


def why_left_running(s: State) -> str:
    """Why somebody comes back to the running machine, as it is spoken."""
    case = case_of(s)
    if any(proven(case, c) and s.concluded_running(c) and c not in s.stood_before for c in to_mend(case)):
        return "its cause not repaired"  # whatever else it is
    if not settled(s):
        return "not settled"
    beside = any(proven(case, cause) for cause in ("head_fan_failed", "oil_level_low"))  # mended too
    return "its cause not repaired" if found(case) or beside else "cause of the trip not found"


def _cutout_read_psig(s: State) -> tuple[float, bool] | None:
    """Where its pressure control was read to open [psig] on this call, and whether it is the high one: that opens over what the
    head is held at, the low one under the suction."""
    read, rack = s.us("cutout_pressure"), s.rack
    return None if read is None or rack is None else (read, read > (rack.head_minimum_psig or rack.suction_set_point_psig))


def high_cutout_psig(s: State) -> float:
    """Where its high-pressure control opens [psig]: as read at it on this call, else the profile's; 0 where nobody knows."""
    read = _cutout_read_psig(s)
    if s.rack is None:
        return 0.0
    return read[0] if read and read[1] else s.rack.high_cutout_psig


def low_cutout_psig(s: State) -> float | None:
    """Where its low-pressure control opens [psig]: as read at it on this call, else the profile's; None where nobody knows."""
    read = _cutout_read_psig(s)
    if s.rack is None:
        return None
    return read[0] if read and not read[1] else s.rack.low_cutout_psig


def site_facts(s: State, rack: Rack) -> SiteFacts:
    """The profile as the diagnosis takes it."""
    place = next((i for i, c in enumerate(rack.compressors) if c.id == s.value("compressor")), 0)
    line = rack.liquid_line_psi[min(place, len(rack.liquid_line_psi) - 1)] if rack.liquid_line_psi else 0.0
    added, days_since = _of_this_leak(s, rack.id)
    before = additions_before(s, rack.id)
    return SiteFacts(
        refrigerant=rack.refrigerant, altitude_ft=s.site.altitude_ft, control_volts=rack.panel.control_volts,
        coil_volts_rated=rack.injection.coil_volts, coil_ohms=rack.injection.coil_ohms,
        probe_curve=rack.probe.curve, trip_temperature_degf=rack.probe.trip_degf, condenser_fans=rack.condenser_fans,
        compressors=len(rack.compressors),
        head_minimum_psig=rack.head_minimum_psig, suction_set_point_psig=rack.suction_set_point_psig,
        lift_ft=rack.liquid_lift_ft, liquid_line_delta_psi=line, full_charge_lb=rack.full_charge_lb or None,
        injection_holds_degf=rack.probe.inject_degf, limits=rack.limits, instruments=s.site.instruments,
        ratio_limit=rack.ratio_limit, design_suction_degf=rack.design_suction_degf,
        discharge_reset=rack.panel.discharge_reset, output_own_feed=rack.injection.output_own_feed,
        days_since_addition=days_since, added_for_this_leak_lb=added, added_before_lb=sum(one.pounds for one in before),
        rated_amps=rack.panel.rated_amps, starter_coil_ohms=rack.panel.starter_coil_ohms or None,
        high_cutout_psig=rack.high_cutout_psig or None, low_cutout_psig=rack.low_cutout_psig,
        held_contacts=frozenset(c.name for c in rack.panel.contacts if c.kind == "held"),
        machine_kind=rack.machine_kind, oil=rack.oil,
    )  # fmt: skip


def additions_before(s: State, rack_id: str) -> list[Addition]:
    """What was added to this rack in the last 365 days, by earlier calls."""
    return [Addition(days, pounds) for r, days, pounds in (s.opened.additions if s.opened else ()) if r == rack_id]


def _of_this_leak(s: State, rack_id: str) -> tuple[float, float | None]:
    mended = [days for r, days in (s.opened.leaks_mended if s.opened else ()) if r == rack_id]
    return of_one_leak(additions_before(s, rack_id), min(mended, default=None))


def leak_law(s: State) -> tuple[Dates, str] | None:
    """The dates that the law sets where this addition's leak rate is over its limit, and the section; None where it is not over,
    or no rule applies."""
    rate, rack = s.derived.get("leak_rate_annualizing"), s.rack
    if rate is None or rack is None or s.opened_at is None:
        return None
    day = s.opened_at.date()
    rule = leak_rule(rack.refrigerant, s.site.category, rack.full_charge_lb, day)
    return (dates(rule, day), rule.part) if rule is not None and over_threshold(rate.value, rule) else None


def in_words(by: Dates) -> str:
    """The dates as they are said."""
    return f"repair by {by.repair_by:%B} {by.repair_by.day}, verify again by {by.verify_by:%B} {by.verify_by.day}"


def after_trip(s: State, wait: timedelta) -> datetime | None:
    """When so much time has gone by since the trip, as far as it is known."""
    ago = s.number("alarm_minutes_ago")
    return None if s.opened_at is None else s.opened_at + wait - timedelta(minutes=ago or 0.0)
