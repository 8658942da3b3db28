"""The call: words and time in, effects out. No file, clock or sound is touched here.

What is heard is understood once, by the ear or here, and its meaning goes on with it. What the call does then is the mode
it is in (`modes.py`); what is asked next is looked up in `course.py`; what follows from a fact is found by `due.py`.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from assistant.call import modes, prompts
from assistant.call.answers import hear, not_understood
from assistant.call.asking import go_on
from assistant.call.conversation import Conversation
from assistant.call.effects import Effect, Ended, Listen, Manner, Record, Say
from assistant.call.facts import (
    CallContinued,
    CallOpened,
    CallResumed,
    CautionAcknowledged,
    CheckInAsked,
    ClockJumped,
    Fact,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    WordsHeard,
)
from assistant.call.heard import Heard, Silence, Unclear
from assistant.call.heeding import told_before


class Dialogue(Conversation):
    """One call. `receive` gives what is to be done; the call itself changes only by facts."""

    # ---- in

    def open(self, at: datetime, fact: CallOpened) -> list[Effect]:
        """Begin a call."""
        self.now, self.heard_at, self.out = at, at, []
        self.check_in = self.check_in.heard(at)
        self.record(fact)
        if fact.technician:
            self.record(ReadingTaken("technician", fact.technician, None, "", "", "by the profile"))
        self.info(prompts.opening(self.state.site, fact))
        return self._go_on()

    def take_up(self, facts: Iterable[tuple[datetime, Fact]]) -> None:
        """Bring the call to where a log ends, without an effect."""
        for at, fact in facts:
            self.now = at
            self._apply(fact)

    def resume(self, at: datetime, reason: str) -> list[Effect]:
        """Go on after an interruption: every proof and every caution is void."""
        self.now, self.heard_at, self.out = at, at, []
        self.check_in = self.check_in.heard(at)
        self.spoken_conclusions = {(c.cause, c.standing) for c in self.state.conclusions.values()}
        self.go("take up")
        self.record(CallResumed(reason))
        self.info("Taken up again. " + prompts.where(self.state))
        return self._go_on()

    def receive(self, heard: Heard | Unclear | Silence) -> list[Effect]:
        """What follows from something heard, or from time going by."""
        self.now, self.out = max(self.now, heard.at), []
        self.state.at = self.now
        if self.over:
            return [Ended("sealed" if self.state.sealed else "interrupted")]
        self._lapse()
        if not isinstance(heard, Silence):
            self._paused()
            self._room(heard.loud)
        match heard:
            case Silence():
                self._ask_for_a_sign()
            case Unclear():
                self.record(WordsHeard(heard.words, "not understood", 0.0))
                not_understood(self, heard)
                self.say_again = True
            case Heard():
                self._hear(heard)
                self._hear_what_is_behind(heard)
        return self._go_on()

    def _hear_what_is_behind(self, heard: Heard) -> None:
        """An answer told in the same breath as "understood": it is taken as soon as its question is asked."""
        words, self.behind = self.behind, ""
        heeded = any(isinstance(effect, Record) and isinstance(effect.fact, CautionAcknowledged) for effect in self.out)
        if not words:
            if heeded and heard.meaning is None:
                told_before(self, heard.words)
            return
        before = len(self.out)
        self._go_on()
        self.out[before:] = [effect for effect in self.out[before:] if not isinstance(effect, Listen)]
        asked = [effect for effect in self.out[before:] if isinstance(effect, Say) and effect.purpose == "ask"]
        step = self.state.step
        if self.mode.name == modes.ASKING and not self.at_a_caution:
            self._hear(replace(heard, words=words))
        if step in self.state.answered:  # what is answered before it is spoken is not asked
            self.out = [effect for effect in self.out if not any(effect is one for one in asked)]

    # ---- time

    def clock_set(self, at: datetime, seconds: float) -> list[Effect]:
        """The clock on the wall was set while the call goes on: it goes on record, and nothing else comes of it."""
        self.now, self.out = max(self.now, at), []
        self.record(ClockJumped(round(seconds, 1)))
        return self.out

    def _paused(self) -> None:
        """A pause longer than a proof lasts is an interruption (S5)."""
        self.after_pause = self.heard_at > datetime.min.replace(tzinfo=self.now.tzinfo) and self.pause_ends()
        if self.after_pause and self.mode.name in (modes.ASKING_BACK, modes.CORRECTING):
            self.go("ask")  # nothing more is asked from inside the panel
        self.heard_at = self.now

    def _lapse(self) -> None:
        """What ends by time alone: the proof away from the panel, an unfinished one, the seconds of the feed."""
        s = self.state
        lasts = s.site.dead_minutes
        if s.lock.away(self.now, lasts):
            self.record(ProofEnded(f"{lasts:g} minutes away from the panel"))
            if self.mode.name in (modes.ASKING_BACK, modes.CORRECTING):
                self.go("ask")  # nothing more is asked from inside the panel
        if s.lock.stale(self.now, lasts):
            self.record(ProofEnded(f"more than {lasts:g} minutes between two answers of one proof"))
        spent = s.feed.seconds(self.now, s.valve_shut)
        if s.feed.window and s.feed.stimulus and not s.feed.over and spent >= s.limits.feed_budget_s:
            self.record(PowerOffOrdered(spent))
            self.say("caution", "Power off.", urgent=True)
            if self.mode.name in (modes.ASKING_BACK, modes.CORRECTING, modes.CONFIRMING, modes.NOTING):
                self.go("open the window")
            if self.mode.name == modes.ON_HOLD:
                self.record(CallContinued("the seconds of the feed are spent"))
                self.go("go on")  # nobody holds on with liquid running in: the power is asked for at once

    def _ask_for_a_sign(self) -> None:
        """Nobody was heard for the site's time: ask, and louder each time. Never in the live window."""
        probing = self.state.feed.window or (self.state.probes_in and self.mode.name != modes.ON_HOLD)
        if probing or not self.check_in.due(self.now) or self.mode.name == modes.EMERGENCY:
            return
        if self.mode.name != modes.CHECK_IN:
            self.kept = (self.mode.name, self.doing)
        self.go("ask for a sign")
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

    # ---- what a walk of the procedure does its own way

    def _hear(self, heard: Heard) -> None:
        hear(self, heard)

    def _go_on(self) -> list[Effect]:
        return go_on(self)
