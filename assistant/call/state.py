"""What is true in a call: the facts so far, added up. It changes only through `apply`."""

import re
from dataclasses import replace
from datetime import datetime, timedelta

from assistant.branches.steps import Step
from assistant.call.by_reading import ACROSS, ASKED_ANEW, FEED_NOT_SEEN, HOOKED_UP, OUTSIDE_DUE, THROTTLED, ByReading
from assistant.call.facts import (
    LEFT,
    ROOM_NOT_SAFE,
    CallContinued,
    CallHeld,
    CallOpened,
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    CautionGiven,
    CheckInAsked,
    ClockJumped,
    Concluded,
    Contradicted,
    EmergencyDeclared,
    EmergencyOver,
    Fact,
    FinishAsked,
    LeftContradicted,
    MachineNamed,
    NotComputed,
    NoteTaken,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    OthersLockFound,
    PauseEnded,
    PowerOffOrdered,
    ProofEnded,
    ReadingsTooOld,
    ReadingTaken,
    ReadingWithdrawn,
    StepDone,
    StepEntered,
    StepReopened,
    StepSkipped,
    ValueDerived,
    WaitEnded,
    WordsHeard,
)
from assistant.call.heard import IN_DOUBT, NOT_SO
from assistant.call.lock import PROOF
from assistant.call.moments import of_a_moment
from assistant.language.vocabulary import vocabulary


def may_read_again(id_: str) -> bool:
    """Whether it can be read once more from where the technician stands: what took a live window, a lifted wire or an act
    cannot."""
    return vocabulary()[id_].kind not in ("volts", "ohms", "megohms", "acknowledge", "free") and id_ not in _OF_THE_PANEL


_HIMSELF = re.compile(r"\b(?:i|we|i've|we've)(?: just)? (?:shut|closed|front ?seated|throttled|choked)\b")
"""By which he tells that he closed a valve, and did not find it so."""
_OF_THE_PANEL = frozenset({"chain_dead_check", "valve_click", "control_fuse", "module_output_fuse", "module_enabled"})
_TELLS_NOTHING = (WordsHeard, StepEntered, CautionGiven, CautionAcknowledged)
"""Facts that leave what is known of the machine as it is."""


WATCH_OVER_MINUTES = 60.0
"""After so long a gap what was read of a running machine does not stand for it (common practice)."""
_EMPTY_UNTIL = {
    "section_shut": ("section_emptied", "isolated_pressure"), "valve_closed.discharge": ("machine_isolated", "isolated_pressure"),
}  # fmt: skip
"""What is full again once its valves are open: it is emptied and read anew before it is opened again (S31)."""
_OFF_UNTIL = {"wire_lifted": "modules_off"}
"""What was told to be off until what hung free is back on: another wire that hangs says nothing of the modules (S25)."""


_BY_ITS_REPAIR = frozenset({"feed_seen_after"})
"""Evidence by which a cause is proven because its repair holds: it runs on, and nothing of it was found running."""


class State(ByReading):
    """What stands, and how each fact changes it."""

    # ---- changing

    def apply(self, fact: Fact, at: datetime) -> None:
        """Take a fact in. The same facts in the same order give the same state, live and on resume."""
        if self.sealed:
            raise ValueError("the call is sealed; nothing follows")
        away, self.at = timedelta() if self.at is None else at - self.at, at
        if isinstance(fact, CallResumed | PauseEnded):
            self._watch_on(fact.minutes if isinstance(fact, PauseEnded) else away.total_seconds() / 60, at)
        if not isinstance(fact, _TELLS_NOTHING):
            self.case = None
        stood = self.stopped
        getattr(self, "_" + type(fact).__name__)(fact, at)
        if self.stopped and not stood:  # what was read of the running machine cannot be read again
            self.stopped_at = at
            self.ask_again = [i for i in self.ask_again if not of_a_moment(i)]

    def _CallOpened(self, fact: CallOpened, at: datetime) -> None:
        self.opened, self.opened_at = fact, at

    def _MachineNamed(self, fact: MachineNamed, at: datetime) -> None:
        self.machine = fact

    def _StepEntered(self, fact: StepEntered, at: datetime) -> None:
        self.step, self.station, self.entered_at = fact.step, fact.station, at
        self.given_ids = set()
        step = self.steps[fact.step]
        for id_ in step.opens:
            self.will_open(id_, step.id)
        if step.act == "hands_in":
            self.will_open("panel_cover", step.id)  # hands go in where it was shut before: it is off again
            self._ready_anew()
        if step.keeps_readings == "charge":
            self.readings_before["charge"] = dict(self.readings)

    def _CautionGiven(self, fact: CautionGiven, at: datetime) -> None:
        self.spoken_at[fact.caution] = at
        if fact.form == "full":
            self.given.add(fact.caution)

    def _CautionAcknowledged(self, fact: CautionAcknowledged, at: datetime) -> None:
        self.acknowledged.add(fact.caution)
        self.acknowledged_at[fact.caution] = at

    def _WordsHeard(self, fact: WordsHeard, at: datetime) -> None:
        kind, _, about = fact.meaning.partition(": ")
        if fact.meaning.startswith(IN_DOUBT):
            self.doubts[fact.said] = about
        elif fact.meaning == f"{NOT_SO}trouble":  # one no to "is something not safe?" is one to all that was not understood
            self.doubts = {said: about for said, about in self.doubts.items() if about != "trouble"}
        elif kind == "remark" or fact.meaning.startswith(NOT_SO):
            self.doubts.pop(fact.said, None)
        may_run = self.running or self.found_running or self.asks_for("start")
        again = self.running and self.started_at is not None and fact.meaning == "remark: reset again"  # a second trip (S22)
        breaks = self.running and fact.meaning in ("remark: no oil", "remark: liquid", "remark: left inside")
        if again or breaks or (may_run and fact.meaning in ("remark: burns", "remark: trouble")):
            self.unsafe_running = True
        self.live_said = self.live_said or (fact.meaning == "remark: live" and self.started_at is None)
        self.wet = self.wet or fact.meaning == "remark: wet"
        shut = self.running and "valve_closed.suction" in self.open and fact.meaning == "remark: noise"
        self.unsafe_running = self.unsafe_running or shut
        self.sounds_wrong = self.sounds_wrong or (self.running and fact.meaning == "remark: noise")
        if fact.meaning in ("remark: bypassed", "remark: held open") and self.feed.stimulus:
            self.bypass_besides = fact.said  # another than the one that is hooked up: it comes out after it

    def _ReadingTaken(self, fact: ReadingTaken, at: datetime) -> None:
        before = self.readings.pop(fact.id, None)  # the latest stands last: a bare "correction" means it
        self.readings[fact.id] = fact
        self.taken_at[fact.id] = at
        self.ask_again = [i for i in self.ask_again if i != fact.id]
        self.measure_again = [i for i in self.measure_again if i != fact.id]
        if not fact.corrected:
            self._near(fact.step, at)
        if vocabulary()[fact.id].kind == "acknowledge":
            self.ever_established |= set(fact.establishes)
        if not fact.corrected:
            self.resets |= set(fact.resets)
        self.acknowledged -= {"reset"} if fact.resets else set()
        self._obligations_of(fact)
        handler = getattr(self, "_on_" + fact.id.replace(".", "_"), None)
        if handler:
            handler(fact, at)
        if fact.id in PROOF:
            self._proof(fact, at)
        if fact.id in ACROSS:
            self._across(fact)
        if fact.id.startswith("watch.") and isinstance(fact.value, (int, float)):
            self._round(fact, at)
        if fact.id in ("rack", "compressor") and before is not None and before.value != fact.value:
            self._another_machine()
        still = (fact.value == "no" and fact.id in OUTSIDE_DUE) or (fact.value is False and fact.id == "others_clear")
        self.due = tuple(d for d in self.due if d != fact.id or still)
        if fact.step == self.step:
            self.given_ids.add(fact.id)
        elif not fact.corrected and fact.step in self.steps and fact.step not in self.answered:
            self.ahead.add((fact.step, fact.id))
        step = self.steps.get(fact.step)
        unanswered = step is not None and step.id not in self.answered and step.id == self.step
        if step and unanswered and all(self.given_here(i, step) for i in (step.asking, *step.also)):
            self._done(step)

    def _near(self, step_id: str, at: datetime) -> None:
        """Something was answered: in the panel, or of the proof, it keeps the proof alive; a gauge at the rack does not."""
        step = self.steps.get(step_id)
        if step and step.station == "panel" and (step.act == "hands_in" or step.proof):
            self.lock = self.lock.near(at)

    def _done(self, step: Step) -> None:
        self.answered[step.id] = "done"
        self.order.append(step.id)
        for id_ in step.clears:
            if id_ in self.open:
                self.to_clear.append((id_, step.id))
            if id_ == "start_blocked":
                self.feed = replace(self.feed, blocked=False)
            if id_ == "leads_on":
                self.feed = replace(self.feed, leads=False)
            for read in _EMPTY_UNTIL.get(id_, ()):
                self.readings.pop(read, None)
            self.full_again = self.full_again or id_ in _EMPTY_UNTIL
            if id_ == "fan_lock":  # it turns again, and is locked anew before hands are near it (S31)
                self.readings.pop("fans_locked", None)
                self._unanswered(lambda step: "fan_lock" in step.opens)

    def _StepDone(self, fact: StepDone, at: datetime) -> None:
        step = self.steps[fact.step]
        self.told[step.id] = fact
        if "repaired" in fact.establishes and {"machine_isolated", "section_emptied"} & set(self.readings):
            self.will_open("circuit_open", step.id)  # until it is proved tight, whatever is thought of its cause meanwhile
        if "tight" in fact.establishes:
            self.to_clear.append(("circuit_open", step.id))
        self.resets |= set(fact.resets)
        self.acknowledged -= {"reset"} if fact.resets else set()
        if step.keeps_readings == "repair":
            self.readings_before["repair"] = dict(self.readings)
            self._unanswered(lambda step: "tight" in step.tells.values())  # it was open once more
            self._ready_anew()
        for rule in self.procedure.obligations.values():
            if any(f"fact:{f}" in rule.opened_by for f in fact.establishes):
                self.will_open(rule.id, step.id, "as found")
        if "started" in fact.establishes:
            self.started_at = at
        if step.part == "return":
            self.due = tuple(d for d in self.due if d != HOOKED_UP)
        self._near(fact.step, at)
        self._done(step)

    def _StepSkipped(self, fact: StepSkipped, at: datetime) -> None:
        self.answered[fact.step] = "skipped"
        self.order.append(fact.step)
        step = self.steps[fact.step]
        self.measure_again = [i for i in self.measure_again if i not in step.ids]
        stimulus_in = self.feed.stimulus or "jumper_fitted" in self.open
        asks_feed = "injection_feed" in step.ids and step.act == "live"
        seen = self.readings.get("injection_feed")
        if asks_feed and stimulus_in and (seen is None or seen.step != step.id):
            self.will_open("liquid_in_compressor", step.id, FEED_NOT_SEEN)

    def _StepReopened(self, fact: StepReopened, at: datetime) -> None:
        self.answered.pop(fact.step, None)
        self.told.pop(fact.step, None)
        self.ahead = {one for one in self.ahead if one[0] != fact.step}
        self.step = ""
        if fact.step in self.order:
            self.order.remove(fact.step)

    def _ObligationOpened(self, fact: ObligationOpened, at: datetime) -> None:
        self.to_open = [t for t in self.to_open if t[0] != fact.id]
        self.open[fact.id] = fact
        for step in self.steps.values():
            if fact.id in step.clears and step.id != fact.step:
                self.answered.pop(step.id, None)  # what was cleared once and is open again is cleared again
        told = fact.detail not in ("", "as found") and not _HIMSELF.search(fact.detail)
        if fact.id == "valve_closed.suction" and told and self.started_at is None:
            self.ever_established.add("suction_valve_found_shut")
        if fact.id == "liquid_in_compressor":
            self.acknowledged.discard("liquid_in_machine")
            self.spoken_at.pop("liquid_in_machine", None)  # it is another liquid: said anew, however lately it was said
            self.liquid_since = at
            self._unanswered(lambda step: "open:liquid_in_compressor" in step.when)
            self.waited -= {step.id for step in self.steps.values() if "open:liquid_in_compressor" in step.when}
        if self.procedure.obligations[fact.id].hand_over == "owner":
            self._unanswered(lambda step: "owner" in step.hands_over)
        if fact.id == "no_cause_reset":
            self.why_left = fact.detail
        if fact.id == "panel_cover":
            self._ready_anew()
        if fact.detail == LEFT:  # nobody knows what was done since (S5)
            self._ask_anew(HOOKED_UP, *(("lock_still_on",) if fact.id == "locked_out" else ()))
        self.handed_over.pop(fact.id, None)

    def _ObligationCleared(self, fact: ObligationCleared, at: datetime) -> None:
        self.to_clear = [t for t in self.to_clear if t[0] != fact.id]
        was_at = self.tag_wanted
        self.open.pop(fact.id, None)
        self.told = {id_: done for id_, done in self.told.items() if _OFF_UNTIL.get(fact.id) not in done.establishes}
        if any(THROTTLED in step.establishes and fact.id in step.opens for step in self.steps.values()):
            self._throttled_anew()
        if fact.step:  # else it hangs at another machine than this one
            self.cleared.add(fact.id)
        if fact.id in self.elsewhere:
            self.elsewhere = {id_: tag for id_, tag in self.elsewhere.items() if id_ != fact.id}
            self.panel_again = not self.elsewhere and self.started_at is None
            if self.tag_wanted != was_at:  # from that machine to this one, lock and all
                self.lock = self.lock.off()
        if fact.id == "locked_out":
            self._not_at_rest()
        if fact.id == "jumper_fitted" and self.bypass_besides:
            self.will_open(fact.id, fact.step, self.bypass_besides)
            self.bypass_besides = ""

    def _ObligationHandedOver(self, fact: ObligationHandedOver, at: datetime) -> None:
        self.to_hand_over = [t for t in self.to_hand_over if t[0] != fact.id]
        self.open.pop(fact.id, None)
        self.handed_over[fact.id] = fact
        self.elsewhere = {id_: tag for id_, tag in self.elsewhere.items() if id_ != fact.id}  # it is the owner's to find there
        self.lock = self.lock.ended()  # whoever has it now proves it dead anew

    def _ProofEnded(self, fact: ProofEnded, at: datetime) -> None:
        self.lock, self.unseen = self.lock.ended(), True
        self._not_at_rest()

    def _not_at_rest(self) -> None:
        """Nobody knows whether the rack still stands whole and locked, as a standing test wants it: that is asked anew (S33)."""
        agreed = next((id_ for id_, done in self.told.items() if "idle_test_valid" in done.establishes), "")
        to_read = any(step.asking == "idle_condenser_pressure" and step.id not in self.answered for step in self.steps.values())
        if agreed and to_read and self.started_at is None:
            self.again_from = agreed
            self._unanswered(lambda step: step.id == agreed)

    def _OthersLockFound(self, fact: OthersLockFound, at: datetime) -> None:
        self.lock = replace(self.lock.ended(), others=True)
        self._ask_anew("other_lock_gone")

    def _watch_on(self, away_minutes: float, at: datetime) -> None:
        """Nobody watched the machine for so long that what was read of it is over: a round is read now, and the rest after it."""
        if away_minutes < WATCH_OVER_MINUTES or not self.running or self.started_at is None:
            return
        asked = self.asked_here
        if asked is not None and asked.watch_round:
            due = asked
        elif self.watch_step:
            due = self.steps[self.watch_step]
            self.answered.pop(due.id, None)
            self.again_from = due.id
        else:
            return
        minutes = self.site.watch_minutes
        planned = minutes[min(due.watch_round, len(minutes)) - 1]
        self.watch_late_minutes = max(0.0, (at - self.started_at).total_seconds() / 60 - planned)
        self.watch_step = ""

    def _PauseEnded(self, fact: PauseEnded, at: datetime) -> None:
        self._interrupted()

    def _WaitEnded(self, fact: WaitEnded, at: datetime) -> None:
        self.waited.add(fact.step)

    def _PowerOffOrdered(self, fact: PowerOffOrdered, at: datetime) -> None:
        self.feed = replace(self.feed, over=True)
        for step in self.steps.values():
            # What was not seen in the window counts as not known: S16 is served by the same rule as a skip.
            if step.act == "live" and step.asking == "injection_feed" and step.id not in self.answered:
                self._StepSkipped(StepSkipped(step.id, "the seconds were spent"), at)

    def _ValueDerived(self, fact: ValueDerived, at: datetime) -> None:
        self.derived[fact.id] = fact
        self.derived_at[fact.id] = at

    def _NotComputed(self, fact: NotComputed, at: datetime) -> None:
        self.not_computed[fact.id] = fact.reason
        self.derived.pop(fact.id, None)

    def _Concluded(self, fact: Concluded, at: datetime) -> None:
        before = self.conclusions.get(fact.cause)
        if before is not None and before.standing == "proven":
            self.stood_before.discard(fact.cause)  # it fell, or rests on something else now
        self.conclusions[fact.cause] = fact
        self.concluded_at[fact.cause] = at
        if self.started_at and not _BY_ITS_REPAIR & set(fact.evidence):
            self.running_causes.add(fact.cause)
        elif fact.standing in ("proven", "supported") and not self.has("repaired"):
            self.stood_before.add(fact.cause)

    def _Contradicted(self, fact: Contradicted, at: datetime) -> None:
        self.contradicted.add(fact.ids)
        self.ask_again = [*self.ask_again, *(i for i in fact.ids if i not in self.ask_again and may_read_again(i))]
        steps = {i: self.steps.get(self.readings[i].step) for i in fact.ids if i in self.readings and i not in self.ask_again}
        for id_, step in steps.items():
            if step and step.act == "hands_in" and id_ == step.asking:
                self.measure_again.append(id_)

    def _ReadingsTooOld(self, fact: ReadingsTooOld, at: datetime) -> None:
        self.too_old |= set(fact.ids)
        self.ask_again = [*self.ask_again, *(i for i in fact.ids if i not in self.ask_again)]

    def _ReadingWithdrawn(self, fact: ReadingWithdrawn, at: datetime) -> None:
        """What was found and mended by it is looked for anew."""
        id_ = fact.id
        if id_ == "panel_tag":
            self.lock, self.tag_doubted = self.lock.off(), True
            self._another_panel()
            return
        taken = self.readings[id_]
        if id_ in PROOF:
            self._nothing_was_dead()
        self.ask_again = [i for i in self.ask_again if i != id_]
        self.store_heard = "" if id_ == "store_told" else self.store_heard
        self._drop({id_}, set())
        for before in self.readings_before.values():
            before.pop(id_, None)
        read_at = self.steps.get(taken.step)
        if self.started_at is None and read_at is not None and read_at.act == "hands_in":
            self._unanswered(lambda step: "repaired" in step.tells.values() or step.id == taken.step)
            self.panel_again = True

    def _LeftContradicted(self, fact: LeftContradicted, at: datetime) -> None:
        self.ask_again = [i for i in self.ask_again if i != fact.id]

    def _NoteTaken(self, fact: NoteTaken, at: datetime) -> None:
        self.notes.append(fact.text)

    def _EmergencyDeclared(self, fact: EmergencyDeclared, at: datetime) -> None:
        self.emergency = True
        self.lock = self.lock.ended()

    def _EmergencyOver(self, fact: EmergencyOver, at: datetime) -> None:
        self.emergency = False
        self._interrupted("everybody_safe", "room_safe")

    def _CheckInAsked(self, fact: CheckInAsked, at: datetime) -> None:
        pass

    def _ClockJumped(self, fact: ClockJumped, at: datetime) -> None:
        pass

    def _CallHeld(self, fact: CallHeld, at: datetime) -> None:
        pass

    def _CallContinued(self, fact: CallContinued, at: datetime) -> None:
        pass

    def _FinishAsked(self, fact: FinishAsked, at: datetime) -> None:
        self.finishing = True
        self.left_for_alarm = self.step if fact.reason == ROOM_NOT_SAFE else ""

    def _CallResumed(self, fact: CallResumed, at: datetime) -> None:
        first = ("everybody_safe",) if self.emergency else ()
        self.emergency = False
        named = self.readings.get("technician")  # spoken: it may be somebody else now
        who = ("technician",) if named and named.confirmed != "by the profile" else ()
        self._interrupted(*first, *(("room_safe",) if first or self.alarm else ()), *who)

    def _CallSealed(self, fact: CallSealed, at: datetime) -> None:
        self.sealed, self.station = True, "sealed"

    def _on_room_safe(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "yes":
            self.alarm = False
            if self.left_for_alarm and not self.handed_over:  # it was none, or is over: the call goes on where it was
                self.finishing, self.again_from, self.left_for_alarm = False, self.left_for_alarm, ""
                self._interrupted()
        else:  # said at whatever question: hands are out, and nobody goes in again on a word alone
            self.lock = self.lock.ended()
            self._ask_anew("room_safe")

    def _shell_too_old(self) -> None:
        """A pressure in the shell that was read for an insulation test which nobody came to in time is read anew (S25)."""
        shell, ground = self.taken_at.get("shell_pressure"), self.taken_at.get("ground_megohms")
        if shell is None or self.at is None or self.has("charge_unknown") or (ground is not None and ground > shell):
            return
        if "shell_pressure" in self.readings and self.at - shell > timedelta(minutes=self.site.dead_minutes):
            self.too_late.add("shell_pressure")
            was = self.readings.pop("shell_pressure").step
            self._unanswered(lambda step: step.id == was)

    def _live_anew(self) -> None:
        """Nobody goes back to a live panel on what he wore or stood on before."""
        if self.started_at is None and not self.lock.locked:
            self._unanswered(lambda step: step.part == "live gate")

    def _throttled_anew(self) -> None:
        """A throttled start that was not made yet is begun again from its valve."""
        if self.started_at is not None:
            return
        self.ever_established.discard(THROTTLED)
        for step in self.steps.values():
            if THROTTLED in step.establishes:
                self.answered.pop(step.id, None)

    def _interrupted(self, *first: str) -> None:
        """Nobody knows what was done meanwhile: proof and cautions are void, and before anything dangerous it is asked
        whether the lock is on, what is still hooked up, and whether everybody is clear."""
        if self.feed.window:
            if not (self.feed.over or self.feed.stimulus or "everybody_safe" in first):
                self.window_cut = next((id_ for id_ in reversed(self.order) if self.steps[id_].act == "power_on"), "")
            self._PowerOffOrdered(PowerOffOrdered(0.0), self.opened_at or datetime.min)
        elif self.asks_for("power_on") and self.feed.stimulus and not self.valve_shut:
            # It was asked for, and may have been put on: nobody knows for how long it fed (S15, S16).
            self.feed = replace(self.feed, over=True, fed=True)
            self.will_open("liquid_in_compressor", self.step, FEED_NOT_SEEN)
        if self.running and "valve_closed.suction" in self.open:
            self.unsafe_running = True  # nobody runs one on a shut valve that he does not look at
        self.lock, self.unseen = self.lock.ended(), True
        self._not_at_rest()
        self.acknowledged.clear()
        self.given.clear()
        self.readings.pop("others_clear", None)
        self._throttled_anew()
        for step in self.steps.values():
            if step.asking in ASKED_ANEW and step.part != "return":
                self.answered.pop(step.id, None)
        if "refrigerant_added" not in self.readings:
            self.readings.pop("cylinder_checked", None)  # another one may hang there, or another man be here
            self._unanswered(lambda step: step.asking == "cylinder_checked")
        self._shell_too_old()
        for id_ in ("isolated_pressure", "fans_locked"):  # it may have filled again, or somebody unlocked it
            self._anew(id_)
        self._live_anew()
        if not self.lock.locked:
            self._unanswered(lambda step: step.part == "lock gate")  # whatever stood still may run again: the store is told anew
        goes_by_itself = self.running or self.has("left_in_auto")  # its lock came off, and rightly so
        on = ("lock_still_on",) if "locked_out" in self.readings and not goes_by_itself else ()
        self._ask_anew(*first, *on, HOOKED_UP, "others_clear")
