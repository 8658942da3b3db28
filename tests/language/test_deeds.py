"""What says that a thing is done, and what only sounds like it: put together from parts, so it is tried in parts."""

import itertools

import pytest

from tests.language.test_said_at_steps import meant

NOT_TAKEN = ("asked", "refused", "remark", "command hold")
WHO = ("", "i ", "i've ", "we've ", "okay i ")
DONE = {
    "lock": (("locked", "padlocked", "tagged and locked"), ("it", "it myself", "it off properly", "it out and tagged it")),
    "covers": (("put", "screwed", "bolted"), ("them back on", "all the covers back on", "both covers on tight")),
    "jumper_out": (("took", "pulled"), ("it out and plugged the probe back in", "the jumper out and the probe's back in")),
    "isolate": (("shut", "closed"), ("all five", "all five of them", "all of them")),
    "leads_off": (("took", "pulled"), ("both leads off", "them off the coil")),
    "tell_store": (("told", "informed", "spoke to"), ("the manager", "the night manager", "the guy at the desk")),
}
PASSIVE = {
    "lock": "my lock has been fitted|my lock's snapped on|that's my lock on|mine's on the disconnect",
    "unlock": "my lock has been removed|that's my lock off|mine's come off",
    "covers": "every cover's screwed back on|the lids are back on|the covers have all been refitted",
    "contact_wire_back": "wire's back on its terminal|the wire has been reconnected|that's the wire landed",
    "hose_off": "cylinder's closed and the hose has been removed|the bottle's shut and the hose is off",
    "meter_before": "the meter is working correctly|the tester shows the live source|meter reads right on a known source",
    "clear": "nobody's near the machine and the tools are away|there's no one around|everyone has stepped back",
    "consent": "you may close the call|go ahead and seal it",
}
NEVER = {
    "hose_off": "cylinder's shut, hose is on|hose is still on, cylinder's shut",
    "modules_off": "all on|all in|the drive's on, module's off",
    "lock": "it'll be locked|i locked myself out"
    "|i've got to lock it|ready to lock|my lock is ready|they've locked it|as good as locked"
    "|breaker's on|the disconnect's on"
    "|it's on|i'm on it|my lock's in the truck|locked, not tagged",
    "unlock": "it's coming off|taking it off|i'm off|he's taken it off|tag's off, lock's on"
    "|it's out of my hands",
    "covers": "the top one's on|they're going back on|putting them on|i'm on the covers|one cover's on|covers are in the truck"
    "|close the covers|all but one on",
    "clear": "clear out|nobody's clear|i'm clear|he's clear|everybody's clear but the kid|everybody's back at it"
    "|clear the area",
    "power_on": "hands are in, power's on|i'm on|ready to put the power on|turn the power on|hands are out",
    "clip_leads": "coil's on|one lead's on|lead's on",
    "fit_jumper": "probe's in|i'm in|jumper's in the truck",
    "jumper_out": "it's coming out|taking it out now|pulling it out|probe's out|jumper's out, probe's out|take the jumper out",
    "valves": "suction and discharge are open|discharge is open|open the valves|one's open|open them",
    "isolate": "some are closed|some of them are closed|suction's closed|one's closed|close the valves|four closed",
    "meter_before": "voltage is good|the meter should work|it read fine yesterday|meter's good for nothing",
    "tell_store": "they told me|the manager told us|has he been told|nobody told|i have to tell them",
    "leak_section": "empty the section|half empty|it's not empty",
    "block_start": "compressor's off|block it",
    "open_discharge_again": "discharge is open|discharge valve's open|two are open",
    "open_suction_again": "open the valve|discharge is open",
    "open_all_again": "suction's open|discharge is open|discharge and suction are open|injection's open|four are open",
    "leads_off": "meter's off|one lead off|take the leads off",
    "leave_off": "it's off|it's on",
    "consent": "close the valve|close the door|i can close it later",
    "supervisor": "he has to agree|i need his approval|ask his permission",
    "anew_other_lock": "he's gone|he's off|my lock's off",
    "anew_lock": "it was on|it should be on|i think it's on",
}


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (step, f"{who}{deed} {rest}")
        for step, (deeds, ends) in DONE.items()
        for who, deed, rest in itertools.product(WHO, deeds, ends)
    ]
    + [(step, words) for step, said in PASSIVE.items() for words in said.split("|")],
)
def test_what_was_done_is_taken_whoever_tells_it_and_in_whatever_order(step: str, words: str):
    assert meant(step, words).endswith(("=true", "=yes", "go"))


@pytest.mark.parametrize(("step", "words"), [(step, words) for step, said in NEVER.items() for words in said.split("|")])
def test_an_order_one_of_several_another_thing_and_anothers_deed_are_never_the_thing_done(step: str, words: str):
    assert meant(step, words) in NOT_TAKEN


@pytest.mark.parametrize(
    ("step", "words", "value"),
    [
        ("high_face", "it's boggin'", "condenser_face=fouled"),
        ("high_face", "bunged up", "condenser_face=blocked"), ("high_face", "squeaky clean", "condenser_face=clean"),
        ("motor_shell", "roasting", "tell=hot"), ("motor_shell", "tepid", "tell=warm"),
        ("shaft", "jammed solid", "mechanical_state=seized"), ("shaft", "it moves freely", "mechanical_state=free"),
        ("glass_again", "fizzing like mad", "sight_glass=bubbles"), ("output_fuse", "blown to bits", "module_output_fuse=blown"),
        ("probe_follows", "it follows straight away", "probe_response=quick"),
        ("probe_follows", "takes ages", "probe_response=slow"),
        ("coil", "is four ten good", "refused"), ("high_fans", "all six are running", "condenser_fans_running=6"),
    ],
)  # fmt: skip
def test_a_word_of_a_class_means_what_the_question_calls_it(step: str, words: str, value: str):
    assert meant(step, words) == value


def test_got_one_behind_a_no_corrects_no_reading():
    assert "isolated_pressure" not in meant("liquid_heater", "it's no got one")
