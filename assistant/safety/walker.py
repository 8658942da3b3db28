"""The dialogue as the walk drives it: its own code, with judged conditions answered by a script.

A condition that rests on measurement or judgement (`JUDGED` of the branches) comes out either way, so that no way is
missed; so does whether a look can still tell something, and which of several comes first. It is settled where it is looked
at and holds through what does not change it: what is put before a step, cautions, waits. Every other answer settles it anew.
So does no correction: every other way it could come out is another situation, in which the same correction is walked. What may
be done (`PERMITS` of the call) comes out as it does in a call.
"""

import copy
from collections.abc import Iterator
from dataclasses import replace

from assistant.branches.steps import Procedure, Step
from assistant.call.conditions import holds, judged
from assistant.call.course import Course
from assistant.call.due import Judge as Judges
from assistant.call.effects import Effect, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import Concluded, Fact, FinishAsked, ReadingTaken, StepDone, StepReopened, StepSkipped, ValueDerived
from assistant.call.heard import Heard
from assistant.call.judge import Judge
from assistant.call.modes import Mode, Station
from assistant.call.state import State
from assistant.language.meaning import Answer, NotUnderstood
from assistant.profile import Site


class FreeCourse(Course):
    """The course with its judged conditions answered by a script."""

    def __init__(self, procedure: Procedure) -> None:
        super().__init__(procedure)
        self.script: list[bool] = []
        """How the judged conditions come out, in the order they are looked at; those behind its end do not hold."""
        self.used = 0
        self.settled: dict[str, bool] = {}
        self.aim = ""
        """The step that a judged condition chose last: what comes before it is asked on the way there."""
        self.towards: frozenset[str] = frozenset()
        """Steps whose judged conditions hold, whatever the script says."""
        self.against: frozenset[str] = frozenset()
        """Steps whose judged conditions do not: they would read what the step aimed at wants unread."""

    def applies(self, step: Step, s: State) -> bool:
        real = [n for n in step.when if not judged(n)]
        if not self.may(step, s) or not all(holds(s, n) for n in real):
            return False
        begun = step.id == s.step and bool(s.given_ids)
        if (len(real) == len(step.when) and not step.seeks) or begun:
            return True
        if step.id not in self.settled:
            taken = step.id in self.towards or (self.script[self.used] if self.used < len(self.script) else False)
            taken = taken and step.id not in self.against
            self.used += 1
            self.settled[step.id] = taken
            self.aim = step.id if taken else self.aim
        return self.settled[step.id]

    def _among(self, first: Step, s: State) -> Step:
        return first  # whichever of them comes out is asked first, the others may come after it

    def unsettle(self) -> None:
        """Look the judged conditions up anew."""
        self.settled, self.aim = {}, ""


class Walker(Dialogue):
    """The dialogue on a free course.

    Args:
        site: the profile.
        procedure: what is walked.
        cause: a cause that is concluded, supported, once a contact was looked for; nothing without one.
        judged: values are worked out and causes concluded as in a call, from the readings of chance.
    """

    course: FreeCourse

    def __init__(self, site: Site, procedure: Procedure, cause: str = "", judged: bool = False) -> None:
        super().__init__(site, procedure, Judge() if judged else _judge(cause))
        self.course = FreeCourse(procedure)
        self.waiting: Wait | None = None

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
        return step is not None and step.inserted

    def _hear(self, heard: Heard) -> None:
        question, meaning = self.question, heard.meaning
        if question and isinstance(meaning, Answer) and meaning.parts[0].id not in (question.asking, *question.also):
            heard = replace(heard, meaning=NotUnderstood())  # as the grammar: what was not asked for is no answer
        super()._hear(heard)

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
        twin.mode, twin.station = Mode(self.mode.name), Station(self.station.name)
        twin.course = copy.copy(self.course)
        twin.course.script, twin.course.used = script, 0
        twin.course.settled = dict(self.course.settled)
        twin.later = list(self.later)
        twin.refused, twin.spoken_conclusions, twin.fresh = {}, set(self.spoken_conclusions), set(self.fresh)
        twin.spoken_reasons = set(self.spoken_reasons)
        return twin


def _judge(cause: str) -> Judges:
    def judge(s: State) -> Iterator[Fact]:
        """The one derived value that a permit looks at (of the crankcase temperatures walked, one is warm enough), and the
        cause whose repair is walked."""
        if "rack" in s.readings and "suction_dew_degf" not in s.derived:
            yield ValueDerived("suction_dew_degf", 100.0, "F", ())
        if cause and cause not in s.conclusions and (s.contacts or "chain_dead_check" in s.readings):
            yield Concluded(cause, "supported", (), "")

    return judge
