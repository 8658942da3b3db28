"""The referee: which phase may follow which, and in which mode a call is. Two flat machines, no callbacks."""

from typing import Any

from transitions import Machine, MachineError

from assistant.call.procedure import PHASES

# A call goes forward. It goes back to the panel for a new proof or to clear what was left there, from the panel
# to the live window and back, and to the close from everywhere; only the close leads to the seal.
# Oil, condenser and cases are looked at after the panel, locked out; a window may open once more before them.
_LOOKS = ("oil", "condenser", "cases")
FORWARD = {
    "front": ("machine", "panel", "live", *_LOOKS, "liquid", "restore", "watch", "close"),
    "machine": ("front", "panel", "live", *_LOOKS, "liquid", "restore", "watch", "close"),
    "panel": ("machine", "live", *_LOOKS, "liquid", "restore", "watch", "close"),
    "live": ("machine", "panel", *_LOOKS, "liquid", "restore", "watch", "close"),
    "oil": ("panel", "live", "condenser", "cases", "liquid", "restore", "watch", "close"),
    "condenser": ("panel", "live", "cases", "liquid", "restore", "watch", "close"),
    "cases": ("panel", "live", "liquid", "restore", "watch", "close"),
    "liquid": ("front", "panel", "live", "restore", "watch", "close"),
    "restore": ("panel", "live", "liquid", "watch", "close"),
    "watch": ("panel", "restore", "close"),
    "close": ("panel", "live", "liquid", "restore", "watch", "sealed"),
    "sealed": (),
}


class Refused(RuntimeError):
    """A change of phase that the table does not hold: a fault of the program, never of the technician."""


class Phases:
    """Follows the phase of a call and refuses what its table does not hold."""

    def __init__(self) -> None:
        self.state = "front"
        rows: list[dict[str, Any]] = [
            {"trigger": f"to_the_{dest}", "source": source, "dest": dest} for source, dests in FORWARD.items() for dest in dests
        ]
        self._machine = Machine(
            self, states=list(PHASES), transitions=rows, initial="front", auto_transitions=False, send_event=False
        )

    def enter(self, phase: str) -> None:
        """Go to a phase, or stay.

        Raises:
            Refused: the table has no such row.
        """
        if phase == self.state:
            return
        try:
            changed = self.trigger(f"to_the_{phase}")  # type: ignore[attr-defined]
        except (MachineError, AttributeError) as error:
            raise Refused(f"no way from {self.state} to {phase}") from error
        if not changed:
            raise Refused(f"no way from {self.state} to {phase}")
