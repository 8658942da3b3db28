"""One turn of a call as the rules look at it: what stands, what was just said, and where complaints go."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from assistant.profile import Rack, Site
from assistant.safety import words
from assistant.safety.seen import Seen, Tally
from assistant.safety.tables import HANDS_IN, LIVE, PROOF_IDS

Line = Mapping[str, Any]


def names(line: Line, field: str) -> frozenset[str]:
    """A field that holds names, whether there is none, one or a list of them."""
    value = line.get(field) or ()
    return frozenset({value} if isinstance(value, str) else value)


class Turn:
    """The lines of one turn, watched one after the other. `w` changes as they go by."""

    def __init__(self, w: Seen, site: Site, now: datetime, tally: Tally) -> None:
        self.w, self.site, self.now, self.tally = w, site, now, tally
        self.heard = ""
        """What the technician said in this turn."""
        self.meaning = ""
        self.said: list[tuple[str, str]] = []
        """Sentences spoken in this turn: purpose, words."""
        self.acknowledged: list[str] = []
        self.readings: list[Line] = []
        self.taken = False
        """A reading, a go-ahead or an acknowledgement came of this turn."""
        self.declared = False
        self.was_open = w.open
        self.others_lock_before = w.others_lock
        self.corrected_before = w.correcting
        self.asked = False
        # what was answered in this turn
        self.done_acts: frozenset[str] = frozenset()
        self.done_ids: frozenset[str] = frozenset()
        self.done_words = self.done_step = ""
        self.liquid_should_open = ""
        """Why liquid now stands in the machine (rule S16)."""
        # of the question that is being judged
        self.ids: frozenset[str] = frozenset()
        self.acts: frozenset[str] = frozenset()
        self.words = ""
        self.asking = ""
        self.quiet = False
        self.step = ""
        self.hands = self.live = self.power_on = self.unlock = self.start = self.reset = False

    @property
    def rack(self) -> Rack | None:
        named = self.w.value("rack")
        return next((r for r in self.site.racks if r.id == named), None)

    @property
    def tag(self) -> str:
        rack, named = self.rack, self.w.value("compressor")
        return next((c.tag for c in rack.compressors if c.id == named), "") if rack else ""

    def look(self) -> None:
        """What the question that is being judged means: hands in, live, power, lock, start."""
        w, acts = self.w, self.acts
        ids = self.ids
        panel = ids & HANDS_IN
        if panel and words.by_a_look(self.words):
            panel -= {"overload_state"}
        self.hands = bool(panel or acts & words.HANDS)
        window = w.window() and ids & {"injection_feed", "overload_state"}
        self.live = not self.hands and bool(ids & LIVE or window or ("live" in acts and not ids & PROOF_IDS))
        self.power_on = "control_power_on" in ids or "power_on" in acts
        self.unlock = "lock_removed" in ids or "unlock" in acts
        self.reset = "reset" in acts or "control_reset" in ids
        self.start = bool(acts & {"start", "to_auto"})

    @property
    def lets_run(self) -> bool:
        """A start step. What is reset or switched under one's own lock lets nothing run."""
        free = not (self.w.locked or self.w.held)
        freed = self.unlock and not ("start_blocked" in self.w.open and self.w.prevented)
        return freed or "start" in self.acts or ((self.reset or self.start) and free)

    def spoken(self) -> str:
        """Everything said in this turn so far, in lower case."""
        return " ".join(text for _, text in self.said).lower()

    def minutes_since(self, at: datetime | None) -> float:
        return 0.0 if at is None else (self.now - at).total_seconds() / 60

    @property
    def long_pause(self) -> timedelta:
        return timedelta(minutes=self.site.dead_minutes)

    def came(self, rule: str) -> None:
        """The rule's situation came about."""
        self.tally.came[rule] = self.tally.came.get(rule, 0) + 1

    def broke(self, rule: str, words: str) -> None:
        """The rule is broken: its complaint begins with its id."""
        complaint = f"{rule} {words}"
        self.tally.broken[rule] = self.tally.broken.get(rule, 0) + 1
        if complaint not in self.w.complaints:
            self.w.complaints = (*self.w.complaints, complaint)

    def keeps(self, rule: str, good: bool, words: str) -> None:
        """The rule's situation came about; `words` complain unless it was kept."""
        self.came(rule)
        if not good:
            self.broke(rule, words)
