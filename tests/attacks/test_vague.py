"""What is told vaguely, half, denied, or of another thing than what was asked. The project's own calls."""

from dataclasses import replace

import pytest

from assistant.language.meaning import Answer, AskFor, Question
from assistant.language.pieces import understand_in_pieces
from assistant.profile import load_profile
from tests.branch_rack import FAULTS, BranchRack
from tests.seldom import HOT, SITE, rig
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of


def _talk(fault: str, step: str, *said: str) -> tuple[Talk, Rack]:
    rack: Rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    return Talk(site_of(fault) if fault in FAULTS else None).until(rack, step).hear(*said), rack


# ---- vague numbers


@pytest.mark.parametrize("said", ["three and a bit", "two and change", "zero and a touch", "two point nine plus"])
@pytest.mark.parametrize("id_", ["dead_volts.control", "isolated_pressure"])
def test_more_on_top_of_what_is_dead_or_empty_is_asked_for_as_a_number(id_: str, said: str):
    """S3, S31: nobody has counted what is on top."""
    assert not isinstance(understand_in_pieces(Question(id_), said), Answer)


def test_a_plain_number_is_one_and_a_bit_of_suction_too():
    assert isinstance(understand_in_pieces(Question("dead_volts.control"), "two point nine"), Answer)
    assert isinstance(understand_in_pieces(Question("rack_suction_pressure"), "twelve and a bit"), Answer)
    assert isinstance(understand_in_pieces(Question("dead_volts.control"), "three and a bit"), AskFor)


def test_a_gauge_at_one_pound_is_not_at_zero():
    talk, _ = _talk("suction filter", "at_zero", "one pound")
    assert talk.asked == "at_zero:isolated_pressure"


# ---- locks, sources and valves that are not what they seem


@pytest.mark.parametrize(("said", "asked"), [
    ("i tagged it only", "lock:locked_out"), ("tagged", "lock:locked_out"), ("already locked", "lock:confirm"),
    ("i cut the old lock off", "anew_other_lock:other_lock_gone"),
])  # fmt: skip
def test_a_tag_is_no_lock_and_one_that_was_on_may_be_anothers(said: str, asked: str):
    """S2, S7."""
    talk, rack = _talk("injection_coil_failed", "lock", said)
    assert talk.asked == asked, talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["locked", "locked and tagged", "my lock's on"])
def test_a_lock_of_ones_own_is_taken(said: str):
    talk, _ = _talk("injection_coil_failed", "lock", said)
    assert talk.readings["locked_out"] is True


@pytest.mark.parametrize("said", ["no idea", "it went away", "can't find it", "it's gone now", "nowhere", "not sure"])
def test_a_second_source_that_nobody_found_is_none(said: str):
    """S2: named and locked before that circuit is measured again."""
    talk, _ = _talk("injection_coil_failed", "dead_power", "one twenty", said)
    assert talk.asked == "anew_second_source:second_source"


@pytest.mark.parametrize("said", [
    "suction is open, discharge is closed", "suction open discharge shut", "the discharge is shut, the rest open",
])  # fmt: skip
def test_of_several_valves_the_one_that_is_closed_is_on_record(said: str):
    """S21, S30."""
    talk, rack = _talk("injection_coil_failed", "valves", said)
    assert "valve_closed.discharge" in talk.open
    assert "valve_closed.suction" not in talk.open
    assert talk.to_the_seal(rack).broken() == ()


# ---- said with hands in, or as it runs


@pytest.mark.parametrize("said", [
    "two oh eight volts", "i got two oh eight volts on it", "it reads one twenty volts a c", "volts two oh eight",
    "i'm reading voltage", "the coil has voltage", "i still have power", "the heater is still live",
])  # fmt: skip
def test_voltage_in_a_panel_that_was_proved_dead_is_no_wrong_unit(said: str):
    """S1, S3, S4."""
    talk, rack = _talk("injection_coil_failed", "coil", said)
    assert talk.said.startswith("Then it is live. Hands out.")
    assert talk.asked.startswith("tag")
    assert "injection_coil_ohms" not in talk.readings
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", ["four ten", "no volts, four ten", "four hundred ten ohms"])
def test_ohms_are_taken_for_ohms(said: str):
    talk, _ = _talk("injection_coil_failed", "coil", said)
    assert talk.readings["injection_coil_ohms"] == 410.0


@pytest.mark.parametrize("said", [
    "no oil in the glass", "the head is frosted over", "it's slugging", "he's stuck in the fan", "it arced",
])  # fmt: skip
def test_what_breaks_a_running_machine_or_a_man_stops_it(said: str):
    talk, rack = _talk("injection_coil_failed", "watch_second", said)
    assert talk.asked == "stop_now:command", talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "mayday", "call for help", "i need a medic", "i fell", "my arm went numb", "that thing nailed me",
])  # fmt: skip
def test_distress_is_heard_at_a_number(said: str):
    """S38."""
    talk, _ = _talk("injection_coil_failed", "watch_second", said)
    assert talk.said.startswith("If it is an emergency, say emergency.")


def test_what_sounds_wrong_has_not_settled():
    talk, rack = _talk("injection_coil_failed", "watch_second", "it's really loud now")
    talk.to_the_seal(rack)
    assert any("Running, not settled: it did not sound right." in said for said in talk.spoken)


def test_a_reading_that_is_not_on_record_is_not_put_right_as_another():
    talk, _ = _talk("injection_coil_failed", "watch_first", "correction oil pump pressure fifteen")
    assert "That is not on record." in talk.said
    assert "watch.suction_pressure" not in talk.readings


@pytest.mark.parametrize(("said", "open_"), [("the crankcase is cold", "liquid_in_compressor"), ("correction heads frosted", "")])
def test_cold_at_the_lock_is_heard_as_cold(said: str, open_: str):
    talk, rack = _talk("injection_coil_failed", "unlock", said)
    assert not open_ or open_ in talk.open
    assert talk.to_the_seal(rack).broken() == ()


def test_a_pipe_that_was_read_hours_before_its_probe_is_read_again():
    """S40: ohms are a temperature, and of its minutes."""
    off_the_curve = "fifty seven point eight k"
    rack = Rack("probe_fouled", {"probe_ohms.cleaned": off_the_curve})
    talk = Talk().until(rack, "probe_module_end").kill(after_s=8 * 3600)
    asked: list[str] = []
    while "probe_ohms.cleaned" not in talk.asked:
        asked.append(talk.asked)
        talk.hear(talk.words_of(rack))
    assert "pipe_temperature:probe_pipe_temperature" in asked or any(":probe_pipe_temperature" in one for one in asked)
    assert talk.to_the_seal(rack).broken() == ()


# ---- half done, denied, or live after all


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("injection_strainer_plugged", "tight", "holds no pressure"), ("injection_strainer_plugged", "tight", "holds but drops"),
    ("injection_strainer_plugged", "tight", "holding for now"), ("line fuse open", "line_fuses", "good on two"),
    ("injection_coil_failed", "repaired", "it's done for"),
])  # fmt: skip
def test_what_is_only_half_so_is_not_taken_for_it(fault: str, step: str, said: str):
    """S31, S39."""
    talk, rack = _talk(fault, step, said)
    assert talk.asked.split(":")[0] == step, talk.said
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "no label on it", "the label's missing", "can't read the label", "there's no label", "the panel's wet",
])  # fmt: skip
def test_without_a_label_or_in_the_wet_there_is_no_live_work(said: str):
    """S8: no label, water or damage at the door, no live step."""
    talk, rack = _talk("injection_valve_stuck_closed", "clothing", said)
    assert talk.readings.get("clothing_meets_label") is not True
    asked: list[str] = []
    while not talk.dialogue.state.sealed:
        asked.append(talk.asked.split(":")[0])
        talk.hear(talk.words_of(rack))
    assert "power_on" not in asked
    assert talk.broken() == ()


def test_covers_go_on_behind_a_new_proof_where_the_power_was_said_to_be_on():
    """S1: hands are at the panel there too."""
    talk, rack = _talk("injection_coil_failed", "covers", "control power's on")
    assert talk.asked.startswith("tag")
    assert talk.to_the_seal(rack).broken() == ()


def test_a_clip_that_was_forgotten_comes_off_before_the_start():
    talk, rack = _talk("injection_coil_failed", "valves", "my meter's still clipped on")
    assert talk.asked == "leads_off:command"
    assert talk.to_the_seal(rack).broken() == ()


def test_a_probe_that_came_out_of_the_gas_empties_the_room():
    """S28, S35."""
    site = load_profile()
    rack = replace(site.racks[0], probe=replace(site.racks[0].probe, mount="in_gas"))
    talk = Talk(replace(site, racks=(rack, *site.racks[1:]))).until(Rack("injection_coil_failed"), "coil")
    talk.hear("i unscrewed the probe")
    assert "Stay out" in talk.said
    assert talk.readings["leak_found"] == "yes"
    assert talk.asked == "anew_room_safe:room_safe"


def test_an_oil_that_is_low_and_was_not_filled_is_left_to_somebody():
    talk, rack = _talk("injection_coil_failed", "consent")
    talk.dialogue.state.case = None
    rack = Rack("injection_coil_failed", {"oil_level": "low"})
    talk = Talk().to_the_seal(rack)
    held = talk.dialogue.state.conclusions.get("oil_level_low")
    assert held is None or held.standing != "proven" or "no_cause_reset" in talk.dialogue.state.handed_over


@pytest.mark.parametrize("said", ["correction store told no", "correction store told"])
def test_the_store_hears_of_it_before_a_lock_that_stops_its_rack(said: str):
    """S6."""
    site = load_profile()
    rack = replace(site.racks[0], panel=replace(site.racks[0].panel, control_isolator_stops="rack"))
    talk = Talk(replace(site, racks=(rack, *site.racks[1:]))).until(Rack("injection_coil_failed"), "tag")
    talk.hear(said)
    technician = Rack("injection_coil_failed")
    asked: list[str] = []
    while "lock:locked_out" not in talk.asked:
        asked.append(talk.asked)
        talk.hear(talk.words_of(technician))
    assert any(one.endswith(":store_told") for one in asked), asked
    assert talk.to_the_seal(technician).broken() == ()


@pytest.mark.parametrize("how", ["killed", "silent"])
def test_a_pump_down_that_nobody_looked_at_is_stopped(how: str):
    """S5, S30: nobody runs one on a shut valve for hours."""
    rack = rig("injection_wrong_size", {**HOT, "pump_down_low": "six pounds"})
    talk = Talk(SITE).until(rack, "pump_down")
    assert "valve_closed.suction" in talk.open
    talk = talk.kill(after_s=4 * 3600) if how == "killed" else talk.hear("zero", after_s=5400)
    asked = [talk.asked]
    while not (talk.dialogue.state.sealed or talk.asked == "stop_now:command"):
        talk.hear(talk.words_of(rack))
        asked.append(talk.asked)
    assert talk.asked == "stop_now:command", asked
    assert not any(one.startswith("watch") for one in asked)
    assert talk.to_the_seal(rack).broken() == ()


# ---- said of somebody by his name, of a plug, and what is not worked out any more


@pytest.mark.parametrize(("step", "said"), [
    ("watch_second", "mike's hurt"), ("coil", "mike got shocked"), ("coil", "the other guy got shocked"),
    ("coil", "he got sprayed in the face"), ("watch_second", "mike's on the floor"),
])  # fmt: skip
def test_whoever_is_hurt_has_a_name(step: str, said: str):
    """S38: at once, at any question."""
    talk, _ = _talk("injection_coil_failed", step, said)
    assert "If it is an emergency, say emergency." in talk.said


@pytest.mark.parametrize("said", ["nobody's hurt", "the meter's on the floor", "the coil got burned"])
def test_a_thing_on_the_floor_is_nobody_hurt(said: str):
    talk, _ = _talk("injection_coil_failed", "coil", said)
    assert "emergency" not in talk.said


@pytest.mark.parametrize("said", ["i didn't plug the probe back in", "the sensor's still unplugged"])
def test_a_probe_that_hangs_free_is_plugged_in_before_the_start(said: str):
    """S20, S24: without it nothing protects."""
    talk, rack = _talk("probe_fouled", "unlock", said)
    assert "wire_lifted" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


def test_a_valve_that_is_open_a_little_is_not_open():
    talk, _ = _talk("injection_strainer_plugged", "open_section_again", "open a little")
    assert talk.asked.startswith("open_section_again")


@pytest.mark.parametrize("said", ["the oil is foaming", "oil's high"])
def test_no_start_on_an_oil_that_foams_or_stands_high(said: str):
    """Trade's section 10, in whichever branch it is said."""
    talk, rack = _talk("injection_coil_failed", "covers", said)
    started = False
    while not talk.dialogue.state.sealed:
        started = started or talk.asked.startswith("start:")
        talk.hear(talk.words_of(rack))
    assert started == ("oil_level" not in talk.readings)
    assert talk.broken() == ()


def test_a_pump_whose_pressure_is_put_right_at_the_close_is_not_condemned():
    """S41: worked out from a number that was none."""
    rack = BranchRack("oil pump worn")
    talk = Talk(site_of("oil pump worn")).until(rack, "consent")
    assert talk.dialogue.state.conclusions["oil_pump_worn"].standing == "proven"
    talk.hear("correction oil pump pressure sixty")
    assert talk.dialogue.state.conclusions["oil_pump_worn"].standing == "suspected"
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "yeah the leak detector's quiet and the fan's on", "leak detector's quiet, exhaust fan is on",
])  # fmt: skip
def test_a_detector_that_is_quiet_is_no_alarm(said: str):
    talk, _ = _talk("injection_coil_failed", "fit", said)
    assert talk.readings.get("detector_state") != "alarm"
    assert "Stay out" not in talk.said


@pytest.mark.parametrize("said", ["the leak detector's going", "the gas alarm won't go quiet", "leak detector just went off"])
def test_one_that_sounds_is(said: str):
    """S35."""
    talk, _ = _talk("injection_coil_failed", "coil", said)
    assert talk.readings["detector_state"] == "alarm"
