"""The procedure is walked, in whole calls and in every command at every step of them; a hole in it is found."""

import shutil
from datetime import datetime
from pathlib import Path

import pytest

from assistant.call import commands, consequences, course, findings
from assistant.call import procedure as steps
from assistant.call.effects import Record
from assistant.call.engine import Dialogue
from assistant.call.facts import CallResumed, CallSealed, ReadingTaken, StepReopened
from assistant.call.procedure import ProcedureFault, load_steps
from assistant.call.state import State
from assistant.language.meaning import Part
from assistant.safety.utterances import CORRECTED
from assistant.safety.walk import Proof, prove
from tests.planted import deaf_to_corrections
from tests.safety.racks import every_kind

HOME = Path(steps.__file__).parent.parent / "branches"


def changed(folder: Path, file: str, old: str, new: str) -> Path:
    """A procedure with one place of it changed; a folder that was changed before is changed once more."""
    if not (folder / file).exists():
        for toml in HOME.glob("*.toml"):
            shutil.copy(toml, folder)
    text = (folder / file).read_text()
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1))
    return folder


def optional(folder: Path, file: str, step: str) -> Path:
    """A procedure in which this step can be skipped."""
    text = (HOME / file).read_text()
    whole = next(t for t in text.split("[[step]]") if f'id = "{step}"' in t)
    return changed(folder, file, whole, whole.replace("required = true\n", ""))


@pytest.fixture(scope="module")
def proof() -> Proof:
    return prove(every_kind(), at_most=500, calls=400)


def test_no_way_through_the_procedure_breaks_a_rule(proof: Proof):
    assert proof.complaints == []
    assert proof.walked == 500


def test_every_call_of_chance_comes_to_its_seal_and_every_step_is_reached_by_some(proof: Proof):
    assert proof.calls == 400
    assert proof.never_asked == []


def test_a_walk_that_was_cut_short_says_so(proof: Proof):
    assert proof.cut_short
    assert proof.summary().endswith("no way breaks a rule; the walk was cut short")


def test_the_same_seed_gives_the_same_calls_and_another_gives_others():
    def walked(seed: int) -> tuple[int, int, frozenset[str]]:
        proof = prove(every_kind(), at_most=0, calls=12, seed=seed)
        return proof.states, proof.ways, frozenset(proof.asked)

    assert walked(3) == walked(3)
    assert walked(3) != walked(4)


# ---- planted faults: each is found


def found(folder: Path | None = None, calls: int = 400, at_most: int = 0) -> str:
    """The first complaint."""
    complaints = prove(every_kind(), folder, at_most, calls, first_complaint=True).complaints
    return complaints[0] if complaints else "nothing was found"


def test_a_proof_that_is_carried_over_a_correction_is_found(monkeypatch: pytest.MonkeyPatch):
    deaf_to_corrections(monkeypatch)
    assert found().startswith("S1 ")


def test_a_machine_that_is_corrected_under_the_proof_of_another_is_found(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(commands, "MACHINE", ())
    assert found().startswith("S2 ")


def test_a_proof_that_outlives_thirty_minutes_away_from_the_panel_is_found(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(Dialogue, "_lapse", lambda self: None)
    assert found().startswith("S4 ")


def test_a_second_live_window_on_the_caution_of_the_first_is_found(monkeypatch: pytest.MonkeyPatch):
    whole = consequences.follow

    def keeps(s: State, fact: ReadingTaken, at: datetime) -> None:
        before = set(s.acknowledged)
        whole(s, fact, at)
        s.acknowledged = before

    monkeypatch.setattr(consequences, "follow", keeps)
    assert found().startswith("S8 ")


def test_a_call_that_is_resumed_with_its_live_cautions_still_good_is_found(monkeypatch: pytest.MonkeyPatch):
    whole = State._CallResumed

    def keeps(self: State, fact: CallResumed, at: datetime) -> None:
        before, on = set(self.acknowledged), self.power_on_at
        self.power_on_at = None
        whole(self, fact, at)
        self.acknowledged, self.power_on_at = before, on

    monkeypatch.setattr(State, "_CallResumed", keeps)
    assert found(calls=60, at_most=1_500).startswith("S8 ")


def test_power_on_with_the_stimulus_in_and_the_start_free_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(course.Course, "no_live", lambda self, step, s: False)
    folder = changed(tmp_path, "injection.toml", 'when = ["feed_test_wanted", "feed_test_allowed", "start_is_blocked"]',
                     'when = ["feed_test_wanted", "feed_test_allowed"]')  # fmt: skip
    assert found(folder).startswith("S12 ")


def test_a_start_with_the_jumper_left_in_by_a_skip_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(findings, "blockers", lambda s: [])
    monkeypatch.setattr(course.Course, "_still_to_clear", lambda self, s: None)
    assert found(optional(tmp_path, "injection.toml", "jumper_out")).startswith(("S20 ", "S14 "))


def test_a_start_with_the_start_block_on_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    whole = findings.blockers
    monkeypatch.setattr(findings, "blockers", lambda s: [o for o in whole(s) if o != "start_blocked"])
    folder = changed(tmp_path, "injection.toml", 'when = ["open:start_blocked", "!open:jumper_fitted"]', 'when = ["stopped"]')
    assert found(folder).startswith(("S20 ", "S14 "))


def test_power_on_with_a_terminal_cover_off_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(findings.FINDINGS, "window_allowed", lambda s: s.locked and "live_or_dead" in s.readings)
    folder = changed(tmp_path, "motor.toml", 'when = ["open:terminal_cover"]', 'when = ["stopped"]')
    assert found(folder).startswith("S17 ")


def test_a_fuse_that_is_closed_again_untested_is_found(monkeypatch: pytest.MonkeyPatch):
    for room in (findings, course):
        monkeypatch.setattr(room, "circuit_tested", lambda s: True)
    assert found().startswith("S18 ")


def test_a_second_reset_is_found(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(findings.FINDINGS, "reset_allowed", lambda s: True)
    assert found(calls=1_500).startswith("S22 ")


def test_an_insulation_test_in_a_vacuum_is_found(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(findings.FINDINGS, "no_vacuum", lambda s: True)
    monkeypatch.setitem(findings.FINDINGS, "insulation_allowed", lambda s: "wire_lifted" in s.open)
    assert found().startswith("S25 ")


def test_a_charge_that_does_not_wait_for_label_and_cylinder_is_found(tmp_path: Path):
    folder = changed(tmp_path, "liquid.toml", '"charge_wanted", "label_agrees", "cylinder_read"', '"charge_wanted"')
    assert found(folder).startswith("S34 ")


def test_a_seal_with_the_jumper_in_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    whole = Dialogue._take_one

    def seals(self: Dialogue, part: Part, words: str, confirmed: str) -> None:
        whole(self, part, words, confirmed)
        if part.id == "close_consent" and not self.state.sealed:
            self.state.sealed = True
            self.out.append(Record(CallSealed(""), self.now))

    monkeypatch.setattr(Dialogue, "_take_one", seals)
    monkeypatch.setattr(course.Course, "_still_to_clear", lambda self, s: None)
    folder = changed(tmp_path, "injection.toml", 'when = ["open:jumper_fitted"]', 'when = ["stopped"]')
    assert found(folder).startswith("S37 ")


def test_a_call_that_breaks_is_found_with_its_way(monkeypatch: pytest.MonkeyPatch):
    def breaks(self: State, fact: StepReopened, at: datetime) -> None:
        raise KeyError(fact.step)

    monkeypatch.setattr(State, "_StepReopened", breaks)
    assert found().startswith("the call broke (KeyError: ")
    assert found().endswith("back")


# ---- what is heard on the walk


def test_every_reading_that_a_rule_rests_on_is_corrected_on_the_walk():
    assert {"dead_volts.power", "dead_volts.control", "dead_volts.drive", "panel_tag", "detector_state", "ladder_kind",
            "injection_feed", "injection_after", "shell_pressure", "ground_megohms", "control_fuse", "oil_level",
            "crankcase_temperature", "refrigerant_label", "compressor"} <= set(CORRECTED)  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('asking = "injection_coil_ohms"', 'asking = "coil_ohmz"', "not an id of the vocabulary"),
        ('act = "hands_in"', 'act = "hands"', "no act"),
        ('phase = "panel"', 'phase = "pannel"', "no phase"),
        ('ask = ', 'aks = ', "not known"),
    ],
)  # fmt: skip
def test_a_wrong_procedure_is_refused_with_the_step_and_the_fault(tmp_path: Path, old: str, new: str, words: str):
    with pytest.raises(ProcedureFault, match=words):
        load_steps(changed(tmp_path, "injection.toml", old, new))
