"""The pinned speech model is the one that is used, or nothing is."""

import errno
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
import requests

from assistant.hearing import model
from assistant.hearing.model import ModelFault, ModelMissing, fetch, model_folder


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(model, "_homes", lambda: [tmp_path / "models"])
    monkeypatch.delenv(model.OVERRIDE, raising=False)
    return tmp_path / "models"


def _delivers(archive: Callable[[Path], None], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(model, "_download", archive)


def _bundle(path: Path, names: list[str]) -> None:
    with zipfile.ZipFile(path, "w") as bundle:
        for name in names:
            bundle.writestr(name, "x")


def test_without_a_model_it_says_what_to_run(home: Path) -> None:
    with pytest.raises(ModelMissing, match='run "rackcall model"'):
        model_folder()


def test_another_model_than_the_pinned_one_is_not_kept(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _delivers(lambda path: _bundle(path, ["assets/model-en-us/am/final.mdl"]), monkeypatch)
    with pytest.raises(ModelFault, match="not the pinned speech model"):
        fetch(lambda line: None)
    assert list(home.iterdir()) == []


def test_a_whole_model_is_unpacked_and_found(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    names = [f"assets/model-en-us/{name}" for name in model._NEEDED] + ["classes.jar"]
    _delivers(lambda path: _bundle(path, names), monkeypatch)
    monkeypatch.setattr(model, "_check", lambda path: None)
    said: list[str] = []
    folder = fetch(said.append)
    assert folder == model_folder() == home / model.pin().name
    assert not (folder / "classes.jar").exists()
    assert said == ["fetching the speech model, 41 MB", "unpacking the speech model"]


@pytest.mark.parametrize("name", ["assets/model-en-us/../../outside", "assets/model-en-us//etc/outside"])
def test_an_archive_cannot_write_outside_its_folder(
    home: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    _delivers(lambda path: _bundle(path, [name]), monkeypatch)
    monkeypatch.setattr(model, "_check", lambda path: None)
    with pytest.raises(ModelFault, match="outside its folder"):
        fetch(lambda line: None)


def test_half_an_archive_is_not_kept(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _delivers(lambda path: _bundle(path, ["assets/model-en-us/am/final.mdl"]), monkeypatch)
    monkeypatch.setattr(model, "_check", lambda path: None)
    with pytest.raises(ModelFault, match="lacks files"):
        fetch(lambda line: None)
    assert list(home.iterdir()) == []


def test_without_a_network_it_says_so(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*args: object, **kwargs: object) -> None:
        raise requests.ConnectionError("no route")

    monkeypatch.setattr(requests, "get", refuse)
    monkeypatch.setattr(requests.Session, "request", refuse)
    monkeypatch.setattr(requests, "request", refuse)
    with pytest.raises(ModelFault, match="no answer from the network"):
        fetch(lambda line: None)


def test_a_full_disk_is_named(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    _delivers(full, monkeypatch)
    with pytest.raises(ModelFault, match="no room for the speech model"):
        fetch(lambda line: None)


def test_a_folder_named_by_the_environment_is_used_or_refused(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = tmp_path / "own"
    monkeypatch.setenv(model.OVERRIDE, str(own))
    with pytest.raises(ModelMissing, match="no whole speech model"):
        model_folder()
    for name in model._NEEDED:
        (own / name).parent.mkdir(parents=True, exist_ok=True)
        (own / name).write_text("x")
    assert model_folder() == own
