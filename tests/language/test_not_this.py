"""What has the words of an answer and is of something else, beside the plain sentence; typed without commas."""

import pytest

from assistant.language.meaning import Answer, Command
from assistant.language.pieces import understand_in_pieces
from assistant.language.spoilt import spoilt
from tests.language.test_said_at_steps import question

ANOTHERS = {
    "contact_wire_back": ("wire is on the bench done", "wire is in my way done"),
    "covers": ("cover is in my way done",),
    "lock": (
        "my lock's on the boss has the key", "the lock's on i can still turn the handle",
        "lock is on the bench done", "lock is in my way done", "locked the lock's in my pocket",
    ),
    "dead_drive": (
        "zero on a c",
    ),
    "meter_before": (
        "meter's good i tried it on the dead one", "meter's good my buddy tested it",
    ),
    "leads_off": (
        "done with the leads",
    ),
    "jumper_out": (
        "took it out then put it back", "he took it out so he says", "jumper's out the plug's cracked",
    ),
    "bypass_out": (
        "out the one on the left anyway",
    ),
    "valves": (
        "valves are open i was told", "they open easy",
    ),
    "clear": (
        "everyone clear please",
    ),
    "power_on": (
        "power's been on", "power on is next",
    ),
    "window_on": (
        "power on i unlocked the disconnect",
    ),
    "power_off": (
        "power off he says", "power off then on again", "power off lock's in my pocket",
    ),
    "reset": (
        "i reset the controller", "reset when you say", "reset's next", "reset it held for a second",
    ),
    "unlock": (
        "lock's off and back on",
    ),
    "anew_other_lock": (
        "one's gone one's left",
    ),
    "anew_room_safe": (
        "detector's quiet it's unplugged",
    ),
    "isolate": (
        "he closed them all",
    ),
    "at_zero": (
        "zero gauge is off the hook", "it'll be zero in a minute", "zero pounds in the cylinder",
        "zero with the pump running",
    ),
    "leak_zero": (
        "zero with the hose off",
    ),
    "shell": (
        "fifty before i recovered it", "it holds two hundred on the plate",
    ),
    "empty_section": (
        "empty i closed downstream first", "it's empty solenoid's stuck shut",
    ),
    "recover": (
        "cylinder's thirty pounds", "there's twenty left in it", "plate says forty pounds", "three cylinders",
        "recovered ten he recovered the rest", "cylinder holds fifty", "about to recover thirty", "tare is seventeen pounds",
    ),
    "leak_search": (
        "no i'm out of spray", "no the sniffer's dead", "found nothing it's low though",
        "no leak at the flares still to do the cases", "no i'd have smelled it", "found one then lost it",
    ),
    "charge": (
        "thirty pounds on the scale it's the tare", "put in five taking it back out", "ten pounds so far",
        "want to add thirty", "ten left in the cylinder", "two cylinders", "i've got a fifty pound cylinder",
    ),
    "recover_hose_off": (
        "hoses are off one's left on",
    ),
    "feed_after": (
        "stopped the valve's still clicking", "stopped for a second", "stopped i shut the hand valve", "warmed by the sun",
        "stopped and warmed on the other one", "it stopped last time",
    ),
    "wire_back": (
        "the wire's back there",
    ),
    "modules_off": (
        "i'll have it unplugged",
    ),
    "tester_off": (
        "grounded for a second leads off",
    ),
    "unblock_start": (
        "back as it was i think",
    ),
    "clamp_off": (
        "clamp's off thermocouple's on",
    ),
    "open_hand_valve": (
        "opened it then shut it",
    ),
    "seat_coil": (
        "coil is a bit off done", "coil is on the bench done",
        "seated the power's on",
    ),
    "leave_off": (
        "locked he's got the key",
    ),
    "stop_now": (
        "switched off it came back on",
    ),
    "tell_store": (
        "told a cashier she's telling him", "told the voicemail", "told the manager's wife", "i'm told the store knows",
    ),
    "tell_store_rack": (
        "told them it's rack b",
    ),
    "coil": (
        "four twelve i'm on the wrong coil", "nameplate's four hundred", "it's open the meter's leads are off",
        "open i'm holding the lead with my hand", "two fifty is the limit", "four hundred with my fingers on it",
        "it was four hundred in march", "range is four hundred", "looking for four hundred", "twelve volt coil",
        "terminal four hundred and one", "four hundred and dropping",
    ),
    "coil_like": (
        "four ten the neighbor's running", "four ten neighbor's live", "the spare's box says four ten",
    ),
    "starter_coil": (
        "eighteen on the other lead", "plate says one twenty", "eighteen with both leads on", "open circuit in my meter",
    ),
    "windings": (
        "one point one i had it through the drive",
    ),
    "insulation": (
        "hundred meg on the other motor", "one meg's the limit", "fifty meg and falling", "two meg with the drive on",
        "two meg it's wet out here", "two meg my hand was on it", "ten meg in the book", "at five hundred volts it tripped",
    ),
    "sensor_string": (
        "trips at four thousand", "limit is four thousand", "four k trips it",
    ),
    "probe_module_end": (
        "chart says ten k", "ten k on the neighbor's", "ten k i unplugged it", "was ten k this morning",
        "eight k moving around", "ten k resistor", "twenty k scale", "open the wire's off",
    ),
    "probe_direct": (
        "ten k after i cleaned it", "eight k on the spare", "eight k with wet hands", "same eight k on the book",
    ),
    "probe_clean": (
        "cleaned it dropped it", "cleaned the outside", "cleaned with a grinder", "clean it's cracked",
        "cleaned it's still out",
    ),
    "pipe_temperature": (
        "it trips at two ninety", "one ninety when it was running", "ninety in the shade",
    ),
    "output_fuse": (
        "good i just put a new one in", "it blew last week good now",
    ),
    "control_fuse_look": (
        "good by eye",
    ),
    "line_fuses": (
        "all good one's warm",
    ),
    "which_contact": (
        "oil is open i pulled the wrong side", "high pressure opens at four hundred", "open on oil i had it on volts",
    ),
    "motor_shell": (
        "hot outside", "cold it's the neighbor's", "warm it's the sun",
    ),
    "glass": (
        "full when it's cold", "empty bottle in my hand", "full i'm looking at the wrong glass",
    ),
    "rack_suction": (
        "suction's set for twelve discharge two ten", "twelve and two ten on rack b", "it was twelve and two ten",
        "gauge went to twelve and two ten then dropped", "twelve two ten in the log",
    ),
    "receiver": (
        "thirty percent's the alarm", "low alarm is at thirty", "supposed to be forty", "forty on the other receiver",
        "three foot tall receiver", "thirty the float's stuck", "thirty after i charge it",
    ),
    "drier": (
        "two degrees last time", "thirty pound drier", "two degrees on the other drier", "changed it at two degrees",
        "two cores in it",
    ),
    "strainer": (
        "one degree's normal", "two turns",
    ),
    "high_cutout": (
        "tripped at four hundred", "the other one's four hundred", "three ninety five was where it went",
        "dial goes to five hundred", "i set it at four hundred",
    ),
    "low_cutout": (
        "it cut out at five", "range goes to eighty",
    ),
    "high_air": (
        "ninety in the car", "ninety five in the weather app", "forecast says ninety", "gets to a hundred and ten up here",
        "design's ninety five",
    ),
    "high_standing": (
        "one ninety and the fans are on", "one ninety it's running", "one ninety before",
    ),
    "pump_down": (
        "five it's meant to hit zero", "stopped at five i should've gone to zero", "sixty to start with",
    ),
    "opened_at": (
        "supposed to open at four hundred", "last time four hundred",
    ),
    "warm_crankcase": (
        "it should be ninety", "ninety watts",
    ),
    "how_to_check": (
        "dead then live",
    ),
    "one_reset_discharge": (
        "closed then opened",
    ),
    "pressure_reset": (
        "holds for a bit", "holds then pops",
    ),
    "motor_reset": (
        "closed it opened again",
    ),
    "protector_cooled": (
        "it'll be closed",
    ),
    "leak_left": (
        "run it slow", "run it after i fix it", "they run it like that",
    ),
}
"""Has an answer in it, and is another's, another day's, a plate's, a limit, a wish, hearsay, undone again or not done yet."""
SO = {
    "lock": (
        "locked it out myself key's in my pocket", "it's locked i tried the handle", "lock's on tag's on",
    ),
    "anew_second_source_locked": (
        "locked it too my own lock",
    ),
    "dead_power": (
        "zero point one worst of six", "zero on all six",
    ),
    "dead_control": (
        "zero point three worst",
    ),
    "meter_before": (
        "meter's good tried it on the outlet", "one twenty on the outlet meter's good", "tried it on a known outlet it works",
    ),
    "meter_after": (
        "still good read one twenty again", "good tried it on the same outlet",
    ),
    "leads_off": (
        "leads are off both of them",
    ),
    "jumper_out": (
        "jumper's out probe's plugged in",
    ),
    "bypass_out": (
        "jumper's out circuit's back as it was",
    ),
    "fit_jumper": (
        "it's in snug",
    ),
    "block_start": (
        "start's blocked switch is off",
    ),
    "covers": (
        "covers are on every screw", "covers are on all bolts in",
    ),
    "valves": (
        "they're all open back seated",
    ),
    "clear": (
        "everybody's clear tools are out", "all clear it's just me up here",
    ),
    "power_off": (
        "power's off and locked", "power off lock's on it",
    ),
    "start": (
        "it's in auto it's running",
    ),
    "unlock": (
        "my lock's off tag's off",
    ),
    "anew_lock": (
        "still on i just checked",
    ),
    "anew_everybody_safe": (
        "everybody's safe we're all outside",
    ),
    "anew_room_safe": (
        "detector's quiet fan's running",
    ),
    "fit": (
        "all good store manager knows i'm up here",
    ),
    "clothing": (
        "label's read clothing meets it fiberglass ladder",
    ),
    "at_zero": (
        "zero and holding",
    ),
    "empty_section": (
        "it's empty upstream closed first",
    ),
    "recover": (
        "recovered twelve pounds",
    ),
    "repaired": (
        "repaired and tested it's good", "fixed it new coil's in",
    ),
    "leak_mend": (
        "repaired and tight held nitrogen",
    ),
    "leak_search": (
        "no leak soaped every joint", "found one at the flare",
    ),
    "cylinder": (
        "same it says so on the cylinder",
    ),
    "charge": (
        "weighed in ten pounds", "added ten it's all in",
    ),
    "hose_off": (
        "cylinder's shut hose is off",
    ),
    "feed_after": (
        "stopped and warmed right up",
    ),
    "heater_long": (
        "heater's on feels warm",
    ),
    "heater_time": (
        "crankcase is warm it's had its time",
    ),
    "wire_back": (
        "wire's back and tight",
    ),
    "terminal_cover_on": (
        "cover's on every bolt",
    ),
    "modules_off": (
        "all unplugged charge is known",
    ),
    "modules_back": (
        "all back as they were",
    ),
    "tester_off": (
        "windings grounded leads are off",
    ),
    "unblock_start": (
        "start control's back as it was",
    ),
    "stop_now": (
        "switched off it's stopped",
    ),
    "consent": (
        "close it all done",
    ),
    "tell_store": (
        "told the manager he's writing it down",
    ),
    "tell_store_rack": (
        "told them they're fine with it",
    ),
    "hand_over": (
        "dave takes it in four hours",
    ),
    "parts": (
        "nothing left in ten pounds added",
    ),
    "coil": (
        "four twelve on the coil wire's lifted", "four twelve ohms steady",
    ),
    "windings": (
        "one point one one point one one point one",
    ),
    "insulation": (
        "a hundred meg to ground",
    ),
    "probe_module_end": (
        "eight k at the module end",
    ),
    "probe_clean": (
        "cleaned it it's back in",
    ),
    "pipe_temperature": (
        "ninety five on the pipe",
    ),
    "which_contact": (
        "oil is open the rest are closed", "discharge is the open one",
    ),
    "glass": (
        "full none in defrost",
    ),
    "rack_suction": (
        "twelve and two ten", "suction's twelve discharge is two ten",
    ),
    "receiver": (
        "about forty percent", "it's at forty float's moving",
    ),
    "drier": (
        "two degrees across it",
    ),
    "high_cutout": (
        "set at four hundred",
    ),
    "high_air": (
        "ninety five going in",
    ),
    "how_to_check": (
        "dead check",
    ),
    "pressure_reset": (
        "it holds",
    ),
}
"""The same without such a twist."""


def taken(step: str, words: str) -> bool:
    meaning = understand_in_pieces(question(step), words)
    sure = isinstance(meaning, Answer) and not any(part.doubt for part in meaning.parts)
    went_on = isinstance(meaning, Command) and meaning.name == "continue"
    return (sure or went_on) and not spoilt(question(step), words)


@pytest.mark.parametrize(("step", "words"), [(step, words) for step, said in ANOTHERS.items() for words in said])
def test_what_is_of_something_else_is_never_taken_for_sure(step: str, words: str):
    assert not taken(step, words)


@pytest.mark.parametrize(("step", "words"), [(step, words) for step, said in SO.items() for words in said])
def test_the_plain_sentence_is_taken(step: str, words: str):
    assert taken(step, words)
