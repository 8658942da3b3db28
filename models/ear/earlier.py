"""The weights of an ear that stands, for one that goes on from it.

`weights` reads the `ear.pt` that `train.py` wrote, or else an `ear.onnx` of `export.py`, with its `words.json`. Needs onnx.
"""

import json
from pathlib import Path

import numpy as np
import onnx
import torch
from onnx import numpy_helper


def weights(folder: str, words: list[str], seed: int) -> dict[str, torch.Tensor]:
    """Under the names of `net.Ear`; a word that the earlier ear did not know begins as `<other>` was to it.

    Args:
        folder: with `ear.pt` or `ear.onnx`, and `words.json`.
        words: of the ear to come.
        seed: of the little by which the new words differ.
    """
    file = Path(folder) / "ear.pt"
    out = {name: value.float().numpy() for name, value in torch.load(file).items()} if file.exists() else _whole(Path(folder))
    known = {word: i for i, word in enumerate(json.loads((Path(folder) / "words.json").read_text()))}
    random, rows = np.random.default_rng(seed), [known.get(word, 1) for word in words]
    new = np.array([word not in known for word in words], np.float32)
    heads = out["words.weight"][rows]
    out["words.weight"] = heads + random.standard_normal(heads.shape).astype(np.float32) * 0.02 * new[:, None]
    out["words.bias"] = out["words.bias"][rows] - 3.0 * new
    return {name: torch.tensor(np.ascontiguousarray(array, dtype=np.float32)) for name, array in out.items()}


def _whole(folder: Path) -> dict[str, np.ndarray]:
    """The weights out of the file with whole numbers of 8 bits."""
    graph = onnx.load(folder / "ear.onnx").graph
    have = {one.name: numpy_helper.to_array(one) for one in graph.initializer}
    out = {name: array for name, array in have.items() if name.endswith((".weight", ".bias"))}
    for node in graph.node:
        if node.op_type == "MatMulInteger":
            name = node.input[1].removesuffix("_quantized")
            whole = have[node.input[1]].astype(np.float32) - have[f"{name}_zero_point"].astype(np.float32)
            base = node.name.removesuffix("/MatMul_quant").strip("/").replace("/", ".")
            out[f"{base}.weight"] = (whole * have[f"{name}_scale"]).T
        if node.name == "/enc/gn/Mul":
            out["enc.gn.weight"] = next(have[name] for name in node.input if name in have).reshape(-1)
        if node.name == "/enc/gn/Add":
            out["enc.gn.bias"] = next(have[name] for name in node.input if name in have).reshape(-1)
    return out
