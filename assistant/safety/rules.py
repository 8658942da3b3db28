"""The safety rules, watched from outside: a monitor that reads only what a call records and asks.

It knows nothing of how the dialogue decides. Rule numbers are those of the comments beside them; each complaint
begins with its number.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from assistant.call.effects import Effect, Ended, Listen, Record, Wait
from assistant.call.facts import (
    CallResumed,
    CallSealed,
    CautionAcknowledged,
    EmergencyDeclared,
    Fact,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    PowerOffOrdered,
    ProofEnded,
    ReadingTaken,
    StepDone,
    StepSkipped,
)
from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.procedure import Step
from assistant.profile import FLAMMABLE, Rack, Site
from assistant.safety.branch_rules import CONTACT, broken, second_reset

_ORDER = ("panel_tag", "locked_out", "meter_proved_before", "dead_volts.power", "dead_volts.control",
          "dead_volts.drive", "meter_proved_after")  # fmt: skip


@dataclass(frozen=True)
class Watched:
    """What the monitor has seen of one call so far."""

    values: Mapping[str, object] = field(default_factory=dict)
    chain: tuple[str, ...] = ()
    """Readings of the proof made in order."""
    dead: bool = False
    powered: bool = True
    locked: bool = False
    lock_stayed: bool = False
    open: frozenset[str] = frozenset()
    live_acknowledged: frozenset[str] = frozenset()
    acknowledged: frozenset[str] = frozenset()
    budget_spent: bool = False
    blocked: bool = False
    stimulus: bool = False
    told: frozenset[str] = frozenset()
    """What looks have established."""
    resets: frozenset[str] = frozenset()
    """Steps at which a protection was reset."""
    panel_at: datetime = datetime.min
    """Last time something was said from the panel while it was dead."""
    complaints: tuple[str, ...] = ()

    def say(self, complaint: str) -> "Watched":
        return replace(self, complaints=(*self.complaints, complaint))


class Monitor:
    """The rules for one site and one set of steps."""

    def __init__(self, site: Site, steps: Mapping[str, Step]) -> None:
        self.site, self.steps = site, steps

    def watch(self, w: Watched, effects: Iterable[Effect], now: datetime | None = None) -> Watched:
        """What is seen after these effects, with every broken rule among the complaints.

        Args:
            w: what was seen before.
            effects: what the call did, in its order.
            now: when; without it the time of what is recorded.
        """
        ended = False
        for effect in effects:
            match effect:
                case Record(fact=fact, at=at):
                    w, now = self._fact(w, fact), now or at
                    if w.dead and isinstance(fact, ReadingTaken | StepDone):
                        w = replace(w, panel_at=at)
                case Listen(step=step):
                    w, ended = self._asked(w, step, now or w.panel_at), True
                case Wait() | Ended():
                    ended = True
                case _:
                    pass
        return w if ended else w.say("a way ends with nothing asked")

    # ---- facts

    def _fact(self, w: Watched, fact: Fact) -> Watched:
        match fact:
            case ReadingTaken():
                return self._reading(w, fact)
            case StepSkipped(step=id_):
                step = self.steps[id_]
                if step.required:
                    w = w.say(f"S36 required step '{id_}' was skipped")
                return w
            case StepDone(step="unblock_start"):
                return replace(w, blocked=False)
            case StepDone(step="reset"):
                return self._reset(w, "reset")
            case StepDone(step=id_, said=said) if self.steps[id_].tells:
                before = {f for facts in self.steps[id_].tells.values() for f in facts.split()}
                return replace(w, told=(w.told - before) | set(self.steps[id_].facts(said)))
            case CautionAcknowledged(caution=name):
                return replace(w, acknowledged=w.acknowledged | {name}, live_acknowledged=w.live_acknowledged | {name})
            case ObligationOpened(id=id_):
                return replace(w, open=w.open | {id_})
            case ObligationCleared(id=id_):
                if id_ == "start_blocked" and "jumper_fitted" in w.open:
                    w = w.say("S14 the start is freed with the stimulus in")
                return replace(w, open=w.open - {id_})
            case ObligationHandedOver(id=id_, hours=hours):
                return self._handed_over(w, id_, hours)
            case ProofEnded() | EmergencyDeclared():
                return replace(w, dead=False, chain=())
            case CallResumed():
                return replace(w, dead=False, chain=(), lock_stayed=False, live_acknowledged=frozenset())
            case PowerOffOrdered():
                return replace(w, budget_spent=True)
            case CallSealed() if w.open:
                return w.say(f"S37 sealed with {', '.join(sorted(w.open))} open")
        return w

    def _handed_over(self, w: Watched, id_: str, hours: float) -> Watched:
        rule = OBLIGATIONS[id_]
        if rule.hand_over == "never":
            w = w.say(f"S37 '{id_}' was handed over")
        if rule.hand_over == "locked" and not w.locked:
            w = w.say(f"S37 '{id_}' was handed over with the machine not locked out")
        if rule.within_hours and hours > rule.within_hours:
            w = w.say(f"S37 '{id_}' was handed over for {hours} hours")
        return replace(w, open=w.open - {id_})

    def _reset(self, w: Watched, step: str) -> Watched:
        again = second_reset(w, step)
        w = replace(w, resets=w.resets | {step})
        return w.say("S22 a second reset") if again else w

    def _reading(self, w: Watched, fact: ReadingTaken) -> Watched:
        if fact.id in ("rack", "compressor") and (w.locked or w.chain) and fact.value != w.values.get(fact.id):
            w = w.say("S2 tag, lock and proof of one machine stand for another")
        w = replace(w, values={**w.values, fact.id: fact.value})
        if fact.id in _ORDER:
            w = self._proof(w, fact)
        if fact.id == "chain_dead_check" and fact.value not in ("two", "none"):
            w = replace(w, told=w.told | {f"{CONTACT}{fact.value}"})
        if fact.step in ("pressure_reset", "motor_reset") and not fact.corrected:
            w = self._reset(w, fact.step)
        if fact.id == "control_power_on":
            w = replace(w, powered=True, dead=False, chain=())
        elif fact.id == "control_power_off":
            chain = _ORDER[:2] if w.lock_stayed else ()
            w = replace(w, powered=False, dead=False, chain=chain, live_acknowledged=frozenset())
        elif fact.id == "lock_removed":
            w = replace(w, locked=False, lock_stayed=False, dead=False, chain=(), powered=True)
        elif fact.id == "start_prevented":
            w = replace(w, blocked=fact.value is True)
        elif fact.id == "jumper_fitted":
            w = replace(w, stimulus=fact.value is True)
        elif fact.id == "jumper_removed":
            w = replace(w, stimulus=False)
        return w

    def _proof(self, w: Watched, fact: ReadingTaken) -> Watched:
        if fact.id == "panel_tag":
            tags = {c.tag for r in self.site.racks for c in r.compressors if r.id == w.values.get("rack")
                    and c.id == w.values.get("compressor")}  # fmt: skip
            if fact.corrected and fact.value in tags:
                return w
            return replace(w, dead=False, chain=("panel_tag",) if fact.value in tags else ())
        number = fact.value if isinstance(fact.value, (int, float)) and not isinstance(fact.value, bool) else None
        good = number is not None and number <= 3 if fact.id.startswith("dead_volts.") else fact.value is True
        if fact.corrected:
            return w if good else replace(w, dead=False, chain=())
        needed = self._needed(w)
        in_order = needed[: len(w.chain) + 1] == (*w.chain, fact.id)
        if fact.id == "locked_out" and good and in_order:
            w = replace(w, locked=True, lock_stayed=True)
        if not good or not in_order:
            return replace(w, dead=False)
        chain = (*w.chain, fact.id)
        whole = chain == needed and w.locked
        return replace(w, chain=chain, dead=whole, powered=w.powered and not whole)

    def _needed(self, w: Watched) -> tuple[str, ...]:
        rack = self._rack(w)
        drive = rack is None or rack.panel.drive or rack.panel.capacitors
        return tuple(i for i in _ORDER if drive or i != "dead_volts.drive")

    # ---- what is asked

    def _asked(self, w: Watched, name: str, now: datetime) -> Watched:
        step = self.steps.get(name)
        if step is None:
            return w
        for caution in step.cautions:
            if not caution.endswith("?") and caution not in w.acknowledged:
                w = w.say(f"S36 '{name}' is asked without the caution '{caution}'")
        if step.act == "hands_in" and not w.dead:
            w = w.say(f"S1 '{name}' is reached and the panel is not proved dead")
        if step.act == "hands_in" and w.dead and now - w.panel_at > timedelta(minutes=self.site.dead_minutes):
            w = w.say(f"S4 '{name}' on a proof that nobody was near for {self.site.dead_minutes:g} minutes")
        if step.act in ("live", "power_on"):
            w = self._live(w, name)
        if step.act == "power_on":
            w = self._energise(w, name)
        if step.asking == "injection_after" and (w.powered or not w.locked):
            w = w.say("S19 the line is judged with power on")
        if step.act in ("unlock", "start"):
            w = self._start(w, step)
        rack = self._rack(w)
        if rack:
            w = self._of_this_rack(w, step, rack)
        held = frozenset(c.name for c in rack.panel.contacts if c.kind == "held") if rack else frozenset()
        for complaint in broken(w, step, held):
            w = w.say(complaint)
        if step.asking == "refrigerant_added" and "hose_on" in step.opens:
            if rack is None or w.values.get("refrigerant_label") != rack.refrigerant or not w.values.get("cylinder_checked"):
                w = w.say("S34 a charge is asked for and label and cylinder do not agree")
        return w

    def _rack(self, w: Watched) -> Rack | None:
        return next((r for r in self.site.racks if r.id == w.values.get("rack")), None)

    def _of_this_rack(self, w: Watched, step: Step, rack: Rack) -> Watched:
        """What the profile of this rack forbids or wants said."""
        applies = {"probe_in_gas": rack.probe.mount == "in_gas", "flammable": rack.refrigerant in FLAMMABLE,
                   "carbon_dioxide": rack.refrigerant == "R744"}  # fmt: skip
        for caution in (c.rstrip("?") for c in step.cautions if c.endswith("?")):
            if applies.get(caution) and caution not in w.acknowledged:
                w = w.say(f"S36 '{step.id}' is asked without the caution '{caution}'")
        if step.act in ("live", "power_on") and applies["flammable"] and w.values.get("detector_state") != "quiet":
            w = w.say(f"S9 '{step.id}' with a flammable refrigerant and the detector not quiet")
        if "jumper_fitted" in step.opens and not rack.probe.feed_test_possible:
            w = w.say(f"S13 '{step.id}' and the test plug does not suit the probe")
        if step.asking == "probe_cleaned" and rack.probe.mount == "in_gas":
            w = w.say(f"S28 '{step.id}' takes a probe out that is in the gas")
        return w

    def _live(self, w: Watched, name: str) -> Watched:
        if not {"live", "live_place"} <= w.live_acknowledged:
            w = w.say(f"S8 '{name}' without the live cautions since the latest power-on")
        if "live_or_dead" not in w.values:
            w = w.say(f"S8 '{name}' and dead was never offered")
        if w.values.get("clothing_meets_label") is not True or w.values.get("ladder_kind") in (None, "metal"):
            w = w.say(f"S8 '{name}' without label and ladder")
        if w.values.get("detector_state") == "alarm" or "leak_open" in w.open:
            w = w.say(f"S9 '{name}' with a leak or an alarm")
        return w

    def _energise(self, w: Watched, name: str) -> Watched:
        if ("jumper_fitted" in w.open or w.stimulus) and not ("start_blocked" in w.open and w.blocked):
            w = w.say(f"S12 '{name}' with the stimulus in and the start not blocked")
        if w.stimulus and w.budget_spent:
            w = w.say(f"S15 '{name}' with the budget spent")
        if w.values.get("coil_seated") == "loose" or "terminal_cover" in w.open:
            w = w.say(f"S17 '{name}' with a coil off its stem or a terminal cover off")
        return w

    def _start(self, w: Watched, step: Step) -> Watched:
        way = {"valve_closed.suction"} if step.act == "start" else {"locked_out"}
        blocking = sorted(o for o in w.open if OBLIGATIONS[o].blocks_start and o not in way)
        if blocking:
            w = w.say(f"S20 '{step.id}' with {', '.join(blocking)} open")
        for id_ in ("service_valves_open", "others_clear"):
            if w.values.get(id_) is not True:
                w = w.say(f"S21 '{step.id}' without {id_}")
        if w.stimulus or w.blocked:
            w = w.say(f"S14 '{step.id}' with the stimulus in or the start blocked")
        if "panel_cover" in w.open:
            w = w.say(f"S21 '{step.id}' with the cover off")
        return w
