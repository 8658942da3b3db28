"""An answer that names a thing or a person of which no answer to its question speaks is asked back, and is not lost."""

import pytest

from assistant.language.pieces import understand_in_pieces
from assistant.language.unheard_of import unless_unheard_of
from tests.language.test_said_at_steps import meant, question
from tests.test_said_not_safe import standing_at

ASKED_BACK = [
    ("injection_coil_failed", "lock", "my lock is on the rack"), ("injection_coil_failed", "lock", "i am locked out"),
    ("injection_coil_failed", "lock", "the compressor is locked"), ("injection_coil_failed", "lock", "it's locked up"),
    ("module_no_output", "fit_jumper", "jumper's in the rack"), ("module_no_output", "clip_leads", "leads on the rack"),
    ("module_no_output", "power_on", "power on the rack"), ("module_no_output", "jumper_out", "out of the rack"),
    ("module_no_output", "leads_off", "leads off the rack"), ("injection_coil_failed", "unlock", "off the rack"),
    ("injection_coil_failed", "repaired", "repaired the ladder"), ("injection_coil_failed", "reset", "reset my phone"),
    ("injection_coil_failed", "start", "started the van"), ("injection_coil_failed", "start", "i'm running"),
    ("module_no_output", "feed", "my mouth's dry"), ("module_no_output", "feed", "dave heard a click"),
    ("module_no_output", "feed_after", "warmed my hands"), ("module_no_output", "feed_after", "i stopped looking"),
    ("injection_coil_failed", "food", "food's lost its label"), ("injection_coil_failed", "food", "dave says all good"),
    ("injection_coil_failed", "machine_look", "dave says all good"), ("module_no_output", "clothing", "my mother read it"),
    ("injection_coil_failed", "machine_look", "all good over there"),
    ("injection_coil_failed", "machine_look", "it's all good from here"),
    ("injection_coil_failed", "machine_look", "all good but it's wet underneath"),
    ("injection_coil_failed", "lock", "locked over there"), ("injection_coil_failed", "lock", "locked it to the pipe"),
    ("injection_coil_failed", "lock", "locked, give or take"), ("injection_coil_failed", "lock", "locked both of them"),
    ("injection_coil_failed", "lock", "locked, key's in it"), ("injection_coil_failed", "meter_before", "good over there"),
    ("injection_coil_failed", "dead_power", "zero over there"), ("injection_coil_failed", "dead_power", "it's at two, climbing"),
    ("injection_coil_failed", "dead_control", "one twenty, no zero now"),
    ("injection_coil_failed", "meter_before", "the old meter's good"),
    ("injection_coil_failed", "wire_back", "put it back for me"),
    ("injection_coil_failed", "covers", "on back to front"), ("injection_coil_failed", "clear", "clear by the look of it"),
    ("injection_coil_failed", "unlock", "it's off to the side"), ("injection_coil_failed", "repaired", "he repaired it"),
    ("injection_coil_failed", "repaired", "repaired, old gasket back in"),
    ("injection_coil_failed", "reset", "reset both of them"),
    ("injection_coil_failed", "start", "the old one's running"), ("module_no_output", "jumper_out", "the old jumper's out"),
    ("module_no_output", "jumper_out", "out of the way"), ("module_no_output", "clip_leads", "they're on that coil over there"),
    ("suction filter", "tight", "hand tight"), ("suction filter", "tight", "tight on air"),
    ("suction filter", "tight", "tight, one bubble"),
    ("suction filter", "at_zero", "zero over there"), ("suction filter", "at_zero", "zero with the valve back-seated"),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "step", "said"), ASKED_BACK)
def test_it_counts_only_when_it_is_said_again(fault: str, step: str, said: str):
    talk = standing_at(fault, step)
    readings, open_, asked = dict(talk.readings), set(talk.open), talk.asked
    talk.hear(said)
    assert dict(talk.readings) == readings
    assert set(talk.open) == open_
    assert talk.asked in (asked, f"{step}:confirm")


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "my lock's on the disconnect"), ("covers", "covers are back on the panel"), ("clear", "nobody on the ladder but me"),
    ("start", "started the compressor"), ("machine_look", "all good by my eyes"), ("food", "food's holding in the cases"),
    ("supervisor", "he said go ahead"), ("how_many_off", "the alarm says discharge, one tripped, an hour ago"),
])  # fmt: skip
def test_what_answers_to_the_question_name_counts_as_it_is(step: str, said: str):
    meaning = understand_in_pieces(question(step), said)
    assert unless_unheard_of(question(step), meaning, said) == meaning


@pytest.mark.parametrize(("step", "said", "means"), [
    ("machine_look", "all good, no the probe's loose", "reset_device=intact; head_fan_running=yes; injection_hand_valve=open;"
     " coil_seated=seated; injection_as_found=dry; probe_condition=loose"),
    ("glass", "full, no, bubbles", "sight_glass=bubbles"), ("feed", "click, no, no click", "valve_click=silent"),
    ("strainer_opened", "plugged, no it's clean", "tell=clean"), ("strainer_opened", "clean, sorry, plugged", "tell=plugged"),
    ("glass", "full, no defrost", "sight_glass=full; defrost_state=none"),
])  # fmt: skip
def test_a_look_that_is_put_right_is_the_later_one(step: str, said: str, means: str):
    assert meant(step, said) == means


@pytest.mark.parametrize(("step", "said"), [("machine_look", "it's not intact"), ("food", "called for, not in auto")])
def test_what_it_is_not_is_not_what_it_is(step: str, said: str):
    assert meant(step, said) == "asked"


@pytest.mark.parametrize("said", ["two on one leg", "zero on one"])
def test_a_part_of_the_legs_is_not_the_worst_of_them(said: str):
    talk = standing_at("injection_coil_failed", "dead_control").hear(said)
    assert "The worst of all?" in talk.said
    assert "dead_volts.control" not in talk.readings


def test_a_second_trip_that_is_told_with_the_reset_is_one():
    talk = standing_at("injection_coil_failed", "reset").hear("reset and it went again")
    assert "No second try" in talk.said


@pytest.mark.parametrize(("step", "said"), [
    ("lock", "locked. said so"), ("unlock", "my lock's off"), ("wire_back", "back under its screw"), ("covers", "both covers on"),
    ("start", "running"), ("reset", "reset it"), ("clear", "everybody's clear, tools are out"),
])  # fmt: skip
def test_a_deed_in_its_own_words_counts_at_once(step: str, said: str):
    talk = standing_at("injection_coil_failed", step)
    assert not talk.hear(said).asked.startswith(step)
