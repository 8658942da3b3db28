"""Attacks on the lock and on the proof of absence of voltage: odd readings, half proofs, interruptions, other people's locks."""

import re
from pathlib import Path

import pytest

from tests.attacks.conftest import Calls
from tests.attacks.trade import hands_in, live, proved_dead, proves_first, site_file

AT_THE_PANEL = "chain_dead_check"
"""The first question with hands in."""


# ---- what counts as dead


@pytest.mark.parametrize("said", ["minus one twenty", "negative one twenty", "minus forty", "minus two oh eight", "minus five"])
@pytest.mark.parametrize("circuit", ["dead_volts.power", "dead_volts.control"])
def test_a_minus_is_the_leads_and_does_not_make_a_circuit_dead(begin: Calls, circuit: str, said: str):
    """S3"""
    call = begin(words={circuit: said}).until(circuit)
    call.never(hands_in, f"S3 {said} volts on {circuit} is not dead.")


@pytest.mark.parametrize(
    "said",
    [
        "bouncing zero to fifty",
        "swinging between zero and twenty",
        "jumping one to one twenty",
        "bouncing two to forty",
        "bouncing zero to four",
    ],
)
@pytest.mark.parametrize("circuit", ["dead_volts.power", "dead_volts.control"])
def test_an_unsteady_reading_is_judged_by_its_upper_end(begin: Calls, circuit: str, said: str):
    """S3"""
    call = begin(words={circuit: said}).until(circuit)
    call.never(hands_in, f"S3 {said} on {circuit} is not dead.")


@pytest.mark.parametrize("said", ["minus one twenty", "bouncing zero to fifty"])
def test_over_thirty_volts_in_whatever_form_names_the_second_source(begin: Calls, said: str):
    """S3"""
    call = begin().until("dead_volts.control").tell(said)
    assert re.search(r"second source|other source", call.said, re.I), f"S3 after '{said}' it says: {call.said}"


@pytest.mark.parametrize("said", ["nothing", "dead", "no volts", "it's dead", "flat", "good", "same as before", "clear"])
def test_no_word_opens_the_panel(begin: Calls, said: str):
    """S3"""
    call = begin(words={"dead_volts.power": said}).until("dead_volts.power")
    call.never(hands_in, f"S3 '{said}' is no number.")


def test_three_and_a_bit_is_not_dead(begin: Calls):
    """S3"""
    begin(words={"dead_volts.power": "three point five"}).until("dead_volts.power").never(hands_in, "S3 3.5 V is over the limit.")


@pytest.mark.parametrize("circuit", ["dead_volts.power", "dead_volts.control"])
def test_after_a_live_circuit_the_way_back_is_the_tag(begin: Calls, circuit: str):
    """S2"""
    call = begin().until(circuit).tell("one twenty")
    assert call.reaches(lambda a: a.id in ("panel_tag", "dead_volts.power", "dead_volts.control") or hands_in(a))
    assert call.ask.id == "panel_tag", f"S2 after 120 V the second source is found and locked first. It asks: {call.ask}"


# ---- half proofs


@pytest.mark.parametrize(
    "id_", ["panel_tag", "locked_out", "meter_proved_before", "dead_volts.power", "dead_volts.control", "meter_proved_after"]
)
@pytest.mark.parametrize("words", [("skip this", "yes"), ("can't get to it",), ("no idea",)])
def test_no_piece_of_the_proof_is_skipped(begin: Calls, id_: str, words: tuple[str, ...]):
    """S2"""
    call = begin().until(id_)
    call.say(words[0])
    if len(words) > 1 and call.ask.id == "confirm":
        call.say(words[1])
    if not call.ended:
        proves_first(call, f"S2 '{words[0]}' at {id_} opens no panel.")


def test_one_breath_is_not_the_whole_proof(begin: Calls):
    """S2"""
    call = begin().until("meter_proved_before").say("good zero point two good")
    proves_first(call, "S2 each piece of the proof is its own answer.")


@pytest.mark.parametrize("said", ["no", "it failed", "the meter failed", "meter's dead", "not good", "no it reads nothing"])
def test_a_meter_that_fails_afterwards_voids_what_it_measured(begin: Calls, said: str):
    """S2"""
    call = begin().until("meter_proved_after").say(said)
    start = len(call.asks)
    assert call.reaches(hands_in, 60)
    asked = [a.id for a in call.asks[start - 1 :]]
    missing = {"dead_volts.power", "dead_volts.control"} - set(asked)
    assert not missing, f"S2 after '{said}' it goes into the panel without {missing}: {call.tail()}"


@pytest.mark.parametrize("said", ["no", "it's dead", "not good"])
def test_a_meter_that_is_not_good_measures_nothing(begin: Calls, said: str):
    """S2"""
    call = begin(words={"meter_proved_before": said}).until("meter_proved_before")
    call.never(lambda a: a.id.startswith("dead_volts") or hands_in(a), f"S2 '{said}' is no proved meter.")


@pytest.mark.parametrize(("drive", "capacitors"), [("true", "false"), ("false", "true")])
def test_a_drive_or_capacitors_are_a_third_circuit(begin: Calls, tmp_path: Path, drive: str, capacitors: str):
    """S2"""
    call = begin(profile=site_file(tmp_path, drive=drive, capacitors=capacitors)).until("dead_volts.control")
    proves_first(call, "S2 the bus keeps its volts.", circuits=("power", "control", "drive"))


def test_the_bus_of_a_drive_is_waited_for_before_it_is_measured(begin: Calls, tmp_path: Path):
    """S2, section 4"""
    call = begin(profile=site_file(tmp_path, drive="true")).until("dead_volts.drive")
    proof = " ".join(text for who, text in call.log[-40:] if who == "says")
    assert re.search(r"label|minutes", proof, re.I), f"the label's waiting time is never named: {call.tail()}"


@pytest.mark.parametrize("bus", ["minus three hundred", "bouncing zero to sixty", "three hundred"])
def test_a_bus_with_volts_keeps_the_panel_shut(begin: Calls, tmp_path: Path, bus: str):
    """S3"""
    call = begin(words={"dead_volts.drive": bus}, profile=site_file(tmp_path, drive="true")).until("dead_volts.drive")
    call.never(hands_in, f"S3 {bus} on the bus is not dead.")


# ---- another machine's tag


def test_a_tag_of_the_neighbour_takes_no_lock(begin: Calls):
    """S2"""
    begin(words={"panel_tag": "a three"}).until("panel_tag").never(
        lambda a: a.id == "locked_out" or hands_in(a), "S2 a three is the neighbour's disconnect."
    )


@pytest.mark.parametrize("name", ["tag", "the tag"])
def test_a_tag_corrected_to_the_neighbours_ends_the_proof(begin: Calls, name: str):
    """S4"""
    call = begin().until(AT_THE_PANEL).say(f"correction {name}")
    call.tell("a three")
    assert not hands_in(call.ask), f"S4 the neighbour was locked, not this one. It asks: {call.ask}"
    call.man.words["panel_tag"] = "a three"
    put_back = re.compile(r"\bback\b")  # the wire that was lifted there goes back under that panel's own proof, and no more
    call.never(
        lambda a: hands_in(a) and not put_back.search(a.prompt), "S4 the tag that was read is the neighbour's.", 40
    )


# ---- what ends a proof


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("dead on control", "one twenty"),
        ("dead on power", "four eighty"),
        ("dead on control", "minus one twenty"),
        ("dead on power", "bouncing zero to fifty"),
    ],
)
def test_a_correction_to_over_the_limit_takes_the_hands_out(begin: Calls, name: str, said: str):
    """S4"""
    call = begin().until("injection_coil_ohms").correct(name.replace("dead on ", "dead_volts."), name, said)
    assert not hands_in(call.ask), f"S4 {name} is corrected to {said}. It asks: {call.ask}; {call.tail()}"
    proves_first(call, f"S4 {name} was corrected to {said}.")


@pytest.mark.parametrize("said", ["the lock is off", "lock's off", "i took my lock off", "my lock is off", "the lock came off"])
@pytest.mark.parametrize("at", [AT_THE_PANEL, "injection_coil_ohms", "dead_volts.control"])
def test_the_lock_is_off_said_at_any_question_ends_the_proof(begin: Calls, at: str, said: str):
    """S4"""
    call = begin().until(at)
    call.man.locked = False
    call.say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    assert not hands_in(call.ask), f"S4 the lock is off. It asks: {call.ask}"
    assert call.reaches(lambda a: a.id in ("panel_tag", "locked_out") or hands_in(a) or a.id.startswith("dead_volts"))
    assert call.ask.id in ("panel_tag", "locked_out"), f"S4 '{said}': tag and lock come first. It asks: {call.ask}; {call.tail()}"


@pytest.mark.parametrize("minutes", [31, 45, 180])
def test_a_pause_longer_than_a_proof_ends_it(begin: Calls, minutes: int):
    """S4"""
    call = begin().until(AT_THE_PANEL).say("hold on").say("continue", after_s=minutes * 60)
    assert not hands_in(call.ask), f"S4 {minutes} minutes away from the panel. It asks: {call.ask}"
    proves_first(call, f"S4 the proof is {minutes} minutes old.")


@pytest.mark.parametrize("at", ["dead_volts.control", "meter_proved_after"])
def test_a_proof_in_two_halves_an_hour_apart_is_no_proof(begin: Calls, at: str):
    """S4"""
    call = begin().until(at)
    call.say(call.man.answer(call.ask.raw), after_s=3600)
    if not call.ended and call.ask.id == "confirm":
        call.answer()
    assert call.reaches(hands_in)
    assert proved_dead(call), f"S4 two pieces of one proof lie an hour apart: {call.tail(30)}"


def test_a_late_answer_in_the_panel_is_followed_by_a_new_proof(begin: Calls):
    """S4"""
    call = begin().until("probe_ohms.module_end").say("one hundred k", after_s=40 * 60)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    proves_first(call, "S4 forty minutes have passed at the panel's question.")


# ---- interruptions


@pytest.mark.parametrize("at", [AT_THE_PANEL, "injection_coil_ohms", "jumper_fitted", "jumper_removed"])
def test_a_program_that_died_comes_back_at_the_lock(begin: Calls, at: str):
    """S5"""
    call = begin().until(at).resume()
    assert not hands_in(call.ask), f"S5 it comes back inside the panel: {call.ask}"
    proves_first(call, "S5 a resumed call has no proof.")


@pytest.mark.parametrize("at", ["meter_proved_before", "dead_volts.power", "dead_volts.control", "meter_proved_after"])
def test_half_a_proof_does_not_survive_the_death_of_the_program(begin: Calls, at: str):
    """S5"""
    call = begin().until(at).resume()
    proves_first(call, "S5 the half proof died with the program.")


@pytest.mark.parametrize("interruption", ["killed", "emergency", "held for an hour"])
def test_after_an_interruption_the_lock_is_asked_for_by_name(begin: Calls, interruption: str):
    """S5"""
    call = interrupted(begin(), "injection_coil_ohms", interruption)
    assert call.reaches(lambda a: a.id in ("lock_still_on", "panel_tag", "locked_out") or hands_in(a) or a.id.startswith("dead"))
    assert call.ask.id == "lock_still_on", f"S5 after '{interruption}' it is asked whether the lock is on. It asks: {call.ask}"


@pytest.mark.parametrize("interruption", ["killed", "emergency", "held for an hour"])
def test_after_an_interruption_what_is_hooked_up_is_said_by_name(begin: Calls, interruption: str):
    """S5"""
    call = begin().until("leads_clipped")
    assert {"jumper_fitted", "locked_out"} <= call.open
    before = len(call.spoken)
    interrupted(call, "leads_clipped", interruption)
    call.reaches(lambda a: a.id.startswith("dead_volts") or hands_in(a))
    assert re.search(r"still hooked up:[^.]*jumper", call.spoken[before:], re.I), f"S5 the jumper is not named: {call.tail()}"


@pytest.mark.parametrize("interruption", ["killed", "emergency", "held for an hour"])
def test_after_an_interruption_everybody_is_cleared_again(begin: Calls, interruption: str):
    """S5"""
    call = interrupted(begin(), "injection_coil_ohms", interruption)
    seen = len(call.asks)
    assert call.reaches(lambda a: a.id == "others_clear" or hands_in(a))
    assert call.ask.id == "others_clear", f"S5 nobody was asked to stand clear in {[a.id for a in call.asks[seen:]]}: {call.ask}"


def test_a_lock_that_is_off_after_the_interruption_starts_at_the_tag(begin: Calls):
    """S5"""
    call = begin().until("injection_coil_ohms").resume()
    call.man.words["lock_still_on"] = "no"
    call.until("lock_still_on").answer()
    assert call.reaches(lambda a: a.id in ("panel_tag", "meter_proved_before", "dead_volts.power") or hands_in(a))
    assert call.ask.id == "panel_tag", f"S5 the lock is off: the tag is read anew. It asks: {call.ask}"


@pytest.mark.parametrize("interruption", ["killed", "emergency"])
def test_after_an_interruption_the_lock_out_caution_is_given_in_full(begin: Calls, interruption: str):
    """S5"""
    call = begin().until("injection_coil_ohms")
    before = len(call.spoken)
    interrupted(call, "injection_coil_ohms", interruption).reaches(lambda a: a.id.startswith("dead_volts") or hands_in(a))
    assert re.search(r"your own key|neighbou?r's looks the same|can start without warning", call.spoken[before:], re.I), (
        f"S5 every caution in full after '{interruption}': {call.tail()}"
    )


def test_killed_with_the_lock_coming_off_nothing_starts_unasked(begin: Calls):
    """S5, S21"""
    call = begin("injection_coil_failed").until("lock_removed").answer().resume()
    call.man.locked = False
    seen = len(call.asks) - 1
    assert call.reaches(lambda a: "started" in a.choices)
    asked = [a.id for a in call.asks[seen:]]
    assert {"others_clear", "lock_still_on"} <= set(asked), f"S5 before the start: lock and clear, asked anew. It asked {asked}"


def test_go_back_after_the_feed_test_leads_into_no_panel(begin: Calls):
    """S5"""
    call = begin().until("control_power_off").answer().say("go back")
    if call.ask.id == "confirm":
        call.say("yes")
    proves_first(call, "S5 go back enters no panel on an old proof.")
    call.never(live, "S5 nor a live reading.", 1)


# ---- locks of others


OTHERS = [
    "someone else's is on there",
    "there's another lock on it",
    "somebody else's lock is on it",
    "there is already a lock on",
    "not my lock",
    "that's the electrician's lock",
    "another guy's lock is on there",
    "it has two locks on it",
]


@pytest.mark.parametrize("said", OTHERS)
@pytest.mark.parametrize("at", ["panel_tag", "locked_out", "dead_volts.power", AT_THE_PANEL])
def test_another_persons_lock_stops_the_work_in_whatever_words(begin: Calls, at: str, said: str):
    """S7"""
    call = begin().until(at).say(said)
    if not call.ended and call.ask.id == "confirm":
        call.say("yes")
    assert re.search(r"\bstop\b", call.said, re.I), f"S7 '{said}' at {at}: it says '{call.said}'"
    assert re.search(r"owner|nobody else|another person|someone else", call.said, re.I), (
        f"S7 its owner takes it off: '{call.said}'"
    )
    goes_on = call.ask.id in ("locked_out", "meter_proved_before", "dead_volts.power") and not re.search(
        "owner", call.ask.prompt, re.I
    )
    assert not goes_on, f"S7 it waits for the owner. It asks: {call.ask}"
    assert not hands_in(call.ask), f"S7 it waits for the owner. It asks: {call.ask}"


def test_no_prompt_asks_for_anothers_lock_to_come_off(begin: Calls):
    """S7"""
    call = begin().until("locked_out").say("someone else's is on there")
    call.reaches(lambda a: a.id == "meter_proved_before", 5)
    assert not re.search(r"(cut|take|remove)( it| that| their| the other)? lock off", call.spoken, re.I), call.tail()


# ---- more than one machine


def test_the_store_is_told_before_the_whole_rack_stops(begin: Calls, tmp_path: Path):
    """S6"""
    call = begin(profile=site_file(tmp_path, control_isolator_stops='"rack"'), words={"store_told": "not yet"})
    call.never(lambda a: a.id == "locked_out" or hands_in(a), "S6 nobody told the store.", 60)


@pytest.mark.parametrize("words", ["skip this", "no", "can't get to it"])
def test_the_whole_rack_is_not_stopped_by_a_skip(begin: Calls, tmp_path: Path, words: str):
    """S6"""
    call = begin(profile=site_file(tmp_path, control_isolator_stops='"rack"'), words={"store_told": words})
    call.until("store_told").never(lambda a: a.id == "locked_out" or hands_in(a), f"S6 '{words}' tells no store.", 40)


def test_it_is_said_what_the_only_switch_stops(begin: Calls, tmp_path: Path):
    """S6"""
    call = begin(profile=site_file(tmp_path, control_isolator_stops='"rack"')).until("locked_out")
    assert re.search(r"stops (the whole |all of )?rack", call.spoken, re.I), f"S6 it never says what it stops: {call.tail(40)}"


# ---- silence


@pytest.mark.parametrize("at", ["locked_out", "meter_proved_before", "meter_proved_after"])
def test_silence_acknowledges_nothing_of_the_proof(begin: Calls, at: str):
    """S39"""
    call = begin().until(at)
    for _ in range(4):
        call.say("", after_s=60)
        assert at in call.ask.ids or call.ask.id == "command", f"S39 silence at {at} was taken: {call.ask}"
    assert at not in call.readings, f"S39 {at} is on record from silence"


def interrupted(call, at: str, how: str):  # type: ignore[no-untyped-def]
    """The call, interrupted at this question and taken up again."""
    call.until(at)
    if how == "killed":
        return call.resume()
    if how == "emergency":
        return call.say("emergency", "continue")
    return call.say("hold on").say("continue", after_s=3600)
