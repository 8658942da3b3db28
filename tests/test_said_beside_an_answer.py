"""What is said beside an answer, or how firmly it is said: nothing that makes it unsafe is lost over a word that answers."""

import pytest

from assistant.call.effects import Listen
from assistant.fronts.pipe import ask_message
from assistant.language.grammar import commas_apart
from assistant.language.meaning import Answer, Command
from assistant.language.pieces import understand_in_pieces
from tests.branch_rack import FAULTS, BranchRack
from tests.language.test_said_at_steps import meant, question
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def at(fault: str, step: str) -> tuple[Rack, Talk]:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return rack, (Talk(site_of(fault)) if fault in FAULTS else Talk()).until(rack, step)


@pytest.mark.parametrize(("said", "asked"), [
    ("discharge and there's water on the floor", "tag"), ("discharge and my glove's torn", "tag"),
    ("discharge, the power's back on", "tag"), ("discharge and i'm dizzy", "anew_room_safe"),
    ("discharge and somebody's in the panel", "anew_clear"), ("discharge but the meter's dead", "tag"),
])  # fmt: skip
def test_what_is_said_against_hands_in_is_not_lost_beside_the_contact_that_is_open(said: str, asked: str):
    _, talk = at("injection_coil_failed", "which_contact")
    talk.hear(said)
    assert talk.asked.split(":")[0].split("/")[0] == asked
    assert "chain_dead_check" not in talk.readings


def test_a_fuse_is_not_blown_by_a_meter_that_is_dead():
    _, talk = at("injection_coil_failed", "output_fuse")
    talk.hear("good and the meter's dead")
    assert not talk.dialogue.state.lock.dead
    assert "module_output_fuse" not in talk.readings


@pytest.mark.parametrize("beside", ["my glove's torn", "there's water on the floor", "the leads fell off", "i'm dizzy"])
def test_in_the_live_window_the_power_goes_off_whatever_else_was_answered(beside: str):
    _, talk = at("module_no_output", "run_signal")
    talk.hear(f"run signal and {beside}")
    assert talk.said.startswith("Power off.")
    assert "module_enabled" not in talk.readings


def test_what_hisses_beside_a_line_that_has_stopped_is_asked_about():
    _, talk = at("module_no_output", "feed_after")
    talk.hear("stopped and something's hissing")
    assert talk.said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize(("step", "said"), [
    ("glass", "full no defrost and the store's packed"), ("which_contact", "discharge, the others beep"),
    ("output_fuse", "good and it beeps"),
])  # fmt: skip
def test_what_is_told_beside_an_answer_and_changes_nothing_leaves_it_one(step: str, said: str):
    _, talk = at("injection_coil_failed", step)
    talk.hear(said)
    assert not talk.asked.startswith(step)


@pytest.mark.parametrize("said", ["i just hung the tag", "only tagged it", "the tag's hung"])
def test_a_tag_locks_nothing(said: str):
    _, talk = at("injection_coil_failed", "lock")
    talk.hear(said)
    assert "locked_out" not in talk.open
    talk.hear("no" if talk.asked.endswith("confirm") else "locked and tagged")
    talk.hear("locked and tagged") if talk.asked == "lock:locked_out" else None
    assert "locked_out" in talk.open


@pytest.mark.parametrize(("step", "said"), [
    ("valves", "open more or less"), ("covers", "on more or less"), ("clear", "clear as far as i can tell"),
    ("unlock", "off more or less"), ("valves", "they look open"),
])  # fmt: skip
def test_what_is_only_more_or_less_so_is_asked_back(step: str, said: str):
    _, talk = at("injection_coil_failed", step)
    talk.hear(said)
    assert talk.asked.endswith(":confirm")


@pytest.mark.parametrize("said", ["they know to stay clear", "everybody's gonna be clear"])
def test_who_knows_to_stay_clear_is_not_clear_by_that(said: str):
    _, talk = at("injection_coil_failed", "clear")
    talk.hear(said)
    assert talk.readings.get("others_clear") is not True


def test_what_is_gonna_be_repaired_is_not_repaired():
    _, talk = at("injection_coil_failed", "repaired")
    talk.hear("it's gonna be repaired")
    assert talk.asked.startswith("repaired")


@pytest.mark.parametrize("said", ["it's off but kim's is still on", "mine's off, kim's is still there"])
def test_a_lock_that_is_named_by_its_owner_alone_stops_the_start(said: str):
    _, talk = at("injection_coil_failed", "unlock")
    talk.hear(said)
    assert talk.said.startswith("Stop. Another person's lock stays on.")


@pytest.mark.parametrize("said", ["not mine it's robin's", "yes robin's is on", "yes but it's not mine", "his is on",
                                  "mine and his are on", "there's two on it now"])  # fmt: skip
def test_whoever_takes_a_call_up_stops_at_a_lock_that_is_not_his(said: str):
    _, talk = at("injection_coil_failed", "coil")
    talk.kill(36_000).hear(said)
    assert talk.said.startswith("Stop. Another person's lock stays on.")
    assert talk.asked.endswith(":other_lock_gone")


def test_his_own_lock_named_as_his_goes_on():
    _, talk = at("injection_coil_failed", "coil")
    talk.kill(36_000).hear("yes mine's on")
    assert talk.readings["lock_still_on"] == "yes"


@pytest.mark.parametrize("step", ["watch_second", "consent"])
@pytest.mark.parametrize("said", ["it tripped in the night", "it's been off since midnight", "it was off when i got here"])
def test_a_trip_while_nobody_was_there_is_the_second_one(said: str, step: str):
    _, talk = at("injection_coil_failed", step)
    talk.hear(said)
    assert "No more resets" in talk.said
    assert talk.readings["running_now"] == "just tripped"


@pytest.mark.parametrize("said", ["kim put his hand in", "kim's got his arm in the panel",
                                  "kim just plugged the jumper back in"])  # fmt: skip
def test_a_hand_that_goes_into_the_live_panel_ends_the_window(said: str):
    _, talk = at("module_no_output", "feed")
    talk.hear(said)
    assert "ower off" in talk.said.split(" | ")[0]
    assert talk.asked.startswith("power_off")


@pytest.mark.parametrize(("said", "then"), [
    ("my ladder's aluminum", "No live work from a metal ladder."),
    ("i'm up on a metal step", "No live work from a metal ladder."),
    ("it's raining on me", "Out of the water."), ("my hands are sweaty wet", "Out of the water."),
    ("i'm barefoot", "Sound gloves and shield first."),
    ("the label says forty calories", "Not understood. Is something not safe?"),
])  # fmt: skip
def test_what_is_not_as_the_live_caution_asks_lets_no_power_on(said: str, then: str):
    rack, talk = at("module_no_output", "clip_leads")
    while talk.asked != "power_on/live+live_place:command":
        last = talk.effects[-1]
        assert isinstance(last, Listen)
        talk.hear(rack.answer(ask_message(last)))
    talk.hear(said)
    assert talk.said.startswith(then)
    assert not talk.dialogue.state.feed.window


@pytest.mark.parametrize("said", ["no machine here", "no recovery machine", "the drum's full"])
def test_what_could_not_be_recovered_is_no_zero(said: str):
    _, talk = at("suction filter", "recover")
    talk.hear(said)
    assert "refrigerant_recovered" not in talk.readings


@pytest.mark.parametrize("said", ["holds mostly", "tight i think", "pretty much tight"])
def test_what_holds_mostly_is_not_tight(said: str):
    _, talk = at("suction filter", "tight")
    talk.hear(said)
    assert talk.asked.startswith("tight:")


def test_pounds_of_the_old_stuff_are_asked_about():
    _, talk = at("refrigerant_low", "charge")
    talk.hear("forty pounds of the old stuff")
    assert "refrigerant_added" not in talk.readings


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("winding grounded", "insulation", "point two with the drive connected"), ("line fuse open", "line_fuses", "good by eye"),
    ("oil low", "oil_fill", "a quart of the store's motor oil"),
])  # fmt: skip
def test_a_reading_that_was_not_got_as_it_must_be_is_asked_about(fault: str, step: str, said: str):
    _, talk = at(fault, step)
    talk.hear(said)
    assert talk.asked == f"{step}:confirm"


@pytest.mark.parametrize("said", ["this is sam, i'm taking over", "sam here now", "this is sam speaking"])
def test_who_takes_over_in_the_middle_stops_at_the_lock_that_is_on(said: str):
    _, talk = at("injection_coil_failed", "coil")
    talk.hear(said)
    assert talk.said.startswith("Stop. Another person's lock stays on.")
    assert not talk.dialogue.state.lock.dead


def test_where_no_lock_is_on_who_takes_over_is_told_how():
    _, talk = at("injection_coil_failed", "rack_suction")
    talk.hear("this is sam, i'm taking over")
    assert talk.asked == "rack_suction:rack_suction_pressure"
    assert "in their own name" in talk.said


def test_a_coil_that_was_another_one_is_measured_anew_before_anything_is_made_ready():
    rack, talk = at("injection_coil_failed", "valves")
    talk.hear("i measured the wrong coil")
    assert talk.asked == "coil:injection_coil_ohms"
    assert talk.dialogue.state.lock.dead
    talk.to_the_seal(rack)
    assert talk.broken() == ()


def test_a_valve_that_is_half_open_is_no_pressure():
    _, talk = at("injection_coil_failed", "valves")
    talk.hear("discharge is half")
    assert talk.readings["rack_discharge_pressure"] == 210.0
    assert talk.said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize("step", ["watch_second", "consent"])
def test_the_store_hears_of_a_room_that_is_not_safe_whatever_it_was_told_before(step: str):
    _, talk = at("injection_coil_failed", step)
    talk.hear("the relief just let go")
    assert "Tell the store: the machine room is not safe" in talk.said
    assert talk.asked.endswith(":store_told")


@pytest.mark.parametrize(("said", "shut"), [
    ("i closed the discharge", "valve_closed.discharge"), ("the condenser valve is shut", "valve_closed.discharge"),
    ("the suction valve's closed", "valve_closed.suction"),
])  # fmt: skip
@pytest.mark.parametrize("step", ["rack_suction", "coil"])
def test_a_valve_that_is_shut_as_found_is_opened_before_the_start(step: str, said: str, shut: str):
    rack, talk = at("injection_coil_failed", step)
    talk.hear(said)
    assert shut in talk.open
    talk.to_the_seal(rack)
    assert shut not in talk.open
    assert talk.broken() == ()


def test_a_contact_that_is_closed_is_no_valve():
    _, talk = at("injection_coil_failed", "which_contact")
    talk.hear("discharge is closed")
    assert not {"valve_closed.discharge"} & talk.open


@pytest.mark.parametrize(("said", "then"), [
    ("the detector light is out", "Stay out."), ("the fan in here's off", "No fan, no entry."),
    ("somebody's already got it locked out", "Stop. Another person's lock stays on."),
    ("the contactor's taped in", "Then no start. First the bypass out."),
    ("it's been running on bypass for a month", "Then no start. First the bypass out."),
    ("there's a jumper in the panel", "Then no start. First the bypass out."),
    ("there's a wire hanging out of the panel", "Then no start. First the wire back on."),
    ("i smell something sweet", "Not understood. Is something not safe?"),
    ("it's raining in", "Not understood. Is something not safe?"),
    ("the relief is weeping", "Not understood. Is something not safe?"),
])  # fmt: skip
def test_what_is_not_safe_is_heard_at_the_front_already(said: str, then: str):
    _, talk = at("injection_coil_failed", "rack_suction")
    talk.hear(said)
    assert talk.said.startswith(then)


@pytest.mark.parametrize("said", [
    "open line, module light came on", "four ten, there's a lamp lit in here", "display just came on", "the panel lit up",
    "open line, the module's humming", "i see a light on in here",
])  # fmt: skip
def test_what_comes_alive_in_a_panel_that_is_proved_dead_has_the_hands_out(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "coil").hear(said)
    assert talk.said.startswith("Then it is live. Hands out.")
    assert not talk.dialogue.state.lock.dead
    assert "injection_coil_ohms" not in talk.readings


@pytest.mark.parametrize("said", ["open line, my light's on it", "four ten, no lamp is lit", "open line, i had my head lamp on"])
def test_a_light_of_ones_own_is_no_other_source(said: str):
    assert Talk().until(Rack("injection_coil_failed"), "coil").hear(said).dialogue.state.lock.dead


@pytest.mark.parametrize("said", [
    "starved, there is oil on the floor, a fitting is leaking on the oil line", "starved, the flare's leaking",
    "starved, i found a leak",
])  # fmt: skip
def test_a_leak_told_beside_an_answer_is_not_lost_over_it(said: str):
    talk = Talk().until(BranchRack("oil feed starved"), "oil_feed").hear(said)
    assert (talk.readings["oil_supply"], talk.readings["leak_found"]) == ("starved", "yes")
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "starved, no leaks anywhere", "starved, the joint was leaking last week", "starved, there's a water leak from the roof",
])  # fmt: skip
def test_no_leak_is_none(said: str):
    talk = Talk().until(BranchRack("oil feed starved"), "oil_feed").hear(said)
    assert "leak_found" not in talk.readings


@pytest.mark.parametrize("said", [
    "done, they're still on", "they're still on, done", "done it's on", "done, it's still there but loose",
    "done, fixed it with zip ties", "done, i shorted something",
])  # fmt: skip
def test_leads_are_not_off_by_a_done_beside_which_they_stand_otherwise(said: str):
    meant_so = understand_in_pieces(question("leads_off"), commas_apart(said))
    assert not isinstance(meant_so, Answer)
    assert not (isinstance(meant_so, Command) and meant_so.name == "continue")


def test_a_cap_that_is_on_is_no_hose_that_is():
    assert meant("gauges_off", "done, gauges and hoses off, caps back on") == "go"


@pytest.mark.parametrize(("step", "said"), [("gauges_off", "gauges off, hoses on"), ("leads_off", "one's off, done")])
def test_what_is_off_in_part_is_not_off(step: str, said: str):
    assert meant(step, said) == "refused"
