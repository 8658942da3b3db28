"""What makes a proof, a hand in the panel or a start unsafe, and no question asks for: the wrong disconnect, a meter that read
wrong, water, torn gloves, and whatever else sounds like trouble."""

from copy import deepcopy
from functools import cache

import pytest

from assistant.branches.motor.conditions import motor_tested_good
from assistant.call.facts import NoteTaken, ProofEnded, WordsHeard
from assistant.call.known import case_of
from assistant.language.grammar import understand
from assistant.language.meaning import NotUnderstood, Question, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.language.spoilt import spoilt
from assistant.language.unready import trouble
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of

COIL = Question("injection_coil_ohms")
SAID = [
    ("i hung it on the wrong disconnect", "lock off"), ("that was compressor four's disconnect", "lock off"),
    ("i locked the wrong machine", "lock off"), ("this isn't my breaker", "lock off"), ("i never put my lock on", "lock off"),
    ("the meter was on ohms", "misread"), ("it was on the wrong range", "misread"), ("my lead fell off", "misread"),
    ("meter battery's low", "misread"), ("the meter just died", "misread"), ("i never tested the third leg", "misread"),
    ("one of the leads wasn't touching", "misread"), ("i was on the wrong terminals", "misread"),
    ("my glove's torn", "gear"), ("there's a hole in my glove", "gear"), ("i forgot my gloves", "gear"),
    ("i'm standing in a puddle", "wet"), ("my boots are in water", "wet"),
    ("the panel's wet inside", "wet"), ("water's running into the panel", "wet"),
    ("wires are on fire", "distress"), ("burnt my hand", "distress"), ("cut my finger", "distress"),
    ("it bit me", "distress"), ("i got a nasty shock", "distress"), ("i cut my hand", "distress"),
    ("the ladder just slipped", "distress"),
    ("the relief valve is blowing", "alarm"), ("my eyes are burning", "air"), ("my hand's stuck", "distress"),
    ("the fan guard is off", "panel_cover"), ("someone's coming in", "others_clear"), ("i had to shut it off", "stopped"),
    ("i've been resetting it all night", "resets"), ("i'm gonna vent it", "vent"),
    ("can i jumper the module and go", "would bypass"),
    ("i'll just bypass it", "would bypass"), ("kim's taking over", "takes over"), ("it's really loud now", "noise"),
    ("oil foamed up and the glass is empty", "no oil"),
    ("fire", "distress"), ("i'm getting a shock off this", "distress"), ("my hand's burnt", "distress"),
    ("somebody's down", "distress"), ("my chest hurts", "distress"), ("liquid got in my eye", "distress"),
    ("i can't feel my fingers", "distress"), ("i got frostbite", "distress"), ("he's not moving", "distress"),
    ("the detector's dead", "no detector"), ("no light on the detector", "no detector"), ("the exhaust fan quit", "no fan"),
    ("oxygen's down to eighteen", "alarm"), ("my gas monitor's beeping", "alarm"),
    ("there's water in here", "wet"), ("the meter reads wrong", "misread"), ("the terminal cover's off", "terminal_cover"),
    ("the coil's off its stem", "coil off"), ("somebody unblocked the start", "not blocked"),
    ("the start block's off", "not blocked"),
    ("there's kids in the room", "others_clear"), ("a customer just walked in", "others_clear"),
    ("i shut the condenser valve", "service_valves_open"), ("the receiver inlet's shut", "service_valves_open"),
    ("i'll close the discharge valve", "would close"), ("the boss says to bypass it", "would bypass"),
    ("i've got his key", "another's lock"), ("the manager said take that lock off", "another's lock"),
]  # fmt: skip
NO_TROUBLE = ["the truck is out back", "what was that", "i'll call you later", "the wrench is in my pocket", "nice day for it"]


@pytest.mark.parametrize(("said", "about"), SAID)
def test_what_makes_it_unsafe_is_known_in_many_words(said: str, about: str):
    assert understand(COIL, said) == Remark(about)


@pytest.mark.parametrize("said", [
    "the leads are off", "the clips are off", "the meter reads zero", "no water in it", "my hands are dirty", "detector's quiet",
    "oxygen's at twenty point nine", "my oxygen meter's on my belt", "somebody's down the hall", "the condenser fan stopped",
])  # fmt: skip
def test_what_only_sounds_like_it_is_not(said: str):
    assert not isinstance(understand(COIL, said), Remark)


def proven_dead() -> tuple[Rack, Talk]:
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "coil")
    assert talk.dialogue.state.lock.dead
    return rack, talk


@pytest.mark.parametrize("said", [
    "actually the meter was on ohms", "my lead fell off", "wait, the meter battery's low", "i'm standing in water",
    "that's compressor four's disconnect", "i hung my lock on the wrong disconnect", "my glove's torn",
])  # fmt: skip
def test_hands_come_out_and_the_machine_is_proved_dead_anew(said: str):
    rack, talk = proven_dead()
    talk.hear(said)
    assert not talk.dialogue.state.lock.dead
    assert talk.asked.startswith("tag")
    talk.until(rack, "meter_before").until(rack, "coil")
    assert talk.dialogue.state.lock.dead
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("at", ["meter_before", "dead_control", "meter_after"])
def test_a_meter_that_read_wrong_proves_nothing_however_far_the_proof_is(at: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, at).hear("the meter was on ohms")
    assert not talk.dialogue.state.lock.proof
    talk.until(rack, "dead_power").until(rack, "meter_after").to_the_seal(rack)
    assert talk.broken() == ()


def test_the_wrong_disconnect_is_no_lock_and_a_yes_behind_it_makes_none():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "lock").hear("i hung it on the wrong disconnect").hear("yes")
    assert not talk.dialogue.state.lock.locked


def test_a_meter_said_to_be_bad_before_anything_is_measured_is_on_record():
    talk = Talk().until(Rack("injection_coil_failed"), "rack_suction").hear("the meter's broken")
    assert "A sound meter before anything is measured." in talk.said
    assert any(isinstance(fact, NoteTaken) for _, fact in talk.facts)


@pytest.mark.parametrize("said", [
    "my lead fell off", "there's sparks", "my glove's torn", "i'm standing in water", "there's water in here",
    "the label's missing", "the panel is damaged", "the coil's off its stem", "the start block's off",
    "correction start blocked", "fire",
])  # fmt: skip
def test_in_the_live_window_any_of_it_ends_the_window(said: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear(said)
    assert talk.asked == "power_off:control_power_off"
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["i never checked that the other one is off", "this whole corner is not safe"])
def test_words_of_trouble_that_are_not_understood_are_asked_about(said: str):
    rack, talk = proven_dead()
    assert "Not understood. Is something not safe?" in talk.hear(said).said
    talk.hear("yes")
    assert any(isinstance(fact, ProofEnded) for _, fact in talk.facts)
    assert talk.to_the_seal(rack).broken() == ()


def test_an_answer_that_comes_before_its_caution_was_agreed_to_is_told_so_and_not_taken():
    talk = standing_at("injection_coil_failed", "how_to_check").hear("dead")
    assert talk.asked == "tag/lock_out:command"
    talk.hear("it says b three on it")
    assert "The caution first. Say understood." in talk.said
    assert talk.dialogue.state.value("panel_tag") is None


@pytest.mark.parametrize("said", ["all good", "no, everything's fine here", "nothing's wrong"])
def test_that_all_is_well_is_a_no_to_what_may_be_not_safe(said: str):
    _, talk = proven_dead()
    talk.hear("this whole corner is not safe").hear(said)
    assert not any(isinstance(fact, ProofEnded) for _, fact in talk.facts)
    assert talk.dialogue.mode.name == "asking"


def test_what_is_neither_yes_nor_no_to_it_doubts_nothing_anew():
    _, talk = proven_dead()
    talk.hear("this whole corner is not safe").hear("the manager brought us some coffee and a donut")
    assert talk.said == "Yes or no, please. Is something not safe?"
    assert len(talk.dialogue.state.doubts) == 1


@pytest.mark.parametrize(("said", "reply"), [
    ("can i jumper the module and go", "No protection is bypassed"), ("i'm gonna vent it", "Never vent it"),
    ("my shift's over, kim's taking over", "Their own lock goes on before yours comes off."),
])  # fmt: skip
def test_what_somebody_has_in_mind_is_answered_and_on_record(said: str, reply: str):
    _, talk = proven_dead()
    talk.hear(said)
    assert reply in talk.said
    assert NoteTaken(said) in [fact for _, fact in talk.facts]
    assert talk.asked == "coil:injection_coil_ohms"


@pytest.mark.parametrize("said", ["shutting it down", "i'm stopping it, it's too hot", "i shut it off"])
def test_a_machine_that_the_technician_stops_is_locked_and_left_off(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear(said)
    assert "Stopped. Lock it and leave it off." in talk.said
    talk.to_the_seal(rack)
    assert "left off" in talk.spoken[-2]
    assert talk.broken() == ()


def test_without_oil_it_is_stopped():
    rack = Rack("injection_coil_failed")
    assert "stop it at its switch" in Talk().until(rack, "watch_first").hear("the oil's all gone").said


def test_how_often_it_was_reset_is_taken_wherever_it_is_said():
    talk = Talk().until(Rack("injection_coil_failed"), "rack_suction").hear("i reset it three times already")
    assert talk.dialogue.state.value("reset_history") == "often"


def test_who_is_hurt_in_the_live_window_has_the_power_off_first():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed").hear("my hand's stuck")
    assert talk.asked == "power_off:control_power_off"


def test_a_no_goes_on_where_it_was():
    _, talk = proven_dead()
    talk.hear("it's a bit dangerous in here").hear("no")
    assert talk.asked == "coil:injection_coil_ohms"
    assert talk.dialogue.state.lock.dead


def test_at_a_start_what_was_made_ready_is_looked_at_again():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "start").hear("i never checked the other side").hear("yes")
    assert talk.asked == "valves:service_valves_open"
    assert talk.until(rack, "start").to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", NO_TROUBLE)
def test_other_talk_is_said_again_where_no_hand_is_in(said: str):
    assert not trouble(said)
    talk = Talk().until(Rack("injection_coil_failed"), "rack_suction").hear(said)
    assert talk.asked == "rack_suction:rack_suction_pressure"
    assert "not safe" not in talk.said


def test_a_remark_asked_back_and_then_said_surely_leaves_nothing_to_confirm():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "glass").hear("the discharge valve is shut", sure=False)
    assert "Is that so?" in talk.said
    talk.hear("the discharge valve is shut").hear("no")
    assert talk.to_the_seal(rack).broken() == ()


def standing_at(fault: str, step: str) -> Talk:
    """A call of this fault as it stands at a step: a copy of the first that came there, which takes a tenth of the time."""
    talk = _came_to(fault, step)
    shared = (talk.site, talk.procedure, *talk.procedure.steps)
    return deepcopy(talk, {id(one): one for one in shared})


@cache
def _came_to(fault: str, step: str) -> Talk:
    rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return (Talk(site_of(fault)) if fault in FAULTS else Talk()).until(rack, step)


@pytest.mark.parametrize("said", [
    "no, nothing unsafe. the tag says A two", "nothing's unsafe, the tag says A two", "no, all safe, tag says A two",
])  # fmt: skip
def test_a_no_to_whether_something_is_not_safe_and_the_answer_is_the_answer(said: str):
    talk = standing_at("injection_coil_failed", "tag").hear("the paint's peeling off this door", said)
    assert talk.asked.startswith("lock:locked_out")


@pytest.mark.parametrize("said", ["no, nothing's safe. the tag says A two", "no, it's not safe. the tag says A two"])
def test_nothing_that_is_safe_is_asked_about_again(said: str):
    talk = standing_at("injection_coil_failed", "tag").hear("the paint's peeling off this door", said)
    assert talk.said == "Not understood. Is something not safe?"


@pytest.mark.parametrize("said", ["it's about zero there", "near zero", "close to nothing on all six"])
def test_about_no_volts_is_asked_for_its_number(said: str):
    talk = standing_at("injection_coil_failed", "dead_power").hear(said)
    assert talk.said.startswith("Read me the number, the worst.")
    assert talk.hear("point two").readings["dead_volts.power"] == 0.2


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("charge low", "leak_mend", "it is still pressurized"), ("charge low", "leak_mend", "it is burning"),
    ("charge low", "leak_mend", "yes but it still bubbles"), ("charge low", "leak_mend", "yes for now"),
    ("suction filter", "at_zero", "about zero"), ("suction filter", "at_zero", "zero, didn't wait"),
    ("suction filter", "repaired", "done, left the flange open"), ("suction filter", "repaired", "done for today"),
    ("suction filter", "recover", "four pounds of nitrogen"), ("control fuse blown", "repaired", "fuse replaced, it blew again"),
    ("injection_coil_failed", "repaired", "it fixed itself"),
    ("injection_coil_failed", "lock", "lock on, key in it"),
    ("injection_coil_failed", "lock", "lock's on, disconnect's still on"),
    ("injection_coil_failed", "lock", "yeah right"), ("injection_coil_failed", "tag", "can't read it, looks like a two"),
    ("injection_coil_failed", "valves", "done, all closed"), ("injection_coil_failed", "valves", "open and shut"),
    ("injection_coil_failed", "clear", "done, tools are in"),
    ("injection_coil_failed", "consent", "close it but it just tripped"),
    ("module_no_output", "leads_off", "they're still on, done"),
    ("module_no_output", "jumper_out", "out and back in"), ("injection_coil_failed", "coil", "tester lights up on this wire"),
])  # fmt: skip
def test_an_answer_beside_which_it_is_said_that_it_is_not_so_is_none(fault: str, step: str, said: str):
    talk = standing_at(fault, step).hear(said)
    assert "Is something not safe?" in talk.said
    assert talk.asked == f"{step}:confirm"


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("module_no_output", "repaired", "repaired, i jumped it out"),
    ("module_no_output", "repaired", "wired the coil straight to hot"),
    ("control fuse blown", "repaired", "repaired, it's a piece of foil"), ("control fuse blown", "repaired", "done, bigger fuse"),
    ("injection_coil_failed", "which_contact", "none of them, they're jumped"),
    ("injection_coil_failed", "reset", "reset, i taped it"),
    ("none", "one_reset_discharge", "closed because i jumped it"),
])  # fmt: skip
def test_what_was_bypassed_is_neither_repaired_nor_closed(fault: str, step: str, said: str):
    assert "jumper_fitted" in standing_at(fault, step).hear(said).open


@pytest.mark.parametrize("said", ["let it out already, four pounds", "vented it, none"])
def test_what_was_vented_is_not_recovered(said: str):
    talk = standing_at("suction filter", "recover").hear(said)
    assert "Never vent it." in talk.said
    assert talk.dialogue.state.value("refrigerant_recovered") is None


@pytest.mark.parametrize("said", ["it's running", "the compressor started", "somebody stop it"])
def test_a_machine_that_runs_in_the_live_window_has_the_power_taken_off(said: str):
    assert standing_at("module_no_output", "feed").hear(said).asked == "power_off:control_power_off"


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("charge low", "leak_mend", "it's tight now"), ("suction filter", "repaired", "all done"),
    ("suction filter", "at_zero", "zero"),
    ("injection_coil_failed", "lock", "locked and tagged"), ("injection_coil_failed", "clear", "everybody's clear"),
    ("module_no_output", "fit_jumper", "jumper's in"), ("module_no_output", "jumper_out", "it's out"),
])  # fmt: skip
def test_a_plain_answer_in_ones_own_words_is_taken(fault: str, step: str, said: str):
    assert not standing_at(fault, step).hear(said).asked.startswith(f"{step}:")


def test_a_word_of_the_prompt_spoils_nothing():
    assert spoilt(Question("jumper_fitted", about=("jumper", "jumper's")), "the jumper's in there now") == ""


def test_a_leak_that_was_repaired_is_tested_and_its_section_opened_before_the_charge():
    rack = BranchRack("charge low")
    talk = Talk(site_of("charge low")).until(rack, "leak_mend")
    assert any("Nitrogen, regulator, relief." in text for text in talk.spoken)
    assert "nitrogen test, vacuum" in talk.said
    assert talk.hear("yes").asked == "leak_section_open:command"


def test_a_gauge_that_is_not_at_zero_is_read_again_once():
    talk = standing_at("suction filter", "at_zero").hear("two pounds")
    assert talk.asked == "at_zero:isolated_pressure"
    assert "Not at zero. Wait for it." in talk.said
    assert talk.hear("three pounds").asked != "at_zero:isolated_pressure"


@pytest.mark.parametrize(("said", "asked"), [
    ("i'm dizzy", "anew_room_safe"), ("he's not breathing", "tag"), ("it bit me", "tag"),
])  # fmt: skip
def test_who_is_not_well_with_hands_in_proves_it_dead_anew(said: str, asked: str):
    rack, talk = proven_dead()
    assert not talk.hear(said).dialogue.state.lock.dead
    assert talk.asked.startswith(asked)
    assert talk.until(rack, "tag").asked.startswith("tag")
    assert talk.to_the_seal(rack).broken() == ()


def test_a_cover_taken_off_while_it_runs_keeps_hands_away():
    talk = Talk().until(Rack("injection_coil_failed"), "watch_first").hear("i left the cover off")
    assert "Then it stops." in talk.said or "It runs. Hands away, then the covers on." in talk.said


def test_a_reset_told_beside_a_look_is_asked_about():
    assert spoilt(Question("command", go_ahead=("tripped", "not tripped"), look=True), "not tripped now, i reset it") == "trouble"


def test_another_s_lock_that_one_cut_oneself_is_not_gone():
    assert spoilt(Question("other_lock_gone"), "it's gone, i took it off") == "trouble"


@pytest.mark.parametrize("said", ["shutting it down", "it tripped again"])
def test_a_machine_that_is_locked_out_is_not_put_right_to_running(said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "watch_first").hear(said).until(rack, "leave_locked").hear("correction running", "running")
    assert "that is not its lock" in talk.said
    assert talk.hear("never mind").to_the_seal(rack).broken() == ()


def test_what_is_asked_for_in_ones_own_words_is_taken_as_it_is():
    talk = standing_at("charge low", "leak_where").hear("at the drier flare, still hissing by itself")
    assert talk.dialogue.state.value("leak_place") == "drier flare, still hissing by itself"


def test_what_is_said_on_hold_is_asked_about_before_anything_goes_on():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "power_on").hear("hold on", "my hands are still in there", "continue", "power on")
    assert talk.asked == "anew_clear:others_clear"
    assert talk.hear("yes").to_the_seal(rack).broken() == ()


def test_what_must_be_done_is_asked_about_where_no_panel_is_near():
    talk = standing_at("charge low", "leak_section_open").hear("downstream's open, upstream's stuck shut", "done")
    assert talk.asked == "leak_section_open:confirm"


@pytest.mark.parametrize("said", ["the terminal cover's off", "terminal box is still open"])
def test_no_power_comes_on_with_the_terminal_cover_off(said: str):
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "power_on").hear(said)
    assert "terminal_cover" in talk.open
    talk.until(rack, "terminal_cover_on").until(rack, "power_on")
    assert "terminal_cover" not in talk.open
    assert talk.broken() == ()


def test_a_hand_valve_opened_in_the_window_has_its_seconds_counted_from_power_on():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "supply_volts").hear("i opened the hand valve")
    assert "Power off." in talk.said
    talk.until(rack, "meter_before")
    assert talk.dialogue.state.feed.spent_s > 0
    assert "liquid_in_compressor" in talk.open


def test_power_that_came_on_by_itself_is_looked_at_dead_before_it_is_put_on():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "power_on").hear("the leads are off but the power's on")
    assert talk.asked.startswith("tag")
    talk.until(rack, "clip_leads").until(rack, "power_on")
    assert talk.broken() == ()


def test_two_terminals_that_were_crossed_are_no_two_volts():
    rack = Rack("injection_coil_failed", {"live_or_dead": "live"})
    talk = Talk().until(rack, "live_supply").hear("i crossed two terminals")
    assert talk.asked.startswith("tag")
    assert "control_volts" not in talk.readings


@pytest.mark.parametrize("said", ["good i think", "i believe it's good"])
def test_a_fuse_is_not_good_by_a_guess(said: str):
    talk = Talk().until(Rack("module_output_fuse"), "output_fuse").hear(said)
    assert talk.asked == "output_fuse:confirm"


def test_a_reset_that_he_did_twice_was_one_too_many():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "reset").hear("i reset it twice")
    assert "No second try: lock it and leave it off." in talk.said
    assert "left off" not in talk.to_the_seal(rack).broken()


@pytest.mark.parametrize(("step", "said"), [
    ("watch_injection", "line is at two seventy"), ("parts", "the discharge is two seventy"),
    ("consent", "discharge temperature two seventy"), ("watch_first", "ten and it's swinging between two twenty and two sixty"),
])  # fmt: skip
def test_a_line_over_its_trip_is_heard_at_any_question_and_stops_the_machine(step: str, said: str):
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, step).hear(said)
    assert talk.asked == "stop_now:command"
    assert talk.to_the_seal(rack).broken() == ()


def test_a_line_under_its_trip_changes_nothing():
    talk = Talk().until(Rack("injection_coil_failed"), "parts").hear("line's at two ten")
    assert talk.asked == "parts:part_left_in_use"


@pytest.mark.parametrize("said", ["ten, one thirty celsius", "ten one thirty c", "one bar, two ten"])
def test_a_number_in_another_unit_is_never_taken_for_one_of_the_site_s(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "watch_first").hear(said)
    assert talk.dialogue.state.value("watch.discharge_temperature") is None


def test_one_of_them_is_no_pound():
    talk = standing_at("air in the system", "high_standing").hear("one of them started")
    assert talk.dialogue.state.value("idle_condenser_pressure") is None


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("none at the motor", "insulation", "bouncing between point two and two hundred"),
    ("suction filter", "at_zero", "bouncing between zero and two"),
])  # fmt: skip
def test_an_unsteady_reading_that_safety_rests_on_counts_by_its_worse_end(fault: str, step: str, said: str):
    talk = standing_at(fault, step).hear(said)
    if talk.asked.endswith(":confirm"):
        talk.hear("yes")
    assert not motor_tested_good(case_of(talk.dialogue.state))
    assert step != "at_zero" or "Not at zero. Wait for it." in talk.said


def test_an_unsteady_pipe_is_as_hot_as_its_upper_end():
    talk = standing_at("probe_fouled", "pipe_temperature").hear("between one hundred and one fifty")
    assert "Hot. Gloves for heat, or wait." in talk.said


@pytest.mark.parametrize("asking", ["locked_out", "dead_volts.power", "rack_suction_pressure"])
def test_a_flood_of_words_is_no_answer_and_keeps_nobody_waiting(asking: str):
    flood = "one two a my " * 3000
    assert isinstance(understand_in_pieces(Question(asking), flood), NotUnderstood)
    assert understand_in_pieces(Question(asking), f"{flood} i got shocked") == Remark("distress")


@pytest.mark.parametrize("said", ["yes i'm the supervisor", "yes, i agree", "yes he would"])
def test_nobody_agrees_to_a_third_reset_in_the_supervisor_s_place(said: str):
    assert isinstance(understand_in_pieces(Question("supervisor_agreed"), said), NotUnderstood)
    assert not isinstance(understand_in_pieces(Question("supervisor_agreed"), "yes he agreed"), NotUnderstood)


def test_who_gives_the_steps_own_answer_over_the_doubt_says_that_nothing_is_not_safe():
    talk = Talk().until(Rack("none"), "how_to_check")
    talk.hear("somebody's been pushing it this week")
    assert "Is something not safe? If not, say it again." in talk.said
    talk.hear("dead")
    assert talk.readings["live_or_dead"] == "dead"
    assert "remark not so: trouble" in [fact.meaning for _, fact in talk.facts if isinstance(fact, WordsHeard)]
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said", "behind"), [
    ("meter_before", "no, meter's good", "dead_power"), ("covers", "no, they're on", "clear"), ("tag", "no, why? A two", "lock"),
    ("dead_control", "no, zero on all of them", "meter_after"), ("fit", "no it's fine, nothing unsafe", "fit"),
])  # fmt: skip
def test_a_no_to_the_doubt_may_have_the_answer_behind_it(step: str, said: str, behind: str):
    talk = Talk().until(Rack("injection_coil_failed"), step)
    talk.hear("the wobbly thing sits sideways")
    assert "Is something not safe?" in talk.said
    assert talk.hear(said).asked.split(":")[0] == behind
    assert not talk.broken()


@pytest.mark.parametrize("said", ["no, not locked", "no, it's not on", "no it isn't", "no locked by him"])
def test_a_no_with_anything_else_behind_it_is_none(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "lock").hear("the wobbly thing sits sideways")
    assert "locked_out" not in talk.hear(said).readings


@pytest.mark.parametrize(("step", "said"), [("covers", "done"), ("dead_power", "zero"), ("start", "started"), ("lock", "locked")])
def test_nothing_that_is_acknowledged_or_proved_counts_over_the_doubt(step: str, said: str):
    talk = Talk().until(Rack("injection_coil_failed"), step)
    talk.hear("the wobbly thing sits sideways")
    assert "Is something not safe?" in talk.said
    talk.hear(said, said, said)
    assert talk.asked == f"{step}:confirm"
