"""The lock, the power, and the proof of absence of voltage.

Dead is made by nothing but the readings of a proof, each its own answer, in their order: the tag of this machine, the own
lock, the meter good, power, control (and a drive's bus) each under the limit, the meter good again. No two answers of one
proof lie further apart than a proof lasts. What ends it: power, a lock that is off or another person's, a hand-over, an
interruption, time away from the panel, one of its readings corrected to over the limit. A tag corrected to another machine's
takes the lock with it: it hangs on that one. A meter that fails afterwards
voids every circuit it measured. After a second source the way back is the tag.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

PROOF = ("panel_tag", "locked_out", "meter_proved_before", "dead_volts.power", "dead_volts.control", "dead_volts.drive",
         "meter_proved_after")  # fmt: skip
"""The readings of a proof, in their order; the drive's only where a drive or capacitors are fitted."""
LOCK = PROOF[:2]
"""What only a lock that stayed on stands for after power was off again."""
DRIVE = "dead_volts.drive"


def worst_v(value: object, low: float | None = None, high: float | None = None) -> float | None:
    """How much voltage a reading admits [V]: its magnitude, of an unsteady one the larger end; None for a word.

    A minus is the leads', not the circuit's.

    >>> worst_v(-120.0), worst_v(25.0, 0.0, 50.0), worst_v("none_present")
    (120.0, 50.0, None)
    """
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return max(abs(v) for v in (float(value), low, high) if v is not None)


@dataclass(frozen=True)
class Lock:
    """What is known of lock and power. It changes by replacement only."""

    locked: bool = False
    powered: bool = True
    dead: bool = False
    proof: tuple[tuple[str, datetime], ...] = ()
    """Readings of the proof made so far, in order, each with its time."""
    near_at: datetime | None = None
    """Last answer from the panel while it was proved dead."""
    locked_at: datetime | None = None
    """When the lock first went on."""
    others: bool = False
    """Another person's lock is on."""
    tag_due: bool = False
    """A second source was found: the way back is the tag, and power that goes off meanwhile does not stand for it."""

    @property
    def made(self) -> tuple[str, ...]:
        """The readings of the proof made so far."""
        return tuple(id_ for id_, _ in self.proof)

    def near(self, at: datetime) -> "Lock":
        """Something was answered from the panel."""
        return replace(self, near_at=at) if self.dead else self

    def took(self, id_: str, good: bool, at: datetime, needed: tuple[str, ...], corrected: bool = False) -> "Lock":
        """After one reading of the proof.

        Args:
            id_: one of `PROOF`.
            good: the tag agrees, it was acknowledged, or the volts are under the limit.
            at: when.
            needed: the readings that a proof takes on this machine, in order.
            corrected: it puts an earlier one right: that makes no proof, and may end one.
        """
        if corrected:
            return self if good else self.off() if id_ == "panel_tag" else self.ended()
        if id_ == "panel_tag":
            return replace(self.ended(), proof=(("panel_tag", at),) if good else (), tag_due=self.tag_due and not good)
        if id_ in self.made and not good:
            return self._voided(id_)
        if not good:
            return self._voided(id_) if id_ == "meter_proved_after" else replace(self, dead=False)
        made = (*self.made, id_)
        if needed[: len(made)] != made:
            return self if id_ in self.made else replace(self, dead=False)
        proof = (*self.proof, (id_, at))
        locked = self.locked or id_ == "locked_out"
        whole = made == needed and locked
        return replace(
            self, proof=proof, locked=locked, locked_at=self.locked_at or (at if locked else None), dead=whole,
            powered=self.powered and not whole, near_at=at if whole else self.near_at,
        )  # fmt: skip

    def _voided(self, id_: str) -> "Lock":
        """A reading of the proof came out bad: a failed meter voids what it measured, the lock stands; all else ends it."""
        keep = self.proof[: len(LOCK)] if id_ == "meter_proved_after" and self.made[: len(LOCK)] == LOCK else ()
        return replace(self, dead=False, proof=keep)

    def stale(self, at: datetime, lasts_minutes: float) -> bool:
        """Whether an unfinished proof has an answer older than a proof lasts."""
        return bool(self.proof) and not self.dead and at - self.proof[0][1] > timedelta(minutes=lasts_minutes)

    def away(self, at: datetime, lasts_minutes: float) -> bool:
        """Whether nobody was at the panel, proved dead, for longer than a proof lasts."""
        return self.dead and self.near_at is not None and at - self.near_at > timedelta(minutes=lasts_minutes)

    def ended(self) -> "Lock":
        """The proof no longer holds; the lock is not touched by that."""
        return replace(self, dead=False, proof=())

    def second_source(self) -> "Lock":
        """So much voltage that another source feeds it."""
        return replace(self.ended(), tag_due=True)

    def power_on(self) -> "Lock":
        """Control power is back; the lock stays on the disconnect."""
        return replace(self.ended(), powered=True)

    def power_off(self, at: datetime) -> "Lock":
        """Control power is off again under a lock that stayed on: that stands for tag and lock, and for nothing more. Where
        another person's lock came up meanwhile, or a second source, not for these either."""
        stands = self.locked and not self.others and not self.tag_due
        proof = tuple((id_, at) for id_ in LOCK) if stands else ()
        return replace(self, dead=False, powered=False, proof=proof)

    def off(self) -> "Lock":
        """The lock is off: by its owner, or found so."""
        return replace(self.ended(), locked=False, powered=True)
