"""The published encoder that the sense starts from: its weights by the names of its layers, and its pieces of words.

    weights(PATH)      float32 arrays from the encoder's ONNX file; whole numbers of 8 bits are made real again
"""

import re
from pathlib import Path

import numpy as np
import onnx
from numpy.typing import NDArray
from onnx import numpy_helper


def weights(path: Path) -> dict[str, NDArray[np.float32]]:
    """By the names of a BERT's layers (`encoder.layer.0.attention.self.query.weight`), matrices as (out, in).

    Raises:
        KeyError: if the file holds no whole numbers where a layer's matrix should be.
    """
    graph = onnx.load(str(path)).graph
    kept = {one.name: numpy_helper.to_array(one) for one in graph.initializer}

    def real(name: str) -> NDArray[np.float32]:
        if kept.get(name) is not None and kept[name].dtype == np.float32:
            return kept[name]
        whole = name.removesuffix("_quantized")
        offset = kept[f"{whole}_zero_point"].astype(np.float32)
        return (kept[f"{whole}_quantized"].astype(np.float32) - offset) * kept[f"{whole}_scale"]

    found = {
        name.removesuffix("_quantized"): real(name)
        for name in kept
        if re.match(r"(?:embeddings|encoder)\..*(?:weight|bias)(?:_quantized)?$", name)
    }
    for node in graph.node:
        layer = re.match(r"/(encoder/layer\.\d+/.+)/MatMul(?:_quant)?$", node.name)
        matrices = [name for name in node.input if name in kept and kept[name].ndim == 2]
        if layer and matrices:
            found[layer[1].replace("/", ".") + ".weight"] = real(matrices[0]).T
    return found
