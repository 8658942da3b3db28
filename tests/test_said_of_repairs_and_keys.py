"""A repair that is undone, a part that is only ordered or another machine's, a key that somebody else has."""

import pytest

from tests.simulated import Rack
from tests.talk import Talk


def at(step: str) -> Talk:
    rack = Rack("injection_coil_failed")
    return Talk().until(rack, step)


@pytest.mark.parametrize("said", [
    "i only cleaned it", "the part is ordered not fitted", "i had to order the coil", "we ordered the part it comes tuesday",
    "actually i put the old one back", "wrong fuse size",
])  # fmt: skip
@pytest.mark.parametrize(("step", "asked"), [("valves", "repaired:command"), ("start", "tag:panel_tag"),
                                             ("watch_first", "stop_now:command"), ("consent", "stop_now:command")])  # fmt: skip
def test_what_was_not_mended_after_all_is_asked_again_or_stopped(said: str, step: str, asked: str):
    assert at(step).hear(said).asked == asked


@pytest.mark.parametrize("said", ["i used the one off number three", "i borrowed a coil from the neighbor"])
def test_a_part_of_another_machine_is_left_to_somebody_by_name(said: str):
    talk = at("consent").hear(said)
    assert "part_borrowed" in talk.open
    assert talk.asked == "hand_over:follow_up_owner"


@pytest.mark.parametrize("said", [
    "i gave kim my key", "the store manager has a spare key", "i hung the lock on the breaker not the disconnect",
])  # fmt: skip
def test_a_lock_that_another_can_open_or_that_hangs_elsewhere_locks_nothing(said: str):
    talk = at("coil").hear(said)
    assert not talk.dialogue.state.lock.locked
    assert not talk.dialogue.state.lock.dead


def test_a_lock_that_was_cut_was_somebodys():
    assert at("coil").hear("i cut the lock").asked == "anew_other_lock:other_lock_gone"


def test_gauges_that_are_on_are_on_record_before_a_start():
    assert "hose_on" in at("start").hear("my gauges are on it").open


@pytest.mark.parametrize("said", [
    "replaced the fuse with a piece of wire", "replaced the fuse with a bigger one", "swapped it with one from number three",
    "changed it with the power on", "fixed the leak with putty", "installed the coil backwards", "adjusted the trip setting up",
    "put the new part on the bench", "new coil's in the truck", "made it work", "replaced the light bulb", "cleaned my hands",
    "fixed it with zip ties", "adjusted it so it won't trip", "changed it, it's dripping", "cleaned half of it",
])  # fmt: skip
def test_a_makeshift_or_another_things_repair_is_none(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "repaired").hear(said)
    assert talk.dialogue.state.choice != "repaired"
    assert not talk.broken()


@pytest.mark.parametrize("said", [
    "found the lead rubbed through, so i replaced it and put a new fuse in", "changed the flare and made it tight",
    "yeah i swapped the coil out", "replaced the bad lead and the fuse", "cleaned the strainer, it was plugged solid",
])  # fmt: skip
def test_a_repair_is_told_by_what_hands_did(said: str):
    talk = Talk().until(Rack("injection_coil_failed"), "repaired").hear(said)
    assert talk.dialogue.state.choice == "repaired"
    assert not talk.broken()
