"""What the monitor keeps of one call: cheap to copy, because a walk forks a call a hundred thousand times."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from assistant.safety.tables import FEED_BUDGET_S, HANDS_IN, PROOF

NONE: frozenset[str] = frozenset()


class Reading(NamedTuple):
    value: object
    us: float | None
    """The number in US units; None for a word."""
    low: float | None
    high: float | None
    at: datetime
    epoch: int
    """Counts the states of the machine: a lock, a start, a stop, a charge begin another one."""


@dataclass
class Seen:
    """One call as far as it was seen. Every value is immutable: `copy` is a shallow one."""

    # what was said and asked
    step: str = ""
    """Step last asked; only named, never judged by."""
    ids: tuple[str, ...] = ()
    acts: frozenset[str] = NONE
    words: str = ""
    at_caution: bool = False
    correcting: bool = False
    put_right: str = ""
    """The reading that was last asked for to be put right."""
    confirming: bool = False
    heard_at: datetime | None = None
    wait_until: datetime | None = None
    # readings and looks
    values: Mapping[str, Reading] = field(default_factory=dict)
    told: frozenset[str] = NONE
    told_inside: frozenset[str] = NONE
    """Of that, what was told with hands in the panel."""
    skipped: frozenset[str] = NONE
    contacts: frozenset[str] = NONE
    # lock and proof
    chain: tuple[str, ...] = ()
    chain_at: datetime | None = None
    dead: bool = False
    dead_why: str = "S1 the panel is not proved dead"
    """Why it is not dead; begins with the rule that says so."""
    second_source: str = ""
    """The circuit that had more than 30 V, until tag and lock are made anew."""
    tag: object = ""
    """The tag that was read last."""
    tag_doubted: bool = False
    """It was said to be another machine's panel; the next tag tells which."""
    strays: bool = False
    """The tag was just put right to another machine's while the lock was on: it hangs there."""
    elsewhere: Mapping[str, str] = field(default_factory=dict)
    """What was hooked up under a tag that was put right to another machine's, each with that one."""
    locked: bool = False
    tagged: bool = False
    locked_at: datetime | None = None
    locked_long: bool = False
    """Once locked out for an hour or more, until it was started."""
    panel_at: datetime | None = None
    others_lock: bool = False
    locked_by: object = None
    """In whose name the lock was hung."""
    freed: bool = False
    """Its own lock came off in its turn, and nobody locked it since."""
    found_off: bool = False
    """Its own lock was found off, and nobody locked it or made it ready since."""
    # what is asked anew after an interruption
    anew: frozenset[str] = NONE
    """Of `lock`, `hooked up`, `clear`."""
    interrupted: bool = False
    """No act was asked yet since the last interruption."""
    emergency: bool = False
    held: bool = False
    safe_first: frozenset[str] = NONE
    """Of `everybody_safe`, `room_safe`, after an emergency."""
    # power
    power: str = "as found"
    """`as found`, `off`, `on`."""
    on_at: datetime | None = None
    fed_s: float = 0.0
    asked_feed: bool = False
    """Since power came on."""
    answered_feed: bool = False
    was_fed: bool = False
    stimulus: bool = False
    prevented: bool = False
    coil_off: bool = False
    valve_not_shut: bool = False
    """The injection's hand valve was to be closed, and that was skipped."""
    # obligations
    open: frozenset[str] = NONE
    handed_over: frozenset[str] = NONE
    left: frozenset[tuple[str, str, str, str]] = frozenset()
    """What the last call to each machine left: rack, compressor, obligation, in whose name."""
    owed: frozenset[str] = NONE
    """Of that, what hangs at this machine and was not put back since."""
    covers_due: bool = False
    unseen: bool = False
    """Nobody has looked into the panel, proved dead, since an interruption."""
    liquid_due: bool = False
    """The caution of liquid in the machine is to be said before anything else."""
    liquid_was: bool = False
    """Liquid stood in the machine on this call."""
    leads_are_tester: bool = False
    # cautions
    spoken: frozenset[tuple[str, str]] = frozenset()
    acknowledged: frozenset[str] = NONE
    pending: frozenset[str] = NONE
    """Spoken since the last acknowledgement."""
    waited_for: frozenset[str] = NONE
    """Spoken, to be acknowledged, and something else came first: they are due again where the call goes on."""
    said_at: Mapping[str, datetime] = field(default_factory=dict)
    gauge_old: bool = False
    """What was emptied was not read at zero since the call was interrupted."""
    restart_said_at: datetime | None = None
    stops_rack_said: bool = False
    rack_told: bool = False
    # running
    running: bool = False
    started: bool = False
    stopped: bool = False
    started_at: datetime | None = None
    second_trip: bool = False
    trip_in_doubt: bool = False
    """It was heard to have tripped, and is asked back."""
    over_trip: bool = False
    start_asked: bool = False
    """What was asked last is the start."""
    not_to_run: bool = False
    """Its motor or its supply was shown, while it runs, to be such that it must not."""
    resets: frozenset[str] = NONE
    heater_on_at: datetime | None = None
    epoch: int = 0
    unready: frozenset[str] = NONE
    """Of `words.UNREADY`: said by the way, and neither cleared nor said to be ready since."""
    doubted: Mapping[str, str] = field(default_factory=dict)
    """Words on safety that were asked back and wait for a yes or a no, each with what they are about."""
    ready: frozenset[str] = NONE
    """Of `service_valves_open`, `covers_on`, `others_clear`, since hands were last in."""
    liquid_valves: int = 0
    # causes
    causes: Mapping[str, str] = field(default_factory=dict)
    repaired: frozenset[str] = NONE
    untested: bool = False
    """What was opened for a repair is not proved tight since."""
    stay_out: bool = False
    sealed: bool = False
    words_spoken: int = 0
    caution_words: int = 0
    complaints: tuple[str, ...] = ()

    def copy(self) -> "Seen":
        twin = object.__new__(Seen)
        twin.__dict__.update(self.__dict__)
        return twin

    # ---- questions that several rules ask

    def value(self, id_: str) -> object:
        reading = self.values.get(id_)
        return reading.value if reading else None

    def us(self, id_: str) -> float | None:
        """A reading in US units; None where it is a word or was not read."""
        reading = self.values.get(id_)
        return reading.us if reading else None

    def tell(self, facts: frozenset[str], inside: bool) -> None:
        """What a look has told is on record; with hands in it was told of that panel."""
        self.told, self.told_inside = self.told | facts, self.told_inside | (facts if inside else NONE)

    def another_panel(self) -> None:
        """The tag was another machine's: what was read and told with hands in was so in that one's panel."""
        self.told, self.told_inside = self.told - self.told_inside, NONE
        self.values = {i: r for i, r in self.values.items() if i not in HANDS_IN}

    def end_proof(self, why: str, keep: tuple[str, ...] = (), at: datetime | None = None) -> None:
        """The proof is void; `keep` of it stands."""
        self.dead, self.dead_why, self.chain, self.chain_at = False, why, keep, at

    def lock_off(self) -> None:
        self.locked = self.tagged = False
        self.locked_at = None

    def window(self) -> bool:
        """Control power is on for a test, and nobody took it off since."""
        return self.power == "on"

    def feeding(self) -> bool:
        """Liquid may be going into a standing machine right now."""
        return self.power == "on" and self.stimulus and not self.shut()

    def shut(self) -> bool:
        """The injection's hand valve is on record as closed, and closing it was not skipped."""
        return "valve_closed.injection" in self.open and not self.valve_not_shut

    def fed_by(self, now: datetime) -> float:
        """Seconds of the feed test so far, by the monitor's own clock [s]."""
        since = (now - self.on_at).total_seconds() if self.feeding() and self.on_at else 0.0
        return self.fed_s + since

    def key(self) -> tuple[object, ...]:
        """What decides what may come next, without times: two calls that agree in it are one to a walk."""
        return (
            self.chain, self.dead, self.locked, self.tagged, self.power, self.stimulus, self.prevented, self.coil_off, self.open,
            self.owed,
            self.acknowledged, self.told, self.resets, self.running, self.started, self.stopped, self.second_trip,
            self.over_trip, self.not_to_run, self.ready, self.anew, self.safe_first, self.others_lock, self.stay_out,
            self.emergency, self.held, self.fed_s >= FEED_BUDGET_S, self.contacts, self.locked_long, self.heater_on_at is None,
            self.covers_due, self.unseen, self.interrupted, self.second_source, self.liquid_due, self.found_off, self.unready,
            frozenset(self.doubted), self.freed,
            frozenset(self.causes.items()), self.repaired, self.untested, frozenset(self.elsewhere.items()),
        )  # fmt: skip


def proof_needed(drive: bool) -> tuple[str, ...]:
    return tuple(i for i in PROOF if drive or i != "dead_volts.drive")


@dataclass
class Tally:
    """How often each rule's situation came about, and how often it was broken, over all calls watched."""

    came: dict[str, int] = field(default_factory=dict)
    broken: dict[str, int] = field(default_factory=dict)
