"""The walk: every way through the procedure, with every command at every step, as far as it is let go.

The walk drives the dialogue itself (`walker.py`) with everything that may come next (`utterances.py`); what is safe or
not is decided by the dialogue's own state and watched by the monitor of `rules.py`, which shares no code with it. Calls
that are alike (`likeness.py`) are walked on from once.
"""

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from assistant.dialogue import events as e
from assistant.procedures.likeness import key
from assistant.procedures.rules import Monitor, Watched
from assistant.procedures.steps import Step, load_steps
from assistant.procedures.utterances import Heard, kinds, utterances
from assistant.procedures.walker import Walker
from assistant.profile import Site

START = datetime(2026, 1, 1, tzinfo=UTC)


@dataclass
class Proof:
    states: int = 0
    ways: int = 0
    """Changes of state that were tried."""
    asked: set[str] = field(default_factory=set)
    complaints: list[str] = field(default_factory=list)
    never_asked: list[str] = field(default_factory=list)
    cut_short: bool = False

    def summary(self) -> str:
        end = "; the walk was cut short" if self.cut_short else ""
        bad = f"{len(self.complaints)} ways break a rule" if self.complaints else "no way breaks a rule"
        return f"{self.states} situations, {self.ways} ways on from them, {len(self.asked)} steps asked: {bad}{end}"


def runs(d: Walker, inputs: tuple[Heard, ...]) -> Iterator[tuple[Walker, list[e.Effect]]]:
    """The call after what was heard, once for each way its free findings can come out."""
    stack: list[list[bool]] = [[]]
    while stack:
        script = stack.pop()
        twin = d.fork(script)
        effects: list[e.Effect] = []
        for heard in inputs:
            more = twin.resume(twin.now + timedelta(minutes=1), "killed") if isinstance(heard, str) else twin.receive(heard)
            # Of two in a row the first only asks back: what it asked is answered by the second.
            kept: list[e.Effect] = [x for x in effects if not isinstance(x, e.Listen)]
            effects = kept + list(more)
        yield twin, effects
        for k in range(len(script), twin.course.used):
            stack.append(script + [False] * (k - len(script)) + [True])


_Situation = tuple[Walker, Watched, tuple[str, ...]]


class _Queue:
    """Situations still to be walked on from: next is one of the step that was walked on from least, so that a walk
    that is cut short has been everywhere."""

    def __init__(self) -> None:
        self._waiting: dict[str, deque[_Situation]] = {}
        self._walked: dict[str, int] = {}

    def __len__(self) -> int:
        return len(self._waiting)

    def put(self, situation: _Situation) -> None:
        d = situation[0]
        label = d.waiting.step if d.waiting else d.asked_at
        self._waiting.setdefault(label, deque()).append(situation)

    def take(self) -> _Situation:
        label = min(self._waiting, key=lambda one: self._walked.get(one, 0))
        self._walked[label] = self._walked.get(label, 0) + 1
        found = self._waiting[label].popleft()
        if not self._waiting[label]:
            del self._waiting[label]
        return found


def prove(site: Site, folder: Path | None = None, at_most: int = 25_000) -> Proof:
    """Walk every way of the procedure on a site's profile.

    Args:
        site: the profile; one rack of each kind is walked.
        folder: a folder of procedures, or the package's own.
        at_most: situations after which the walk is cut short, and says so.

    Raises:
        ProcedureFault: the procedure cannot be loaded.
    """
    steps = load_steps(folder)
    racks = kinds(site)
    monitor = Monitor(site, {s.id: s for s in steps})
    proof = Proof()
    first = Walker(site, steps)
    effects = first.open(START, e.CallOpened(site.name, "", "proof"))
    seen: set[tuple[object, ...]] = set()
    queue = _Queue()

    def arrive(d: Walker, w: Watched, effects: list[e.Effect], way: tuple[str, ...]) -> None:
        w = monitor.watch(w, effects)
        proof.ways += 1
        if isinstance(effects[-1], e.Listen):
            proof.asked.add(effects[-1].step)
        if w.complaints:
            proof.complaints += [f"{c}: {' > '.join(way[-8:])}" for c in w.complaints]
            return
        like = key(d, w)
        if like not in seen and not d.state.sealed:
            seen.add(like)
            queue.put((d, w, way))

    arrive(first, Watched(), effects, ("open",))
    while queue and not proof.cut_short:
        d, w, way = queue.take()
        for name, heard in utterances(d, racks):
            try:
                for twin, effects in runs(d, heard):
                    arrive(twin, w, effects, (*way, f"{d.state.step}:{name[:40]}"))
            except (ValueError, RuntimeError, KeyError, IndexError, AttributeError) as error:
                proof.complaints.append(f"the call broke ({type(error).__name__}: {error}): {' > '.join((*way, name)[-8:])}")
        proof.cut_short = len(seen) >= at_most or len(proof.complaints) > 200
    proof.states = len(seen)
    proof.never_asked = [s.id for s in _expected(steps, site) if s.id not in proof.asked]
    proof.complaints += [] if proof.cut_short else [f"step '{i}' is never reached" for i in proof.never_asked]
    return proof


def _expected(steps: Iterable[Step], site: Site) -> Iterator[Step]:
    """Steps that some rack of this site can reach."""
    panels = [r.panel for r in site.racks]
    for step in steps:
        if "drive_or_capacitors" in step.when and not any(p.drive or p.capacitors for p in panels):
            continue
        if "isolator_stops_rack" in step.when and not any(p.control_isolator_stops == "rack" for p in panels):
            continue
        yield step
