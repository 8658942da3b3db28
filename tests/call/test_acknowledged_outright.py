"""Who says outright that he heard a caution may tell more behind it; a thing that speaks against it is no assent."""

import pytest

from tests.test_said_not_safe import standing_at

HEARD = [
    "I know, I've seen one take a man's glove", "will do, standing at the end of the aisle", "fair enough, I'm back here",
    "yes sir, I've been caught by that once", "copy, hands are in my pockets", "understood, she can come on by herself",
]
NOT_SO = [
    "okay, but my sleeve is loose", "got it, gloves are in the van", "right, which fans are those", "yeah, it just started",
    "sure, somebody's reaching in there", "okay, let me get my jacket first", "understood, I can't stand back here",
]


@pytest.mark.parametrize("said", HEARD)
def test_more_may_stand_behind_an_assent(said: str):
    talk = standing_at("injection_coil_failed", "machine_look/restart+hot_line").hear(said)
    assert "/" not in talk.asked
    assert not talk.broken()


@pytest.mark.parametrize("said", NOT_SO)
def test_what_speaks_against_it_is_no_assent(said: str):
    talk = standing_at("injection_coil_failed", "machine_look/restart+hot_line").hear(said)
    assert not talk.asked.startswith("machine_look:")
