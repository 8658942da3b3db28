"""The procedure is proved on every path; a procedure with a hole in it is not."""

import shutil
from pathlib import Path

import pytest

from assistant.procedures import steps
from assistant.procedures.proof import prove
from assistant.procedures.steps import ProcedureFault, load_steps
from assistant.profile import load_profile

HOME = Path(steps.__file__).parent


def changed(tmp_path: Path, file: str, old: str, new: str) -> Path:
    for toml in HOME.glob("*.toml"):
        shutil.copy(toml, tmp_path)
    text = (tmp_path / file).read_text()
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new, 1))
    return tmp_path


def test_no_way_through_the_procedure_breaks_a_rule():
    proof = prove(load_profile())
    assert proof.complaints == []
    assert len(proof.asked) > 150


def test_a_hole_in_the_procedure_is_found(tmp_path: Path):
    # The charge no longer waits for the label and the cylinder to agree.
    folder = changed(tmp_path, "liquid.toml", '"charge_wanted", "label_agrees", "cylinder_read"', '"charge_wanted"')
    complaints = prove(load_profile(), folder).complaints
    assert any(c.startswith("S34") for c in complaints)


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
