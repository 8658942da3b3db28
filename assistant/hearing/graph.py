"""A strict grammar as the speech model's own word graph.

The recogniser makes a bigram of a list of phrases, which lets digits vanish: a shorter number is cheaper.
Written as the model's word graph, the grammar allows whole answers only, each at the same cost.
"""

import hashlib
import os
import re
import shutil
import struct
import tempfile
from functools import cache
from pathlib import Path

from assistant.language.phrasebook import Automaton

_FST, _SYMBOLS = 2125659606, 2125658996
# Properties of the OpenFst format: expanded, mutable, acceptor, label-sorted on both sides.
_PROPERTIES = 0x3 | 0x10000 | 0x10000000 | 0x40000000
_NAMES_OUT = 2
"""The words' names stand in the graph once, for what comes out: a model loads in half the time that it takes with both."""
_LINKED = ("am", "ivector", "graph/HCLr.fst", "graph/disambig_tid.int", "graph/phones")
_SEARCH = {"beam": "11.0", "lattice-beam": "4.5"}
"""Measured: with the model's own lattice beam of 2.0 an answer's rivals are gone before they are scored."""
_NEVER_ENDS = {f"endpoint.rule{n}.min-trailing-silence": "9.0" for n in (2, 3, 4)}
"""An answer's end is the voice detector's to find: the decoder takes a quiet "six" for silence and ends after "four"."""


def _text(blob: bytes, at: int) -> tuple[bytes, int]:
    (length,) = struct.unpack_from("<i", blob, at)
    return blob[at + 4 : at + 4 + length], at + 4 + length


@cache
def _symbols(model: Path) -> tuple[dict[str, int], bytes]:
    """The model's words with their numbers, and the table as it stands in its graph."""
    blob = (model / "graph/Gr.fst").read_bytes()
    (magic,) = struct.unpack_from("<i", blob, 0)
    if magic != _FST:
        raise ValueError(f"{model}/graph/Gr.fst is no word graph")
    _, at = _text(blob, 4)
    _, at = _text(blob, at)
    at += 40
    start = at
    (magic,) = struct.unpack_from("<i", blob, at)
    if magic != _SYMBOLS:
        raise ValueError(f"{model}/graph/Gr.fst has no table of words")
    _, at = _text(blob, at + 4)
    _, size = struct.unpack_from("<qq", blob, at)
    at += 16
    table: dict[str, int] = {}
    for _ in range(size):
        word, at = _text(blob, at)
        (table[word.decode()],) = struct.unpack_from("<q", blob, at)
        at += 8
    return table, blob[start:at]


def known_words(model: Path) -> frozenset[str]:
    """Every word that the speech model can hear."""
    return frozenset(_symbols(model)[0])


def _graph(model: Path, grammar: Automaton) -> bytes:
    table, blob = _symbols(model)
    arrows = sum(1 for row in grammar for word in row if word)
    out = [
        struct.pack("<i", _FST), struct.pack("<i6s", 6, b"vector"), struct.pack("<i8s", 8, b"standard"),
        struct.pack("<iiQqqq", 2, _NAMES_OUT, _PROPERTIES, 0, len(grammar), arrows), blob,
    ]  # fmt: skip
    for row in grammar:
        arcs = sorted((table[word], to) for word, to in row.items() if word)
        out.append(struct.pack("<fq", 0.0 if "" in row else float("inf"), len(arcs)))
        out += [struct.pack("<iifi", label, label, 0.0, to) for label, to in arcs]
    return b"".join(out)


def strict_folder(model: Path, grammar: Automaton | None, home: Path) -> Path:
    """A model folder that hears this grammar only, the same sound always the same; made once, found again.

    Args:
        model: folder of the speech model.
        grammar: every word must be known to the model, `[unk]` stands for any other; None for everything
            that the model knows.
        home: folder to keep it in.

    Raises:
        KeyError: a word that the model does not know.
        OSError: it cannot be written.
    """
    key = hashlib.sha256(repr((str(model.resolve()), _SEARCH, _NEVER_ENDS, grammar)).encode()).hexdigest()[:16]
    place = home / key
    if place.is_dir():
        return place
    home.mkdir(parents=True, exist_ok=True)
    made = Path(tempfile.mkdtemp(dir=home, prefix=".made-"))
    try:
        for name in ("graph", "conf"):
            (made / name).mkdir()
        for name in _LINKED:
            _link(model.resolve() / name, made / name)
        conf = (model / "conf/model.conf").read_text()
        # A note is written down sentence by sentence: there the decoder's own endings stay.
        for name, value in (_SEARCH if grammar is None else _SEARCH | _NEVER_ENDS).items():
            conf = re.sub(rf"--{name}=\S+", f"--{name}={value}", conf)
        (made / "conf/model.conf").write_text(conf)
        # The model adds random noise of its own to the sound, which makes no two hearings alike.
        (made / "conf/mfcc.conf").write_text(
            (model / "conf/mfcc.conf").read_text().rstrip() + "\n--dither=0\n"
        )
        if grammar is None:
            _link(model.resolve() / "graph/Gr.fst", made / "graph/Gr.fst")
        else:
            (made / "graph/Gr.fst").write_bytes(_graph(model, grammar))
        os.replace(made, place)
    except OSError:
        shutil.rmtree(made, ignore_errors=True)
        if not place.is_dir():
            raise
    return place


def _link(source: Path, target: Path) -> None:
    try:
        target.symlink_to(source, target_is_directory=source.is_dir())
    except OSError:  # no links on this system: a copy does as well
        (shutil.copytree if source.is_dir() else shutil.copy)(source, target)
