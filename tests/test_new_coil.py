"""A fuse that opened on a bad coil goes in again on a new one that was read: its repair leads to a start, and not to the lock."""

import pytest

from tests.branch_rack import BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_said_not_safe import site_of

NEW = {"new_starter_coil": "one twenty", "new_injection_coil": "four ten"}


def to_the_seal(talk: Talk, rack: Rack, says: dict[str, str]) -> Talk:
    for _ in range(100):
        if talk.dialogue.state.sealed:
            return talk
        step, _, asking = talk.asked.partition(":")
        talk.hear("yes" if asking == "confirm" else says.get(step) or talk.words_of(rack))
    raise AssertionError(f"the call does not end; last asked {talk.asked}")


def repaired(fuse: str, **says: str) -> Talk:
    if fuse == "control":
        rack: Rack = BranchRack("control fuse blown", {"starter_coil_ohms": "four"})
        return to_the_seal(Talk(site_of("control fuse blown")), rack, NEW | says)
    return to_the_seal(Talk(), Rack("injection_coil_shorted"), {"output_fuse": "blown"} | NEW | says)


@pytest.mark.parametrize(("fuse", "cause"), [("control", "starter_coil_failed"), ("output", "injection_coil_failed")])
def test_a_new_coil_that_reads_good_lets_its_fuse_in_and_the_machine_runs(fuse: str, cause: str):
    talk = repaired(fuse)
    s = talk.dialogue.state
    assert s.conclusions[cause].standing in ("proven", "supported")
    assert s.started_at is not None
    assert not s.stopped
    assert talk.open == set()
    assert not talk.broken()


@pytest.mark.parametrize("fuse", ["control", "output"])
@pytest.mark.parametrize("says", ["four", "skip this"])
def test_a_new_coil_that_is_bad_or_not_read_leaves_it_locked(fuse: str, says: str):
    talk = repaired(fuse, new_starter_coil=says, new_injection_coil=says)
    assert talk.dialogue.state.started_at is None
    assert "What opened is not closed again before its circuit is tested and good." in " ".join(talk.spoken)
    assert not talk.broken()
