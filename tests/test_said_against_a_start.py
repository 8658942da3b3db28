"""What is said by the way against a start or against hands in is heard at whatever question, and nothing goes on over it."""

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Question, Remark
from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

START = Question("command", go_ahead=("started", "done"))

SAID = [
    ("the cover's still off", "panel_cover"), ("i left the cover off", "panel_cover"), ("the panel's open", "panel_cover"),
    ("the jumper is still in there", "jumper_fitted"), ("i forgot the jumper", "jumper_fitted"),
    ("my leads are still on", "leads_on"), ("didn't put the wire back", "wire_lifted"),
    ("the starter is still blocked", "start_blocked"), ("gauges are still hooked up", "hose_on"),
    ("hang on the suction valve's shut", "service_valves_open"), ("the discharge valve isn't open", "service_valves_open"),
    ("my helper's in the panel", "others_clear"), ("there's a guy at the condenser", "others_clear"),
    ("i think the power's on", "live"), ("somebody turned the power back on", "live"), ("i got a spark", "live"),
    ("i jumped out the oil control", "bypassed"), ("somebody put a jumper on the module", "bypassed"),
    ("the overload is bypassed", "bypassed"), ("i feel light headed", "air"),
]  # fmt: skip
SAYS_NOTHING_AGAINST_IT = [
    "nobody's in the panel", "the cover's back on", "the jumper's out", "the panel is closed", "he's on lunch",
    "i left the wrench in the truck", "is the jumper still in",
]  # fmt: skip


@pytest.mark.parametrize(("said", "about"), SAID)
def test_what_speaks_against_a_start_is_known_in_many_words(said: str, about: str):
    assert understand(START, said) == Remark(about)


@pytest.mark.parametrize("said", SAYS_NOTHING_AGAINST_IT)
def test_what_only_sounds_like_it_is_not(said: str):
    assert not isinstance(understand(START, said), Remark)


def test_an_answer_to_the_question_stays_an_answer():
    assert not isinstance(understand(Question("injection_hand_valve"), "the valve is closed"), Remark)


@pytest.mark.parametrize(("said", "asked", "thing"), [
    ("jumper's still in", "tag:panel_tag", "jumper_fitted"),
    ("the cover's still off", "valves:service_valves_open", "panel_cover"),
    ("correction covers", "valves:service_valves_open", "panel_cover"),
    ("the discharge valve is shut", "tag:panel_tag", "valve_closed.discharge"),
    ("my helper's in the panel", "valves:service_valves_open", ""),
])  # fmt: skip
def test_at_the_start_it_is_cleared_first_and_the_rest_made_ready_anew(said: str, asked: str, thing: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "start").hear(said)
    assert talk.asked == asked
    assert "Then no start." in talk.said
    assert not thing or thing in talk.open
    talk.until(rack, "clear").until(rack, "start").to_the_seal(rack)
    assert talk.open == set()
    assert talk.broken() == ()


@pytest.mark.parametrize("said", ["the discharge valve is shut", "i left the jumper in", "somebody bypassed the oil control"])
def test_a_machine_that_runs_on_it_is_stopped_and_left_locked(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear(said)
    assert talk.asked == "stop_now:command"
    talk.to_the_seal(rack)
    assert "Stopped, locked and left off." in talk.spoken[-2]
    assert talk.broken() == ()


def test_a_bypass_named_at_the_front_comes_out_under_a_proof_before_anything_starts():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "rack_suction").hear("somebody put a jumper on the oil control")
    assert talk.asked == "rack_suction:rack_suction_pressure"
    talk.until(rack, "bypass_out")
    assert talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


def test_somebody_in_the_panel_ends_the_live_window():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear("my helper's in the panel")
    assert talk.asked == "power_off:control_power_off"
    assert talk.said.startswith("Everybody out. Power off first.")


def test_power_that_is_back_ends_the_proof():
    rack = BranchRack("none at the motor")
    talk = Talk(site_of(rack.fault)).until(rack, "windings").hear("somebody turned the power on")
    assert talk.asked == "tag:panel_tag"
    assert talk.said.startswith("Then it is live. Hands out.")


def test_a_coil_that_is_loose_again_gets_no_start():
    rack = Rack("injection_coil_loose")
    talk = Talk().until(rack, "start").hear("correction injection coil", "loose").to_the_seal(rack)
    assert "started" not in talk.readings
    assert talk.dialogue.state.started_at is None
    assert talk.broken() == ()


@pytest.mark.parametrize("said", ["power's off", "get me out of here", "kill it", "i'm on a metal ladder", "my gloves are wet"])
def test_the_live_window_ends_as_soon_as_it_is_wanted(said: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear(said)
    assert talk.asked == "power_off:control_power_off"
    assert talk.said.startswith("Power off.")
    assert "liquid_in_compressor" in talk.open  # nobody looked at the feed
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["it won't start", "nothing happens", "it just hums", "it started and tripped right away"])
def test_a_start_that_does_not_hold_is_locked_and_left_off(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "start").hear(said)
    assert talk.said.startswith("Switch it off. No second try: lock it and leave it off.")
    talk.until(rack, "tag").to_the_seal(rack)
    assert "It did not stay on, locked and left off." in talk.spoken[-2]
    assert talk.broken() == ()


@pytest.mark.parametrize("said", ["it won't reset", "the button won't stay in"])
def test_a_reset_that_does_not_hold_starts_nothing(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "reset").hear(said).until(rack, "tag").to_the_seal(rack)
    assert talk.dialogue.state.started_at is None
    assert "Left locked off." in talk.spoken[-2]
    assert talk.broken() == ()


def test_dizzy_is_told_to_get_out():
    rack = Rack("injection_coil_failed")
    assert Talk().until(rack, "rack_suction").hear("i'm dizzy").said.startswith("Out, into fresh air.")


def test_leads_that_are_on_unknown_to_the_call_end_a_window_without_a_stimulus():
    rack = BranchRack("control supply lost")
    talk = Talk(site_of(rack.fault)).until(rack, "window_control").hear("my leads are still on")
    assert talk.asked == "window_off:control_power_off"
    assert talk.open >= {"leads_on"}
    talk.to_the_seal(rack)
    assert talk.open == set()
    assert talk.broken() == ()


def test_a_bypass_named_while_the_test_jumper_is_in_comes_out_after_it():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear("somebody bypassed the oil control")
    assert talk.said.startswith("That one comes out too.")
    talk.until(rack, "jumper_out").until(rack, "bypass_out")
    assert talk.dialogue.state.lock.dead
    talk.to_the_seal(rack)
    assert talk.open == set()
    assert talk.broken() == ()


@pytest.mark.parametrize("said", [
    "it tripped", "it tripped again", "it's down again", "she quit", "the compressor stopped", "it shut off on its own",
    "it just went off",
])  # fmt: skip
@pytest.mark.parametrize("at", ["watch_second", "consent"])
def test_a_machine_that_trips_while_something_else_is_asked_is_locked_and_left_off(said: str, at: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, at).hear(said)
    assert talk.asked == "tag:panel_tag"
    assert "A second trip. No more resets: lock it and leave it off." in talk.said
    talk.to_the_seal(rack)
    assert "It tripped again, locked and left off." in talk.spoken[-2]
    assert talk.broken() == ()


@pytest.mark.parametrize(("fault", "at", "said", "asked"), [
    ("refrigerant_low", "leak_mend", "there's still pressure in it", "leak_zero:isolated_pressure"),
    ("refrigerant_low", "leak_mend", "the pressure's coming back up", "leak_zero:isolated_pressure"),
    ("refrigerant_low", "charge", "it's recovered gas from another rack", "cylinder:cylinder_checked"),
    ("refrigerant_low", "charge", "it's the wrong cylinder", "cylinder:cylinder_checked"),
    ("winding grounded", "insulation", "it's in a vacuum", "shell:shell_pressure"),
    ("winding grounded", "insulation", "the module's still connected", "modules_off:command"),
])  # fmt: skip
def test_what_a_repair_a_test_or_a_charge_rests_on_is_asked_again_when_it_is_said_not_to_be(
    fault: str, at: str, said: str, asked: str
):
    rack = BranchRack(fault) if " " in fault else Rack(fault)
    talk = Talk(site_of(fault) if " " in fault else None).until(rack, at).hear(said)
    assert talk.asked == asked
    assert talk.to_the_seal(rack).broken() == ()


def test_a_cylinder_of_another_gas_charges_nothing():
    rack = Rack("refrigerant_low")
    talk = Talk().until(rack, "cylinder").hear("it's a different gas")
    assert talk.asked == "repaired:command"
    assert "Then no charge from it." in talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("not_at_zero", ["two", "five"])
def test_a_leak_that_could_not_be_opened_is_not_said_to_be_repaired(not_at_zero: str):
    talk = Talk().until(Rack("refrigerant_low"), "leak_zero").hear(not_at_zero, not_at_zero)
    assert talk.asked == "leak_left:command"
    assert talk.hear("repaired").asked == "leak_left:command"


@pytest.mark.parametrize("said", [
    "the line just burst", "refrigerant's blowing everywhere", "it's spraying out", "the room's filling up",
    "the terminal's leaking", "the flame turned green", "gas is coming out",
])  # fmt: skip
def test_gas_that_comes_out_is_an_alarm_in_whatever_words(said: str):
    assert understand(START, said) == Remark("alarm")
    assert "Stay out. Ventilate from outside." in Talk().until(Rack("injection_coil_failed"), "rack_suction").hear(said).said


def test_a_soap_test_is_no_alarm():
    assert understand(Question("leak_place"), "it's blowing bubbles at the flare") != Remark("alarm")


@pytest.mark.parametrize("said", ["i hit it twice", "it took two tries", "it needed three resets"])
def test_a_reset_that_took_a_second_try_was_two(said: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "reset").hear(said)
    assert talk.asked == "tag:panel_tag"
    assert "No second try: lock it and leave it off." in talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("at", "asked"), [("start", "tag:panel_tag"), ("watch_first", "stop_now:command")])
def test_a_machine_that_turns_backwards_is_stopped_at_once(at: str, asked: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, at).hear("it's running backwards")
    assert talk.asked == asked
    assert talk.to_the_seal(rack).broken() == ()


def test_a_fan_that_turns_backwards_is_no_machine_that_does():
    talk = Talk().until(Rack("injection_coil_failed"), "watch_first").hear("the fan's turning backwards")
    assert "rotation" not in talk.dialogue.state.readings


def test_a_noise_is_on_record_and_who_hears_it_may_stop_it():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear("there's a knocking noise")
    assert talk.said.startswith("If it knocks, stop it at its switch. Then say it stopped.")
    assert any(getattr(fact, "text", "") == "there's a knocking noise" for _, fact in talk.facts)
    assert talk.hear("it stopped").asked == "tag:panel_tag"
