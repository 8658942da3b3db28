"""Whether a step's `when` holds: a permit of the call, a judgement of the readings, the profile, a fact, an obligation."""

from assistant.branches.conditions import FITTED, JUDGED
from assistant.branches.loading import is_one_of
from assistant.call.known import case_of
from assistant.call.permits import PERMITS
from assistant.call.state import State

NAMES = frozenset((*PERMITS, *JUDGED, *FITTED))
"""Every condition that a step may name."""


def holds(s: State, condition: str) -> bool:
    """Whether a condition holds now; `!` before it turns it round."""
    name = condition.removeprefix("!")
    return _holds(s, name) != condition.startswith("!")


def _holds(s: State, name: str) -> bool:
    if name in PERMITS:
        return PERMITS[name](s)
    if name in JUDGED:
        return JUDGED[name](case_of(s))
    if name in FITTED:
        return s.rack is not None and FITTED[name](s.rack)
    if name.startswith("open:"):
        return name[5:] in s.open
    if " is " in name:
        id_ = name.partition(" ")[0]
        return id_ in s.readings and is_one_of(name, id_, s.readings[id_].value)
    if name.endswith((" read", " unread")):
        return (name.partition(" ")[0] in s.readings) == name.endswith(" read")
    return s.has(name) or name in case_of(s).facts


def judged(condition: str) -> bool:
    """Whether it rests on measurement and judgement: the walk lets such a condition come out either way."""
    return condition.removeprefix("!") in JUDGED
