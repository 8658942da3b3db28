"""The recogniser alone, on files: one line of JSON a file.

python -m assistant.hearing.hear --manifest CSV
"""

import argparse
import csv
import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from assistant.hearing.model import ModelMissing, model_folder
from assistant.hearing.recogniser import Recogniser
from assistant.language.audible import audible
from assistant.language.meaning import Question
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import AudioFault, read_audio

Line = dict[str, object]
"""`file`, `asking`, `text`, `status`, `value`, `unit`, `confidence`, `late_ms`; a bad file has an `error`."""


class ManifestFault(Exception):
    """A manifest that cannot be read; the message says which and why."""


def hear_files(files: Iterable[str], asking: str) -> Iterator[Line]:
    """What each file says as an answer to one question.

    Args:
        files: sound files.
        asking: id of the vocabulary, or `command`.

    Raises:
        ModelMissing: there is no speech model.
    """
    return _hear([(file, Path(file), asking) for file in files])


def hear_manifest(manifest: str | Path) -> Iterator[Line]:
    """What each file of a manifest says as an answer to its question, in the manifest's order.

    Args:
        manifest: CSV with the columns `file` (relative to the manifest) and `asking`.

    Raises:
        ManifestFault: the manifest cannot be read or lacks a column.
        ModelMissing: there is no speech model.
    """
    path = Path(manifest)
    try:
        with open(path, newline="", encoding="utf-8") as stream:
            reader = csv.DictReader(stream)
            rows = list(reader)
            columns = reader.fieldnames or []
    except (OSError, UnicodeDecodeError, csv.Error) as fault:
        raise ManifestFault(
            f"{path}: cannot be read ({getattr(fault, 'strerror', None) or fault})"
        ) from fault
    for column in ("file", "asking"):
        if column not in columns:
            raise ManifestFault(f"{path}: no column {column!r} in its first line")
    return _hear(
        [(row["file"] or "", path.parent / (row["file"] or ""), row["asking"] or "") for row in rows]
    )


def _hear(rows: list[tuple[str, Path, str]]) -> Iterator[Line]:
    """Lines in the order of the rows; heard in the order that loads each grammar once."""
    ear = Recogniser(model_folder())
    order = sorted(range(len(rows)), key=lambda i: _grammar(rows[i][2]))
    done: dict[int, Line] = {}
    due = 0
    for i in order:
        name, path, asking = rows[i]
        done[i] = _line(ear, name, path, asking)
        while due in done:
            yield done.pop(due)
            due += 1


def _grammar(asking: str) -> str:
    return audible(Question(asking)).name if _known(asking) else ""


def _known(asking: str) -> bool:
    return asking == "command" or asking in vocabulary()


def _line(ear: Recogniser, name: str, path: Path, asking: str) -> Line:
    if not _known(asking):
        return {
            "file": name,
            "asking": asking,
            "status": "error",
            "error": f"{asking!r} is no id of a question",
        }
    try:
        heard = ear.hear(read_audio(path), Question(asking))
    except AudioFault as fault:
        return {"file": name, "asking": asking, "status": "error", "error": str(fault)}
    return {
        "file": name, "asking": asking, "text": heard.text, "status": heard.status, "value": heard.value,
        "unit": heard.unit, "confidence": round(heard.confidence, 3), "late_ms": heard.late_ms,
    }  # fmt: skip


def main() -> int:
    """Print the lines; the exit code."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--manifest")
    parser.add_argument("--asking")
    parser.add_argument("files", nargs="*")
    said = parser.parse_args()
    try:
        lines = (
            hear_manifest(said.manifest)
            if said.manifest
            else hear_files(said.files, said.asking or "command")
        )
        for line in lines:
            print(json.dumps(line), flush=True)
    except ManifestFault as fault:
        print(fault, file=sys.stderr)
        return 2
    except ModelMissing as fault:
        print(fault, file=sys.stderr)
        return 3
    return 0


if __name__ == "__main__":
    sys.exit(main())
