"""What a call is doing, and where: two flat tables that `transitions` drives. Every change of either is a row here.

A call asks. Instead of the next question it may ask a value back, have a command confirmed, ask a reading again that is
corrected, take a note, hold, wait, ask the lone worker for a sign. From a live window it goes to no wait and no sign.
An emergency is reached from everywhere but the seal, and from it only back to asking. Nothing is sealed while
something is open: that row has its condition. What a mode needs (the value asked back, the command, the reading) goes
with the change and is gone with the next one.

The machines carry no callbacks: an error in one would leave them in the new state. A refusal raises.
"""

from collections.abc import Callable
from typing import Any

from transitions import Machine, MachineError

ASKING, ASKING_BACK, CONFIRMING, CORRECTING, NOTING = (
    "asking", "asking back", "confirming a command", "correcting a reading", "taking a note",
)  # fmt: skip
WINDOW, WAITING, ON_HOLD, CHECK_IN, EMERGENCY, SEALED, ENDED = (
    "live window", "waiting", "on hold", "check-in", "emergency", "sealed", "ended",
)  # fmt: skip
MODES = (ASKING, ASKING_BACK, CONFIRMING, CORRECTING, NOTING, WINDOW, WAITING, ON_HOLD, CHECK_IN, EMERGENCY, SEALED, ENDED)
_OPEN = (ASKING, ASKING_BACK, CONFIRMING, CORRECTING, NOTING, WINDOW, WAITING)
"""Modes in which an answer is looked for."""
_HELD = (ON_HOLD, CHECK_IN)
MODE_ROWS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("ask", _OPEN, ASKING),
    ("open the window", _OPEN, WINDOW),
    ("wait", (ASKING, ASKING_BACK, CONFIRMING, CORRECTING, NOTING, WAITING), WAITING),
    ("ask back", _OPEN, ASKING_BACK),
    ("have it confirmed", _OPEN, CONFIRMING),
    ("correct", _OPEN, CORRECTING),
    ("take a note", _OPEN, NOTING),
    ("hold", _OPEN, ON_HOLD),
    ("ask for a sign", (*(m for m in _OPEN if m != WINDOW), ON_HOLD, CHECK_IN), CHECK_IN),
    ("go on", _HELD, ASKING),
    ("go on asking back", _HELD, ASKING_BACK),
    ("go on confirming", _HELD, CONFIRMING),
    ("go on correcting", _HELD, CORRECTING),
    ("go on noting", _HELD, NOTING),
    ("declare an emergency", (*_OPEN, *_HELD, EMERGENCY), EMERGENCY),
    ("end the emergency", (EMERGENCY,), ASKING),
    ("take up", (*_OPEN, *_HELD, EMERGENCY, ENDED), ASKING),
    ("seal", (ASKING, ASKING_BACK, WAITING), SEALED),
    ("end open", (*_OPEN, *_HELD, EMERGENCY), ENDED),
)
"""Trigger, from, to. `seal` asks whether anything is open."""
GO_ON = {ASKING_BACK: "go on asking back", CONFIRMING: "go on confirming", CORRECTING: "go on correcting", NOTING: "go on noting"}
"""How a mode is taken up again after a hold or a check-in; any other is asked anew."""

_LOOKS = ("oil", "condenser", "cases")
_AT_WORK = ("machine", "panel", "live", *_LOOKS, "liquid", "restore", "watch", "close")
STATION_ROWS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("front", "machine", *_LOOKS, "liquid"), ("front", *_AT_WORK)),
    **dict.fromkeys(("panel", "live", "restore", "watch"), _AT_WORK),
    "close": (*_AT_WORK, "sealed"),
    "sealed": (),
}
"""Where the technician may go from where. At the machine between all stations: forward, back to the panel for a new proof or to
clear what was left there, after a refused reset, a pause or a reading put right to what is looked at anew. To the front only from
where nobody's hands are in anything.
What may be done there is no matter of place, but of the permits. Only the close leads to the seal, and nothing from it."""


class Refused(RuntimeError):
    """A change that the tables do not hold: a fault of the program, never of the technician."""


class _Place:
    """A state on one of the machines; small, so that a walked call is forked in no time."""

    __slots__ = ("asked", "state")

    def __init__(self, state: str) -> None:
        self.state = state
        self.asked: Callable[[], bool] = _yes

    def nothing_open(self) -> bool:
        """The condition of the row `seal`."""
        return self.asked()


def _yes() -> bool:
    return True


def _machine(states: tuple[str, ...], rows: list[dict[str, Any]]) -> Machine:
    return Machine(None, states=list(states), transitions=rows, initial=states[0], auto_transitions=False, send_event=False)


_MODES = _machine(MODES, [
    {"trigger": trigger, "source": source, "dest": dest, **({"conditions": ["nothing_open"]} if trigger == "seal" else {})}
    for trigger, sources, dest in MODE_ROWS for source in sources
])  # fmt: skip
_STATIONS = _machine(
    tuple(STATION_ROWS),
    [{"trigger": f"go to {dest}", "source": source, "dest": dest} for source, dests in STATION_ROWS.items() for dest in dests],
)


def _fire(machine: Machine, place: _Place, trigger: str) -> None:
    event = machine.events.get(trigger)
    try:
        changed = event is not None and event.trigger(place)
    except MachineError as error:
        raise Refused(f"no way from {place.state}: {trigger}") from error
    if not changed:
        raise Refused(f"no way from {place.state}: {trigger}")


class Mode:
    """What the call is doing."""

    def __init__(self, state: str = ASKING) -> None:
        self._place = _Place(state)

    @property
    def name(self) -> str:
        return self._place.state

    def go(self, trigger: str, nothing_open: bool = True) -> None:
        """Fire a row of the table.

        Args:
            trigger: its name.
            nothing_open: what the row `seal` asks for.

        Raises:
            Refused: the table has no such row from here, or its condition does not hold.
        """
        self._place.asked = lambda: nothing_open
        _fire(_MODES, self._place, trigger)


class Station:
    """Where the technician is."""

    def __init__(self, state: str = "front") -> None:
        self._place = _Place(state)

    @property
    def name(self) -> str:
        return self._place.state

    def leads_to(self, station: str) -> bool:
        """Whether the table has a way to a station from here."""
        return station == self.name or station in STATION_ROWS[self.name]

    def go(self, station: str) -> None:
        """Go to a station, or stay.

        Raises:
            Refused: the table has no such row.
        """
        if station != self.name:
            _fire(_STATIONS, self._place, f"go to {station}")
