"""Runs an ONNX graph by torch, so that a voice model made for processors speaks on an accelerator.

Only the operations that the pinned voice model has. Whole numbers stay numpy on the processor, real ones are tensors.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import onnx
import torch
import torch.nn.functional as F
from onnx import numpy_helper

Value = Any
_TYPES = {1: np.float32, 6: np.int32, 7: np.int64, 9: np.bool_}


def _np(value: Value) -> np.ndarray:
    return value.cpu().numpy() if isinstance(value, torch.Tensor) else np.asarray(value)


class Graph:
    """One ONNX graph, ready to run."""

    def __init__(self, path: str, device: str) -> None:
        """Load it: weights onto the device."""
        self.device = device
        graph = onnx.load(path).graph
        self.fixed: dict[str, Value] = {"": None}
        for tensor in graph.initializer:
            array = numpy_helper.to_array(tensor)
            self.fixed[tensor.name] = torch.tensor(array, device=device) if array.dtype == np.float32 else array
        self.output = graph.output[0].name
        self.steps: list[tuple[Callable[..., Value], dict[str, Any], list[str], list[str]]] = []
        for node in graph.node:
            attributes = {a.name: onnx.helper.get_attribute_value(a) for a in node.attribute}
            self.steps.append((getattr(self, "_" + node.op_type), attributes, list(node.input), list(node.output)))
        self.lstms: dict[str, torch.nn.LSTM] = {}
        self.numbers: dict[int, float] = {}  # each read off the device once: it would be waited for
        last: dict[str, int] = {}
        for i, (_, _, inputs, _) in enumerate(self.steps):
            for name in inputs:
                last[name] = i
        self.dead = [[n for n, at in last.items() if at == i and n not in self.fixed] for i in range(len(self.steps))]

    @torch.inference_mode()
    def run(self, feeds: dict[str, np.ndarray]) -> np.ndarray:
        """The first output for these inputs."""
        have = dict(self.fixed)
        for name, array in feeds.items():
            have[name] = torch.tensor(array, device=self.device) if array.dtype == np.float32 else array
        for (function, attributes, inputs, outputs), dead in zip(self.steps, self.dead, strict=True):
            found = function(*[have[name] for name in inputs], **attributes)
            if len(outputs) == 1 or not isinstance(found, tuple):
                have[outputs[0]] = found
            else:
                for name, value in zip(outputs, found, strict=False):
                    have[name] = value
            for name in dead:
                have.pop(name, None)
        return _np(have[self.output])

    def number(self, value: Value) -> float:
        """A fixed value of one element."""
        if id(value) not in self.numbers:
            self.numbers[id(value)] = float(_np(value).reshape(-1)[-1])
        return self.numbers[id(value)]

    # ---- both kinds of numbers

    def _two(self, a: Value, b: Value) -> tuple[Value, Value]:
        if isinstance(a, torch.Tensor) != isinstance(b, torch.Tensor):
            a = a if isinstance(a, torch.Tensor) else torch.as_tensor(np.asarray(a), device=self.device)
            b = b if isinstance(b, torch.Tensor) else torch.as_tensor(np.asarray(b), device=self.device)
        return a, b

    def _Add(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a + b

    def _Sub(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a - b

    def _Mul(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a * b

    def _Div(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a / b if isinstance(a, torch.Tensor) else a // b

    def _Pow(self, a: Value, b: Value) -> Value:
        return a * a if b.numel() == 1 and self.number(b) == 2.0 else torch.pow(*self._two(a, b))

    def _Equal(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a == b

    def _Greater(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a > b

    def _GreaterOrEqual(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a >= b

    def _Less(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a < b

    def _And(self, a: Value, b: Value) -> Value:
        a, b = self._two(a, b)
        return a & b

    def _Cast(self, x: Value, to: int, saturate: int = 1) -> Value:
        if to == 1:
            return x.float() if isinstance(x, torch.Tensor) else torch.as_tensor(np.asarray(x, np.float32), device=self.device)
        if isinstance(x, torch.Tensor) and to == 9:
            return x.bool()
        return _np(x).astype(_TYPES[to])

    def _Shape(self, x: Value, start: int = 0) -> Value:
        return np.array(x.shape, np.int64)

    def _Unsqueeze(self, x: Value, axes: Value) -> Value:
        rank = len(x.shape) + len(axes)
        for axis in sorted(int(a) % rank for a in np.atleast_1d(axes)):
            x = x.unsqueeze(axis) if isinstance(x, torch.Tensor) else np.expand_dims(x, axis)
        return x

    def _Squeeze(self, x: Value, axes: Value) -> Value:
        for axis in sorted((int(a) % len(x.shape) for a in np.atleast_1d(axes)), reverse=True):
            x = x.squeeze(axis) if isinstance(x, torch.Tensor) else np.squeeze(x, axis)
        return x

    def _Reshape(self, x: Value, shape: Value, allowzero: int = 0) -> Value:
        return x.reshape([x.shape[i] if s == 0 else int(s) for i, s in enumerate(shape)])

    def _Gather(self, x: Value, index: Value, axis: int = 0) -> Value:
        if not isinstance(x, torch.Tensor):
            return np.take(x, index, axis)
        index = torch.as_tensor(_np(index), device=self.device)
        return x.index_select(axis, index.reshape(-1)).reshape([*x.shape[:axis], *index.shape, *x.shape[axis + 1 :]])

    def _Concat(self, *xs: Value, axis: int) -> Value:
        if any(isinstance(x, torch.Tensor) for x in xs):
            return torch.cat([torch.as_tensor(x, device=self.device) for x in xs], axis)
        return np.concatenate(xs, axis)

    def _Slice(self, x: Value, starts: Value, ends: Value, axes: Value = None, steps: Value = None) -> Value:
        index: list[slice] = [slice(None)] * len(x.shape)
        for i, (start, end) in enumerate(zip(starts, ends, strict=True)):
            axis = int(axes[i]) if axes is not None else i
            step = int(steps[i]) if steps is not None else 1
            size = x.shape[axis]
            low, high = (max(min(int(v) + (size if v < 0 else 0), size), 0) for v in (start, end))
            index[axis] = slice(low, high, step)
        return x[tuple(index)]

    def _Expand(self, x: Value, shape: Value) -> Value:
        wanted = np.broadcast_shapes(tuple(x.shape), tuple(int(s) for s in shape))
        return x.expand(wanted) if isinstance(x, torch.Tensor) else np.broadcast_to(x, wanted)

    def _Transpose(self, x: Value, perm: list[int]) -> Value:
        return x.permute(*perm) if isinstance(x, torch.Tensor) else np.transpose(x, perm)

    def _Where(self, which: Value, a: Value, b: Value) -> Value:
        if any(isinstance(v, torch.Tensor) for v in (which, a, b)):
            return torch.where(*[torch.as_tensor(v, device=self.device) for v in (which, a, b)])
        return np.where(which, a, b)

    def _ConstantOfShape(self, shape: Value, value: Any) -> Value:
        array = numpy_helper.to_array(value)
        size = [int(s) for s in shape]
        if array.dtype == np.float32:
            return torch.full(size, float(array[0]), device=self.device)
        return np.full(size, array[0])

    def _Range(self, start: Value, limit: Value, delta: Value) -> Value:
        if any(isinstance(v, torch.Tensor) for v in (start, limit, delta)):
            return torch.arange(float(start), float(limit), float(delta), device=self.device)
        return np.arange(start, limit, delta)

    def _CumSum(self, x: Value, axis: Value, **_: Any) -> Value:
        at = int(np.asarray(_np(axis)).reshape(-1)[0])
        return x.cumsum(at) if isinstance(x, torch.Tensor) else np.cumsum(x, at)

    def _ReduceSum(self, x: Value, axes: Value, keepdims: int = 1, **_: Any) -> Value:
        dims = tuple(int(a) for a in axes)
        return x.sum(dims, keepdim=bool(keepdims)) if isinstance(x, torch.Tensor) else x.sum(dims, keepdims=bool(keepdims))

    def _NonZero(self, x: Value) -> Value:
        return np.array(np.nonzero(_np(x)), np.int64)

    def _ScatterND(self, x: Value, index: Value, updates: Value, reduction: bytes = b"none") -> Value:
        x = x.clone()
        index = torch.as_tensor(_np(index), device=self.device)
        x[tuple(index.unbind(-1))] = torch.as_tensor(updates, device=self.device)
        return x

    def _Split(self, x: Value, sizes: Value, axis: int = 0) -> Value:
        return tuple(torch.split(x, [int(s) for s in sizes], axis))

    # ---- real numbers

    def _MatMul(self, a: Value, b: Value) -> Value:
        return torch.matmul(*self._two(a, b))

    def _FusedMatMul(self, a: Value, b: Value, transA: int = 0, **_: Any) -> Value:
        a, b = self._two(a, b)
        return torch.matmul(a.transpose(-1, -2) if transA else a, b)

    def _Conv(
        self, x: Value, w: Value, b: Value = None, pads: list[int] | None = None, strides: list[int] | None = None,
        dilations: list[int] | None = None, group: int = 1, **_: Any,
    ) -> Value:  # fmt: skip
        return F.conv1d(x, w, b, (strides or [1])[0], (pads or [0])[0], (dilations or [1])[0], group)

    def _ConvInteger(self, x: Value, w: Value, x_zero: Value, w_zero: Value, **attributes: Any) -> Value:
        w = torch.as_tensor(w.astype(np.float32) - np.asarray(w_zero, np.float32).reshape(-1, *([1] * (w.ndim - 1))))
        return self._Conv(x - x_zero, w.to(self.device), **attributes)

    def _ConvTranspose(
        self, x: Value, w: Value, b: Value = None, pads: list[int] | None = None, strides: list[int] | None = None,
        output_padding: list[int] | None = None, group: int = 1, **_: Any,
    ) -> Value:  # fmt: skip
        more = (output_padding or [0])[0]
        return F.conv_transpose1d(x, w, b, (strides or [1])[0], (pads or [0])[0], more, group)

    def _DynamicQuantizeLinear(self, x: Value) -> Value:
        low, high = x.min().clamp(max=0), x.max().clamp(min=0)
        scale = (high - low) / 255
        zero = torch.round(torch.clamp(-low / scale, 0, 255))
        return torch.clamp(torch.round(x / scale) + zero, 0, 255), scale, zero

    def _DequantizeLinear(self, x: Value, scale: Value, zero: Value) -> Value:
        x = torch.as_tensor(np.asarray(x, np.float32), device=self.device)
        return (x - torch.as_tensor(np.asarray(zero, np.float32), device=self.device)) * scale

    def _DynamicQuantizeLSTM(
        self, x: Value, w: Value, r: Value, b: Value, _lens: Value, h0: Value, c0: Value, _p: Value,
        w_scale: Value, w_zero: Value, r_scale: Value, r_zero: Value, hidden_size: int, **_: Any,
    ) -> Value:  # fmt: skip
        key = str(id(w))
        if key not in self.lstms:
            self.lstms[key] = self._lstm(x.shape[-1], hidden_size, w, r, b, w_scale, w_zero, r_scale, r_zero)
        out, _ = self.lstms[key](x, (h0, c0))
        return (out.reshape(out.shape[0], out.shape[1], 2, hidden_size).permute(0, 2, 1, 3), None, None)

    def _lstm(self, size: int, hidden: int, w: Value, r: Value, b: Value, *scales: Value) -> torch.nn.LSTM:
        made = torch.nn.LSTM(size, hidden, bidirectional=True).to(self.device)

        def real(q: Value, scale: Value, zero: Value) -> Value:
            shape = (-1, 1, 1) if np.asarray(_np(scale)).size == q.shape[0] else (q.shape[0], 1, -1)
            return (q.astype(np.float32) - np.asarray(zero, np.float32).reshape(shape)) * _np(scale).reshape(shape)

        order = [0, 2, 3, 1]  # input, output, forget, cell there; input, forget, cell, output here
        for d, end in enumerate(("", "_reverse")):
            for name, q, scale, zero in (("ih", w, scales[0], scales[1]), ("hh", r, scales[2], scales[3])):
                full = real(q, scale, zero)[d].T.reshape(4, hidden, -1)[order].reshape(4 * hidden, -1)
                getattr(made, f"weight_{name}_l0{end}").data = torch.tensor(full, device=self.device)
            bias = b[d].reshape(2, 4, hidden)[:, order].reshape(2, -1)
            getattr(made, f"bias_ih_l0{end}").data = bias[0].clone()
            getattr(made, f"bias_hh_l0{end}").data = bias[1].clone()
        made.flatten_parameters()
        return made

    def _LayerNormalization(self, x: Value, w: Value, b: Value, epsilon: float = 1e-5, **_: Any) -> Value:
        return F.layer_norm(x, x.shape[-1:], w, b, epsilon)

    def _SkipLayerNormalization(self, x: Value, skip: Value, w: Value, b: Value, epsilon: float) -> Value:
        return F.layer_norm(x + skip, x.shape[-1:], w, b, epsilon)

    def _FastGelu(self, x: Value, b: Value) -> Value:
        return F.gelu(x + b, approximate="tanh")

    def _ReduceMean(self, x: Value, axes: Value, keepdims: int = 1, **_: Any) -> Value:
        return x.mean(tuple(int(a) for a in axes), keepdim=bool(keepdims))

    def _Softmax(self, x: Value, axis: int = -1) -> Value:
        return x.softmax(axis)

    def _LeakyRelu(self, x: Value, alpha: float) -> Value:
        return F.leaky_relu(x, alpha)

    def _Clip(self, x: Value, low: Value = None, high: Value = None) -> Value:
        return torch.clamp(x, None if low is None else self.number(low), None if high is None else self.number(high))

    def _Resize(
        self, x: Value, _roi: Value, scales: Value, mode: bytes, coordinate_transformation_mode: bytes, **_: Any
    ) -> Value:
        factor = self.number(scales)
        if mode == b"nearest":
            return F.interpolate(x, scale_factor=factor, mode="nearest")
        return F.interpolate(x, scale_factor=factor, mode="linear", align_corners=False, recompute_scale_factor=False)

    def _Pad(self, x: Value, pads: Value, mode: bytes = b"reflect") -> Value:
        half = len(pads) // 2
        return F.pad(x[None] if x.dim() < 2 else x, (int(pads[half - 1]), int(pads[-1])), mode="reflect")

    def _STFT(self, x: Value, step: Value, window: Value, length: Value, onesided: int = 1) -> Value:
        size, hop = int(self.number(length)), int(self.number(step))
        x = x.reshape(x.shape[0], -1)
        frames = x.unfold(-1, size, hop) * window
        return torch.view_as_real(torch.fft.rfft(frames))

    def _Sqrt(self, x: Value) -> Value:
        return torch.sqrt(x)

    def _Sin(self, x: Value) -> Value:
        return torch.sin(x)

    def _Cos(self, x: Value) -> Value:
        return torch.cos(x)

    def _Exp(self, x: Value) -> Value:
        return torch.exp(x)

    def _Tanh(self, x: Value) -> Value:
        return torch.tanh(x)

    def _Atan(self, x: Value) -> Value:
        return torch.atan(torch.nan_to_num(x, nan=0.0))  # of nought by nought, where the voice has no tone

    def _Sigmoid(self, x: Value) -> Value:
        return torch.sigmoid(x)

    def _Floor(self, x: Value) -> Value:
        return torch.floor(x)

    def _Round(self, x: Value) -> Value:
        return torch.round(x)
