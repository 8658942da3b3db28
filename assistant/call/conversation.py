"""What stands in a call that goes on: its facts and what is not on record, what is said, and how a fact changes it."""

from dataclasses import dataclass
from datetime import datetime

from assistant.branches.search import found, to_mend
from assistant.branches.steps import Procedure, Step
from assistant.call import history, leaving, modes, prompts
from assistant.call.again import Again
from assistant.call.by_reading import ASKED_ANEW
from assistant.call.check_in import CheckIn
from assistant.call.course import Course
from assistant.call.due import Judge, due
from assistant.call.effects import Effect, Record, Say
from assistant.call.facts import (
    CallResumed,
    CallSealed,
    Concluded,
    Contradicted,
    EmergencyDeclared,
    EmergencyOver,
    Fact,
    MachineNamed,
    NotComputed,
    ObligationOpened,
    OthersLockFound,
    PauseEnded,
    ReadingTaken,
    StepEntered,
    StepReopened,
    ValueDerived,
)
from assistant.call.heard import Held
from assistant.call.known import case_of
from assistant.call.modes import Mode, Station
from assistant.call.permits import circuit_tested
from assistant.call.replies import OTHERS_LOCK
from assistant.call.state import State
from assistant.language.meaning import Part, Question, Value
from assistant.profile import Site


@dataclass(frozen=True)
class Doing:
    """What the mode needs beside its name; gone with the next change of mode."""

    asked_back: tuple[tuple[Part, str], ...] = ()
    """Values that are asked back, each with the words it was said in."""
    command: str = ""
    """The command that is confirmed."""
    correcting: str = ""
    """The reading that is asked again."""
    in_place_of: str = ""
    """The reading on record that the value asked back would replace; a no leaves it as it is."""
    said: str | None = None
    """The words of a remark on safety that the ear is not sure of, asked back."""


NOTHING = Doing()


class Conversation:
    """A call as it stands. It changes only by facts; what it holds beside them is asked again after an interruption."""

    def __init__(self, site: Site, procedure: Procedure, judge: Judge) -> None:
        self.course = Course(procedure)
        self.state = State(site, procedure, {s.id: s for s in procedure.steps})
        self.mode, self.station = Mode(), Station()
        self.judge = judge
        self.now = datetime.min
        self.out: list[Effect] = []
        # What is not on record: it is asked again after an interruption.
        self.doing = NOTHING
        self.kept: tuple[str, Doing] = (modes.ASKING, NOTHING)
        """Mode that a hold or a check-in is over."""
        self.was_confirming = ""
        """The command that was to be confirmed when something said to it was asked about."""
        self.question: Question | None = None
        self.asked_at = ""
        self.heard_at = datetime.min
        """When somebody was last heard."""
        self.after_pause = False
        """What is heard now comes longer after the last word than a proof lasts."""
        self.refused: dict[str, list[Value]] = {}
        self.again = Again()
        self.fresh: set[str] = set()
        """Cautions acknowledged for the step that is asked next: not said twice."""
        self.check_in = CheckIn(site.check_in_minutes)
        self.after_power = ""
        """A reading that was to be put right in the live window: asked again once power is off."""
        self.completes = ""
        self.asks_back = ""
        """What is asked back of a deed or a look, in place of the last sentence of its prompt."""
        self.asked_back_as = ""
        """What was asked back last, as it was spoken, while it waits for a yes."""
        self.first_told = self.asked_of = ""
        """While a yes to what was asked back is taken, the words that it is a yes to; and those that were just asked back."""
        self.held: Held | None = None
        """An answer that counts once it is denied that something is not safe."""
        self.sounds_unsafe = ""
        """Words that tell of danger by their sense."""
        self.behind = ""
        """What was told in the same breath as a caution was acknowledged: it answers what is asked next."""
        self.cautioned: tuple[str, ...] = ()
        """The cautions that were spoken last, to be acknowledged."""
        self.say_again = False
        """It was asked for again: a caution is spoken once more, however lately it was."""
        self.later: list[Say] = []
        """What is said only when the live window is over."""
        self.spoken_conclusions: set[tuple[str, str]] = set()
        self.spoken_reasons: set[str] = set()
        """Why something was not worked out: said once."""

    def pause_ends(self, within_minutes: float = 0.0) -> bool:
        """Whether nobody was heard for longer than a proof lasts, or will have been within so many minutes (S5): it is on
        record, and what is asked anew comes next."""
        minutes = (self.now - self.heard_at).total_seconds() / 60
        ends = minutes > self.state.site.dead_minutes - within_minutes
        if ends:
            self.record(PauseEnded(round(minutes, 1)))
            self.heard_at = self.now
        return ends

    @property
    def over(self) -> bool:
        """Sealed, or ended open."""
        return self.mode.name in (modes.SEALED, modes.ENDED)

    @property
    def at_a_caution(self) -> bool:
        """A caution was spoken and waits to be acknowledged."""
        return bool(self.cautioned) and self.asked_at.endswith(f"/{'+'.join(self.cautioned)}")

    def go(self, trigger: str, doing: Doing = NOTHING) -> None:
        """Change the mode by a row of its table; what the mode needs goes with it."""
        self.mode.go(trigger, nothing_open=not self.state.open)
        self.doing = doing

    def confirm(self, command: str) -> None:
        """Ask back whether a command that leaves the step was meant."""
        self.go("have it confirmed", Doing(command=command))

    def leave_the_question(self) -> None:
        """What was asked back or corrected waits for nothing more: what was just said comes first."""
        if self.mode.name in (modes.ASKING_BACK, modes.CORRECTING, modes.CONFIRMING, modes.WAITING):
            self.go("ask")

    def correct(self, id_: str) -> None:
        """Ask a reading that is on record again."""
        self.go("correct", Doing(correcting=id_))

    def not_ready(self, id_: str) -> None:
        """Ask anew what was said to be ready, and before it what clears the thing; the earliest stands last and is asked next."""
        s, run = self.state, self.course.run
        if not id_:
            return  # it runs: it is stopped first, and what is open comes after
        anew = {step.id for step in run if step.asking in ASKED_ANEW or (step.asking == id_ and step.id in s.answered)}
        rules = s.procedure.obligations
        for open_ in {id_, *(one for one in s.open if rules[one].blocks_start)}:
            clears = [step for step in run[: s.position + 1] if open_ in step.clears]
            clears = [step for step in clears if self.course.applies(step, s)] or clears
            anew |= {step.id for step in (*clears[-1:], *self._looks_for(open_)[:1])}
        for step in reversed(run[: s.position + 1]):  # what lies ahead is asked in its place
            if step.id in anew:
                self.record(StepReopened(step.id))

    def _looks_for(self, id_: str) -> list[Step]:
        """The steps that ask whether what no step clears is over."""
        run = self.course.run
        if any(id_ in step.clears for step in run):
            return []
        return [step for step in run if f"open:{id_}" in step.when and not step.hands_over]

    # ---- facts

    def record(self, fact: Fact) -> None:
        self._apply(fact)
        self.out.append(Record(fact, self.now))

    def _apply(self, fact: Fact) -> None:
        """The one place where the call changes; a fact that does not fit is refused."""
        match fact:
            case StepEntered():
                self.station.go(fact.station)
            case CallSealed():
                self.go("seal")
                self.station.go("sealed")
            case EmergencyDeclared():
                self.go("declare an emergency")
            case EmergencyOver():
                self.go("end the emergency")
            case CallResumed() if self.mode.name != modes.ASKING:
                self.go("take up")
        before = self.state.stopped
        self.state.apply(fact, self.now)
        if isinstance(fact, ReadingTaken) and fact.value is True and self._tells_the_store(fact.step):
            self.state.store_heard = leaving.store_words(self.state)
        if self.state.stopped and not before:
            self.state.position = self.course.place_after_stop(self.state)
        if self.state.again_from:
            again = self.course.index(self.state.again_from, self.state)
            self.state.again_from, self.state.position = "", min(self.state.position, again)
        if self.state.panel_again:
            self.state.panel_again = False
            self.state.position = min(self.state.position, self.course.panel_at)
        fit = self.course.fit
        stays = isinstance(fact, StepEntered) and fact.step == fit.id and fact.station != fit.station  # asked where he stands
        if isinstance(fact, StepEntered) and not stays:
            self.state.position = self.course.index(fact.step, self.state)
        elif isinstance(fact, StepReopened):  # what an interruption has asked anew before it stays to be asked
            self.state.position = min(self.state.position, self.course.index(fact.step, self.state))
        elif isinstance(fact, ReadingTaken) and fact.id == "lock_still_on":
            self.state.position = self.course.place_after_interruption(self.state)
        elif isinstance(fact, EmergencyOver | CallResumed | PauseEnded):
            self.state.position = self.course.place_after_interruption(self.state)
            self.cautioned, self.asked_at = (), ""

    def _tells_the_store(self, step: str) -> bool:
        return step in self.state.steps and "{store_words}" in self.state.steps[step].ask

    def volunteered(self, id_: str, value: Value, words: str) -> None:
        """Put on record what nobody asked for."""
        self.record(ReadingTaken(id_, value, None, self.state.step, words, "volunteered"))

    def settle_facts(self) -> None:
        s = self.state
        while (fact := due(s, self.judge)) is not None:
            self.record(fact)
            match fact:
                case MachineNamed():
                    self.info(history.known(s))
                case OthersLockFound():
                    self.say("caution", OTHERS_LOCK, urgent=True)
                case ObligationOpened(id=id_, step=step) if self._against_a_start(id_, step):
                    self.not_ready(id_)
                case Concluded(cause=cause, standing=standing):
                    if standing == "proven":
                        self._mended_first(cause)
                    if standing in ("proven", "supported"):
                        self.search_first()
                    key = (cause, standing)
                    if standing in ("proven", "supported") and key not in self.spoken_conclusions:
                        mended = s.choice == "repaired" and (cause, "supported") in self.spoken_conclusions
                        self.spoken_conclusions.add(key)
                        self.say("conclusion", prompts.conclusion(fact, mended))
                    elif standing != "proven":
                        self._take_back(cause)
                    if standing != "proven":
                        self._searched_on()
                case Contradicted(ids=ids):
                    self.say("derived", prompts.contradicted(ids, s))
                case ValueDerived():
                    self.say("derived", prompts.derived(fact, s))
                case NotComputed(reason=reason) if reason not in self.spoken_reasons:
                    self.spoken_reasons.add(reason)
                    self.say("derived", reason)

    def _against_a_start(self, id_: str, step: str) -> bool:
        """Whether what is open now, and was hooked up by no step, forbids the start that everything was, or is being, made ready
        for: the lock is off, or what is looked at before was passed."""
        s = self.state
        begun = "lock_removed" in s.readings and not s.lock.locked
        passed = any(self.course.index(step.id, s) < s.position for step in self._looks_for(id_))
        begun = (begun or passed) and s.started_at is None and not s.finishing and s.choice != "left"
        meant = step in s.steps and id_ in s.steps[step].opens and not s.steps[step].inserted
        return begun and s.procedure.obligations[id_].blocks_start and not meant

    def _mended_first(self, cause: str) -> None:
        """A cause proven after the repair was asked about, by a reading put right, is asked about before anything starts."""
        s, run = self.state, self.course.run
        asks = next(step for step in run if "repaired" in step.tells.values())
        passed = s.position > run.index(asks) and s.started_at is None and not s.finishing and s.choice != "left"
        here = s.steps.get(s.step)
        shown = here is not None and here.part == "repair"  # by what the mending laid open
        if shown and s.choice == "repaired" and (cause, "supported") in self.spoken_conclusions:
            return
        if passed and cause in to_mend(case_of(s)):
            if asks.id in s.answered:
                self.record(StepReopened(asks.id))
            self.record(StepReopened(next(step for step in run if step.part == "prepare").id))

    def search_first(self) -> None:
        """A leak search or a charge that is wanted only now, where its place was passed, comes before anything starts; and so do
        the tests of what opened, before it is closed again (S18)."""
        s = self.state
        if s.started_at is not None or s.finishing or s.choice == "left" or s.feed.window:
            return
        gas = {"charge_low", "leak_wanted", "leak_found is yes"}
        run = self.course.run[: max(s.position, 0)]
        passed = [step for step in run if step.part == "liquid" and gas & set(step.when)]
        if not circuit_tested(s):
            passed += [step for step in run if "motor_branch" in step.when]
        wanted = (step for step in passed if step.id not in s.answered and self.course.applies(step, s))
        if first := next(wanted, None):
            self.record(StepReopened(first.id))

    def _searched_on(self) -> None:
        """What was mended is proven no more, by a reading put right, and nothing else is found: before a start the search goes
        on where it had ended."""
        s, run = self.state, self.course.run
        if s.choice != "repaired" or s.started_at is not None or s.finishing or found(case_of(s)):
            return
        self.record(StepReopened(next(step for step in run if "repaired" in step.tells.values()).id))
        ahead = (step for step in run[self.course.panel_at : s.position + 1] if step.id not in s.answered)
        if first := next((step for step in ahead if self.course.applies(step, s)), None):
            self.record(StepReopened(first.id))

    def _take_back(self, cause: str) -> None:
        """A cause that was called proven and is not any more is said to be so."""
        if (cause, "proven") in self.spoken_conclusions:
            self.spoken_conclusions -= {(cause, "proven"), (cause, "supported")}
            self.say("conclusion", prompts.taken_back(cause))

    # ---- said

    def say(self, purpose: str, text: str, urgent: bool = False) -> None:
        """Say a sentence; in the live window what is neither asked nor urgent waits until power is off (S15)."""
        if not text:
            return
        said = Say(purpose, text, urgent)
        wait = self.state.feed.window and purpose in ("readback", "derived", "conclusion") and self.mode.name != modes.ASKING_BACK
        (self.later if wait else self.out).append(said)

    def info(self, text: str) -> None:
        self.say("info", text)
