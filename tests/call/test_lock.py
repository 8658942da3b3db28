"""What the lock and the proof of absence of voltage stand on."""

from datetime import datetime

from assistant.call.lock import LOCK, PROOF, Lock

NOON = datetime(2026, 3, 1, 12)


def test_power_that_goes_off_under_the_own_lock_stands_for_tag_and_lock():
    assert Lock(locked=True).power_on().power_off(NOON).made == LOCK


def test_after_a_second_source_it_stands_for_nothing_until_the_tag_was_read_again():
    lock = Lock(locked=True).second_source().power_on().power_off(NOON)
    assert lock.made == ()
    read = lock.took("panel_tag", True, NOON, PROOF).took("locked_out", True, NOON, PROOF)
    assert read.made == LOCK
    assert read.power_on().power_off(NOON).made == LOCK


def test_the_tag_of_another_machine_is_no_way_back():
    lock = Lock(locked=True).second_source().took("panel_tag", False, NOON, PROOF)
    assert lock.power_on().power_off(NOON).made == ()
