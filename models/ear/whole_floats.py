"""The voice model, published with its weights as whole numbers of 8 bits, with its weights as real numbers.

    python models/ear/whole_floats.py MODEL.onnx OUT.onnx

An accelerator has no use for the whole ones. Each `DynamicQuantizeLinear`, `MatMulInteger` or `ConvInteger`, `Cast`, `Mul`
becomes one `MatMul` or `Conv`; a few convolutions whose bias cannot be found stay as they are. Needs onnx.
"""

import sys
from collections import defaultdict
from typing import Any

import numpy as np
import onnx
from onnx import helper, numpy_helper


class Rewriting:
    """One graph, rewritten in place."""

    def __init__(self, graph: Any) -> None:
        """Look up who makes and who takes each value."""
        self.graph = graph
        self.fixed = {tensor.name: tensor for tensor in graph.initializer}
        self.maker = {name: node for node in graph.node for name in node.output}
        self.takers: dict[str, list[Any]] = defaultdict(list)
        for node in graph.node:
            for name in node.input:
                self.takers[name].append(node)
        self.made: dict[str, Any] = {}
        self.instead: dict[str, Any] = {}
        self.gone: set[int] = set()

    def array(self, name: str) -> np.ndarray:
        """A fixed value."""
        return numpy_helper.to_array(self.fixed[name])

    def bias(self, add: Any, product: str) -> str | None:
        """The real bias behind the one that was made whole."""
        stack = [name for name in add.input if name != product]
        while stack:
            name = stack.pop()
            if name in self.fixed and self.array(name).dtype == np.float32 and self.array(name).size > 1:
                return name
            if name in self.maker and self.maker[name].op_type in ("Cast", "Floor", "Div", "Reshape", "Unsqueeze", "Identity"):
                stack += list(self.maker[name].input)[:1]
        return None

    def scaled(self, cast: Any) -> tuple[Any, Any] | None:
        """The product with both scales, and the node that multiplies the scales."""
        found = None
        for multiply in self.takers[cast.output[0]]:
            for name in multiply.input:
                maker = self.maker.get(name)
                if multiply.op_type == "Mul" and name != cast.output[0] and maker is not None and maker.op_type == "Mul":
                    if any(i in self.fixed for i in maker.input):
                        found = (multiply, maker)
        return found

    def replace(self, node: Any) -> None:
        """This node and its neighbours by one, if all of them are found."""
        source = self.maker.get(node.input[0])
        if source is None or source.op_type != "DynamicQuantizeLinear" or node.input[1] not in self.fixed:
            return
        after, bias, gone = self.takers[node.output[0]][0], None, [node]
        if after.op_type == "Add":
            bias = self.bias(after, node.output[0])
            if bias is None:
                return
            gone.append(after)
            after = self.takers[after.output[0]][0]
        pair = self.scaled(after)
        if pair is None:
            return
        multiply, scales = pair
        name = f"{node.input[1]}_real"
        if name not in self.made:
            self.made[name] = numpy_helper.from_array(self.real(node, scales), name)
        extra = []
        if bias:
            extra = [f"{name}_bias"]
            self.made[extra[0]] = numpy_helper.from_array(self.array(bias).reshape(-1).copy(), extra[0])
        kind = "Conv" if node.op_type == "ConvInteger" else "MatMul"
        new = helper.make_node(kind, [source.input[0], name, *extra], [multiply.output[0]], name=f"{node.name}_real")
        new.attribute.extend(node.attribute)
        self.instead[multiply.output[0]] = new
        self.gone |= {id(one) for one in (*gone, after)}

    def real(self, node: Any, scales: Any) -> np.ndarray:
        """The weights."""
        weights = self.array(node.input[1]).astype(np.float32)
        zero = np.zeros((), np.float32)
        if len(node.input) > 3 and node.input[3] in self.fixed:
            zero = self.array(node.input[3]).astype(np.float32)
        scale = self.array(next(i for i in scales.input if i in self.fixed)).astype(np.float32)
        if node.op_type == "ConvInteger":
            zero, scale = (v.reshape(-1, *([1] * (weights.ndim - 1))) if v.size > 1 else v for v in (zero, scale))
        return ((weights - zero) * scale).astype(np.float32)

    def finish(self) -> int:
        """Put the new nodes in, leave out what nobody uses; how many were replaced."""
        for node in list(self.graph.node):
            if node.op_type in ("ConvInteger", "MatMulInteger"):
                self.replace(node)
        nodes = [self.instead.get(n.output[0] if n.output else "", n) if n.op_type == "Mul" else n for n in self.graph.node]
        tensors = [*self.graph.initializer, *self.made.values()]
        while True:
            used = {name for node in nodes for name in node.input} | {out.name for out in self.graph.output}
            kept = [node for node in nodes if any(name in used for name in node.output)]
            if len(kept) == len(nodes):
                break
            nodes = kept
        del self.graph.node[:]
        self.graph.node.extend(nodes)
        tensors = [tensor for tensor in tensors if tensor.name in used]
        del self.graph.initializer[:]
        self.graph.initializer.extend(tensors)
        return len(self.instead)


def main() -> None:
    """Write the new model."""
    model = onnx.load(sys.argv[1])
    print("replaced", Rewriting(model.graph).finish())
    onnx.save(model, sys.argv[2])


if __name__ == "__main__":
    main()
