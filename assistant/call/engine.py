"""The call: words and time in, effects out. No file, clock or sound is touched here."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from assistant.call import history, prompts
from assistant.call.again import Again
from assistant.call.check_in import CheckIn
from assistant.call.commands import correct, leave, obey
from assistant.call.course import Course, caution_wanted, cautions_of, wait_until
from assistant.call.effects import Effect, Ended, Listen, Manner, Record, Say, Wait
from assistant.call.facts import (
    CallContinued,
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CautionGiven,
    CheckInAsked,
    Concluded,
    EmergencyDeclared,
    EmergencyOver,
    Fact,
    FinishAsked,
    MachineNamed,
    NotComputed,
    NoteTaken,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    StepDone,
    StepEntered,
    StepReopened,
    ValueDerived,
    WaitEnded,
    WordsHeard,
)
from assistant.call.findings import settled
from assistant.call.heard import Heard, Silence, Unclear, how_taken
from assistant.call.phases import Phases
from assistant.call.procedure import Step
from assistant.call.state import FEED_BUDGET_S, State, machine_named
from assistant.call.verdicts import found, standing
from assistant.language.grammar import normalise, understand
from assistant.language.meaning import (
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Value,
)  # fmt: skip
from assistant.language.numbers import twin
from assistant.language.vocabulary import Units, vocabulary
from assistant.language.wording import digits_apart, sentence, spoken_value
from assistant.profile import Site

Judge = Callable[[State], Iterable[Fact]]
"""What the readings mean: values derived and conclusions that are not on record yet."""

LEAVING = {"skip": "Skip this?", "back": "Go back?", "finish": "Make safe and close the call?"}
"""Commands that leave a step: each is asked back first."""


class Dialogue:
    """One call. `receive` gives what is to be done; the call itself changes only by facts."""

    def __init__(
        self,
        site: Site,
        steps: tuple[Step, ...],
        judge: Judge,
    ) -> None:
        self.course = Course(steps)
        self.state = State(site, {s.id: s for s in steps})
        self.phases = Phases()
        self.judge = judge
        self.now = datetime.min
        self.out: list[Effect] = []
        # What is not on record: it is asked again after an interruption.
        self.question: Question | None = None
        self.asked_at = ""
        self.pending: list[tuple[Part, str]] = []
        self.pending_command = ""
        self.correcting = ""
        self.in_place_of = ""
        """The reading on record that the value asked back would replace; a no leaves it as it is."""
        self.noting = False
        self.refused: dict[str, list[Value]] = {}
        self.again = Again()
        self.fresh: set[str] = set()
        """Cautions acknowledged for the step that is asked next: not said twice."""
        self.check_in = CheckIn(site.check_in_minutes)
        self.completes = ""
        self.back_words: list[str] = []
        self.spoken_conclusions: set[tuple[str, str]] = set()

    # ---- in

    def open(self, at: datetime, fact: CallOpened) -> list[Effect]:
        """Begin a call."""
        self.now, self.out = at, []
        self.check_in = self.check_in.heard(at)
        self.record(fact)
        self.info(prompts.opening(self.state.site, fact))
        return self._go_on()

    def take_up(self, facts: Iterable[tuple[datetime, Fact]]) -> None:
        """Bring the call to where a log ends, without an effect."""
        for at, fact in facts:
            self.now = at
            self._apply(fact)

    def resume(self, at: datetime, reason: str) -> list[Effect]:
        """Go on after an interruption: every proof and every live caution is void."""
        self.now, self.out = at, []
        self.check_in = self.check_in.heard(at)
        self.spoken_conclusions = {(c.cause, c.standing) for c in self.state.conclusions.values()}
        self.record(CallResumed(reason))
        self.info("Taken up again. " + prompts.where(self.state))
        return self._go_on()

    def receive(self, heard: Heard | Unclear | Silence) -> list[Effect]:
        """What follows from something heard, or from time going by."""
        self.now, self.out = max(self.now, heard.at), []
        if self.state.sealed:
            return [Ended("sealed")]
        self._lapse()
        if not isinstance(heard, Silence):
            self._room(heard.loud)
        match heard:
            case Silence():
                self._ask_for_a_sign()
            case Unclear():
                self.record(WordsHeard(heard.words, "not understood", 0.0))
                self._not_understood(heard)
            case Heard():
                self._hear(heard)
        return self._go_on()

    def _ask_for_a_sign(self) -> None:
        """Nobody was heard for the site's time: ask, and louder each time. Never in the live window."""
        if self.state.power_on_at or not self.check_in.due(self.now):
            return
        self.check_in = self.check_in.ask()
        self.record(CheckInAsked(self.check_in.asked))
        if self.check_in.asked > 1:
            self.out.append(Manner("alarm"))
        self.say("caution", "Check-in. Are you well? Say okay.", urgent=True)

    def _room(self, loud: bool) -> None:
        self.again = self.again.in_room(loud)
        if self.again.loud and not self.again.warned:
            self.again = replace(self.again, warned=True)
            self.info("It is loud here, I will ask back every number.")

    def _not_understood(self, heard: Heard | Unclear) -> None:
        question = self.question or Question("command")
        self.again = self.again.missed(question, heard)
        self.info(self.again.say_again(question, isinstance(heard, Unclear) and heard.too_loud))

    # ---- facts

    def record(self, fact: Fact) -> None:
        self._apply(fact)
        self.out.append(Record(fact, self.now))

    def _apply(self, fact: Fact) -> None:
        if isinstance(fact, StepEntered):
            self.phases.enter(fact.phase)
        if isinstance(fact, CallSealed):
            if self.state.open:
                raise ValueError(f"cannot seal: {', '.join(self.state.open)} still open")
            self.phases.enter("sealed")
        self.state.apply(fact, self.now)
        if isinstance(fact, StepEntered | StepReopened):
            self.state.position = self.course.index(fact.step, self.state)

    def _lapse(self) -> None:
        """What ends by time alone: the proof away from the panel, the seconds of the feed."""
        s = self.state
        if s.dead and s.panel_at and self.now - s.panel_at > timedelta(minutes=s.site.dead_minutes):
            self.record(ProofEnded(f"{s.site.dead_minutes:g} minutes away from the panel"))
            self.pending, self.correcting, self.in_place_of = [], "", ""  # nothing more is asked from inside the panel
        if s.power_on_at and not s.over_budget and s.seconds_on(self.now) >= FEED_BUDGET_S:
            self.record(PowerOffOrdered(s.seconds_on(self.now)))
            self.say("caution", "Power off.", urgent=True)

    def _due(self) -> Fact | None:
        """The next fact that what is on record makes true."""
        s = self.state
        if s.to_clear:
            id_, step = s.to_clear[0]
            if id_ in s.open:
                return ObligationCleared(id_, step)
            s.to_clear.pop(0)
        if s.to_open:
            id_, step, detail = s.to_open[0]
            return ObligationOpened(id_, step, detail)
        if s.to_hand_over:
            id_, owner, hours = s.to_hand_over[0]
            return ObligationHandedOver(id_, owner, hours)
        if s.stay_out and not s.finishing:
            return FinishAsked("the room is not safe to enter")
        named = machine_named(s)
        if named and named != s.machine:
            return named
        ever = {*s.open, *s.handed_over, *s.cleared}
        running = s.started_at is not None and not s.stopped
        mended = settled(s) and any(not s.concluded_running(c) or s.choice == "repaired" for c in found(s))
        if s.phase == "close" and running and "no_cause_reset" not in ever and not mended:
            return ObligationOpened("no_cause_reset", s.step)
        if standing(s, "liquid_slugged") and "liquid_in_compressor" not in ever and s.started_at is None:
            return ObligationOpened("liquid_in_compressor", s.step, "oil high or foaming over a cold crankcase")
        return next(iter(self.judge(s)), None)

    def _settle_facts(self) -> None:
        s = self.state
        while (fact := self._due()) is not None:
            self.record(fact)
            match fact:
                case MachineNamed():
                    self.info(history.known(s))
                case ObligationOpened(id="liquid_in_compressor"):
                    self._caution_words("liquid_in_machine")
                case FinishAsked():
                    self.say("caution", "Stay out. Ventilate from outside.", urgent=True)
                case Concluded(standing="proven" | "supported"):
                    key = (fact.cause, fact.standing)
                    if key not in self.spoken_conclusions:
                        self.spoken_conclusions.add(key)
                        self.say("conclusion", prompts.conclusion(fact))
                case ValueDerived():
                    self.say("derived", prompts.derived(fact, s))
                case NotComputed():
                    self.say("derived", fact.reason)

    # ---- out

    def say(self, purpose: str, text: str, urgent: bool = False) -> None:
        if text:
            self.out.append(Say(purpose, text, urgent))

    def info(self, text: str) -> None:
        self.say("info", text)

    def _go_on(self) -> list[Effect]:
        """Record what is due, then ask the next thing."""
        self._settle_facts()
        s = self.state
        if s.sealed:
            self.out.append(Ended("sealed"))
        elif s.emergency:
            self._listen(Question("command", go_ahead=("continue",)), "emergency")
        elif self.check_in.asked:
            self._listen(Question("command", go_ahead=("okay", "yes", "done", "continue")), "check_in")
        elif s.held:
            self._listen(Question("command", go_ahead=("continue",)), "hold")
        elif self.noting:
            self.say("ask", "Go ahead.")
            self._listen(Question("note"), "note")
        elif self.pending_command:
            self.say("ask", LEAVING[self.pending_command])
            self._listen(Question("confirm", of=self.pending_command, value=s.step), s.step)
        elif self.pending:
            self._ask_back()
        elif self.correcting:
            self.say("ask", prompts.alone(self.correcting))
            self._listen(self._question((self.correcting,), None), s.step)
        else:
            self._ask_next()
        return self.out

    def _ask_back(self) -> None:
        part, _ = self.pending[0]
        values = dict.fromkeys(spoken_value(p.id, p.value, p.unit) or "yes" for p, _ in self.pending)
        words = ", ".join(values)
        if len(values) < len(self.pending):
            words = f"all {digits_apart(len(self.pending))} {words}"
        if isinstance(part.value, float) and part.value.is_integer() and twin(part.value) is not None:
            words += f", {digits_apart(part.value)}"
        whole = part.doubt.endswith("?") and len(values) == len(self.pending)
        lead = "" if part.doubt == "." or part.doubt.endswith("?") else part.doubt
        self.say("readback", part.doubt if whole else f"{lead} {sentence(words)} Correct?".strip())
        refused = tuple(self.refused.get(part.id, ()))
        local = prompts.local_words(self.state, (part.id,))
        question = Question("confirm", of=part.id, value=part.value, units=self._units(), local=local, refused=refused)
        self._listen(question, self.state.step)

    def _units(self) -> Units:
        return "si" if self.state.site.units == "si" else "us"

    def _listen(self, question: Question, step: str) -> None:
        self.question, self.asked_at = question, step
        entry = vocabulary().get(question.asking)
        kind = entry.kind if entry else "yes_no" if question.asking == "confirm" else "acknowledge"
        unit = entry.unit(self._units()) if entry else None
        s = self.state
        wake = None
        if s.power_on_at and s.jumper_is_in and not s.over_budget and "valve_closed.injection" not in s.open:
            wake = self.now + timedelta(seconds=max(0.0, FEED_BUDGET_S - s.seconds_on(self.now)))
        elif not s.power_on_at:
            wake = self.check_in.next_at()
        self.out.append(Listen(question, step, kind, unit, wake, quiet=s.power_on_at is not None))

    def _question(self, ids: tuple[str, ...], step: Step | None) -> Question:
        first = ids[0]
        return Question(
            asking=first,
            also=ids[1:],
            units=self._units(),
            of=self.again.of if self.again.of not in ids else "",
            local=prompts.local_words(self.state, ids),
            go_ahead=step.go_ahead if step and step.go_ahead else ("done", "ready"),
            all_good=step.all_good if step else {},
            limits=prompts.limits(self.state, ids),
            refused=tuple(self.refused.get(first, ())),
            rivals=self.again.rivals_of(first),
            pending=self.completes,
            now=self.now,
        )

    # ---- which step

    def _ask_next(self) -> None:
        step = self.course.next_step(self.state)
        caution = caution_wanted(step, self.state)
        if caution:
            self._ask_caution(step, caution)
            return
        until = wait_until(step, self.state, self.now)
        if until and until > self.now and step.id not in self.state.waited:
            self.info(prompts.before_waiting(step, self.state, until - self.now))
            self.out.append(Wait(min(until, self.check_in.next_at() or until), step.id))
            self.question = Question("command", go_ahead=("continue",))
            return
        if until and step.id not in self.state.waited:
            self.record(WaitEnded(step.id))
        self._ask_step(step)

    def _caution_words(self, name: str) -> None:
        words = prompts.caution(name, name not in self.state.given, self._units())
        form = "short" if name in self.state.given else "full"
        self.record(CautionGiven(name, form))
        self.say("caution", words)

    def _remind(self, step: Step) -> None:
        """The short form of what was acknowledged at an earlier step; never in the live window."""
        for name in cautions_of(step, s := self.state):
            if name not in self.fresh and not s.power_on_at:
                self._caution_words(name)
        self.fresh.clear()

    def _ask_caution(self, step: Step, name: str) -> None:
        self._caution_words(name)
        # "Detector lit and quiet?" may be answered by what it does: in alarm nobody goes in.
        also = ("detector_state",) if name == "room" else ()
        self._listen(Question("command", also, go_ahead=("understood", "okay", "done", "yes")), f"{step.id}/{name}")

    def _ask_step(self, step: Step) -> None:
        s = self.state
        if s.step != step.id or step.id in s.answered:
            self.record(StepEntered(step.id, step.phase))
            self._settle_facts()
            self._remind(step)
        ids = tuple(i for i in (step.asking, *step.also) if i == "command" or not s.given_here(i, step))
        self.say("readback", prompts.read_back(self.back_words))
        self.back_words = []
        whole = len(ids) == 1 + len(step.also)
        self.say("ask", prompts.prompt(step, s) if whole else prompts.alone(ids[0]))
        self._listen(self._question(ids, step), step.id)

    # ---- hearing

    def _hear(self, heard: Heard) -> None:
        question = self.question or Question("command")
        meaning = self._meaning(question, heard.words)
        self.completes = ""
        if isinstance(meaning, Command) and meaning.name == "emergency":
            self.record(WordsHeard(heard.words, how_taken(meaning, heard), heard.confidence, heard.audio))
            self._emergency(heard)
            return
        asked, self.check_in = self.check_in.asked, self.check_in.heard(self.now)
        if asked and isinstance(meaning, Command) and meaning.name == "continue":
            self.record(WordsHeard(heard.words, "answer", heard.confidence, heard.audio))
            return
        self.record(WordsHeard(heard.words, how_taken(meaning, heard), heard.confidence, heard.audio))
        if self.state.emergency or self.state.held:
            self._while_stopped(meaning, heard)
        elif self.noting and isinstance(meaning, Answer):
            self.noting = False
            self.record(NoteTaken(heard.words, heard.audio))
            self.info("Noted.")
        else:
            self._answer(meaning, heard)

    def _meaning(self, question: Question, words: str) -> Meaning:
        """What words mean; commas, where a keyboard gives them, part the readings of one breath."""
        pieces = [p.strip() for p in words.split(",") if p.strip()]
        plain = " ".join(pieces)
        ids = (question.asking, *question.also)
        whole_refused = bool(question.all_good) and pieces[:1] in (["no"], ["nope"])
        if 1 < len(pieces) <= len(ids) and not whole_refused:
            parts: list[Part] = []
            for id_, piece in zip(ids, pieces, strict=False):
                alone = understand(replace(question, asking=id_, also=(), all_good={}), piece)
                parts += alone.parts if isinstance(alone, Answer) else ()
            if len(parts) == len(pieces):
                return Answer(tuple(parts))
        return understand(question, plain)

    def _while_stopped(self, meaning: Meaning, heard: Heard) -> None:
        s = self.state
        if isinstance(meaning, Command) and meaning.name == "repeat" and s.emergency:
            self.info(prompts.emergency(s.site))
        elif isinstance(meaning, Command) and meaning.name == "finish" and s.emergency:
            self.record(EmergencyOver(heard.words))
            self.record(FinishAsked("after the emergency"))
        elif isinstance(meaning, Command | Answer):
            over = isinstance(meaning, Answer) or meaning.name == "continue"
            if over:
                self.record(EmergencyOver(heard.words) if s.emergency else CallContinued(heard.words))

    def _emergency(self, heard: Heard) -> None:
        self.record(EmergencyDeclared(heard.words))
        self.pending, self.pending_command, self.correcting, self.in_place_of, self.noting = [], "", "", "", False
        self.say("caution", prompts.emergency(self.state.site), urgent=True)

    def _answer(self, meaning: Meaning, heard: Heard) -> None:
        match meaning:
            case Command():
                obey(self, meaning, heard)
            case Confirmed():
                self._confirmed(meaning, heard)
            case AskFor():
                self.completes = meaning.pending
                self.info(meaning.say)
            case NotUnderstood():
                self._not_understood(heard)
            case Answer(parts=parts):
                self._take(parts, heard)

    def _take(self, parts: tuple[Part, ...], heard: Heard) -> None:
        alike = len({p.value for p in parts}) == 1 and all(p.doubt for p in parts)
        if len(parts) > 1 and any(p.doubt for p in parts) and parts[0].id != "site" and not alike:
            # Numbers run together in one breath can be cut in several ways: only the first counts, asked back;
            # the others are asked for one by one.
            parts = (replace(parts[0], doubt=parts[0].doubt or "."),)
        doubtful = [p for p in parts if p.doubt or prompts.doubt(self.state, p)]
        if not heard.sure or (self.again.loud and any(isinstance(p.value, float) for p in parts)):
            self.again = self.again.missed(self.question or Question("command"), heard)
            self.pending = [(p, heard.words) for p in parts]
            return
        for part in parts:
            if part not in doubtful:
                self._take_one(part, heard.words, "read back")
        self.pending = [(replace(p, doubt=p.doubt or prompts.doubt(self.state, p)), heard.words) for p in doubtful]

    def go_ahead(self, heard: Heard) -> None:
        s = self.state
        step = self.course.next_step(self.state)
        caution = caution_wanted(step, self.state)
        if caution:
            if not heard.sure:
                self.info("Say understood.")
                return
            self.record(CautionAcknowledged(caution, heard.words))
            self.fresh.add(caution)
        elif step.asking == "command" and s.step == step.id:
            if step.tells and not heard.sure:
                self.info("Say again.")
                return
            said = step.word(normalise(heard.words))
            self.record(StepDone(step.id, said or heard.words))
            self.back_words.append(said)

    def _take_one(self, part: Part, words: str, confirmed: str) -> None:
        s = self.state
        step = s.steps.get(s.step)  # none between going back and the question that follows, behind its caution
        refusal = prompts.refusal(s, part)
        corrected = bool(self.correcting) or (
            step is not None and part.id in s.readings and s.readings[part.id].step == s.step and not step.proof
            and not step.watch_round and s.step not in s.answered and s.given_here(part.id, step)
        )  # fmt: skip
        where = s.readings[part.id].step if self.correcting and part.id in s.readings else s.step
        if refusal and not refusal.startswith("!"):
            self.info(refusal)
            return
        self.record(ReadingTaken(part.id, part.value, part.unit, where, words, confirmed, corrected, part.low, part.high))
        self.refused.pop(part.id, None)
        self.again = self.again.taken(part.id)
        self.correcting = ""
        if refusal:
            self.say("caution", refusal[1:], urgent=True)
        self.back_words.append(spoken_value(part.id, part.value, part.unit))
        if part.id == "close_consent" and part.value is True:
            self._settle_facts()
            if not s.open:
                summary = prompts.summary(s)
                self.record(CallSealed(summary))
                self.info("Closed and sealed.")

    def _confirmed(self, meaning: Confirmed, heard: Heard) -> None:
        if self.pending_command:
            name, self.pending_command = self.pending_command, ""
            if meaning.yes:
                leave(self, name, heard.words)
            return
        pending, self.pending = self.pending, []
        if not pending and meaning.instead is not None:
            correct(self, meaning.instead.id)  # "no, twelve" to a value that the prompt read back
            if not self.correcting:
                return
            if not heard.sure:  # asked back first; the value on record stands until a yes
                self.correcting, self.in_place_of = "", meaning.instead.id
                self.pending = [(meaning.instead, heard.words)]
                return
            pending = [(replace(meaning.instead, value=self.state.readings[self.correcting].value), "")]
        in_place_of, self.in_place_of = self.in_place_of, ""
        if meaning.yes:
            self.correcting = in_place_of or self.correcting
            for part, words in pending:
                self._take_one(replace(part, doubt=""), words, "asked back")
            return
        for part, _ in pending if not in_place_of else ():
            self.refused.setdefault(part.id, []).append(part.value)
        if meaning.instead is not None:
            if heard.sure:
                self.correcting = in_place_of or self.correcting
            else:
                self.in_place_of = in_place_of
            self._take((meaning.instead,), heard)
