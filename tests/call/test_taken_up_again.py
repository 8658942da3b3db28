"""A call that was cut and is taken up again: by somebody else, at the moment before power, on hold with liquid running in."""

from dataclasses import replace

import pytest

from assistant.call.effects import Listen
from assistant.call.facts import CallOpened
from assistant.profile import Person, load_profile
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

TWO = (Person("robin", ("robin",), "Robin Vale"), Person("kim", ("kim",), "Kim Odell"))
NOBODY_YET = CallOpened("paper", "", "test")


def cut(step: str, fault: str = "module_no_output") -> tuple[Rack, Talk]:
    """Begun by one of two technicians, cut, and taken up after the night."""
    rack = BranchRack(fault) if fault == "winding open" else Rack(fault)
    rack.words = {"technician": "robin"}
    site = replace(site_of(fault) if fault == "winding open" else load_profile(), technicians=TWO)
    return rack, Talk(site, opened=NOBODY_YET).until(rack, step).kill(after_s=8 * 3600)


def test_where_several_may_be_speaking_it_is_asked_who_goes_on():
    rack, talk = cut("coil")
    assert talk.asked == "anew_who:technician"
    talk.hear("robin")
    assert talk.asked == "anew_lock:lock_still_on"
    talk.until(rack, "coil")
    assert talk.broken() == ()


def test_the_one_technician_of_a_site_is_not_asked_who_he_is():
    talk = Talk().until(Rack("injection_coil_failed"), "coil").kill(after_s=300)
    assert talk.asked == "anew_lock:lock_still_on"


@pytest.mark.parametrize("step", ["coil", "unlock", "meter_before"])
def test_the_lock_of_who_had_the_call_before_is_another_s(step: str):
    rack, talk = cut(step)
    talk.hear("kim")
    assert "Another person's lock stays on. Find its owner." in talk.said
    assert talk.asked == "anew_other_lock:other_lock_gone"
    talk.hear("it's gone")
    assert not talk.dialogue.state.lock.locked
    rack.words |= {"lock_still_on": "no"}
    talk.until(rack, "tag" if step != "unlock" else "valves")
    assert talk.broken() == ()


def test_a_machine_that_was_to_stay_locked_is_locked_by_who_goes_on():
    rack, talk = cut("leave_locked", "winding open")
    rack.words |= {"lock_still_on": "no"}
    talk.hear("kim", "it's gone").to_the_seal(rack)
    handed = talk.dialogue.state.handed_over["locked_out"]
    assert handed.who == "kim"
    assert talk.broken() == ()


def test_with_the_machine_running_only_the_name_is_asked():
    rack, talk = cut("watch_first")
    talk.hear("kim")
    assert talk.asked.startswith("watch_first")
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("after_s", [300, 8 * 3600])
def test_power_that_was_asked_for_and_may_have_come_on_has_fed_liquid(after_s: float):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "power_on").kill(after_s=after_s)
    assert "liquid_in_compressor" in talk.open
    talk.until(rack, "jumper_out")
    assert not any(isinstance(x, Listen) and x.step == "feed" for _, effects in talk.history for x in effects)
    assert talk.until(rack, "liquid_heater").broken() == ()


def test_liquid_that_cannot_run_in_is_not_on_record_over_an_interruption():
    talk = Talk().until(Rack("module_no_output"), "power_on_again").kill(after_s=300)  # its hand valve is shut
    assert "liquid_in_compressor" not in talk.open


def test_nobody_holds_on_with_liquid_running_in():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear("hold on").wait(40)
    assert talk.asked == "power_off:control_power_off"
    assert talk.until(rack, "meter_before").broken() == ()


def test_covers_are_asked_for_anew_before_a_start_that_was_interrupted():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "unlock").kill(after_s=8 * 3600).until(rack, "covers").until(rack, "clear").until(rack, "unlock")
    assert talk.broken() == ()


def test_hands_in_behind_a_cover_that_was_on_have_it_put_back_once_more():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "unlock").hear("the jumper's back in")
    assert talk.asked == "bypass_out:jumper_removed"
    assert "panel_cover" in talk.open
    talk.until(rack, "valves").until(rack, "covers").until(rack, "unlock")
    assert talk.broken() == ()


def test_no_charge_goes_on_before_the_cylinder_that_hangs_there_is_read_again():
    rack = Rack("refrigerant_low")
    talk = Talk().until(rack, "charge").kill(after_s=8 * 3600).until(rack, "cylinder")
    assert talk.until(rack, "charge").to_the_seal(rack).broken() == ()


def test_the_store_is_told_anew_before_the_whole_rack_is_stopped_again():
    rack = Rack("injection_coil_failed")
    site = load_profile()
    a = site.racks[0]
    site = replace(site, racks=(replace(a, panel=replace(a.panel, control_isolator_stops="rack")), *site.racks[1:]))
    talk = Talk(site).until(rack, "coil").kill(after_s=8 * 3600).hear("no").until(rack, "tell_store_rack")
    assert "This stops rack A." in talk.said
    assert talk.until(rack, "coil").broken() == ()


@pytest.mark.parametrize("step", ["power_on_again", "shut_hand_valve"])
def test_no_power_comes_on_before_the_panel_was_proved_dead_since_the_interruption(step: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, step).kill(after_s=8 * 3600).until(rack, "meter_after").until(rack, "power_on_again")
    assert talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["no", "nobody", "done", "nothing to add", "correction tag", "power off", "a two", "no idea"])
def test_what_is_no_name_is_nobody_s(said: str):
    talk = Talk(replace(load_profile(), technicians=TWO), opened=NOBODY_YET)
    assert talk.hear(said).asked == "who:technician"
    assert talk.hear("kim").asked == "where:rack"


def test_a_live_window_that_was_cut_off_is_opened_again_behind_a_new_proof_and_its_cautions():
    rack = BranchRack("supply unbalanced")
    talk = Talk(site_of("supply unbalanced")).until(rack, "window_lines").kill(after_s=60)
    assert talk.asked == "window_off:control_power_off"
    asked = []
    while talk.asked.split(":")[0] != "window_lines":
        asked.append(talk.asked.split(":")[0])
        talk.hear(talk.words_of(rack))
    assert asked.index("meter_before") < asked.index("window_on/live+live_place") < asked.index("window_on")
    assert "supply_unbalanced" in {c.cause for c in talk.to_the_seal(rack).dialogue.state.conclusions.values()}
    assert talk.broken() == ()


@pytest.mark.parametrize("ended", ["emergency", "power off now, it's arcing"])
def test_a_live_window_that_an_emergency_or_somebody_ended_stays_shut(ended: str):
    rack = BranchRack("supply unbalanced", {"everybody_safe": "yes", "room_safe": "yes"})
    talk = Talk(site_of("supply unbalanced")).until(rack, "window_lines").hear(ended)
    if ended == "emergency":
        talk.hear("emergency over")
    later = []
    while not talk.dialogue.state.sealed:
        later.append(talk.asked.split(":")[0])
        talk.hear(talk.words_of(rack))
    assert "window_on" not in later
    assert talk.broken() == ()
