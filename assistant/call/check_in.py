"""The lone worker's check-in: when nobody was heard for too long."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

AGAIN_MINUTES = 1.0
"""An unanswered check-in is asked again after this, louder."""


@dataclass(frozen=True)
class CheckIn:
    """How long nobody was heard, and how often it was asked since."""

    minutes: float
    """The site's choice; 0 for none."""
    heard_at: datetime = datetime.min
    asked: int = 0

    def heard(self, at: datetime) -> "CheckIn":
        """Somebody answered or gave a command."""
        return replace(self, heard_at=at, asked=0)

    def next_at(self) -> datetime | None:
        """When it is to be asked, or asked again; None where the site wants none."""
        if not self.minutes:
            return None
        return self.heard_at + timedelta(minutes=self.minutes + self.asked * AGAIN_MINUTES)

    def due(self, now: datetime) -> bool:
        """Whether it is to be asked now."""
        at = self.next_at()
        return at is not None and now >= at

    def ask(self) -> "CheckIn":
        """It was asked once more."""
        return replace(self, asked=self.asked + 1)
