"""The walk: whole calls of chance, then every command and answer in every situation that was met, as far as it goes.

The walk drives the dialogue itself (`walker.py`) with everything that may come next (`utterances.py`); what is safe or
not is decided by the dialogue's own state and watched by the monitor of `rules.py`, which shares no code with it. Calls
that are alike (`likeness.py`) are walked on from once.
"""

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

from assistant.call.effects import Effect, Listen
from assistant.call.facts import CallOpened
from assistant.call.procedure import Step, load_steps
from assistant.profile import Site
from assistant.safety.likeness import key
from assistant.safety.rules import Monitor, Watched
from assistant.safety.utterances import Next, Utterance, kinds, utterances
from assistant.safety.walker import Follower, Walker

START = datetime(2026, 1, 1, tzinfo=UTC)


AT_MOST, CALLS = 2_000, 400
LONGEST_CALL = 500
"""Answers and commands after which a call of chance is left."""
BROKEN = (ValueError, RuntimeError, KeyError, IndexError, AttributeError)


@dataclass
class Proof:
    states: int = 0
    """Situations met."""
    walked: int = 0
    """Situations of which everything that may come next was tried."""
    calls: int = 0
    """Whole calls that came to their seal."""
    ways: int = 0
    """Changes of state that were tried."""
    asked: set[str] = field(default_factory=set)
    complaints: list[str] = field(default_factory=list)
    never_asked: list[str] = field(default_factory=list)
    cut_short: bool = False

    def summary(self) -> str:
        end = "; the walk was cut short" if self.cut_short else "; the walk is whole"
        bad = f"{len(self.complaints)} ways break a rule" if self.complaints else "no way breaks a rule"
        met = f"{self.calls} whole calls, {self.states} situations met, {self.walked} walked on from, {self.ways} ways"
        return f"{met}, {len(self.asked)} steps asked: {bad}{end}"


class Chance:
    """What a call of chance hears next. The same seed gives the same call."""

    def __init__(self, seed: int) -> None:
        self._random = Random(seed)
        self._disturbed = self._random.choice((0.0, 0.02, 0.08, 0.2))
        """Share of what is heard that is no plain answer: commands, corrections, late answers, time, a kill."""
        self._straight = self._random.choice((0.6, 0.8, 0.95, 0.99))
        """Share of answers that are the first of their kind, which mostly leads on."""
        self._holding = self._random.choice((0.3, 0.5, 0.7, 0.9))
        """Share of free findings that hold."""

    def utterance(self, all_: list[Utterance]) -> Utterance:
        plain = [u for u in all_ if u.plain]
        if not plain or self._random.random() < self._disturbed:
            return self._random.choice(all_)
        return plain[0] if self._random.random() < self._straight else self._random.choice(plain)

    def script(self) -> tuple[bool, ...]:
        return tuple(self._random.random() < self._holding for _ in range(60))


def runs(d: Walker, inputs: tuple[Next, ...], first: tuple[bool, ...] = ()) -> Iterator[tuple[Walker, list[Effect]]]:
    """The call after what was heard, once for each way its free findings can come out; those of `first` first."""
    stack: list[list[bool]] = [list(first)]
    while stack:
        script = stack.pop()
        twin = d.fork(script)
        effects: list[Effect] = []
        for heard in inputs:
            more = twin.resume(twin.now + timedelta(minutes=1), "killed") if isinstance(heard, str) else twin.receive(heard)
            # Of two in a row the first only asks back: what it asked is answered by the second.
            kept: list[Effect] = [x for x in effects if not isinstance(x, Listen)]
            effects = kept + list(more)
        yield twin, effects
        for k in range(len(script), twin.course.used):
            stack.append(script + [False] * (k - len(script)) + [True])


_Situation = tuple[Walker, Watched, tuple[str, ...]]


class _Queue:
    """Situations still to be walked on from: next is one of what was asked least, so that a walk that is cut short has
    been everywhere."""

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


class _Walk:
    def __init__(self, site: Site, steps: tuple[Step, ...], first_complaint: bool) -> None:
        self.site, self.steps = site, steps
        self.racks = kinds(site)
        self.monitor = Monitor(site, {s.id: s for s in steps})
        self.proof = Proof()
        self.most_complaints = 1 if first_complaint else 200
        self.seen: set[tuple[object, ...]] = set()
        self.queue = _Queue()

    @property
    def over(self) -> bool:
        return len(self.proof.complaints) >= self.most_complaints

    def open(self) -> tuple[Walker, Watched]:
        d = Walker(self.site, self.steps)
        d.phases = Follower("front")  # type: ignore[assignment]
        w = self.arrive(d, Watched(), d.open(START, CallOpened(self.site.name, "", "proof")), ("open",))
        return d, w

    def arrive(self, d: Walker, w: Watched, effects: list[Effect], way: tuple[str, ...]) -> Watched:
        """Watch what came, and keep the situation for walking on if none was like it."""
        w = self.monitor.watch(w, effects, d.now)
        self.proof.ways += 1
        if isinstance(effects[-1], Listen):
            self.proof.asked.add(effects[-1].step)
        if w.complaints:
            self.proof.complaints += [f"{c}: {' > '.join(way[-8:])}" for c in w.complaints]
        elif not d.state.sealed:
            like = key(d, w)
            if like not in self.seen:
                self.seen.add(like)
                self.queue.put((d, w, way))
        return w

    def broke(self, error: Exception, way: tuple[str, ...]) -> None:
        self.proof.complaints.append(f"the call broke ({type(error).__name__}: {error}): {' > '.join(way[-8:])}")

    def whole_call(self, chance: Chance) -> None:
        """One call from its opening to its seal, as chance has it."""
        d, w = self.open()
        way: tuple[str, ...] = ("open",)
        while not (d.state.sealed or w.complaints or len(way) > LONGEST_CALL):
            name, heard, _ = chance.utterance(list(utterances(d, self.racks)))
            way = (*way, f"{d.state.step}:{name[:40]}")
            try:
                d, effects = next(runs(d, heard, chance.script()))
            except BROKEN as error:
                self.broke(error, way)
                return
            w = self.arrive(d, w, effects, way)
        self.proof.calls += d.state.sealed

    def walk_on(self) -> None:
        """Everything that may come next in one situation."""
        d, w, way = self.queue.take()
        self.proof.walked += 1
        for name, heard, _ in utterances(d, self.racks):
            after = (*way, f"{d.state.step}:{name[:40]}")
            try:
                for twin, effects in runs(d, heard):
                    self.arrive(twin, w, effects, after)
            except BROKEN as error:
                self.broke(error, after)


def prove(site: Site, folder: Path | None = None, at_most: int = AT_MOST, calls: int = CALLS, seed: int = 4,
          first_complaint: bool = False) -> Proof:  # fmt: skip
    """Walk the procedure on a site's profile.

    First whole calls, as chance has them, to the seal; then everything that may come next in every situation that was
    met, one step after the other in turn, and so on from there.

    Args:
        site: the profile; one rack of each kind is walked.
        folder: a folder of procedures, or the package's own.
        at_most: situations walked on from, after which the walk is cut short, and says so.
        calls: whole calls.
        seed: of their chance: the same seed gives the same calls.
        first_complaint: stop at the first rule that is broken.

    Raises:
        ProcedureFault: the procedure cannot be loaded.
    """
    steps = load_steps(folder)
    walk = _Walk(site, steps, first_complaint)
    proof = walk.proof
    walk.open()
    for number in range(calls):
        if not walk.over:
            walk.whole_call(Chance(seed * 1_000_003 + number))
    while walk.queue and not walk.over and proof.walked < at_most:
        walk.walk_on()
    proof.cut_short = bool(walk.queue)
    proof.states = len(walk.seen)
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
