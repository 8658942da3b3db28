"""What the lock and the proof of absence of voltage stand on."""

from datetime import datetime, timedelta

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


def test_the_tag_alone_is_no_lock():
    lock = Lock().took("panel_tag", True, NOON, PROOF)
    assert (lock.made, lock.locked) == (("panel_tag",), False)
    assert lock.took("locked_out", True, NOON, PROOF).locked
    assert not lock.took("meter_proved_before", True, NOON, PROOF).locked


def test_who_was_at_the_panel_until_the_proof_runs_out_was_not_away():
    lock = Lock(locked=True, dead=True, near_at=NOON)
    assert not lock.away(NOON + timedelta(minutes=30), 30)
    assert lock.away(NOON + timedelta(minutes=30, seconds=1), 30)
