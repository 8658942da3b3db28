"""The monitor: judges a call from what it records, asks and says, by its own tables and the site's profile.

It imports nothing of the dialogue and looks at no step's name. A label that the procedures lost is still seen by the
ids that are asked, the obligations that open and the words that are spoken. Each complaint begins with the rule's id.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any

from assistant.profile import Site
from assistant.safety import (
    watch_call,
    watch_caution,
    watch_gas,
    watch_hooked,
    watch_live,
    watch_lock,
    watch_motor,
    watch_start,
)
from assistant.safety.happened import HAPPENED
from assistant.safety.rules import RULES
from assistant.safety.seen import Seen, Tally
from assistant.safety.turn import Line, Turn
from assistant.safety.words import acts

_WATCHERS = (watch_lock, watch_live, watch_start, watch_motor, watch_gas, watch_hooked, watch_caution, watch_call)
_ASKED: tuple[Callable[[Turn], None], ...] = tuple(f for m in _WATCHERS for f in m.ASKED)
_ENDED: tuple[Callable[[Turn], None], ...] = tuple(f for m in _WATCHERS for f in m.ENDED)
_RECORDED: dict[str, tuple[Callable[[Turn, Line], None], ...]] = {}
for _module in _WATCHERS:
    for _kind, _functions in _module.RECORDED.items():
        _RECORDED[_kind] = (*_RECORDED.get(_kind, ()), *_functions)
_UNIVERSAL = frozenset({watch_live.quiet_window, watch_call.safe_first})
"""What counts for a caution's question and for a value that is asked back, too."""


class Monitor:
    """The rules for one site.

    Args:
        site: the profile.
        tally: counts of the rules over several monitors, or its own.
    """

    def __init__(self, site: Site, tally: Tally | None = None) -> None:
        self.site = site
        self.tally = tally or Tally()

    def begin(self) -> Seen:
        """A call of which nothing was seen."""
        return Seen()

    def watch(self, seen: Seen, lines: Iterable[Mapping[str, Any]], now: datetime) -> Seen:
        """What is seen after one turn. What was seen before is not changed.

        Args:
            seen: what was seen before.
            lines: what the call did, in its order: facts as the log has them, and what it said, asked and waits for.
            now: the time of the turn.
        """
        t = Turn(seen.copy(), self.site, now, self.tally)
        for line in lines:
            kind = str(line["kind"])
            for look in _RECORDED.get(kind, ()):
                look(t, line)
            change = HAPPENED.get(kind)
            if change:
                proving = bool(t.w.chain)
                change(t, line)
                if proving and not t.w.dead and t.w.dead_why.startswith("S4") and not t.w.chain:
                    t.came("S4")
            elif kind == "ask":
                self._asked(t, line)
            elif kind == "end":
                t.asked = True
        for end in _ENDED:
            end(t)
        t.keeps("call", t.asked or t.w.sealed, f"a turn ends with nothing asked, behind '{t.w.step}'")
        return t.w

    def finish(self, seen: Seen) -> Seen:
        """The call is over, or no way leads on."""
        t = Turn(seen.copy(), self.site, seen.heard_at or datetime.min, self.tally)
        t.keeps("S37", t.w.sealed, f"the call did not seal; last asked was '{t.w.step}'")
        return t.w

    def _asked(self, t: Turn, line: Line) -> None:
        w = t.w
        t.asked = True
        t.step, t.asking, t.quiet = str(line["step"]), str(line["asking"]), bool(line.get("quiet"))
        t.ids = frozenset({t.asking, *(line.get("also") or ())}) - {"command", "confirm"}
        said_caution = any(purpose == "caution" for purpose, _ in t.said)
        same = t.step == w.step
        w.at_caution = not t.words and (said_caution or (same and w.at_caution))
        w.waited_for = w.pending if w.at_caution else w.waited_for if w.correcting else frozenset()
        w.confirming = t.asking == "confirm"
        t.words = t.words or (w.words if same else "")
        t.acts = acts(t.words) if not (w.at_caution or w.confirming) else frozenset()
        aside = w.at_caution or w.confirming or w.emergency or w.held
        if aside:
            t.ids = frozenset() if not w.emergency else t.ids
        if t.meaning.startswith("command: correct") and any(purpose == "info" for purpose, _ in t.said):
            w.correcting = t.corrected_before  # it was refused, and why was said: what is asked now is measured
        if w.correcting and "control_power_off" not in t.ids and all(i in w.values for i in t.ids):
            t.acts -= {"measure_dead", "live"} | ({"repair", "leak_repair"} if "leak_repaired" in t.ids else frozenset())
            w.put_right, t.ids = t.asking, frozenset()  # the value on record is asked for, nothing is measured
        elif not aside:
            w.put_right = ""
        t.look()
        for judge in _ASKED:
            if not aside or judge in _UNIVERSAL:
                judge(t)
        if not aside:
            if t.hands and t.step != w.step:
                w.ready = frozenset()
            w.ids, w.acts, w.words = tuple(t.ids), t.acts, t.words
            w.step = t.step
        elif w.confirming:
            w.ids = w.ids or tuple(t.ids)
        else:
            w.step, w.ids, w.acts, w.words = t.step, (), frozenset(), ""


def report(tally: Tally) -> list[str]:
    """One line a rule: id, title, how often its situation came about, how often it was broken, what is not watched."""
    lines = []
    for id_, rule in RULES.items():
        if not rule.watcher:
            lines.append(f"{id_}  {rule.title}: not watched: {rule.partly}")
            continue
        came, broken = tally.came.get(id_, 0), tally.broken.get(id_, 0)
        aside = f"; not watched: {rule.partly}" if rule.partly else ""
        lines.append(f"{id_}  {rule.title}: came about {came} times, broken {broken} times{aside}")
    return lines


def never_came(tally: Tally, site: Site | None = None) -> list[str]:
    """Rules that are watched and whose situation never came about: a check that met none of it proves nothing of it.

    Args:
        tally: what was counted.
        site: leaves out rules that speak of a panel which no rack of this profile has.
    """
    return [
        f"{id_} never came about: {rule.title}"
        for id_, rule in RULES.items()
        if rule.watcher and not tally.came.get(id_) and (site is None or any(rule.of(rack) for rack in site.racks))
    ]
