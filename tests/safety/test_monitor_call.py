"""Cautions, hand-over, emergency, answers, conclusions and names, S36 to S42: broken on paper found, kept silent."""

import pytest

from tests.safety.paper import Paper, with_rack

EMERGENCY = ("Hands off. Power off at the disconnect, if safe. Touch nobody until the power is off. Out, upwind. "
             "Call emergency services: the address is four twelve Tallow Street, loading dock side.")  # fmt: skip


@pytest.mark.parametrize(("id_", "words", "caution"), [
    ("injection_coil_ohms", "Lift one wire of the injection coil. Ohms?", "coil"),
    ("command", "Hoses off. Say done.", "liquid_and_cold"),
    ("command", "Open the injection hand valve. Say done.", "valves"), ("jumper_fitted", "Fit the jumper.", "jumper"),
    ("condenser_face", "Condenser face?", "fans"), ("command", "Terminal cover on, every bolt. Say done.", "terminals"),
])  # fmt: skip
def test_a_caution_is_spoken_and_acknowledged_before_what_it_belongs_to(id_: str, words: str, caution: str):
    paper = Paper().arrives().cautions("restart").locks().measures().asks(id_, words)
    assert paper.broken == {"S36"}
    assert f"without the caution '{caution}'" in paper.complaints[0]


def test_a_caution_whose_words_were_not_spoken_is_no_caution():
    paper = Paper().arrives().asks("product_state").hears("understood").fact("caution_acknowledged", caution="coil", said="yes")
    assert paper.asks("product_state").broken == {"S36"}


def test_a_caution_is_spoken_in_full_the_first_time():
    assert Paper().arrives().cautions("coil", form="short").asks("product_state").broken == {"S36"}
    assert Paper().arrives().cautions("coil").after(61).cautions("coil", form="short").asks("product_state").broken == set()


def test_a_caution_that_is_answered_after_a_long_pause_was_spoken():
    paper = Paper().arrives().says("Never powered off its stem. It burns. Power off before it is lifted.", "caution")
    paper.fact("ask", step="next/coil", asking="command", also=[], of="", go_ahead=[], unit=None, quiet=True).turn()
    paper.after(32 * 60)
    paper.hears("understood", "command: continue").fact("caution_acknowledged", caution="coil", said="understood")
    assert paper.asks("product_state").broken == set()


def test_the_same_caution_is_not_said_twice_within_a_minute():
    assert Paper().arrives().cautions("coil", "coil").asks("product_state").broken == {"S36"}
    assert Paper().arrives().cautions("coil").after(61).cautions("coil").asks("product_state").broken == set()


def test_the_jumpers_caution_stands_alone():
    paper = Paper().arrives().cautions("coil", "jumper").hears("understood")
    paper.fact("caution_acknowledged", caution="coil", said="understood")
    paper.fact("caution_acknowledged", caution="jumper", said="understood")
    assert paper.asks("product_state").broken == {"S36"}


def test_the_restart_caution_before_a_start_stands_alone():
    paper = Paper().proves_dead().made_ready().hears("understood").fact("caution_acknowledged", caution="coil", said="understood")
    paper.fact("caution_acknowledged", caution="restart", said="understood")
    assert paper.asks("lock_removed", "Your lock off?").broken == {"S36"}


def test_the_refrigerants_own_caution_comes_before_the_first_act_at_the_machine():
    site = with_rack(refrigerant="R454C", closed_room=False)
    assert Paper(site).arrives().cautions("restart").asks("reset_device", "Reset: intact?").broken == {"S36"}
    assert Paper(site).arrives().cautions("restart", "flammable").asks("reset_device", "Reset: intact?").broken == set()


def test_liquid_in_the_machine_is_said_before_anything_else_is_asked():
    paper = Paper().proves_dead().asks("injection_after", "Stopped?").answers("feeding").opens("liquid_in_compressor")
    assert paper.asks("oil_level").broken == {"S36"}


@pytest.mark.parametrize("id_", ["jumper_fitted", "leads_on", "wire_lifted", "start_blocked", "terminal_cover", "hose_on",
                                 "clamp_left_on", "liquid_section_closed"])  # fmt: skip
def test_what_is_never_handed_over_is_not_handed_over(id_: str):
    paper = Paper().proves_dead().fact("obligation_handed_over", id=id_, owner="supervisor", hours=1, who="Ada")
    assert paper.asks("product_state").broken == {"S37"}


def test_a_cover_goes_to_the_next_person_only_with_the_machine_locked_and_tagged_out():
    paper = Paper().arrives().fact("obligation_handed_over", id="panel_cover", owner="supervisor", hours=0, who="Ada")
    assert paper.asks("product_state").broken == {"S37"}
    paper = Paper().proves_dead().fact("obligation_handed_over", id="panel_cover", owner="supervisor", hours=0, who="Ada")
    assert paper.asks("product_state").broken == set()


def test_from_outside_an_alarm_locked_and_tagged_stands_for_everything():
    paper = Paper().proves_dead().asks("product_state").hears("alarm").answers("alarm", "alarm", "detector_state")
    paper.says("Stay out. Ventilate from outside.")
    paper.fact("obligation_handed_over", id="leads_on", owner="supervisor", hours=0, who="Ada")
    assert paper.asks("store_told").broken == set()


def test_a_switch_in_hand_is_taken_over_within_a_day():
    paper = Paper().arrives().fact("obligation_handed_over", id="switch_in_hand", owner="supervisor", hours=48, who="Ada")
    assert paper.asks("product_state").broken == {"S37"}


def test_nothing_is_sealed_with_anything_open_or_without_consent():
    paper = Paper().proves_dead().asks("close_consent", "Close the call?").answers(True).fact("call_sealed", summary="")
    assert paper.turn().broken == {"S37"}
    paper = Paper().arrives().asks("close_consent", "Close the call?").answers(True).fact("call_sealed", summary="")
    assert paper.turn().broken == set()
    assert Paper().arrives().fact("call_sealed", summary="").turn().broken == {"S37"}


def test_a_call_that_does_not_seal_is_complained_of_at_its_end():
    paper = Paper().arrives()
    assert "did not seal" in paper.monitor.finish(paper.seen).complaints[0]


@pytest.mark.parametrize(("said", "true"), [
    ("Left locked off.", False), ("Running, not settled.", True), ("Left as found, not started.", False),
])  # fmt: skip
def test_what_is_said_at_the_end_is_what_is_true_then(said: str, true: bool):
    paper = Paper().proves_dead().runs().asks("close_consent", f"Coil open, proven. {said} Close the call?")
    assert paper.broken == (set() if true else {"S37"})


def test_after_emergency_the_key_phrases_come_in_their_order():
    def call(words: str) -> Paper:
        paper = Paper().arrives().asks("product_state").hears("emergency", "command: emergency")
        return paper.fact("emergency_declared", said="emergency").says(words, "caution").asks("command")

    assert call(EMERGENCY).broken == set()
    assert call(EMERGENCY.replace("Touch nobody until the power is off. ", "")).broken == {"S38"}
    assert call("Out, upwind. " + EMERGENCY.replace("Out, upwind. ", "")).broken == {"S38"}


def test_emergency_inside_a_sentence_is_an_emergency():
    paper = Paper().arrives().asks("product_state").hears("help this is an emergency", "not understood").asks("product_state")
    assert paper.broken == {"S38"}


@pytest.mark.parametrize("said", ["he's hurt", "there's a fire", "help me", "call an ambulance", "i got shocked"])
def test_words_of_distress_get_the_word_for_an_emergency(said: str):
    assert Paper().arrives().asks("product_state").hears(said, "not understood").asks("product_state").broken == {"S38"}
    paper = Paper().arrives().asks("product_state").hears(said, "not understood")
    assert paper.says("If it is an emergency, say emergency.").asks("product_state").broken == set()


def test_after_an_emergency_everybody_and_the_room_come_first():
    def over() -> Paper:
        paper = Paper().arrives().asks("product_state").hears("emergency", "command: emergency")
        paper.fact("emergency_declared", said="emergency").says(EMERGENCY, "caution").asks("command")
        return paper.hears("continue", "command: continue").fact("emergency_over", said="continue")

    assert over().asks("product_state").broken == {"S38"}
    assert over().asks("everybody_safe").answers("yes").asks("product_state").broken == {"S38"}
    assert over().reads(everybody_safe="yes", room_safe="yes").asks("product_state").broken == set()
    assert over().reads(everybody_safe="no").asks("room_safe").broken == {"S38"}


def test_nothing_is_acknowledged_and_nothing_read_without_words():
    paper = Paper().arrives().asks("product_state").fact("caution_acknowledged", caution="room", said="understood")
    assert "S39" in paper.asks("product_state").broken
    paper = Paper().arrives().asks("crankcase_pressure")
    paper.fact("reading_taken", id="crankcase_pressure", value=12.0, unit="psig", step="x", said="twelve", confirmed="read back")
    assert paper.asks("product_state").broken == {"S39"}


def test_no_word_becomes_a_zero():
    paper = Paper().arrives().asks("rack_suction_pressure").answers(0.0, "it's cold")
    assert paper.asks("product_state").broken == {"S39"}
    assert Paper().arrives().asks("rack_suction_pressure").answers(0.0, "flat").asks("product_state").broken == set()


def test_one_value_joins_readings_of_one_round():
    def ratio(paper: Paper) -> Paper:
        joined = ["rack_suction_pressure", "rack_discharge_pressure"]
        return paper.fact("value_derived", id="ratio", value=8.0, unit="", source=joined)

    assert ratio(Paper().arrives().reads(rack_suction_pressure=10.0, rack_discharge_pressure=210.0)).turn().broken == {"call"}
    old = Paper().arrives().reads(rack_suction_pressure=10.0).asks("rack_discharge_pressure").after(20 * 60).answers(210.0)
    assert ratio(old).asks("product_state").broken == {"S40"}


def test_readings_before_and_after_a_start_are_not_joined():
    paper = Paper().proves_dead().reads(rack_discharge_pressure=210.0).runs().reads(watch__suction_pressure=10.0)
    paper.fact("value_derived", id="ratio", value=8.0, unit="", source=["watch.suction_pressure", "rack_discharge_pressure"])
    assert paper.asks("watch.amps").broken == {"S40"}


def test_no_fault_found_is_barred_while_anything_contradicts_it():
    def watched(line: float = 210.0, minutes: int = 25) -> Paper:
        paper = Paper().proves_dead().runs().asks("watch.suction_pressure").after(60 * minutes).answers(10.0)
        return paper.asks("watch.discharge_temperature").answers(line)

    assert watched().finds("no_fault_found").asks("close_consent").broken == set()
    assert watched(line=240.0).finds("no_fault_found").asks("close_consent").broken == {"S41"}
    assert watched(minutes=10).finds("no_fault_found").asks("close_consent").broken == {"S41"}
    assert watched().finds("head_fan_failed").finds("no_fault_found").asks("close_consent").broken == {"S41"}


def test_no_cause_found_is_not_said_over_a_proven_cause():
    paper = Paper().arrives().finds("head_fan_failed").asks("close_consent", "No cause found. Close the call?")
    assert paper.broken == {"S41"}


def test_somebody_is_named_before_a_lock_and_what_is_hooked_up_carries_the_name():
    nobody = Paper().reads(site="north", rack="a", compressor="two").cautions("room", "lock_out")
    assert nobody.asks("locked_out", "Your own lock on. Locked?").broken == {"S42"}
    paper = Paper().arrives().fact("obligation_opened", id="leak_open", step="x", detail="", who="Bert")
    assert paper.asks("product_state").broken == {"S42"}


def test_a_turn_that_asks_nothing_is_complained_of():
    assert Paper().arrives().says("Well.").turn().broken == {"call"}
    assert Paper().arrives().says("Well.").fact("end", state="interrupted").turn().broken == set()
