"""The trained sense as an ONNX file with its matrices kept in whole numbers of 8 bits, and its answers as directions.

    python3 models/sense/export.py ENCODER.onnx PIECES.json.gz TOLD.json OUT FOLDER [FOLDER...]

Of several folders, trained from the same beginning, the mean of the weights is written: `OUT/sense.onnx`, `OUT/answers.npz`
(`directions` float16, `odds`: their factor and what is added), `OUT/steps.json` (by step: prompt, answers, words of a look) and
`OUT/judged.npz` by those files. The matrices are made real again as the file is loaded, so that every processor computes the
same. Needs torch, tokenizers, onnx, onnxruntime.
"""

import argparse
import json
from pathlib import Path

import numpy as np
import onnx
import onnxruntime
import torch
from net import Answers, Sense, batch, begun, cut_up, reader
from onnx import helper, numpy_helper
from published import weights
from train import Known, begun_answers

_SMALL = 10_000
"""Matrices of fewer numbers stay as they are."""
_BLOCK = 32
"""Rows of a matrix that share a column's factor: a few numbers are a hundred times the others, and a factor for a whole column
turned the directions by 15 degrees (by 32 rows 1.3, by 16 0.9)."""
_LEAST = 1e-4
"""Of a block's largest number, so that its factor is a half float."""


def in_whole_numbers(model: onnx.ModelProto) -> None:
    """Each big matrix as whole numbers of 8 bits with a factor for each block of a column, of an embedding for each row."""
    graph = model.graph
    looked_up = {node.input[0] for node in graph.node if node.op_type == "Gather"}
    made = []
    for one in list(graph.initializer):
        value = numpy_helper.to_array(one)
        if value.dtype != np.float32 or value.ndim != 2 or value.size < _SMALL:
            continue
        blocks = value[:, None, :] if one.name in looked_up else value.reshape(-1, _BLOCK, value.shape[1])
        axis = 2 if one.name in looked_up else 1
        factor = (np.maximum(np.abs(blocks).max(axis=axis, keepdims=True), _LEAST) / 127).astype(np.float16)
        whole = np.clip(np.round(blocks / factor.astype(np.float32)), -127, 127).astype(np.int8)
        graph.initializer.remove(one)
        kept = {"whole": whole, "factor": factor, "shape": np.array(value.shape, np.int64)}
        graph.initializer.extend(numpy_helper.from_array(part, f"{one.name}.{name}") for name, part in kept.items())
        for name in ("whole", "factor"):
            made.append(helper.make_node("Cast", [f"{one.name}.{name}"], [f"{one.name}.{name}.real"], to=onnx.TensorProto.FLOAT))
        made.append(helper.make_node("Mul", [f"{one.name}.whole.real", f"{one.name}.factor.real"], [f"{one.name}.product"]))
        made.append(helper.make_node("Reshape", [f"{one.name}.product", f"{one.name}.shape"], [one.name]))
    nodes = list(graph.node)
    del graph.node[:]
    graph.node.extend([*made, *nodes])


def mean(states: list[dict[str, torch.Tensor]]) -> dict[str, torch.Tensor]:
    return {name: sum(one[name] for one in states) / len(states) for name in states[0]}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("encoder", type=Path)
    parser.add_argument("pieces")
    parser.add_argument("told", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("folders", nargs="+", type=Path)
    said = parser.parse_args()
    given = json.loads(said.told.read_text(encoding="utf-8"))
    known, cut = Known(given["steps"]), reader(said.pieces)
    net: Sense = begun(weights(said.encoder))
    answers: Answers = begun_answers(net, cut, known)
    found = [torch.load(folder / "net.pt", map_location="cpu") for folder in said.folders]
    net.load_state_dict(mean([one["net"] for one in found]))
    answers.load_state_dict(mean([one["answers"] for one in found]))
    net.eval()
    said.out.mkdir(parents=True, exist_ok=True)
    file, names = said.out / "sense.onnx", ["pieces", "there", "part"]
    axes = {name: {0: "n", 1: "t"} for name in names} | {"direction": {0: "n"}}
    example = batch(cut_up(cut, [("Said?", "yes"), ("Said so?", "no it is not")]), "cpu")
    torch.onnx.export(
        net, example, str(file), input_names=names, output_names=["direction"], dynamic_axes=axes, opset_version=17, dynamo=False
    )
    model = onnx.load(str(file))
    in_whole_numbers(model)
    onnx.save(model, str(file))
    session = onnxruntime.InferenceSession(str(file), providers=["CPUExecutionProvider"])
    with torch.no_grad():
        directions, odds = answers.directions().numpy(), [float(answers.scale), float(answers.usual)]
    np.savez_compressed(said.out / "answers.npz", directions=directions.astype(np.float16), odds=np.array(odds, np.float32))
    steps = {step: {**one, "answers": list(one["answers"])} for step, one in given["steps"].items()}
    lines = ",\n".join(f"{json.dumps(step)}: {json.dumps(one)}" for step, one in steps.items())
    (said.out / "steps.json").write_text(f"{{\n{lines}\n}}\n", encoding="utf-8")
    rows = cut_up(cut, [(prompt, words) for _, _, words, prompt in given["judged"]])
    judged = []
    for n in range(0, len(rows), 64):
        values = [part.numpy() for part in batch(rows[n : n + 64], "cpu")]
        judged.append(session.run(None, dict(zip(names, values, strict=True)))[0])
    if judged:
        found_so = np.concatenate(judged) @ directions.T * odds[0] + odds[1]
        np.savez_compressed(said.out / "judged.npz", odds=found_so.astype(np.float16))
    print(f"{file}: {file.stat().st_size} bytes; factor {odds[0]:.2f}, usual {odds[1]:.2f}")


if __name__ == "__main__":
    main()
