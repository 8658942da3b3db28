"""What is said in one go without commas, where it must not be taken, and how a sentence is cut."""

import pytest

from assistant.language.meaning import Answer, Command
from assistant.language.pieces import understand_in_pieces
from assistant.language.run_on import with_commas
from assistant.language.spoilt import spoilt
from tests.language.test_said_at_steps import question

NOT_SO = {
    "lock": (
        "lock's on the bench i'll get it", "it's locked dave did it", "locked i hope it's the right one",
        "my lock's on but the key's still in it", "lock is on the other machine is off", "the lock's on his",
        "locked well nearly", "i locked it last week", "it's locked on the other side",
        "locked out of the truck my lock's in there", "my lock's in my pocket key's in my hand", "it's locked they told me",
        "lock's on it's not mine", "lock is on someone's working on it", "locked and then i took it off",
    ),
    "clear": (
        "all clear dave's in the panel", "clear the kid is behind it", "everybody's clear i think bob's on the roof",
        "we're clear when he's done", "all clear tools are in the fan", "clear as mud", "nobody's clear",
        "everyone's out i can't see ray",
    ),
    "valves": (
        "all open the oil one's cracked", "they're open suction is shut", "all of em open i only looked at two",
        "open well the oil valve is stiff", "all open like the last time", "valves are open the other rack's",
        "open the valves",
    ),
    "covers": (
        "covers are on one screw is missing", "covers on the floor", "all on the terminal box is open",
        "they're on top of the rack", "covers are on the bench",
    ),
    "power_on": (
        "power on no wait", "power's on my hand's in here", "power on when you're ready", "power on the light is out",
        "everybody's out power on his side",
    ),
    "dead_power": (
        "zero point one i think it's off", "zero on one pair i didn't do the rest", "zero so far",
        "zero the meter's acting up", "point two it's jumping", "zero yesterday it was live",
        "it's zero on the dead leg two oh eight on the other", "zero the battery's low", "zero on ohms",
    ),
    "dead_control": (
        "zero volts the lamp's still lit", "zero i measured on the other machine", "two volts climbing",
    ),
    "meter_before": (
        "meter's good the leads are broken", "it works it was good yesterday", "meter's good i haven't tried it",
        "good enough", "it reads nothing it's good", "meter is good battery's flashing",
    ),
    "meter_after": (
        "still good it reads nothing now", "good i didn't try it", "good it was before",
    ),
    "at_zero": (
        "zero now it's climbing", "zero the valve's leaking", "zero it was rising", "zero on the other gauge",
        "gauge reads zero it's broken", "the gauge reads zero and it's stuck", "zero for now", "it's zero the line is cold",
    ),
    "block_start": (
        "blocked it's still in auto", "switch is off it's the wrong one", "blocked i think the other one",
    ),
    "jumper_out": (
        "out the probe's off", "jumper's out and the probe's still off", "it's out no it's in", "jumper is out of the bag",
    ),
    "fit": (
        "all good the detector's chirping", "all good i can't find my glasses", "good to go no gloves",
        "all good nobody knows i'm here", "we're all good the alarm's off the wall",
    ),
    "reset": (
        "i reset it it popped", "reset it twice", "reset it's out again",
    ),
    "isolate": (
        "all five closed the oil one leaks by", "closed them suction's cracked", "closed all but one",
    ),
    "repaired": (
        "repaired i'll do the rest tomorrow", "fixed it it's dripping", "repaired with tape", "it's fixed for tonight",
        "repaired the other one",
    ),
    "leak_mend": (
        "yes it's mended it's still hissing", "mended with a clamp", "yes for now",
    ),
    "unlock": (
        "lock's off his is on", "it's off the key's lost", "off i took his too",
    ),
    "start": (
        "started it quit", "it's running it's knocking", "running backwards", "it started then stopped",
        "started the wrong one",
    ),
    "hose_off": (
        "hose is off gauges are on", "it's off the valve's open", "off it's hissing",
    ),
    "warm_heater": (
        "it's on the breaker", "it's on i think it's cold", "on it's stone cold",
    ),
    "feed_after": (
        "stopped it's still frosted", "it stopped warm now it's hissing", "stopped the line's cold",
    ),
    "clothing": (
        "read the label it's missing", "label's read my gloves are torn", "read it i'm not wearing the shield",
    ),
    "leads_off": (
        "leads are off one's on", "off the black one's stuck",
    ),
    "cylinder": (
        "same gas the label's gone", "it's the same i think the tag's worn",
    ),
    "glass": (
        "i want it full", "was full now i can't see",
        "full it's the other rack", "it's full he says it was bubbling", "full or close to it", "bubbles no it's clear",
    ),
    "rack_suction": (
        "twelve and two ten no that's the other rack", "twelve and two ten from yesterday",
        "twelve and two ten before it tripped",
    ),
    "coil": (
        "four hundred it should be two fifty", "four hundred something", "spec says four hundred i got nothing",
        "four twelve on the good one", "four twelve with the wire still on",
    ),
    "probe_module_end": (
        "book says ten k",
    ),
    "leak_search": ("no leak i haven't looked",),
    "tell_store": ("i told the wrong store",),
    "which_contact": ("the oil is closed the high is closed",),
    "oil_glass": ("it's normal for this one to be low",),
    "motor_shell": ("cool it's the other machine",),
    "high_fans": ("three of them are noisy",),
    "receiver": ("forty percent or fifty", "forty if the float works"),
    "drier": (
        "should be two degrees", "two degrees but the gun's off",
    ),
}
"""Each has the words of an answer in it, and takes them back, makes them another's or says beside them that it is not safe."""


@pytest.mark.parametrize(("step", "words"), [(step, words) for step, said in NOT_SO.items() for words in said])
def test_an_answer_that_is_taken_back_in_the_same_breath_is_none(step: str, words: str):
    meaning = understand_in_pieces(question(step), words)
    sure = isinstance(meaning, Answer) and not any(part.doubt for part in meaning.parts)
    went_on = isinstance(meaning, Command) and meaning.name == "continue"
    assert not (sure or went_on) or spoilt(question(step), words)


@pytest.mark.parametrize("words", ["it's full when it runs", "make sure it's full", "is it full it is", "he told me it's full"])
def test_a_clause_that_hangs_on_another_is_not_cut_off_it(words: str):
    assert list(with_commas(words)) == []


def test_a_number_is_never_cut():
    cuts = [way for ways in with_commas("damn four hundred and twelve ohms on it") for way in ways]
    assert cuts
    assert all("four hundred and twelve ohms" in way for way in cuts)
