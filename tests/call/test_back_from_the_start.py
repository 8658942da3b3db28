"""What is said or put right at the start, or behind it, takes the call back: to the lock, to what clears it, to all that was made
ready. The project's own calls."""

import pytest

from assistant.call.permits import live_refused
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk


def asked_until(talk: Talk, rack: Rack, step: str) -> list[str]:
    """The steps that are asked on the way to one, in their order."""
    asked = []
    while not talk.dialogue.state.sealed and talk.asked.split(":")[0] != step:
        asked.append(talk.asked.split(":")[0])
        talk.hear(talk.words_of(rack))
    return asked


@pytest.mark.parametrize("step", ["liquid_heater", "valves", "covers", "clear", "unlock", "first_start_valve", "start"])
def test_a_hand_valve_put_right_to_closed_after_a_feed_has_both_looked_at_again(step: str):
    """S41: two readings that cannot both be true are both asked again, from where the call stands."""
    rack = Rack("none")
    talk = Talk().until(rack, step).hear("correction hand valve closed")
    assert "cannot both be true" in talk.said
    assert talk.until(rack, "machine_look").to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("step", ["unlock", "start"])
def test_a_discharge_valve_that_turns_out_shut_keeps_it_locked_when_the_call_is_finished_early(step: str):
    """S37: what is spoken at the close is true then; a shut discharge valve goes to somebody, under the lock."""
    rack = Rack("none")
    talk = Talk().until(rack, step).hear("the discharge valve is closed", "finish job", "yes").until(rack, "tell_store")
    assert "stays off" in talk.said
    assert {"locked_out", "valve_closed.discharge"} <= set(talk.dialogue.state.handed_over)
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("said", "id_"), [
    ("the discharge valve is closed", "valve_closed.discharge"), ("the suction valve is closed", "valve_closed.suction"),
])  # fmt: skip
def test_who_takes_a_machine_over_that_was_stopped_on_a_shut_valve_is_told_of_it(said: str, id_: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_second").hear(said)
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert id_ in {fact.id for _, fact in talk.facts if type(fact).__name__ in ("ObligationHandedOver", "ObligationCleared")}
    assert talk.open == set()
    assert talk.broken() == ()


def test_the_first_start_after_liquid_is_throttled_again_when_the_call_went_back_before_it():
    rack = Rack("none")
    talk = Talk().until(rack, "start").hear("the meter leads are still on")
    asked = asked_until(talk, rack, "start")
    order = ["leads_off", "open_suction_again", "valves", "covers", "clear", "unlock", "first_start_valve"]
    assert [step for step in asked if step in order] == order
    assert talk.to_the_seal(rack).broken() == ()


def test_a_machine_that_runs_with_its_terminal_cover_off_is_stopped():
    """S17: terminals can blow out; nobody puts a cover on what runs."""
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear("the terminal cover is off")
    assert talk.said.startswith("Then it stops.")
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert talk.open == set()
    assert "Stopped, locked and left off" in talk.spoken[-2]
    assert talk.broken() == ()


def test_a_lock_said_to_be_on_after_a_kill_at_the_close_comes_off_for_no_start():
    """S21, S37: what stays off keeps its lock, whatever was interrupted."""
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear("the terminal cover is off").until(rack, "tell_store").hear("the lock is off")
    talk.until(rack, "lock").kill(30).until(rack, "anew_lock").hear("yes")
    assert "unlock" not in asked_until(talk, rack, "consent")
    assert talk.dialogue.state.handed_over.keys() >= {"locked_out"}
    assert talk.to_the_seal(rack).broken() == ()


def test_a_lock_put_on_again_after_the_unlock_and_found_off_goes_on_before_the_valves():
    """S4"""
    rack = Rack("none")
    talk = Talk()
    for step, locked in (("first_start_valve", "yes"), ("valves", "no")):
        talk.until(rack, step).hear("hold on").wait(3600).hear("continue").until(rack, "anew_lock").hear(locked)
    asked = asked_until(talk, rack, "valves")
    assert asked.index("lock") > asked.index("tag")
    assert talk.dialogue.state.lock.locked
    assert talk.to_the_seal(rack).broken() == ()


def test_modules_that_are_back_on_the_windings_are_off_for_no_later_insulation_test():
    """S25: another wire that hangs free says nothing of the modules."""
    rack = BranchRack("none at the motor")
    talk = Talk().until(rack, "modules_off")
    talk.hear("unplugged").until(rack, "modules_back").hear("done")
    assert not talk.dialogue.state.has("modules_off")


def test_what_acknowledged_a_caution_before_a_pause_answers_nothing_that_is_asked_since():
    """S5: after a pause what is still hooked up is named, and acknowledged then."""
    rack = BranchRack("none at the motor")
    talk = Talk().until(rack, "how_to_check").hear("hold on").wait(2400).hear("continue").hear("dead").until(rack, "tag/lock_out")
    talk.hear("correction hand valve", "closed").until(rack, "tag/restart").wait(40 * 60)
    talk.hear("understood")
    assert "anew_hooked_up" in asked_until(talk, rack, "lock")
    assert talk.to_the_seal(rack).broken() == ()


def test_a_hose_that_is_still_on_at_the_start_comes_off_first():
    rack = Rack("none")
    talk = Talk().until(rack, "start").hear("the hose is still on")
    asked = asked_until(talk, rack, "start")
    assert asked[:2] == ["hose_off/liquid_and_cold", "hose_off"]
    assert "hose_on" not in talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["it tripped again", "line temperature three fifty"])
def test_a_store_that_was_told_that_it_runs_is_told_that_it_stays_off(said: str):
    """S37: what is spoken is what is true then."""
    rack = Rack("none")
    talk = Talk().until(rack, "consent")
    assert "it runs" in str(talk.spoken)
    talk.hear(said).until(rack, "tell_store")
    assert "this machine stays off" in talk.said
    assert talk.to_the_seal(rack).broken() == ()


def test_what_a_switch_in_hand_does_is_said_as_it_is_put_there():
    """The table of what is left, at its row: a machine in hand ignores the rack's low suction."""
    talk = Talk().until(Rack("none"), "watch_first").hear("i put the switch in hand")
    assert "In hand it runs on into a vacuum" in talk.said
    talk = Talk().until(Rack("none"), "food").hear("holding yes hand auto")
    assert "In hand it runs on into a vacuum" in talk.said


@pytest.mark.parametrize(("said", "asked"), [
    ("the cylinder says r four oh four a", "cylinder"), ("the jug reads r one thirty four a", "cylinder"),
    ("the cylinder says r twenty two", "charge"),
])  # fmt: skip
def test_a_cylinder_of_another_gas_that_is_read_out_at_the_charge_gives_no_pounds(said: str, asked: str):
    """S34"""
    talk = Talk().until(Rack("refrigerant_low"), "charge").hear(said)
    assert talk.asked.split(":")[0] == asked
    assert "refrigerant_added" not in talk.readings


def test_a_number_told_from_afar_that_cannot_be_is_read_in_its_place_behind_its_cautions():
    """S36: nobody is sent to the fans without the caution of the roof."""
    talk = Talk().until(Rack("none"), "how_to_check").hear("fans running ninety five", "yes")
    assert talk.asked.startswith("how_to_check")
    assert "condenser_fans_running" not in talk.readings
    assert talk.to_the_seal(Rack("none")).broken() == ()


def test_going_back_behind_a_pause_passes_nothing_that_is_asked_anew():
    """S5, S21: the covers, too, are asked again before the lock comes off."""
    rack = Rack("none")
    talk = Talk().until(rack, "clear").wait(32 * 60).hear("done").until(rack, "anew_hooked_up").hear("go back", "yes")
    asked = asked_until(talk, rack, "unlock")
    assert {"valves", "covers", "clear"} <= set(asked)
    assert talk.to_the_seal(rack).broken() == ()


def test_how_the_line_was_found_put_right_on_the_run_makes_no_standing_machine_of_it():
    rack = Rack("none")
    talk = Talk().until(rack, "watch_first").hear("correction injection line as found", "feeding")
    assert "liquid_in_compressor" not in talk.open
    assert talk.to_the_seal(rack).broken() == ()


def test_a_leak_that_was_left_to_another_keeps_every_panel_dead():
    """S9"""
    talk = Talk().until(Rack("none"), "valves").hear("charge is low, i found a leak at the condenser flange")
    state = talk.to_the_seal(Rack("none")).dialogue.state
    assert "leak_open" in state.handed_over
    assert live_refused(state) == "No live work with a leak or an alarm."


def test_liquid_that_is_back_and_was_handed_over_is_not_opened_again_and_again():
    rack = Rack("none")
    talk = Talk().until(rack, "start").hear("correction crankcase and heads frosted", "finish job", "yes")
    assert talk.to_the_seal(rack).broken() == ()
    assert [fact.id for _, fact in talk.facts if type(fact).__name__ == "ObligationHandedOver"].count("liquid_in_compressor") == 1
