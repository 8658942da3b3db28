"""What people said in whole calls, and was not taken, or taken for another thing."""

import pytest

from assistant.call.facts import NoteTaken
from assistant.language.heeded import heeded
from assistant.language.remarks import remark
from assistant.language.spoilt import spoilt
from assistant.language.unready import unready
from tests.language.test_said_at_steps import meant, question
from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("fault", "step", "said"), [
    ("module_no_output", "power_on", "Everybody's back and the power's on now."),
    ("module_no_output", "power_off", "Okay, power's off and my lock is back on."),
    ("module_no_output", "fit_jumper", "Jumper's still in."), ("module_no_output", "clip_leads", "Leads are still on."),
    ("module_no_output", "block_start", "The compressor's own switch is in the off position."),
    ("injection_coil_failed", "coil", "One wire's off and the coil reads four hundred and twelve."),
    ("injection_coil_failed", "dead_power", "Cover's off, nothing on any of the six."),
    ("injection_coil_failed", "dead_power", "Cover's off, and I get zero volts on all six of them"),
    ("injection_coil_failed", "dead_control", "zero on all, worst point two"),
    ("injection_coil_failed", "dead_control", "Zero on control too, every which way"),
    ("injection_coil_failed", "valves", "I never closed any of them, they're all wide open"),
    ("injection_coil_failed", "parts", "Ain't nothing borrowed and I didn't add none"),
    ("injection_coil_failed", "parts", "Nothing's borrowed, the module is new, and I didn't add any refrigerant."),
])  # fmt: skip
def test_it_goes_on(fault: str, step: str, said: str):
    talk = standing_at(fault, step)
    talk.hear(said)
    assert not talk.asked.startswith(step)
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said", "means"), [
    ("state_now", "ours is off, the other three are running", "running_now=off; running_count=3"),
    ("which_contact", "five is the only one that's open, the others all beep", "chain_dead_check=discharge"),
    ("high_fans_called", "controller's calling all six, only four turning", "condenser_fans_called=6"),
    ("food_temperature", "warmest one i've got is about eighteen degrees", "product_temperature=18"),
    ("feed", "the line's dry, i've got zero volts, and there wasn't any click",
     "injection_coil_volts=0; injection_feed=dry; valve_click=silent"),
])  # fmt: skip
def test_it_means(step: str, said: str, means: str):
    assert set(meant(step, said).split("; ")) == set(means.split("; "))


@pytest.mark.parametrize(("names", "said"), [
    (("room",), "Green light's on, nothing sounding, fan's running."), (("restart",), "I hear ya."),
    (("room",), "Okay, the detector light's green, it's not beeping, and the exhaust fan is on."),
    (("restart",), "I know she can kick off on her own."),
])  # fmt: skip
def test_a_caution_is_acknowledged(names: tuple[str, ...], said: str):
    assert heeded(said, names)


def test_a_ladder_that_is_tied_off_is_no_bypass():
    assert spoilt(question("high_fans"), "ladder's tied off no ice") == ""
    assert spoilt(question("reset"), "reset it's tied off") == "bypassed"


def test_a_wire_that_is_taped_up_is_asked_about_and_bridges_nothing():
    talk = standing_at("module_no_output", "repaired").hear("found a wire rubbed through and taped it up, and put a new fuse in")
    assert "Is something not safe?" in talk.said
    assert "jumper_fitted" not in talk.open
    assert "jumper_fitted" in standing_at("module_no_output", "repaired").hear("repaired, i taped the contact in").open


def test_where_there_is_no_jumper_none_is_taken_out():
    talk = standing_at("injection_coil_failed", "covers").hear("i jumpered it out")
    assert "jumper_fitted" in talk.open
    talk.hear("There's no jumper. I never put one in.")
    assert talk.said == "No jumper and no wire left in it?"
    assert "jumper_fitted" not in talk.hear("yes").open


def test_a_repair_in_its_story_is_asked_back():
    talk = standing_at("module_no_output", "repaired").hear("Its relay stuck half way, I swapped it, the whole bank turns now.")
    assert "Repaired?" in talk.said


@pytest.mark.parametrize("yes", ["Yes, both of them", "correct", "sure is", "That's right"])
def test_what_was_asked_back_is_agreed_to_in_more_words_than_a_yes(yes: str):
    talk = standing_at("module_no_output", "unblock_start").hear("its own switch turns again")
    assert talk.said.endswith("Done, and all safe?")
    assert not talk.hear(yes).asked.startswith("unblock_start")


def test_what_is_asked_back_of_a_deed_names_it_and_is_asked_once():
    talk = standing_at("injection_coil_failed", "start").hear("there she goes now")
    assert talk.said == "Switch to auto, start. Done, and all safe?"
    talk = standing_at("injection_coil_failed", "lock").hear("locked over there")
    assert talk.said == "Locked out, and all safe?"


@pytest.mark.parametrize("said", [
    "I opened the hand valve", "valve's open now", "I cracked it back open like it belongs",
])  # fmt: skip
def test_a_valve_that_was_found_shut_is_repaired_by_opening_it(said: str):
    talk = standing_at("injection_hand_valve_closed", "repaired").hear(said)
    assert talk.asked.startswith("open_hand_valve:")
    assert "valve_closed.injection" not in talk.hear("it's already open, all the way").open
    assert not talk.broken()


def test_a_valve_that_is_open_with_its_story_is_asked_back():
    talk = standing_at("injection_hand_valve_closed", "repaired")
    talk.hear("Opened it all the way, the insulation guys must've bumped it yesterday")
    assert talk.said.endswith("Repaired?")


@pytest.mark.parametrize("said", [
    "haven't opened it yet", "it opened up a leak", "I backed it out and the packing leaks", "I opened the panel",
    "open the valve",
])  # fmt: skip
def test_nothing_else_that_is_opened_repairs_it(said: str):
    assert not standing_at("injection_hand_valve_closed", "repaired").hear(said).asked.startswith("open_hand_valve")


@pytest.mark.parametrize(("fault", "step", "said", "behind_no"), [
    ("injection_coil_failed", "how_to_check", "the cat is on the roof today", "No, I'm locking it out"),
    ("injection_coil_failed", "lock", "the cat is on the roof today", "no, it's fine, my lock and tag are hung on there"),
    ("injection_coil_failed", "meter_before", "the cat is on the roof today", "No. Meter reads one twenty on the outlet"),
])  # fmt: skip
def test_the_answer_behind_a_no_is_not_lost(fault: str, step: str, said: str, behind_no: str):
    talk = standing_at(fault, step).hear(said)
    assert "Is something not safe?" in talk.said
    talk.hear(behind_no)
    if talk.asked.startswith(step):
        talk.hear("yes")
    assert not talk.asked.startswith(step)
    assert not talk.broken()


@pytest.mark.parametrize("said", ["no, it's fine, the padlock's in the van", "no, I haven't locked it", "no, lock's in my hand"])
def test_behind_a_no_nothing_is_locked_that_is_not(said: str):
    talk = standing_at("injection_coil_failed", "lock").hear("the cat is on the roof today", said)
    assert "locked_out" not in talk.readings


def test_a_machine_that_is_up_and_humming_along_runs():
    assert "running_now" not in standing_at("injection_coil_failed", "start").hear("She's up and humming along").said
    assert standing_at("injection_coil_failed", "start").hear("She's up and humming along").asked.startswith("watch_first")
    assert "Switch it off" in standing_at("injection_coil_failed", "start").hear("she's humming").said


def test_the_tag_is_read_in_the_same_breath_as_its_caution():
    talk = standing_at("injection_coil_failed", "how_to_check").hear("dead", "Okay. Tag says A two")
    assert talk.readings["panel_tag"] == "a two"
    assert talk.asked == "lock:locked_out"


def test_a_lock_that_is_taken_off_in_the_telling_is_off():
    talk = standing_at("injection_coil_failed", "unlock").hear("Taking my lock off now. Okay, it's off")
    assert not talk.asked.startswith("unlock:lock_removed")


@pytest.mark.parametrize(("step", "said", "means"), [
    ("state_now", "this one's sitting there off, and I've got two of the others running", "running_now=off; running_count=2"),
    ("parts", "no temporary parts are left, no refrigerant is added", "part_left_in_use=none; refrigerant_added=0"),
    ("parts", "no refrigerant is added", "refrigerant_added=0"),
    ("fit", "yes all is okay, the boss knows I am here", "fit_to_start=true; detector_state=quiet; ventilation_running=yes"),
    ("dead_power", "I've got zero point two on the worst one", "dead_volts.power=0.2"),
    ("dead_power", "I've got point two at the most, that's all", "asked"),
    ("dead_control", "Control is zero also", "dead_volts.control=0"),
])  # fmt: skip
def test_it_means_too(step: str, said: str, means: str):
    assert set(meant(step, said).split("; ")) == set(means.split("; "))


def test_a_coil_that_is_pushed_down_on_its_stem_is_no_button_that_was_pushed():
    said = "yeah, I pushed it all the way back down on the stem and put a clip on it, so it's fixed"
    assert standing_at("injection_coil_loose", "repaired").hear(said).asked.startswith("seat_coil")


@pytest.mark.parametrize("said", [
    "reset's good, fan's a turning, valve's open, coil's on tight, probe's clean but the lead's broke at the plug, line's dry",
    "everything's good but the lead's broke", "all good except the probe lead's broken",
    "reset good, fan turning, valve open, coil tight, probe lead is broken, line dry",
])  # fmt: skip
def test_a_broken_lead_among_six_looks_is_the_probes_and_no_meter_and_no_button(said: str):
    readings = standing_at("injection_coil_failed", "machine_look").hear(said).readings
    assert (readings["probe_condition"], readings["reset_device"]) == ("damaged", "intact")


@pytest.mark.parametrize(("said", "behind"), [
    ("hold up, the probe's damaged", "yes"), ("correction, probe condition damaged", ""), ("no, the probe's damaged", "yes"),
])  # fmt: skip
def test_a_look_is_put_right_a_step_later(said: str, behind: str):
    talk = standing_at("injection_coil_failed", "how_to_check").hear(said)
    if behind:
        talk.hear(behind)
    assert talk.readings["probe_condition"] == "damaged"


@pytest.mark.parametrize(("names", "said"), [
    (("restart",), "I know she can start up"), (("live", "live_place"), "got it. shield's down, one hand, nothing wet"),
    (("hot_line",), "Understood, very hot, I do not touch"),
])  # fmt: skip
def test_a_caution_told_back_is_acknowledged(names: tuple[str, ...], said: str):
    assert heeded(said.lower(), names)


def test_a_yes_with_a_sentence_agrees_where_nothing_in_it_takes_it_back():
    asked_back = standing_at("injection_coil_failed", "repaired").hear("found the coil open so a fresh one sits there")
    assert asked_back.said.endswith("Repaired?")
    assert asked_back.hear("Yes, it's fixed, the coil's changed").asked.startswith("valves")
    for said in ("yes, she's safe", "yep, everything's safe", "yes ma'am, all safe"):
        talk = standing_at("injection_coil_failed", "lock").hear("locked over there", said)
        assert "locked_out" in talk.readings
    assert "locked_out" in standing_at("injection_coil_failed", "lock").hear("Mm-hm, it's locked").readings
    others = ("yes, the lock is on the other one", "yes, somebody took it", "yes, we share it")
    for said in ("yes, it's off", "yes, in my hand", *others):
        talk = standing_at("injection_coil_failed", "lock").hear("locked over there", said)
        assert "locked_out" not in talk.readings


@pytest.mark.parametrize(("step", "said", "means"), [
    ("tag", "Tag says A two, same as the machine", "panel_tag=a two"),
    ("parts", "I didn't leave anything temporary, and I added two pounds", "part_left_in_use=none; refrigerant_added=2"),
    ("dead_power", "I'm not getting anything, nothing on any of the six", "dead_volts.power=0"),
    ("liquid_heater", "This machine has no heater on it", "crankcase_heater=none"),
    ("state_now", "She just now tripped on me, leaves two running", "running_now=just tripped; running_count=2"),
    ("window_pull", "it goes not in, it hums only", "tell=stays out"),
    ("state_now", "mine's down, not turning, and I hear the other three going", "running_now=off; running_count=3"),
    ("state_now", "this one has tripped and it stands still, one machine is still running",
     "running_now=just tripped; running_count=1"),
    ("spread", "they went out one after the other, maybe ten minutes between them", "trip_spread=together"),
    ("spread", "one after the other, two hours between them", "trip_spread=hours"),
    ("first", "the first one to go was number one", "first_to_trip=one"),
    ("food", "the food is still cold, the controller asks for it, and both switches are in automatic",
     "product_state=holding; controller_calls=yes; switch_position=auto; controller_mode=auto"),
    ("dead_power", "nothing on any of them, phase to phase and phase to ground all read zero", "dead_volts.power=0"),
    ("liquid_oil", "okay, that's been half an hour, it's still a bit foamy, the bottom end's gone lukewarm but the heads are"
     " still cold to the touch", "oil_level=foaming; crankcase_and_heads=cold"),
    ("liquid_oil", "half a glass, heads are just cold, no frost on them", "oil_level=normal; crankcase_and_heads=cold"),
    ("glass_again", "it is full of liquid, no more bubbles", "sight_glass=full"),
    ("parts", "no temporary part in it, no gas", "part_left_in_use=none; refrigerant_added=0"),
    ("parts", "nothing temporary, only the new flare nut and it stays in", "part_left_in_use=none"),
    ("liquid_heater", "ain't no heater on this old thing", "crankcase_heater=none"),
    ("liquid_heater", "there's a heater on it but it's off", "crankcase_heater=off"),
    ("liquid_heater", "somebody turned it on", "crankcase_heater=on"),
    ("live_oil", "Across the oil one I've got next to nothing, half a volt", "safety_volts.oil_pressure=0.5"),
    ("live_motor", "Motor one, I got about half a volt", "safety_volts.motor_protection=0.5"),
    ("feed", "Line's not getting anything, I've got two oh nine at the coil and I did hear it click",
     "injection_feed=dry; injection_coil_volts=209; valve_click=click"),
    ("feed", "Bone dry, not a thing going through", "injection_feed=dry"),
    ("dead_power", "Still nothing on the power, all six zero", "dead_volts.power=0"),
    ("dead_power", "Cover is off, zero volts all", "dead_volts.power=0"), ("dead_control", "Zero also", "dead_volts.control=0"),
    ("unlock", "I take my lock off, it is off", "lock_removed=true"),
    ("pump_down_again", "Same as before, three pounds is all she'll pull", "pump_down_low=3"),
    ("oil_feed", "I had a good look at it, and no, it's not getting any oil, it's starved", "oil_supply=starved"),
    ("how_many_off", "call came in about an hour ago", "alarm_minutes_ago=60"),
    ("how_many_off", "it's the discharge temperature one, just this machine, went out about an hour ago",
     "protection_shown=discharge; tripped_count=1; alarm_minutes_ago=60"),
    ("tag", "oh, you mean the label, it says A two", "panel_tag=a two"),
    ("fit", "no no, I'm fine, I've got good footing, glasses and gloves are on and the night lead knows I'm here",
     "fit_to_start=true"),
    ("how_to_check", "oh, dead for me, I don't go in there live if I don't have to", "live_or_dead=dead"),
    ("lock", "all locked, my red lock's hanging on there", "locked_out=true"),
    ("food", "it's holding, nothing's warmed up yet", "product_state=holding"),
    ("walk_high", "well, it dropped to zero after this one", "chain_point.high_pressure=0"),
    ("liquid_cooler", "we've got one but it's switched off", "subcooler_state=off"),
    ("leak_mend", "no, it still loses pressure", "leak_repaired=no"),
    ("run_oil", "fifty five on the pump and fifteen in the crankcase", "oil_pump_pressure=55; crankcase_pressure=15"),
    ("stop_chart", "chart's for four oh seven A", "controller_refrigerant=R407A"),
    ("pump_down", "it goes to zero, no trouble", "pump_down_low=0"),
])  # fmt: skip
def test_it_means_this_as_well(step: str, said: str, means: str):
    assert set(meant(step, said).split("; ")) == set(means.split("; "))


def test_who_will_not_start_it_has_heard_that_it_must_not_be_started():
    assert heeded("i understand, i won't start her", ("liquid_in_machine",))
    assert heeded("gotcha, i won't start it like this", ("liquid_in_machine",))
    assert heeded("got you, only the suction", ("valves",))
    assert not heeded("understood, i started her", ("liquid_in_machine",))


def test_power_that_is_on_counts_at_once_in_whatever_words_since_its_seconds_run():
    talk = standing_at("module_no_output", "power_on").hear("My hands are out, nobody near, control power's on now")
    assert talk.readings["control_power_on"] is True
    assert "control_power_on" not in standing_at("module_no_output", "power_on").hear("the lights are on").readings


def test_a_burnt_contact_beside_a_look_is_noted_and_condemned_by_what_it_does():
    assert "Noted." in standing_at("winding grounded", "poles").hear("all closed, one's burnt").said
    assert standing_at("winding grounded", "poles").hear("one is burnt").said.endswith("One open?")
    assert "Proven" in standing_at("winding grounded", "poles").hear("one's burnt open").said


def test_who_leaves_a_heater_on_hands_nothing_over():
    assert unready("i'm going to leave the heater on it and boil it out first") != "took over"
    assert unready("dave had to leave this is ron") == "took over"


def test_a_fans_breaker_put_back_makes_no_panel_live():
    assert unready("i fixed the chafed fan cable and put the breaker back in all six are going now") == ""
    assert unready("i put the breaker back in") == unready("the disconnect is back on and the fan started") == "live"


def test_no_other_lock_and_no_liquid_are_none():
    assert remark("there's no other lock here i was talking about the crankcase heater") is None
    assert unready("there is no liquid in the machine") == ""
    assert unready("there's liquid in the machine") == "liquid"


@pytest.mark.parametrize("said", [
    "correction, part left in use, none", "correct the parts, there was no part left in", "that is wrong, no part was left in",
])  # fmt: skip
def test_a_part_that_nobody_left_in_is_taken_back_by_its_name(said: str):
    talk = standing_at("injection_coil_failed", "parts").hear("temporary part left in, no gas")
    assert talk.asked.startswith("hand_over")
    assert talk.hear(said).readings["part_left_in_use"] == "none"
    assert "part_borrowed" not in talk.open


@pytest.mark.parametrize("said", ["correction, none", "correction, two pounds"])
def test_a_correction_of_nothing_by_name_answers_nothing_that_is_asked_now(said: str):
    talk = standing_at("injection_coil_failed", "parts").hear("temporary part left in, no gas", said)
    assert "follow_up_in_hours" not in talk.readings
    assert talk.readings["capacity_control"] != "none"


def test_the_law_wants_nothing_where_the_days_were_misspoken():
    talk = standing_at("charge low", "parts_after_charge").hear("none", "leak, one day")
    assert "leak_over_limit" in talk.open
    assert "leak_over_limit" not in talk.hear("correction, days three hundred", "three hundred").open
    assert not talk.broken()


@pytest.mark.parametrize(("said", "place"), [
    ("I have found it, the flare nut after the drier is leaking, it is wet with oil", "flare nut after the drier"),
    ("yep, found one, it's at the schrader core on the liquid header", "schrader core on the liquid header"),
])  # fmt: skip
def test_where_it_leaks_is_not_asked_of_who_said_so_with_it(said: str, place: str):
    talk = standing_at("charge low", "leak_search").hear(said)
    assert talk.readings["leak_place"] == place
    assert talk.asked.startswith("leak_mend_or_leave")
    assert standing_at("charge low", "leak_search").hear("yes, found it").asked.startswith("leak_where")


def test_two_hundred_and_five_is_one_number_across_a_contact():
    for said in ("two hundred and five across the discharge", "there it is, two hundred and five across the discharge"):
        assert meant("live_discharge", said) == "safety_volts.discharge_temperature=205"
    assert "Hot" in standing_at("probe_fouled", "pipe_temperature").hear("between one hundred and one fifty").said


@pytest.mark.parametrize(("names", "said"), [
    (("restart",), "I'll stay clear"), (("restart",), "I know it can, I'm standing off"),
    (("pressure_test",), "I only ever use dry nitrogen with a regulator, okay"),
    (("room",), "detector's green, fan's blowing, I'm okay in here"), (("valves",), "I know better than that, understood"),
])  # fmt: skip
def test_who_says_what_he_will_do_or_always_does_has_heard_the_caution(names: tuple[str, ...], said: str):
    assert heeded(said.lower(), names)


def test_foam_told_with_liquid_counts_as_well():
    talk = standing_at("oil diluted", "oil_glass").hear("it's all foam, and the sump's ice cold")
    assert talk.readings["oil_level"] == "foaming"
    assert "liquid_in_compressor" in talk.open
    assert "oil_level" not in standing_at("oil diluted", "oil_glass").hear("not foaming, but the sump's ice cold").readings


@pytest.mark.parametrize("said", ["she's locked, my lock, key's in my pocket", "sure is, my padlock's hanging right on it"])
def test_who_says_whose_lock_it_is_is_not_asked_again(said: str):
    assert "locked_out" in standing_at("injection_coil_failed", "lock").hear(said).readings


def test_all_four_of_six_fans_is_asked_back():
    talk = standing_at("condenser fouled", "high_fans_called").hear("it's calling for all four")
    assert talk.said == "The rack has six. Four fans called. Correct?"
    assert talk.hear("no, six").readings["condenser_fans_called"] == 6
    assert standing_at("condenser fouled", "high_fans_called").hear("all six").readings["condenser_fans_called"] == 6


@pytest.mark.parametrize("said", ["less than a volt on everything", "practically nothing", "almost zero on all six"])
def test_next_to_nothing_is_no_number_and_is_asked_for_as_one(said: str):
    talk = standing_at("injection_coil_failed", "dead_power").hear(said)
    assert talk.said.startswith("Read me the number, the worst.")
    assert "dead_volts.power" not in talk.readings
    assert talk.hear("point five").readings["dead_volts.power"] == 0.5


def test_what_was_done_stands_on_record_where_only_a_yes_counted():
    told = "found the coil open so a fresh one sits there"
    notes = [fact.text for _, fact in standing_at("injection_coil_failed", "repaired").hear(told, "yes, fixed").facts
             if isinstance(fact, NoteTaken)]  # fmt: skip
    assert notes == [told]
    talk = standing_at("injection_coil_failed", "repaired").hear(told, "no", "repaired")
    assert not any(isinstance(fact, NoteTaken) for _, fact in talk.facts)


def test_who_treats_it_as_live_does_not_say_that_it_is():
    talk = standing_at("injection_coil_failed", "lock").hear("locked", "Uh-huh, treating it like it's live")
    assert talk.asked.startswith("meter_before:")
    assert "Then it is live" in standing_at("injection_coil_failed", "lock").hear("locked", "it's live").said
    assert heeded("okay honey, i hear you, gloves and shield are on, i'm dry", ("live", "live_place"))


@pytest.mark.parametrize(("fault", "step", "said", "reading", "value"), [
    ("condenser fouled", "high_fans_called", "Controller's asking for all six, but I've only got four of them turning",
     "condenser_fans_called", 6),
    ("condenser fouled", "high_fans", "I count four going, two on the end are just sitting there, the breaker's tripped on them",
     "condenser_fans_running", 4),
    ("condenser fouled", "high_fans", "the breaker's tripped", "condenser_fans_running", None),
    ("injection_coil_failed", "dead_power", "Still zero on all six", "dead_volts.power", 0),
    ("injection_coil_failed", "dead_power", "still live", "dead_volts.power", None),
    ("injection_coil_failed", "valves", "All of 'em are wide open, never closed any", "service_valves_open", True),
    ("injection_coil_failed", "clear", "Yep, just me up here, tools are in the bag", "others_clear", True),
    ("injection_coil_failed", "clear", "tools are in, all clear", "others_clear", None),
    ("injection_coil_failed", "lock", "Okay, switch is down and I've got my lock on there, she's locked", "locked_out", True),
])  # fmt: skip
def test_of_the_fans_the_valves_and_the_lock(fault: str, step: str, said: str, reading: str, value: object):
    talk = standing_at(fault, step).hear(said)
    assert talk.readings.get(reading) == value
    assert "A line lost" not in talk.said


@pytest.mark.parametrize("said", [
    "nobody around but me, tools are picked up, nothing near the fans", "it's just me, tools are out and the fans are clear",
])  # fmt: skip
def test_nobody_but_me_is_clear(said: str):
    assert "others_clear" in standing_at("injection_coil_failed", "clear").hear(said).readings
    assert "others_clear" not in standing_at("injection_coil_failed", "clear").hear("everybody but me is clear").readings


@pytest.mark.parametrize("said", ["no tag on it, nobody else is on it", "there's no tag hanging on it", "the label's torn off"])
def test_of_a_disconnect_without_a_name_the_name_is_asked_for(said: str):
    talk = standing_at("injection_coil_failed", "tag").hear(said)
    assert talk.said.startswith("I mean the machine's name on it. No name there: trace it first.")
    assert talk.hear("A two").readings["panel_tag"] == "a two"


@pytest.mark.parametrize("said", ["there's a danger tag on it", "there's somebody's tag on it"])
def test_a_danger_tag_is_asked_about(said: str):
    assert "Is something not safe?" in standing_at("injection_coil_failed", "tag").hear(said).said


def test_who_stands_on_the_floor_has_not_fallen_on_it():
    assert remark("all good glasses and gloves on i'm on the floor and the lead knows") is None
    assert remark("i'm on the floor") is not None


@pytest.mark.parametrize("said", [
    "I've read the tag, and I've got my own lock and the key stays with me",
    "I got my lock and my key, control power is from other place",
])  # fmt: skip
def test_the_key_that_stays_with_him_is_his_own(said: str):
    assert heeded(said, ("lock_out",))


def test_a_lock_that_is_not_on_is_not_asked_back_as_on():
    talk = standing_at("injection_coil_failed", "lock").hear("not locked, key's in my pocket")
    assert talk.said == "Not understood. Is something not safe? If not, say it again."


def test_amps_are_said_once():
    talk = standing_at("oil low", "watch_last").hear("ten two ten two hundred eighteen")
    assert "amps eighteen, one eight." in talk.said
