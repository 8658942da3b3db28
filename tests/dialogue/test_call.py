"""What a call promises, on paper."""

from tests.simulated import Rack
from tests.talk import Talk


def at(step: str, fault: str = "none") -> Talk:
    return Talk().until(Rack(fault), step)


def test_no_word_opens_a_hands_in_step_only_a_number_does():
    talk = at("dead_power").hear("nothing")
    assert "Say the number" in talk.said
    assert talk.asked == "dead_power:dead_volts.power"


def test_over_the_limit_is_not_dead_and_is_measured_again():
    talk = at("dead_power").hear("five")
    assert "Not dead. Measure again." in talk.said
    assert talk.asked == "dead_power:dead_volts.power"


def test_a_second_source_stops_the_work():
    talk = at("dead_control").hear("one twenty")
    assert "Stop. Not dead. Find the second source." in talk.said
    assert not talk.dialogue.state.dead


def test_the_neighbours_tag_is_refused():
    talk = at("tag").hear("a three")
    assert "another machine's tag" in talk.said
    assert talk.asked == "tag:panel_tag"


def test_another_persons_lock_stops_the_call():
    talk = at("lock").hear("someone else's is on there")
    assert talk.said.startswith("Stop.")
    assert "locked_out" not in talk.readings


def test_a_doubtful_reading_counts_only_once_confirmed():
    talk = at("rack_suction").hear("twelve", sure=False)
    assert talk.said.endswith("Correct?")
    assert "rack_suction_pressure" not in talk.readings
    talk.hear("yes")
    assert talk.readings["rack_suction_pressure"] == 12


def test_a_value_refused_at_read_back_is_not_taken():
    talk = at("rack_suction").hear("fifty", sure=False).hear("no")
    assert "rack_suction_pressure" not in talk.readings
    assert talk.asked == "rack_suction:rack_suction_pressure"


def test_discharge_below_suction_is_asked_back():
    talk = at("rack_suction").hear("forty", "twelve")
    assert "below the suction" in talk.said


def test_a_reading_can_be_corrected_by_name_at_any_time():
    talk = at("glass").hear("correction rack suction", "fourteen")
    assert talk.readings["rack_suction_pressure"] == 14
    assert talk.asked.startswith("glass:")


def test_skip_leaves_a_step_only_once_confirmed():
    talk = at("glass").hear("skip this")
    assert talk.said == "Skip this?"
    talk.hear("no")
    assert talk.asked.startswith("glass:")
    talk.hear("skip this", "yes")
    assert talk.dialogue.state.answered["glass"] == "skipped"


def test_an_emergency_is_answered_at_once_from_anywhere():
    for step in ("food", "coil", "feed", "watch_first"):
        talk = at(step).hear("emergency")
        assert talk.said.startswith("Hands off."), step
        assert not talk.dialogue.state.dead


def test_closing_early_is_no_way_past_a_jumper():
    talk = at("clip_leads").hear("finish job", "yes")
    assert {"jumper_fitted", "start_blocked"} <= talk.open
    talk.to_the_seal(Rack("none", locked=True, powered=False))
    assert talk.dialogue.state.open == {}
    assert "jumper_fitted" in talk.dialogue.state.cleared


def test_the_proof_lapses_away_from_the_panel():
    talk = at("coil").wait(31 * 60)
    assert not talk.dialogue.state.dead
    assert talk.asked.split(":")[1] in ("meter_proved_before", "panel_tag")


def test_thirty_seconds_of_feed_and_the_power_goes_off():
    talk = at("feed").wait(31)
    assert "Power off." in talk.said
    assert talk.asked.startswith("power_off:")
    assert "liquid_in_compressor" in talk.open


def test_no_start_while_liquid_stands_in_the_machine():
    rack = Rack("none", {"crankcase_heater": "none"})
    talk = Talk().to_the_seal(rack)
    assert talk.dialogue.state.started_at is None
    assert "liquid_in_compressor" in talk.dialogue.state.handed_over


def test_a_metal_ladder_means_no_live_work():
    rack = Rack("none", {"ladder_kind": "metal"})
    talk = Talk().to_the_seal(rack)
    assert "control_power_on" not in talk.readings


def test_an_alarm_keeps_the_technician_out():
    talk = at("fit").hear("ready", "alarm")
    assert "Stay out. Ventilate from outside." in talk.said
    assert "panel_tag" not in talk.readings


def test_there_is_one_reset_a_call():
    talk = Talk().to_the_seal(Rack("none"))
    resets = [f for _, f in talk.facts if type(f).__name__ == "StepDone" and f.step == "reset"]
    assert len(resets) == 1


def test_commas_part_the_readings_of_one_breath():
    talk = at("watch_first", "injection_coil_failed").hear("ten, two ten")
    assert (talk.readings["watch.suction_pressure"], talk.readings["watch.discharge_temperature"]) == (10, 210)


def test_a_pause_takes_no_answer():
    talk = at("glass").hear("hold on", "full")
    assert "sight_glass" not in talk.readings
    talk.hear("continue", "full")
    assert talk.readings["sight_glass"] == "full"
