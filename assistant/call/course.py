"""Which step comes next, looked up from what is true in a call; nothing is changed here.

The steps stand in one run; the next is the first later one whose conditions hold. Before it comes what it needs: what is
asked anew after an interruption, the store told before a lock that stops the rack, the proof of absence of voltage, the
gates of live work. Ahead of everything: an emergency's questions, a room that nobody may enter, a machine that must stop.
"""

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta

from assistant.branches.order import best, worth_asking
from assistant.branches.steps import Procedure, Step
from assistant.call.by_reading import ASKED_ANEW, DUE, HOOKED_UP, IN_A_PANEL, OUTSIDE_DUE
from assistant.call.conditions import holds, judged
from assistant.call.facts import LEFT
from assistant.call.known import after_trip, case_of
from assistant.call.permits import (
    RESET_NEEDS,
    live_refused,
    may_energise,
    must_stop,
    read_before_reset,
    runs,
    to_lock_again,
)  # fmt: skip
from assistant.call.repairing import repair
from assistant.call.state import State
from assistant.language.vocabulary import vocabulary
from assistant.trade.watch import minutes_to_trip

_BEFORE_A_RESET = frozenset(id_ for ids in RESET_NEEDS.values() for id_ in ids)
_LIVE_ACTS = ("live", "power_on")
_UNDER_ONES_OWN_LOCK = (*_LIVE_ACTS, "hands_in")
"""Acts that end with the hand-over of the lock: whoever has it now begins at its tag."""
_VOLUNTEERED = ("front", "machine", "looks", "liquid")
"""Parts of the call whose readings may be said before they are asked for."""
_AT_WORK = ("prepare", "repair", "made tight", "put back", "ready", "start")
_UNGUARDED = ("", "stop", "power_off")
"""Acts that no question holds up: they take something dangerous away, or are none."""


class Course:
    """The steps in their order: the run, and what is put before a step of it."""

    chosen = True
    """Looks are ordered by what they tell for their effort, and those that can change nothing are passed over; else the trade's
    order stands, to measure against."""

    def __init__(self, procedure: Procedure) -> None:
        steps = procedure.steps
        self.run = [s for s in steps if not s.inserted]
        self.proof = {s.asking: s for s in steps if s.proof}
        self.gates = [s for s in steps if s.part == "live gate"]
        self.reset_gates = [s for s in steps if s.part == "reset gate"]
        self.lock_gates = [s for s in steps if s.part == "lock gate"]
        self.returns = {HOOKED_UP if s.asking == "command" else s.asking: s for s in steps if s.part == "return"}
        self.fit = next(s for s in steps if s.asking == "fit_to_start")
        self.consent = next(s for s in steps if s.asking == "close_consent")
        self.leave_locked = next(s for s in steps if "locked" in s.hands_over)
        self.hand_over = next(s for s in steps if "owner" in s.hands_over)
        self.stop = next(s for s in steps if s.act == "stop")
        self.panel_at = next((i for i, s in enumerate(self.run) if s.station == "panel"), 0)
        """Place in the run where the panel is opened."""
        self._plain = [(i, s, tuple(x for x in s.ids if _told(x))) for i, s in enumerate(self.run) if _plain(s)]

    def next_step(self, s: State) -> Step | None:
        """What is asked next; None where nothing can be asked any more and the call ends open."""
        people = self._returning(s, OUTSIDE_DUE)
        if s.alarm and not people:
            return self._outside(s)
        return self.first_of_all(s) or self._before(self._target(s), s)

    def first_of_all(self, s: State) -> Step | None:
        """What is asked before anything else: people, the room, power off, a machine that must stop, another's lock."""
        people = self._returning(s, OUTSIDE_DUE)
        if people or s.alarm:
            return people
        if s.feed.window and (s.feed.over or s.due or s.tag_doubted):
            return self.power_off(s)
        if must_stop(s) and not s.stopped:
            return self.stop
        return self._returning(s, [what for what, step in self.returns.items() if step.at_once])

    def index(self, step_id: str, s: State) -> int:
        """Place of a step in the run, of looks that may come in any order the first's; what is put before a step leaves the
        place where it was, and so does a stop."""
        among = next((step.among for step in self.run if step.id == step_id), "")
        same = (i for i, step in enumerate(self.run) if step.id == step_id or (among and step.among == among))
        return next(same, s.position)

    def asks(self, id_: str) -> Step | None:
        """The plain step that would have asked for a reading."""
        return next((step for _, step, told in self._plain if id_ in told), None)

    def place_after_interruption(self, s: State) -> int:
        """Where the run is taken up: no later than what is asked anew before a start, and what clears a thing that is open
        and would else be passed."""
        if s.started_at is not None or s.stopped:
            return s.position
        anew = (
            i for i, step in enumerate(self.run)
            if step.id not in s.answered and (
                step.asking in ASKED_ANEW or (step.act == "unlock" and s.lock.locked)
                or (step.asking == "cylinder_checked" and s.asks_for_a_charge())
                or (step.asking in s.too_late and step.asking not in s.readings)
            )
        )  # fmt: skip
        place = min([s.position, *anew])
        return min([place, *self._passed(s, place)])

    def _passed(self, s: State, place: int) -> Iterable[int]:
        """The last step that clears each open thing, where none of them lies ahead before the lock comes off."""
        unlocks = [i for i, step in enumerate(self.run) if step.act == "unlock"]
        unlock = next((i for i in unlocks if i >= place and self.run[i].id not in s.answered), unlocks[-1])
        for id_ in s.open:
            clear = [i for i, c in enumerate(self.run[: unlock + 1]) if id_ in c.clears and c.id not in s.answered]
            if clear and clear[-1] < place:
                yield clear[-1]

    def place_after_stop(self, s: State) -> int:
        """Where the run is taken up once the machine has stopped: no later than what locks it and leaves it off."""
        place = next(i for i, step in enumerate(self.run) if step.part == self.stop.part)
        return place if s.started_at is None else min(s.position, place)

    def applies(self, step: Step, s: State) -> bool:
        """Whether a step of the run may be asked now."""
        begun = step.id == s.step and bool(s.given_ids)  # what its first answer has changed does not end it
        names = [n for n in step.when if not judged(n)] if begun else step.when
        if not self.may(step, s) or not all(holds(s, name) for name in names):
            return False
        return begun or not self.chosen or bool(_BEFORE_A_RESET & set(step.ids)) or worth_asking(step, case_of(s))

    def may(self, step: Step, s: State) -> bool:
        """Whether what the step does may be done now, whatever its conditions say."""
        handed = "locked_out" in s.handed_over and (step.act in _UNDER_ONES_OWN_LOCK or step.proof)
        return not (handed or self.no_live(step, s)) and read_before_reset(step.resets, s)

    def no_live(self, step: Step, s: State) -> bool:
        """It is a live step, and there is no live work on this call or no second left for it, or nothing may be powered."""
        if step.act not in _LIVE_ACTS:
            return False
        spent = s.feed.over or (s.feed.stimulus and not s.valve_shut and s.feed.spent_s >= s.limits.feed_budget_s)
        return bool(live_refused(s)) or spent or (step.act == "power_on" and not may_energise(s))

    # ---- the run

    def _ahead(self, s: State) -> Iterable[Step]:
        """Steps of the run that may come next: not passed, not answered, and safe if closing early."""
        for step in self.run[max(s.position, 0) :]:
            said_before = bool(step.ids) and all(s.given_ahead(id_, step) for id_ in (step.asking, *step.also))
            if step.id not in s.answered and not said_before and (step.safe or not s.finishing):
                yield step

    def volunteered(self, s: State) -> dict[str, Step]:
        """Readings that may be said now though nobody asked, each with the step that would ask it, or that asked it; the
        next first.

        Only plain ones: nothing that is acknowledged, done with the hands, part of a proof or of the watch.
        """
        found: dict[str, Step] = {}
        if s.feed.window or s.due or s.alarm:
            return found
        if runs(s):  # whenever its line is read over its trip, it stops
            found["discharge_temperature"] = next(step for step in self.run if "discharge_temperature" in step.ids)
        if s.finishing:
            return found
        for place, step, told in self._plain:
            if place >= s.position and step.id not in s.answered:
                for id_ in told:
                    found.setdefault(id_, step)
        if "site" not in s.readings and (where := next((step for step in self.run if "rack" in step.ids), None)):
            found["site"] = where  # known by the profile, and said all the same
        # Said again, another value is asked back; while somebody opens, mends and shuts, what is told is of now, not as found.
        here = s.steps.get(s.step)
        as_found = s.started_at is None and not (here is not None and here.part in _AT_WORK)
        for _, step, _ in self._plain if as_found else ():
            found |= {id_: step for id_ in step.ids if id_ in s.readings and id_ not in found}
        return found

    def _measured_again(self, s: State) -> Step | None:
        """What cannot be true beside another reading, and takes hands in the panel: once more, before anything is made ready
        (S41)."""
        busy = s.started_at is not None or s.stopped or s.finishing or s.choice == "left" or s.feed.window
        if busy or s.resets or {"jumper_fitted", "leads_on", "start_blocked"} & set(s.open):
            return None
        steps = (s.steps[s.readings[id_].step] for id_ in s.measure_again if id_ in s.readings)
        return next((step for step in steps if self.may(step, s) and all(holds(s, name) for name in step.when)), None)

    def _target(self, s: State) -> Step:
        if s.value("fit_to_start") is False and self.fit.id not in s.answered and not s.finishing:
            return self.fit  # said on the way: asked anew there, and the call goes on where it was
        if elsewhere := None if s.feed.window else self._at_another_panel(s):
            return elsewhere
        if again := self._measured_again(s):
            return again
        shut = s.finishing and s.running and "valve_closed.suction" in s.open
        if shut and (opens := self._clears("valve_closed.suction", s)):  # it pulls into a vacuum meanwhile
            return opens
        if s.finishing and to_lock_again(s):  # what is left free is locked before anything else is put back
            return self._before_the_lock_goes(s) or self.leave_locked
        step = next((c for c in self._ahead(s) if self.applies(c, s)), None)
        step = self._among(step, s) if step and step.among and self.chosen else step
        if step is None or step is self.consent:
            left = self.leave_locked if to_lock_again(s) else self._still_to_clear(s)
            if left:
                return left
        if step is self.leave_locked:
            return self._before_the_lock_goes(s) or step
        return step or self.consent

    def _at_another_panel(self, s: State) -> Step | None:
        """The tag where it is not known which panel it was, then what takes out what hangs in another one's."""
        if s.tag_doubted and s.started_at is None:
            return self._to_the_lock(self.proof["panel_tag"], s)
        # What was told to be in while the other panel is put back comes out there, before its start is freed (S14).
        told = {"jumper_fitted"} & set(s.open) if any(id_ in s.open for id_ in s.elsewhere) else set()
        return next((step for id_ in IN_A_PANEL if id_ in {*s.elsewhere, *told} and (step := self._clears(id_, s))), None)

    def _before_the_lock_goes(self, s: State) -> Step | None:
        """The step that clears what nobody may take over, or was only asked for: it comes before the lock, which goes to another
        last of all."""
        rules = s.procedure.obligations
        mine = [id_ for id_ in rules if id_ in s.open and (rules[id_].hand_over == "never" or _only_asked(s, id_))]
        return next((step for step in (self._clears(id_, s) for id_ in mine) if step), None)

    def _clears(self, id_: str, s: State) -> Step | None:
        """The step that clears it by hand, one that may be asked now before others."""
        clears = [c for c in (*self.run, *self.lock_gates) if id_ in c.clears]
        return next((c for c in clears if self.applies(c, s)), clears[0] if clears else None)

    def _among(self, first: Step, s: State) -> Step:
        """Of the looks that may come in any order the one that is begun, else the one that tells most for its effort."""
        same = [c for c in self._ahead(s) if c.among == first.among and self.applies(c, s)]
        return next((c for c in same if c.id == s.step), None) or best(same, case_of(s), s.station)

    def _still_to_clear(self, s: State) -> Step | None:
        """The step that deals with the most dangerous thing still open."""
        for id_, rule in s.procedure.obligations.items():
            if id_ not in s.open:
                continue
            step = self._clears(id_, s)
            by_hand = step is not None and (rule.hand_over != "owner" or self.applies(step, s))  # else somebody takes it over
            by_hand = by_hand and not (id_ == "section_shut" and _leaks(s))  # nothing is let out of a leak again
            stays = step is not None and step.act == "unlock" and not self.applies(step, s)
            by_hand = by_hand and not stays  # on what is left off the lock stays
            if step and by_hand and not (rule.hand_over == "locked" and s.lock.locked):
                return step
            if id_ != "panel_cover" and rule.hand_over != "never":
                return self.leave_locked if rule.hand_over == "locked" else self.hand_over
            if step:
                return step
        return None

    def _outside(self, s: State) -> Step | None:
        """What can still be done without going in: hand over under the lock that is on, tell the store, close. With control
        power on nothing is locked off, and no call closes on a machine that must stop and runs (S24)."""
        if s.feed.window or (must_stop(s) and not s.stopped):
            return None
        if "locked_out" in s.open and s.lock.locked:
            return self.leave_locked
        hangs = [id_ for id_, opened in s.open.items() if s.procedure.obligations[id_].hand_over != "owner"]
        if not all(s.open[id_].detail == LEFT for id_ in hangs):
            return None
        steps = (step for step in self.run if step.outside and step is not self.leave_locked)
        steps = (step for step in steps if step.id not in s.answered or step.asking == "store_told")  # of this, anew
        left = None if hangs else self.consent  # what an earlier call left stays there, and this one open
        return next((step for step in steps if step is not self.consent and self.applies(step, s)), left)

    # ---- what comes before a step

    def _returning(self, s: State, among: Collection[str]) -> Step | None:
        """What of this is still asked anew after an interruption."""
        due = (what for what in s.due if what in among and (what in OUTSIDE_DUE or not s.alarm))
        return next((self.returns[what] for what in due if what in self.returns and (s.open or what != HOOKED_UP)), None)

    def power_off(self, s: State) -> Step | None:
        """The step that ends the live window."""
        ending = [step for step in self.run if step.act == "power_off"]
        ahead = (step for step in ending if step.id not in s.answered and self.run.index(step) >= s.position)
        return next(ahead, ending[-1])

    def _before(self, step: Step, s: State) -> Step:
        """The step itself, or what must be done before it."""
        if s.due and guarded(step):
            anew = self._returning(s, DUE)
            if anew:
                return anew
        needs = {*step.needs, *(repair(s).needs if "repair" in step.needs else ())}
        to_prove = step.act == "hands_in" or "dead" in needs
        # No power on what nobody has looked at, dead, since an interruption.
        to_prove = to_prove or (step.act == "power_on" and s.unseen)
        to_prove = to_prove or ("panel_cover" in step.clears and s.live_said)  # hands are at it there too
        # The lock came off, power is back, and the cover is off after all: it goes on behind a lock and a proof of its own.
        freed = "lock_removed" in s.readings and s.started_at is None and "panel_cover" in s.open
        to_prove = to_prove or ("panel_cover" in step.clears and freed)
        to_prove = to_prove or ("power_off" in needs and (s.lock.powered or not s.lock.locked))
        if to_prove and not s.lock.dead:
            return self._to_the_lock(self.proof[s.proof_needed()[len(s.lock.proof)]], s)
        if ("locked" in needs or _makes_ready(step, s)) and not s.lock.locked:
            return self._to_the_lock(self.proof["locked_out" if s.lock.made[:1] == ("panel_tag",) else "panel_tag"], s)
        if step.act in _LIVE_ACTS:
            gate = next((g for g in self.gates if g.id not in s.answered), None)
            if gate:
                return gate
        gates = self.reset_gates if step.resets else []
        return next((g for g in gates if g.id not in s.answered and all(holds(s, name) for name in g.when)), step)

    def _to_the_lock(self, step: Step, s: State) -> Step:
        """A step of the proof; before a lock that stops more than this machine, the store is told (S6)."""
        if not s.lock.locked:
            for gate in self.lock_gates:
                if s.answered.get(gate.id) != "done" and all(holds(s, name) for name in gate.when):
                    return gate
        return step

    def last_plain(self, s: State) -> Step | None:
        """The last step answered that may be asked again: a question, with no change of power or lock since, and
        nothing opened since: a step opens as soon as it is asked."""
        if s.step and s.steps[s.step].opens and s.step not in s.answered:
            return None
        for id_ in reversed(s.order):
            step = s.steps[id_]
            if step.act in ("power_on", "power_off", "unlock", "start", "stop") or step.opens or step.clears or step.hands_over:
                return None
            near = step.station == s.station or {step.station, s.station} <= {"front", "machine"}
            if not near or (s.finishing and not step.safe) or step.resets or step.keeps_readings:
                return None
            if (step.asking != "command" or step.tells) and not step.inserted and step.act != "live":
                return step
        return None


def _told(id_: str) -> bool:
    """Whether it is a reading that somebody tells, no acknowledgement and no free words."""
    return vocabulary()[id_].kind not in ("acknowledge", "free")


def _only_asked(s: State, id_: str) -> bool:
    """It was asked for and nobody said that it was done: it is undone rather than left to somebody ("your lock on the fans")."""
    step = s.steps.get(s.open[id_].step)
    if step is None or id_ not in step.opens or step.asking not in vocabulary():
        return False
    return vocabulary()[step.asking].kind == "acknowledge" and step.asking not in s.readings


def _leaks(s: State) -> bool:
    """A leak was found, and left."""
    return "leak_open" in s.open or "leak_open" in s.handed_over


def _makes_ready(step: Step, s: State) -> bool:
    """Hands put it back as it was, or make it ready, before the own lock comes off: found off too soon, or where a start must not
    be any more, it goes on again."""
    ready = step.part == "ready" and step.asking in ASKED_ANEW
    looks = any(name.startswith("open:") for name in step.when)
    return (ready or (step.part in ("made tight", "put back", "start") and (bool(step.clears) or looks))) and to_lock_again(s)


def _plain(step: Step) -> bool:
    """A question whose answer changes nothing but what is known."""
    bound = step.act or step.opens or step.clears or step.resets or step.hands_over or step.needs or step.establishes
    timed = step.watch_round or step.wait_minutes or step.wait_minutes_after_power_off or step.wait_minutes_after_start
    plain = not (bound or timed or step.wait_minutes_after_trip or step.keeps_readings or step.required)
    return plain and step.part in _VOLUNTEERED and step.asking != "command"


def guarded(step: Step) -> bool:
    """Whether a step has to do with power, lock, panel, repair or start: after an interruption it waits for what is asked
    anew (S5)."""
    parts = ("prepare", "repair", "made tight", "put back", "ready", "start")
    inside = step.station in ("panel", "live") or step.part in parts or (step.station == "liquid" and bool(step.cautions))
    return step.proof or bool(step.needs) or step.act not in _UNGUARDED or (inside and step.act not in ("stop", "power_off"))


def wait_until(step: Step, s: State, now: datetime) -> datetime | None:
    """When the step may be asked; None when it may be asked at once."""
    if step.watch_round and s.started_at:
        return s.started_at + timedelta(minutes=round_minutes(step, s))
    power_off = s.feed.off_at or s.taken_at.get("dead_volts.control")
    if step.wait_minutes_after_power_off and power_off:
        return power_off + _minutes(step.wait_minutes_after_power_off, s)
    if step.wait_minutes_after_start and s.started_at:
        return s.started_at + _minutes(step.wait_minutes_after_start, s)
    if step.wait_minutes_after_trip:
        return after_trip(s, _minutes(step.wait_minutes_after_trip, s))
    if step.wait_minutes:
        return s.taken_at.get(step.wait_from, now) + _minutes(step.wait_minutes, s)
    return None


def round_minutes(step: Step, s: State) -> float:
    """When a round of the watch is due, in minutes from the start: as the site has it, or half way to a trip that the rounds
    so far foretell, so that the machine is looked at before it trips."""
    minutes = s.site.watch_minutes
    planned = minutes[min(step.watch_round, len(minutes)) - 1] + s.watch_late_minutes
    rounds, rack = [one for one in s.rounds if one.minutes < planned], s.rack
    if rack is None or not rounds:
        return planned
    trip = minutes_to_trip(rounds, rack.probe.trip_degf, s.site.instruments.difference_delta_degf, rack.limits)
    return planned if trip is None else min(planned, rounds[-1].minutes + max(_SOONEST_MINUTES, trip / 2.0))


_SOONEST_MINUTES = 1.0
"""Between two rounds: less has no trend."""


def _minutes(wait: float | str, s: State) -> timedelta:
    """A wait in minutes, or the limit that it names."""
    return timedelta(minutes=float(getattr(s.limits, wait)) if isinstance(wait, str) else wait)
