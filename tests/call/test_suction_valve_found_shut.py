"""The machine's suction valve is found shut behind a low-pressure trip: opened, and it runs as it should, that was the cause."""

import pytest

from assistant.call.facts import Concluded
from tests.branch_rack import BranchRack
from tests.talk import Talk
from tests.test_said_not_safe import standing_at

FAULT = "none at the low pressure"


def _ended(said: str) -> Talk:
    return standing_at(FAULT, "pressure_reset").hear(said).to_the_seal(BranchRack(FAULT))


def _standing(talk: Talk) -> list[str]:
    return [fact.standing for _, fact in talk.facts if isinstance(fact, Concluded) and fact.cause == "suction_restricted"]


@pytest.mark.parametrize("said", ["hold on, i see her suction service valve's half shut", "the suction valve is shut"])
def test_it_is_supported_once_it_runs_and_nobody_takes_a_trip_without_cause(said: str):
    talk = _ended(said)
    assert _standing(talk)[-1] == "supported"
    assert "no_cause_reset" not in talk.dialogue.state.handed_over
    assert not talk.broken()


@pytest.mark.parametrize("said", ["i shut the suction valve", "what is the time"])
def test_what_he_closed_himself_is_no_cause(said: str):
    talk = _ended(said)
    assert "supported" not in _standing(talk)
    assert not talk.broken()
