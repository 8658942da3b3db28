"""What is true in a call: the facts so far, added up. It changes only through `apply`."""

from dataclasses import dataclass, field
from datetime import datetime

from assistant.call import consequences
from assistant.call.facts import (
    CallContinued,
    CallHeld,
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CautionGiven,
    CheckInAsked,
    Concluded,
    EmergencyDeclared,
    EmergencyOver,
    Fact,
    FinishAsked,
    MachineNamed,
    NotComputed,
    NoteTaken,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    StepDone,
    StepEntered,
    StepReopened,
    StepSkipped,
    ValueDerived,
    WaitEnded,
    WordsHeard,
)
from assistant.call.procedure import Step
from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Compressor, Rack, Site
from assistant.trade.units import us_value
from assistant.trade.watch import Round

FEED_BUDGET_S = 30.0
"""Seconds of feed into a standing compressor a call may spend. Common practice."""


@dataclass
class State:
    site: Site
    steps: dict[str, Step]
    readings: dict[str, ReadingTaken] = field(default_factory=dict)
    taken_at: dict[str, datetime] = field(default_factory=dict)
    """When each reading was last taken."""
    series: list[tuple[datetime, dict[str, float]]] = field(default_factory=list)
    """The rounds of the watch: time, and the watch readings of that round in US units."""
    answered: dict[str, str] = field(default_factory=dict)
    """Step to `done` or `skipped`."""
    waited: set[str] = field(default_factory=set)
    order: list[str] = field(default_factory=list)
    """Steps answered, in the order they were."""
    position: int = -1
    """Index in the run of the last step entered: only later ones are asked, unless one was reopened."""
    step: str = ""
    phase: str = "front"
    entered_at: datetime | None = None
    given_ids: set[str] = field(default_factory=set)
    """Readings taken since the step was entered."""
    open: dict[str, ObligationOpened] = field(default_factory=dict)
    handed_over: dict[str, ObligationHandedOver] = field(default_factory=dict)
    cleared: set[str] = field(default_factory=set)
    to_open: list[tuple[str, str, str]] = field(default_factory=list)
    """Obligations a fact has made true and that are not yet on record: id, step, detail."""
    to_clear: list[tuple[str, str]] = field(default_factory=list)
    to_hand_over: list[tuple[str, str, float]] = field(default_factory=list)
    given: set[str] = field(default_factory=set)
    """Cautions spoken in full."""
    acknowledged: set[str] = field(default_factory=set)
    """Cautions acknowledged; the live ones only since the latest power-on."""
    locked: bool = False
    lock_unsure: bool = False
    """The call was interrupted since the lock was last confirmed."""
    powered: bool = True
    proof: tuple[str, ...] = ()
    """Readings of the proof of absence of voltage made so far, in order."""
    dead: bool = False
    panel_at: datetime | None = None
    """Last time anything was said from the panel while it was proved dead."""
    locked_at: datetime | None = None
    power_on_at: datetime | None = None
    power_off_at: datetime | None = None
    tested: bool = False
    """The power went on in this call for a live test."""
    fed_s: float = 0.0
    was_fed: bool = False
    start_is_blocked: bool = False
    jumper_is_in: bool = False
    leads_are_on: bool = False
    over_budget: bool = False
    contacts: list[str] = field(default_factory=list)
    """Open contacts found."""
    two_open: bool = False
    choice: str = ""
    """`repaired` or `left`, once asked."""
    resets: set[str] = field(default_factory=set)
    """Protections that had their one reset, by contact; `*` for all that were left."""
    readings_before_repair: dict[str, ReadingTaken] = field(default_factory=dict)
    readings_before_charge: dict[str, ReadingTaken] = field(default_factory=dict)
    timer_elapsed: bool = False
    """The module's output was read ten seconds or more after power on."""
    opened_at: datetime | None = None
    machine: MachineNamed | None = None
    additions: tuple[tuple[str, float, float], ...] = ()
    """Refrigerant added here by earlier calls: rack, days before this call, pounds."""
    opened: CallOpened | None = None
    watch_step: str = ""
    started_at: datetime | None = None
    tripped_again: bool = False
    """It tripped after its one start."""
    told: dict[str, str] = field(default_factory=dict)
    """Looks that no id stands for: step to the words that were said."""
    running_causes: set[str] = field(default_factory=set)
    """Causes that were concluded, or rose, after the start."""
    derived: dict[str, ValueDerived] = field(default_factory=dict)
    not_computed: dict[str, str] = field(default_factory=dict)
    conclusions: dict[str, Concluded] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    emergency: bool = False
    held: bool = False
    finishing: bool = False
    stay_out: bool = False
    sealed: bool = False

    # ---- looking

    def value(self, id_: str) -> Value | None:
        taken = self.readings.get(id_)
        return None if taken is None else taken.value

    def number(self, id_: str) -> float | None:
        value = self.value(id_)
        return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None

    def us(self, id_: str) -> float | None:
        """A reading as a number in its US unit, whatever the site's units are."""
        taken = self.readings.get(id_)
        value = None if taken is None else us_value(taken.value, taken.unit, vocabulary()[id_].kind)
        return None if value is None or isinstance(value, (bool, str)) else float(value)

    @property
    def rounds(self) -> list[Round]:
        """The rounds of the watch."""
        start = self.started_at
        return [
            Round((at - start).total_seconds() / 60, r.get("watch.suction_pressure"), r.get("watch.discharge_temperature"))
            for at, r in self.series
            if start is not None
        ]

    @property
    def rack(self) -> Rack | None:
        return next((r for r in self.site.racks if r.id == self.value("rack")), None)

    @property
    def compressor(self) -> Compressor | None:
        rack = self.rack
        if rack is None:
            return None
        return next((c for c in rack.compressors if c.id == self.value("compressor")), None)

    def proof_needed(self) -> tuple[str, ...]:
        """The readings a proof is made of, in order, on this machine."""
        panel = self.rack.panel if self.rack else None
        drive = panel is None or panel.drive or panel.capacitors
        return tuple(r for r in consequences.PROOF_READINGS if drive or r != "dead_volts.drive")

    def seconds_on(self, now: datetime) -> float:
        """Seconds of feed spent, up to now. They do not count with the hand valve shut (S15)."""
        return self.fed_s + self.feeding_s(now)

    def feeding_s(self, now: datetime) -> float:
        feeding = self.powered and self.power_on_at and self.jumper_is_in and "valve_closed.injection" not in self.open
        return (now - self.power_on_at).total_seconds() if feeding and self.power_on_at else 0.0

    @property
    def stopped(self) -> bool:
        """It ran on this call and stands again: it tripped a second time, or was stopped."""
        return self.tripped_again or self.answered.get("stop_now") == "done"

    def has_fact(self, fact: str) -> bool:
        """Whether a look has established this."""
        return any(fact in self.steps[step].facts(said) for step, said in self.told.items())

    def concluded_running(self, cause: str) -> bool:
        """The cause was concluded from the running machine."""
        return cause in self.running_causes

    # ---- changing

    def apply(self, fact: Fact, at: datetime) -> None:
        """Take a fact in. The same facts in the same order give the same state, live and on resume."""
        if self.sealed:
            raise ValueError("the call is sealed; nothing follows")
        getattr(self, "_" + type(fact).__name__)(fact, at)

    def _CallOpened(self, fact: CallOpened, at: datetime) -> None:
        self.opened, self.opened_at, self.additions = fact, at, fact.additions

    def _MachineNamed(self, fact: MachineNamed, at: datetime) -> None:
        self.machine = fact

    def _StepEntered(self, fact: StepEntered, at: datetime) -> None:
        self.step, self.phase, self.entered_at = fact.step, fact.phase, at
        self.given_ids = set()
        step = self.steps[fact.step]
        for id_ in step.opens:
            self.will_open(id_, step.id)
        if step.id == "charge":
            self.readings_before_charge = dict(self.readings)

    def _CautionGiven(self, fact: CautionGiven, at: datetime) -> None:
        self.given.add(fact.caution)

    def _CautionAcknowledged(self, fact: CautionAcknowledged, at: datetime) -> None:
        self.acknowledged.add(fact.caution)

    def _WordsHeard(self, fact: WordsHeard, at: datetime) -> None:
        pass

    def _ReadingTaken(self, fact: ReadingTaken, at: datetime) -> None:
        self.readings[fact.id] = fact
        self.taken_at[fact.id] = at
        if self.dead:
            self.panel_at = at
        consequences.follow(self, fact, at)
        if fact.step == self.step:
            self.given_ids.add(fact.id)
        step = self.steps.get(fact.step)
        unanswered = step is not None and step.id not in self.answered and step.id == self.step
        if step and unanswered and all(self.given_here(i, step) for i in (step.asking, *step.also)):
            self._done(step)

    def given_here(self, id_: str, step: Step) -> bool:
        """The reading was taken at this step since it was last entered."""
        return step.id == self.step and id_ in self.given_ids

    def _done(self, step: Step) -> None:
        self.answered[step.id] = "done"
        self.order.append(step.id)
        for id_ in step.clears:
            if id_ in self.open:
                self.to_clear.append((id_, step.id))

    def _StepDone(self, fact: StepDone, at: datetime) -> None:
        step = self.steps[fact.step]
        if step.tells:
            self.told[step.id] = fact.said
        if step.id == "repaired":
            self.readings_before_repair = dict(self.readings)
            self.choice = "left" if "leave" in fact.said or "left" in fact.said else "repaired"
        if step.id == "reset":
            self.resets.add("*")
        if step.id == "start":
            self.started_at = at
        if step.id == "unblock_start":
            self.start_is_blocked = False
        if step.id == "leads_off":
            self.leads_are_on = False
        if step.id == "seat_coil" and "coil_seated" in self.readings:
            self.answered["coil_back"] = "done"
        if self.dead:
            self.panel_at = at
        self._done(step)

    def _StepSkipped(self, fact: StepSkipped, at: datetime) -> None:
        self.answered[fact.step] = "skipped"
        self.order.append(fact.step)
        step = self.steps[fact.step]
        stimulus_in = self.jumper_is_in or "jumper_fitted" in self.open
        asks_feed = "injection_feed" in (step.asking, *step.also) and step.phase == "live"
        seen = self.readings.get("injection_feed")
        if asks_feed and stimulus_in and (seen is None or seen.step != step.id):
            self.will_open("liquid_in_compressor", step.id, "feed not seen with the stimulus in")

    def _StepReopened(self, fact: StepReopened, at: datetime) -> None:
        self.answered.pop(fact.step, None)
        self.step = ""
        if fact.step in self.order:
            self.order.remove(fact.step)

    def _ObligationOpened(self, fact: ObligationOpened, at: datetime) -> None:
        self.to_open = [t for t in self.to_open if t[0] != fact.id]
        self.open[fact.id] = fact
        self.handed_over.pop(fact.id, None)

    def _ObligationCleared(self, fact: ObligationCleared, at: datetime) -> None:
        self.to_clear = [t for t in self.to_clear if t[0] != fact.id]
        self.open.pop(fact.id, None)
        self.cleared.add(fact.id)

    def _ObligationHandedOver(self, fact: ObligationHandedOver, at: datetime) -> None:
        self.to_hand_over = [t for t in self.to_hand_over if t[0] != fact.id]
        self.open.pop(fact.id, None)
        self.handed_over[fact.id] = fact

    def _ProofEnded(self, fact: ProofEnded, at: datetime) -> None:
        self.end_proof(keep_lock=False)

    def _WaitEnded(self, fact: WaitEnded, at: datetime) -> None:
        self.waited.add(fact.step)

    def _PowerOffOrdered(self, fact: PowerOffOrdered, at: datetime) -> None:
        self.over_budget = True
        for step in self.steps.values():
            # What was not seen in the window counts as not known: S16 is served by the same rule as a skip.
            if step.act == "live" and step.asking == "injection_feed" and step.id not in self.answered:
                self._StepSkipped(StepSkipped(step.id, "the seconds were spent"), at)

    def _ValueDerived(self, fact: ValueDerived, at: datetime) -> None:
        self.derived[fact.id] = fact

    def _NotComputed(self, fact: NotComputed, at: datetime) -> None:
        self.not_computed[fact.id] = fact.reason

    def _Concluded(self, fact: Concluded, at: datetime) -> None:
        self.conclusions[fact.cause] = fact
        if self.started_at:
            self.running_causes.add(fact.cause)

    def _NoteTaken(self, fact: NoteTaken, at: datetime) -> None:
        self.notes.append(fact.text)

    def _EmergencyDeclared(self, fact: EmergencyDeclared, at: datetime) -> None:
        self.emergency = True
        self.end_proof(keep_lock=False)

    def _EmergencyOver(self, fact: EmergencyOver, at: datetime) -> None:
        self.emergency = False

    def _CheckInAsked(self, fact: CheckInAsked, at: datetime) -> None:
        pass

    def _CallHeld(self, fact: CallHeld, at: datetime) -> None:
        self.held = True

    def _CallContinued(self, fact: CallContinued, at: datetime) -> None:
        self.held = False

    def _FinishAsked(self, fact: FinishAsked, at: datetime) -> None:
        self.finishing = True

    def _CallResumed(self, fact: CallResumed, at: datetime) -> None:
        self.held = self.emergency = False
        # Nobody knows what was done meanwhile: tag and lock are asked again too (S4, S5), and a live window that
        # was open ends with power off.
        self.lock_unsure = True
        if self.power_on_at:
            self._PowerOffOrdered(PowerOffOrdered(0.0), at)
        self.end_proof(keep_lock=False)
        self.acknowledged.clear()

    def _CallSealed(self, fact: CallSealed, at: datetime) -> None:
        self.sealed, self.phase = True, "sealed"

    # ---- what readings bring with them

    def will_open(self, id_: str, step: str, detail: str = "") -> None:
        if id_ not in self.open and id_ not in [t[0] for t in self.to_open]:
            self.to_open.append((id_, step, detail))

    def end_proof(self, keep_lock: bool) -> None:
        """Only power off under a lock that stayed on stands for tag and lock (S2); else all is made anew."""
        self.dead = False
        self.proof = (
            ("panel_tag", "locked_out") if keep_lock and self.locked and not self.powered and not self.lock_unsure else ()
        )


def machine_named(s: State) -> MachineNamed | None:
    """Which machine the call is about, once rack and compressor are known."""
    rack, compressor = s.rack, s.compressor
    if rack is None or compressor is None:
        return None
    return MachineNamed(
        rack.id, compressor.id, rack.refrigerant, s.site.altitude_ft, rack.suction_set_point_psig, rack.probe.trip_degf
    )
