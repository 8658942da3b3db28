"""The trained ear as an ONNX file with its big products in whole numbers of 8 bits.

    python models/ear/export.py OUT_FOLDER [OTHER_FOLDER...] [--earlier FOLDER SHARE]

Reads `ear.pt` and `words.json` there, writes `ear.onnx`. Of several folders, trained from the same beginning to the same words,
the mean of the weights is written; with `--earlier` the ear that they began from has a share in it (its folder holds its own
`ear.onnx` and `words.json`; with an `ear.pt`, its real numbers are taken). Needs torch, onnx, onnxruntime.
"""

import argparse
import json
from pathlib import Path

import numpy as np
import onnxruntime
import torch
from earlier import weights
from net import Ear
from onnxruntime.quantization import QuantType, quantize_dynamic


def main() -> None:
    """Write it, and say how far it is from the network."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folders", nargs="+")
    parser.add_argument("--earlier", nargs=2, metavar=("FOLDER", "SHARE"))
    said = parser.parse_args()
    folder = Path(said.folders[0])
    words = json.loads((folder / "words.json").read_text())
    ear = Ear(len(words))
    found = [torch.load(Path(name) / "ear.pt", map_location="cpu") for name in said.folders]
    mean = {name: sum(one[name] for one in found) / len(found) for name in found[0]}
    if said.earlier:
        before, share = weights(said.earlier[0], words, 6), float(said.earlier[1])
        mean = {name: share * before[name] + (1 - share) * value for name, value in mean.items()}
    ear.load_state_dict(mean)
    ear.eval()
    real, whole = folder / "ear.real.onnx", folder / "ear.onnx"
    axes = {name: {1: "n" if name == "sound" else "t"} for name in ("sound", "letters", "words")}
    torch.onnx.export(
        ear, (torch.randn(1, 32000) * 0.05,), str(real), input_names=["sound"], output_names=["letters", "words"],
        dynamic_axes=axes, dynamo=False, opset_version=17,
    )  # fmt: skip
    quantize_dynamic(real, whole, weight_type=QuantType.QInt8, op_types_to_quantize=["MatMul", "Gemm"], per_channel=True)
    sound = np.random.default_rng(0).standard_normal((1, 40001)).astype(np.float32) * 0.05
    with torch.no_grad():
        wanted = ear(torch.tensor(sound))[1].numpy()
    for file in (real, whole):
        logs = onnxruntime.InferenceSession(str(file)).run(None, {"sound": sound})[1]
        apart = float(np.abs(np.exp(logs) - np.exp(wanted)).max())
        print(file.name, file.stat().st_size, "bytes, probabilities differ by", apart)


if __name__ == "__main__":
    main()
