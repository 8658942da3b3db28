"""The published encoder's weights out of its file, as real numbers.

    python models/ear/encoder.py encoder_model.ort OUT.npz

Needs onnxruntime's own Python tools. `net.published` reads what this writes.
"""

import sys
from typing import Any

import numpy as np
from onnxruntime.tools.ort_format_model.ort_flatbuffers_py.fbs.InferenceSession import InferenceSession

_TYPES = {1: np.float32, 2: np.uint8, 3: np.int8, 6: np.int32, 7: np.int64, 9: np.bool_, 10: np.float16, 11: np.float64}
_PRODUCTS = ("MatMulInteger", "DynamicQuantizeMatMul", "MatMulIntegerToFloat")


def fixed(graph: Any) -> dict[str, np.ndarray]:
    """Every fixed value of the graph."""
    found = {}
    for i in range(graph.InitializersLength()):
        tensor = graph.Initializers(i)
        shape = [tensor.Dims(k) for k in range(tensor.DimsLength())]
        raw = tensor.RawDataAsNumpy()
        array = np.frombuffer(b"" if raw is None or isinstance(raw, int) else bytes(raw), dtype=_TYPES[tensor.DataType()])
        found[tensor.Name().decode()] = array.reshape(shape) if array.size == int(np.prod(shape)) else array
    return found


def main() -> None:
    """Write the weights."""
    with open(sys.argv[1], "rb") as file:
        graph = InferenceSession.GetRootAsInferenceSession(bytearray(file.read()), 0).Model().Graph()
    have = fixed(graph)
    out: dict[str, np.ndarray] = {}
    for i in range(graph.NodesLength()):
        node = graph.Nodes(i)
        if node.OpType().decode() not in _PRODUCTS:
            continue
        names = [node.Inputs(k).decode() for k in range(node.InputsLength())]
        weights = [name for name in names if name.endswith("_quantized") and name in have]
        if not weights:
            continue
        base = node.Name().decode().replace("_quant", "").replace("/MatMul", "").strip("/").replace("/", ".")
        name = weights[0].removesuffix("_quantized")
        zero, scale = have[f"{name}_zero_point"].astype(np.float32), have[f"{name}_scale"]
        out[f"{base}.weight"] = ((have[weights[0]].astype(np.float32) - zero) * scale).T.astype(np.float32)
    out |= {f"raw:{name}": value for name, value in have.items() if value.dtype == np.float32 and value.ndim >= 1}
    np.savez(sys.argv[2], **out)
    print(len(out), "arrays")


if __name__ == "__main__":
    main()
