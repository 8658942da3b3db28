"""How likely a sentence means each answer of its question, by a small network: this room's one door to onnxruntime.

`models/sense/README.md` says how it was made and from what. It reads a whole sentence, where the tables and the examples look
for words, and so errs otherwise. Where onnxruntime does not run, or the file is another one, nothing is likely: the product
understands by its tables and examples alone.
"""

import gzip
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.paths import data_folder

SHA256 = "dbcd99b03ebe17957170cdf1751e23eec5a80e01747579303cb1ab7520f62b25"
NUMBER = "number"
"""The meaning that the one number of a sentence is what was asked, read here and now."""
_LONGEST = 96  # pieces of words; longer sentences are cut
_FOLDER = "sense"


@dataclass(frozen=True)
class _Network:
    network: Any
    pieces: Any
    steps: Mapping[str, Mapping[str, Any]]
    first: Mapping[str, int]
    """Row of a step's first answer."""
    directions: NDArray[np.float32]
    factor: float
    usual: float


class SenseMissing(Exception):
    """It does not run here, or its file is another one; the message says which."""


_NOT = re.compile(r"(?<!')\bno'(?![\w'])")
"""A northern "not", of which the network would read the "no" alone."""


@lru_cache(maxsize=16384)
def likely(step: str, words: str, prompt: str = "") -> Mapping[str, float]:
    """Probability, 0 to 1, of each meaning that the step knows: `go`, `tell=WORD`, `id=value`, `number`.

    Each for itself: a sentence may mean several, or none. Empty where the step or the network is not known. 20 ms on one core.

    Args:
        step: the step that asks, or what is asked beside the steps (`agreed`, `placed`).
        words: as typed.
        prompt: as it was put; that of the step where it is left out.
    """
    sense = _here()
    if sense is None or step not in sense.steps:
        return {}
    known = sense.steps[step]
    direction = _direction(prompt or known["prompt"], _NOT.sub("not", words.lower().replace("’", "'").strip(" .!")))
    at = sense.first[step]
    odds = sense.directions[at : at + len(known["answers"])] @ direction * sense.factor + sense.usual
    return dict(zip(known["answers"], (1 / (1 + np.exp(-odds))).tolist(), strict=True))


@lru_cache(maxsize=16384)
def _direction(prompt: str, words: str) -> NDArray[np.float32]:
    """Of a sentence behind its prompt; what is asked of it there is a turn of its own and costs nothing more."""
    sense = _here()
    assert sense is not None
    cut = sense.pieces.encode(prompt, words)
    row = {name: np.array([value], np.int64) for name, value in
           (("pieces", cut.ids), ("there", cut.attention_mask), ("part", cut.type_ids))}  # fmt: skip
    found: NDArray[np.float32] = sense.network.run(None, row)[0][0]
    return found


def prompt_of(step: str) -> str:
    """The prompt of a step as it was learnt; empty for one that is not known."""
    sense = _here()
    return str(sense.steps.get(step, {}).get("prompt", "")) if sense else ""


def word_of(step: str, word: str) -> str:
    """The meaning of a word by which a look is answered; words that say the same have one."""
    sense = _here()
    return str(sense.steps.get(step, {}).get("words", {}).get(word, "")) if sense else ""


@cache
def _here() -> _Network | None:
    try:
        return loaded()
    except SenseMissing:
        return None


def loaded() -> _Network:
    """Load it: 0.8 s.

    Raises:
        SenseMissing: a library is missing, or the file is not the one that was measured.
    """
    try:
        import onnxruntime
        import tokenizers
    except ImportError as missing:
        raise SenseMissing(f"{missing.name} is not installed") from missing
    folder = data_folder("models") / _FOLDER
    try:
        with open(folder / "sense.onnx", "rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
        if found != SHA256:
            raise SenseMissing("the network that understands sentences is another one than was measured")
        steps = json.loads((folder / "steps.json").read_text(encoding="utf-8"))
        answers = np.load(folder / "answers.npz")
        pieces = tokenizers.Tokenizer.from_buffer(gzip.decompress((folder / "pieces.json.gz").read_bytes()))
    except OSError as fault:
        raise SenseMissing(f"the network that understands sentences cannot be read: {fault.strerror}") from fault
    pieces.enable_truncation(_LONGEST, strategy="only_second")
    pieces.no_padding()
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    options.log_severity_level = 3
    try:
        network = onnxruntime.InferenceSession(str(folder / "sense.onnx"), options, ["CPUExecutionProvider"])
    except Exception as fault:  # it raises classes of its own that share no better base
        raise SenseMissing(f"onnxruntime refuses the network that understands sentences: {fault}") from fault
    first, at = {}, 0
    for step, known in steps.items():
        first[step] = at
        at += len(known["answers"])
    factor, usual = (float(one) for one in answers["odds"])
    return _Network(network, pieces, steps, first, answers["directions"].astype(np.float32), factor, usual)
