"""What is left otherwise than it was, told beside an answer or instead of one: nobody puts it back who is not told to."""

from dataclasses import replace

import pytest

from assistant.language.left_so import left_so
from assistant.language.unready import unready
from assistant.profile import load_profile
from assistant.site import Person
from tests.simulated import Rack
from tests.talk import Talk


def at(step: str, fault: str = "injection_coil_failed") -> tuple[Rack, Talk]:
    rack = Rack(fault)
    return rack, Talk().until(rack, step)


@pytest.mark.parametrize(("said", "open_"), [
    ("nothing, i moved the set point two pounds for tonight", "set_point_changed"),
    ("none, i left the set point two pounds up", "set_point_changed"), ("set point's still two up", "set_point_changed"),
    ("nothing, but case six is out of defrost till tomorrow", "defrost_disabled"),
    ("i turned the defrost off", "defrost_disabled"), ("defrost's off on case six", "defrost_disabled"),
    ("nothing, i forced it to full load at the controller", "capacity_forced"),
    ("the unloader's forced on at the controller", "capacity_forced"),
    ("the fan's on an extension cord", "part_borrowed"), ("nothing, it runs off a temporary feed", "part_borrowed"),
])  # fmt: skip
@pytest.mark.parametrize("step", ["glass", "watch_first", "parts", "consent"])
def test_what_is_not_as_it_was_is_left_to_somebody_by_name(step: str, said: str, open_: str):
    rack, talk = at(step)
    talk.hear(said)
    assert open_ in talk.open
    talk.to_the_seal(rack)
    assert open_ in talk.dialogue.state.handed_over
    assert "Left for later" in talk.spoken[-2]
    assert talk.broken() == ()


@pytest.mark.parametrize("said", [
    "i put the set point back", "the set point's ten", "nobody moved the set point", "should i move the set point",
    "i didn't turn the defrost off", "defrost's done", "it's fully loaded", "i'll turn the defrost off", "none", "nothing",
])  # fmt: skip
def test_what_is_as_it_was_or_only_meant_is_not(said: str):
    assert left_so(said) == ""


@pytest.mark.parametrize("said", [
    "gauges stay on overnight", "my gauges are staying on overnight", "close it, i'm leaving the hoses on",
])  # fmt: skip
def test_no_call_is_closed_on_gauges_that_stay_on(said: str):
    rack, talk = at("consent")
    talk.hear(said)
    assert "hose_on" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "ten, two ten, the panel door's open so i can watch", "ten, two ten, control door is open", "the panel door is open",
])  # fmt: skip
def test_a_door_that_is_open_while_it_runs_is_shut_before_the_call_is(said: str):
    rack, talk = at("watch_first")
    talk.hear(said)
    assert talk.said.startswith("It runs. Hands away, then the covers on.")
    assert "panel_cover" in talk.open
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "two oh eight, my watch touched the rail", "two oh eight, my ring touched something", "two oh eight, i've got my watch on",
    "two oh eight, there was a little pop",
])  # fmt: skip
def test_what_touched_or_went_off_in_the_live_window_ends_it(said: str):
    rack, talk = at("supply_volts", "module_no_output")
    talk.hear(said)
    assert talk.said.startswith("Power off.")
    assert "module_supply_volts" not in talk.readings
    assert talk.to_the_seal(rack).broken() == ()


@pytest.mark.parametrize("said", [
    "done at the controller", "done, the controller has it off", "done, turned it off in the software",
    "yes it's satisfied anyway",
    "done, i raised the set point so it won't call", "done, it's in defrost",
])  # fmt: skip
def test_a_start_that_only_the_controller_holds_back_is_not_blocked(said: str):
    _, talk = at("block_start", "module_no_output")
    talk.hear(said)
    assert "start_prevented" not in talk.readings
    assert talk.asked.startswith("block_start")


@pytest.mark.parametrize("said", [
    "forty pounds, by the sight glass", "forty pounds, scale was drifting", "forty pounds, that's what the label says",
    "forty, estimated", "forty pounds roughly", "forty pounds give or take",
])  # fmt: skip
def test_refrigerant_that_was_not_weighed_is_no_number(said: str):
    _, talk = at("charge", "refrigerant_low")
    talk.hear(said)
    assert talk.said.startswith("Weigh it, then say the number.")
    assert "refrigerant_added" not in talk.readings


@pytest.mark.parametrize("said", [
    "this is kim, robin went home", "kim here, i'll finish it", "this is kim, i'm finishing for robin", "robin left, i'm kim",
    "kim here, robin's gone home", "it's kim now, i'm finishing it", "robin's gone home, this is kim",
])  # fmt: skip
@pytest.mark.parametrize("step", ["coil", "valves"])
def test_who_goes_on_for_somebody_else_stops_at_the_lock_that_is_on(step: str, said: str):
    _, talk = at(step)
    talk.hear(said)
    assert talk.asked == "anew_other_lock:other_lock_gone"
    assert not talk.dialogue.state.lock.dead


@pytest.mark.parametrize("said", ["this is kim", "kim here", "kim ash", "it's kim"])
def test_the_name_alone_of_another_technician_of_the_site_does_it_too(said: str):
    site = load_profile()
    site = replace(site, technicians=(*site.technicians, Person("kim", ("kim",), "Kim Ash")))
    rack = Rack("injection_coil_failed", {"technician": "technician"})
    talk = Talk(site).until(rack, "coil").hear(said)
    assert talk.asked == "anew_other_lock:other_lock_gone"


@pytest.mark.parametrize("said", [
    "i'm done for tonight", "it's dry, i'm taking the reading again", "it's full, i'm finishing the look", "this is it",
    "it's broken, one blade's gone walkabout", "it's left open",
])  # fmt: skip
def test_who_tells_what_he_does_is_nobody_else(said: str):
    assert unready(said.replace(",", "")) != "took over"


@pytest.mark.parametrize(("said", "odd", "rest"), [
    ("all good but the fan is gone", "head_fan_running", {"coil_seated": "seated", "reset_device": "intact"}),
    ("all good but the head fan, it was missing", "head_fan_running", {"coil_seated": "seated"}),
    ("all good but the coil is gone", "coil_seated", {"head_fan_running": "yes"}),
    ("all good but the probe's gone", "probe_condition", {"head_fan_running": "yes"}),
    ("all good but the fan", "head_fan_running", {"coil_seated": "seated"}),
    ("everything's fine, only the fan is gone", "head_fan_running", {"coil_seated": "seated"}),
])  # fmt: skip
def test_what_is_excepted_by_its_name_is_never_as_good_as_the_rest(said: str, odd: str, rest: dict[str, str]):
    _, talk = at("machine_look", "none")
    talk.hear(said)
    assert odd not in talk.readings
    assert rest.items() <= talk.readings.items()
    assert talk.asked.startswith("machine_look")


@pytest.mark.parametrize("said", [
    "no, fourteen", "no fourteen", "i meant fourteen", "correction, fourteen", "make that fourteen pounds",
])  # fmt: skip
def test_a_number_put_right_where_only_a_go_ahead_is_asked_for_is_put_right(said: str):
    _, talk = at("charge", "refrigerant_low")
    talk.hear("forty", said)
    assert talk.readings["refrigerant_added"] == 14
    assert talk.asked == "hose_off:command"


def test_a_coil_put_right_at_the_wire_that_goes_back_condemns_nothing():
    _, talk = at("coil")
    talk.hear("open line", "no, four ten")
    assert "Injection coil failed. Proven no more." in talk.said
