"""The pinned speech model: where it is, how it is fetched."""

import contextlib
import errno
import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import platformdirs

from assistant.paths import data_folder

OVERRIDE = "RACKCALL_MODEL"
"""Environment variable that names a model folder to use instead."""
_NEEDED = (
    "am/final.mdl", "conf/model.conf", "conf/mfcc.conf", "graph/Gr.fst", "graph/HCLr.fst", "ivector/final.ie",
)  # fmt: skip


class ModelMissing(Exception):
    """There is no speech model; the message says what to run."""


class ModelFault(Exception):
    """The speech model could not be fetched or is damaged; the message says why and what to do."""


@dataclass(frozen=True)
class Pin:
    """What `models/speech_model.toml` pins."""

    name: str
    artefact: str
    """Coordinates of the Maven artefact."""
    sha256: str
    bytes: int
    inside: str
    """Folder of the model inside the artefact."""
    unpacked: str
    """SHA-256 over the unpacked files: see the pin itself."""
    licence: str


@cache
def pin() -> Pin:
    """The pinned model."""
    with open(data_folder("models") / "speech_model.toml", "rb") as file:
        return Pin(**tomllib.load(file))


def _homes() -> list[Path]:
    """Folders that may hold the model, the preferred first."""
    cached = Path(platformdirs.user_cache_dir("rackcall")) / "models"
    checkout = data_folder("models")
    own = os.access(checkout, os.W_OK) and (checkout.parent / "pyproject.toml").is_file()
    return [checkout, cached] if own else [cached, checkout]


def _whole(folder: Path) -> bool:
    return all((folder / name).is_file() for name in _NEEDED)


def model_folder() -> Path:
    """Folder of the speech model.

    Raises:
        ModelMissing: there is none; the message says what to run.
    """
    chosen = os.environ.get(OVERRIDE)
    if chosen:
        if _whole(Path(chosen)):
            return Path(chosen)
        raise ModelMissing(f"{OVERRIDE} names {chosen}, but there is no whole speech model in it")
    for home in _homes():
        if _whole(home / pin().name):
            return home / pin().name
    raise ModelMissing(f'no speech model in {_homes()[0]}; run "rackcall model"')


def check(folder: Path) -> None:
    """Whether a model's unpacked files are what was pinned; 0.1 s. The recogniser's library ends the whole program on others.

    A model of the user's own, named by the environment, is not pinned: it is tried in a process of its own.

    Raises:
        ModelFault: a file was changed, cut or damaged, or the model cannot be loaded.
    """
    files = sorted(file for file in folder.rglob("*") if file.is_file())
    stamp = tuple((file, file.stat().st_size, file.stat().st_mtime_ns) for file in files)
    found = _hash(folder, stamp)
    if found == pin().unpacked:
        return
    if folder.name == pin().name:
        raise ModelFault(f'the speech model in {folder} is damaged; delete that folder and run "rackcall model"')
    if not _loads(folder):
        raise ModelFault(f"the speech model in {folder} cannot be loaded; {OVERRIDE} names it")


@cache
def _hash(folder: Path, stamp: tuple[tuple[Path, int, int], ...]) -> str:
    whole = hashlib.sha256()
    for file, _, _ in stamp:
        try:
            with open(file, "rb") as source:
                digest = hashlib.file_digest(source, "sha256").hexdigest()
            whole.update(f"{file.relative_to(folder).as_posix()} {digest}\n".encode())
        except OSError as error:
            raise ModelFault(f"the speech model cannot be read: {file}: {error.strerror}") from error
    return whole.hexdigest()


@cache
def _loads(folder: Path) -> bool:
    words = "import sys, vosk; vosk.SetLogLevel(-1); vosk.Model(sys.argv[1])"
    return subprocess.run([sys.executable, "-c", words, str(folder)], capture_output=True, check=False).returncode == 0


def fetch(report: Callable[[str], None]) -> Path:
    """The speech model, fetched if it is not there yet; checked by its SHA-256 and put in place in one move.

    Args:
        report: takes each sentence about what is being done.

    Raises:
        ModelFault: no network, another hash than the pinned one, no room on the disk, a folder that cannot be
            written.
    """
    with contextlib.suppress(ModelMissing):
        return model_folder()
    home = _homes()[0]
    try:
        home.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=home, prefix=".fetch-") as made:
            archive = Path(made) / "model.aar"
            report(f"fetching the speech model, {pin().bytes / 1e6:.0f} MB")
            _download(archive)
            _check(archive)
            report("unpacking the speech model")
            _unpack(archive, Path(made) / "model")
            place = home / pin().name
            if place.exists():
                shutil.rmtree(place)
            os.replace(Path(made) / "model", place)
    except OSError as fault:
        raise ModelFault(_disk_sentence(fault, home)) from fault
    return home / pin().name


def _download(archive: Path) -> None:
    """The artefact as a file, through the registry's ordinary client."""
    import requests
    from maven_artifact import Artifact, Downloader
    from maven_artifact.requestor import RequestException

    try:
        with contextlib.redirect_stdout(None):
            Downloader().download(Artifact.parse(pin().artefact), str(archive))
    except (RequestException, requests.RequestException, UnboundLocalError) as fault:
        raise ModelFault(
            "the speech model could not be fetched: no answer from the network. Connect once and run "
            f'"rackcall model" again, or copy a model folder and set {OVERRIDE} to it'
        ) from fault
    if not archive.is_file():
        raise ModelFault('the speech model was not delivered; run "rackcall model" again')


def _check(archive: Path) -> None:
    with open(archive, "rb") as file:
        found = hashlib.file_digest(file, "sha256").hexdigest()
    if found != pin().sha256:
        raise ModelFault(
            f"what was fetched is not the pinned speech model: {archive.stat().st_size} bytes, SHA-256 "
            f"{found}, expected {pin().bytes} bytes, {pin().sha256}. Nothing was kept"
        )


def _unpack(archive: Path, folder: Path) -> None:
    inside = pin().inside
    try:
        with zipfile.ZipFile(archive) as bundle:
            for name in bundle.namelist():
                part = Path(name.removeprefix(inside))
                if not name.startswith(inside) or name.endswith("/"):
                    continue
                if part.is_absolute() or ".." in part.parts:
                    raise ModelFault(f"the speech model's archive names a file outside its folder: {name}")
                target = folder / part
                target.parent.mkdir(parents=True, exist_ok=True)
                with bundle.open(name) as source, open(target, "wb") as sink:
                    shutil.copyfileobj(source, sink)
    except zipfile.BadZipFile as fault:
        raise ModelFault('the speech model\'s archive is damaged; run "rackcall model" again') from fault
    if not _whole(folder):
        raise ModelFault("the speech model's archive lacks files of the model; nothing was kept")


def _disk_sentence(fault: OSError, home: Path) -> str:
    if fault.errno == errno.ENOSPC:
        return f"no room for the speech model in {home}: it takes about 120 MB while it is fetched"
    return f"the speech model cannot be written to {home}: {fault.strerror or fault}"
