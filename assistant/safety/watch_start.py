"""Watches resets, starts and what may not run on: rules S20 to S24."""

from assistant.safety.tables import BEFORE_RESET, HEATER_MINUTES, LOCKED_LONG_MINUTES, OBLIGATIONS
from assistant.safety.turn import Line, Turn, names
from assistant.safety.words import AGREES, TRIPPED, TRIPPED_ON


def nothing_hooked_up(t: Turn) -> None:
    """S20: nothing that blocks a start is open, nor left to somebody else."""
    if not t.lets_run:
        return
    way = {"locked_out"} if t.unlock else {"valve_closed.suction"}
    blocking = sorted(o for o in t.w.open if o in OBLIGATIONS and OBLIGATIONS[o].blocks and o not in way)
    t.keeps("S20", not blocking, f"'{t.step}' is asked with {', '.join(blocking)} open")
    owed = ", ".join(sorted(t.w.owed - way))
    t.keeps("S20", not owed, f"'{t.step}' is asked, and an earlier call left here: {owed}")
    said = ", ".join(sorted(t.w.unready))
    t.keeps("S20", not said, f"'{t.step}' is asked, and it was said against it: {said}")
    t.keeps("S20", not t.w.doubted, f"'{t.step}' is asked while it is not settled whether {', '.join(sorted(t.w.doubted))}")
    t.keeps("S31", not t.w.untested, f"'{t.step}' is asked, and what was opened for a repair is not proved tight")
    frosted = t.w.value("crankcase_and_heads") in ("cold", "frosted")
    foaming = t.w.liquid_was and t.w.value("oil_level") in ("high", "foaming")
    t.keeps("S20", not (frosted or foaming), f"'{t.step}' is asked and the machine was read to hold liquid")
    left = sorted(o for o in t.w.handed_over if o in OBLIGATIONS and OBLIGATIONS[o].blocks)
    t.keeps("S20", not left, f"'{t.step}' is asked with {', '.join(left)} left to somebody")


def before_the_lock_comes_off(t: Turn) -> None:
    """S21: valves, covers, everybody clear, one answer each, since hands were last in."""
    three = {"service_valves_open", "covers_on", "others_clear"}
    if len(t.ids & three) > 1:
        t.keeps("S21", False, f"'{t.step}' asks for {' and '.join(sorted(t.ids & three))} in one answer")
    if not t.unlock:
        return
    w = t.w
    wanted = three - (set() if w.covers_due else {"covers_on"})
    missing = ", ".join(sorted(wanted - w.ready))
    t.keeps("S21", not missing, f"'{t.step}' is asked without {missing}")
    t.keeps("S21", "valve_closed.discharge" not in w.open, f"'{t.step}' is asked with a discharge-side valve closed")


def one_reset(t: Turn) -> None:
    """S22: one reset a protection, after its readings, and none after a second trip."""
    w = t.w
    if not (t.reset or ("overload_state" in t.ids and "reset" in t.acts)):
        if t.start and "start" in t.acts:
            t.keeps("S22", not w.second_trip, f"'{t.step}' starts it again after a second trip")
        return
    t.keeps("S22", not w.second_trip, f"'{t.step}' resets after a second trip")
    contacts = _of_this_reset(t)
    again = bool(w.resets) and (w.resets & {"*"} or (bool(contacts) and contacts <= w.resets) or not contacts)
    t.keeps("S22", not again, f"'{t.step}' is a second reset")
    closed = {"oil"} if "oil_control_not_tripped" in w.told else set()
    missing = sorted(i for c in contacts - closed for i in BEFORE_RESET.get(c, ()) if i not in w.values)
    t.keeps("S22", not missing, f"'{t.step}' resets before {', '.join(missing)}")


def _of_this_reset(t: Turn) -> frozenset[str]:
    """The protections that this reset is for: those its id names, else all that were found open."""
    if "control_reset" in t.ids:
        pressure = frozenset({"high pressure", "low pressure"})
        said = frozenset(p for p in pressure if p in t.words.lower())
        return said or pressure & t.w.contacts or pressure
    if "overload_state" in t.ids:
        return frozenset({"motor"})
    if "one reset of the discharge protection" in t.words.lower():
        return frozenset({"discharge"})
    return t.w.contacts


def second_reset_recorded(t: Turn, line: Line) -> None:
    """S22, by the record: the contacts that a line says were reset."""
    resets = names(line, "resets")
    again = sorted(resets & t.w.resets)
    if resets:
        t.keeps("S22", not again and "*" not in t.w.resets, f"a second reset of {', '.join(again)}")


def heater(t: Turn) -> None:
    """S23: an hour or more locked out: crankcase heater asked and its time waited."""
    w = t.w
    w.locked_long = w.locked_long or (w.locked and t.minutes_since(w.locked_at) >= LOCKED_LONG_MINUTES)
    if not (t.lets_run and w.locked_long):
        return
    said = w.value("crankcase_heater")
    waited = w.heater_on_at is not None and t.minutes_since(w.heater_on_at) >= HEATER_MINUTES
    good = said == "none" or waited
    t.keeps("S23", good, f"'{t.step}' is asked after an hour locked out and the crankcase heater was not on for its time")


def over_its_trip(t: Turn) -> None:
    """S24: a running machine at or over its trip, or that must not run, is stopped before anything else is asked."""
    if t.w.running and (t.w.over_trip or t.w.not_to_run) and not (t.w.safe_first or t.w.stay_out):  # people and room come first
        t.keeps("S24", "stop" in t.acts, f"'{t.step}' is asked and the machine runs at or over its trip, or must not run")


def open_terminals(t: Turn) -> None:
    """S17: what was started and runs with its terminal cover off is stopped before anything else is asked."""
    w = t.w
    if w.running and w.started and "terminal_cover" in w.open and not (w.safe_first or w.stay_out):
        t.keeps("S17", "stop" in t.acts, f"'{t.step}' is asked and it runs with the terminal cover off")


def sealed_running(t: Turn, line: Line) -> None:
    """S24: no call closes with a machine that runs over its trip, that must not run, or on a bypassed protection."""
    w = t.w
    bypassed = {"jumper_fitted", "wire_lifted", "start_blocked"} & w.open
    if w.running and (w.over_trip or w.not_to_run or bypassed):
        t.keeps("S24", False, "sealed with the machine running over its trip, on a bypass, or though it must not")


def tripped_said(t: Turn) -> None:
    """S22: a machine that was started here, and is said to have tripped, does not go on counting as one that runs.

    Heard and not sure, that is asked back at once and counts by the yes to it.
    """
    w = t.w
    read_back = [said.lower() for purpose, said in t.said if purpose == "readback"]
    in_doubt = t.asking == "confirm" and any("tripped. correct?" in said for said in read_back)
    agreed = w.trip_in_doubt and AGREES.match(t.heard)
    tripped = (TRIPPED.search(t.heard) or agreed) and not set(w.ids) & {"note", "part_to_order", "part_used"}
    if w.started and tripped:
        t.keeps("S22", in_doubt or not w.running, f"'{t.heard}' was said and the machine still counts as running")
    if w.start_asked and TRIPPED_ON.search(t.heard):
        t.keeps("S22", "start" not in t.acts and t.asking != "confirm", f"'{t.heard}' was said and the start is asked on")
    w.start_asked = "start" in t.acts
    w.trip_in_doubt = in_doubt


ASKED = (nothing_hooked_up, before_the_lock_comes_off, one_reset, heater, over_its_trip, open_terminals)
RECORDED = {
    "call_sealed": (sealed_running,), "step_done": (second_reset_recorded,), "reading_taken": (second_reset_recorded,),
}  # fmt: skip
ENDED = (tripped_said,)
