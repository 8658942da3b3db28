"""What a call promises, on paper."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from assistant.call.check_in import CheckIn
from assistant.call.effects import Manner, Record
from assistant.call.heard import Heard
from assistant.call.prompts import derived
from assistant.call.replies import doubt
from assistant.language.meaning import Part
from assistant.profile import DEMO_SITE, load_profile
from tests.branch_rack import BranchRack
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
    assert "Stop. It is live. Not dead. Find the second source." in talk.said
    assert not talk.dialogue.state.lock.dead


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


def test_the_machine_is_corrected_until_its_panel_is_reached_and_not_after():
    talk = at("glass").hear("correction compressor", "three")
    assert talk.readings["compressor"] == "three"
    talk = at("coil")
    assert talk.dialogue.state.lock.dead
    talk.hear("correction compressor")
    assert talk.said.startswith("The panel belongs to this machine.")
    assert talk.asked.startswith("coil:")
    assert talk.readings["compressor"] == "two"


def test_a_tag_corrected_to_another_machines_ends_the_proof():
    talk = at("coil").hear("correction tag", "a three")
    assert "That is another machine's tag." in talk.said
    assert not talk.dialogue.state.lock.dead
    assert talk.asked.startswith("tag")


def test_a_tag_is_corrected_behind_the_caution_that_follows_going_back_after_a_kill():
    talk = Talk().until(BranchRack("none at the motor"), "poles")
    talk._take(talk.dialogue.resume(talk.now, "killed"))
    talk.hear("go back", "yes")
    assert talk.asked == "anew_lock:lock_still_on"
    talk.hear("yes", "understood", "clear", "understood", "understood", "correction tag", "a three")
    assert "That is another machine's tag." in talk.said
    assert talk.readings["panel_tag"] == "a three"


def test_no_power_comes_on_once_the_coil_turns_out_to_be_off_its_stem():
    talk = Talk().until(Rack("module_no_output"), "power_on_again")
    talk.hear("correction coil", "loose")
    assert talk.readings["coil_seated"] == "loose"
    assert not talk.asked.startswith("power_on_again")
    talk.to_the_seal(Rack("module_no_output", locked=True, powered=False))
    assert "power_on_again" not in talk.dialogue.state.answered


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
        assert not talk.dialogue.state.lock.dead


def test_closing_early_is_no_way_past_a_jumper():
    talk = at("clip_leads").hear("finish job", "yes")
    assert {"jumper_fitted", "start_blocked"} <= talk.open
    talk.to_the_seal(Rack("none", locked=True, powered=False))
    assert talk.dialogue.state.open == {}
    assert "jumper_fitted" in talk.dialogue.state.cleared


def test_the_proof_lapses_away_from_the_panel():
    talk = at("coil").wait(31 * 60)
    assert not talk.dialogue.state.lock.dead
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
    resets = [f for _, f in talk.facts if type(f).__name__ == "StepDone" and f.resets]
    assert len(resets) == 1


def test_commas_part_the_readings_of_one_breath():
    talk = at("watch_first", "injection_coil_failed").hear("ten, two ten")
    assert (talk.readings["watch.suction_pressure"], talk.readings["watch.discharge_temperature"]) == (10, 210)


def test_numbers_that_can_be_cut_in_several_ways_are_asked_back_together_and_none_counts_before_a_yes():
    talk = at("watch_first", "injection_coil_failed").hear("nine two fourteen")
    assert talk.said == "Suction nine, line two fourteen degrees, two one four. Correct?"
    assert "watch.suction_pressure" not in talk.readings

    assert talk.hear("no").asked == "watch_first:watch.suction_pressure"
    assert "watch.discharge_temperature" not in talk.readings

    talk.hear("nine two fourteen", "yes")
    assert (talk.readings["watch.suction_pressure"], talk.readings["watch.discharge_temperature"]) == (9, 214)


def test_a_pause_takes_no_answer():
    talk = at("glass").hear("hold on", "full")
    assert "sight_glass" not in talk.readings
    talk.hear("continue", "full")
    assert talk.readings["sight_glass"] == "full"


class Watched(Rack):
    """A machine whose watch reads what a test says, round by round."""

    rounds: tuple[str, ...] = ()

    def answer(self, ask: dict[str, Any]) -> str:
        if ask["asking"] == "watch.suction_pressure" and self.rounds:
            said, *rest = self.rounds
            self.rounds = tuple(rest)
            return said
        return super().answer(ask)


HOT = {
    "others_discharge_temperature": "two thirty five",
    "suction_temperature": "twenty", "discharge_temperature": "two forty", "suction_pressure": "ten",
    "discharge_pressure": "two ten", "condenser_fans_called": "six", "condenser_fans_running": "six",
    "condenser_face": "clean", "heat_reclaim": "off", "refrigerant_added": "forty pounds",
}  # fmt: skip


def watched(*rounds: str, until: str = "", **words: str) -> Talk:
    rack = Watched("none", words={**HOT, **words})
    rack.rounds = rounds
    return Talk().until(rack, until) if until else Talk().to_the_seal(rack)


def test_a_line_that_climbs_to_its_trip_is_called_out_with_the_minutes() -> None:
    talk = watched("twenty, one ninety", "eighteen, two thirty", until="watch_last")
    assert any("The line goes on rising: at its trip in two minutes." in said for said in talk.spoken)
    assert talk.dialogue.state.derived["minutes_to_trip"].value == pytest.approx(2.5, abs=0.2)


def test_a_machine_that_warms_up_is_left_to_warm_up() -> None:
    talk = watched("twenty, one fifty", "eighteen, one eighty", until="watch_last")
    assert "minutes_to_trip" not in talk.dialogue.state.derived


def test_one_minute_to_the_trip_is_one_minute() -> None:
    state = watched("twenty, one ninety", "eighteen, two thirty", until="watch_last").dialogue.state
    assert "at its trip in one minute." in derived(replace(state.derived["minutes_to_trip"], value=1.2), state)


def test_a_high_cutout_set_like_a_low_one_is_asked_back() -> None:
    talk = Talk().until(BranchRack("none at the high pressure"), "high_cutout").hear("six pounds")
    assert talk.said == "That is outside what is usual. Six. Correct?"
    assert talk.hear("no").hear("three fifty").readings["cutout_pressure"] == 350.0


def test_a_round_that_foretells_a_trip_brings_the_next_one_forward() -> None:
    talk = watched("twenty, one ninety", "eighteen, two thirty", until="watch_last")
    state = talk.dialogue.state
    assert state.started_at is not None
    assert talk.now - state.started_at < timedelta(minutes=12)  # planned at fifteen; the trip is foretold two minutes after ten
    assert "Next in one minute." in talk.spoken
    assert talk.spoken[-1].startswith("Eleven minutes.")


def test_the_watch_goes_on_while_only_time_is_missing_and_says_what_is() -> None:
    rounds = ("twenty, one ninety", "sixteen, two ten", "thirteen, two twenty, two ten, twenty", "eleven, two twenty five",
              "ten, two twenty six", "ten, two twenty six")  # fmt: skip
    talk = watched(*rounds)
    assert any(said.startswith("Suction is not at its set point. Next in") for said in talk.spoken)
    assert len(talk.dialogue.state.series) == 5
    assert "running and settled" in talk.spoken[-2].lower() + talk.spoken[-3].lower()


def test_what_ifs_are_said_only_after_calculation_only() -> None:
    hot = ("ten, two forty",) * 3  # the rounds that follow, while it is not settled
    talk = watched("ten, two thirty", "ten, two forty", "ten, two forty, two ten, twenty", *hot, until="levers")
    assert "Return gas twenty colder: colder by twenty six degrees." in talk.spoken[-1]
    assert any(said.startswith("Calculation only.") for said in talk.spoken[:-1])
    assert "calculation" in talk.dialogue.state.acknowledged


@pytest.mark.parametrize(("said", "left"), [("yes", True), ("no", False)])
def test_a_set_point_that_is_left_changed_after_the_levers_is_handed_over_by_name(said: str, left: bool) -> None:
    hot = ("ten, two forty",) * 3
    talk = watched("ten, two thirty", "ten, two forty", "ten, two forty, two ten, twenty", *hot, set_point_left=said)
    assert ("set_point_changed" in talk.dialogue.state.handed_over) == left


def test_refrigerant_added_says_the_leak_rate_and_the_rule_that_applies() -> None:
    rounds = ("ten, two oh eight",) * 2 + ("ten, two oh eight, two hundred, twenty",)
    spoken = " ".join(watched(*rounds).spoken)
    assert "Leak rate at least six point five percent a year: the charge before is not on record." in spoken
    assert "six point five percent a year. Not over" not in spoken  # unknown is said as such
    assert "Leak rate eleven point eight percent a year. Not over the limit of twenty percent." in spoken  # 200 days
    spoken = " ".join(watched(*rounds, refrigerant_added="two hundred pounds").spoken)
    # 200 lb of 620 on March 1: over 20 percent, 30 days to repair (40 CFR 82.157(d)).
    assert "Over the limit of twenty percent: repair by March 31" in spoken


def test_a_split_within_the_gauges_error_of_its_limit_is_said_to_be_uncertain() -> None:
    # 210 psig of R22 condenses at 104.7 F; over 88 F air that is 16.7, and the limit is 15.
    talk = watched("ten, two forty", "ten, two forty", "ten, two forty, two ten, twenty",
                   ambient_temperature="eighty eight", until="levers")  # fmt: skip
    head = talk.dialogue.state.conclusions["head_high"]
    assert (head.standing, head.uncertain) == ("supported", ("condensing_difference",))
    assert any("so near the limit that the instrument's error decides" in said for said in talk.spoken)


def test_the_choice_of_a_dead_check_is_not_read_back_as_if_the_panel_were_dead() -> None:
    talk = at("how_to_check").hear("dead")
    assert "Dead check." in talk.said
    assert "Dead. " not in talk.said


def test_a_site_in_si_units_is_judged_like_any_other(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """0.7 bar and 24 C here are the 10 psig and 75 F of the others; 98 C is 208 F."""
    file = tmp_path / "si.toml"
    file.write_text(DEMO_SITE.read_text(encoding="utf-8").replace('units = "us"', 'units = "si"'), encoding="utf-8")
    monkeypatch.setattr("tests.talk.load_profile", lambda: load_profile(file))
    words = {
        "rack_suction_pressure": "point seven", "rack_discharge_pressure": "fourteen", "probe_pipe_temperature": "twenty four",
        "crankcase_temperature": "thirty two", "refrigerant_added": "twenty kilos",
    }  # fmt: skip
    rounds = ("one point three, eighty eight", "point seven, ninety six", "point seven, ninety eight, fourteen, twenty",
              "point seven, ninety eight")  # fmt: skip
    talk = watched(*rounds, **words)
    assert "liquid_in_compressor" in talk.dialogue.state.cleared
    assert any("kilos of refrigerant added" in said for said in talk.spoken)
    assert any("running and settled" in said.lower() for said in talk.spoken)
    # 20 kg of 620 lb: 7.1 percent.
    assert any("seven point one percent a year" in said for said in talk.spoken)


def test_a_caution_is_not_skipped_and_the_step_before_it_stays_done() -> None:
    talk = at("machine_look").hear("all good").until(Rack("none"), "tag/lock_out")
    before = dict(talk.dialogue.state.answered)
    talk.hear("skip this")
    assert "The caution first." in talk.said
    assert "Your own lock." in talk.said
    assert talk.asked == "tag/lock_out:command"
    assert talk.dialogue.state.answered == before


def lone(step: str, minutes: int = 10) -> Talk:
    """A call at a site that wants a sign from a lone worker after so many minutes."""
    talk = at(step)
    talk.dialogue.check_in = CheckIn(minutes, talk.now)
    return talk


def test_a_lone_worker_who_is_not_heard_is_asked_for_a_sign_and_louder_each_minute() -> None:
    talk = lone("glass").wait(9 * 60)
    assert "Check-in" not in talk.said
    talk.wait(60)
    assert talk.said == "Check-in. Are you well? Say okay."
    assert Manner("alarm") not in talk.effects
    talk.wait(60)
    assert Manner("alarm") in talk.effects
    talk.hear("okay")
    assert talk.asked == "glass:sight_glass"
    assert "sight_glass" not in talk.readings


def test_somebody_who_talks_is_not_asked_for_a_sign() -> None:
    talk = lone("glass").wait(9 * 60).hear("where am i").wait(9 * 60)
    assert "Check-in" not in " ".join(talk.spoken)


def test_the_check_in_waits_until_the_live_window_ends() -> None:
    talk = lone("feed", minutes=1).wait(120)
    assert "Check-in" not in talk.said


def test_an_emergency_answers_during_a_check_in_too() -> None:
    assert "Hands off." in lone("glass").wait(600).hear("emergency").said


def test_gas_colder_than_its_dew_point_is_said_and_no_discharge_is_computed_from_it() -> None:
    rounds = ("ten, two forty", "ten, two forty", "ten, two forty, two ten, twenty")
    talk = watched(*rounds, suction_temperature="minus thirty", until="why_reclaim")
    assert any(said.startswith("Superheat minus nine: liquid at the compressor, or a bad reading.") for said in talk.spoken)
    assert "discharge_band_high" not in talk.dialogue.state.derived
    assert "no superheat" in talk.dialogue.state.not_computed["discharge_band_high"]


def test_off_is_no_word_for_a_lock_that_is_on() -> None:
    talk = at("lock").hear("off")
    assert talk.asked == "lock:locked_out"
    assert "locked_out" not in talk.readings


def test_a_room_without_its_fan_is_not_entered() -> None:
    talk = at("fit").hear("no")
    assert "What is not good?" in talk.said
    talk.hear("fan's off")
    assert "No fan, no entry." in talk.said
    assert "ventilation_running" not in talk.readings


def test_a_line_over_its_trip_that_has_not_tripped_is_stopped() -> None:
    talk = watched("ten, two seventy", until="watch_second")
    assert any("Over its trip, and it has not tripped. Stop the machine and lock it." in said for said in talk.spoken)


def test_a_caution_acknowledged_earlier_is_said_in_short_before_a_later_step() -> None:
    talk = at("tag/lock_out").hear("understood", after_s=70)
    assert talk.asked == "tag:panel_tag"
    # "It can start by itself" was acknowledged at the machine; it belongs to the lock too.
    assert "It can start by itself." in talk.said
    assert "Read the tag." not in talk.said  # that one was acknowledged just now


def test_a_call_taken_up_again_counts_as_live_and_gives_its_cautions_anew() -> None:
    talk = at("coil")
    talk._take(talk.dialogue.resume(talk.now, "interrupted"))
    assert "Treat it as live." in talk.said
    assert talk.asked == "anew_lock:lock_still_on"
    talk.hear("yes")
    assert talk.said.startswith("Lock on. | Still hooked up: your lock, panel cover off, lifted wire.")
    talk.hear("understood", "clear")
    assert talk.asked == "tag/lock_out:command"
    assert "Your own lock, your own key. Control power comes from elsewhere." in talk.said  # in full once more


def test_a_wire_lifted_for_the_contacts_is_asked_back() -> None:
    talk = at("which_contact")
    assert "wire_lifted" in talk.open
    talk.hear("contact five")
    assert talk.asked == "contact_wire_back:command"
    assert "wire_lifted" not in talk.hear("done").open


def test_two_at_the_contacts_is_neither_taken_for_the_second_nor_for_two_of_them():
    rack = BranchRack("suction filter")
    talk = Talk().until(rack, "which_contact").hear("two")
    assert talk.said.startswith("Say contact two, or more than one.")
    talk.hear("contact two")
    assert talk.readings["chain_dead_check"] == "high pressure"

    talk = Talk().until(rack, "which_contact").hear("number two is open")
    assert talk.readings["chain_dead_check"] == "high pressure"

    talk = Talk().until(rack, "which_contact").hear("more than one")
    assert "Which is the first?" in talk.said


def test_what_is_asked_after_half_an_answer_names_its_choices():
    talk = at("fit").hear("ready")
    assert talk.said.endswith("Detector: quiet, alarm, dead or none?")
    talk = at("machine_look").hear("fan runs")
    assert talk.said.endswith("Reset: intact, missing or broken?")
    talk = Talk().until(BranchRack("still hot"), "windings").hear("one point two")
    assert talk.said.endswith("Winding two to three?")


def test_no_and_what_is_wrong_at_the_machine_is_about_that_alone():
    talk = at("machine_look").hear("no")
    assert "What is not good?" in talk.said
    talk.hear("no, valve is closed")
    assert talk.readings["injection_hand_valve"] == "closed"
    assert "head_fan_running" not in talk.readings
    assert not any("fan" in line for line in talk.spoken if "Proven" in line)


def test_with_a_second_contact_open_its_branch_is_followed_too() -> None:
    rack = BranchRack("suction filter")
    talk = Talk().until(rack, "which_contact").hear("two of them", "discharge", "contact three")
    talk.to_the_seal(rack)
    assert {"low_cases", "coil"} <= set(talk.dialogue.state.answered)
    assert talk.open == set()


def test_a_machine_nobody_touched_is_not_said_to_stay_off() -> None:
    talk = at("glass").hear("finish job", "yes")
    talk.to_the_seal(Rack("none"))
    spoken = " ".join(talk.spoken)
    assert "left as it was found" in spoken
    assert "stays off" not in spoken
    assert "Left as found, not started." in spoken


def test_a_sensor_within_the_meters_error_of_its_curve_agrees() -> None:
    assert any("Sensor agrees." in said for said in at("coil").spoken)


def test_a_detector_in_alarm_is_heard_at_the_caution_too_and_nobody_goes_in():
    talk = Talk().hear("north store a two", "alarm")
    assert talk.said.startswith("Stay out. Ventilate from outside.")
    assert talk.readings["detector_state"] == "alarm"
    assert "room" not in talk.dialogue.state.acknowledged
    assert "Tell the store: the machine room is not safe: nobody goes in" in talk.said
    assert "The room was not safe to enter" in talk.hear("told").said


def test_readings_that_cannot_be_of_a_running_machine_are_asked_back():
    state = Talk().hear("north store a two").dialogue.state
    assert doubt(state, Part("watch.amps", 0.0, "A")) == "It runs, and draws nothing?"
    assert doubt(state, Part("tripped_count", 20.0, "1")) == "That is more than this rack has."


def test_the_words_of_an_emergency_are_on_record_with_their_sound():
    talk = at("fit")
    talk.dialogue.receive(Heard("emergency", talk.now, audio="audio/0007.flac"))
    heard = [x.fact for x in talk.dialogue.out if isinstance(x, Record)]
    assert [type(fact).__name__ for fact in heard[:2]] == ["WordsHeard", "EmergencyDeclared"]
    assert heard[0].audio == "audio/0007.flac"
