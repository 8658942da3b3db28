"""What is said of work that was said to be done: undone, guessed, without a tool, or not what it was taken for."""

from pathlib import Path

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, AskFor, NotUnderstood, Question, Remark
from assistant.language.pieces import understand_in_pieces
from assistant.profile import DEMO_SITE, load_profile
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def at(fault: str, step: str) -> tuple[Rack, Talk]:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return rack, (Talk(site_of(fault)) if fault in FAULTS else Talk()).until(rack, step)


@pytest.mark.parametrize("said", ["actually i put the old one back", "the coil's on order", "i never replaced it",
                                  "it's the wrong size coil", "they didn't have the coil", "it's not fixed"])  # fmt: skip
def test_what_was_not_repaired_after_all_is_asked_about_again_before_the_start(said: str):
    _, talk = at("injection_coil_failed", "clear")
    talk.hear(said)
    assert talk.asked == "repaired:command"


def test_at_the_start_the_panel_is_proved_dead_again_before_the_repair():
    rack, talk = at("injection_coil_failed", "start")
    talk.hear("i put the old coil back")
    assert talk.asked == "tag:panel_tag"
    talk.until(rack, "repaired")
    assert talk.dialogue.state.lock.dead
    talk.hear("leave it locked").to_the_seal(rack)
    assert "Left locked off" in " ".join(talk.spoken[-4:])
    assert not talk.broken()


@pytest.mark.parametrize(("fault", "said"), [
    ("injection_coil_failed", "actually i put the old one back"), ("condenser fan", "we didn't replace the fan"),
])  # fmt: skip
def test_a_machine_that_was_started_on_a_repair_that_is_none_stops(fault: str, said: str):
    rack, talk = at(fault, "watch_second")
    talk.hear(said)
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert "Stopped, locked and left off" in " ".join(talk.spoken[-4:])
    assert not talk.broken()


@pytest.mark.parametrize("said", ["kim just plugged the jumper back in", "i'll leave the jumper, he needs it",
                                  "i put a bigger fuse in"])  # fmt: skip
def test_nothing_runs_on_a_bypass_that_is_named_in_the_watch(said: str):
    _, talk = at("injection_coil_failed", "watch_second")
    talk.hear(said)
    assert talk.asked.startswith("stop_now")


@pytest.mark.parametrize("said", ["he's hurt", "he's got his arm in the fan", "i feel dizzy"])
@pytest.mark.parametrize("step", ["unlock", "start"])
def test_nothing_is_let_run_in_the_same_breath_as_help_is_offered(step: str, said: str):
    rack, talk = at("injection_coil_failed", step)
    talk.hear(said)
    assert "say emergency" in talk.said
    assert not talk.asked.startswith(step)
    talk.until(rack, step)
    assert "others_clear" in [q for q in rack.asked[-4:] if q]


def test_who_gets_dizzy_at_the_charge_goes_out_and_the_room_is_safe_before_anything_else():
    _, talk = at("refrigerant_low", "charge")
    talk.hear("i feel dizzy")
    assert talk.said.startswith("Out, into fresh air.")
    assert talk.asked.endswith(":room_safe")


@pytest.mark.parametrize("said", ["there's still liquid in it", "the crankcase is ice cold", "it's full of liquid"])
def test_liquid_named_before_the_start_is_boiled_out_under_the_lock_first(said: str):
    """Common practice: the heater on for its time, the oil read, the outside felt, then a throttled first start."""
    rack, talk = at("injection_coil_failed", "start")
    talk.hear(said)
    assert "liquid_in_compressor" in talk.open
    talk.until(rack, "liquid_oil")
    assert talk.dialogue.state.lock.locked
    talk.until(rack, "first_start_valve").to_the_seal(rack)
    assert talk.dialogue.state.started_at
    assert talk.open == set()
    assert not talk.broken()


@pytest.mark.parametrize("said", ["correction crankcase and heads frosted", "correction oil level foaming"])
@pytest.mark.parametrize("step", ["valves", "unlock", "start"])
def test_liquid_that_was_taken_for_gone_is_back_by_a_reading_put_right(step: str, said: str):
    """Section of the trade on liquid: oil neither high nor foaming, crankcase and heads not cold or frosted, or no start."""
    rack, talk = at("none", step)
    talk.hear(said)
    assert "liquid_in_compressor" in talk.open
    talk.until(rack, "liquid_oil")
    assert talk.dialogue.state.lock.locked
    for asked in ("valves", "covers", "clear", "unlock", "first_start_valve", "start"):
        assert talk.until(rack, asked).asked.startswith(asked), asked
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize(("step", "said"), [
    ("clear", "the lights tripped again on their own"), ("start", "oil's gone from the glass"),
    ("high_fans", "there's ice on the roof"), ("high_fans", "kids are up here"),
])  # fmt: skip
def test_what_means_nothing_where_it_is_said_is_asked_about(step: str, said: str):
    _, talk = at("condenser fan", step)
    talk.hear(said)
    assert talk.said.startswith(("Not understood. Is something not safe?", "Then no start."))


@pytest.mark.parametrize("said", ["i closed the discharge valve instead", "i put it in as liquid into the suction"])
def test_at_an_opened_circuit_nothing_that_was_said_is_passed_over(said: str):
    _, talk = at("refrigerant_low", "leak_section" if "valve" in said else "charge")
    talk.hear(said)
    assert talk.said.startswith("Not understood. Is something not safe?")


def test_pressure_that_comes_back_is_no_step_back():
    _, talk = at("refrigerant_low", "leak_mend")
    talk.hear("pressure is coming back")
    assert talk.asked == "leak_zero:isolated_pressure"


def test_the_owner_who_wants_it_running_runs_nothing():
    _, talk = at("injection_coil_failed", "coil")
    talk.hear("the owner wants it running now")
    assert talk.dialogue.state.lock.dead
    assert talk.readings["running_now"] == "off"


@pytest.mark.parametrize("said", ["no scale with me", "i guessed about forty", "forty by feel", "the scale's broken",
                                  "nothing to weigh with"])  # fmt: skip
@pytest.mark.parametrize("id_", ["refrigerant_added", "refrigerant_recovered"])
def test_what_was_not_weighed_is_no_number_of_pounds(id_: str, said: str):
    assert understand_in_pieces(Question(id_), said) == AskFor("Weigh it, then say the number.")


@pytest.mark.parametrize(("id_", "said"), [
    ("condenser_fans_running", "no ladder"), ("refrigerant_added", "no gauges here"),
    ("refrigerant_recovered", "no recovery machine"),
    ("refrigerant_added", "the cylinder's a four oh four"),
    ("refrigerant_added", "it's four oh seven a"),
    ("refrigerant_added", "actually i put the old one back"),
])  # fmt: skip
def test_a_tool_that_is_missing_a_gas_and_a_thing_are_no_number(id_: str, said: str):
    assert understand_in_pieces(Question(id_), said) == NotUnderstood()


@pytest.mark.parametrize(("id_", "said"), [
    ("condenser_fans_running", "none"), ("refrigerant_added", "none"), ("refrigerant_added", "about forty"),
    ("tripped_count", "just the last one"),
])  # fmt: skip
def test_what_is_told_as_it_is_stays_an_answer(id_: str, said: str):
    assert isinstance(understand_in_pieces(Question(id_), said), Answer)


@pytest.mark.parametrize("id_", ["dead_volts.power", "dead_volts.control", "isolated_pressure"])
def test_a_zero_that_lets_hands_in_is_asked_back_where_it_is_only_thought(id_: str):
    meaning = understand_in_pieces(Question(id_), "zero i think")
    assert isinstance(meaning, Answer)
    assert meaning.parts[0].doubt


@pytest.mark.parametrize("said", ["at a thousand volts", "tested at two thousand five hundred",
                                  "zero i'm at the motor terminals"])  # fmt: skip
def test_an_insulation_test_at_other_volts_or_at_the_terminals_is_asked_about(said: str):
    _, talk = at("winding grounded", "insulation")
    talk.hear(said)
    assert talk.said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize(("said", "about"), [
    ("the relief just let go", "alarm"), ("the disconnect is back on", "live"), ("kim pulled the disconnect back in", "live"),
    ("lost my meter, using the pen tester", "misread"), ("my lock's broken", "lock off"), ("kim will finish it", "takes over"),
])  # fmt: skip
def test_further_words_of_what_is_not_safe(said: str, about: str):
    assert understand(Question("injection_coil_ohms"), said) == Remark(about)


def test_a_starter_that_clicks_in_the_feed_test_ends_it():
    _, talk = at("none", "feed")
    talk.hear("the starter clicked")
    assert talk.asked.startswith("power_off")


@pytest.mark.parametrize("said", ["reset twice", "reset it three times", "i had to reset it twice"])
def test_a_reset_that_was_several_is_followed_by_none(said: str):
    rack, talk = at("injection_coil_failed", "reset")
    talk.hear(said)
    assert talk.asked == "tag:panel_tag"
    talk.to_the_seal(rack)
    assert talk.dialogue.state.started_at is None
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "locked the handle in the on position"), ("lock", "yes locked by the store"), ("lock", "locked. well, tagged"),
    ("first_start_valve", "done, shut it all the way"), ("dead_power", "zero to ground"),
    ("dead_power", "zero phase to phase"), ("jumper_out", "out and in again"),
])  # fmt: skip
def test_what_is_only_half_of_what_was_asked_is_no_answer(step: str, said: str):
    _, talk = at("none", step)
    talk.hear(said)
    assert talk.said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "locked by me"), ("dead_power", "zero on all six"), ("dead_power", "zero phase to phase and to ground"),
    ("jumper_out", "jumper's out, probe's back in"),
])  # fmt: skip
def test_the_whole_of_it_is_one(step: str, said: str):
    _, talk = at("none", step)
    talk.hear(said)
    assert not talk.asked.startswith(step)


@pytest.mark.parametrize("said", ["it went off on low", "the store turned it off", "i raised the trip",
                                  "i turned the high cutout up"])  # fmt: skip
def test_in_the_watch_it_is_heard_that_it_stands_or_runs_on_a_protection_set_out_of_its_way(said: str):
    rack, talk = at("injection_coil_failed", "watch_first")
    talk.hear(said)
    assert talk.asked.startswith(("tag", "stop_now"))
    talk.to_the_seal(rack)
    assert not talk.dialogue.state.running
    assert not talk.broken()


@pytest.mark.parametrize(("said", "told"), [
    ("frosting back to the compressor", "If it knocks, stop it"), ("oil pressure's gone", "Without oil it seizes: stop it"),
    ("it's slugging", "Then it stops."), ("the head is frosted over", "Then it stops."),
    ("no oil in the glass", "Without oil it seizes"),
])  # fmt: skip
def test_in_the_watch_liquid_that_comes_back_and_oil_that_goes_are_heard(said: str, told: str):
    _, talk = at("injection_coil_failed", "watch_first")
    assert talk.hear(said).said.startswith(told)


def test_a_switch_put_in_hand_by_somebody_is_not_forgotten():
    rack, talk = at("injection_coil_failed", "watch_first")
    talk.hear("kim put it in hand")
    assert "switch_in_hand" in talk.open
    talk.to_the_seal(rack)
    assert talk.open == set()


def test_a_machine_that_runs_over_its_high_pressure_control_is_stopped(tmp_path: Path):
    profile = tmp_path / "site.toml"
    was = "# high_cutout_psig = 350 "
    demo = DEMO_SITE.read_text(encoding="utf-8")
    assert was in demo
    profile.write_text(demo.replace(was, was.removeprefix("# "), 1), encoding="utf-8")
    rack = Rack("none")
    talk = Talk(load_profile(profile)).until(rack, "watch_last").hear("ten two ten three eighty twenty three")
    assert "Over its trip, and it has not tripped." in talk.said
    assert talk.asked.startswith("stop_now")
    talk.to_the_seal(rack)
    assert "Stopped, locked and left off" in talk.said or "Stopped, locked and left off" in " ".join(talk.spoken[-4:])


@pytest.mark.parametrize(("step", "said"), [("hand_over", "nobody"), ("tell_store", "no one to tell")])
def test_nobody_is_no_number_of_hours(step: str, said: str):
    _, talk = at("none", step)
    before = talk.readings.get("follow_up_in_hours")
    talk.hear(said)
    assert talk.readings.get("follow_up_in_hours") == before
    assert talk.asked.startswith(step)


def test_no_call_is_closed_in_the_same_breath_as_its_line_is_over_its_trip():
    _, talk = at("none", "consent")
    talk.hear("close it. line's at two eighty")
    assert not talk.dialogue.state.sealed
    assert talk.asked.startswith("stop_now")


@pytest.mark.parametrize("said", ["somebody bypassed the reset", "there's a jumper on it",
                                  "all good someone's wired the reset down"])  # fmt: skip
def test_a_protection_found_bypassed_by_a_look_is_on_record(said: str):
    rack, talk = at("none", "machine_look")
    talk.hear(said)
    assert "jumper_fitted" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


def test_a_fuse_that_was_made_bigger_is_a_bypass():
    _, talk = at("none", "output_fuse")
    talk.hear("blown, i put a bigger one")
    assert "jumper_fitted" in talk.open


def test_a_tag_that_is_only_thought_to_be_right_is_asked_back():
    _, talk = at("none", "tag")
    assert talk.hear("a two i think").asked == "tag:confirm"


@pytest.mark.parametrize(("step", "said"), [("coil", "four ten, powered"), ("state_now", "off, and it just started")])
def test_a_reading_that_cannot_be_as_it_is_told_is_none(step: str, said: str):
    _, talk = at("none", step)
    assert talk.hear(said).said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("winding grounded", "sensor_string", "two hundred with the megger"),
    ("winding grounded", "tester_off", "discharged straight away"),
    ("condenser fan", "high_fans", "four, i'm reaching in to clean"), ("condenser fan", "high_fans", "five and one's locked out"),
    ("condenser fan", "high_face", "plugged, fans are running while i clean"),
])  # fmt: skip
def test_how_it_was_done_beside_an_answer_is_asked_about(fault: str, step: str, said: str):
    _, talk = at(fault, step)
    assert talk.hear(said).said.startswith("Not understood. Is something not safe?")


@pytest.mark.parametrize(("fault", "step"), [("injection_coil_failed", "repaired"), ("none", "first_start_valve")])
def test_neither_the_repair_of_a_proven_cause_nor_the_throttled_valve_is_skipped_on_the_way_to_a_start(fault: str, step: str):
    _, talk = at(fault, step)
    talk.hear("skip", "yes")
    assert "That cannot be skipped." in talk.said
    assert talk.asked.startswith(step)


@pytest.mark.parametrize("said", [("finish", "yes"), ("no",)])
def test_an_emptied_section_is_not_opened_onto_a_leak_that_stays(said: tuple[str, ...]):
    rack, talk = at("refrigerant_low", "leak_mend")
    n = len(talk.spoken)
    talk.hear(*said).to_the_seal(rack)
    assert not [text for text in talk.spoken[n:] if "section's valves open" in text]
    assert "section shut" in " ".join(talk.spoken[-4:])
    assert talk.broken() == ()


def test_an_odd_word_at_the_caution_of_the_room_is_a_sentence_and_no_traceback():
    assert "Stay out." in Talk().hear("a two", "it's off already").said


def test_a_line_over_its_trip_named_at_the_front_is_an_answer_in_the_log():
    rack, talk = at("injection_coil_failed", "how_many_off")
    assert talk.hear("close it. line's at two eighty").to_the_seal(rack).broken() == ()
