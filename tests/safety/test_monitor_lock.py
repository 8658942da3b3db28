"""Lock and proof, S1 to S7: each rule broken on paper is found, and kept it is silent."""

import pytest

from tests.safety.paper import Paper, demo

LIFT = "Lift one wire of the injection coil. Coil ohms?"


def test_hands_go_in_only_while_the_panel_is_proved_dead():
    assert Paper().arrives().cautions("coil").asks("injection_coil_ohms", LIFT).broken == {"S1"}
    assert Paper().proves_dead().asks("injection_coil_ohms", LIFT).broken == set()


@pytest.mark.parametrize("words", [
    "Put the wire back. Say done.", "Leads off. Say done.", "Press the starter in by hand. Its poles?",
    "Take the jumper out. Say done.", "Unplug the module. Say done.", "Put the start control back as it was. Say done.",
    "Line fuses, checked dead: good?",
])  # fmt: skip
def test_a_step_whose_label_was_lost_is_found_by_what_it_tells_the_technician_to_do(words: str):
    assert "S1" in Paper().arrives().cautions("restart").asks("command", words).broken
    assert "S1" not in Paper().proves_dead().asks("command", words).broken


def test_a_step_that_tells_nothing_to_the_hands_needs_no_proof():
    assert Paper().arrives().asks("command", "The other glasses: all low, or others normal?").broken == set()


def test_a_meter_that_was_not_tried_again_makes_no_proof():
    paper = Paper().arrives().cautions("coil").locks()
    paper.reads(meter_proved_before=True).asks("dead_volts.power").answers(0.0, "zero")
    paper.asks("dead_volts.control").answers(0.0, "zero")
    assert paper.asks("injection_coil_ohms", LIFT).broken == {"S1"}


def test_the_answers_of_the_proof_come_in_their_order_and_one_at_a_time():
    paper = Paper().arrives().cautions("coil").locks()
    paper.asks("dead_volts.power").answers(0.0, "zero").reads(meter_proved_before=True)
    paper.asks("dead_volts.control").answers(0.0, "zero").reads(meter_proved_after=True)
    assert paper.asks("injection_coil_ohms", LIFT).broken == {"S2"}
    assert Paper().arrives().cautions("lock_out").asks("panel_tag", "Tag, and locked?", "locked_out").broken == {"S2"}


def test_an_answer_of_the_proof_that_was_not_asked_for_does_not_count():
    paper = Paper().arrives().cautions("lock_out").asks("panel_tag").answers("a two").answers(True, "locked", "locked_out")
    assert paper.asks("meter_proved_before").broken == {"S2"}


def test_a_meter_that_fails_afterwards_voids_every_circuit():
    paper = Paper().arrives().cautions("coil").locks()
    paper.reads(meter_proved_before=True).asks("dead_volts.power").answers(0.0, "zero")
    paper.asks("dead_volts.control").answers(0.0, "zero").asks("meter_proved_after").answers("no", "it failed")
    assert paper.reads(meter_proved_after=True).asks("injection_coil_ohms", LIFT).broken == {"S2"}
    paper = Paper().arrives().cautions("coil").locks().measures().asks("meter_proved_after").answers("no", "it failed")
    assert paper.measures().asks("injection_coil_ohms", LIFT).broken == set()


def test_after_a_second_source_the_way_back_is_the_tag():
    paper = Paper().arrives().cautions("coil").locks().reads(meter_proved_before=True)
    paper.asks("dead_volts.power").answers(120.0, "one twenty").says("Stop. Not dead. Find the second source.")
    assert paper.asks("dead_volts.power").broken == {"S2"}


def test_the_second_source_locked_at_its_tag_lets_the_proof_be_made_anew():
    paper = Paper().arrives().cautions("coil").locks().reads(meter_proved_before=True)
    paper.asks("dead_volts.power").answers(120.0, "one twenty").says("Stop. Not dead. Find the second source.")
    paper.asks("panel_tag").answers("a two").asks("locked_out").answers(True)
    assert paper.measures().asks("injection_coil_ohms", LIFT).broken == set()


@pytest.mark.parametrize(("value", "more"), [(-12.0, {}), (2.0, {"low": 1.0, "high": 9.0}), (12.0, {}), ("none_present", {})])
def test_volts_count_by_their_magnitude_and_their_upper_end_and_never_as_a_word(value: object, more: dict[str, float]):
    paper = Paper().arrives().cautions("coil").locks().reads(meter_proved_before=True)
    paper.asks("dead_volts.power").answers(value, "twelve", **more).says("Not dead. Measure again.")
    paper.asks("dead_volts.control").answers(0.0, "zero").reads(meter_proved_after=True)
    assert paper.asks("injection_coil_ohms", LIFT).broken == {"S3"}


def test_over_thirty_volts_it_is_said_that_it_is_not_dead():
    paper = Paper().arrives().locks().reads(meter_proved_before=True).asks("dead_volts.power").answers(208.0, "two oh eight")
    assert paper.asks("panel_tag").broken == {"S3"}


@pytest.mark.parametrize("kind", ["call_resumed", "proof_ended"])
def test_a_proof_ends_with_what_interrupts_the_call(kind: str):
    paper = Paper().proves_dead().fact(kind, reason="a pause").reads(lock_still_on="yes", others_clear=True)
    paper.asks("command", "Still hooked up: your lock, panel cover off.").done("understood").cautions("coil")
    assert paper.asks("injection_coil_ohms", LIFT).broken & {"S1", "S4"}


def test_a_proof_ends_with_power_with_the_lock_and_with_thirty_minutes_away():
    paper = Paper().proves_dead().ready_for_live_work().asks("control_power_on", "Power on.").answers(True)
    assert "S4" in paper.asks("injection_coil_ohms", LIFT).broken
    assert "S4" in Paper().proves_dead().made_ready().reads(lock_removed=True).asks("injection_coil_ohms", LIFT).broken
    away = Paper().proves_dead()
    for _ in range(4):
        away.asks("oil_level").after(600).answers("normal")
    assert away.asks("injection_coil_ohms", LIFT).broken == {"S4"}


def test_two_answers_of_one_proof_lie_no_further_apart_than_it_lasts():
    paper = Paper().arrives().cautions("coil").locks().reads(meter_proved_before=True)
    paper.asks("dead_volts.power").answers(0.0, "zero")
    for _ in range(2):
        paper.asks("oil_level").after(1000).answers("normal")
    paper.asks("dead_volts.control").answers(0.0, "zero").reads(meter_proved_after=True)
    assert paper.asks("injection_coil_ohms", LIFT).broken == {"S4"}


def test_readings_of_another_machine_do_not_stand_for_this_one():
    paper = Paper().arrives().ready_for_live_work().asks("compressor").answers("three")
    assert paper.asks("control_volts", "Control voltage?").broken == {"S8"}
    locked = Paper().proves_dead().asks("compressor").answers("three", corrected=True)
    assert locked.asks("product_state").broken == {"S2"}


def test_the_lock_is_off_said_at_any_question_ends_the_proof():
    paper = Paper().proves_dead().asks("oil_level").hears("the lock is off", "not understood")
    assert paper.asks("injection_coil_ohms", LIFT).broken == {"S4"}


def test_a_correction_to_what_is_not_dead_ends_the_proof():
    paper = Paper().proves_dead().asks("oil_level").hears("correction").answers(9.0, "nine", "dead_volts.power", corrected=True)
    assert paper.says("Not dead.").asks("injection_coil_ohms", LIFT).broken == {"S4"}


def test_power_off_under_a_lock_that_stayed_on_stands_for_tag_and_lock():
    paper = Paper().proves_dead().ready_for_live_work().asks("control_power_on", "Power on.").answers(True)
    paper.asks("control_power_off", "Power off.").answers(True).measures()
    assert paper.asks("injection_coil_ohms", LIFT).broken == set()


@pytest.mark.parametrize("missing", ["lock", "hooked up", "clear"])
def test_after_a_resume_lock_what_is_hooked_up_and_everybody_clear_are_asked_anew(missing: str):
    paper = Paper().proves_dead().asks("oil_level").fact("call_resumed", reason="killed").asks("oil_level").answers("normal")
    if missing != "lock":
        paper.reads(lock_still_on="yes")
    if missing != "hooked up":
        paper.asks("command", "Still hooked up: your lock, panel cover off.").done("understood")
    if missing != "clear":
        paper.reads(others_clear=True)
    assert paper.cautions("coil").measures().asks("injection_coil_ohms", LIFT).broken >= {"S5"}


def test_asked_anew_after_a_long_pause_the_work_goes_on():
    paper = Paper().proves_dead().asks("oil_level").after(31 * 60).answers("normal").asks("lock_still_on").answers("yes")
    paper.asks("command", "Still hooked up: your lock, panel cover off.").done("understood").reads(others_clear=True)
    assert paper.cautions("coil").measures().asks("injection_coil_ohms", LIFT).broken == set()


def test_a_lock_that_stops_the_rack_is_told_to_the_store_first():
    site = demo(control_isolator_stops="rack")
    assert Paper(site).arrives().cautions("lock_out", "restart").asks("locked_out", "Your own lock on.").broken == {"S6"}
    told = Paper(site).arrives().cautions("lock_out").asks("store_told", "This stops rack A. Store told?").answers(True)
    assert told.asks("locked_out", "Your own lock on.").broken == set()


@pytest.mark.parametrize("said", [
    "someone else's lock is on there", "there's another lock on it", "his lock is on", "that's not my lock",
])  # fmt: skip
def test_another_persons_lock_stops_the_work_until_its_owner_has_taken_it_off(said: str):
    paper = Paper().arrives().cautions("lock_out").asks("locked_out", "Your own lock on. Locked?").hears(said, "not understood")
    wrong = paper.says("Stop. Its owner takes it off.").asks("meter_proved_before")
    assert wrong.broken == {"S7"}
    paper = Paper().arrives().cautions("lock_out").asks("locked_out", "Your own lock on. Locked?").hears(said, "not understood")
    paper.says("Stop. Its owner takes it off.").asks("command", "Wait for the owner of that lock. Say gone.").done("it's gone")
    assert paper.asks("locked_out", "Your own lock on. Locked?").broken == set()


def test_no_prompt_asks_for_another_persons_lock_to_be_taken_off():
    assert "S7" in Paper().arrives().asks("command", "Take the other lock off. Say done.").broken
