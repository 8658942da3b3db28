"""The steps of a call, read from each branch's `steps.toml` and checked as they are read.

A folder of procedures holds one folder a branch, as this one does. A step declares what it does: code and monitor look at
what is declared, never at its name. What is not known (a key, a condition, a caution, an obligation, a fact, a word in
braces, an id of the vocabulary, one of its choices, a type) is refused with file, line, step and the nearest known name.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from assistant.language.meaning import Value

BRANCHES = ("shared", "supply", "motor", "injection", "oil", "head", "suction", "liquid")
"""The folders, in the order in which their steps stand within one part of the call."""
PARTS = (
    "front", "machine", "how to check", "live route", "contact", "panel", "window", "window end", "looks", "liquid", "trial",
    "prepare", "repair", "made tight", "put back", "ready", "start", "running", "first rounds", "between rounds", "last round",
    "after rounds", "more rounds", "why hot", "levers", "stop", "close",
)  # fmt: skip
"""The parts of a call, in their order; within one the branches stand in the order of `BRANCHES`."""
INSERTED = ("proof", "lock gate", "live gate", "reset gate", "return")
"""Parts that the call puts before a step that needs them: the proof of absence of voltage, what is asked before a lock that
stops more than one machine, what is asked before live work and before a third reset, what is asked anew after an interruption."""
STATIONS = (
    "front", "machine", "panel", "live", "oil", "condenser", "cases", "liquid", "restore", "watch", "close", "sealed",
)  # fmt: skip
ACTS = ("", "hands_in", "live", "power_on", "power_off", "unlock", "start", "stop")
NEEDS = ("dead", "power_off", "locked", "repair")
PLACEHOLDERS = (
    "block", "control", "finding", "hand", "hooked_up", "hot", "left", "levers", "mass", "minutes", "plug", "quarts", "rack",
    "refrigerant", "store_words", "strips", "strip_discharge", "strip_high", "strip_low", "strip_motor", "strip_oil", "summary",
    "supervisor",
)  # fmt: skip
"""Words in braces that a prompt may hold: the call fills them in from profile and state."""
REPAIR_NEEDS = ("dead", "locked", "fans", "isolated", "recovered", "section")


@dataclass(frozen=True)
class Step:
    """One thing the technician does or says."""

    id: str
    part: str
    """One of `PARTS` or `INSERTED`: where in the call it stands."""
    station: str
    """One of `STATIONS`: where the technician is."""
    ask: str
    asking: str
    also: tuple[str, ...] = ()
    alone: str = ""
    """How the first is asked where all others were told before; by its name without."""
    act: str = ""
    """One of `ACTS`: what the technician's hands do, which decides what must hold first."""
    needs: tuple[str, ...] = ()
    """Of `NEEDS`: what must hold beside what the act asks for."""
    when: tuple[str, ...] = ()
    """All must hold: a condition by name, a fact, `open:` an obligation, `ID is WORD|WORD` of a reading, `ID unread`;
    `!` before one turns it round."""
    cautions: tuple[str, ...] = ()
    """Spoken and acknowledged before the step; with `?` only where the machine makes it apply."""
    seeks: tuple[str, ...] = ()
    """The causes that its answer speaks for: once none of them is left to seek it is not asked (`order.py`). None for a step
    that is asked in any case."""
    among: str = ""
    """The looks of one part with the same name here, one behind the other, may come in any order."""
    effort: float = 0
    """What it takes where that is not its station's: what the controller shows takes no climb."""
    opens: tuple[str, ...] = ()
    """Obligations that are open from the moment this step is asked."""
    clears: tuple[str, ...] = ()
    resets: tuple[str, ...] = ()
    """Contacts of which this is the one reset; `*` for every one that is open."""
    establishes: tuple[str, ...] = ()
    """Facts that its answer establishes: of an act for good, of a reading while the reading on record is this step's."""
    hands_over: tuple[str, ...] = ()
    """`locked`: what may be left with the machine locked and tagged; `owner`: what somebody takes by name."""
    all_good: Mapping[str, Value] = field(default_factory=dict)
    go_ahead: tuple[str, ...] = ()
    tells: Mapping[str, str] = field(default_factory=dict)
    """Words that answer a look which no id of the vocabulary stands for, each with the facts it establishes, parted by
    spaces; none for "nothing found". They are the step's go-aheads."""
    other_words: Mapping[str, str] = field(default_factory=dict)
    """Other ways of saying the words of `tells`, each with the word that it means: heard, and never read out."""
    why: str = ""
    """What is said to "why" where the vocabulary has no meaning of its own for it."""
    required: bool = False
    """It cannot be skipped."""
    harmless: bool = False
    """Nobody is hurt and nothing is condemned if a sentence is taken for its answer: one may count that is like many."""
    safe: bool = False
    """It is still asked when the call is closed early."""
    outside: bool = False
    """It is asked and answered outside the room: still asked while nobody may go in."""
    at_once: bool = False
    """Of the part `return`: asked before anything else, not only before a dangerous step."""
    free_to_skip: bool = False
    """Skipped, it leaves nothing unproven."""
    keeps_readings: str = ""
    """`repair` or `charge`: the readings before it are kept for the diagnosis."""
    watch_round: int = 0
    wait_minutes: float | str = 0
    """Counted from the reading `wait_from`. Here and below: a number, or the name of one of the `Limits`."""
    wait_from: str = ""
    wait_minutes_after_power_off: float | str = 0
    wait_minutes_after_start: float | str = 0
    wait_minutes_after_trip: float | str = 0
    """Counted from the trip, as far as it is known."""
    place: str = field(default="", compare=False)
    """File and line it stands at."""

    @property
    def file(self) -> str:
        """The file of its branch."""
        return self.place.partition(", line")[0]

    @cached_property
    def ids(self) -> tuple[str, ...]:
        """Every id of the vocabulary that it asks for."""
        return tuple(i for i in (self.asking, *self.also) if i != "command")

    @property
    def inserted(self) -> bool:
        return self.part in INSERTED

    @property
    def proof(self) -> bool:
        return self.part == "proof"

    def facts(self, said: str) -> tuple[str, ...]:
        """What these words establish: the longest of the step's words that is among them counts."""
        word = self.word(said)
        return (*self.establishes, *(self.tells[word].split() if word else ()))

    def word(self, said: str) -> str:
        """The one of the step's words that was said, in whatever way; empty for none."""
        ways = {**{word: word for word in self.tells}, **self.other_words}
        return ways.get(max((w for w in ways if f" {w} " in f" {said} "), key=len, default=""), "")


@dataclass(frozen=True)
class Obligation:
    """A thing left unsafe or temporary until somebody deals with it."""

    id: str
    say: str
    """As it is spoken after "Still hooked up:" or "Left for later:"."""
    blocks_start: bool
    hand_over: str
    """`never`; `locked` only with the machine locked and tagged out; `owner` by name and date."""
    tells_detail: bool = False
    """Its detail is spoken with it: a date."""
    within_hours: float = 0
    """For `owner`: the latest hour it may be taken over for; 0 for any."""
    opened_by: tuple[str, ...] = ()
    """`ID is WORD|WORD`, or `fact:` and what a look establishes: answers that open it, at whatever step they are given."""
    cleared_by: tuple[str, ...] = ()


@dataclass(frozen=True)
class Repair:
    """What the repair of a cause needs before anybody's hands are on it."""

    causes: tuple[str, ...]
    needs: tuple[str, ...] = ()
    """Of `REPAIR_NEEDS`."""
    cautions: tuple[str, ...] = ()
    needs_in_gas: tuple[str, ...] = ()
    """Instead of `needs`, where the probe is threaded into the gas or nobody knows."""


@dataclass(frozen=True)
class Procedure:
    """Everything that a folder of procedures says."""

    steps: tuple[Step, ...]
    """The run in its order, then what is put before a step of it."""
    obligations: Mapping[str, Obligation]
    """In the order of danger, which is the order of clearing."""
    facts: Mapping[str, str]
    """What a look can establish, each with its meaning."""
    repairs: Mapping[str, Repair]
    """By cause."""
