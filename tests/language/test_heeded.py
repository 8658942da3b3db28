"""What acknowledges a caution in people's own words, and what must not. The project's own sentences."""

import tomllib
from pathlib import Path

import pytest

from assistant.language.heeded import heeded
from tests.call.test_call import at
from tests.talk import Talk

AT_ANY = (
    "noted", "loud and clear", "okay, always do", "yep, i know the drill", "no problem boss", "understood, gloves and shield on",
)  # fmt: skip
OF_THE_ROOM = (
    "yep, detector is green and the fan is humming", "detector's quiet and fan's running", "no alarm, fan's on", "all quiet",
    "detector's lit, fan's running, oxygen's fine", "oxygen's twenty point nine", "oxygen is at 20.9 and the fan's running",
)  # fmt: skip
OF_LIVE_WORK = (
    "gloves are on", "i've got my gloves on", "shield down, gloves on", "okay, one hand", "label's read, clothing meets it",
    "gloves on shield down one hand",
)  # fmt: skip
OF_THE_LOCK = ("understood, my own lock", "my lock, my key, got it", "ok reading the tag", "my lock's on, key's in my pocket")
NEVER = {
    ("room",): (
        "oxygen's at eighteen", "eighteen percent", "detector's dead", "detector's beeping", "no fan", "fan's off", "alarm's on",
        "detector's not lit", "what's the oxygen", "no detector", "twenty five percent", "all quiet?",
    ),
    ("live", "live_place"): (
        "gloves are off", "no gloves", "gloves are torn", "shield's up", "no label", "label's missing", "water", "it's wet",
        "power's on", "not yet", "wait", "gloves are wet", "metal ladder", "gloves in the truck", "one glove",
        "i'm good without gloves", "yeah right", "understood but the gloves are torn", "noted, no label",
    ),
    ("lock_out",): (
        "my lock's off", "no lock", "his lock", "lock's in the truck", "no tag", "another lock", "wrong tag", "his key",
    ),
    ("coil",): ("off its stem", "it's off its stem", "power's on"),
    ("restart",): ("gloves are on", "it's starting", "it's running", "somebody's in it"),
}  # fmt: skip


@pytest.mark.parametrize("said", AT_ANY)
@pytest.mark.parametrize("caution", ["room", "lock_out", "live", "coil", "jumper", "restart", "reset", "valves", "charging"])
def test_that_it_was_heard_acknowledges_any_caution(caution: str, said: str):
    assert heeded(said, (caution,))


@pytest.mark.parametrize(("caution", "said"), [
    *(("room", said) for said in OF_THE_ROOM), *(("live", said) for said in OF_LIVE_WORK),
    *(("lock_out", said) for said in OF_THE_LOCK),
])  # fmt: skip
def test_what_it_asks_for_said_to_be_so_acknowledges_it(caution: str, said: str):
    assert heeded(said, (caution,))


@pytest.mark.parametrize(("names", "said"), [(names, said) for names, all_said in NEVER.items() for said in all_said])
def test_nothing_else_does(names: tuple[str, ...], said: str):
    assert not heeded(said, names)


@pytest.mark.parametrize(("caution", "said"), [
    ("room", "yeah, twenty point eight, all quiet"), ("room", "fan's going, detector's quiet, we're grand"),
    ("room", "detector's lit and quiet, fan's running, and i've got twenty point nine on my meter"),
    ("lock_out", "understood, lock's going on now"), ("proving", "i understood, i wear the gloves"),
    ("proving", "understood, one hand and all that"), ("coil", "yep, understood, coil's still on its stem"),
    ("coil", "understood. power is off."), ("reset", "okay, one reset, i hear you"), ("reset", "yes, i will reset only one time"),
    ("hot_line", "understood. one thirty four on the line."), ("hot_line", "okie doke"),
])  # fmt: skip
def test_who_acknowledges_it_may_say_it_back(caution: str, said: str):
    assert heeded(said, (caution,))


@pytest.mark.parametrize(("caution", "said"), [
    ("proving", "understood, gloves are in the truck"), ("proving", "understood, no shield"), ("proving", "okay, one glove"),
    ("proving", "got it, shield's up"), ("coil", "understood, it's off its stem"), ("coil", "understood, power's on"),
    ("reset", "okay i'll reset it again later"), ("reset", "understood, i'll do two resets"), ("lock_out", "okay, his lock"),
    ("lock_out", "understood, key's in the door"), ("valves", "understood, discharge only"),
    ("charging", "understood, into the suction"), ("live", "understood, label's gone"), ("restart", "okay, i'm in it"),
    ("room", "understood, eighteen on my meter"), ("room", "understood, fan's off"), ("restart", "understood, starting it"),
    ("lock_out", "understood?"), ("proving", "understood, if i find my gloves"), ("proving", "understood, gloves are wet"),
])  # fmt: skip
def test_what_is_said_beside_it_may_speak_against_it(caution: str, said: str):
    assert not heeded(said, (caution,))


@pytest.mark.parametrize("said", OF_THE_ROOM)
def test_at_the_rooms_caution_the_call_goes_on(said: str):
    assert Talk().hear("rack a compressor two", said).asked == "fit:fit_to_start"


@pytest.mark.parametrize("said", ["oxygen's at eighteen", "eighteen percent", "oxygen reads twenty five percent"])
def test_air_that_is_none_to_breathe_keeps_everybody_out(said: str):
    talk = Talk().hear("rack a compressor two", said)
    assert "Stay out" in talk.said
    assert talk.broken() == ()


@pytest.mark.parametrize("said", ["gloves are torn", "no gloves", "gloves are off"])
def test_gloves_that_are_none_let_nobody_into_the_panel(said: str):
    before = at("meter_before/proving")
    assert before.hear(said).asked != "meter_before:meter_proved_before"


@pytest.mark.parametrize(("caution", "said"), [
    ("room", "the green light is on and the fan is running, i hear it, and on my meter is twenty point nine"),
    ("room", "acknowledged. oxygen twenty point nine."), ("room", "fine, detector's quiet, fan's on"),
    ("room", "the detector is on and quiet, fan is working"), ("lock_out", "tag read, own lock hung, key with me"),
    ("lock_out", "aye, done it, lock's on"), ("proving", "gloved up, shield's down"), ("proving", "ppe on, ready"),
    ("proving", "suited and booted"), ("insulation_test", "yeah it's isolated, modules off"),
    ("insulation_test", "yeah, done it before"),
    ("hot_line", "yeah i know, i'll watch it. pipe's down to about one eighty now on the clamp"),
    ("hot_line", "aye, i'll mind it. it's been off a while, pipe's about ninety"),
])  # fmt: skip
def test_a_caution_is_heeded_in_the_words_of_many(caution: str, said: str):
    assert heeded(said, (caution,))


def test_a_detector_that_is_on_is_no_alarm():
    assert "alarm" not in Talk().hear("rack a compressor two", "the detector is on and quiet, fan is working").readings.values()


@pytest.mark.parametrize(("caution", "said"), [
    ("restart", "okay, i'll keep clear, fans as well"), ("fans", "okay, i'll mind the fans"),
    ("proving", "okay, treat it as live till i've proved it, one hand"), ("probe_in_gas", "yep, leave it in the line,"
        " don't want a face full of hot gas"),
    ("carbon_dioxide", "understood, never shut liquid in, and i'll watch for dry ice in the hose"),
    ("ladder", "three points, it's tied off at the top"), ("acid", "yep, i'll keep it off my skin"),
    ("pressure_test", "okay, never oxygen, and i'll stay under the low side's test pressure"),
    ("reset", "okay, if it goes again i lock it and leave it"), ("charging", "yep, rack says the same as the cylinder,"
        " and it's on the scale"),
    ("brazing", "understood, nitrogen trickling through"), ("calculation", "yeah, superheat"
        " not under twenty, got it"),
])  # fmt: skip
def test_who_assents_may_tell_more_that_nowhere_speaks_against_it(caution: str, said: str):
    assert heeded(said, (caution,))


@pytest.mark.parametrize(("caution", "said"), [
    ("proving", "yeah, shield's in the van"), ("proving", "okay, just the one glove"), ("live", "sure, no label on it though"),
    ("room", "okay, detector's red"), ("restart", "yeah wait, my hand's in there"), ("fans", "okay, somebody's in the fan"),
    ("lock_out", "yeah, he put his on"), ("reset", "okay, i'll do it every time"), ("brazing", "sure, haven't got a permit"),
    ("charging", "okay, opening it into the suction now"), ("coil", "okay, lifting it off now"),
    ("ladder", "yep, it's a bit icy"),
    ("live_place", "okay, got my rings on"), ("proving", "yes yes yes no"), ("valves", "okay, closing the discharge"),
    ("proving", "okay, my hands are still in there"), ("restart", "okay, the compressor started"),
    ("lock_out", "okay, it has two locks on it"),
    ("live", "okay, i touched two terminals"), ("coil", "okay, wired the coil straight to hot"),
    ("room", "got it, detector's flashing"),
    ("restart", "okay, line's at two ninety"), ("proving", "okay, there's fifty volts on my glove"),
    ("pressure_test", "yeah, no regulator but it's fine"), ("insulation_test", "okay, is the drive off"),
    ("acid", "yeah, skip the gloves"),
])  # fmt: skip
def test_what_lacks_or_puts_off_is_no_assent(caution: str, said: str):
    assert not heeded(said, (caution,))


with open(Path(__file__).with_name("heeded.toml"), "rb") as _file:
    TOLD = tomllib.load(_file)


@pytest.mark.parametrize("caution", TOLD)
def test_who_assents_and_breaks_it_in_the_same_breath_has_not_acknowledged_it(caution: str):
    """By two strangers who knew the cautions alone: "got it, my knee's braced on the suction line"."""
    assert [said for said in TOLD[caution]["not"] if heeded(said, (caution,))] == []


@pytest.mark.parametrize("caution", TOLD)
def test_who_assents_and_tells_how_he_keeps_to_it_has(caution: str):
    assert [said for said in TOLD[caution].get("heeded", []) if not heeded(said, (caution,))] == []
