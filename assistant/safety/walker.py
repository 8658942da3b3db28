"""The dialogue as the walk drives it: its own code, with free findings answered by a script.

A finding that rests on measurement or judgement (`FREE`) comes out either way, so that no way is missed. It is settled
where it is looked at and holds through what does not change it: the proof of absence of voltage, the gates of live
work, cautions, waits. Every other answer settles it anew. So does no correction: every other way it could come out is
another situation, in which the same correction is walked.
"""

import copy
from collections.abc import Iterator

from assistant.call.course import Course
from assistant.call.effects import Effect, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import Fact, FinishAsked, ReadingTaken, StepDone, StepReopened, StepSkipped, ValueDerived
from assistant.call.findings import FREE, holds
from assistant.call.phases import FORWARD, Refused
from assistant.call.procedure import Step
from assistant.call.state import State
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question
from assistant.profile import Site


class Follower:
    """The referee's table without its machine, which costs too much to build for each of a million calls."""

    def __init__(self, state: str) -> None:
        self.state = state

    def enter(self, phase: str) -> None:
        if phase != self.state and phase not in FORWARD[self.state]:
            raise Refused(f"no way from {self.state} to {phase}")
        self.state = phase


class FreeCourse(Course):
    """The course with its free findings answered by a script."""

    def __init__(self, steps: tuple[Step, ...]) -> None:
        super().__init__(steps)
        self.script: list[bool] = []
        """How the free findings come out, in the order they are looked at; those behind its end do not hold."""
        self.used = 0
        self.settled_free: dict[str, bool] = {}
        self.aim = ""
        """The step that a free finding chose last: what comes before it is asked on the way there."""

    def applies(self, step: Step, s: State) -> bool:
        real = [n for n in step.when if n.lstrip("!") not in FREE]
        if self.no_live(step, s) or not all(holds(s, n) for n in real):
            return False
        begun = step.id == s.step and bool(s.given_ids)
        if len(real) == len(step.when) or begun:
            return True
        if step.id not in self.settled_free:
            taken = self.script[self.used] if self.used < len(self.script) else False
            self.used += 1
            self.settled_free[step.id] = taken
            self.aim = step.id if taken else self.aim
        return self.settled_free[step.id]

    def unsettle(self) -> None:
        """Look the free findings up anew."""
        self.settled_free, self.aim = {}, ""


_MEANINGS: dict[str, Meaning] = {}


def word(meaning: Meaning) -> str:
    """Words that the walked dialogue takes for this meaning."""
    return words_for(repr(meaning), meaning)


def words_for(words: str, meaning: Meaning) -> str:
    """These very words, taken for this meaning."""
    _MEANINGS[words] = meaning
    return words


class Walker(Dialogue):
    """The dialogue on a free course, with words taken for their meaning."""

    course: FreeCourse

    def __init__(self, site: Site, steps: tuple[Step, ...]) -> None:
        super().__init__(site, steps, _suction_dew)
        self.course = FreeCourse(steps)
        self.waiting: Wait | None = None

    def _meaning(self, question: Question, words: str) -> Meaning:
        meaning = _MEANINGS.get(words, NotUnderstood())
        if isinstance(meaning, Answer) and meaning.parts[0].id not in (question.asking, *question.also):
            return NotUnderstood()  # as the grammar: what was not asked for is no answer
        return meaning

    def _apply(self, fact: Fact) -> None:
        super()._apply(fact)
        if self._changes_findings(fact):
            self.course.unsettle()

    def _changes_findings(self, fact: Fact) -> bool:
        match fact:
            case ReadingTaken(step=id_, corrected=corrected):
                return not corrected and not self._on_the_way(id_)
            case StepDone(step=id_) | StepSkipped(step=id_):
                return not self._on_the_way(id_)
        return isinstance(fact, StepReopened | FinishAsked)

    def _on_the_way(self, step_id: str) -> bool:
        """A step that is put before the one that was chosen."""
        step = self.state.steps.get(step_id)
        return step is not None and (step.proof or step.gate)

    def _go_on(self) -> list[Effect]:
        effects = super()._go_on()
        self.waiting = effects[-1] if isinstance(effects[-1], Wait) else None
        return effects

    def fork(self, script: list[bool]) -> "Walker":
        """The same call once more: what happens to it does not happen to this one."""
        twin = copy.copy(self)
        twin.state = copy.copy(self.state)
        for name, value in vars(self.state).items():
            if isinstance(value, (dict, list, set)):
                setattr(twin.state, name, copy.copy(value))
        twin.phases = Follower(self.phases.state)  # type: ignore[assignment]
        twin.course = copy.copy(self.course)
        twin.course.script, twin.course.used = script, 0
        twin.course.settled_free = dict(self.course.settled_free)
        twin.pending, twin.back_words = list(self.pending), []
        twin.refused, twin.spoken_conclusions, twin.fresh = {}, set(self.spoken_conclusions), set(self.fresh)
        return twin


def _suction_dew(s: State) -> Iterator[Fact]:
    """The one derived value that an obligation looks at: of the crankcase temperatures walked, one is warm enough."""
    if "rack" in s.readings and "suction_dew_degf" not in s.derived:
        yield ValueDerived("suction_dew_degf", 100.0, "F", ())
