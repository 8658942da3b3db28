"""The procedure is walked: whole calls of chance, then everything that may come next; no way breaks a rule."""

from functools import partial

import pytest

from assistant.call.facts import StepReopened
from assistant.call.procedure import own_procedure
from assistant.call.state import State
from assistant.safety.utterances import corrected, telling
from assistant.safety.walk import Proof, prove
from tests.safety.racks import every_kind

walked = partial(prove, every_kind(), own_procedure())


@pytest.fixture(scope="module")
def proof() -> Proof:
    return walked(at_most=10, calls=400)


def test_no_way_through_the_procedure_breaks_a_rule(proof: Proof):
    assert proof.complaints == []
    assert proof.walked == 10


def test_every_call_of_chance_comes_to_its_seal(proof: Proof):
    assert proof.calls >= 400  # and those that are led towards what chance did not come to


def test_every_step_is_reached_by_some_call(proof: Proof):
    assert proof.never_asked == []


def test_every_rule_that_is_watched_was_put_to_the_test(proof: Proof):
    assert [one for one in proof.not_met if "never came about" in one] == []


def test_a_walk_that_was_cut_short_says_so(proof: Proof):
    assert proof.cut_short
    assert "no way breaks a rule" in proof.summary()
    assert proof.summary().endswith("the walk was cut short")


def test_the_same_seed_gives_the_same_call_and_another_gives_another():
    def call(seed: int) -> tuple[int, int, frozenset[str]]:
        proof = walked(at_most=0, calls=1, seed=seed)
        return proof.states, proof.ways, frozenset(proof.asked)

    assert [call(seed) for seed in range(5)] == [call(seed) for seed in range(5)]
    assert len({call(seed) for seed in range(5)}) > 3


def test_a_call_that_breaks_is_found_with_its_way(monkeypatch: pytest.MonkeyPatch):
    def breaks(self: State, fact: StepReopened, at: object) -> None:
        raise KeyError(fact.step)

    monkeypatch.setattr(State, "_StepReopened", breaks)
    first = walked(at_most=0, calls=100, first_complaint=True).complaints[0]
    assert first.startswith("the call broke (KeyError: ")
    assert first.endswith(("back", "oil_glass_after:low"))  # what has a step asked once more


def test_a_call_that_never_ends_is_found(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("assistant.safety.walk.LONGEST_CALL", 20)
    assert walked(at_most=0, calls=1, first_complaint=True).complaints[0].startswith("the call does not end: ")


def test_every_reading_that_a_rule_rests_on_is_corrected_on_the_walk():
    assert {"dead_volts.power", "dead_volts.control", "dead_volts.drive", "panel_tag", "detector_state", "ladder_kind",
            "injection_feed", "injection_after", "shell_pressure", "ground_megohms", "control_fuse", "oil_level",
            "crankcase_temperature", "refrigerant_label", "compressor"} <= set(corrected(telling(own_procedure())))  # fmt: skip
