"""What is true in a call: the facts so far, added up. It changes only through `apply`."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from assistant.branches.loading import is_one_of
from assistant.branches.search import CONTACT_IDS
from assistant.branches.steps import Step
from assistant.call.facts import (
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
    ReadingTaken,
    StepDone,
    StepEntered,
    StepReopened,
    StepSkipped,
    ValueDerived,
    WaitEnded,
    WordsHeard,
)
from assistant.call.heard import IN_DOUBT, NOT_SO
from assistant.call.lock import LOCK, PROOF, worst_v
from assistant.call.moments import of_a_moment
from assistant.call.standing import Standing
from assistant.language.vocabulary import vocabulary
from assistant.trade.electrical import volts_present
from assistant.trade.units import us_value

ASKED_ANEW = ("others_clear", "service_valves_open", "covers_on")
"""What is asked again before a start that was interrupted."""
ACROSS = {f"safety_volts.{id_}": contact for contact, id_ in CONTACT_IDS.items()}
"""Volts across a contact, by the contact's name on the panel."""
HOOKED_UP = "hooked up"
"""What stands in `due` for the sentence that names everything still open."""
DUE = ("everybody_safe", "room_safe", "technician", "other_lock_gone", "second_source", "second_source_locked", "lock_still_on",
       HOOKED_UP, "others_clear")  # fmt: skip
"""What may have to be asked anew, in its order."""
OUTSIDE_DUE = DUE[:2]
"""What of it is asked while nobody may go in."""
OF_THE_ROOM = ("technician", "site", "rack", "compressor", "fit_to_start", "detector_state", "ventilation_running",
               "product_state", "product_temperature", "load_shed", "store_told", "note")  # fmt: skip
OF_THE_RACK = ("tripped_count", "trip_spread", "first_to_trip", "controller_mode", "running_count", "rack_suction_pressure",
               "rack_discharge_pressure", "sight_glass", "receiver_level", "drier_temperature_drop", "defrost_state")  # fmt: skip
"""Readings that stand when the machine is corrected to another one: of the room, and of the same rack."""
THROTTLED = "suction_throttled"
"""Fact: the first start goes through a suction valve that is only cracked."""
_FEED_NOT_SEEN = "feed not seen with the stimulus in"
LIVE_CAUTIONS = frozenset({"live", "live_place"})


def may_read_again(id_: str) -> bool:
    """Whether it can be read once more from where the technician stands: what took a live window, a lifted wire or an act
    cannot."""
    return vocabulary()[id_].kind not in ("volts", "ohms", "megohms", "acknowledge", "free") and id_ not in _OF_THE_PANEL


_OF_THE_PANEL = frozenset({"chain_dead_check", "valve_click", "control_fuse", "module_output_fuse", "module_enabled"})


_UNDER_THE_LOCK = ("panel", "live", "restore")
"""Stations of what is done once the lock is on."""
_TELLS_NOTHING = (WordsHeard, StepEntered, CautionGiven, CautionAcknowledged)
"""Facts that leave what is known of the machine as it is."""


class State(Standing):
    """What stands, and how each fact changes it."""

    # ---- changing

    def apply(self, fact: Fact, at: datetime) -> None:
        """Take a fact in. The same facts in the same order give the same state, live and on resume."""
        if self.sealed:
            raise ValueError("the call is sealed; nothing follows")
        self.at = at
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
            self._hands_in_again()
        if step.keeps_readings == "charge":
            self.readings_before["charge"] = dict(self.readings)

    def _hands_in_again(self) -> None:
        """What was said to be ready before hands were in is said anew before the lock comes off (S21)."""
        if self.started_at is None and {"others_clear", "service_valves_open"} & set(self.readings):
            self._unanswered(lambda step: step.asking in ASKED_ANEW and step.part != "return")
            for id_ in ("others_clear", "service_valves_open"):
                self.readings.pop(id_, None)

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
        elif kind == "remark" or fact.meaning.startswith(NOT_SO):
            self.doubts.pop(fact.said, None)
        if fact.meaning == "remark: bypassed" and self.feed.stimulus:
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

    def _StepDone(self, fact: StepDone, at: datetime) -> None:
        step = self.steps[fact.step]
        self.told[step.id] = fact
        self.resets |= set(fact.resets)
        self.acknowledged -= {"reset"} if fact.resets else set()
        if step.keeps_readings == "repair":
            self.readings_before["repair"] = dict(self.readings)
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
            self.will_open("liquid_in_compressor", step.id, _FEED_NOT_SEEN)

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
        if fact.id == "liquid_in_compressor":
            self.acknowledged.discard("liquid_in_machine")
            self.spoken_at.pop("liquid_in_machine", None)  # it is another liquid: said anew, however lately it was said
            self.liquid_since = at
            self._unanswered(lambda step: "open:liquid_in_compressor" in step.when)
        if fact.id == "panel_cover":
            self._hands_in_again()
        self.handed_over.pop(fact.id, None)

    def _ObligationCleared(self, fact: ObligationCleared, at: datetime) -> None:
        self.to_clear = [t for t in self.to_clear if t[0] != fact.id]
        self.open.pop(fact.id, None)
        self.cleared.add(fact.id)
        if fact.id == "jumper_fitted" and self.bypass_besides:
            self.will_open(fact.id, fact.step, self.bypass_besides)
            self.bypass_besides = ""

    def _ObligationHandedOver(self, fact: ObligationHandedOver, at: datetime) -> None:
        self.to_hand_over = [t for t in self.to_hand_over if t[0] != fact.id]
        self.open.pop(fact.id, None)
        self.handed_over[fact.id] = fact
        self.lock = self.lock.ended()  # whoever has it now proves it dead anew

    def _ProofEnded(self, fact: ProofEnded, at: datetime) -> None:
        self.lock, self.unseen = self.lock.ended(), True

    def _OthersLockFound(self, fact: OthersLockFound, at: datetime) -> None:
        self.lock = replace(self.lock.ended(), others=True)
        self._ask_anew("other_lock_gone")

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

    def _NotComputed(self, fact: NotComputed, at: datetime) -> None:
        self.not_computed[fact.id] = fact.reason
        self.derived.pop(fact.id, None)

    def _Concluded(self, fact: Concluded, at: datetime) -> None:
        self.conclusions[fact.cause] = fact
        self.concluded_at[fact.cause] = at
        if self.started_at:
            self.running_causes.add(fact.cause)

    def _Contradicted(self, fact: Contradicted, at: datetime) -> None:
        self.contradicted.add(fact.ids)
        self.ask_again = [*self.ask_again, *(i for i in fact.ids if i not in self.ask_again and may_read_again(i))]
        steps = {i: self.steps.get(self.readings[i].step) for i in fact.ids if i in self.readings and i not in self.ask_again}
        for id_, step in steps.items():
            if step and step.act == "hands_in" and id_ == step.asking:
                self.measure_again.append(id_)

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

    def _CallResumed(self, fact: CallResumed, at: datetime) -> None:
        first = ("everybody_safe",) if self.emergency else ()
        self.emergency = False
        named = self.readings.get("technician")  # spoken: it may be somebody else now
        who = ("technician",) if named and named.confirmed != "by the profile" else ()
        self._interrupted(*first, *(("room_safe",) if first or self.alarm else ()), *who)

    def _CallSealed(self, fact: CallSealed, at: datetime) -> None:
        self.sealed, self.station = True, "sealed"

    # ---- what a reading brings with it

    def _obligations_of(self, fact: ReadingTaken) -> None:
        """Obligations that an answer opens or clears, as their table says."""
        for rule in self.procedure.obligations.values():
            if any(is_one_of(c, fact.id, fact.value) for c in rule.opened_by):
                self.will_open(rule.id, fact.step, "as found")
            elif rule.id in self.open and any(is_one_of(c, fact.id, fact.value) for c in rule.cleared_by):
                self.to_clear.append((rule.id, fact.step))

    def _round(self, fact: ReadingTaken, at: datetime) -> None:
        """Put a reading of the watch into its round: when it was asked for, unless the answer took long."""
        if not self.series or fact.step != self.watch_step:
            asked = self.entered_at
            self.series.append((asked if asked and at - asked < timedelta(minutes=1) else at, {}))
            self.watch_step = fact.step
        self.series[-1][1][fact.id] = float(us_value(fact.value, fact.unit, vocabulary()[fact.id].kind))

    def _proof(self, fact: ReadingTaken, at: datetime) -> None:
        good = self.good_for_the_proof(fact)
        was_dead = self.lock.dead
        if fact.id == "locked_out" and good:
            self.will_open("locked_out", fact.step)
            self.acknowledged -= LIVE_CAUTIONS  # what was live as found is over: the next power on is another one (S8)
        self.lock = self.lock.took(fact.id, good, at, self.proof_needed(), fact.corrected)
        if fact.id.startswith("dead_volts.") and (worst_v(fact.value, fact.low, fact.high) or 0.0) > self.limits.second_source_v:
            self.lock = self.lock.second_source()
            self._ask_anew("second_source", "second_source_locked")
        if fact.id == "panel_tag" and fact.corrected and not good:
            self._another_panel()
        self.unseen = (self.unseen and not self.lock.dead) or (fact.corrected and not good)
        if self.lock.dead and not was_dead:
            self.feed = replace(self.feed, off_at=self.feed.off_at or at)

    def _across(self, fact: ReadingTaken) -> None:
        """Full control voltage across a contact: it is open."""
        rack, value = self.rack, fact.value
        number = rack is not None and isinstance(value, int | float) and not isinstance(value, bool)
        if rack and number and volts_present(float(value), rack.panel.control_volts, rack.limits) is True:
            name = ACROSS[fact.id]
            self.contacts += [] if name in self.contacts else [name]

    def good_for_the_proof(self, fact: ReadingTaken) -> bool:
        """Whether a reading of the proof lets it go on; no word opens anything."""
        if fact.id == "panel_tag":
            return self.compressor is not None and fact.value == self.compressor.tag
        if fact.id.startswith("dead_volts."):
            volts = worst_v(fact.value, fact.low, fact.high)
            return volts is not None and volts <= self.limits.dead_limit_v
        return fact.value is True

    def will_open(self, id_: str, step: str, detail: str = "") -> None:
        if id_ not in self.open and id_ not in [t[0] for t in self.to_open]:
            self.to_open.append((id_, step, detail))

    def _on_control_power_on(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock, self.feed = self.lock.power_on(), self.feed.on(at)

    def _on_control_power_off(self, fact: ReadingTaken, at: datetime) -> None:
        on_at, seen_at = self.feed.on_at, self.taken_at.get("injection_feed")
        if on_at and self.feed.stimulus and not self.valve_shut and (seen_at is None or seen_at < on_at):
            self.will_open("liquid_in_compressor", fact.step, _FEED_NOT_SEEN)  # the window ended before anybody looked
        self.feed, self.lock = self.feed.off(at, self.valve_shut), self.lock.power_off(at)
        self.acknowledged -= LIVE_CAUTIONS  # they hold for one power-on only (S8)

    def _on_module_output_volts(self, fact: ReadingTaken, at: datetime) -> None:
        on = self.feed.on_at
        self.output_read_after_s = (at - on).total_seconds() if on else 0.0

    def _on_section_emptied(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value is True:
            self.will_open("section_shut", fact.step)

    def _on_lock_removed(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock = self.lock.off()

    def _on_lock_still_on(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "yes" and not self.lock.locked:  # its tag is read before it counts
            self.will_open("locked_out", fact.step, "said to be on after an interruption")
            self._unanswered(lambda step: step.act == "unlock")
        if fact.value == "no":
            self.lock = self.lock.off()
            self._unanswered(lambda step: step.part == "lock gate")
            self.acknowledged.discard("restart")  # without its lock it can start by itself again
            if "locked_out" in self.handed_over:
                self.will_open("locked_out", fact.step, "found off after it was handed over")
                self._unanswered(lambda step: "locked" in step.hands_over)
            elif "locked_out" in self.open:
                self.to_clear.append(("locked_out", fact.step))

    def _unanswered(self, those: Callable[[Step], bool]) -> None:
        """What these steps told no longer holds: they are asked again."""
        for step in filter(those, self.steps.values()):
            self.answered.pop(step.id, None)
            self.told.pop(step.id, None)

    def _on_other_lock_gone(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock = replace(self.lock, others=False)
        theirs = self.locks_of_another()
        self.to_clear += [(id_, fact.step) for id_ in theirs]
        if "locked_out" in theirs:  # who had the call before took it off: whether the own one is on is asked
            self.lock = self.lock.off()
            self._ask_anew("lock_still_on")
        if "second_lock" in theirs:
            self._ask_anew("second_source_locked")

    def _on_others_clear(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value is False and (self.feed.window or not any(self.steps[i].asking == fact.id for i in self.answered)):
            self._ask_anew("others_clear")  # power off first; before anything that can start it

    def _on_coil_seated(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "loose":  # it was put back before, and is off again
            self._unanswered(lambda step: "coil_back_on_stem" in step.establishes)

    def _on_running_now(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "running" and self.lock.locked and self.started_at is None:
            self.lock = self.lock.off()  # it runs with the lock on: that lock is not this machine's
            self._another_panel()
        self.tripped_again = self.tripped_again or (self.started_at is not None and fact.value in ("just tripped", "off"))

    def _on_start_prevented(self, fact: ReadingTaken, at: datetime) -> None:
        self.feed = replace(self.feed, blocked=fact.value is True)

    def _on_jumper_fitted(self, fact: ReadingTaken, at: datetime) -> None:
        self.feed = replace(self.feed, stimulus=fact.value is True)

    def _on_jumper_removed(self, fact: ReadingTaken, at: datetime) -> None:
        self.feed = replace(self.feed, stimulus=False)

    def _on_leads_clipped(self, fact: ReadingTaken, at: datetime) -> None:
        self.feed = replace(self.feed, leads=fact.value is True)

    def _on_injection_feed(self, fact: ReadingTaken, at: datetime) -> None:
        if self.started_at is None and fact.value in ("feeding", "weak"):
            self.will_open("liquid_in_compressor", fact.step, "fed on a standing machine")

    def _on_injection_as_found(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value in ("feeding", "cold"):
            self.will_open("liquid_in_compressor", fact.step, "the injection fed it as it was found")

    def _on_probe_pipe_temperature(self, fact: ReadingTaken, at: datetime) -> None:
        kind = vocabulary()[fact.id].kind
        degf = us_value(fact.value if fact.low is None else fact.low, fact.unit, kind)
        cold = not isinstance(degf, (bool, str)) and float(degf) < self.limits.line_cold_degf
        if self.started_at is None and cold:
            self.will_open("liquid_in_compressor", fact.step, "the line is cold as found")

    def _on_shell_pressure(self, fact: ReadingTaken, at: datetime) -> None:
        low = self.us("shell_pressure") if fact.low is None else fact.low
        if fact.corrected and low is not None and low < 0.0:
            self.readings.pop("ground_megohms", None)  # no insulation test counts that was made in a vacuum (S25)

    def _on_injection_after(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "feeding" and (self.started_at is None or self.stopped):
            self.will_open("liquid_in_compressor", fact.step, "feeding with power off")

    def _on_detector_state(self, fact: ReadingTaken, at: datetime) -> None:
        closed = any(r.closed_room for r in self.site.racks) if self.rack is None else self.rack.closed_room
        was, self.alarm = self.alarm, fact.value == "alarm" or (fact.value in ("dead", "none") and closed)
        if self.alarm:
            self.lock = self.lock.ended()  # hands are out, and whoever goes in again proves it dead anew
        elif was:
            self._ask_anew("room_safe")  # a word alone lets nobody in again

    def _on_ventilation_running(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "no":  # said of a fan that ran: everybody is out until it does again
            self.lock = self.lock.ended()
            self._ask_anew("room_safe")

    def _on_everybody_safe(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "no":  # said at whatever question
            self.lock = self.lock.ended()
            self._ask_anew("everybody_safe")

    def _on_room_safe(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "yes":
            self.alarm = False
        else:  # said at whatever question: hands are out, and nobody goes in again on a word alone
            self.lock = self.lock.ended()
            self._ask_anew("room_safe")

    def _on_follow_up_owner(self, fact: ReadingTaken, at: datetime) -> None:
        step = self.steps.get(fact.step)
        if step and "locked" in step.hands_over and self.lock.locked:
            for id_ in self.open:
                # From outside a room that nobody may enter, locked and tagged stands for everything (S35).
                if self.procedure.obligations[id_].hand_over == "locked" or self.alarm:
                    self.to_hand_over.append((id_, str(fact.value), 0.0))

    def _on_follow_up_in_hours(self, fact: ReadingTaken, at: datetime) -> None:
        owner, step = self.value("follow_up_owner"), self.steps.get(fact.step)
        if step and "owner" in step.hands_over and owner is not None and isinstance(fact.value, (int, float)):
            for id_ in self.open:
                rule = self.procedure.obligations[id_]
                if rule.hand_over == "owner" and (not rule.within_hours or fact.value <= rule.within_hours):
                    self.to_hand_over.append((id_, str(owner), float(fact.value)))

    def _on_chain_dead_check(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "two":
            self.ever_established.add("two_contacts_open")
        elif fact.value != "none" and fact.value not in self.contacts:
            self.contacts.append(str(fact.value))

    # ---- interruptions

    def _ask_anew(self, *what: str) -> None:
        self.due = tuple(d for d in DUE if d in what or d in self.due)

    def _interrupted(self, *first: str) -> None:
        """Nobody knows what was done meanwhile: proof and cautions are void, and before anything dangerous it is asked
        whether the lock is on, what is still hooked up, and whether everybody is clear."""
        if self.feed.window:
            self._PowerOffOrdered(PowerOffOrdered(0.0), self.opened_at or datetime.min)
        elif self.asks_for("power_on") and self.feed.stimulus and not self.valve_shut:
            # It was asked for, and may have been put on: nobody knows for how long it fed (S15, S16).
            self.feed = replace(self.feed, over=True, fed=True)
            self.will_open("liquid_in_compressor", self.step, _FEED_NOT_SEEN)
        self.lock, self.unseen = self.lock.ended(), True
        self.acknowledged.clear()
        self.given.clear()
        self.readings.pop("others_clear", None)
        throttled = {THROTTLED} if self.started_at is None else set()  # a throttled start is begun again from its valve
        self.ever_established -= throttled
        for step in self.steps.values():
            if (step.asking in ASKED_ANEW and step.part != "return") or throttled & set(step.establishes):
                self.answered.pop(step.id, None)
        if self.asks_for_a_charge():
            self._unanswered(lambda step: step.asking == "cylinder_checked")  # another one may hang there, or another man be here
        if not self.lock.locked:
            self._unanswered(lambda step: step.part == "lock gate")  # whatever stood still may run again: the store is told anew
        on = ("lock_still_on",) if "locked_out" in self.readings and not self.running else ()
        self._ask_anew(*first, *on, HOOKED_UP, "others_clear")

    def _another_panel(self) -> None:
        """The tag was another machine's: what was read, done and repaired under its lock was so at that machine."""
        there = {step.id for step in self.steps.values() if step.station in _UNDER_THE_LOCK}
        reset = {step.id for step in self.steps.values() if step.resets and step.id in self.answered}
        self._drop({id_ for id_, taken in self.readings.items() if taken.step in there and id_ not in LOCK}, there)
        if self.started_at is not None:
            return  # it runs: nothing of it is done now
        self.panel_again = True
        self._unanswered(lambda step: step.id in there and step.id not in reset)
        self.answered |= dict.fromkeys(reset, "done")  # one reset a call, whichever machine had it (S22)
        self.order = [id_ for id_ in self.order if id_ in self.answered]

    def _another_machine(self) -> None:
        """What was read before belongs to the machine that was named before; of another rack, all but the room."""
        same_rack = self.machine is not None and self.machine.rack == self.value("rack")
        kept = {*OF_THE_ROOM, *(OF_THE_RACK if same_rack else ())}
        self._drop({id_ for id_ in self.readings if id_ not in kept}, set(self.steps))
        self.position = -1

    def _drop(self, dropped: set[str], looks: set[str]) -> None:
        """These readings are not of this machine, nor what they led to, nor what these steps told; what was ruled out by them
        may be so here."""
        out = [c for c, said in self.conclusions.items() if said.standing == "ruled_out" and dropped & set(said.evidence)]
        for cause in out:
            del self.conclusions[cause]
        for id_ in dropped:
            del self.readings[id_]
            self.taken_at.pop(id_, None)
        self.ahead = {one for one in self.ahead if one[1] not in dropped}
        for step in self.steps.values():
            if step.id in self.answered and (dropped & set(step.ids) or (step.tells and step.id in looks)):
                self.answered.pop(step.id)
                self.told.pop(step.id, None)
        self.order = [id_ for id_ in self.order if id_ in self.answered]
        self.contacts.clear()
        self.derived.clear()
