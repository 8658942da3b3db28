"""What stands in a call, and what can be read off it; it is changed in `state.py` alone."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from assistant.branches.steps import Procedure, Step
from assistant.call.facts import (
    CallOpened,
    Concluded,
    MachineNamed,
    ObligationHandedOver,
    ObligationOpened,
    ReadingTaken,
    StepDone,
    ValueDerived,
)
from assistant.call.feed import Feed
from assistant.call.lock import DRIVE, PROOF, Lock
from assistant.language.meaning import Part, Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Compressor, Rack, Site
from assistant.trade.case import Case
from assistant.trade.limits import USUAL, Limits
from assistant.trade.units import us_value
from assistant.trade.watch import Round

_WORSE: dict[str, Callable[[tuple[float, float]], float]] = {
    "ground_megohms": min, "crankcase_temperature": min, "isolated_pressure": lambda ends: max(ends, key=abs),
    **dict.fromkeys(("probe_pipe_temperature", "discharge_temperature", "watch.discharge_temperature"), max),
    **dict.fromkeys(("discharge_pressure", "watch.discharge_pressure"), max),
}  # fmt: skip
"""Of a reading that is unsteady, the end that counts where somebody's safety or the machine's rests on it."""


OWN_LOCKS = ("locked_out", "second_lock", "fan_lock")
"""Obligations that are a lock in somebody's own name."""


def worse_end(taken: ReadingTaken | Part) -> Value:
    """The value of a reading; of an unsteady one that safety rests on its worse end."""
    if taken.low is None or taken.high is None or taken.id not in _WORSE:
        return taken.value
    return _WORSE[taken.id]((taken.low, taken.high))


@dataclass
class Standing:
    site: Site
    procedure: Procedure
    steps: dict[str, Step]
    readings: dict[str, ReadingTaken] = field(default_factory=dict)
    taken_at: dict[str, datetime] = field(default_factory=dict)
    """When each reading was last taken."""
    ever_established: set[str] = field(default_factory=set)
    """Facts that acts have established: they stay."""
    told: dict[str, StepDone] = field(default_factory=dict)
    """Looks and acts that no id stands for, by their step."""
    series: list[tuple[datetime, dict[str, float]]] = field(default_factory=list)
    """The rounds of the watch: time, and the watch readings of that round in US units."""
    watch_step: str = ""
    """The step of the round that was read last."""
    again_from: str = ""
    """The step that the run goes back to, once: a round that is read again after hours in which nobody watched, or a live window
    that is opened again."""
    window_cut: str = ""
    """The step that put power on for a live window which an interruption cut off, with nothing hooked up."""
    watch_late_minutes: float = 0.0
    """By how much the rounds to come are later than the site has them."""
    answered: dict[str, str] = field(default_factory=dict)
    """Step to `done` or `skipped`."""
    waited: set[str] = field(default_factory=set)
    order: list[str] = field(default_factory=list)
    """Steps answered, in the order they were."""
    position: int = -1
    """Index in the run of the last step entered: only later ones are asked, unless one was reopened."""
    step: str = ""
    station: str = "front"
    entered_at: datetime | None = None
    given_ids: set[str] = field(default_factory=set)
    """Readings taken since the step was entered."""
    ahead: set[tuple[str, str]] = field(default_factory=set)
    """Readings that were volunteered before their step was asked: step and id."""
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
    acknowledged_at: dict[str, datetime] = field(default_factory=dict)
    spoken_at: dict[str, datetime] = field(default_factory=dict)
    """When each caution was last spoken."""
    lock: Lock = field(default_factory=Lock)
    feed: Feed = field(default_factory=Feed)
    unseen: bool = False
    """Nobody has looked into the panel, dead, since a proof ended or the call was interrupted."""
    due: tuple[str, ...] = ()
    """What is asked anew after an interruption, in its order: ids, and `HOOKED_UP`."""
    contacts: list[str] = field(default_factory=list)
    """Open contacts found."""
    resets: set[str] = field(default_factory=set)
    """Contacts that had their one reset; `*` for all that were open."""
    readings_before: dict[str, dict[str, ReadingTaken]] = field(default_factory=dict)
    """Readings as they were before the `repair` and before the `charge`."""
    output_read_after_s: float = 0.0
    """Seconds that power was on when the module's output was read."""
    at: datetime | None = None
    """Now: the time of the last fact, or of what was heard since."""
    opened_at: datetime | None = None
    machine: MachineNamed | None = None
    opened: CallOpened | None = None
    started_at: datetime | None = None
    doubts: dict[str, str] = field(default_factory=dict)
    """Words of remarks on safety that still wait for a yes or a no, each with what it is about."""
    bypass_besides: str = ""
    """In which words a bypass was named while another jumper was in."""
    why_left: str = ""
    """Why somebody comes back to the running machine, as it was last put on record."""
    unsafe_running: bool = False
    """Something was said not to be safe about the machine while it ran, or as it was started."""
    left_for_alarm: str = ""
    """The step at which the room was left for an alarm."""
    live_said: bool = False
    """The power was said to be on, and nothing was proved dead since."""
    wet: bool = False
    """Water was said to be at the panel, or on who works there."""
    sounds_wrong: bool = False
    """It was said to knock, or to be loud, as it runs."""
    liquid_since: datetime | None = None
    """When liquid was last found in the machine: what was read before tells nothing of it."""
    unlocked_at: datetime | None = None
    """When it was asked to take the lock off that was taken off last."""
    stopped_at: datetime | None = None
    """When it tripped a second time or was stopped."""
    charged_at: list[datetime] = field(default_factory=list)
    """When refrigerant was added: what is read behind it is of another state than what was read before (S40)."""
    tripped_again: bool = False
    """It tripped after its one start."""
    stood_before: set[str] = field(default_factory=set)
    """Causes that were proven or supported before the repair, or the start."""
    running_causes: set[str] = field(default_factory=set)
    """Causes that were concluded, or rose, after the start."""
    derived: dict[str, ValueDerived] = field(default_factory=dict)
    derived_at: dict[str, datetime] = field(default_factory=dict)
    not_computed: dict[str, str] = field(default_factory=dict)
    conclusions: dict[str, Concluded] = field(default_factory=dict)
    too_late: set[str] = field(default_factory=set)
    """Readings that an interruption outlasted before the test they were taken for."""
    too_old: set[str] = field(default_factory=set)
    """Readings that were asked again because they were of another moment than one to be worked out with them."""
    contradicted: set[tuple[str, ...]] = field(default_factory=set)
    """Readings that were found not to be true together; each was asked again once."""
    full_again: bool = False
    """What was recovered from was opened to the rest again: it is recovered anew before it is opened."""
    store_heard: str = ""
    """What the store was told of the machine."""
    ask_again: list[str] = field(default_factory=list)
    """Of these, what is still to be asked again."""
    elsewhere: dict[str, str] = field(default_factory=dict)
    """What hangs in the panel of a tag that was put right, another machine's or this one's: it comes out first."""
    tag_read: str = ""
    """The tag that was read last."""
    tag_doubted: bool = False
    """It was said to be another machine's panel: which one, the tag that is read next tells."""
    panel_again: bool = False
    """What was done under the lock was done at another machine's panel: the run is taken up where the panel is opened."""
    measure_again: list[str] = field(default_factory=list)
    """Of these, what takes hands in the panel: measured again once nothing is hooked up for a test."""
    concluded_at: dict[str, datetime] = field(default_factory=dict)
    """When each cause was last concluded: what was said a moment ago is not said again."""
    notes: list[str] = field(default_factory=list)
    emergency: bool = False
    finishing: bool = False
    alarm: bool = False
    """The room is not safe to enter: nothing more is asked that is done in it."""
    sealed: bool = False
    case: Case | None = None
    """What `known.case_of` last made of this; gone with the next fact that tells something of the machine."""

    # ---- looking

    def value(self, id_: str) -> Value | None:
        taken = self.readings.get(id_)
        return None if taken is None else taken.value

    def number(self, id_: str) -> float | None:
        value = self.value(id_)
        return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None

    def us(self, id_: str) -> float | None:
        """A reading as a number in its US unit, whatever the site's units are; what safety rests on by its worse end."""
        taken = self.readings.get(id_)
        value = None if taken is None else us_value(worse_end(taken), taken.unit, vocabulary()[id_].kind)
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
        named = self.readings.get("rack")
        if named is not None:  # asked for some hundred times a turn: a loop takes a quarter of what a generator does
            for rack in self.site.racks:
                if rack.id == named.value:
                    return rack
        return None

    @property
    def compressor(self) -> Compressor | None:
        rack = self.rack
        if rack is None:
            return None
        named = self.value("compressor")
        return next((c for c in rack.compressors if c.id == named), None)

    @property
    def technician(self) -> str:
        """In whose name the call is held: spoken, else the profile's."""
        return str(self.value("technician") or (self.opened.technician if self.opened else ""))

    def locks_of_another(self) -> tuple[str, ...]:
        """Locks of this call that somebody else hung than who goes on with it (S42)."""
        locks = (self.open.get(id_) for id_ in OWN_LOCKS)
        return tuple(lock.id for lock in locks if lock is not None and lock.who != self.technician)

    @property
    def limits(self) -> Limits:
        """The site's figures for this rack; the usual ones before it is named."""
        return self.rack.limits if self.rack else USUAL

    @property
    def tag_wanted(self) -> str:
        """The tag of the panel that hands go in next: where something still hangs, else this machine's."""
        own = self.compressor.tag if self.compressor else ""
        return next((tag for id_, tag in self.elsewhere.items() if id_ in self.open), own)

    def proof_needed(self) -> tuple[str, ...]:
        """The readings a proof is made of, in order, on this machine."""
        panel = self.rack.panel if self.rack else None
        drive = panel is None or panel.drive or panel.capacitors
        return tuple(r for r in PROOF if drive or r != DRIVE)

    @property
    def valve_shut(self) -> bool:
        """The injection's hand valve is shut, as found or as done: no liquid runs. Asked for and skipped, nobody shut it."""
        opened = self.open.get("valve_closed.injection")
        return opened is not None and (bool(opened.detail) or self.answered.get(opened.step) == "done")

    @property
    def stopped(self) -> bool:
        """It ran on this call and stands again: it tripped a second time, or was stopped."""
        return self.tripped_again or self.has("stopped_by_hand")

    @property
    def choice(self) -> str:
        """What was said of the repair: `left`, `repaired`, or nothing yet."""
        return "left" if self.has("left_locked") else "repaired" if self.has("repaired") else ""

    def established(self) -> set[str]:
        """Facts that steps have established: acts for good, readings while they are the step's own, looks as last answered."""
        by_readings = (f for r in self.readings.values() for f in r.establishes)
        by_looks = (f for done in self.told.values() for f in done.establishes)
        return {*self.ever_established, *by_readings, *by_looks}

    @property
    def running(self) -> bool:
        """Started on this call, and not stopped since, whether it must be or not."""
        return self.started_at is not None and not self.stopped

    @property
    def found_running(self) -> bool:
        """It ran as it was found, and was neither locked nor stopped since."""
        said, locked = self.taken_at.get("running_now"), self.taken_at.get("locked_out")
        ran = self.value("running_now") == "running" and said is not None and (locked is None or said > locked)
        return ran and self.started_at is None and not self.stopped

    @property
    def probes_in(self) -> bool:
        """Hand-held probes are asked for in a panel that is live as it was found."""
        return self.asks_for("live") and not self.feed.window

    @property
    def asked_here(self) -> Step | None:
        """The step where the call stands, while it is not answered."""
        return None if self.step in self.answered else self.steps.get(self.step)

    def asks_for(self, act: str) -> bool:
        """Whether this act is asked for where the call stands."""
        return self.asked_here is not None and self.asked_here.act == act

    def asks_for_a_charge(self) -> bool:
        """Whether refrigerant is to go in where the call stands."""
        return self.asked_here is not None and self.asked_here.keeps_readings == "charge"

    def has(self, fact: str) -> bool:
        """Whether a step has established this."""
        return (
            fact in self.ever_established
            or any(fact in reading.establishes for reading in self.readings.values() if reading.establishes)
            or any(fact in done.establishes for done in self.told.values())
        )

    def concluded_running(self, cause: str) -> bool:
        """The cause was concluded from the running machine."""
        return cause in self.running_causes

    def given_here(self, id_: str, step: Step) -> bool:
        """The reading was taken at this step since it was last entered, or volunteered before it was asked."""
        return (step.id == self.step and id_ in self.given_ids) or self.given_ahead(id_, step)

    def given_ahead(self, id_: str, step: Step) -> bool:
        """The reading was volunteered for this step before it was asked."""
        return (step.id, id_) in self.ahead and step.id not in self.answered and id_ in self.readings
