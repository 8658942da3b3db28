"""The feed test: stimulus, start block, power, and the seconds that liquid runs into a standing machine.

The seconds count from power on with the stimulus in, not while the hand valve is shut. A call has so many of them; when
they are spent "Power off." is said, and no power comes on with the stimulus in any more.
"""

from dataclasses import dataclass, replace
from datetime import datetime


@dataclass(frozen=True)
class Feed:
    """What is known of the feed test. It changes by replacement only."""

    stimulus: bool = False
    """Test jumper or resistor in place of the probe, as was said."""
    blocked: bool = False
    """The start is blocked, as was said."""
    leads: bool = False
    on_at: datetime | None = None
    """Control power is on since then."""
    off_at: datetime | None = None
    """When it last went off, or the panel was first proved dead."""
    spent_s: float = 0.0
    """Seconds fed in windows that are over."""
    fed: bool = False
    """A window was open with the stimulus in."""
    over: bool = False
    """The seconds were spent, or nobody knows how many."""

    @property
    def window(self) -> bool:
        """Control power is on for a live window."""
        return self.on_at is not None

    def on(self, at: datetime) -> "Feed":
        return replace(self, on_at=at)

    def off(self, at: datetime, valve_shut: bool) -> "Feed":
        spent = self.seconds(at, valve_shut)
        return replace(self, on_at=None, off_at=at, spent_s=spent, fed=self.fed or (self.window and self.stimulus))

    def seconds(self, now: datetime, valve_shut: bool) -> float:
        """Seconds of feed spent, up to now [s]."""
        feeding = self.on_at is not None and self.stimulus and not valve_shut
        return self.spent_s + ((now - self.on_at).total_seconds() if feeding and self.on_at else 0.0)
