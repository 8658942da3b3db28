"""Which step comes next, looked up from what is true in a call; nothing is changed here."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from assistant.call.branches import circuit_tested, coil_off, rotation_in_question, supply_branch, wait_over_trip
from assistant.call.findings import FREE, holds
from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.procedure import Step
from assistant.call.state import State
from assistant.call.verdicts import live_refused, standing


class Course:
    """The steps in their order: the run, and what is put before a step of it."""

    def __init__(self, steps: tuple[Step, ...]) -> None:
        self.run = [s for s in steps if not s.proof and not s.gate]
        self.proof = {s.asking: s for s in steps if s.proof}
        self.gates = [s for s in steps if s.gate]

    def next_step(self, s: State) -> Step:
        """What is asked next, with the proof and the gates of live work where the step needs them."""
        return self._before(self._target(s), s)

    def index(self, step_id: str, s: State) -> int:
        """Place of a step in the run; a step of the proof or a gate leaves the place where it was."""
        return next((i for i, step in enumerate(self.run) if step.id == step_id), s.position)

    def applies(self, step: Step, s: State) -> bool:
        """Whether a step of the run may be asked now."""
        begun = step.id == s.step and bool(s.given_ids)  # what its first answer has changed does not end it
        names = [n for n in step.when if n.lstrip("!") not in FREE] if begun else step.when
        return not self.no_live(step, s) and all(holds(s, name) for name in names)

    def no_live(self, step: Step, s: State) -> bool:
        """It is a live step, and there is no live work on this call or no second left for it, or nothing may be powered."""
        if step.act not in ("live", "power_on"):
            return False
        held = s.start_is_blocked or not (s.jumper_is_in or "jumper_fitted" in s.open)
        may_power = s.locked and held and circuit_tested(s) and not coil_off(s)
        spent = s.over_budget or (step.act == "power_on" and not may_power)
        return bool(live_refused(s)) or spent

    def _ahead(self, s: State) -> Iterable[Step]:
        """Steps of the run that may come next: not passed, not answered, and safe if closing early."""
        for step in self.run[max(s.position, 0) :]:
            if step.id not in s.answered and (step.safe or not s.finishing):
                yield step

    def _target(self, s: State) -> Step:
        step = next((c for c in self._ahead(s) if self.applies(c, s)), None)
        if step is None or step.id == "consent":
            left = self._still_to_clear(s)
            if left:
                return left
        return step or s.steps["consent"]

    def _still_to_clear(self, s: State) -> Step | None:
        """The step that deals with the most dangerous thing still open."""
        for id_, rule in OBLIGATIONS.items():
            if id_ not in s.open:
                continue
            step = next((c for c in self.run if id_ in c.clears), None)
            if step and not (rule.hand_over == "locked" and s.locked):
                return step
            name = "leave_locked" if rule.hand_over == "locked" else "hand_over"
            if id_ != "panel_cover" and rule.hand_over != "never":
                return s.steps[name]
            if step:
                return step
        return None

    def _before(self, step: Step, s: State) -> Step:
        """The step itself, or what must be done before it."""
        to_prove = step.act == "hands_in" or ("power_off" in step.needs and (s.powered or not s.locked))
        # What the live window found is repaired in the same panel: it was powered since it was proved.
        to_prove = to_prove or ("dead_after_window" in step.needs and _panel_was_fed(s))
        if to_prove and not s.dead:
            return self.proof[s.proof_needed()[len(s.proof)]]
        if "locked" in step.needs and (s.lock_unsure or not s.locked):
            return self.proof["locked_out" if s.proof[:1] == ("panel_tag",) else "panel_tag"]
        if step.act in ("live", "power_on"):
            gate = next((g for g in self.gates if g.id not in s.answered), None)
            if gate:
                return gate
        return step

    def last_plain(self, s: State) -> Step | None:
        """The last step answered that may be asked again: a question, with no change of power or lock since, and
        nothing opened since: a step opens as soon as it is asked."""
        if s.step and s.steps[s.step].opens and s.step not in s.answered:
            return None
        for id_ in reversed(s.order):
            step = s.steps[id_]
            if step.act in ("power_on", "power_off", "unlock", "start") or step.opens or step.clears or step.hands_over:
                return None
            near = step.phase == s.phase or {step.phase, s.phase} <= {"front", "machine"}
            if not near or (s.finishing and not step.safe):
                return None
            if (step.asking != "command" or step.tells) and not step.proof and not step.gate and step.act != "live":
                return step
        return None


def _panel_was_fed(s: State) -> bool:
    """Control power came back in this panel, which is still open and locked, to find what keeps the starter out."""
    return supply_branch(s) and "control_power_off" in s.readings and "panel_cover" in s.open and s.locked


def caution_wanted(step: Step, s: State) -> str | None:
    """The caution that must still be spoken and acknowledged before this step."""
    return next((name for name in cautions_of(step, s) if name not in s.acknowledged), None)


def cautions_of(step: Step, s: State) -> list[str]:
    """The cautions that belong to a step on this machine, in their order."""
    names = [*step.cautions]
    if step.act == "live" or step.act == "power_on":
        names = ["live", "live_place", *names] if not s.power_on_at else []
    rack = s.rack
    applies = {
        "probe_in_gas": rack is None or rack.probe.mount == "in_gas",
        "flammable": rack is None or rack.flammable,
        "carbon_dioxide": rack is None or rack.refrigerant == "R744",
        "rotation": rotation_in_question(s),
        "acid": standing(s, "winding_failed") or standing(s, "winding_grounded"),
        "terminals": standing(s, "winding_grounded"),
    }
    return [name.rstrip("?") for name in names if not name.endswith("?") or applies[name.rstrip("?")]]


def wait_until(step: Step, s: State, now: datetime) -> datetime | None:
    """When the step may be asked; None when it may be asked at once."""
    if step.watch_round and s.started_at:
        minutes = s.site.watch_minutes
        return s.started_at + timedelta(minutes=minutes[min(step.watch_round, len(minutes)) - 1])
    if step.wait_minutes_after_power_off and s.power_off_at:
        return s.power_off_at + timedelta(minutes=step.wait_minutes_after_power_off)
    if step.wait_minutes_after_start and s.started_at:
        return s.started_at + timedelta(minutes=step.wait_minutes_after_start)
    if step.wait_minutes_after_trip:
        return wait_over_trip(s, step.wait_minutes_after_trip)
    if step.wait_minutes:
        since = s.taken_at.get("crankcase_heater", now)
        return since + timedelta(minutes=step.wait_minutes)
    return None
