"""The exhaustive walk: every way through the procedure, with every command at every step.

The walk drives the dialogue itself. A finding that rests on measurement or judgement (`FREE`) comes out either
way, so that no way is missed; what is safe or not is decided by the dialogue's own state and watched by the
monitor of `rules.py`, which shares no code with it. Two calls are the same when everything that later decides
about safety is the same; acknowledged cautions other than the live ones only ever grow and each step checks its
own, so they do not tell calls apart.
"""

import copy
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from assistant.dialogue import events as e
from assistant.dialogue.branches import BRANCH_VALUES, tells_apart
from assistant.dialogue.course import Course
from assistant.dialogue.engine import Dialogue
from assistant.dialogue.findings import FREE, holds, live_refused
from assistant.dialogue.obligations import OBLIGATIONS
from assistant.dialogue.phases import FORWARD, Refused
from assistant.dialogue.state import State
from assistant.language.meaning import Answer, Command, Confirmed, Meaning, NotUnderstood, Part, Question, Value
from assistant.language.vocabulary import vocabulary
from assistant.procedures.rules import Monitor, Watched
from assistant.procedures.steps import Step, load_steps
from assistant.profile import Rack, Site

START = datetime(2026, 1, 1, tzinfo=UTC)
_LEAVING = ("skip", "back", "finish")
"""Commands that leave a step once they are confirmed: the walk confirms them at once. Those that leave nothing
("say again", "hold on", a "no") come back to where they were said and are not walked."""
_NUMBERS: dict[str, tuple[Value, ...]] = {"volts": (0.0, 5.0, 120.0), "temperature": (40.0, 200.0)}
_LIVE_IDS = ("ladder_kind", "clothing_meets_label", "detector_state", "injection_hand_valve", "live_or_dead")
_CHARGE_IDS = ("refrigerant_label", "cylinder_checked")
_START_IDS = ("injection_after", "crankcase_heater", "oil_level", "service_valves_open", "others_clear")


_TELLING = frozenset({
    *_LIVE_IDS, *_CHARGE_IDS, *_START_IDS, "rack", "coil_seated", "injection_feed", "dead_volts.power",
    "dead_volts.control", "dead_volts.drive", "panel_tag", "chain_dead_check", "crankcase_temperature",
    "follow_up_in_hours", "leak_found", "leak_repaired", "switch_position", "part_left_in_use",
})  # fmt: skip
"""Readings whose value a safety rule or an obligation looks at. The others work only through findings, which are
free: one value stands for all."""


_ALIKE = {
    "coil_seated": ("loose", "burnt"), "injection_hand_valve": ("open", "closed"), "live_or_dead": ("live",),
    "detector_state": ("quiet", "alarm"), "ladder_kind": ("metal",), "oil_level": ("low", "normal"),
}  # fmt: skip
"""Choices that tell calls apart; the others, and none, are alike."""


def _safety_values(s: State) -> tuple[object, ...]:
    """The readings on which a safety rule still rests. "Go back" stays within a phase, so that what only earlier
    phases look at no longer tells two calls apart."""
    ids: tuple[str, ...] = ("rack",)
    over = s.finishing or s.started_at is not None or s.phase == "close"
    ids += ("coil_seated",) if s.answered.get("seat_coil") != "done" and s.phase not in ("watch", "close") else ()
    live = s.phase in ("front", "machine", "panel", "live") and not s.finishing
    looking = s.phase in ("front", "machine")
    ids += () if not live else _LIVE_IDS if looking else ("live_or_dead",)
    ids += _CHARGE_IDS if s.phase in ("panel", "live", "liquid") and not s.finishing else ()
    ids += _START_IDS if s.phase in ("panel", "live", "liquid", "restore") and not over else ()
    values = [s.value(i) for i in ids]
    alike = [v if i not in _ALIKE or v in _ALIKE[i] else None for i, v in zip(ids, values, strict=True)]
    gates: tuple[object, ...] = tuple(s.answered.get(g) for g in ("clothing", "ladder")) if live else ()
    # Later nothing but `live_refused` looks at label, ladder and detector, and a hand valve that is shut stays open
    # as an obligation.
    gates += (bool(live_refused(s)),) if live and not looking else ()
    choice = s.choice if s.phase not in ("watch", "close") else ""
    return (*alike, *gates, choice)


def _open_kinds(s: State) -> tuple[object, ...]:
    """What is open; those that are only handed over by name count as one kind, with the shortest time they allow."""
    rules = [OBLIGATIONS[o] for o in s.open]
    owner = [r.within_hours or 999 for r in rules if r.hand_over == "owner"]
    live = s.phase not in ("restore", "watch", "close")
    return (
        frozenset(r.id for r in rules if r.hand_over != "owner"),
        min(owner, default=None),
        "leak_open" in s.open and live,
        "no_cause_reset" in s.handed_over,
        "switch_in_hand" in s.open and s.started_at is None and not s.finishing,
    )


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


class _Follower:
    """The referee's table without its machine, which costs too much to build for each of a million calls."""

    def __init__(self, state: str) -> None:
        self.state = state

    def enter(self, phase: str) -> None:
        if phase != self.state and phase not in FORWARD[self.state]:
            raise Refused(f"no way from {self.state} to {phase}")
        self.state = phase


class _FreeCourse(Course):
    """The course with its free findings answered by a script."""

    def __init__(self, steps: tuple[Step, ...]) -> None:
        super().__init__(steps)
        self.script: list[bool] = []
        self.used = 0
        self.settled_free: dict[str, bool] = {}
        self.aim = ""
        """The step that a free finding chose last: what comes before it is asked on the way there."""

    def applies(self, step: Step, s: State) -> bool:
        real = [n for n in step.when if n.lstrip("!") not in FREE]
        if self.no_live(step, s) or not all(holds(s, n) for n in real):
            return False
        if len(real) == len(step.when):
            return True
        if step.id not in self.settled_free:
            taken = self.script[self.used] if self.used < len(self.script) else False
            self.used += 1
            self.settled_free[step.id] = taken
            self.aim = step.id if taken else self.aim
        return self.settled_free[step.id]


class _Walker(Dialogue):
    """The dialogue on a free course, with words taken for their meaning."""

    course: _FreeCourse

    def _meaning(self, question: Question, words: str) -> Meaning:
        return _MEANINGS.get(words, NotUnderstood())

    def fork(self, script: list[bool]) -> "_Walker":
        twin = copy.copy(self)
        twin.state = copy.copy(self.state)
        for name, value in vars(self.state).items():
            if isinstance(value, (dict, list, set)):
                setattr(twin.state, name, copy.copy(value))
        twin.phases = _Follower(self.phases.state)  # type: ignore[assignment]
        twin.course = copy.copy(self.course)
        twin.course.script, twin.course.used = script, 0
        twin.course.settled_free = dict(self.course.settled_free)
        twin.pending, twin.back_words = list(self.pending), []
        twin.refused, twin.spoken_conclusions, twin.fresh = {}, set(self.spoken_conclusions), set(self.fresh)
        return twin


_MEANINGS: dict[str, Meaning] = {}


def _word(meaning: Meaning) -> str:
    key = repr(meaning)
    _MEANINGS[key] = meaning
    return key


def _values(id_: str, question: Question, rack: Rack | None) -> tuple[Value, ...]:
    entry = vocabulary()[id_]
    if id_ not in _TELLING and entry.kind == "choice":
        return tuple([*entry.choices, *dict.fromkeys(question.local.get(id_, {}).values())][:1])
    if id_ == "chain_dead_check":
        return ("discharge", "motor", "oil", "two")
    if id_ in BRANCH_VALUES:
        return BRANCH_VALUES[id_]
    if id_ not in _TELLING and entry.kind in ("volts", "temperature"):
        return (10.0,)
    if entry.kind == "acknowledge":
        return (True,)
    if entry.kind == "yes_no":
        return ("yes", "no")
    if entry.kind == "choice":
        values = [*entry.choices, *dict.fromkeys(question.local.get(id_, {}).values())]
        if rack and id_ in ("panel_tag", "refrigerant_label"):
            # One that agrees and one that does not stand for all.
            good = [v for v in values if v == rack.refrigerant or v in {c.tag for c in rack.compressors}][:2]
            return tuple(dict.fromkeys([*good, *values[-1:]]))
        if id_ == "part_left_in_use":
            return ("none", "borrowed")
        if id_ == "rack":
            return tuple(_KINDS)
        if id_ in ("compressor", "first_to_trip", "site", "follow_up_owner"):
            return tuple(values[:1])
        return tuple(dict.fromkeys(values))
    if entry.kind == "free":
        return ("words",)
    if id_ == "follow_up_in_hours":
        return (24.0, 300.0)
    return _NUMBERS.get(entry.kind, (10.0,))


_KINDS: list[str] = []
"""The racks that stand for all: one of each kind of panel."""


def _kinds(site: Site) -> list[str]:
    kinds: dict[tuple[object, ...], str] = {}
    for rack in site.racks:
        panel, probe = rack.panel, rack.probe
        drive = panel.drive or panel.capacitors
        key = (panel.control_isolator_stops, drive, probe.feed_test_possible, probe.mount == "in_gas", rack.flammable,
               rack.refrigerant == "R744", rack.closed_room)  # fmt: skip
        kinds.setdefault(key, rack.id)
    return list(kinds.values())


def _answers(question: Question, rack: Rack | None) -> Iterator[Meaning]:
    if question.asking == "command":
        for words in question.go_ahead[:1] + tuple(w for w in question.go_ahead if "leave" in w):
            yield Command("continue", words)
    elif question.asking == "confirm":
        yield Confirmed(True)
        yield Confirmed(False)
    elif question.asking == "note":
        yield Answer((Part("note", "words"),))
    else:
        for value in _values(question.asking, question, rack):
            first = Part(question.asking, value)
            rest = tuple(Part(i, _values(i, question, rack)[0]) for i in question.also)
            yield Answer((first, *rest))
        if question.also:
            yield Answer((Part(question.asking, _values(question.asking, question, rack)[0]),))
        for i in question.also:
            for value in _values(i, question, rack)[1:]:
                yield Answer((Part(i, value),))


def _place(d: _Walker) -> tuple[object, ...]:
    """Where the call stands. On the way to a step that was chosen, all that is passed over on it is alike, but for what
    closing early would still ask; behind a caution nothing looks at the step before it."""
    s, run = d.state, d.course.run
    heading = d.course.aim if d.course.aim not in s.answered else ""
    ahead = s.position
    if heading:
        safe = (i for i in range(max(s.position, 0), len(run)) if run[i].safe and run[i].id not in s.answered)
        ahead = next(safe, len(run))
    return "" if "/" in d.asked_at else s.step, ahead, d.asked_at, heading


def _key(d: _Walker, w: Watched) -> tuple[object, ...]:
    s = d.state
    q = d.question
    done = tuple(s.answered.get(i) for i in ("first_start_valve", "seat_coil"))
    dew = s.number("crankcase_temperature")
    return (
        *_place(d), q and q.asking, q and q.of, q and q.also, d.pending_command,
        tuple(p[0].id for p in d.pending),
        d.correcting, d.noting, s.locked, s.lock_unsure, s.powered, s.dead, s.proof, s.power_on_at is None, s.tested, s.was_fed,
        s.start_is_blocked, s.jumper_is_in, s.leads_are_on, s.over_budget, _open_kinds(s),
        "liquid_in_compressor" in s.cleared, frozenset(s.resets), s.started_at is None, s.finishing, s.stay_out,
        s.emergency, s.held, s.sealed, _safety_values(s), done, dew,
        frozenset(s.waited & {"liquid_oil"}), frozenset(s.acknowledged & {"live", "live_place"}),
        tells_apart(s),
        w.dead, w.chain, w.powered, w.locked, w.lock_stayed, w.blocked, w.stimulus, w.budget_spent, w.resets,
    )  # fmt: skip


def _inputs(d: _Walker) -> Iterator[tuple[str, tuple[e.Heard | e.Silence | str, ...]]]:
    """Everything that may come next: answers, commands, time going by, a kill and a resume."""
    s = d.state
    at = d.now + timedelta(seconds=5)
    question = d.question or Question("command")
    for meaning in _answers(question, s.rack):
        text = meaning.about if isinstance(meaning, Command) else _word(meaning)
        if isinstance(meaning, Command):
            _MEANINGS[text] = Command("continue")
        yield text, (e.Heard(text, at),)
    if not s.emergency:
        out = e.Heard(_word(Command("emergency")), at)
        for over in ("continue", "finish"):
            yield f"emergency, {over}", (out, e.Heard(_word(Command(over)), at))
        for name in _LEAVING:
            if not (name == "finish" and s.finishing):
                yield name, (e.Heard(_word(Command(name)), at), e.Heard(_word(Confirmed(True)), at))
        correctable = ("dead_volts.power", "injection_feed") if s.phase in ("panel", "live") else ()
        for id_ in correctable:
            if id_ in s.readings:
                worse = _word(Answer((Part(id_, 120.0 if id_.startswith("dead") else "feeding"),)))
                yield f"correct {id_}", (e.Heard(_word(Command("correct", id_)), at), e.Heard(worse, at))
    if s.dead or s.power_on_at:
        yield "silence", (e.Silence(d.now + timedelta(seconds=40)),)
        yield "an hour", (e.Silence(d.now + timedelta(hours=1)),)
    yield "resume", ("resume",)


def _runs(d: _Walker, inputs: tuple[e.Heard | e.Silence | str, ...]) -> Iterator[tuple[_Walker, list[e.Effect]]]:
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


_Situation = tuple["_Walker", Watched, tuple[str, ...]]


class _Queue:
    """Situations still to be walked on from: next is one of the step that was walked on from least, so that a walk
    that is cut short has been everywhere."""

    def __init__(self) -> None:
        self._waiting: dict[tuple[str, int], deque[_Situation]] = {}
        self._walked: dict[tuple[str, int], int] = {}

    def __len__(self) -> int:
        return len(self._waiting)

    def put(self, situation: _Situation) -> None:
        label = (situation[0].asked_at, situation[0].state.position)
        self._waiting.setdefault(label, deque()).append(situation)

    def take(self) -> _Situation:
        label = min(self._waiting, key=lambda one: self._walked.get(one, 0))
        self._walked[label] = self._walked.get(label, 0) + 1
        found = self._waiting[label].popleft()
        if not self._waiting[label]:
            del self._waiting[label]
        return found


def _first(site: Site, steps: tuple[Step, ...]) -> _Walker:
    walker = _Walker(site, steps, _suction_dew)
    walker.course = _FreeCourse(steps)
    return walker


def _suction_dew(s: State) -> Iterator[e.Fact]:
    """The one derived value that an obligation looks at: of the crankcase temperatures walked, one is warm enough."""
    if "rack" in s.readings and "suction_dew_degf" not in s.derived:
        yield e.ValueDerived("suction_dew_degf", 100.0, "F", ())


def _skip_waits(d: _Walker, effects: list[e.Effect]) -> list[e.Effect]:
    """Waits are walked through at once: time goes by, nothing else happens."""
    while effects and isinstance(effects[-1], e.Wait):
        effects = effects + d.receive(e.Silence(effects[-1].until))
    return effects


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
    _KINDS[:] = _kinds(site)
    monitor = Monitor(site, {s.id: s for s in steps})
    proof = Proof()
    first = _first(site, steps)
    effects = first.open(START, e.CallOpened(site.name, "", "proof"))
    seen: set[tuple[object, ...]] = set()
    queue = _Queue()

    def arrive(d: _Walker, w: Watched, effects: list[e.Effect], way: tuple[str, ...]) -> None:
        w = monitor.watch(w, _skip_waits(d, effects))
        proof.ways += 1
        if isinstance(effects[-1], e.Listen):
            proof.asked.add(effects[-1].step)
        if w.complaints:
            proof.complaints += [f"{c}: {' > '.join(way[-8:])}" for c in w.complaints]
            return
        key = _key(d, w)
        if key not in seen and not d.state.sealed:
            seen.add(key)
            queue.put((d, w, way))

    arrive(first, Watched(), effects, ("open",))
    while queue and not proof.cut_short:
        d, w, way = queue.take()
        for name, heard in _inputs(d):
            try:
                for twin, effects in _runs(d, heard):
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
