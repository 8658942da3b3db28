"""The walk: whole calls of chance, then every command and answer in every situation that was met, as far as it goes.

The walk drives the dialogue itself (`walker.py`) with everything that may come next (`utterances.py`); what is safe or
not is decided by the dialogue's own state and watched by the monitor, which shares no code with it. Calls
that are alike (`likeness.py`) are walked on from once.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import partial
from random import Random

from assistant.branches.conditions import FITTED
from assistant.branches.loading import conditions_of
from assistant.branches.steps import Procedure, Step
from assistant.call.effects import Effect, Listen
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard
from assistant.language.meaning import Answer, Part, Remark, Value
from assistant.profile import Rack, Site
from assistant.safety.likeness import key
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor, never_came, report
from assistant.safety.seen import Seen, Tally
from assistant.safety.utterances import LEFT, Next, Utterance, kinds, plain, telling, utterances
from assistant.safety.walker import Walker

START = datetime(2026, 1, 1, tzinfo=UTC)


AT_MOST, CALLS, SEED = 2_000, 520, 4
_OVER: tuple[str, Value] = ("watch.discharge_temperature", 300.0)
"""Over any trip."""
_AN_HOUR, _TELLS = 0.05, 0.05
"""Share of turns before which one of these hours goes by, and at which it is told what is still hooked up."""
LONGEST_CALL = 700
"""Answers and commands after which a call of chance is left: one in which an hour goes by again and again has over 500."""
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
    not_met: list[str] = field(default_factory=list)
    """Steps that were not reached and rules whose situation did not come about: nothing is proven of them, and the check
    does not pass."""
    cut_short: bool = False
    tally: Tally = field(default_factory=Tally)
    """How often each rule's situation came about, and how often it was broken."""

    def rules(self) -> list[str]:
        """One line a rule."""
        return report(self.tally)

    def summary(self) -> str:
        end = "; the walk was cut short" if self.cut_short else "; the walk is whole"
        bad = f"{len(self.complaints)} ways break a rule" if self.complaints else "no way breaks a rule"
        bad += f"; {len(self.not_met)} steps or rules were not met" if self.not_met else ""
        met = f"{self.calls} whole calls, {self.states} situations met, {self.walked} walked on from, {self.ways} ways"
        return f"{met}, {len(self.asked)} steps asked: {bad}{end}"


class Chance:
    """What a call of chance hears next. The same seed gives the same call.

    Args:
        seed: of the chance.
        towards: a step that the call is to come to: what its conditions look for is answered.
        racks: the racks that this step is for.
        reads: readings with their values that are given beside, wherever they are asked for.
    """

    def __init__(
        self, seed: int, towards: Step | None = None, racks: Iterable[str] = (), reads: Iterable[tuple[str, Value]] = ()
    ) -> None:
        self._random = Random(seed)
        self.towards = towards
        self._wanted: set[tuple[str, Value]] = {*reads, *(("rack", rack) for rack in racks)}
        self._wanted |= {(id_, word) for id_, words in conditions_of(towards) for word in words} if towards else set()
        self._disturbed = self._random.choice((0.0, 0.02, 0.08, 0.2) if towards is None else (0.0, 0.05, 0.1))
        """Share of what is heard that is no plain answer: commands, corrections, late answers, time, a kill."""
        straight = (0.6, 0.8, 0.95, 0.99)
        self._straight = self._random.choice(straight if towards is None else (0.6, 0.9, 0.99))
        """Share of answers that are the first of their kind, which mostly leads on."""
        self._holding = self._random.choice((0.3, 0.5, 0.7, 0.9) if towards is None else (0.9, 0.98, 0.98))
        """Share of judged conditions that hold."""
        self._hours = 4 if towards and any(name.endswith("_old") for name in towards.when) else 0
        """Hours that still go by: what is asked because a reading is old only comes so."""
        self._led = ""
        """What was last said because it leads towards the step."""
        opened = [name.removeprefix("open:") for name in towards.when] if towards else []
        self._left = [name for name in opened if name in LEFT]
        """What is still to be told to be hooked up, for the step that clears it."""

    def opened(self, site: Site) -> CallOpened:
        """What the call knows as it opens: mostly who it is, now and then that this is the third trip of any machine here."""
        named = "whoever walks" if self._random.random() < 0.9 else ""
        trips = [(r.id, c.id, 30.0) for r in site.racks for c in r.compressors] * 2 if self._random.random() < 0.1 else []
        return CallOpened(site.name, "", "proof", machine_trips=tuple(trips), technician=named)

    def judged(self) -> bool:
        """Whether values are worked out from what is said."""
        return self._random.random() < 0.05

    def cause(self, causes: list[str]) -> str:
        """A cause that is concluded on the way, or none."""
        return self._random.choice(causes) if self._random.random() < 0.6 else ""

    def utterance(self, plain: list[Utterance], all_: Callable[[], list[Utterance]], at: datetime) -> Utterance:
        """One of the plain answers or, now and then, of all that may come next."""
        if self._left and self._random.random() < _TELLS:
            left = self._left.pop()
            return Utterance(f"remark: {left}", (Heard(LEFT[left], at, meaning=Remark(left)),))
        if self._hours and (late := _late(all_())) and self._random.random() < _AN_HOUR:
            self._hours -= 1
            return self._random.choice(late)
        if not plain or self._random.random() < self._disturbed:
            late = _late(all_()) if self.towards else []  # some steps only come once time has gone by
            return self._random.choice(late if late and self._random.random() < 0.5 else all_())
        led = [u for u in plain if self._leads(u) and u.name != self._led]  # said once more it leads no further
        if led:
            utterance = self._random.choice(led)
            self._led = utterance.name
            return utterance
        plain = [u for u in plain if not self._undoes(u)] or plain
        return plain[0] if self._random.random() < self._straight else self._random.choice(plain)

    def _leads(self, utterance: Utterance) -> bool:
        return any((part.id, part.value) in self._wanted for part in _parts(utterance))

    def _undoes(self, utterance: Utterance) -> bool:
        """Whether it says something else of what the step looks for: asked with another, that is said anew beside it."""
        ids = {id_ for id_, _ in self._wanted}
        return any(part.id in ids and (part.id, part.value) not in self._wanted for part in _parts(utterance))

    def script(self) -> tuple[bool, ...]:
        return tuple(self._random.random() < self._holding for _ in range(60))


def _late(all_: list[Utterance]) -> list[Utterance]:
    """What of it is heard an hour later."""
    return [u for u in all_ if "hour" in u.name]


def _parts(utterance: Utterance) -> list[Part]:
    meanings = [heard.meaning for heard in utterance.heard if isinstance(heard, Heard)]
    return [part for meaning in meanings if isinstance(meaning, Answer) for part in meaning.parts]


Turn = tuple[datetime, list[Effect]]
"""What the call did after one thing was heard, and when."""


def runs(d: Walker, inputs: tuple[Next, ...], first: tuple[bool, ...] = ()) -> Iterator[tuple[Walker, list[Turn]]]:
    """The call after what was heard, once for each way its free findings can come out; those of `first` first."""
    stack: list[list[bool]] = [list(first)]
    while stack:
        script = stack.pop()
        twin = d.fork(script)
        turns: list[Turn] = []
        for heard in inputs:
            more = twin.resume(twin.now + timedelta(minutes=1), "killed") if isinstance(heard, str) else twin.receive(heard)
            turns.append((twin.now, list(more)))
        yield twin, turns
        for k in range(len(script), twin.course.used):
            stack.append(script + [False] * (k - len(script)) + [True])


_Situation = tuple[Walker, Seen, tuple[str, ...]]


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
    def __init__(self, site: Site, procedure: Procedure, first_complaint: bool) -> None:
        self.site, self.procedure = site, procedure
        self.racks = kinds(site)
        self.told = telling(procedure)
        self.proof = Proof()
        self.monitor = Monitor(site, self.proof.tally)
        self.most_complaints = 1 if first_complaint else 200
        self.seen: set[tuple[object, ...]] = set()
        self.queue = _Queue()

    @property
    def over(self) -> bool:
        return len(self.proof.complaints) >= self.most_complaints

    def open(self, opened: CallOpened, cause: str = "", judged: bool = False) -> tuple[Walker, Seen]:
        d = Walker(self.site, self.procedure, cause, judged)
        return d, self.arrive(d, self.monitor.begin(), [(START, d.open(START, opened))], ("open",))

    def arrive(self, d: Walker, w: Seen, turns: list[Turn], way: tuple[str, ...]) -> Seen:
        """Watch what came, and keep the situation for walking on if none was like it."""
        for now, effects in turns:
            w = self.monitor.watch(w, lines(effects), now)
            if isinstance(effects[-1], Listen):
                self.proof.asked.add(effects[-1].step)
        self.proof.ways += 1
        if w.complaints:
            self.proof.complaints += [f"{c}: {' > '.join(way[-8:])}" for c in w.complaints]
        elif not d.over:
            like = key(d, w, self.told)
            if like not in self.seen:
                self.seen.add(like)
                self.queue.put((d, w, way))
        return w

    def broke(self, error: Exception, way: tuple[str, ...]) -> None:
        self.proof.complaints.append(f"the call broke ({type(error).__name__}: {error}): {' > '.join(way[-8:])}")

    def whole_call(self, chance: Chance, straight_to_it: bool = False) -> None:
        """One call from its opening to its seal, as chance has it.

        Args:
            chance: what is heard.
            straight_to_it: what leads towards its step is left to chance: some of it ends the run that the step belongs to.
        """
        d, w = self.open(chance.opened(self.site), chance.cause(list(self.procedure.repairs)), chance.judged())
        if chance.towards:
            d.course.against = self._in_the_way(chance.towards)
            leading = frozenset({chance.towards.id}) if straight_to_it else self._leading(chance.towards)
            d.course.towards = leading - d.course.against
        way: tuple[str, ...] = ("open",)
        while not (d.over or w.complaints or len(way) > LONGEST_CALL):
            name, heard = chance.utterance(plain(d, self.racks, self.told), partial(self._next, d), d.now + timedelta(seconds=5))
            way = (*way, f"{d.state.step}:{name[:40]}")
            try:
                d, turns = next(runs(d, heard, chance.script()))
            except BROKEN as error:
                self.broke(error, way)
                return
            w = self.arrive(d, w, turns, way)
        if not (d.over or w.complaints):
            self.proof.complaints.append(f"the call does not end: {' > '.join(way[-8:])}")
        self.proof.calls += d.state.sealed

    def _next(self, d: Walker) -> list[Utterance]:
        return list(utterances(d, self.racks, self.told))

    def towards_the_rest(self, seed: int, tries: int) -> None:
        """Whole calls towards each step that no call has come to yet."""
        for step in _expected(self.procedure.steps, self.site):
            racks = [rack.id for rack in _racks_of(step, self.site) if rack.id in self.racks]
            for number in range(tries):
                if self.over or step.id in self.proof.asked:
                    break
                sought = replace(step, when=(*step.when, *self._opened_by(step)))
                self.whole_call(Chance(seed + number, sought, racks), straight_to_it=number % 2 == 1)

    def over_its_trip(self, seed: int, tries: int) -> None:
        """Whole calls in which a machine that runs is read over its trip: chance alone comes to one in hundreds."""
        step = next((s for s in self.procedure.steps if _OVER[0] in s.ids), None)
        for number in range(tries if step else 0):
            if self.over or self.proof.tally.came.get("S24"):
                break
            self.whole_call(Chance(seed + number, step, reads=(_OVER,)))

    def _leading(self, step: Step) -> frozenset[str]:
        """The step, and those of its branch that the call comes past before it: some do what it builds on."""
        order = [s.id for s in self.procedure.steps]
        branch = (s for s in self.procedure.steps if s.file == step.file)
        return frozenset(s.id for s in branch if order.index(s.id) <= order.index(step.id))

    def _in_the_way(self, step: Step) -> frozenset[str]:
        """Other steps that read what this one wants unread."""
        unread = {name.removesuffix(" unread") for name in step.when if name.endswith(" unread")}
        return frozenset(s.id for s in self.procedure.steps if s.id != step.id and unread & set(s.ids))

    def _opened_by(self, step: Step) -> Iterator[str]:
        """The answers that open what the step is asked behind."""
        rules = (self.procedure.obligations.get(name.removeprefix("open:")) for name in step.when)
        return (condition for rule in rules if rule for condition in rule.opened_by)

    def walk_on(self) -> None:
        """Everything that may come next in one situation."""
        d, w, way = self.queue.take()
        self.proof.walked += 1
        for name, heard in utterances(d, self.racks, self.told):
            after = (*way, f"{d.state.step}:{name[:40]}")
            try:
                for twin, turns in runs(d, heard):
                    self.arrive(twin, w, turns, after)
            except BROKEN as error:
                self.broke(error, after)


def prove(site: Site, procedure: Procedure, at_most: int = AT_MOST, calls: int = CALLS, seed: int = SEED,
          first_complaint: bool = False) -> Proof:  # fmt: skip
    """Walk the procedure on a site's profile.

    First whole calls, as chance has them, to the seal; then everything that may come next in every situation that was
    met, one step after the other in turn, and so on from there.

    Args:
        site: the profile; one rack of each kind is walked.
        procedure: the package's own, or a trainer's.
        at_most: situations walked on from, after which the walk is cut short, and says so.
        calls: whole calls.
        seed: of their chance: the same seed gives the same calls.
        first_complaint: stop at the first rule that is broken.
    """
    walk = _Walk(site, procedure, first_complaint)
    proof = walk.proof
    walk.open(CallOpened(site.name, "", "proof", technician="whoever walks"))
    for number in range(calls):
        if not walk.over:
            walk.whole_call(Chance(seed * 1_000_003 + number))
    walk.towards_the_rest(seed * 1_000_003 + calls, calls // 2)
    walk.over_its_trip(seed * 1_000_003 + calls, calls // 2)
    while walk.queue and not walk.over and proof.walked < at_most:
        walk.walk_on()
    proof.cut_short = bool(walk.queue)
    proof.states = len(walk.seen)
    proof.never_asked = [s.id for s in _expected(procedure.steps, site) if s.id not in proof.asked]
    if not walk.over:
        proof.not_met = [f"step '{i}' was never reached" for i in proof.never_asked] + never_came(proof.tally, site)
    return proof


def _expected(steps: Iterable[Step], site: Site) -> Iterator[Step]:
    """Steps that some rack of this site can reach: what the profile's conditions ask for is fitted to one."""
    return (step for step in steps if _racks_of(step, site))


def _racks_of(step: Step, site: Site) -> list[Rack]:
    """The racks that have what the step's conditions ask of the profile."""
    fitted = [(FITTED[bare], bare == name) for name in step.when if (bare := name.removeprefix("!")) in FITTED]
    return [rack for rack in site.racks if all(holds(rack) == wanted for holds, wanted in fitted)]
