"""What a reading brings with it: obligations, the proof, the feed, what is asked anew, what belongs to another machine."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from assistant.branches.loading import is_one_of
from assistant.branches.search import CONTACT_IDS
from assistant.branches.steps import Step
from assistant.call.facts import ReadingTaken
from assistant.call.lock import LOCK, worst_v
from assistant.call.standing import Standing
from assistant.language.meaning import Value
from assistant.language.vocabulary import vocabulary
from assistant.trade.electrical import volts_present
from assistant.trade.units import us_value

ASKED_ANEW = ("others_clear", "service_valves_open", "covers_on")
"""What is asked again before a start that was interrupted."""
ACROSS = {f"safety_volts.{id_}": contact for contact, id_ in CONTACT_IDS.items()}
"""Volts across a contact, by the contact's name on the panel."""
_OF_THE_CONTACTS = frozenset({"chain_dead_check", *ACROSS})
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
FEED_NOT_SEEN = "feed not seen with the stimulus in"
LIVE_CAUTIONS = frozenset({"live", "live_place"})
IN_A_PANEL = ("jumper_fitted", "leads_on", "wire_lifted", "start_blocked", "clamp_left_on", "terminal_cover", "panel_cover")
"""Obligations that hang in one machine's panel, in the order in which they are cleared."""
READ_DEAD = frozenset({"dead_when_coil_read", "starter_dead_when_read"})
"""Facts that hang on the proof under which something was read."""
_OF_THE_LOCK = (*LOCK, "lock_still_on")
_UNDER_THE_LOCK = ("panel", "live", "restore")
"""Stations of what is done once the lock is on."""


class ByReading(Standing):
    """What follows at once from each reading, in methods named by its id."""

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
        was_dead, made = self.lock.dead, self.lock.made
        if fact.id == "locked_out" and good:
            self.will_open("locked_out", fact.step)
            self.acknowledged -= LIVE_CAUTIONS  # what was live as found is over: the next power on is another one (S8)
        if not good and (fact.corrected or self.started_at is not None):
            self._nothing_was_dead()
        self.lock = self.lock.took(fact.id, good, at, self.proof_needed(), fact.corrected)
        if fact.id.startswith("dead_volts.") and (worst_v(fact.value, fact.low, fact.high) or 0.0) > self.limits.second_source_v:
            self.lock = self.lock.second_source()
            self._ask_anew("second_source", "second_source_locked")
        put_right = fact.id == "panel_tag" and (fact.corrected or self.tag_doubted)
        self.tag_doubted = self.tag_doubted and fact.id != "panel_tag"
        if put_right and not good:
            if self.tag_read == self.tag_wanted:  # else it only puts right what opened nothing
                self._hangs_at(str(fact.value), bool(set(made) - {"panel_tag", "locked_out"}))
            self._another_panel()
            if "locked_out" in self.open and self.started_at is None:  # it hangs where that tag is
                self._unanswered(lambda step: "lock_elsewhere" in step.clears)
                self.will_open("lock_elsewhere", fact.step, str(fact.value))
        elif put_right and "lock_elsewhere" in self.open and fact.value == (self.compressor.tag if self.compressor else ""):
            self.to_clear.append(("lock_elsewhere", fact.step))  # it was misread, and hangs here
        self.tag_read = str(fact.value) if fact.id == "panel_tag" else self.tag_read
        self.unseen = (self.unseen and not self.lock.dead) or (fact.corrected and not good)
        self.live_said = self.live_said and not self.lock.dead
        if self.lock.dead and not was_dead:
            self.feed = replace(self.feed, off_at=self.feed.off_at or at)

    def _nothing_was_dead(self) -> None:
        """What was read dead was not, as is known now: it proves nothing."""
        for id_, reading in self.readings.items():
            if kept := READ_DEAD & set(reading.establishes):
                self.readings[id_] = replace(reading, establishes=tuple(one for one in reading.establishes if one not in kept))
        self.ever_established -= READ_DEAD

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
            return bool(self.tag_wanted) and fact.value == self.tag_wanted
        if fact.id.startswith("dead_volts."):
            volts = worst_v(fact.value, fact.low, fact.high)
            return volts is not None and volts <= self.limits.dead_limit_v
        return fact.value is True

    def will_open(self, id_: str, step: str, detail: str = "") -> None:
        if id_ not in self.open and id_ not in [t[0] for t in self.to_open]:
            self.to_open.append((id_, step, detail))

    def _on_control_power_on(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock, self.feed = self.lock.power_on(), self.feed.on(at)
        self._unanswered(lambda step: step.act == "power_off")

    def _on_control_power_off(self, fact: ReadingTaken, at: datetime) -> None:
        on_at, seen_at = self.feed.on_at, self.taken_at.get("injection_feed")
        if on_at and self.feed.stimulus and not self.valve_shut and (seen_at is None or seen_at < on_at):
            self.will_open("liquid_in_compressor", fact.step, FEED_NOT_SEEN)  # the window ended before anybody looked
        self.feed, self.lock = self.feed.off(at, self.valve_shut), self.lock.power_off(at)
        self.acknowledged -= LIVE_CAUTIONS  # they hold for one power-on only (S8)
        if self.window_cut:  # nothing fed in it, and nobody was hurt: what it was for is still not read
            self.feed, self.again_from, self.window_cut = replace(self.feed, over=False), self.window_cut, ""
            self._unanswered(lambda step: step.id == self.again_from)

    def _on_module_output_volts(self, fact: ReadingTaken, at: datetime) -> None:
        on = self.feed.on_at
        self.output_read_after_s = (at - on).total_seconds() if on else 0.0

    def _on_section_emptied(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value is True:
            self.will_open("section_shut", fact.step)

    def _on_lock_removed(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock = self.lock.off()
        self._unanswered(lambda step: step.part == "lock gate")  # a rack that is stopped once more is told of once more (S6)
        asked = self.steps.get(fact.step)  # asked for in time it may come off a minute later
        self.unlocked_at = self.entered_at if asked and asked.id == self.step and asked.act == "unlock" else at

    def _on_lock_still_on(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "yes" and not self.lock.locked:  # its tag is read before it counts
            self.will_open("locked_out", fact.step, "said to be on after an interruption")
            self.lock = replace(self.lock, locked_at=self.lock.locked_at or at)  # its crankcase cools from then on (S23)
            self.unlocked_at = None
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
            if step.id == self.step:
                self.given_ids.clear()

    def _anew(self, id_: str) -> None:
        """What was read or done for a repair that is still to come no longer holds, and is asked again before it."""
        opened = self.has("repaired") or "leak_repaired" in self.readings
        to_come = self.started_at is None and self.station != "close" and not self.finishing
        if id_ in self.readings and not opened and to_come:
            self.too_late.add(id_)
            del self.readings[id_]
            self._unanswered(lambda step: step.asking == id_)

    def _on_crankcase_heater(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value != "on":  # switched on again it has its time anew
            self.waited -= {step.id for step in self.steps.values() if step.wait_from == fact.id}

    def _on_other_lock_gone(self, fact: ReadingTaken, at: datetime) -> None:
        self.lock = replace(self.lock, others=False)
        theirs = self.locks_of_another()
        self.to_clear += [(id_, fact.step) for id_ in theirs]
        if "locked_out" in theirs:  # who had the call before took it off: whether the own one is on is asked
            self.lock = self.lock.off()
            self._ask_anew("lock_still_on")
        if "second_lock" in theirs:
            self._ask_anew("second_source_locked")
        if "fan_lock" in theirs:  # hands go near those fans only behind the own lock
            self._anew("fans_locked")

    def _on_others_clear(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value is False and (self.feed.window or not any(self.steps[i].asking == fact.id for i in self.answered)):
            self._ask_anew("others_clear")  # power off first; before anything that can start it

    def _on_second_source(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.confirmed == "volunteered":  # he opened it himself, and it was not found live
            self._ask_anew("second_source_locked")

    def _on_coil_seated(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "loose":  # it was put back before, and is off again
            self._unanswered(lambda step: "coil_back_on_stem" in step.establishes)

    def _on_running_now(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "running" and self.lock.locked and self.started_at is None:
            self.lock = self.lock.off()  # it runs with the lock on: that lock is not this machine's
            self._another_panel()
        self.tripped_again = self.tripped_again or (self.started_at is not None and fact.value in ("just tripped", "off"))

    def _ready_anew(self) -> None:
        """What was said to be ready before hands were in, it was repaired or locked again is said anew before the lock comes
        off (S21)."""
        if self.started_at is None and {"others_clear", "service_valves_open"} & set(self.readings):
            self._unanswered(lambda step: step.asking in ASKED_ANEW and step.part != "return")
            for id_ in ("others_clear", "service_valves_open"):
                self.readings.pop(id_, None)

    def _on_locked_out(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value is True and "lock_removed" in self.readings:  # a second time
            self._ready_anew()

    def _on_refrigerant_added(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value:  # with nothing added it is as it was
            self.charged_at.append(at)

    def _on_refrigerant_recovered(self, fact: ReadingTaken, at: datetime) -> None:
        self.full_again = self.full_again and fact.corrected

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
        if self.started_at is None and fact.value in ("feeding", "cold"):
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

    def _on_part_left_in_use(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.corrected and fact.value == "none":  # misspoken: what nobody left in is handed to nobody
            self.to_clear += [(id_, fact.step) for id_ in ("part_borrowed", "reset_substitute") if id_ in self.open]

    def _on_reset_device(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.corrected and fact.value == "intact" and self.value("part_left_in_use") != "substitute":
            self.to_clear += [("reset_substitute", fact.step)]

    def _on_leak_found(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.corrected and fact.value == "no" and not self.has("leaks_at_the_repair"):  # misspoken: nobody takes over no leak
            self.to_clear += [("leak_open", fact.step)]

    def _on_follow_up_owner(self, fact: ReadingTaken, at: datetime) -> None:
        step = self.steps.get(fact.step)
        if step and "locked" in step.hands_over and self.lock.locked:
            for id_ in self.open:
                # From outside a room that nobody may enter, locked and tagged stands for everything (S35).
                if self.procedure.obligations[id_].hand_over == "locked" or self.alarm:
                    self.to_hand_over.append((id_, str(fact.value), 0.0))
        if step and "owner" in step.hands_over and "follow_up_in_hours" in self.given_ids and not fact.corrected:
            self._to_owner(str(fact.value), self.value("follow_up_in_hours"))  # the hours were said first
        if step and fact.corrected:
            self._hand_over_anew(step, str(fact.value))

    def _on_follow_up_in_hours(self, fact: ReadingTaken, at: datetime) -> None:
        owner, step = self.value("follow_up_owner"), self.steps.get(fact.step)
        if step and "owner" in step.hands_over and owner is not None and isinstance(fact.value, (int, float)):
            self._to_owner(str(owner), fact.value)
            if fact.corrected:
                self._hand_over_anew(step, None, float(fact.value))

    def _to_owner(self, owner: str, hours: Value | None) -> None:
        if not isinstance(hours, (int, float)):
            return
        for id_ in self.open:
            rule = self.procedure.obligations[id_]
            if rule.hand_over == "owner" and (not rule.within_hours or hours <= rule.within_hours):
                self.to_hand_over.append((id_, owner, float(hours)))

    def _hand_over_anew(self, step: Step, owner: str | None, hours: float | None = None) -> None:
        """Who takes what was left, or in how many hours, is put right: it is handed over to whom, and until when, it is."""
        for id_, handed in self.handed_over.items():
            if self.procedure.obligations[id_].hand_over in step.hands_over:
                self.to_hand_over.append((id_, owner or handed.owner, handed.hours if hours is None else hours))

    def _on_chain_dead_check(self, fact: ReadingTaken, at: datetime) -> None:
        if fact.value == "two":
            self.ever_established.add("two_contacts_open")
        elif fact.value != "none" and fact.value not in self.contacts:
            self.contacts.append(str(fact.value))

    # ---- interruptions

    def _ask_anew(self, *what: str) -> None:
        self.due = tuple(d for d in DUE if d in what or d in self.due)

    def _hangs_at(self, tag: str, proof_begun: bool) -> None:
        """What was hooked up under the tag that is put right hangs in that one's panel: it comes out first, under its own proof.
        A tag that is put right once more before a proof was begun takes along what the one before took."""
        def taken_along(id_: str) -> bool:
            return id_ not in self.elsewhere or (not proof_begun and self.elsewhere[id_] == self.tag_read)

        own = self.compressor.tag if self.compressor else ""
        moved = [id_ for id_ in IN_A_PANEL if id_ in self.open and taken_along(id_) and (tag != own or id_ != "panel_cover")]
        kept = {id_: at for id_, at in self.elsewhere.items() if id_ not in moved and (at != self.tag_read or proof_begun)}
        self.elsewhere = kept | dict.fromkeys(moved, tag)

    def _another_panel(self) -> None:
        """The tag was another machine's: what was read, done and repaired under its lock was so at that machine."""
        if "lock_removed" in self.readings:
            self.acknowledged.discard("restart")  # it was said of the other's lock
        there = {step.id for step in self.steps.values() if step.station in _UNDER_THE_LOCK}
        reset = {step.id for step in self.steps.values() if step.resets and step.id in self.answered}
        self._drop({id_ for id_, taken in self.readings.items() if taken.step in there and id_ not in _OF_THE_LOCK}, there)
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
        self.given_ids -= dropped
        self.ahead = {one for one in self.ahead if one[1] not in dropped}
        for step in self.steps.values():
            if step.id in self.answered and (dropped & set(step.ids) or (step.tells and step.id in looks)):
                self.answered.pop(step.id)
                self.told.pop(step.id, None)
        self.order = [id_ for id_ in self.order if id_ in self.answered]
        if looks or dropped & _OF_THE_CONTACTS:
            self.contacts.clear()
            self.ever_established.discard("two_contacts_open")
        self.derived = {} if looks else {id_: one for id_, one in self.derived.items() if not dropped & set(one.source)}
