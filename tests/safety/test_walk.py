"""The procedure is walked: whole calls of chance, then everything that may come next; no way breaks a rule."""

import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest

from assistant.call.facts import StepReopened
from assistant.call.procedure import own_procedure
from assistant.call.state import State
from assistant.safety.utterances import corrected, telling
from assistant.safety.walk import prove
from tests.safety.racks import as_a_profile, every_kind

walked = partial(prove, every_kind(), own_procedure())


@pytest.fixture(scope="module")
def checked(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What `rackcall procedure check` says of a site with a rack of every kind. Whoever has run it just before this (as
    `.ci/run` has) names the file with its lines: the walk takes minutes."""
    if "RACKCALL_CHECKED" in os.environ:
        return Path(os.environ["RACKCALL_CHECKED"]).read_text()
    site = tmp_path_factory.mktemp("site") / "every_kind.toml"
    site.write_text(as_a_profile())
    check = [sys.executable, "-m", "assistant.cli", "procedure", "check", "--at-most", "10", "--profile", str(site)]
    return subprocess.run(check, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT).stdout


def test_no_way_through_the_procedure_breaks_a_rule(checked: str):
    assert ": no way breaks a rule" in checked
    assert ", 10 walked on from, " in checked


def test_every_call_of_chance_comes_to_its_seal(checked: str):
    calls = int(checked.splitlines()[-1].split()[0])
    assert calls >= 400  # and those that are led towards what chance did not come to


def test_every_step_is_reached_by_some_call(checked: str):
    assert "was never reached" not in checked


def test_every_rule_that_is_watched_was_put_to_the_test(checked: str):
    assert [line.split()[0] for line in checked.splitlines() if "never came about" in line] == []


def test_a_walk_that_was_cut_short_says_so(checked: str):
    assert checked.rstrip().endswith("no way breaks a rule; the walk was cut short")


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
